# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.sharing.pages import Shared as Shared
from mosaickit.sharing.pages import share as share
