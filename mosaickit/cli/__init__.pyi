# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.cli.running import COMMANDS as COMMANDS
from mosaickit.cli.running import main as main
from mosaickit.cli.running import parser as parser
from mosaickit.cli.running import run as run
