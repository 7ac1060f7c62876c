"""The page of a pattern: all that is sold or shared with it, as one frozen value.

A `Page` holds what a maker reads and looks at: size, gauge, yarn, chart, both faces, written rows, notes and cautions.
It is plain data, so that a PDF and a web page can be made from the same value and neither works out anything of the
craft. `filling` fills it in from a chart. Rows are in working order; lengths are in centimetres, yarn in metres.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, fields, is_dataclass, replace

from mosaickit.errors import OptionError, one_of
from mosaickit.fabric import Chart, Foundation
from mosaickit.gauge import Gauge
from mosaickit.motif import BetweenRows, Motif
from mosaickit.publish.entries import (
    FOUNDATION_SC,
    EdgeUse,
    Instructions,
    Meeting,
    PageYarn,
    RowUse,
    SizedInstructions,
    YarnStart,
)
from mosaickit.sizes import (
    LEVELS,
    LONGEST_NOTE,
    LONGEST_TITLE,
    USUAL_PUBLISHING,
    Photograph,
    Publishing,
    check_characters,
    check_prose,
)
from mosaickit.wording import Tongue


@dataclass(frozen=True)
class Page:
    """A pattern, ready to be set in type; `pattern` fills one in.

    Parameters
    ----------
    title : str
        One line.
    chart : Chart
        (R, N) stitches in working order.
    front, back : Motif
        Both faces, each as seen from its own side.
    gauge : Gauge
        Which also gives the finished size.
    terms : "US", "UK" or "de"
        The terms of a printed page, or the code of another language; a web page starts in them.
    instructions : tuple of Instructions
        One for each of the terms that are offered, `terms` among them.
    yarns, starts, meetings, row_use
        The yarns, where each begins, how well they can be told apart, and what each row takes.
    between_rows : "carried" or "cut"
        What is done with the yarn between rows.
    accuracy : str
        How good the amounts are.
    skein_notes : tuple of str
        Where new balls begin, and what to take care of when buying them.
    designer : str
        Who designed it, in one line; may be empty.
    hook_mm : float, optional
        The hook's diameter.
    level : str, optional
        One of the four project levels.
    intro : str
        What the designer says first; may be empty.
    notes : tuple of str
        What else there is to say.
    cautions : tuple of (heading, text)
        What to take care of.
    repeat : int, optional
        The columns of the motif that the chart repeats, which the words of a row start with.
    publishing : Publishing
        What a pattern that is sold has beside its words.
    photographs : tuple of Photograph
        The first of them is the cover; without any, it shows the fabric as its yarn lies.
    yarn_mm : float, optional
        The yarn's diameter, for those pictures.
    sizes : tuple of PageSize
        The sizes of the pattern, the smallest first, if it has any; all else is that of the first, or of the size that
        `led_by` puts in front.
    sized : tuple of SizedInstructions
        The instructions of two sizes and more, one for each of the terms.
    first_repeat : two pairs of int, optional
        The rows and the stitches, first and last, of the first repeat that was laid, if there are more; a chart is then
        drawn once for all of them.
    bands : tuple of str
        Of a piece made of bands, each band with its rows, from the foundation up.
    said : tuple of str
        What was done for the bands by itself, in sentences: rows put in, colours swapped, repeats centred and cut.
    edge_use : tuple of EdgeUse
        What foundation, border and fringe take beyond the rows.
    border_cm : (float, float)
        What a border adds to width and height.
    fringe_cm : float
        How long a fringe hangs at both ends of the rows, 0 for none; the finished size is without it.

    Raises
    ------
    OptionError
        If a text is none or holds what cannot be printed; if the rows do not belong to the chart.
    """

    title: str
    chart: Chart
    front: Motif
    back: Motif
    gauge: Gauge
    terms: Tongue
    instructions: tuple[Instructions, ...]
    yarns: tuple[PageYarn, ...]
    starts: tuple[YarnStart, ...]
    meetings: tuple[Meeting, ...]
    row_use: tuple[RowUse, ...]
    between_rows: BetweenRows
    accuracy: str
    skein_notes: tuple[str, ...] = ()
    designer: str = ""
    hook_mm: float | None = None
    level: str | None = None
    intro: str = ""
    notes: tuple[str, ...] = ()
    cautions: tuple[tuple[str, str], ...] = ()
    repeat: int | None = None
    publishing: Publishing = USUAL_PUBLISHING
    photographs: tuple[Photograph, ...] = ()
    yarn_mm: float | None = None
    first_repeat: tuple[tuple[int, int], tuple[int, int]] | None = None
    bands: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    edge_use: tuple[EdgeUse, ...] = ()
    border_cm: tuple[float, float] = (0.0, 0.0)
    fringe_cm: float = 0.0
    sizes: tuple[PageSize, ...] = ()
    sized: tuple[SizedInstructions, ...] = ()

    def __post_init__(self) -> None:
        if not isinstance(self.title, str) or not self.title.strip():
            raise OptionError(f"`title` must be a line of text; got {self.title!r}.")
        check_prose("title", self.title, LONGEST_TITLE)
        check_prose("designer", self.designer, LONGEST_TITLE)
        for field, prose in (("intro", self.intro), *((f"notes[{i}]", note) for i, note in enumerate(self.notes))):
            check_prose(field, prose, LONGEST_NOTE)
        for field, text in texts(self):
            check_characters(field, text)
        one_of("terms", self.terms, [instructions.terms for instructions in self.instructions])
        if self.level is not None:
            one_of("level", self.level, LEVELS)
        for instructions in self.instructions:
            _check_rows(instructions, self.chart)

    @property
    def size_cm(self) -> tuple[float, float]:
        """(width, height) of the piece without a border; in the round the width is the way around."""
        return self.gauge.size_cm(*self.chart.shape)

    @property
    def finished_cm(self) -> tuple[float, float]:
        """(width, height) with the border, as measured after blocking, or else by the gauge."""
        (width, height), (wider, higher) = self.size_cm, self.border_cm
        return self.publishing.blocked_cm or (width + wider, height + higher)

    @property
    def lettered(self) -> bool:
        """Whether yarns need their letters, as MC or CC is more than one yarn."""
        return len(self.starts) > len({start.role for start in self.starts})

    @property
    def repeat_from(self) -> int | None:
        """The stitch with which the first repeat begins, if there are more."""
        return None if self.first_repeat is None else self.first_repeat[1][0]

    @property
    def foundation(self) -> Foundation:
        """What row 1 stands on; foundation sc are told by the yarn that they take."""
        return "foundation sc" if any(use.what == FOUNDATION_SC for use in self.edge_use) else "chain"

    @property
    def words(self) -> Instructions:
        """The instructions in the page's own terms."""
        return next(words for words in self.instructions if words.terms == self.terms)

    @property
    def size_name(self) -> str:
        """The size that pictures, guide and poster are of; empty if the pattern has no sizes."""
        return next((size.name for size in self.sizes if size.page.chart == self.chart), "")

    def led_by(self, name: str) -> Page:
        """Give the same page with another of its sizes in front: its pictures, guide and poster are of that size.

        Raises
        ------
        OptionError
            If there is no size of that name.
        """
        one_of("name", name, [size.name for size in self.sizes])
        lead = next(size.page for size in self.sizes if size.name == name)
        return replace(lead, sizes=self.sizes, sized=self.sized, photographs=self.photographs)

    @property
    def fingerprint(self) -> str:
        """Sixteen letters that depend on title and chart, and on nothing that a later edition may reword."""
        chart = self.chart
        told = (self.title, chart.shape, chart.row_colours, chart.hand, chart.in_the_round)
        return hashlib.sha256(repr(told).encode() + chart.stitches.tobytes()).hexdigest()[:16]


