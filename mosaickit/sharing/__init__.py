"""A worked notebook as one HTML file, for people who have no Python: to read, to print, or to show as slides.

The file opens from disk and needs no network: its policy forbids any request. Figures and tables are in it as they
stand. Every control of a widget works there or is left out, and a line below the widget says what needs the notebook::

    mk.share("lesson.ipynb", "lesson.html")                 # it is run if its widgets were not saved with it
    mk.share("lesson.ipynb", "lesson.html", run=True)       # run from the top first; the notebook's file is not changed
    mk.share("lesson.ipynb", "slides.html", slides=True)    # a slide for each heading of level 1 and 2

They need the ``lab`` extra: ``python -m pip install "mosaickit-crochet[lab]"``.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
