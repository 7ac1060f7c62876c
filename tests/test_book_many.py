"""The panel Many: what is ticked is every combination, each line is the piece it says, and files are asked about."""

from itertools import product

import numpy as np
import pandas as pd
import pytest

import mosaickit as mk
from mosaickit.files import to_json
from mosaickit.tables import saving, spreadsheet
from mosaickit.widgets.book.many import many_desk_of
from mosaickit.widgets.book.many_choices import MOST_RUN, THIS
from mosaickit.widgets.book.workbook import Workbook

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 17)
TILES = mk.nearest_workable(mk.Motif(np.arange(96).reshape(12, 8) % 7 == 3, name="tiles")).motif
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
LEAF_JSON = to_json(LEAF).encode()


class Desk:
    """A workbook with the panel open, and messages as the page sends them."""

    def __init__(self, start, folder):
        self.book = Workbook(start, autosave=folder / "x.sketch", folder=folder)
        self.answers = []
        self.book.send = lambda answer, *_: self.answers.append(answer)
        self.send(kind="open", panel="many")

    def send(self, buffers=(), **content):
        self.book._receive(None, {"view": "v", "seq": len(self.answers), **content}, list(buffers))
        return self.answers[-1].get("error", "")

    def do(self, name, buffers=(), **values):
        return self.send(buffers, kind="do", panel="many", name=name, values=values)

    def tick(self, group, *keys, on=True):
        for key in keys:
            assert self.do("tick", group=group, key=key, on=on) == ""

    def work_out(self):
        assert self.do("start") == ""
        slices = 0
        while not slices or self.answers[-1]["left"]:
            assert self.do("slice") == ""
            slices += 1
        return slices

    @property
    def view(self):
        return self.book.panel

    def options(self, group):
        (found,) = (each for each in self.view["groups"] if each["key"] == group)
        return {option["key"]: option["on"] for option in found["options"]}


@pytest.fixture
def many(tmp_path):
    mk.save(LEAF, tmp_path / "leaf.json")
    (tmp_path / "broken.json").write_text("{", "utf-8")
    return Desk(mk.Design(TILES, GAUGE).but(title="Tiles scarf"), tmp_path)


def tick_some(many):
    many.tick("motifs", "leaf.json")
    many.tick("rings", "0", "1")
    many.tick("colours", "keep", "swap")
    many.tick("width", "20", "30")
    assert many.do("add", group="length", size="61,5") == ""
    assert many.do("add", group="gauge", stitches="15", rows="16") == ""
    many.tick("gauge", GAUGE.sentence)


def test_the_motifs_of_the_folder_are_listed_and_what_holds_none_is_said(many):
    assert many.options("motifs") == {THIS: True, "leaf.json": False}
    assert many.view["notes"] == ["Files of the folder that hold no motif: 1 (broken.json)."]
    assert many.do("files", [b"....\n####\n....", b"\x00nothing"], names=["band.txt", "bad.json"]) == ""
    assert many.options("motifs")["band.txt"]
    assert "bad.json" in " ".join(many.view["notes"])
    assert many.book.said == "Files read: 1."


def test_the_count_is_said_before_and_bounds_what_is_run(many):
    assert (many.view["counted"], many.view["can"]) == ("1 combination.", True)
    tick_some(many)
    assert many.view["counted"] == f"{2 * 2 * 2 * 2 * 2} combinations."
    many.tick("motifs", THIS, "leaf.json", on=False)
    assert (many.view["counted"], many.view["can"]) == ("Tick at least one motif.", False)
    assert "Tick at least one motif." in many.do("start")
    many.tick("motifs", THIS)
    for size in range(1000, 1110):
        many.do("add", group="length", size=str(size))
        many.do("add", group="width", size=str(size))
    assert not many.view["can"]
    assert f"more than the {MOST_RUN:,}" in many.view["counted"]


