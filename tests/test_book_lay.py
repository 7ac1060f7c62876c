"""The panel Lay: what it asks for and lists is what trying every count of repeats gives, and nothing typed is lost."""

from dataclasses import replace
from math import ceil

import numpy as np
import pytest
from samples import letter_f, two_stacked

import mosaickit as mk
from mosaickit.widgets.book.entries import ENTRIES
from mosaickit.widgets.book.lay_fits import LEAST_BY_HOOK, MOST_BY_HOOK, MOST_IN_PICTURES
from mosaickit.widgets.book.lay_ways import ways_out
from mosaickit.widgets.book.workbook import Workbook

GAUGE = mk.Gauge(16, 17)
TILES = mk.Motif(np.arange(96).reshape(12, 8) % 7 == 3)  # a motif of 8 × 12
TILES = mk.nearest_workable(TILES).motif
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")


class Desk:
    """A workbook with the panel open, and messages as the page sends them."""

    def __init__(self, start, folder, name="x"):
        self.book = Workbook(start, autosave=folder / f"{name}.sketch", folder=folder)
        self.answers = []
        self.book.send = lambda answer, *_: self.answers.append(answer)
        self.send(kind="open", panel="lay")

    def send(self, **content):
        self.book._receive(None, {"view": "v", "seq": len(self.answers), **content}, [])
        return self.answers[-1].get("error", "")

    def do(self, name, **values):
        return self.send(kind="do", panel="lay", name=name, values=values)

    def type(self, **values):
        assert self.do("type", **values) == ""
        return self.found

    @property
    def view(self):
        return self.book.panel

    @property
    def found(self):
        return self.book.panel["found"]

    @property
    def design(self):
        return self.book.design

    @property
    def names(self):
        return {group["word"]: [entry["name"] for entry in group["entries"]] for group in self.view["groups"]}


@pytest.fixture
def desk(tmp_path):
    return lambda start, name="x": Desk(start, tmp_path, name)


# ---- entries -----------------------------------------------------------------------------------------------


def test_only_what_means_something_is_asked_for(desk):
    lay = desk(mk.Design(LEAF, GAUGE))
    assert lay.names["Repeats"] == ["across", "up", "laying"]
    lay.send(kind="set", name="up", value=2)
    assert lay.names["Repeats"][-1] == "colours", "an odd repeat lands on the other colours"
    lay.send(kind="set", name="laying", value="mirrored")
    assert "seam" in lay.names["Repeats"]
    (laying,) = (entry for entry in lay.view["groups"][0]["entries"] if entry["name"] == "laying")
    assert laying["hint"].startswith("Every second repeat is a mirror image")
    lay.send(kind="set", name="in_the_round", value=True)
    assert lay.names["What closes them"] == ["balance_up"]
    assert lay.names["Edges"] == ["rows_below", "rows_above"]
    even = desk(mk.Design(TILES, GAUGE).but(up=4), "even")
    assert "colours" not in even.names["Repeats"]


def test_what_is_hidden_makes_no_difference(desk):
    for design in (mk.Design(LEAF), mk.Design(TILES).but(up=4), mk.Design(LEAF).but(laying="brick")):
        asked = desk(design, str(design.up) + design.laying).names["Repeats"]
        for name in {"seam", "colours"} - set(asked):
            for value, _ in ENTRIES[name].options:
                assert design.but(**{name: value}).picture == design.picture


def test_a_refusal_speaks_of_labels_and_changes_nothing(desk):
    lay = desk(mk.Design(LEAF, GAUGE).but(rings=1))
    before = lay.design
    assert '"Rings of the frame" must be 0' in lay.send(kind="set", name="in_the_round", value=True)
    assert '"Stitches that close each row" must be below the 4' in lay.send(kind="set", name="balance_across", value=9)
    assert "`" not in lay.send(kind="set", name="across", value=0)
    assert lay.design is before


