"""The parts of a written row, and how they are put in words.

The grammar of a written row, in the short style::

    row     = part, joined by ", ", or by "; " beside a star
    part    = run | bracket | "*" inner "; rep from * n more times"  (n from 1; "1 more time")
    inner   = run | bracket, joined by ", "
    bracket = "[" run, joined by ", " "] n times"                     (n in all, from 2)
    run     = stitch " in next st" | stitch " in next n sts"          ("last" for "next" at the end of a row)

So a star repeat may hold bracket repeats, and nothing nests deeper. `natural` breaks a row where a maker would; the
text that `shortening` finds has runs and stars beside each other only, as a bracket there is never shorter. The length
of a row is the number of characters of that text, without the row's label, full stop and count. US and UK names are
equally long, and the plain style keeps the same breaks, so one way to break a row serves them all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from mosaickit.fabric import Stitch
from mosaickit.wording.terms import STITCH_NAMES, STITCH_WORDS, Terms


@dataclass(frozen=True)
class Run:
    """So many neighbouring stitches of one kind."""

    stitch: Stitch
    count: int


@dataclass(frozen=True)
class Repeat:
    """Parts worked `times` times in all; without its `star`, as always inside another repeat, it stands in brackets."""

    parts: tuple[RowPart, ...]
    times: int
    star: bool = True


RowPart: TypeAlias = "Run | Repeat"


def stitches_of(parts: tuple[RowPart, ...]) -> list[Stitch]:
    """Write out the stitches that the parts stand for.

    Examples
    --------
    >>> [stitch.name for stitch in stitches_of((Repeat((Run(Stitch.FLDC, 1), Run(Stitch.BLSC, 2)), 2),))]
    ['FLDC', 'BLSC', 'BLSC', 'FLDC', 'BLSC', 'BLSC']
    """
    found: list[Stitch] = []
    for part in parts:
        found += [part.stitch] * part.count if isinstance(part, Run) else stitches_of(part.parts) * part.times
    return found


# ---- as text -----------------------------------------------------------------------------------------------


def _more(times: int) -> str:
    return "1 more time" if times == 2 else f"{times - 1} more times"


def _short_run(run: Run, terms: Terms, where: str = "next") -> str:
    sts = "st" if run.count == 1 else f"{run.count} sts"
    return f"{STITCH_NAMES[terms][run.stitch]} in {where} {sts}"


def _short_inner(part: RowPart, terms: Terms) -> str:
    if isinstance(part, Run):
        return _short_run(part, terms)
    return f"[{', '.join(_short_inner(inner, terms) for inner in part.parts)}] {part.times} times"


def short(parts: tuple[RowPart, ...], terms: Terms = "US") -> str:
    """Write a row's parts in the short style.

    Examples
    --------
    >>> short((Run(Stitch.BLSC, 4), Repeat((Run(Stitch.FLDC, 1), Run(Stitch.BLSC, 3)), 3), Run(Stitch.BLSC, 4)))
    'BLsc in next 4 sts; *FLdc in next st, BLsc in next 3 sts; rep from * 2 more times; BLsc in last 4 sts'
    """
    text = ""
    stars = [isinstance(part, Repeat) and part.star for part in parts]
    for number, part in enumerate(parts):
        if number:
            text += "; " if stars[number] or stars[number - 1] else ", "
        if isinstance(part, Run):
            text += _short_run(part, terms, "last" if number and number == len(parts) - 1 else "next")
        elif part.star:
            inner = ", ".join(_short_inner(one, terms) for one in part.parts)
            text += f"*{inner}; rep from * {_more(part.times)}"
        else:
            text += _short_inner(part, terms)
    return text


def _plain_run(run: Run, terms: Terms, where: str = "next") -> str:
    stitches = "stitch" if run.count == 1 else f"{run.count} stitches"
    return f"{STITCH_WORDS[terms][run.stitch]} in the {where} {stitches}"


def _plain_inner(part: RowPart, terms: Terms, end: str = "end of inner repeat") -> str:
    if isinstance(part, Run):
        return _plain_run(part, terms)
    inner = ", then ".join(_plain_inner(one, terms) for one in part.parts)
    return f"repeat the following {part.times} times in all: {inner}, {end}"


def plain(parts: tuple[RowPart, ...], terms: Terms = "US") -> str:
    """Write a row's parts in words that a screen reader reads well: no mark but comma, colon and full stop.

    Examples
    --------
    >>> plain((Repeat((Run(Stitch.FLDC, 1), Run(Stitch.BLSC, 3)), 3), Run(Stitch.BLSC, 4)))
    'repeat the following 3 times in all: front loop double crochet in the next stitch, then back loop single crochet
    in the next 3 stitches, end of repeat. Then back loop single crochet in the last 4 stitches'
    """
    texts = [_plain_inner(part, terms, "end of repeat") for part in parts]
    if len(parts) > 1 and isinstance(parts[-1], Run):
        texts[-1] = _plain_run(parts[-1], terms, "last")
    return ". Then ".join(texts)
