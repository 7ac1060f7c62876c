"""The sketch against a plain list of motifs, and its journal against everything that can happen to a file."""

import gc
import json
import os
import random
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from functools import partial
from itertools import count
from pathlib import Path

import kill_drawing
import numpy as np
import pytest
import warmed
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f, stripes, two_stacked
from strategies import motifs
from test_design_files import designs

import mosaickit as mk
from mosaickit.errors import FileError, HeldError, MosaickitError, MotifError, OptionError
from mosaickit.files import locks
from mosaickit.widgets import journal as module
from mosaickit.widgets.records import with_checksum
from mosaickit.widgets.sketch import CUT_OFF, Sketch

operations = st.lists(
    st.one_of(motifs(most=5), designs(), st.sampled_from(["flip", "undo", "redo", "reopen"])), min_size=1, max_size=30
)
number = count()
on_linux = pytest.mark.skipif(sys.platform != "linux", reason="calls of the system are counted on Linux only")


@pytest.fixture(autouse=True)
def unhurried(monkeypatch):
    """Let the disk take its time in this process: what is killed runs in another."""
    monkeypatch.setattr(module, "SETTINGS", kill_drawing.UNHURRIED)


def test_a_stroke_is_on_the_disk_before_it_counts_and_no_write_ahead_log_is_used(tmp_path):
    assert module.SETTINGS[:-1] == kill_drawing.SETTINGS  # the last one is this module's own
    drawn(tmp_path / "a.sketch").close()
    with module.connected(tmp_path / "a.sketch") as database:
        told = [database.execute(setting).fetchone() for setting in kill_drawing.SETTINGS]
        assert told[0] == ("persist",)
        assert database.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL, as SQLite documents it


def history(journal):
    """Everything a sketch can go back and forward to, with the labels, and where in it the sketch stands."""
    sketch = journal if isinstance(journal, Sketch) else Sketch.read(journal)
    steps = sketch.steps
    while sketch.can_undo:
        sketch.undo()
    states = [(sketch.undo_label, sketch.design)]
    while sketch.can_redo:
        sketch.redo()
        states.append((sketch.undo_label, sketch.design))
    return states, steps


@pytest.mark.thorough
@given(designs(), operations, st.sampled_from([1, 3, 8, 100]))
def test_a_sketch_does_what_a_list_of_designs_does(tmp_path_factory, start, todo, most):
    journal = tmp_path_factory.mktemp("sketch") / f"{next(number)}.sketch"
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
            sketch.close()
            sketch = Sketch.open(journal)
        else:
            now = states[at][1]
            what = now.motif.with_grid(~now.motif.grid) if what == "flip" else what
            try:
                new = what if isinstance(what, mk.Design) else now.but(motif=what)
            except MosaickitError as error:
                with pytest.raises(type(error), match=re.escape(str(error))):
                    sketch.change(what)
                continue
            sketch.change(what, f"step {step}")
            if new != now:
                states = [*states[: at + 1], (f"step {step}", new)][-most - 1 :]
                at = len(states) - 1
        assert sketch.design == states[at][1]
        assert (sketch.steps, sketch.can_undo, sketch.can_redo) == (at, at > 0, at < len(states) - 1)
        assert sketch.undo_label == (states[at][0] if at else "")
        assert sketch.redo_label == (states[at + 1][0] if at + 1 < len(states) else "")
    assert sketch.trouble == sketch.recovered == ""
    states[0] = ("", states[0][1])
    assert history(journal) == (states, at)


@given(st.data(), motifs(most=9))
def test_a_stroke_is_kept_as_the_squares_it_flips(tmp_path_factory, data, before):
    after = before.with_grid(data.draw(motifs(shape=st.just(before.shape))).grid)
    journal = tmp_path_factory.mktemp("sketch") / "stroke.sketch"
    Sketch(before, journal=journal).change(after)
    with closing(sqlite3.connect(journal)) as database:
        for (change,) in database.execute("SELECT change FROM steps"):
            assert isinstance(change, bytes)
            runs = np.frombuffer(change, "<i4").reshape(-1, 2).tolist()
            flipped = [square for first, length in runs for square in range(first, first + length)]
            assert flipped == np.flatnonzero(before.grid != after.grid).tolist()
            assert len(runs) == np.count_nonzero(np.diff(flipped) > 1) + 1
    states = states_of(("", before), *[("", after)] * (after != before))
    assert history(journal) == (states, int(after != before))


