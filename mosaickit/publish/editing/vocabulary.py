"""The abbreviations that an editor knows: which words of rows and of sentences are some, and which are one.

The words are those of the Craft Yarn Council's list of crochet abbreviations, with the British ones of its table of US
and UK terms, and the stitches of overlay mosaic as this package names them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_BASES = "hdc|htr|dtr|sc|dc|tr"
_LOOPS = "BLO|FLO|BL|FL"
_STITCH = re.compile(
    rf"\b(?:(?:{_LOOPS})[ -]?(?:{_BASES})|(?:{_BASES})[ -]?(?:in )?(?:{_LOOPS})|tog[ -]?[bf])\b", re.IGNORECASE
)
# only ever abbreviations, also in sentences; those above are words of English too, or names
_ANYWHERE = "sc|dc|hdc|tr|htr|dtr|trtr|ch|chs|sts|sl st|rep|rnd|rnds|BLO|FLO|MC|CC|RS|WS|yo|yoh|tch|t-ch|fsc"
_IN_ROWS = f"{_ANYWHERE}|ss|pm|sm|st|sk|BL|FL|sp|sps|beg|bet|cont|foll|lp|lps|patt|prev|rem|alt|approx|inc|dec|tog"
_WORDS = {
    rows: re.compile(rf"(?<![\w-])(?:{words})(?![\w-])", 0 if not rows else re.IGNORECASE)
    for rows, words in ((True, _IN_ROWS), (False, _ANYWHERE))
}
_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"')


def canonical(word: str) -> str:
    """Give the one form of an abbreviation, however it is typed.

    Examples
    --------
    >>> canonical("BLsc"), canonical("sc in BLO"), canonical("Tog-B"), canonical("sts"), canonical("Rnds")
    ('blsc', 'blsc', 'togb', 'st', 'rnd')
    """
    short = word.strip().lower().replace("loop only", "loop").replace("back loop", "bl").replace("front loop", "fl")
    short = re.sub(r"[ -]|\bin\b", "", short)
    match = re.fullmatch(rf"({_BASES})(blo|flo|bl|fl)|(blo|flo|bl|fl)({_BASES})", short)
    if match:
        return f"{(match[2] or match[3])[:2]}{match[1] or match[4]}"
    if short in ("sts", "chs", "rnds", "sps", "lps"):
        return short[:-1]
    return {"blo": "bl", "flo": "fl"}.get(short, short)


def abbreviations_in(text: str, *, rows: bool) -> Iterator[str]:
    """Yield the abbreviations of a text as they are typed; what stands in quotes is a name.

    Parameters
    ----------
    text : str
        Rows, or sentences.
    rows : bool
        Whether it is rows, where a short word that is English elsewhere is an abbreviation too.

    Examples
    --------
    >>> list(abbreviations_in('change to "MC dc"; BLsc in next 2 sts', rows=True))
    ['BLsc', 'sts']
    """
    left = _QUOTED.sub(" ", text)
    for found in _STITCH.finditer(left):
        yield found.group()
    for found in _WORDS[rows].finditer(_STITCH.sub(" ", left)):
        yield found.group()


def needs_explaining(word: str) -> bool:
    """Whether an abbreviation is a stitch of this fabric that is no common one."""
    return bool(re.fullmatch(rf"(?:bl|fl)(?:{_BASES})|tog[bf]", canonical(word)))


def is_explained(word: str, explained: set[str]) -> bool:
    """Whether an abbreviation, or each of the two that it is put together from, is among those explained."""
    own = canonical(word)
    if own in explained:
        return True
    parts = re.fullmatch(rf"(bl|fl)({_BASES})", own)
    return bool(parts and re.search(r"[ -]", word.strip()) and set(parts.groups()) <= explained)
