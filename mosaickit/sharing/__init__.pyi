# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.sharing.notebooks import execute as execute
from mosaickit.sharing.notebooks import need_outputs as need_outputs
from mosaickit.sharing.notebooks import read as read
from mosaickit.sharing.pages import share as share
from mosaickit.sharing.prepared import page_of_cells as page_of_cells
