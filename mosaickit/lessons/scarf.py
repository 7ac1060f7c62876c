"""Lesson 11: designing for a scarf.

The scenario: somebody who carries letters over the hills wants a scarf that is good to look at from both sides. One
repeat shows an envelope with its flap.
"""

from __future__ import annotations

from functools import cache

from mosaickit.gauge import Gauge
from mosaickit.lessons.answers import motif, whole, whole_numbers
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, own_mirror
from mosaickit.motif import BARE_STRAND, LARGEST_SIDE, LONGEST_BARE_RUN, Motif, check, repeat
from mosaickit.sizes import Layout, Surround, plan_widths
from mosaickit.yarn import Skein, YarnRates

LETTER = Motif.from_text(
    """
    ###########
    ...........
    .#########.
    .#.......#.
    .###...###.
    .#.#...#.#.
    .#.#####.#.
    .#.......#.
    .#########.
    ...........
    """,
    name="letter",
)
_GAUGE = Gauge(18, 20)
EDGES = 2
_EDGED = Surround(edges=EDGES)

# ---- the nearest width -------------------------------------------------------------------------------------

WIDTH_CM = 18.0


def _is_a_multiple(stitches: int) -> str | None:
    columns, beside = LETTER.shape[1], 2 * EDGES
    if not 0 < stitches <= LARGEST_SIDE:
        return f"A row has from 1 to {LARGEST_SIDE:,} stitches."
    if stitches > beside and (stitches - beside) % columns == 0:
        return None
    return (
        f"{stitches} stitches are no whole repeats: take away {EDGES} edge stitches at each side, and see how often "
        f"{columns} goes into the rest."
    )


@cache
def _nearest() -> int:
    return plan_widths(LETTER, _GAUGE, WIDTH_CM, surround=_EDGED, tolerance=1).nearest.stitches


def _is_nearest(stitches: int) -> str | None:
    if stitches == _nearest():
        return None
    which = "more" if stitches < _nearest() else "fewer"
    return f"{stitches * _GAUGE.stitch_width_cm:.1f} cm it would be; a count with {which} stitches comes nearer."


# ---- the yarn in the basket --------------------------------------------------------------------------------

WIDTHS_CM = (20.0, 27.0)
LENGTHS_CM = (140.0, 160.0)
_SKEIN = Skein(metres=130, grams=50)
SKEINS_EACH = 4


def _two_counts(counts: tuple[int, ...]) -> str | None:
    if len(counts) != 2:
        return f"Two numbers are asked for, repeats across and repeats up; you give {len(counts)}."
    if not all(0 < count <= LARGEST_SIDE for count in counts):
        return f"Both are counts from 1 to {LARGEST_SIDE:,}."
    return None


def _laid(counts: tuple[int, ...]) -> Layout:
    across, up = counts
    return Layout(LETTER, across=across, up=up, surround=_EDGED)


def _width_fits(counts: tuple[int, ...]) -> str | None:
    return _between("wide", _GAUGE.size_cm(*_laid(counts).shape)[0], WIDTHS_CM)


def _length_fits(counts: tuple[int, ...]) -> str | None:
    return _between("long", _GAUGE.size_cm(*_laid(counts).shape)[1], LENGTHS_CM)


def _between(what: str, cm: float, ends: tuple[float, float]) -> str | None:
    if ends[0] <= cm <= ends[1]:
        return None
    return f"It would be {cm:.1f} cm {what}; from {ends[0]:g} to {ends[1]:g} cm were asked for."


def _yarn_is_enough(counts: tuple[int, ...]) -> str | None:
    for total in _laid(counts).usage_at(YarnRates(_GAUGE), reversible=True).by_yarn:
        if total.high_m > SKEINS_EACH * _SKEIN.metres:
            likely = ", though what is likely would do" if total.likely_m <= SKEINS_EACH * _SKEIN.metres else ""
            return f"The {total.yarn.name} may run out: it may take as much as {total.high_m:.0f} m{likely}."
    return None


