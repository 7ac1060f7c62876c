"""A mosaic border: which counts fit, and what it looks like, against a walk around the piece that shares no code.

The walk goes along each side from its own corner, writes the squares of the strip, and finds that a border does not fit
where two sides disagree about a corner, where a side does not read the same backward, or where the picture is none that
can be worked.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from opponents import workable
from samples import letter_f
from strategies import motifs, workable_motifs

import mosaickit as mk
from mosaickit.errors import MosaickitError, OptionError, UnworkableError
from mosaickit.motif import fitting_remainders

pytestmark = pytest.mark.thorough

STRIP = mk.Motif.from_text(
    """
    ....
    #.##
    ....
    """
)
"""Three rings; a square of MC on every fourth stitch of the middle one."""


def marks_of(strip):
    """Which squares of a strip differ from their row's colour, ring by ring from the outside, by hand."""
    grid = strip.grid[::-1]
    return [
        [bool(square) != ((row % 2 == 1) ^ (strip.first == "CC")) for square in line] for row, line in enumerate(grid)
    ]


def walked(inside, strip, start):
    """The bordered picture as a walk around the piece makes it, as seen; None if the walk meets a contradiction."""
    marks, rings = marks_of(strip), len(strip.grid)
    rows, stitches = (side + 2 * rings for side in inside.shape)
    if rows % 2 == 0:
        return None
    seen = {}
    for ring in range(rings):
        own = (ring % 2 == 1) ^ (inside.first == "CC") ^ (rings % 2 == 1)
        corners = [
            (ring, ring),
            (ring, stitches - 1 - ring),
            (rows - 1 - ring, stitches - 1 - ring),
            (rows - 1 - ring, ring),
        ]
        for side, (row, column) in enumerate(corners):
            down, right = ((0, 1), (1, 0), (0, -1), (-1, 0))[side]
            length = (stitches, rows)[side % 2]
            line = [own ^ marks[ring][(place + start - 1) % len(marks[ring])] for place in range(ring, length - ring)]
            if line != line[::-1]:
                return None
            for step, square in enumerate(line):
                at = row + step * down, column + step * right
                if seen.setdefault(at, square) != square:
                    return None
    grid = np.zeros((rows, stitches), dtype=bool)
    grid[rings:-rings, rings:-rings] = inside.grid
    for at, square in seen.items():
        grid[at] = square
    return grid


@st.composite
def strips(draw):
    """Strips of which many have a mirror line."""
    rings, half = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    marks = draw(st.lists(st.lists(st.booleans(), min_size=half, max_size=half), min_size=rings, max_size=rings))
    if draw(st.booleans()):
        marks = [[*line, *line[::-1]] for line in marks]
    if draw(st.booleans()):  # single squares, as borders have
        marks = [
            [square and (place + ring) % 2 == 0 for place, square in enumerate(line)] for ring, line in enumerate(marks)
        ]
    grid = [[square ^ (ring % 2 == 1) for square in line] for ring, line in enumerate(marks)]
    return mk.Motif(np.array(grid, dtype=bool)[::-1], "MC")


@given(workable_motifs(most=6), strips(), st.data())
def test_a_border_is_the_walk_around_the_piece(inside, strip, data):
    start = data.draw(st.integers(1, strip.shape[1]))
    expected = walked(inside, strip, start)
    try:
        found = mk.mosaic_border(inside, strip, start=start, must_work=False)
    except OptionError:
        assert expected is None
        return
    if inside.shape[0] % 2 == 0:  # rings do not close, which the rules say
        assert expected is None
        return
    assert expected is not None
    assert (found.grid == expected).all()
    assert found.first == ("MC", "CC")[(inside.first == "CC") ^ (len(strip.grid) % 2)]
    for turned in (found.grid[::-1], found.grid[:, ::-1]):
        outside = np.ones(found.shape, dtype=bool)
        rings = len(strip.grid)
        outside[rings:-rings, rings:-rings] = False
        assert (turned == found.grid)[outside].all()
    corner = found.grid[: len(strip.grid), : len(strip.grid)]
    assert (corner == corner.T).all()


