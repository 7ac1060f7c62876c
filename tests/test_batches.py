"""Batches: the same results however they run, and nothing that is done is lost, done again or mistaken."""

import json
import math
import multiprocessing
import os
import random
import re
import subprocess
import sys
import time
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path
from threading import Event, Lock

import batch_work
import pytest
from batch_work import SQUARES, deadly, interrupted, nearly, squares
from hypothesis import given, settings
from hypothesis import strategies as st

from mosaickit import Batch
from mosaickit import batches as module
from mosaickit.batches import run_batches
from mosaickit.errors import FileError, OptionError, StoppedError, UnfinishedError


def quiet(work, batches, **options):
    """Run without a bar; what is no argument of `run_batches` is one of `Batch`."""
    own = {name: options.pop(name) for name in ("task", "in_flight") if name in options}
    return run_batches(work, batches, batch=Batch(progress=False, **options), **own)


def kept(folder):
    """Everything in a folder, by name."""
    return {file.name: file.read_bytes() for file in Path(folder).iterdir()}


@pytest.fixture(scope="module")
def processes():
    # spawned, as a fork of a process with threads is warned of
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("spawn")) as pool:
        yield pool


# ---- the same however it runs ----------------------------------------------------------------------------


@settings(max_examples=25)
@given(st.lists(st.integers(0, 29), max_size=30), st.integers(1, 5), st.integers(1, 40), st.booleans())
def test_results_stand_in_the_order_of_the_batches_on_any_threads(tmp_path_factory, numbers, workers, in_flight, keep):
    where = {"kept_in": tmp_path_factory.mktemp("kept"), "task": "squares"} if keep else {}
    with ThreadPoolExecutor(workers) as pool:
        results = quiet(squares, numbers, executor=pool, in_flight=in_flight, **where)
    assert results == quiet(squares, numbers) == [SQUARES[number] for number in numbers]
    assert not keep or quiet(None, numbers, **where) == results  # all read back, no work done


@pytest.mark.parametrize("in_flight", [1, 3, 256])
def test_results_stand_in_the_order_of_the_batches_on_other_processes(processes, in_flight):
    assert quiet(squares, range(30), executor=processes, in_flight=in_flight) == SQUARES


ODD = {"tuple": (1, (2, None)), 3: "Düne \ud800", "numbers": [0.1, -0.0, 1e300, math.inf, True], "empty": {}}


def odd(_):
    return ODD


def test_results_are_what_json_makes_of_them_whether_fresh_sent_or_kept(tmp_path):
    expected = [json.loads(json.dumps(ODD))] * 2
    with ThreadPoolExecutor(1) as pool:
        assert quiet(odd, [1, 2], executor=pool) == expected
    assert quiet(odd, [1, 2]) == expected
    for _ in "fresh", "kept":
        assert quiet(odd, [1, 2], kept_in=tmp_path, task=1) == expected


class Counting(ThreadPoolExecutor):
    """Threads that know how many batches they had at most at a time."""

    def __init__(self):
        super().__init__(2)
        self.lock, self.now, self.most = Lock(), 0, 0

    def submit(self, *args):
        with self.lock:
            self.now += 1
            self.most = max(self.most, self.now)
        future = super().submit(*args)
        future.add_done_callback(self.done)
        return future

    def done(self, _):
        with self.lock:
            self.now -= 1


def test_an_executor_is_never_given_more_batches_than_it_may_have():
    with Counting() as pool:
        quiet(squares, [n % 30 for n in range(100)], executor=pool, in_flight=7)
    assert 3 < pool.most <= 7


def test_a_bar_counts_batches_and_starts_at_those_that_were_kept(tmp_path, capsys):
    with pytest.raises(UnfinishedError):
        run_batches(nearly, range(10), task="bar", batch=Batch(kept_in=tmp_path, progress=False))
    assert capsys.readouterr().err == ""
    run_batches(abs, range(10), task="bar", batch=Batch(kept_in=tmp_path))
    bar = capsys.readouterr().err
    assert "7/10" in bar.split("\r")[1]
    assert "10/10" in bar


# ---- killed, stopped, failed -----------------------------------------------------------------------------


@pytest.mark.usefixtures("slow")
def test_a_run_killed_twenty_times_does_no_kept_batch_again_and_ends_with_all(tmp_path):
    (tmp_path / "marks").mkdir()
    rng = random.Random(3)
    killed = begun = 0
    for _ in range(20):
        done_before = {name: marks(tmp_path, name) for name in numbers_kept(tmp_path)}
        run = start(tmp_path)
        # until it has done something more, so that the moment is in the midst of its work
        while run.poll() is None and marks_in_all(tmp_path) == begun:
            time.sleep(0.001)
        time.sleep(rng.uniform(0, 0.012))
        run.kill()
        killed += run.wait() == -9
        run.stdout.close()
        begun = marks_in_all(tmp_path)
        assert {name: marks(tmp_path, name) for name in done_before} == done_before
        if len(numbers_kept(tmp_path)) > 55:
            break
    assert killed >= 5
    done_before = numbers_kept(tmp_path)
    with start(tmp_path) as run:
        assert json.loads(run.stdout.read()) == list(range(60))
    assert set(done_before) <= set(numbers_kept(tmp_path)) == set(range(60))
    # each was begun once, but for those that a kill found half done
    assert 60 <= marks_in_all(tmp_path) <= 60 + killed
    assert all(marks(tmp_path, number) for number in range(60))


