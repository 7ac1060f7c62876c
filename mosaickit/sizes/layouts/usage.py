"""Usage: how much yarn a layout takes in all, from counts of its stitches.

Where each colour is one yarn throughout, a row's ends and strands are alike in all its rows, and a few sums do for any
number of them (`usage_of_colours`). Where the yarn changes with the rows, it goes row by row (`usage_by_row`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mosaickit.colours import Yarn, Yarns
from mosaickit.fabric import RowCounts
from mosaickit.orientation import ROLES, Role
from mosaickit.yarn import YarnRates, YarnTotal, band, skein_of_each, usage_of_rows

Metres = tuple[float, float, float]
"""Metres: low, likely, high."""

_NOTHING: Metres = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class LayoutUsage:
    """How much yarn a layout takes in all.

    Attributes
    ----------
    by_role : pair of (low, likely, high)
        Metres of MC and of CC.
    yarns : tuple of (Yarn, (low, likely, high))
        Metres of each yarn, in the order in which they are first used.
    playing : pair of frozenset of Yarn
        The yarns that are MC in some row, and those that are CC; one yarn may be both.
    carried_m, tails_m : float
        How much of the likely amount is carried strand, and how much tails.
    rates : YarnRates
        What it was calculated from.
    rows_of_yarns : tuple of int
        The rows that are worked in each of `yarns`.
    """

    by_role: tuple[Metres, Metres]
    yarns: tuple[tuple[Yarn, Metres], ...]
    playing: tuple[frozenset[Yarn], frozenset[Yarn]]
    carried_m: float
    tails_m: float
    rates: YarnRates
    rows_of_yarns: tuple[int, ...]

    @cached_property
    def by_yarn(self) -> tuple[YarnTotal, ...]:
        """How much of each yarn, with the skeins to buy if they are known."""
        used, skeins = tuple(yarn for yarn, _ in self.yarns), self.rates.yarn_settings.skeins
        if isinstance(skeins, Mapping):  # a yarn of the motif may have no row in this layout
            skeins = {yarn.name: skeins[yarn.name] for yarn in used if yarn.name in skeins}
        return tuple(
            YarnTotal(yarn, *amounts, self.rates.yarn_settings.margin, skein, rows)
            for (yarn, amounts), (_, skein), rows in zip(
                self.yarns, skein_of_each(used, skeins), self.rows_of_yarns, strict=True
            )
        )

    def skeins_of(self, role: Role) -> int:
        """Give the skeins to buy of all yarns that play a role, 0 where they are not known."""
        return sum(total.skeins or 0 for total in self.by_yarn if total.yarn in self.playing[ROLES.index(role)])

    def with_more(self, role: Role, yarn: Yarn, more: Metres, tails_m: float) -> LayoutUsage:
        """Add more of a yarn; `tails_m` of it are tails."""
        yarns, rows, playing, at = list(self.yarns), list(self.rows_of_yarns), list(self.playing), ROLES.index(role)
        known = next((number for number, (one, _) in enumerate(yarns) if one == yarn), None)
        if known is None:
            yarns.append((yarn, more))
            rows.append(0)
        else:
            yarns[known] = yarn, sum_of(yarns[known][1], more)
        playing[at] |= {yarn}
        return LayoutUsage(  # a sweep asks for this very often, and `replace` takes twice as long
            more_of_role(self.by_role, role, more),
            tuple(yarns),
            (playing[0], playing[1]),
            self.carried_m,
            self.tails_m + tails_m,
            self.rates,
            tuple(rows),
        )

    @property
    def low_m(self) -> float:
        """Metres if all that is worked takes as little as the stitches' lengths allow."""
        return self.by_role[0][0] + self.by_role[1][0]

    @property
    def likely_m(self) -> float:
        """The likely metres."""
        return self.by_role[0][1] + self.by_role[1][1]

    @property
    def high_m(self) -> float:
        """Metres if all that is worked takes as much as the stitches' lengths allow."""
        return self.by_role[0][2] + self.by_role[1][2]


def sum_of(one: Metres, other: Metres) -> Metres:
    """Add two amounts."""
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def more_of_role(by_role: tuple[Metres, Metres], role: Role, more: Metres) -> tuple[Metres, Metres]:
    """Give the metres of MC and of CC with more of one of them."""
    of_mc, of_cc = by_role
    return (sum_of(of_mc, more), of_cc) if role == "MC" else (of_mc, sum_of(of_cc, more))


