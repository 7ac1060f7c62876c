"""Listing: which files of a folder hold designs.

A verb beside the value that it makes, as reading files loads what the value itself does without.
"""

from __future__ import annotations

from dataclasses import replace
from os import PathLike
from pathlib import Path

from mosaickit.errors import FileError
from mosaickit.files import as_path, reason
from mosaickit.motif import Motif
from mosaickit.sizes.centred.square_design import CentreDesign
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.designs.folders import DesignFolder
from mosaickit.sizes.designs.saving import ENDING, SQUARE_ENDING, load, load_design

_LISTED = (ENDING, SQUARE_ENDING, ".json")
_MAY_BE_MOTIFS = (".png", ".csv", ".txt")


def designs(folder: str | PathLike[str]) -> DesignFolder:
    """List the designs in a folder.

    Parameters
    ----------
    folder : path
        Where to look; the folders in it are left alone.

    Returns
    -------
    DesignFolder
        The files that end in .design, in .square, and in .json, whose motif is a design of one repeat; hidden ones are
        left out.

    Raises
    ------
    FileError
        If there is no such folder, or it cannot be looked into.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from mosaickit import Design, Gauge, Motif
    >>> from mosaickit.sizes import save
    >>> dash = Design(Motif.from_text("....", name="dash"), Gauge(16, 18))
    >>> with TemporaryDirectory() as place:
    ...     file = save(dash.but(across=9), Path(place) / "belt.design")
    ...     found = designs(place)
    ...     len(found), found["belt"].across
    (1, 9)
    """
    place = as_path(folder, "folder")
    try:
        inside = sorted(each.name for each in place.iterdir() if not each.name.startswith(".") and not each.is_dir())
    except NotADirectoryError:
        raise FileError(f"{str(place)!r} is a file, not a folder: mk.load opens it.") from None
    except (OSError, ValueError) as error:
        raise FileError(f"The folder {str(place)!r} could not be looked into: {reason(error)}.") from None
    inside.sort(key=str.casefold)

    def ending_in(*endings: str) -> tuple[str, ...]:
        return tuple(name for name in inside if Path(name).suffix.lower() in endings)

    return DesignFolder(place, ending_in(*_LISTED), ending_in(*_MAY_BE_MOTIFS), _either, designs)


def _either(file: Path) -> Design | CentreDesign:
    """Read a design or a square from the centre, or a motif's file as a design of one repeat."""
    read = load(file)
    return Design(read) if isinstance(read, Motif) else read


def all_designs(folder: str | PathLike[str]) -> DesignFolder:
    """List the designs in rows of a folder, and the pictures, tables and texts that may hold motifs too.

    Squares from the centre are left out. Each file is opened when it is asked for; one that holds no motif is listed
    with the sentence that says so.
    """
    found = designs(folder)
    names = tuple(name for name in found.names if Path(name).suffix.lower() != SQUARE_ENDING)
    return replace(found, names=names + found.others, others=(), _load=load_design, _list=all_designs)