def test_the_multiple_and_the_piece_are_those_of_the_design(desk):
    design = mk.Design(LEAF, GAUGE).but(across=3, up=2, colours="swap", hand="left")
    piece = desk(design).view["piece"]["picture"]
    colours = np.array(piece["colours"])[np.frombuffer(piece["squares"], np.uint8)].reshape(design.shape)
    mc, cc = (yarns[0][1].colour for yarns in (design.motif.yarns.mc, design.motif.yarns.cc))
    assert np.array_equal(colours, np.where(design.picture.grid, cc, mc))
    assert piece["aspect"] == pytest.approx(17 / 16)
    assert desk(design, "y").view["multiple"].startswith("Stitches: a multiple of 4 plus 2.")


@pytest.mark.parametrize("design", [
    mk.Design(two_stacked, GAUGE), mk.Design(LEAF, GAUGE).but(up=3), mk.Design(LEAF, GAUGE).but(up=2, laying="brick"),
    mk.Design(TILES, GAUGE).but(rings=1), mk.Design(LEAF.with_grid(~LEAF.grid)),
])  # fmt: skip
def test_what_cannot_be_worked_is_marked_and_each_way_out_works(desk, design):
    lay = desk(design)
    assert lay.view["piece"]["wrong"]
    marks = lay.view["piece"]["marks"]
    bad = design.report.squares("error")
    runs = (np.diff(np.pad(bad, ((0, 0), (1, 0))).astype(int), axis=1) == 1).sum()
    assert marks.count("M") == runs
    ways = [way["key"] for way in lay.view["ways"]]
    assert ways
    for key in ways:
        assert lay.do("way", key=key) == ""
        assert mk.check(lay.design.picture, in_the_round=False).ok
        assert (lay.design.motif == design.motif) == (key != "mend")
        lay.send(kind="undo")
        assert lay.design == design
    assert "Choose again" in lay.do("way", key="dance")


def test_a_workable_design_needs_no_way_out():
    assert ways_out(mk.Design(LEAF)) == []


# ---- a wanted size -----------------------------------------------------------------------------------------


def tried(design, width, length, tolerance):
    """The counts that fit, the closest first, by laying, building and checking every one of them."""
    found = []
    for across in range(1, 12):
        for up in range(1, 60):
            rows, stitches = (up * design.motif.shape[0], across * design.motif.shape[1] + 2)
            off = (abs(stitches / 1.6 / width - 1), abs(rows / 1.7 / length - 1))
            if max(off) <= tolerance and mk.check(design.but(across=across, up=up).picture).ok:
                found.append((*off, f"{across} × {up}"))
    return [key for *_, key in sorted(found)]


def test_a_scarf_of_22_by_160_is_what_trying_all_counts_gives(desk):
    lay = desk(TILES)
    assert lay.type(width="22", length="160")["fits"] == []
    assert "16 stitches and 17 rows in 10 cm" in lay.view["gauge"]["note"]
    lay.send(kind="set", name="gauge_rows", value=17)
    assert lay.view["gauge"]["note"] == ""
    found = lay.type(tolerance="11,5")
    assert [fit["key"] for fit in found["fits"]] == tried(lay.design, 22, 160, 0.115)[:12]
    assert found["said"] == f"{len(tried(lay.design, 22, 160, 0.115))} sizes fit, closest first."
    before, chosen = lay.design, found["fits"][1]
    assert lay.do("take", key=chosen["key"]) == ""
    assert f"{lay.design.across} × {lay.design.up}" == chosen["key"]
    assert (str(lay.design.size), lay.book.said) == (chosen["size"], f"{chosen['counts']}: {chosen['size']}.")
    assert [fit["key"] for fit in lay.found["fits"] if fit["taken"]] == [chosen["key"]]
    lay.send(kind="undo")
    assert lay.design == before
    assert "Choose again" in lay.do("take", key="900 × 1")


def test_more_are_shown_at_a_press(desk):
    lay = desk(mk.Design(mk.Motif.from_text("."), GAUGE))
    found = lay.type(width="22", length="160")
    assert (len(found["fits"]), found["more"] > 0) == (12, True)
    lay.do("more")
    assert len(lay.found["fits"]) == min(24, 12 + found["more"])
    assert "cannot be worked as laid" in " ".join(lay.found["notes"])
    (way,) = lay.found["ways"]
    assert way["word"] == "Every second repeat up: swaps its colours"
    lay.send(kind="set", name="colours", value="swap")
    assert lay.found["notes"] == []


