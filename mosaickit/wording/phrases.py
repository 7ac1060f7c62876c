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
equally long, and the plain style and other languages keep the same breaks, so one way to break a row serves them all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from mosaickit.fabric import Stitch
from mosaickit.wording.languages import book_of
from mosaickit.wording.phrasebook import NextOrLast
from mosaickit.wording.terms import STITCH_NAMES, STITCH_WORDS, Style, Tongue


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


def _run(run: Run, terms: Tongue, style: Style, where: NextOrLast = "next") -> str:
    short_style = style == "short"
    one, several = book_of(terms).places[not short_style][where]
    name = (STITCH_NAMES if short_style else STITCH_WORDS)[terms][run.stitch]
    return f"{name} {one if run.count == 1 else several.format(n=run.count)}"


def _short_inner(part: RowPart, terms: Tongue) -> str:
    if isinstance(part, Run):
        return _run(part, terms, "short")
    inner = ", ".join(_short_inner(one, terms) for one in part.parts)
    return book_of(terms).bracket.format(inner=inner, n=part.times)


def short(parts: tuple[RowPart, ...], terms: Tongue = "US") -> str:
    """Write a row's parts in the short style.

    Examples
    --------
    >>> parts = (Run(Stitch.BLSC, 4), Repeat((Run(Stitch.FLDC, 1), Run(Stitch.BLSC, 3)), 3), Run(Stitch.BLSC, 4))
    >>> short(parts)
    'BLsc in next 4 sts; *FLdc in next st, BLsc in next 3 sts; rep from * 2 more times; BLsc in last 4 sts'
    >>> short(parts[1:], "de")
    '*vMg-Stb in die nächste M, hMg-fM in die nächsten 3 M; von * noch 2-mal wiederholen; hMg-fM in die letzten 4 M'
    """
    text = ""
    stars = [isinstance(part, Repeat) and part.star for part in parts]
    for number, part in enumerate(parts):
        if number:
            text += "; " if stars[number] or stars[number - 1] else ", "
        if isinstance(part, Run):
            text += _run(part, terms, "short", "last" if number and number == len(parts) - 1 else "next")
        elif part.star:
            inner = ", ".join(_short_inner(one, terms) for one in part.parts)
            text += book_of(terms).star[part.times != 2].format(inner=inner, n=part.times - 1)
        else:
            text += _short_inner(part, terms)
    return text


def _plain_inner(part: RowPart, terms: Tongue, *, inside: bool = True) -> str:
    if isinstance(part, Run):
        return _run(part, terms, "plain words")
    book = book_of(terms)
    inner = book.then[0].join(_plain_inner(one, terms) for one in part.parts)
    return book.following.format(n=part.times, inner=inner, end=book.ends[not inside])


def plain(parts: tuple[RowPart, ...], terms: Tongue = "US") -> str:
    """Write a row's parts in words that a screen reader reads well: no mark but comma, colon and full stop.

    Examples
    --------
    >>> plain((Repeat((Run(Stitch.FLDC, 1), Run(Stitch.BLSC, 3)), 3), Run(Stitch.BLSC, 4)))
    'repeat the following 3 times in all: front loop double crochet in the next stitch, then back loop single crochet
    in the next 3 stitches, end of repeat. Then back loop single crochet in the last 4 stitches'
    """
    texts = [_plain_inner(part, terms, inside=False) for part in parts]
    if len(parts) > 1 and isinstance(parts[-1], Run):
        texts[-1] = _run(parts[-1], terms, "plain words", "last")
    return book_of(terms).then[1].join(texts)
