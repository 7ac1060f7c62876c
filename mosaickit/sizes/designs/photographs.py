"""Photographs of a design: pictures of the worked piece, each with what it shows in words; the first is the cover."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from os import PathLike

from mosaickit import files
from mosaickit.errors import OptionError, each_of_kind
from mosaickit.sizes.designs.words import LONGEST_TITLE, check_prose

MOST_PHOTOGRAPHS = 12
"""No design and no page has more of them."""

MOST_PHOTOGRAPH_BYTES = 8_000_000
"""All photographs of a design together have no more bytes, so that its file can still be sent and opened."""


@dataclass(frozen=True)
class Photograph:
    """A photograph for a page, with what it shows in words.

    Parameters
    ----------
    picture : path, or bytes
        A PNG or JPEG file. It is kept as the bytes of a JPEG file, turned as the camera noted, no larger than print
        needs, and without the notes of the camera.
    text : str
        What it shows, for those who cannot see it.
    caption : str
        What stands below it; may be empty.

    Raises
    ------
    OptionError
        If there is no text, or it cannot be printed.
    FileError
        If the picture is no PNG or JPEG file, or cannot be read.
    """

    picture: str | PathLike[str] | bytes
    text: str
    caption: str = ""

    def __post_init__(self) -> None:
        check_prose("text", self.text, LONGEST_TITLE)
        check_prose("caption", self.caption, LONGEST_TITLE)
        if not self.text.strip():
            raise OptionError("`text` must say what a photograph shows, for those who cannot see it; got ''.")
        data, size = files.photograph_of(self.picture)
        object.__setattr__(self, "picture", data)
        object.__setattr__(self, "_size", size)

    def __repr__(self) -> str:
        width, height = self.size
        return f"<Photograph {width} × {height}, {self.text!r}>"

    @property
    def data(self) -> bytes:
        """The bytes of a JPEG file."""
        assert isinstance(self.picture, bytes)
        return self.picture

    @property
    def size(self) -> tuple[int, int]:
        """(width, height) in pixels."""
        size: tuple[int, int] = self.__dict__["_size"]
        return size


def checked_photographs(photographs: object) -> tuple[Photograph, ...]:
    """Take photographs over as a tuple; raises `OptionError` if they are none, or too many."""
    found = each_of_kind("photographs", photographs, Photograph)
    if len(found) > MOST_PHOTOGRAPHS:
        raise OptionError(f"`photographs` must be at most {MOST_PHOTOGRAPHS}; got {len(found)}.")
    return found


def check_bytes(photographs: Sequence[Photograph]) -> None:
    """Raise `OptionError` if photographs are too large together to stand in a design."""
    length = sum(len(each.data) for each in photographs)
    if length > MOST_PHOTOGRAPH_BYTES:
        raise OptionError(
            f"`photographs` of a design may have {MOST_PHOTOGRAPH_BYTES:,} bytes together; these have {length:,}: "
            "leave some out, or make the pictures smaller."
        )
