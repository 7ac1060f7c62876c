"""The sketch against a plain list of motifs, and its journal against everything that can happen to a file."""

import os
import re
import subprocess
import sys
import zlib
from concurrent.futures import ThreadPoolExecutor
from itertools import count
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, stripes, two_stacked
from strategies import motifs

import mosaickit as mk
from mosaickit import sketch as module
from mosaickit.errors import FileError, MosaickitError, MotifError, OptionError
from mosaickit.sketch import Sketch

operations = st.lists(
    st.one_of(motifs(most=5), st.sampled_from(["flip", "undo", "redo", "reopen"])), min_size=1, max_size=14
)
number = count()


def history(sketch):
    """Everything a sketch can go back and forward to, with the labels, and where in it the sketch stands."""
    steps = sketch.steps
    while sketch.can_undo:
        sketch.undo()
    states = [(sketch.undo_label, sketch.motif)]
    while sketch.can_redo:
        sketch.redo()
        states.append((sketch.undo_label, sketch.motif))
    return states, steps


@given(motifs(most=5), operations, st.sampled_from([1, 3, 100]), st.sampled_from([0, 5]))
def test_a_sketch_does_what_a_list_of_motifs_does(tmp_path_factory, start, todo, most, lines):
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(module, "LINES_A_STEP", lines)  # 0: the journal is written anew at every step
        do_both(tmp_path_factory.mktemp("sketch") / f"{next(number)}.sketch", start, todo, most)


def do_both(journal, start, todo, most):
    sketch = Sketch(start, journal=journal, most_steps=most)
    states, at = [("", start)], 0
    for step, what in enumerate(todo):
        if what == "undo":
            at = max(at - 1, 0)
            assert sketch.undo() == states[at][1]
        elif what == "redo":
            at = min(at + 1, len(states) - 1)
            assert sketch.redo() == states[at][1]
        elif what == "reopen":
            sketch = Sketch.open(journal)
        else:
            now = states[at][1]
            new = now.with_grid(~now.grid) if what == "flip" else what
            sketch.change(new, f"step {step}")
            if new != now:
                states = [*states[: at + 1], (f"step {step}", new)][-most - 1 :]
                at = len(states) - 1
        assert sketch.motif == states[at][1]
        assert (sketch.steps, sketch.can_undo, sketch.can_redo) == (at, at > 0, at < len(states) - 1)
        assert sketch.undo_label == (states[at][0] if at else "")
        assert sketch.redo_label == (states[at + 1][0] if at + 1 < len(states) else "")
    assert sketch.trouble == sketch.recovered == ""
    states[0] = ("", states[0][1])
    assert history(Sketch.open(journal)) == (states, at)


@given(st.data(), motifs(most=9))
def test_a_stroke_is_kept_as_the_squares_it_flips(tmp_path_factory, data, before):
    after = before.with_grid(data.draw(motifs(shape=st.just(before.shape))).grid)
    journal = tmp_path_factory.mktemp("sketch") / "stroke.sketch"
    Sketch(before, journal=journal).change(after)
    assert journal.read_text("utf-8").count('"rows"') == 1  # those of the first line
    assert history(Sketch.open(journal)) == ([("", before)] + [("", after)] * (after != before), int(after != before))


def test_a_stroke_of_very_many_runs_is_kept_as_the_whole_picture_which_is_shorter(tmp_path):
    plain = mk.Motif(np.zeros((100, 100), dtype=bool))
    checks = plain.with_grid(np.indices((100, 100)).sum(axis=0) % 2 == 1)
    sketch = Sketch(plain, journal=tmp_path / "checks.sketch")
    start = (tmp_path / "checks.sketch").stat().st_size
    sketch.change(checks, "checks")
    assert (tmp_path / "checks.sketch").stat().st_size < start * 2.1
    assert history(Sketch.open(tmp_path / "checks.sketch")) == ([("", plain), ("checks", checks)], 1)


def test_two_thousand_steps_can_be_undone_after_opening_and_redone(tmp_path):
    # every picture shows its number, so that none can stand for another
    pictures = [stripes.with_grid(((n >> np.arange(16)) & 1).astype(bool).reshape(4, 4)) for n in range(2101)]
    sketch = Sketch(pictures[0], journal=tmp_path / "many.sketch")
    for picture in pictures[1:]:
        sketch.change(picture)
    again = Sketch.open(tmp_path / "many.sketch")
    assert again.steps == 2000
    assert [again.undo() for _ in range(2000)] == pictures[-2:99:-1]
    assert not again.can_undo
    again = Sketch.open(tmp_path / "many.sketch")
    assert [again.redo() for _ in range(2000)] == pictures[101:]


