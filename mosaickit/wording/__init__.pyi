# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.wording.faults import WordingError as WordingError
from mosaickit.wording.mending import mend as mend
from mosaickit.wording.phrases import RowPart as RowPart
from mosaickit.wording.phrases import Run as Run
from mosaickit.wording.phrases import plain as plain
from mosaickit.wording.phrases import short as short
from mosaickit.wording.proofing import Proof as Proof
from mosaickit.wording.proofing import proof as proof
from mosaickit.wording.reading import read_rows as read_rows
from mosaickit.wording.remarks import first_row as first_row
from mosaickit.wording.remarks import foundation as foundation
from mosaickit.wording.remarks import in_words as in_words
from mosaickit.wording.remarks import notes as notes
from mosaickit.wording.shortening import shortest as shortest
from mosaickit.wording.terms import NATIONS as NATIONS
from mosaickit.wording.terms import STITCH_NAMES as STITCH_NAMES
from mosaickit.wording.terms import STITCH_WORDS as STITCH_WORDS
from mosaickit.wording.terms import STYLES as STYLES
from mosaickit.wording.terms import TERMS as TERMS
from mosaickit.wording.terms import Style as Style
from mosaickit.wording.terms import Terms as Terms
from mosaickit.wording.terms import render as render
from mosaickit.wording.writing import WrittenRows as WrittenRows
from mosaickit.wording.writing import write_rows as write_rows
