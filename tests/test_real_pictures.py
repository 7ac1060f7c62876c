"""The whole chain on pictures that no one here drew: a public-domain bitmap font and a sample image of Matplotlib's."""

import re
from pathlib import Path

import numpy as np
import opponents
import pytest
from matplotlib import cbook
from PIL import Image

import mosaickit as mk

FONT = (Path(__file__).parent / "data" / "fixed-10x20.txt").read_text("utf-8")
GLYPHS = {
    glyph["character"]: mk.Motif.from_text(glyph["rows"])
    for glyph in re.finditer(r"^U\+\w+ (?P<character>.)\n(?P<rows>(?:[.#]{10}\n){20})", FONT, re.MULTILINE)
}


def follow(picture):
    """Take a picture down the chain, checking each link against the next."""
    repaired = mk.nearest_workable(picture, first="either")
    assert mk.check(repaired.motif).ok
    for reversible in (False, True):
        chart = mk.compile_chart(repaired.motif, reversible)
        fabric = mk.work(chart)
        assert np.array_equal(fabric.front, repaired.motif.grid)
        assert (len(fabric.open_loops) == 0) == (reversible or not repaired.motif.overlaid.any())
    return repaired


def test_the_font_has_its_94_glyphs():
    assert len(GLYPHS) == 94


def test_every_glyph_goes_down_the_chain_and_an_integer_program_finds_no_nearer_picture():
    for picture in GLYPHS.values():
        repaired = follow(picture)
        ones = np.ones(picture.shape)
        expected = min(opponents.integer_program(picture.grid, first, ones) for first in ("MC", "CC"))
        assert repaired.cost == pytest.approx(expected, abs=1e-6)


def test_a_word_in_glyphs_is_framed_and_worked_on_both_faces():
    word = mk.Motif.from_array(np.hstack([GLYPHS[letter].grid for letter in "Hook"]))
    odd = mk.pad(mk.nearest_workable(word).motif, top=1)
    framed = mk.frame(odd, 3)
    follow(framed)
    assert mk.nearest_workable(framed).cost == 0


@pytest.mark.parametrize("size", [(21, 17), (90, 75)], ids=str)
def test_a_sample_image_goes_down_the_chain(size):
    # a drawing of a parcel in several blues, one of the sample images that Matplotlib ships
    with cbook.get_sample_data("Minduka_Present_Blue_Pack.png") as file, Image.open(file) as image:
        grey = np.asarray(image.convert("RGB").resize(size).convert("L"), dtype=float)
    picture = mk.Motif.from_array(grey < np.median(grey))
    assert 0.1 < picture.grid.mean() < 0.9
    repaired = follow(picture)
    expected = min(opponents.integer_program(picture.grid, first, np.ones(picture.shape)) for first in ("MC", "CC"))
    assert repaired.cost == pytest.approx(expected, abs=1e-6)