def test_a_stroke_of_very_many_runs_is_kept_as_the_whole_picture_which_is_shorter(tmp_path):
    plain = mk.Motif(np.zeros((100, 100), dtype=bool))
    checks = plain.with_grid(np.indices((100, 100)).sum(axis=0) % 2 == 1)
    sketch = Sketch(plain, journal=tmp_path / "checks.sketch")
    sketch.change(checks, "checks")
    with closing(sqlite3.connect(tmp_path / "checks.sketch")) as database:
        ((length,),) = database.execute("SELECT length(change) FROM steps")
    assert 10_000 < length < 13_000  # a character a square; the 5,000 runs would take 40,000 bytes
    assert history(tmp_path / "checks.sketch") == (states_of(("", plain), ("checks", checks)), 1)


@pytest.mark.usefixtures("slow")
def test_two_thousand_steps_can_be_undone_after_opening_and_redone(tmp_path):
    # every picture shows its number, so that none can stand for another
    pictures = [stripes.with_grid(((n >> np.arange(16)) & 1).astype(bool).reshape(4, 4)) for n in range(2101)]
    sketch = Sketch(pictures[0], journal=tmp_path / "many.sketch")
    for picture in pictures[1:]:
        sketch.change(picture)
    sketch.close()
    again = Sketch.open(tmp_path / "many.sketch")
    assert again.steps == 2000
    assert [again.undo().motif for _ in range(2000)] == pictures[-2:99:-1]
    assert not again.can_undo
    again.close()
    again = Sketch.open(tmp_path / "many.sketch")
    assert [again.redo().motif for _ in range(2000)] == pictures[101:]


def drawn(journal):
    sketch = Sketch(stripes, journal=journal)
    for motif, label in ((mk.counterchange(stripes), "swap"), (letter_f, "letter"), (two_stacked, "two")):
        sketch.change(motif, label)
    sketch.undo()
    sketch.keep_beside("look", "{}")
    return sketch


def states_of(*labelled):
    """A history's states from labels and motifs."""
    return [(label, mk.Design(motif)) for label, motif in labelled]


DRAWN = states_of(("", stripes), ("swap", mk.counterchange(stripes)), ("letter", letter_f), ("two", two_stacked))


def test_a_drawing_that_is_closed_shows_its_motif_and_takes_no_more_strokes(tmp_path):
    with drawn(tmp_path / "a.sketch") as sketch:
        pass
    sketch.close()
    for act in (sketch.undo, sketch.redo, lambda: sketch.change(stripes)):
        with pytest.raises(OptionError, match=r"This sketch is closed.*go on with its file by `Sketch\.open`"):
            act()
    assert sketch.motif == letter_f
    assert history(tmp_path / "a.sketch") == (DRAWN, 2)
    assert os.listdir(tmp_path) == ["a.sketch"]


def test_every_drawing_has_an_identity_that_it_keeps(tmp_path):
    drawings = [Sketch(stripes, journal=tmp_path / f"{n}.sketch") for n in range(20)] + [Sketch(stripes)]
    assert len({sketch.identity for sketch in drawings}) == 21
    first = drawings[0]
    assert re.fullmatch("[0-9a-f]{32}", first.identity)
    assert Sketch.read(tmp_path / "0.sketch").identity == first.identity
    (tmp_path / "0.sketch").unlink()
    first.change(letter_f)
    first.close()
    with Sketch.open(tmp_path / "0.sketch") as again:
        assert again.identity == first.identity


# ---- damaged and foreign files -----------------------------------------------------------------------------


def opened(file):
    """Read a file; give a sentence, or the history with the identity. Opening it for drawing says the same."""
    before = file.read_bytes()
    try:
        sketch = Sketch.read(file)
        told = "", (history(sketch), sketch.identity)
    except MosaickitError as error:
        told = str(error), None
    assert file.read_bytes() == before
    return told


def test_a_journal_cut_at_any_byte_is_refused_and_stays_as_it_is(tmp_path):
    drawn(tmp_path / "whole.sketch").close()
    whole = (tmp_path / "whole.sketch").read_bytes()
    file = tmp_path / "cut.sketch"
    for cut in [*range(200), *range(200, len(whole), 41), len(whole) - 1]:
        file.write_bytes(whole[:cut])
        for look in (Sketch.read, Sketch.open):
            with pytest.raises(
                FileError,
                match=r"^'cut\.sketch': (The file (is empty|is damaged|could not be read)|This is no sketch)",
            ):
                look(file)
        assert file.read_bytes() == whole[:cut]


