"""Steps: what is done when the last row is worked, in words with a count after each round, and what to take care of.

Written in US terms; UK terms are a rendering. The double border follows "Envelope Border" (Karis' Crafts, 2023) for its
first rounds; how it is closed is common practice, no source.
"""

from __future__ import annotations

from math import floor

from mosaickit.errors import number_of, of_kind, one_of
from mosaickit.fabric import edge_tails
from mosaickit.gauge import CM_PER_INCH
from mosaickit.orientation import Hand
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.finishes.edging import IN_A_CRAB_CORNER, Edging
from mosaickit.sizes.finishes.finish import Finish
from mosaickit.wording import TERMS, Terms, render
from mosaickit.yarn import rounded_up

LEAST_WOVEN_CM = 4 * CM_PER_INCH
"""A tail is woven in over 4 to 6 in ("Narrow Step Afghan"; "Tails", Creating Busy Lizzy, 2012)."""

_CORNER_FIRST = {
    "3 sc": "2 sc in the last place before it",
    "5 sc": "2 sc in the last place before it",
    "sc, ch 1, sc": "ch 1",
    "sc, ch 2, sc": "ch 2",
}
_CORNER_LATER = {
    "3 sc": "3 sc in each corner st",
    "5 sc": "5 sc in each corner st",
    "sc, ch 1, sc": "(sc, ch 1, sc) in each corner space",
    "sc, ch 2, sc": "(sc, ch 2, sc) in each corner space",
}

LOOSE_STRANDS = (
    "Loose strands",
    "Put no fringe on what is made for a baby or a small child: strands come off, are chewed, and wind round small "
    "fingers. Rules on cords and loose parts differ: what holds where you live and sell comes first.",
)
WOVEN_TOO_SHORT = (
    "Tails",
    "Tails that are woven in too short come out: an inch (2.5 cm) came undone in the wash (“Tails”, Creating Busy "
    "Lizzy, 2012). Leave and weave in 10 to 15 cm (4 to 6 in).",
)
NEEDLE_AND_SCISSORS = (
    "Scissors and strands",
    "Keep scissors, needles and the strands that are cut off away from small children and pets.",
)


def finishing_steps(design: Design, terms: Terms = "US") -> tuple[str, ...]:
    """Write what is done at the edges when the last row is worked, a step each.

    Parameters
    ----------
    design : Design
        Which; where it has a border its gauge or the border's ratio is known.
    terms : "US" or "UK"
        The terms of the stitches.

    Returns
    -------
    tuple of str
        None if the finish is the usual one.

    Raises
    ------
    OptionError
        If an argument is not as described, or the ratio of a border is not known.
    UnworkableError
        If the piece cannot be worked.
    """
    of_kind("design", design, Design)
    one_of("terms", terms, TERMS)
    finish, edging = design.finish, design.edging
    colour: str = finish.finish_colour
    if len(design.motif.yarns.of(finish.finish_colour)) > 1:  # which of them is meant
        colour += f" ({design.layout.last_yarn(finish.finish_colour).name})"
    said: list[str] = []
    if finish.ends == "woven in":
        said.append(_weaving(design))
    if finish.ends == "fringe":
        said += _fringe(edging, colour)
    if edging.rounds:
        if edging.in_the_round:
            said += _both_edges(edging, colour, design.hand)
        elif finish.border_along == "row ends":
            said += _row_ends(edging, colour, design.hand)
        elif finish.layers == 2:
            said += _double(edging, colour, design.hand)
        else:
            said += _single(edging, colour, design.hand)
    return tuple(render(step, terms) for step in said)


def finishing_cautions(finish: Finish) -> tuple[tuple[str, str], ...]:
    """List what to take care of with a finish, as (heading, text)."""
    found = []
    if finish.ends == "fringe":
        found.append(LOOSE_STRANDS)
    if finish.ends == "woven in":
        found.append(WOVEN_TOO_SHORT)
    return (*found, *([NEEDLE_AND_SCISSORS] if finish.ends != "as they come" else ()))


def _length(cm: float) -> str:
    return f"{cm:.3g} cm ({cm / CM_PER_INCH:.1f} in)"


# ---- tails -------------------------------------------------------------------------------------------------


def _weaving(design: Design) -> str:
    tails = len(edge_tails(design.chart, design.yarn_settings.between_rows))
    short = design.yarn_settings.tail_cm < LEAST_WOVEN_CM
    longer = " The tails of this pattern are shorter: leave them longer." if short else ""
    return (
        f"Weave in the {number_of(tails, 'tail')} on the wrong side, each over 10 to 15 cm (4 to 6 in), there and back "
        f"through stitches of its own colour.{longer}"
    )


