# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.tables.choices import fits as fits
from mosaickit.tables.choices import variants as variants
from mosaickit.tables.designs import compared as compared
from mosaickit.tables.designs import listed as listed
from mosaickit.tables.photographs import wrong_squares as wrong_squares
from mosaickit.tables.saving import TABLE_ENDINGS as TABLE_ENDINGS
from mosaickit.tables.saving import TableFile as TableFile
from mosaickit.tables.saving import save_table as save_table
from mosaickit.tables.stitches import count as count
from mosaickit.tables.stitches import count_by_yarn as count_by_yarn
from mosaickit.tables.testing import reports as reports
from mosaickit.tables.testing import snags as snags
from mosaickit.tables.yarns import yarn_rows as yarn_rows
from mosaickit.tables.yarns import yarn_totals as yarn_totals
