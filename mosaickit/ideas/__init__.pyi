# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.ideas.chance.drawing import DrawnMotifs as DrawnMotifs
from mosaickit.ideas.chance.drawing import count_motifs as count_motifs
from mosaickit.ideas.chance.drawing import random_motif as random_motif
from mosaickit.ideas.chance.drawing import random_motifs as random_motifs
from mosaickit.ideas.chance.near import motifs_near as motifs_near
from mosaickit.ideas.families.breeding import child_of as child_of
from mosaickit.ideas.families.making import Family as Family
from mosaickit.ideas.families.making import Variant as Variant
from mosaickit.ideas.families.making import family as family
from mosaickit.ideas.families.making import in_order as in_order
from mosaickit.ideas.families.measuring import FIGURES as FIGURES
from mosaickit.ideas.families.measuring import FigureName as FigureName
from mosaickit.ideas.families.measuring import Figures as Figures
from mosaickit.ideas.families.measuring import measured as measured
from mosaickit.ideas.search.objectives import READY as READY
from mosaickit.ideas.search.objectives import balance as balance
from mosaickit.ideas.search.objectives import both_faces as both_faces
from mosaickit.ideas.search.objectives import edges_match as edges_match
from mosaickit.ideas.search.objectives import likeness as likeness
from mosaickit.ideas.search.objectives import low_surcharge as low_surcharge
from mosaickit.ideas.search.searching import Found as Found
from mosaickit.ideas.search.searching import search_motifs as search_motifs
from mosaickit.ideas.search.trials import Failure as Failure
