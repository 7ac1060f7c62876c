# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.centre.amounts import CentreSize as CentreSize
from mosaickit.centre.amounts import CentreUsage as CentreUsage
from mosaickit.centre.amounts import RoundCounts as RoundCounts
from mosaickit.centre.amounts import count as count
from mosaickit.centre.amounts import size as size
from mosaickit.centre.amounts import usage as usage
from mosaickit.centre.judging import CentreFinding as CentreFinding
from mosaickit.centre.judging import CentreReport as CentreReport
from mosaickit.centre.judging import check as check
from mosaickit.centre.mending import CentreRepair as CentreRepair
from mosaickit.centre.mending import nearest as nearest
from mosaickit.centre.proofing import RoundsRead as RoundsRead
from mosaickit.centre.proofing import read_rounds as read_rounds
from mosaickit.centre.reading import read as read
from mosaickit.centre.seeing import SquareSeen as SquareSeen
from mosaickit.centre.seeing import square_seen as square_seen
from mosaickit.centre.square import CentreOut as CentreOut
from mosaickit.centre.square import fitted as fitted
from mosaickit.centre.stitches import CentreChart as CentreChart
from mosaickit.centre.stitches import chart as chart
from mosaickit.centre.working import CentreFabric as CentreFabric
from mosaickit.centre.working import work as work
from mosaickit.centre.writing import write as write
