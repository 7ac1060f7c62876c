"""The photographs of a design, as they stand in a design document: inside it, in base64."""

from __future__ import annotations

import binascii
from base64 import b64decode, b64encode
from typing import Annotated

from pydantic import Field

from mosaickit.files import FileForm, kept_as
from mosaickit.sizes.designs.photographs import MOST_PHOTOGRAPH_BYTES, MOST_PHOTOGRAPHS, Photograph
from mosaickit.sizes.designs.words import LONGEST_TITLE


class PhotographForm(FileForm):
    """A photograph of the worked piece, and what it shows in words."""

    picture: Annotated[
        str,
        Field(
            min_length=4,
            max_length=4 * (MOST_PHOTOGRAPH_BYTES // 3 + 1),
            pattern="^[A-Za-z0-9+/]+={0,2}$",
            examples=["/9j/4AAQSkZJRg=="],
            description="The bytes of a JPEG or PNG file in base64.",
        ),
    ]
    text: Annotated[
        str, Field(min_length=1, max_length=LONGEST_TITLE, description="What it shows, for those who cannot see it.")
    ]
    caption: Annotated[str, Field(max_length=LONGEST_TITLE, description="What stands below it; may be empty.")] = ""


def _read(form: PhotographForm) -> Photograph:
    try:
        data = b64decode(form.picture, validate=True)
    except binascii.Error:
        raise ValueError("Expected the bytes of a JPEG or PNG file in base64.") from None
    return Photograph(data, form.text, form.caption)


def _write(photograph: Photograph) -> PhotographForm:
    picture = b64encode(photograph.data).decode("ascii")
    return PhotographForm(picture=picture, text=photograph.text, caption=photograph.caption)


KeptPhotographs = Annotated[
    list[Annotated[Photograph, kept_as(Photograph, PhotographForm, _read, _write)]],
    Field(max_length=MOST_PHOTOGRAPHS, description="Pictures of the worked piece; the first is the cover."),
]
