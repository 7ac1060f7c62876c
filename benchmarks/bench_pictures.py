"""Pictures in: a photograph beside a plain loop over the squares, and from its file beside only opening it."""

from time import perf_counter

import numpy as np
import pytest
from PIL import Image
from skimage import data

from mosaickit import Gauge
from mosaickit.files import from_picture

SIZE = {"stitches": 200, "rows": 150}


@pytest.fixture(scope="module")
def photograph():
    """Give a photograph of 4000 × 3000 pixels, blown up from a smaller one."""
    return np.asarray(Image.fromarray(data.astronaut()).resize((4000, 3000)))


def loop(photograph):
    """Average the light of each square's pixels, square by square."""
    light = np.zeros((150, 200))
    for i in range(150):
        for j in range(200):
            block = photograph[20 * i : 20 * i + 20, 20 * j : 20 * j + 20] / 255
            linear = np.where(block <= 0.04045, block / 12.92, ((block + 0.055) / 1.055) ** 2.4)
            light[i, j] = (linear @ np.array([0.2126, 0.7152, 0.0722])).mean()
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def test_a_photograph_beside_a_loop_over_the_squares(ratio, photograph):
    np.testing.assert_allclose(from_picture(photograph, **SIZE).tones, loop(photograph), atol=1e-8)
    ratio(
        "a photograph of 4000 × 3000 pixels to a motif of 200 × 150 that can be worked",
        lambda: from_picture(photograph, **SIZE),
        lambda: loop(photograph),
        "the tones alone, a NumPy mean for each square",
        other_rounds=3,
        at_least=3,
    )


def test_a_photograph_from_its_file_beside_opening_it(photograph, tmp_path, keep_line):
    file = tmp_path / "photograph.jpg"
    Image.fromarray(photograph).save(file, quality=90)

    def traced(**way):
        return lambda: from_picture(file, stitches=200, gauge=Gauge(16, 16), **way)

    def opened():
        with Image.open(file) as image:
            image.load()

    def seconds(function):
        start = perf_counter()
        function()
        return perf_counter() - start

    ways = traced(), traced(dither="error diffusion"), opened
    # taking turns, so that a busy moment meets all alike
    rounds = [[seconds(way) for way in ways] for _ in range(5)]
    plain, dots, opening = (min(times) for times in zip(*rounds, strict=True))
    line = (
        f"| a photograph of 4000 × 3000 pixels from a JPEG file to 200 × 150 squares, plain and in dots | {plain:.2f} "
        f"and {dots:.2f} s | Pillow opening it: {opening:.2f} s | {max(plain, dots) / opening:.1f} | within 10; the "
        "aim is 1 s |"
    )
    keep_line(line, met=max(plain, dots) / opening <= 10)
