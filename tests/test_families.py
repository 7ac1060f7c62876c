"""Families: every variant workable and measured right, none twice; figures against counting square by square."""

import re
from itertools import groupby, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f, single, stripes, two_stacked
from strategies import motifs, workable_motifs

import mosaickit as mk
from mosaickit import orientation
from mosaickit.errors import OptionError
from mosaickit.ideas import family
from mosaickit.ideas.families import changes, mending
from mosaickit.ideas.families.changes import CHANGE_KINDS, drafts_of
from mosaickit.ideas.families.measuring import USUAL_LENGTHS
from mosaickit.motif import Motif
from mosaickit.yarn import StitchLengths

pytestmark = pytest.mark.thorough

leaf = Motif.from_text(
    """
    .....
    #####
    .##..
    #####
    .....
    """
)
kinds = st.lists(st.sampled_from(CHANGE_KINDS), unique=True, max_size=4)


# ---- laws --------------------------------------------------------------------------------------------------


@given(motifs(), kinds, st.integers(1, 2), st.sampled_from(["repeat", "picture"]))
@settings(max_examples=40)
def test_every_variant_is_workable_and_has_a_name_of_its_own(motif, some, steps, alike):
    variants = family(motif, kinds=some, steps=steps, alike=alike)
    assert all(mk.check(variant.motif).ok for variant in variants)
    assert len({variant.name for variant in variants}) == len(variants)
    assert variants[0].name == "as it is"
    assert variants[0].motif == mk.nearest_workable(motif).motif
    assert variants[0].figures.similarity == 1


@given(motifs(most=6))
@settings(max_examples=40)
def test_each_variant_is_the_nearest_workable_picture_to_what_was_made(motif):
    made = dict(zip(*drafts_of(motif, list(CHANGE_KINDS), 1), strict=True))
    for variant in family(motif, alike="picture"):
        alone = mk.nearest_workable(made[variant.name])
        assert variant.motif == alone.motif
        assert variant.changed == alone.cost


@given(workable_motifs())
def test_flips_counterchange_and_frames_of_a_workable_motif_need_no_mending(motif):
    safe = family(motif, kinds=["flips", "counterchange", "frames"], steps=2, alike="picture")
    assert all(variant.changed == 0 for variant in safe)


def turns(motif):
    """The motif shifted along its rows by every number of stitches, and mirrored: what counts as the same repeat."""
    for grid in (motif.grid, motif.grid[:, ::-1]):
        for right in range(grid.shape[1]):
            yield np.roll(grid, right, axis=1).tobytes(), motif.shape, motif.first


@given(motifs(most=6), kinds)
@settings(max_examples=40)
def test_no_repeat_comes_twice_and_none_is_lost(motif, some):
    pictures, repeats = (family(motif, kinds=some, alike=alike) for alike in ("picture", "repeat"))
    classes = [set(turns(variant.motif)) for variant in repeats]
    for one, other in product(range(len(classes)), repeat=2):
        assert one == other or not classes[one] & classes[other]
    every = set().union(*classes)
    for variant in pictures:
        assert (variant.motif.grid.tobytes(), variant.motif.shape, variant.motif.first) in every
    assert len({(v.motif.grid.tobytes(), v.motif.shape, v.motif.first) for v in pictures}) == len(pictures)
    assert {variant.name for variant in repeats} <= {variant.name for variant in pictures}


# ---- figures, square by square -----------------------------------------------------------------------------


def yarn(chart, lengths):
    of_kind = [lengths.sc, lengths.blsc, lengths.fldc, lengths.tog_back, lengths.tog_front]
    return sum(of_kind[int(stitch)] for row in chart.stitches for stitch in row)


def agreeing(grid, original):
    """The most squares that agree with the original laid again and again, by trying all its shifts."""
    high, wide = original.shape
    return max(
        sum(
            grid[i, x] == original[(i + up) % high, (x + right) % wide]
            for i, x in product(range(grid.shape[0]), range(grid.shape[1]))
        )
        for up, right in product(range(high), range(wide))
    )


