"""How the design of a square from the centre stands in a file, as ``square.schema.json`` beside this module says."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from mosaickit.centre import CentreOut
from mosaickit.errors import MosaickitError
from mosaickit.files import WHAT_IT_IS, WHICH_VERSION, Document, fault, published, read_document, written
from mosaickit.orientation import Hand
from mosaickit.sizes.bands.forms import KeptMotif
from mosaickit.sizes.centred.square_design import CentreDesign
from mosaickit.sizes.designs.documents import KeptGauge, KeptYarnSettings
from mosaickit.sizes.designs.words import PatternWords
from mosaickit.sizes.designs.words_forms import KeptWords
from mosaickit.yarn import USUAL_YARN_SETTINGS


class SquareDocument(Document):
    """A square worked from the centre, in rounds: all that was decided about it, and nothing that follows from it.

    The file is UTF-8 text; every value is named as in Python. What a schema cannot say is what it cannot say of a
    motif, and that the picture is as high as it is wide, an odd number of squares, 3 or more; its yarns change by
    rounds. Experimental: such squares were never tried on wool.
    """

    format: Annotated[Literal["mosaickit square"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    motif: Annotated[KeptMotif, Field(description="The picture; its first colour is that of round 1.")]
    hand: Annotated[Hand, Field(description="Whose hand chart and words are for.")]
    gauge: Annotated[KeptGauge | None, Field(description="The size of a stitch, if it is known.")] = None
    yarn_settings: KeptYarnSettings = USUAL_YARN_SETTINGS
    hook_mm: Annotated[float | None, Field(gt=0, description="The diameter of the hook.")] = None
    words: KeptWords = Field(default_factory=PatternWords)


def square_to_json(design: CentreDesign) -> str:
    """Write the design of a square from the centre as a JSON document, one row of squares a line."""
    return written(
        SquareDocument(
            format="mosaickit square",
            version=1,
            motif=design.square.motif,
            hand=design.square.hand,
            gauge=design.gauge,
            yarn_settings=design.yarn_settings,
            hook_mm=design.hook_mm,
            words=design.words,
        )
    )


def square_from_json(text: str) -> CentreDesign:
    """Read the design of a square from a JSON document, or raise `FileError` with the place of a fault."""
    form = read_document(SquareDocument, text)
    try:
        square = CentreOut(form.motif, form.hand)
    except MosaickitError as error:
        raise fault(("motif",), str(error)) from None
    return CentreDesign(square, form.gauge, yarn_settings=form.yarn_settings, hook_mm=form.hook_mm, words=form.words)


def schema() -> str:
    """Give the text of ``square.schema.json``."""
    return published(SquareDocument)
