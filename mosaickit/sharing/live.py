"""Widgets of a kernel that runs, as a notebook would keep them, with what their pages need where there is no Python.

A widget that wants more on a shared page than its traits hold has a method `offline`: it gives, by the id of a model,
what that model's page is to find under ``offline``. By this the page knows, too, that no one will answer. `show_known`
hands it out of a kernel that was started to run a notebook; `states` looks at the kernel that we are in.
"""

from __future__ import annotations

import sys
from typing import Any

ForWidgets = dict[str, dict[str, Any]]
"""Something for each widget, by the id of its model."""

OFFLINE = "application/vnd.mosaickit.offline+json"
"""The kind of output that `show_known` makes."""

SHOW = """\
if "mosaickit.widgets" in __import__("sys").modules:
    __import__("mosaickit.sharing.live", fromlist=["show_known"]).show_known()
"""
"""A cell that is run last in a notebook's kernel; it loads nothing in one that does not use our widgets."""


def states() -> ForWidgets:
    """Give the widgets of the kernel that we are in, as a notebook keeps them; none where we are in no kernel."""
    if not in_a_kernel() or "ipywidgets" not in sys.modules:
        return {}
    known: ForWidgets = sys.modules["ipywidgets"].Widget.get_manager_state()["state"]
    lay_in(known, offline())
    return known


def in_a_kernel() -> bool:
    """Say whether we are called from a cell of a notebook."""
    shell = sys.modules["IPython"].get_ipython() if "IPython" in sys.modules else None
    return hasattr(shell, "kernel")


def offline() -> ForWidgets:
    """Ask every widget of this process what its page needs where there is no Python."""
    told: ForWidgets = {}
    for widget in list(sys.modules["ipywidgets"].Widget.widgets.values()):
        if hasattr(widget, "offline"):
            try:
                more = widget.offline()
            except Exception:  # it is left out then, which is said, and all others are kept
                continue
            for model_id, needed in more.items():
                told[model_id] = told.get(model_id, {}) | needed
    return told


def lay_in(known: ForWidgets, needed: ForWidgets) -> None:
    """Put what pages need into the states of their widgets, which are changed."""
    for model_id, more in needed.items():
        if model_id in known:
            known[model_id]["state"]["offline"] = more


def show_known() -> None:
    """Show what `offline` gives, for those who read the outputs of a kernel."""
    sys.modules["IPython.display"].display({OFFLINE: offline()}, raw=True)
