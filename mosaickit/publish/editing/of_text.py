"""An author's text as a draft: its parts by their headings, its rows by the reader, its figures as far as it tells any.

A line is a heading if it begins as headings of patterns do ("Gauge:", "Materials", "Finishing:"). What belongs to rows
goes to the reader with its lines where they were, so that a fault names the line of the text.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from mosaickit.centre import CentreChart
from mosaickit.fabric import Chart
from mosaickit.publish.editing.draft import (
    PARTS_READ,
    Draft,
    DraftRow,
    Pair,
    RowsSaid,
    Said,
    SizeFigures,
    Spot,
    extent_of,
    not_english,
    row_or_round,
)
from mosaickit.publish.editing.measures import gauge_in, sizes_in, yarn_in
from mosaickit.publish.editing.of_rounds import is_from_centre, proved_rounds, with_special
from mosaickit.publish.editing.of_sizes import names_in, of_one_size
from mosaickit.publish.editing.proved import proved
from mosaickit.publish.yarns import meetings_of
from mosaickit.wording import Tongue, is_german_row, says_german

# a part and the words that a heading of it begins with; the first that fits counts
_HEADINGS: tuple[tuple[str, str], ...] = (
    ("title", r"(?:pattern )?title|pattern"),
    ("designer", r"design(?:ed)? by|designer"),
    ("pictures", r"photo(?:graph)?s?(?: \d+)?|pictures?(?: \d+)?"),
    ("intro", r"introduction|description|about this (?:piece|design)"),
    ("unblocked size", r"(?:size )?before blocking"),
    ("size", r"(?:finished )?(?:sizes?|measurements|dimensions)"),
    ("gauge", r"gauge|tension"),
    ("hook", r"(?:crochet )?hook(?: size)?"),
    ("level", r"(?:skill |project )?level|difficulty"),
    ("yarn", r"yarns?(?: amounts?| needed)?|materials"),
    ("notions", r"notions|tools|equipment|you will also need|other materials"),
    ("abbreviations", r"abbreviations(?: used)?"),
    ("special stitches", r"special stitch(?:es)?"),
    ("notes", r"(?:pattern )?notes?"),
    ("finishing", r"finishing|making up"),
    ("blocking", r"blocking"),
    ("care", r"care(?: instructions)?|washing"),
    ("edition", r"edition|version"),
    ("date", r"date|published"),
    ("errata", r"errata|corrections"),
    ("contact", r"contact|questions|e-?mail|support"),
    ("copyright", r"copyright"),
    ("licence", r"licen[cs]e|terms of use"),
    ("chart", r"chart|key"),
    ("rows start", r"(?:written )?(?:rows|rounds|instructions)"),
)
_HEADING = re.compile("|".join(f"(?P<h{at}>{words})" for at, (_, words) in enumerate(_HEADINGS)), re.IGNORECASE)
_ROW = re.compile(r"\s*\W{0,2}(?:rows?|rnds?|rounds?)\b\W*\d", re.IGNORECASE)
_ROW_LABEL = re.compile(r"\s*([^:.;]*?\d[^:;]*?)[:.]\s+(.*)", re.DOTALL)
_AGAIN = re.compile(r"\s*(?:rep(?:eat)?)\b(?!.*\*)", re.IGNORECASE)
_ABOVE_ROWS = re.compile(
    r"\s*(?:written in|(?:US|UK|American|British) term|name\s*:|worked (?:flat|in|from)|foundation|multiple of"
    r"|with (?:MC|CC)\b|ch(?:ain)? \d|sizes?: *[^\n()]+\([^\n()]+\)\.?\s*$|rep(?:eat)? (?:rows?|rnds?|rounds?)\b)",
    re.IGNORECASE,
)
_OF_READER = {"abbreviations", "special stitches", "notes"}
"""Sections that the reader knows and looks through as well."""
_YARN_OF_READER = re.compile(r'\s*(?:MC|CC|main colou?r|contrast\w* colou?r)\s*:\s*"', re.IGNORECASE)
_PAIR = re.compile(r"\s*(?:[-–•]\s+)?([A-Za-z][\w ,/()½-]{0,28}?)\s*(?::|=|\s[–—-]\s)\s*(.+)")
_BY = re.compile(r"\s*[Bb]y ([A-Z][\w .'’-]{1,60})")
_COUNT = re.compile(
    r"(?:[(\[–—=-]\s*\d+(?:\s*(?:sts?|stitches))?(?:\s+in all)?\s*[)\]]?"
    r"|\b\d+\s+(?:sts?|stitches)\s+in\s+(?:all|total))"
    r"[\s.]*$",
    re.IGNORECASE,
)
_NO_ROWS_TO_MEASURE = "Whether the size follows from the gauge: the rows could not be read."
_LASTING = {"intro", "finishing", "blocking", "notes", "special stitches"}
"""Sections that an empty line does not end."""


@dataclass
class _Parts:
    """What the lines of a text said so far: each part's lines with their numbers, and the lines of the rows."""

    lines: dict[str, list[tuple[str, int]]] = field(default_factory=dict)
    rows: list[list[tuple[str, int]]] = field(default_factory=list)
    for_reader: set[int] = field(default_factory=set)

    def add(self, part: str, line: str, number: int) -> None:
        self.lines.setdefault(part, []).append((line, number))


