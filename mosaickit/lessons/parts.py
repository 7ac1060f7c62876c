"""Parts of an answer that many exercises share; each says where to look again, and not what should be there.

A part made here can be kept in a file, since it is words and numbers alone; `part` makes one of a function of your own,
which only a notebook can hold.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

import numpy as np

from mosaickit.errors import OptionError, of_kind, shortly, text, true_or_false, whole_number
from mosaickit.fabric import Chart, work
from mosaickit.lessons.answers import Square, number, squares, whole_numbers
from mosaickit.lessons.exercises import AnswerPart
from mosaickit.lessons.sentences import in_rows, marked, more_to_find, told_apart
from mosaickit.motif import LARGEST_SIDE, Motif, check


def part(
    right: str, look: Callable[[Any], str | bool | None], *, missing: str = "", needed: bool = False
) -> AnswerPart:
    """Make a part of an answer with a function of your own.

    Parameters
    ----------
    right : str
        What is said when the answer has it, as "It has a roof."
    look : function of the answer
        Gives a sentence on what is missing and where, or None; or, with `missing`, True or False.
    missing : str
        What is said when `look` gives False.
    needed : bool
        Whether the parts after it make no sense without it.

    Returns
    -------
    AnswerPart
        It stays in the notebook: a file holds no functions.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> wide = part("It is wide enough.", lambda made: made.shape[1] >= 5, missing="It needs 5 stitches or more.")
    >>> wide.missing(Motif.from_text("..."))
    'It needs 5 stitches or more.'
    """
    if not callable(look):
        raise OptionError(f"`look` must be a function of the answer; got {shortly(look)}.")
    if not text("right", right).strip():
        raise OptionError("`right` must say what is right about an answer that has the part; it is empty.")
    text("missing", missing)

    def looked(answer: Any) -> Any:  # noqa: ANN401 — whatever the function gives is looked at where parts are asked
        said = look(answer)
        if missing and isinstance(said, bool | np.bool_):
            return None if said else missing
        return said

    return AnswerPart(right, looked, true_or_false("needed", needed))


# ---- what is named one by one ------------------------------------------------------------------------------


def these_squares(wanted: Collection[Square], what: str) -> tuple[AnswerPart, ...]:
    """Ask for certain squares, or stitches, and no others.

    Parameters
    ----------
    wanted : collection of pairs
        Row and stitch, from 1.
    what : str
        Names them, as "overlaid squares".

    Returns
    -------
    tuple of AnswerPart
        That none is wrong, and that none is left out.

    Examples
    --------
    >>> none_wrong, none_left_out = these_squares([(2, 3), (4, 1)], "dark squares")
    >>> none_left_out.missing({(2, 3)})
    'More dark squares are to be found in row 4.'
    """
    all_of_them: frozenset[Square] = _read("wanted", squares, wanted)
    kept = {"part": "squares", "wanted": sorted(all_of_them), "what": what}
    _words("what", what)

    def none_wrong(named: frozenset[Square]) -> str | None:
        wrong = sorted(named - all_of_them)
        if not wrong:
            return None
        listed = "; ".join(f"row {row}, stitch {stitch}" for row, stitch in wrong[:3])
        more = f"; and {len(wrong) - 3} more" if len(wrong) > 3 else ""
        return f"Not among the {what}: {listed}{more}."

    def none_left_out(named: frozenset[Square]) -> str | None:
        left_out = all_of_them - named
        return f"More {what} are to be found in {in_rows(row for row, _ in left_out)}." if left_out else None

    return (
        AnswerPart(f"All that you name are {what}.", none_wrong, applies=bool, kept=kept),
        AnswerPart("None is left out.", none_left_out, kept=kept),
    )


def these_numbers(wanted: Collection[int], what: str) -> tuple[AnswerPart, ...]:
    """Ask for certain whole numbers and no others, in any order.

    Parameters
    ----------
    wanted : collection of int
        All of them.
    what : str
        Names them, as "rows with an FLdc".

    Returns
    -------
    tuple of AnswerPart
        That none is wrong, and that none is left out.

    Examples
    --------
    >>> none_wrong, none_left_out = these_numbers([2, 5], "rows with an FLdc")
    >>> none_wrong.missing((2, 3))
    'Not among the rows with an FLdc: 3.'
    """
    all_of_them: frozenset[int] = frozenset(_read("wanted", whole_numbers, wanted))
    kept = {"part": "numbers", "wanted": sorted(all_of_them), "what": what}
    _words("what", what)

    def none_wrong(named: tuple[int, ...]) -> str | None:
        wrong = sorted(set(named) - all_of_them)
        more = f" and {len(wrong) - 3} more" if len(wrong) > 3 else ""
        return f"Not among the {what}: {', '.join(map(str, wrong[:3]))}{more}." if wrong else None

    def none_left_out(named: tuple[int, ...]) -> str | None:
        found = all_of_them & set(named)
        return more_to_find(len(all_of_them - found), found=len(found), wrong=bool(set(named) - found))

    return (
        AnswerPart(f"All that you name are {what}.", none_wrong, applies=bool, kept=kept),
        AnswerPart("None is left out.", none_left_out, kept=kept),
    )


# ---- one number, one word ----------------------------------------------------------------------------------


def this_number(
    wanted: float,
    right: str = "The number is right.",
    *,
    off: float = 0,
    low: str = "That is too small.",
    high: str = "That is too large.",
) -> AnswerPart:
    """Ask for a number.

    Parameters
    ----------
    wanted : float
        The number.
    right : str
        What is said when it is right.
    off : float
        By how much it may be off.
    low, high : str
        What is said when it is too small or too large: where to look again.

    Returns
    -------
    AnswerPart

    Examples
    --------
    >>> this_number(51, low="Did you count the edge stitches?").missing(49)
    'Did you count the edge stitches?'
    """
    _read("wanted", number, wanted)
    if _read("off", number, off) < 0:
        raise OptionError(f"`off` must be 0 or more; got {shortly(off)}.")
    for name, sentence in (("right", right), ("low", low), ("high", high)):
        _words(name, sentence)

    def look(said: float) -> str | None:
        if abs(said - wanted) <= off:
            return None
        return low if said < wanted else high

    kept = {"part": "number", "wanted": wanted, "right": right, "off": off, "low": low, "high": high}
    return AnswerPart(right, look, kept=kept)


def this_choice(wanted: str, right: str, *, again: Mapping[str, str] | str) -> AnswerPart:
    """Ask for one word.

    Parameters
    ----------
    wanted : str
        The word.
    right : str
        What is said when it is right.
    again : mapping of str to str, or str
        For each other word what to look at again, or one sentence for all.

    Returns
    -------
    AnswerPart

    Examples
    --------
    >>> this_choice("cut", "That takes less yarn.", again={"carried": "Measure two tails."}).missing("carried")
    'Measure two tails.'
    """
    _words("wanted", wanted)
    _words("right", right)
    if not isinstance(again, str | Mapping) or not again:
        raise OptionError(f"`again` must give a sentence, or one for each other word; got {shortly(again)}.")
    for sentence in [again] if isinstance(again, str) else again.values():
        _words("again", sentence)

    def look(said: str) -> str | None:
        if said.casefold() == wanted.casefold():
            return None
        return again if isinstance(again, str) else again.get(said, "That is another one: look again.")

    kept = {"part": "choice", "wanted": wanted, "right": right, "again": again}
    return AnswerPart(right, look, kept=kept)


# ---- a motif -----------------------------------------------------------------------------------------------


def of_size(rows: int | None, stitches: int | None) -> AnswerPart:
    """Ask a motif for a number of rows, of stitches, or of both; the parts after it need it."""
    if rows is None and stitches is None:
        raise OptionError("`of_size` needs a number of rows, of stitches, or both; got neither.")
    for name, count in (("rows", rows), ("stitches", stitches)):
        if count is not None:
            whole_number(name, count, least=1, most=LARGEST_SIDE)

    def look(made: Motif) -> str | None:
        for axis, wanted, what in ((0, rows, "rows"), (1, stitches, "stitches a row")):
            if wanted is not None and made.shape[axis] != wanted:
                return f"It should have {wanted} {what}; it has {made.shape[axis]}."
        return None

    kept = {"part": "size", "rows": rows, "stitches": stitches}
    return AnswerPart("It has the size that was asked for.", look, needed=True, kept=kept)


def no_larger_than(most: int) -> AnswerPart:
    """Ask a motif to have no more than `most` rows or stitches; the parts after it need it."""
    whole_number("most", most, least=1, most=LARGEST_SIDE)

    def look(made: Motif) -> str | None:
        if max(made.shape) <= most:
            return None
        return f"It should have at most {most} rows and stitches; it has {made.shape[0]} and {made.shape[1]}."

    kept = {"part": "no larger", "most": most}
    return AnswerPart(f"It has no more than {most} rows and stitches.", look, needed=True, kept=kept)


def can_be_worked() -> AnswerPart:
    """Ask a motif to be one that a hook can make."""

    def look(made: Motif) -> str | None:
        # the finding's own message names the cure, which is for the learner to find
        for finding in check(made).findings:
            if finding.severity == "error":
                return f"It cannot be worked: look at row {finding.row}, stitch {finding.stitch} ({finding.rule})."
        return None

    return AnswerPart("It can be worked.", look, kept={"part": "workable"})


def changes_at_most(most: int, before: Motif) -> AnswerPart:
    """Ask a motif of the same size to differ in few squares from what was given; of one unchanged it says nothing."""
    whole_number("most", most)
    of_kind("before", before, Motif)

    def differing(made: Motif) -> int:
        return int(np.count_nonzero(made.grid ^ before.grid)) if made.shape == before.shape else 0

    def look(made: Motif) -> str | None:
        if made.shape != before.shape:
            return f"It should have {before.shape[0]} rows of {before.shape[1]} stitches, as what was given."
        count = differing(made)
        return f"It changes {count} squares; fewer will do." if count > most else None

    return AnswerPart(
        f"It changes no more than {most} square{'s' * (most != 1)}.",
        look,
        applies=lambda made: made.shape != before.shape or bool(differing(made)),
        kept={"part": "few changes", "most": most, "before": before},
    )


def overlaid_at_least(least: int) -> AnswerPart:
    """Ask a motif for at least `least` overlaid squares."""
    whole_number("least", least, least=1)

    def look(made: Motif) -> str | None:
        count = int(made.overlaid.sum())
        return None if count >= least else f"{count} of its squares are overlaid; {least} or more are asked for."

    return AnswerPart("Enough of its squares are overlaid.", look, kept={"part": "overlaid", "least": least})


def own_mirror() -> AnswerPart:
    """Ask a motif to look the same when left and right change places."""

    def look(made: Motif) -> str | None:
        differing = marked(made.grid ^ made.grid[:, ::-1])
        if not differing:
            return None
        row, stitch = min(differing)
        return f"In row {row}, stitch {stitch} and the stitch opposite it show different colours."

    return AnswerPart("It is its own mirror, left to right.", look, kept={"part": "mirror"})


def this_picture(picture: Motif) -> AnswerPart:
    """Ask for a picture: a motif that shows it, or a chart of which the hook makes it.

    Examples
    --------
    >>> this_picture(Motif.from_text("..#")).missing(Motif.from_text("#.."))
    'Your picture is a mirror image: look at which edge stitch 1 stands.'
    """
    of_kind("picture", picture, Motif)

    def look(made: Motif | Chart) -> str | None:
        shown = made.grid if isinstance(made, Motif) else work(made).front
        return told_apart(shown, picture.grid)

    return AnswerPart("It shows the picture that was asked for.", look, kept={"part": "picture", "picture": picture})


# ---- a chart -----------------------------------------------------------------------------------------------


def hook_works_it() -> AnswerPart:
    """Ask a chart to be one that a hook can work; the hook itself says where it cannot."""

    def look(made: Chart) -> str | None:
        work(made)
        return None

    return AnswerPart("A hook can work it.", look, needed=True, kept={"part": "hook"})


def _read(name: str, read: Callable[[object], Any], value: object) -> Any:  # noqa: ANN401 — as the reader gives it
    """Read an argument with the reader of an answer; an error names the argument."""
    try:
        return read(value)
    except OptionError as error:
        raise OptionError(str(error).replace("The answer", f"`{name}`", 1)) from None


def _words(name: str, value: object) -> None:
    if not text(name, value).strip():
        raise OptionError(f"`{name}` must be words for the learner; it is empty.")
