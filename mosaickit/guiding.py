"""A chart stitch by stitch, as plain data that a page can lead a maker through without knowing anything of the craft.

`steps` lays out everything that is shown: every stitch in working order, its moves with the loops on the hook after
each, the column below it in cross-section with the loops that are free, the row in words with the runs that a maker is
in, and what each row adds to both faces. `PlaceFile` keeps how far a maker has come, so that a killed program loses at
most the step in hand. Rows and stitches are counted from 1 in words, and as numbers done, from 0, in a `Place`.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.disk import as_path, file_name, read_whole, write_whole
from mosaickit.documents import fault, parse, read_object, read_string
from mosaickit.errors import FileError, OptionError, of_kind, one_of, whole_number
from mosaickit.gauge import Gauge
from mosaickit.hook import work
from mosaickit.rules import BETWEEN_ROWS, BetweenRows
from mosaickit.stitches import Chart, Stitch
from mosaickit.wording import remarks
from mosaickit.wording.phrases import Part, Run, plain, short
from mosaickit.wording.shortest import shortest
from mosaickit.wording.terms import STITCH_NAMES, STITCH_WORDS, STYLES, TERMS, Style, Terms

KIND = "mosaickit place"
VERSION = 1

MOST_STITCHES = 200_000
"""A guide to more stitches than this would be too much for a page to hold."""

Side = Literal["front", "back", "chain"]
State = Literal["free", "worked into", "covered"]


class Loop(NamedTuple):
    """A loop of the column under a stitch: how many rows below it lies, and on which side.

    The foundation chain is taken as a whole, so its side is "chain".
    """

    below: int
    side: Side


@dataclass(frozen=True)
class Move:
    """One move of the hook.

    Attributes
    ----------
    text : str
        What to do, in US terms.
    loops : int
        The loops on the hook after it.
    enters : Loop or None
        The loop that the hook goes into.
    """

    text: str
    loops: int
    enters: Loop | None = None


# ---- how each stitch is made -------------------------------------------------------------------------------

_CHAIN, _BACK_BELOW = Loop(1, "chain"), Loop(1, "back")
_BACK_TWO_BELOW, _FRONT_TWO_BELOW = Loop(2, "back"), Loop(2, "front")

TAKES: dict[Stitch, tuple[Loop, ...]] = {
    Stitch.SC: (_CHAIN,),
    Stitch.BLSC: (_BACK_BELOW,),
    Stitch.FLDC: (_FRONT_TWO_BELOW,),
    Stitch.TOG_BACK: (_BACK_BELOW, _BACK_TWO_BELOW),
    Stitch.TOG_FRONT: (_BACK_BELOW, _FRONT_TWO_BELOW),
}
"""The loops that each stitch takes, in the order in which the hook enters them."""

_SC_IN_BACK_LOOP = Move("Insert the hook under the back loop of the stitch below.", 1, _BACK_BELOW)


def _draw_up(loops: int) -> Move:
    return Move("Yarn over, draw up a loop.", loops)


def _through(count: int, loops: int) -> Move:
    return Move(f"Yarn over, draw through {count} loops.", loops)


_MOVES: dict[Stitch, tuple[Move, ...]] = {
    Stitch.SC: (
        Move("Insert the hook into the next chain of the foundation.", 1, _CHAIN),
        _draw_up(2),
        _through(2, 1),
    ),
    Stitch.BLSC: (_SC_IN_BACK_LOOP, _draw_up(2), _through(2, 1)),
    Stitch.FLDC: (
        Move("Yarn over.", 2),
        Move(
            "In front of the work, insert the hook under the free front loop of the stitch two rows below.",
            2,
            _FRONT_TWO_BELOW,
        ),
        _draw_up(3),
        _through(2, 2),
        _through(2, 1),
    ),
    Stitch.TOG_BACK: (
        _SC_IN_BACK_LOOP,
        _draw_up(2),
        Move("Yarn over.", 3),
        Move(
            "On the wrong side, insert the hook under the unworked back loop of the stitch two rows below{strand}.",
            3,
            _BACK_TWO_BELOW,
        ),
        _draw_up(4),
        _through(2, 3),
        _through(3, 1),
    ),
    Stitch.TOG_FRONT: (
        _SC_IN_BACK_LOOP,
        _draw_up(2),
        Move("Yarn over.", 3),
        Move(
            "On the right side, insert the hook under the free front loop of the stitch two rows below.",
            3,
            _FRONT_TWO_BELOW,
        ),
        _draw_up(4),
        _through(2, 3),
        _through(3, 1),
    ),
}

_NOTES = {
    Stitch.FLDC: "Skip the stitch just behind it.",
    Stitch.TOG_FRONT: "Nothing is skipped.",
}
_FIRM = "At the first and last stitch of a row work through both loops, not one, which keeps the edge firm."


def moves(stitch: Stitch) -> tuple[Move, ...]:
    """Give the moves of a stitch; one loop is on the hook before the first and after the last.

    Examples
    --------
    >>> [move.loops for move in moves(Stitch.TOG_BACK)]
    [1, 2, 3, 3, 4, 3, 1]
    """
    return tuple(Move(move.text.format(strand=""), move.loops, move.enters) for move in _MOVES[stitch])


# ---- the column under a stitch -----------------------------------------------------------------------------


class _Column(NamedTuple):
    """The stitches one, two and three rows below, None for the foundation chain, and "" for what is under it."""

    one: Stitch | Literal[""] | None
    two: Stitch | Literal[""] | None
    three: Stitch | Literal[""] | None


_IN_FRONT = (Stitch.FLDC, Stitch.TOG_FRONT)


def _column(stitches: NDArray[np.uint8], row: int, stitch: int) -> _Column:
    """Find the column under a stitch; row and stitch from 0."""
    below = [row - 1, row - 2, row - 3]
    return _Column(*(Stitch(int(stitches[r, stitch])) if r >= 0 else None if r == -1 else "" for r in below))


def _states(column: _Column) -> dict[Loop, State]:
    """Tell which loops of the column are free, before the next stitch is worked."""
    one, two, three = column
    found: dict[Loop, State] = {}
    if isinstance(one, Stitch):  # what was worked last is open
        found[Loop(1, "front")] = found[Loop(1, "back")] = "free"
        if isinstance(two, Stitch):
            found[Loop(2, "back")] = "free" if one is Stitch.FLDC else "worked into"
            found[Loop(2, "front")] = "covered" if one in _IN_FRONT else "free"
            if isinstance(three, Stitch):
                open_back = two is Stitch.FLDC and one is not Stitch.TOG_BACK
                found[Loop(3, "back")] = "free" if open_back else "worked into"
                found[Loop(3, "front")] = (
                    "covered" if two in _IN_FRONT else "worked into" if one in _IN_FRONT else "free"
                )
    return found


def loops_below(chart: Chart, row: int, stitch: int) -> dict[Loop, State]:
    r"""Tell how the loops of up to three rows below a place stand, before its stitch is worked.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work.
    row, stitch : int
        The place, from 1.

    Returns
    -------
    dict from Loop to "free", "worked into" or "covered"
        A front loop is covered where a double crochet hangs over it.

    Raises
    ------
    OptionError
        If there is no such place.

    Examples
    --------
    >>> loops_below(Chart.from_text("...\n.|.\n...\n..."), 4, 2)[Loop(2, "back")]
    'free'
    """
    for name, value, most in (("row", row, chart.shape[0]), ("stitch", stitch, chart.shape[1])):
        if whole_number(name, value, least=1) > most:
            raise OptionError(f"`{name}` must be a {name} from 1 to {most}; got {value!r}.")
    return _states(_column(chart.stitches, row - 1, stitch - 1))


# ---- the cross-section -------------------------------------------------------------------------------------

VIEW_BOX = "-96 0 220 276"
_TOP, _PITCH, _REACH = 86, 58, 16  # the top of the new stitch, how far rows lie apart, half the width of a stitch
_HOOK_Y, _FIRST_X, _APART = 30, -44, 17  # the hook, its tip at the left, and where loops hang on it
_RING = {"free": "mk-free", "worked into": "mk-taken", "covered": "mk-covered"}


def _y(below: int) -> int:
    return _TOP + _PITCH * below


def _x(side: Side) -> int:
    return {"front": -_REACH, "chain": 0, "back": _REACH}[side]


def _cord(d: str, below: int) -> str:
    """Draw yarn: an edge that stands out on any ground, and the yarn's colour within it."""
    return f'<path class="mk-edge" d="{d}"/><path class="mk-yarn{below}" d="{d}"/>'


