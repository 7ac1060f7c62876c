"""Motif documents: JSON written and read, and the note in a PNG, which says the same without the squares.

The format is our own and open: ``motif.schema.json`` beside this module describes it for people and validators, and is
made from the models here. It is versioned, and a version that is not known is refused.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mosaickit.colours import Yarns
from mosaickit.errors import FileError, MotifError
from mosaickit.files.forms import (
    WHAT_IT_IS,
    WHICH_VERSION,
    Colour,
    Document,
    FileForm,
    FirstColour,
    KeptSquares,
    KeptYarns,
    Name,
    read_document,
    written,
)
from mosaickit.files.schemas import published
from mosaickit.motif import LARGEST_SIDE, Motif
from mosaickit.orientation import Role


class MotifForm(FileForm):
    """A motif, wherever it stands in a document."""

    name: Name = ""
    first: FirstColour
    rows: KeptSquares
    yarns: KeptYarns = Field(default_factory=Yarns)


class MotifDocument(MotifForm, Document):
    """A picture in two colours for overlay mosaic crochet.

    The file is UTF-8 text. What a schema cannot say: no key stands twice in an object; all rows are equally long;
    there are at most 16,000,000 squares; names are one line of printable characters; the rows from which yarns are
    used start at 1 and rise, and none lies above the picture's last row. Numbers are written without a decimal point.
    """

    format: Annotated[Literal["mosaickit motif"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]


class PixelColours(FileForm):
    """Which colour of the picture stands for MC and which for CC; never the same."""

    MC: Colour
    CC: Colour

    @model_validator(mode="after")
    def _differ(self) -> Self:
        if self.MC == self.CC:
            raise FileError("MC and CC must be different colours.")
        return self


class PngNote(Document):
    """What a saved PNG picture says of itself.

    It stands as JSON in ASCII characters in a tEXt chunk under the keyword 'mosaickit motif'. The squares are the
    picture's own pixels.
    """

    format: Annotated[Literal["mosaickit motif"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    name: Name = ""
    first: FirstColour
    yarns: KeptYarns = Field(default_factory=Yarns)
    square: Annotated[int, Field(ge=1, le=LARGEST_SIDE, description="The side of a square in pixels.")]
    pixels: PixelColours


def to_json(motif: Motif) -> str:
    """Write a motif as a JSON document, one row of the picture a line."""
    document = MotifDocument(
        format="mosaickit motif",
        version=1,
        name=motif.name,
        first=motif.first,
        rows=motif.grid,
        yarns=motif.yarns,
    )
    return written(document)


def from_json(text: str, first: Role | None) -> Motif:
    """Read a motif from a JSON document, or raise `FileError` with the place of a fault."""
    document = read_document(MotifDocument, text)
    check_first(first, document.first)
    return motif_of(document)


def motif_of(form: MotifForm) -> Motif:
    """Make the motif that a form describes, or raise `FileError`."""
    try:
        return Motif(form.rows, form.first, form.yarns, form.name)
    except MotifError as err:
        raise FileError(str(err)) from None


def check_first(first: Role | None, found: Role) -> None:
    """Refuse a `first` that contradicts what the file says."""
    if first is not None and first != found:
        raise FileError(f"The file says that row 1 is worked in {found}, but `first` says {first}: leave `first` out.")


def schema() -> str:
    """Give the text of ``motif.schema.json``."""
    return published(MotifDocument, PngNote)
