"""Pictures with matplotlib: where the artists stand and which colours they have, never pixels."""

import re
from itertools import pairwise

import matplotlib

matplotlib.use("Agg")

import matplotlib.pyplot as plt
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from notebook_cells import overlapping
from samples import letter_f, single, two_stacked
from strategies import hands, motifs, workable_motifs

from mosaickit import (
    Chart,
    Gauge,
    Motif,
    Skein,
    Surround,
    Yarn,
    Yarns,
    YarnSettings,
    check,
    compile_chart,
    draw,
    nearest_workable,
    orientation,
    plan_widths,
    svg,
    tile,
    work,
    yarn_usage,
)
from mosaickit.errors import FileError, OptionError, StitchError
from mosaickit.svg import ink_on

pytestmark = pytest.mark.thorough

DEFAULTS = dict(plt.rcParams)


@pytest.fixture(autouse=True)
def _figures_are_closed_and_settings_are_left_alone():
    yield
    plt.close("all")
    assert dict(plt.rcParams) == DEFAULTS


def new_axes():
    """Axes that pyplot knows nothing of, so that many random examples leave nothing open."""
    return Figure().add_subplot()


def image(picture):
    """The colours of an image's squares, "#rrggbb"."""
    return [[to_hex(square / 255) for square in row] for row in picture.get_array()]


def colours_of(shows, rows, yarns):
    return [
        [yarns.at(row, "CC" if cc else "MC").colour for cc, row in zip(*line, strict=True)]
        for line in zip(shows.tolist(), rows.tolist(), strict=True)
    ]


def stamped(ax, label):
    """The squares, (row from the top, column), that carry a mark, and the colour of each."""
    found = [collection for collection in ax.collections if collection.get_label() == label]
    assert len(found) <= 1, "one artist for each kind of mark"
    if not found:
        return {}
    places = found[0].get_offsets().astype(int).tolist()
    drawn, filled = found[0].get_edgecolor(), found[0].get_facecolor()
    colours = [to_hex(colour) for colour in (drawn if len(drawn) else filled)]
    # one colour may stand for all
    return {(row, column): colours[i % len(colours)] for i, (column, row) in enumerate(places)}


def numbers(axis):
    """What is written at each place along an axis."""
    pairs = zip(axis.get_ticklocs(), axis.get_ticklabels(), strict=True)
    return {float(place): label.get_text() for place, label in pairs}


def key(ax):
    return [text.get_text() for text in ax.get_legend().get_texts()]


def squares_of(mask):
    return set(map(tuple, np.argwhere(mask).tolist()))


few = settings(max_examples=25)  # a figure takes its time
charts = st.builds(
    lambda motif, reversible, hand: compile_chart(motif, reversible, hand=hand), workable_motifs(), st.booleans(), hands
)


# ---- what a chart shows ------------------------------------------------------------------------------------


@few
@given(charts)
def test_squares_show_the_front_that_the_hook_makes(chart):
    fabric = work(chart)
    picture, bar = draw.chart(chart, ax=new_axes()).images
    assert image(picture) == colours_of(fabric.front, fabric.front_rows, chart.yarns)
    rows, columns = chart.shape
    assert picture.get_extent() == [0, columns, rows, 0]
    assert picture.origin == "upper", "row 0 of the array is on top"

    of_rows = [chart.yarns.at(row, role).colour for row, role in enumerate(chart.row_colours, 1)]
    assert image(bar) == [[colour] for colour in reversed(of_rows)]


@few
@given(charts)
def test_symbols_stand_only_where_their_stitches_stand_in_an_ink_that_shows(chart):
    ax = draw.chart(chart, ax=new_axes())
    fabric = work(chart)
    squares = colours_of(fabric.front, fabric.front_rows, chart.yarns)
    for character, label in (("|", "FLdc"), ("b", "tog-b"), ("f", "tog-f")):
        lines = chart.to_text().splitlines()
        expected = {
            (row, column): ink_on(squares[row][column])
            for row, line in enumerate(lines)
            for column, found in enumerate(line)
            if found == character
        }
        assert stamped(ax, label) == expected


