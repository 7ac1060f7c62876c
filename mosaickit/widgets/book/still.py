"""The still picture of a design: what a notebook shows of a workbook until its cell is run.

A widget lives as long as its kernel. Beside it the notebook keeps this picture, brought up to date whenever the hand
rests, so that a notebook opened another day shows the design and says how to go on. While the workbook is alive its
page hides the picture; without it, the notebook's own line about a missing widget is hidden by the style that goes with
the picture.
"""

from __future__ import annotations

from html import escape

from mosaickit.files import to_png
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import USUAL_GAUGE
from mosaickit.widgets.parts import data_url

_WIDTH, _HEIGHT = 420, 320  # of the picture, in pixels, at most


def still(design: Design, mark: str) -> str:
    """Make the picture and its sentence as HTML; `mark` is the class by which the page finds it.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> "run the cell to go on" in still(Design(Motif.from_text(".#.")), "mk-still-1")
    True
    """
    rows, stitches = design.shape
    aspect = (design.gauge or USUAL_GAUGE).aspect
    pixels = min(_WIDTH / (stitches * aspect), _HEIGHT / rows)
    size = f"width: {stitches * aspect * pixels:.0f}px; height: {rows * pixels:.0f}px; max-width: 100%"
    here = f".jp-OutputArea-child:has(.{mark})"
    hidden = (
        f"{here} + .jp-OutputArea-child > .jupyter-widgets:not(:has(*)), {here}:has(+ .jp-OutputArea-child .mk-book)"
    )
    return (
        f'<style>{hidden} {{ display: none; }}</style><div class="mk-still {mark}">'
        f'<img alt="{escape(design.summary)}" style="{size}; image-rendering: pixelated; border: 1px solid #888888" '
        f'src="{data_url(to_png(design.picture, 1))}">'
        f"<p>{escape(design.summary)}. A still picture: run the cell to go on with the design.</p></div>"
    )