@pytest.mark.thorough
def test_a_journal_damaged_at_any_byte_is_refused_or_lacks_nothing_and_stays_as_it_is(tmp_path):
    sketch = drawn(tmp_path / "whole.sketch")
    sketch.close()
    whole = (tmp_path / "whole.sketch").read_bytes()
    rng = random.Random(7)
    used = [at for at, byte in enumerate(whole) if byte or rng.random() < 0.01]
    file = tmp_path / "bad.sketch"
    refused = accepted = 0
    for at in [*range(100), *(at for at in used if at >= 100 and rng.random() < 0.4)]:
        damaged = bytearray(whole)
        damaged[at] ^= rng.randrange(1, 256)
        file.write_bytes(damaged)
        sentence, found = opened(file)
        if found is None:
            refused += 1
            assert re.match(r"'bad\.sketch': (The file |This |At |Step )", sentence)
            with pytest.raises(FileError, match=r"^'bad\.sketch': "):
                Sketch.open(file)
            assert file.read_bytes() == damaged
            continue
        accepted += 1
        assert found == ((DRAWN, 2), sketch.identity)
        # and it can be gone on with, or says that it cannot
        with Sketch.open(file) as on:
            on.change(stripes.named("on"))
            assert on.trouble or Sketch.read(file).motif == stripes.named("on")
    assert refused > 3 * accepted > 0


def altered(file, *statements):
    with closing(sqlite3.connect(file)) as database:
        for statement in statements:
            database.execute(statement)
        database.commit()


def with_step(label, change):
    row = with_checksum(3, label, change)
    return lambda file: replaced(file, "steps", "number = 3", row)


def with_drawing(**other):
    def change(file):
        with closing(sqlite3.connect(file)) as database:
            names = ["identity", "most_steps", "done", "last", "stamp"]
            row = dict(zip(names, database.execute("SELECT * FROM drawing").fetchone(), strict=False)) | other
        replaced(file, "drawing", "1", with_checksum(*row.values()))

    return change


def replaced(file, table, where, row):
    with closing(sqlite3.connect(file)) as database:
        database.execute(f"DELETE FROM {table} WHERE {where}")
        database.execute(f"INSERT INTO {table} VALUES ({','.join('?' * len(row))})", row)
        database.commit()


def statement(*lines):
    return lambda file: altered(file, *lines)


def test_what_was_entered_beside_the_design_is_kept_and_is_no_step(tmp_path):
    file = tmp_path / "beside.sketch"
    sketch = drawn(file)
    steps, undo = sketch.steps, sketch.undo_label
    sketch.keep_beside("many", '["a"]')
    sketch.keep_beside("lay", "{}")
    sketch.keep_beside("many", '["b"]')
    sketch.undo()
    sketch.close()
    opened = Sketch.open(file)
    assert dict(opened.beside) == dict(Sketch.read(file).beside) == {"lay": "{}", "look": "{}", "many": '["b"]'}
    assert (opened.steps, opened.redo_label) == (steps - 1, undo)
    with pytest.raises(OptionError, match="closed"):
        sketch.keep_beside("many", "[]")
    file.unlink()  # a file that is gone is written again, whole
    opened.keep_beside("yarn", "{}")
    opened.close()
    assert set(Sketch.read(file).beside) == {"lay", "look", "many", "yarn"}


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        (
            lambda file: file.write_bytes(b"scarf" * 99),
            "The file could not be read: it is no sketch, which is an SQLite",
        ),
        (lambda file: file.write_bytes(b""), "The file is empty"),
        (statement("PRAGMA application_id = 0"), "This is no sketch, but a database of something else"),
        (statement("PRAGMA user_version = 9"), "This sketch is of version 9; this mosaickit reads version 3"),
        (statement("DROP TABLE steps"), "it does not have the tables of a sketch"),
        (statement("CREATE TRIGGER t AFTER INSERT ON steps BEGIN DELETE FROM steps; END"), "the tables of a sketch"),
        (statement("UPDATE steps SET label = 'x' WHERE number = 2"), "row 2 of its table 'steps' has been changed"),
        (statement("UPDATE steps SET change = CAST(change AS BLOB)"), "row 1 of its table 'steps' has been changed"),
        (statement("UPDATE drawing SET done = 0"), "row 1 of its table 'drawing' has been changed"),
        (statement("DELETE FROM steps WHERE number = 2"), "steps are missing"),
        (statement("DELETE FROM steps WHERE number = 3"), "steps are missing"),
        (statement("DELETE FROM drawing"), "it does not hold one drawing"),
        (statement("INSERT INTO start SELECT * FROM start"), "it does not hold one drawing"),
        (with_drawing(done=4), "steps are missing"),
        (with_drawing(last=10**18), "steps are missing"),
        (with_drawing(done="many"), "something else where a number should be"),
        (with_drawing(identity=b"x"), "something else where a text should be"),
        (with_drawing(most_steps=0), "`most_steps` must be a whole number of 1 or more; got 0"),
        (with_step("", np.int32([0, 99]).tobytes()), r"Step 3: Expected squares of the picture in rising order"),
        (with_step("", np.int32([2, 1, 1, 1]).tobytes()), r"Step 3: Expected squares of the picture in rising order"),
        (with_step("", np.int32([1, 0]).tobytes()), r"Step 3: Expected squares of the picture in rising order"),
        (with_step("", np.int32([-1, 2]).tobytes()), r"Step 3: Expected squares of the picture in rising order"),
        (with_step("", np.int32([2**31 - 1] * 2).tobytes()), r"Step 3: Expected squares of the picture"),
        (with_step("", b"123"), r"Step 3: Expected a design, or pairs of a square and how many follow"),
        (with_step("", 3.5), r"Step 3: Expected a design, or pairs of a square and how many follow"),
        (with_step("\n", b""), r"Step 3: A step's label must be one line of printable characters"),
        (with_step(b"x", b""), r"Step 3: A step's label must be text; got "),
        (with_step("", "{}"), r"Step 3: This is no design"),
        (statement("UPDATE beside SET entered = 'x'"), "row 1 of its table 'beside' has been changed"),
        (
            lambda file: replaced(file, "beside", "1", with_checksum("lay", b"x")),
            "something else where a text should be",
        ),
    ],
)
def test_a_file_that_makes_no_sense_is_refused_with_a_sentence_and_stays_as_it_is(tmp_path, spoil, message):
    file = tmp_path / "odd.sketch"
    drawn(file).close()
    spoil(file)
    before = file.read_bytes()
    for look in (Sketch.read, Sketch.open):
        with pytest.raises(FileError, match=rf"^'odd\.sketch': .*{message}"):
            look(file)
    with pytest.raises(FileError, match=message):
        Sketch.open(file, otherwise=letter_f)
    assert file.read_bytes() == before
    assert os.listdir(tmp_path) == ["odd.sketch"]  # and no lock stays behind


