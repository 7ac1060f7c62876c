"""Candidates: the lines of a sweep as a table, each with the layout it stands for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from mosaickit.doors import late
from mosaickit.errors import OptionError
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.ranking import OFF, Criteria, pareto, rank
from mosaickit.sizes.sweeps.choices import UNNAMED, Task
from mosaickit.sizes.sweeps.figures import LINE_FIGURES, Calculator
from mosaickit.sizes.widths.sides import SLACK

if TYPE_CHECKING:
    import pandas as pd
else:
    pd = late("pandas")


@dataclass(frozen=True, repr=False, eq=False)
class Sweep:
    """The lines of a sweep.

    Attributes
    ----------
    table : DataFrame
        A line for each candidate, numbered from 1: see `sweep`.
    """

    table: pd.DataFrame
    _task: Task
    _numbers: NDArray[np.int64]
    _starts: tuple[Design | None, ...]

    def __len__(self) -> int:
        return len(self.table)

    def __repr__(self) -> str:
        return f"<Sweep of {len(self)} candidates, {int(self.table['can be worked'].sum())} can be worked>"

    def _repr_html_(self) -> str:
        # the reasons are long, and each line would be as high as its reason
        return str(self.table.drop(columns="why not")._repr_html_())  # type: ignore[operator]

    def layout(self, line: int) -> Layout:
        """Give the layout of a line, which builds its picture.

        Parameters
        ----------
        line : int
            Its number in the table, from 1.

        Raises
        ------
        OptionError
            If there is no such line, or its combination makes no sense.
        """
        calculator, at, value = self._chosen(line)
        return calculator.laid(at, value, value["across"], value["up"])

    def design(self, line: int) -> Design:
        """Give the design of a line: what was chosen in it, and its counts of repeats.

        Parameters
        ----------
        line : int
            Its number in the table, from 1.

        Returns
        -------
        Design
            Its size, stitches and yarn are those of the line, and all else is that of the design among the motifs, if
            it was one. Its width lies along the rows, which is the length of the piece where rows run along that.

        Raises
        ------
        OptionError
            If there is no such line, or its combination makes no sense.
        """
        _, at, value = self._chosen(line)
        motif, start = self._task.pictures[at["motifs"]][at["variants"]], self._starts[at["motifs"]]
        chosen = {
            "gauge": value["gauges"],
            "across": value["across"],
            "up": value["up"],
            "surround": value["surrounds"],
            "reversible": value["reversible"],
            "yarn_settings": value["yarn_settings"],
        }
        if start is None:
            return Design(motif, **chosen)
        # measured lengths are none of a sweep's
        return start.but(motif=motif.named(start.motif.name), by_thread=False, swatches=(), **chosen)

    def _chosen(self, line: int) -> tuple[Calculator, dict[str, int], dict[str, Any]]:
        """Give what works out a line, and the place and value of each of its choices, with its counts of repeats."""
        if line not in self.table.index:
            raise OptionError(f"`line` must be one of the {len(self)} lines of the sweep, from 1; got {line!r}.")
        calculator = Calculator(self._task)
        at, value = calculator.chosen(int(self._numbers[line - 1]))
        counts = (int(self.table.at[line, f"repeats {way}"]) for way in ("across", "up"))  # type: ignore[arg-type]
        return calculator, at, value | dict(zip(("across", "up"), counts, strict=True))

    def rank(self, weights: Criteria) -> pd.DataFrame:
        """Put the candidates that can be worked in order, the best first: see `rank`."""
        return rank(self.table, weights)

    def pareto(self, criteria: Criteria) -> pd.DataFrame:
        """Give the candidates that no other one beats in everything: see `pareto`."""
        return pareto(self.table, criteria)


def table_of(task: Task, columns: list[list[Any]], stitches_a_minute: float) -> tuple[pd.DataFrame, NDArray[np.int64]]:
    """Make the table of the figures, a list for each of `LINE_FIGURES`, and give the combination of each line, (L,)."""
    figures = dict(zip(LINE_FIGURES, columns, strict=True))
    numbers = np.array(figures["number"], dtype=np.int64)
    places = dict(zip(task.choices, np.unravel_index(numbers, task.dimensions), strict=True))

    def of_lines(name: str, of_values: Sequence[Any]) -> NDArray[Any]:
        found = np.empty(len(of_values), dtype=object)
        found[:] = of_values
        return found[places[name]]

    def chosen(name: str) -> NDArray[Any]:
        return of_lines(name, task.choices[name].labels)

    def measured(name: str) -> NDArray[np.float64]:
        return np.array(figures[name], dtype=np.float64)

    table: dict[str, Any] = {}
    for name, choice in task.choices.items():
        if name in ("across", "up", "width", "length"):
            continue
        if not choice.hidden:
            table[choice.column] = pd.Series(chosen(name)).infer_objects()
        if name in ("surrounds", "yarn_settings"):
            table |= {
                field.replace("_", " "): pd.Series(of_lines(name, values)).infer_objects()
                for field, values in choice.differing().items()
                if field not in UNNAMED
            }
    in_the_round = [surround.in_the_round for surround in task.choices["surrounds"].values]
    stitches, rows = np.array(figures["stitches"]), np.array(figures["rows"])
    cells = np.array([(gauge.stitch_width_cm, gauge.row_height_cm) for gauge in task.choices["gauges"].values])
    edges = _edges_cm(task)[places["motifs"], places["surrounds"], places["gauges"]]
    edges[stitches == 0] = 0.0  # a combination that makes no sense
    along_row, along_column = (np.stack([stitches, rows], axis=1) * cells[places["gauges"]] + edges).T
    across = chosen("worked") == "across"
    sizes = {"width": np.where(across, along_row, along_column), "length": np.where(across, along_column, along_row)}
    wanted = {name: chosen(name).astype(np.float64) for name in sizes if task.choices[name].values != (None,)}
    off = {name: 100 * (sizes[name] / size - 1) for name, size in wanted.items()}
    table |= {f"wanted {name} cm": size for name, size in wanted.items() if not task.choices[name].hidden}
    table |= {
        "repeats across": np.array(figures["across"]),
        "repeats up": np.array(figures["up"]),
        "stitches": stitches,
        "foundation chain": stitches + ~of_lines("surrounds", in_the_round).astype(bool),
        "rows": rows,
        **{f"{name} cm": size for name, size in sizes.items()},
        **{f"{name} {OFF}": share for name, share in off.items()},
    }
    if off:
        most = 100 * (task.tolerance + SLACK)
        table["within tolerance"] = np.all([np.abs(share) <= most for share in off.values()], axis=0)
    why = pd.Series(figures["why"], dtype=object)
    of_mc, of_cc = measured("mc"), measured("cc")
    table |= {
        "can be worked": why == "",
        "centred": pd.Series(figures["centred"], dtype=object) == True,  # noqa: E712 — None is not centred
        "FLdc percent": 100 * measured("overlaid") / np.maximum(stitches * rows, 1),
        "at least m": measured("low"),
        "yarn m": of_mc + of_cc,
        "at most m": measured("high"),
        "MC yarn m": of_mc,
        "CC yarn m": of_cc,
    }
    if any(rates.yarn_settings.skeins is not None for of_gauge in task.rates for rates in of_gauge):
        table |= {
            "skeins": measured("skeins"),
            "MC skeins": measured("mc skeins"),
            "CC skeins": measured("cc skeins"),
            "leftover m": measured("leftover"),
        }
    edge_stitches = np.nan_to_num(measured("edge stitches"))
    table |= {"minutes": (stitches * rows + edge_stitches) / stitches_a_minute, "why not": why}
    framed = pd.DataFrame(table)
    framed.index = pd.RangeIndex(1, len(framed) + 1, name="line")
    return framed, numbers


def _edges_cm(task: Task) -> NDArray[np.float64]:
    """Give by how much the border makes a piece longer along the rows and across, (motifs, surrounds, gauges, 2)."""
    counts = [len(task.choices[name].values) for name in ("motifs", "surrounds", "gauges")]
    return np.array([task.edges_add_cm(*place) for place in np.ndindex(*counts)]).reshape(*counts, 2)
