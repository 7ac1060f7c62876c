"""The words of written rows: one table that the writer takes its words from and the reader knows them by.

Stitch names are those of the Craft Yarn Council's lists of abbreviations and of US and UK terms; the forms fused with
a loop (BLsc) and the two stitches worked together are defined by this package, as those lists have none. What
`sc` or `dc` means depends on the terms, so a stitch word is known by its spelling first and given its meaning later.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from mosaickit.fabric import Stitch
from mosaickit.orientation import Role

Terms = Literal["US", "UK"]
TERMS: tuple[Terms, ...] = ("US", "UK")

Style = Literal["short", "plain words"]
STYLES: tuple[Style, ...] = ("short", "plain words")

Phrasing = Literal["natural", "shortest"]
PHRASINGS: tuple[Phrasing, ...] = ("natural", "shortest")

STITCH_NAMES: dict[Terms, tuple[str, ...]] = {
    "US": tuple(stitch.abbreviation for stitch in Stitch),
    "UK": ("dc", "BLdc", "FLtr", "tog-b", "tog-f"),
}
"""How each `Stitch` is abbreviated: US sc is UK dc, US dc is UK tr (Craft Yarn Council, table of US and UK terms)."""

STITCH_WORDS: dict[Terms, tuple[str, ...]] = {
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
}
"""Each `Stitch` in full."""

NATIONS: dict[Terms, str] = {"US": "United States", "UK": "United Kingdom"}
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


def render(text: str, terms: Terms) -> str:
    """Put prose that is written in US terms and British spelling into the given terms and their spelling.

    Examples
    --------
    >>> render("Yarn over, skip the sc of that colour.", "UK")
    'Yarn over hook, miss the dc of that colour.'
    >>> render("Skip the sc of that colour.", "US")
    'Skip the sc of that color.'
    """
    if terms == "US":
        return re.sub(r"\b([Cc])olour", r"\1olor", text)
    words = {**_UK_WORDS, **dict(zip(STITCH_NAMES["US"], STITCH_NAMES["UK"], strict=True)), "dc": "tr"}
    words |= {us.capitalize(): uk.capitalize() for us, uk in _UK_WORDS.items()}
    longest_first = sorted(words, key=len, reverse=True)
    pattern = r"\b(?:" + "|".join(map(re.escape, longest_first)) + r")\b"
    return re.sub(pattern, lambda found: words[found.group()], text)


def meaning(word: str, terms: Terms) -> Stitch | None:
    """Give the stitch that a stitch word means in the given terms, None if it is none of overlay mosaic."""
    names = STITCH_NAMES[terms]
    return Stitch(names.index(word)) if word in names else None


# ---- the words that a reader knows -------------------------------------------------------------------------


@dataclass(frozen=True)
class Phrase:
    """Words that make one token of the grammar: its type and what it stands for."""

    words: tuple[str, ...]
    type: str
    value: str


NOISE = frozenset({"the", "of", "work", "a"})
"""Words that carry nothing: "in the next 4 sts" is "in next 4 sts". "Each" is none: it tells places from stitches."""

HYPHENED = frozenset({"STITCH", "HANDED", "SHAPING"})
"""Types of phrases that people join with hyphens: "BL-sc", "left-handed". A dash in another one parts its words."""

_LOOPS = {"BL": ("BL", "BLO", "back loop", "back loop only"), "FL": ("FL", "FLO", "front loop", "front loop only")}
_BASES = {
    "sc": ("sc", "single crochet"),
    "dc": ("dc", "double crochet"),
    "tr": ("tr", "treble", "treble crochet"),
    "hdc": ("hdc", "half double crochet"),
    "htr": ("htr", "half treble", "half treble crochet"),
    "sl st": ("sl st", "slst", "ss", "slip stitch"),
}
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")

_ENDS = ("across", "across row", "across round", "around", "to end", "to end of row", "to end of round")

SHAPING = {
    "increase": (
        ("inc", "incs", "increase", "increases", "increasing", "same", "two in one"),
        "works more than one stitch into one place",
    ),
    "group": (
        ("shell", "cluster", "bobble", "popcorn", "picot", "puff", "fan", "v st", "v stitch"),
        "is a group of stitches in one place",
    ),
    "decrease": (
        ("dec", "decs", "decrease", "decreases", "decreasing", "tog", "together", "invdec"),
        "works stitches together, so that there are fewer",
    ),
    "skip": (
        ("sk", "skip", "skips", "skipped", "skipping", "miss", "missed", "missing", "omit"),
        "leaves a stitch of the row below without one; what is behind an overlay stitch is skipped without a word",
    ),
    "space": (("sp", "sps", "space", "spaces"), "is a gap under chains, which has no stitch to work into"),
    "chain": ((), "makes chains within the row; a chain of 1 that starts a row is no stitch and stands under 'Notes:'"),
    "turn": (("turn", "turns", "turned", "turning"), "turns the work, but its right side faces you in every row"),
    "wrong side": (("WS", "wrong side"), "is the back of the work, but the right side faces you in every row"),
}
"""What changes the count across or turns the work, which nothing in this fabric does: its words and what they mean."""

# type, what it stands for, spellings
_TABLE: list[tuple[str, str, tuple[str, ...]]] = [
    *(("STITCH", base, words) for base, words in _BASES.items()),
    ("STITCH", "sc", ("foundation sc", "fsc", "foundation single crochet")),
    ("STITCH", "dc", ("foundation dc", "foundation double crochet")),  # in UK terms
    ("STITCH", "tog-b", ("tog-b", "togb", "tog back", "together stitch at the back")),
    ("STITCH", "tog-f", ("tog-f", "togf", "tog front", "together stitch at the front")),
    ("ROW", "row", ("row", "rows")),
    ("ROW", "round", ("rnd", "rnds", "round", "rounds")),
    ("ROLE", "MC", ("MC", "main colour", "main color")),
    (
        "ROLE",
        "CC",
        ("CC", "contrasting colour", "contrasting color", "contrast colour", "contrast color"),
    ),
    ("RS", "RS", ("RS", "right side")),
    ("NATION", "US", ("US", "USA", "American", "United States")),
    ("NATION", "UK", ("UK", "British", "United Kingdom")),
    ("TERMS", "terms", ("terms", "terminology")),
    ("WRITTEN", "written", ("written rows in", "written in", "written rounds in")),
    ("NAME", "name", ("name", "title")),
    ("WORKED", "worked", ("worked",)),
    ("FLAT", "flat", ("flat", "in rows")),
    ("IN_THE_ROUND", "in the round", ("in the round", "in rounds")),
    ("HANDED", "right", ("right-handed", "right-hander", "right-handers")),
    ("HANDED", "left", ("left-handed", "left-hander", "left-handers")),
    ("YARNS", "yarns", ("yarns", "yarn")),
    ("PROSE", "prose", ("abbreviations", "special stitches", "notes", "note")),
    ("FOUNDATION", "foundation", ("foundation", "foundation chain", "foundation ch")),
    ("CH", "ch", ("ch", "chain")),
    ("CH", "chs", ("chs", "chains")),
    ("JOIN", "join", ("join", "and join")),
    ("ST", "st", ("st", "stitch")),
    ("ST", "sts", ("sts", "stitches")),
    ("EACH", "each", ("each", "every")),
    ("HOOK", "hook", ("hook",)),
    ("ORDINAL", "2", ("second",)),
    ("CHANGE", "change to", ("change to",)),
    ("MULTIPLE", "multiple", ("multiple",)),
    ("PLUS", "plus", ("plus",)),
    ("ADD", "add", ("add",)),
    ("FOR", "for", ("for",)),
    ("IN", "in", ("in", "into")),
    ("NEXT", "next", ("next",)),
    ("LAST", "last", ("last",)),
    ("ACROSS", "across", _ENDS),
    ("FROM", "from", ("from",)),
    ("TO", "to", ("to",)),
    ("WITH", "with", ("with",)),
    ("REP", "rep", ("rep", "repeat")),
    ("FOLLOWING", "repeat the following", ("repeat the following", "rep the following")),
    ("END_REPEAT", "end of repeat", ("end of repeat", "end of inner repeat")),
    ("MORE", "more", ("more",)),
    ("TIMES", "times", ("times", "time", "x")),
    ("TWICE", "1", ("once",)),
    ("TWICE", "2", ("twice",)),
    ("IN_ALL", "in all", ("in all", "in total")),
    ("_THEN", "then", ("then",)),
    ("AND", "and", ("and",)),
    *(("SHAPING", key, words) for key, (words, _) in SHAPING.items()),
    *(("NUMBER", str(number), (word,)) for number, word in enumerate(_NUMBERS, 1)),
]


def _loop_forms(loop: str, base: str) -> tuple[str, ...]:
    """List the ways to write a stitch in one loop: BLsc, BL sc, scBLO, sc in back loop only and so on."""
    fused = [form for one in _LOOPS[loop][:2] for form in (one + base, base + one)]
    apart = [
        form
        for one in _LOOPS[loop]
        for word in _BASES[base]
        for form in (f"{one} {word}", f"{word} {one}", f"{word} in {one}")
    ]
    return (*fused, *apart)


def split_words(phrase: str) -> tuple[str, ...]:
    """Split a phrase as a reader sees it: lower case, at spaces and hyphens, without noise."""
    return tuple(word for word in phrase.lower().replace("-", " ").split() if word not in NOISE)


def _phrases() -> dict[str, tuple[Phrase, ...]]:
    loops = [("STITCH", loop + base, _loop_forms(loop, base)) for loop in _LOOPS for base in _BASES if " " not in base]
    found: dict[str, list[Phrase]] = {}
    for type_, value, spellings in [*_TABLE, *loops]:
        for spelling in spellings:
            words = split_words(spelling)
            found.setdefault(words[0], []).append(Phrase(words, type_, value))
    return {first: tuple(sorted(phrases, key=lambda phrase: -len(phrase.words))) for first, phrases in found.items()}


PHRASES: dict[str, tuple[Phrase, ...]] = _phrases()
"""All phrases by their first word, the longest first."""

MARKS = {
    "*": "STAR",
    "[": "LSQ",
    "]": "RSQ",
    "(": "LPAR",
    ")": "RPAR",
    "{": "LBRACE",
    "}": "RBRACE",
    ",": "_COMMA",
    ";": "_SEMI",
    ":": "_COLON",
    ".": "_DOT",
    "=": "_EQUALS",
    "×": "TIMES",
    **dict.fromkeys("-‐‑‒–—−", "_DASH"),
}
"""Punctuation marks: hyphens, dashes and the minus sign are one."""

TOKEN_WORDS = {
    **{type_: f"'{mark}'" for mark, type_ in MARKS.items()},
    "STITCH": "a stitch",
    "WRITTEN": "'Written in'",
    "NAME": "'Name'",
    "WORKED": "'Worked'",
    "YARNS": "'Yarns'",
    "FOUNDATION": "'Foundation'",
    "ROW": "'Row'",
    "ROLE": "MC or CC",
    "RS": "'RS'",
    "NATION": "US or UK",
    "TERMS": "'terms'",
    "NUMBER": "a number",
    "STRING": "a name in quotes",
    "COLOUR": "a colour as #1f4e79",
    "ST": "'sts'",
    "CH": "'ch'",
    "IN": "'in'",
    "NEXT": "'next'",
    "LAST": "'last'",
    "ACROSS": "'across'",
    "FROM": "'from'",
    "TO": "'to'",
    "WITH": "'with'",
    "REP": "'rep'",
    "FOLLOWING": "'repeat the following'",
    "END_REPEAT": "'end of repeat'",
    "MORE": "'more'",
    "TIMES": "'times'",
    "TWICE": "'twice'",
    "IN_ALL": "'in all'",
    "AND": "'and'",
    "_THEN": "'then'",
    "FLAT": "'flat'",
    "IN_THE_ROUND": "'in the round'",
    "HANDED": "'right-handed' or 'left-handed'",
    "JOIN": "'join'",
    "EACH": "'each'",
    "HOOK": "'hook'",
    "ORDINAL": "'2nd'",
    "CHANGE": "'change to'",
    "MULTIPLE": "'Multiple'",
    "PLUS": "'plus'",
    "ADD": "'add'",
    "FOR": "'for'",
    "_DASH": "'-'",
    "$END": "the end of the line",
}
"""What a fault calls a token that was expected."""
