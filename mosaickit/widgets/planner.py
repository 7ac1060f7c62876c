"""The width planner: which counts of repeats come near a wanted size, to be seen, compared and chosen from.

Every setting is an argument of `plan_widths`; the plan, its tables and its pictures are the library's.
"""

from __future__ import annotations

from functools import partial
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any

import ipywidgets  # type: ignore[import-untyped]  # it ships no types
import pandas as pd
import traitlets

from mosaickit import draw, tables
from mosaickit.errors import MosaickitError, OptionError, WidthError, of_kind, positive
from mosaickit.files import as_path
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif
from mosaickit.sizes import Fit, Surround, WidthPlan, plan_widths
from mosaickit.widgets import parts
from mosaickit.widgets.chooser import Chooser
from mosaickit.widgets.saving import Files, Saving, written
from mosaickit.widgets.slider import Slider, WholeSlider
from mosaickit.yarn import Skein, YarnSettings

MOST_SHOWN = 100
"""The table shows so many fits, the nearest; the files hold all."""

MOST_LOOKED_AT = 20
"""On a shared page so many fits can be looked at, the nearest: each is two pictures in its file."""

_DOZEN = 12
_WORKED = {"across the width": "across", "along the length": "along"}
_COLOURS = {"keep their colours": "keep", "swap colours where needed": "swap"}


