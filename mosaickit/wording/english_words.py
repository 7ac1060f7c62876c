"""What the reader knows of English, in US and in UK terms: its phrases and how its lines are told.

What `sc` or `dc` means depends on the terms, so a stitch word is known by its spelling first and given its meaning
later.
"""

from __future__ import annotations

from lark import Token

from mosaickit.wording.lexicon import MARKS, Lexicon, Spelled

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

_SHAPING: dict[str, tuple[str, ...]] = {
    "increase": ("inc", "incs", "increase", "increases", "increasing", "same", "two in one"),
    "group": ("shell", "cluster", "bobble", "popcorn", "picot", "puff", "fan", "v st", "v stitch"),
    "decrease": ("dec", "decs", "decrease", "decreases", "decreasing", "tog", "together", "invdec"),
    "skip": ("sk", "skip", "skips", "skipped", "skipping", "miss", "missed", "missing", "omit"),
    "space": ("sp", "sps", "space", "spaces"),
    "turn": ("turn", "turns", "turned", "turning"),
    "wrong side": ("WS", "wrong side"),
}
"""The words for what `shaping.MEANINGS` explains."""

# type, what it stands for, spellings
_TABLE: list[Spelled] = [
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
    *(("SHAPING", key, words) for key, words in _SHAPING.items()),
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


def _as_written(tokens: list[Token]) -> list[Token]:
    """Leave the order of the words, which is that of the grammar."""
    return tokens


ENGLISH_WORDS = Lexicon(
    tongues=("US", "UK"),
    noise=frozenset({"the", "of", "work", "a"}),  # but not "each", which tells places from stitches
    table=(
        *_TABLE,
        *(("STITCH", loop + base, _loop_forms(loop, base)) for loop in _LOOPS for base in _BASES if " " not in base),
    ),
    token_words=TOKEN_WORDS,
    run=r" in (?:next|last) (?:st|[0-9]{1,5} sts)",
    ordinal=r"[0-9]+(?:nd|rd|th)(?!\w)",
    fused=r"[0-9]+[tT][oO][gG]",
    in_order=_as_written,
    sides={"left": "left", "right": "right"},
    # in the words of `english`, which is what is written
    edge=r"starts? at (left|right)-hand edge",
    towards=r"worked towards (left|right)",
    handed=r"\bworked\b[^.:]{0,60}\b(left|right)-handed\b",
    last_row=r"after (?:row|rnd|round) ([0-9]+) cut all",
    differs=r"^\w+ .*\bdiffers? by size: ",
    for_size=r"^For size ([^,]+), (.*)$",
)
