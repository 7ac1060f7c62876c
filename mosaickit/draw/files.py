"""Pictures into files, the same bytes each time."""

from __future__ import annotations

from io import BytesIO
from os import PathLike
from pathlib import Path

import matplotlib
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mosaickit.errors import OptionError, shortly, within
from mosaickit.files import Owner, as_path, save_bytes

# what would put the time, or matplotlib's version, into the file
MOST_DPI = 2400
"""No finer; a printer does not see more."""

_METADATA: dict[str, dict[str, None]] = {
    ".svg": {"Date": None},
    ".png": {"Software": None},
    ".pdf": {"CreationDate": None},
}


def save(
    drawn: Axes | Figure, path: str | PathLike[str], *, dpi: float = 150, design: str = "", replace: bool = False
) -> Path:
    """Write the figure that axes belong to, as SVG, PNG or PDF.

    Parameters
    ----------
    drawn : Axes or Figure
        What a verb of `draw` returned, or the figure it drew into.
    path : path
        Ends in .svg, .png or .pdf.
    dpi : float
        Pixels an inch, for PNG.
    design : str
        The name of the design that it belongs to, as ``chart.name``. Left out, a picture that is there is replaced by
        the very same one only.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file. The same picture gives the same bytes, with the same version of matplotlib.

    Raises
    ------
    OptionError
        If the path has another ending.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    if not isinstance(drawn, Axes | Figure):
        raise OptionError(f"`drawn` must be `Axes` or a `Figure`; got {shortly(drawn)}.")
    dpi = within("dpi", dpi, 1, MOST_DPI)
    file = as_path(path)
    ending = file.suffix.lower()
    if ending not in _METADATA:
        raise OptionError(f"`path` must end in .svg, .png or .pdf; got {str(file)!r}.")
    figure = drawn if isinstance(drawn, Figure) else drawn.figure.figure
    data = BytesIO()
    with matplotlib.rc_context({"svg.hashsalt": "mosaickit"}):
        figure.savefig(data, format=ending[1:], dpi=dpi, metadata=_METADATA[ending], bbox_inches="tight")
    return save_bytes(file, data.getvalue(), Owner("picture", design), replace=replace)