def draft_of_text(text: str, *, terms: Tongue | None = None, chart: Chart | CentreChart | None = None) -> Draft:
    """Read an author's text; `chart` is what its rows ought to say, if that is known."""
    draft = _draft_of(text, terms, chart)
    names = names_in(text)
    if len(names) < 2:
        return draft
    of_each = [_draft_of(of_one_size(text, names, place), terms, None) for place in range(len(names))]
    lines = enumerate(text.splitlines(), 1)
    read = any(own.extent is not None for own in of_each)
    return replace(
        draft,
        unjudged=tuple(each for each in draft.unjudged if not (read and each == _NO_ROWS_TO_MEASURE)),
        sized=tuple(
            SizeFigures(name, own.extent, own.gauge, own.sizes, own.yarns)
            for name, own in zip(names, of_each, strict=True)
        ),
        in_series=tuple(Said(line, _spot("rows", number)) for number, line in lines),
    )


def _draft_of(text: str, terms: Tongue | None, chart: Chart | CentreChart | None) -> Draft:
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    sorted_lines = _sorted(lines)
    given = sorted_lines.lines
    parts = {part: _said(part, given[part]) for part in PARTS_READ if part in given and _said(part, given[part]).text}
    named = next((each for each in given.get("above rows", ()) if re.match(r"\s*name\s*:", each[0], re.I)), None)
    if named is not None and "title" not in parts:
        parts["title"] = Said(named[0].partition(":")[2].strip(' "'), _spot("title", named[1]))
    title = parts["title"].text.partition("\n")[0] if "title" in parts else "The text"
    for number, line in enumerate(lines, 1):
        if "©" in line and "copyright" not in parts:
            parts["copyright"] = Said(line.strip(), _spot("copyright", number))
    said_terms = re.search(r"\b(US|UK|American|British)\b[^.\n]{0,12}\bterm", text, re.IGNORECASE)
    if said_terms:
        number = text.count("\n", 0, said_terms.start()) + 1
        parts["terms"] = Said(said_terms.group(), _spot("terms", number))
    left = "\n".join(line if number in sorted_lines.for_reader else "" for number, line in enumerate(lines, 1))
    rows = tuple(map(_row, sorted_lines.rows))
    said = RowsSaid(
        terms=terms,
        rows=rows,
        around=tuple(Said(line, _spot("rows", number)) for line, number in given.get("above rows", ())),
        abbreviations=_pairs("abbreviations", given),
        special=_pairs("special stitches", given),
    )
    row_of_line = {number: _row_number(row) for row in sorted_lines.rows for _, number in row}
    unjudged: list[str] = []
    found: Chart | CentreChart | None = None
    if isinstance(chart, CentreChart) or is_from_centre(rows):
        said = with_special(said, [Said(line, _spot("notes", number)) for line, number in given.get("notes", ())])
        of_square = chart if isinstance(chart, CentreChart) else None
        said, found = proved_rounds(said, left, terms=terms, chart=of_square)
        unjudged += [] if rows else ["The rows, as the text has none."]
    elif rows:
        of_rows = chart if isinstance(chart, Chart) else None
        said, found, why = proved(
            said, left, lambda line: _spot("rows", line, row_of_line.get(line)), terms=terms, chart=of_rows
        )
        unjudged += [why] if why else []
    else:
        unjudged.append("The rows, as the text has none.")
    gauge = gauge_in(parts["gauge"].text) if "gauge" in parts else None
    if "gauge" in parts and gauge is None:
        unjudged.append("Whether the size follows from the gauge: its stitches, rows and length could not be made out.")
    sizes = sizes_in(parts["size"]) if "size" in parts else ()
    if found is None and sizes:
        unjudged.append(_NO_ROWS_TO_MEASURE)
    yarn_lines = [line for line in given.get("yarn", ()) if not _YARN_OF_READER.match(line[0])]
    yarns = tuple(yarn for line, number in yarn_lines if (yarn := yarn_in(line, _spot("yarn", number))) is not None)
    told_colours = re.search("#[0-9a-f]{6}", left, re.IGNORECASE)
    meetings = meetings_of(found.yarns, _rows_of(found)) if found is not None and told_colours else ()
    if not meetings:
        unjudged.append("Whether the yarns can be told apart: the text gives no colours, as #1f4e79.")
    return Draft(
        title=title,
        is_text=True,
        parts=parts,
        sets=(said,),
        extent=extent_of(found),
        gauge=gauge,
        sizes=sizes,
        yarns=yarns,
        meetings=meetings,
        pictures=tuple(Said(line, _spot("pictures", number)) for line, number in given.get("pictures", ())),
        prose=tuple(
            Said(line, _spot(part, number))
            for part in ("intro", "notes", "finishing", "blocking")
            for line, number in given.get(part, ())
        ),
        notions=tuple(Said(_bare(line), _spot("notions", number)) for line, number in given.get("notions", ())),
        unjudged=(*unjudged, *not_english((said,))),
    )


