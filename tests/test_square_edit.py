"""The technical edit of a square from the centre: its own page has no error, and each fault is found alone."""

import random
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from test_centre_design import GAUGE, OWN, PHOTOGRAPHS, POND, designs

import mosaickit as mk
from mosaickit.cli import main
from mosaickit.errors import OptionError, UnworkableError
from mosaickit.publish import EDIT_KINDS

KINDS = {kind.name for kind in EDIT_KINDS}
# 13 squares at 16 stitches in 10 cm are 8.125 cm
WHOLE = POND.but(publishing=OWN, photographs=PHOTOGRAPHS, skeins=mk.Skein(105, 50), level="easy")
ROUNDS = WHOLE.rounds
ROUND_3 = next(line for line in ROUNDS.splitlines() if line.startswith("Rnd 3"))


def kinds_of(report):
    return [finding.kind for finding in report.findings]


# ---- nothing to mark ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_a_whole_page_has_nothing_to_mark_nor_its_rounds_as_a_text(terms):
    design = WHOLE.but(terms=terms)
    assert kinds_of(mk.tech_edit(design)) == []
    assert kinds_of(mk.tech_edit(design, design.rounds)) == []
    said = mk.tech_edit(design).unjudged
    assert any("never tried on wool" in each for each in said)


@settings(max_examples=30)
@given(designs())
def test_the_page_of_any_square_has_no_error(design):
    design = design.but(gauge=design.gauge or GAUGE)
    for text in (None, design.rounds):
        report = mk.tech_edit(design, text)
        assert report.ok, report
    # the same rounds with nothing but themselves to go by
    assert not [each for each in mk.tech_edit(design.rounds).errors if each.kind != "no gauge"]


def test_a_round_may_be_broken_otherwise():
    star = "*BLsc in next st, 3 BLsc in corner st; rep from * 3 more times"
    once = "BLsc in next st, 3 BLsc in corner st"
    assert star in ROUNDS
    by_hand = ROUNDS.replace(star, ", ".join([once] * 4)).replace("rep: repeat\n", "")
    assert kinds_of(mk.tech_edit(WHOLE, by_hand)) == []
    assert kinds_of(mk.tech_edit(WHOLE, ROUNDS.replace("Rnd 3 (", "Round 3 ("))) == ["labels not alike"]


# ---- each fault alone --------------------------------------------------------------------------------------

FAULTS = [
    (" (24 sts)", "", "row without a count", "This round does not say how many stitches"),
    ("(24 sts)", "(16 sts)", "wrong count", "has 24 stitches, but says 16"),
    ("3 BLsc in corner st; rep from * 3 more", "3 BLsc in corner st; rep from * 2 more",
     "wrong count", "Round 1 has 2 stitches left"),
    ("Rnd 4 (CC)", "Rnd 5 (CC)", "row out of order", "Expected round 4, found 5"),
    (ROUND_3 + "\n", "", "row out of order", "Expected round 3, found 4"),
    ("Rnd 4 (CC)", "Rnd 4 (MC)", "colour out of turn", "The colours alternate: expected CC"),
    ("8 sc in ring", "6 sc in ring", "words out of order", "Expected '8 sc in ring'"),
    ("FLdc in next st", "FLdc in nxt st", "words out of order", "found 'FLdc in nxt st"),
    ("FLdc in next st, BLsc in next st, 3 BLsc", "BLsc in next 2 sts, 3 BLsc", "not as charted",
     "Expected FLdc in stitch 1"),
    ("right-handed", "left-handed", "not as charted", "for the right hand"),
    ('"ink blue", #1d3f66', '"ink blue", #1d3f67', "not as charted", "#1d3f66"),
    ("rep: repeat\n", "", "abbreviation not explained", "'rep' is used here"),
    ("rep: repeat\n", "rep: repeat\nhdc: half double crochet\n", "abbreviation not used", "'hdc' is explained"),
    ("rep: repeat\n", "rep: repeat\nrep: repeats\n", "explained twice", "'rep' is explained in two ways"),
    ("3 BLsc in corner st: work all 3 in the same back loop, that of the corner stitch. ", "",
     "special stitch not explained", "into a corner stitch is not explained"),
    ("FLdc: double crochet, in front of the work, in the free front loop of the stitch two rounds below, straight "
     "inward; skip the stitch just behind it", "FLdc: front loop double crochet",
     "special stitch not explained", "How 'FLdc' is made"),
    ("sc: single crochet\n", "sc: a treble in the UK\n", "terms mixed", "'treble' is a word of UK terms"),
    ("Every round has 8 stitches more", "Use a tape measure. Every round has 8 stitches more", "tool not listed",
     "A tape measure is used"),
]  # fmt: skip


