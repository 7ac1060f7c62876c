# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.testing.corrected import next_edition as next_edition
from mosaickit.testing.documents import load_reports as load_reports
from mosaickit.testing.documents import report_from_json as report_from_json
from mosaickit.testing.documents import report_to_json as report_to_json
from mosaickit.testing.everyone import EnoughYarn as EnoughYarn
from mosaickit.testing.everyone import yarn_for_everyone as yarn_for_everyone
from mosaickit.testing.reports import REPORT_LENGTHS as REPORT_LENGTHS
from mosaickit.testing.reports import REPORT_LIMITS as REPORT_LIMITS
from mosaickit.testing.reports import PieceReport as PieceReport
from mosaickit.testing.reports import Snag as Snag
from mosaickit.testing.reports import Tested as Tested
from mosaickit.testing.reports import YarnUsed as YarnUsed
from mosaickit.testing.reports import check_size_label as check_size_label
from mosaickit.testing.reports import checked_all as checked_all
from mosaickit.testing.reports import edition_of as edition_of
from mosaickit.testing.reports import totals_of as totals_of
