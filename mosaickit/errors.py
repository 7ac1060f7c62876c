"""What can go wrong, as a tree of exceptions.

Every error that mosaickit raises on purpose is a `MosaickitError`, and its text is a sentence that says what
was expected, what came and, where there is one, the cure. Most are `ValueError` too, so that code which
knows nothing of mosaickit still catches them::

    MosaickitError
      OptionError        an argument that no verb understands (ValueError)
      WidthError         a size that no count of repeats comes near (ValueError); holds the tolerance that would do
      SwatchError        a swatch that contradicts itself or the others (ValueError)
      MotifError         a picture, or its yarns, that is not one (ValueError)
        FileError        a file that holds no motif, or could not be read or written
          TakenError     a file of another design that was not replaced; holds a free name
          HeldError      a file that somebody else is writing; holds who
      TransformError     a move that overlay mosaic does not allow (ValueError)
      UnworkableError    a picture that cannot be worked; holds the report and what cures it (ValueError)
      ChartError         rows of stitches that make no chart (ValueError)
        StitchError      a stitch that no hook can make; holds its row and stitch
      WordingError       a text that holds no chart (ValueError); holds all faults of it
      PublishError       a page that cannot be set in type (ValueError); holds the field and the character
      PhotographError    a photograph in which the work cannot be read (ValueError)
      NotebookError      a notebook that cannot be read, or fails; holds the cell
      UnfinishedError    batches that were not all done; holds what was done, and which batch failed
        StoppedError     the same, because somebody asked to stop

They all stand here, wherever they are raised, so that ``mk.errors`` is one list of what can be caught.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from numbers import Real
from pathlib import Path
from typing import TYPE_CHECKING, Any

import mosaickit.distribution  # noqa: F401 — stops here if `mosaickit/__init__.py` was overwritten
from mosaickit.sentences import lines_in_a_notebook
from mosaickit.sentences import number_of as number_of
from mosaickit.sentences import shortly as shortly

if TYPE_CHECKING:  # what errors hold is made on floors above; only the names are needed here
    from mosaickit.centre import CentreReport
    from mosaickit.cures import Cure
    from mosaickit.motif import Report
    from mosaickit.sizes import Fit
    from mosaickit.wording import Fault

__all__ = [  # what is offered to makers; the checks at the end are for the package alone
    "ChartError", "FileError", "HeldError", "MosaickitError", "MotifError", "NotebookError", "OptionError",
    "PhotographError", "PublishError", "StitchError", "StoppedError", "SwatchError", "TakenError", "TransformError",
    "UnfinishedError", "UnworkableError", "WidthError", "WordingError",
]  # fmt: skip


class MosaickitError(Exception):
    """The root of all errors raised on purpose.

    In a notebook it shows its sentence and the line of the cell it comes from; after `%xmode Verbose` all of the
    traceback, as any other error does.
    """

    def __reduce__(self) -> tuple[object, ...]:
        """Travel between processes with all its parts, whatever its class is made from."""
        return _as_it_was, (type(self), self.args, vars(self))

    def _render_traceback_(self) -> list[str]:
        """Give IPython, which asks an exception for this, the lines to show."""
        return lines_in_a_notebook(self)


def _as_it_was(kind: type[MosaickitError], arguments: tuple[object, ...], parts: dict[str, object]) -> MosaickitError:
    error = kind.__new__(kind, *arguments)
    vars(error).update(parts)
    return error


class OptionError(MosaickitError, ValueError):
    """An argument outside what a verb accepts."""


class WidthError(MosaickitError, ValueError):
    """A width or length that no count of repeats comes near enough to.

    Attributes
    ----------
    tolerance : float or None
        One that would do, as a share from 0 to 1, if there is one.
    nearest : tuple of Fit
        What comes nearest and can be worked, the nearest first; empty if there is nothing, or too much that fits.
    """

    def __init__(self, message: str, tolerance: float | None, nearest: Iterable[Fit] = ()) -> None:
        super().__init__(message)
        self.tolerance = tolerance
        self.nearest = tuple(nearest)


class SwatchError(MosaickitError, ValueError):
    """A swatch that cannot have been measured so."""


class MotifError(MosaickitError, ValueError):
    """A picture, or its yarns, that is not one."""


class FileError(MotifError):
    """A file that holds no motif, or that could not be read or written."""


class TakenError(FileError):
    """A file that another design wrote, or that was changed since, and so was not replaced.

    Attributes
    ----------
    path : Path
        The file.
    free : Path
        A name beside it that was free a moment ago.
    there : str
        What the file is, as the end of a sentence.
    hint : str
        A sentence more for who writes Python; may be empty.
    """

    def __init__(self, path: Path, free: Path, there: str, hint: str = "") -> None:
        super().__init__(path, free, there, hint)
        self.path = path
        self.free = free
        self.there = there
        self.hint = hint

    @property
    def found(self) -> str:
        """What is there, without what to do about it."""
        return f"{self.path.name!r} is there already and was left as it is: {self.there}."

    def __str__(self) -> str:
        said = f"{self.found} Save as {self.free.name!r}, which is free, or replace it with `replace=True`."
        return f"{said} {self.hint}".strip()


class HeldError(FileError):
    """A file that somebody else is writing.

    Attributes
    ----------
    holder : str
        Who, as a phrase; names the notebook or program, its process, its computer and since when.
    """

    def __init__(self, message: str, holder: str) -> None:
        super().__init__(message)
        self.holder = holder


class TransformError(MosaickitError, ValueError):
    """A move that overlay mosaic does not allow."""


class UnworkableError(MosaickitError, ValueError):
    """A picture that cannot be worked.

    Attributes
    ----------
    report : Report or CentreReport
        The findings, as `check` gives them.
    cures : tuple of Cure
        What would make it workable, the simplest first: each was tried. Empty if nothing was found, or looked for.
    """

    def __init__(self, message: str, report: Report | CentreReport, cures: Iterable[Cure] = ()) -> None:
        super().__init__(message)
        self.report = report
        self.cures = tuple(cures)


class ChartError(MosaickitError, ValueError):
    """Rows of stitches that make no chart."""


class StitchError(ChartError):
    """A stitch that no hook can make where it stands.

    Attributes
    ----------
    row, stitch : int
        Where, from 1, as a maker counts.
    """

    def __init__(self, message: str, row: int, stitch: int) -> None:
        super().__init__(message)
        self.row = row
        self.stitch = stitch


class WordingError(MosaickitError, ValueError):
    """A text that holds no chart, or a chart that makes no text of a bearable length.

    Attributes
    ----------
    faults : tuple of Fault
        All that is wrong, from the first line down; empty if the text as a whole is refused.
    """

    def __init__(self, message: str, faults: tuple[Fault, ...] = ()) -> None:
        super().__init__(message)
        self.faults = faults


class PublishError(MosaickitError, ValueError):
    """A page that cannot be set in type.

    Attributes
    ----------
    field : str
        Where on the page, as "notes[0]"; empty if it is not known.
    character : str
        What no font holds; empty if that is not the reason.
    """

    def __init__(self, message: str, field: str = "", character: str = "") -> None:
        super().__init__(message)
        self.field = field
        self.character = character


class PhotographError(MosaickitError, ValueError):
    """A photograph in which the work, or what the chart says of it, cannot be read."""


class NotebookError(MosaickitError):
    """A notebook that cannot be read, was not run, or fails when it is.

    Attributes
    ----------
    cell : int or None
        The number of the cell that failed, from 1, counting cells of every kind.
    """

    def __init__(self, message: str, cell: int | None = None) -> None:
        super().__init__(message)
        self.cell = cell


class UnfinishedError(MosaickitError):
    """Batches that were not all done.

    Attributes
    ----------
    results : dict of int to object
        What was done: the place of each batch in the sequence, from 0, and what it gave.
    batch : int or None
        The place of the batch that failed, from 0; None if it was none of them, or it is not known which.
    """

    def __init__(self, message: str, results: dict[int, Any], batch: int | None = None) -> None:
        super().__init__(message)
        self.results = results
        self.batch = batch


class StoppedError(UnfinishedError):
    """Batches that were not all done because somebody asked to stop."""


def one_of(name: str, value: object, choices: Iterable[object]) -> None:
    """Raise `OptionError` unless `value` is one of the `choices`, all of which the message names."""
    allowed = tuple(choices)
    if not isinstance(value, Hashable) or value not in allowed:  # an array is asked of each of its parts
        listed = ", ".join(repr(choice) for choice in allowed)
        raise OptionError(f"`{name}` must be one of {listed}; got {value!r}.")


def several(name: str, value: object, choices: Iterable[object]) -> tuple[Any, ...]:
    """Return one of the `choices`, or several of them, as a tuple, or raise `OptionError`."""
    allowed = tuple(choices)
    found = (value,) if isinstance(value, str) else tuple(value) if isinstance(value, Iterable) else None
    if found is None or not all(isinstance(one, str) and one in allowed for one in found):
        listed = ", ".join(repr(choice) for choice in allowed)
        raise OptionError(f"`{name}` must be one of {listed}, or several of them; got {value!r}.")
    return found


def true_or_false(name: str, value: object) -> bool:
    """Return True or False, NumPy's too, as a bool, or raise `OptionError`: 1 and "yes" are neither."""
    # NumPy's own is no subclass of bool, and NumPy is not loaded for its sake
    if type(value).__name__ not in ("bool", "bool_"):
        raise OptionError(f"`{name}` must be True or False; got {value!r}.")
    return bool(value)