@pytest.mark.parametrize(("before", "after", "kind", "says"), FAULTS)
def test_a_fault_of_the_rounds_is_found_alone(before, after, kind, says):
    assert before in ROUNDS
    report = mk.tech_edit(WHOLE, ROUNDS.replace(before, after, 1))
    assert kinds_of(report) == [kind]
    assert says in report.findings[0].message
    assert report.ok is (next(each for each in EDIT_KINDS if each.name == kind).severity == "advice")
    if kind in ("wrong count", "row without a count", "colour out of turn"):
        assert re.fullmatch(r"line \d+ \(round \d\)", report.findings[0].where)


def bare(**changes):
    return WHOLE.but(publishing=replace(OWN, **changes))


PALE = mk.Yarns(mk.Yarn("cream", "#f4ead5"), mk.Yarn("ink blue", "#d8cdb8"))
OF_PAGE = [
    ("no licence", lambda: bare(licence_line="")),
    ("no contact", lambda: bare(contact="")),
    ("no copyright", lambda: bare(copyright_line="")),
    ("no edition", lambda: bare(edition_line="")),
    ("no date", lambda: bare(published=None)),
    ("no address of corrections", lambda: bare(errata="")),
    ("no finishing", lambda: bare(finishing="")),
    ("no blocking", lambda: bare(blocking="")),
    ("tool not listed", lambda: bare(notions=["1 yarn needle", "8 pins"])),
    ("notion without a number", lambda: bare(notions=["stitch markers", "1 yarn needle", "8 pins"])),
    ("gauge without its stitch", lambda: bare(gauge_stitch="")),
    ("size not measured", lambda: bare(blocked_cm=None)),
    ("size does not follow from gauge", lambda: bare(blocked_cm=(9.4, 9.4))),
    ("yarn not described", lambda: bare(labels=[replace(OWN.labels[0], fibre=""), OWN.labels[1]])),
    ("no designer", lambda: WHOLE.but(designer="")),
    ("no description", lambda: WHOLE.but(intro="")),
    ("no level", lambda: WHOLE.but(level=None)),
    ("no hook", lambda: WHOLE.but(hook_mm=None)),
    ("no photograph", lambda: WHOLE.but(photographs=())),
    ("low contrast", lambda: WHOLE.but(square=mk.centre.CentreOut(WHOLE.square.motif.with_yarns(PALE)))),
    ("terms mixed", lambda: WHOLE.but(notes=["Join with a treble in the corner."])),
    ("abbreviation not explained", lambda: WHOLE.but(notes=["Edge it with hdc."])),
]


@pytest.mark.parametrize(("kind", "made"), OF_PAGE)
def test_a_fault_of_the_page_is_found_alone(kind, made):
    assert kinds_of(mk.tech_edit(made())) == [kind]


def test_no_kind_is_named_here_that_is_none():
    assert {kind for _, _, kind, _ in FAULTS} | {kind for kind, _ in OF_PAGE} <= KINDS


def test_amounts_and_sizes_of_a_text_are_held_against_the_rounds():
    highs = {total.yarn.name: total.high_m for total in WHOLE.usage.by_yarn}

    def edited(mc, cc, size="8.1 × 8.2 cm (3.2 × 3.2 in), measured after blocking"):
        yarns = f"MC: takes up to {mc:.1f} m\nink blue: takes up to {cc:.1f} m"
        return mk.tech_edit(WHOLE, f"Pond\n\nSize: {size}\nMaterials:\n{yarns}\n\n{ROUNDS}")

    enough = (highs["cream"] + 0.1, highs["ink blue"] + 5)
    assert kinds_of(edited(*enough)) == []
    short = edited(highs["cream"] - 1, enough[1])
    assert kinds_of(short) == ["amounts disagree"]
    assert f"rounds take up to {highs['cream']:.1f} m" in short.findings[0].message
    assert kinds_of(edited(enough[0], highs["ink blue"] / 2)) == ["amounts disagree"]
    wrong = edited(*enough, size="12 × 12 cm (4.7 × 4.7 in), measured after blocking")
    assert kinds_of(wrong) == ["size does not follow from gauge"]
    assert "6 rounds from the centre, 13 stitches from side to side" in wrong.findings[0].message
    assert kinds_of(edited(*enough, size="8.1 × 8.2 cm (4.2 × 3.2 in), measured after blocking")) == ["units disagree"]


def test_a_square_measures_its_edge_or_its_middle_where_it_does_not_lie_flat():
    tall = WHOLE.but(gauge=mk.Gauge(16, 20))  # edges of 8.125 cm, and 6.5 cm through the centre
    off = ["size does not follow from gauge"]
    for cm, kinds in (((8.1, 8.1), []), ((6.5, 6.5), []), ((6.5, 8.1), []), ((7.3, 7.3), off)):
        assert kinds_of(mk.tech_edit(tall.but(publishing=replace(OWN, blocked_cm=cm)))) == kinds


