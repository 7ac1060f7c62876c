"""The yarn panel of the workbook: what is pressed changes the design, and what is shown follows from the library."""

import re

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.widgets import Workbook

SAND, DEEP, FOAM = mk.Yarn("sand", "#e9dcc3"), mk.Yarn("deep", "#123f5a"), mk.Yarn("foam", "#3d8f92")
GAUGE = mk.Gauge(16, 18)
LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
STRIPES = mk.Motif.from_text("##\n..\n##\n..").with_yarns(mk.Yarns(SAND, [(1, DEEP), (3, FOAM)]))
SCARF = mk.Design(LEAF.with_yarns(mk.Yarns(SAND, [(1, DEEP), (3, FOAM)])), GAUGE).but(across=8, up=9, colours="swap")


class Pressed:
    """A workbook with one panel open, and a hand that presses in it as the page does."""

    def __init__(self, start, folder, panel):
        self.book = Workbook(start, autosave=folder / "try.sketch", folder=folder)
        self.panel, self.answers = panel, []
        self.book.send = self.answers.append
        self.send(kind="open", panel=panel)

    def send(self, **content):
        self.book._receive(None, {"view": "v", "seq": len(self.answers), **content}, [])
        return self.answers[-1]

    def __call__(self, pressed, **values):
        """Press; gives why it was not done, or ""."""
        return self.send(kind="do", panel=self.panel, name=pressed, values=values).get("error", "")

    @property
    def design(self):
        return self.book.design

    @property
    def view(self):
        return self.book.panel


@pytest.fixture
def hand(tmp_path):
    return Pressed(SCARF, tmp_path, "yarn")


def said_of(yarn):
    return {"name": yarn.name, "colour": yarn.colour}


# ---- yarns -------------------------------------------------------------------------------------------------


def test_a_yarn_gets_another_name_and_colour_wherever_it_is_used(tmp_path):
    yarns = mk.Yarns([(1, SAND), (3, DEEP)], [(1, DEEP), (3, FOAM), (5, DEEP)])
    hand = Pressed(LEAF.with_yarns(yarns), tmp_path, "yarn")
    assert hand("yarn", was=said_of(DEEP), name="night") == ""
    assert hand("yarn", was={"name": "night", "colour": DEEP.colour}, colour="#0A0A20") == ""
    night = mk.Yarn("night", "#0a0a20")
    assert hand.design.motif.yarns == mk.Yarns([(1, SAND), (3, night)], [(1, night), (3, FOAM), (5, night)])
    hand.send(kind="undo")
    hand.send(kind="undo")
    assert hand.design.motif.yarns == yarns


def test_a_change_is_added_moved_to_another_yarn_and_removed(hand):
    assert hand("add", role="MC", row=4, yarn=said_of(FOAM)) == ""
    assert hand.design.motif.yarns.mc == ((1, SAND), (4, FOAM))
    assert hand("use", role="MC", row=4, yarn=said_of(DEEP)) == ""
    assert hand.design.motif.yarns.mc == ((1, SAND), (4, DEEP))
    assert hand("use", role="MC", row=4, yarn=said_of(SAND)) == ""
    assert hand.design.motif.yarns.mc == ((1, SAND),)
    assert hand.book.said.startswith("MC is in the same yarn before and from row 4 on")
    assert hand("remove", role="CC", row=3) == ""
    assert hand.design.motif.yarns.cc == ((1, DEEP),)


def test_a_change_that_is_removed_between_two_of_one_yarn_takes_the_next_along_and_says_so(tmp_path):
    hand = Pressed(LEAF.with_yarns(mk.Yarns(SAND, [(1, DEEP), (3, FOAM), (5, DEEP)])), tmp_path, "yarn")
    assert hand("remove", role="CC", row=3) == ""
    assert hand.design.motif.yarns.cc == ((1, DEEP),)
    assert "before row 5" in hand.book.said


def test_a_new_yarn_stands_out_against_the_one_it_meets(hand):
    assert hand("add", role="MC", row=2, yarn="new") == ""
    assert hand("use", role="CC", row=1, yarn="new") == ""
    for _, mc, cc in hand.design.motif.yarns.meetings(2):
        assert mk.contrast(mc.colour, cc.colour) > 4.5
    names = [yarn["name"] for yarn in hand.view["colours"]["yarns"]]
    assert len(names) == len(set(names)) == 4