def test_what_is_typed_stays_beside_the_design(desk, tmp_path):
    lay, other = desk(TILES), desk(TILES, "other")
    before = lay.design
    lay.type(width="twenty", length="160", unit="in", worked="along")
    assert lay.found["faults"] == {"width": "Width: enter a number, as 22 or 22.5; got 'twenty'."}
    lay.send(kind="open", panel="words")
    lay.send(kind="open", panel="lay")
    assert (lay.view["typed"]["width"], lay.view["typed"]["unit"]) == ("twenty", "in")
    assert lay.design is before
    other.send(kind="open", panel="lay")
    assert other.view["typed"]["width"] == ""
    for width in ("-3", "0", "nan", "inf", "1e9"):
        assert "from 0.1 to 100,000" in lay.type(width=width)["faults"]["width"]
    assert lay.type(width="")["faults"] == {"width": "Enter the width too."}
    assert "from 0 to 50" in lay.type(width="9", tolerance="90")["faults"]["tolerance"]


def test_a_unit_and_the_way_that_rows_run_are_followed(desk):
    lay = desk(mk.Design(TILES, GAUGE))
    inches = lay.type(width=f"{22 / 2.54}", length=f"{160 / 2.54}", unit="in", tolerance="8")["fits"]
    assert [fit["key"] for fit in inches] == tried(lay.design, 22, 160, 0.08)
    along = lay.type(width="160", length="22", unit="cm", worked="along")
    assert sorted(fit["key"] for fit in along["fits"]) == sorted(tried(lay.design, 22, 160, 0.08))
    assert "Rows run along the length" in along["notes"][0]


def test_the_usual_size_of_an_article_is_taken_into_the_boxes_in_the_unit_at_hand(desk):
    lay = desk(mk.Design(TILES, GAUGE))
    assert set(lay.view["articles"]) >= {"scarf", "crib blanket", "table runner", "dishcloth"}
    # published sizes: a crib blanket of 45 × 60 in, a table runner of 14 × 72 in (the pages stand beside them)
    for name, inches, cm in (
        ("crib blanket", ("45", "60"), ("114", "152")),
        ("table runner", ("14", "72"), ("36", "183")),
    ):
        for unit, size in (("in", inches), ("cm", cm)):
            lay.type(unit=unit)
            assert lay.do("article", article=name) == ""
            assert (lay.view["typed"]["width"], lay.view["typed"]["length"]) == size
            assert lay.book.said.startswith(f"The usual size of: {name}. There is no standard")
            assert lay.found["said"]
    assert "must be one of" in lay.do("article", article="tent")
    assert lay.view["typed"]["width"] == "36"
    assert all(article.source and min(article.size("in")) > 0 for article in mk.sizes.ARTICLES.values())


def test_where_nothing_fits_the_nearest_are_shown_with_the_gauge_that_makes_it(desk):
    lay = desk(mk.Design(TILES, GAUGE))
    found = lay.type(width="24", length="", tolerance="1")
    assert [fit["key"] for fit in found["nearest"]] == ["5 × 1", "4 × 1"]
    assert "Exact at 17.5 sts by 17 rows" in found["nearest"][0]["gauge"]
    assert "smaller hook" in found["nearest"][0]["gauge"]
    assert "larger hook" in found["nearest"][1]["gauge"]
    assert found["allow"] == f"{ceil(1000 * (42 / 1.6 / 24 - 1)) / 10:g}"
    assert lay.type(tolerance=found["allow"])["fits"][0]["key"] == "5 × 1"
    assert lay.do("take", key="5 × 1") == ""
    exact = lay.design.but(gauge=mk.Gauge(17.5, 17))
    assert exact.size.width_cm == pytest.approx(24)


def test_a_width_smaller_than_a_repeat_says_so(desk):
    found = desk(mk.Design(TILES, GAUGE)).type(width="2")
    assert found["said"] == "Nothing fits within 5%: one repeat is wider than that. This comes nearest:"
    assert (found["allow"], [fit["key"] for fit in found["nearest"]]) == ("", ["1 × 1"])
    assert "further than another hook" in found["nearest"][0]["gauge"]


