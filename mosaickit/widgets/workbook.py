"""The workbook: a painter, and beside it everything that follows from the picture.

Size, both faces, stitches and yarn follow every stroke and every setting. Nothing is worked out here: the settings
choose what the library is asked, and its tables and pictures are shown.
"""

from __future__ import annotations

from functools import partial
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any

import ipywidgets  # type: ignore[import-untyped]  # it ships no types

from mosaickit import draw, tables
from mosaickit.errors import MosaickitError, UnworkableError, number_of, of_kind
from mosaickit.fabric import Chart, compile_chart, work
from mosaickit.files import Owner, as_path, place, save, save_bytes
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif
from mosaickit.orientation import Hand
from mosaickit.widgets import parts
from mosaickit.widgets.painter import MotifPainter
from mosaickit.widgets.saving import Files, Saving, written
from mosaickit.yarn import Usage, YarnSettings, yarn_usage


class Workbook(ipywidgets.VBox):  # type: ignore[misc]  # ipywidgets ships no types
    """A painter with everything that follows from the picture beside it.

    Parameters
    ----------
    motif : Motif
        What to start from; may be unworkable.
    gauge : Gauge, optional
        Stitches and rows over a measured swatch; 16 by 17 over 10 cm if left out.
    autosave : path, optional
        As `MotifPainter` takes it.
    hand : "right" or "left"
        The hand that holds the hook.
    folder : path
        Where the export buttons write.

    Attributes
    ----------
    painter : MotifPainter
        The painter.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     book = Workbook(Motif.from_text("..."), autosave=Path(folder) / "dots.sketch")
    ...     book.size.value
    '1 row of 3 stitches: 1.9 × 0.6 cm'
    """

    def __init__(
        self,
        motif: Motif,
        *,
        gauge: Gauge | None = None,
        autosave: str | PathLike[str] | None = None,
        hand: Hand = "right",
        folder: str | PathLike[str] = ".",
    ) -> None:
        of_kind("gauge", gauge, Gauge, or_none=True)
        gauge = gauge or Gauge(16, 17)
        self.folder = as_path(folder, "folder")
        self.painter = MotifPainter(motif, autosave=autosave, hand=hand, gauge=gauge)
        self.fabric = parts.choice("Fabric", ["plain", "reversible"], "reversible")
        self.between_rows = parts.choice("Yarn between rows", ["carried", "cut"], "carried")
        self.shape = parts.choice("Worked", ["flat", "in the round"], "flat")
        over_cm = gauge.swatch_cm
        self.stitches = parts.number("Stitches in 10 cm", gauge.stitches * 10 / over_cm[0])
        self.rows = parts.number("Rows in 10 cm", gauge.rows * 10 / over_cm[1])
        self.size, self.trouble = ipywidgets.Label(), ipywidgets.HTML()
        self.faces, self.counts, self.yarn = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        self.bars = ipywidgets.HTML()
        self.saving = Saving()
        self.settings = [self.fabric, self.between_rows, self.shape, self.stitches, self.rows]
        super().__init__([self.painter, ipywidgets.VBox([*self._page()])])
        for setting in self.settings:
            setting.observe(self._follow, names="value")
        self.painter.observe(self._follow, names="motif")
        self._follow()

    def _page(self) -> list[Any]:
        formats = {"JSON": self._json, "PNG": self._png, "SVG": self._svg, "CSV": self._csv}
        buttons = [self.saving.button(f"Save {name}", files) for name, files in formats.items()]
        return [
            ipywidgets.HBox(self.settings, layout=parts.WRAP),
            self.size,
            self.trouble,
            ipywidgets.HBox([self.faces, self.bars], layout=parts.WRAP),
            ipywidgets.HBox([self.yarn, self.counts], layout=parts.WRAP),
            ipywidgets.HBox([*buttons, self.saving], layout=parts.WRAP),
        ]

    # ---- what follows --------------------------------------------------------------------------------------

    @property
    def motif(self) -> Motif:
        """The picture now."""
        motif: Motif = self.painter.motif
        return motif

    @motif.setter
    def motif(self, motif: Motif) -> None:
        self.painter.motif = motif

    @property
    def gauge(self) -> Gauge:
        """The gauge that the settings say, over 10 cm."""
        return Gauge(self.stitches.value, self.rows.value)

    @property
    def chart(self) -> Chart:
        """The chart of the picture now, as the settings say; raises `UnworkableError` if there is none."""
        return compile_chart(
            self.motif,
            self.fabric.value == "reversible",
            hand=self.painter.sheet["edge"],
            in_the_round=self.shape.value == "in the round",
        )

    def usage(self, chart: Chart) -> Usage:
        """Give the yarn that a chart takes, as the settings say."""
        return yarn_usage(chart, self.gauge, yarn_settings=YarnSettings(between_rows=self.between_rows.value))

    def _follow(self, _: object = None) -> None:
        """Show what follows from the picture and the settings, or why nothing does."""
        try:
            width, height = self.gauge.size_cm(*self.motif.shape)
            rows, stitches = (number_of(n, word) for n, word in zip(self.motif.shape, ("row", "stitch"), strict=True))
            self.size.value = f"{rows} of {stitches}: {width:.1f} × {height:.1f} cm"
            chart = self.chart
            usage = self.usage(chart)
            self.faces.value = work(chart)._repr_svg_()
            self.counts.value = parts.table(tables.count(chart))
            self.yarn.value = parts.table(tables.yarn_totals(usage).round(1))
            self.bars.value = _bars(usage)
            self.trouble.value = ""
        except UnworkableError:
            self._clear("Faces, stitches and yarn follow when the picture can be worked.")
        except MosaickitError as error:
            self._clear(str(error))

    def _clear(self, reason: str) -> None:
        self.faces.value = self.counts.value = self.yarn.value = self.bars.value = ""
        self.trouble.value = f"<p role='status'>{escape(reason)}</p>"

    # ---- files ---------------------------------------------------------------------------------------------

    def _path(self, ending: str) -> Path:
        return self.folder / f"{parts.file_name(self.motif.name)}{ending}"

    def _design(self) -> str:
        """Give what files are known by: the motif's name, or else the drawing."""
        return self.motif.name or place(self.painter.autosave, self.folder)

    def _json(self) -> Files:
        return [(self._path(".json"), partial(save, self.motif, design=self._design()))]

    def _png(self) -> Files:
        return [(self._path(".png"), partial(save, self.motif, square=10, design=self._design()))]

    def _svg(self) -> Files:
        data, design = self.chart._repr_svg_().encode("utf-8"), Owner("picture", self._design())
        return [(self._path("-chart.svg"), partial(save_bytes, data=data, design=design))]

    def _csv(self) -> Files:
        chart = self.chart
        frames = {"-stitches.csv": tables.count(chart), "-yarn.csv": tables.yarn_rows(self.usage(chart))}
        return [
            (self._path(ending), partial(tables.save_table, frame, design=self._design()))
            for ending, frame in frames.items()
        ]

    def export_json(self, *, replace: bool = False) -> list[Path]:
        """Save the motif as JSON and give the file; `replace` as `mk.save` takes it."""
        return written(self._json(), replace=replace)

    def export_png(self, *, replace: bool = False) -> list[Path]:
        """Save the motif as PNG, ten pixels a square, and give the file; `replace` as `mk.save` takes it."""
        return written(self._png(), replace=replace)

    def export_svg(self, *, replace: bool = False) -> list[Path]:
        """Save the chart as SVG and give the file; `replace` as `mk.save` takes it."""
        return written(self._svg(), replace=replace)

    def export_csv(self, *, replace: bool = False) -> list[Path]:
        """Save stitches a row and yarn a row as CSV and give the two files; `replace` as `mk.save` takes it."""
        return written(self._csv(), replace=replace)


def _bars(usage: Usage) -> str:
    """Draw the yarn a row as an HTML image."""
    height = min(max(2.2, 0.13 * len(usage.total_m)), 30)
    return parts.picture(lambda ax: draw.yarn(usage, ax=ax), (5, height), f"Yarn a row as bars: {usage.summary}")
