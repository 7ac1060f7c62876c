"""Counts, yarn, fits and variants as pandas tables: the one place where records become DataFrames.

Rows are in working order, row 1 first, and the index holds the maker's row numbers or the names of yarns. Nothing
is worked out here but sums. Whole numbers stay whole, and a column that nothing is known for is left out, so that
no table has a hole in it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from io import BytesIO
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from mosaickit.errors import OptionError, each_of_kind, of_kind
from mosaickit.fabric import Chart, Stitch, count_rows
from mosaickit.files import Owner, as_path, save_bytes
from mosaickit.ideas import Variant
from mosaickit.sizes import Comparison, Design, DesignFigures, DesignFolder, WidthPlan
from mosaickit.yarn import Usage, YarnTotal

__all__ = [
    "compared",
    "count",
    "count_by_yarn",
    "fits",
    "listed",
    "save_table",
    "variants",
    "yarn_rows",
    "yarn_totals",
]

TOTAL = "total"
"""The label of the last line of a table that has one."""

STITCH_COLUMNS = [kind.abbreviation for kind in Stitch]


def count(chart: Chart) -> pd.DataFrame:
    """Table the stitches of each row.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.

    Returns
    -------
    DataFrame, (R + 1) lines
        Index "row": 1 to R, then "total". Columns: colour ("MC" or "CC"), yarn, a column for each kind of stitch
        (sc, BLsc, FLdc, tog-b, tog-f; 0 where there is none), and stitches, their sum. Colour and yarn of the
        last line are empty.

    Raises
    ------
    ChartError
        If a row does not use up exactly the stitches of the row below.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... |.
    ... ..
    ... ..
    ... ''')
    >>> count(chart)[["colour", "sc", "BLsc", "FLdc", "stitches"]]
          colour  sc  BLsc  FLdc  stitches
    row
    1         MC   2     0     0         2
    2         CC   0     2     0         2
    3         MC   0     1     1         2
    total          2     3     1         6
    """
    counts = count_rows(chart)
    numbers = np.vstack([counts.stitches, counts.total])
    return pd.DataFrame(
        {
            "colour": [*counts.row_colours, ""],
            "yarn": [*(yarn.name for yarn in counts.yarns), ""],
            **dict(zip(STITCH_COLUMNS, numbers.T, strict=True)),
            "stitches": numbers.sum(axis=1),
        },
        index=pd.Index([*range(1, len(numbers)), TOTAL], dtype=object, name="row"),
    )


def count_by_yarn(chart: Chart) -> pd.DataFrame:
    """Table the rows and stitches of each yarn in each colour.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches in working order.

    Returns
    -------
    DataFrame
        Index "yarn": the names, in the order of their first rows, then "total"; a yarn that plays both colours
        has a line for each. Columns: colour, rows, the kinds of stitch, and stitches.

    Raises
    ------
    ChartError
        If a row does not use up exactly the stitches of the row below.
    """
    counts = count_rows(chart)
    line_of_row = list(zip(counts.yarns, counts.row_colours, strict=True))
    lines = {line: number for number, line in enumerate(dict.fromkeys(line_of_row))}
    numbers = np.zeros((len(lines) + 1, len(STITCH_COLUMNS) + 1), dtype=np.int64)
    rows_and_stitches = np.column_stack([np.ones(len(counts.stitches), dtype=np.int64), counts.stitches])
    np.add.at(numbers, [lines[line] for line in line_of_row], rows_and_stitches)
    numbers[-1] = rows_and_stitches.sum(axis=0)
    return pd.DataFrame(
        {
            "colour": [*(colour for _, colour in lines), ""],
            **dict(zip(["rows", *STITCH_COLUMNS], numbers.T, strict=True)),
            "stitches": numbers[:, 1:].sum(axis=1),
        },
        index=pd.Index([*(yarn.name for yarn, _ in lines), TOTAL], dtype=object, name="yarn"),
    )


def yarn_rows(usage: Usage) -> pd.DataFrame:
    """Table the yarn that each row takes.

    Parameters
    ----------
    usage : Usage
        What `yarn_usage` found.

    Returns
    -------
    DataFrame, R lines
        Index "row": 1 to R. Columns: colour, yarn; in metres what goes into stitches, foundation, chains, carried
        strand and tails; and the whole: low, likely, high.
    """
    of_kind("usage", usage, Usage)
    return pd.DataFrame(
        {
            "colour": list(usage.row_colours),
            "yarn": [yarn.name for yarn in usage.yarns],
            "stitches m": usage.stitches_m,
            "foundation m": usage.foundation_m,
            "chains m": usage.chain_m,
            "carried m": usage.carried_m,
            "tails m": usage.tails_m,
            "at least m": usage.low_m,
            "yarn m": usage.total_m,
            "at most m": usage.high_m,
        },
        index=pd.RangeIndex(1, len(usage.yarns) + 1, name="row"),
    )


def yarn_totals(usage: Usage) -> pd.DataFrame:
    """Table how much of each yarn to have at hand.

    Parameters
    ----------
    usage : Usage
        What `yarn_usage` found.

    Returns
    -------
    DataFrame
        Index "yarn": the names, in the order in which they are first used, then "total". Columns: at least m, yarn m,
        at most m, yarn yd; and, where the skeins are known, grams, skeins (whole ones to buy, for at most m) and
        leftover m (what is likely left of them).
    """
    of_kind("usage", usage, Usage)
    totals = usage.by_yarn
    columns: dict[str, list[Any]] = {
        "at least m": [total.low_m for total in totals],
        "yarn m": [total.likely_m for total in totals],
        "at most m": [total.high_m for total in totals],
        "yarn yd": [total.likely_yd for total in totals],
    }
    if all(total.skein is not None for total in totals):
        columns["grams"] = [total.grams for total in totals]
        columns["skeins"] = [total.skeins for total in totals]
        columns["leftover m"] = [total.leftover_m for total in totals]
    return pd.DataFrame(
        {name: [*column, sum(column)] for name, column in columns.items()},
        index=pd.Index([*(total.yarn.name for total in totals), TOTAL], dtype=object, name="yarn"),
    )


def fits(plan: WidthPlan) -> pd.DataFrame:
    """Table what each fit of a plan measures and costs.

    Parameters
    ----------
    plan : WidthPlan
        What `plan_widths` found.

    Returns
    -------
    DataFrame, a line for each fit
        Index "fit": 1 for the nearest, and so on. Columns: repeats across, repeats up, stitches, foundation chain,
        rows; width cm, width in, length cm, length in; width off percent (below 0 if too small) and, if a length was
        asked for, length off percent; centred; FLdc percent; at least m, yarn m, at most m of all yarn; for each yarn
        "NAME: at least m", yarn m and at most m and, where skeins are known, skeins and leftover m (yarns of one name
        are summed, and a yarn that a fit does not use is 0); what the reversible fabric takes on top of the plain one
        in percent; the likely metres if yarn is carried and if it is cut; minutes.
    """
    of_kind("plan", plan, WidthPlan)
    known = plan.design.yarn_settings.skeins is not None
    measured = pd.DataFrame(
        {
            "repeats across": [fit.across for fit in plan.fits],
            "repeats up": [fit.up for fit in plan.fits],
            "stitches": [fit.stitches for fit in plan.fits],
            "foundation chain": [fit.foundation_chain for fit in plan.fits],
            "rows": [fit.rows for fit in plan.fits],
            "width cm": [fit.width_cm for fit in plan.fits],
            "width in": [fit.width_in for fit in plan.fits],
            "length cm": [fit.length_cm for fit in plan.fits],
            "length in": [fit.length_in for fit in plan.fits],
            "width off percent": [100 * fit.deviation for fit in plan.fits],
            "length off percent": [100 * (fit.length_deviation or 0.0) for fit in plan.fits],
            "centred": [fit.centred for fit in plan.fits],
            "FLdc percent": [100 * fit.fldc_share for fit in plan.fits],
            "at least m": [fit.usage.low_m for fit in plan.fits],
            "yarn m": [fit.usage.likely_m for fit in plan.fits],
            "at most m": [fit.usage.high_m for fit in plan.fits],
        }
    )
    if plan.wanted.length_cm is None:
        del measured["length off percent"]
    of_yarns = pd.DataFrame([_amounts(fit.by_yarn, known) for fit in plan.fits]).fillna(0)
    if known:
        whole = [name for name in of_yarns.columns if name.endswith(": skeins")]
        of_yarns = of_yarns.astype(dict.fromkeys(whole, np.int64))
    compared = pd.DataFrame(
        {
            "reversible surcharge percent": [100 * fit.surcharge for fit in plan.fits],
            "carried m": [fit.carried_and_cut_m[0] for fit in plan.fits],
            "cut m": [fit.carried_and_cut_m[1] for fit in plan.fits],
            "minutes": [fit.minutes for fit in plan.fits],
        }
    )
    table = pd.concat([measured, of_yarns, compared], axis=1)
    table.index = pd.RangeIndex(1, len(table) + 1, name="fit")
    return table


def _amounts(totals: tuple[YarnTotal, ...], known: bool) -> dict[str, float]:
    """Name the amounts of each yarn as columns; yarns of one name are summed."""
    amounts: dict[str, float] = {}
    for total in totals:
        named = {"at least m": total.low_m, "yarn m": total.likely_m, "at most m": total.high_m}
        if known:
            named |= {"skeins": total.skeins or 0, "leftover m": total.leftover_m or 0.0}
        for what, amount in named.items():
            column = f"{total.yarn.name}: {what}"
            amounts[column] = amounts.get(column, 0) + amount
    return amounts


def compared(comparison: Comparison) -> pd.DataFrame:
    """Table what differs between two designs.

    Parameters
    ----------
    comparison : Comparison
        What `mk.compare` found.

    Returns
    -------
    DataFrame
        Index "what": each decision and figure that differs. Columns: before, after, in words.
    """
    of_kind("comparison", comparison, Comparison)
    lines = comparison.differences
    return pd.DataFrame(
        {"before": [line.before for line in lines], "after": [line.after for line in lines]},
        index=pd.Index([line.what for line in lines], dtype=object, name="what"),
    )


def listed(folder: DesignFolder) -> pd.DataFrame:
    """Table the designs of a folder.

    Parameters
    ----------
    folder : DesignFolder
        What `mk.designs` lists.

    Returns
    -------
    DataFrame, a line for each file
        Index "file": its name. Columns: title; motif rows and motif stitches of one repeat; rows and stitches of the
        piece; width cm, length cm, yarn m (all yarns, likely) and skeins (all yarns, to buy), where they are known;
        changed, when the file was last changed; editions; can be worked; and why not, a sentence on why a file cannot
        be read, a design not be worked or its yarn not be told. What is not known is missing (pandas' NA); a column of
        which nothing is known is left out, and "why not" where there is nothing to say.
    """
    of_kind("folder", folder, DesignFolder)
    files = folder.files
    known = [(each.design, each.figures) for each in files]

    def of_each(kind: str, told: Callable[[Design, DesignFigures], object]) -> pd.Series[Any]:
        values = [None if one is None or figures is None else told(one, figures) for one, figures in known]
        return pd.Series(values, dtype=kind)

    table = pd.DataFrame(
        {
            "title": of_each("string", lambda one, _: one.title),
            "motif rows": of_each("Int64", lambda one, _: one.motif.shape[0]),
            "motif stitches": of_each("Int64", lambda one, _: one.motif.shape[1]),
            "rows": of_each("Int64", lambda _, figures: figures.rows),
            "stitches": of_each("Int64", lambda _, figures: figures.stitches),
            "width cm": of_each("Float64", lambda _, figures: figures.size and figures.size.width_cm),
            "length cm": of_each("Float64", lambda _, figures: figures.size and figures.size.length_cm),
            "yarn m": of_each("Float64", lambda _, figures: figures.yarn_m),
            "skeins": of_each("Int64", lambda _, figures: figures.skeins),
            "changed": pd.Series([each.changed for each in files], dtype="datetime64[s]"),
            "editions": of_each("Int64", lambda one, _: len(one.editions)),
            "can be worked": of_each("boolean", lambda _, figures: figures.workable),
            "why not": pd.Series(
                [each.fault or (each.figures.why_not if each.figures else "") for each in files], dtype="string"
            ),
        }
    )
    unknown = [name for name in ("width cm", "length cm", "yarn m", "skeins") if table[name].isna().all()]
    if (table["why not"] == "").all():
        unknown.append("why not")
    return table.drop(columns=unknown).set_index(pd.Index([each.name for each in files], dtype=object, name="file"))


def variants(variants: Iterable[Variant]) -> pd.DataFrame:
    """Table the figures of variants.

    Parameters
    ----------
    variants : variants in order
        A `mk.family`, or some of one.

    Returns
    -------
    DataFrame, a line for each variant
        Index "variant": 1 for the first, and so on. Columns: name, rows, stitches; mended, the squares that had to
        change; FLdc percent; what the reversible fabric takes on top of the plain one in percent; CC percent; the
        most FLdc side by side; on how many percent of squares the back differs from the front; how many percent are as
        in the original. `mk.rank` and `mk.pareto` take it.

    Examples
    --------
    >>> from mosaickit.ideas import family
    >>> from mosaickit.motif import Motif
    >>> dash = Motif.from_array(np.pad([[1, 1]], 1))
    >>> variants(family(dash, kinds=["frames"]))[["name", "rows", "stitches", "mended"]]
                             name  rows  stitches  mended
    variant
    1                    as it is     3         4       0
    2            framed in 1 ring     5         6       0
    3           framed in 2 rings     7         8       0
    4           framed in 3 rings     9        10       0
    """
    listed = each_of_kind("variants", variants, Variant)
    return pd.DataFrame(
        {
            "name": pd.Series([variant.name for variant in listed], dtype=object),
            "rows": [variant.motif.shape[0] for variant in listed],
            "stitches": [variant.motif.shape[1] for variant in listed],
            "mended": [variant.changed for variant in listed],
            "FLdc percent": [100 * variant.figures.fldc_share for variant in listed],
            "reversible surcharge percent": [100 * variant.figures.surcharge for variant in listed],
            "CC percent": [100 * variant.figures.cc_share for variant in listed],
            "FLdc side by side": [variant.figures.longest_bare for variant in listed],
            "back differs percent": [100 * variant.figures.back_contrast for variant in listed],
            "similar percent": [100 * variant.figures.similarity for variant in listed],
        }
    ).set_index(pd.RangeIndex(1, len(listed) + 1, name="variant"))


def save_table(table: pd.DataFrame, path: str | PathLike[str], *, design: str = "", replace: bool = False) -> Path:
    """Write a table to a file.

    Parameters
    ----------
    table : DataFrame
        Any table with one row of column names; its index is written as the first column.
    path : path
        Ends in .csv or .xlsx.
    design : str
        The name of the design that it belongs to, as ``chart.name``. Left out, a table that is there is replaced by
        the very same one only.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file. Numbers are written so that they are read back as they are, and text as text: what begins with an
        equals sign is no formula.

    Raises
    ------
    OptionError
        If the path has another ending.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    of_kind("table", table, pd.DataFrame)
    file = as_path(path)
    ending = file.suffix.lower()
    if ending not in (".csv", ".xlsx"):
        raise OptionError(f"`path` must end in .csv or .xlsx; got {str(file)!r}.")
    text = table.to_csv(lineterminator="\n")
    known = Owner("table", design, text)
    if ending == ".csv":
        return save_bytes(file, text.encode("utf-8"), known, replace=replace)
    data = BytesIO()
    with pd.ExcelWriter(data, engine="openpyxl") as writer:
        table.to_excel(writer, freeze_panes=(1, 1))
        for row in writer.book.worksheets[0].iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    cell.data_type = "s"
    return save_bytes(file, data.getvalue(), known, replace=replace)
