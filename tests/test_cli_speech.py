"""Whatever is typed with nonsense, the command answers in its own words, and what it says to type works."""

import re
import shlex
from pathlib import Path

import matplotlib.pyplot as plt
import nbformat
import pytest
from at_command import BOAT, MASTED, PARSER, called

import mosaickit as mk
from mosaickit import cli
from mosaickit.cli import running
from mosaickit.cli.speech import words_of

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)
CLOTH = mk.Design(BOAT, GAUGE).but(across=2, up=2, colours="swap")

# names of Python: modules, names with underscores, arguments, constants, classes of errors, marked code
CODE = re.compile(
    r"\bmk\.|\b[a-z]+_[a-z_]+\b|\b[a-z]+=[\"'\w…]|\(\d+, \d+|\bNone\b|\bTrue\b|\bFalse\b|\b[A-Z]\w*Error\b|Traceback|"
    r"\b(?:dict|list|tuple|int|float|str)\b|\b(?:Surround|YarnSettings|NamedSize|PatternWords)\b|"
    r"`"
)

# a call of every command that goes well; {} is where a file is written
GOOD = {
    "lab": "lab {}folder --no-open",
    "new": "new boat.txt {}new.design --gauge 16x18",
    "read": "read rows.txt {}again.design",
    "repeat": "repeat cloth.design {}more.design --across 3",
    "frame": "frame cloth.design {}framed.design --rings 1 --balance-up 1",
    "edges": "edges cloth.design {}edged.design --edges 2",
    "bands": "bands cloth.design {}banded.design plain:2 field",
    "widths": "widths cloth.design --width 20cm --tolerance 50%",
    "sizes": "sizes cloth.design {}sized.design 'S: 1 across, 2 up' 'M: 3 across, 4 up'",
    "check": "check cloth.design",
    "chart": "chart cloth.design {}chart.svg",
    "compare": "compare cloth.design cloth.design",
    "rows": "rows cloth.design {}written.txt",
    "yarn": "yarn cloth.design --skein 105m/50g",
    "pattern": "pattern cloth.design {}page.html",
    "edit": "edit cloth.design --errors",
    "share": "share lesson.ipynb {}lesson.html",
    "completion": "completion bash",
}
BAD_WORDS = ("", "-1", "1e9", "99999999", "0:7", "two words", "\x07#", "mk.frame(x)", "surround=1")
BAD_PARTS = ("S", "S: 0 across", "S: 20 miles wide", "S: 9 across, 1 up", "plain:0", "line:9", "masted.txt:2",
             "field:2", "noise.png", "boat.txt:0")  # fmt: skip
