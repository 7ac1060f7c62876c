"""Bad arguments at every door: a sentence that names the argument, what was expected and what came."""

import re
from functools import partial

import numpy as np
import pytest
from samples import letter_f, single

import mosaickit as mk
from mosaickit.errors import FileError, MosaickitError, MotifError, OptionError, number_of, several, true_or_false
from mosaickit.files import from_json, from_picture
from mosaickit.ideas import count_motifs, family, random_motif, random_motifs, search_motifs
from mosaickit.sizes import Layout

RNG = np.random.default_rng(1)
GREY = np.linspace(0, 1, 64).reshape(8, 8)
SYMMETRIES = "'mirror', 'up-down', 'half-turn'"

# each takes one argument by keyword: the door, the argument, what is expected of it
SEVERAL = [
    (partial(search_motifs, (5, 4), "balance", rng=RNG, batch=mk.Batch(progress=False)), "symmetry", SYMMETRIES),
    (partial(count_motifs, 5, 4), "symmetry", SYMMETRIES),
    (partial(random_motif, 5, 4, rng=RNG), "symmetry", SYMMETRIES),
    (partial(random_motifs, 2, 5, 4, rng=RNG), "symmetry", SYMMETRIES),
    (partial(mk.nearest_workable, letter_f), "symmetry", SYMMETRIES),
    (partial(family, letter_f), "kinds", "'flips', 'counterchange', 'shifts', "),
]
TRUE_OR_FALSE = [
    (partial(from_picture, GREY, stitches=8), "invert"),
    (partial(count_motifs, 5, 4), "repeats_up"),
    (partial(mk.nearest_workable, letter_f), "repeats_up"),
    (partial(mk.check, letter_f), "repeats_up"),
    (partial(mk.check, letter_f), "in_the_round"),
    (mk.Surround, "in_the_round"),
    (mk.Batch, "progress"),
    (partial(mk.shift, letter_f), "must_work"),
    (partial(mk.crop, letter_f), "must_work"),
    (partial(mk.pad, letter_f), "must_work"),
    (partial(mk.repeat, letter_f), "must_work"),
    (partial(mk.frame, letter_f), "must_work"),
]
RINGS = 'a whole number of 0 or more, or the colours of the rings, outermost first, as ["CC", "MC"]'
WHOLE = "a whole number of 1 or more"
OTHERS = [
    *(
        (partial(mk.frame, letter_f), "rings", wrong, RINGS)
        for wrong in ("MC", 2.0, None, -1, True, ["MC", 3], {"a": 1})
    ),
    *((partial(mk.repeat, letter_f), name, wrong, WHOLE) for name in ("across", "up") for wrong in (None, 2.0, "2")),
    *((partial(mk.tile, letter_f), name, None, WHOLE) for name in ("across", "up")),
    *((partial(mk.crop, letter_f), name, 5, "(first, last) within 1 to 7") for name in ("rows", "stitches")),
    *((partial(count_motifs, 5, 4), name, "ab", "(least, most)") for name in ("fldc_share",)),
    (partial(count_motifs, 5, 4), "overlaid", None.__class__, "a whole number of 0 or more"),
    *((partial(count_motifs, 5, 4), name, 2.5, WHOLE) for name in ("repeat_across", "repeat_up")),
    *((partial(mk.nearest_workable, letter_f), name, 2.5, WHOLE) for name in ("repeat_across", "repeat_up")),
    (partial(random_motif, 5, 4), "rng", None, "a NumPy Generator"),
]

CASES = [
    *(
        (door, name, wrong, f"one of {choices}")
        for door, name, choices in SEVERAL
        for wrong in ("rot", None, 5, ["rot"], [["mirror"]])
    ),
    *(
        (door, name, wrong, "True or False")
        for door, name in TRUE_OR_FALSE
        for wrong in (1, 0, None, "yes", np.ones(2))
    ),
    *OTHERS,
]


@pytest.mark.parametrize(("door", "name", "wrong", "expected"), CASES, ids=lambda value: getattr(value, "func", value))
def test_a_wrong_argument_is_answered_with_its_name_what_was_expected_and_what_came(door, name, wrong, expected):
    with pytest.raises(OptionError, match=rf"^`{name}` must be .*; got ") as error:
        door(**{name: wrong})
    assert f"`{name}` must be {expected}" in str(error.value)
    assert str(error.value).endswith(f"; got {wrong!r}.")


def test_what_is_right_is_taken():
    assert several("symmetry", "mirror", ["mirror"]) == several("symmetry", iter(["mirror"]), ["mirror"]) == ("mirror",)
    assert several("symmetry", (), ["mirror"]) == ()
    assert true_or_false("invert", np.True_) is True
    assert (
        mk.frame(letter_f, np.int64(2))
        == mk.frame(letter_f, ("MC", "CC"))
        == mk.frame(letter_f, np.array(["MC", "CC"]))
    )
    assert mk.frame(letter_f, []) == letter_f
    inverted = from_picture(GREY, stitches=8, invert=np.True_)
    assert inverted.motif.grid.sum() == from_picture(1 - GREY, stitches=8).motif.grid.sum()


