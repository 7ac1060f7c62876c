"""The page of a pattern: all that is sold or shared with it, as one frozen value.

A `Page` holds what a maker reads and looks at: size, gauge, yarn, chart, both faces, written rows, notes and cautions.
It is plain data, so that a PDF and a web page can be made from the same value and neither works out anything of the
craft. `pattern` fills it in from a chart. Rows are in working order; lengths are in centimetres, yarn in metres.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from mosaickit.colours import contrast, weakest_contrast
from mosaickit.errors import OptionError, of_kind, one_of, positive
from mosaickit.fabric import Chart, work
from mosaickit.gauge import Gauge
from mosaickit.motif import LEAST_CONTRAST, BetweenRows, Motif
from mosaickit.orientation import ROLES, Role
from mosaickit.wording import TERMS, Terms, WrittenRows, write_rows
from mosaickit.yarn import DYE_LOT, Skein, Usage, accuracy, new_balls, yarn_usage

LONGEST_LINE, LONGEST_TEXT = 200, 20_000
"""Characters of a title, and of a note: so that a page stays a page."""

LEVELS: dict[str, str] = {
    "basic": "Only basic stitches, perhaps with simple increases and decreases.",
    "easy": "Simple stitch patterns, colour work or shaping.",
    "intermediate": "More involved stitch patterns, colour work or shaping.",
    "complex": "Several involved stitch patterns or techniques at the same time.",
}
"""The Craft Yarn Council's four project levels (2018), in our words; they grade the project, not the worker."""

HANDS_CAUTION = (
    "Your hands",
    "Rest often and briefly rather than seldom and long, sit with your arms supported, and stop when something hurts. "
    "Public health advice on repetitive strain (the British NHS among others) says the same.",
)
CHILDREN_CAUTIONS = (
    (
        "Cords and ties",
        "Put no cord, tie or drawstring at the neck or hood of anything that a child wears. In the United States "
        "16 CFR 1120 with ASTM F1816 treats such cords on outerwear as a substantial hazard; in Europe and the United "
        "Kingdom EN 14682:2014 limits cords on clothing up to the age of 14. Scarves, hats and gloves are outside it; "
        "give them the same care.",
    ),
    # the advice on cots and the numbers of the rules on small parts are from memory
    (
        "Babies and cots",
        "Health bodies advise against loose blankets in the cot of a sleeping baby. Bare strands and holes can catch "
        "small fingers: choose the reversible fabric or line the back.",
    ),
    (
        "Small parts",
        "Sew on no buttons, beads or other parts that could come off for a child under three (16 CFR 1501; EN 71-1).",
    ),
)
LOCAL_RULES = (
    "Rules differ",
    "These lines point to rules and do not replace them: what holds where you live and sell comes first.",
)


@dataclass(frozen=True)
class PageYarn:
    """A yarn and how much of it the pattern takes, in metres; the skeins to buy and a sentence on them, if known."""

    name: str
    colour: str
    roles: tuple[Role, ...]
    low_m: float
    likely_m: float
    high_m: float
    skeins: int | None = None
    advice: str = ""


@dataclass(frozen=True)
class Meeting:
    """Two yarns that meet from a row on, and how well they can be told apart (WCAG 2.2 contrast ratios)."""

    row: int
    mc: str
    cc: str
    ratio: float
    weakest: float
    vision: str

    @property
    def clear(self) -> bool:
        """Whether everybody can tell them apart by contrast alone."""
        return self.weakest >= LEAST_CONTRAST


@dataclass(frozen=True)
class PageRow:
    """A line of the written rows: one row, or several that one line orders.

    Parameters
    ----------
    label : str
        As "Row 3" or "Rows 5 to 8".
    rows : (int, int)
        The first and the last row that the line is about.
    role, yarn : str
        The colour and the yarn of its first row.
    text : str
        What to work, without label and count.
    count : int
        The stitches of a row.
    """

    label: str
    rows: tuple[int, int]
    role: Role
    yarn: str
    text: str
    count: int