def test_a_journal_that_does_not_say_how_many_steps_it_keeps_keeps_two_thousand(tmp_path):
    file = tmp_path / "old.sketch"
    Sketch(letter_f, journal=file)
    text = file.read_bytes()[9:].replace(b'"most_steps":2000,', b"")
    file.write_bytes(b"%08x %s" % (zlib.crc32(text[:-1]), text))
    sketch = Sketch.open(file)
    for step in range(2001):
        sketch.change(letter_f.named(str(step)))
    assert sketch.steps == 2000


def drawn(journal):
    sketch = Sketch(stripes, journal=journal)
    for motif, label in ((mk.counterchange(stripes), "swap"), (letter_f, "letter"), (two_stacked, "two")):
        sketch.change(motif, label)
    sketch.undo()
    return sketch


def opened(file):
    try:
        return "", Sketch.open(file)
    except MosaickitError as error:
        return str(error), None


def states_of():
    return [stripes, mk.counterchange(stripes), letter_f, two_stacked, letter_f]


def test_a_journal_cut_at_any_byte_opens_with_at_most_the_last_step_missing(tmp_path):
    drawn(tmp_path / "whole.sketch")
    whole = (tmp_path / "whole.sketch").read_bytes()
    ends = [at + 1 for at, byte in enumerate(whole) if byte == ord("\n")]
    expected = states_of()
    for cut in range(len(whole) + 1):
        file = tmp_path / "cut.sketch"
        file.write_bytes(whole[:cut])
        lines = sum(end <= cut for end in ends)
        if lines == 0:
            with pytest.raises(FileError, match=r"'cut\.sketch': "):
                Sketch.open(file)
            continue
        sketch = Sketch.open(file)
        assert sketch.motif == expected[lines - 1]
        assert (sketch.recovered == "") == (cut in ends)
        # and it can be gone on with
        sketch.change(stripes.named("on"), "on")
        assert Sketch.open(file).motif == stripes.named("on")


def test_a_journal_damaged_at_any_byte_is_refused_or_loses_its_last_step_and_stays_as_it_is(tmp_path):
    drawn(tmp_path / "whole.sketch")
    whole = (tmp_path / "whole.sketch").read_bytes()
    refused = 0
    for at, byte in enumerate(whole):
        for other in {byte ^ 0x15, ord("\n")} - {byte}:
            file = tmp_path / "bad.sketch"
            damaged = bytearray(whole)
            damaged[at] = other
            file.write_bytes(damaged)
            sentence, sketch = opened(file)
            if sketch is None:
                refused += 1
                assert re.match(r"'bad\.sketch': (Line \d|This is no sketch)", sentence)
                assert file.read_bytes() == damaged
            else:
                assert sketch.motif in states_of()
                assert sketch.recovered
    assert refused > len(whole)


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ([{"format": "a letter"}], "This is no sketch: its first line does not say that it is one."),
        (
            [{"format": "mosaickit sketch", "version": 9}],
            "This sketch is of version 9; this mosaickit reads version 1.",
        ),
        ([{"format": "mosaickit sketch", "version": 1}], 'The key "motif" is missing.'),
        (["start", {"undo": 1}], "Line 2: This is no step that could follow the line before it."),
        (["start", ["undo"]], "Line 2: This is no step"),
        (["start", {"label": "", "flip": [[0, 99]]}], "Expected squares of the picture in rising order"),
        (["start", {"label": "", "flip": [[2, 1], [1, 1]]}], "Expected squares of the picture in rising order"),
        (["start", {"label": "", "flip": [3]}], "Expected pairs of a square and how many follow."),
        (["start", {"label": "", "flip": [[1, 0]]}], "Expected squares of the picture in rising order"),
        (["start", {"label": "", "flip": 3}], 'Line 2: At "flip": Expected a list'),
        (["start", {"label": 3, "flip": []}], "Line 2: A step's label must be text; got 3"),
        (["start", {"label": "\n", "flip": []}], "Line 2: A step's label must be one line of printable characters"),
        (["start", {"redo": 1}], "Line 2: This is no step"),
        (["start", {"label": "", "flip": [], "undo": 1}], "Line 2: This is no step"),
        (["start", {"label": "", "flip": []}, {"label": "", "motif": {}}], "Line 3: This is no motif"),
    ],
)
def test_lines_that_make_no_sense_are_refused_with_a_sentence(tmp_path, lines, message):
    file = tmp_path / "odd.sketch"
    Sketch(stripes, journal=file)
    start = file.read_bytes()
    file.write_bytes(b"".join(start if line == "start" else module._line(line) for line in lines))
    with pytest.raises(FileError, match=message):
        Sketch.open(file)


