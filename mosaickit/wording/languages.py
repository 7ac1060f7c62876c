"""Which languages rows are written in: those whose every term has a published source, and what the others lack.

A language is offered if each of the terms in `NEEDED` has a published word in it. A word that no one published is not
guessed: the language is left out, and `language="nl"` says which words are missing. French lacks two only, those for
the colours. Letters could stand for them in rows, but not in the sentences of a page, so French waits for its sources.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypedDict

from mosaickit.errors import OptionError, one_of, shortly
from mosaickit.wording.english import ENGLISH
from mosaickit.wording.german import GERMAN
from mosaickit.wording.phrasebook import Phrasebook
from mosaickit.wording.terms import TERMS, Terms, Tongue


class InTongue(TypedDict, total=False):
    """The arguments of a verb that ask for a tongue."""

    terms: Terms
    language: str


@dataclass(frozen=True)
class Published:
    """A term of the trade in another language: the word, its abbreviation if it has one, and who published it."""

    word: str
    short: str
    source: str


NEEDED: tuple[str, ...] = (
    "chain",
    "slip stitch",
    "single crochet",
    "double crochet",
    "back loop",
    "front loop",
    "skip",
    "repeat",
    "row",
    "round",
    "stitch",
    "main colour",
    "contrasting colour",
    "right side",
)
"""The terms that rows and their notes cannot do without."""

_STITCHES = "Die wichtigsten Häkelmaschen, craftery.de"
_CODES = "Häkelschrift, code-knacker.de"
_OVERLAY = "Mosaikhäkeln, stricktrick.ch"
_COLOURS = "Mosaik-Technik, knottenwolle.de"
_MANUAL = "Das Häkeln, forschung.tmw.at"
_TABLE = "Crochet terms, FrancophonIA; Crochet Terms Translation Chart"
_NL = "Kleding haken, rd.nl; Lussensteek, hethaakbeest.be; Haakschema lezen, hobbygigant.nl"
_FR = "Olaf, blogahistoires.over-blog.com; Spirale, agrafe.over-blog.com; Crochet mosaïque en rond, annettepetavy.com"
_ES = "5 puntos básicos, tejamossonrisas.es; Leer un patrón, elrincondemaryjoe.blogspot.com"
_DA = "Hæklet tæppe, abcdocz.com; Dansk-svensk ordlista, krollilja.blogspot.com"

PUBLISHED: Mapping[str, Mapping[str, Published]] = {
    "de": {
        "chain": Published("Luftmasche", "Lm", _STITCHES),
        "slip stitch": Published("Kettmasche", "Km", _STITCHES),
        "single crochet": Published("feste Masche", "fM", _STITCHES),
        "double crochet": Published("Stäbchen", "Stb", _STITCHES),
        "back loop": Published("hinteres Maschenglied", "", _OVERLAY),
        "front loop": Published("vorderes Maschenglied", "", _OVERLAY),
        "skip": Published("auslassen", "ausl", _CODES),
        "repeat": Published("von * wiederholen", "", _MANUAL),
        "row": Published("Reihe", "R", _COLOURS),
        "round": Published("Runde", "", _OVERLAY),
        "stitch": Published("Masche", "M", _CODES),
        "main colour": Published("Grundfarbe", "", _COLOURS),
        "contrasting colour": Published("Kontrastfarbe", "", _COLOURS),
        "right side": Published("Vorderseite", "", _OVERLAY),
    },
    "nl": {
        "chain": Published("losse", "l", _TABLE),
        "slip stitch": Published("halve vaste", "hv", _TABLE),
        "single crochet": Published("vaste", "v", _TABLE),
        "double crochet": Published("stokje", "stk", _TABLE),
        "back loop": Published("achterste lus", "", _NL),
        "skip": Published("overslaan", "", _NL),
        "repeat": Published("herhaal vanaf *", "", _NL),
        "row": Published("toer", "", _NL),
        "round": Published("toer", "", _NL),
        "stitch": Published("steek", "", _NL),
        "right side": Published("goede kant", "", _NL),
    },
    "fr": {
        "chain": Published("maille en l'air", "ml", _TABLE),
        "slip stitch": Published("maille coulée", "mc", _TABLE),
        "single crochet": Published("maille serrée", "ms", _TABLE),
        "double crochet": Published("bride", "B", _TABLE),
        "back loop": Published("brin arrière", "", "Brin arrière, imaginarium-de-pomme.com"),
        "front loop": Published("brin avant", "", _FR),
        "skip": Published("sauter", "", _FR),
        "repeat": Published("refaire de * à *", "", _FR),
        "row": Published("rang", "rg", _FR),
        "round": Published("tour", "", _FR),
        "stitch": Published("maille", "m", _FR),
        "right side": Published("endroit", "", _FR),
    },
    "es": {
        "chain": Published("cadeneta", "cad", _TABLE),
        "slip stitch": Published("punto raso", "pr", _ES),
        "single crochet": Published("punto bajo", "pb", _ES),
        "double crochet": Published("punto alto", "pa", _ES),
        "skip": Published("saltar", "", _ES),
        "repeat": Published("repetir desde *", "", _ES),
        "row": Published("vuelta", "", _ES),
        "round": Published("vuelta", "", _ES),
        "stitch": Published("punto", "", _ES),
    },
    "da": {
        "chain": Published("luftmaske", "lm", _TABLE),
        "slip stitch": Published("kædemaske", "km", _TABLE),
        "single crochet": Published("fastmaske", "fm", _TABLE),
        "double crochet": Published("stangmaske", "stm", _TABLE),
        "skip": Published("spring over", "", _DA),
        "repeat": Published("gentag", "", _DA),
        "row": Published("række", "rk", _DA),
        "round": Published("omgang", "omg", _DA),
        "stitch": Published("maske", "m", _DA),
        "main colour": Published("bundfarve", "bundfv", _DA),
    },
}
"""The published words of other languages, each with who published it."""

LANGUAGE_NAMES: Mapping[str, str] = {
    "en": "English",
    "de": "German",
    "nl": "Dutch",
    "fr": "French",
    "es": "Spanish",
    "da": "Danish",
}
"""What the languages are called that are offered or were looked into."""


def missing(language: str) -> tuple[str, ...]:
    """Give the terms that have no published word in a language, in English; none in English itself."""
    if language == "en":
        return ()
    return tuple(term for term in NEEDED if term not in PUBLISHED.get(language, {}))


LANGUAGES: tuple[str, ...] = tuple(language for language in LANGUAGE_NAMES if not missing(language))
"""The languages that rows are written in, by their codes."""

_BOOKS: Mapping[Tongue, Phrasebook] = {"US": ENGLISH, "UK": ENGLISH, "de": GERMAN}


def book_of(tongue: Tongue) -> Phrasebook:
    """Give the words and sentences of a tongue."""
    return _BOOKS[tongue]


def spoken(language: str) -> bool:
    """Whether rows are written in the language of a code as "de" or "de-AT"."""
    return language.partition("-")[0] in LANGUAGES


def tongue_of(terms: Terms | None, language: str | None, *, name: str = "language") -> Tongue:
    """Settle in whose words a text is: in English in the terms given, or in another language.

    Parameters
    ----------
    terms : "US" or "UK", optional
        The terms of English rows; US terms if left out.
    language : str, optional
        The language by its code, as "de", "en-GB" or "de-AT"; English if left out.
    name : str
        What the argument of the language is called.

    Raises
    ------
    OptionError
        If there is no such language, if words of it have no published source, or if it has no US and UK terms.
    """
    if terms is not None:
        one_of("terms", terms, TERMS)
    said = "en" if language is None else language
    code = said.partition("-")[0] if isinstance(said, str) else ""
    offered = " or ".join(f"{one!r} ({LANGUAGE_NAMES[one]})" for one in LANGUAGES)
    if code not in LANGUAGE_NAMES:
        raise OptionError(f"`{name}` must be {offered}; got {shortly(said)}.")
    lacking = missing(code)
    if lacking:
        words = f"{', '.join(lacking[:-1])} and {lacking[-1]}" if len(lacking) > 1 else lacking[0]
        raise OptionError(
            f"Rows cannot be written in {LANGUAGE_NAMES[code]}: no published source was found for its words for "
            f"{words}. `{name}` can be {offered}."
        )
    if code == "en":
        return terms or "US"
    if terms is not None:
        raise OptionError(
            f"`terms` are those of English rows, and {LANGUAGE_NAMES[code]} has one set of terms; got terms={terms!r} "
            f"with {name}={said!r}. Leave out one of the two."
        )
    return "de"


def told_tongue(terms: Terms | None, language: str | None) -> Tongue | None:
    """Settle what a reader was told of a text's words; None if nothing, or that it is English in either terms.

    Raises
    ------
    OptionError
        As `tongue_of`.
    """
    english = isinstance(language, str) and language.partition("-")[0] == "en"
    return None if terms is None and (language is None or english) else tongue_of(terms, language)


def tongue_of_page(terms: Terms | None, language: str) -> Tongue:
    """Settle in whose words the rows of a page are: those of its language, or English in the terms given.

    A language that rows are not written in has English ones; one that is not English has one set of terms.
    """
    another = spoken(language) and not language.startswith("en")
    return tongue_of(None, language) if another else tongue_of(terms, "en")


def row_name(tongue: Tongue, *, in_the_round: bool) -> str:
    """Name a row, or a round, in full."""
    return book_of(tongue).rows(in_the_round=in_the_round, style="plain words")[0]


def in_tongue(tongue: Tongue) -> InTongue:
    """Give the arguments of `write_rows` that ask for a tongue."""
    return {"terms": tongue} if tongue != "de" else {"language": "de"}


def terms_or_language(tongue: Tongue) -> str:
    """Name the terms, or the language, of a text."""
    return f"{tongue} terms" if tongue != "de" else LANGUAGE_NAMES["de"]