@given(st.integers(1, 4), st.integers(1, 4), strips(), st.data())
def test_the_counts_that_fit_are_all_that_the_walk_finds(rows, stitches, strip, data):
    motif = mk.Motif([[row % 2 == 1] * stitches for row in range(rows)][::-1])
    beside = data.draw(st.integers(0, stitches - 1))
    colours = data.draw(st.sampled_from(["keep", "swap"]))
    design = mk.Design(motif).but(balance_across=beside, colours=colours)
    plan = mk.border_fits(design, strip, across=range(1, 6), up=range(1, 6))
    found = {(fit.across, fit.up, fit.start) for fit in plan.fits}
    expected = set()
    for across in range(1, 6):
        for up in range(1, 6):
            inside = design.but(across=across, up=up, edges=0)
            if not inside.layout.workable:
                continue
            for start in range(1, strip.shape[1] + 1):
                grid = walked(inside.picture, strip, start)
                first = ("MC", "CC")[(inside.picture.first == "CC") ^ (len(strip.grid) % 2)]
                if grid is not None and workable(grid, first):
                    expected.add((across, up, start))
    assert found == expected
    for fit in plan.fits[:3]:
        assert fit.motif.shape == tuple(side + 2 * len(strip.grid) for side in fit.design.shape)
        assert fit.bordered.shape == fit.shape
        assert fit.bordered.report.ok
        assert (mk.work(fit.bordered.chart).front == fit.bordered.picture.grid).all()


@given(strips(), st.data())
def test_the_remainders_are_those_of_long_sides(strip, data):
    start, count = data.draw(st.integers(1, strip.shape[1])), strip.shape[1]
    marks = marks_of(strip)
    fits = set()
    for length in range(4 * count + 12, 5 * count + 12):
        lines = [
            [line[(place + start - 1) % count] for place in range(ring, length - ring)]
            for ring, line in enumerate(marks)
        ]
        if all(line == line[::-1] for line in lines):
            fits.add(length % count)
    assert set(fitting_remainders(strip, start)) == fits


def test_the_multiples_of_a_plan_are_said():
    stripes = mk.Motif.from_text("...\n###\n...")
    plan = mk.border_fits(mk.Design(stripes, mk.Gauge(16, 18)), STRIP, across=range(1, 9), up=[1, 5])
    assert plan.multiples == ((1, 4, 3), (2, 4, 1), (3, 4, 3), (4, 4, 1))
    assert "Started with stitch 2 or 4, it turns the corners where all sides are a multiple of 4 plus 1" in str(plan)
    # 3 stitches a repeat and 6 of the border; two edge stitches stand beside it
    counts = {(fit.across, fit.start): fit.shape for fit in plan.fits if fit.up == 1}
    assert {at: shape for at, shape in counts.items() if at[0] == 1} == {(1, 2): (9, 11), (1, 4): (9, 11)}
    assert {across for across, _ in counts} == {across for across in range(1, 9) if (3 * across + 6) % 4 == 1}
    assert "1 × 1 repeats, start 2: 11 stitches × 9 rows, 6.9 × 5.0 cm" in str(plan)


def test_a_bordered_design_keeps_everything_else():
    stripes = mk.Motif.from_text("...\n###\n...")
    design = mk.Design(stripes, mk.Gauge(16, 18), hand="left").but(title="Mat", edges=2, between_rows="cut")
    whole = mk.border_fits(design, STRIP, across=1, up=1).fits[0].bordered
    assert (whole.hand, whole.title, whole.shape) == ("left", "Mat", (9, 13))
    assert whole.surround == mk.Surround(edges=2)
    assert whole.page().finished_cm == pytest.approx(whole.size)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: mk.mosaic_border(letter_f, "dots"), "`strip` must be a `Motif`"),
        (lambda: mk.mosaic_border("x", STRIP), "`motif` must be a `Motif`"),
        (lambda: mk.mosaic_border(letter_f, STRIP, start=0), "`start` must be a whole number from 1"),
        (
            lambda: mk.mosaic_border(letter_f, STRIP),
            "4 stitches long and started with stitch 1, does not turn the corners.*7 rows: it does around 5 or 9",
        ),
        (
            lambda: mk.mosaic_border(letter_f, mk.Motif.from_text(".##.#.\n......")),
            "around no number of rows: it has no mirror line",
        ),
        (lambda: mk.border_fits(letter_f, STRIP), "`design` must be a `Design`"),
        (lambda: mk.border_fits(mk.Design(letter_f).but(in_the_round=True), STRIP), "must be worked flat"),
        (lambda: mk.border_fits(mk.Design(letter_f), STRIP, across=0), "`across` must be a whole number of 1 or more"),
        (lambda: mk.border_fits(mk.Design(letter_f), STRIP, up=[]), "`up` must be one count"),
        (lambda: mk.border_fits(mk.Design(letter_f), STRIP, across=range(1, 999), up=range(1, 99)), "give fewer"),
    ],
)
def test_what_cannot_be_is_said(call, says):
    with pytest.raises(OptionError, match=says):
        call()


