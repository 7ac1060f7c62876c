"""What a pattern says, as it stands in a design document: its words, and what it has to be sold."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from typing import Annotated, Any, TypeVar

from pydantic import Field

from mosaickit.files import FileForm, Name, kept_as
from mosaickit.fixed import FixedMapping
from mosaickit.sizes.designs.publishing import (
    CARE,
    LONGEST_FOOT_LINE,
    MOST_LABELS,
    MOST_NOTIONS,
    Publishing,
    YarnLabel,
)
from mosaickit.sizes.designs.words import LONGEST_NOTE, LONGEST_TITLE, MOST_NOTES, PatternWords, ProjectLevel
from mosaickit.wording import Phrasing, Terms

OneForm = TypeVar("OneForm", bound=FileForm)


def same_fields(form: type[OneForm], value: object) -> OneForm:
    """Write the fields of a value that are called as those of its form."""
    said = {name: getattr(value, name) for name in form.model_fields}
    # a form holds plain dicts
    return form(**{name: dict(part) if isinstance(part, FixedMapping) else part for name, part in said.items()})


def taken(form: FileForm) -> dict[str, Any]:
    """Give the fields of a form by their names."""
    return {name: getattr(form, name) for name in type(form).model_fields}


class WordsForm(FileForm):
    """What the pattern says in its designer's own words."""

    title: Annotated[str, Field(max_length=LONGEST_TITLE)]
    designer: Annotated[str, Field(max_length=LONGEST_TITLE, description="Who designed it.")]
    terms: Terms
    phrasing: Annotated[
        Phrasing, Field(description="Whether rows are broken at the motif's repeats or told in the fewest characters.")
    ] = "natural"
    level: ProjectLevel | None
    intro: Annotated[str, Field(max_length=LONGEST_NOTE)]
    notes: Annotated[list[Annotated[str, Field(max_length=LONGEST_NOTE)]], Field(max_length=MOST_NOTES)]
    for_children: Annotated[bool, Field(description="Whether the cautions about what children wear are printed.")]


KeptWords = Annotated[
    PatternWords,
    kept_as(
        PatternWords,
        WordsForm,
        lambda form: PatternWords(**taken(form)),
        lambda words: WordsForm(
            **{**{e.name: getattr(words, e.name) for e in fields(words)}, "notes": list(words.notes)}
        ),
    ),
    Field(description="What the pattern says in its designer's own words."),
]


_CARE_IN_WORDS = "How it is cared for, in words in the order of ISO 3758."


def _care(step: str) -> Any:  # noqa: ANN401 — a field's limits
    return Field(pattern=f"^({'|'.join(CARE[step])})$", description=_CARE_IN_WORDS)


class LabelForm(FileForm):
    """What the label of a yarn says."""

    yarn: Name
    line: Annotated[str, Field(max_length=LONGEST_FOOT_LINE, description="What it is sold as.")] = ""
    weight: Annotated[int | None, Field(ge=0, le=7, description="The Craft Yarn Council's category.")] = None
    fibre: Annotated[str, Field(max_length=LONGEST_FOOT_LINE)] = ""
    wash: Annotated[str | None, _care("wash")] = None
    bleach: Annotated[str | None, _care("bleach")] = None
    tumble: Annotated[str | None, _care("tumble")] = None
    dry: Annotated[str | None, _care("dry")] = None
    iron: Annotated[str | None, _care("iron")] = None
    professional: Annotated[str | None, _care("professional")] = None


KeptLabel = Annotated[
    YarnLabel,
    kept_as(YarnLabel, LabelForm, lambda form: YarnLabel(**taken(form)), lambda label: same_fields(LabelForm, label)),
]
_Line = Annotated[str, Field(max_length=LONGEST_FOOT_LINE)]
_Centimetres = Annotated[float, Field(ge=0.1, le=1e5)]
_Measured = Annotated[list[_Centimetres], Field(min_length=2, max_length=2, description="Width and height in cm.")]


class PublishingForm(FileForm):
    """What a pattern that is sold says beside its words."""

    contact: Annotated[_Line, Field(description="Where questions go.")]
    copyright_line: _Line
    licence_line: Annotated[str, Field(max_length=200)]
    edition_line: _Line
    published: Annotated[str | None, Field(pattern=r"^\d{4}-\d{2}-\d{2}$", description="The day of the edition.")]
    errata: Annotated[str, Field(max_length=200, description="Where corrections are found.")]
    language: Annotated[str, Field(pattern="^[a-z]{2,3}(-[A-Z]{2})?$", examples=["en", "en-GB"])]
    # not in files from before it was asked for
    gauge_stitch: Annotated[_Line, Field(description="What the swatch of the gauge was worked in.")] = ""
    notions: Annotated[list[_Line], Field(max_length=MOST_NOTIONS, description="What else is needed.")]
    finishing: Annotated[str, Field(max_length=LONGEST_NOTE)]
    blocking: Annotated[str, Field(max_length=LONGEST_NOTE)]
    unblocked_cm: _Measured | None
    blocked_cm: _Measured | None
    labels: Annotated[list[KeptLabel], Field(max_length=MOST_LABELS, description="One for each yarn at most.")]


def _read_publishing(form: PublishingForm) -> Publishing:
    try:
        published = None if form.published is None else date.fromisoformat(form.published)
    except ValueError:
        raise ValueError(f"Expected a day that there is, found {form.published!r}.") from None
    return Publishing(**{**taken(form), "published": published})


def _write_publishing(value: Publishing) -> PublishingForm:
    pairs = {name: getattr(value, name) for name in ("unblocked_cm", "blocked_cm")}
    return PublishingForm(
        **{
            **{each.name: getattr(value, each.name) for each in fields(value)},
            "published": None if value.published is None else value.published.isoformat(),
            "notions": list(value.notions),
            "labels": list(value.labels),
            **{name: None if pair is None else list(pair) for name, pair in pairs.items()},
        }
    )


KeptPublishing = Annotated[
    Publishing,
    kept_as(Publishing, PublishingForm, _read_publishing, _write_publishing),
    Field(description="What a pattern that is sold says beside its words."),
]
