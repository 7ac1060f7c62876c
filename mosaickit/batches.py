"""Many batches of work, run here or on any executor, and kept so that a killed run goes on where it was.

Batches are handed to an executor a bounded number at a time, taken in as they come, and given back in their order.
What a batch gave is turned into JSON where it was worked out, so that it is the same whether it was run here, in
another process, on a cluster, or read from the disk.

Kept batches are files of their own, one each, rather than lines of a journal: a file is written whole or not at all, so
that a killed run leaves nothing torn that would have to be cut off; one that is damaged costs that batch, not all
after it; and two runs in one folder at the same time only do some work twice. A database, tried as well, took several
times as long a batch, as the disk has to confirm a transaction more often, and would shut the second run out.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import secrets
import traceback
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future
from contextlib import suppress
from dataclasses import KW_ONLY, dataclass
from importlib.metadata import version
from itertools import islice
from os import PathLike
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Event
from typing import TYPE_CHECKING, Any, NamedTuple

from mosaickit.distribution import NAME
from mosaickit.doors import late
from mosaickit.errors import (
    FileError,
    MosaickitError,
    OptionError,
    StoppedError,
    UnfinishedError,
    of_kind,
    shortly,
    true_or_false,
    whole_number,
)
from mosaickit.files import LARGEST_BYTES, as_path, file_name, read_whole, write_whole

if TYPE_CHECKING:
    from tqdm import auto as bars  # type: ignore[import-untyped]
else:
    bars = late("tqdm.auto")

SECONDS_BETWEEN_LOOKS = 0.1
"""How often `stop` is asked while batches are running."""


class _BatchError(MosaickitError):
    """A batch that failed."""

    def __init__(self, message: str, batch: int) -> None:
        super().__init__(message)
        self.batch = batch


@dataclass(frozen=True)
class Batch:
    """How work is run that is cut into batches: where, kept in what, how it is followed and how it is stopped.

    Parameters
    ----------
    executor : concurrent.futures.Executor, optional
        What runs the work: threads, processes, or a cluster, as by ``Client.get_executor()`` of dask. None runs it
        here. It is not shut down. A cluster that lost all its workers is waited for, until one comes or you stop it.
    kept_in : path, optional
        A folder, made if need be, in which each batch is kept as soon as it is done. A later run of the same task goes
        on from there.
    progress : bool
        Whether a bar shows how far it is.
    stop : function or event, optional
        Asked again and again; when it says True, or is set, no more batches are begun.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> run_batches(sum, [(1, 2), (3, 4)], batch=Batch(progress=False))
    [3, 7]
    """

    _: KW_ONLY
    executor: Executor | None = None
    kept_in: str | PathLike[str] | None = None
    progress: bool = True
    stop: Callable[[], bool] | Event | None = None

    def __post_init__(self) -> None:
        own = self.__dict__
        if self.executor is not None and not callable(getattr(self.executor, "submit", None)):
            raise OptionError(
                f"`executor` must be one of concurrent.futures, or like it; got {shortly(self.executor)}."
            )
        if self.kept_in is not None:
            own["kept_in"] = as_path(self.kept_in, "kept_in")
        own["progress"] = true_or_false("progress", self.progress)
        if not (self.stop is None or callable(self.ask)):
            raise OptionError(f"`stop` must be a function without arguments, or an event; got {self.stop!r}.")

    @property
    def ask(self) -> Callable[[], bool] | None:
        """What says whether to stop, if anything does."""
        stop: Any = self.stop  # events of other libraries have the method too
        ask: Callable[[], bool] | None = getattr(stop, "is_set", stop)
        return ask


USUAL_BATCH = Batch()
"""How work is run if nothing is said: here, with a bar."""


def run_batches(
    work: Callable[[Any], Any],
    batches: Iterable[Any],
    *,
    task: object = None,
    batch: Batch = USUAL_BATCH,
    in_flight: int = 256,
) -> list[Any]:
    """Do a piece of work for every batch, and give what each gave, in the order of the batches.

    Parameters
    ----------
    work : function
        Takes a batch and gives what JSON can hold. An executor with other processes has to be able to pickle it, and
        sends it along with every batch, so it should be small.
    batches : sequence
        What `work` is called with, one after another; with `kept_in`, of what JSON can hold.
    task : what JSON can hold
        With `kept_in`: a description of all that the results depend on beside the batches. Results are only read back
        for an equal task, equal batches and the same version of mosaickit.
    batch : Batch
        How they are run.
    in_flight : int
        How many batches an executor is given at a time, at least 1: more than it has workers.

    Returns
    -------
    list
        What each batch gave, as JSON gives it back: tuples are lists, keys are texts.

    Raises
    ------
    StoppedError
        If it was stopped, or interrupted from the keyboard, before all were done. What was running is waited for, or
        dropped if the executor can do that.
    UnfinishedError
        If `work` failed, a worker process died, or a batch could not be kept. It holds what was done.
    FileError
        If the folder holds another task's batches, anything else or a damaged batch, or cannot be written. It stays
        as it is.
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> run_batches(sum, [(1, 2), (3, 4)], batch=Batch(progress=False))
    [3, 7]
    """
    listed = list(batches)
    of_kind("batch", batch, Batch)
    executor, ask = batch.executor, batch.ask
    most = 1 if executor is None else whole_number("in_flight", in_flight, least=1)
    folder = None if batch.kept_in is None else _Folder(Path(batch.kept_in), task, listed)
    results = {} if folder is None else folder.read()
    missing = (number for number in range(len(listed)) if number not in results)
    with bars.tqdm(total=len(listed), initial=len(results), unit="batch", disable=not batch.progress) as bar:
        run = _Run(work, listed, results, folder, bar.update)
        try:
            try:
                run.go_on(missing, _Here() if executor is None else executor, most, ask)
            finally:
                run.wind_up()
        except KeyboardInterrupt:
            raise StoppedError(f"The run was interrupted. {run.so_far()}", results) from None
        except MosaickitError as error:
            number = error.batch if isinstance(error, _BatchError) else None
            raise UnfinishedError(f"{error} {run.so_far()}", results, number) from error
    if len(results) < len(listed):
        raise StoppedError(f"The run was stopped. {run.so_far()}", results)
    return [results[number] for number in range(len(listed))]


class _Here(Executor):
    """An executor that does the work at once, where it is."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:  # noqa: ANN401
        future: Future[Any] = Future()
        future.set_result(fn(*args, **kwargs))
        return future