def check_skeins(motifs: Iterable[Yarns], rates: YarnRates) -> None:
    """Raise `OptionError` unless the skeins are one for all yarns or name each yarn of some motifs and no other."""
    of_all = tuple(yarn for yarns in motifs for role in ROLES for _, yarn in yarns.of(role))
    skein_of_each(of_all, rates.yarn_settings.skeins)


def usage_of_colours(
    counts: Sequence[Sequence[int]],
    shape: tuple[int, int],
    first: Role,
    yarns: tuple[Yarn, Yarn],
    rates: YarnRates,
    *,
    in_the_round: bool,
) -> LayoutUsage:
    """Sum the yarn where each colour has one throughout.

    Parameters
    ----------
    counts : sequence of ints, (2, 5)
        The stitches of MC and of CC, by the kinds of `Stitch`.
    shape : (int, int)
        Rows and stitches.
    first : "MC" or "CC"
        The colour of row 1.
    yarns : (Yarn, Yarn)
        What MC and CC are worked in; it may be the same.
    rates : YarnRates
        What it is calculated from.
    in_the_round : bool
        Whether it is worked in the round.
    """
    (rows, stitches), starts = shape, ROLES.index(first)
    sc_cm, blsc_cm, fldc_cm, back_cm, front_cm = rates.by_stitch
    chain_cm, strand_cm = rates.in_stitches.chain, rates.strand_cm(stitches, in_the_round)
    by_role = [_NOTHING, _NOTHING]
    carried_cm = tails_cm = 0.0
    order = (starts, 1 - starts)[:rows]
    for role in order:
        of_role = (rows + (role == starts)) // 2
        # every row but its last hands its yarn on
        strands = of_role - 1 if rates.yarn_settings.between_rows == "carried" else 0
        chains = 2 * of_role
        if role == starts:
            chains += stitches + in_the_round
        sc, blsc, fldc, back, front = counts[role]
        worked_cm = chains * chain_cm + strands * strand_cm + sc * sc_cm + blsc * blsc_cm + fldc * fldc_cm
        worked_cm += back * back_cm + front * front_cm
        own_tails_cm = 2 * (of_role - strands) * rates.yarn_settings.tail_cm
        by_role[role] = band(worked_cm / 100, own_tails_cm / 100, rates.in_stitches)
        carried_cm, tails_cm = carried_cm + strands * strand_cm, tails_cm + own_tails_cm
    of_yarns = tuple((yarns[role], by_role[role]) for role in order)
    rows_of = tuple((rows + (role == starts)) // 2 for role in order)
    if len(order) == 2 and yarns[0] == yarns[1]:
        low, likely, high = map(sum, zip(*by_role, strict=True))
        of_yarns, rows_of = ((yarns[0], (low, likely, high)),), (rows,)
    playing = [frozenset([yarns[role]] if role in order else []) for role in (0, 1)]
    both = (by_role[0], by_role[1])
    return LayoutUsage(both, of_yarns, (playing[0], playing[1]), carried_cm / 100, tails_cm / 100, rates, rows_of)


def usage_by_row(counts: RowCounts, rates: YarnRates, *, in_the_round: bool) -> LayoutUsage:
    """Sum the yarn row by row, where it changes with the rows."""
    # a yarn of the motif may have no row in this layout, so skeins by name come later
    unsold = YarnRates(rates.gauge, replace(rates.yarn_settings, skeins=None))
    usage = usage_of_rows(counts, unsold, in_the_round=in_the_round)
    cc = np.array([role == "CC" for role in counts.row_colours])
    by_row = list(zip(counts.row_colours, counts.yarns, strict=True))
    playing = [frozenset(yarn for role, yarn in by_row if role == each) for each in ROLES]
    of_mc, of_cc = (
        band(float(usage.worked_m[rows].sum()), float(usage.tails_m[rows].sum()), rates.in_stitches)
        for rows in (~cc, cc)
    )
    yarns = tuple((total.yarn, (total.low_m, total.likely_m, total.high_m)) for total in usage.by_yarn)
    carried_m, tails_m = float(usage.carried_m.sum()), float(usage.tails_m.sum())
    rows_of = tuple(total.rows or 0 for total in usage.by_yarn)
    return LayoutUsage((of_mc, of_cc), yarns, (playing[0], playing[1]), carried_m, tails_m, rates, rows_of)
