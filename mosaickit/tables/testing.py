"""Tables of a round of testing: a line for each tester, and a line for each thing that puzzled one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pandas as pd

from mosaickit.sizes import Design, PieceReport, Tested, checked_all, totals_of


def reports(design: Tested, reports: Iterable[PieceReport]) -> pd.DataFrame:
    """Table what testers report, a line for each.

    Parameters
    ----------
    design : Design or mapping of str to Design
        The design that was tested, with its editions, or one for each size by its label.
    reports : reports
        Of the testers.

    Returns
    -------
    DataFrame
        Index "tester": their labels, in the order of `reports`. Columns: edition, size, hook mm; their gauge as sts and
        rows to 10 cm; of each yarn its metres and, as "... of estimate", its share of what the edition says; width and
        length in cm before and after blocking; hours; snags, how many; remarks. What a tester does not say is missing
        (pandas' NA); a column that none says anything in is left out.

    Raises
    ------
    OptionError
        If a report does not fit its edition, two have the same label, or a yarn was weighed and no label says its
        metres.
    """
    checked = checked_all(reports, design)
    lines = [_line(report, tested) for report, tested in checked]
    yarns = list(dict.fromkeys(used.yarn for report, _ in checked for used in report.yarns))
    of_yarns = [f"{name} {what}" for name in yarns for what in ("m", "of estimate")]
    columns: dict[str, pd.Series[Any]] = {}
    for name, kind in {**_BEFORE_YARNS, **dict.fromkeys(of_yarns, "Float64"), **_AFTER_YARNS}.items():
        values = [line.get(name) for line in lines]
        if any(value not in (None, "") for value in values) or name in ("edition", "snags"):
            columns[name] = pd.Series(values, dtype=kind)
    table = pd.DataFrame(columns)
    table.index = pd.Index([report.tester for report, _ in checked], dtype=object, name="tester")
    return table


_BEFORE_YARNS = {"edition": "int64", "size": "object", "hook mm": "Float64"}
_BEFORE_YARNS |= {"sts to 10 cm": "Float64", "rows to 10 cm": "Float64"}
_SIDES = [f"{side} {when} cm" for when in ("before", "after") for side in ("width", "length")]
_AFTER_YARNS = {**dict.fromkeys(_SIDES, "Float64"), "hours": "Float64", "snags": "int64", "remarks": "object"}


def _line(report: PieceReport, tested: Design) -> dict[str, Any]:
    line: dict[str, Any] = {"edition": report.edition, "size": report.size, "hook mm": report.hook_mm}
    if report.gauge is not None:
        line["sts to 10 cm"] = 10 / report.gauge.stitch_width_cm
        line["rows to 10 cm"] = 10 / report.gauge.row_height_cm
    totals = totals_of(tested) if report.yarns else {}
    for used in report.yarns:
        total = totals[used.yarn]
        metres = used.metres_by(total.skein)
        line[f"{used.yarn} m"], line[f"{used.yarn} of estimate"] = metres, metres / total.likely_m
    sides = (*(report.before_cm or (None, None)), *(report.after_cm or (None, None)))
    return {
        **line,
        **dict(zip(_SIDES, sides, strict=True)),
        "hours": report.hours,
        "snags": len(report.snags),
        "remarks": report.remarks,
    }


def snags(design: Tested, reports: Iterable[PieceReport]) -> pd.DataFrame:
    """Table what puzzled testers, a line for each thing.

    Parameters
    ----------
    design : Design or mapping of str to Design
        The design that was tested, with its editions, or one for each size by its label.
    reports : reports
        Of the testers.

    Returns
    -------
    DataFrame
        Columns: edition, size, row, stitch, kind, text, tester; and testers, how many named the same place of the same
        edition and size. In the order of rows and stitches; what is in no row comes first, and its row and stitch are
        missing (pandas' NA).

    Raises
    ------
    OptionError
        If a report does not fit its edition, or two have the same label.
    """
    found = [
        (report.edition, report.size, snag.row or 0, snag.stitch or 0, number, snag, report.tester)
        for number, (report, _) in enumerate(checked_all(reports, design))
        for snag in report.snags
    ]
    found.sort(key=lambda line: line[:5])
    at: dict[tuple[int, str, int, int], set[str]] = {}
    for edition, size, row, stitch, _, _, tester in found:
        at.setdefault((edition, size, row, stitch), set()).add(tester)
    return pd.DataFrame(
        {
            "edition": pd.Series([line[0] for line in found], dtype="int64"),
            "size": pd.Series([line[1] for line in found], dtype="object"),
            "row": pd.Series([line[5].row for line in found], dtype="Int64"),
            "stitch": pd.Series([line[5].stitch for line in found], dtype="Int64"),
            "kind": pd.Series([line[5].kind for line in found], dtype="object"),
            "text": pd.Series([line[5].text for line in found], dtype="object"),
            "tester": pd.Series([line[6] for line in found], dtype="object"),
            "testers": pd.Series([len(at[line[:4]]) for line in found], dtype="int64"),
        }
    )