class _Outcome(NamedTuple):
    """What became of a batch, in words that go through any pickle: JSON, or why there is none."""

    json: bytes = b""
    reason: str = ""
    trace: str = ""


def _outcome(work: Callable[[Any], Any], batch: object, _nonce: str) -> _Outcome:
    """Do a batch, wherever this runs.

    The nonce makes every call another one: a cluster that knows calls by their arguments would confuse a batch with the
    same one that a stopped run has just cancelled.
    """
    try:
        return _Outcome(json.dumps(work(batch), separators=(",", ":")).encode())
    except Exception as error:  # sent as text, as an exception that cannot be unpickled would break a pool
        return _Outcome(reason=f"{type(error).__name__}: {error}", trace=traceback.format_exc())


class _Run:
    """Batches on their way: which ones an executor has, and what the others gave."""

    def __init__(
        self,
        work: Callable[[Any], Any],
        batches: list[Any],
        results: dict[int, Any],
        folder: _Folder | None,
        tick: Callable[[], object],
    ) -> None:
        self.work, self.batches, self.results, self.folder, self.tick = work, batches, results, folder, tick
        self.running: dict[Future[_Outcome], int] = {}
        self.come: SimpleQueue[Future[_Outcome]] = SimpleQueue()

    def go_on(self, missing: Iterator[int], executor: Executor, most: int, ask: Callable[[], bool] | None) -> None:
        """Do the missing batches, until none is left or somebody asks to stop."""
        while ask is None or not ask():
            for number in islice(missing, most - len(self.running)):
                self.submit(number, executor)
            if not self.running:
                return
            with suppress(Empty):
                self.take(self.come.get(timeout=SECONDS_BETWEEN_LOOKS))

    def submit(self, number: int, executor: Executor) -> None:
        try:
            future = executor.submit(_outcome, self.work, self.batches[number], secrets.token_hex(8))
        except Exception as error:
            raise MosaickitError(f"The executor takes no more batches: {_reason(error)}.") from error
        self.running[future] = number
        future.add_done_callback(self.come.put)

    def take(self, future: Future[_Outcome]) -> None:
        """Take in a batch, when it is done; keep it before it counts."""
        number = self.running[future]
        outcome = self.outcome(number, future)
        if self.folder is not None:
            self.folder.write(number, outcome.json)
        self.results[number] = json.loads(outcome.json)
        del self.running[future]
        self.tick()

    def outcome(self, number: int, future: Future[_Outcome]) -> _Outcome:
        name = f"Batch {number + 1} of {len(self.batches)}"
        try:
            outcome = future.result()
        except BrokenExecutor as error:
            raise MosaickitError("A worker died, and its executor with it, so a new one is needed.") from error
        except CancelledError as error:
            raise _BatchError(f"{name} was cancelled by its executor.", number) from error
        except Exception as error:
            raise _BatchError(f"{name} could not be run: {_reason(error)}.", number) from error
        if outcome.reason:
            failed = _BatchError(f"{name} failed: {outcome.reason.rstrip('.')}.", number)
            failed.add_note(outcome.trace)
            raise failed
        return outcome

    def wind_up(self) -> None:
        """Cancel what has not begun, and take in what has."""
        for future in self.running:
            future.cancel()
        for future in list(self.running):
            with suppress(Exception):  # what is not to be had now is worked out by the next run
                if future.exception() is None:  # a worker may be interrupted too, and that must not end this loop
                    self.take(future)

    def so_far(self) -> str:
        """Say what is done and how to go on."""
        done = f"{len(self.results):,} of {len(self.batches):,} batches are done"
        if self.folder is None:
            return f"{done} and in this error's `results`; with `kept_in` a later run could go on from there."
        return f"{done} and kept in the folder {str(self.folder.path)!r}; the same run goes on from there."