def _spot(part: str, line: int, row: int | None = None, what: str = "row") -> Spot:
    return Spot(part, f"line {line}" if row is None else f"line {line} ({what} {row})", row, line)


def _said(part: str, lines: list[tuple[str, int]]) -> Said:
    text = "\n".join(line.strip() for line, _ in lines if line.strip())
    return Said(text, _spot(part, lines[0][1]))


def _bare(line: str) -> str:
    return re.sub(r"^\s*[-–•*]\s+", "", line).strip()


# ---- lines into parts --------------------------------------------------------------------------------------


def _sorted_german(lines: list[str]) -> _Parts:
    """Put lines of German rows where they belong: all to the reader, as headings are known in English only."""
    parts = _Parts()
    for number, line in enumerate(lines, 1):
        if line.strip():
            parts.for_reader.add(number)
            if is_german_row(line):
                parts.rows.append([(line, number)])
    return parts


def _sorted(lines: list[str]) -> _Parts:
    """Put each line where it belongs."""
    if says_german("\n".join(lines)):
        return _sorted_german(lines)
    parts, section, begun = _Parts(), "", False
    for number, line in enumerate(lines, 1):
        if not line.strip():
            section = section if section in _LASTING else ""
            continue
        if _ROW.match(line) or _ABOVE_ROWS.match(line):
            row = bool(_ROW.match(line))
            # "row 7 and row 9" within notes is a sentence
            if (
                section in _LASTING
                and row
                and not re.match(r"\s*\W{0,2}\w+\W*\d[\d\s,to–-]*(?:and \d+\s*)?[:(.]", line)
            ):
                parts.add(section, line, number)
                parts.for_reader |= {number} if section in _OF_READER else set()
                continue
            parts.for_reader.add(number)
            section = "rows" if row else "above rows"
            begun = begun or row
            parts.rows.append([(line, number)]) if row else parts.add("above rows", line, number)
            continue
        heading, rest = _heading(line)
        if not heading and not section and "title" in parts.lines and (by := _BY.fullmatch(line)):
            heading, rest = "designer", by[1]
        if heading:
            section = "" if heading in ("rows start", "chart") else heading
            if heading in _OF_READER or (heading == "yarn" and _next_is_for_reader(lines, number)):
                parts.for_reader.add(number)
            if heading not in ("rows start", "chart"):
                parts.add(heading, rest, number) if rest else parts.lines.setdefault(heading, [])
            continue
        if section == "rows":
            parts.rows[-1].append((line, number))
            parts.for_reader.add(number)
        elif section:
            parts.add(section, line, number)
            if section in _OF_READER or (section == "yarn" and _YARN_OF_READER.match(line)):
                parts.for_reader.add(number)
        elif not begun and "title" not in parts.lines:
            parts.add("title", line, number)
        else:
            parts.add("intro" if not begun else "notes", line, number)
    parts.lines = {part: found for part, found in parts.lines.items() if found}
    return parts


def _heading(line: str) -> tuple[str, str]:
    """Give the part that a line is the heading of, and the words behind it; ("", "") if the line is no heading."""
    bare = line.strip()
    match = _HEADING.match(bare)
    if match is None:
        return "", ""
    part = _HEADINGS[int(str(match.lastgroup)[1:])][0]
    rest = bare[match.end() :]
    if re.match(r"\s*[:–—]", rest):
        return part, rest.lstrip(" :–—")
    if not rest.strip() or (part in ("designer", "hook", "copyright", "edition") and rest.startswith(" ")):
        return part, rest.strip()
    return "", ""


def _next_is_for_reader(lines: list[str], number: int) -> bool:
    return any(_YARN_OF_READER.match(line) for line in lines[number : number + 2])


# ---- rows and pairs ----------------------------------------------------------------------------------------


def _row(lines: list[tuple[str, int]]) -> DraftRow:
    text = " ".join(line.strip() for line, _ in lines)
    match = _ROW_LABEL.match(text)
    label, body = (match[1].strip(), match[2].strip()) if match else (text, "")
    count = _COUNT.search(body)
    number = _row_number(lines)
    spot = _spot("rows", lines[0][1], number, row_or_round(label))
    again = bool(_AGAIN.match(body))
    return DraftRow(label, body[: count.start()] if count else body, count.group() if count else "", again, spot)


def _row_number(lines: list[tuple[str, int]]) -> int:
    match = re.search(r"\d+", lines[0][0])
    return int(match.group()[:9]) if match else 0


def _pairs(part: str, given: dict[str, list[tuple[str, int]]]) -> tuple[Pair, ...]:
    found: list[Pair] = []
    for line, number in given.get(part, ()):
        # several on a line stand apart by semicolons, or by commas in a list of short ones
        for piece in re.split(r";\s*", line) if part == "abbreviations" else [line]:
            match = _PAIR.match(piece)
            if match:
                found.append(Pair(match[1].strip(), match[2].strip(" .;"), _spot(part, number)))
    return tuple(found)


def _rows_of(chart: Chart | CentreChart) -> int:
    return len(chart.rounds) if isinstance(chart, CentreChart) else len(chart.row_colours)