@dataclass(frozen=True)
class Instructions:
    """Everything that is said in US or in UK terms.

    Parameters
    ----------
    terms : "US" or "UK"
        Which.
    foundation : str
        What the stitches are a multiple of, if they repeat across, and how the work begins.
    rows : tuple of PageRow
        The lines as printed, which together order every row once.
    steps : tuple of PageRow, R long
        Every row by itself, for a maker who is led row by row.
    remarks : tuple of str
        What holds for all rows.
    abbreviations : tuple of (abbreviation, meaning)
        Those used and no others.
    special : tuple of (stitch, how it is made)
        Those used and no others.
    """

    terms: Terms
    foundation: str
    rows: tuple[PageRow, ...]
    steps: tuple[PageRow, ...]
    remarks: tuple[str, ...] = ()
    abbreviations: tuple[tuple[str, str], ...] = ()
    special: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class RowUse:
    """The stitches of a row and the yarn that it takes, in metres."""

    row: int
    role: Role
    yarn: str
    stitches: int
    low_m: float
    likely_m: float
    high_m: float


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
    terms : "US" or "UK"
        The terms of a printed page; a web page starts in them.
    instructions : tuple of Instructions
        One for each of the terms that are offered, `terms` among them.
    yarns, meetings, row_use
        The yarns, how well they can be told apart, and what each row takes.
    between_rows : "carried" or "cut"
        What is done with the yarn between rows.
    accuracy : str
        How good the amounts are.
    skein_notes : tuple of str
        Where new balls begin, and what to take care of when buying them.
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
    language : str
        The language of the page, as "en".
    repeat : int, optional
        The columns of the motif that the chart repeats, which the words of a row start with.

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
    terms: Terms
    instructions: tuple[Instructions, ...]
    yarns: tuple[PageYarn, ...]
    meetings: tuple[Meeting, ...]
    row_use: tuple[RowUse, ...]
    between_rows: BetweenRows
    accuracy: str
    skein_notes: tuple[str, ...] = ()
    hook_mm: float | None = None
    level: str | None = None
    intro: str = ""
    notes: tuple[str, ...] = ()
    cautions: tuple[tuple[str, str], ...] = ()
    language: str = "en"
    repeat: int | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.title, str) or not self.title.strip():
            raise OptionError(f"`title` must be a line of text; got {self.title!r}.")
        _check_prose("title", self.title, LONGEST_LINE)
        for field, prose in (("intro", self.intro), *((f"notes[{i}]", note) for i, note in enumerate(self.notes))):
            _check_prose(field, prose, LONGEST_TEXT)
        for field, text in texts(self):
            _check_characters(field, text)
        if not isinstance(self.language, str) or not re.fullmatch(r"[a-z]{2,3}", self.language):
            raise OptionError(f"`language` must be a code of two or three letters, as 'en'; got {self.language!r}.")
        one_of("terms", self.terms, [instructions.terms for instructions in self.instructions])
        if self.level is not None:
            one_of("level", self.level, LEVELS)
        for instructions in self.instructions:
            _check_rows(instructions, self.chart)

    @property
    def size_cm(self) -> tuple[float, float]:
        """(width, height) of the finished piece; in the round the width is the way around."""
        return self.gauge.size_cm(*self.chart.shape)

    @property
    def about_yarn(self) -> str:
        """What is done with the yarn between rows, how good the amounts are, and what there is to say of skeins."""
        rows = "rounds" if self.chart.in_the_round else "rows"
        return " ".join((f"The yarn is {self.between_rows} between {rows}.", self.accuracy, *self.skein_notes))

    @property
    def words(self) -> Instructions:
        """The instructions in the page's own terms."""
        return next(words for words in self.instructions if words.terms == self.terms)

    @property
    def fingerprint(self) -> str:
        """Sixteen letters that depend on title and chart, and on nothing that a later edition may reword."""
        chart = self.chart
        told = (self.title, chart.shape, chart.row_colours, chart.hand, chart.in_the_round)
        return hashlib.sha256(repr(told).encode() + chart.stitches.tobytes()).hexdigest()[:16]


