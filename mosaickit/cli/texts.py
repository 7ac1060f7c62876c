"""Texts: a pattern or its rows, as .txt or .md."""

from __future__ import annotations

from pathlib import Path

from mosaickit.errors import FileError, OptionError
from mosaickit.files import file_name, read_whole


def read_named(file: Path) -> bytes:
    """Read a file, or raise `FileError` with its name."""
    try:
        return read_whole(file)
    except FileError as error:
        raise FileError(f"{file_name(file)}: {error}") from None


def read_text(file: Path, what: str = "Rows in words are read from a text that ends in .txt or .md") -> str:
    """Read a text; `what` begins the sentence that refuses a file with another ending."""
    if file.suffix.lower() not in (".txt", ".md"):
        raise OptionError(f"{what}; got {file.name!r}.")
    data = read_named(file)
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError:
        raise FileError(f"{file.name} is no UTF-8 text.") from None
