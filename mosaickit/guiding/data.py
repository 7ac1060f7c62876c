"""All that a page shows of a chart stitch by stitch, as plain data that knows nothing of Python and of the craft.

What comes again stands in a table once and is then named by its number there: the kinds of stitches with their moves,
the columns, the rows' stitches, the pieces of the rows in words. So the data of 100 rows of 200 stitches stays well
below the size of the same chart drawn in SVG, without being packed.
"""

from __future__ import annotations

from html import escape
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation, svg, wording
from mosaickit.errors import OptionError, of_kind, one_of, whole_number
from mosaickit.fabric import (
    FIRM,
    FOUNDATIONS,
    MOVES,
    STITCH_NOTES,
    Chart,
    Column,
    Foundation,
    HookMove,
    Loop,
    Stitch,
    column_at,
    work,
)
from mosaickit.gauge import Gauge
from mosaickit.guiding.drawings import COLUMN_VIEW_BOX, column_picture, move_pictures
from mosaickit.guiding.lines import Numbered, RowsInWords
from mosaickit.guiding.places import fingerprint
from mosaickit.motif import BETWEEN_ROWS, BetweenRows
from mosaickit.wording import STITCH_NAMES, STITCH_WORDS, STYLES, TERMS, Style, Terms, breaking, repeats_across

MOST_STITCHES = 200_000
"""A guide to more stitches than this would be too much for a page to hold."""


FOUNDATION_SC_MOVES = (
    HookMove(
        "Insert the hook into the chain at the foot of the stitch before; of the first, into the 2nd of 2 chains.",
        1,
        Loop(1, "chain"),
    ),
    HookMove("Yarn over, draw up a loop.", 2),
    HookMove("Yarn over, draw through 1 loop: this is the chain of this stitch.", 2),
    HookMove("Yarn over, draw through 2 loops.", 1),
)
"""How row 1 is made where it is its own foundation: chain and single crochet in one (common practice, no source)."""


def steps(
    chart: Chart,
    *,
    gauge: Gauge | None = None,
    terms: Terms = "US",
    style: Style = "short",
    between_rows: BetweenRows = "carried",
    repeat: int | None = None,
    repeat_from: int | None = None,
    foundation: Foundation = "chain",
) -> dict[str, Any]:
    r"""Lay out a chart for a maker who is led through it stitch by stitch.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work, at most `MOST_STITCHES` in all.
    gauge : Gauge, optional
        Gives the proportion of the faces, and how high the work is after each row.
    terms, between_rows, repeat, repeat_from, foundation
        As `write_rows` takes them.
    style : "short" or "plain words"
        How the rows are written at first; the data holds them in both styles.

    Returns
    -------
    dict
        Plain data, fit for JSON. ``work`` has a row of the chart each: its ``order`` is a number of ``orders``, which
        are lists of numbers of ``ways``, one for each stitch; a way is a pair of numbers, of ``kinds`` and of
        ``columns``. A kind has ``moves`` with the ``loops`` on the hook after each. Its ``line`` is a number of
        ``lines``, whose ``pieces`` are numbers of ``pieces``; ``changes`` says whether it takes another yarn than the
        last row of its colour. ``faces`` say what each row paints.

    Raises
    ------
    StitchError
        If no hook can work the chart.
    OptionError
        If another argument is not as described, or the chart is too large.

    Examples
    --------
    >>> data = steps(Chart.from_text("...\n.|.\n...\n..."))
    >>> kind, _ = data["ways"][data["orders"][data["work"][2]["order"]][1]]
    >>> data["kinds"][kind]["name"], [move["loops"] for move in data["kinds"][kind]["moves"]]
    ('FLdc', [2, 2, 3, 2, 1])
    """
    of_kind("chart", chart, Chart)
    if gauge is not None:
        of_kind("gauge", gauge, Gauge)
    for name, value, choices in (
        ("terms", terms, TERMS),
        ("style", style, STYLES),
        ("between_rows", between_rows, BETWEEN_ROWS),
        ("foundation", foundation, FOUNDATIONS),
    ):
        one_of(name, value, choices)
    if repeat is not None:
        repeat = whole_number("repeat", repeat, least=1)
    if repeat_from is not None:
        repeat_from = whole_number("repeat_from", repeat_from, least=1, most=chart.shape[1])
    rows, count = chart.shape
    if rows * count > MOST_STITCHES:
        raise OptionError(
            f"A guide leads through at most {MOST_STITCHES:,} stitches; this chart has {rows * count:,}: guide through "
            "its parts one by one."
        )
    fabric = work(chart)
    yarns = [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]
    changes = {row for row, *_ in chart.yarns.starts(chart.row_colours) if row > 2}
    inks: Numbered[str] = Numbered()
    row_inks = [inks.number(yarn.colour) for yarn in yarns]
    ways = _Ways(chart, terms, between_rows, foundation)
    orders: Numbered[tuple[int, ...]] = Numbered()
    lines = RowsInWords(terms)
    texts: Numbered[bytes] = Numbered()  # which rows are worked alike
    worked = [
        {
            "role": role,
            "yarn": yarn.name,
            "changes": row + 1 in changes,
            # of the row itself and the three below it; the foundation has the yarn of row 1
            "inks": [row_inks[max(row - below, 0)] for below in range(4)],
            "line": texts.number(chart.stitches[row].tobytes()),
            "order": orders.number(ways.of_row(row)),
            "height": "" if gauge is None else f"{gauge.size_cm(row + 1, count)[1]:.1f} cm high",
        }
        for row, (role, yarn) in enumerate(zip(chart.row_colours, yarns, strict=True))
    ]
    parts_of = breaking(chart, "natural", repeat, repeats_across(chart.stitches, repeat, repeat_from))
    parts = [parts_of(np.frombuffer(row, np.uint8)) for row in texts.values]
    written = []
    for number, each in enumerate(parts):
        # row 1 comes first, and no other row is worked as one that goes into the chain
        first = [wording.first_row(chart, terms, words, foundation) for words in STYLES] if not number else []
        every = [wording.every_stitch(each, chart, terms, words) for words in STYLES]
        written.append(lines.line(each, tuple(filter(None, first)) or tuple(filter(None, every))))
    return {
        "fingerprint": fingerprint(chart),
        "title": chart.summary,
        "row": "Round" if chart.in_the_round else "Row",
        "rows": rows,
        "stitches": count,
        "style": STYLES.index(style),
        "styles": ["short", "in full"],
        "about": [
            [
                *filter(None, [wording.foundation(chart, terms, each, foundation)]),
                *wording.notes(chart, terms, each, between_rows, foundation),
            ]
            for each in STYLES
        ],
        "inks": inks.values,
        "view_box": COLUMN_VIEW_BOX,
        "columns": ways.columns,
        "kinds": ways.kinds,
        "ways": ways.ways,
        "orders": orders.values,
        "pieces": lines.pieces.values,
        "times": lines.times.values,
        "said": lines.said.values,
        "lines": written,
        "work": worked,
        "faces": _faces(chart, fabric.front_rows, fabric.back_rows, row_inks),
        "aspect": 1.0 if gauge is None else gauge.aspect,
    }


