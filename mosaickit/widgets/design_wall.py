"""The wall of designs: a folder of them to pick from by hand.

Python reads the files; the page shows what is there, moves about on it, and says what was pressed. Every message is
answered, also with why something was not done.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import traitlets

from mosaickit.errors import of_kind
from mosaickit.scripts import one_script
from mosaickit.sizes import MOST_ON_A_WALL, CentreDesign, Design, DesignFolder, said_of_corners
from mosaickit.widgets.link import answer_aloud, unknown_message


class DesignWall(anywidget.AnyWidget):
    """A wall of the designs in a folder, to pick one from.

    Parameters
    ----------
    folder : DesignFolder
        What `mk.designs` lists.

    Attributes
    ----------
    design : Design, CentreDesign or None
        The one that was picked, as it was then; None before. Can be observed.
    folder : DesignFolder
        What is shown; listed again when its button is pressed.

    Raises
    ------
    OptionError
        If `folder` is not as described.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> import mosaickit as mk
    >>> with TemporaryDirectory() as place:
    ...     file = mk.save(mk.Design(mk.Motif.from_text("....")), Path(place) / "belt.design")
    ...     wall = DesignWall(mk.designs(place))
    ...     wall.pick("belt")
    >>> wall.design.shape
    (1, 6)
    """

    _esm = one_script(Path(__file__).with_name("design_wall.js"))
    _css = Path(__file__).with_name("design_wall.css")

    design = traitlets.Union(
        [traitlets.Instance(Design, allow_none=True), traitlets.Instance(CentreDesign, allow_none=True)]
    )
    """The design that was picked."""
    tiles: traitlets.List[dict[str, Any]] = traitlets.List().tag(sync=True)
    """What is shown of each file: its name, a picture, a title, and lines below."""
    picked = traitlets.Unicode().tag(sync=True)
    """The name of the file that was picked; empty before."""
    corners = traitlets.Unicode().tag(sync=True)
    """What is to be said of pictures that show a part of their piece; empty if all show the whole."""
    said = traitlets.Unicode().tag(sync=True)
    """What is here, and what came of the last thing that was pressed."""

    def __init__(self, folder: DesignFolder) -> None:
        of_kind("folder", folder, DesignFolder)
        self.folder = folder
        super().__init__()
        self._show()
        self.on_msg(self._receive)

    def _receive(self, _: object, content: dict[str, Any], __: object) -> None:
        answer_aloud(self, content, kept="the wall")

    def _handle(self, content: dict[str, Any]) -> dict[str, Any]:
        kind = content.get("kind")
        if kind == "pick":
            self.pick(str(content.get("name")))
        elif kind == "again":
            self.list_again()
        else:
            raise unknown_message("wall", kind)
        return {}

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: see `mosaickit.sharing`."""
        return {self.model_id: {"note": "To pick a design, open the notebook."}}

    def pick(self, name: str) -> None:
        """Pick a design by the name of its file; raises `FileError` if it cannot be read now."""
        design, file = self.folder[name], self.folder.file(name)
        self.picked, self.design = file.name, design
        self.said = f"Picked: {design.title} ({file.name})."

    def list_again(self) -> None:
        """Show what is in the folder now; what was picked stays picked."""
        self.folder = self.folder.again()
        self._show()

    def _show(self) -> None:
        tiles = self.folder.tiles
        self.corners = said_of_corners(tiles[:MOST_ON_A_WALL])
        self.tiles = [
            {
                "name": tile.name,
                "picture": tile.picture,
                "title": tile.title,
                "lines": [line for line in (tile.fault, *tile.lines) if line],
            }
            for tile in tiles[:MOST_ON_A_WALL]
        ]
        left = len(tiles) - MOST_ON_A_WALL
        self.said = f"{self.folder.summary}." + (f" Shown are the first {MOST_ON_A_WALL} files." if left > 0 else "")