@given(motifs(most=5), strips(), st.integers(1, 4))
def test_a_border_that_cannot_be_worked_is_refused_with_what_was_tried(inside, strip, start):
    try:
        found = mk.mosaic_border(inside, strip, start=start)
    except UnworkableError as error:
        for cure in error.cures:
            if not cure.before and not cure.after:
                assert mk.check(mk.mosaic_border(inside, strip, **{"start": start, **cure.options})).ok
    except MosaickitError:
        return
    else:
        assert not mk.check(inside).ok or mk.check(found).ok


# ---- as a part of a design, counted ------------------------------------------------------------------------


def by_hand(design):
    """Stitches of each kind, row by row, of a picture as seen: plain fabric, a square after the other."""
    grid, first = design.picture.grid[::-1], design.picture.first
    rows = []
    for row in range(len(grid)):
        below = grid[row - 1] != ((row - 1) % 2 == (first == "MC")) if row else np.zeros(grid.shape[1], bool)
        dc = int(below.sum())
        plain = grid.shape[1] - dc
        rows.append([plain, 0, 0, 0, 0] if row == 0 else [0, plain, dc, 0, 0])
    return rows


@given(st.integers(1, 5), st.integers(1, 4), strips(), st.data())
def test_a_counted_border_is_the_built_one(rows, stitches, strip, data):
    motif = data.draw(st.sampled_from([workable_motifs(), motifs()]).flatmap(lambda kind: kind))
    beside, over = (data.draw(st.integers(0, min(side - 1, 3))) for side in motif.shape[::-1])
    inside = mk.Design(motif, mk.Gauge(16, 18)).but(
        across=data.draw(st.integers(1, 4)),
        up=data.draw(st.integers(1, 6)),
        balance_across=beside,
        balance_up=over,
        colours=data.draw(st.sampled_from(["keep", "swap"])),
        edges=0,
    )
    edges, below, above = (data.draw(st.integers(0, 2)) for _ in range(3))
    start = data.draw(st.integers(1, strip.shape[1]))
    fits = mk.border_fits(inside, strip, across=range(1, 5), up=range(1, 7)).fits
    if fits and data.draw(st.integers(0, 3)):  # by chance alone few turn their corners
        fit = data.draw(st.sampled_from(fits))
        inside, start = fit.design, fit.start
    grid = walked(inside.picture, strip, start)
    rings, said = len(strip.grid), {"strip": strip, "strip_start": start, "edges": edges}
    said |= {"rows_below": below, "rows_above": above}
    sides = [
        [marks[(place + start - 1) % len(marks)] for place in range(ring, side + 2 * rings - ring)]
        for ring, marks in enumerate(marks_of(strip))
        for side in inside.shape
    ]
    if any(side != side[::-1] for side in sides):
        assert grid is None
        with pytest.raises(OptionError, match=r"turns? the corners in symmetry"):
            inside.but(**said)
        return
    design = inside.but(**said)
    shape = tuple(side + 2 * rings for side in inside.shape)
    assert design.shape == design.layout.shape == (shape[0] + below + above, shape[1] + 2 * edges)
    built = design.picture
    bordered = built.grid[above : len(built.grid) - below, edges : built.shape[1] - edges]
    assert (grid is None) == (inside.shape[0] % 2 == 0)
    if grid is not None:
        assert np.array_equal(bordered, grid)
    assert design.layout.workable == workable(built.grid, built.first) == design.report.ok
    if not design.layout.workable:
        with pytest.raises(UnworkableError):
            design.counts  # noqa: B018
        return
    counted = design.layout.row_counts()
    assert counted.stitches.tolist() == by_hand(design)
    assert counted.row_colours == design.chart.row_colours
    assert design.counts.sum() == built.grid.size
    for role, sums in zip(("MC", "CC"), design.counts, strict=True):
        mine = [row for row, colour in zip(by_hand(design), design.chart.row_colours, strict=True) if colour == role]
        assert sums.tolist() == np.sum(mine, axis=0).tolist() if mine else not sums.any()
    for each in (design, design.but(reversible=True)):
        kinds = np.array([np.bincount(line, minlength=5) for line in each.chart.stitches])
        assert each.layout.row_counts(each.reversible).stitches.tolist() == kinds.tolist()
        cc = np.array(each.chart.row_colours) == "CC"
        assert each.counts.tolist() == [kinds[~cc].sum(axis=0).tolist(), kinds[cc].sum(axis=0).tolist()]
    for settings in (mk.YarnSettings(), mk.YarnSettings(between_rows="cut", tail_cm=12)):
        of_chart = mk.yarn_usage(design.chart, mk.Gauge(16, 18), yarn_settings=settings)
        assert design.but(yarn_settings=settings).usage.likely_m == pytest.approx(float(of_chart.total_m.sum()))
    assert np.array_equal(mk.work(design.chart).front, built.grid)


