# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.sizes.designs.comparing import Comparison as Comparison
from mosaickit.sizes.designs.comparing import DesignDifference as DesignDifference
from mosaickit.sizes.designs.comparing import compare as compare
from mosaickit.sizes.designs.design import Design as Design
from mosaickit.sizes.designs.design import Edition as Edition
from mosaickit.sizes.designs.design import Size as Size
from mosaickit.sizes.designs.saving import load as load
from mosaickit.sizes.designs.saving import load_design as load_design
from mosaickit.sizes.designs.saving import save as save
from mosaickit.sizes.designs.words import LEVELS as LEVELS
from mosaickit.sizes.designs.words import LONGEST_NOTE as LONGEST_NOTE
from mosaickit.sizes.designs.words import LONGEST_TITLE as LONGEST_TITLE
from mosaickit.sizes.designs.words import PatternWords as PatternWords
from mosaickit.sizes.designs.words import check_characters as check_characters
from mosaickit.sizes.designs.words import check_prose as check_prose
from mosaickit.sizes.layouts.layout import Layout as Layout
from mosaickit.sizes.layouts.multiples import Multiple as Multiple
from mosaickit.sizes.layouts.surround import Surround as Surround
from mosaickit.sizes.layouts.usage import LayoutUsage as LayoutUsage
from mosaickit.sizes.ranking import pareto as pareto
from mosaickit.sizes.ranking import rank as rank
from mosaickit.sizes.sweeps.candidates import Sweep as Sweep
from mosaickit.sizes.sweeps.sweeping import sweep as sweep
from mosaickit.sizes.widths.fits import Fit as Fit
from mosaickit.sizes.widths.plans import WidthPlan as WidthPlan
from mosaickit.sizes.widths.plans import plan_widths as plan_widths
