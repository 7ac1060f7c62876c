"""The gallery's motifs, wherever this installation has them: a wheel carries them, a checkout has their folder."""

from __future__ import annotations

from mosaickit.errors import FileError
from mosaickit.files.bundle import bundle_folder
from mosaickit.files.formats import load
from mosaickit.motif import Motif


def gallery_motifs() -> dict[str, Motif]:
    """Give the motifs that come with mosaickit, by their names, in the order of the alphabet.

    Raises
    ------
    FileError
        If this installation has none, or a file of it is damaged.

    Examples
    --------
    >>> gallery_motifs()["seed"].shape
    (11, 7)
    """
    found = [load(file) for file in sorted((bundle_folder() / "gallery/motifs").glob("*.json"))]
    if not found:
        raise FileError("This installation of mosaickit carries no gallery; install it from its wheel.")
    return {motif.name: motif for motif in found}