def start(folder):
    return subprocess.Popen([sys.executable, batch_work.__file__, str(folder)], stdout=subprocess.PIPE)


def numbers_kept(folder):
    names = [file.name for file in folder.glob("kept/*.json") if not file.name.startswith(".")]
    return sorted(int(re.fullmatch(r"[0-9a-f]{16}-(\d+)\.json", name)[1]) - 1 for name in names)


def marks(folder, number):
    return (folder / "marks" / str(number)).stat().st_size


def marks_in_all(folder):
    return sum(file.stat().st_size for file in (folder / "marks").iterdir())


@pytest.mark.parametrize("kind", ["event", "function"])
def test_a_run_that_is_asked_to_stop_ends_keeps_what_is_done_and_goes_on_later(tmp_path, kind):
    event, calls = Event(), []

    def work(number):
        calls.append(number)
        if len(calls) == 4:
            event.set()
        return number

    stop = event if kind == "event" else event.is_set
    message = r"^The run was stopped\. 4 of 10 batches are done and kept in the folder '.*'; the same run goes on from"
    with pytest.raises(StoppedError, match=message) as stopped:
        quiet(work, range(10), kept_in=tmp_path, task="stop", stop=stop)
    assert stopped.value.results == {n: n for n in range(4)}
    event.clear()
    assert quiet(work, range(10), kept_in=tmp_path, task="stop", stop=stop) == list(range(10))
    assert calls == list(range(10))


def test_a_run_that_is_stopped_on_threads_waits_for_those_it_began_and_begins_no_more():
    event, begun, ended = Event(), [], []

    def work(number):
        begun.append(number)
        if number == 5:
            event.set()
        time.sleep(0.03)
        ended.append(number)
        return number

    with ThreadPoolExecutor(2) as pool:
        with pytest.raises(StoppedError, match=r"of 500 batches are done and in this error's `results`") as stopped:
            quiet(work, range(500), executor=pool, stop=event)
        assert sorted(begun) == sorted(ended) == sorted(stopped.value.results)
    assert len(begun) < 200  # the hundreds that the pool had been given were called off


def test_a_stop_is_heard_while_a_batch_is_long():
    event = Event()

    def work(number):
        return event.wait(20)

    asked = iter([False, False, True])

    def stop():
        answer = next(asked)
        if answer:
            event.set()
        return answer

    with ThreadPoolExecutor(1) as pool, pytest.raises(StoppedError, match=r"1 of 2 batches are done"):
        quiet(work, range(2), executor=pool, stop=stop)


def test_a_stop_after_the_last_batch_is_none():
    with ThreadPoolExecutor(2) as pool:
        gone = Event()
        assert quiet(lambda n: gone.set() or n, [4], executor=pool, stop=gone) == [4]
    assert quiet(abs, [], stop=lambda: True) == []


@pytest.mark.parametrize("on", ["here", "threads", "processes"])
def test_an_interruption_from_the_keyboard_keeps_what_is_done(tmp_path, processes, on):
    with ThreadPoolExecutor(1) as threads:
        executor = {"here": None, "threads": threads, "processes": processes}[on]
        with pytest.raises(
            StoppedError, match=r"^The run was interrupted\. \d+ of 30 batches are done and kept"
        ) as got:
            quiet(interrupted, range(30), executor=executor, kept_in=tmp_path, task="keys")
    assert {0, 1, 2, 3, 4} <= set(got.value.results)
    assert 7 not in got.value.results
    assert len(kept(tmp_path)) == len(got.value.results)
    assert quiet(abs, range(30), kept_in=tmp_path, task="keys") == list(range(30))


class Eager(Executor):
    """An executor that has done everything when it is asked, and raises nothing itself."""

    def submit(self, function, *args):
        future = Future()
        try:
            future.set_result(function(*args))
        except BaseException as error:
            future.set_exception(error)
        return future


def test_workers_that_are_interrupted_too_do_not_keep_others_from_being_taken_in():
    def work(number):
        if number in (1, 2):
            raise KeyboardInterrupt
        return number

    with pytest.raises(StoppedError, match=r"^The run was interrupted\. 3 of 5 batches are done") as got:
        quiet(work, range(5), executor=Eager())
    assert got.value.results == {0: 0, 3: 3, 4: 4}


