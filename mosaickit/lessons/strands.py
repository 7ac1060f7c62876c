"""Lesson 9: carried or cut.

The scenario: somebody who runs a small river ferry crochets bands for it, narrow ones and long ones. One repeat shows
the river's waves, and under some of them a carried strand would lie bare.
"""

from __future__ import annotations

from mosaickit.lessons.answers import motif, number, whole_numbers
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import can_be_worked, changes_at_most, of_size, own_mirror, this_number
from mosaickit.motif import BARE_STRAND, LONGEST_BARE_RUN, Finding, Motif, check
from mosaickit.yarn import YarnSettings, carry_or_cut_width_cm

RIVER = Motif.from_text(
    """
    ...................
    ##.....#####.....##
    ........###........
    ##....#######....##
    ......#######......
    #..#############..#
    ...######.######...
    #..######.######..#
    ...................
    """,
    name="river",
)

SHORT_TAILS = YarnSettings(tail_cm=10.0, ease=0.10)


def _bare(picture: Motif) -> tuple[Finding, ...]:
    """Find the runs of FLdc that leave a carried strand bare over too many stitches."""
    return check(picture, rules=(BARE_STRAND,)).findings


# ---- rows with a bare strand -------------------------------------------------------------------------------

_ROWS = {found.row for found in _bare(RIVER)}


def _none_wrong(named: tuple[int, ...]) -> str | None:
    if not all(1 <= row <= RIVER.shape[0] for row in named):
        return f"The river has rows 1 to {RIVER.shape[0]} and no others."
    wrong = [row for row in named if row not in _ROWS]
    return f"In row {wrong[0]} no more than {LONGEST_BARE_RUN} FLdc stand side by side." if wrong else None


def _none_left_out(named: tuple[int, ...]) -> str | None:
    left_out = sorted(_ROWS - set(named))
    if not left_out:
        return None
    half = RIVER.shape[0] // 2
    where = f"up to row {half}" if left_out[0] <= half else f"above row {half}"
    more = "One more row has" if len(left_out) == 1 else f"{len(left_out)} more rows have"
    one = "" if len(left_out) == 1 else "one of them "
    return f"{more} such a run, {one}{where}: an FLdc stands above every overlaid square of the row below."


# ---- a picture without them --------------------------------------------------------------------------------


def _no_bare_strand(made: Motif) -> str | None:
    for found in _bare(made):
        count = found.last_stitch - found.stitch + 1
        return f"Row {found.row}, stitches {found.stitch} to {found.last_stitch}: {count} FLdc stand side by side."
    return None


# one plain stitch breaks a run into two, so every five FLdc of a run need one
_FEWEST = sum((found.last_stitch - found.stitch + 1) // (LONGEST_BARE_RUN + 1) for found in _bare(RIVER))

EXERCISES = (
    Exercise(
        "rows that leave a strand bare",
        whole_numbers,
        (
            AnswerPart("Each row that you name has such a run.", _none_wrong, applies=bool),
            AnswerPart("No row is left out.", _none_left_out),
        ),
        RIVER,
        "An overlaid square is covered from the row above it, so the run stands one row higher than the squares.",
    ),
    Exercise(
        "where carrying and cutting meet",
        number,
        (
            this_number(
                carry_or_cut_width_cm(SHORT_TAILS),
                "At that width a strand and two tails are of one length.",
                off=0.1,
                low="In a row of that width two tails are still longer than the strand.",
                high="In a row of that width the strand is already longer than two tails: is its ease in it?",
            ),
        ),
        SHORT_TAILS,
        "Gauge and number of rows are not in it: only tails and ease.",
    ),
    Exercise(
        "a river that can be carried",
        motif,
        (
            of_size(*RIVER.shape),
            can_be_worked(),
            own_mirror(),
            AnswerPart(
                f"No more than {LONGEST_BARE_RUN} FLdc stand side by side.",
                _no_bare_strand,
                applies=lambda made: bool(made.overlaid.any()),
            ),
            changes_at_most(_FEWEST, RIVER),
        ),
        RIVER,
        "A square that takes its row's own colour is no longer overlaid, so this never makes a picture unworkable.",
    ),
)
