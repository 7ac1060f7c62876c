"""Lesson 8: yarn and a swatch.

The scenario: somebody who binds books crochets a reversible runner for the workbench. Whose hand worked the swatches
is invented here, as so many times the default lengths; everything else is calculated when an answer comes.
"""

from __future__ import annotations

from functools import cache

from mosaickit.fabric import Chart, Stitch, compile_chart, count_rows
from mosaickit.gauge import Gauge
from mosaickit.lessons.answers import chart, choice, named, number
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.lessons.parts import hook_works_it
from mosaickit.lessons.sentences import more_to_find
from mosaickit.motif import Motif, edge_stitches, repeat
from mosaickit.yarn import NINETY_PERCENT, Skein, Swatch, YarnSettings, calibrate, yarn_usage

BOOK = Motif.from_text(
    """
    ........
    .######.
    .#....#.
    .#.##.#.
    .#....#.
    .######.
    ........
    """,
    name="book with a clasp",
)
_GAUGE = Gauge(18, 20)
_SKEIN = Skein(metres=105, grams=50)

_LOOSER = 1.12
_PLAIN = Chart.from_text("\n".join(["." * 20] * 20))
_KINDS = {kind.abbreviation: kind for kind in Stitch}
_MOST_STITCHES = 400
_STEP_G = 1.0
"""What the kitchen scale shows."""


@cache
def weighed_swatch() -> Swatch:
    """Weigh a swatch without FLdc by a loose hand."""
    metres = _LOOSER * float(yarn_usage(_PLAIN, _GAUGE).total_m.sum())
    grams = float(round(metres / _SKEIN.metres * _SKEIN.grams))
    return Swatch(_PLAIN, _GAUGE, grams={"all": grams}, resolution=_STEP_G, yarn_settings=YarnSettings(skeins=_SKEIN))


def thought_of(made: Chart) -> Swatch:
    """Give a swatch that is only thought of, to be weighed on the same scale."""
    return Swatch(made, _GAUGE, resolution=_STEP_G * _SKEIN.metres / _SKEIN.grams)


@cache
def in_plain_fabric() -> Swatch:
    """Think of the front of the runner without its back."""
    return thought_of(compile_chart(repeat(BOOK, across=2, up=3, colours="swap")))


@cache
def runner() -> Swatch:
    """Plan the piece."""
    picture = edge_stitches(repeat(BOOK, across=6, up=25, colours="swap"), 2)
    return Swatch(compile_chart(picture, reversible=True), _GAUGE)


# ---- how many times as much --------------------------------------------------------------------------------


def _ratio() -> float:
    swatch = weighed_swatch()
    return swatch.measured["all"] / float(yarn_usage(swatch.chart, swatch.gauge).total_m.sum())


def _times_as_much(said: float) -> str | None:
    wanted = _ratio()
    if abs(said - wanted) <= 0.01:
        return None
    if abs(said - 1 / wanted) <= 0.01:
        return "That is the calculated amount over the measured one: the other way about is asked for."
    if abs(said - weighed_swatch().measured["all"]) <= 0.1:
        return "That is what the swatch took, in metres by the label: how many times the calculated amount is it?"
    size = "small" if said < wanted else "large"
    return f"That is too {size}: turn the grams into metres by the label, and hold them against the calculated metres."


# ---- what a swatch cannot tell -----------------------------------------------------------------------------


def _kinds(answer: object) -> frozenset[str]:
    """Read several kinds of stitches."""
    read = choice(*_KINDS)
    return frozenset(
        read(each) for each in named(answer, "The answer should be a list of kinds of stitches, as ['sc', 'BLsc']")
    )


def _is_there(kind: str) -> bool:
    return bool(count_rows(_FIRST).total[_KINDS[kind]])


def _none_is_there(kinds: frozenset[str]) -> str | None:
    there = sorted(kind for kind in kinds if _is_there(kind))
    return f"The swatch has stitches of this kind: {', '.join(there)}." if there else None


def _none_left_out(kinds: frozenset[str]) -> str | None:
    wanted = {kind for kind in _KINDS if not _is_there(kind)}
    found = wanted & kinds
    return more_to_find(len(wanted - found), found=len(found), wrong=bool(kinds - wanted))


# ---- the next swatch ---------------------------------------------------------------------------------------


def _doubt_after(swatch: Swatch) -> float:
    """Give the spread of the runner's yarn, once this swatch is weighed beside the first."""
    return calibrate([weighed_swatch()]).after(swatch).spread_of(runner())


def _small_enough(made: Chart) -> str | None:
    if made.stitches.size <= _MOST_STITCHES:
        return None
    return f"It has {made.stitches.size} stitches; a swatch of {_MOST_STITCHES} at most is asked for."


def _tells_more(made: Chart) -> str | None:
    after, most = (_doubt_after(swatch) for swatch in (thought_of(made), in_plain_fabric()))
    if after < most:
        return None
    return (
        f"After it the runner's yarn is known to {NINETY_PERCENT * after:.2%}, nine times in ten; the swatch in plain "
        f"fabric would leave {NINETY_PERCENT * most:.2%}, and yours should leave less."
    )


_FIRST = compile_chart(edge_stitches(BOOK))

EXERCISES = (
    Exercise(
        "how many times as much",
        number,
        (AnswerPart("So many times the calculated yarn went into the swatch.", _times_as_much),),
        weighed_swatch(),
    ),
    Exercise(
        "what a swatch cannot tell",
        _kinds,
        (
            AnswerPart("None that you name is in the swatch.", _none_is_there, applies=bool),
            AnswerPart("None is left out.", _none_left_out),
        ),
        _FIRST,
        "What is in no row was not measured: of these the swatch tells only what all stitches of a hand share.",
    ),
    Exercise(
        "the next swatch",
        chart,
        (
            AnswerPart("It is small enough.", _small_enough, needed=True),
            hook_works_it(),
            AnswerPart("It tells more of the runner than the swatch in plain fabric.", _tells_more),
        ),
        {"worked": weighed_swatch(), "in plain fabric": in_plain_fabric(), "runner": runner()},
        "It holds the stitches that the runner holds, and is large enough for the scale.",
    ),
)