@given(strips(), st.data())
def test_a_fit_as_a_design_with_its_repeats_is_the_built_fit(strip, data):
    stripes = mk.Motif([[row % 2 == 1] * 3 for row in range(3)])
    design = mk.Design(stripes, mk.Gauge(16, 18), hand="left").but(colours="swap", edges=data.draw(st.integers(0, 2)))
    for fit in mk.border_fits(design, strip, across=range(1, 6), up=range(1, 8)).fits[:4]:
        assert fit.counted.picture.grid.tolist() == fit.bordered.picture.grid.tolist()
        assert (fit.counted.across, fit.counted.up, fit.counted.motif) == (fit.across, fit.up, stripes)
        assert fit.counted.counts.tolist() == fit.bordered.counts.tolist()
        assert fit.counted.size == fit.bordered.size
        # asked again of the bordered piece, the border that is there is left out
        again = mk.border_fits(fit.counted, strip, across=fit.across, up=fit.up)
        assert fit.start in {each.start for each in again.fits}


def test_a_counted_border_is_kept_compared_and_printed(tmp_path):
    wave = mk.Motif.from_text("....\n#..#\n....", name="wave")
    strip = STRIP.named("pearls")
    inside = mk.Design(wave, mk.Gauge(16, 18)).but(colours="swap", balance_across=3)
    whole = mk.border_fits(inside, strip, across=5, up=5).fits[0].counted
    assert not {"picture", "chart"} & set(whole.__dict__)
    assert (whole.shape, whole.layout.workable) == ((21, 31), True)
    whole.counts, whole.usage, whole.multiple, whole.size  # noqa: B018
    assert not {"picture", "chart"} & set(whole.__dict__)  # all of that without building it
    mk.save(whole, tmp_path / "mat.design")
    assert mk.load(tmp_path / "mat.design") == whole
    said = str(mk.compare(inside.but(across=5, up=5), whole))
    assert "Mosaic border: none, now pearls" in said
    page = whole.page()
    assert page.finished_cm == pytest.approx(whole.size)
    assert mk.read_rows(str(whole.rows)) == whole.chart
    assert whole.first_repeat == ((4, 6), (5, 8))
    large = whole.but(across=401, up=401)
    assert large.counts.sum() == large.shape[0] * large.shape[1]
    assert "picture" not in large.__dict__
    banded = mk.Design(wave, across=5, bands=[mk.Field(), mk.Plain(4), mk.Field()])
    banded = banded.but(balance_across=3, strip=strip, strip_start=2)
    assert banded.layout.workable
    assert banded.report.ok
    assert banded.layout.row_counts().stitches.tolist() == by_hand(banded)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"strip": "dots"}, "`strip` must be a `Motif`"),
        ({"strip_start": 0}, "`strip_start` must be a whole number from 1"),
        ({"rings": 1}, "`strip` does not go with `rings`"),
        ({"in_the_round": True, "edges": 0, "balance_across": 0}, "`strip` does not go with `in_the_round`"),
        ({"across": 2}, "does not turn the corners in symmetry around 8 stitches: it does around 7 or 11"),
    ],
)
def test_what_no_counted_border_can_be_is_refused(change, says):
    whole = mk.Design(mk.Motif.from_text("....\n#..#\n....")).but(
        colours="swap", balance_across=3, strip=STRIP, strip_start=2, across=5, up=5
    )
    if "across" in change:
        change = {"across": 2, "balance_across": 0}
    with pytest.raises(OptionError, match=says):
        whole.but(**change)


def test_a_frame_inside_of_a_border_is_built_not_counted():
    framed = mk.Design(mk.Motif.from_text("...")).but(rings=1)
    fit = mk.border_fits(framed, STRIP, across=range(1, 9), up=range(1, 9)).fits[0]
    with pytest.raises(OptionError, match="`rings` of this design lies inside the border"):
        fit.counted  # noqa: B018
    assert fit.bordered.report.ok


def test_widths_and_sweeps_name_what_finds_the_counts():
    whole = mk.Design(mk.Motif.from_text("....\n#..#\n...."), mk.Gauge(16, 18)).but(
        colours="swap", balance_across=3, strip=STRIP, strip_start=2, across=5, up=5
    )
    with pytest.raises(OptionError, match="`border_fits` finds the counts"):
        mk.plan_widths(whole, width=40)
    with pytest.raises(OptionError, match="`border_fits` finds the counts"):
        mk.sweep(whole, width=[40])
