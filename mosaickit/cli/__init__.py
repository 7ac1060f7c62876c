"""The command line: check, draw, publish and measure a motif file without writing Python.

Every command is a thin wrapping of the library's verbs and a module of its own name; `running` puts them together, and
a new one is added there. It ends with 0 if all is well, with 1 if what was asked is not so (the picture cannot be
worked, no width fits) and with 2 if it was called wrongly or a file could not be read or written. What went wrong is
one sentence on the error stream. The library is loaded by the names that a command uses, so that `mosaickit --help`
loads nothing heavy.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
