"""Photographs on the panel Share: files beside the workbook, taken into the design with what they show in words.

They are a decision like any other: a step of the journal that can be undone, and part of the design's file. The first
is the cover of the pattern.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

from mosaickit.errors import OptionError, text, whole_number
from mosaickit.files import small_photograph
from mosaickit.sizes import MOST_PHOTOGRAPHS, Design, Photograph
from mosaickit.widgets.book.panel import Book

ENDINGS = (".jpg", ".jpeg", ".png")
MOST_FILES_LISTED = 200
"""The most files that are offered."""

_SMALL_SIDE = 160


def photographs_view(book: Book) -> dict[str, Any]:
    """Give the photographs of the design, and the files that may become one."""
    return {
        "kept": [
            {
                "text": each.text,
                "caption": each.caption,
                "size": f"{each.size[0]} × {each.size[1]} pixels",
                "picture": _small(each),
            }
            for each in book.design.photographs
        ],
        "files": _files(book.folder),
        "most": MOST_PHOTOGRAPHS,
    }


@lru_cache(maxsize=4 * MOST_PHOTOGRAPHS)
def _small(photograph: Photograph) -> str:
    small = b64encode(small_photograph(photograph.data, _SMALL_SIDE)).decode("ascii")
    return f"data:image/jpeg;base64,{small}"


def _files(folder: Path) -> list[str]:
    try:
        names = (each.name for each in folder.iterdir() if each.suffix.lower() in ENDINGS and each.is_file())
        return sorted(names, key=str.lower)[:MOST_FILES_LISTED]
    except OSError:
        return []  # the folder is made with the first file that is saved


# ---- what is pressed ---------------------------------------------------------------------------------------


def _add(book: Book, values: dict[str, Any]) -> tuple[tuple[Photograph, ...], str]:
    name = text("file", values.get("file", ""))
    if not name:
        raise OptionError("Choose a file first: a PNG or JPEG picture in the folder of this workbook.")
    if Path(name).name != name:
        raise OptionError(f"A photograph is a file in the folder of this workbook; got {name!r}.")
    added = Photograph(book.folder / name, _words(values, "text"), _words(values, "caption"))
    return (*book.design.photographs, added), "add a photograph"


def _word(book: Book, values: dict[str, Any]) -> tuple[tuple[Photograph, ...], str]:
    kept, at = _at(book.design, values)
    kept[at] = Photograph(kept[at].data, _words(values, "text"), _words(values, "caption"))
    return tuple(kept), "words of a photograph"


def _lead(book: Book, values: dict[str, Any]) -> tuple[tuple[Photograph, ...], str]:
    kept, at = _at(book.design, values)
    return (kept.pop(at), *kept), "another cover"


def _drop(book: Book, values: dict[str, Any]) -> tuple[tuple[Photograph, ...], str]:
    kept, at = _at(book.design, values)
    del kept[at]
    return tuple(kept), "take a photograph out"


def _at(design: Design, values: dict[str, Any]) -> tuple[list[Photograph], int]:
    kept = list(design.photographs)
    if not kept:
        raise OptionError("The design has no photograph.")
    return kept, whole_number("photograph", values.get("at"), least=1, most=len(kept)) - 1


def _words(values: dict[str, Any], name: str) -> str:
    return text(name, values.get(name, "")).strip()


PHOTOGRAPH_DOES: dict[str, Callable[[Book, dict[str, Any]], tuple[tuple[Photograph, ...], str]]] = {
    "add_photograph": _add,
    "word_photograph": _word,
    "lead_photograph": _lead,
    "drop_photograph": _drop,
}
"""What can be pressed; each gives the photographs that the design has then, and what the step is called."""


def do_photograph(book: Book, name: str, values: dict[str, Any]) -> dict[str, Any]:
    """Take the step of a button of `PHOTOGRAPH_DOES`; nothing is changed if it cannot be taken."""
    photographs, label = PHOTOGRAPH_DOES[name](book, values)
    book.change(book.design.but(photographs=photographs), label)
    return {}