class WidthPlanner(ipywidgets.VBox):  # type: ignore[misc]  # ipywidgets ships no types
    """Settings, the fits they lead to, the piece that is chosen, and the yarn.

    Parameters
    ----------
    motif : Motif
        One repeat.
    gauge : Gauge, optional
        Stitches and rows over a measured swatch; 16 by 17 over 10 cm if left out.
    width, length : float
        Wanted sizes in cm to start with.
    skein : Skein, optional
        What yarn is sold in.
    folder : path
        Where the export buttons write.

    Attributes
    ----------
    plan : WidthPlan or None
        What the settings lead to; None where nothing fits.
    fit : Fit or None
        The one that is chosen; can be observed.

    Examples
    --------
    >>> import numpy as np
    >>> planner = WidthPlanner(Motif.from_array(np.pad([[1]], 1)), width=20, length=30)
    >>> planner.fit.stitches
    32
    """

    fit = traitlets.Instance(Fit, allow_none=True)
    """The fit that is chosen."""

    def __init__(
        self,
        motif: Motif,
        *,
        gauge: Gauge | None = None,
        width: float = 22.0,
        length: float = 150.0,
        skein: Skein | None = None,
        folder: str | PathLike[str] = ".",
    ) -> None:
        of_kind("motif", motif, Motif)
        of_kind("gauge", gauge, Gauge, or_none=True)
        of_kind("skein", skein, Skein, or_none=True)
        width, length = positive("width", width, "cm"), positive("length", length, "cm")
        self.motif = motif
        self.folder = as_path(folder, "folder")
        self.plan: WidthPlan | None = None
        gauge = gauge or Gauge(16, 17)
        rows, columns = motif.shape
        self.width = Slider("Width in cm", width, least=2, most=200, step=0.5)
        self.length = Slider("Length in cm", length, least=2, most=300, step=0.5)
        self.tolerance = Slider("May differ by percent", 10.0, least=0, most=100, step=0.5)
        self.stitches = Slider("Stitches in 10 cm", 10 / gauge.stitch_width_cm, least=4, most=60, step=0.25)
        self.rows = Slider("Rows in 10 cm", 10 / gauge.row_height_cm, least=4, most=60, step=0.25)
        self.edges = WholeSlider("Edge stitches a side", 1, least=0, most=12)
        self.balance_across = WholeSlider("Closing stitches", 0, least=0, most=columns - 1)
        self.balance_up = WholeSlider("Closing rows", 0, least=0, most=rows - 1)
        self.rings = WholeSlider("Frame rings", 0, least=0, most=12)
        self.plain_rows = WholeSlider("Plain rows at both ends", 0, least=0, most=12)
        self.worked = parts.choice("Rows run", list(_WORKED), "across the width")
        self.colours = parts.choice("Repeats upward", list(_COLOURS), "swap colours where needed")
        self.shape = parts.choice("Worked", ["flat", "in the round"], "flat")
        self.fabric = parts.choice("Fabric", ["plain", "reversible"], "reversible")
        self.between_rows = parts.choice("Yarn between rows", ["carried", "cut"], "carried")
        self.skein_m = parts.number("Metres in a skein (0: not known)", skein.metres if skein else 0, least=0, most=1e5)
        self.speed = parts.number("Stitches a minute", 20, least=1, most=200, step=1)
        self.settings = {
            "Size": [self.width, self.length, self.tolerance, self.stitches, self.rows],
            "Around the repeats": [self.edges, self.balance_across, self.balance_up, self.rings, self.plain_rows],
            "Work": [self.worked, self.colours, self.shape, self.fabric, self.between_rows, self.skein_m, self.speed],
        }
        self.said, self.multiple = ipywidgets.HTML(), ipywidgets.HTML()
        self.cure = parts.button("Take that tolerance", self._take_tolerance)
        self.chooser = Chooser(pd.DataFrame(index=pd.Index([], name="fit")), caption="Counts of repeats that fit")
        self.piece, self.pieces, self.yarn = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        self.saving = Saving()
        super().__init__(self._page())
        for setting in (one for group in self.settings.values() for one in group):
            setting.observe(self._follow, names="value")
        self.chooser.observe(self._choose, names="chosen")
        self._follow()

    def _page(self) -> list[Any]:
        groups = [
            ipywidgets.VBox(
                [ipywidgets.HTML(f"<b>{name}</b>"), *group],
                layout=ipywidgets.Layout(margin="0 16px 8px 0", max_width="100%"),
            )
            for name, group in self.settings.items()
        ]
        saves = [
            self.saving.button(f"Save {name}", partial(self._table, ending))
            for name, ending in (("CSV", ".csv"), ("XLSX", ".xlsx"))
        ]
        return [
            ipywidgets.HBox(groups, layout=parts.WRAP),
            ipywidgets.HBox([self.said, self.cure], layout=parts.WRAP),
            self.multiple,
            self.chooser,
            ipywidgets.HBox([self.piece, self.pieces], layout=parts.WRAP),
            self.yarn,
            ipywidgets.HBox([*saves, self.saving], layout=parts.WRAP),
        ]

    # ---- what follows --------------------------------------------------------------------------------------

    @property
    def gauge(self) -> Gauge:
        """The gauge that the settings say, over 10 cm."""
        return Gauge(self.stitches.value, self.rows.value)

    @property
    def surround(self) -> Surround:
        """What stands around the repeats, as the settings say."""
        return Surround(
            balance_across=self.balance_across.value,
            balance_up=self.balance_up.value,
            rings=self.rings.value,
            edges=self.edges.value,
            rows_below=self.plain_rows.value,
            rows_above=self.plain_rows.value,
            colours=_COLOURS[self.colours.value],  # type: ignore[arg-type]  # a choice of two
            in_the_round=self.shape.value == "in the round",
        )

    @property
    def yarn_settings(self) -> YarnSettings:
        """How yarn is calculated, as the settings say."""
        skein = Skein(self.skein_m.value, 50) if self.skein_m.value else None
        return YarnSettings(between_rows=self.between_rows.value, skeins=skein)

    def _made(self) -> WidthPlan:
        return plan_widths(
            self.motif,
            self.gauge,
            self.width.value,
            length=self.length.value,
            tolerance=self.tolerance.value / 100,
            worked=_WORKED[self.worked.value],  # type: ignore[arg-type]  # a choice of two
            surround=self.surround,
            reversible=self.fabric.value == "reversible",
            yarn_settings=self.yarn_settings,
            stitches_a_minute=self.speed.value,
        )

    def _follow(self, _: object = None) -> None:
        """Show what the settings lead to, or why nothing fits."""
        try:
            self.plan, reason = self._made(), ""
        except MosaickitError as error:
            self.plan, reason = None, str(error)
            self.cure.layout.display = "none"
            if isinstance(error, WidthError) and error.tolerance is not None:
                self._tolerance = 100 * error.tolerance
                self.cure.layout.display = None
        if self.plan is None:
            self.said.value = f"<p role='status'>{escape(reason)}</p>"
            self.multiple.value = self.piece.value = self.pieces.value = self.yarn.value = ""
            self.chooser.show(pd.DataFrame(index=pd.Index([], name="fit")))
            return
        self.cure.layout.display = "none"
        count = len(self.plan.fits)
        left_out = f" {len(self.plan.unworkable)} more cannot be worked." if self.plan.unworkable else ""
        shown = f" The table shows the {MOST_SHOWN} nearest." if count > MOST_SHOWN else ""
        self.said.value = f"<p role='status'>{count} {'fits' if count > 1 else 'fit'}.{left_out}{shown}</p>"
        self.multiple.value = str(self.plan.multiple)
        dozen = self.plan.fits[:_DOZEN]
        self.pieces.value = parts.picture(
            lambda ax: draw.pieces(dozen, ax=ax),
            (1.2 + 0.75 * len(dozen), 5),
            f"The nearest {len(dozen)} side by side at one scale: " + "; ".join(map(_in_short, dozen)),
        )
        self.chooser.show(_shown(tables.fits(self.plan)))
        self._choose()

    def _choose(self, _: object = None) -> None:
        """Show the fit that is chosen."""
        if self.plan is None or self.chooser.chosen is None:
            self.fit = None
            return
        fit = self.plan.fits[self.chooser.chosen - 1]
        if fit is self.fit:
            return
        self.fit = fit
        self.piece.value = self._piece_of(fit)
        self.yarn.value = self._yarn_of(fit)

    @staticmethod
    def _piece_of(fit: Fit) -> str:
        return parts.picture(lambda ax: draw.piece(fit, ax=ax), (3, 5), f"The piece chosen: {fit}")

    @staticmethod
    def _yarn_of(fit: Fit) -> str:
        others = fit.around()
        return parts.picture(
            lambda ax: draw.yarn_by_width(others, ax=ax),
            (8, 4),
            f"Metres of each yarn for widths from {others[0].width_cm:.0f} to {others[-1].width_cm:.0f} cm",
        )

    def _take_tolerance(self) -> None:
        self.tolerance.value = self._tolerance

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: the fits to be looked at."""
        fits = self.plan.fits[:MOST_LOOKED_AT] if self.plan else ()
        details = {str(number): self._piece_of(fit) + self._yarn_of(fit) for number, fit in enumerate(fits, 1)}
        some = (
            f"The first {len(fits)} lines can be looked at here. "
            if self.plan and self.plan.fits[MOST_LOOKED_AT:]
            else ""
        )
        return {
            self.model_id: {"note": f"{some}To change the settings or to save tables, open the notebook."},
            self.chooser.model_id: {"details": details},
            self.piece.model_id: {"left_out": True},
            self.yarn.model_id: {"left_out": True},
        }

    # ---- files ---------------------------------------------------------------------------------------------

    def _table(self, ending: str) -> Files:
        if self.plan is None:
            raise OptionError("Nothing fits, so there is no table to save.")
        path = self.folder / f"{parts.file_name(self.motif.name)}-widths{ending}"
        return [(path, partial(tables.save_table, tables.fits(self.plan), design=self.motif.name))]

    def export(self, ending: str = ".csv", *, replace: bool = False) -> Path:
        """Save the table of all fits, as .csv or .xlsx, and give the file; `replace` as in `mk.tables.save_table`."""
        return written(self._table(ending), replace=replace)[0]


def _in_short(fit: Fit) -> str:
    return f"{fit.across} × {fit.up} repeats, {fit.width_cm:.1f} × {fit.length_cm:.1f} cm"


def _shown(table: pd.DataFrame) -> pd.DataFrame:
    """Leave out what the pictures show, and sizes in inches: a table to look at, not to keep."""
    left_out = [name for name in table if str(name).endswith((" in", "at least m", "at most m"))]
    return table.drop(columns=left_out).iloc[:MOST_SHOWN]