BAD_FILES = ("nowhere.design", "nowhere.txt", "nowhere", "broken.design", "broken.json", "noise.png", "latin.txt",
             "empty.txt", "empty.design", "shelf.design", "masted.design", "masted.txt", "askew.design", "cowl.design",
             "boat.gif",
             "no/such/folder.design")  # fmt: skip


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """A folder with whole files, faulty ones, and designs that cannot be worked."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MPLBACKEND", "Agg")
    monkeypatch.setattr(running, "parser", PARSER)
    plt.switch_backend("Agg")
    mk.save(BOAT, "boat.txt")
    mk.save(MASTED, "masted.txt")
    mk.save(CLOTH, "cloth.design")
    mk.save(mk.Design(MASTED, GAUGE), "masted.design")
    mk.save(CLOTH.but(colours="keep"), "askew.design")
    mk.save(CLOTH.but(in_the_round=True), "cowl.design")
    Path("rows.txt").write_text(str(CLOTH.rows), "utf-8")
    nbformat.write(nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell("# One")]), "lesson.ipynb")
    Path("broken.design").write_text('{"format": "mosaickit design", "across": ["mk"]}', "utf-8")
    Path("broken.json").write_text('{"format": "mosaickit"', "utf-8")
    Path("noise.png").write_bytes(bytes(range(256)))
    Path("latin.txt").write_bytes("Häkeln".encode("latin-1"))
    Path("empty.txt").touch()
    Path("empty.design").touch()
    Path("shelf.design").mkdir()
    Path("boat.gif").write_bytes(b"GIF89a")
    yield tmp_path
    plt.close("all")


def code_in(said, typed):
    """Find a name of Python in what was said, apart from what was typed."""
    for word in sorted((word for word in typed if word and not word.startswith("--")), key=len, reverse=True):
        said = said.replace(repr(word), "…").replace(word, "…") if re.search(r"\W", word) else said
    said = said.replace("sc=c,FLdc=X,tog-b=b,tog-f=f", "letters")
    return CODE.search(re.sub("`(?:mosaickit |--|python )[^`]*`", "what to type", said))


def judged(line, capsys):
    """Run a line that may go wrong; gives the complaint, and what is the matter with it, if anything."""
    ended, out, err = called(line, capsys)
    typed = shlex.split(line)
    typed += [value for word in typed for value in [word.partition("=")[2]] if word.startswith("--")]
    wrong = []
    if ended not in (0, 1, 2) or (ended == 0 and err) or (ended == 2 and not err):
        wrong.append(f"ends with {ended}")
    if err and not (err.startswith("mosaickit") and re.search(r"[.?]\n$", err)):
        wrong.append("is no sentence")
    if found := code_in(err, typed) or code_in(out, typed):
        wrong.append(f"says {found[0]!r}")
    return err, [f"{line}\n  {each}: {err or out}" for each in wrong]


def test_there_is_a_good_call_of_every_command(capsys):
    assert list(GOOD) == [command.name for command in cli.COMMANDS]
    for name, line in GOOD.items():
        ended, _, err = called(line.format(""), capsys)
        assert (ended, err) == (0, ""), name


@pytest.mark.parametrize("name", GOOD)
def test_no_bad_value_of_an_option_is_answered_in_python(name, capsys):
    line, faults, refused = GOOD[name].format("other-"), [], 0
    for action in words_of_parser(name)._actions:
        for option in action.option_strings[:1]:
            if option == "-h" or action.nargs == 0:
                continue
            # what is one of a few is refused by the parser alone, whatever it is
            for bad in BAD_WORDS[-2:] if action.choices else BAD_WORDS:
                err, wrong = judged(f"{line} {option}={shlex.quote(bad)} --replace" if writes(name) else line, capsys)
                faults, refused = faults + wrong, refused + bool(err)
    assert faults == []
    assert refused or name in ("lab", "completion", "share", "compare", "edit")


def words_of_parser(name):
    return next(action.choices for action in PARSER()._actions if action.dest == "command")[name]


def writes(name):
    return "--replace" in words_of_parser(name)._option_string_actions


@pytest.mark.parametrize("name", [name for name in GOOD if name not in ("lab", "completion")])
def test_no_bad_file_or_word_is_answered_in_python(name, capsys):
    words, faults = shlex.split(GOOD[name].format("other-")), []
    for at, word in enumerate(words[1:], 1):
        if not word.startswith("--"):
            files = bool(re.search(r"\.\w+$", word))
            for bad in BAD_FILES if files else (*BAD_WORDS, *BAD_PARTS):
                faults += judged(shlex.join([*words[:at], bad, *words[at + 1 :]]), capsys)[1]
    assert len(words) > 1
    assert faults == []


@pytest.mark.parametrize("name", [name for name in GOOD if "{}" in GOOD[name] and name != "lab"])
def test_another_designs_file_is_refused_with_what_to_type(name, capsys):
    line = GOOD[name].format("taken-")
    out = next(word for word in shlex.split(line) if word.startswith("taken-"))
    Path(out).write_text("a letter", "utf-8")
    err, wrong = judged(line, capsys)
    assert wrong == []
    stem, _, ending = out.rpartition(".")
    assert f"Write '{stem}-2.{ending}', which is free, or add `--replace` to replace it." in err
    assert Path(out).read_text("utf-8") == "a letter"
    assert called(line.replace(out, f"{stem}-2.{ending}"), capsys)[0] == 0
    assert called(f"{line} --replace", capsys)[0] == 0
    assert Path(out).read_bytes() != b"a letter"


# ---- what cures --------------------------------------------------------------------------------------------

REFUSED = [
    "chart {} chart.svg", "pattern {} page.html --gauge 16x18", "rows {}", "rows {} --proof rows.txt",
    "yarn {} --gauge 16x18", "repeat {} more.design --across 3", "edges {} edged.design --edges 2",
    "check {} --mend mended.design", "edit {}", "frame {} framed.design --rings 1",
]  # fmt: skip


@pytest.mark.parametrize("line", REFUSED)
@pytest.mark.parametrize("which", ["masted", "askew", "framed", "masted and askew"])
def test_what_is_said_to_cure_a_piece_works_when_it_is_typed(which, line, capsys):
    design = {
        "masted": mk.Design(MASTED, GAUGE),
        "askew": CLOTH.but(colours="keep"),
        "framed": CLOTH.but(rings=1),
        "masted and askew": mk.Design(MASTED, GAUGE).but(across=2, up=3),
    }[which]
    file = f"a {which} one.design"
    mk.save(design, file)
    assert not design.layout.workable
    ended, _, err = called(line.format(shlex.quote(file)), capsys)
    if not err:  # what could not be worked before may be written as it is, and mended later
        return
    assert (ended, code_in(err, [file])) == (1, None)
    added = re.findall(r"[Aa]dd `([^`]+)`", err)
    for options in added:
        assert called(f"{line.format(shlex.quote(file))} {options} --replace", capsys)[0] == 0, options
    typed = re.findall(r"`mosaickit ([^`]+)`", err)
    for command in typed:
        assert called(command.replace("OUT", "cured") + " --replace", capsys)[0] == 0, command
    assert added or mk.load("cured.design").layout.workable, err


def test_a_cure_that_takes_back_what_was_typed_is_not_said_if_there_is_another(capsys):
    said = called("frame cloth.design framed.design --rings 1", capsys)[2]
    assert "Add `--balance-up 1`." in said
    assert "--rings 0" not in said


def test_a_band_that_cannot_be_worked_is_named_with_the_command_that_mends_it(capsys):
    line = "bands cloth.design banded.design {} field --fit centre --across 3"
    ended, _, err = called(line.format("masted.txt"), capsys)
    assert ended == 1
    (cure,) = re.findall(r"`mosaickit ([^`]+)`", err)
    assert called(cure.replace("OUT", "mended.json"), capsys)[0] == 0
    assert called(line.format("mended.json"), capsys)[0] == 0


# ---- the rule ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("command", "sentence", "told"),
    [
        ("repeat", "`across` must be a whole number; got 0.5.", "`--across` must be a whole number; got 0.5."),
        ("chart", "`rings` must be 0; got 3.", "`mosaickit repeat --rings` must be 0; got 3."),
        ("chart", 'Use colours="swap".', "Use `mosaickit repeat --colours swap`."),
        ("edges", "`ends` must be 'cut', or `between_rows` 'x'.", "`--ends` must be 'cut', or `--between-rows` 'x'."),
        ("check", "`mk.nearest_workable` mends a motif.", "`mosaickit check --mend` mends a motif."),
        ("check", "`mk.half_turn` turns it; or mk.pad(motif, top=1).", '"half turn" turns it; or "pad".'),
        ("pattern", "`skeins` must be a `Skein`; got 'x'.", "`--skein` must be a \"skein\"; got 'x'."),
        ("pattern", "try `system_fonts=True`.", "try `--system-fonts`."),
        ("rows", "`nobody_knows[2]` is odd.", '"nobody knows" is odd.'),
    ],
)  # fmt: skip
def test_a_name_is_the_option_that_says_it_here_or_where_it_is_said(command, sentence, told):
    parsers = next(action.choices for action in PARSER()._actions if action.dest == "command")
    assert words_of(command, parsers).told(sentence) == told


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("edges cloth.design out.design --border-ratio 0:7", "as 7:8; got 0:7."),
        ("frame cowl.design out.design --rings 1", "and `--rings` must be 0; got none, 0 and 1."),
        (
            "pattern cloth.design out.pdf --language de --terms UK",
            "got `--terms 'UK'` with `--language 'de'`. Leave out",
        ),
        ("new boat.gif out.json --stitches 9 --dots --threshold 0.5", "leave out `--threshold`, or `--dots`; got 0.5."),
        ("new boat.gif out.json --width 1cm --gauge 16x18", "`--width` must make from 3 to 10,000 stitches"),
        ("new boat.txt out.json --gauge 16x18", "`--gauge` would be lost in a motif alone"),
        ("new boat.txt out.json --dots", "leave out `--dots`."),
        ("rows cloth.design --language xx", "`--language` must be 'en' (English) or 'de' (German); got 'xx'."),
    ],
)
def test_what_came_is_shown_as_it_is_typed(line, told, capsys):
    ended, _, err = called(line, capsys)
    assert ended == 2
    assert told in err


def test_what_was_typed_stays_as_it_was(capsys):
    name = "mk.frame(x) `edges` colours=swap.design"
    said = called(f"check {shlex.quote(name)}", capsys)[2]
    assert said == f"mosaickit: {name!r}: There is no such file in the folder '.'.\n"
