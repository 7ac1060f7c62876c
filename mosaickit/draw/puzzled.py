"""What puzzled testers, on the chart: a disc at each place that was named, with how many testers named it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from matplotlib.axes import Axes

from mosaickit import orientation
from mosaickit.draw.charts import chart
from mosaickit.draw.style import SMALL, ChartStyle
from mosaickit.errors import OptionError, number_of, of_kind, shortly, whole_number
from mosaickit.sizes import PieceReport, Snag, Tested, checked_all

_DISCS = {True: ("black", "white"), False: ("white", "black")}
"""Ground and ink of a disc, by whether any tester calls it an error."""


def snags(
    design: Tested,
    reports: Iterable[PieceReport],
    *,
    edition: int | None = None,
    size: str | None = None,
    ax: Axes | None = None,
    style: ChartStyle = ChartStyle(),  # noqa: B008 — frozen
) -> Axes:
    """Draw the chart that was tested, with what puzzled testers marked where they say.

    Parameters
    ----------
    design : Design or mapping of str to Design
        The design that was tested, with its editions, or one for each size by its label.
    reports : reports
        Of the testers. Those of other editions and sizes are left out, and the title says how many.
    edition : int, optional
        Which edition to draw; the latest that a report is about if left out.
    size : str, optional
        Which size to draw; that of the first report of the edition if left out.
    ax : Axes, optional
        Where to draw; a new figure that fits if left out.
    style : ChartStyle
        How the chart looks.

    Returns
    -------
    Axes
        As `chart` gives. A snag at a stitch has a disc on its square, one of a whole row a disc beside it, at the edge
        where rows end. The number in it is that of the testers who name the place; it is black where any of them calls
        it an error. What is in no row is counted in the title.

    Raises
    ------
    OptionError
        If a report does not fit its edition, or none is of the edition and size.
    """
    of_kind("ax", ax, Axes, or_none=True)
    of_kind("style", style, ChartStyle)
    checked = checked_all(reports, design)
    if edition is not None:
        whole_number("edition", edition, least=1)
    if size is not None and not isinstance(size, str):
        raise OptionError(f"`size` must be the label of a size; got {shortly(size)}.")
    latest = max((report.edition for report, _ in checked), default=0) if edition is None else edition
    here = [each for each in checked if each[0].edition == latest and size in (None, each[0].size)]
    here = [each for each in here if each[0].size == here[0][0].size]
    if not here:
        wanted = "" if edition is None else f" of edition {edition}"
        wanted += "" if size is None else f" of size {size!r}"
        raise OptionError(f"`reports` must hold at least one report{wanted}; got {number_of(len(checked), 'report')}.")
    tested = here[0][1]
    places: dict[tuple[int, int], list[tuple[str, Snag]]] = {}
    for report, _ in here:
        for snag in report.snags:
            places.setdefault((snag.row or 0, snag.stitch or 0), []).append((report.tester, snag))
    general = len(places.pop((0, 0), []))
    name = f"{tested.title}, edition {latest}" + (f", size {here[0][0].size}" if here[0][0].size else "")
    counted = [number_of(len(here), "report")]
    counted += [f"{number_of(general, 'snag')} in no row"] if general else []
    counted += [f"{len(checked) - len(here)} of other editions or sizes left out"] if len(checked) > len(here) else []
    title = f"{name}: {', '.join(counted)}\nBlack: an error. White: unclear, or other. The number: testers who say so."
    ax = chart(tested.chart, ax=ax, title=title, style=style)
    for (row, stitch), said in sorted(places.items()):
        _disc(ax, row, stitch, said, tested.shape, tested.hand)
    return ax


def _disc(
    ax: Axes,
    row: int,
    stitch: int,
    said: list[tuple[str, Snag]],
    shape: tuple[int, int],
    hand: orientation.Hand,
) -> None:
    ground, ink = _DISCS[any(snag.kind == "error" for _, snag in said)]
    top, left = orientation.square(row, stitch or shape[1], shape, hand)
    look: dict[str, Any] = {
        "fontsize": SMALL + 1,
        "color": ink,
        "weight": "bold",
        "ha": "center",
        "va": "center",
        "clip_on": False,
    }
    look["bbox"] = {"boxstyle": "circle,pad=0.2", "fc": ground, "ec": "white" if ground == "black" else "black"}
    count = str(len({tester for tester, _ in said}))
    middle = (left + 0.5, top + 0.5)
    if stitch:
        ax.annotate(count, middle, **look)
    else:  # outside, at the edge where the row ends
        out = -1 if orientation.working_edge(hand) == "right" else 1
        end = (left + (0 if out < 0 else 1), top + 0.5)
        ax.annotate(count, end, xytext=(11 * out, 0), textcoords="offset points", **look)
