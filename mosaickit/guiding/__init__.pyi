# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.guiding.columns import RINGS as RINGS
from mosaickit.guiding.columns import ColumnFrame as ColumnFrame
from mosaickit.guiding.columns import cord as cord
from mosaickit.guiding.data import MOST_STITCHES as MOST_STITCHES
from mosaickit.guiding.data import steps as steps
from mosaickit.guiding.places import Place as Place
from mosaickit.guiding.places import PlaceFile as PlaceFile
from mosaickit.guiding.places import checked_place as checked_place
from mosaickit.guiding.places import fingerprint as fingerprint
