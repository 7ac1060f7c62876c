# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.sizes.layouts.layout import Layout as Layout
from mosaickit.sizes.layouts.multiples import Multiple as Multiple
from mosaickit.sizes.layouts.usage import LayoutUsage as LayoutUsage
from mosaickit.sizes.ranking import pareto as pareto
from mosaickit.sizes.ranking import rank as rank
from mosaickit.sizes.sweeps.candidates import Sweep as Sweep
from mosaickit.sizes.sweeps.sweeping import sweep as sweep
from mosaickit.sizes.widths.fits import Fit as Fit
from mosaickit.sizes.widths.plans import WidthPlan as WidthPlan
from mosaickit.sizes.widths.plans import plan_widths as plan_widths
