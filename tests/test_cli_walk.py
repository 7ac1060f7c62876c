"""The whole job by the command alone, and what each command of it writes held against the library's own verbs."""

import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import fields
from pathlib import Path
from typing import Literal, get_args, get_origin, get_type_hints

import matplotlib.pyplot as plt
import numpy as np
import pytest
from at_command import BOAT, MASTED, PARSER, called
from PIL import Image, ImageDraw

import mosaickit as mk
from mosaickit import cli
from mosaickit.cli import completion, running
from mosaickit.cli.decisions import DECISIONS, field_of

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """A folder whose name has blanks and letters that are not ASCII."""
    place = tmp_path / "Häkel-Muster für Øre"
    place.mkdir()
    monkeypatch.chdir(place)
    monkeypatch.setenv("MPLBACKEND", "Agg")
    monkeypatch.setattr(running, "parser", PARSER)
    plt.switch_backend("Agg")
    yield place
    plt.close("all")


@pytest.fixture
def well(capsys):
    """Run a line that has to end as it is said to, with nothing on the error stream; gives what it printed."""

    def run(line, ended=0):
        done, out, err = called(line, capsys)
        assert (done, err) == (ended, ""), line
        return out

    return run


def test_from_a_picture_to_a_published_pattern_and_back(well, capsys):
    mk.save(MASTED, "Boot.png")  # a pixel for each square, and a mast that no hook can make
    assert "cannot be worked yet: `mosaickit check boot.design --mend boot.design`" in well(
        'new Boot.png boot.design --gauge "16 x 18" --mc "sand #e9dcc3" --cc "deep blue #123f5a" --hand left'
    )
    assert "Rows 7 and 8, stitch 6" in well("check boot.design", ended=1)
    well("check boot.design --mend boot.design")
    ended, _, err = called("repeat boot.design scarf.design --across 2 --up 3", capsys)
    assert (ended, "Add `--colours swap`." in err) == (1, True)
    well("repeat boot.design scarf.design --across 2 --up 3 --colours swap")
    well("frame scarf.design scarf.design --rings 2")
    design = mk.load("scarf.design")
    yarns = mk.Yarns(mk.Yarn("sand", "#e9dcc3"), mk.Yarn("deep blue", "#123f5a"))
    motif = mk.Design(MASTED, GAUGE).mended().motif.with_yarns(yarns)
    by_hand = mk.Design(motif, GAUGE, hand="left").but(across=2, up=3, colours="swap", rings=2)
    assert design == by_hand

    out = well('sizes scarf.design sized.design "S: 2 across, 3 up" "M: 3 across, 5 up"')
    sized = mk.load("sized.design")
    assert sized == design.but(sizes=[mk.NamedSize("S", across=2, up=3), mk.NamedSize("M", across=3, up=5)])
    assert out.splitlines()[1:] == [f"  {line}" for line in sized.sizes_in_words]
    assert well("sizes sized.design").splitlines() == list(sized.sizes_in_words)
    assert well("rows sized.design") == f"{sized.sized_rows}\n"
    assert well("rows sized.design --size M rows.txt") == "rows.txt\n"
    assert Path("rows.txt").read_text("utf-8") == f"{sized.in_size('M').rows}\n"
    assert well("rows sized.design --size M --proof rows.txt") == "The text and the chart are the same.\n"
    faulty = re.sub(r"BLsc in next \d sts", "BLsc in next st", Path("rows.txt").read_text("utf-8"), count=1)
    Path("faulty.txt").write_text(faulty, "utf-8")
    assert "but its words make" in well("rows sized.design --size M --proof faulty.txt", ended=1)

    Path("scarf.toml").write_text("contact = 'patterns@harbour-example.org'", "utf-8")
    well("pattern sized.design scarf.html --title 'Boat scarf' --guide --size M --words scarf.toml")
    well("pattern sized.design scarf.pdf --title 'Boat scarf' --terms UK")
    assert "Boat scarf" in Path("scarf.html").read_text("utf-8")
    assert "M" in well("yarn sized.design --skein 105m/50g")

    # and back: what the words make is the piece
    well("read rows.txt again.design --gauge 16x18")
    again, piece = mk.load("again.design"), sized.in_size("M")
    assert (again.chart, again.hand) == (piece.chart, "left")
    assert np.array_equal(again.motif.grid, piece.picture.grid)
    well("read rows.txt again.png")
    assert mk.load("again.png").grid.tolist() == piece.picture.grid.tolist()
    well("sizes sized.design m.design --size M")
    assert mk.load("m.design") == piece
    well("edges m.design m.design --between-rows cut --ends enclosed --border-rounds 2")
    assert mk.load("m.design") == piece.but(between_rows="cut", ends="enclosed", border_rounds=2)
    well("pattern m.design m.pdf --title 'Boat scarf, M'")
    assert Path("m.pdf").read_bytes().startswith(b"%PDF-")


