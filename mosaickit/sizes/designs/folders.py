"""Folders: the designs in a folder as one value, which reads each file when it is asked for.

The names are those that were there when the folder was listed; what stands in a file is what stands there now. A file
that changed is read again, and one that cannot be read, or is gone, stands in the list with its sentence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple, overload

from mosaickit.errors import FileError, MosaickitError, OptionError, number_of
from mosaickit.sizes.centred.square_design import CentreDesign
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.designs.size import Size
from mosaickit.sizes.designs.wall import DesignTile, wall

_MOST_NAMED = 3


class DesignFigures(NamedTuple):
    """What a list says of a design; None where it is not known."""

    rows: int
    """Those of the piece; of a square from the centre the squares of a side, as `stitches` too."""
    stitches: int
    size: Size | None
    yarn_m: float | None
    """The likely metres of all yarns."""
    skeins: int | None
    """Those to buy, of all yarns."""
    workable: bool
    why_not: str
    """Why it cannot be worked, or its yarn cannot be told, as a sentence; empty otherwise."""


@dataclass(frozen=True, eq=False)
class DesignFile:
    """A file of a folder, as it was when it was last read."""

    name: str
    """Its name in the folder."""
    changed: datetime | None
    """When it was last changed, by the clock of this place; None if that is not known."""
    design: Design | CentreDesign | None
    """What it holds; None if it cannot be read."""
    fault: str
    """Why it cannot be read, as a sentence; empty if it can."""

    @cached_property
    def figures(self) -> DesignFigures | None:
        """Size and yarn of its design; None if it cannot be read."""
        design = self.design
        if design is None:
            return None
        rows, stitches = design.shape
        size = None if design.gauge is None else _size(design)
        yarn_m, skeins, why_not = None, None, ""
        try:
            _must_work(design)
            if size is not None:
                bought = [total.skeins for total in design.usage.by_yarn]
                yarn_m = sum(total.likely_m for total in design.usage.by_yarn)
                skeins = None if None in bought else sum(filter(None, bought))
        except MosaickitError as error:
            why_not = str(error)
        return DesignFigures(rows, stitches, size, yarn_m, skeins, _workable(design), why_not)


@dataclass(frozen=True, eq=False, repr=False)
class DesignFolder(Mapping[str, Design | CentreDesign]):
    """The designs in a folder, squares from the centre among them, by the names of their files and by number.

    A mapping of those that can be read, in the order of their names: ``folder["cat-scarf"]`` and
    ``folder["cat-scarf.design"]`` are the same unless several files are called so, ``folder[0]`` is the first, and
    ``folder[:3]`` gives the first three. A file that cannot be read raises its `FileError` if it is asked for.
    `mk.tables.listed` tables them, and a notebook shows them as a wall of pictures.

    Attributes
    ----------
    folder : Path
        Where they are.
    names : tuple of str
        The names of all files that are listed, readable or not.
    others : tuple of str
        The files beside them that may hold motifs too: pictures, tables and texts, which are not opened on a guess.
    """

    folder: Path
    names: tuple[str, ...]
    others: tuple[str, ...]
    _load: Callable[[Path], Design | CentreDesign]
    _list: Callable[[Path], DesignFolder]
    _read: dict[str, tuple[object, DesignFile]] = field(default_factory=dict)

    @overload
    def __getitem__(self, which: str | int) -> Design | CentreDesign: ...
    @overload
    def __getitem__(self, which: slice) -> tuple[Design | CentreDesign, ...]: ...
    def __getitem__(self, which: str | int | slice) -> Design | CentreDesign | tuple[Design | CentreDesign, ...]:
        if isinstance(which, slice):
            return tuple(self.values())[which]
        file = self.file(self._named(which))
        if file.design is None:
            raise FileError(file.fault)
        return file.design

    def __iter__(self) -> Iterator[str]:
        return (file.name for file in self.files if file.design is not None)

    def __len__(self) -> int:
        return sum(file.design is not None for file in self.files)

    def __contains__(self, name: object) -> bool:
        found = self._found(name) if isinstance(name, str) else []
        return len(found) == 1 and self.file(found[0]).design is not None

    def get(self, key: str, default: Any = None) -> Any:  # noqa: ANN401 — as a mapping has it
        """Give the design of a name, or `default` where no file of that name can be read."""
        return super().get(key, default) if key in self else default

    @property
    def files(self) -> tuple[DesignFile, ...]:
        """All files as they are now, readable or not, in order."""
        return tuple(map(self.file, self.names))

    @property
    def faults(self) -> dict[str, str]:
        """The files that cannot be read, each with a sentence on why."""
        return {file.name: file.fault for file in self.files if file.fault}

    @property
    def tiles(self) -> tuple[DesignTile, ...]:
        """What a wall of all files shows."""
        return tuple(map(_tile, self.files))

    def again(self) -> DesignFolder:
        """List the folder again, with what is new in it; raises `FileError` if it is gone."""
        found = self._list(self.folder)
        found._read.update(self._read)
        return found

    def file(self, name: str) -> DesignFile:
        """Give a listed file as it is now; it is read again only if it changed since.

        Raises
        ------
        FileError
            If no file of this name is listed.
        """
        name = self._named(name)
        path = self.folder / name
        stamp, changed = _changed(path)
        if name not in self._read or self._read[name][0] != stamp or stamp is None:
            design, fault = None, ""
            try:
                design = self._load(path)
            except MosaickitError as error:
                fault = str(error)
            self._read[name] = stamp, DesignFile(name, changed, design, fault)
        return self._read[name][1]

    def _found(self, name: str) -> list[str]:
        return [name] if name in self.names else [each for each in self.names if Path(each).stem == name]

    def _named(self, which: str | int) -> str:
        if isinstance(which, str):
            found = self._found(which)
            if len(found) == 1:
                return found[0]
            if found:
                raise FileError(f"Several files are called {which!r}; say which: {', '.join(found)}.")
            raise FileError(
                f"No design is called {which!r} in {str(self.folder)!r}; there are "
                f"{_some(self.names) or 'none'}. A file that is new there is seen by `.again()`."
            )
        if isinstance(which, bool) or not isinstance(which, int):
            raise OptionError(f"A design is asked for by the name of its file or by number; got {which!r}.")
        names = list(self)
        if not -len(names) <= which < len(names):
            raise OptionError(f"There are {number_of(len(names), 'design')}, numbered from 0; got {which}.")
        return names[which]

    def __repr__(self) -> str:
        return f"<DesignFolder {self.summary}>"

    @property
    def summary(self) -> str:
        """How many designs there are, and what is there beside them."""
        faults = len(self.names) - len(self)
        said = f"{number_of(len(self), 'design')} in {str(self.folder)!r}"
        return said + (f", {number_of(faults, 'file')} that cannot be read" if faults else "")

    def _repr_html_(self) -> str:
        notes = [f"Open one by its name, as listed[{name!r}]." for name in list(self)[:1]]
        if not self.names:
            notes.append("No file in it ends in .design, .square or .json. mk.save(design, path) puts one there.")
        if self.others:
            notes.append(f"Not listed, but may hold motifs, which mk.load opens: {_some(self.others)}.")
        return wall(f"{self.summary}.", self.tiles, notes)


def _changed(path: Path) -> tuple[object, datetime | None]:
    """Give what tells one content of a file from the next, and when it was last changed; None if it is not known."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None, None
    stamp = found.st_mtime_ns, found.st_size, found.st_ino
    try:
        return stamp, datetime.fromtimestamp(found.st_mtime)
    except (OSError, ValueError, OverflowError):  # a disk may say any number of seconds
        return stamp, None