def test_a_symbol_fills_its_square_the_right_way_up():
    ax = draw.chart(Chart.from_text("..\n|.\n..\n.."))
    (fldc,) = [collection for collection in ax.collections if collection.get_label() == "FLdc"]
    assert fldc.get_offset_transform() == ax.transData
    drawn = fldc.get_paths()[0].vertices + fldc.get_offsets()
    assert (drawn > [0, 1]).all()
    assert (drawn < [1, 2]).all()
    # y runs down: the bar of the T comes first and lies on top
    assert drawn[0][1] == drawn[1][1] == drawn[:, 1].min()


@few
@given(charts)
def test_the_key_names_what_is_used_and_nothing_else(chart):
    ax = draw.chart(chart, ax=new_axes())
    listed = [line for line in key(ax) if not line.startswith(("MC", "CC"))]
    used = ["sc"] * True + [a for a, c in (("BLsc", 1), ("FLdc", 2), ("tog-b", 3), ("tog-f", 4)) if c in chart.stitches]
    assert [line.partition(":")[0] for line in listed] == used
    rows = chart.shape[0]
    for role, changes in (("MC", chart.yarns.mc), ("CC", chart.yarns.cc)):
        named = [line.partition(": ")[2] for line in key(ax) if line.startswith(role)]
        expected = [yarn.name for yarn in dict.fromkeys(yarn for start, yarn in changes if start <= rows)]
        assert [line.removesuffix(" (marked in the corner)") for line in named] == expected


def test_a_change_of_yarn_is_dated_in_the_key():
    yarns = Yarns(mc=Yarn("sand", "#e9dcc3"), cc=[(1, Yarn("deep", "#123f5a")), (4, Yarn("dusk", "#4d1f52"))])
    ax = draw.chart(compile_chart(letter_f.with_yarns(yarns)))
    assert key(ax)[:3] == ["MC: sand", "CC from row 1: deep", "CC from row 4: dusk"]


def test_yarns_that_come_again_and_again_stand_once_in_the_key():
    deep, dusk = Yarn("deep", "#123f5a"), Yarn("dusk", "#4d1f52")
    changes = [(row, deep if row % 4 == 1 else dusk) for row in range(1, 42, 2)]
    striped = tile(letter_f, up=6, colours="swap").with_yarns(Yarns(Yarn("sand", "#e9dcc3"), changes))
    assert key(draw.chart(compile_chart(striped)))[:3] == [
        "MC: sand",
        "CC from rows 1, 5, 9, 13 and 7 more: deep",
        "CC from rows 3, 7, 11, 15 and 6 more: dusk",
    ]


def test_cc_is_marked_where_the_yarns_are_too_alike():
    alike = Yarns(Yarn("rose", "#c08080"), Yarn("sage", "#7fa0a0"))
    marked = draw.chart(letter_f.with_yarns(alike))
    assert set(stamped(marked, "CC")) == squares_of(letter_f.grid)
    assert key(marked)[1] == "CC: sage (marked in the corner)"
    assert stamped(draw.chart(letter_f), "CC") == {}
    assert stamped(draw.chart(letter_f, style=draw.ChartStyle(cc_mark=True)), "CC") != {}
    assert stamped(draw.chart(letter_f.with_yarns(alike), style=draw.ChartStyle(cc_mark=False)), "CC") == {}


def test_the_mark_looks_at_every_yarn_that_is_used_and_at_no_other():
    later = Yarns(Yarn("rose", "#c08080"), [(1, Yarn("ink", "#000000")), (7, Yarn("sage", "#7fa0a0"))])
    assert stamped(draw.chart(letter_f.with_yarns(later)), "CC") != {}
    low = draw.chart(Chart.from_text("....\n....\n....", yarns=later))
    assert stamped(low, "CC") == {}, "three rows never reach the second yarn"
    assert key(low)[:2] == ["MC: rose", "CC: ink"]


def test_parts_can_be_left_out():
    style = draw.ChartStyle(marks="plain", row_bar=False, key=False)
    ax = draw.chart(compile_chart(letter_f), style=style, title="")
    assert len(ax.images) == 1
    assert ax.get_legend() is None
    assert ax.get_title(loc="left") == ""
    assert stamped(ax, "FLdc") == {}
    assert ax.get_xlim() == (0, 7)