def _fringe(edging: Edging, colour: str) -> list[str]:
    finish, rows = edging.finish, edging.rows
    said = [f"The {number_of(2 * rows, 'tail')} at both ends of the rows make the fringe: {rows} at each side."]
    if edging.added_strands:
        metres = f"{rounded_up(edging.added_strands * edging.strand_cm / 100):g} m"
        strands, of_a_knot = (number_of(each, "strand") for each in (edging.added_strands, finish.added_strands))
        said.append(
            f"Cut {strands} of {colour}, each {_length(edging.strand_cm)}, {metres} in all. For each knot fold "
            f"{of_a_knot} in half, draw the fold through the edge and the ends through the fold."
        )
    if finish.tails_a_knot:
        rest = rows % finish.tails_a_knot
        which = f"every {finish.tails_a_knot} neighbouring tails" if finish.tails_a_knot > 1 else "each tail"
        last = f", the last with {number_of(rest, 'tail')}" if rest and edging.knots > 1 else ""
        knot = " with an overhand knot" if finish.tails_a_knot > 1 or finish.added_strands else ""
        said.append(f"Knot {which} close to the edge{knot}: {number_of(edging.knots, 'knot')} at each side{last}.")
    else:
        said.append("The locks hold the tails, so there are no knots.")
    if finish.trimmed:
        said.append(f"Comb the fringe straight and trim it to {_length(finish.fringe_cm)}.")
    return said


# ---- borders -----------------------------------------------------------------------------------------------


def pick_up_words(edging: Edging) -> str:
    """Say how stitches are picked up along the rows, and whether that lies flat."""
    ratio = edging.pick_up
    each = (
        "1 sc in each row end"
        if (ratio.stitches, ratio.rows) == (1, 1)
        else f"{ratio.stitches} sc for every {ratio.rows} rows"
    )
    if ratio.stitches != 1 and ratio.rows == 1:
        each = f"{ratio.stitches} sc in each row end"
    return f"{each}, {edging.side} in all"


def flat_words(edging: Edging) -> str:
    """Say in a sentence whether the border lies flat at the gauge; "" if no gauge is known."""
    ratio = edging.pick_up
    if ratio.flat is None:
        return ""
    if abs(ratio.off) < 0.0005:
        return f"At this gauge the border lies flat with exactly {ratio} along the sides."
    how = f"{abs(ratio.off):.1%} {'more' if ratio.off > 0 else 'fewer'} than would lie flat at this gauge"
    waves = (
        " It may wave; check after a few stitches." if ratio.off > 0 else " It may pull in; check after a few stitches."
    )
    be = "is" if ratio.stitches == 1 else "are"
    return f"Along the sides {ratio} {be} {how}.{waves if abs(ratio.off) > 0.03 else ''}"


def _counted(text: str, count: int) -> str:
    return f"{text} ({count:,} sc)"


def _later(edging: Edging) -> list[str]:
    """Write the rounds after the first, with their counts; all are worked alike."""
    rounds = edging.rounds
    if len(rounds) < 2:
        return []
    corner = _CORNER_LATER[edging.finish.border_corner]
    first = _counted(f"Round 2: ch 1, sc in each st and {corner}; join with a slip stitch.", rounds[1])
    if len(rounds) == 2:
        return [first]
    if len(rounds) == 3:
        return [first, _counted("Round 3: the same.", rounds[2])]
    counts = ", ".join(f"{count:,}" for count in rounds[2:-1])
    which = f"3 {'and' if len(rounds) == 4 else 'to'} {len(rounds)}"
    return [first, f"Rounds {which}: the same. ({counts} and {rounds[-1]:,} sc)"]


def _crab(edging: Edging, hand: Hand) -> list[str]:
    """Write the round of crab stitch, or the row, if the finish has one."""
    if not edging.crab:
        return []
    backwards = "from left to right" if hand == "right" else "from right to left"
    corner = "" if edging.edges_apart == 2 else f" and {IN_A_CRAB_CORNER} in each corner "
    corner += "" if not corner else "space" if edging.finish.corner_chains else "st"
    join = "" if edging.finish.border_along == "row ends" else "; join with a slip stitch"
    how = "ch 1, work sc backwards into the round below" if join else "ch 1, work sc backwards along the row below"
    return [_counted(f"Crab stitch: do not turn; {how}, {backwards}, 1 in each st{corner}{join}.", edging.crab)]


