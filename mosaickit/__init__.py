"""mosaickit: from an idea on a grid to a proven pattern for two-colour overlay mosaic crochet.

Start with a picture and follow it down::

    import mosaickit as mk

    motif = mk.Motif.from_text(...)             # or mk.load("picture.png")
    mk.check(motif)                             # what cannot be worked, and why
    motif = mk.nearest_workable(motif).motif    # the nearest picture that can
    chart = mk.compile_chart(motif, reversible=True)
    mk.work(chart)                              # both faces, worked loop by loop
    mk.count(chart)                             # stitches a row
    mk.yarn_usage(chart, mk.Gauge(16, 18))      # yarn a row
    mk.plan_widths(motif, mk.Gauge(16, 18), 20) # the repeats that come near 20 cm
    mk.write_rows(chart)                        # rows in words; mk.read_rows reads them back
    mk.pattern(chart, title=..., gauge=...)     # a page for mk.publish.pdf and mk.publish.html
    mk.sweep([motif, ...], [mk.Gauge(16, 18)], width=[18, 20, 22])  # every combination, a line each

Names are loaded when they are first used, so that importing the package costs little more than NumPy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

import mosaickit.distribution  # noqa: F401 — stops here if another project was installed into this folder

if TYPE_CHECKING:
    from mosaickit import draw as draw
    from mosaickit import lessons as lessons
    from mosaickit import publish as publish
    from mosaickit import widgets as widgets
    from mosaickit.calibration import Calibration as Calibration
    from mosaickit.calibration import Swatch as Swatch
    from mosaickit.calibration import calibrate as calibrate
    from mosaickit.chance import count_motifs as count_motifs
    from mosaickit.chance import random_motif as random_motif
    from mosaickit.chance import random_motifs as random_motifs
    from mosaickit.colours import Yarn as Yarn
    from mosaickit.colours import Yarns as Yarns
    from mosaickit.colours import contrast as contrast
    from mosaickit.errors import MosaickitError as MosaickitError
    from mosaickit.errors import SwatchError as SwatchError
    from mosaickit.errors import UnworkableError as UnworkableError
    from mosaickit.errors import WidthError as WidthError
    from mosaickit.families import family as family
    from mosaickit.files import load as load
    from mosaickit.files import save as save
    from mosaickit.gauge import Gauge as Gauge
    from mosaickit.hook import Fabric as Fabric
    from mosaickit.hook import work as work
    from mosaickit.layouts import Layout as Layout
    from mosaickit.lengths import StitchLengths as StitchLengths
    from mosaickit.motif import Motif as Motif
    from mosaickit.page import Page as Page
    from mosaickit.page import pattern as pattern
    from mosaickit.pictures import Traced as Traced
    from mosaickit.pictures import from_picture as from_picture
    from mosaickit.proofing import mend as mend
    from mosaickit.proofing import proof as proof
    from mosaickit.ranking import pareto as pareto
    from mosaickit.ranking import rank as rank
    from mosaickit.repair import nearest_workable as nearest_workable
    from mosaickit.rules import check as check
    from mosaickit.search import Found as Found
    from mosaickit.search import search_motifs as search_motifs
    from mosaickit.sharing import share as share
    from mosaickit.skeins import grams_per_square_metre as grams_per_square_metre
    from mosaickit.skeins import new_balls as new_balls
    from mosaickit.skeins import reach as reach
    from mosaickit.stitches import Chart as Chart
    from mosaickit.stitches import Stitch as Stitch
    from mosaickit.stitches import compile_chart as compile_chart
    from mosaickit.sweeps import Sweep as Sweep
    from mosaickit.sweeps import sweep as sweep
    from mosaickit.symmetries import symmetry as symmetry
    from mosaickit.tables import count as count
    from mosaickit.tables import count_by_yarn as count_by_yarn
    from mosaickit.tables import fits as fits
    from mosaickit.tables import save_table as save_table
    from mosaickit.tables import variants as variants
    from mosaickit.tables import yarn_rows as yarn_rows
    from mosaickit.tables import yarn_totals as yarn_totals
    from mosaickit.thread import lengths_of_thread as lengths_of_thread
    from mosaickit.thread import thread_of as thread_of
    from mosaickit.transforms import counterchange as counterchange
    from mosaickit.transforms import crop as crop
    from mosaickit.transforms import edge_stitches as edge_stitches
    from mosaickit.transforms import frame as frame
    from mosaickit.transforms import half_turn as half_turn
    from mosaickit.transforms import mirror as mirror
    from mosaickit.transforms import pad as pad
    from mosaickit.transforms import quarter_turn as quarter_turn
    from mosaickit.transforms import repeat as repeat
    from mosaickit.transforms import shift as shift
    from mosaickit.transforms import tile as tile
    from mosaickit.transforms import up_down as up_down
    from mosaickit.widths import WidthPlan as WidthPlan
    from mosaickit.widths import plan_widths as plan_widths
    from mosaickit.wording.faults import WordingError as WordingError
    from mosaickit.wording.reading import read_rows as read_rows
    from mosaickit.wording.writing import write_rows as write_rows
    from mosaickit.yarn import Skein as Skein
    from mosaickit.yarn import carry_or_cut_width_cm as carry_or_cut_width_cm
    from mosaickit.yarn import surcharge as surcharge
    from mosaickit.yarn import yarn_usage as yarn_usage

# where each public name lives, by area; the list above is the same for type checkers, and a test compares them
_NAMES = {
    "calibration": ("Calibration", "Swatch", "calibrate"),
    "chance": ("count_motifs", "random_motif", "random_motifs"),
    "colours": ("Yarn", "Yarns", "contrast"),
    "errors": ("MosaickitError", "SwatchError", "UnworkableError", "WidthError"),
    "families": ("family",),
    "files": ("load", "save"),
    "gauge": ("Gauge",),
    "hook": ("Fabric", "work"),
    "layouts": ("Layout",),
    "lengths": ("StitchLengths",),
    "motif": ("Motif",),
    "page": ("Page", "pattern"),
    "pictures": ("Traced", "from_picture"),
    "proofing": ("mend", "proof"),
    "ranking": ("pareto", "rank"),
    "repair": ("nearest_workable",),
    "rules": ("check",),
    "search": ("Found", "search_motifs"),
    "sharing": ("share",),
    "skeins": ("grams_per_square_metre", "new_balls", "reach"),
    "stitches": ("Chart", "Stitch", "compile_chart"),
    "sweeps": ("Sweep", "sweep"),
    "symmetries": ("symmetry",),
    "tables": ("count", "count_by_yarn", "fits", "save_table", "variants", "yarn_rows", "yarn_totals"),
    "thread": ("lengths_of_thread", "thread_of"),
    "transforms": (
        "counterchange",
        "crop",
        "edge_stitches",
        "frame",
        "half_turn",
        "mirror",
        "pad",
        "quarter_turn",
        "repeat",
        "shift",
        "tile",
        "up_down",
    ),
    "widths": ("WidthPlan", "plan_widths"),
    "wording.faults": ("WordingError",),
    "wording.reading": ("read_rows",),
    "wording.writing": ("write_rows",),
    "yarn": ("Skein", "carry_or_cut_width_cm", "surcharge", "yarn_usage"),
}
_MODULES = ("draw", "lessons", "publish", "widgets")
_HOME = {name: module for module, names in _NAMES.items() for name in names}

__version__ = "0.1.0"
__all__ = sorted([*_HOME, *_MODULES, "__version__"])


def __getattr__(name: str) -> Any:  # noqa: ANN401 — any public name
    if name in _MODULES:
        value = import_module(f"mosaickit.{name}")
    elif name in _HOME:
        value = getattr(import_module(f"mosaickit.{_HOME[name]}"), name)
    else:
        raise AttributeError(f"mosaickit has no {name!r}; `dir(mosaickit)` lists what it has")
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return __all__