def test_a_page_tells_of_a_border_in_all_sizes_and_one_size_is_written_by_itself(well):
    sized = mk.Design(BOAT, GAUGE).but(border_rounds=2, sizes=[mk.NamedSize("S"), mk.NamedSize("M", across=3)])
    mk.save(sized, "sized.design")
    well("pattern sized.design page.html")
    well("sizes sized.design m.design --size M")
    assert mk.load("m.design") == sized.in_size("M")
    well("pattern m.design m.html")


def test_in_the_round_three_yarns_and_one_square(well, capsys):
    wave = mk.Yarns(
        mk.Yarn("sand", "#e9dcc3"), [(1, mk.Yarn("deep", "#123f5a")), (5, mk.Yarn("foam", "#3d8f92"))]
    )  # three yarns
    mk.save(BOAT.with_yarns(wave), "boat.json")
    well("repeat boat.json cowl.design --across 6 --up 2 --colours swap --in-the-round --gauge 16x18")
    cowl = mk.load("cowl.design")
    assert cowl == mk.Design(BOAT.with_yarns(wave), GAUGE).but(across=6, up=2, colours="swap", in_the_round=True)
    assert [line.split(":")[0].strip() for line in well("yarn cowl.design").splitlines()[1:4]] == [
        "sand",
        "deep",
        "foam",
    ]
    assert "Rnd 2" in well("rows cowl.design")
    ended, _, err = called("frame cowl.design framed.design --rings 1", capsys)
    assert ended == 2
    assert "In the round the last stitch meets the first" in err
    assert "`--rings` must be 0" in err

    Path("dot.txt").write_text("#\n", "utf-8")
    assert "1 row × 1 stitch, cannot be worked" in well("check dot.txt", ended=1)
    well("new dot.txt dot.design --gauge 16x18")
    well("check dot.design --mend dot.design")
    for line in ("chart dot.design dot.svg", "rows dot.design", "yarn dot.design", "pattern dot.design dot.html"):
        well(line)
    well("new dot.txt dot.json --first CC")
    assert "can be worked" in well("check dot.json")
    assert mk.load("dot.json").first == "CC"


def test_a_drawing_is_traced_as_the_library_does(well, capsys):
    drawn = Image.new("RGB", (120, 90), "white")
    ImageDraw.Draw(drawn).polygon([(10, 60), (110, 60), (90, 80), (30, 80)], fill="black")
    ImageDraw.Draw(drawn).polygon([(60, 10), (60, 55), (100, 55)], fill=(90, 90, 90))
    drawn.save("harbour.png")
    for typed, said in (
        ("--stitches 24", {"stitches": 24}),
        ("--width 8in", {"width_cm": 20.32}),
        ("--stitches 20 --rows 15 --dots", {"stitches": 20, "rows": 15, "dither": "error diffusion"}),
        ("--stitches 20 --crop 0.1,0.0,0.9,1.0 --invert --first CC",
         {"stitches": 20, "crop": (0.1, 0.0, 0.9, 1.0), "invert": True, "first": "CC"}),
        ("--stitches 20 --threshold 0.4 --edges-weight 0", {"stitches": 20, "threshold": 0.4, "edges_weight": 0.0}),
    ):  # fmt: skip
        out = well(f"new harbour.png harbour.design --gauge 16x18 --replace {typed}")
        traced = mk.from_picture("harbour.png", gauge=GAUGE, **said)
        assert out.startswith(f"harbour.png: {traced}\n")
        assert mk.load("harbour.design") == mk.Design(traced.motif.named("harbour"), GAUGE)
    ended, _, err = called("new harbour.png other.design", capsys)
    assert ended == 2
    assert "is a third colour" in err
    assert "Or give `--stitches` or `--width`" in err


