"""A worked notebook as one HTML file, for people who have no Python: to read, to print, or to show as slides.

The file opens from disk and needs no network: its policy forbids any request. Figures and tables are in it as they
stand; widgets whose page runs by itself are alive, all others show what they showed last::

    mk.share("lesson.ipynb", "lesson.html")                 # as it was last saved
    mk.share("lesson.ipynb", "lesson.html", execute=True)   # run from the top first; the notebook itself is not changed
    mk.share("lesson.ipynb", "slides.html", slides=True)    # a slide for each heading of level 1 and 2

They need the ``lab`` extra: ``python -m pip install "mosaickit-crochet[lab]"``.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