def test_a_missing_journal_is_started_or_refused_and_one_that_is_there_is_not_overwritten(tmp_path):
    with pytest.raises(FileError, match=r"'no\.sketch': There is no such file"):
        Sketch.open(tmp_path / "no.sketch")
    Sketch.open(tmp_path / "new.sketch", otherwise=letter_f)
    with pytest.raises(FileError, match=r"'new\.sketch' is there already: go on with it by `Sketch\.open`"):
        Sketch(stripes, journal=tmp_path / "new.sketch")
    assert Sketch.open(tmp_path / "new.sketch", otherwise=stripes).motif == letter_f


@pytest.mark.parametrize("motif", [None, "#", letter_f.grid])
def test_only_a_motif_can_be_drawn(motif):
    with pytest.raises(OptionError, match=r"`motif` must be a Motif; got "):
        Sketch(motif)
    sketch = Sketch(letter_f)
    with pytest.raises(OptionError, match=r"`motif` must be a Motif; got "):
        sketch.change(motif)
    assert (sketch.motif, sketch.steps) == (letter_f, 0)


@pytest.mark.parametrize("label", ["x" * 201, "two\nlines", "\ud800", 3])
def test_a_label_that_could_not_be_read_back_is_refused_before_anything_is_written(tmp_path, label):
    sketch = Sketch(letter_f, journal=tmp_path / "label.sketch")
    with pytest.raises(MotifError, match=r"A step's label must "):
        sketch.change(stripes, label)
    assert (sketch.motif, Sketch.open(tmp_path / "label.sketch").motif) == (letter_f, letter_f)


def test_a_journal_that_cannot_be_started_is_refused_with_a_sentence(tmp_path):
    for file in (tmp_path / "no folder" / "a.sketch", tmp_path / ("long" * 100), tmp_path / "nul\0.sketch"):
        with pytest.raises(FileError, match=r"could not be written, and nothing was changed: "):
            Sketch(letter_f, journal=file)
        with pytest.raises(FileError, match=r"could not be written, and nothing was changed: "):
            Sketch.open(file, otherwise=letter_f)


def full(*_):
    raise OSError(28, "No space left on device")


