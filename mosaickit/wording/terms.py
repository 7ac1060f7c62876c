"""The names of stitches and colours in every tongue that rows are written in.

English stitch names are those of the Craft Yarn Council's lists of abbreviations and of US and UK terms; the forms
fused with a loop (BLsc) and the two stitches worked together are defined by this package, as those lists have none.
German ones are put together in the same way from published abbreviations, whose sources stand in `languages`.
"""

from __future__ import annotations

import re
from typing import Literal

from mosaickit.fabric import Stitch
from mosaickit.orientation import Role

Terms = Literal["US", "UK"]
TERMS: tuple[Terms, ...] = ("US", "UK")

Tongue = Literal["US", "UK", "de"]
"""In whose words a text is: English in US or UK terms, or another language by its code."""

Style = Literal["short", "plain words"]
STYLES: tuple[Style, ...] = ("short", "plain words")

Phrasing = Literal["natural", "shortest"]
PHRASINGS: tuple[Phrasing, ...] = ("natural", "shortest")

STITCH_NAMES: dict[Tongue, tuple[str, ...]] = {
    "US": tuple(stitch.abbreviation for stitch in Stitch),
    "UK": ("dc", "BLdc", "FLtr", "tog-b", "tog-f"),
    "de": ("fM", "hMg-fM", "vMg-Stb", "fM-Stb-h", "fM-Stb-v"),
}
"""How each `Stitch` is abbreviated: US sc is UK dc, US dc is UK tr (Craft Yarn Council, table of US and UK terms)."""

STITCH_WORDS: dict[Tongue, tuple[str, ...]] = {
    "US": (
        "single crochet",
        "back loop single crochet",
        "front loop double crochet",
        "together stitch at the back",
        "together stitch at the front",
    ),
    "UK": (
        "double crochet",
        "back loop double crochet",
        "front loop treble",
        "together stitch at the back",
        "together stitch at the front",
    ),
    "de": (
        "feste Masche",
        "feste Masche hinten",
        "Stäbchen vorn",
        "feste Masche mit Stäbchen hinten",
        "feste Masche mit Stäbchen vorn",
    ),
}
"""Each `Stitch` in full."""

NATIONS: dict[Tongue, str] = {"US": "United States", "UK": "United Kingdom"}
ROLE_WORDS: dict[Role, str] = {"MC": "main colour", "CC": "contrasting colour"}
"""The two colours in full, as prose that `render` spells in the terms of a text."""

# the trade's words that differ beside the stitches: same table; "miss" stands in British manuals since 1846
_UK_WORDS = {
    "skip": "miss",
    "skipped": "missed",
    "yarn over": "yarn over hook",
    "gauge": "tension",
    "single crochet": "double crochet",
    "double crochet": "treble",
}


def render(text: str, terms: Tongue) -> str:
    """Put prose that is written in US terms and British spelling into the given terms and their spelling.

    Prose of another language than English is left as it is.

    Examples
    --------
    >>> render("Yarn over, skip the sc of that colour.", "UK")
    'Yarn over hook, miss the dc of that colour.'
    >>> render("Skip the sc of that colour.", "US")
    'Skip the sc of that color.'
    """
    if terms == "US":
        return re.sub(r"\b([Cc])olour", r"\1olor", text)
    if terms != "UK":
        return text
    words = {**_UK_WORDS, **dict(zip(STITCH_NAMES["US"], STITCH_NAMES["UK"], strict=True)), "dc": "tr"}
    words |= {us.capitalize(): uk.capitalize() for us, uk in _UK_WORDS.items()}
    longest_first = sorted(words, key=len, reverse=True)
    pattern = r"\b(?:" + "|".join(map(re.escape, longest_first)) + r")\b"
    return re.sub(pattern, lambda found: words[found.group()], text)


def meaning(word: str, terms: Tongue) -> Stitch | None:
    """Give the stitch that a stitch word means in the given terms, None if it is none of overlay mosaic."""
    names = STITCH_NAMES[terms]
    return Stitch(names.index(word)) if word in names else None
