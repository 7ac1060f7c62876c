"""Texts: a pattern or its rows, as .txt or .md."""

from __future__ import annotations

from pathlib import Path

from mosaickit.errors import FileError, OptionError
from mosaickit.files import read_whole


def read_text(file: Path, what: str = "Rows in words are read from a text that ends in .txt or .md") -> str:
    """Read a text, or refuse what is none; `what` begins the sentence about another ending."""
    if file.suffix.lower() not in (".txt", ".md"):
        raise OptionError(f"{what}; got {file.name!r}.")
    try:
        return read_whole(file).decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError:
        raise FileError(f"{file.name} is no UTF-8 text.") from None
