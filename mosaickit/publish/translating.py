"""A page in another language: its fixed sentences, and no word of its author, put into that language.

A page is written in English, whatever its rows are in. What is then set in type goes through a `Translator`, text by
text: a text that the author wrote stays, and one of ours is found in the table of the language (`german`), whole or
sentence by sentence. So there is one table of all fixed sentences, and no renderer knows of languages. A sentence that
the table does not have would stay English; `tests/test_page_german.py` looks at every text of every kind of page.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from html import escape, unescape
from typing import Any

from mosaickit.publish import german, german_bands, german_labels
from mosaickit.publish.contents import foot, paragraphs
from mosaickit.publish.page import Page
from mosaickit.wording import spoken

WHOLE = "\ue000"
"""Stands before a text whose short words with hyphens are to stay whole; no font shows it, and no page holds it."""

_ROW = r"[Rr](?:ow|ound)s?"
_ONE = r"[0-9](?:[0-9.,]*[0-9])?"
_NUMBER = rf"{_ONE}(?: \({_ONE}(?:, {_ONE})*\))?"
"""A number, or one for each size as "20.5 (24, 28.5)"."""
_ROLE = "(?:MC|CC)(?: and (?:MC|CC))?"
_SPAN = rf"{_NUMBER}(?: to {_NUMBER})?"
_SPANS = rf"{_SPAN}(?:(?:, | and ){_SPAN})*(?: and {_NUMBER} more stretch(?:es)?)?"
_SHAPES = {
    "n": _NUMBER,
    "row": _ROW,
    "rows": _ROW,
    "span": _SPANS,
    "nums": "[0-9][0-9,;… ]*",
    "letter": "[A-Z]+",
    "counts": r"[0-9][0-9,() ]*(?: and [0-9][0-9,() ]*)?",
    "sized": r"[^\n\r,;:()\[\]*\"']{1,30}?",  # as `check_size_name`
    "role": _ROLE,
    "band": german_bands.BAND,
    "owner": german_bands.OWNER,
}
"""What stands in braces by its name; all else is anything."""
_ALONE = re.compile(rf"{_NUMBER}")
_LONGEST = 4  # pieces that a sentence may look like
_TEXT = re.compile(r"(<(?:script|style)\b.*?</(?:script|style)>|<[^>]*>)", re.DOTALL)
_SAID = re.compile(r'(?<= )(aria-label|alt|content)="([^"]*)"')
_UNSAID = {"file", "fonts", "language", "region", "date"}
"""What of the data of a PDF is no text."""


def _pattern(sentence: str) -> re.Pattern[str]:
    pieces = re.split(r"\{(\w+)\}", sentence)
    found = ""
    for place, piece in enumerate(pieces):
        if place % 2 == 0:
            found += re.escape(piece)
            continue
        kind = re.sub(r"[0-9]+$", "", piece)
        found += f"(?P<{piece}>{_SHAPES.get(kind, '.+?')})"
    return re.compile(found, re.DOTALL)


class _Table:
    """The sentences of a language, and what they are found by."""

    def __init__(
        self, words: Mapping[str, str], sentences: Mapping[str, str], care: Mapping[str, str], before: Mapping[str, str]
    ) -> None:
        self.plain = {**words, **{one: other for one, other in sentences.items() if "{" not in one}}
        braced = {**{one: other for one, other in words.items() if "{" in one}, **sentences}
        # what stands in brackets stands after a comma where it differs by size
        braced |= {_opened(one): _opened(other) for one, other in braced.items()}
        longest = sorted((one for one in braced if "{" in one), key=lambda one: -len(re.sub(r"\{\w+\}", "", one)))
        self.braced = [(_pattern(one), braced[one]) for one in longest]
        self.care = [(_pattern(one), other) for one, other in care.items()]
        self.before = [(_pattern(one), other) for one, other in before.items()]


def _opened(sentence: str) -> str:
    """Put what stands in brackets after a comma, or after a sentence as one of its own; see `laid_over`."""
    sentence = re.sub(r"\. \(([^()]*\{[^()]*)\)", r". \1.", sentence)
    return re.sub(r" \(([^()]*\{n[0-9]*\}[^()]*)\)", r", \1", sentence)


_TABLES: dict[str, _Table] = {}


def _table(language: str) -> _Table:
    """Give the table of a language; German is the only one that there is."""
    if language not in _TABLES:
        _TABLES[language] = _Table(german.WORDS, german.SENTENCES, german_labels.CARED_FOR, german.BEFORE)
    return _TABLES[language]


class Translator:
    """Puts the texts of one page into its language.

    Attributes
    ----------
    needed : bool
        Whether that is another language than English, and one that there is a table for.
    """

    def __init__(self, page: Page) -> None:
        code = page.publishing.language.partition("-")[0]
        self.needed = code != "en" and spoken(code)
        if self.needed:
            self._table = _table(code)
            self._own = frozenset(_own_texts(page))
            sizes = "".join(f"|{re.escape(size.name)}: " for size in page.sizes)  # whose names may begin small
            self._sentences = re.compile(rf"(?<=[.!?]) (?=[A-Z]{sizes})")
            self._names = {yarn.name for yarn in page.yarns}
            self._known: dict[str, str] = {}

    # ---- a text ----------------------------------------------------------------------------------------

    def text(self, said: str) -> str:
        """Put a text into the language, if it is ours."""
        if not self.needed or not said or said in self._own:
            return said
        if said not in self._known:
            self._known[said] = self._put(said)
        return self._known[said]

    def label(self, sentence: str) -> str:
        """Put a text with braces into the language, which a script fills in."""
        return self._table.plain.get(sentence, sentence) if self.needed else sentence

    def _put(self, said: str) -> str:
        if said in self._table.plain:
            return self._table.plain[said]
        if " or " in said and self._names.issuperset(said.split(" or ")):
            return " oder ".join(said.split(" or "))
        if ":" in said[-1:] and said[:-1] not in self._own:
            inner = self._found(said[:-1])
            if inner is not None:
                return f"{inner}:"
        sentences = self._sentences.split(said)
        done: list[str] = []
        while sentences:
            many, put = self._first(sentences)
            done.append(put)
            sentences = sentences[many:]
        return " ".join(done)

    def _first(self, sentences: list[str]) -> tuple[int, str]:
        """Put the first of some sentences into the language: how many that are, and what they are in it."""
        runs = [" ".join(sentences[:many]) for many in range(1, len(sentences) + 1)]
        for many in range(len(runs), 0, -1):  # the longest run that is known word by word, as an author's paragraph
            run = runs[many - 1]
            if run in self._own or run in self._table.plain:
                return many, self._table.plain.get(run, run)
        # else the shortest that the table knows: the name of a yarn may look like the end of a sentence
        for many, run in enumerate(runs[:_LONGEST], 1):
            put = self._found(run)
            if put is not None:
                return many, put
        return 1, self._pieces(sentences[0])

    def _found(self, said: str) -> str | None:
        if said in self._table.plain:
            return self._table.plain[said]
        if _ALONE.fullmatch(said):
            return _number(said)
        for pattern, other in self._table.before:
            match = pattern.match(said)
            if match:
                put: str = other.format(**{name: self._taken(name, value) for name, value in match.groupdict().items()})
                return f"{put}{self._put(said[match.end() :])}"
        for pattern, other in self._table.braced:
            match = pattern.fullmatch(said)
            if match:
                return other.format(**{name: self._taken(name, value) for name, value in match.groupdict().items()})
        return None

    def _taken(self, name: str, value: str) -> str:
        kind = re.sub(r"[0-9]+$", "", name)
        if kind == "n":
            return _number(value)
        if kind == "names":
            return " oder ".join(value.split(" or ")) if " or " in value else " und ".join(self._split_names(value))
        if kind == "span":
            return (
                value.replace(" to ", " bis ")
                .replace(" and ", " und ")
                .replace("more stretches", "weitere Abschnitte")
                .replace("more stretch", "weiterer Abschnitt")
            )
        if kind == "counts":
            return re.sub(r"(?<=[0-9]),(?=[0-9])", ".", value.replace(" and ", " und "))
        if kind in ("band", "owner"):
            return german_bands.band_in_german(value)
        if kind == "bands":
            return german_bands.bands_in_german(value)
        if kind in ("row", "rows"):
            return self._table.plain[value]
        if kind in ("what", "role", "size", "said"):
            return self._list(value)
        return value

    def _split_names(self, value: str) -> list[str]:
        """Take the names of yarns apart that stand with "and" between them."""
        if value in self._names:
            return [value]
        for name in sorted(self._names, key=len, reverse=True):
            if value.startswith(f"{name} and "):
                return [name, *self._split_names(value[len(name) + len(" and ") :])]
        return [self._table.plain.get(value, value)]

    def _list(self, value: str) -> str:
        """Put a value into the language, or else its parts between commas."""
        if value in self._own:
            return value
        found = self._found(value)
        if found is not None:
            return found
        first, comma, rest = value.partition(", ")
        # the first part may hold a comma itself
        return f"{self._list(first)}, {self._list(rest)}" if comma else value

    def _pieces(self, sentence: str) -> str:
        """Put what stands between semicolons into the language: what a yarn is, and how it is cared for."""
        care = sentence.startswith("Care: ")
        stop = "." if sentence.endswith(".") else ""
        pieces = sentence.removeprefix("Care: ").removesuffix(".").split("; ")
        done = [piece if piece in self._own else self._cared(piece) or self._found(piece) or piece for piece in pieces]
        return f"{'Pflege: ' if care else ''}{'; '.join(done)}{stop}"

    def _cared(self, piece: str) -> str | None:
        for pattern, other in self._table.care:
            match = pattern.fullmatch(piece)
            if match:
                return other.format(**match.groupdict())
        return None

    # ---- what is set in type ---------------------------------------------------------------------------

    def markup(self, text: str, whole: Callable[[str], str] = escape) -> str:
        """Put the texts of HTML or SVG into the language; `whole` makes HTML of those that begin with `WHOLE`."""
        if not self.needed:
            return text
        return "".join(
            self._tag(piece) if place % 2 else self._between(piece, whole)
            for place, piece in enumerate(_TEXT.split(text))
        )

    def _tag(self, tag: str) -> str:
        if tag.startswith(("<script", "<style", "<meta http-equiv", '<meta name="viewport', '<meta name="color')):
            return tag
        return _SAID.sub(lambda said: f'{said[1]}="{escape(self.text(unescape(said[2])))}"', tag)

    def _between(self, piece: str, whole: Callable[[str], str]) -> str:
        said = piece.strip()
        if not said:
            return piece
        start = piece.index(said[0])
        kept = said.startswith(WHOLE)
        put = self.text(unescape(said.replace(WHOLE, "")))
        return piece[:start] + (whole(put) if kept else escape(put, quote=False)) + piece[start + len(said) :]

    def data(self, value: Any, name: str = "") -> Any:  # noqa: ANN401 — what JSON holds
        """Put the texts of the data of a PDF into the language."""
        if isinstance(value, str):
            return value if name in _UNSAID else self.text(value)
        if isinstance(value, Mapping):
            return {key: self.data(inner, key) for key, inner in value.items()}
        return [self.data(inner, name) for inner in value] if isinstance(value, list | tuple) else value

    def labels(self) -> dict[str, str]:
        """Give the headings that stand in the template of a PDF."""
        return dict(self._table.plain) if self.needed else {}


def translated(pictures: dict[str, bytes], translator: Translator) -> dict[str, bytes]:
    """Put the texts of pictures, files of SVG by their names, into the language of a page."""
    if not translator.needed:
        return pictures
    return {name: translator.markup(picture.decode()).encode() for name, picture in pictures.items()}


def _number(value: str) -> str:
    """Write a number with a decimal comma, or one for each size.

    Examples
    --------
    >>> _number("16.5"), _number("1,024"), _number("8 (16, 24)"), _number("16.5 (20.5, 24)")
    ('16,5', '1.024', '8 (16, 24)', '16,5 (20,5; 24)')
    """
    numbers: list[str] = [one.translate(str.maketrans(".,", ",.")) for one in re.findall(_ONE, value)]
    if len(numbers) < 2:
        return numbers[0]
    # a comma between numbers that have one is hard to tell from theirs
    between = "; " if any("," in one for one in numbers) else ", "
    return f"{numbers[0]} ({between.join(numbers[1:])})"


def _own_texts(page: Page) -> Iterator[str]:
    """List what the author of a page wrote, and the rows, which are in its language already."""
    written = (
        *(replace(words, finishing=()) for words in page.instructions),
        *(replace(words, finishing=()) for words in page.sized),
    )
    names = tuple(size.name for size in page.sizes)
    yield from _strings((page.title, page.designer, page.publishing, page.photographs, written, names))
    yield from _strings(tuple((yarn.name, yarn.colour) for yarn in page.yarns))
    yield foot(page)
    for prose in (page.intro, *page.notes, page.publishing.finishing, page.publishing.blocking):
        yield from paragraphs(prose)


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        if value:
            yield value
    elif isinstance(value, tuple):
        for inner in value:
            yield from _strings(inner)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in ("terms", "role", "roles", "language", *german_labels.CARED_STEPS):
                yield from _strings(getattr(value, field.name))
