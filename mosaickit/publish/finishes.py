"""What a page says of foundation, ends, fringe and border, beside the rows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from mosaickit.colours import Yarn
from mosaickit.orientation import Role
from mosaickit.publish.cautions import LOCAL_RULES
from mosaickit.publish.entries import FOUNDATION_SC, EdgeUse, Instructions, SizedInstructions
from mosaickit.publish.page import Page
from mosaickit.publish.yarns import page_yarns, yarn_letter
from mosaickit.sizes import USUAL_FINISH, Design, finishing_cautions, finishing_steps
from mosaickit.wording import TERMS, Tongue, explained
from mosaickit.yarn import DYE_LOT, band

_NO_CHAIN = "There is no foundation chain: row 1 is worked in foundation stitches."
NO_CHAIN: Mapping[Tongue, str] = {
    "US": _NO_CHAIN,
    "UK": _NO_CHAIN,
    "de": "Kein Luftmaschenanschlag: Reihe 1 bildet ihn selbst.",
}
"""What stands where others have a foundation chain."""


def finished(page: Page, design: Design) -> Page:
    """Put on a design's page what its finish comes to: steps, cautions, sizes and yarn."""
    finish, edging = design.finish, design.edging
    if finish == USUAL_FINISH:
        return page
    cautions = [*page.cautions, *finishing_cautions(finish)]
    if LOCAL_RULES in cautions:  # it stands last
        cautions.remove(LOCAL_RULES)
        cautions.append(LOCAL_RULES)
    letters, roles = _letters(page, design)
    totals = design.usage.by_yarn
    lots = (
        (DYE_LOT,) if any(total.skeins not in (None, 1) for total in totals) and DYE_LOT not in page.skein_notes else ()
    )
    return replace(
        page,
        instructions=tuple(with_steps(each, _steps(design, each.terms)) for each in page.instructions),
        cautions=tuple(cautions),
        yarns=page_yarns(totals, roles, letters),
        edge_use=tuple(_uses(design, letters)),
        border_cm=edging.adds_cm,
        fringe_cm=finish.fringe_cm if finish.ends == "fringe" else 0.0,
        skein_notes=(*page.skein_notes, *lots),
    )


_Words = TypeVar("_Words", Instructions, SizedInstructions)


def with_steps(words: _Words, steps: tuple[str, ...]) -> _Words:
    """Put steps at the edges to instructions, and explain their abbreviations too; in German they have none."""
    more = explained(words.abbreviations, " ".join(steps), words.terms) if words.terms in TERMS else words.abbreviations
    return replace(words, finishing=steps, abbreviations=more)


def _steps(design: Design, terms: Tongue) -> tuple[str, ...]:
    """Write the steps in English: a page in another language has them put into it as all its fixed sentences are."""
    return finishing_steps(design, terms if terms in TERMS else "US")


def _letters(page: Page, design: Design) -> tuple[dict[Yarn, str], dict[Yarn, tuple[Role, ...]]]:
    """Give the letter and the colours of each yarn; one that only the border is of comes last."""
    known = {(yarn.name, yarn.colour): yarn for yarn in page.yarns}
    letters: dict[Yarn, str] = {}
    roles: dict[Yarn, tuple[Role, ...]] = {}
    for total in design.usage.by_yarn:
        yarn = known.get((total.yarn.name, total.yarn.colour))
        letters[total.yarn] = yarn_letter(len(letters)) if yarn is None else yarn.letter
        roles[total.yarn] = () if yarn is None else yarn.roles
    return letters, roles


def _uses(design: Design, letters: dict[Yarn, str]) -> Iterator[EdgeUse]:
    """List what is taken beyond the rows, as `design.usage` counts it."""
    edging, layout, lengths = design.edging, design.layout, design.usage.rates.in_stitches
    role = design.finish.finish_colour
    parts = (
        (FOUNDATION_SC, layout.first, layout.first_yarn, 0, edging.foundation_m(lengths), 0.0),
        (
            "Fringe" if edging.added_strands else "Border",
            role,
            layout.last_yarn(role),
            edging.border_stitches,
            edging.border_m(lengths),
            edging.cut_m(design.yarn_settings.tail_cm),
        ),
    )
    for what, colour, yarn, stitches, worked_m, cut_m in parts:
        if worked_m or cut_m:
            low, likely, high = band(worked_m, cut_m, lengths)
            yield EdgeUse(what, colour, letters[yarn], yarn.name, stitches, low, likely, high)
