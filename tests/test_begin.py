"""Beginning: whatever is given, a design comes out that can be worked, and what was done to it is said."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from opponents import workable
from PIL import Image

import mosaickit as mk
from mosaickit.errors import FileError, OptionError

GAUGE = mk.Gauge(16, 18)
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
PICTURES = arrays(bool, st.tuples(st.integers(1, 7), st.integers(1, 6)))


def changed(begun):
    return int((begun.drawn.motif.grid != begun.design.motif.grid).sum())


@given(PICTURES)
def test_any_picture_becomes_a_design_that_can_be_worked(grid):
    begun = mk.begin(mk.Motif.from_array(grid), GAUGE)
    assert np.array_equal(begun.drawn.motif.grid, grid)
    assert begun.design.report.ok
    if workable(grid, "MC"):
        assert begun.drawn is begun.design
        assert begun.said[1:] == ("It can be worked as it is.",)
    else:
        assert begun.said[1].startswith("It cannot be worked as it is. Row")
        count = changed(begun)
        assert f"differs in {count} square{'' if count == 1 else 's'}: " in begun.said[2]


@given(
    PICTURES,
    st.integers(1, 3),
    st.integers(1, 4),
    st.integers(0, 3),
    st.sampled_from(["straight", "brick", "mirrored"]),
)
def test_any_design_goes_on_as_one_that_can_be_worked(grid, across, up, rings, laying):
    drawn = mk.Design(mk.Motif.from_array(grid), GAUGE, across=across, up=up, laying=laying).but(rings=rings)
    begun = mk.begin(drawn)
    assert begun.design.report.ok
    assert begun.design.gauge == GAUGE
    assert (begun.drawn == begun.design) == drawn.report.ok
    if not drawn.report.ok:
        assert len(begun.said) >= 3, "what was done about it is said"


def test_repeats_on_the_other_row_colours_are_swapped_and_no_square_is_changed():
    begun = mk.begin(mk.Design(LEAF, GAUGE, up=2))
    assert begun.design == mk.Design(LEAF, GAUGE, up=2).but(colours="swap")
    assert begun.said[-1].endswith('colours="swap".')


def test_a_frame_that_does_not_close_around_an_even_number_of_rows_gets_a_row_more():
    even = mk.Motif.from_text("....\n#..#\n....\n####")
    assert workable(even.grid, "MC") == mk.check(even).ok
    four = mk.begin(even).design.motif
    drawn = mk.Design(four).but(across=2, rings=3)
    assert not drawn.report.ok
    begun = mk.begin(drawn)
    assert begun.design == drawn.but(balance_up=1)
    assert begun.said[-1].endswith("balance_up=1.")


def test_places_are_those_of_the_motif_as_the_maker_counts():
    blot = mk.Motif.from_text("...\n#.#\n.#.\n###\n...")
    right, left = mk.begin(blot), mk.begin(mk.Design(blot, hand="left"))
    assert right.said[-1].endswith("1 square: row 3, stitch 2.")
    corner = mk.Motif.from_text("...\n...\n..#")
    assert "row 1, stitch 1" in mk.begin(corner).said[-1]
    assert "row 1, stitch 3" in mk.begin(mk.Design(corner, hand="left")).said[-1]
    assert left.design.hand == "left"


# ---- files -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", ["json", "csv", "txt", "png"])
def test_a_motif_in_any_file_is_read_square_by_square(tmp_path, ending):
    file = mk.save(LEAF, tmp_path / f"my_oak-leaf.{ending}")
    begun = mk.begin(file, GAUGE)
    assert np.array_equal(begun.design.motif.grid, LEAF.grid)
    assert begun.design.title == ("leaf" if ending in ("json", "png") else "my oak leaf")
    assert begun.said[0] == f"'my_oak-leaf.{ending}': a motif, 5 rows × 4 stitches."


def shaded(height, width):
    """A picture of many greys, dark below."""
    return Image.fromarray(np.linspace(250, 5, height * width).reshape(height, width).astype(np.uint8))


@pytest.mark.parametrize("ending", ["png", "jpg", "bmp", "webp"])
def test_a_picture_in_greys_is_traced_to_as_many_stitches(tmp_path, ending):
    shaded(90, 120).save(tmp_path / f"hill.{ending}")
    traced = mk.from_picture(tmp_path / f"hill.{ending}", stitches=30, gauge=GAUGE, name="hill")
    begun = mk.begin(tmp_path / f"hill.{ending}", GAUGE, stitches=30)
    assert begun.design.motif == traced.motif
    assert np.array_equal(begun.drawn.motif.grid, traced.before)
    assert begun.said[0].startswith(f"'hill.{ending}': a picture, traced to 25 rows × 30 stitches")
    assert mk.begin(tmp_path / f"hill.{ending}").design.motif.shape[1] == 48


def test_two_colours_are_pixels_of_a_drawing_unless_it_is_large_or_a_width_is_given(tmp_path):
    for name, side in (("small.png", 200), ("large.png", 201)):
        pixels = np.zeros((20, side), np.uint8)
        pixels[4:16, 30:90] = 255
        Image.fromarray(pixels).save(tmp_path / name)
    assert mk.begin(tmp_path / "small.png").drawn.motif.shape == (20, 200)
    assert mk.begin(tmp_path / "large.png").drawn.motif.shape[1] == 48
    assert mk.begin(tmp_path / "small.png", stitches=50).drawn.motif.shape[1] == 50


def test_a_design_keeps_its_own_gauge_and_gets_one_if_it_has_none(tmp_path):
    for name, gauge in (("own.design", mk.Gauge(20, 22)), ("none.design", None)):
        mk.save(mk.Design(LEAF, gauge, across=3).but(title="Leaf"), tmp_path / name)
    assert mk.begin(tmp_path / "own.design", GAUGE).design.gauge == mk.Gauge(20, 22)
    begun = mk.begin(tmp_path / "none.design", GAUGE)
    assert (begun.design.gauge, begun.design.across) == (GAUGE, 3)
    assert begun.said == (
        "'none.design': Leaf: 3 × 1 repeats, 5 rows × 14 stitches.",
        "It can be worked as it is.",
    )


def test_what_is_none_of_these_is_refused_in_a_sentence_that_names_the_file(tmp_path):
    (tmp_path / "letter.txt").write_text("Dear maker", "utf-8")
    (tmp_path / "book.docx").write_bytes(b"PK\x03\x04 no picture")
    (tmp_path / "torn.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    for name, said in (
        ("letter.txt", r"'letter\.txt': Line 1, column 1: expected '\.' for MC"),
        ("book.docx", r"'book\.docx': .+A motif's file ends in|'book\.docx': .+The name of a motif's file ends in"),
        ("torn.png", r"'torn\.png': "),
        ("gone.json", r"'gone\.json': There is no such file"),
        ("gone.jpg", r"'gone\.jpg': There is no such file"),
        ("gone.design", r"gone\.design.+no such file|'gone\.design': There is no such file"),
    ):
        with pytest.raises(FileError, match=said):
            mk.begin(tmp_path / name)
    with pytest.raises(OptionError, match="`what` must be a path"):
        mk.begin(7)
    shaded(9, 9).save(tmp_path / "hill.png")
    with pytest.raises(OptionError, match="`stitches`"):
        mk.begin(tmp_path / "hill.png", stitches=0)


# ---- what comes of it --------------------------------------------------------------------------------------


def test_a_name_for_files_is_made_from_any_title():
    for title, name in (
        ("A/B: <c> & d", "A-B-c-d"),
        ("Grüne Wiese 種", "Grüne-Wiese-種"),
        ("…", "motif"),
        ("", "A-design"),
    ):
        assert mk.begin(LEAF.named(title)).name == name
    assert len(mk.begin(LEAF.named("x" * 200)).name) <= 60


@given(arrays(bool, st.tuples(st.integers(2, 9), st.integers(1, 9))), st.integers(1, 9), st.integers(1, 9))
def test_a_part_is_the_first_rows_and_stitches_and_can_be_worked(grid, rows, stitches):
    begun = mk.begin(mk.Motif.from_array(grid))
    part, whole = begun.part(rows, stitches), begun.design.motif
    assert part.shape == (min(rows, whole.shape[0]), min(stitches, whole.shape[1]))
    assert workable(part.grid, "MC")
    # only what the cut made unworkable is changed, and that is in the row that is last now
    same = part.grid == whole.grid[-part.shape[0] :, -part.shape[1] :]
    assert same[1:].all()


def test_begun_shows_the_motif_alone_and_a_piece_whole():
    assert mk.begin(LEAF)._repr_svg_() == LEAF._repr_svg_()
    piece = mk.Design(LEAF, across=2)
    assert mk.begin(piece)._repr_svg_() == piece._repr_svg_()
    assert repr(mk.begin(LEAF)) == "<Begun leaf: one repeat, 5 rows × 6 stitches>"
    assert str(mk.begin(LEAF)) == "The motif 'leaf', 5 rows × 4 stitches.\nIt can be worked as it is."
    assert Path(mk.begin(LEAF).name).name == "leaf"


# ---- plans that take what comes nearest ------------------------------------------------------------------------


@given(st.integers(1, 90), st.integers(1, 90), st.floats(4, 80), st.floats(4, 200))
def test_a_plan_without_a_tolerance_always_has_a_fit_and_none_is_nearer(rows, stitches, width, length):
    plain = mk.Motif.from_array(np.zeros((rows, stitches), bool) ^ (np.arange(rows)[::-1, None] % 2 == 1))
    asked = mk.Design(plain, GAUGE).but(colours="swap")
    plan = mk.plan_widths(asked, width=width, length=length, tolerance=None)
    least = min(
        abs(mk.Design(plain, GAUGE, across=across).size.width_cm / width - 1)
        for across in range(1, 2 * 300 // stitches + 2)
    )
    assert abs(plan.nearest.deviation) <= least + 1e-9 or abs(plan.nearest.deviation) <= 0.05
    assert plan.wanted.tolerance >= abs(plan.nearest.deviation) - 1e-9
    assert plan.nearest in plan.nearest.around(0.0)
