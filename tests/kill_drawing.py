"""Draws into a journal until it is killed: by who started it, or by itself at every call of the system in turn."""

import ctypes
import json
import os
import random
import shutil
import signal
import sys
import tempfile
from pathlib import Path

import numpy as np

import mosaickit.widgets.journal
from mosaickit.motif import Motif
from mosaickit.widgets.fences import is_hot
from mosaickit.widgets.sketch import Sketch

SQUARES = np.arange(900).reshape(30, 30)
ROUND = 800
"""After so many strokes the picture is empty again, so that it cannot run out."""


def picture(strokes):
    """Return a picture that tells how many strokes there are."""
    return Motif(strokes % (ROUND + 1) > SQUARES)


def strokes_in(motif):
    return int(motif.grid.sum())


def draw_on(journal, seed, mouth):
    """Draw for ever, and say the number of each stroke that is kept."""
    sketch = Sketch.open(journal, otherwise=picture(0))
    rng = random.Random(seed)
    while True:
        sketch.change(picture(strokes_in(sketch.motif) + 1), "stroke")
        if rng.random() < 0.1:
            sketch.undo()
            sketch.redo()
        mouth.send(strokes_in(sketch.motif))


# ---- killed at every call of the system (Linux) ------------------------------------------------------------

SETTINGS = mosaickit.widgets.journal.SETTINGS
UNHURRIED = (*SETTINGS, "PRAGMA synchronous = OFF")
"""For what no one kills: the disk may take its time."""

TRACE_ME, NEXT_CALL, KILLED_WITH_TRACER, OPTIONS = 0, 24, 0x100000, 0x4200  # linux/ptrace.h


def killed_at(call, act):
    """Let a fork do something and kill it when it makes its nth call of the system; tell whether it came so far."""
    libc = ctypes.CDLL(None, use_errno=True)
    child = os.fork()
    if child == 0:
        prepared = act()
        libc.ptrace(TRACE_ME, 0, None, None)
        os.kill(os.getpid(), signal.SIGSTOP)
        prepared()
        os._exit(0)
    os.waitpid(child, 0)
    libc.ptrace(OPTIONS, child, None, ctypes.c_void_p(KILLED_WITH_TRACER))
    for _ in range(2 * call - 1):  # a call stops it twice, before and after
        assert libc.ptrace(NEXT_CALL, child, None, None) == 0, os.strerror(ctypes.get_errno())
        _, status = os.waitpid(child, 0)
        if os.WIFEXITED(status):
            assert os.WEXITSTATUS(status) == 0
            return False
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def begin(journal):
    return lambda: Sketch(picture(5), journal=journal)


def stroke(journal):
    sketch = Sketch.open(journal)
    return lambda: sketch.change(picture(9), "the last stroke")


def go_on(journal):
    return lambda: Sketch.open(journal)


def close(journal):
    sketch = Sketch.open(journal)
    sketch.change(picture(9), "the last stroke")
    return sketch.close


def many(journal):
    """Take a step for which most of the journal is written again, so that far more than a page changes."""
    mosaickit.widgets.journal.LONGEST_JOURNAL = 10_000
    return stroke(journal)


def drawing(journal):
    """Draw something to go on from."""
    with Sketch(picture(0), journal=journal) as sketch:
        for strokes in range(1, 9):
            sketch.change(picture(strokes), f"stroke {strokes}")
        for strokes in range(1, 9):
            sketch.change(picture(strokes).with_grid(SQUARES % 2 == 0).named(f"{strokes}"), "whole")
        sketch.change(picture(8), "stroke 8")


def cut_off(journal):
    """Leave a stroke half done."""
    drawing(journal)
    for call in range(1, 1000):
        assert killed_at(call, lambda: stroke(journal))
        if is_hot(journal):
            return


PREPARED = {"begin": None, "stroke": drawing, "many": drawing, "close": drawing, "go_on": cut_off}


def say_what_is_left(what):
    """Print, for each call at which it was killed, what a drawing is afterwards, as a line of JSON."""
    with tempfile.TemporaryDirectory() as folder:
        start, place = Path(folder, "start"), Path(folder, "place")
        start.mkdir()
        if PREPARED[what]:
            PREPARED[what](start / "a.sketch")
        for call in range(1, 100_000):
            shutil.copytree(start, place)
            came = killed_at(call, lambda: globals()[what](place / "a.sketch"))
            mosaickit.widgets.journal.SETTINGS = UNHURRIED
            look = Sketch.read(place / "a.sketch") if (place / "a.sketch").exists() else None
            left = sorted(os.listdir(place))
            with Sketch.open(place / "a.sketch", otherwise=picture(5)) as sketch:
                told = [strokes_in(sketch.motif), sketch.steps, sketch.undo_label, sketch.recovered]
                seen = look and [strokes_in(look.motif), look.steps, look.undo_label, look.recovered]
                sketch.change(picture(20), "and on")
                kept = Sketch.read(place / "a.sketch").steps == sketch.steps
            mosaickit.widgets.journal.SETTINGS = SETTINGS
            print(json.dumps([told, seen, kept, left, sorted(os.listdir(place))]))
            shutil.rmtree(place)
            if not came:
                return


if __name__ == "__main__":
    say_what_is_left(sys.argv[1])
