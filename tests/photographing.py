"""Photographs by code: drawn fabric tilted, bent, lit from a side, blurred, with noise, and kept as a JPEG file.

Shares nothing with what reads photographs. The fabric is the project's own drawing of yarn, in which the stitches
stand where the hook's yarn lies; everything that a camera does to it is done here.
"""

import io

import numpy as np
from PIL import Image

import mosaickit as mk

GAUGE = mk.Gauge(16, 18)
BESIDE = 1.2
"""How many squares the drawing leaves free on each side of the stitches."""


def drawn(chart, side="front", gauge=GAUGE, across=5):
    """The fabric as its yarn lies, RGBA, and the corners of its squares, clockwise from the top left."""
    thread = mk.thread_of(chart, gauge, yarn_settings=mk.YarnSettings(tail_cm=0))
    image = Image.open(io.BytesIO(mk.draw.worked_png(thread, chart, side=side, across=across))).convert("RGBA")
    pixel = thread.yarn_cm / across
    wide, high = thread.width_cm / pixel, thread.height_cm / pixel
    rows, stitches = chart.shape
    left, right = BESIDE * wide, (BESIDE + stitches) * wide
    bottom = image.height - BESIDE * high
    top = bottom - rows * high
    return image, np.array([(left, top), (right, top), (right, bottom), (left, bottom)])


def bent(image, rng, much):
    """Rows and stitches that are not quite even: a random walk of their pace."""
    array = np.asarray(image)
    for axis in (0, 1):
        count = array.shape[axis]
        pace = np.interp(np.arange(count), np.linspace(0, count, 7), 1 + much * rng.standard_normal(7))
        places = np.cumsum(pace)
        places = (places - places[0]) / (places[-1] - places[0]) * (count - 1)
        array = array.take(np.rint(places).astype(int), axis=axis)
    return Image.fromarray(array)


def eight(source, target):
    """The eight numbers of a plane seen askew, from target to source, as Pillow wants them."""
    lines, right = [], []
    for (x, y), (u, v) in zip(target, source, strict=True):
        lines += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.linalg.solve(np.array(lines, float), np.array(right, float))


def photograph(
    chart,
    rng,
    *,
    side="front",
    size=(300, 300),
    ground="#8a6f52",
    tilt=0.06,
    light=0.5,
    blur=0.6,
    noise=5.0,
    quality=75,
    bend=0.04,
    gauge=GAUGE,
    fill=0.86,
    turn=0.0,
):
    """A photograph as the bytes of a JPEG file, and where the corners of the squares are in it, (4, 2) pixels."""
    image, corners = drawn(chart, side, gauge)
    image = bent(image, rng, bend)
    flat = Image.new("RGBA", image.size, ground)
    flat.alpha_composite(image)
    w, h = size
    scale = fill * min(w / image.width, h / image.height)
    half = np.array([image.width, image.height]) * scale / 2
    target = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half
    target = target + rng.uniform(-tilt, tilt, (4, 2)) * half * 2
    angle = np.radians(turn)
    target = target @ np.array([(np.cos(angle), np.sin(angle)), (-np.sin(angle), np.cos(angle))]) + np.array(size) / 2
    source = np.array([(0, 0), (image.width, 0), (image.width, image.height), (0, image.height)])
    more = 3
    view = flat.convert("RGB").transform(
        (w * more, h * more),
        Image.Transform.PERSPECTIVE,
        eight(source, target * more),
        Image.Resampling.BILINEAR,
        fillcolor=ground,
    )
    tones = np.asarray(view.resize(size, Image.Resampling.BOX), float) / 255
    y, x = np.mgrid[-1 : 1 : h * 1j, -1 : 1 : w * 1j]
    way = rng.uniform(0, 2 * np.pi)
    shade = 1 - light * (0.5 + 0.5 * np.clip(np.cos(way) * x + np.sin(way) * y, -1, 1))
    tones = (tones**2.2 * shade[..., np.newaxis]) ** (1 / 2.2)
    for axis in (0, 1):  # a bell over seven pixels
        reach = np.arange(-3, 4)
        bell = np.exp(-(reach**2) / (2 * max(blur, 1e-3) ** 2))
        tones = sum(weight * np.roll(tones, step, axis) for weight, step in zip(bell / bell.sum(), reach, strict=True))
    tones = tones + rng.normal(0, noise / 255, tones.shape)
    out = io.BytesIO()
    Image.fromarray(np.clip(255 * tones, 0, 255).astype(np.uint8)).save(out, "JPEG", quality=quality)
    inverse = eight(target, source)
    seen = [
        (np.array([inverse[0:3] @ (cx, cy, 1), inverse[3:6] @ (cx, cy, 1)]) / (inverse[6:8] @ (cx, cy) + 1))
        for cx, cy in corners
    ]
    return out.getvalue(), np.array(seen)


def wrong_stitches(chart, rng, count=1):
    """A chart with this number of stitches worked wrong, FLdc left out or put in, and their (row, stitch)."""
    made = chart.stitches.copy()
    fldc = int(mk.Stitch.FLDC)
    free = (made == fldc) | (made == int(mk.Stitch.BLSC))
    free[:2] = False
    places = []
    for row, stitch in rng.permutation(np.argwhere(free)).tolist():
        near = [made[other, stitch] for other in (row - 1, row + 1) if 0 < other < len(made)]
        if made[row, stitch] == fldc:
            made[row, stitch] = int(mk.Stitch.BLSC)
        elif fldc not in near and len(places) < count:
            made[row, stitch] = fldc
        else:
            continue
        places.append((row + 1, stitch + 1))
        if len(places) == count:
            break
    return mk.Chart(made, chart.row_colours, chart.yarns, chart.hand, chart.in_the_round, chart.name), sorted(places)