def test_a_missing_journal_is_started_or_refused_and_one_that_is_there_is_not_overwritten(tmp_path):
    for look in (Sketch.open, Sketch.read):
        with pytest.raises(FileError, match=r"'no\.sketch': There is no such file"):
            look(tmp_path / "no.sketch")
    Sketch.open(tmp_path / "new.sketch", otherwise=letter_f).close()
    with pytest.raises(FileError, match=r"'new\.sketch' is there already: go on with it by `Sketch\.open`"):
        Sketch(stripes, journal=tmp_path / "new.sketch")
    assert Sketch.open(tmp_path / "new.sketch", otherwise=stripes).motif == letter_f


@pytest.mark.parametrize("motif", [None, "#", letter_f.grid])
def test_only_a_motif_or_a_design_can_be_made(motif):
    with pytest.raises(OptionError, match=r"`start` must be a `Motif` or a `Design`; got "):
        Sketch(motif)
    sketch = Sketch(letter_f)
    with pytest.raises(OptionError, match=r"`start` must be a `Motif` or a `Design`; got "):
        sketch.change(motif)
    assert (sketch.motif, sketch.steps) == (letter_f, 0)


@pytest.mark.parametrize("label", ["x" * 201, "two\nlines", "\ud800", 3])
def test_a_label_that_could_not_be_read_back_is_refused_before_anything_is_written(tmp_path, label):
    sketch = Sketch(letter_f, journal=tmp_path / "label.sketch")
    before = (tmp_path / "label.sketch").read_bytes()
    with pytest.raises(MotifError, match=r"A step's label must "):
        sketch.change(stripes, label)
    assert sketch.motif == letter_f
    assert (tmp_path / "label.sketch").read_bytes() == before


def test_a_journal_that_cannot_be_started_is_refused_with_a_sentence(tmp_path):
    for file in (tmp_path / "no folder" / "a.sketch", tmp_path / ("long" * 100), tmp_path / "nul\0.sketch"):
        message = r" cannot be written there: .*\. Give `autosave` a name in another folder\."
        with pytest.raises(FileError, match=message):
            Sketch(letter_f, journal=file)
        with pytest.raises(FileError, match=message):
            Sketch.open(file, otherwise=letter_f)


# ---- a disk that does not take it --------------------------------------------------------------------------

FULL = re.escape("The drawing is kept in memory only, as its file could not be written: the disk is full.")


