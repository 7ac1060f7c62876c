"""Checked: whether the decisions of a design are each as described, and go together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mosaickit.errors import OptionError, each_of_kind, of_kind, one_of, positive, true_or_false, whole_number
from mosaickit.gauge import Gauge
from mosaickit.motif import LAYINGS, SEAMS, Motif, checked_size
from mosaickit.orientation import HANDS
from mosaickit.sizes.bands.taking import bands_and_field
from mosaickit.sizes.designs.named import NamedSize, check_sizes
from mosaickit.sizes.designs.photographs import check_bytes, checked_photographs
from mosaickit.sizes.designs.publishing import Publishing
from mosaickit.sizes.designs.words import PatternWords
from mosaickit.sizes.finishes.finish import Finish, check_finish
from mosaickit.sizes.layouts.surround import Surround
from mosaickit.yarn import Swatch, YarnSettings

if TYPE_CHECKING:
    from mosaickit.sizes.designs.design import Design


_KINDS: dict[str, tuple[type, bool]] = {
    "surround": (Surround, False),
    "motif": (Motif, False),
    "gauge": (Gauge, True),
    "finish": (Finish, False),
    "yarn_settings": (YarnSettings, False),
    "words": (PatternWords, False),
    "publishing": (Publishing, False),
}
"""What must be of a kind, and whether it may be None too."""
_ONE_OF = {"laying": LAYINGS, "seam": SEAMS, "hand": HANDS}
_SEVERAL = {"swatches": Swatch, "sizes": NamedSize}


def check_design(design: Design) -> None:
    """Take over what was given in the form in which it is kept; raises `OptionError`, or `MotifError` if too large."""
    of_kind("surround", design.surround, Surround)
    if design.bands is not None:
        design.__dict__.update(bands_and_field(design))
    for name in (*_KINDS, *_ONE_OF, "across", "up", "reversible", "by_thread", *_SEVERAL, "photographs", "hook_mm"):
        check_field(design, name)
    check_together(design)


def check_field(design: Design, name: str) -> None:
    """Do the same for what a field must be by itself."""
    own = design.__dict__  # a design is frozen
    value = own[name]
    if name in _KINDS:
        kind, or_none = _KINDS[name]
        of_kind(name, value, kind, or_none=or_none)
    elif name in _ONE_OF:
        one_of(name, value, _ONE_OF[name])
    elif name in ("across", "up"):
        own[name] = whole_number(name, value, least=1)
    elif name in ("reversible", "by_thread"):
        own[name] = true_or_false(name, value)
    elif name in _SEVERAL:
        own[name] = each_of_kind(name, value, _SEVERAL[name])
    elif name == "photographs":
        own[name] = checked_photographs(value)
        check_bytes(own[name])
    elif name == "hook_mm" and value is not None:
        own[name] = positive("hook_mm", value, "mm")


def check_together(design: Design) -> None:
    """Raise if decisions that are each as described do not go together, or the piece is too large."""
    if design.yarn_settings.lengths is not None and (design.by_thread or design.swatches):
        raise OptionError(
            "Lengths of your own are told once: leave out `lengths`, or leave out "
            f"{'`swatches`' if design.swatches else '`by_thread`'}."
        )
    checked_size(*design.shape)
    check_finish(design.finish, design.surround, design.yarn_settings, design.shape[0])
    if design.sizes:
        check_sizes(design)
