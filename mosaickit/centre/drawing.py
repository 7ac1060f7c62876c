"""The chart of rounds as SVG, for a notebook: symbols turned to their sides, and each round's number in its corner.

A corner square of round 2 or later has no symbol, as it is never an FLdc: there is room for the number of its round.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.centre.rings import join_line, quarter_turns
from mosaickit.fabric import Stitch
from mosaickit.orientation import Hand

MOST_ROUNDS_DRAWN = 60
"""A notebook shows at most this many rounds; the title of a larger square says that it is cut."""

LARGEST_SQUARE = 16.0
"""Pixels a square at most."""

EVERY = 5
"""A heavier line is drawn around every fifth round."""

_TYPE = 9.0
_ABOVE, _BESIDE = 18.0, 5.0
_GROUND, _TEXT, _GRID = "#ffffff", "#222222", "#7f7f7f"


def rounds_svg(
    stitches: NDArray[np.int64],
    index: NDArray[np.intp],
    colours: list[str],
    *,
    hand: Hand,
    title: str,
    whole: bool = False,
    unfilled: tuple[NDArray[np.bool_], NDArray[np.intp]] | None = None,
) -> str:
    """Draw a chart of rounds.

    Parameters
    ----------
    stitches : int array, (2n + 1, 2n + 1)
        The number of the stitch of each square, as seen.
    index : int array, (2n + 1, 2n + 1)
        Which of the colours each square shows.
    colours : list of str
        "#rrggbb".
    hand : "right" or "left"
        Which way the rounds run.
    title : str
        For a screen reader.
    whole : bool
        Whether all rounds are drawn, with squares of full size, however many there are.
    unfilled : (bool array, int array), optional
        Where nothing is to be filled: which squares show CC, (2n + 1, 2n + 1), whose regions are outlined; and for each
        of the colours the pattern of thin lines in place of it.
    """
    rounds = len(index) // 2
    if rounds > MOST_ROUNDS_DRAWN and not whole:
        middle = slice(rounds - MOST_ROUNDS_DRAWN, rounds + MOST_ROUNDS_DRAWN + 1)
        stitches, index = stitches[middle, middle], index[middle, middle]
        unfilled = None if unfilled is None else (unfilled[0][middle, middle], unfilled[1])
        title = f"{title} (shown: the first {MOST_ROUNDS_DRAWN} rounds)"
        rounds = MOST_ROUNDS_DRAWN
    outlines = ""
    if unfilled is None:
        ground, on = svg.squares(index, colours), (index, colours)
    else:
        ground = f'<rect width="{len(index)}" height="{len(index)}" fill="#ffffff"/>'
        ground, outlines = ground + svg.patterns_over(unfilled[1][index]), svg.borders(unfilled[0])
        on = np.zeros_like(index), ["#ffffff"]
    side = len(index)
    high = LARGEST_SQUARE if whole else min(LARGEST_SQUARE, svg.WIDEST / side)
    size = side * high
    body = f'<g transform="translate({_BESIDE:g} {_ABOVE:g}) scale({high:g})">{ground}{_lines(rounds)}{outlines}'
    body += f"{_symbols(stitches, *on, halo=unfilled is not None)}{_ring(on[1][on[0][rounds, rounds]], rounds)}"
    body += f"{_start(rounds, hand)}</g>{_numbers(*on, high)}{_arrow(rounds, high, hand)}"
    return svg.sheet(size + 2 * _BESIDE, size + _ABOVE + _BESIDE, body, title)


def _lines(rounds: int) -> str:
    """Draw the grid, in squares, with a heavier line round every fifth round."""
    side = 2 * rounds + 1
    fine = "".join(f"M0 {at}H{side}M{at} 0V{side}" for at in range(side + 1))
    heavy = "".join(
        f"M{rounds - number} {rounds - number}h{2 * number + 1}v{2 * number + 1}h{-2 * number - 1}z"
        for number in range(EVERY, rounds, EVERY)
    )
    paths = f'<path stroke-width="0.05" d="{fine}"/><path stroke-width="0.16" d="{heavy}"/>'
    return f'<g fill="none" stroke="{_GRID}">{paths}</g>'


def _symbols(stitches: NDArray[np.int64], index: NDArray[np.intp], colours: list[str], *, halo: bool) -> str:
    """Draw the symbols of each side, turned so that they stand with their feet towards the centre."""
    side = len(index)
    turned = quarter_turns(side // 2)
    drawn = ""
    for turns in range(4):
        here = np.where(turned == turns, stitches, Stitch.BLSC)
        upright = svg.symbols_over(np.rot90(here, -turns), np.rot90(index, -turns), colours, halo=halo)
        drawn += f'<g transform="rotate({-90 * turns} {side / 2:g} {side / 2:g})">{upright}</g>'
    return drawn


def _ring(colour: str, rounds: int) -> str:
    ink, middle = svg.ink_on(colour), rounds + 0.5
    return f'<circle cx="{middle:g}" cy="{middle:g}" r="0.27" fill="none" stroke="{ink}" stroke-width="0.09"/>'


def _start(rounds: int, hand: Hand) -> str:
    """Draw the line at which all rounds are joined, beside the first stitch of each."""
    at = join_line(rounds, hand)
    line = f"M{at} 0V{rounds}"
    return (
        f'<g fill="none"><path stroke="{_GROUND}" stroke-width="0.34" d="{line}"/>'
        f'<path stroke="{_TEXT}" stroke-width="0.16" d="{line}"/></g>'
    )


def _arrow(rounds: int, high: float, hand: Hand) -> str:
    at, words, anchor = (
        (rounds + 1, "← rounds start", "end") if hand == "right" else (rounds, "rounds start →", "start")
    )
    x = _BESIDE + at * high
    return f'<text x="{x:g}" y="{_ABOVE - 5:g}" text-anchor="{anchor}" fill="{_TEXT}">{words}</text>'


def _numbers(index: NDArray[np.intp], colours: list[str], high: float) -> str:
    """Write the numbers of rounds into their corner squares at the top right."""
    rounds = len(index) // 2
    drawn = ""
    step = svg.number_step(high, _TYPE + 3)
    for number in range(max(step, 2), rounds + 1, step):  # the corners of round 1 have symbols
        down, across = rounds - number, rounds + number
        x, y = _BESIDE + (across + 0.5) * high, _ABOVE + (down + 0.5) * high + 0.36 * _TYPE
        colour = colours[index[down, across]]
        halo = f'stroke="{colour}" stroke-width="2.5" paint-order="stroke"'
        drawn += f'<text x="{x:g}" y="{y:g}" text-anchor="middle" fill="{svg.ink_on(colour)}" {halo}>{number}</text>'
    return drawn