def half(descriptor, line, write=os.write):
    return write(descriptor, line[: len(line) // 2])


@pytest.mark.parametrize(("broken", "instead"), [("fsync", full), ("write", full), ("write", half)])
def test_a_full_disk_is_said_and_healed(tmp_path, monkeypatch, broken, instead):
    file = tmp_path / "full.sketch"
    sketch = drawn(file)
    kept = file.read_bytes()
    with monkeypatch.context() as patched:
        patched.setattr(os, broken, instead)
        sketch.change(stripes, "while full")
        # a file that is written anew does not go by os.write
        patched.setattr(os, "fsync", full)
        assert sketch.motif == stripes
        assert sketch.trouble.startswith("The drawing is kept in memory only, as its file could not be written:")
        # whoever is killed now still has what was kept before
        (tmp_path / "now.sketch").write_bytes(file.read_bytes())
        assert Sketch.open(tmp_path / "now.sketch").motif in (letter_f, stripes)
        sketch.change(letter_f, "still full")
        assert sketch.undo() == stripes
        assert sketch.redo() == letter_f
        assert "the disk is full" in sketch.trouble
        assert file.read_bytes().startswith(kept)
    sketch.change(two_stacked, "room again")
    assert sketch.trouble == ""
    before = [("", stripes), ("swap", mk.counterchange(stripes)), ("letter", letter_f)]
    after = [("while full", stripes), ("still full", letter_f), ("room again", two_stacked)]
    assert history(Sketch.open(file)) == ([*before, *after], 5)


@pytest.mark.parametrize("interrupted", ["open", "write", "fsync"])
def test_a_step_that_is_interrupted_leaves_no_gap_in_the_journal(tmp_path, monkeypatch, interrupted):
    sketch = drawn(tmp_path / "stopped.sketch")

    def stop(*_):
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(os, interrupted, stop)
        with pytest.raises(KeyboardInterrupt):
            sketch.change(letter_f.with_grid(~letter_f.grid), "stopped")
    # this one flips squares of the picture that the journal may lack
    sketch.change(sketch.motif.with_grid(np.roll(sketch.motif.grid, 1)), "next")
    assert history(Sketch.open(tmp_path / "stopped.sketch")) == history(sketch)


def test_a_journal_that_was_removed_is_written_anew(tmp_path):
    sketch = drawn(tmp_path / "gone.sketch")
    (tmp_path / "gone.sketch").unlink()
    sketch.change(stripes, "first after")
    assert sketch.trouble
    sketch.change(two_stacked, "second after")
    assert sketch.trouble == ""
    assert Sketch.open(tmp_path / "gone.sketch").motif == two_stacked


def test_a_journal_that_grew_long_is_written_anew_and_forgets_its_oldest_steps(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "LONGEST_JOURNAL", 3000)
    sketch = Sketch(letter_f, journal=tmp_path / "long.sketch")
    for step in range(300):
        # no two pictures alike
        grid = letter_f.grid ^ ((step + 1 >> np.arange(49)) & 1).astype(bool).reshape(7, 7)
        sketch.change(letter_f.with_grid(grid), f"step {step}")
        assert (tmp_path / "long.sketch").stat().st_size <= 3000
    again = Sketch.open(tmp_path / "long.sketch")
    assert again.motif == sketch.motif
    assert again.undo_label == "step 299"
    assert 0 < again.steps < 300
    assert history(again) == history(sketch)


def test_a_journal_of_many_undos_is_written_anew_to_stay_quick_to_open(tmp_path):
    sketch = Sketch(letter_f, journal=tmp_path / "undone.sketch", most_steps=10)
    sketch.change(stripes, "stripes")
    for _ in range(200):
        sketch.undo()
        sketch.redo()
        assert (tmp_path / "undone.sketch").read_bytes().count(b"\n") <= module.LINES_A_STEP * 10
    assert history(Sketch.open(tmp_path / "undone.sketch")) == ([("", letter_f), ("stripes", stripes)], 1)


def test_a_journal_that_is_written_anew_keeps_what_can_be_redone_in_its_order(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "LINES_A_STEP", 0)
    drawn(tmp_path / "anew.sketch").undo()
    swap = mk.counterchange(stripes)
    states = [("", stripes), ("swap", swap), ("letter", letter_f), ("two", two_stacked)]
    assert Sketch.open(tmp_path / "anew.sketch").motif == swap
    assert history(Sketch.open(tmp_path / "anew.sketch")) == (states, 1)


def killed(journal, kills):
    """Kill a child that draws, over and over; give how many strokes it was heard to keep."""
    rng = np.random.default_rng(kills)
    strokes = 0
    for kill in range(kills):
        child = subprocess.Popen(
            [sys.executable, Path(__file__).parent / "kill_drawing.py", journal, str(kill)],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},  # NumPy starts sooner
        )
        with child:
            said = [int(child.stdout.readline())]
            for _ in range(int(rng.integers(0, 12))):
                said.append(int(child.stdout.readline()))
            child.kill()
            said += [int(line) for line in child.stdout.read().splitlines() if line]
        sketch = Sketch.open(journal)
        squares = int(sketch.motif.grid.sum())
        # the next stroke may be in the file before it was said
        following = 0 if said[-1] >= 800 else said[-1] + 1
        assert squares in (said[-1], following)
        assert np.array_equal(sketch.motif.grid.ravel(), np.arange(900) < squares)
        assert sketch.steps > 0
        assert int(sketch.undo().grid.sum()) == (squares - 1 if squares else 800)
        sketch.redo()
        strokes += len(said)
    return strokes


def test_a_drawing_killed_a_hundred_times_loses_at_most_the_stroke_in_hand(tmp_path):
    # two at a time, as starting a child is most of the work
    with ThreadPoolExecutor(2) as pool:
        heard = list(pool.map(killed, [tmp_path / f"{n}.sketch" for n in range(4)], [24, 25, 25, 26]))
    assert sum(heard) > 300