def test_a_hook_is_named_only_where_it_would_do_it(desk):
    lay = desk(mk.Design(TILES, GAUGE))
    fits = lay.type(width="24", length="30", tolerance="1")["nearest"]
    for fit in fits:
        across, up = map(int, fit["key"].split(" × "))
        changes = [(8 * across + 2) / 1.6 / 24 - 1, 12 * up / 1.7 / 30 - 1]
        alike = all(one > LEAST_BY_HOOK for one in changes) or all(one < -LEAST_BY_HOOK for one in changes)
        assert ("Try a " in fit["gauge"]) == (alike and max(map(abs, changes)) <= MOST_BY_HOOK)


def test_one_bad_square_still_shows_sizes_and_taking_one_mends_it_in_one_step(desk):
    grid = TILES.grid.copy()
    grid[:, 4] = ~mk.Motif(np.zeros_like(grid)).row_is_cc[:, 0]  # a column of nothing but overlaid squares
    bad = mk.Design(TILES.with_grid(grid), GAUGE)
    lay = desk(bad)
    found = lay.type(width="22", length="160")
    assert found["notes"][0].startswith("As it is now, this cannot be worked in any size.")
    assert "Mend the motif" in found["notes"][0]
    assert lay.do("take", key=found["fits"][0]["key"]) == ""
    assert mk.check(lay.design.picture).ok
    lay.send(kind="undo")
    assert lay.design == bad


def test_what_only_other_colours_can_work_offers_them(desk):
    lay = desk(mk.Design(LEAF, GAUGE))
    found = lay.type(width="22", length="160")
    assert found["allow"] == ""
    (way,) = found["ways"]
    lay.send(kind="set", name="colours", value="swap")
    assert way["word"] == "Every second repeat up: swaps its colours"
    assert lay.found["fits"]


# ---- skeins ------------------------------------------------------------------------------------------------


