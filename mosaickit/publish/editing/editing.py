"""The technical edit: a pattern read through, and everything an editor would mark gathered in one report."""

from __future__ import annotations

from collections.abc import Iterable

from mosaickit.errors import OptionError, each_of_kind, one_of, shortly
from mosaickit.publish.editing.carried import CARRIED_KINDS
from mosaickit.publish.editing.draft import PARTS_READ, Draft, Spot
from mosaickit.publish.editing.figures import FIGURE_KINDS
from mosaickit.publish.editing.findings import EditFinding, EditKind, EditReport, Marked
from mosaickit.publish.editing.of_page import draft_of_page
from mosaickit.publish.editing.of_sizes import SIZE_KINDS
from mosaickit.publish.editing.of_square import draft_of_square
from mosaickit.publish.editing.of_text import draft_of_text
from mosaickit.publish.editing.rows import ROW_KINDS
from mosaickit.publish.editing.terms_used import WORD_KINDS
from mosaickit.publish.page import Page
from mosaickit.sizes import CentreDesign, Design
from mosaickit.wording import TERMS, Terms

EDIT_KINDS: tuple[EditKind, ...] = (*CARRIED_KINDS, *FIGURE_KINDS, *SIZE_KINDS, *WORD_KINDS, *ROW_KINDS)
"""All that an editor looks for."""

BY_PEOPLE = (
    "Whether the piece looks as it should: that is for testers, who make it.",
    "Whether sentences read well, photographs show what their words say, and rights are yours.",
)
"""What no program judges."""


def tech_edit(
    pattern: Page | Design | CentreDesign | str,
    text: str | None = None,
    *,
    terms: Terms | None = None,
    kinds: Iterable[EditKind] = EDIT_KINDS,
) -> EditReport:
    """Read a pattern as a technical editor does before it is sold, and say what to mark; nothing is changed.

    Parameters
    ----------
    pattern : Page, Design, CentreDesign or str
        A page; a design or a square from the centre, whose page is read; or an author's whole text: headings as
        "Gauge:" and "Materials:", and rows as `read_rows` takes them, or rounds as `mk.centre.write` writes them.
    text : str, optional
        The rows in the author's own words, held against the chart of the page, and read in place of the page's. Of a
        square from the centre it may be more of the pattern, which then stands in place of what the page says.
    terms : "US" or "UK", optional
        The terms of an author's text, if it does not say.
    kinds : EditKinds
        What to look for; all of ``mk.publish.EDIT_KINDS`` if left out.

    Returns
    -------
    EditReport
        With ``.ok``, ``.findings``, in the order in which the pattern is read, and ``.unjudged``, what was not judged
        and why. A finding of severity "error" is wrong; "advice" is missing, or better said otherwise.

    Raises
    ------
    OptionError
        If an argument is not as described, or the design has no gauge.
    UnworkableError
        If the design cannot be worked.

    Notes
    -----
    An error is what contradicts itself or cannot be followed: rows that are not their chart, that have another count
    than they say, or words that nothing explains; a size that the gauge does not give; skeins that do not reach. Each
    kind names its published source as ``kind.source``. What the trade has no norm for, as by how much a measured size
    may be off the gauge, is said to be common practice, in `figures` of this folder.

    Examples
    --------
    >>> report = tech_edit('''Written in US terms
    ... Row 1 (MC): sc in next 6 sts. (6 sts)
    ... Row 2 (CC): BLsc in next 6 sts.
    ... Row 3 (MC): *BLsc in next 4 sts; rep from * across. (6 sts)''')
    >>> print(*(f"{finding.where}: {finding.message}" for finding in report.errors[-1:]))
    line 4 (row 3): Expected room for whole repeats of 4 stitches to there; there is room for 6 of the row's 6 stitches.
    >>> [finding.where for finding in report.of("row without a count")]
    ['line 3 (row 2)']
    """
    kinds = each_of_kind("kinds", kinds, EditKind)
    if text is not None and not isinstance(text, str):
        raise OptionError(f"`text` must be the rows as a str; got {shortly(text)}.")
    if terms is not None:
        one_of("terms", terms, TERMS)
    if isinstance(pattern, str):
        if text is not None:
            raise OptionError("`text` goes with a page, whose rows it replaces; `pattern` is a text already.")
        draft = draft_of_text(pattern, terms=terms)
    elif isinstance(pattern, Page | Design | CentreDesign):
        if terms is not None:
            raise OptionError("`terms` goes with a text; a page says its own.")
        if isinstance(pattern, CentreDesign):
            draft = draft_of_square(pattern, text)
        else:
            draft = draft_of_page(pattern.page() if isinstance(pattern, Design) else pattern, text)
    else:
        raise OptionError(
            f"`pattern` must be a page, a design, a square from the centre or a text; got {shortly(pattern)}."
        )
    marked = [(kind, each) for kind in kinds for each in kind.found(draft)]
    marked.sort(key=lambda pair: _order(draft, pair[1][0]))
    return EditReport(draft.title, tuple(_finding(kind, each) for kind, each in marked), (*draft.unjudged, *BY_PEOPLE))


def _order(draft: Draft, spot: Spot) -> tuple[int, ...]:
    """Say where a finding comes in reading: of a text by its lines, what is missing last; of a page by its parts."""
    part = PARTS_READ.index(spot.part) if spot.part in PARTS_READ else len(PARTS_READ)
    if draft.is_text:
        return (0, spot.line, part) if spot.line is not None else (1, 0, part)
    return spot.of, part, spot.row or spot.line or 0


def _finding(kind: EditKind, marked: Marked) -> EditFinding:
    spot, message, cure = marked
    return EditFinding(kind.name, kind.severity, spot.words, message, cure, spot.row, spot.line)
