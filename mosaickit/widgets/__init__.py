"""Widgets for the notebook: what the hand does is sent to Python, and Python answers with what it means.

They need the ``lab`` extra: ``python -m pip install "mosaickit-crochet[lab]"``.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