def test_a_drawing_is_told_from_a_picture_and_named_as_mk_begin_does(well, capsys):
    squares = np.kron(BOAT.grid, np.ones((40, 40), bool))
    Image.fromarray(np.where(squares, 0, 255).astype(np.uint8)).save("large_harbour-boat.png")
    Image.fromarray(np.where(BOAT.grid, 0, 255).astype(np.uint8)).save("harbour-boat.png")
    assert mk.begin("large_harbour-boat.png").said[0].startswith("'large_harbour-boat.png': a picture, traced")
    ended, _, err = called("new large_harbour-boat.png boat.design", capsys)
    assert ended == 2
    assert "say `--square 1`" in err
    assert "Or give `--stitches` or `--width`" in err
    well("new large_harbour-boat.png boat.design --square 40")
    assert mk.load("boat.design").motif.grid.tolist() == BOAT.grid.tolist()
    well("new harbour-boat.png small.design")
    assert mk.load("small.design").motif == mk.begin("harbour-boat.png").drawn.motif
    well("new harbour-boat.png traced.json --stitches 9")
    names = [mk.load(file).name for file in ("traced.json",)] + [mk.load("boat.design").motif.name]
    assert names == ["harbour boat", "large harbour boat"]
    assert mk.begin("harbour-boat.png", stitches=9).design.title == "harbour boat"


def test_bands_are_the_librarys(well):
    mk.save(mk.Design(BOAT, GAUGE).but(across=3, up=2, colours="swap"), "cloth.design")
    wave = mk.Motif.from_text("....\n.##.\n....", name="wave")
    mk.save(wave.with_yarns(mk.Yarns(mk.Yarn("chalk", "#ffffff"), mk.Yarn("coal", "#000000"))), "wave.png")
    cloth = mk.load("cloth.design")
    well("bands cloth.design banded.design wave.png:3 line:3 --mirrored --fit fill")
    ends = [mk.Band(wave, up=3, fit="fill", colours="swap"), mk.Divider(3)]
    banded = cloth.but(bands=mk.Bands.mirrored(ends))
    assert mk.load("banded.design") == banded
    assert mk.load("banded.design").layout.workable
    well("bands cloth.design own.design wave.png field --own-yarns --fit centre")
    first, _ = mk.load("own.design").bands.order
    assert [yarn.colour for yarn in (first.motif.yarns.at(1, "MC"), first.motif.yarns.at(1, "CC"))] == [
        "#ffffff",
        "#000000",
    ]
    well("bands cloth.design banded.design plain:2 field wave.png --fit centre --step swap --across 5")
    order = [mk.Plain(2), mk.Field(), mk.Band(wave, fit="centre")]
    assert mk.load("banded.design") == cloth.but(across=5, bands=mk.Bands(order, step="swap"))
    well("bands banded.design banded.design --none")
    assert mk.load("banded.design") == cloth.but(across=5)


def test_yarn_says_what_the_usage_of_the_design_does(well):
    design = mk.Design(BOAT, GAUGE).but(across=4, up=8, colours="swap", between_rows="cut", skeins=mk.Skein(105, 50))
    mk.save(design, "cloth.design")
    said = well("yarn cloth.design --table yarn.csv").splitlines()
    for total, line in zip(design.usage.by_yarn, said[1:], strict=False):
        low, likely, high = (f"{metres:.0f}" for metres in (total.low_m, total.likely_m, total.high_m))
        assert (
            f"{total.yarn.name}: about {likely} m ({low} to {high} m), {total.grams:.0f} g; buy {total.skeins} " in line
        )
    usage = mk.yarn_usage(design.chart, GAUGE, yarn_settings=design.yarn_settings)
    expected = mk.tables.save_table(mk.tables.yarn_totals(usage), "expected.csv")
    assert Path("yarn.csv").read_bytes() == expected.read_bytes()


def test_files_and_options_go_in_any_order(well):
    mk.save(BOAT, "boat.json")
    well("rows --terms UK boat.json --between-rows cut rows.txt")
    well("rows boat.json rows-too.txt --terms UK --between-rows cut")
    assert Path("rows.txt").read_bytes() == Path("rows-too.txt").read_bytes()
    well("repeat --across 2 boat.json --up 2 two.design --colours swap")
    assert mk.load("two.design").across == 2


