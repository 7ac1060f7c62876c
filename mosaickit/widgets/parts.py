"""What several widgets are put together from: settings with their names in full, tables and figures as HTML."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Callable
from html import escape
from io import BytesIO
from typing import TYPE_CHECKING, Any

import ipywidgets  # type: ignore[import-untyped]  # it ships no types

from mosaickit.doors import late

if TYPE_CHECKING:
    from matplotlib import figure as figures
    from matplotlib.axes import Axes
    from matplotlib.backends import backend_agg
else:
    backend_agg = late("matplotlib.backends.backend_agg")
    figures = late("matplotlib.figure")

WRAP = ipywidgets.Layout(flex_flow="row wrap")
_WHOLE_NAME = {"description_width": "initial"}
_NARROW = ipywidgets.Layout(max_width="100%")

Control = Any
"""A widget with a value; ipywidgets ships no types."""


def choice(name: str, options: list[str], value: str) -> Control:
    """Make a list to choose from."""
    return ipywidgets.Dropdown(description=name, options=options, value=value, style=_WHOLE_NAME, layout=_NARROW)


def number(name: str, value: float, *, least: float = 0.1, most: float = 999, step: float = 0.5) -> Control:
    """Make a field for a number."""
    return ipywidgets.BoundedFloatText(
        description=name, value=round(value, 2), min=least, max=most, step=step, style=_WHOLE_NAME, layout=_NARROW
    )


def button(name: str, pressed: Callable[[], None]) -> Any:  # noqa: ANN401 — ipywidgets ships no types
    """Make a button."""
    made = ipywidgets.Button(description=name, layout=ipywidgets.Layout(width="auto"))
    made.on_click(lambda _: pressed())
    return made


def data_url(data: bytes) -> str:
    """Write the bytes of a PNG file as an address that a page can show."""
    return f"data:image/png;base64,{b64encode(data).decode('ascii')}"


def picture(draw: Callable[[Axes], object], size_in: tuple[float, float], alt: str) -> str:
    """Draw into fresh axes, and give the figure as an HTML image that says what it shows."""
    figure = figures.Figure(figsize=size_in, layout="constrained")
    backend_agg.FigureCanvasAgg(figure)
    draw(figure.add_subplot())
    data = BytesIO()
    figure.savefig(data, format="png", dpi=80)
    return f'<img alt="{escape(alt)}" style="max-width: 100%" src="{data_url(data.getvalue())}">'


MOST_BYTES_OF_NAME = 120
"""The most bytes of a title in a file's name: disks take about 255 for the whole name."""


def file_name(name: str) -> str:
    """Make a name fit for a file: letters, digits, hyphens and underscores, cut if it is long; "motif" if none is left.

    Examples
    --------
    >>> file_name("Leaf / 3rd"), len(file_name("x" * 200))
    ('Leaf-3rd', 120)
    """
    fit = re.sub("-+", "-", "".join(c if c.isalnum() or c in "-_" else "-" for c in name)).strip("-")
    return fit.encode()[:MOST_BYTES_OF_NAME].decode(errors="ignore") or "motif"