# ---- how the stitches are made -----------------------------------------------------------------------------


class _Ways:
    """The ways in which stitches of a chart are made, each once: a kind of stitch, and the column that it stands on."""

    def __init__(self, chart: Chart, terms: Terms, between_rows: BetweenRows, foundation: Foundation) -> None:
        self._foundation = foundation
        carried = between_rows == "carried" and not chart.in_the_round
        self._chart, self._terms, self._strand = chart, terms, ", under the carried yarn" if carried else ""
        self._kinds: Numbered[tuple[Stitch, bool]] = Numbered()
        self._columns: Numbered[Column] = Numbered()
        self._ways: Numbered[tuple[int, int]] = Numbered()

    def words(self, text: str) -> str:
        return wording.in_words(text, self._chart, self._terms)

    def of_row(self, row: int) -> tuple[int, ...]:
        """Give the way of each stitch of a row, from 0."""
        last = self._chart.shape[1] - 1
        return tuple(self._of(row, stitch, stitch in (0, last)) for stitch in range(last + 1))

    def _of(self, row: int, stitch: int, at_edge: bool) -> int:
        kind = Stitch(int(self._chart.stitches[row, stitch]))
        firm = kind is Stitch.TOG_FRONT and at_edge and not self._chart.in_the_round
        column = self._columns.number(column_at(self._chart.stitches, row, stitch))
        return self._ways.number((self._kinds.number((kind, firm)), column))

    @property
    def ways(self) -> list[tuple[int, int]]:
        return self._ways.values

    @property
    def kinds(self) -> list[dict[str, Any]]:
        return [self._kind(kind, firm) for kind, firm in self._kinds.values]

    @property
    def columns(self) -> list[str]:
        said = ("front", "back", "row below", "two rows below", "foundation chain")
        labels = [escape(self.words(text)) for text in said]
        return [column_picture(column, labels) for column in self._columns.values]

    def _kind(self, kind: Stitch, firm: bool) -> dict[str, Any]:
        begins = kind is Stitch.SC and self._foundation == "foundation sc"
        moves = FOUNDATION_SC_MOVES if begins else MOVES[kind]
        made = [
            {
                "text": self.words(move.text.format(strand=self._strand)),
                "loops": move.loops,
                "enters": None if move.enters is None else list(move.enters),
                "over": over,
            }
            for move, over in zip(moves, move_pictures(kind, moves), strict=True)
        ]
        note = " ".join([*filter(None, [STITCH_NOTES.get(kind, "")]), *([FIRM] if firm else [])])
        return {
            "name": STITCH_NAMES[self._terms][kind],
            "words": STITCH_WORDS[self._terms][kind],
            "moves": made,
            "shows": [number for number, move in enumerate(moves) if move.enters is not None],
            "note": self.words(note),
        }


# ---- both faces --------------------------------------------------------------------------------------------


def _faces(
    chart: Chart, front: NDArray[np.int64], back: NDArray[np.int64], row_inks: list[int]
) -> list[dict[str, Any]]:
    """Lay out both faces; the arrays name the row that each square shows, as seen from its own side."""
    seen = np.arange(chart.shape[1])[np.newaxis]
    sides = (("Front", front, seen), ("Back, seen from behind", back, orientation.from_behind(seen)))
    return [
        {
            "name": name,
            "columns": orientation.to_working(columns, chart.hand)[0].tolist(),
            "paint": [{"ink": ink, "runs": _runs(shown, row)} for row, ink in enumerate(row_inks, 1)],
        }
        for name, shown, columns in sides
    ]


def _runs(shown: NDArray[np.int64], row: int) -> list[list[int]]:
    """Lay out what a row, once worked, paints: runs of (from the top, from the left, how many)."""
    shape = shown.shape
    top, _ = orientation.square(row, 1, shape)
    runs = [[top, 0, shape[1]]]
    if row > 1:
        under, _ = orientation.square(row - 1, 1, shape)
        runs += [[under, left, end - left] for _, left, end in svg.runs(shown[[under]] == row).tolist()]
    return runs
