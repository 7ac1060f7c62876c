"""The next edition: the design with the yarn that its testers used and a list of what the last edition had wrong.

Amounts are corrected where they come from, in the lengths of stitches: so the page, the skeins and whatever else asks
the design say the same. The testers' middle becomes the likely amount, and the upper end is what suffices for the
makers that were asked about. What was wrong in the chart or the words is for the designer to change; here it is listed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from math import exp, log

import numpy as np

from mosaickit.errors import OptionError, each_of_kind, number_of, of_kind
from mosaickit.sizes import Design, Snag, totals_of
from mosaickit.testing.everyone import FEWEST_TESTERS, EnoughYarn


def next_edition(
    design: Design,
    enough: Iterable[EnoughYarn] = (),
    *,
    errata: Iterable[Snag] = (),
    changed: str = "corrected after testing",
    date: date | None = None,
) -> Design:
    r"""Give the next edition of a design, with the yarn that testers used and a list of errata.

    Parameters
    ----------
    design : Design
        As it is now: what was wrong in its chart or words is changed already, by `Design.but`.
    enough : EnoughYarns
        What `yarn_for_everyone` says of this design and size; none leaves the amounts as they are.
    errata : Snags
        What was wrong in the last edition, as you confirm it: snags of the reports, or your own with other words. They
        become a note of the pattern.
    changed : str
        A line of what changed, for `Design.edition`.
    date : date, optional
        The day; today if not given.

    Returns
    -------
    Design
        With one edition more. Its lengths of stitches are its own: the likely amount over all yarns is the testers'
        middle, and the upper end of each yarn at least what suffices. Swatches and lengths by the thread, which these
        stand in place of, are left out; earlier editions keep them. Lengths of your own do not follow a change of
        gauge.

    Raises
    ------
    OptionError
        If an argument is not as described, `enough` is about another design or rests on fewer than 3 testers for every
        yarn, or nothing changes.

    Examples
    --------
    >>> from datetime import date
    >>> from mosaickit import Gauge, Motif
    >>> first = Design(Motif.from_text("..."), Gauge(16, 18)).edition("first", date=date(2026, 3, 1))
    >>> wrong = Snag("work 3 sc, not 2.", row=1, kind="error")
    >>> next_edition(first, errata=[wrong], date=date(2026, 4, 1)).words.notes
    ('Errata of edition 1\n\nRow 1: work 3 sc, not 2.',)
    """
    of_kind("design", design, Design)
    amounts = each_of_kind("enough", enough, EnoughYarn)
    wrong = each_of_kind("errata", errata, Snag)
    notes = list(design.words.notes)
    made = design
    if amounts:
        made = _corrected(design, amounts)
        testers = max(len(each.used_m) for each in amounts)
        notes.append(
            f"Yarn: the amounts are those of {number_of(testers, 'tester')}. The upper ones suffice for "
            f"{amounts[0].makers}."
        )
    if wrong:
        number = len(design.editions)
        head = f"Errata of edition {number}" if number else "Errata"
        in_order = sorted(wrong, key=lambda snag: (snag.row or 0, snag.stitch or 0))
        notes.append("\n\n".join([head, *(f"{snag.where}: {snag.text}" for snag in in_order)]))
    return made.but(notes=notes).edition(changed, date=date)


def _corrected(design: Design, amounts: tuple[EnoughYarn, ...]) -> Design:
    """Give a design the lengths of stitches by which it takes what the testers used, and at most what suffices."""
    totals = totals_of(design)
    if [each.yarn.name for each in amounts] != list(totals) or not np.allclose(
        [each.likely_m for each in amounts], [total.likely_m for total in totals.values()]
    ):
        raise OptionError(
            "`enough` must be what `yarn_for_everyone` says of this very design, one for each of its yarns: work it "
            "out again after the last change, and give one size at a time."
        )
    shares = [log(used / each.likely_m) for each in amounts if each.by_testers for used in each.used_m]
    if not shares:
        raise OptionError(
            f"`enough` must rest on {FEWEST_TESTERS} testers or more for a yarn at least; got "
            f"{max(len(each.used_m) for each in amounts)}. Leave it out to keep the amounts as they are."
        )
    usage = design.usage
    not_stitches = usage.tails_m + usage.carried_m
    stitches = exp(sum(shares) / len(shares)) * usage.likely_m - not_stitches
    if stitches <= 0:
        raise OptionError(
            f"`enough` says that testers used less than the {not_stitches:.3g} m of tails and carried strands alone: "
            "correct `tail_cm` or `between_rows` first."
        )
    lengths = replace(design.lengths.scaled(stitches / (usage.likely_m - not_stitches)), low=1.0, high=2.0)
    made = _with(design, lengths)
    high = 1.0
    for each, total in zip(amounts, made.usage.by_yarn, strict=True):
        worked = total.high_m - total.likely_m  # once more, as the upper end is twice what is worked
        high = max(high, 1 + (each.enough_m - total.likely_m) / worked)
    return _with(design, replace(lengths, low=1 / high, high=high))


def _with(design: Design, lengths: object) -> Design:
    return design.but(lengths=lengths, yarn_mm=None, by_thread=False, swatches=())