def _size(design: Design | CentreDesign) -> Size:
    if isinstance(design, Design):
        return design.size
    return Size(design.size.across_cm, design.size.across_cm)


def _must_work(design: Design | CentreDesign) -> None:
    """Raise `UnworkableError` with why a design cannot be worked, if it cannot."""
    if isinstance(design, Design):
        design.layout.must_work()
    else:
        design.chart  # noqa: B018 — which is worked out only where it can be


def _workable(design: Design | CentreDesign) -> bool:
    return design.layout.workable if isinstance(design, Design) else design.report.ok


def _some(names: tuple[str, ...]) -> str:
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return f"{', '.join(names[:_MOST_NAMED])}{more}"


def _tile(file: DesignFile) -> DesignTile:
    figures = file.figures
    changed = "" if file.changed is None else f"{file.changed:%Y-%m-%d}"
    if file.design is None or figures is None:
        return DesignTile(file.name, None, file.fault, (changed,))
    squares = f"{number_of(figures.rows, 'row')} × {number_of(figures.stitches, 'stitch')}"
    if isinstance(file.design, CentreDesign):
        squares = f"{number_of(file.design.square.rounds, 'round')} from the centre"
    if not figures.workable:
        yarn = "cannot be worked"
    elif figures.yarn_m is not None:
        yarn = f"{figures.yarn_m:,.0f} m" + (f", {number_of(figures.skeins, 'skein')}" if figures.skeins else "")
    else:
        yarn = "yarn cannot be told" if figures.why_not else ""
    return DesignTile(file.name, file.design, "", (str(figures.size or squares), yarn, changed))
