"""The door of a folder: the names that may be taken from it, each loaded when it is first used.

The names stand once, in the stub beside the folder's `__init__.py`, a line each, where type checkers and editors read
them as well::

    from mosaickit.motif.repair import period as period

So a folder costs nothing until a name of it is asked for, and then only what that name needs.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from types import ModuleType
from typing import Any

import mosaickit.distribution  # noqa: F401 — stops here if `mosaickit/__init__.py` was overwritten


def door(
    folder: str, *own: str, refused: Mapping[str, str] | None = None
) -> tuple[Callable[[str], object], Callable[[], list[str]], list[str]]:
    """Make what a folder's `__init__.py` needs to offer the names of its stub.

    Parameters
    ----------
    folder : str
        Its dotted name, ``__name__``.
    *own : str
        Names that stand in the `__init__.py` itself.
    refused : mapping of str to str, optional
        Names that are looked for and cannot be, each with a sentence on why, and what to use.

    Returns
    -------
    __getattr__, __dir__ : functions
        As a module has them.
    __all__ : list of str
        All names, in order.
    """
    module = sys.modules[folder]
    homes = _homes(f"{module.__file__}i")
    names = sorted({*homes, *own})
    why = refused or {}

    def load(name: str) -> object:
        if name not in homes:
            raise AttributeError(f"{folder} has no {name!r}; {why.get(name, f'`dir({folder})` lists what it has')}")
        home = homes[name]
        value = import_module(f"{home}.{name}") if home == folder else getattr(import_module(home), name)
        setattr(module, name, value)  # so that it is asked for once
        return value

    return load, lambda: names, names


def _homes(stub: str) -> dict[str, str]:
    """Read which module each name of a stub comes from."""
    with open(stub, encoding="utf-8") as lines:
        said = [line.split() for line in lines if line.startswith("from ")]
    return {name: home for _, home, _, name, _, _ in said}


def above(room: str, name: str) -> Any:  # noqa: ANN401 — whatever is offered there
    """Give a name of a room on a higher floor, when it is called for: for a value that offers what is made of it there.

    Imports run down the floors; a method such as ``design.page()`` is the one thing that may ask upward, by name, for
    what its room does not need to be loaded, tested or understood.
    """
    return getattr(import_module(f"mosaickit.{room}"), name)


def late(library: str) -> ModuleType:
    """Give a library that is loaded when something of it is first asked for.

    Where much is loaded at once, as by the workbook, what only one button needs waits for that button::

        if TYPE_CHECKING:
            import pandas as pd
        else:
            pd = late("pandas")

    Parameters
    ----------
    library : str
        The dotted name of a module of others.

    Returns
    -------
    module
        Has what the library has, each looked up there when it is used.
    """
    return _Late(library)


class _Late(ModuleType):
    def __getattr__(self, name: str) -> object:
        return getattr(import_module(self.__name__), name)
