"""The sketch against a plain list of motifs, and its journal against everything that can happen to a file."""

import os
import subprocess
import sys
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
from mosaickit.errors import FileError, MosaickitError
from mosaickit.sketch import Sketch

operations = st.lists(
    st.one_of(motifs(most=5), st.sampled_from(["flip", "undo", "redo", "reopen"])), min_size=1, max_size=14
)
number = count()


@given(motifs(most=5), operations, st.sampled_from([3, 100]))
def test_a_sketch_does_what_a_list_of_motifs_does(tmp_path_factory, start, todo, most):
    journal = tmp_path_factory.mktemp("sketch") / f"{next(number)}.sketch"
    sketch = Sketch(start, journal=journal, most_steps=most)
    states, at = [start], 0
    for what in todo:
        if what == "undo":
            at = max(at - 1, 0)
            assert sketch.undo() == states[at]
        elif what == "redo":
            at = min(at + 1, len(states) - 1)
            assert sketch.redo() == states[at]
        elif what == "reopen":
            sketch = Sketch.open(journal, most_steps=most)
        else:
            new = states[at].with_grid(~states[at].grid) if what == "flip" else what
            sketch.change(new, str(what)[:20])
            if new != states[at]:
                states = [*states[: at + 1], new][-most - 1 :]
                at = len(states) - 1
        assert sketch.motif == states[at]
        assert (sketch.steps, sketch.can_undo, sketch.can_redo) == (at, at > 0, at < len(states) - 1)
    assert sketch.trouble == sketch.recovered == ""


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
    for at in range(len(whole)):
        file = tmp_path / "bad.sketch"
        damaged = bytearray(whole)
        damaged[at] ^= 0x15
        file.write_bytes(damaged)
        sentence, sketch = opened(file)
        if sketch is None:
            refused += 1
            assert sentence.startswith("'bad.sketch': ")
            assert file.read_bytes() == damaged
        else:
            assert sketch.motif in states_of()
            assert sketch.recovered
    assert refused > len(whole) / 2


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ([{"format": "a letter"}], "This is no sketch: its first line does not say that it is one."),
        (
            [{"format": "mosaickit sketch", "version": 9}],
            "This sketch is of version 9; this mosaickit reads version 1.",
        ),
        ([{"format": "mosaickit sketch", "version": 1}], 'The key "motif" is missing.'),
        (["start", {"undo": 1}], "Line 2 tells no step that could follow the line before it."),
        (["start", ["undo"]], "Line 2 tells no step"),
        (["start", {"label": "", "flip": [[0, 99]]}], "Expected squares of the picture in rising order"),
        (["start", {"label": "", "flip": [[2, 1], [1, 1]]}], "Expected squares of the picture in rising order"),
        (["start", {"label": "", "flip": [3]}], "Expected pairs of a square and how many follow."),
        (["start", {"label": 3, "flip": []}], "Expected text in quotes"),
        (["start", {"label": "", "motif": {}}], "This is no motif"),
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


def test_a_full_disk_is_said_and_healed(tmp_path, monkeypatch):
    sketch = drawn(tmp_path / "full.sketch")
    kept = (tmp_path / "full.sketch").read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", full)
        sketch.change(stripes, "while full")
        assert sketch.motif == stripes
        assert sketch.trouble.startswith("The drawing is kept in memory only, as its file could not be written:")
        sketch.change(letter_f, "still full")
        assert "the disk is full" in sketch.trouble
        assert (tmp_path / "full.sketch").read_bytes().startswith(kept)
    sketch.change(two_stacked, "room again")
    assert sketch.trouble == ""
    again = Sketch.open(tmp_path / "full.sketch")
    assert again.motif == two_stacked
    assert [again.undo() for _ in range(3)] == [letter_f, stripes, letter_f]


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
        sketch.change(letter_f if step % 2 else mk.counterchange(letter_f), f"step {step}")
        assert (tmp_path / "long.sketch").stat().st_size <= 3000
    again = Sketch.open(tmp_path / "long.sketch")
    assert again.motif == sketch.motif
    assert again.undo_label == "step 299"
    assert 0 < again.steps < 300


def test_a_drawing_killed_a_hundred_times_loses_at_most_the_stroke_in_hand(tmp_path):
    journal = tmp_path / "killed.sketch"
    rng = np.random.default_rng(100)
    strokes = 0
    for kill in range(100):
        child = subprocess.Popen(
            [sys.executable, Path(__file__).parent / "kill_drawing.py", journal, str(kill)],
            stdout=subprocess.PIPE,
            text=True,
        )
        with child:
            assert child.stdout is not None
            said = [int(child.stdout.readline())]
            for _ in range(int(rng.integers(0, 12))):
                said.append(int(child.stdout.readline()))
            child.kill()
            said += [int(line) for line in child.stdout.read().splitlines() if line]
        sketch = Sketch.open(journal)
        squares = int(sketch.motif.grid.sum())
        # the next stroke may be in the file before it was said; an undo may stand there without its redo
        starts_anew = squares == 0 and said[-1] >= 800
        undone = squares == said[-1] - 1 and sketch.can_redo
        assert squares in (said[-1], said[-1] + 1) or starts_anew or undone
        strokes += len(said)
    assert strokes > 300
