"""Tables of designs: what differs between two, and what a folder of them holds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pandas as pd

from mosaickit.errors import of_kind
from mosaickit.motif import Motif
from mosaickit.sizes import CentreDesign, Comparison, Design, DesignFigures, DesignFolder


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
        piece, of a square from the centre the squares of its sides; width cm, length cm, yarn m (all yarns, likely) and
        skeins (all yarns, to buy), where they are known; changed, when the file was last changed; editions; can be
        worked; and why not, a sentence on why a file cannot be read, a design not be worked or its yarn not be told.
        What is not known is missing (pandas' NA); a column of which nothing is known is left out, and "why not" where
        there is nothing to say.
    """
    of_kind("folder", folder, DesignFolder)
    files = folder.files
    known = [(each.design, each.figures) for each in files]

    def of_each(kind: str, told: Callable[[Design | CentreDesign, DesignFigures], object]) -> pd.Series[Any]:
        values = [None if one is None or figures is None else told(one, figures) for one, figures in known]
        return pd.Series(values, dtype=kind)

    table = pd.DataFrame(
        {
            "title": of_each("string", lambda one, _: one.title),
            "motif rows": of_each("Int64", lambda one, _: _motif(one).shape[0]),
            "motif stitches": of_each("Int64", lambda one, _: _motif(one).shape[1]),
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


def _motif(design: Design | CentreDesign) -> Motif:
    return design.square.motif if isinstance(design, CentreDesign) else design.motif