def test_any_number_of_new_yarns_have_names_of_their_own(tmp_path):
    hand = Pressed(mk.Motif.from_array(np.tile([[True], [False]], (12, 1))), tmp_path, "yarn")
    for row in range(2, 24):
        assert hand("add", role="CC", row=row, yarn="new") == ""
    assert len({yarn.name for _, yarn in hand.design.motif.yarns.cc}) == 23


@pytest.mark.parametrize(
    ("pressed", "values", "sentence"),
    [
        ("yarn", {"was": said_of(SAND), "name": "  "}, "A yarn needs a name."),
        ("yarn", {"was": said_of(SAND), "name": "two\nlines"}, "one line of printable characters"),
        ("yarn", {"was": said_of(SAND), "colour": "blue"}, "must be written '#rrggbb'"),
        ("yarn", {"was": said_of(SAND), **said_of(FOAM)}, "There is a yarn 'foam' of this colour already"),
        ("yarn", {"was": {"name": "wool"}, "name": "x"}, "not in the design any more"),
        ("add", {"role": "MC", "row": None, "yarn": "new"}, "Row: enter a whole number from 2 to 5."),
        ("add", {"role": "MC", "row": 6, "yarn": "new"}, "Row: enter a whole number from 2 to 5."),
        ("add", {"role": "MC", "row": 2, "yarn": said_of(SAND)}, "MC is in 'sand' before row 2 too"),
        ("add", {"role": "CC", "row": 2, "yarn": said_of(FOAM)}, "CC changes to 'foam' at row 3"),
        ("add", {"role": "CC", "row": 3, "yarn": "new"}, "changes at row 3 already"),
        ("remove", {"role": "CC", "row": 4}, "does not change at row 4"),
        ("use", {"role": "CC", "row": 4, "yarn": said_of(SAND)}, "does not change at row 4"),
        ("skein", {"name": "wool", "metres": 5}, "not in the design any more"),
        ("price", {"name": "sand", "price": -1}, "Price of a skein: enter a number from 0"),
        ("currency", {"currency": "a very long one"}, "at most 12 characters"),
        ("sold in", {"sold_in": "box"}, "must be one of"),
        ("remove swatch", {"number": 1}, "no swatch to remove"),
        ("dance", {}, "Yarn knows no 'dance'."),
    ],
)
def test_what_cannot_be_is_said_and_changes_nothing(hand, pressed, values, sentence):
    assert sentence in hand(pressed, **values)
    assert hand.design == SCARF


def test_pairs_are_shown_as_they_are_seen_the_weakest_first(tmp_path):
    black, white = mk.Yarn("black", "#000000"), mk.Yarn("white", "#ffffff")
    grey = mk.Yarn("grey", "#777777")  # 4.48 to 1 on white: the usual example of a grey that misses 4.5
    hand = Pressed(LEAF.with_yarns(mk.Yarns(white, [(1, black), (3, grey)])), tmp_path, "yarn")
    weak, strong = hand.view["colours"]["contrast"]["pairs"]
    assert [weak["word"], strong["word"]] == ["white with grey", "white with black"]
    assert {each["ratio"] for each in weak["seen"]} == {"4.4 to 1"}
    assert {each["ratio"] for each in strong["seen"]} == {"21.0 to 1"}
    assert weak["advice"] == strong["advice"] == ""
    assert hand("yarn", was=said_of(grey), colour="#aaaaaa") == ""
    assert "Too alike" in hand.view["colours"]["contrast"]["pairs"][0]["advice"]


def test_faces_show_the_yarn_of_each_row_in_every_repeat(tmp_path):
    hand = Pressed(mk.Design(STRIPES, GAUGE).but(up=3, edges=0), tmp_path, "yarn")
    (front,) = hand.book.ledger["faces"]
    shown = [front["colours"][each] for each in np.frombuffer(front["squares"], np.uint8).reshape(12, 2)[::-1, 0]]
    wanted = [SAND.colour, DEEP.colour, SAND.colour, FOAM.colour] * 3  # rows 1 to 4, three times
    assert shown == wanted


# ---- skeins ------------------------------------------------------------------------------------------------


def amounts(hand):
    return {total["name"]: total for total in hand.view["buying"]["totals"]}


