"""The variation explorer: a wall of what a motif could be, to pick from, to pin, to breed and to paint on.

Python makes the variants, measures and mends them; the page shows the wall, moves about on it, and says what was
pressed. Every message is answered, also with why something was not done.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import numpy as np
import traitlets

from mosaickit import svg
from mosaickit.errors import OptionError, of_kind
from mosaickit.fabric import compile_chart, work
from mosaickit.files import to_png
from mosaickit.ideas import FigureName, Figures, Variant, child_of, family, in_order, measured, random_motifs
from mosaickit.motif import Motif, nearest_workable, repeat
from mosaickit.scripts import one_script
from mosaickit.widgets.link import answer_aloud, unknown_message
from mosaickit.widgets.painter import MotifPainter
from mosaickit.widgets.parts import data_url

MOST_VARIANTS = 120
"""The wall shows so many variants: more are too many to look at."""

SORTS: dict[str, FigureName | None] = {
    "as made": None,
    "similar": "similarity",
    "FLdc": "fldc_share",
    "more yarn": "surcharge",
    "CC": "cc_share",
    "bare strand": "longest_bare",
    "back differs": "back_contrast",
}
"""What the wall can be sorted by, and the figure it is."""

_PINNED, _UNPINNED = "Pinned: ….", "Nothing is pinned."


class VariationExplorer(anywidget.AnyWidget):
    """A wall of variants of a motif.

    Parameters
    ----------
    motif : Motif
        What to start from.
    steps : int
        How many changes may be made one after the other.
    painter : MotifPainter, optional
        Where a variant is sent to be painted on; without one, `chosen` is all there is.
    rng : numpy.random.Generator, optional
        What chance comes from; seed 0 if left out.

    Attributes
    ----------
    chosen : Motif
        The variant that is picked; can be observed.
    variants : list of Variant
        All on the wall, in the order they were made.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> explorer = VariationExplorer(Motif.from_array(np.pad([[1]], 2)))
    >>> explorer.variants[0].name
    'as it is'
    """

    _esm = one_script(Path(__file__).with_name("explorer.js"))
    _css = Path(__file__).with_name("explorer.css")

    chosen = traitlets.Instance(Motif)
    """The variant that is picked."""
    tiles: traitlets.List[dict[str, Any]] = traitlets.List().tag(sync=True)
    """Each variant's key, picture, name and figures, in the order they are shown."""
    picked = traitlets.Int(0).tag(sync=True)
    """The key of the variant that is picked."""
    pinned: traitlets.List[int] = traitlets.List().tag(sync=True)
    """The keys of those that are pinned, at most two."""
    preview = traitlets.Dict().tag(sync=True)
    """Front, back and repeat of the variant that is picked, and what is to be said of it."""
    sorts = traitlets.List(list(SORTS)).tag(sync=True)
    """What the wall can be sorted by."""
    said = traitlets.Unicode().tag(sync=True)
    """What came of the last thing that was pressed."""

    def __init__(
        self,
        motif: Motif,
        *,
        steps: int = 1,
        painter: MotifPainter | None = None,
        rng: np.random.Generator | None = None,
    ) -> None:
        of_kind("motif", motif, Motif)
        of_kind("painter", painter, MotifPainter, or_none=True)
        self.painter = painter
        self._rng = np.random.default_rng(0) if rng is None else rng
        self._sort = "as made"
        self.variants: list[Variant] = list(family(motif, steps=steps, most=MOST_VARIANTS))
        super().__init__(chosen=self.variants[0].motif)
        self._show()
        self._pick()
        self.observe(self._pick, names="picked")
        self.on_msg(self._receive)

    # ---- what the hand does --------------------------------------------------------------------------------

    def _receive(self, _: object, content: dict[str, Any], __: object) -> None:
        answer_aloud(self, content, kept="the wall")

    def _handle(self, content: dict[str, Any]) -> dict[str, Any]:
        verbs = {"pin": self.pin, "breed": self.breed, "paint": self.paint, "chance": self.draw_at_random}
        kind = content.get("kind")
        if kind == "sort":
            self.sort(content.get("by", ""))
        elif kind in verbs:
            verbs[kind]()
        else:
            raise unknown_message("explorer", kind)
        return {}

    def sort(self, by: str) -> None:
        """Sort the wall by one of `SORTS`, the highest first."""
        if by not in SORTS:
            raise OptionError(f"The wall can be sorted by {', '.join(SORTS)}; got {by!r}.")
        self._sort = by
        self._show()

    def pin(self) -> None:
        """Pin the variant that is picked, or take its pin out; of three pins the oldest falls."""
        pinned = [key for key in self.pinned if key != self.picked]
        if len(pinned) == len(self.pinned):
            pinned.append(self.picked)
        self.pinned = pinned[-2:]
        names = " and ".join(self.variants[key].name for key in self.pinned)
        self.said = _PINNED.replace("…", names) if names else _UNPINNED

    def breed(self) -> None:
        """Make a child of the two that are pinned; see `child_of`."""
        if len(self.pinned) < 2:
            raise OptionError("Pin two variants first; their child takes each column from one or the other.")
        one, other = (self.variants[key].motif for key in self.pinned)
        self._add("child of " + " and ".join(str(key + 1) for key in self.pinned), child_of(one, other, rng=self._rng))

    def draw_at_random(self) -> None:
        """Add a workable motif of the size of the one that is picked, each as likely as any other."""
        like = self.variants[self.picked].motif
        (drawn,) = random_motifs(1, *like.shape, rng=self._rng, first=like.first, yarns=like.yarns)
        self._add("drawn at random", drawn)

    def paint(self) -> None:
        """Send the variant that is picked to the painter."""
        if self.painter is None:
            raise OptionError("There is no painter to send it to: give one, as in VariationExplorer(motif, painter=…).")
        self.painter.motif = self.chosen
        self.said = f"{self.variants[self.picked].name} is in the painter; undo there brings back what was."

    def _add(self, name: str, motif: Motif) -> None:
        repair = nearest_workable(motif)
        (figures,) = measured([repair.motif], self.variants[0].motif)
        count = sum(variant.name.startswith(name) for variant in self.variants)
        name = f"{name}, {count + 1}" if count else name
        self.variants.append(Variant(name, repair.motif, int(repair.changed.sum()), figures))
        self._show()
        self.picked = len(self.variants) - 1
        self.said = f"Added: {name}."

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: every preview and order."""
        more = {
            "note": "To breed two variants, to add one at random or to paint on one, open the notebook.",
            "previews": [self._preview(variant, still=True) for variant in self.variants],
            "orders": {name: self._keys(name) for name in SORTS},
            "pinned": _PINNED,
            "unpinned": _UNPINNED,
        }
        return {self.model_id: more}

    # ---- what is shown -------------------------------------------------------------------------------------

    def _show(self) -> None:
        self.tiles = [
            {"key": key, "picture": _picture(one.motif), "name": one.name, "about": _about(one)}
            for key, one in ((key, self.variants[key]) for key in self._keys(self._sort))
        ]

    def _keys(self, by: str) -> list[int]:
        """Give the keys of all variants in an order of `SORTS`."""
        figure = SORTS[by]
        key_of = {id(variant): key for key, variant in enumerate(self.variants)}
        return [key_of[id(one)] for one in (in_order(self.variants, figure) if figure else self.variants)]

    def _pick(self, _: object = None) -> None:
        if not 0 <= self.picked < len(self.variants):
            self.picked = 0
            return
        variant = self.variants[self.picked]
        self.chosen = variant.motif
        self.preview = self._preview(variant)

    def _preview(self, variant: Variant, *, still: bool = False) -> dict[str, str]:
        """Show both faces and the repeat of a variant; `still` makes the repeat a picture that needs less room."""
        chart = compile_chart(variant.motif, reversible=True)
        laid = repeat(variant.motif, across=3, up=3, colours="swap", must_work=False)
        return {
            "faces": work(chart)._repr_svg_(),
            "repeat": _still(laid) if still else _picture(laid),
            "about": f"{variant.name}: {_about(variant)}",
        }


def _picture(motif: Motif) -> str:
    rows, columns = motif.shape
    drawn = svg.squares(*svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns))
    return f'<svg viewBox="0 0 {columns} {rows}" aria-hidden="true" shape-rendering="crispEdges">{drawn}</svg>'


def _still(motif: Motif) -> str:
    return f'<img alt="" width="{motif.shape[1]}" height="{motif.shape[0]}" src="{data_url(to_png(motif, 1))}">'


def _about(variant: Variant) -> str:
    figures: Figures = variant.figures
    rows, columns = variant.motif.shape
    mended = f", {variant.changed} squares mended" if variant.changed else ""
    return (
        f"{rows} × {columns}{mended}; {figures.fldc_share:.0%} FLdc, {figures.surcharge:.0%} more yarn reversible, "
        f"{figures.cc_share:.0%} CC, at most {figures.longest_bare} FLdc side by side, "
        f"{figures.back_contrast:.0%} of the back differs, {figures.similarity:.0%} similar"
    )