# ---- a repeat of your own ---------------------------------------------------------------------------------

ROWS, STITCHES = (6, 16), (5, 15)
MORE = (0.10, 0.20)


def _size_fits(made: Motif) -> str | None:
    for have, (least, most), what in zip(made.shape, (ROWS, STITCHES), ("rows", "stitches a row"), strict=True):
        if not least <= have <= most:
            return f"From {least} to {most} {what} were asked for; it has {have}."
    return None


def _not_the_letter(made: Motif) -> str | None:
    same = made.shape == LETTER.shape and bool((made.grid == LETTER.grid).all())
    return "This is the letter: paint something else." if same else None


def _rows_are_even(made: Motif) -> str | None:
    rows = made.shape[0]
    return f"{rows} rows are an odd number: the next repeat up would be on the other row colours." if rows % 2 else None


def _no_bare_strand(made: Motif) -> str | None:
    columns = made.shape[1]
    for found in check(repeat(made, across=3, up=2), rules=(BARE_STRAND,)).findings:
        count = found.last_stitch - found.stitch + 1
        across = (
            " across the join of two repeats"
            if (found.last_stitch - 1) // columns > (found.stitch - 1) // columns
            else ""
        )
        return f"Three repeats across, row {found.row} has {count} FLdc side by side{across}."
    return None


def _surcharge_fits(made: Motif) -> str | None:
    laid = Layout(made, across=3, up=max(1, 200 // made.shape[0]), surround=_EDGED)
    plain, closed = (laid.usage_at(YarnRates(_GAUGE), reversible=way).likely_m for way in (False, True))
    more = closed / plain - 1
    if MORE[0] <= more <= MORE[1]:
        return None
    which = "fewer" if more > MORE[1] else "more"
    return f"Reversible takes {more:.1%} more yarn than plain: {which} overlaid squares bring it into the bounds."


EXERCISES = (
    Exercise(
        "stitches for a width",
        whole,
        (
            AnswerPart("So many stitches are whole repeats and edges.", _is_a_multiple, needed=True),
            AnswerPart("No other count comes nearer to the width.", _is_nearest),
        ),
        {"motif": LETTER, "gauge": _GAUGE, "width_cm": WIDTH_CM, "edges": EDGES},
    ),
    Exercise(
        "a scarf that the basket is enough for",
        whole_numbers,
        (
            AnswerPart("Those are repeats across and repeats up.", _two_counts, needed=True),
            AnswerPart("The width is as asked for.", _width_fits),
            AnswerPart("The length is as asked for.", _length_fits),
            AnswerPart("The yarn is enough, even if the work takes much of it.", _yarn_is_enough),
        ),
        {
            "motif": LETTER,
            "gauge": _GAUGE,
            "edges": EDGES,
            "widths_cm": WIDTHS_CM,
            "lengths_cm": LENGTHS_CM,
            "skein": _SKEIN,
            "skeins_each": SKEINS_EACH,
        },
        "What is likely is the middle of a range: buy and plan for its upper end.",
    ),
    Exercise(
        "a repeat of your own",
        motif,
        (
            AnswerPart("It has a size that was asked for.", _size_fits, needed=True),
            AnswerPart("It is not the letter.", _not_the_letter),
            AnswerPart("It has an even number of rows, so one repeat can stand on another.", _rows_are_even),
            can_be_worked(),
            own_mirror(),
            AnswerPart(
                f"No more than {LONGEST_BARE_RUN} FLdc stand side by side, at the joins neither.",
                _no_bare_strand,
                applies=lambda made: bool(made.overlaid.any()),
            ),
            AnswerPart(f"Reversible takes from {MORE[0]:.0%} to {MORE[1]:.0%} more yarn than plain.", _surcharge_fits),
        ),
        _GAUGE,
    ),
)
