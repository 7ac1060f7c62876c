"""What every document has in common: its head, yarns, names, colours, squares, and the strictness of its reading.

A document is a `FileForm` whose fields say what a file may hold, each with its limits and what it means; the JSON
schema is made from the same fields. Where a value of ours stands in a field, such as `Yarns`, the field says in which
form it is kept, so a document is read into values and written from them. Nothing is bent to fit: no "1" or 1.0 or true
for 1.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Annotated, Any, TypeVar, get_args

import numpy as np
from numpy.typing import NDArray
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, GetPydanticSchema, ValidationError
from pydantic_core import core_schema

from mosaickit.colours import COLOUR, LONGEST_NAME, Yarn, Yarns, checked_name
from mosaickit.errors import FileError
from mosaickit.files.faults import as_file_error
from mosaickit.files.strict import parse
from mosaickit.motif import LARGEST_SIDE, Motif, parse_rows
from mosaickit.orientation import Role


class FileForm(BaseModel):
    """An object in a document: its keys, of which none is unknown.

    Fields are what JSON has: a list is a `list`, never a tuple. A `Literal` is one of texts; pydantic takes true and
    1.0 for a literal 1, so numbers have limits instead.
    """

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


WHAT_IT_IS = Field(description="What the file is.")
WHICH_VERSION = Field(
    description="The version of this description that the file follows. A reader refuses a version that it does not "
    "know."
)


class Document(FileForm):
    """What a file starts with; each kind of document has one text and one number there."""

    format: Annotated[str, WHAT_IT_IS]
    version: Annotated[int, Field(ge=1, le=10_000), WHICH_VERSION]


AnyForm = TypeVar("AnyForm", bound=FileForm)
AnyDocument = TypeVar("AnyDocument", bound=Document)


# ---- reading and writing -----------------------------------------------------------------------------------


def checked(form: type[AnyForm], told: object) -> AnyForm:
    """Read a form from what was parsed, or raise `FileError` with the place of a fault."""
    try:
        return form.model_validate(told)
    except ValidationError as error:
        raise as_file_error(error, form) from None


def read_document(form: type[AnyDocument], text: str) -> AnyDocument:
    """Read a document from JSON text, or raise `FileError`: first what it is, then its version, then the rest."""
    told = parse(text)
    kind, version = kind_of(form), version_of(form)
    if not isinstance(told, dict) or told.get("format") != kind:
        noun = kind.removeprefix("mosaickit ")
        raise FileError(f'This is no {noun}: expected an object with "format": "{kind}".')
    found = checked(Document, {key: told[key] for key in ("format", "version") if key in told}).version
    if found != version:
        raise FileError(
            f"This file is of version {found}; this mosaickit reads version {version}: save the file in that "
            "version, or read it with a newer mosaickit."
        )
    return checked(form, told)


def kind_of(form: type[Document]) -> str:
    """Give the text that says what a document is."""
    (kind,) = get_args(form.model_fields["format"].annotation)
    return str(kind)


def version_of(form: type[Document]) -> int:
    """Give the version of a document that is read and written."""
    (version,) = get_args(form.model_fields["version"].annotation)
    return int(version)


def written(document: Document) -> str:
    """Write a document as JSON text, one entry of a list a line, and so one row of squares."""
    return document.model_dump_json(indent=2) + "\n"


Value = TypeVar("Value")


def kept_as(
    kind: type[Value], form: object, read: Callable[[Any], Value], write: Callable[[Value], object]
) -> GetPydanticSchema:
    """Say in which form a value of ours is kept in a document.

    Parameters
    ----------
    kind : type
        The class of the value.
    form : type
        What a document holds: a `FileForm`, or a list, text or number with its limits.
    read : function
        Makes the value of what stands there; its errors are told with their place.
    write : function
        Makes what stands there of the value.

    Returns
    -------
    GetPydanticSchema
        To be put beside the class, ``Annotated[Yarns, kept_as(Yarns, YarnsForm, ...)]``.
    """

    def read_or_kept(value: object, check: Callable[[object], object]) -> Value:
        return value if isinstance(value, kind) else read(check(value))

    return GetPydanticSchema(
        lambda _, handler: core_schema.no_info_wrap_validator_function(
            read_or_kept,
            handler.generate_schema(form),
            serialization=core_schema.plain_serializer_function_ser_schema(write),
        )
    )


# ---- fields ------------------------------------------------------------------------------------------------

Name = Annotated[
    str,
    Field(max_length=LONGEST_NAME, description="What its maker calls it: one line, may be empty."),
    AfterValidator(partial(checked_name, "A name")),
]

Colour = Annotated[
    str,
    Field(pattern=COLOUR, examples=["#1f4e79"], description="Red, green and blue, two hexadecimal digits each."),
    AfterValidator(str.lower),
]

FirstColour = Annotated[
    Role,
    Field(
        description="The colour in which row 1, the bottom row, is worked; row colours alternate from there. MC is the "
        "main colour, CC the contrasting colour."
    ),
]


class YarnForm(FileForm):
    """A yarn of one colour, from a row on."""

    from_row: Annotated[
        int,
        Field(
            ge=1,
            le=LARGEST_SIDE,
            description="The row, counted from 1 at the bottom, from which on this yarn is used; 1 for the first yarn.",
        ),
    ]
    name: Name
    colour: Colour


YarnsOfColour = Annotated[
    list[YarnForm],
    Field(min_length=1, max_length=LARGEST_SIDE, description="One yarn throughout, or several, each from a row on."),
]


class YarnsForm(FileForm):
    """The yarns that play the two colours."""

    MC: YarnsOfColour
    CC: YarnsOfColour


def _read_yarns(form: YarnsForm) -> Yarns:
    mc, cc = ([(yarn.from_row, Yarn(yarn.name, yarn.colour)) for yarn in role] for role in (form.MC, form.CC))
    return Yarns(mc, cc)


def _write_yarns(yarns: Yarns) -> YarnsForm:
    mc, cc = (
        [YarnForm(from_row=row, name=yarn.name, colour=yarn.colour) for row, yarn in role]
        for role in (yarns.mc, yarns.cc)
    )
    return YarnsForm(MC=mc, CC=cc)


KeptYarns = Annotated[
    Yarns,
    kept_as(Yarns, YarnsForm, _read_yarns, _write_yarns),
    Field(description="The yarns that play the two colours. A reader chooses yarns of its own if there are none."),
]

# what is no square is told by row and column, so the pattern is for other readers
_Row = Annotated[str, Field(max_length=LARGEST_SIDE, json_schema_extra={"pattern": "^[.#]+$"})]


def _read_rows(rows: list[str]) -> NDArray[np.bool_]:
    return parse_rows(rows, line_number=lambda index: index + 1)


def _write_rows(grid: NDArray[np.bool_]) -> list[str]:
    return Motif(grid).to_text().split("\n")


KeptSquares = Annotated[
    NDArray[np.bool_],
    kept_as(np.ndarray, Annotated[list[_Row], Field(min_length=1, max_length=LARGEST_SIDE)], _read_rows, _write_rows),
    Field(
        description="The squares as seen: the top row first, each row from left to right; '.' shows the main colour, "
        "'#' the contrasting colour. A maker counts rows the other way round: row 1 is the last of this list."
    ),
]