@contextmanager
def no_more_pages():
    """Let SQLite find no room for another page, as on a full disk."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(module, "SETTINGS", (*module.SETTINGS, "PRAGMA max_page_count = 1"))
        yield


@contextmanager
def no_longer_files():
    """Let the system refuse to write behind byte 3,000 of any file."""
    resource = pytest.importorskip("resource", reason="this system does not limit the length of files")
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (3000, limits[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)


@pytest.mark.parametrize(("disk", "says"), [(no_more_pages, FULL), (no_longer_files, "the disk failed, or is full")])
def test_a_full_disk_is_said_and_healed(tmp_path, disk, says):
    file = tmp_path / "full.sketch"
    sketch = drawn(file)
    rng = np.random.default_rng(3)
    big, bigger = (mk.Motif(rng.random((side, side)) < 0.5) for side in (90, 120))
    with disk():
        sketch.change(big, "while full")
        assert re.search(says, sketch.trouble)
        sketch.change(bigger, "still full")
        assert sketch.undo().motif == big
        assert sketch.redo().motif == bigger
        assert re.search(says, sketch.trouble)
    # anyone who is killed now still has what was kept before
    for ending in ("", "-journal"):
        shutil.copy(f"{file}{ending}", f"{tmp_path / 'now.sketch'}{ending}")
    assert history(tmp_path / "now.sketch") == (DRAWN, 2)
    sketch.change(two_stacked, "room again")
    assert sketch.trouble == ""
    after = states_of(("while full", big), ("still full", bigger), ("room again", two_stacked))
    assert history(file) == ([*DRAWN[:3], *after], 5)


def test_closing_is_the_last_chance_to_keep_what_was_not_kept(tmp_path):
    sketch = drawn(tmp_path / "full.sketch")
    with no_more_pages():
        sketch.change(mk.Motif(np.ones((90, 90), dtype=bool)), "while full")
        assert sketch.trouble
    sketch.close()
    assert sketch.trouble == ""
    assert Sketch.read(tmp_path / "full.sketch").undo_label == "while full"


class Stopping:
    """A connection that is interrupted before or after it does something."""

    def __init__(self, database, what, after):
        self.database, self.what, self.after = database, what, after

    def __getattr__(self, name):
        return getattr(self.database, name)

    def execute(self, statement, *values):
        if not statement.startswith(self.what):
            return self.database.execute(statement, *values)
        if self.after:
            self.database.execute(statement, *values)
        raise KeyboardInterrupt


@pytest.mark.parametrize("after", [False, True])
@pytest.mark.parametrize(
    "what", ["PRAGMA sync", "BEGIN", "SELECT", "DELETE FROM steps", "DELETE FROM drawing", "COMMIT"]
)
def test_a_step_that_is_interrupted_leaves_no_gap_in_the_journal(tmp_path, monkeypatch, what, after):
    sketch = drawn(tmp_path / "stopped.sketch")

    @contextmanager
    def stopping(file, mode="rw", connected=module.connected):
        with connected(file, mode) as database:
            yield Stopping(database, what, after)

    with monkeypatch.context() as patched:
        patched.setattr(module, "connected", stopping)
        with pytest.raises(KeyboardInterrupt):
            sketch.change(letter_f.with_grid(~letter_f.grid), "stopped")
    # this one flips squares of the picture that the journal may lack
    sketch.change(sketch.motif.with_grid(np.roll(sketch.motif.grid, 1)), "next")
    assert sketch.trouble == ""
    assert history(tmp_path / "stopped.sketch") == history(sketch)


@pytest.mark.parametrize(("what", "place"), [("write", module.Journal), ("write_whole", module)])
def test_an_interruption_right_after_a_write_leaves_no_gap_in_the_journal(tmp_path, monkeypatch, what, place):
    # a whole write after which old steps are forgotten, and one of a file that was removed
    sketch = drawn(tmp_path / "stopped.sketch")
    whole = getattr(place, what)

    def stopping(*given):
        whole(*given)
        raise KeyboardInterrupt

    if place is module:
        (tmp_path / "stopped.sketch").unlink()
    with monkeypatch.context() as patched:
        patched.setattr(module, "LONGEST_JOURNAL", 0)
        patched.setattr(place, what, stopping)
        with pytest.raises(KeyboardInterrupt):
            sketch.change(letter_f.with_grid(~letter_f.grid), "stopped")
    assert Sketch.read(tmp_path / "stopped.sketch").steps < sketch.steps
    sketch.change(sketch.motif.with_grid(np.roll(sketch.motif.grid, 1)), "next")
    assert sketch.trouble == ""
    assert history(tmp_path / "stopped.sketch") == history(sketch)


def test_a_journal_that_was_removed_is_written_again_as_a_whole(tmp_path):
    for what in ("gone.sketch", "gone.sketch-journal", ".gone.sketch.lock"):
        sketch = drawn(tmp_path / "gone.sketch")
        (tmp_path / what).unlink()
        sketch.change(stripes, "after")
        assert sketch.trouble == ""
        assert history(tmp_path / "gone.sketch") == ([*DRAWN[:3], *states_of(("after", stripes))], 3)
        sketch.close()
        (tmp_path / "gone.sketch").unlink()


def test_a_folder_that_was_removed_is_said_and_the_drawing_is_written_when_it_is_back(tmp_path):
    (tmp_path / "folder").mkdir()
    sketch = drawn(tmp_path / "folder" / "gone.sketch")
    shutil.rmtree(tmp_path / "folder")
    sketch.change(stripes, "after")
    assert "'gone.sketch' cannot be written there: there is no such folder." in sketch.trouble
    (tmp_path / "folder").mkdir()
    sketch.change(two_stacked, "back")
    assert sketch.trouble == ""
    assert history(tmp_path / "folder" / "gone.sketch") == history(sketch)


def test_a_file_that_someone_else_has_changed_is_left_as_it_is(tmp_path):
    sketch = drawn(tmp_path / "a.sketch")
    Sketch(letter_f, journal=tmp_path / "b.sketch").close()
    (tmp_path / "b.sketch").replace(tmp_path / "a.sketch")
    before = (tmp_path / "a.sketch").read_bytes()
    sketch.change(stripes, "here")
    assert "another program has changed 'a.sketch'. Move that file away, and this drawing" in sketch.trouble
    assert (tmp_path / "a.sketch").read_bytes() == before
    (tmp_path / "a.sketch").replace(tmp_path / "b.sketch")  # the cure that is named
    sketch.undo()
    assert sketch.trouble == ""
    assert history(tmp_path / "a.sketch") == ([*DRAWN[:3], *states_of(("here", stripes))], 2)


def test_what_a_killed_program_left_beside_a_removed_file_does_not_spoil_a_new_one(tmp_path):
    kill_drawing.drawing(tmp_path / "old.sketch")
    hot = b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7"  # what a rollback journal begins with, as SQLite's file format says
    (tmp_path / "a.sketch-journal").write_bytes(hot + b"\xff" * 4 + bytes(500) + (tmp_path / "old.sketch").read_bytes())
    drawn(tmp_path / "a.sketch")
    assert history(tmp_path / "a.sketch") == (DRAWN, 2)


def test_a_journal_that_grew_long_forgets_its_oldest_steps(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "LONGEST_JOURNAL", 60_000)
    sketch = Sketch(letter_f, journal=tmp_path / "long.sketch")
    rng = np.random.default_rng(4)
    for step in range(200):
        side = 20 + step % 40  # no two alike
        sketch.change(mk.Motif(rng.random((side, side)) < 0.5), f"step {step}")
        assert (tmp_path / "long.sketch").stat().st_size <= 60_000
        assert sketch.trouble == ""
    again = Sketch.read(tmp_path / "long.sketch")
    assert again.motif == sketch.motif
    assert again.undo_label == "step 199"
    assert 0 < again.steps < 200
    assert history(again) == history(sketch)


def test_the_row_of_a_stroke_stays_small_however_many_steps_are_forgotten(tmp_path):
    sketch = Sketch(mk.Motif(np.zeros((100, 100), dtype=bool)), journal=tmp_path / "a.sketch", most_steps=16)
    lengths = []
    for step in range(60):
        grid = sketch.motif.grid.copy()
        grid.ravel()[step] = True
        sketch.change(sketch.motif.with_grid(grid), "paint")
        with closing(sqlite3.connect(tmp_path / "a.sketch")) as database:
            lengths += database.execute("SELECT max(length(change)) FROM steps").fetchone()
            (kept,) = database.execute("SELECT count(*) FROM steps").fetchone()
        assert kept <= 16 * 9 / 8
    assert set(lengths) == {8}
    assert history(tmp_path / "a.sketch") == history(sketch)


# ---- one at a time -----------------------------------------------------------------------------------------


def elsewhere(code, *arguments, **environment):
    """Run code in another process; it says what it has to say in one line, and ends when its input does."""
    return subprocess.Popen(
        [
            sys.executable,
            "-c",
            f"import sys; from mosaickit.widgets.sketch import Sketch\n{code}",
            *map(str, arguments),
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, **environment},
    )


HOLD = "sketch = Sketch.open(sys.argv[1]); print('open', flush=True); sys.stdin.read(); sketch.close()"


def test_a_second_program_is_told_who_draws_and_what_to_do_and_may_look(tmp_path):
    file = tmp_path / "a.sketch"
    drawn(file).close()
    with elsewhere(HOLD, file, JPY_SESSION_NAME="/home/maker/scarf.ipynb") as other:
        assert other.stdout.readline() == "open\n"
        message = (
            rf"'a\.sketch' is being written by the notebook 'scarf\.ipynb' \(process {other.pid} on .+\), since "
            r"\d{4}-\d\d-\d\d \d\d:\d\d\. Shut down that notebook's kernel, .* or give `autosave` another name\. To "
            r"look at it meanwhile, use `Sketch\.read`\."
        )
        with pytest.raises(HeldError, match=message) as held:
            Sketch.open(file)
        assert held.value.holder.startswith("the notebook 'scarf.ipynb' (process ")
        with pytest.raises(HeldError, match=message):
            Sketch(letter_f, journal=file)
        assert history(file) == (DRAWN, 2)
        other.stdin.close()  # the cure that is named
    assert other.returncode == 0
    with Sketch.open(file) as sketch:
        assert sketch.recovered == ""


def test_a_second_sketch_in_one_program_is_refused_until_the_first_is_closed_or_gone(tmp_path):
    sketch = drawn(tmp_path / "a.sketch")
    (tmp_path / "link.sketch").symlink_to(tmp_path / "a.sketch")
    for name in ("a.sketch", "link.sketch"):
        with pytest.raises(FileError, match=rf"is being written by the program '.+' \(process {os.getpid()} on "):
            Sketch.open(tmp_path / name)
    sketch.close()
    second = Sketch.open(tmp_path / "a.sketch")
    with pytest.raises(FileError, match="is being written by"):
        Sketch.open(tmp_path / "a.sketch")
    del second
    gc.collect()
    Sketch.open(tmp_path / "a.sketch").close()
    assert sorted(os.listdir(tmp_path)) == ["a.sketch", "link.sketch"]


def test_a_program_that_is_killed_leaves_no_lock_that_hinders(tmp_path):
    file = tmp_path / "a.sketch"
    drawn(file).close()
    with elsewhere(HOLD, file) as other:
        other.stdout.readline()
        other.kill()
    assert (tmp_path / ".a.sketch.lock").exists()
    Sketch.open(file).close()


def test_a_lock_that_was_removed_and_taken_by_another_is_noticed(tmp_path):
    file = tmp_path / "a.sketch"
    sketch = drawn(file)
    (tmp_path / ".a.sketch.lock").unlink()
    with elsewhere(HOLD, file) as other:
        other.stdout.readline()
        sketch.change(stripes, "here")
        assert f"(process {other.pid} on " in sketch.trouble
        other.stdin.close()
    sketch.undo()
    assert sketch.trouble == ""
    assert history(file) == ([*DRAWN[:3], *states_of(("here", stripes))], 2)


def test_a_disk_that_cannot_lock_is_said(tmp_path, monkeypatch):
    def unable(descriptor):
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(locks, "_try_to_lock", unable)
    message = (
        r"^'a\.sketch' cannot be written safely: its folder is on a disk that cannot lock files \(the system says "
        r"Operation not supported\), so two programs could spoil each other's work\. Give `autosave` a name in another"
    )
    with pytest.raises(FileError, match=message):
        Sketch(letter_f, journal=tmp_path / "a.sketch")
    assert not (tmp_path / "a.sketch").exists()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system does not fork")
def test_a_fork_does_not_keep_the_file_from_others(tmp_path):
    code = (
        "import os, signal; sketch = Sketch.open(sys.argv[1]); sketch.undo(); child = os.fork()\n"
        "if child: signal.pause()\n"
        "print('forked', flush=True); sys.stdin.read()\n"
        "sketch.redo(); print(sketch.trouble, flush=True); sketch.close()"
    )
    drawn(tmp_path / "a.sketch").close()
    with elsewhere(code, tmp_path / "a.sketch") as other:
        other.stdout.readline()
        other.kill()
        other.wait()
        with Sketch.open(tmp_path / "a.sketch") as sketch:
            other.stdin.close()
            assert re.search(rf"is being written by the program '.+' \(process {os.getpid()} on", other.stdout.read())
            assert sketch.steps == 1
            sketch.redo()
            assert sketch.trouble == ""


def test_any_thread_may_draw(tmp_path):
    sketch = Sketch(stripes, journal=tmp_path / "a.sketch")
    for step in range(6):
        with ThreadPoolExecutor(1) as thread:
            thread.submit(sketch.change, stripes.named(f"{step}")).result()
    assert (sketch.trouble, sketch.steps) == ("", 6)
    assert history(tmp_path / "a.sketch") == history(sketch)


DRAW_ON = """
import random
sketch = Sketch.open(sys.argv[1])
print("open", flush=True)
while True:
    sketch.change(sketch.motif.with_grid(~sketch.motif.grid), f"{sketch.steps + 1}")
    assert not sketch.trouble, sketch.trouble
