"""What differs by size, set side by side: ``16 (24, 32)`` is a number for each size, the smallest first.

That way of writing is the trade's (facts of patterns in several sizes: the smallest stands outside the brackets, the
rest inside; a lone number holds for all; 0 is not worked, which is common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from mosaickit.errors import OptionError, text
from mosaickit.wording.english import ENGLISH
from mosaickit.wording.phrasebook import Phrasebook

MOST_SIZES = 12
"""More numbers side by side are hard to read."""

LITERAL = r'"(?:[^"\\]|\\.)*"|#[0-9a-fA-F]{6}'
"""A name in quotes or the code of a colour, whose digits are no numbers."""
NUMBER = r"\d+(?:-\d+| (?:to|bis) \d+)?"
NAMED_SIZES = re.compile(
    r"^[ \t]*(?:sizes?|größen?): *([^\n()]+?) *\(([^\n()]+)\)\.?[ \t]*$", re.MULTILINE | re.IGNORECASE
)
"""The line that names the sizes of a text."""
_PIECES = re.compile(f"({LITERAL}|{NUMBER})")


def in_series(values: Sequence[object]) -> str:
    """Set what differs by size side by side, and once what does not.

    Examples
    --------
    >>> in_series([16, 24, 32]), in_series(["S", "M"]), in_series([8, 8, 8])
    ('16 (24, 32)', 'S (M)', '8')
    """
    first, *others = map(str, values)
    return first if all(one == first for one in others) else f"{first} ({', '.join(others)})"


def merged(texts: Sequence[str], worked: Sequence[bool] | None = None, *, book: Phrasebook = ENGLISH) -> str | None:
    """Lay texts over each other that differ in numbers only; None if they differ in more.

    Parameters
    ----------
    texts : texts
        One for each size.
    worked : bools, optional
        For each size whether it has a text at all; where it has none, its numbers are 0.
    book : Phrasebook
        The words of their language.

    Examples
    --------
    >>> merged(["ch 17.", "ch 25."])
    'ch 17 (25).'
    >>> merged(["FLdc in next st", "FLdc in next 3 sts"])
    'FLdc in next 1 (3) sts'
    >>> merged(["BLsc in next st; rep from * 1 more time", "BLsc in next st; rep from * 2 more times"])
    'BLsc in next st; rep from * 1 (2) more times'
    """
    if len(set(texts)) == 1:
        return texts[0]
    cut = [_PIECES.split(one) for one in texts]
    if len({tuple(each[::2]) for each in cut}) > 1:
        cut = [_PIECES.split(_replaced(one, book.one_as_many)) for one in texts]
    if len({len(each) for each in cut}) > 1:
        return None
    pieces = []
    for place, same in enumerate(zip(*cut, strict=True)):
        if place % 2 and all(one[0].isdigit() for one in same):
            numbers = iter(same)
            alike = len(set(same)) == 1
            pieces.append(same[0] if alike else in_series([next(numbers) if one else "0" for one in worked or same]))
        elif len(set(same)) > 1:
            return None
        else:
            pieces.append(same[0])
    return _replaced("".join(pieces), book.many_as_one)


def _replaced(words: str, changes: Sequence[tuple[str, str]]) -> str:
    """Put a number where one stitch has none, so that texts differ in numbers only, or take it away again."""
    for pattern, other in changes:
        words = re.sub(pattern, other, words)
    return words


def check_size_name(name: object) -> None:
    """Raise `OptionError` unless a text can be the name of a size."""
    said = text("name of a size", name)
    if not re.fullmatch(r"[^\s,;:()\[\]*\"'](?:[^\n\r,;:()\[\]*\"']{0,28}[^\s,;:()\[\]*\"'])?", said):
        raise OptionError(
            "The name of a size must be 1 to 30 characters without commas, colons, brackets, stars and quotes; got "
            f"{said!r}."
        )