def _leg(start: Loop, around: bool, end: tuple[int, int]) -> str:
    """Draw the way from a loop up to a point: straight, or around the stitch that lies between, on the loop's side."""
    x, (right, top) = _x(start.side), end
    out = 3 * x if around else x
    return f"M{x} {_y(start.below)}C{out} {_y(start.below) - 24} {out} {top + 30} {right} {top}"


def _stitch(stitch: Stitch, below: int) -> str:
    """Draw a stitch that stands: its legs, and the V of its two loops."""
    top = _y(below)
    legs = [_leg(Loop(one.below + below, one.side), one.below > 1, (0, top + 18)) for one in TAKES[stitch]]
    return _cord("".join(legs) + f"M{-_REACH} {top}L0 {top + 18}L{_REACH} {top}", below)


def _rings(states: dict[Loop, State]) -> str:
    return "".join(
        f'<circle class="{_RING[state]}" cx="{_x(loop.side)}" cy="{_y(loop.below)}" r="6"/>'
        for loop, state in states.items()
    )


def _column_picture(column: _Column, labels: list[str]) -> str:
    """Draw the column under a stitch, front at the left: the body of an SVG."""
    drawn = ""
    for below, stitch in reversed([*enumerate(column, 1)]):
        if stitch is None:
            drawn += f'<ellipse class="mk-edge" cx="0" cy="{_y(below)}" rx="20" ry="7"/>'
            drawn += f'<ellipse class="mk-yarn{below}" cx="0" cy="{_y(below)}" rx="20" ry="7"/>'
            drawn += _label(_y(below), labels[4])
        elif isinstance(stitch, Stitch):
            drawn += _stitch(stitch, below)
            if below < 3:
                drawn += _label(_y(below), labels[1 + below])
    ends = f'<text x="-92" y="{_TOP - 24}">{labels[0]}</text>'
    ends += f'<text x="120" y="{_TOP - 24}" text-anchor="end">{labels[1]}</text>'
    return drawn + _rings(_states(column)) + ends


