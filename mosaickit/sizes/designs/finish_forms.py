"""Foundation, ends, fringe and border, as they stand in a design document."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from mosaickit.fabric import Ends, Foundation
from mosaickit.files import FileForm, kept_as
from mosaickit.orientation import Role
from mosaickit.sizes.designs.words_forms import taken
from mosaickit.sizes.finishes.finish import (
    LONGEST_FRINGE_CM,
    MOST_IN_KNOT,
    MOST_IN_RATIO,
    MOST_ROUNDS,
    Along,
    Corner,
    Finish,
)

_Part = Annotated[int, Field(ge=1, le=MOST_IN_RATIO)]


class FinishForm(FileForm):
    """How the piece begins and how its edges end."""

    foundation: Annotated[Foundation, Field(description="What row 1 stands on.")]
    ends: Annotated[Ends, Field(description="What becomes of the tails of cut yarn.")]
    fringe_cm: Annotated[float, Field(ge=1, le=LONGEST_FRINGE_CM, description="How long a fringe is.")]
    tails_a_knot: Annotated[int, Field(ge=0, le=MOST_IN_KNOT, description="Tails knotted together; 0 for no knots.")]
    added_strands: Annotated[int, Field(ge=0, le=MOST_IN_KNOT, description="Strands added at each knot.")]
    trimmed: Annotated[bool, Field(description="Whether the fringe is cut to one length.")]
    border_rounds: Annotated[int, Field(ge=0, le=MOST_ROUNDS, description="The rounds of the border.")]
    border_along: Annotated[Along, Field(description="Where the border goes.")]
    border_corner: Annotated[Corner, Field(description="What is worked in a corner.")]
    border_ratio: Annotated[
        list[_Part] | None,
        Field(min_length=2, max_length=2, description="Stitches picked up, and for how many rows; null to lie flat."),
    ]
    crab_stitch: Annotated[bool, Field(description="Whether crab stitch goes over the last round.")] = False
    finish_colour: Annotated[Role, Field(description="What border and added strands are made of.")]


def _write(finish: Finish) -> FinishForm:
    values = {name: getattr(finish, name) for name in FinishForm.model_fields}
    return FinishForm(**{**values, "border_ratio": finish.border_ratio and list(finish.border_ratio)})


KeptFinish = Annotated[
    Finish,
    kept_as(Finish, FinishForm, lambda form: Finish(**taken(form)), _write),
    Field(description="Foundation, ends, fringe and border."),
]
