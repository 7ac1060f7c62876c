"""Decisions: the fields of a design as options, each by its own name with hyphens, and what was said of them.

A command names the decisions that it takes; what is typed beside a file then changes the design in it. Help, kinds and
choices of most stand in this one table, so that a decision is asked for alike wherever it is taken.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import mosaickit as mk
from mosaickit.cli.values import gauge, number, of_repeat, ratio, skein, whole
from mosaickit.fabric import ENDS, FOUNDATIONS
from mosaickit.motif import BETWEEN_ROWS
from mosaickit.orientation import HANDS, ROLES
from mosaickit.sizes import BORDER_ALONG, BORDER_CORNERS


@dataclass(frozen=True)
class Decision:
    """How a decision is asked for: what its help says, and what may be typed.

    `said` reads what was typed; with `choices` it is one of them, and without either a yes or no. `shown` is its name
    in the help, in place of the choices where these have blanks.
    """

    help: str
    said: Callable[[str], Any] | None = None
    shown: str | None = None
    choices: tuple[str, ...] = ()


DECISIONS: dict[str, Decision] = {
    # how the motif is laid
    "across": Decision("how often the motif is laid across (default: 1)", whole, "N"),
    "up": Decision("how often it is laid up (default: 1)", whole, "N"),
    "laying": Decision(
        "how it is laid: brick shifts every second band by half a repeat, half-drop every second column "
        "(default: straight)",
        choices=("straight", "brick", "half-drop", "mirrored"),
    ),
    "seam": Decision(
        "at a mirror line, whether row and column stand twice (double) or once (shared; default: double)",
        choices=("double", "shared"),
    ),
    "colours": Decision(
        "whether every second repeat up keeps its colours or swaps them, which matters if a repeat has an odd number "
        "of rows (default: keep)",
        choices=("keep", "swap"),
    ),
    "balance_across": Decision(
        "how many of the repeat's first stitches close each row, or half for half of them (default: 0)", of_repeat, "N"
    ),
    "balance_up": Decision("how many of its first rows close the piece (default: 0)", whole, "N"),
    "rings": Decision("rings of a frame (default: 0)", whole, "N"),
    "edges": Decision("plain edge stitches at each end of a row (default: 1, 0 in the round)", whole, "N"),
    "rows_below": Decision("plain rows below (default: 0)", whole, "N"),
    "rows_above": Decision("plain rows above (default: 0)", whole, "N"),
    # how it is worked
    "reversible": Decision("close the back, so that both faces may be shown"),
    "in_the_round": Decision("work in the round: the last stitch of a row meets its first"),
    "hand": Decision("the hand that holds the hook (default: right)", choices=HANDS),
    "between_rows": Decision(
        "whether yarn is carried up between rows, or cut (default: carried)", choices=BETWEEN_ROWS
    ),
    "gauge": Decision(
        "stitches x rows, as 16x18 (over 10 cm) or 16x18/4in; a .design may have it already", gauge, "GAUGE"
    ),
    "hook_mm": Decision("the diameter of the hook", number, "MM"),
    "skein": Decision("what yarn is sold in, as 105m/50g", skein, "SKEIN"),
    # how it begins and ends
    "foundation": Decision(
        "what row 1 stands on: chain, or 'foundation sc', which are chain and row 1 in one (default: chain)",
        shown="WHAT",
        choices=FOUNDATIONS,
    ),
    "ends": Decision(
        "what becomes of the tails of cut yarn: 'as they come', 'woven in', fringe, or enclosed by a border of two "
        "layers (default: as they come)",
        shown="HOW",
        choices=ENDS,
    ),
    "fringe_cm": Decision("how long a fringe is when it is done, 1 to 100 cm (default: 10)", number, "CM"),
    "tails_a_knot": Decision(
        "how many tails of a fringe are knotted together; 0 for no knots (default: 4)", whole, "N"
    ),
    "added_strands": Decision(
        "strands, folded in half, that are added to a fringe at each knot (default: 0)", whole, "N"
    ),
    "trimmed": Decision("cut the fringe to one length (default: yes)"),
    "border_rounds": Decision("rounds of single crochet around the piece (default: 0)", whole, "N"),
    "border_along": Decision(
        "where the border goes: 'all sides' or 'row ends' (default: all sides)",
        shown="WHERE",
        choices=BORDER_ALONG,
    ),
    "border_corner": Decision(
        "what is worked in a corner: '3 sc', '5 sc', 'sc, ch 1, sc' or 'sc, ch 2, sc' (default: 3 sc)",
        shown="WHAT",
        choices=tuple(BORDER_CORNERS),
    ),
    "crab_stitch": Decision("end the border with a round of crab stitch"),
    "border_ratio": Decision(
        "stitches picked up along rows, as 7:8 (default: so that the border lies flat)", ratio, "STITCHES:ROWS"
    ),
    "finish_colour": Decision("the colour of border and added strands (default: MC)", choices=ROLES),
    # what a pattern says
    "title": Decision("what the pattern is called; left out, it is the motif's name", str, "TITLE"),
    "terms": Decision("the terms that stitches are named in (default: US)", choices=("US", "UK")),
    "phrasing": Decision(
        "where written rows are broken: at the motif's repeats, or for the fewest characters (default: natural)",
        choices=("natural", "shortest"),
    ),
    "language": Decision("the language of the pattern: en, or de for German (default: en)", str, "CODE"),
    "level": Decision("the project level", choices=("basic", "easy", "intermediate", "complex")),
    "intro": Decision("what you say first", str, "TEXT"),
    "note": Decision("what else there is to say; may be given again", str, "TEXT"),
    "for_children": Decision("print the cautions about children"),
}
"""Every decision that an option can say."""

_OTHERWISE = {"note": "notes", "skein": "skeins"}
"""What is named otherwise in a design."""

KNOWN = frozenset({*DECISIONS, *_OTHERWISE.values()})
"""Their names, as options and in a design."""

LAID_AROUND = (
    *("across", "up", "laying", "seam", "colours", "balance_across", "balance_up"),
    *("rings", "edges", "rows_below", "rows_above"),
)
"""How a motif is laid and what stands around it."""

HOW_WORKED = ("reversible", "in_the_round", "hand", "between_rows")


def field_of(option: str) -> str:
    """Give the name that an option's decision has in a design."""
    return _OTHERWISE.get(option, option)


def decision_options(add: argparse._ActionsContainer, *names: str) -> None:
    """Add decisions as options, none of which is said unless it is typed."""
    for name in names:
        asked = DECISIONS[name]
        settings: dict[str, Any] = {"help": asked.help}
        if asked.choices:
            settings |= {"choices": asked.choices, "metavar": asked.shown}
        elif asked.said is None:
            settings["action"] = argparse.BooleanOptionalAction
        else:
            settings |= {"type": asked.said, "metavar": asked.shown}
        if name == "note":
            settings["action"] = "append"
        add.add_argument(f"--{name.replace('_', '-')}", **settings)


def decided(given: argparse.Namespace) -> dict[str, Any]:
    """Give what the options said, by the names in a design."""
    said = {name: value for name, value in vars(given).items() if name in DECISIONS and value is not None}
    if "skein" in said:
        said["skein"] = mk.Skein(*said["skein"])
    return {field_of(name): value for name, value in said.items()}