# ---- one of a thing is not several -------------------------------------------------------------------------


def test_a_number_meets_its_noun():
    assert [number_of(n, "row") for n in (0, 1, 2, 1500)] == ["0 rows", "1 row", "2 rows", "1,500 rows"]
    assert [number_of(n, "overlaid stitch") for n in (1, 2)] == ["1 overlaid stitch", "2 overlaid stitches"]


SINGULAR = [
    lambda: mk.Motif.from_text(".").summary,
    lambda: repr(mk.Motif.from_text(".")),
    lambda: mk.nearest_workable(mk.Motif.from_text("#")),
    lambda: repr(mk.compile_chart(mk.Motif.from_text("."))),
    lambda: repr(mk.work(mk.compile_chart(mk.Motif.from_text(".")))),
    lambda: repr(mk.tables.count(mk.compile_chart(mk.Motif.from_text(".")))),
    lambda: repr(Layout(single, surround=mk.Surround(edges=0))),
    lambda: Layout(single, surround=mk.Surround(edges=0)).multiple,
    lambda: repr(random_motifs(1, 1, 1, rng=RNG)),
    lambda: mk.symmetry(mk.Motif.from_text(".")),
    lambda: repr(search_motifs((1, 1), "balance", rng=RNG, batch=mk.Batch(progress=False))),
    lambda: family(mk.Motif.from_text(".")),
    lambda: from_picture(GREY, stitches=8, threshold=0.5),
    lambda: mk.Motif.from_text("#\n##"),
    lambda: random_motif(1, 1, rng=RNG, overlaid=1),
    lambda: mk.shift(mk.Motif.from_text(".\n#\n."), up=1, colours="swap"),
    lambda: mk.frame(mk.Motif.from_text(".\n#"), 1),
    lambda: mk.repeat(mk.Motif.from_text(".\n#\n.\n#\n."), up=2),
    lambda: mk.tile(mk.Motif.from_text("...\n#.#\n..."), up=1, across=2, layout="half-drop"),
    lambda: Layout(mk.Motif.from_text("#"), surround=mk.Surround(edges=0)).counts(),
    lambda: Layout(single, surround=mk.Surround(balance_across=1, edges=0)),
    lambda: count_motifs(1, 1, repeats_up=True, colours="keep"),
    lambda: from_picture(np.ones((1, 300)), stitches=300),
    lambda: mk.check(mk.Motif.from_text("."), repeats_up=True),
]


@pytest.mark.parametrize("says", SINGULAR)
def test_nothing_says_one_of_several(says):
    try:
        said = str(says())
    except MosaickitError as error:
        said = str(error)
    assert not re.search(
        r"(?<![\d.,])1 (?:\w+ )?(?:rows|stitches|rings|squares|repeats|motifs|chains|columns)\b", said
    ), said


# ---- files -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rows", "found"),
    [("null", "null"), ("true", "true"), ("[null]", "null"), ("[[null, false]]", r"\[null, false\]"), ("3", "3")],
)
def test_what_a_document_holds_is_named_as_it_stands_there(rows, found):
    text = f'{{"format": "mosaickit motif", "version": 1, "first": "MC", "rows": {rows}}}'
    with pytest.raises(FileError, match=rf"found {found}\."):
        from_json(text, None)
    with pytest.raises(FileError, match=r'At "first": Expected "MC" or "CC", found null\.'):
        from_json('{"format": "mosaickit motif", "version": 1, "first": null, "rows": ["."]}', None)


def test_a_tiff_that_cannot_be_read_is_still_called_a_tiff(tmp_path):
    tifffile = pytest.importorskip("tifffile", reason="scikit-image brings it along")
    file = tmp_path / "pages.tif"
    tifffile.imwrite(file, np.ones((4, 8, 8, 3), dtype=np.float32), photometric="rgb")
    with pytest.raises(
        FileError, match=r"'pages.tif': This TIFF keeps its pixels in a way that cannot be read, .* as a PNG"
    ):
        from_picture(file, stitches=8)
    tifffile.imwrite(file, np.full((4, 8, 8, 3), 200, dtype=np.uint8), photometric="rgb")
    assert from_picture(file, stitches=8).motif.shape == (8, 8)


def test_a_picture_is_never_answered_with_a_grid():
    with pytest.raises(MosaickitError, match="`invert` must be True or False; got 1") as error:
        from_picture(GREY, stitches=8, invert=1)
    assert not isinstance(error.value, MotifError)
