"""A square from the centre as a draft: what its page prints, and the rounds in its words or in the author's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mosaickit.publish.editing.draft import Draft, DraftYarn, Said, SizeSaid, Spot, extent_of, spot_of
from mosaickit.publish.editing.of_page import said_parts, said_pictures, said_prose, said_yarn
from mosaickit.publish.editing.of_rounds import on_a_page
from mosaickit.publish.editing.of_text import draft_of_text
from mosaickit.publish.yarns import meetings_of
from mosaickit.sizes import CentreDesign

_NEVER_TRIED = "How the corners look, and whether the square lies flat: such squares were never tried on wool."


def draft_of_square(design: CentreDesign, text: str | None = None) -> Draft:
    """Read the page of a square; `text` is the author's own, of which whatever it says stands in place of the page's.

    Parameters
    ----------
    design : CentreDesign
        Which; it has a gauge and can be worked.
    text : str, optional
        The rounds in the author's words, or a whole pattern.
    """
    words, own, chart = design.words, design.publishing, design.chart
    page = draft_of_text(design.rounds, terms=words.terms, chart=chart)
    written = None if text is None else draft_of_text(text, terms=words.terms, chart=chart)
    rows = on_a_page(page.sets[0])
    if written is not None and written.sets[0].rows:
        (told,) = written.sets
        # what the text does not explain itself is explained on the page
        rows = replace(
            told, abbreviations=told.abbreviations or rows.abbreviations, special=told.special or rows.special
        )
    on_page = said_parts(
        own,
        title=design.title,
        designer=words.designer,
        photographs=design.photographs,
        intro=words.intro,
        size=design.size.sentence,
        gauge=design.known_gauge,
        hook_mm=design.hook_mm,
        level=words.level,
        terms=words.terms,
        yarns=[yarn.name for yarn, _ in design.usage.skeins],
    )
    parts = {**dict(on_page), **({} if written is None else written.parts)}
    yarns = tuple(_yarns(design))
    measured = own.blocked_cm if design.known_gauge.blocked else own.unblocked_cm
    sizes: tuple[SizeSaid, ...] = () if measured is None else (SizeSaid(measured, None, spot_of("size")),)
    told_notes = page if written is None or not written.prose else written
    unjudged = [_NEVER_TRIED]
    if written is not None:
        sizes = written.sizes or sizes
        yarns = (*yarns, *_amounts(design, written.yarns, yarns))
        unjudged += [each for each in written.unjudged if each.startswith("The rows")]
    if not sizes:
        unjudged.append("Whether the finished square has the size that the gauge gives: it was not measured.")
    return Draft(
        title=design.title,
        is_text=False,
        parts=parts,
        sets=(rows,),
        extent=extent_of(chart),
        gauge=design.known_gauge,
        sizes=sizes,
        yarns=yarns,
        meetings=meetings_of(chart.yarns, len(chart.rounds)),
        pictures=said_pictures(design.photographs),
        prose=(*said_prose(own, words.intro, words.notes), *_notes(told_notes, from_text=told_notes is written)),
        notions=tuple(Said(each, spot_of("notions")) for each in own.notions) + (written.notions if written else ()),
        unjudged=tuple(unjudged),
    )


def _notes(draft: Draft, *, from_text: bool) -> Iterator[Said]:
    for each in draft.prose:
        yield each if from_text else Said(each.text, Spot("notes", "Notes to the rounds"))


def _yarns(design: CentreDesign) -> Iterator[DraftYarn]:
    used = design.usage
    for letter, total in zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ", used.by_yarn, strict=False):
        rounds = [high for high, yarn in zip(used.high_m.tolist(), used.yarns, strict=True) if yarn == total.yarn]
        ball = dict(used.skeins)[total.yarn]
        yield said_yarn(design.publishing, total.yarn.name, letter, ball, total.skeins, total.high_m, sum(rounds))


def _amounts(design: CentreDesign, written: tuple[DraftYarn, ...], yarns: tuple[DraftYarn, ...]) -> Iterator[DraftYarn]:
    """Hold the amounts of a text against what the rounds take, by the name of the yarn or of the colour it plays."""
    needed = {yarn.name: yarn.by_row_m for yarn in yarns}
    for role in ("MC", "CC"):
        played = [yarn for start, yarn in design.chart.yarns.of(role) if start <= len(design.chart.rounds)]
        if len(played) == 1 and needed.get(played[0].name) is not None:
            needed.setdefault(role, needed[played[0].name])
    for yarn in written:
        need = needed.get(yarn.name)
        # to ask for more than the rounds take is no fault
        short = need is not None and yarn.most_m is not None and yarn.most_m < need
        yield replace(yarn, lacks=(), by_row_m=need if short else None)