def texts(value: object, field: str = "") -> Iterator[tuple[str, str]]:
    """List the texts of a page, each with the name of its field, as "notes[0]"."""
    if isinstance(value, str):
        yield field, value
    elif isinstance(value, tuple):
        for number, inner in enumerate(value):
            yield from texts(inner, f"{field}[{number}]")
    elif is_dataclass(value) and not isinstance(value, Chart | Motif | Gauge):
        for name in (inner.name for inner in fields(value)):
            yield from texts(getattr(value, name), f"{field}.{name}".lstrip("."))


def _check_prose(field: str, text: object, most: int) -> None:
    if not isinstance(text, str):
        raise OptionError(f"`{field}` must be text; got {text!r}.")
    if len(text) > most:
        raise OptionError(f"`{field}` must have at most {most:,} characters; got {len(text):,}.")


def _check_characters(field: str, text: str) -> None:
    if text.isprintable():
        return
    breaks = "" if field == "title" else "\n"
    # control characters, halves of surrogate pairs, private and unassigned ones
    bad = next((c for c in text if unicodedata.category(c) in ("Cc", "Cs", "Co", "Cn") and c not in breaks), None)
    if bad is not None:
        raise OptionError(f"`{field}` must be printable text; found {bad!r}.")


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


# ---- filling one in ----------------------------------------------------------------------------------------


def pattern(
    chart: Chart,
    *,
    title: str,
    gauge: Gauge,
    terms: Terms = "US",
    between_rows: BetweenRows = "carried",
    skeins: Skein | Mapping[str, Skein] | None = None,
    hook_mm: float | None = None,
    level: str | None = None,
    intro: str = "",
    notes: Iterable[str] = (),
    for_children: bool = False,
    repeat: int | None = None,
    rows: Iterable[Instructions] | None = None,
    **yarn: Any,  # noqa: ANN401 — what yarn_usage takes
) -> Page:
    r"""Fill in the page of a pattern.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches that a hook can work.
    title : str
        One line of at most 200 characters.
    gauge : Gauge
        The size of a stitch.
    terms : "US" or "UK"
        The terms that the page is printed in.
    between_rows : "carried" or "cut"
        What is done with the yarn between rows.
    skeins : Skein, or dict from the name of a yarn to Skein, optional
        What the yarns are sold in.
    hook_mm : float, optional
        The diameter of the hook.
    level : "basic", "easy", "intermediate" or "complex", optional
        The project level of the Craft Yarn Council.
    intro : str
        What you say first; empty lines part paragraphs.
    notes : texts
        What else there is to say, each a note of its own.
    for_children : bool
        Whether to print the cautions about what children wear and sleep under.
    repeat : int, optional
        The columns of the motif that the chart repeats; see `write_rows`.
    rows : Instructions, one for each of the terms, optional
        Written rows of your own in place of ours.
    **yarn
        What else `yarn_usage` takes: `yarn_mm`, `lengths`, `tail_cm`, `ease`, `margin`.

    Returns
    -------
    Page

    Raises
    ------
    StitchError
        If no hook can work the chart.
    OptionError
        If another argument is not as described.

    Examples
    --------
    >>> chart = Chart.from_text("...\n.|.\n...\n...")
    >>> page = pattern(chart, title="Bookmark", gauge=Gauge(16, 18))
    >>> page.words.rows[2].text
    'BLsc in next st, FLdc in next st, BLsc in last st'
    """
    of_kind("chart", chart, Chart)
    of_kind("gauge", gauge, Gauge)
    one_of("terms", terms, TERMS)
    fabric = work(chart)
    usage = yarn_usage(chart, gauge, between_rows=between_rows, skeins=skeins, **yarn)
    yarns = chart.yarns.gather(range(1, chart.shape[0] + 1))
    if rows is None:
        written = (write_rows(chart, terms=each, between_rows=between_rows, repeat=repeat) for each in TERMS)
        rows = (instructions(chart, each) for each in written)
    return Page(
        title=title,
        chart=chart,
        front=Motif(fabric.front, chart.first, yarns),
        back=Motif(fabric.back, chart.first, yarns),
        gauge=gauge,
        terms=terms,
        instructions=tuple(rows),
        yarns=_yarns(usage),
        meetings=_meetings(chart),
        row_use=_row_use(chart, usage),
        between_rows=between_rows,
        accuracy=accuracy(usage.lengths),
        skein_notes=_skein_notes(usage),
        hook_mm=None if hook_mm is None else positive("hook_mm", hook_mm, "mm"),
        level=level,
        intro=intro,
        notes=(notes,) if isinstance(notes, str) else tuple(notes),
        cautions=(HANDS_CAUTION, *((*CHILDREN_CAUTIONS, LOCAL_RULES) if for_children else ())),
        repeat=repeat,
    )


