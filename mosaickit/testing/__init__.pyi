# The names at this folder's door, and where they live; mosaickit/doors.py loads them. Reports are values of `sizes`,
# which have their place here for makers.

from mosaickit.sizes import PieceReport as PieceReport
from mosaickit.sizes import Snag as Snag
from mosaickit.sizes import Tested as Tested
from mosaickit.sizes import YarnUsed as YarnUsed
from mosaickit.sizes import edition_of as edition_of
from mosaickit.sizes import load_reports as load_reports
from mosaickit.sizes import report_from_json as report_from_json
from mosaickit.sizes import report_to_json as report_to_json
from mosaickit.testing.corrected import next_edition as next_edition
from mosaickit.testing.everyone import EnoughYarn as EnoughYarn
from mosaickit.testing.everyone import yarn_for_everyone as yarn_for_everyone