def _reason(error: Exception) -> str:
    return f"{type(error).__name__}: {error}".rstrip(".: ")


class _Folder:
    """A folder with a file for each batch of one task that is done; the task is in the names."""

    def __init__(self, path: Path, task: object, batches: list[Any]) -> None:
        if task is None:
            raise OptionError("`task` must describe what is worked out if batches are kept; got None.")
        try:
            described = json.dumps([version(NAME), task, batches], sort_keys=True)
        except (TypeError, ValueError) as error:
            raise OptionError(f"`task` and batches must be what JSON can hold if they are kept: {error}.") from None
        self.path = path
        self.task = hashlib.sha256(described.encode()).hexdigest()[:16]
        self.count = len(batches)

    def read(self) -> dict[int, Any]:
        """Give what is kept: the place of each batch, from 0, and what it gave. Make the folder if need be."""
        try:
            self.path.mkdir(exist_ok=True)
            # names that begin with a dot are left alone: what a killed run was writing, or what a system puts anywhere
            names = sorted(name for name in os.listdir(self.path) if not name.startswith("."))
            if not os.access(self.path, os.W_OK):
                raise PermissionError("it may not be written to")
        except (OSError, ValueError) as error:
            raise FileError(f"Batches cannot be kept in the folder {str(self.path)!r}: {error}.") from None
        return {number: self._result(self.path / name) for number, name in map(self._numbered, names)}

    def _numbered(self, name: str) -> tuple[int, str]:
        match = re.fullmatch(rf"{self.task}-([1-9]\d*)\.json", name, re.ASCII)
        if match is None or int(match[1]) > self.count:
            raise FileError(
                f"The folder {str(self.path)!r} holds {name!r}, which is no batch of this task: give `kept_in` another "
                "folder, or take the file away."
            )
        return int(match[1]) - 1, name

    def _result(self, file: Path) -> object:
        try:
            check, _, data = read_whole(file).partition(b"\n")
            if check != _check(file, data):
                raise FileError("Its checksum is wrong.")
        except FileError as error:
            raise FileError(
                f"{file_name(file)} in the folder {str(self.path)!r} is damaged, so delete it, and its batch is done "
                f"again: {error}"
            ) from None
        return json.loads(data)

    def write(self, number: int, data: bytes) -> None:
        """Keep what a batch gave."""
        file = self.path / f"{self.task}-{number + 1}.json"
        whole = _check(file, data) + b"\n" + data
        if len(whole) > LARGEST_BYTES:
            much = f"{len(whole):,} bytes"
            raise _BatchError(f"Batch {number + 1} is too long to be kept, {much}: make smaller batches.", number)
        write_whole(file, whole)


def _check(file: Path, data: bytes) -> bytes:
    """Give a checksum of what a batch gave and of its place, so that no file passes for another."""
    return hashlib.sha256(file.name.encode() + data).hexdigest().encode()
