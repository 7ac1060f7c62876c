"""How the design of a square from the centre stands in a file, as ``square.schema.json`` beside this module says."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from mosaickit.centre import CentreOut
from mosaickit.errors import MosaickitError
from mosaickit.files import (
    WHAT_IT_IS,
    WHICH_VERSION,
    Document,
    FileForm,
    fault,
    published,
    read_document,
    written,
)
from mosaickit.orientation import Hand
from mosaickit.sizes.bands.forms import KeptMotif
from mosaickit.sizes.centred.square_design import CentreDesign
from mosaickit.sizes.designs.documents import (
    MOST_EDITIONS,
    EditionHead,
    KeptGauge,
    KeptYarnSettings,
    edition_forms,
    read_editions,
)
from mosaickit.sizes.designs.editions import Edition
from mosaickit.sizes.designs.photograph_forms import KeptPhotographs
from mosaickit.sizes.designs.publishing import USUAL_PUBLISHING
from mosaickit.sizes.designs.words import PatternWords
from mosaickit.sizes.designs.words_forms import KeptPublishing, KeptWords
from mosaickit.yarn import USUAL_YARN_SETTINGS


class SquareForm(FileForm):
    """All that was decided about one square from the centre."""

    motif: Annotated[KeptMotif, Field(description="The picture; its first colour is that of round 1.")]
    hand: Annotated[Hand, Field(description="Whose hand chart and words are for.")]
    gauge: Annotated[KeptGauge | None, Field(description="The size of a stitch, if it is known.")] = None
    yarn_settings: KeptYarnSettings = USUAL_YARN_SETTINGS
    hook_mm: Annotated[float | None, Field(gt=0, description="The diameter of the hook.")] = None
    words: KeptWords = Field(default_factory=PatternWords)
    publishing: KeptPublishing = USUAL_PUBLISHING
    photographs: KeptPhotographs = Field(default_factory=list)


class SquareEditionForm(EditionHead):
    """What the square was at some time."""

    design: SquareForm


class SquareDocument(SquareForm, Document):
    """A square worked from the centre, in rounds: all that was decided about it, and nothing that follows from it.

    The file is UTF-8 text; every value is named as in Python. What a schema cannot say is what it cannot say of a
    motif, and that the picture is as high as it is wide, an odd number of squares, 3 or more; its yarns change by
    rounds. Photographs are pictures of 8,000,000 bytes together, and editions are numbered from 1. Experimental: such
    squares were never tried on wool.
    """

    format: Annotated[Literal["mosaickit square"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    editions: Annotated[
        list[SquareEditionForm], Field(max_length=MOST_EDITIONS, description="What it was earlier.")
    ] = Field(default_factory=list)


def _decided(design: CentreDesign) -> dict[str, Any]:
    own = {name: getattr(design, name) for name in SquareForm.model_fields if name not in ("motif", "hand")}
    square = {"motif": design.square.motif, "hand": design.square.hand}
    return {**own, **square, "photographs": list(design.photographs)}


def square_to_json(design: CentreDesign) -> str:
    """Write the design of a square from the centre as a JSON document, one row of squares a line."""
    editions = edition_forms(design.editions, SquareEditionForm, lambda one: SquareForm(**_decided(one)))
    return written(SquareDocument(format="mosaickit square", version=1, **_decided(design), editions=editions))


def square_from_json(text: str) -> CentreDesign:
    """Read the design of a square from a JSON document, or raise `FileError` with the place of a fault."""
    document = read_document(SquareDocument, text)
    editions = read_editions(document.editions, lambda form, place: _square(form.design, place))
    return _square(document, (), editions)


def _square(
    form: SquareForm, place: tuple[str | int, ...], editions: tuple[Edition[CentreDesign], ...] = ()
) -> CentreDesign:
    rest = {name: getattr(form, name) for name in SquareForm.model_fields if name not in ("motif", "hand")}
    try:
        square = CentreOut(form.motif, form.hand)
    except MosaickitError as error:
        raise fault((*place, "motif"), str(error)) from None
    try:
        return CentreDesign(square, **rest, editions=editions)
    except MosaickitError as error:
        raise fault(place, str(error)) from None


def schema() -> str:
    """Give the text of ``square.schema.json``."""
    return published(SquareDocument)