def _both_edges(edging: Edging, colour: str, hand: Hand) -> list[str]:
    """Write the rounds at the two edges of a piece in the round."""
    rounds = edging.rounds
    first = (
        f"Round 1: with the right side facing, join {colour} with a standing sc in the first stitch of the last round; "
        f"sc in each of the {number_of(edging.stitches, 'stitch')} around; join with a slip stitch."
    )
    said = [
        f"Edging of {number_of(len(rounds), 'round')} in {colour} at both edges: first at the last round.",
        _counted(first, rounds[0]),
    ]
    if len(rounds) > 1:
        which = "Round 2" if len(rounds) == 2 else f"Rounds 2 to {len(rounds)}"
        said.append(_counted(f"{which}: ch 1, sc in each st around; join with a slip stitch.", rounds[1]))
    return [
        *said,
        *_crab(edging, hand),
        "Fasten off. Turn the piece upside down and work the same rounds into the foundation, a stitch in each of its "
        f"{number_of(edging.stitches, 'stitch')}, with the right side facing. Weave in the tails of both.",
    ]


def _single(edging: Edging, colour: str, hand: Hand) -> list[str]:
    rounds, corner = edging.rounds, _CORNER_FIRST[edging.finish.border_corner]
    along = f"in each of the {number_of(edging.stitches, 'stitch')}"
    first = (
        f"Round 1: with the right side facing, join {colour} with a standing sc in the first stitch of the last row; "
        f"sc {along} across; along the row ends {pick_up_words(edging)}; sc {along} of the foundation; along the other "
        f"row ends the same. At each of the 4 corners work {corner}. Join with a slip stitch."
    )
    return [
        f"Border of {number_of(len(rounds), 'round')} in {colour}. {flat_words(edging)}".rstrip(),
        _counted(first, rounds[0]),
        *_later(edging),
        *_crab(edging, hand),
        "Fasten off and weave in both tails of the border.",
    ]


def _double(edging: Edging, colour: str, hand: Hand) -> list[str]:
    finish, rounds = edging.finish, edging.rounds
    along = f"each of the {number_of(edging.stitches, 'stitch')}"
    short = max(floor(2 * edging.depth_cm - 0.5) / 2, 0.5)
    border = f"Border of two layers of {number_of(len(rounds), 'round')} in {colour} that closes over the tails."
    first = (
        f"Back layer, round 1: with the wrong side facing, join {colour}; sc in the loop nearest you of {along} of the "
        f"last row; along the row ends work round the chain beside the edge {pick_up_words(edging)}; sc round the edge "
        f"of {along} of the foundation; along the other row ends the same. At each of the 4 corners "
        f"work {_CORNER_FIRST[finish.border_corner]}. Join with a slip stitch."
    )
    front = (
        "Front layer: with the right side facing, work the same rounds, again in the loop nearest you of the last row "
        f"and round the same chains at the edge. ({', '.join(f'{count:,}' for count in rounds)} sc)"
    )
    closing = (
        "Closing round: with the right side facing, ch 1, work sc through both layers at once, a stitch of each, with "
        f"{_CLOSING[finish.border_corner]} at each corner; join with a slip stitch."
    )
    return [
        f"{border} {flat_words(edging)}".rstrip(),
        f"Cut all tails to at most {_length(short)}, shorter than the border is deep.",
        _counted(first, rounds[0]),
        *(f"Back layer, {step[:1].lower()}{step[1:]}" for step in _later(edging)),
        "Fasten off the back layer and weave in its tails.",
        front,
        "Lay all tails between the two layers.",
        _counted(closing, edging.closing),
        *_crab(edging, hand),
        "Fasten off and weave in the tails of the front layer.",
    ]


_CLOSING = {"3 sc": "3 sc", "5 sc": "5 sc", "sc, ch 1, sc": "(sc, ch 1, sc)", "sc, ch 2, sc": "(sc, ch 2, sc)"}


def _row_ends(edging: Edging, colour: str, hand: Hand) -> list[str]:
    rounds = edging.rounds
    edge = f"Edging of {number_of(len(rounds), 'row')} in {colour} along both ends of the rows."
    first = (
        f"Row 1: with the right side facing, join {colour} at a corner with a standing sc and work along the row ends "
        f"{pick_up_words(edging)}."
    )
    said = [f"{edge} {flat_words(edging)}".rstrip(), _counted(first, rounds[0])]
    if len(rounds) > 1:
        which = "Row 2" if len(rounds) == 2 else f"Rows 2 to {len(rounds)}"
        said.append(_counted(f"{which}: turn, ch 1, sc in each st.", rounds[1]))
    return [*said, *_crab(edging, hand), "Fasten off, work the other side alike, and weave in the tails."]
