"""A page of cells that were prepared for it, such as a handout's: what `share` makes of a notebook as it is."""

from __future__ import annotations

from pathlib import Path

from nbformat import NotebookNode

from mosaickit.sharing.cells import Renderer
from mosaickit.sharing.notebooks import states_in
from mosaickit.sharing.pages import _page


def page_of_cells(notebook: NotebookNode, file: Path, *, code: bool, style: str = "") -> bytes:
    """Write cells as one HTML page, with a style sheet of their own; pictures are taken from beside the file."""
    renderer = Renderer(notebook, states_in(notebook), file.parent, code=code)
    if style:
        renderer.widgets.styles[style] = None
    return _page(renderer, file.stem, slides=False, lang="en").encode("utf-8")
