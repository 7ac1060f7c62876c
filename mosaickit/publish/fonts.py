"""The fonts of a printed page: those that the typesetter brings, and DejaVu, which matplotlib brings, for the rest.

DejaVu has Cyrillic, Greek and very many signs. Its files stand among others that would show a box for whatever they
lack, so they are given to the typesetter in a folder by themselves.
"""

from __future__ import annotations

import atexit
import shutil
import tempfile
from functools import cache
from importlib.util import find_spec
from pathlib import Path

FONTS = ("Libertinus Serif", "New Computer Modern", "DejaVu Serif", "DejaVu Sans")
"""What a page is set in: the typesetter's own fonts, then the broad ones, for characters that those lack."""

_FILES = ("DejaVuSerif.ttf", "DejaVuSerif-Bold.ttf", "DejaVuSans.ttf", "DejaVuSans-Bold.ttf")


@cache
def font_folders() -> tuple[str, ...]:
    """Give the folder of the broad fonts, made when it is first asked for and removed at the end; none if it cannot be.

    Without them a page is set all the same, and a character that no font holds is named.
    """
    spec = find_spec("matplotlib")
    if spec is None or spec.origin is None:
        return ()
    source = Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf"
    try:
        folder = tempfile.mkdtemp(prefix="mosaickit-fonts-")
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        for name in _FILES:
            shutil.copyfile(source / name, Path(folder) / name)
    except OSError:
        return ()
    return (folder,)
