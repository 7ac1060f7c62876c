"""Thread: the yarn of a chart as curves in space, the length of each stitch from them, and what is seen of it.

`paths` has the table of where the yarn goes, `curves` joins its points, `rows` lays the pieces of a chart end to end,
`faces` looks at them from both sides.
"""

from mosaickit.thread.faces import covering
from mosaickit.thread.paths import Piece
from mosaickit.thread.rows import RowThread, Strand, Thread, lengths_of_thread, thread_of

__all__ = ["Piece", "RowThread", "Strand", "Thread", "covering", "lengths_of_thread", "thread_of"]