# ---- completion --------------------------------------------------------------------------------------------

COMPLETED = [
    (["rep"], {"repeat"}),
    ([""], {command.name for command in cli.COMMANDS} | {"--help", "--version"}),
    (["edges", "boat.design", "--border-co"], {"--border-corner"}),
    (["edges", "boat.design", "--border-corner", ""], {"3 sc", "5 sc", "sc, ch 1, sc", "sc, ch 2, sc"}),
    (["repeat", "--laying", "b"], {"brick"}),
    (["repeat", "boat"], {"boat.json", "boat two.json"}),
    (["pattern", "x", "--words", "boat"], {"boat.json", "boat two.json"}),
    (["completion", "z"], {"zsh"}),
    (["--rev"], set()),
]


@pytest.mark.skipif(shutil.which("bash") is None, reason="There is no bash here.")
@pytest.mark.parametrize(("typed", "expected"), COMPLETED, ids=[" ".join(typed) for typed, _ in COMPLETED])
def test_bash_completes_commands_options_choices_and_files(typed, expected, well):
    Path("boat.json").touch()
    Path("boat two.json").touch()
    Path("completion.bash").write_text(well("completion bash"), "utf-8")
    words = " ".join(map(shlex.quote, ["mosaickit", *typed]))
    asked = (
        f"source completion.bash; COMP_WORDS=({words}); COMP_CWORD={len(typed)}; complete -p mosaickit >/dev/null; "
        r"_mosaickit; printf '%s\n' ${COMPREPLY[@]+\"${COMPREPLY[@]}\"}".replace('\\"', '"')
    )
    done = subprocess.run(["bash", "-uc", asked], capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
    assert set(filter(None, done.stdout.split("\n"))) == expected


@pytest.mark.parametrize("shell", completion.SHELLS)
def test_a_script_for_each_shell_knows_all_that_the_parser_takes(shell, well):
    text = well(f"completion {shell}")
    commands = next(action.choices for action in PARSER()._actions if action.dest == "command")
    for name, parser in commands.items():
        assert name in text
        for action in parser._actions:
            for flag in action.option_strings:
                assert (flag if shell != "fish" else re.sub("^--", "-l ", flag).replace("-h", "-s h")) in text
    program = shutil.which(shell)
    if program:  # its own look at the syntax, where it is installed
        Path("script").write_text(text, "utf-8")
        assert subprocess.run([program, "-n", "script"], capture_output=True, timeout=60).stderr == b""


# ---- help --------------------------------------------------------------------------------------------------


def test_an_option_offers_what_the_decision_may_be_and_edges_takes_all_of_a_finish():
    kinds = (mk.Design, mk.Surround, mk.Finish, mk.YarnSettings, mk.PatternWords, mk.Publishing)
    hints = {name: kind for each in kinds for name, kind in get_type_hints(each).items()}
    seen = 0
    for option, decision in DECISIONS.items():
        hint = hints[field_of(option)]
        literal = [kind for kind in (hint, *get_args(hint)) if get_origin(kind) is Literal]
        may_be = {each for kind in literal for each in get_args(kind)}
        if decision.choices or (may_be and not decision.said):
            assert set(decision.choices) == may_be, option
            seen += 1
    assert seen > 10
    assert {field.name for field in fields(mk.Finish)} <= set(vars(PARSER().parse_args(["edges", "a", "b"])))


def test_every_option_is_explained(capsys):
    commands = next(action.choices for action in PARSER()._actions if action.dest == "command")
    for name, parser in commands.items():
        for action in parser._actions:
            assert action.help, (name, action.dest)
        assert called(f"{name} --help", capsys)[1].startswith(f"usage: mosaickit {name} ")


def test_a_process_reads_and_writes_where_it_was_called(folder):
    mk.save(BOAT, "boat two.json")
    line = [sys.executable, "-m", "mosaickit", "repeat", "boat two.json", "größer.design", "--across", "2"]
    done = subprocess.run(line, capture_output=True, timeout=120)
    assert (done.returncode, done.stderr) == (0, b"")
    assert mk.load(folder / "größer.design").across == 2
