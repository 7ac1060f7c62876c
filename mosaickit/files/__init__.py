"""Files: motifs kept and loaded, pictures taken in, and how anything is written without losing what was there.

`formats` loads and saves motifs, by `documents` (JSON) and `png`; `pictures` makes a motif of a photograph or a
drawing. What a JSON document holds is said by models: `forms` has what all share, `strict` parses, `faults` puts what
is wrong into sentences, `schemas` publishes. Below them, for whatever else is saved: `disk` reads and writes whole
files, `saved` knows whose a saved file is and asks before another's is replaced, `locks` holds a file for one program.
`bundle` lays the notebooks that come with mosaickit into a folder.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
