"""Files to begin from: the gallery's motifs, what is in the workbook's folder, and what comes from the device."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from mosaickit.errors import FileError, OptionError, number_of, whole_number
from mosaickit.files import gallery_motifs
from mosaickit.motif import Motif
from mosaickit.sizes import Design, DesignFolder, DesignTile, all_designs, is_design, said_of_corners

FIRST_SHOWN = 24
"""The number of files shown at first, and added each time more are asked for."""

LOOKED_INTO = 1_000_000
"""A longer file that may hold no motif at all is not opened for its thumbnail, in bytes."""

LARGEST_ARRIVAL = 20_000_000
"""A file from the device has at most this many bytes."""


# ---- the gallery -------------------------------------------------------------------------------------------


def gallery_wall() -> list[dict[str, Any]]:
    """Give what is shown of the gallery; raises `FileError` if this installation has none."""
    return [dict(tile) for tile in _gallery_tiles()]


@cache
def _gallery() -> dict[str, Motif]:
    return gallery_motifs()


@cache
def _gallery_tiles() -> tuple[dict[str, Any], ...]:
    return tuple(
        tile_shown(DesignTile(name, Design(motif), "", (_squares(motif),))) for name, motif in _gallery().items()
    )


def gallery_names() -> list[str]:
    """Give the names of the gallery's motifs; raises `FileError` if this installation has none."""
    return list(_gallery())


def gallery_design(name: object) -> Design:
    """Give a motif of the gallery as a design of one repeat.

    Raises
    ------
    OptionError
        If it has none of this name.
    """
    motif = _gallery().get(str(name))
    if motif is None:
        raise OptionError(f"The gallery has no motif {name!r}.")
    return Design(motif)


def _squares(motif: Motif) -> str:
    rows, stitches = motif.shape
    return f"{number_of(rows, 'row')} × {number_of(stitches, 'stitch')}"


def tile_shown(tile: DesignTile) -> dict[str, Any]:
    """Give what the page shows of a tile."""
    return {
        "name": tile.name,
        "title": tile.title,
        "picture": tile.picture,
        "lines": [line for line in tile.lines if line],
    }


# ---- the folder --------------------------------------------------------------------------------------------


@dataclass
class FolderWall:
    """What is in a folder, the latest first; files that did not change since are not read again."""

    _known: DesignFolder | None = field(default=None)

    def show(self, folder: Path, most: object) -> dict[str, Any]:
        """Give what is shown of the latest files of a folder, `most` of them.

        Raises
        ------
        FileError
            If it cannot be looked into.
        """
        shown = whole_number("most", most, least=1)
        found = self._listed(folder)
        latest = sorted(found.names, key=lambda name: (-_changed(folder / name), name))
        part = latest[:shown]
        unread = {name for name in part if _too_long_to_guess(folder / name)}
        tiles = {tile.name: tile for tile in replace(found, names=tuple(n for n in part if n not in unread)).tiles}
        return {
            "folder": str(folder.absolute()),
            "tiles": [
                _unread_tile(folder / name) if name in unread else tile_shown(tiles[name])
                for name in part
                if name in unread or tiles[name].design is not None
            ],
            "faults": [tile.fault for tile in tiles.values() if tile.design is None],
            "more": len(latest) - len(part),
            "corners": said_of_corners(tiles.values()),
        }

    def open(self, folder: Path, name: object) -> Design:
        """Read a design or motif by the name of its file, as it is now.

        Raises
        ------
        FileError
            If no file of this name is listed, or it cannot be read.
        """
        file = self._listed(folder).file(str(name))
        if file.design is None:
            raise FileError(file.fault)
        assert isinstance(file.design, Design)  # squares from the centre are not listed here
        return file.design

    def _listed(self, folder: Path) -> DesignFolder:
        known = self._known
        self._known = all_designs(folder) if known is None or known.folder != folder else known.again()
        return self._known


def _changed(file: Path) -> float:
    try:
        return file.stat().st_mtime
    except (OSError, ValueError):
        return 0.0


def _too_long_to_guess(file: Path) -> bool:
    try:
        return not is_design(file) and file.stat().st_size > LOOKED_INTO
    except (OSError, ValueError):
        return False


def _unread_tile(file: Path) -> dict[str, Any]:
    when = f"{datetime.fromtimestamp(_changed(file)):%Y-%m-%d}"
    return {"name": file.name, "title": file.name, "picture": "", "lines": ["a long file, not looked into yet", when]}


# ---- from the device ---------------------------------------------------------------------------------------


@dataclass
class Arrival:
    """A file that comes from the device in parts, since one long message would end the connection."""

    key: str = ""
    data: bytearray = field(default_factory=bytearray)

    def add(self, values: dict[str, Any], buffers: Sequence[Any]) -> bytes | None:
        """Add a part; give all of the file with its last one.

        Raises
        ------
        FileError
            If the file is too long, or a part is missing.
        """
        key, at, total = str(values.get("key")), values.get("at"), whole_number("total", values.get("total"))
        if total > LARGEST_ARRIVAL:
            raise FileError(
                f"{_shown_name(values)} has {total / 1e6:,.1f} MB; at most {LARGEST_ARRIVAL // 1_000_000} MB are read."
            )
        if at == 0:
            self.key, self.data = key, bytearray()
        if key != self.key or at != len(self.data):
            raise FileError(f"{_shown_name(values)} did not arrive whole: choose it again.")
        self.data += b"".join(bytes(part) for part in buffers)
        if len(self.data) < total:
            return None
        data, self.key, self.data = bytes(self.data), "", bytearray()
        return data


def _shown_name(values: dict[str, Any]) -> str:
    return repr(arrived_name(values))


def arrived_name(values: dict[str, Any]) -> str:
    """Give the name of a file from the device: its last part, cut if it is long; it is never looked for on a disk."""
    name = str(values.get("name", "")).replace("\\", "/").rpartition("/")[2]
    kept = "".join(each for each in name if each.isprintable())
    stem, dot, ending = kept.rpartition(".")
    return f"{stem[:80]}{dot}{ending[:12]}" or "file"