def instructions(chart: Chart, written: WrittenRows) -> Instructions:
    """Take over the written rows of a chart, and give every row a step of its own, also where lines are repeated."""

    def page_row(row: int, last: int, label: str, text: str) -> PageRow:
        role = chart.row_colours[row - 1]
        return PageRow(label, (row, last), role, chart.yarns.at(row, role).name, text, chart.shape[1])

    texts_of_rows = [""]
    for line in written.lines:
        for row in line.numbers:
            if line.repeats is None:
                texts_of_rows.append(" ".join(filter(None, (line.change, line.text))))
            else:  # the rows repeated may be those of this line itself, which are there by then
                texts_of_rows.append(texts_of_rows[line.repeats[0] + row - line.first])
    word = "Round" if chart.in_the_round else "Row"
    return Instructions(
        terms=written.terms,
        foundation=" ".join(filter(None, (written.multiple, written.foundation))),
        rows=tuple(
            page_row(line.first, line.last, line.label, " ".join(filter(None, (line.change, line.text))))
            for line in written.lines
        ),
        steps=tuple(page_row(row, row, f"{word} {row}", text) for row, text in enumerate(texts_of_rows[1:], 1)),
        remarks=written.notes,
        abbreviations=written.abbreviations,
        special=written.special_stitches,
    )


def _yarns(usage: Usage) -> tuple[PageYarn, ...]:
    used = set(zip(usage.yarns, usage.row_colours, strict=True))
    return tuple(
        PageYarn(
            name=total.yarn.name,
            colour=total.yarn.colour,
            roles=tuple(role for role in ROLES if (total.yarn, role) in used),
            low_m=total.low_m,
            likely_m=total.likely_m,
            high_m=total.high_m,
            skeins=total.skeins,
            advice=total.advice,
        )
        for total in usage.by_yarn
    )


def _skein_notes(usage: Usage) -> tuple[str, ...]:
    """Say where new balls begin, and, if a yarn may take more than one skein, to buy them of one dye lot."""
    said = []
    for yarn, skein in usage.skeins:
        if skein is not None and usage.total_m[[one == yarn for one in usage.yarns]].max() <= skein.metres:
            _, *later = new_balls(usage, yarn)
            if later:
                rows = ", ".join(map(str, later))
                said.append(f"A new ball of {yarn.name} is likely to start at row{'s' * (len(later) > 1)} {rows}.")
    one_each = all(total.skeins == 1 for total in usage.by_yarn)
    return (*said, *((DYE_LOT,) if not one_each else ()))


def _meetings(chart: Chart) -> tuple[Meeting, ...]:
    found = []
    for row, mc, cc in chart.yarns.meetings(chart.shape[0]):
        vision, weakest = weakest_contrast(mc.colour, cc.colour)
        found.append(Meeting(row, mc.name, cc.name, contrast(mc.colour, cc.colour), weakest, vision))
    return tuple(found)


def _row_use(chart: Chart, usage: Usage) -> tuple[RowUse, ...]:
    amounts = zip(usage.low_m.tolist(), usage.total_m.tolist(), usage.high_m.tolist(), strict=True)
    stitches = chart.shape[1]
    return tuple(
        RowUse(row, role, yarn.name, stitches, low, likely, high)
        for row, (role, yarn, (low, likely, high)) in enumerate(
            zip(usage.row_colours, usage.yarns, amounts, strict=True), 1
        )
    )
