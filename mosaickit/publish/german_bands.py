"""What a page says of a piece made of bands, in German: the sentences, and what bands are called in them."""

from __future__ import annotations

import re

BAND = r"(?:[Bb]and|[Cc]olumn) [0-9]+(?:, .+?,)?"
"""What a band is called where its sentence goes on: "Band 2, wave,"."""
OWNER = r"Band [0-9]+(?:, .+?)?"
"""What it is called before a colon."""

_OF_COLUMNS = {
    "{band} begins a row higher, so that it keeps its colours.": "{band} beginnt eine Reihe höher und behält so die Farben.",
    "The colours of {band} are swapped, so that it begins on {role}.": "Bei {band} sind die Farben getauscht, damit der Anfang in {role} ist.",
    "{band} is laid {n} times up, to {n2} rows.": "{band} liegt {n}-mal übereinander, bis {n2} Reihen.",
    "{band} has {n} plain {row} below and {n2} above.": "{band} hat {n} einfarbige {row} darunter und {n2} darüber.",
}

BANDS: dict[str, str] = {
    "Bands": "Musterstreifen",
    "From the foundation up: {bands}.": "Vom Anschlag aus: {bands}.",
    "{row} {n} is plain and was put in, so that {band} begins on its colour.": "{row} {n} ist einfarbig und wurde eingefügt, damit {band} in der eigenen Farbe beginnt.",
    "{rows} {n} and {n2} are plain and were put in, so that {band} begins on its colour.": "{rows} {n} und {n2} sind einfarbig und wurden eingefügt, damit {band} in der eigenen Farbe beginnt.",
    "{row} {n} is plain and was put in, because {band} cannot be worked right on top of what is below it.": "{row} {n} ist einfarbig und wurde eingefügt, weil {band} nicht direkt auf das gehäkelt werden kann, was darunter liegt.",
    "{rows} {n} and {n2} are plain and were put in, because {band} cannot be worked right on top of what is below it.": "{rows} {n} und {n2} sind einfarbig und wurden eingefügt, weil {band} nicht direkt auf das gehäkelt werden kann, was darunter liegt.",
    "{band} has its colours swapped, so that it begins on the colour of its {row}.": "Bei {band} sind die Farben getauscht, damit der Anfang in der Farbe seiner {row} ist.",
    "{band} has {n} of {n2} stitches: {n3} plain at the right, {n4} at the left.": "{band} hat {n} von {n2} Maschen: {n3} einfarbige rechts, {n4} links.",
    "{band} is cut at its sides: {n} stitches of its repeats left out.": "{band} ist an den Seiten beschnitten: {n} Maschen der Rapporte fallen weg.",
    "{band} is cut at its sides: 1 stitch of its repeats left out.": "{band} ist an den Seiten beschnitten: 1 Masche der Rapporte fällt weg.",
    **{f"{{owner}}: {english}": f"{{owner}}: {german}" for english, german in _OF_COLUMNS.items()},
}
"""The sentences, with what they take over."""

_CALLED = {"band": "Musterstreifen", "column": "Spalte"}
_NAMED = re.compile(r"([Bb]and|[Cc]olumn) ([0-9]+)(?:, (.+?))?(,?)")
_WITH_ROWS = re.compile(r"(.+), (row|round)s? ([0-9]+)(?: to ([0-9]+))?", re.DOTALL)
_KINDS = (
    (r"the field of (.+)", "das Feld mit {0}"),
    (r"the field", "das Feld"),
    (r"a line of 1 row", "eine Linie aus 1 Reihe"),
    (r"a line of ([0-9]+) rows", "eine Linie aus {0} Reihen"),
    (r"a line of 1 row in MC", "eine Linie aus 1 Reihe in GF"),
    (r"a line of 1 row in CC", "eine Linie aus 1 Reihe in KF"),
    (r"a line of ([0-9]+) rows in MC", "eine Linie aus {0} Reihen in GF"),
    (r"a line of ([0-9]+) rows in CC", "eine Linie aus {0} Reihen in KF"),
    (r"1 plain row", "1 einfarbige Reihe"),
    (r"([0-9]+) plain rows", "{0} einfarbige Reihen"),
    (r"1 plain row put in", "1 eingefügte einfarbige Reihe"),
    (r"([0-9]+) plain rows put in", "{0} eingefügte einfarbige Reihen"),
)


def band_in_german(name: str) -> str:
    """Put what a band or column is called into German; the name of a motif stays.

    Examples
    --------
    >>> band_in_german("Band 2, wave,"), band_in_german("band 3, a line of 2 rows in CC,")
    ('Musterstreifen 2, wave,', 'Musterstreifen 3, eine Linie aus 2 Reihen in KF,')
    """
    named = _NAMED.fullmatch(name)
    if named is None:
        return _what(name)
    said = f"{_CALLED[named[1].lower()]} {named[2]}"
    return f"{said}, {_what(named[3])}{named[4]}" if named[3] else said


def bands_in_german(listed: str) -> str:
    """Put a list of bands with their rows into German.

    Examples
    --------
    >>> bands_in_german("band 1, wave, rows 1 to 3; 1 plain row put in, row 4")
    'Musterstreifen 1, wave, Reihen 1 bis 3; 1 eingefügte einfarbige Reihe, Reihe 4'
    """
    done = []
    for one in listed.split("; "):
        found = _WITH_ROWS.fullmatch(one)
        if found is None:  # a part of a name
            done.append(one)
            continue
        word = {"row": "Reihe", "round": "Runde"}[found[2]]
        rows = f"{word} {found[3]}" if found[4] is None else f"{word}n {found[3]} bis {found[4]}"
        done.append(f"{band_in_german(found[1])}, {rows}")
    return "; ".join(done)


def _what(said: str) -> str:
    for english, german in _KINDS:
        if found := re.fullmatch(english, said):
            return german.format(*found.groups())
    return said