def test_skeins_are_asked_for_first_and_then_strike_out_what_takes_too_many(desk):
    lay = desk(mk.Design(TILES, GAUGE))
    lay.type(width="22", length="160", tolerance="12")
    names = [yarn["name"] for yarn in lay.view["limits"]]
    assert (len(names), lay.view["skeins"]) == (2, False)
    assert f"a skein of {names[0]}" in lay.do("skeins")
    lay.type(**{f"{part}:{name}": amount for name in names for part, amount in (("metres", "60"), ("grams", "50"))})
    assert lay.do("skeins") == ""
    assert lay.design.yarn_settings.skeins == mk.Skein(60, 50)
    assert not any(name.startswith(("metres", "grams")) for name in lay.view["typed"])
    plan = mk.plan_widths(lay.design, width=22, length=160, tolerance=0.12)
    takes = {f"{fit.across} × {fit.up}": fit.design.usage.by_yarn[0].skeins for fit in plan.fits}
    most = sorted(takes.values())[len(takes) // 2]
    found = lay.type(**{f"limit:{plan.design.usage.by_yarn[0].yarn.name}": str(most)})
    assert {fit["key"] for fit in found["fits"]} == {key for key, skeins in takes.items() if skeins <= most}
    assert {fit["key"] for fit in found["struck"]} == {key for key, skeins in takes.items() if skeins > most}
    assert 0 < len(found["struck"]) < len(takes)
    assert found["struckSaid"].startswith(f"{len(found['struck'])} more size")
    assert "Choose again" in lay.do("take", key=found["struck"][0]["key"])
    assert "whole number" in str(lay.type(**{f"limit:{names[0]}": "2.5"})["faults"])
    lay.type(**{f"limit:{names[0]}": "1"})
    assert (lay.found["said"], lay.found["fits"]) == ("No size fits with these skeins.", [])


def test_three_yarns_of_different_skeins_are_each_limited(desk):
    yarns = mk.Yarns(TILES.yarns.mc, [(1, mk.Yarn("ink", "#223366")), (7, mk.Yarn("moss", "#557733"))])
    lay = desk(mk.Design(TILES.with_yarns(yarns), GAUGE))
    lay.type(width="22", length="160", tolerance="12")
    assert [yarn["name"] for yarn in lay.view["limits"]][1:] == ["ink", "moss"]
    assert len(lay.found["fits"][0]["yarns"]) == 3
    for number, yarn in enumerate(lay.view["limits"], 1):
        lay.type(**{f"metres:{yarn['name']}": f"{40 * number}", f"grams:{yarn['name']}": "50"})
    lay.do("skeins")
    assert lay.design.yarn_settings.skeins["moss"] == mk.Skein(120, 50)
    lay.type(**{"limit:moss": "1"})
    assert all("of moss, 1 at most" in fit["why"] for fit in lay.found["struck"])
    assert lay.found["struck"]


# ---- the extremes ------------------------------------------------------------------------------------------


def test_one_square_and_very_many_are_laid_and_planned(desk):
    lay = desk(mk.Motif.from_text("."))
    assert (lay.view["piece"]["picture"]["rows"], lay.view["piece"]["picture"]["stitches"]) == (1, 3)
    large = mk.nearest_workable(mk.Motif(np.add.outer(np.arange(401) // 9, np.arange(600) // 12) % 2 == 0)).motif
    lay = desk(mk.Design(large, GAUGE), "large")
    assert len(lay.view["piece"]["picture"]["squares"]) == 401 * 602
    found = lay.type(width="376", length="230", tolerance="30")
    assert [fit["key"] for fit in found["fits"]] == ["1 × 1"]
    found = lay.type(width="600", length="400", tolerance="50")
    drawn = [len(fit["picture"]["squares"]) for fit in found["fits"] if fit["picture"]]
    assert sum(drawn) <= MOST_IN_PICTURES
    assert len(drawn) < len(found["fits"])


def test_in_the_round_there_is_no_edge(desk):
    lay = desk(mk.Design(TILES, GAUGE).but(in_the_round=True, hand="left"))
    found = lay.type(width="60", length="30", tolerance="10")
    assert found["fits"][0]["key"] == "12 × 4"
    assert found["fits"][0]["stitches"].startswith("96 stitches")


def test_the_library_says_what_is_nearest_and_its_exact_gauge():
    with pytest.raises(mk.errors.WidthError) as caught:
        mk.plan_widths(mk.Design(letter_f, GAUGE), width=30, length=30, tolerance=0.001, worked="along")
    assert caught.value.nearest
    for fit in caught.value.nearest:
        exact = fit.design.but(gauge=fit.exact_gauge).size
        assert (exact.length_cm, exact.width_cm) == pytest.approx((30, 30))
        assert replace(fit.exact_gauge, stitches=16, rows=17) == GAUGE


def test_each_named_size_says_what_it_measures_and_takes(desk):
    sizes = [mk.NamedSize("S", across=2, up=2), mk.NamedSize("M", width="12 in", up=4)]
    sized = mk.Design(LEAF, GAUGE, sizes=sizes).but(colours="swap")
    told = desk(sized).view["sizes"]
    for line, (name, one) in zip(told, sized.in_sizes.items(), strict=True):
        rows, stitches = one.shape
        assert line["name"] == name
        assert line["laid"] == f"{one.across} × {one.up} repeats, {rows} rows × {stitches} stitches"
        # 16 stitches and 17 rows are 10 cm
        assert line["measure"].startswith(f"{stitches / 1.6:.1f} × {rows / 1.7:.1f} cm")
        metres = mk.yarn_usage(one.chart, GAUGE, yarn_settings=one.yarn_settings).by_yarn
        for said, total in zip(line["yarn"].split(", "), metres, strict=True):
            amount = float(said.removeprefix(f"{total.yarn.name} ").removesuffix(" m"))
            assert amount == round(total.likely_m)  # as the ledger has it
    assert told[1]["measure"].endswith(", wanted 12 in")
    (without,) = desk(sized.but(sizes=sizes[:1], gauge=None), "y").view["sizes"]
    assert (without["measure"], without["yarn"]) == ("", "")
    assert desk(mk.Design(LEAF, GAUGE), "z").view["sizes"] == []
