# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.svg.drawing import corner as corner
from mosaickit.svg.drawing import ink_on as ink_on
from mosaickit.svg.drawing import notebook_chart as notebook_chart
from mosaickit.svg.drawing import notebook_faces as notebook_faces
from mosaickit.svg.drawing import notebook_picture as notebook_picture
from mosaickit.svg.drawing import picture as picture
from mosaickit.svg.drawing import runs as runs
from mosaickit.svg.drawing import runs_path as runs_path
from mosaickit.svg.drawing import squares as squares
from mosaickit.svg.drawing import stamps_path as stamps_path
from mosaickit.svg.drawing import symbols_over as symbols_over
from mosaickit.svg.drawing import yarn_colours as yarn_colours
from mosaickit.svg.symbols import SQUARE as SQUARE
from mosaickit.svg.symbols import SYMBOLS as SYMBOLS
from mosaickit.svg.symbols import Symbol as Symbol
from mosaickit.svg.symbols import heavy_lines as heavy_lines
from mosaickit.svg.symbols import number_step as number_step
from mosaickit.svg.symbols import numbers_shown as numbers_shown
