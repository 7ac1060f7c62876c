"""The named sizes of a design, as they stand in a design document."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from mosaickit.files import FileForm, kept_as
from mosaickit.motif import LARGEST_SIDE
from mosaickit.sizes.designs.named import NamedSize
from mosaickit.sizes.designs.words_forms import same_fields, taken
from mosaickit.wording import MOST_SIZES

_Wanted = Annotated[str, Field(pattern=r"^[0-9]+(\.[0-9]+)? (cm|in)$", examples=["20 cm"])]


class NamedSizeForm(FileForm):
    """One of the sizes that the design comes in."""

    name: Annotated[str, Field(min_length=1, max_length=30)]
    across: Annotated[int | None, Field(ge=1, le=LARGEST_SIDE, description="How often the motif is laid along a row.")]
    up: Annotated[int | None, Field(ge=1, le=LARGEST_SIDE, description="How often it is laid upward.")]
    width: Annotated[_Wanted | None, Field(description="The wanted width, in place of a count.")]
    length: Annotated[_Wanted | None, Field(description="The wanted length, in place of a count.")]


KeptNamedSize = Annotated[
    NamedSize,
    kept_as(
        NamedSize,
        NamedSizeForm,
        lambda form: NamedSize(**taken(form)),
        lambda size: same_fields(NamedSizeForm, size),
    ),
]

KeptSizes = Annotated[list[KeptNamedSize], Field(max_length=MOST_SIZES, description="The smallest first.")]