def _label(y: int, words: str) -> str:
    return f'<text x="120" y="{y + 38}" text-anchor="end">{words}</text>'


def _hook(loops: int) -> str:
    """Draw the hook with so many loops of yarn on it."""
    bar = f'<path class="mk-hook" d="M120 {_HOOK_Y}H-62q-8 0-8 6 0 5 7 4"/>'
    each = (f"M{_FIRST_X + _APART * n} {_HOOK_Y - 11}q7 11 0 22q-7-11 0-22z" for n in range(loops))
    return bar + _cord("".join(each), 0)


def _way_in(loop: Loop) -> str:
    """Draw how the hook goes into a loop: an arrow, and the loop marked."""
    x, y = _x(loop.side), _y(loop.below)
    if loop.side == "chain":
        path = f"M-70 {y - 22}Q-24 {y - 20} 0 {y - 2}T30 {y + 18}m-9-2l9 2-2-9"
    elif loop == _BACK_BELOW:  # down between the two loops, and under the back loop
        path = f"M-70 {y - 26}Q-8 {y - 30} 0 {y - 2}Q4 {y + 16} 44 {y + 14}m-7-5l7 5-7 5"
    else:  # from its own side of the work under the loop, and up between the two
        out = 78 if loop.side == "back" else -78
        path = f"M{out} {y + 26}Q{out // 2} {y + 26} {x} {y + 11}Q0 {y + 4} 0 {y - 20}m-5 7l5-7 5 7"
    ring = f'<circle class="mk-target" cx="{x}" cy="{y}" r="9"/>'
    return f'{ring}<path class="mk-halo" d="{path}"/><path class="mk-way" d="{path}"/>'