def test_amounts_are_those_of_the_whole_chart_row_by_row(hand):
    totals = mk.yarn_usage(SCARF.chart, GAUGE).by_yarn
    assert [(each.yarn.name, f"{each.likely_m:.0f} m") for each in totals] == [
        (name, each["metres"]) for name, each in amounts(hand).items()
    ]


def test_a_skein_is_taken_once_both_numbers_are_there(hand):
    hand("sold in", sold_in="one")
    assert hand("skein", name="", metres=50) == ""
    assert hand.view["skeins"]["missing"].startswith("Still to enter: grams.")
    assert hand.design.yarn_settings.skeins is None
    assert hand("skein", name="", grams=20) == ""
    assert hand.design.yarn_settings.skeins == mk.Skein(50, 20)
    assert hand.view["skeins"]["missing"] == ""
    sand = mk.yarn_usage(SCARF.chart, GAUGE, yarn_settings=hand.design.yarn_settings).by_yarn[0]
    assert amounts(hand)["sand"]["advice"] == sand.advice
    assert "must be a number" in hand("skein", name="", metres=-3)
    assert hand.design.yarn_settings.skeins == mk.Skein(50, 20)


def test_skeins_of_each_yarn_follow_its_name_and_a_new_yarn_has_one(hand):
    hand("sold in", sold_in="one")
    hand("skein", name="", metres=50)
    hand("skein", name="", grams=20)
    hand("sold in", sold_in="each")
    assert dict(hand.design.yarn_settings.skeins) == dict.fromkeys(["sand", "deep", "foam"], mk.Skein(50, 20))
    hand("skein", name="deep", metres=80)
    assert hand("yarn", was=said_of(DEEP), name="night") == ""
    assert hand.design.yarn_settings.skeins["night"] == mk.Skein(80, 20)
    assert hand("add", role="CC", row=2, yarn="new") == ""
    assert hand.book.said.endswith("is sold as night is, until you enter its own skein.")
    assert hand.view["buying"]["note"] == ""
    assert set(hand.design.yarn_settings.skeins) == {yarn["name"] for yarn in hand.view["colours"]["yarns"]}


def test_the_cost_is_that_of_the_skeins_and_the_design_knows_no_price(hand):
    hand("sold in", sold_in="one")
    hand("skein", name="", metres=20)
    hand("skein", name="", grams=10)
    before = hand.design
    assert hand("price", name="", price=4.5) == ""
    assert hand("currency", currency="crowns") == ""
    assert hand.design is before
    skeins = sum(int(re.match(r"Buy (\d+)", each["advice"])[1]) for each in amounts(hand).values())
    assert skeins > 5
    assert hand.view["buying"]["cost"] == f"In all {4.5 * skeins:,.2f} crowns."
    hand("sold in", sold_in="each")
    hand("price", name="", price=None)
    hand("price", name="deep", price=10)
    assert hand.view["buying"]["cost"].endswith("without sand and foam, whose price is not entered.")
    hand("yarn", was=said_of(DEEP), name="night")
    assert amounts(hand)["night"]["cost"].endswith("crowns")


def test_carried_and_cut_stand_side_by_side_and_the_width_between_them_is_true(hand):
    said = hand.view["buying"]["compared"]["said"]
    width = float(re.search(r"up to ([\d.]+) cm", said)[1])
    assert width == pytest.approx(2 * 15 / 1.05, abs=0.05)  # two tails against a row's width and its ease
    takes = {}
    for across in (8, 16):  # 34 and 66 stitches: 21 and 41 cm
        design = mk.Design(LEAF, GAUGE).but(across=across, up=9, colours="swap")
        for way in ("carried", "cut"):
            settings = mk.YarnSettings(between_rows=way)
            takes[across, way] = mk.yarn_usage(design.chart, GAUGE, yarn_settings=settings).total_m.sum()
    assert takes[8, "carried"] < takes[8, "cut"]
    assert takes[16, "carried"] > takes[16, "cut"]
    hand.send(kind="set", name="between_rows", value="cut")
    assert hand.view["buying"]["compared"]["now"] == "cut"


