"""What the reader knows of German: its phrases, the order of its words, and how its lines are told."""

from __future__ import annotations

from lark import Token

from mosaickit.wording.lexicon import MARKS, Lexicon, Spelled

_NUMBERS = ("eins", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn", "elf", "zwölf")

_TO_END = ("bis zum Ende", "bis Ende")
_ENDS = tuple(f"{to}{of}" for to in _TO_END for of in ("", " der Reihe", " der Runde"))

_SHAPING: dict[str, tuple[str, ...]] = {
    "increase": ("Zun", "Zunahme", "Zunahmen", "zunehmen", "verdoppeln", "verdoppelt", "dieselbe", "gleiche", "selbe"),
    "group": ("Muschel", "Büschelmasche", "Noppe", "Popcornmasche", "Pikot", "Picot", "Fächer"),
    "decrease": (
        *("Abn", "Abnahme", "Abnahmen", "abnehmen", "zus", "zusammen", "abmaschen", "abgemascht"),
        *("zusammen abmaschen", "zusammen abgemascht", "zusammenhäkeln"),
    ),
    "skip": ("ausl", "auslassen", "ausgelassen", "überspringen", "übersprungen", "übergehen"),
    "space": ("Bogen", "Bögen", "Lm-Bogen", "Luftmaschenbogen"),
    "turn": ("wenden", "gewendet", "Wende"),
    "wrong side": ("Rückseite",),
}
"""The words for what `shaping.MEANINGS` explains."""

_BACK = ("feste Masche", "feste Maschen", "fM")
_FRONT = ("Stäbchen", "Stb")


def _in_loop(stitches: tuple[str, ...], loop: str) -> tuple[str, ...]:
    """List the ways to write a stitch in one loop: feste Masche nur in das hintere Maschenglied, fM hMg and so on."""
    full = f"{loop} Maschenglied"
    short = f"{loop[0]}Mg"
    places = (f"in {full}", f"nur in {full}", f"ins {full}", f"nur ins {full}", short, f"ins {short}", f"in {short}")
    return tuple(f"{stitch} {place}" for stitch in stitches for place in places)


# type, what it stands for, spellings
_TABLE: tuple[Spelled, ...] = (
    ("STITCH", "fM", _BACK),
    ("STITCH", "fM", ("Lm-fM", "feste Masche mit Luftmasche", "feste Maschen mit Luftmasche")),
    ("STITCH", "Stb", _FRONT),
    ("STITCH", "hStb", ("hStb", "halbes Stäbchen", "halbe Stäbchen")),
    ("STITCH", "DStb", ("DStb", "Doppelstäbchen")),
    ("STITCH", "Km", ("Km", "Kettmasche", "Kettmaschen")),
    ("STITCH", "hMg-fM", ("hMg-fM", "feste Masche hinten", "feste Maschen hinten", *_in_loop(_BACK, "hintere"))),
    ("STITCH", "vMg-Stb", ("vMg-Stb", "Stäbchen vorn", *_in_loop(_FRONT, "vordere"))),
    ("STITCH", "vMg-fM", ("vMg-fM", "feste Masche vorn", *_in_loop(_BACK, "vordere"))),
    ("STITCH", "hMg-Stb", ("hMg-Stb", "Stäbchen hinten", *_in_loop(_FRONT, "hintere"))),
    ("STITCH", "fM-Stb-h", ("fM-Stb-h", "feste Masche mit Stäbchen hinten")),
    ("STITCH", "fM-Stb-v", ("fM-Stb-v", "feste Masche mit Stäbchen vorn")),
    ("ROW", "row", ("Reihe", "Reihen", "R")),
    ("ROW", "round", ("Runde", "Runden", "Rd")),
    ("ROLE", "MC", ("GF", "Grundfarbe")),
    ("ROLE", "CC", ("KF", "Kontrastfarbe")),
    ("RS", "RS", ("Vorderseite",)),
    ("LANGUAGE", "de", ("Häkelanleitung auf Deutsch", "Anleitung auf Deutsch", "auf Deutsch")),
    ("NAME", "name", ("Titel", "Name")),
    ("WORKED", "worked", ("gearbeitet", "gehäkelt")),
    ("FLAT", "flat", ("in Reihen", "flach")),
    ("IN_THE_ROUND", "in the round", ("in Runden",)),
    ("HANDED", "right", ("rechtshändig",)),
    ("HANDED", "left", ("linkshändig",)),
    ("YARNS", "yarns", ("Garne", "Garn")),
    ("PROSE", "prose", ("Abkürzungen", "besondere Maschen", "Hinweise", "Hinweis")),
    ("FOUNDATION", "foundation", ("Anschlag", "Luftmaschenanschlag", "Luftmaschenkette")),
    ("CH", "ch", ("Lm", "Luftmasche")),
    ("CH", "chs", ("Luftmaschen",)),
    ("JOIN", "join", ("zur Runde schließen", "und zur Runde schließen")),
    ("ST", "st", ("M", "Masche")),
    ("ST", "sts", ("Maschen",)),
    ("EACH", "each", ("jede", "jeder", "jedes")),
    ("HOOK", "hook", ("Nadel", "Häkelnadel")),
    ("ORDINAL", "2", ("zweite", "zweiten")),
    ("CHANGE", "change to", ("Wechsel zu", "Farbwechsel zu")),
    ("MULTIPLE", "multiple", ("Vielfaches von",)),
    ("PLUS", "plus", ("plus",)),
    ("ADD", "add", ("dazu",)),
    ("FOR", "for", ("für",)),
    ("IN", "in", ("in", "ins")),
    ("NEXT", "next", ("nächste",)),
    ("NEXT", "next several", ("nächsten",)),
    ("LAST", "last", ("letzte",)),
    ("LAST", "last several", ("letzten",)),
    ("ACROSS", "across", _ENDS),
    ("FROM", "from", ("ab", "von")),
    ("TO", "to", ("bis", "bis zu")),
    ("WITH", "with", ("mit",)),
    ("REP", "rep", ("wiederholen", "wdh")),
    ("FOLLOWING", "repeat the following", ("Folgende", "Folgendes")),
    ("END_REPEAT", "end of repeat", ("Ende der Wiederholung", "Ende der inneren Wiederholung")),
    ("MORE", "more", ("noch", "weitere")),
    ("TIMES", "times", ("mal", "x")),
    ("TWICE", "1", ("einmal",)),
    ("TWICE", "2", ("zweimal",)),
    ("IN_ALL", "in all", ("insgesamt",)),
    ("_THEN", "then", ("dann",)),
    ("AND", "and", ("und",)),
    *(("SHAPING", key, words) for key, words in _SHAPING.items()),
    *(("NUMBER", str(number), (word,)) for number, word in enumerate(_NUMBERS, 1)),
)

_TOKEN_WORDS = {
    **{type_: f"'{mark}'" for mark, type_ in MARKS.items()},
    "STITCH": "a stitch",
    "NAME": "'Titel'",
    "LANGUAGE": "'Häkelanleitung auf Deutsch'",
    "WORKED": "'Gearbeitet'",
    "YARNS": "'Garne'",
    "FOUNDATION": "'Anschlag'",
    "ROW": "'Reihe'",
    "ROLE": "GF or KF",
    "RS": "'Vorderseite'",
    "NUMBER": "a number",
    "STRING": "a name in quotes",
    "COLOUR": "a colour as #1f4e79",
    "ST": "'M'",
    "CH": "'Lm'",
    "IN": "'in'",
    "NEXT": "'nächste'",
    "LAST": "'letzte'",
    "ACROSS": "'bis zum Ende'",
    "FROM": "'von'",
    "TO": "'bis'",
    "WITH": "'mit'",
    "REP": "'wiederholen'",
    "FOLLOWING": "'das Folgende'",
    "END_REPEAT": "'Ende der Wiederholung'",
    "MORE": "'noch'",
    "TIMES": "'mal'",
    "TWICE": "'zweimal'",
    "IN_ALL": "'insgesamt'",
    "AND": "'und'",
    "_THEN": "'dann'",
    "FLAT": "'in Reihen'",
    "IN_THE_ROUND": "'in Runden'",
    "HANDED": "'rechtshändig' or 'linkshändig'",
    "JOIN": "'zur Runde schließen'",
    "EACH": "'jede'",
    "HOOK": "'Nadel'",
    "ORDINAL": "'2.'",
    "CHANGE": "'Wechsel zu'",
    "MULTIPLE": "'Vielfaches von'",
    "PLUS": "'plus'",
    "ADD": "'dazu'",
    "FOR": "'für'",
    "_DASH": "'-'",
    "$END": "the end of the line",
}


# ---- the order of words ------------------------------------------------------------------------------------


def _in_order(tokens: list[Token]) -> list[Token]:
    """Put "von * noch 2-mal wiederholen" into the order of "rep from * 2 more times", and so on."""
    found: list[Token] = []
    for token in tokens:
        found.append(token)
        types = [one.type for one in found[-4:]]
        if types[-3:] == ["NUMBER", "_DASH", "TIMES"]:
            del found[-2]  # "2-mal" is "2 mal"
            types = [one.type for one in found[-4:]]
        if types[-3:] in (["MORE", "NUMBER", "TIMES"], ["IN_ALL", "NUMBER", "TIMES"]):
            found.append(found.pop(-3))
        elif types[-2:] == ["MORE", "TWICE"]:
            found.append(found.pop(-2))
        elif token.type in ("ST", "CH") and len(found) > 1 and found[-2].endswith("several"):
            # "in die nächsten M" does not say how many
            found[-1] = Token.new_borrow_pos(token.type, "sts" if token.type == "ST" else "chs", token)
        elif token.type == "CH" and types[-2:-1] == ["NUMBER"] and found[0].type in ("FOUNDATION", "WITH", "NUMBER"):
            found.append(found.pop(-2))  # "17 Lm anschlagen" is "ch 17"
        elif token.type == "REP":
            found.insert(_start_of_repeat(found), found.pop())
    return found


_HOW_OFTEN = {"NUMBER", "TIMES", "MORE", "TWICE", "IN_ALL", "ACROSS", "_COMMA"}


def _start_of_repeat(found: list[Token]) -> int:
    """Give where "wiederholen" would stand in the grammar: before "von *" or before the rows that come again."""
    at = len(found) - 1
    types = [token.type for token in found]
    while at and types[at - 1] in _HOW_OFTEN and types[at - 2] not in ("ROW", "_DASH", "TO", "AND"):
        at -= 1
    if types[max(at - 2, 0) : at] == ["FROM", "STAR"]:
        return at - 2
    for rows in (
        ["ROW", "NUMBER", "_DASH", "NUMBER"],
        ["ROW", "NUMBER", "TO", "NUMBER"],
        ["ROW", "NUMBER", "AND", "NUMBER"],
    ):
        if types[max(at - 4, 0) : at] == rows:
            return at - 4
    if types[max(at - 2, 0) : at] == ["ROW", "NUMBER"]:
        return at - 2
    return len(found) - 1


GERMAN_WORDS = Lexicon(
    tongues=("de",),
    noise=frozenset({"die", "der", "das", "den", "dem", "des", "häkeln", "arbeiten", "anschlagen"}),
    table=_TABLE,
    token_words=_TOKEN_WORDS,
    run=r" in die (?:nächste|letzte)(?:n [0-9]{1,5})? M",
    ordinal=r"[0-9]+\.(?=\s+(?:Lm|Luftmasche)\b)",
    fused=r"[0-9]+[zZ][uU][sS]\w*",
    in_order=_in_order,
    sides={"links": "left", "linken": "left", "rechts": "right", "rechten": "right"},
    # in the words of `german`, which is what is written
    edge=r"beginnt am (linken|rechten) Rand",
    towards=r"wird nach (links|rechts)",
    handed=r"\b(?:gearbeitet|gehäkelt)\b[^.:]{0,60}\b(links|rechts)händig\b",
    last_row=r"nach (?:Reihe|Runde) ([0-9]+) alle Fäden",
    differs=r"^\w+ .*\b(?:ist|sind) je nach Größe verschieden: ",
    for_size=r"^Für Größe ([^,]+), (.*)$",
)
