"""Motifs of other people, to be put into the notebooks: tiny, long, unworkable, many-coloured, photographs, designs."""

import numpy as np
from PIL import Image, ImageDraw

import mosaickit as mk

OTHERS = (
    "one.txt",
    "blot.csv",
    "tall.json",
    "wide.json",
    "solid.txt",
    "three yarns.json",
    "photo.jpg",
    "grey drawing.png",
    "large.json",
    "odd repeats.design",
    "banded.design",
    "round left.design",
)
"""Their files, which `write_others` makes."""


def write_others(folder):
    """Write each of the files; what is there by chance comes from a seed of its own."""
    rng = np.random.default_rng(20)
    (folder / "one.txt").write_text(".\n", "utf-8")
    (folder / "blot.csv").write_text("0,1\n1,1\n", "utf-8")
    mk.save(
        mk.random_motif(64, 5, rng=rng).named("A very long ladder & <b>its</b> $x^2$ rungs / ~"), folder / "tall.json"
    )
    mk.save(mk.random_motif(4, 80, rng=rng, first="CC"), folder / "wide.json")
    (folder / "solid.txt").write_text("########\n" * 9, "utf-8")
    sea = mk.Yarns(mc=mk.Yarn("sand", "#e9dcc3"), cc=[(1, mk.Yarn("deep", "#123f5a")), (7, mk.Yarn("foam", "#3d8f92"))])
    mk.save(mk.random_motif(12, 9, rng=rng).with_yarns(sea).named("shore"), folder / "three yarns.json")
    _photograph(rng).save(folder / "photo.jpg")
    _drawing().save(folder / "grey drawing.png")
    mk.save(mk.random_motif(45, 40, rng=rng).named("large"), folder / "large.json")

    leaf = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
    inches = mk.Gauge(14, 16, over=4, unit="in")
    mk.save(mk.Design(leaf, inches, across=3, up=4), folder / "odd repeats.design")
    field = mk.Design(leaf, mk.Gauge(18, 20), across=6, up=3)
    bands = mk.Bands([mk.Plain(2), mk.Divider(1), mk.Field(), mk.Divider(1), mk.Plain(2)])
    mk.save(field.but(bands=bands, colours="swap", title="Shelf runner"), folder / "banded.design")
    cowl = mk.Design(leaf, mk.Gauge(20, 22), across=8, up=3).but(
        colours="swap", hand="left", in_the_round=True, edges=0, title="Cowl", terms="UK", between_rows="cut"
    )
    mk.save(cowl.edition("Twice as wide").but(across=16), folder / "round left.design")


def _photograph(rng):
    """A landscape of soft hills with the noise of a camera."""
    down, across = np.mgrid[0:240, 0:320] / 60
    hills = 0.5 + 0.3 * np.sin(across + np.sin(down)) * np.cos(1.3 * down)
    light = hills[..., np.newaxis] * (0.9, 1.0, 0.7) + rng.normal(0, 0.03, (240, 320, 3))
    return Image.fromarray((255 * light.clip(0, 1)).astype(np.uint8))


def _drawing():
    """A bird of four shapes with soft edges."""
    bird = Image.new("L", (640, 480), "white")
    pen = ImageDraw.Draw(bird)
    pen.ellipse((120, 170, 480, 400), fill="black")
    pen.ellipse((400, 70, 550, 220), fill="black")
    pen.polygon([(540, 130), (620, 150), (540, 175)], fill="black")
    pen.polygon([(20, 120), (60, 70), (220, 250), (170, 300)], fill="black")
    return bird.resize((320, 240), Image.Resampling.LANCZOS)