@pytest.mark.parametrize("on", ["here", "threads", "processes"])
def test_a_batch_that_fails_is_named_with_its_error_and_the_others_are_kept(tmp_path, processes, on):
    message = (
        r"^Batch 8 of 9 failed: WidthError: No count of repeats comes near\. [78] of 9 batches are done and kept in"
    )
    with ThreadPoolExecutor(2) as threads:
        executor = {"here": None, "threads": threads, "processes": processes}[on]
        with pytest.raises(UnfinishedError, match=message) as failed:
            quiet(nearly, range(9), executor=executor, kept_in=tmp_path, task="fails", in_flight=2)
    assert not isinstance(failed.value, StoppedError)
    assert failed.value.batch == 7
    assert "in nearly" in failed.value.__cause__.__notes__[0]  # where in the work it was
    assert len(kept(tmp_path)) == len(failed.value.results) >= 7
    assert quiet(abs, range(9), kept_in=tmp_path, task="fails") == list(range(9))


def test_a_worker_that_dies_is_told_and_what_was_done_goes_on_on_a_new_executor(tmp_path):
    context = multiprocessing.get_context("spawn")
    message = r"^A worker died, and its executor with it, so a new one is needed\. \d of 9 batches are done and kept in"
    with ProcessPoolExecutor(1, mp_context=context) as pool:
        with pytest.raises(UnfinishedError, match=message) as died:
            quiet(deadly, range(9), executor=pool, in_flight=1, kept_in=tmp_path, task="dies")
        assert died.value.results == {n: n for n in range(7)}
        assert died.value.batch is None  # as it may have been any that was running
        with pytest.raises(UnfinishedError, match=r"^The executor takes no more batches: BrokenProcessPool: .* 7 of 9"):
            quiet(deadly, range(9), executor=pool, kept_in=tmp_path, task="dies")
    assert quiet(abs, range(9), kept_in=tmp_path, task="dies") == list(range(9))


class Refusing(Executor):
    """An executor that cancels what it is given."""

    def submit(self, *_):
        future = Future()
        future.cancel()
        return future


def test_a_batch_that_the_executor_cancels_or_cannot_send_is_named(processes):
    with pytest.raises(
        UnfinishedError, match=r"^Batch 1 of 2 was cancelled by its executor\. 0 of 2 batches are done"
    ) as failed:
        quiet(abs, range(2), executor=Refusing())
    assert failed.value.batch == 0
    with pytest.raises(
        UnfinishedError, match=r"^Batch 1 of 1 could not be run: .*pickle.* 0 of 1 batches are done"
    ) as failed:
        quiet(lambda number: number, [1], executor=processes)
    assert failed.value.batch == 0


def test_a_result_that_json_cannot_hold_is_named():
    with pytest.raises(UnfinishedError, match=r"^Batch 1 of 1 failed: TypeError: .* set is not JSON serializable\."):
        quiet(lambda number: {number}, [1])


# ---- the folder ------------------------------------------------------------------------------------------


def fill(folder, task="task", batches=range(5)):
    quiet(abs, list(batches), kept_in=folder, task=task)
    return kept(folder)


def test_the_folder_holds_a_file_for_each_batch_and_is_made_if_need_be(tmp_path):
    names = sorted(fill(tmp_path / "new"))
    assert len(names) == 5
    task = names[0][:16]
    assert names == [f"{task}-{number}.json" for number in range(1, 6)]


OTHERS = {"task": ("other", range(5)), "batches": ("task", range(1, 6)), "count": ("task", range(4))}


@pytest.mark.parametrize("what", OTHERS)
def test_a_folder_of_another_task_is_refused_and_stays(tmp_path, what):
    before = fill(tmp_path)
    message = r"The folder '.*' holds '[0-9a-f]{16}-1\.json', which is no batch of this task: give `kept_in` another"
    with pytest.raises(FileError, match=message):
        fill(tmp_path, *OTHERS[what])
    assert kept(tmp_path) == before


def test_what_another_version_kept_is_refused(tmp_path, monkeypatch):
    before = fill(tmp_path)
    monkeypatch.setattr(module, "version", lambda _: "99")
    with pytest.raises(FileError, match="which is no batch of this task"):
        fill(tmp_path)
    assert kept(tmp_path) == before


@pytest.mark.parametrize("name", ["notes.txt", "{task}-6.json", "{task}-0.json", "{task}-01.json", "{task}-1.json~"])
def test_a_foreign_file_is_named_and_stays(tmp_path, name):
    task = next(iter(fill(tmp_path)))[:16]
    foreign = name.format(task=task)
    (tmp_path / foreign).write_bytes(b"mine")
    before = kept(tmp_path)
    with pytest.raises(
        FileError, match=rf"holds '{re.escape(foreign)}', which is no batch of this task: .*or take the"
    ):
        fill(tmp_path)
    assert kept(tmp_path) == before