def test_what_cannot_be_told_yet_is_said(tmp_path):
    hand = Pressed(LEAF, tmp_path, "yarn")
    assert hand.view["buying"]["note"] == "How much yarn the piece takes follows when its gauge is entered."
    assert hand("advise") == hand.view["buying"]["note"]
    assert hand.view["gauge"].startswith("No gauge is entered.")
    hand.send(kind="set", name="gauge_stitches", value=20)
    assert hand.view["gauge"] == "Gauge: 20 sts by 17 rows = 10 cm (4 in), blocked"
    hand.book.painter.change(mk.Motif.from_text("...\n.#.\n.#.\n..."), "two")
    hand.send(kind="open", panel="yarn")
    assert hand.view["buying"]["note"] == "How much yarn the piece takes follows when it can be worked."


def test_each_entry_changes_what_it_says(hand):
    for name, value in [
        ("gauge_over", 12), ("gauge_over_rows", 10), ("gauge_unit", "in"), ("gauge_blocked", False), ("hook_mm", 4.5),
        ("yarn_mm", 3), ("by_thread", True), ("tail_cm", 20), ("ease", 7), ("margin", 25),
    ]:  # fmt: skip
        assert "error" not in hand.send(kind="set", name=name, value=value), name
        shown = {each["name"]: each["value"] for group in hand.view["groups"] for each in group["entries"]}
        assert shown[name] == value
    design = hand.design
    assert design.gauge == mk.Gauge(16, 18, over=(12, 10), unit="in", blocked=False)
    assert (design.yarn_settings.ease, design.yarn_settings.margin) == (0.07, 0.25)
    hand.send(kind="set", name="gauge_over_rows", value=None)
    assert hand.design.gauge.over == 12


# ---- swatches ----------------------------------------------------------------------------------------------


def form(hand, **entered):
    return hand.view["swatches"]["form"] | entered


def test_a_loose_hand_is_learned_from_a_swatch_and_forgotten_with_it(hand):
    """Someone whose every stitch is a fifth longer than the estimate unravels two swatches."""
    true, before = 1.2, hand.design.usage.likely_m
    alone = SCARF.but(across=5, up=4, edges=0)
    plain = mk.Chart.from_text("\n".join(["." * 20] * 20))
    for chart, entered in (
        (plain, {"of": "plain"}),
        (alone.chart, {"of": "motif", "across": 5, "up": 4}),
    ):
        usage = mk.yarn_usage(chart, GAUGE)
        stitches = usage.stitches_m + usage.foundation_m + usage.chain_m
        took = true * stitches + usage.carried_m + usage.tails_m
        cc = np.array([colour == "CC" for colour in usage.row_colours])
        entered |= {"MC": round(float(took[~cc].sum()), 1), "CC": round(float(took[cc].sum()), 1)}
        assert hand("swatch", **form(hand, **entered)) == ""
    assert [each["chart"].split(",")[0] for each in hand.view["swatches"]["swatches"]] == [
        "20 rows × 20 stitches",
        "leaf: 20 rows × 20 stitches",
    ]
    assert hand.design.usage.likely_m / before == pytest.approx(true, abs=0.04)
    (sentence,) = re.findall(r"by what they taught it takes (\d+) m", hand.view["swatches"]["taught"]["said"])
    assert int(sentence) == round(hand.design.usage.likely_m)
    assert hand("remove swatch", number=2) == ""
    assert hand("remove swatch", number=1) == ""
    assert hand.design.usage.likely_m == before


def test_a_weighed_swatch_needs_the_label_of_its_skein(hand):
    entered = form(hand, of="plain", measured="grams", each=False, all=9.5)
    assert hand("swatch", **entered) == "Metres of a skein: enter a number above 0."
    assert hand("swatch", **entered | {"skein_metres": 100, "skein_grams": 50}) == ""
    (swatch,) = hand.design.swatches
    assert (swatch.grams, swatch.resolution, swatch.gauge) == ({"all": 9.5}, 0.1, GAUGE)
    assert swatch.yarn_settings.skeins == mk.Skein(100, 50)


@pytest.mark.parametrize(
    ("entered", "sentence"),
    [
        ({}, "Metres of MC: enter a number above 0."),
        ({"MC": 400.0, "CC": 8.0}, "Swatch 1 contradicts what any hand makes"),
        ({"MC": 8.0, "CC": 8.0, "rows": 0}, "Rows of the swatch: enter a whole number from 1 to 500."),
        ({"MC": 8.0, "CC": 8.0, "gauge_rows": None}, "Rows of the swatch's gauge: enter a number above 0."),
        ({"MC": 8.0, "CC": 8.0, "tail_cm": None}, "Tails: enter a number"),
        ({"MC": 8.0, "CC": 8.0, "of": "motif", "up": 100}, "Repeats up: enter a whole number from 1 to 99."),
    ],
)
def test_a_swatch_that_cannot_be_is_not_added(hand, entered, sentence):
    assert sentence in hand("swatch", **form(hand, **{"of": "plain", **entered}))
    assert hand.design == SCARF


