"""A slider with its name and a field for its number, all three of which a screen reader knows belong together."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import traitlets


class Slider(anywidget.AnyWidget):
    """A number between two ends.

    Parameters
    ----------
    name : str
        What the number is, with its unit.
    value, least, most, step : float
        Where it stands, its ends, and how far apart the numbers are that the slider stops at. The field beside it
        takes any number between the ends.

    Examples
    --------
    >>> slider = Slider("Width in cm", 20, least=2, most=200, step=0.5)
    >>> slider.value = 300
    >>> slider.value
    200.0
    """

    _esm = Path(__file__).with_name("slider.js")
    _css = Path(__file__).with_name("slider.css")

    name = traitlets.Unicode().tag(sync=True)
    """What the number is."""
    least = traitlets.Float().tag(sync=True)
    """The smallest number."""
    most = traitlets.Float().tag(sync=True)
    """The largest number."""
    step = traitlets.Float().tag(sync=True)
    """How far apart the numbers are that the slider stops at."""
    value: Any = traitlets.Float().tag(sync=True)
    """The number, sent when the slider is let go."""

    def __init__(self, name: str, value: float, *, least: float, most: float, step: float = 1) -> None:
        super().__init__(name=name, least=least, most=max(most, value), step=step, value=value)

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: see `mosaickit.sharing`."""
        return {self.model_id: {"note": "To change it, open the notebook."}}

    @traitlets.validate("value")
    def _between_the_ends(self, proposal: Any) -> float:  # noqa: ANN401 — traitlets' own
        value: float = proposal["value"]
        return min(max(value, type(value)(self.least)), type(value)(self.most))


class WholeSlider(Slider):
    """A slider for whole numbers."""

    value: Any = traitlets.CInt().tag(sync=True)
    """The number, sent when the slider is let go."""