"""


def test_a_look_while_another_draws_shows_a_whole_drawing_and_does_not_disturb(tmp_path):
    file = tmp_path / "a.sketch"
    Sketch(letter_f, journal=file).close()
    with elsewhere(DRAW_ON, file) as other:
        other.stdout.readline()
        steps = [0]
        while steps[-1] < 40:
            look = Sketch.read(file)
            steps.append(look.steps)
            assert look.motif == (letter_f.with_grid(~letter_f.grid) if look.steps % 2 else letter_f)
            assert look.undo_label in (f"{look.steps}", "")
            assert other.poll() is None
        assert steps == sorted(steps)
        other.kill()


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="this system has no other user to be")
@pytest.mark.parametrize(
    ("folder_mode", "file_mode", "says"),
    [
        (
            0o555,
            0o666,
            "'a.sketch' cannot be written there: permission is denied. Give `autosave` a name in another folder.",
        ),
        (0o777, 0o444, "'a.sketch': The file is write-protected, so nothing that is drawn could be kept"),
    ],
)
def test_a_protected_folder_or_file_is_refused_and_may_be_looked_at(folder_mode, file_mode, says):
    # not below the folder of the tests, which is closed to other users; root may write anywhere
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "a.sketch"
        drawn(file).close()
        file.chmod(file_mode)
        Path(folder).chmod(folder_mode)
        code = (
            "import os, mosaickit.errors\nif os.geteuid() == 0: os.setuid(65534)\n"
            "print(Sketch.read(sys.argv[1]).steps)\n"
            "try: Sketch.open(sys.argv[1])\nexcept mosaickit.errors.FileError as error: print(error)"
        )
        try:
            said, _ = elsewhere(code, file).communicate()
        finally:
            Path(folder).chmod(0o700)
    assert said.startswith("2\n")
    assert says in said


# ---- killed ------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("slow")
@on_linux
@pytest.mark.parametrize("what", ["begin", "stroke", "many", "close", "go_on"])
def test_a_drawing_killed_at_any_call_of_the_system_is_before_or_after_it(what):
    code = [sys.executable, Path(__file__).parent / "kill_drawing.py", what]
    said = subprocess.run(code, capture_output=True, text=True, check=True).stdout.splitlines()
    before = [8, 17, "stroke 8"]
    after = [9, 1 if what == "many" else 18, "the last stroke"]
    expected = {"begin": [[5, 0, ""]], "close": [after], "go_on": [before]}.get(what, [before, after])
    moments = [json.loads(line) for line in said]
    assert len(moments) > 30
    for (*told, recovered), seen, kept, left, afterwards in moments:
        assert told in expected
        # the look is the same, also where a stroke has to be taken back first
        assert seen == [*told, recovered] or (what == "begin" and seen is None)
        assert recovered in ("", CUT_OFF)
        assert kept
        assert set(left) <= {"a.sketch", "a.sketch-journal", ".a.sketch.lock"} or what == "begin"
        assert [name for name in afterwards if not name.endswith(".part")] == ["a.sketch"]
    assert [told[:3] for told, *_ in moments] == sorted([told[:3] for told, *_ in moments])
    found = {tuple(told[:3]) for told, *_ in moments}
    assert len(found) == len(expected)
    if what in ("stroke", "many", "go_on"):
        assert any(told[3] for told, *_ in moments)


def killed(processes, journal, kills):
    """Kill a child that draws, over and over; give how many strokes it was heard to keep."""
    rng = random.Random(kills)
    strokes = 0
    for kill in range(kills):
        ear, mouth = processes.Pipe(duplex=False)
        child = processes.Process(target=kill_drawing.draw_on, args=(journal, kill, mouth))
        child.start()
        mouth.close()
        said = [ear.recv() for _ in range(rng.randrange(1, 12))]
        child.kill()
        child.join()
        try:
            while True:
                said.append(ear.recv())
        except (EOFError, OSError):  # a word cut short is none
            ear.close()
        sketch = Sketch.read(journal)
        squares = kill_drawing.strokes_in(sketch.motif)
        # the next stroke may be in the file before it was said
        assert squares in (said[-1], (said[-1] + 1) % (kill_drawing.ROUND + 1))
        assert sketch.motif == kill_drawing.picture(squares)
        assert sketch.steps > 0
        assert kill_drawing.strokes_in(sketch.undo().motif) == (squares - 1 if squares else kill_drawing.ROUND)
        strokes += len(said)
    return strokes


@pytest.mark.usefixtures("slow")
def test_a_drawing_killed_a_hundred_times_loses_at_most_the_stroke_in_hand(tmp_path):
    one_by_one = partial(killed, warmed.processes(Sketch.__module__))
    with ThreadPoolExecutor(2) as pool:
        heard = list(pool.map(one_by_one, [tmp_path / f"{n}.sketch" for n in range(4)], [24, 25, 25, 26]))
    assert sum(heard) >= 100