def test_after_a_plain_swatch_a_reversible_one_helps_most_with_a_reversible_piece(tmp_path):
    hand = Pressed(SCARF.but(reversible=True), tmp_path, "yarn")
    assert hand("swatch", **form(hand, of="plain", MC=14.0, CC=13.4)) == ""
    assert hand("advise") == ""
    best, *others = hand.view["swatches"]["advised"]
    assert best["word"] == "The motif, 5 × 4 times, reversible fabric"
    assert len(others) == 2
    hand.send(kind="set", name="reversible", value=False)
    assert hand.view["swatches"]["advised"] == [], "advice about another design is not shown"


def test_lengths_of_ones_own_are_said_and_left_out(tmp_path):
    own = SCARF.but(lengths=mk.StitchLengths.from_gauge(GAUGE).scaled(1.1))
    hand = Pressed(own, tmp_path, "yarn")
    assert hand.view["swatches"]["own_lengths"]
    assert "Lengths of your own are told once" in hand("swatch", **form(hand, of="plain", MC=14.0, CC=13.4))
    assert hand("own lengths out") == ""
    assert hand.design == SCARF


def test_a_swatch_of_a_piece_in_the_round_may_be_worked_flat_or_in_the_round(tmp_path):
    """Plain, 20 by 20, by someone whose every stitch is a fifth longer: what is around the stitches is counted here."""
    cowl = mk.Design(LEAF, GAUGE).but(across=9, up=4, colours="swap", in_the_round=True)
    hand = Pressed(cowl, tmp_path, "yarn")
    assert hand.view["swatches"]["round"]
    lengths = mk.StitchLengths.from_gauge(GAUGE)
    width, height = GAUGE.over / GAUGE.stitches, GAUGE.over / GAUGE.rows
    rows = stitches = 20
    # a chain for each stitch and one more; two at the ends of each row, flat one at row 1 (its start chain is counted)
    chains = {False: stitches + 1 + 2 * rows - 1, True: stitches + 1 + 2 * rows}
    # to the row two up: along the row, or up two rounds, with 5 percent of ease; from all rows but the last two
    strand = {False: stitches * width, True: 2 * height}
    took = {
        worked: (
            1.2 * (stitches * lengths.sc + (rows - 1) * stitches * lengths.blsc + chains[worked] * lengths.chain)
            + (rows - 2) * strand[worked] * 1.05
            + 4 * 15
        )
        / 100
        for worked in (False, True)
    }
    assert took[False] - took[True] > 2
    factors = []
    for number, (worked, metres) in enumerate(took.items(), 1):
        entered = {"of": "plain", "in_the_round": worked, "each": False, "all": metres, "resolution": 0.01}
        assert hand("swatch", **form(hand, **entered)) == ""
        swatch = hand.design.swatches[-1]
        assert swatch.chart.in_the_round == worked
        assert ("in the round" in hand.view["swatches"]["swatches"][number - 1]["chart"]) == worked
        factors.append(mk.calibrate([swatch]).factors[2])
    assert factors[0] == pytest.approx(factors[1], abs=0.005)
    assert factors[0] == pytest.approx(1.2, abs=0.05), "of one swatch not all is believed"
    mistaken = mk.Swatch(hand.design.swatches[0].chart, GAUGE, metres={"all": took[True]}, resolution=0.01)
    assert mk.calibrate([mistaken]).factors[2] < factors[1] - 0.05, "taken for flat, it hides how loose the hand is"
    assert hand("advise") == ""
    assert all(each["word"].endswith("worked flat") for each in hand.view["swatches"]["advised"])


def test_a_flat_piece_has_flat_swatches(hand):
    assert not hand.view["swatches"]["round"]
    entered = form(hand, of="plain", in_the_round=True, MC=14.0, CC=13.4)
    assert hand("swatch", **entered) == ("This piece is worked flat, and so are its swatches: choose worked flat.")
    assert hand("swatch", **form(hand, of="plain", in_the_round="yes", MC=14.0, CC=13.4)).endswith("got 'yes'.")