def longest_run(chart):
    fldc = "|"
    runs = [
        len(list(run)) for line in chart.to_text().split("\n") for kind, run in groupby(line.strip()) if kind == fldc
    ]
    return max(runs, default=0)


@pytest.mark.parametrize(
    "motif", [letter_f, leaf, single, stripes, two_stacked], ids=["f", "leaf", "1", "4", "stacked"]
)
@pytest.mark.parametrize("lengths", [USUAL_LENGTHS, StitchLengths(1, 2, 3, 5, 8, 13)], ids=["usual", "own"])
def test_figures_are_those_of_working_each_variant(motif, lengths):
    variants = family(motif, alike="picture", lengths=lengths)
    original = variants[0].motif.grid
    for variant in variants:
        made, area = variant.motif, variant.motif.grid.size
        plain, closed = (mk.compile_chart(made, reversible=reversible) for reversible in (False, True))
        fabric = mk.work(closed)
        behind = orientation.from_behind(fabric.back)
        figures = variant.figures
        assert figures.fldc_share * area == pytest.approx(sum(int(s) == mk.Stitch.FLDC for s in plain.stitches.flat))
        assert figures.surcharge == pytest.approx(yarn(closed, lengths) / yarn(plain, lengths) - 1)
        assert figures.cc_share * area == pytest.approx(made.to_text().count("#"))
        assert figures.longest_bare == longest_run(plain)
        assert figures.back_contrast * area == pytest.approx(np.count_nonzero(fabric.front != behind))
        assert figures.similarity * area == pytest.approx(agreeing(made.grid, original), abs=1e-9)


@given(workable_motifs(most=6))
@settings(max_examples=30)
def test_similarity_is_that_of_the_best_shift(motif):
    for variant in family(motif, kinds=["shifts", "edges", "layouts"]):
        expected = agreeing(variant.motif.grid, motif.grid) / variant.motif.grid.size
        assert variant.figures.similarity == expected


def test_the_surcharge_of_stitches_is_a_little_more_than_that_of_all_yarn():
    gauge = mk.Gauge(16, 18, over=4, unit="in")
    lengths = StitchLengths.from_gauge(gauge)
    figures = family(letter_f, lengths=lengths)[0].figures
    whole = mk.surcharge(letter_f, gauge, yarn_settings=mk.YarnSettings(between_rows="carried"))
    assert whole < figures.surcharge < 2 * whole
    assert figures.surcharge == pytest.approx(family(letter_f)[0].figures.surcharge, rel=0.01)


# ---- what is made ------------------------------------------------------------------------------------------

MADE = {
    "mirrored": "..... ##### ..##. ##### .....",
    "counterchanged": "##### ..... #..## ..... #####",
    "shifted 2 stitches to the right": "..... ##### ...## ##### .....",
    "shifted 1 row up": "..... #..## ..... ##### .....",
    "laid as brick": "########## .......... ###..###.. .......... ########## "
    ".......... ########## .##...##.. ########## ..........",
    "laid mirrored with a shared seam": "......... ######### .##...##. ######### ......... "
    "######### .##...##. ######### .........",
    "with the mirrored one above": "##### ..... ##..# ..... ##### ..... ##### .##.. ##### .....",
    "with the one upside down beside": ".......... ########## .##...##.. ########## ..........",
    "thinner": "..... ..... ..... ..... .....",
    "thicker along the rows": "..... ##### ####. ##### .....",
    "cropped by a square all round": "### ##. ###",
    "cropped to what is overlaid": "## ## ##",
    "framed in 1 ring": "....... .#####. ....... .#..##. ....... .#####. .......",
}


@pytest.mark.parametrize(("name", "rows"), MADE.items(), ids=MADE)
def test_a_leaf_becomes(name, rows):
    variant = family(leaf, alike="picture").member(name)
    assert variant.motif.to_text().split() == rows.split()
    assert variant.changed == 0