def test_every_line_is_the_piece_that_it_says(many):
    tick_some(many)
    assert many.work_out() == 4
    run = many.view["run"]
    assert (run["done"], run["of"], run["notes"]) == (4, 4, [])
    desk_run = _run(many)
    table = desk_run.table
    whole = table.groupby(["motif", "gauge", "rings", "colours", "wanted width cm"]).ngroups
    assert whole == 2 * 2 * 2 * 2 * 2
    for line in table.index[:: max(len(table) // 12, 1)]:
        row, design = table.loc[line], desk_run.design(line)
        assert design.shape == (row["rows"], row["stitches"])
        assert mk.check(design.picture).ok == row["can be worked"]
        assert design.size.width_cm == pytest.approx(row["width cm"])
        if row["can be worked"]:
            assert design.usage.likely_m == pytest.approx(row["yarn m"])


def test_sorting_puts_least_or_most_first_of_what_is_near_then_of_the_rest_and_last_what_cannot_be_worked(many):
    tick_some(many)
    many.work_out()
    table = _run(many).table
    for descending in (False, True):
        many.do("sort", by="yarn m")
        assert many.view["run"]["down"] == descending
        while many.view["run"]["more"]:
            many.do("more")
        lines = [line["line"] for line in many.view["run"]["lines"]]
        works, near = (table[name][lines] for name in ("can be worked", "within tolerance"))
        for yarn in (table["yarn m"][lines][works & near], table["yarn m"][lines][works & ~near]):
            assert len(yarn) > 2
            assert yarn.is_monotonic_decreasing if descending else yarn.is_monotonic_increasing
        for first in (works, near[works]):
            assert first.tolist() == sorted(first, reverse=True)
        assert len(lines) == len(table)
    why = {line["why"] for line in many.view["run"]["lines"] if line["why"]}
    assert all(sentence[0].isupper() for sentence in why)


def test_lines_that_take_more_skeins_than_there_may_be_come_after_and_say_so(many):
    tick_some(many)
    many.work_out()
    assert many.view["skeins"] is False
    assert many.do("limit", role="MC", value="2") == ""
    assert many.view["run"]["said"].endswith(" To count their skeins, work them out again.")
    many.book.change(many.book.design.but(skeins=mk.Skein(20, 25)), "skeins")
    many.work_out()
    table = _run(many).table
    many.do("limit", role="MC", value=str(int(table["MC skeins"].median())))
    many.do("limit", role="CC", value="9")
    while many.view["run"]["more"]:
        many.do("more")
    mosts = {"MC": int(table["MC skeins"].median()), "CC": 9}
    lines, enough = many.view["run"]["lines"], 0
    for line in lines:
        row, said = table.loc[line["line"]], []
        if row["can be worked"]:
            design = _run(many).design(line["line"])
            skeins = {total.yarn: total.skeins for total in design.usage.by_yarn}
            for role, most in mosts.items():
                takes = skeins[design.motif.yarns.at(1, role)]
                said += [f"{takes} skeins of {role}, {most} at most"] * (takes > most)
            enough += row["within tolerance"] and not said
        assert line["over"] == "; ".join(said)
    assert f" For {enough} of these there are skeins enough." in many.view["run"]["said"]
    over = [bool(line["over"]) for line in lines if not line["why"]]
    assert over == sorted(over)
    assert 0 < sum(over) < len(over)
    for wrong, said in (("two", "enter a number"), ("1.5", "bought whole"), ("0", "from 1 to 10,000")):
        assert said in many.do("limit", role="CC", value=wrong)
    assert many.view["limits"]["CC"] == "9"
    many.do("limit", role="CC", value="")
    many.do("limit", role="MC", value="")
    assert "skeins" not in many.view["run"]["said"]
    many.book.change(many.book.design.but(skeins=None), "skeins")
    assert many.view["skeins"], "they limit the lines that are there"


def test_a_line_pressed_is_the_design_in_one_step_and_keeps_its_words(many):
    tick_some(many)
    many.work_out()
    before, line = many.book.design, next(each["line"] for each in many.view["run"]["lines"] if not each["why"])
    many.book.change(before.but(designer="somebody"), "designer")
    before = many.book.design
    assert many.do("take", line=line) == ""
    row, design = _run(many).table.loc[line], many.book.design
    assert design.shape == (row["rows"], row["stitches"])
    assert (design.title, design.words.designer) == ("Tiles scarf", "somebody")
    many.send(kind="undo")
    assert many.book.design == before
    for wrong in (0, -1, 10**6, "1", None):
        assert "Choose again" in many.do("take", line=wrong)


def test_it_can_be_stopped_between_slices_and_gone_on_with(many):
    tick_some(many)
    many.do("start")
    many.do("slice")
    half = many.view["run"]
    assert (half["done"], half["of"]) == (1, 4)
    lines = len(_run(many).table)
    many.send(kind="open", panel="words")
    many.send(kind="open", panel="many")
    assert many.view["run"]["done"] == 1
    for _ in range(5):
        many.do("slice")
    assert (many.view["run"]["done"], len(_run(many).table) > lines) == (4, True)
    again = Desk(many.book.design, _folder(many, "again"))
    again.do("files", [LEAF_JSON], names=["leaf.json"])
    tick_some(again)
    again.work_out()
    pd.testing.assert_frame_equal(_run(again).table, _run(many).table)


def test_what_cannot_be_asked_says_so_and_nothing_is_lost(many):
    assert "enter a number" in many.do("add", group="gauge", stitches="x", rows="17")
    assert "Enter a width in cm." in many.do("add", group="width", size="")
    assert "Nothing can be added" in many.do("add", group="rings", size="9")
    assert "from 0 to 50" in many.do("tolerance", value="80")
    assert "press Work them out" in many.do("slice")
    many.do("tolerance", value="5")
    many.book.change(many.book.design.but(laying="brick", up=2), "brick")
    assert "choose straight first" in many.do("start")


def test_a_motif_whose_yarns_have_other_names_is_said_and_the_rest_goes_on(many):
    names = [yarn.name for role in ("MC", "CC") for _, yarn in TILES.yarns.of(role)]
    skeins = dict.fromkeys(names, mk.Skein(100, 50))
    many.book.change(many.book.design.but(skeins=skeins), "skeins")
    other = mk.Yarns([(1, mk.Yarn("chalk", "#eeeeee"))], [(1, mk.Yarn("coal", "#222222"))])
    mk.save(LEAF.with_yarns(other), _folder(many) / "other.json")
    many.do("look")
    many.tick("motifs", "other.json")
    many.work_out()
    assert many.view["run"]["notes"][0].startswith("other.json: ")
    assert set(_run(many).table["motif"]) == {THIS}


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_a_saved_table_reads_back_and_another_designs_file_is_asked_about(many, ending):
    folder = _folder(many)
    assert "press Work them out" in many.do("save", ending=ending)
    tick_some(many)
    many.work_out()
    file = folder / f"Tiles-scarf-many{ending}"
    file.write_bytes(b"mine")
    assert many.do("save", ending=ending) == ""
    asking = many.view["asking"]
    assert (asking["taken"], asking["free"]) == (file.name, f"Tiles-scarf-many-2{ending}")
    assert file.read_bytes() == b"mine"
    many.do("saveAs", how="free")
    assert many.view["asking"] is None
    assert many.book.said == f"Saved {asking['free']}."
    read = pd.read_csv if ending == ".csv" else pd.read_excel
    back = read(folder / asking["free"], index_col=0)
    assert list(back["stitches"]) == list(_run(many).table["stitches"])
    many.do("save", ending=ending)
    many.do("saveAs", how="replace")
    assert file.read_bytes() == (folder / asking["free"]).read_bytes() or ending == ".xlsx"
    assert len(read(file, index_col=0)) == len(back)
    many.do("save", ending=ending)
    assert many.view["asking"] is None, "a file of its own is not asked about"
    assert "No file is asked about" in many.do("saveAs", how="free")
    assert "as .csv or .xlsx" in many.do("save", ending=".exe")


@pytest.fixture
def long_table(many, monkeypatch):
    """A run whose table is made in many parts."""
    tick_some(many)
    many.work_out()
    for module in (saving, spreadsheet):
        monkeypatch.setattr(module, "LINES_OF_PART", -(-len(_run(many).table) // 5))
    return many


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_a_long_table_is_saved_in_parts_between_which_other_things_are_done(long_table, ending):
    many = long_table
    file, lines = _folder(many) / f"Tiles-scarf-many{ending}", len(_run(many).table)
    assert many.do("save", ending=ending) == ""
    told = []
    while many.view["work"]:
        told.append(many.view["work"])
        assert not file.exists()
        many.book.say("said meanwhile")
        assert many.send(kind="part", panel="many") == ""
        assert many.answers[-1]["left"] == bool(many.view["work"])
        if many.view["work"]:
            assert many.book.said == "said meanwhile"
            many.send(kind="open", panel="lay")
            many.send(kind="open", panel="many")
    assert [each["done"] for each in told] == sorted({each["done"] for each in told})
    assert {each["of"] for each in told} == {lines}
    assert told[0]["said"] == f"Saving {file.name}: {told[0]['done']:,} of {lines:,} lines"
    assert len(told) == 4
    assert many.book.said == f"Saved {file.name}."
    read = pd.read_csv if ending == ".csv" else pd.read_excel
    assert list(read(file, index_col=0)["stitches"]) == list(_run(many).table["stitches"])


@pytest.mark.parametrize("how", ["stop", "start"])
def test_a_save_that_is_stopped_leaves_no_file(long_table, how):
    many = long_table
    many.do("save", ending=".xlsx")
    many.send(kind="part", panel="many")
    before = {path.name for path in _folder(many).iterdir()}
    assert many.do(how) == ""
    assert many.view["work"] is None
    if how == "stop":
        assert many.book.said == "Stopped. Nothing was saved."
    assert many.send(kind="part", panel="many") == ""
    assert many.answers[-1]["left"] is False
    assert {path.name for path in _folder(many).iterdir()} == before
    assert not any("-many" in name for name in before)


def test_a_file_asked_about_at_the_end_is_not_made_again(long_table):
    many = long_table
    file = _folder(many) / "Tiles-scarf-many.xlsx"
    file.write_bytes(b"mine")
    many.do("save", ending=".xlsx")
    while many.view["work"]:
        many.send(kind="part", panel="many")
    made = many_desk_of(many.book).saving.made
    assert many.view["asking"]["taken"] == file.name
    assert many.do("saveAs", how="free") == ""
    assert (_folder(many) / "Tiles-scarf-many-2.xlsx").read_bytes() == made.data
    assert file.read_bytes() == b"mine"


def test_a_save_that_fails_ends_with_its_sentence(long_table):
    many = long_table
    many.do("save", ending=".csv")
    many_desk_of(many.book).saving.path = many.book.folder / "gone" / "x.csv"
    said = ""
    while many.view["work"]:
        said = many.send(kind="part", panel="many")
    assert said == "'x.csv' could not be written, and nothing was changed: there is no such folder."


def test_sizes_are_in_inches_where_the_hand_has_chosen_them(many):
    many.tick("width", "20")
    assert many.do("unit", value="in") == ""
    words = {group["key"]: group["word"] for group in many.view["groups"]}
    assert (words["width in inches"], words["length in inches"]) == ("Widths in inches", "Lengths in inches")
    assert "width" not in words
    assert not any(many.options("width in inches").values()), "what is ticked in cm is no size in inches"
    many.tick("width in inches", "12")
    assert many.do("add", group="length in inches", size="20,5") == ""
    assert "inches" in many.do("add", group="length in inches", size="")
    many.work_out()
    table = _run(many).table
    assert np.allclose(table["wanted width cm"], 12 * 2.54)
    assert np.allclose(table["wanted length cm"], 20.5 * 2.54)
    shown = {column["word"]: at for at, column in enumerate(many.view["run"]["columns"])}
    line = many.view["run"]["lines"][0]
    assert line["cells"][shown["Width (in)"]] == f"{table.loc[line['line'], 'width cm'] / 2.54:.1f}"
    # Lay has the same unit, and the other way round
    many.send(kind="open", panel="lay")
    assert many.view["typed"]["unit"] == "in"
    many.send(kind="do", panel="lay", name="type", values={"unit": "cm"})
    many.send(kind="open", panel="many")
    assert many.options("width")["20"]
    assert many.do("unit", value="ells").startswith('"Unit" must be one of')


def test_in_the_round_frames_and_edges_are_not_offered(tmp_path):
    many = Desk(mk.Design(TILES, GAUGE).but(in_the_round=True), tmp_path)
    assert {"rings", "edges"} & {group["key"] for group in many.view["groups"]} == set()
    many.tick("width", "60")
    many.work_out()
    assert set(_run(many).table["stitches"]) == {96}


def test_the_combinations_are_those_of_nested_loops(many):
    many.tick("rings", "0", "2")
    many.tick("edges", "1", "3")
    many.tick("reversible", "False", "True")
    many.work_out()
    table = _run(many).table
    expected = [
        (mk.Design(TILES, GAUGE).but(rings=rings, edges=edges, reversible=reversible).shape, reversible)
        for rings, edges, reversible in product((0, 2), (1, 3), (False, True))
    ]
    found = zip(table["rows"], table["stitches"], table["reversible"], strict=True)
    assert sorted(expected) == sorted(((rows, stitches), back) for rows, stitches, back in found)


# ---- what the checks look at -------------------------------------------------------------------------------


def _run(many):
    return many_desk_of(many.book).run


def _folder(many, inner=""):
    folder = many.book.folder / inner
    folder.mkdir(exist_ok=True)
    return folder