def of_kind(name: str, value: object, kind: type, *, or_none: bool = False) -> None:
    """Raise `OptionError` unless `value` is of a kind, which the message names; None too is allowed if it is said."""
    if not isinstance(value, kind) and not (or_none and value is None):
        article = "an" if kind.__name__[0] in "AEIOU" else "a"
        raise OptionError(f"`{name}` must be {article} `{kind.__name__}`{' or None' * or_none}; got {shortly(value)}.")


def each_of_kind(name: str, values: object, kind: type) -> tuple[Any, ...]:
    """Return things of one kind as a tuple, or raise `OptionError`, which names the kind and what came."""
    if isinstance(values, str | bytes | Mapping) or not isinstance(values, Iterable):
        raise OptionError(f"`{name}` must be several of `{kind.__name__}`, as a list; got {shortly(values)}.")
    found = tuple(values)
    for number, value in enumerate(found):
        of_kind(f"{name}[{number}]", value, kind)
    return found


def text(name: str, value: object) -> str:
    """Return `value`, or raise `OptionError` unless it is text."""
    if not isinstance(value, str):
        raise OptionError(f"`{name}` must be text; got {shortly(value)}.")
    return value


def whole_number(name: str, value: object, *, least: int | None = 0, most: int | None = None) -> int:
    """Return `value` as an int from `least` to `most`, where these are not None, or raise `OptionError`."""
    number = as_whole(value)
    if number is None or (least is not None and number < least) or (most is not None and number > most):
        limit = "" if least is None else f" of {least} or more" if most is None else f" from {least} to {most:,}"
        raise OptionError(f"`{name}` must be a whole number{limit}; got {shortly(value)}.")
    return number


def as_whole(value: object) -> int | None:
    """Return a whole number as an int, and None for what is none: NumPy's are, True, 2.0 and arrays are not."""
    if isinstance(value, bool) or not hasattr(value, "__index__"):
        return None
    try:
        return int(value.__index__())
    except TypeError:  # an array has the method too
        return None


def _number(value: object) -> float:
    """Return a real number as a float; NaN for what is none, as texts and truth values."""
    if isinstance(value, bool) or not isinstance(value, Real):
        return float("nan")
    try:
        return float(value)
    except OverflowError:
        return float("inf")


def positive(name: str, value: object, unit: str = "") -> float:
    """Return `value` as a finite float above zero, or raise `OptionError`."""
    number = _number(value)
    if not 0 < number < float("inf"):
        of_unit = f" of {unit}" if unit else ""
        raise OptionError(f"`{name}` must be a number{of_unit} above 0; got {value!r}.")
    return number


def within(name: str, value: object, least: float, most: float) -> float:
    """Return `value` as a float from `least` to `most`, or raise `OptionError`."""
    number = _number(value)
    if not least <= number <= most:
        raise OptionError(f"`{name}` must be a number from {least:g} to {most:g}; got {value!r}.")
    return number
