"""A report against the edition that it is about: its title, yarns, rows and stitches."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from mosaickit.errors import OptionError, each_of_kind, of_kind, shortly
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.reports.values import PieceReport
from mosaickit.yarn import YarnTotal

Tested = Design | Mapping[str, Design]
"""The design that was tested, or one for each size by its label; each with its editions."""


def designs_of(design: object) -> dict[str, Design]:
    """Give the design of each size, a lone one under ""; raises `OptionError` for anything else."""
    if isinstance(design, Design):
        return {"": design}
    if not isinstance(design, Mapping) or not design or not all(isinstance(size, str) for size in design):
        raise OptionError(f"`design` must be a `Design`, or one for each size by its label; got {shortly(design)}.")
    for size, one in design.items():
        of_kind(f"design[{size!r}]", one, Design)
    return dict(design)


def edition_of(design: Tested, report: PieceReport) -> Design:
    """Give the design as it was in the edition and size that a report is about.

    Raises
    ------
    OptionError
        If there is no such size or edition, or the report is about another pattern.
    """
    designs = designs_of(design)
    of_kind("report", report, PieceReport)
    if report.size not in designs:
        known = ", ".join(repr(size) for size in designs)
        sizes = "the design has one size, so leave `size` empty" if known == "''" else f"known sizes are {known}"
        raise OptionError(f"`size`: tester {report.tester!r} made {report.size!r}, but {sizes}.")
    editions = designs[report.size].editions
    if report.edition > len(editions):
        there = f"editions 1 to {len(editions)}" if len(editions) > 1 else "edition 1 only" if editions else "none"
        raise OptionError(
            f"`edition`: tester {report.tester!r} made edition {report.edition}, but the design has {there}."
        )
    tested = editions[report.edition - 1].design
    if report.design != tested.title:
        raise OptionError(
            f"`design`: tester {report.tester!r} made {report.design!r}, but edition {report.edition} is titled "
            f"{tested.title!r}."
        )
    return tested


def totals_of(design: Design) -> dict[str, YarnTotal]:
    """Give how much the design says it takes of each yarn, by its name.

    Raises
    ------
    OptionError
        If the design has no gauge, or its yarns cannot be told apart by their names.
    """
    totals = design.usage.by_yarn
    named = {total.yarn.name: total for total in totals}
    if len(named) < len(totals) or "" in named:
        listed = ", ".join(repr(total.yarn.name) for total in totals)
        raise OptionError(
            f"Testers report by the names of yarns, so each must have its own; got {listed}. Name them with `mk.Yarns`."
        )
    return named


def checked_for(report: PieceReport, design: Tested) -> Design:
    """Check a report against the edition that it is about, which is given back; raises `OptionError`."""
    tested = edition_of(design, report)
    known = totals_of(tested) if report.yarns else {}
    for number, used in enumerate(report.yarns, 1):
        if used.yarn not in known:
            listed = ", ".join(map(repr, known))
            raise OptionError(f"`yarns`, entry {number}: the design has no yarn {used.yarn!r}; it has {listed}.")
    rows, stitches = tested.shape
    for number, snag in enumerate(report.snags, 1):
        for name, value, most in (("row", snag.row, rows), ("stitch", snag.stitch, stitches)):
            if value is not None and value > most:
                raise OptionError(f"`snags`, entry {number}: expected a {name} from 1 to {most}; got {value}.")
    return tested


def checked_all(reports: Iterable[PieceReport], design: Tested) -> list[tuple[PieceReport, Design]]:
    """Check reports, each against its own edition, and that no tester's label stands twice for one edition and size."""
    found = [(report, checked_for(report, design)) for report in each_of_kind("reports", reports, PieceReport)]
    seen: set[tuple[str, int, str]] = set()
    for report, _ in found:
        key = (report.tester, report.edition, report.size)
        if key in seen:
            raise OptionError(
                f"`reports` must have one report of tester {report.tester!r} for edition {report.edition}; got two. "
                "Leave out the earlier one, or give one of the two testers another label."
            )
        seen.add(key)
    return found
