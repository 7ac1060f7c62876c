"""Checking: a picture is held against the rules, and what they find is reported, never raised."""

from __future__ import annotations

from mosaickit.errors import of_kind
from mosaickit.motif.motif import Motif, read_only
from mosaickit.motif.rules.advice import ADVICE
from mosaickit.motif.rules.deciding import WORKABLE
from mosaickit.motif.rules.findings import BetweenRows, Report, Rule, Setting
from mosaickit.orientation import Hand

RULES: tuple[Rule, ...] = (*WORKABLE, *ADVICE)
"""All rules."""


def check(
    motif: Motif,
    *,
    in_the_round: bool = False,
    repeats_up: bool = False,
    hand: Hand = "right",
    between_rows: BetweenRows = "carried",
    rules: tuple[Rule, ...] = RULES,
) -> Report:
    """Find what cannot be worked in a picture, and what a maker should think about.

    Parameters
    ----------
    motif : Motif
        Any picture, (R, C).
    in_the_round : bool
        Whether the last stitch of a row meets its first, so that there are no edges.
    repeats_up : bool
        Whether the picture is one repeat of a taller one: its row 1 then lies above its row R, and neither is an
        end. With an odd number of rows every second repeat is taken to have its colours swapped.
    hand : "right" or "left"
        The hand that holds the hook; it says from which edge findings count their stitches.
    between_rows : "carried" or "cut"
        What is done with the yarn at the end of a row.
    rules : tuple of Rule
        The rules to check.

    Returns
    -------
    Report
        With ``.ok`` and ``.findings``. An unworkable picture is reported, never raised.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> print(check(Motif.from_array([[1, 0], [1, 1], [0, 0]])).findings[0].message)
    Row 3, stitch 2 does not show its row's colour, and there is no row above to cover it. Make the
    square MC, or add a row above the picture.
    """
    of_kind("motif", motif, Motif)
    setting = Setting(in_the_round, repeats_up, hand, between_rows)
    masks = ((rule, rule(motif, setting)) for rule in rules)
    return Report(motif, setting, tuple((rule, read_only(mask)) for rule, mask in masks if mask.any()))
