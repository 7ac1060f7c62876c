"""A page as a draft: what it prints, in the words in which it prints it, and the figures behind them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.publish import contents
from mosaickit.publish.editing.draft import (
    Draft,
    DraftRow,
    DraftYarn,
    Pair,
    RowsSaid,
    Said,
    SizeFigures,
    SizeSaid,
    Spot,
    extent_of,
    not_english,
    spot_of,
)
from mosaickit.publish.editing.of_text import draft_of_text
from mosaickit.publish.editing.proved import proved
from mosaickit.publish.entries import EdgeUse, Instructions, PageYarn, RowUse
from mosaickit.publish.page import Page, PageSize
from mosaickit.publish.translating import Translator
from mosaickit.sizes import Photograph, Publishing
from mosaickit.wording import TERMS, in_tongue, terms_or_language, write_rows
from mosaickit.yarn import Skein


def draft_of_page(page: Page, text: str | None = None) -> Draft:
    """Read a page; `text` is the rows in the author's words, which are held against the chart in place of the page's.

    Parameters
    ----------
    page : Page
        Which.
    text : str, optional
        Written rows, as `read_rows` takes them.
    """
    parts = dict(_parts(page))
    own = page.publishing
    sets = tuple(_set(page, words, number) for number, words in enumerate(_own_first(page)))
    left = (
        [] if own.blocked_cm else ["Whether the finished piece has the size that the gauge gives: it was not measured."]
    )
    if text is not None:
        written = draft_of_text(text, terms=page.terms, chart=page.chart)
        left += [each for each in written.unjudged if each.startswith("The rows")]
        (rows,) = written.sets
        # what the text does not explain itself is explained on the page
        sets = (
            replace(
                rows,
                abbreviations=rows.abbreviations or sets[0].abbreviations,
                special=rows.special or sets[0].special,
            ),
        )
    left += not_english(sets)
    return Draft(
        title=page.title,
        is_text=False,
        parts=parts,
        sets=sets,
        extent=extent_of(page.chart),
        gauge=page.gauge,
        sizes=tuple(_sizes(page)),
        yarns=tuple(_yarn(page, yarn) for yarn in page.yarns),
        meetings=page.meetings,
        pictures=said_pictures(page.photographs),
        prose=tuple(_prose(page)),
        notions=tuple(Said(each, Spot("notions", "Notions")) for each in own.notions),
        unjudged=tuple(left),
        border_cm=page.border_cm,
        sized=tuple(_figures(size) for size in page.sizes) if len(page.sizes) > 1 else (),
        in_series=tuple(_in_series(page)),
    )


def _figures(size: PageSize) -> SizeFigures:
    page = size.page
    yarns = tuple(_yarn(page, yarn) for yarn in page.yarns)
    return SizeFigures(size.name, extent_of(page.chart), page.gauge, tuple(_sizes(page)), yarns, page.border_cm)


def _in_series(page: Page) -> Iterator[Said]:
    """List what may have a number for each size: the rows as they are printed, and what the author says."""
    for of, words in enumerate(page.sized):
        suffix = "" if of == 0 else f", {terms_or_language(words.terms)}"
        for label, text, count in words.rows:
            yield Said(f"{label}: {text} {count}", Spot("rows", (label or "Rows") + suffix, of=of))
        for text in (words.foundation, *words.remarks, *words.finishing):
            yield Said(text, Spot("rows", f"Above the rows{suffix}", of=of))
    yield from _prose(page)


def _own_first(page: Page) -> list[Instructions]:
    return sorted(page.instructions, key=lambda words: words.terms != page.terms)


def _parts(page: Page) -> Iterator[tuple[str, Said]]:
    return said_parts(
        page.publishing,
        title=page.title,
        designer=page.designer,
        photographs=page.photographs,
        intro=page.intro,
        size=contents.size_words(page.finished_cm),
        gauge=page.gauge,
        hook_mm=page.hook_mm,
        level=page.level,
        terms=page.terms,
        yarns=[yarn.name for yarn in page.yarns],
    )


def said_parts(
    own: Publishing,
    *,
    title: str,
    designer: str,
    photographs: Iterable[Photograph],
    intro: str,
    size: str,
    gauge: Gauge,
    hook_mm: float | None,
    level: str | None,
    terms: str,
    yarns: Iterable[str],
) -> Iterator[tuple[str, Said]]:
    """Yield each part of a page, of a design or of a square from the centre, that says anything."""
    measured = ", measured after blocking" if own.blocked_cm else ""
    in_stitch = f", in {own.gauge_stitch}" if own.gauge_stitch else ""
    said = {
        "title": title,
        "designer": designer,
        "pictures": "; ".join(each.text for each in photographs),
        "intro": intro,
        "size": f"{size}{measured}",
        "gauge": f"{gauge.sentence.partition(': ')[2]}{in_stitch}",
        "hook": "" if hook_mm is None else f"{hook_mm:g} mm",
        "level": level or "",
        "terms": terms,
        "notions": "; ".join(own.notions),
        "finishing": own.finishing,
        "blocking": own.blocking,
        "care": "; ".join(filter(None, (own.label(yarn).care for yarn in yarns))),
        "edition": own.edition_line,
        "date": own.published.isoformat() if own.published else "",
        "errata": own.errata,
        "contact": own.contact,
        "copyright": own.copyright_line,
        "licence": own.licence_line,
    }
    for part, text in said.items():
        if text.strip():
            yield part, Said(text, spot_of(part))


def _sizes(page: Page) -> Iterator[SizeSaid]:
    """Give what was measured in the state in which the gauge was."""
    measured = page.publishing.blocked_cm if page.gauge.blocked else page.publishing.unblocked_cm
    if measured is not None:
        yield SizeSaid(measured, None, Spot("size", "Finished size"))


def _yarn(page: Page, yarn: PageYarn) -> DraftYarn:
    uses: tuple[RowUse | EdgeUse, ...] = (*page.row_use, *page.edge_use)
    by_row_m = sum(use.high_m for use in uses if use.letter == yarn.letter)
    return said_yarn(page.publishing, yarn.name, yarn.letter, yarn.ball, yarn.skeins, yarn.high_m, by_row_m)


def said_yarn(
    own: Publishing, name: str, letter: str, ball: Skein | None, skeins: int | None, most_m: float, by_row_m: float
) -> DraftYarn:
    """Give what a page tells of a yarn; `letter` is what it is called where it has no name."""
    label = own.label(name)
    told = {"what it is sold as": label.line, "weight": label.category, "fibre": label.fibre, "ball": ball}
    return DraftYarn(
        name=name or f"yarn {letter}",
        spot=Spot("yarn", f"Yarn, {name or letter}"),
        lacks=tuple(what for what, value in told.items() if not value),
        most_m=most_m,
        by_row_m=by_row_m,
        skeins=skeins,
        ball_m=None if ball is None else ball.metres,
    )


def _prose(page: Page) -> Iterator[Said]:
    return said_prose(page.publishing, page.intro, page.notes)


def said_prose(own: Publishing, intro: str, notes: Iterable[str]) -> Iterator[Said]:
    """Yield what the author says in sentences."""
    for part, text in (("intro", intro), ("finishing", own.finishing), ("blocking", own.blocking)):
        if text:
            yield Said(text, spot_of(part))
    for number, note in enumerate(notes, 1):
        yield Said(note, Spot("notes", f"Note {number}"))


def said_pictures(photographs: Iterable[Photograph]) -> tuple[Said, ...]:
    """Give what the photographs show, in words."""
    return tuple(
        Said(each.text, Spot("pictures", f"Photograph {number}")) for number, each in enumerate(photographs, 1)
    )


# ---- rows --------------------------------------------------------------------------------------------------


def _row_line(label: str, text: str, count: str) -> str:
    return " ".join(f"{label}: {text}. {count}".split())


def _row_spot(label: str, row: int, words: Instructions, of: int) -> Spot:
    where = re.sub(r"\s*\(.*", "", label) or f"Row {row}"
    return Spot("rows", where if of == 0 else f"{where}, {terms_or_language(words.terms)}", row, None, of)


def rows_text(page: Page, words: Instructions) -> str:
    """Put the rows of a page together as `read_rows` takes them: as printed, below what the reader needs to know."""
    say = Translator(page).text
    lines = (_row_line(row.label, row.text, say(contents.count(row))) for row in words.rows)
    return _heading(page, words) + "\n".join(lines)


def _heading(page: Page, words: Instructions) -> str:
    """Write the terms, how it is worked, the yarns and the foundation, a line each."""
    chart = page.chart
    if words.terms not in TERMS:  # whose headings are those of its own language
        whole = write_rows(chart, **in_tongue(words.terms))
        return str(whole).partition(f"\n{words.rows[0].label}:")[0] + "\n"
    first = Chart(
        chart.stitches[:1],
        chart.row_colours[:1],
        yarns=chart.yarns,
        hand=chart.hand,
        in_the_round=chart.in_the_round,
        name=chart.name,
    )
    written = write_rows(first, **in_tongue(words.terms))
    foundation = re.sub(r"(?<=\.) (?=Foundation)", "\n", words.foundation)
    return "\n".join((*written.heading, "", "Yarns:", *written.yarns, "", foundation, ""))


def _set(page: Page, words: Instructions, of: int) -> RowsSaid:
    say = Translator(page).text
    rows = tuple(
        DraftRow(
            row.label, row.text, say(contents.count(row)), row.rows[0] != row.rows[1],
            _row_spot(row.label, row.rows[0], words, of),
        )
        for row in words.rows
    )  # fmt: skip
    suffix = "" if of == 0 else f", {terms_or_language(words.terms)}"
    around = Spot("rows", f"Above the rows{suffix}", of=of)
    found = RowsSaid(
        terms=words.terms,
        rows=rows,
        around=tuple(Said(text, around) for text in (words.foundation, *words.remarks) if text),
        abbreviations=_pairs(words.abbreviations, "abbreviations", f"Abbreviations{suffix}", of),
        special=_pairs(words.special, "special stitches", f"Special stitches{suffix}", of),
    )
    heading = _heading(page, words).count("\n")
    # line by line of the text, whose lines stand one below the other
    spots = [row.spot for row in rows]

    def spot(line: int) -> Spot:
        return spots[line - heading - 1] if 0 < line - heading <= len(spots) else around

    return proved(found, rows_text(page, words), spot, terms=words.terms, chart=page.chart)[0]


def _pairs(pairs: tuple[tuple[str, str], ...], part: str, where: str, of: int) -> tuple[Pair, ...]:
    return tuple(Pair(short, meaning, Spot(part, where, of=of)) for short, meaning in pairs)