def _move_pictures(stitch: Stitch) -> Iterator[str]:
    """Draw what each move adds to the column: the hook, its loops, the way in, and the yarn drawn up so far."""
    on_hook: list[list[Loop]] = [[]]  # nearest the tip first: the loops of the fabric that each hangs on
    entered: list[Loop] = []
    for move in _MOVES[stitch]:
        if move.enters is not None:
            entered = [move.enters]
        elif move.loops > len(on_hook):  # the yarn goes over; just after the hook went in it is drawn up
            on_hook.insert(0, entered)
            entered = []
        else:  # drawn through the loops nearest the tip
            through = len(on_hook) - move.loops + 1
            on_hook[:through] = [[loop for one in on_hook[:through] for loop in one]]
        legs = "".join(
            _leg(loop, loop.below > 1, (_FIRST_X + _APART * number, _HOOK_Y + 11))
            for number, loops in enumerate(on_hook)
            for loop in loops
        )
        made = _stitch(stitch, 0) if len(on_hook) == 1 and on_hook[0] else _cord(legs, 0) if legs else ""
        yield made + _hook(move.loops) + (_way_in(move.enters) if move.enters else "")


# ---- the row in words --------------------------------------------------------------------------------------


def _visits(parts: tuple[Part, ...], run: int = 0, times: str = "") -> Iterator[tuple[int, Run, str]]:
    """Walk a row's runs as they are worked: which run of the text it is, the run, and which time of which repeat."""
    for part in parts:
        if isinstance(part, Run):
            yield run, part, times
            run += 1
        else:
            for time in range(1, part.times + 1):
                inside = f", in {times}" if times else ""
                yield from _visits(part.parts, run, f"time {time} of {part.times}{inside}")
            run += _runs_in(part.parts)


def _runs_in(parts: tuple[Part, ...]) -> int:
    return sum(1 if isinstance(part, Run) else _runs_in(part.parts) for part in parts)


def _run_pattern(terms: Terms, style: Style) -> str:
    names = sorted((STITCH_NAMES if style == "short" else STITCH_WORDS)[terms], key=len, reverse=True)
    where = r" in (?:next|last) (?:st|\d+ sts)\b"
    if style == "plain words":
        where = r" in the (?:next|last) (?:stitch|\d+ stitches)\b"
    return f"(?:{'|'.join(map(re.escape, names))}){where}"


def _line(parts: tuple[Part, ...], terms: Terms, style: Style) -> dict[str, Any]:
    """Lay out a row in words: its text in pieces, some of which are runs, and the runs in the order of work."""
    text = (short if style == "short" else plain)(parts, terms)
    pieces: list[list[Any]] = []
    at = 0
    for number, found in enumerate(re.finditer(_run_pattern(terms, style), text)):
        if found.start() > at:
            pieces.append([text[at : found.start()], None])
        pieces.append([found.group(), number])
        at = found.end()
    if at < len(text):
        pieces.append([text[at:], None])
    groups, done = [], 0
    for run, part, times in _visits(parts):
        said = f"{STITCH_WORDS[terms][part.stitch]}, {part.count} {'stitch' if part.count == 1 else 'stitches'}"
        groups.append({"first": done, "end": done + part.count, "run": run, "times": times, "said": said})
        done += part.count
    return {"pieces": pieces, "groups": groups, "said": plain(parts, terms)}


# ---- both faces --------------------------------------------------------------------------------------------


