# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.publish.paper import FORMS as FORMS
from mosaickit.publish.paper import PAPERS as PAPERS
from mosaickit.publish.paper import pdf as pdf
from mosaickit.publish.screen import html as html
