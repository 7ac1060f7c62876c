# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.draw.centred import rounds as rounds
from mosaickit.draw.charts import chart as chart
from mosaickit.draw.fabrics import face as face
from mosaickit.draw.fabrics import faces as faces
from mosaickit.draw.families import motifs as motifs
from mosaickit.draw.families import variants as variants
from mosaickit.draw.files import save as save
from mosaickit.draw.finishes import finished as finished
from mosaickit.draw.photographs import photographed as photographed
from mosaickit.draw.plans import piece as piece
from mosaickit.draw.plans import pieces as pieces
from mosaickit.draw.plans import yarn_by_width as yarn_by_width
from mosaickit.draw.proofs import proof as proof
from mosaickit.draw.puzzled import snags as snags
from mosaickit.draw.style import ChartStyle as ChartStyle
from mosaickit.draw.symmetries import symmetry as symmetry
from mosaickit.draw.thread_files import worked_png as worked_png
from mosaickit.draw.threads import worked as worked
from mosaickit.draw.tracing import compared as compared
from mosaickit.draw.tracing import traced as traced
from mosaickit.draw.usage import yarn as yarn
from mosaickit.draw.yarn_pieces import worked_piece as worked_piece
from mosaickit.draw.yarn_pieces import worked_square as worked_square
