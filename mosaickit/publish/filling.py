"""From a chart to the page of its pattern: the hook, the yarn and the words are asked, and a `Page` is filled in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from mosaickit.colours import Yarn
from mosaickit.errors import OptionError, as_whole, each_of_kind, of_kind, one_of, positive, shortly, true_or_false
from mosaickit.fabric import Chart, work
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif
from mosaickit.orientation import ROLES, Role
from mosaickit.publish.boxes import FirstLast
from mosaickit.publish.cautions import CHILDREN_CAUTIONS, HANDS_CAUTION, LOCAL_RULES
from mosaickit.publish.entries import (
    Instructions,
    PageRow,
    RowUse,
    SizedInstructions,
    YarnStart,
)
from mosaickit.publish.finishes import NO_CHAIN, finished, with_steps
from mosaickit.publish.laid_over import laid_lines
from mosaickit.publish.page import Page, PageSize
from mosaickit.publish.yarns import meetings_of, page_yarns, yarn_letter
from mosaickit.sizes import (
    USUAL_PUBLISHING,
    Design,
    Photograph,
    Publishing,
    charts_in_sizes,
    checked_photographs,
    common_repeat,
    rows_in_words,
    sizes_in_one,
)
from mosaickit.wording import (
    PHRASINGS,
    TERMS,
    Phrasing,
    Terms,
    WrittenRows,
    WrittenSizes,
    in_tongue,
    row_name,
    tongue_of,
    tongue_of_page,
    write_rows,
)
from mosaickit.yarn import DYE_LOT, USUAL_YARN_SETTINGS, Usage, YarnSettings, accuracy, new_balls, yarn_usage


def pattern(
    chart: Chart,
    *,
    title: str,
    gauge: Gauge,
    terms: Terms | None = None,
    yarn_settings: YarnSettings = USUAL_YARN_SETTINGS,
    designer: str = "",
    hook_mm: float | None = None,
    level: str | None = None,
    intro: str = "",
    notes: Iterable[str] = (),
    for_children: bool = False,
    repeat: int | None = None,
    phrasing: Phrasing = "natural",
    first_repeat: tuple[FirstLast, FirstLast] | None = None,
    publishing: Publishing = USUAL_PUBLISHING,
    photographs: Iterable[Photograph] = (),
    rows: Iterable[Instructions] | None = None,
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
    terms : "US" or "UK", optional
        The terms that an English page is printed in; US terms if left out. The language is that of `publishing`.
    yarn_settings : YarnSettings
        How yarn is calculated: what is done between rows, lengths of stitches and tails, skeins.
    designer : str
        Who designed it, in one line; printed on the page, and the author of the PDF.
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
    first_repeat : two pairs of int, optional
        The rows and the stitches, first and last, of the first repeat that was laid, if there are more; the words of a
        row and the box of a chart begin there.
    phrasing : "natural" or "shortest"
        Where written rows are broken; see `write_rows`.
    publishing : Publishing
        Contact, copyright, labels of the yarns and whatever else a pattern that is sold has.
    photographs : Photographs
        At most 12; the first is the cover. Without any, the page shows the fabric as its yarn lies.
    rows : Instructions, one for each of the terms, optional
        Written rows of your own in place of ours.

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
    of_kind("publishing", publishing, Publishing)
    tongue = tongue_of_page(terms, publishing.language)
    if terms is not None and tongue != terms:
        tongue_of(terms, publishing.language, name="publishing.language")  # says that they contradict
    one_of("phrasing", phrasing, PHRASINGS)
    for_children = true_or_false("for_children", for_children)
    photographs = checked_photographs(photographs)
    noted = [notes] if isinstance(notes, str) else notes
    if not isinstance(noted, Iterable):
        raise OptionError(f"`notes` must be a text, or several; got {shortly(notes)}.")
    _check_spans(first_repeat, chart)
    if rows is not None:
        rows = each_of_kind("rows", rows, Instructions)
    fabric = work(chart)
    usage = yarn_usage(chart, gauge, yarn_settings=yarn_settings)
    yarns = chart.yarns.gather(range(1, chart.shape[0] + 1))
    letters = {total.yarn: yarn_letter(number) for number, total in enumerate(usage.by_yarn)}
    if rows is None:
        written = (
            write_rows(
                chart,
                **in_tongue(each),
                phrasing=phrasing,
                between_rows=yarn_settings.between_rows,
                repeat=repeat,
                repeat_from=None if first_repeat is None else first_repeat[1][0],
            )
            for each in (TERMS if tongue in TERMS else (tongue,))
        )
        rows = (instructions(chart, each) for each in written)
    return Page(
        title=title,
        chart=chart,
        front=Motif(fabric.front, chart.first, yarns),
        back=Motif(fabric.back, chart.first, yarns),
        gauge=gauge,
        terms=tongue,
        instructions=tuple(rows),
        yarns=page_yarns(usage.by_yarn, _roles(usage), letters),
        starts=tuple(YarnStart(row, role, letters[yarn]) for row, role, yarn in chart.yarns.starts(chart.row_colours)),
        meetings=meetings_of(chart.yarns, chart.shape[0]),
        row_use=_row_use(chart, usage, letters),
        between_rows=yarn_settings.between_rows,
        accuracy=accuracy(usage.lengths),
        skein_notes=_skein_notes(usage, "round" if chart.in_the_round else "row"),
        designer=designer,
        hook_mm=None if hook_mm is None else positive("hook_mm", hook_mm, "mm"),
        level=level,
        intro=intro,
        notes=tuple(noted),
        cautions=(HANDS_CAUTION, *((*CHILDREN_CAUTIONS, LOCAL_RULES) if for_children else ())),
        repeat=repeat,
        first_repeat=first_repeat,
        publishing=publishing,
        photographs=photographs,
        yarn_mm=yarn_settings.yarn_mm,
    )


def page_of(design: Design, photographs: Iterable[Photograph] | None = None) -> Page:
    """Fill in the page of a design's pattern; ``design.page()`` is this.

    Parameters
    ----------
    design : Design
        Which.
    photographs : Photographs
        As `pattern` takes them; those of the design if left out.

    Raises
    ------
    UnworkableError
        If the piece, or one of its sizes, cannot be worked.
    OptionError
        If the design has no gauge, or its words hold what cannot be printed.
    """
    of_kind("design", design, Design)
    photographs = design.photographs if photographs is None else photographs
    if design.sizes:
        return _page_in_sizes(design, photographs)
    return _page_of(design, design.repeat, design.first_repeat, photographs)


def _page_of(
    design: Design, repeat: int | None, first: tuple[FirstLast, FirstLast] | None, photographs: Iterable[Photograph]
) -> Page:
    words = design.words
    tongue = tongue_of_page(words.terms, design.publishing.language)
    rows = [
        instructions(design.chart, rows_in_words(design, each, repeat, first))
        for each in (TERMS if tongue in TERMS else (tongue,))
    ]
    page = pattern(
        design.chart,
        title=design.title,
        gauge=design.known_gauge,
        terms=words.terms if tongue in TERMS else None,
        phrasing=words.phrasing,
        yarn_settings=design.calculated_by,
        designer=words.designer,
        hook_mm=design.hook_mm,
        level=words.level,
        intro=words.intro,
        notes=words.notes,
        for_children=words.for_children,
        repeat=repeat,
        first_repeat=first,
        publishing=design.publishing,
        photographs=photographs,
        rows=rows,
    )
    return finished(replace(page, bands=design.layout.bands_in_words, said=design.said), design)


def _page_in_sizes(design: Design, photographs: Iterable[Photograph]) -> Page:
    """Fill in the page of all sizes of a design: that of the first, with the pages of all of them."""
    tongue = tongue_of_page(design.words.terms, design.publishing.language)
    laid = design.in_sizes
    charts_in_sizes(design)  # which says of each size whether it can be worked
    repeat, first = common_repeat(laid.values())
    pages = {}
    for name, one in laid.items():
        own, shape = one.first_repeat, one.shape
        within = own and first and all(span[1] <= side for span, side in zip(first, shape, strict=True))
        # what every size repeats has to begin with the same stitch in all of them
        pages[name] = _page_of(one, repeat if one.repeat else None, first if within else own, ())
    yarns = dict.fromkeys((yarn.name, yarn.colour) for page in pages.values() for yarn in page.yarns)
    letters = {yarn: yarn_letter(number) for number, yarn in enumerate(yarns)}
    sizes = tuple(
        PageSize(name, laid[name].across, laid[name].up, _relettered(page, letters)) for name, page in pages.items()
    )
    tongues = TERMS if tongue in TERMS else (tongue,)
    sized = [sizes_in_one(design, each) for each in (tongues if len(sizes) > 1 else ())]
    lead = replace(sizes[0].page, photographs=checked_photographs(photographs))
    return replace(lead, sizes=sizes, sized=tuple(_with_finishing(sized_instructions(each), sizes) for each in sized))


def _with_finishing(sized: SizedInstructions, sizes: Sequence[PageSize]) -> SizedInstructions:
    """Lay what is done at the edges of each size over each other."""
    each = [next(words.finishing for words in size.page.instructions if words.terms == sized.terms) for size in sizes]
    return with_steps(sized, laid_lines([size.name for size in sizes], each))


def _relettered(page: Page, letters: Mapping[tuple[str, str], str]) -> Page:
    """Give yarns the letters that they have in all sizes."""
    of_letter = {yarn.letter: letters[yarn.name, yarn.colour] for yarn in page.yarns}
    changed = {
        name: tuple(replace(each, letter=of_letter[each.letter]) for each in getattr(page, name))
        for name in ("yarns", "starts", "row_use")
    }
    return replace(page, yarns=changed["yarns"], starts=changed["starts"], row_use=changed["row_use"])


def sized_instructions(written: WrittenSizes) -> SizedInstructions:
    """Take over the written rows of several sizes."""
    return SizedInstructions(
        terms=written.terms,
        foundation=" ".join((*written.multiple, *(written.foundation or (NO_CHAIN[written.terms],)))),
        rows=tuple(
            ("", line, "") if isinstance(line, str) else (line.label, f"{line.text}.", line.tally)
            for line in written.lines
        ),
        remarks=written.notes,
        abbreviations=written.abbreviations,
        special=written.special_stitches,
        text=str(written),
    )


def _check_spans(spans: object, chart: Chart) -> None:
    """Raise `OptionError` unless the first repeat lies in a chart."""
    if spans is None:
        return
    right = isinstance(spans, tuple) and len(spans) == 2
    for span, size in zip(spans, chart.shape, strict=True) if isinstance(spans, tuple) and right else ():
        pair = tuple(map(as_whole, span)) if isinstance(span, tuple) and len(span) == 2 else (None, None)
        right = right and None not in pair and 1 <= (pair[0] or 0) <= (pair[1] or 0) <= size
    if not right:
        rows, stitches = chart.shape
        raise OptionError(
            f"`first_repeat` must be first and last row, of {rows}, and first and last stitch, of {stitches}, as "
            f"((1, 4), (2, 9)); got {shortly(spans)}."
        )


def instructions(chart: Chart, written: WrittenRows) -> Instructions:
    """Take over the written rows of a chart, and give every row a step of its own, also where lines are repeated."""

    def page_row(row: int, last: int, label: str, text: str) -> PageRow:
        role = chart.row_colours[row - 1]
        return PageRow(label, (row, last), role, chart.yarns.at(row, role).name, text, chart.shape[1])

    word = row_name(written.terms, in_the_round=chart.in_the_round)
    return Instructions(
        terms=written.terms,
        foundation=" ".join(filter(None, (written.multiple, written.foundation or NO_CHAIN[written.terms]))),
        rows=tuple(
            page_row(line.first, line.last, line.label, " ".join(filter(None, (line.change, line.text))))
            for line in written.lines
        ),
        steps=tuple(page_row(row, row, f"{word} {row}", text) for row, text in enumerate(written.by_row, 1)),
        remarks=written.notes,
        abbreviations=written.abbreviations,
        special=written.special_stitches,
    )


def _roles(usage: Usage) -> dict[Yarn, tuple[Role, ...]]:
    used = set(zip(usage.yarns, usage.row_colours, strict=True))
    return {yarn: tuple(role for role in ROLES if (yarn, role) in used) for yarn in usage.yarns}


def _skein_notes(usage: Usage, row_word: str) -> tuple[str, ...]:
    """Say where new balls begin, and, if a yarn may take more than one skein, to buy them of one dye lot."""
    said = []
    for yarn, skein in usage.skeins:
        if skein is not None and usage.total_m[[one == yarn for one in usage.yarns]].max() <= skein.metres:
            _, *later = new_balls(usage, yarn)
            if later:
                where = f"{row_word}{'s' * (len(later) > 1)} {', '.join(map(str, later))}"
                said.append(f"A new ball of {yarn.name} is likely to start at {where}.")
    one_each = all(total.skeins == 1 for total in usage.by_yarn)
    return (*said, *((DYE_LOT,) if not one_each else ()))


def _row_use(chart: Chart, usage: Usage, letters: Mapping[Yarn, str]) -> tuple[RowUse, ...]:
    amounts = zip(usage.low_m.tolist(), usage.total_m.tolist(), usage.high_m.tolist(), strict=True)
    stitches = chart.shape[1]
    return tuple(
        RowUse(row, role, letters[yarn], yarn.name, stitches, low, likely, high)
        for row, (role, yarn, (low, likely, high)) in enumerate(
            zip(usage.row_colours, usage.yarns, amounts, strict=True), 1
        )
    )