def test_a_name_is_shown_as_it_is_written():
    odd = letter_f.named(r"$\frac$ and _x").with_yarns(Yarns(mc=Yarn(r"$\oops$", "#ffffff")))
    ax = draw.chart(compile_chart(odd))
    title, *_ = ax.get_title(loc="left").splitlines()
    assert title == r"$\frac$ and _x"
    assert key(ax)[0] == r"MC: $\oops$"
    front, _ = draw.faces(work(compile_chart(odd)))
    assert front.get_title().splitlines()[0] == title
    for figure in (ax.figure, front.figure):
        figure.canvas.draw()  # would stumble over unfinished mathematics


# ---- where a maker looks -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("hand", "stitches"), [("right", "7654321"), ("left", "1234567")])
def test_rows_are_numbered_at_the_working_edge_and_stitches_below(hand, stitches):
    ax = draw.chart(compile_chart(letter_f, hand=hand))
    assert numbers(ax.yaxis) == {place + 0.5: label for place, label in enumerate("7654321")}
    assert numbers(ax.xaxis) == {place + 0.5: label for place, label in enumerate(stitches)}
    assert ax.yaxis.get_ticks_position() == hand
    assert ax.get_ylim() == (7, 0)
    bar = ax.images[1].get_extent()
    assert bar[0] > 7 if hand == "right" else bar[1] < 0
    assert ax.get_xlim() == ((0, bar[1]) if hand == "right" else (bar[0], 7))


def test_everything_follows_the_one_place_that_knows_the_working_order(monkeypatch):
    monkeypatch.setattr(orientation, "row_numbers", lambda rows: np.arange(1, rows + 1))
    monkeypatch.setattr(orientation, "stitch_numbers", lambda columns, hand: np.arange(1, columns + 1))
    monkeypatch.setattr(orientation, "working_edge", lambda hand: "left")
    ax = draw.chart(Chart.from_text("\n".join(["." * 13] * 14)))
    assert numbers(ax.yaxis) == {row - 0.5: str(row) for row in range(1, 15)}
    assert numbers(ax.xaxis) == {stitch - 0.5: str(stitch) for stitch in range(1, 14)}
    assert ax.yaxis.get_ticks_position() == "left"
    assert ax.images[1].get_extent()[1] < 0
    assert heavy(ax) == ([10], [10])


def heavy(ax):
    """Where heavier grid lines run: x of the vertical ones, y of the level ones."""
    (lines,) = [collection for collection in ax.collections if collection.get_label() == "heavy grid"]
    segments = [segment.tolist() for segment in lines.get_segments()]
    return [a[0] for a, b in segments if a[0] == b[0]], [a[1] for a, b in segments if a[1] == b[1]]


@pytest.mark.parametrize(("hand", "across"), [("right", [3, 13]), ("left", [10, 20])])
def test_heavier_lines_count_from_row_1_and_stitch_1(hand, across):
    chart = Chart.from_text("\n".join(["." * 23] * 14), hand=hand)
    ax = draw.chart(chart)
    assert heavy(ax) == (across, [4])
    fine = next(collection for collection in ax.collections if collection.get_label() == "grid")
    assert fine.get_linewidth()[0] < 1 < 1.5 < ax.collections[1].get_linewidth()[0]
    assert heavy(draw.chart(chart, style=draw.ChartStyle(every=12)))[1] == [2]


def test_numbers_of_a_large_chart_are_thinned_so_that_none_touch():
    ax = draw.chart(Chart.from_text("\n".join(["." * 150] * 100)), style=draw.ChartStyle(square_in=0.08))
    assert list(numbers(ax.yaxis).values())[-3:] == ["10", "5", "1"]
    renderer = ax.figure.canvas.get_renderer()
    for labels in (ax.get_xticklabels(), ax.get_yticklabels()):
        boxes = [label.get_window_extent(renderer) for label in labels]
        assert not any(one.overlaps(two) for one, two in pairwise(boxes))


def test_a_new_figure_fits_its_chart_and_squares_stay_square():
    for motif in (single, letter_f, Motif(np.zeros((120, 9), dtype=bool))):
        ax = draw.chart(motif)
        renderer = ax.figure.canvas.get_renderer()
        inside = ax.figure.bbox
        for box in (ax.get_tightbbox(renderer), ax.get_legend().get_window_extent(renderer)):
            assert inside.y0 <= box.y0 < box.y1 <= inside.y1
            assert inside.x0 <= box.x0 < box.x1 <= inside.x1
        assert_square(ax)


