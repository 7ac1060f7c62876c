# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.files.bundle import bundled as bundled
from mosaickit.files.bundle import lay_out as lay_out
from mosaickit.files.disk import LARGEST_BYTES as LARGEST_BYTES
from mosaickit.files.disk import as_path as as_path
from mosaickit.files.disk import check_ordinary as check_ordinary
from mosaickit.files.disk import file_name as file_name
from mosaickit.files.disk import place as place
from mosaickit.files.disk import read_whole as read_whole
from mosaickit.files.disk import reason as reason
from mosaickit.files.disk import write_whole as write_whole
from mosaickit.files.documents import fault as fault
from mosaickit.files.documents import from_json as from_json
from mosaickit.files.documents import parse as parse
from mosaickit.files.documents import read_object as read_object
from mosaickit.files.documents import read_string as read_string
from mosaickit.files.documents import to_json as to_json
from mosaickit.files.formats import load as load
from mosaickit.files.formats import save as save
from mosaickit.files.locks import Lock as Lock
from mosaickit.files.locks import this_program as this_program
from mosaickit.files.pictures.tracing import Traced as Traced
from mosaickit.files.pictures.tracing import from_picture as from_picture
from mosaickit.files.saved import Design as Design
from mosaickit.files.saved import save_bytes as save_bytes
