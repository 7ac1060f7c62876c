"""How answers are read, and the parts that many exercises share.

A reader takes what a learner may well write, as a list for a set or NumPy's numbers for Python's, and says in a
sentence what else was expected. A part says where to look again, by row and stitch, and not what should be there.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import OptionError, as_whole
from mosaickit.fabric import Chart, work
from mosaickit.lessons.exercises import AnswerPart
from mosaickit.motif import LARGEST_SIDE, Motif, check
from mosaickit.orientation import to_working

Square = tuple[int, int]


# ---- readers -----------------------------------------------------------------------------------------------


def one(kind: type, words: str) -> Callable[[object], Any]:
    """Make a reader of one value of a kind.

    Examples
    --------
    >>> one(Motif, "a motif")("###")
    Traceback (most recent call last):
        ...
    mosaickit.errors.OptionError: The answer should be a motif; got '###'.
    """

    def read(answer: object) -> Any:  # noqa: ANN401 — of the kind
        if not isinstance(answer, kind):
            raise OptionError(f"The answer should be {words}; got {short(answer)}.")
        return answer

    return read


motif = one(Motif, "a motif, as `mk.Motif.from_text` makes one")
chart = one(Chart, "a chart, as `mk.compile_chart` makes one")
text = one(str, "a text in quotation marks")


def whole(answer: object) -> int:
    """Read a whole number; NumPy's will do.

    Examples
    --------
    >>> whole(np.int64(3))
    3
    """
    value = as_whole(answer)
    if value is None:
        raise OptionError(f"The answer should be a whole number; got {short(answer)}.")
    return value


def number(answer: object) -> float:
    """Read a finite number."""
    if isinstance(answer, bool | np.bool_) or not isinstance(answer, int | float | np.number):
        raise OptionError(f"The answer should be a number; got {short(answer)}.")
    try:
        value = float(answer)
    except (OverflowError, TypeError):  # an int beyond all measure, or a complex number
        value = float("nan")
    if not np.isfinite(value):
        raise OptionError(f"The answer should be a number that can be measured; got {short(answer)}.")
    return value


def choice(*options: str) -> Callable[[object], str]:
    """Make a reader of one of several words; capitals and blanks around it do not matter.

    Examples
    --------
    >>> choice("carried", "cut")(" Cut")
    'cut'
    """

    def read(answer: object) -> str:
        said = answer.strip().casefold() if isinstance(answer, str) else None
        for option in options:
            if said == option.casefold():
                return option
        listed = ", ".join(repr(option) for option in options)
        raise OptionError(f"The answer should be one of {listed}; got {short(answer)}.")

    return read


def squares(answer: object) -> frozenset[Square]:
    """Read squares or stitches: pairs of row and stitch, from 1.

    Examples
    --------
    >>> sorted(squares([(2, 5), [1, 3]]))
    [(1, 3), (2, 5)]
    """
    expected = "The answer should be a list of pairs of row and stitch, as [(2, 5), (3, 1)]"
    if not isinstance(answer, Iterable) or isinstance(answer, str):
        raise OptionError(f"{expected}; got {short(answer)}.")
    pairs = []
    for pair in answer:
        if not isinstance(pair, Sequence | np.ndarray) or isinstance(pair, str) or len(pair) != 2:
            raise OptionError(f"{expected}; got {short(pair)} among them.")
        pairs.append((whole(pair[0]), whole(pair[1])))
    return frozenset(pairs)


def whole_numbers(answer: object) -> tuple[int, ...]:
    """Read several whole numbers, in their order."""
    if not isinstance(answer, Iterable) or isinstance(answer, str):
        raise OptionError(f"The answer should be a list of whole numbers, as [3, 5]; got {short(answer)}.")
    return tuple(whole(each) for each in answer)


def two_counts(answer: object, what: str, *, least: int = 1) -> tuple[int, int]:
    """Read two whole numbers, which `what` names in their order; neither is below `least` nor above 10,000.

    Examples
    --------
    >>> two_counts([20, 30], "stitches and rows")
    (20, 30)
    """
    counts = whole_numbers(answer)
    if len(counts) != 2 or min(counts) < least or max(counts) > LARGEST_SIDE:
        raise OptionError(
            f"The answer should be two numbers, {what}, from {least} to {LARGEST_SIDE:,}; got {short(answer)}."
        )
    return counts[0], counts[1]


def function(answer: object) -> Callable[..., Any]:
    """Read a function."""
    if not callable(answer):
        raise OptionError(f"The answer should be a function, as `def` makes one; got {short(answer)}.")
    return answer


def short(thing: object, say: Callable[[object], str] = repr) -> str:
    """Say what something is in a few words, whatever it does when it is asked."""
    try:
        said = say(thing)
    except Exception:
        said = f"a {type(thing).__name__}"
    return said if len(said) <= 80 else said[:77] + "..."


# ---- parts -------------------------------------------------------------------------------------------------


def these_squares(wanted: Collection[Square], what: str) -> tuple[AnswerPart, ...]:
    """Ask for certain squares and no others; `what` names them, as "overlaid squares"."""

    def none_wrong(named: frozenset[Square]) -> str | None:
        wrong = sorted(named - frozenset(wanted))
        if not wrong:
            return None
        listed = "; ".join(f"row {row}, stitch {stitch}" for row, stitch in wrong[:3])
        more = f"; and {len(wrong) - 3} more" if len(wrong) > 3 else ""
        return f"Not among the {what}: {listed}{more}."

    def none_left_out(named: frozenset[Square]) -> str | None:
        left_out = frozenset(wanted) - named
        return f"More {what} are to be found in {in_rows(row for row, _ in left_out)}." if left_out else None

    return (
        AnswerPart(f"All that you name are {what}.", none_wrong),
        AnswerPart("None is left out.", none_left_out),
    )


def this_number(wanted: float, right: str, *, off: float = 0, low: str, high: str) -> AnswerPart:
    """Ask for a number, `off` by so much at most; `low` and `high` say where to look again."""

    def look(said: float) -> str | None:
        if abs(said - wanted) <= off:
            return None
        return low if said < wanted else high

    return AnswerPart(right, look)


def this_choice(wanted: str, right: str, **again: str) -> AnswerPart:
    """Ask for one word; `again` says for each other one what to look at."""

    def look(said: str) -> str | None:
        return None if said == wanted else again[said.replace(" ", "_").replace("-", "_")]

    return AnswerPart(right, look)


def of_size(rows: int | None, stitches: int | None) -> AnswerPart:
    """Ask a motif for a number of rows, of stitches, or of both."""

    def look(made: Motif) -> str | None:
        for axis, wanted, what in ((0, rows, "rows"), (1, stitches, "stitches a row")):
            if wanted is not None and made.shape[axis] != wanted:
                return f"It should have {wanted} {what}; it has {made.shape[axis]}."
        return None

    return AnswerPart("It has the size that was asked for.", look, needed=True)


def can_be_worked(**setting: Any) -> AnswerPart:  # noqa: ANN401 — as `check` takes it
    """Ask a motif to be one that a hook can make."""

    def look(made: Motif) -> str | None:
        # the finding's own message names the cure, which is for the learner to find
        for finding in check(made, **setting).findings:
            if finding.severity == "error":
                return f"It cannot be worked: look at row {finding.row}, stitch {finding.stitch} ({finding.rule})."
        return None

    return AnswerPart("It can be worked.", look)


def changes_at_most(most: int, before: Motif) -> AnswerPart:
    """Ask a motif of the same size to differ in few squares from what was given."""

    def look(made: Motif) -> str | None:
        count = np.count_nonzero(made.grid ^ before.grid)
        return f"It changes {count} squares; fewer will do." if count > most else None

    return AnswerPart(f"It changes no more than {most} square{'s' * (most != 1)}.", look)


def marked(as_seen: NDArray[np.bool_]) -> frozenset[Square]:
    """Name the squares that are True in a mask as seen, as a right-hander counts them."""
    return frozenset((row + 1, stitch + 1) for row, stitch in np.argwhere(to_working(as_seen)).tolist())


def more_to_find(count: int, *, answered: bool) -> str | None:
    """Say of an answer that has several parts, and no wrong one, how many are missing; nothing if none is.

    Examples
    --------
    >>> print(more_to_find(2, answered=True), more_to_find(1, answered=False))
    Right so far; 2 more to find. No answer yet: there is 1 to find.
    """
    if not count:
        return None
    if answered:
        return f"Right so far; {count} more to find."
    return f"No answer yet: there {'is' if count == 1 else 'are'} {count} to find."


def in_rows(rows: Iterable[int]) -> str:
    """Say which rows, as "row 3" or "rows 2, 3 and 5"."""
    *others, last = sorted(set(rows))
    return f"rows {', '.join(map(str, others))} and {last}" if others else f"row {last}"


def rows_that_differ(one: NDArray[np.bool_], other: NDArray[np.bool_]) -> list[int]:
    """List the numbers of the rows in which two pictures as seen differ, from row 1 up."""
    return (np.flatnonzero(to_working(one != other).any(axis=1)) + 1).tolist()


def a_hook_works_it(made: Chart) -> str | None:
    """Look whether a hook can work a chart; the hook itself says where it cannot."""
    work(made)
    return None


def own_mirror() -> AnswerPart:
    """Ask a motif to look the same when left and right change places."""

    def look(made: Motif) -> str | None:
        differing = marked(made.grid ^ made.grid[:, ::-1])
        if not differing:
            return None
        row, stitch = min(differing)
        return f"In row {row}, stitch {stitch} and the stitch opposite it show different colours."

    return AnswerPart("It is its own mirror, left to right.", look)