@dataclass(frozen=True)
class PageSize:
    """A size of a pattern: its name, the repeats of it across and up, and its page, which has no photographs."""

    name: str
    across: int
    up: int
    page: Page


def texts(value: object, field: str = "") -> list[tuple[str, str]]:
    """List the texts of a page, each with the name of its field, as "notes[0]"."""
    found: list[tuple[str, str]] = []
    _gather(value, field, found)
    return found


def _gather(value: object, field: str, found: list[tuple[str, str]]) -> None:
    if isinstance(value, str):
        found.append((field, value))
    elif isinstance(value, tuple):
        for number, inner in enumerate(value):
            if not isinstance(inner, int | float):
                _gather(inner, f"{field}[{number}]", found)
    elif isinstance(value, PageSize):
        found.append((f"{field}.name", value.name))  # its page was checked when it was filled in
    elif value is not None:
        for name in _parts(type(value)):
            _gather(getattr(value, name), f"{field}.{name}" if field else name, found)


_PARTS: dict[type, tuple[str, ...]] = {}


def _parts(kind: type) -> tuple[str, ...]:
    """Name the fields of a kind of value in which texts of a page are looked for."""
    if kind not in _PARTS:
        looked_for = is_dataclass(kind) and not issubclass(kind, Chart | Motif | Gauge)
        _PARTS[kind] = tuple(inner.name for inner in fields(kind)) if looked_for else ()
    return _PARTS[kind]


def _check_rows(instructions: Instructions, chart: Chart) -> None:
    rows, stitches = chart.shape
    ordered = [row for line in instructions.rows for row in range(line.rows[0], line.rows[1] + 1)]
    if ordered != list(range(1, rows + 1)):
        raise OptionError(f"The written rows must order rows 1 to {rows}, each once and in turn; got {ordered[:12]}.")
    if [step.rows for step in instructions.steps] != [(row, row) for row in range(1, rows + 1)]:
        raise OptionError(f"The steps must be rows 1 to {rows}, one by one; got {len(instructions.steps)}.")
    for line in (*instructions.rows, *instructions.steps):
        row = line.rows[0]
        if line.count != stitches or line.role != chart.row_colours[row - 1]:
            raise OptionError(
                f"{line.label} must be {stitches} stitches in {chart.row_colours[row - 1]}, as in the chart; got "
                f"{line.count} in {line.role}."
            )