def _face(name: str, shown_rows: NDArray[np.int64], columns: NDArray[np.int64], row_inks: list[int]) -> dict[str, Any]:
    """Lay out what each row, once worked, paints on a face as seen: runs of (from the top, from the left, how many)."""
    rows, stitches = shown_rows.shape
    paint = []
    for row in range(1, rows + 1):
        top, _ = orientation.square(row, 1, (rows, stitches))
        runs = [[top, 0, stitches]]
        if row > 1:
            under, _ = orientation.square(row - 1, 1, (rows, stitches))
            runs += [[under, left, end - left] for _, left, end in svg.runs(shown_rows[[under]] == row).tolist()]
        paint.append({"ink": row_inks[row - 1], "runs": runs})
    return {"name": name, "columns": columns.tolist(), "paint": paint}


# ---- all of it ---------------------------------------------------------------------------------------------


def fingerprint(chart: Chart) -> str:
    """Sixteen letters that hang on what is worked where, and not on names and colours of yarn."""
    told = (chart.shape, chart.row_colours, chart.hand, chart.in_the_round)
    return hashlib.sha256(repr(told).encode() + chart.stitches.tobytes()).hexdigest()[:16]


class _Ways:
    """The ways in which stitches of a chart are made, each once, and the columns that they stand on."""

    def __init__(self, chart: Chart, terms: Terms, strand: str) -> None:
        self.chart, self.terms, self.strand = chart, terms, strand
        self.ways: list[dict[str, Any]] = []
        self.columns: list[str] = []
        self._way_of: dict[tuple[Stitch, _Column, bool], int] = {}
        self._column_of: dict[_Column, int] = {}
        said = ("front", "back", "row below", "two rows below", "foundation chain")
        self._labels = [escape(self.words(text)) for text in said]

    def words(self, text: str) -> str:
        return remarks.in_words(text, self.chart, self.terms)

    def of_row(self, row: int) -> list[int]:
        """Give the way of each stitch of a row, from 0."""
        last = self.chart.shape[1] - 1
        return [self._of(row, stitch, stitch in (0, last)) for stitch in range(last + 1)]

    def _of(self, row: int, stitch: int, at_edge: bool) -> int:
        kind = Stitch(int(self.chart.stitches[row, stitch]))
        firm = kind is Stitch.TOG_FRONT and at_edge and not self.chart.in_the_round
        key = (kind, _column(self.chart.stitches, row, stitch), firm)
        if key not in self._way_of:
            self._way_of[key] = len(self.ways)
            self.ways.append(self._way(*key))
        return self._way_of[key]

    def _way(self, kind: Stitch, column: _Column, firm: bool) -> dict[str, Any]:
        if column not in self._column_of:
            self._column_of[column] = len(self.columns)
            self.columns.append(_column_picture(column, self._labels))
        made = [
            {
                "text": self.words(move.text.format(strand=self.strand)),
                "loops": move.loops,
                "enters": None if move.enters is None else list(move.enters),
                "over": over,
            }
            for move, over in zip(_MOVES[kind], _move_pictures(kind), strict=True)
        ]
        note = " ".join([*filter(None, [_NOTES.get(kind, "")]), *([_FIRM] if firm else [])])
        return {
            "name": STITCH_NAMES[self.terms][kind],
            "words": STITCH_WORDS[self.terms][kind],
            "column": self._column_of[column],
            "moves": made,
            "shows": [number for number, move in enumerate(_MOVES[kind]) if move.enters is not None],
            "note": self.words(note),
        }


