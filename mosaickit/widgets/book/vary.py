"""Vary: what the motif could be besides, as a wall to sort and filter, to pin, to breed from and to take from.

The wall shows the motif's family, motifs near it drawn by chance, and those that a search liked best. None of
them is in the design before it is taken; taking one is a step that can be undone, and the wall stays as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any
from weakref import WeakKeyDictionary

import numpy as np

from mosaickit.errors import MosaickitError, OptionError, number_of, whole_number
from mosaickit.ideas import (
    FIGURES,
    FigureName,
    Variant,
    child_of,
    family,
    in_order,
    likeness,
    measured,
    motifs_near,
    search_motifs,
)
from mosaickit.motif import SYMMETRIES, Motif, nearest_workable
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import in_labels
from mosaickit.widgets.book.ledger import faces, squares_of_motif
from mosaickit.widgets.book.panel import Book, Panel

MOST_ON_THE_WALL = 120
"""The most variants on the wall: more are too many to look at."""

LARGEST_MOTIF = 20_000
"""Of a larger motif no wall is made: its pictures would take longer than anyone looks."""

FIGURE_WORDS: dict[FigureName, tuple[str, bool]] = {
    "similarity": ("Similar to the motif", True),
    "fldc_share": ("FLdc among the stitches", True),
    "surcharge": ("More yarn if reversible", True),
    "cc_share": ("Squares in CC", True),
    "longest_bare": ("Longest bare strand, in stitches", False),
    "back_contrast": ("Of the back that differs from the front", True),
}
"""What a figure is called, and whether it is a share, shown in percent."""

WISHES = {
    "balance": "As much of one colour as of the other",
    "low surcharge": "Little more yarn if reversible",
    "both faces": "Both faces please",
    "edges match": "Repeats join smoothly",
}
"""What a search can be asked for: the ready objectives, in words."""

LIKENESS = ("likeness", "Like the motif in hand", 0.6)
"""What keeps a search near the motif: its name, its words, and how much it matters if nothing is said."""

STEPS_AT_ONCE, RUNS_AT_ONCE, KEPT = 150, 2, 6


@dataclass
class _Wall:
    """The variants on the wall of one workbook, and which of them are pinned."""

    of: Motif | None = None
    variants: list[Variant] = field(default_factory=list)
    sort: FigureName | None = None
    bounds: dict[FigureName, tuple[float | None, float | None]] = field(default_factory=dict)
    pinned: list[str] = field(default_factory=list)
    search: dict[str, float] = field(default_factory=dict)
    best: list[tuple[float, Motif]] = field(default_factory=list)
    rng: np.random.Generator = field(default_factory=np.random.default_rng)


class VaryPanel(Panel):
    """Variants of the motif are looked at and taken here."""

    name, word, hint = "vary", "Vary", "Variants of the motif, and chance"

    def __init__(self) -> None:
        self._walls: WeakKeyDictionary[Book, _Wall] = WeakKeyDictionary()

    def view(self, book: Book) -> dict[str, Any]:
        """Give the wall as it is sorted and filtered, what is pinned there, and what can be asked for."""
        wall, design = self._wall(book), book.design
        shown = _filtered(wall)
        return {
            "stale": wall.of is not None and not _known(wall, design.motif),
            "hung": wall.of is not None,
            "number": len(wall.variants),
            "tiles": [_tile(variant, design, wall) for variant in shown],
            "figures": [[name, *FIGURE_WORDS[name], *wall.bounds.get(name, (None, None))] for name in FIGURES],
            "sort": wall.sort,
            "pinned": [_beside(wall, name, design) for name in wall.pinned],
            "symmetries": list(SYMMETRIES),
            "wishes": [[name, word, wall.search.get(name, 0.0)] for name, word in WISHES.items()]
            + [[LIKENESS[0], LIKENESS[1], wall.search.get(LIKENESS[0], LIKENESS[2])]],
            "best": [_found(score, motif, design) for score, motif in wall.best],
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Do what was pressed: "hang", "sort", "keep", "pin", "breed", "near", "search", "forget" or "take"."""
        wall = self._wall(book)
        does: dict[str, Callable[[Book, _Wall, dict[str, Any]], None]] = {
            "hang": _hang,
            "sort": _sort,
            "keep": _keep,
            "pin": _pin,
            "breed": _breed,
            "near": _near,
            "search": _search,
            "forget": _forget,
            "take": _take,
        }
        if name not in does:
            return super().do(book, name, values, buffers)
        does[name](book, wall, values)
        return {}

    def _wall(self, book: Book) -> _Wall:
        return self._walls.setdefault(book, _Wall())


