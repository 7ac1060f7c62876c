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


def check_design(design: Design) -> None:
    """Take over what was given in the form in which it is kept; raises `OptionError`, or `MotifError` if too large."""
    of_kind("surround", design.surround, Surround)
    if design.bands is not None:
        design.__dict__.update(bands_and_field(design))
    of_kind("motif", design.motif, Motif)
    of_kind("gauge", design.gauge, Gauge, or_none=True)
    one_of("laying", design.laying, LAYINGS)
    one_of("seam", design.seam, SEAMS)
    one_of("hand", design.hand, HANDS)
    of_kind("finish", design.finish, Finish)
    of_kind("yarn_settings", design.yarn_settings, YarnSettings)
    of_kind("words", design.words, PatternWords)
    of_kind("publishing", design.publishing, Publishing)
    own = design.__dict__  # a design is frozen
    for name in ("across", "up"):
        own[name] = whole_number(name, own[name], least=1)
    for name in ("reversible", "by_thread"):
        own[name] = true_or_false(name, own[name])
    for name, kind in (("swatches", Swatch), ("sizes", NamedSize)):
        own[name] = each_of_kind(name, own[name], kind)
    own["photographs"] = checked_photographs(design.photographs)
    check_bytes(own["photographs"])
    if design.hook_mm is not None:
        own["hook_mm"] = positive("hook_mm", design.hook_mm, "mm")
    if design.yarn_settings.lengths is not None and (design.by_thread or design.swatches):
        raise OptionError(
            "Lengths of your own are told once: leave out `lengths`, or leave out "
            f"{'`swatches`' if design.swatches else '`by_thread`'}."
        )
    checked_size(*design.shape)
    check_finish(design.finish, design.surround, design.yarn_settings, design.shape[0])
    if design.sizes:
        check_sizes(design)
