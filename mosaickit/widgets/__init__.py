"""Widgets for the notebook: what the hand does is sent to Python, and Python answers with what it means.

They need the ``lab`` extra: ``python -m pip install "mosaickit-crochet[lab]"``.
"""

from mosaickit.widgets.chooser import Chooser
from mosaickit.widgets.explorer import VariationExplorer
from mosaickit.widgets.guide import RowGuide
from mosaickit.widgets.loops import LoopView
from mosaickit.widgets.painter import MotifPainter
from mosaickit.widgets.planner import WidthPlanner
from mosaickit.widgets.turnover import TurnOver
from mosaickit.widgets.workbook import Workbook

__all__ = [
    "Chooser",
    "LoopView",
    "MotifPainter",
    "RowGuide",
    "TurnOver",
    "VariationExplorer",
    "WidthPlanner",
    "Workbook",
]
