"""Which project this folder belongs to, checked on import.

The package index has another project that is called as our folder is. pip lets both be installed into one folder
`mosaickit`, where the second overwrites files of the first without a word. What is left is a mixture, so that is an
ImportError and no warning: a pattern worked out by half of another's files would look like any other. `mosaickit`,
`errors`, the ground on which all modules stand, and `doors`, by which every folder is entered, import this module, so
that it is also run when the other project was installed last and its `__init__.py` has replaced ours. It looks at one
list of file names, as asking `importlib.metadata` would cost an import more than all of it together.
"""

from __future__ import annotations

import os
import site
import sys

NAME = "mosaickit-crochet"
"""The name to install by. The folder and the import are `mosaickit`."""
WITH_LAB = f'python -m pip install "{NAME}[lab]"'
"""The command that adds JupyterLab and the libraries of the widgets."""

_RECORDS = (".dist-info", ".egg-info")
_PACKAGE = os.path.dirname(os.path.abspath(__file__))


def _check() -> None:
    folder, package = os.path.split(_PACKAGE)
    try:
        names = sorted(name for name in os.listdir(folder) if name.endswith(_RECORDS))
    except OSError:  # inside an archive, where nothing can be overwritten
        return
    others = [name for name in names if name.casefold().startswith(f"{package}-")]
    if others:
        version = os.path.splitext(others[0])[0].partition("-")[2]
        fault = (
            f"Two projects were installed into {_PACKAGE}: {NAME}, which is this one, and {package} {version}, which "
            "is not. The second has overwritten files of the first, so neither can be trusted."
        )
    elif getattr(sys.modules.get(package), "__file__", None) is None:
        fault = f"{_PACKAGE} has lost its __init__.py, perhaps because another project of that name was removed."
    else:
        return
    raise ImportError(f"{fault} {_cure(folder, package, [package, *others, *_own(names)])}", name=package)


def _own(names: list[str]) -> list[str]:
    return [name for name in names if name.startswith(NAME.replace("-", "_") + "-")]


def _cure(folder: str, package: str, names: list[str]) -> str:
    if folder in (*site.getsitepackages(), site.getusersitepackages()):
        return (
            f"Remove both with `python -m pip uninstall --yes {package} {NAME}`, then run "
            f"`python -m pip install {NAME}` and restart any notebook that is open."
        )
    # pip uninstalls nothing that was put into a folder with --target
    return (
        f"Delete {', '.join(names)} from {folder}, then run "
        f'`python -m pip install --target "{folder}" {NAME}` and restart any notebook that is open.'
    )


_check()
