# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.photographed.reading import read_work as read_work
from mosaickit.photographed.work import PhotographedWork as PhotographedWork
from mosaickit.photographed.work import WrongSquare as WrongSquare