def test_whatever_one_round_says_the_reader_goes_on_to_the_next():
    rounds = [line for line in ROUNDS.splitlines() if re.match(r"Rnd \d", line)]
    torn = ROUNDS.replace("(16 sts)", "(17 sts)").replace("(32 sts)", "(31 sts)").replace("(48 sts)", "(8 sts)")
    assert len(rounds) == 6
    report = mk.tech_edit(WHOLE, torn)
    assert [each.row for each in report.of("wrong count")] == [2, 4, 6]


def test_counts_by_chance_are_wrong_just_where_they_are_not_8_times_their_round():
    rng = random.Random(5)
    for _ in range(25):
        said = {number: rng.choice([8 * number, 8 * number, 8 * number - 8, 8 * number + 4]) for number in range(1, 7)}
        text = ROUNDS
        for number, count in said.items():
            text = re.sub(rf"(Rnd {number}.*)\(\d+ sts\)", rf"\g<1>({count} sts)", text)
        found = [each.row for each in mk.tech_edit(WHOLE, text).of("wrong count")]
        assert found == [number for number, count in said.items() if count != 8 * number]


def test_what_no_hook_can_make_is_said_of_a_text_alone():
    second = "Rnd 2 (CC): *FLdc in next st, 3 BLsc in corner st; rep from * 3 more times. (16 sts)"
    text = f"Rnd 1 (MC): 8 sc in ring. (8 sts)\n{second}"
    (found,) = mk.tech_edit(text).of("cannot be worked")
    assert "no front loop" in found.message
    assert found.where == "line 2 (round 2)"


def test_what_is_no_square_to_read_is_refused():
    with pytest.raises(OptionError, match="no gauge"):
        mk.tech_edit(WHOLE.but(gauge=None))
    with pytest.raises(UnworkableError, match="cannot be worked from the centre"):
        mk.tech_edit(mk.CentreDesign(mk.centre.CentreOut(mk.Motif(np.eye(7, dtype=bool))), GAUGE))
    with pytest.raises(OptionError, match="`terms` goes with a text"):
        mk.tech_edit(WHOLE, terms="UK")
    with pytest.raises(OptionError, match="`text` must be the rows"):
        mk.tech_edit(WHOLE, 3)


# ---- the command line --------------------------------------------------------------------------------------


def test_the_command_line_edits_checks_and_mends_a_square(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    mk.save(WHOLE, "pond.square")
    assert main(["edit", "pond.square"]) == 0
    assert "Pond cushion: an editor would mark nothing." in capsys.readouterr().out
    (tmp_path / "rounds.txt").write_text(ROUNDS.replace("(24 sts)", "(16 sts)"), "utf-8")
    assert main(["edit", "pond.square", "--rows", "rounds.txt", "--errors"]) == 1
    assert "error, line" in capsys.readouterr().out
    (tmp_path / "words.toml").write_text('licence_line = ""\n[[yarns]]\nyarn = "cream"\nline = "Pier DK"\n', "utf-8")
    assert main(["edit", "pond.square", "--words", "words.toml"]) == 0
    out = capsys.readouterr().out
    assert "Nothing says what a maker may do with it." in out
    assert "Missing for cream: weight, fibre." in out
    assert main(["pattern", "pond.square", "pond.html", "--words", "words.toml", "--title", "Well"]) == 0
    assert "You may sell" not in (tmp_path / "pond.html").read_text("utf-8")
    assert main(["check", "pond.square"]) == 0
    mk.save(mk.CentreDesign(mk.centre.CentreOut(mk.Motif(np.eye(7, dtype=bool))), GAUGE), "slant.square")
    capsys.readouterr()
    for command in (["edit", "slant.square"], ["pattern", "slant.square", "slant.pdf"]):
        assert main(command) == 1
        assert "`mosaickit check slant.square --mend OUT.square` writes the nearest" in capsys.readouterr().err
    assert main(["check", "slant.square"]) == 1
    assert "error: The centre square" in capsys.readouterr().out
    assert main(["check", "slant.square", "--mend", "mended.square"]) == 0
    mended = mk.load("mended.square")
    assert mended.report.ok
    assert mended.square == mk.centre.nearest(mk.load("slant.square").square).square
    assert main(["edit", "mended.square", "--errors"]) == 0
    capsys.readouterr()
    assert main(["edit", "pond.square", "--terms", "UK"]) == 2
    assert "a .square says its own" in capsys.readouterr().err
