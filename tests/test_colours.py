"""Contrast and colour vision against published values.

Ratios marked W3C are printed in WCAG 2.2 and Understanding success criterion 1.4.11; the simulations were computed
from the matrices of Machado, Oliveira and Fernandes (2009) in a program of their own, to the nearest of 256.
"""

import numpy as np
import pytest
from hypothesis import given
from strategies import colours as any_colour

from mosaickit.colours import VISION, contrast, contrast_by_vision, seen_by


@pytest.mark.parametrize(
    ("one", "two", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),  # W3C
        ("#777777", "#ffffff", 4.4781),  # W3C: 4.48, fails 4.5
        ("#767676", "#ffffff", 4.5422),  # W3C: 4.54
        ("#888888", "#ffffff", 3.5449),  # W3C: 3.54
        ("#999999", "#ffffff", 2.8490),  # W3C: 2.85
        ("#595959", "#ffffff", 7.0047),  # W3C: 7.0
        ("#949494", "#ffffff", 3.0335),
        ("#959595", "#ffffff", 2.9953),
        ("#ff0000", "#ffffff", 3.9985),
        ("#00ff00", "#ffffff", 1.3722),
        ("#0000ff", "#ffffff", 8.5925),
        ("#ff0000", "#00ff00", 2.9139),
        ("#ffff00", "#0000ff", 8.0016),
    ],
)
def test_contrast_is_the_published_ratio(one, two, ratio):
    assert contrast(one, two) == pytest.approx(ratio, abs=5e-5)
    assert contrast(two, one) == contrast(one, two)


@pytest.mark.parametrize("vision", VISION)
def test_every_row_of_a_vision_matrix_sums_to_one(vision):
    assert VISION[vision].sum(axis=1) == pytest.approx([1, 1, 1], abs=2e-6)


@pytest.mark.parametrize(
    ("colour", "protan", "deutan", "tritan"),
    [
        ("#ff0000", "#6d5f00", "#a39000", "#ff000f"),
        ("#00ff00", "#ffe500", "#efd63a", "#00f7d9"),
        ("#0000ff", "#0059ff", "#003dfb", "#006b96"),
    ],
)
def test_pure_colours_look_as_the_published_matrices_make_them(colour, protan, deutan, tritan):
    assert [seen_by(colour, f"{kind} vision") for kind in ("protan", "deutan", "tritan")] == [protan, deutan, tritan]


@pytest.mark.parametrize("grey", ["#000000", "#808080", "#ffffff"])
def test_greys_look_the_same_to_all(grey):
    assert {seen_by(grey, vision) for vision in VISION} == {grey}


@given(any_colour, any_colour)
def test_ratios_lie_between_1_and_21_and_most_people_see_the_colour_itself(one, two):
    assert seen_by(one, "most people") == one
    ratios = np.array(list(contrast_by_vision(one, two).values()))
    assert ((ratios >= 1) & (ratios <= 21)).all()
