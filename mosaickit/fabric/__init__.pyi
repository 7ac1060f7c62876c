# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.fabric.counts import RowCounts as RowCounts
from mosaickit.fabric.counts import count_rows as count_rows
from mosaickit.fabric.hook import Fabric as Fabric
from mosaickit.fabric.hook import work as work
from mosaickit.fabric.loops import FIRM as FIRM
from mosaickit.fabric.loops import MOVES as MOVES
from mosaickit.fabric.loops import STITCH_NOTES as STITCH_NOTES
from mosaickit.fabric.loops import TAKES as TAKES
from mosaickit.fabric.loops import Column as Column
from mosaickit.fabric.loops import HookMove as HookMove
from mosaickit.fabric.loops import Loop as Loop
from mosaickit.fabric.loops import LoopSide as LoopSide
from mosaickit.fabric.loops import LoopState as LoopState
from mosaickit.fabric.loops import column_at as column_at
from mosaickit.fabric.loops import hangs_down as hangs_down
from mosaickit.fabric.loops import loops_below as loops_below
from mosaickit.fabric.loops import moves as moves
from mosaickit.fabric.loops import state_of as state_of
from mosaickit.fabric.loops import states_of as states_of
from mosaickit.fabric.patches import patch_of as patch_of
from mosaickit.fabric.stitches import Chart as Chart
from mosaickit.fabric.stitches import Stitch as Stitch
from mosaickit.fabric.stitches import compile_chart as compile_chart
from mosaickit.fabric.stitches import place_stitches as place_stitches