def test_squares_stay_square_in_axes_of_another_shape():
    for size in ((9, 3), (3, 9)):
        assert_square(draw.chart(letter_f, ax=Figure(figsize=size).add_subplot()))


def assert_square(ax):
    corner, opposite = ax.transData.transform([(0, 0), (1, 1)])
    assert opposite[0] - corner[0] == pytest.approx(corner[1] - opposite[1])


# ---- what is said against a picture ------------------------------------------------------------------------


@few
@given(motifs(), hands)
def test_errors_are_hatched_and_the_rest_of_advice_is_dotted(motif, hand):
    report = check(motif, hand=hand)
    ax = draw.chart(motif, report=report, ax=new_axes())
    errors, advice = report.squares("error"), report.squares("advice")
    assert set(stamped(ax, "error")) == squares_of(errors)
    assert set(stamped(ax, "advice")) == squares_of(advice & ~errors)
    assert image(ax.images[0]) == colours_of(motif.grid, motif.shown_rows, motif.yarns)
    assert ("cannot be worked" in key(ax)) == errors.any()
    assert ("advice" in key(ax)) == advice.any()
    assert ax.yaxis.get_ticks_position() == hand


def test_a_picture_is_checked_if_no_report_is_given():
    assert set(stamped(draw.chart(two_stacked), "error")) == squares_of(check(two_stacked).squares("error")) != set()
    assert stamped(draw.chart(letter_f), "error") == {}


def test_errors_and_advice_are_told_apart_by_shape():
    ax = draw.chart(Motif(np.ones((3, 3), dtype=bool)))
    errors, advice = (
        next(collection for collection in ax.collections if collection.get_label() == label)
        for label in ("error", "advice")
    )
    assert len(errors.get_paths()[0].vertices) > len(advice.get_paths()[0].vertices)
    assert errors.get_linestyle() != advice.get_linestyle()


def test_what_cannot_be_drawn_is_refused_with_advice():
    with pytest.raises(OptionError, match=r"`subject` must be a Chart or a Motif; got 'F'\."):
        draw.chart("F")
    with pytest.raises(OptionError, match=r"`report` must be what `mk.check` finds in this motif; got that of '5 rows"):
        draw.chart(letter_f, report=check(two_stacked))
    with pytest.raises(OptionError, match=r"`report` goes with a Motif: a Chart holds stitches"):
        draw.chart(compile_chart(letter_f), report=check(letter_f))
    with pytest.raises(StitchError, match=r"Row 2, stitch 1: FLdc cannot be made"):
        draw.chart(Chart.from_text("|\n."))
    assert plt.get_fignums() == [], "no empty figure is left behind"


def test_a_style_is_checked_when_it_is_made():
    with pytest.raises(OptionError, match=r"`every` must be a whole number of 1 or more; got 0\."):
        draw.ChartStyle(every=0)
    with pytest.raises(OptionError, match=r"`square_in` must be a number of inches above 0; got -1\."):
        draw.ChartStyle(square_in=-1)
    with pytest.raises(OptionError, match=r"`font_size` must be a number of points above 0; got 0\."):
        draw.ChartStyle(font_size=0)


# ---- the faces ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("rows", "stitches"), [(4, 80), (64, 5), (1, 1), (30, 30), (2, 300)])
def test_both_faces_and_their_numbers_have_room_whatever_the_shape_of_the_piece(rows, stitches):
    flat = np.zeros((rows, stitches), bool)
    fabric = work(compile_chart(nearest_workable(Motif.from_array(flat).named("piece")).motif))
    axes = draw.faces(fabric, gauge=Gauge(16, 17))
    axes[0].figure.canvas.draw()
    assert overlapping(axes[0].figure) == []
    plt.close("all")


@few
@given(charts)
def test_faces_show_what_the_hook_made_each_from_its_own_side(chart):
    fabric = work(chart)
    front, back = draw.faces(fabric, axes=(new_axes(), new_axes()))
    assert image(front.images[0]) == colours_of(fabric.front, fabric.front_rows, fabric.yarns)
    assert image(back.images[0]) == colours_of(fabric.back, fabric.back_rows, fabric.yarns)


