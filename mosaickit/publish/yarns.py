"""The yarns of a page: the letter of each, the colours it plays, and how much of it there must be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from mosaickit.colours import Yarn, Yarns, contrast, weakest_contrast
from mosaickit.orientation import Role
from mosaickit.publish.entries import Meeting, PageYarn
from mosaickit.yarn import YarnTotal


def yarn_letter(number: int) -> str:
    """Give the letter of a yarn by its number from 0; after Z come AA, AB and so on.

    Examples
    --------
    >>> yarn_letter(0), yarn_letter(25), yarn_letter(26)
    ('A', 'Z', 'AA')
    """
    more, last = divmod(number, 26)
    return (yarn_letter(more - 1) if more else "") + chr(ord("A") + last)


def page_yarns(
    totals: Iterable[YarnTotal], roles: Mapping[Yarn, tuple[Role, ...]], letters: Mapping[Yarn, str]
) -> tuple[PageYarn, ...]:
    """List the yarns of a page from what a piece takes of each, in its order."""
    return tuple(
        PageYarn(
            letter=letters[total.yarn],
            name=total.yarn.name,
            colour=total.yarn.colour,
            roles=roles[total.yarn],
            low_m=total.low_m,
            likely_m=total.likely_m,
            high_m=total.high_m,
            skeins=total.skeins,
            advice=total.advice,
            ball=total.skein,
            likely_skeins=total.likely_skeins,
        )
        for total in totals
    )


def meetings_of(yarns: Yarns, rows: int) -> tuple[Meeting, ...]:
    """Give each pair of yarns that meet, the first row or round in which they do, and their contrast."""
    found = []
    for row, mc, cc in yarns.meetings(rows):
        vision, weakest = weakest_contrast(mc.colour, cc.colour)
        found.append(Meeting(row, mc.name, cc.name, contrast(mc.colour, cc.colour), weakest, vision))
    return tuple(found)
