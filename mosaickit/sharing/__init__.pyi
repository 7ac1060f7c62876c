# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.sharing.notebooks import execute as execute
from mosaickit.sharing.notebooks import not_run as not_run
from mosaickit.sharing.notebooks import read as read
from mosaickit.sharing.pages import Shared as Shared
from mosaickit.sharing.pages import share as share
from mosaickit.sharing.prepared import page_of_cells as page_of_cells