# ---- what is pressed -------------------------------------------------------------------------------------------


def _hang(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    motif = _small_enough(book.design.motif)
    steps = whole_number("steps", values.get("steps", 1), least=1)
    made = family(motif, steps=min(steps, 2), most=MOST_ON_THE_WALL)
    wall.of, wall.variants, wall.pinned = motif, list(made), []
    book.say(f"{number_of(len(made), 'variant')} of the motif, the motif itself first.")


def _sort(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    wall.sort = None if values.get("by") is None else _figure(values["by"])


def _keep(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    name = _figure(values.get("figure"))
    least, most = values.get("least"), values.get("most")
    for bound in (least, most):
        if bound is not None and not isinstance(bound, int | float):
            raise OptionError(f"{FIGURE_WORDS[name][0]}: enter a number, or nothing.")
    wall.bounds[name] = (least, most)


def _pin(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    name = _variant(wall, values.get("name")).name
    if name in wall.pinned:
        wall.pinned.remove(name)
    else:
        wall.pinned = [*wall.pinned, name][-3:]
    book.say(f"Pinned: {', '.join(wall.pinned)}." if wall.pinned else "Nothing is pinned.")


def _breed(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    if len(wall.pinned) != 2:
        raise OptionError("Pin two variants first; their child takes each column from one or the other.")
    one, other = (_variant(wall, name).motif for name in wall.pinned)
    _add(book, wall, f"child of {' and '.join(wall.pinned)}", [child_of(one, other, rng=wall.rng)])


def _near(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    motif = _small_enough(book.design.motif)
    drawn = motifs_near(
        motif,
        whole_number("how many", values.get("count", 6), least=1),
        squares=whole_number("squares", values.get("squares"), least=1),
        symmetry=values.get("symmetry") or (),
        rng=wall.rng,
    )
    if wall.of is None:
        wall.of = motif
    _add(book, wall, "by chance", drawn)


def _search(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    """Search a little further with these weights; the page asks again until the hand has seen enough."""
    weights = {str(name): float(weight) for name, weight in (values.get("weights") or {}).items() if weight}
    like = weights.pop(LIKENESS[0], 0.0)
    if not weights or not set(weights) <= set(WISHES):
        raise OptionError(f"Say what matters first: move one of the sliders besides “{LIKENESS[1]}”.")
    motif = _small_enough(book.design.motif)
    asked = weights | {LIKENESS[0]: like}
    if asked != wall.search:
        wall.search, wall.best = asked, []
    objective: dict[Any, float] = dict(weights)
    if like:
        objective[partial(likeness, to=motif)] = like
    found = search_motifs(
        wall.best[0][1] if wall.best else motif,  # each press goes on from the best so far
        objective,
        rng=wall.rng,
        symmetry=values.get("symmetry") or (),
        steps=STEPS_AT_ONCE,
        runs=RUNS_AT_ONCE,
        most=KEPT,
        try_all_up_to=0,
    )
    best = {each.grid.tobytes(): (score, each) for score, each in wall.best}
    best |= {each.grid.tobytes(): (score, each) for score, each in zip(found.scores, found.motifs, strict=True)}
    wall.best = sorted(best.values(), key=lambda one: -one[0])[:KEPT]
    book.say(f"The best so far scores {wall.best[0][0]:.0%} of what was wished.")


def _forget(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    wall.search, wall.best = {}, []


def _take(book: Book, wall: _Wall, values: dict[str, Any]) -> None:
    if values.get("best") is not None:
        at = whole_number("place", values["best"], least=0)
        if at >= len(wall.best):
            raise OptionError("That one is no longer among the best.")
        name, motif = "found by the search", wall.best[at][1]
    else:
        variant = _variant(wall, values.get("name"))
        name, motif = variant.name, variant.motif
    now = book.design.motif
    book.change(motif.named(now.name), f"variant: {name}"[:200])
    book.say(f"Taken: {name}. Undo brings back what was.")


# ---- the wall --------------------------------------------------------------------------------------------------


def _small_enough(motif: Motif) -> Motif:
    if motif.grid.size > LARGEST_MOTIF:
        raise OptionError(
            f"This motif has {motif.grid.size:,} squares; variants are made of motifs of up to {LARGEST_MOTIF:,}. Crop "
            "it to the part that repeats, or vary that part as a design of its own."
        )
    return motif


def _figure(name: object) -> FigureName:
    if name not in FIGURES:
        raise OptionError(f"The wall knows no figure {name!r}.")
    return name


def _variant(wall: _Wall, name: object) -> Variant:
    for variant in wall.variants:
        if variant.name == name:
            return variant
    raise OptionError("That variant is no longer on the wall.")


def _known(wall: _Wall, motif: Motif) -> bool:
    """Whether a motif is the one the wall is of, or hangs there."""
    seen = [wall.of, *(variant.motif for variant in wall.variants), *(each for _, each in wall.best)]
    return any(each is not None and each.shape == motif.shape and (each.grid == motif.grid).all() for each in seen)


def _add(book: Book, wall: _Wall, name: str, motifs: Iterable[Motif]) -> None:
    repairs = [nearest_workable(motif) for motif in motifs]
    figures = measured([repair.motif for repair in repairs], wall.of or repairs[0].motif)
    known = sum(variant.name.startswith(name) for variant in wall.variants)
    for number, (repair, of_it) in enumerate(zip(repairs, figures, strict=True), known + 1):
        wall.variants.append(Variant(f"{name}, {number}", repair.motif, int(repair.changed.sum()), of_it))
    book.say(f"Added to the wall: {number_of(len(repairs), 'motif')}.")


def _filtered(wall: _Wall) -> list[Variant]:
    def stays(variant: Variant) -> bool:
        for name, (least, most) in wall.bounds.items():
            value = _shown_value(name, variant)
            if (least is not None and value < least) or (most is not None and value > most):
                return False
        return True

    kept = [variant for variant in wall.variants if stays(variant)]
    return in_order(kept, wall.sort) if wall.sort else kept


def _shown_value(name: FigureName, variant: Variant) -> float:
    """Give a figure as it is shown and entered: shares in percent."""
    value: float = getattr(variant.figures, name)
    return 100 * value if FIGURE_WORDS[name][1] else value


def _tile(variant: Variant, design: Design, wall: _Wall) -> dict[str, Any]:
    shares = [f"{_shown_value(name, variant):.0f}{' %' if FIGURE_WORDS[name][1] else ''}" for name in FIGURES]
    return {
        "name": variant.name,
        "pinned": variant.name in wall.pinned,
        "figures": shares,
        "mended": f"{number_of(variant.changed, 'square')} mended" if variant.changed else "",
        "picture": _picture(variant.motif, design, variant.name),
    }


def _picture(motif: Motif, design: Design, word: str) -> dict[str, Any]:
    return squares_of_motif(motif, design, word=word, about=word)


def _found(score: float, motif: Motif, design: Design) -> dict[str, Any]:
    return {"score": f"{score:.0%}", "picture": _picture(motif, design, f"{score:.0%} of what was wished")}


def _beside(wall: _Wall, name: str, design: Design) -> dict[str, Any]:
    """Give a pinned variant as a whole piece: both faces, size and yarn; or why it cannot be laid so."""
    try:
        piece = design.but(motif=_variant(wall, name).motif)
        piece.layout.must_work()
        lines = []
        if piece.gauge is not None:
            lines = [str(piece.size), *(f"{each.yarn.name}: {each.likely_m:.0f} m" for each in piece.usage.by_yarn)]
        return {"name": name, "faces": faces(piece), "lines": lines, "trouble": ""}
    except MosaickitError as error:
        return {"name": name, "faces": [], "lines": [], "trouble": in_labels(str(error))}


PANEL = VaryPanel()