def steps(
    chart: Chart,
    *,
    gauge: Gauge | None = None,
    terms: Terms = "US",
    style: Style = "short",
    between_rows: BetweenRows = "carried",
    repeat: int | None = None,
) -> dict[str, Any]:
    r"""Lay out a chart for a maker who is led through it stitch by stitch.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work, at most `MOST_STITCHES` in all.
    gauge : Gauge, optional
        Gives the proportion of the faces, and how high the work is after each row.
    terms, style, between_rows, repeat
        As `write_rows` takes them.

    Returns
    -------
    dict
        Plain data, fit for JSON. ``work`` has a row of the chart each: its ``ways`` name what is done at each stitch,
        as numbers of ``ways``, and ``line`` its words, as a number of ``lines``. A way has ``moves`` with ``loops`` on
        the hook after each, and stands on one of the ``columns``; ``faces`` say what each row paints.

    Raises
    ------
    StitchError
        If no hook can work the chart.
    OptionError
        If another argument is not as described, or the chart is too large.

    Examples
    --------
    >>> data = steps(Chart.from_text("...\n.|.\n...\n..."))
    >>> way = data["ways"][data["work"][2]["ways"][1]]
    >>> way["name"], [move["loops"] for move in way["moves"]]
    ('FLdc', [2, 2, 3, 2, 1])
    """
    of_kind("chart", chart, Chart)
    if gauge is not None:
        of_kind("gauge", gauge, Gauge)
    for name, value, choices in (
        ("terms", terms, TERMS),
        ("style", style, STYLES),
        ("between_rows", between_rows, BETWEEN_ROWS),
    ):
        one_of(name, value, choices)
    if repeat is not None:
        repeat = whole_number("repeat", repeat, least=1)
    rows, count = chart.shape
    if rows * count > MOST_STITCHES:
        raise OptionError(
            f"A guide leads through at most {MOST_STITCHES:,} stitches; this chart has {rows * count:,}: guide through "
            "its parts one by one."
        )
    fabric = work(chart)
    carried = between_rows == "carried" and not chart.in_the_round
    ways = _Ways(chart, terms, ", under the carried yarn" if carried else "")
    yarns = [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]
    inks = list(dict.fromkeys(yarn.colour for yarn in yarns))
    row_inks = [inks.index(yarn.colour) for yarn in yarns]
    edges = 0 if repeat is None else count % repeat // 2
    line_of: dict[bytes, int] = {}
    lines: list[dict[str, Any]] = []
    worked = []
    for row, stitches in enumerate(chart.stitches):
        key = stitches.tobytes()
        if key not in line_of:
            line_of[key] = len(lines)
            lines.append(_line(shortest(stitches, repeat=repeat, edges=edges), terms, style))
        worked.append(
            {
                "role": chart.row_colours[row],
                "yarn": yarns[row].name,
                "ink": row_inks[row],
                # of the row itself and the three below it; the foundation has the yarn of row 1
                "inks": [row_inks[max(row - below, 0)] for below in range(4)],
                "line": line_of[key],
                "ways": ways.of_row(row),
                "height": "" if gauge is None else f"{gauge.size_cm(row + 1, count)[1]:.1f} cm high",
            }
        )
    seen = np.arange(count)[np.newaxis]
    front_columns = orientation.to_working(seen, chart.hand)[0]
    back_columns = orientation.to_working(orientation.from_behind(seen), chart.hand)[0]
    return {
        "fingerprint": fingerprint(chart),
        "title": chart.summary,
        "row": "Round" if chart.in_the_round else "Row",
        "rows": rows,
        "stitches": count,
        "foundation": ways.words(remarks.foundation(chart, style)),
        "notes": list(remarks.notes(chart, terms, style, between_rows)),
        "inks": inks,
        "view_box": VIEW_BOX,
        "columns": ways.columns,
        "ways": ways.ways,
        "lines": lines,
        "work": worked,
        "faces": [
            _face("Front", fabric.front_rows, front_columns, row_inks),
            _face("Back, seen from behind", fabric.back_rows, back_columns, row_inks),
        ],
        "aspect": 1.0 if gauge is None else gauge.aspect,
    }


# ---- where a maker is --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Place:
    """How far a maker has come.

    Parameters
    ----------
    rows : int
        Whole rows done; all of them when the work is finished.
    stitches : int
        Stitches done of the row in hand.
    moves : int
        Moves done of the stitch in hand.
    """

    rows: int = 0
    stitches: int = 0
    moves: int = 0