def test_the_picture_is_moved_so_that_what_is_overlaid_lies_in_the_middle():
    aside = mk.pad(leaf, top=4, left=3)
    centred = family(aside, alike="picture").member("re-centred")
    assert centred.changed == 0
    assert centred.motif.to_text().split() == [
        *("........", "########", "........", "########", "...##...", "########", "........", "########", "........")
    ]


def test_an_even_number_of_rows_gets_one_more_to_be_framed():
    framed = family(stripes, kinds="frames")
    assert framed[1].name == "framed in 1 ring, a row added on top"
    assert framed[1].motif.shape == (7, 6)
    assert framed[1].changed == 0


def test_what_cannot_be_worked_stands_first_as_it_was_mended():
    variants = family(two_stacked)
    assert variants[0].changed == mk.nearest_workable(two_stacked).cost == 1


def test_steps_are_made_one_after_the_other_and_named_so():
    variants = family(letter_f, kinds=["flips", "counterchange"], steps=2, alike="picture")
    assert [variant.name for variant in variants] == [
        "as it is",
        "mirrored",
        "upside down",
        "turned by half",
        "counterchanged",
        "mirrored, then counterchanged",
        "upside down, then counterchanged",
        "turned by half, then counterchanged",
    ]
    assert variants[-1].motif == mk.counterchange(mk.half_turn(letter_f))


@pytest.mark.parametrize("limit", [50, 1000])
@pytest.mark.parametrize("steps", [9, 10**30])
def test_more_steps_than_a_family_can_hold_are_refused_at_once_with_the_most_that_it_can(steps, limit, monkeypatch):
    monkeypatch.setattr(changes, "MOST_DRAFTS", limit)
    kinds = ["flips", "counterchange", "shifts"]
    with pytest.raises(OptionError, match=rf"`steps` of [19]0* would make more than the {limit:,} pictures") as error:
        family(letter_f, kinds=kinds, steps=steps)
    most = int(re.search(r": take at most (\d), or fewer kinds\.$", str(error.value))[1])
    assert len(drafts_of(letter_f, kinds, most)[0]) <= limit
    monkeypatch.setattr(changes, "MOST_DRAFTS", 100_000)
    assert len(drafts_of(letter_f, kinds, most + 1)[0]) > limit


def test_steps_that_lead_nowhere_are_no_steps():
    assert family(letter_f, kinds="flips", steps=10**30) == family(letter_f, kinds="flips")


def test_no_two_steps_of_one_kind_follow_each_other():
    once, twice = (family(letter_f, kinds="frames", steps=steps) for steps in (1, 2))
    assert twice == once
    assert len(once) == 4


def test_a_mirrored_repeat_is_the_same_repeat():
    names = {variant.name for variant in family(letter_f, kinds="flips")}
    assert names == {"as it is", "upside down"}


def test_pictures_are_mended_the_same_however_many_lie_side_by_side(monkeypatch):
    together = family(letter_f, steps=2)
    monkeypatch.setattr(mending, "MENDED_AT_ONCE", 100)
    assert family(letter_f, steps=2) == together
    assert len(together) > 100


def test_a_family_is_a_sequence():
    variants = family(leaf, most=4)
    assert len(variants) == 4
    assert [variant.name for variant in variants[1:3]] == [variants[1].name, variants[2].name]
    assert repr(variants) == "<Family of 4>"
    assert str(variants).splitlines()[0] == "as it is: 5 × 5, 0 mended, 8% FLdc, 100% similar"
    with pytest.raises(OptionError, match="No variant is named 'plaited'; there are as it is, counterchanged, "):
        variants.member("plaited")


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"kinds": ["flips", "plaits"]}, "`kinds` must be one of 'flips', .*; got .*'plaits'"),
        ({"alike": "colour"}, "`alike` must be one of 'repeat', 'picture'; got 'colour'"),
        ({"steps": 0}, "`steps` must be a whole number of 1 or more; got 0"),
        ({"most": 0}, "`most` must be a whole number of 1 or more; got 0"),
    ],
    ids=str,
)
def test_what_has_no_meaning_is_refused(options, message):
    with pytest.raises(OptionError, match=message):
        family(leaf, **options)