def test_a_hidden_file_as_a_killed_run_leaves_it_is_no_hindrance(tmp_path):
    fill(tmp_path)
    (tmp_path / ".0123456789abcdef.part").write_bytes(b"half")
    assert fill(tmp_path)[".0123456789abcdef.part"] == b"half"


def test_a_kept_batch_damaged_at_any_byte_or_cut_anywhere_is_named_and_stays(tmp_path):
    name = next(iter(fill(tmp_path)))
    whole = (tmp_path / name).read_bytes()
    spoiled = [whole[:cut] for cut in range(len(whole))] + [whole + b" "]
    spoiled += [whole[:at] + bytes([byte ^ 1]) + whole[at + 1 :] for at, byte in enumerate(whole)]
    message = rf"^'{name}' in the folder '.*' is damaged, so delete it, and its batch is done again: "
    for data in spoiled:
        (tmp_path / name).write_bytes(data)
        with pytest.raises(FileError, match=message):
            fill(tmp_path)
        assert (tmp_path / name).read_bytes() == data
    (tmp_path / name).unlink()
    assert fill(tmp_path)[name] == whole


def test_a_kept_batch_under_the_name_of_another_is_damaged(tmp_path):
    one, other = sorted(fill(tmp_path))[:2]
    (tmp_path / other).write_bytes((tmp_path / one).read_bytes())
    with pytest.raises(FileError, match=f"^'{other}' in the folder .* Its checksum is wrong"):
        fill(tmp_path)


def full(*_):
    raise OSError(28, "No space left on device")


def test_a_full_disk_is_said_what_was_kept_stays_and_a_later_run_goes_on(tmp_path, monkeypatch):
    calls = []

    def work(number):
        calls.append(number)
        if calls.count(3) == 1 and number == 3:
            monkeypatch.setattr(os, "fsync", full)
        return number

    message = (
        r"^'.*-4\.json' could not be written, and nothing was changed: the disk is full\. "
        r"3 of 6 batches are done and kept in the folder"
    )
    with pytest.raises(UnfinishedError, match=message) as stopped:
        quiet(work, range(6), kept_in=tmp_path, task="full")
    assert stopped.value.results == {0: 0, 1: 1, 2: 2}
    monkeypatch.undo()
    assert len(kept(tmp_path)) == 3
    assert quiet(work, range(6), kept_in=tmp_path, task="full") == list(range(6))
    assert calls == [0, 1, 2, 3, 3, 4, 5]  # the one that found no room is the only one done again


def test_a_folder_that_cannot_be_made_read_or_written_is_refused_before_any_work(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("mine")
    for path in (tmp_path / "file", tmp_path / "no" / "where", tmp_path / "nul\0", tmp_path / ("long" * 100)):
        with pytest.raises(FileError, match=r"^Batches cannot be kept in the folder '.*': "):
            quiet(None, [1], kept_in=path, task=1)
    assert kept(tmp_path) == {"file": b"mine"}
    monkeypatch.setattr(os, "access", lambda *_: False)  # as anyone who runs this may write anywhere
    with pytest.raises(FileError, match=r"^Batches cannot be kept in the folder '.*': it may not be written to\."):
        quiet(None, [1], kept_in=tmp_path / "new", task=1)


def test_a_batch_that_is_too_long_to_be_read_again_is_not_kept(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "LARGEST_BYTES", 100)
    message = r"^Batch 2 is too long to be kept, 118 bytes: make smaller batches\. 1 of"
    with pytest.raises(UnfinishedError, match=message) as failed:
        quiet(lambda length: "x" * length, [3, 51], kept_in=tmp_path, task="long")
    assert failed.value.batch == 1
    assert len(kept(tmp_path)) == 1


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"in_flight": 0, "executor": Refusing()}, r"`in_flight` must be a whole number of 1 or more; got 0\."),
        ({"stop": True}, r"`stop` must be a function without arguments, or an event; got True\."),
        ({"kept_in": "x"}, r"`task` must describe what is worked out if batches are kept; got None\."),
        ({"kept_in": 3, "task": 1}, r"`kept_in` must be a path, as text or a `Path`; got 3\."),
        ({"kept_in": "x", "task": {1}}, r"`task` and batches must be what JSON can hold if they are kept: .*set"),
    ],
)
def test_bad_arguments_are_refused_with_a_sentence(options, message, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(OptionError, match=message):
        quiet(abs, [1], **options)
    assert kept(tmp_path) == {}


def test_how_it_is_run_is_a_batch():
    with pytest.raises(OptionError, match=r"`batch` must be a `Batch`; got \{'progress': False\}\."):
        run_batches(abs, [1], batch={"progress": False})
