"""Finish: how a piece begins and how its edges end, as one value of the design.

What makes no sense whatever the piece is refused when the value is made; what only the piece can refuse, when a design
takes it (`check_finish`). What follows from it is worked out by `edging`.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, fields
from typing import Literal

from mosaickit.errors import OptionError, as_whole, number_of, one_of, shortly, true_or_false, whole_number, within
from mosaickit.fabric import ENDS, FOUNDATIONS, Ends, Foundation
from mosaickit.gauge import CM_PER_INCH
from mosaickit.orientation import ROLES, Role
from mosaickit.sizes.layouts.surround import Surround
from mosaickit.yarn import YarnSettings

Corner = Literal["3 sc", "5 sc", "sc, ch 1, sc", "sc, ch 2, sc"]
BORDER_CORNERS: dict[Corner, tuple[int, int]] = {
    "3 sc": (3, 0),
    "5 sc": (5, 0),
    "sc, ch 1, sc": (2, 1),
    "sc, ch 2, sc": (2, 2),
}
"""What is worked in a corner: how many sc, and how many chains ("Borders and Edgings", crochetcabana.com)."""

Along = Literal["all sides", "row ends"]
BORDER_ALONG: tuple[Along, ...] = ("all sides", "row ends")

MOST_ROUNDS, MOST_IN_RATIO = 50, 100
"""No border has more rounds, and no number of a ratio is larger."""

LONGEST_FRINGE_CM = 100.0
MOST_IN_KNOT = 50


@dataclass(frozen=True, repr=False)
class Finish:
    """How a piece begins and how its edges end. What is usual changes nothing: a chain, and no border.

    Parameters
    ----------
    foundation : "chain" or "foundation sc"
        What row 1 stands on; foundation sc are chain and row 1 in one, with as many stitches.
    ends : "as they come", "woven in", "fringe" or "enclosed"
        What becomes of the tails of cut yarn: nothing is said; they are woven in; they stay as a fringe at both ends of
        the rows; or a border of two layers, one worked at the back and one at the front, closes over them.
    fringe_cm : float
        How long the fringe is when it is done, 1 to 100 cm.
    tails_a_knot : int
        How many neighbouring tails are knotted together, 0 to 50; 0 for no knots. 4: common practice, no source.
    added_strands : int
        How many cut strands, folded in half, are added at each knot, 0 to 50.
    trimmed : bool
        Whether the fringe is cut to one length.
    border_rounds : int
        The rounds of single crochet around the finished piece, 0 to 50; with two layers, of each; in the round, of each
        of its two edges.
    border_along : "all sides" or "row ends"
        Where they go: around the piece, or as rows along both ends of its rows.
    border_corner : "3 sc", "5 sc", "sc, ch 1, sc" or "sc, ch 2, sc"
        What is worked in a corner. "3 sc" is the commonest; "5 sc" makes it rounder, and of many rounds a frill.
    border_ratio : (int, int), optional
        How many stitches are picked up along how many rows. Left out, it is worked out so that the border lies flat.
    crab_stitch : bool
        Whether a round of crab stitch, which is single crochet worked backwards, goes over the last round.
    finish_colour : "MC" or "CC"
        What border and added strands are made of.

    Raises
    ------
    OptionError
        If one of them is not as described, a fringe would lie under a border, or two layers or crab stitch have no
        round.

    Examples
    --------
    >>> Finish(ends="enclosed", border_rounds=4).layers
    2
    >>> Finish(border_ratio=(7, 8))
    Finish(border_ratio=(7, 8))
    """

    _: KW_ONLY
    foundation: Foundation = "chain"
    ends: Ends = "as they come"
    fringe_cm: float = 10.0
    tails_a_knot: int = 4
    added_strands: int = 0
    trimmed: bool = True
    border_rounds: int = 0
    border_along: Along = "all sides"
    border_corner: Corner = "3 sc"
    border_ratio: tuple[int, int] | None = None
    crab_stitch: bool = False
    finish_colour: Role = "MC"

    def __post_init__(self) -> None:
        own = self.__dict__
        one_of("foundation", self.foundation, FOUNDATIONS)
        one_of("ends", self.ends, ENDS)
        one_of("border_along", self.border_along, BORDER_ALONG)
        one_of("border_corner", self.border_corner, BORDER_CORNERS)
        one_of("finish_colour", self.finish_colour, ROLES)
        own["fringe_cm"] = within("fringe_cm", self.fringe_cm, 1, LONGEST_FRINGE_CM)
        for name in ("trimmed", "crab_stitch"):
            own[name] = true_or_false(name, own[name])
        for name, most in (
            ("tails_a_knot", MOST_IN_KNOT),
            ("added_strands", MOST_IN_KNOT),
            ("border_rounds", MOST_ROUNDS),
        ):
            own[name] = whole_number(name, own[name], most=most)
        if self.border_ratio is not None:
            own["border_ratio"] = _ratio(self.border_ratio)
        if self.ends == "fringe" and self.border_rounds:
            raise OptionError(
                "A border is worked over the row ends, where a fringe hangs: set `border_rounds` to 0, or `ends` to "
                f"'woven in' or 'enclosed'; got a fringe and {number_of(self.border_rounds, 'round')}."
            )
        if self.ends == "fringe" and self.added_strands and not self.tails_a_knot:
            raise OptionError(
                "Added strands are knotted in with the tails, and `tails_a_knot` is 0: make it 1 or more, or "
                f"`added_strands` 0; got {self.added_strands}."
            )
        if self.crab_stitch and not self.border_rounds:
            raise OptionError(
                "Crab stitch is worked over a round of single crochet: set `border_rounds` to 1 or more, or leave out "
                "`crab_stitch`."
            )
        if self.ends == "enclosed" and (not self.border_rounds or self.border_along != "all sides"):
            raise OptionError(
                "Tails are enclosed by a border of two layers around all sides: set `border_rounds` to 1 or more and "
                f"`border_along` to 'all sides'; got {self.border_rounds} and {self.border_along!r}."
            )

    def __repr__(self) -> str:
        """Write what was said; what is usual is left out."""
        here = {each.name: (getattr(self, each.name), each.default) for each in fields(self)}
        said = (f"{name}={value!r}" for name, (value, usual) in here.items() if value != usual)
        return f"{type(self).__name__}({', '.join(said)})"

    @property
    def layers(self) -> int:
        """How many layers the border has: two where it encloses tails, none if there is no border."""
        return 0 if not self.border_rounds else 2 if self.ends == "enclosed" else 1

    @property
    def corner_chains(self) -> int:
        """The chains of a corner."""
        return BORDER_CORNERS[self.border_corner][1]

    @property
    def corner_sc(self) -> int:
        """The sc that a round after the first has in a corner."""
        return BORDER_CORNERS[self.border_corner][0]


def _ratio(given: object) -> tuple[int, int]:
    if isinstance(given, tuple | list) and len(given) == 2:
        stitches, rows = map(as_whole, given)
        if stitches and rows and 0 < stitches <= MOST_IN_RATIO and 0 < rows <= MOST_IN_RATIO:
            return stitches, rows
    raise OptionError(
        f"`border_ratio` must be a pair of whole numbers from 1 to {MOST_IN_RATIO}, stitches and rows, as (7, 8), or "
        f"None; got {shortly(given)}."
    )


USUAL_FINISH = Finish()
"""A chain to begin with, and nothing around the piece."""


# ---- fringe ------------------------------------------------------------------------------------------------


def strand_for(fringe_cm: float) -> float:
    """Give how long a strand is cut that is folded in half, knotted, and trimmed to a fringe, in cm.

    Twice the fringe and a third of it, at least 1 in and at most 2 in: what published patterns come to, that cut 7 in
    for a fringe of 3 in and 14 in for one of 6 in ("Scarf with Fringe", emihhh.blogspot.com, 2012).

    Examples
    --------
    >>> round(strand_for(3 * 2.54) / 2.54, 2), round(strand_for(6 * 2.54) / 2.54, 2)
    (7.0, 14.0)
    """
    return 2 * fringe_cm + min(max(fringe_cm / 3, CM_PER_INCH), 2 * CM_PER_INCH)


def tail_for(fringe_cm: float) -> float:
    """Give how long a tail must be to make a fringe of a length: half a strand, as it is not folded."""
    return strand_for(fringe_cm) / 2


# ---- what only a piece can refuse --------------------------------------------------------------------------


def check_finish(finish: Finish, surround: Surround, yarn_settings: YarnSettings, rows: int) -> None:
    """Raise `OptionError` if a piece of this number of rows cannot have this finish."""
    if surround.in_the_round and finish.border_rounds and finish.border_along == "row ends":
        raise OptionError(
            "In the round rows have no ends, so `border_along` cannot be 'row ends': leave it at 'all sides' for "
            "rounds at both edges, or set `border_rounds` to 0."
        )
    if finish.ends not in ("fringe", "enclosed"):
        return
    if surround.in_the_round:
        raise OptionError(
            f"In the round rows have no ends, so `ends` cannot be {finish.ends!r}: choose 'as they come' or 'woven in'."
        )
    if yarn_settings.between_rows == "carried":
        raise OptionError(
            f"Carried yarn leaves no tails at the row ends, so `ends` cannot be {finish.ends!r}: set `between_rows` to "
            "'cut', or `ends` to 'woven in'."
        )
    if finish.ends == "enclosed":
        return
    if finish.tails_a_knot > rows:
        raise OptionError(
            f"`tails_a_knot` must be at most the {number_of(rows, 'tail')} at one side of the piece, one of each row; "
            f"got {finish.tails_a_knot}."
        )
    needed = tail_for(finish.fringe_cm)
    if yarn_settings.tail_cm < needed - 1e-9:
        raise OptionError(
            f"A fringe of {finish.fringe_cm:g} cm takes tails of {needed:.1f} cm or more, with what knots and trimming "
            f"take: make `tail_cm` so long, or `fringe_cm` shorter; got tails of {yarn_settings.tail_cm:g} cm."
        )
