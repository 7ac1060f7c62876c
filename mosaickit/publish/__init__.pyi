# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.publish.centred import CENTRE_FORMS as CENTRE_FORMS
from mosaickit.publish.centred import html_from_centre as html_from_centre
from mosaickit.publish.centred import pdf_from_centre as pdf_from_centre
from mosaickit.publish.editing.editing import EDIT_KINDS as EDIT_KINDS
from mosaickit.publish.editing.editing import tech_edit as tech_edit
from mosaickit.publish.editing.findings import EditFinding as EditFinding
from mosaickit.publish.editing.findings import EditKind as EditKind
from mosaickit.publish.editing.findings import EditReport as EditReport
from mosaickit.publish.entries import EdgeUse as EdgeUse
from mosaickit.publish.entries import Instructions as Instructions
from mosaickit.publish.entries import Meeting as Meeting
from mosaickit.publish.entries import PageRow as PageRow
from mosaickit.publish.entries import PageYarn as PageYarn
from mosaickit.publish.entries import RowUse as RowUse
from mosaickit.publish.entries import SizedInstructions as SizedInstructions
from mosaickit.publish.entries import YarnStart as YarnStart
from mosaickit.publish.filling import page_of as page_of
from mosaickit.publish.page import Page as Page
from mosaickit.publish.page import PageSize as PageSize
from mosaickit.publish.paper import FORMS as FORMS
from mosaickit.publish.paper import PAPERS as PAPERS
from mosaickit.publish.paper import pdf as pdf
from mosaickit.publish.paper import sheets as sheets
from mosaickit.publish.screen import html as html
from mosaickit.publish.testers import pack_for_testers as pack_for_testers
from mosaickit.publish.testers import report_form as report_form
