"""Processes that begin where another one stands that has loaded the package once, as loading is most of a short life.

Python's fork server loads what it is told once, when it starts, and says nothing of a module that it does not find. So
each caller gets a new one, and names modules of what is installed, not of this folder.
"""

import multiprocessing
import sys
from multiprocessing import forkserver

KIND = "spawn" if sys.platform == "win32" else "forkserver"


def processes(*modules):
    """A context like those of `multiprocessing` whose processes have these modules loaded."""
    context = multiprocessing.get_context(KIND)
    if KIND == "forkserver":
        forkserver._forkserver._stop()
        context.set_forkserver_preload(list(modules))
    return context