def test_a_face_says_which_side_it_is():
    fabric = work(compile_chart(letter_f, reversible=True))
    front, back = draw.faces(fabric)
    assert front.get_title() == "letter F\nfront (right side)"
    assert back.get_title() == "letter F\nback (wrong side), as seen from behind"
    assert front.figure is back.figure
    assert front.get_position().x1 <= back.get_position().x0
    with pytest.raises(OptionError, match=r"`side` must be one of 'front', 'back'; got 'inside'\."):
        draw.face(fabric, side="inside")


def test_a_gauge_gives_a_face_its_true_size():
    fabric = work(Chart.from_text("\n".join(["." * 8] * 6)))
    # 16 stitches and 20 rows to 10 cm: a stitch is 0.625 cm wide and 0.5 cm high
    ax = draw.face(fabric, gauge=Gauge(16, 20))
    assert ax.images[0].get_extent() == pytest.approx([0, 5, 0, 3])
    assert ax.get_xlabel() == ax.get_ylabel() == "cm"
    assert ax.images[0].origin == "upper", "row 0 of the array is on top"
    assert ax.get_aspect() == 1
    assert draw.face(fabric).images[0].get_extent() == pytest.approx([0, 8, 0, 6])


# ---- yarn a row --------------------------------------------------------------------------------------------


def test_yarn_is_drawn_row_by_row_from_the_bottom_up():
    pale = letter_f.with_yarns(Yarns(Yarn("snow", "#ffffff"), Yarn("_ink $", "#1d3f66")))
    usage = yarn_usage(compile_chart(pale, reversible=True), Gauge(16, 20))
    ax = draw.yarn(usage)
    bars, whiskers = ax.containers
    assert [bar.get_y() + bar.get_height() / 2 for bar in bars] == pytest.approx(range(1, 8))
    assert [bar.get_width() for bar in bars] == pytest.approx(usage.total_m)
    assert [to_hex(bar.get_facecolor()) for bar in bars] == ["#ffffff", "#1d3f66"] * 3 + ["#ffffff"]
    assert all(to_hex(bar.get_edgecolor()) == "#333333" and bar.get_linewidth() > 0 for bar in bars)
    (_, _, (lines,)) = whiskers
    reach = [[(low, row), (high, row)] for row, low, high in zip(range(1, 8), usage.low_m, usage.high_m, strict=True)]
    np.testing.assert_allclose(lines.get_segments(), reach)
    assert not ax.yaxis_inverted()
    assert ax.get_xlim()[0] == 0
    assert key(ax) == ["MC: snow", "CC: _ink $"]
    ax.figure.canvas.draw()


# ---- manners -----------------------------------------------------------------------------------------------


def verbs():
    chart = compile_chart(letter_f, reversible=True)
    fabric = work(chart)
    usage = yarn_usage(chart, Gauge(16, 20))
    return {
        "chart": lambda ax=None: draw.chart(chart, ax=ax),
        "motif": lambda ax=None: draw.chart(two_stacked, ax=ax),
        "face": lambda ax=None: draw.face(fabric, ax=ax),
        "yarn": lambda ax=None: draw.yarn(usage, ax=ax),
    }


@pytest.mark.parametrize("verb", ["chart", "motif", "face", "yarn"])
def test_a_verb_draws_into_the_axes_it_is_given_or_into_a_new_figure(verb):
    _, (left, right) = plt.subplots(1, 2)
    assert verbs()[verb](right) is right
    assert not left.has_data()
    assert len(plt.get_fignums()) == 1
    assert verbs()[verb]().figure is not right.figure
    assert len(plt.get_fignums()) == 2


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_the_same_picture_gives_the_same_bytes_and_no_date(tmp_path, ending):
    files = [draw.save(verbs()["chart"](), tmp_path / f"{name}.{ending}") for name in ("one", "two")]
    one, two = (file.read_bytes() for file in files)
    assert one == two
    assert not re.search(rb"CreationDate|dc:date|Software", one)
    assert {"svg": b"<?xml", "png": b"\x89PNG", "pdf": b"%PDF"}[ending] == one[
        : len(b"%PDF" if ending != "svg" else b"<?xml")
    ]


def test_a_figure_is_saved_as_its_axes_are(tmp_path):
    ax = draw.chart(letter_f)
    one, two = draw.save(ax, tmp_path / "one.SVG"), draw.save(ax.figure, str(tmp_path / "two.svg"))
    assert one.read_bytes() == two.read_bytes()


