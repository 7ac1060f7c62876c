# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.widgets.book.workbook import Workbook as Workbook
from mosaickit.widgets.chooser import Chooser as Chooser
from mosaickit.widgets.design_wall import DesignWall as DesignWall
from mosaickit.widgets.explorer import VariationExplorer as VariationExplorer
from mosaickit.widgets.guide import RowGuide as RowGuide
from mosaickit.widgets.loops import LoopView as LoopView
from mosaickit.widgets.painter import MotifPainter as MotifPainter
from mosaickit.widgets.planner import WidthPlanner as WidthPlanner
from mosaickit.widgets.turnover import TurnOver as TurnOver