def checked_place(place: Place, chart: Chart) -> Place:
    """Return a place that is in the chart, or raise `OptionError`."""
    rows, count = chart.shape
    row, stitch, move = (whole_number(name, getattr(place, name)) for name in ("rows", "stitches", "moves"))
    if row == rows and stitch == move == 0:
        return Place(row)
    if row >= rows or stitch >= count or move >= len(_MOVES[Stitch(int(chart.stitches[row, stitch]))]):
        raise OptionError(f"A place must lie in the chart of {rows} rows × {count} stitches; got {place!r}.")
    return Place(row, stitch, move)


class PlaceFile:
    """Keeps a place in a file, written whole at every step.

    A file that is damaged, or another chart's, is left as it is, and a name of the chart's own is used beside it.

    Parameters
    ----------
    path : path
        The file, which may not be there yet.
    chart : Chart
        What is worked.

    Attributes
    ----------
    file : Path or None
        The file that is written; None if there is none that may be.
    place : Place
        Where the maker is.
    note : str
        What is to be said about the file that was found; may be empty.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> chart = Chart.from_text("...")
    >>> with TemporaryDirectory() as folder:
    ...     PlaceFile(Path(folder) / "scarf.place", chart).keep(Place(0, 2))
    ...     PlaceFile(Path(folder) / "scarf.place", chart).place
    Place(rows=0, stitches=2, moves=0)
    """

    def __init__(self, path: str | PathLike[str], chart: Chart) -> None:
        wanted = as_path(path)
        own = wanted.with_name(f"{wanted.stem}-{fingerprint(chart)[:8]}{wanted.suffix}")
        self.chart = chart
        self.place, self.file, refused = _found(wanted, own, chart)
        self.note = "" if self.place == Place() else f"Brought back from {file_name(self.file or wanted)}."
        if refused and self.file is not None:
            self.note = f"{refused} The place is kept in {file_name(self.file)} instead. {self.note}".strip()
        elif refused:
            self.note = f"{refused} {file_name(own)} cannot be used either, so the place is not kept in any file."

    def keep(self, place: Place) -> None:
        """Go to a place and keep it.

        Raises
        ------
        OptionError
            If the place is not in the chart.
        FileError
            If the file cannot be written; the maker has gone there all the same.
        """
        self.place = checked_place(place, self.chart)
        if self.file is None:
            return
        told = {"format": KIND, "version": VERSION, "chart": fingerprint(self.chart), **asdict(self.place)}
        write_whole(self.file, (json.dumps(told) + "\n").encode("utf-8"))


def _found(wanted: Path, own: Path, chart: Chart) -> tuple[Place, Path | None, str]:
    """Look for a place of the chart in two files: the place, the file to write, and why the first was refused."""
    refused = ""
    unused = []
    for file in (wanted, own):
        try:
            place = _read(file, chart)
        except FileError as error:
            refused = refused or f"{file_name(file)} was left as it is: {error}"
            continue
        if place is not None:
            return place, file, refused
        unused.append(file)
    return Place(), unused[0] if unused else None, refused


def _read(file: Path, chart: Chart) -> Place | None:
    """Read the place in a file, None if there is no such file, or raise `FileError`."""
    if not os.path.exists(file):  # which is no error where nobody may look
        return None
    try:
        text = read_whole(file).decode("utf-8")
    except UnicodeDecodeError:
        raise FileError("It is no text.") from None
    told = read_object(parse(text), (), ("format", "version", "chart", "rows", "stitches", "moves"))
    if told["format"] != KIND or told["version"] != VERSION:
        raise FileError(f"It is no {KIND} of version {VERSION}.")
    if read_string(told["chart"], ("chart",)) != fingerprint(chart):
        raise FileError("It belongs to another chart.")
    try:
        return checked_place(Place(*(told[name] for name in ("rows", "stitches", "moves"))), chart)
    except OptionError as error:
        raise fault(("rows",), str(error)) from None