def test_what_cannot_be_saved_is_refused_with_advice(tmp_path):
    ax = draw.chart(letter_f)
    with pytest.raises(OptionError, match=r"`path` must end in \.svg, \.png or \.pdf; got '.*f\.bmp'\."):
        draw.save(ax, tmp_path / "f.bmp")
    with pytest.raises(
        FileError, match=r"'f\.png' could not be written, and nothing was changed: there is no such folder\."
    ):
        draw.save(ax, tmp_path / "missing" / "f.png")


# ---- pieces ------------------------------------------------------------------------------------------------


def plan_of(motif=letter_f, **options):
    settings = {"length": 30, "tolerance": 0.3, "surround": Surround(colours="swap")}
    settings |= {"yarn_settings": YarnSettings(skeins=Skein(12, 50))} | options
    return plan_widths(motif, Gauge(16, 20), 20, **settings)


@pytest.mark.parametrize("worked", ["across", "along"])
def test_pieces_stand_side_by_side_at_one_scale_each_as_large_as_it_is(worked):
    fits = plan_of(worked=worked).fits[:4]
    assert len(fits) > 2
    ax = draw.pieces(fits)
    extents = [image.get_extent() for image in ax.images]
    for fit, (left, right, bottom, top) in zip(fits, extents, strict=True):
        assert (right - left, top - bottom) == pytest.approx((fit.width_cm, fit.length_cm))
        assert bottom == 0
    assert all(right < left for (_, right, *_), (left, *_) in pairwise(extents))
    assert ax.get_aspect() == 1
    first = fits[0]
    assert ax.texts[0].get_text() == (
        f"{first.across} × {first.up}\n{first.width_cm:.1f} ×\n{first.length_cm:.0f} cm\n{first.deviation:+.1%}"
    )


def test_a_piece_shows_the_picture_turned_on_its_side_where_rows_run_along_it():
    for worked, turns in (("across", 0), ("along", 1)):
        fit = plan_of(worked=worked).nearest
        picture = fit.layout.build()
        index, colours = svg.yarn_colours(picture.grid, picture.shown_rows, picture.yarns)
        expected = np.rot90(np.array([[int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in colours])[index], turns)
        assert np.array_equal(draw.piece(fit).images[0].get_array(), expected)


def test_pieces_are_few_enough_to_be_seen():
    with pytest.raises(OptionError, match=r"`fits` must be 1 to 24 fits, so that each can be seen; got 0"):
        draw.pieces([])
    with pytest.raises(OptionError, match=r"got 25"):
        draw.pieces([plan_of().nearest] * 25)


def test_yarn_is_drawn_against_width_with_the_metres_in_whole_skeins():
    motif = letter_f.with_yarns(Yarns(Yarn("snow", "#ffffff"), Yarn("_ink $", "#10243e")))
    fits = plan_of(motif).nearest.around(0.8)
    assert len(fits) > 3
    ax = draw.yarn_by_width(fits)
    widths = [fit.width_cm for fit in fits]
    assert widths == sorted(widths)
    lines = {line.get_label(): line for line in ax.lines if not line.get_label().startswith("_child")}
    assert list(lines) == [
        "snow, likely; band from low to high",
        "snow, in the skeins to buy",
        "_ink $, likely; band from low to high",
        "_ink $, in the skeins to buy",
    ]
    for at, name in enumerate(("snow", "_ink $")):
        likely, bought = (
            lines[f"{name}, {what}"] for what in ("likely; band from low to high", "in the skeins to buy")
        )
        np.testing.assert_allclose(likely.get_xdata(), widths)
        np.testing.assert_allclose(likely.get_ydata(), [fit.by_yarn[at].likely_m for fit in fits])
        np.testing.assert_allclose(bought.get_ydata(), [fit.by_yarn[at].skeins * 12 for fit in fits])
        low, high = (band for band in (ax.collections[at].get_datalim(ax.transData).intervaly))
        assert low == pytest.approx(min(fit.by_yarn[at].low_m for fit in fits))
        assert high == pytest.approx(max(fit.by_yarn[at].high_m for fit in fits))
    assert ax.get_ylim()[0] == 0
    ax.figure.canvas.draw()
    assert len(draw.yarn_by_width(plan_of(yarn_settings=YarnSettings()).fits).get_legend().get_texts()) == 2
    with pytest.raises(OptionError, match="at least one fit"):
        draw.yarn_by_width([])
