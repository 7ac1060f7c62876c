"""Advice: what a maker should think about in a picture, though it can be worked."""

from __future__ import annotations

import numpy as np

from mosaickit import orientation
from mosaickit.colours import in_words, weakest_contrast
from mosaickit.errors import number_of
from mosaickit.motif.motif import Motif
from mosaickit.motif.rules.findings import Mask, Rule, Setting, nowhere, row_colour
from mosaickit.motif.standing import fldc_standing

LONGEST_BARE_RUN = 4
"""A carried strand may lie bare over this many neighbouring FLdc before advice is given: our choice, no source."""

LEAST_CONTRAST = 3.0
"""Yarns should differ by this ratio at least: WCAG 2.2, success criterion 1.4.11, graphical objects."""


def _fldc(motif: Motif, setting: Setting) -> Mask:
    """Mark the squares on which an FLdc stands, bool (R, C) in working order for the setting's hand."""
    return fldc_standing(orientation.to_working(motif.overlaid, setting.hand), repeats_up=setting.repeats_up)


def _bare_strand(motif: Motif, setting: Setting) -> Mask:
    """Mark FLdc in runs of more than `LONGEST_BARE_RUN`; in the round no strand is carried across."""
    if setting.between_rows == "cut" or setting.in_the_round:
        return nowhere(motif)
    standing = _fldc(motif, setting)
    longest = LONGEST_BARE_RUN + 1
    if standing.shape[1] < longest:
        return nowhere(motif)
    # a run is long where `longest` neighbours all stand; then give back the squares beside each such window
    width = standing.shape[1] - longest + 1
    window = standing[:, :width].copy()
    for shift in range(1, longest):
        window &= standing[:, shift : shift + width]
    if not window.any():
        return nowhere(motif)
    marked = np.zeros_like(standing)
    for shift in range(longest):
        marked[:, shift : shift + width] |= window
    return orientation.to_seen(marked, setting.hand)


def _say_bare_strand(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row}, stitches {stitch} to {last} are {last - stitch + 1} FLdc side by side, which leave a carried "
        "strand bare. Cut the yarn between rows, or break the run with a plain stitch."
    )


def _edge_fldc(motif: Motif, setting: Setting) -> Mask:
    standing = _fldc(motif, setting)
    if setting.in_the_round:
        standing[:] = False
    standing[:, 1:-1] = False
    return orientation.to_seen(standing, setting.hand)


def _say_edge_fldc(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    which = "first" if stitch == 1 else "last"
    return (
        f"Row {row}, stitch {stitch}: an FLdc in the {which} stitch makes a loose edge. Add an edge stitch at each "
        "side."
    )


def _odd_repeat(motif: Motif, setting: Setting) -> Mask:
    odd = setting.repeats_up and motif.shape[0] % 2 == 1
    return _first_stitch(motif, motif.shape[0], setting) if odd else nowhere(motif)


def _say_odd_repeat(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row}: {number_of(row, 'row')} is an odd number, so every second repeat upward has its colours swapped. "
        "Add a row, or keep the counterchange."
    )


def _ends_differ(motif: Motif, setting: Setting) -> Mask:
    rows = motif.shape[0]
    return nowhere(motif) if setting.repeats_up or rows % 2 == 1 else _first_stitch(motif, rows, setting)


def _say_ends_differ(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    return (
        f"Row {row} is worked in {row_colour(motif, row)} and row 1 in {row_colour(motif, 1)}, so the two ends "
        "differ. Add a row if they should match; a frame needs that."
    )


def _first_stitch(motif: Motif, row: int, setting: Setting) -> Mask:
    mask = nowhere(motif)
    mask[orientation.square(row, 1, motif.shape, setting.hand)] = True
    return mask


def _weak_contrast(motif: Motif, setting: Setting) -> Mask:
    """Mark the row from which on two yarns that are too alike meet."""
    mask = nowhere(motif)
    for row, mc, cc in motif.yarns.meetings(motif.shape[0]):
        if weakest_contrast(mc.colour, cc.colour)[1] < LEAST_CONTRAST:
            mask |= _first_stitch(motif, row, setting)
    return mask


def _say_weak_contrast(motif: Motif, setting: Setting, row: int, stitch: int, last: int) -> str:
    mc, cc = (motif.yarns.at(row, role) for role in orientation.ROLES)
    vision, ratio = weakest_contrast(mc.colour, cc.colour)
    # rounded down, so that a ratio below the limit never reads as the limit
    shown = int(ratio * 100) / 100
    return (
        f"From row {row} on, {mc.name!r} and {cc.name!r} have a contrast of {shown:.2f} to 1 {in_words(vision)}, below "
        f"{LEAST_CONTRAST:g} to 1. Choose a lighter and a darker yarn."
    )


BARE_STRAND = Rule(
    "bare carried strand",
    "advice",
    "FLdc does not enclose a carried strand, so a long run of them leaves it bare.",
    _bare_strand,
    _say_bare_strand,
    by_run=True,
    counted=("long bare strand", "long bare strands"),
)
EDGE_FLDC = Rule(
    "FLdc at an edge",
    "advice",
    "An FLdc in the first or last stitch of a row makes a loose edge.",
    _edge_fldc,
    _say_edge_fldc,
    counted=("FLdc at an edge", "FLdc at the edges"),
)
ODD_REPEAT = Rule(
    "odd repeat",
    "advice",
    "An odd number of rows, repeated upward, swaps the colours of every second repeat.",
    _odd_repeat,
    _say_odd_repeat,
    counted=("odd number of rows that repeat", "odd numbers of rows that repeat"),
)
ENDS_DIFFER = Rule(
    "ends of different colour",
    "advice",
    "With an even number of rows the first and the last row have different colours.",
    _ends_differ,
    _say_ends_differ,
    counted=("end of another colour", "ends of another colour"),
)
WEAK_CONTRAST = Rule(
    "weak contrast",
    "advice",
    "The yarns that meet should differ in lightness for every kind of colour vision.",
    _weak_contrast,
    _say_weak_contrast,
    counted=("pair of yarns too alike", "pairs of yarns too alike"),
)

ADVICE: tuple[Rule, ...] = (BARE_STRAND, EDGE_FLDC, ODD_REPEAT, ENDS_DIFFER, WEAK_CONTRAST)
"""The rules that advise."""
