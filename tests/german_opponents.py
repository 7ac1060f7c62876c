"""German written rows put into English by a table of its own, for the second reader; no code of the package is used.

`in_english` knows what the writer writes and what people type in its place. What it does not know it leaves as it is,
so that the second reader refuses it.
"""

import re

_TIMES = r" ?[-–—]? ?(?:mal|x)\b"
_N = r"(\d+|eins|zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn|elf|zwölf)"
_NUMBERS = dict(
    zip(
        ["eins", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn", "elf", "zwölf"],
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"],
        strict=True,
    )
)

# in this order; what stands in quotes is passed over
_RULES = [
    (r"(?<![^\W\d_])(?:die|der|das|den|dem|des|häkeln|arbeiten|anschlagen)(?![^\W\d_])", " "),
    (r"  +", " "),
    (r"^\W*(?:(?:häkel)?anleitung )?auf deutsch\b", "Written in US terms"),
    (r"gearbeitet in reihen", "Worked flat"),
    (r"gearbeitet in runden", "Worked in the round"),
    (r"rechtshändig", "right-handed"),
    (r"linkshändig", "left-handed"),
    (r"^titel", "Name"),
    (r"^garne", "Yarns"),
    (r"^hinweise", "Notes"),
    # what remarks claim
    (r"beginnt am rechten rand", "starts at the right-hand edge"),
    (r"beginnt am linken rand", "starts at the left-hand edge"),
    (r"wird nach rechts", "is worked towards the right"),
    (r"wird nach links", "is worked towards the left"),
    (r"nach (?:reihe|runde) (\d+) alle fäden", r"After row \1 cut all yarn"),
    # stitches
    (r"fm ?-? ?stb ?-? ?h\b|feste masche mit stäbchen hinten", "tog-b"),
    (r"fm ?-? ?stb ?-? ?v\b|feste masche mit stäbchen vorn", "tog-f"),
    (r"hmg ?-? ?fm\b|(?:fm|feste masche) ?-? ?hmg\b|feste masche ?-? ?hinten\b", "BLsc"),
    (r"vmg ?-? ?stb\b|(?:stb|stäbchen) ?-? ?vmg\b|stäbchen ?-? ?vorn\b", "FLdc"),
    (r"vmg ?-? ?fm\b|hmg ?-? ?stb\b|feste masche vorn\b|stäbchen hinten\b|\bstb\b|\bstäbchen\b", "unknownstitch"),
    (r"\bfm\b|\bfeste maschen?\b", "sc"),
    (r"\bgf\b|\bgrundfarbe\b", "MC"),
    (r"\bkf\b|\bkontrastfarbe\b", "CC"),
    # order of words
    (rf"\binsgesamt {_N}{_TIMES}", r"\1 times in all"),
    (r"\bfolgendes?\b", "repeat the following"),
    (rf"\bnoch {_N}{_TIMES}", r"\1 more times"),
    (r"\bnoch einmal\b", "once more"),
    (r"\bnoch zweimal\b", "twice more"),
    (r"\beinmal\b", "once"),
    (r"\bzweimal\b", "twice"),
    (rf"{_N}{_TIMES}", r"\1 times"),
    (r"\bbis (?:zum )?ende(?: (?:reihe|runde))?\b", "to end"),
    (r"\b(?:von|ab) \*([^;:.*]*?)\bwiederholen\b", r"rep from *\1"),
    (r"\b(reihen?|runden?)( \d+(?: ?[-–—] ?\d+| bis \d+| und \d+)?)([^;:.*(]*?)\bwiederholen\b", r"rep \1\2,\3"),
    (r"\bende (?:inneren )?wiederholung\b", "end of repeat"),
    (r"\bin 2\. (?=lm|luftmasche)|\bin zweiten? ", "in 2nd "),
    (r"\b(?:ab|von) (?:häkel)?nadel\b", "from hook"),
    (r"\bvielfaches von\b", "Multiple of"),
    (r"\bdazu (\d+) für anschlag\b", r"add \1 for the foundation chain"),
    (r"\banschlag\b", "Foundation"),
    (r"^(\W*(?:Foundation\W+)?(?:with \w+,? )?|.*\bmit \w+,? )(\d+) (?:lm|luftmaschen?)\b", r"\1ch \2"),
    (r"(?:und )?zur runde schließen", "join"),
    (r"\bwechsel zu\b", "change to"),
    (r"\bab (reihe|runde) (\d+):", r"from row \2:"),
    # single words
    (r"\bnächsten (?=m\b|maschen?\b)", "next several "),
    (r"\bletzten (?=m\b|maschen?\b)", "last several "),
    (r"\bnächsten?\b", "next"),
    (r"\bletzten?\b", "last"),
    (r"\bjede[rs]?\b", "each"),
    (r"\bmaschen\b", "sts"),
    (r"\bmasche\b|\bm\b", "st"),
    (r"\bluftmaschen\b", "chs"),
    (r"\bluftmasche\b|\blm\b", "ch"),
    (r"\breihen?\b", "row"),
    (r"\brunden?\b", "round"),
    (r"\bins?\b", "in"),
    (r"\binsgesamt\b", "in all"),
    (r"\bdann\b", "then"),
    (r"\bund\b", "and"),
    (r"\bmit\b", "with"),
    (r"\bbis\b", "to"),
    (r"\b(?:ab|von)\b", "from"),
    (r"\bnoch\b", "more"),
    *((rf"\b{german}\b", english) for german, english in _NUMBERS.items()),
]


def in_english(text):
    return "\n".join(map(_line, text.split("\n")))


def _line(line):
    pieces = re.split(r'("(?:[^"\\]|\\.)*"?)', line)
    kept = [f'"{number}' for number in range(len(pieces) // 2)]
    said = "".join(kept[place // 2] if place % 2 else piece for place, piece in enumerate(pieces))
    for pattern, english in _RULES:
        said = re.sub(pattern, english, said, flags=re.IGNORECASE)
    for number, name in enumerate(pieces[1::2]):
        said = said.replace(f'"{number}', name, 1)
    return re.sub(r"  +", " ", said)
