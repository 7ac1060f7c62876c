"""The rows of a text in their order: numbers, counts and colours that have to fit, and rows that repeat others."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from lark import Token
from numpy.typing import NDArray

from mosaickit.motif import LARGEST_AREA, LARGEST_SIDE
from mosaickit.orientation import ROLES, Role, role_of_row
from mosaickit.wording.faults import FaultKind, counted
from mosaickit.wording.lines import Count, Often, ReadStep, RowLine, RowsAgain, count_of
from mosaickit.wording.steps import Say, WorkedRow, no_stitch, unsaid, work_out
from mosaickit.wording.terms import STITCH_NAMES, Tongue, meaning


@dataclass(frozen=True, eq=False)
class RowAsRead:
    """One row and where it stands in the text.

    Attributes
    ----------
    row : int
        Its number, from 1.
    stitches : uint8 array, (N,)
        Its stitches in working order.
    places : int array, (N, 2)
        Line and column, from 1, of the word that made each stitch; of a row that repeats another, that row's.
    line : int
        The line of the text that its number stands in, from 1.
    stated : int or None
        How many stitches the row says it has.
    """

    row: int
    stitches: NDArray[np.uint8]
    places: NDArray[np.int32]
    line: int
    stated: int | None


SayFault = Callable[[FaultKind, Token, int | None, str, str], None]
"""Takes a fault: its kind, where, its row, a sentence, and what was expected."""


class Rows:
    """Rows as they come, row 1 first; a row that could not be read is None, so that it is said only once."""

    def __init__(
        self,
        terms: Tongue,
        in_the_round: bool,
        width: int | None,
        fault: SayFault,
        note: Callable[[Token, int, str], None],
    ) -> None:
        self.terms, self.in_the_round, self.width = terms, in_the_round, width
        self.fault, self.note = fault, note
        self.read: list[RowAsRead | None] = []
        self.colours: list[tuple[int, int, RowLine]] = []
        self.changes: list[tuple[int, str, Token]] = []

    @property
    def next(self) -> int:
        """The number of the row that is expected."""
        return len(self.read) + 1

    def take(self, line: RowLine, following: int | None) -> None:
        """Take one line; `following` is the number that the line after it starts with."""
        body = line.body
        if isinstance(body, RowsAgain):
            numbers = self.again(line, body, following)
        else:
            numbers = self.numbers(line)
        if numbers is None:
            return
        first, last = numbers
        if line.roles:
            self.colours.append((first, last, line))
        if line.change is not None:
            self.changes.append((first, *line.change))
            if last > first:
                sentence = "expected a change of yarn in a row of its own; found it in several rows."
                self.fault("row", line.change[1], first, sentence, "one row")
        if isinstance(body, RowsAgain):
            found = self.repeated(first, last, body, line)
        elif body is None:
            found = [None]
        else:
            found = [self.worked(first, body, line)]
        count = last - first + 1
        if self.width is not None and (self.next - 1 + count) * self.width > LARGEST_AREA:
            sentence = f"expected at most {LARGEST_AREA:,} stitches in all, found more at row {first}."
            self.fault("row", line.at, first, sentence, "fewer rows")
            found = [None]
        for row, one in zip(range(first, last + 1), found * (count // len(found)), strict=True):
            if one is not None:
                stated = one.stated if not isinstance(body, RowsAgain) else line.count.stitches if line.count else None
                one = RowAsRead(row, one.stitches, one.places, line.at.line or 1, stated)
            self.read.append(one)

    # ---- numbers ---------------------------------------------------------------------------------------

    def numbers(self, line: RowLine) -> tuple[int, int] | None:
        """Give first and last row of a line with a label, None if it has no place among the rows."""
        if line.label is None:
            return None
        first, last, at = line.label.first, line.label.last, line.label.at
        if first < self.next or last < first:
            if first < 1:
                sentence, expected = f"rows count from 1; found row {first}.", f"row {self.next}"
            elif last < first:
                sentence, expected = f"expected rows that rise; found rows {first} to {last}.", "a higher row"
            else:
                sentence = f"expected row {self.next}; row {first} is given a second time or comes too late."
                expected = f"row {self.next}"
            self.fault("row", at, first, sentence, expected)
            return None
        if last > LARGEST_SIDE:
            self.fault("row", at, first, f"expected at most {LARGEST_SIDE:,} rows; found row {last}.", "fewer rows")
            return None
        if first > self.next:
            missing = f"row {self.next} is" if first == self.next + 1 else f"rows {self.next} to {first - 1} are"
            self.fault("row", at, first, f"expected row {self.next}, found row {first}: {missing} missing.", missing)
            self.read += [None] * (first - self.next)
        return first, last

    def again(self, line: RowLine, body: RowsAgain, following: int | None) -> tuple[int, int] | None:
        """Give first and last row of a line that repeats rows; its label settles how often, or what follows it."""
        numbers = self.numbers(line)
        if numbers is None and line.label is not None:
            return None
        first = self.next
        rows = body.rows
        if not 1 <= rows.first <= rows.last < first:
            sentence = (
                f"expected rows from 1 to {first - 1}, which come before; found rows {rows.first} to {rows.last}."
            )
            self.fault("row", rows.at, first, sentence, "rows that come before")
            return numbers
        block = rows.last - rows.first + 1
        room = None if following is None else following - first
        if numbers is not None:
            room = numbers[1] - first + 1
        ways = _ways(body.often)
        fitting = [times for times in ways if times * block == room]
        if numbers is not None and body.often is None and room is not None and room % block == 0:
            fitting = [room // block]
        if numbers is None and len(ways) == 1:
            fitting = ways
        if len(fitting) != 1:
            self.wrong_times(line, body, ways, block, room, first)
            return numbers
        if len(ways) > 1 and body.often is not None:
            self.note(body.often.at, first, f"the rows are repeated {fitting[0]} more times, as the row numbers say.")
        last = first - 1 + fitting[0] * block
        if last > LARGEST_SIDE:
            self.fault("row", rows.at, first, f"expected at most {LARGEST_SIDE:,} rows.", "fewer rows")
            return None
        return first, last

    def wrong_times(
        self, line: RowLine, body: RowsAgain, ways: list[int], block: int, room: int | None, first: int
    ) -> None:
        """Say that rows are repeated another number of times than there is room for, or that it is not clear."""
        at = body.often.at if body.often else body.rows.at
        if line.label is None:
            several, fewer = (_more_times(times) for times in ways)
            sentence = (
                f"this may mean {several}, up to row {first - 1 + ways[0] * block}, or {fewer}, up to row "
                f"{first - 1 + ways[1] * block}; say '{several}' or '{fewer}', or which rows repeat them."
            )
            self.fault("ambiguous", at, first, sentence, f"'{several}' or '{fewer}'")
        else:
            made = " or ".join(counted(times * block, "row") for times in ways)
            room_for, many = counted(room or 0, "row"), counted(block, "row")
            sentence = f"the line stands for {room_for}, but repeating {many} so often makes {made}."
            self.fault("row", at, first, sentence, room_for)

    def repeated(self, first: int, last: int, body: RowsAgain, line: RowLine) -> list[RowAsRead | None]:
        """Give the rows that a line repeats, [None] if it has no such rows."""
        rows, count = body.rows, last - first + 1
        block = rows.last - rows.first + 1
        if not 1 <= rows.first <= rows.last < first or count % block:
            return [None]
        if (first - rows.first) % 2 or (block % 2 and count > block):
            self.check_swapped(first, last, body, line)
        found = self.read[rows.first - 1 : rows.last]
        for one in found:
            if one is not None and not self.check_stated(first, one.stitches, line):
                break
        return found

    def check_swapped(self, first: int, last: int, body: RowsAgain, line: RowLine) -> None:
        """Ask for the colours where rows are repeated in the other one, as happens over an odd number of rows."""
        if not line.roles:
            block = body.rows.last - body.rows.first + 1
            row = next(r for r in range(first, last + 1) if (r - body.rows.first - (r - first) % block) % 2)
            source = body.rows.first + (row - first) % block
            sentence = (
                f"row {row} has the other colour than row {source}, so that repeating it says two things; write out "
                "the stitches"
            )
            if line.label is None:
                sentence += ", or give the row its number and colour."
            else:
                sentence += (
                    f", or say the colour in '{'(MC)' if first == last else '(MC, CC)'}' or the other way round."
                )
            self.fault("ambiguous", body.rows.at, row, sentence, "rows of the same colour")

    # ---- stitches --------------------------------------------------------------------------------------

    def worked(self, row: int, steps: tuple[ReadStep, ...], line: RowLine) -> RowAsRead | None:
        """Give the row that steps make, None if they make none, and hold its count against what is known."""
        count = line.count
        found = None
        if line.tail:
            # "4 BLsc" after a full stop: the count of the row if it is that, more stitches otherwise
            tail = count_of(steps[-line.tail :])
            found = self.tried(row, steps[: -line.tail], tail.stitches)
            if found is not None and self.kinds_agree(tail, found.stitches):
                count, steps = tail, steps[: -line.tail]
            else:
                every = self.tried(row, steps, None)
                if found is not None and (every is None or len(every.stitches) != self.width):
                    self.wrong_tail(row, tail, found.stitches, every)
                    return None
            found = None
        stated = count.stitches if count and count.sound else None
        found = self.work_out(row, steps, stated)
        if found is None:
            return None
        wide = len(found.stitches)
        if count is line.count:
            self.check_stated(row, found.stitches, line)
        below = self.width
        if row == 1 and (below is None or stated == wide):
            self.width = wide  # a foundation that differs is said to be wrong in the end
        elif below is None:
            self.width = wide
        elif wide != below and stated != below:
            wider = "narrower" if wide < below else "wider"
            what = "the rows below have" if row > 1 else "the foundation has chains for"
            sentence = f"expected {_stitches(below)}, as {what}; found {wide}: the row is {wider}."
            self.fault("count", line.at, row, sentence, _stitches(below))
        return RowAsRead(row, found.stitches, found.places, line.at.line or 1, stated)

    def work_out(self, row: int, steps: tuple[ReadStep, ...], stated: int | None) -> WorkedRow | None:
        """Work steps out, and say what is wrong with them."""
        return self._worked(
            row,
            steps,
            stated,
            say=lambda kind, at, sentence, expected: self.fault(kind, at, row, sentence, expected),
            note=lambda at, sentence: self.note(at, row, sentence),
        )

    def tried(self, row: int, steps: tuple[ReadStep, ...], stated: int | None) -> WorkedRow | None:
        """Work steps out without a word about their faults, to see what they would make."""
        return self._worked(row, steps, stated, say=unsaid, note=lambda at, sentence: None)

    def _worked(
        self, row: int, steps: tuple[ReadStep, ...], stated: int | None, *, say: Say, note: Callable[[Token, str], None]
    ) -> WorkedRow | None:
        return work_out(
            steps,
            row=row,
            in_the_round=self.in_the_round,
            terms=self.terms,
            width=self.width,
            stated=stated,
            say=say,
            note=note,
        )

    def kinds_agree(self, count: Count, stitches: NDArray[np.uint8]) -> bool:
        """Whether a count names each kind of stitch of a row once, and with its number."""
        meant = [meaning(word, self.terms) for word, _ in count.kinds]
        return (
            count.stitches == len(stitches)
            and len(set(meant)) == len(meant)
            and all(
                int((stitches == kind).sum()) == number for kind, (_, number) in zip(meant, count.kinds, strict=True)
            )
        )

    def wrong_tail(self, row: int, tail: Count, stitches: NDArray[np.uint8], every: WorkedRow | None) -> None:
        """Say that what follows a full stop is neither the count of the row nor the rest of it."""
        makes = "" if every is None else f", and as more stitches it makes {len(every.stitches)} in all"
        sentence = (
            f"what follows the full stop is not the count of the row, which has {self.in_kinds(stitches)}{makes}; put "
            "the count in ( ), or a comma before stitches."
        )
        self.fault("count", tail.at, row, sentence, self.in_kinds(stitches))

    def in_kinds(self, stitches: NDArray[np.uint8]) -> str:
        """Name the stitches of a row by kind: "6 BLsc, 2 FLdc"."""
        names = STITCH_NAMES[self.terms]
        return ", ".join(f"{n} {names[kind]}" for kind, n in enumerate(np.bincount(stitches).tolist()) if n)

    def check_stated(self, row: int, stitches: NDArray[np.uint8], line: RowLine) -> bool:
        """Hold the count that a line states against the stitches of its row; tell whether it fits."""
        count = line.count
        if count is None:
            return True
        if not count.sound:
            sentence = "expected how often after the brackets, as '2 times', or in them a count, as '(8 sts)'."
            self.fault("malformed", count.at, row, sentence, "a number of times")
            return False
        for word, _ in count.kinds:
            if meaning(word, self.terms) is None:
                kind, at, sentence, expected = no_stitch(word, self.terms)
                self.fault(kind, at, row, sentence, expected)
                return False
        if self.kinds_agree(count, stitches):
            return True
        if count.stitches != len(stitches):
            sentence = f"the row states {_stitches(count.stitches)}, but its words make {len(stitches)}."
            expected = _stitches(len(stitches))
        else:
            told = ", ".join(f"{number} {word}" for word, number in count.kinds)
            expected = self.in_kinds(stitches)
            sentence = f"the row states {told}, but its words make {expected}; a count names each kind once."
        self.fault("count", count.at, row, sentence, expected)
        return False

    # ---- colours ---------------------------------------------------------------------------------------

    def first_role(self, foundation: Role | None) -> Role | None:
        """Settle the colour of row 1 by what most rows say, and say which rows do not fit; None if none says."""
        says = [role_of_row(first, line.roles[0]) for first, _, line in self.colours]
        if not says:
            return foundation
        role = max(ROLES, key=lambda one: (says.count(one), says[0] == one))
        for first, last, line in self.colours:
            for row in range(first, min(last, first + len(line.roles)) + 1):
                told, right = line.roles[(row - first) % len(line.roles)], role_of_row(row, role)
                if told != right:
                    sentence = f"expected {right} in row {row}, found {told}: the two colours alternate."
                    self.fault("colour", line.at, row, sentence, right)
                    break
        return role


def _stitches(number: int) -> str:
    return counted(number, "stitch", "stitches")


def _more_times(times: int) -> str:
    return f"{times} more {'time' if times == 1 else 'times'}"


def _ways(often: Often | None) -> list[int]:
    """List how many more times rows may be meant to be worked."""
    if often is None:
        return [1]
    if often.how == "more":
        return [often.count]
    return [often.count, often.count - 1] if often.count > 1 else [often.count]
