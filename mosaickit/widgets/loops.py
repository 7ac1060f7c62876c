"""The loop view: touch a square, and see in the column below it why it can or cannot be worked.

Python looks at every square of a small motif beforehand, so that touching needs no answer and works on a page without
Python too; of a larger one it looks at the square that is touched. What a square shows is changed in Python only, which
then looks again. Every message is answered, also with an error.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import anywidget
import numpy as np
import traitlets
from numpy.typing import NDArray

from mosaickit import orientation, svg
from mosaickit.errors import OptionError, of_kind, one_of, whole_number
from mosaickit.gauge import Gauge
from mosaickit.motif import WORKABLE, Motif, check
from mosaickit.orientation import HANDS, ROLES, Hand
from mosaickit.scripts import one_script
from mosaickit.widgets.link import answer_to, unknown_message
from mosaickit.widgets.looking import AROUND, VERDICTS, VIEW_BOX, Look, legend, look, look_at_all, picture

MOST_SQUARES = 3600
"""More squares than this are no picture for a lesson."""

MOST_AT_ONCE = 900
"""Of a motif of up to so many squares, all looks are sent beforehand."""


class LoopView(anywidget.AnyWidget):
    r"""A picture whose squares show the column below them when they are touched.

    Parameters
    ----------
    motif : Motif
        Any picture of at most `MOST_SQUARES`; may be unworkable.
    gauge : Gauge, optional
        The proportion of a square; squares are as wide as high if left out.
    hand : "right" or "left"
        The hand that holds the hook.
    reversible : bool
        Whether the back is closed.

    Raises
    ------
    OptionError
        If an argument is not as described, or the motif is too large.

    Examples
    --------
    >>> view = LoopView(Motif.from_text("...\n###\n..."))
    >>> view.motif = Motif.from_text("...\n###\n.#.")
    >>> view.shown["verdict"]
    'Squares that cannot be worked: 1.'
    """

    _esm = one_script(Path(__file__).with_name("loops.js"))
    _css = Path(__file__).with_name("loops.css")

    motif = traitlets.Instance(Motif)
    """The picture now. Set it to look at something else; observe it to follow the hand."""
    shown = traitlets.Dict().tag(sync=True)
    """The squares, how they are numbered and coloured, and what there is to say about them."""

    def __init__(
        self, motif: Motif, *, gauge: Gauge | None = None, hand: Hand = "right", reversible: bool = False
    ) -> None:
        of_kind("motif", motif, Motif)
        if gauge is not None:
            of_kind("gauge", gauge, Gauge)
        one_of("hand", hand, HANDS)
        of_kind("reversible", reversible, bool)
        self._hand: Hand = hand
        self._reversible = reversible
        self._aspect = 1.0 if gauge is None else gauge.aspect
        self._now = motif
        super().__init__(motif=motif)
        self._show()
        self.observe(self._motif_set, names="motif")
        self.on_msg(self._receive)

    @traitlets.validate("motif")
    def _small_enough(self, proposal: Any) -> Motif:  # noqa: ANN401 — traitlets' own
        motif: Motif = proposal["value"]
        if motif.grid.size > MOST_SQUARES:
            rows, columns = motif.shape
            raise OptionError(
                f"A loop view shows at most {MOST_SQUARES:,} squares; this motif has {rows} × {columns}: take a part "
                "of it with `mk.crop`."
            )
        return motif

    # ---- messages ------------------------------------------------------------------------------------------

    def _receive(self, _: object, content: dict[str, Any], __: Sequence[Any]) -> None:
        self.send(answer_to(content, lambda: self._handle(content), kept="the picture"))
        # anyone who follows the motif may take their time, so the hand is answered first
        self.motif = self._now

    def _handle(self, content: dict[str, Any]) -> dict[str, Any]:
        square = whole_number("square", content.get("square"))
        if square >= self._now.grid.size:
            raise OptionError(f"The picture has {self._now.grid.size} squares; there is no square {square}.")
        place = divmod(square, self._now.shape[1])
        if content.get("kind") == "look":
            at = orientation.place(place, self._now.shape, self._hand)
            return {"look": told(look(self._now, *at, hand=self._hand, reversible=self._reversible))}
        if content.get("kind") != "change":
            raise unknown_message("loop view", content.get("kind"))
        grid = self._now.grid.copy()
        grid[place] ^= True
        self._now = self._now.with_grid(grid)
        self._show()
        return {}

    def _motif_set(self, change: dict[str, Any]) -> None:
        """Follow a motif that was set from Python; one that came from the hand is shown already."""
        if change["new"] != self._now:
            self._now = change["new"]
            self._show()

    # ---- what is shown -------------------------------------------------------------------------------------

    def _show(self) -> None:
        motif = self._now
        rows, columns = motif.shape
        wrong = check(motif, hand=self._hand, rules=WORKABLE).squares("error")
        verdicts = np.where(wrong, 2, motif.overlaid).astype(int)
        colour_of, colours = svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)
        numbers = orientation.row_numbers(rows).tolist()
        self.shown = {
            "rows": rows,
            "columns": columns,
            "aspect": self._aspect,
            "title": motif.summary,
            "edge": orientation.working_edge(self._hand),
            "row_numbers": numbers,
            "stitch_numbers": orientation.stitch_numbers(columns, self._hand).tolist(),
            "colours": colours,
            "colour_of": colour_of.ravel().tolist(),
            "kinds": [f"{role}, {verdict}" for role in ROLES for verdict in VERDICTS],
            "kind_of": (motif.grid * len(VERDICTS) + verdicts).ravel().tolist(),
            "wrong": wrong.ravel().astype(int).tolist(),
            "start": self._start(verdicts),
            "verdict": _verdict(int(np.count_nonzero(wrong))),
            "names": [names_around(row, rows) for row in numbers],
            "inks": [inks_around(motif, row) for row in numbers],
            "view_box": VIEW_BOX,
            "legend": legend(),
            "looks": self._looks() if motif.grid.size <= MOST_AT_ONCE else None,
        }

    def offline(self) -> dict[str, dict[str, Any]]:
        """Give what the page needs where there is no Python, by the id of the model: every look."""
        looks = self.shown["looks"] or self._looks()
        return {self.model_id: {"note": "To change a square, open the notebook.", "looks": looks}}

    def _start(self, verdicts: NDArray[np.int64]) -> int:
        """Choose the square that is looked at first: the first that cannot be worked, else the first overlaid one."""
        working = orientation.to_working(verdicts, self._hand)
        row, stitch = divmod(int(working.argmax()), working.shape[1])
        top, left = orientation.square(row + 1, stitch + 1, verdicts.shape, self._hand)
        return top * len(verdicts[0]) + left

    def _looks(self) -> dict[str, Any]:
        """Look at all squares; sentences and pictures that come again stand in a table once."""
        shape = self._now.shape
        said: dict[str, int] = {}
        pictures: dict[tuple[Any, ...], int] = {}
        of = np.zeros((*shape, 2), dtype=int)
        for one in look_at_all(self._now, hand=self._hand, reversible=self._reversible):
            at = orientation.square(one.row, one.stitch, shape, self._hand)
            of[at] = said.setdefault(one.sentence, len(said)), pictures.setdefault(one.levels, len(pictures))
        return {
            "said": list(said),
            "pictures": [_drawn(levels) for levels in pictures],
            "of": of.reshape(-1, 2).tolist(),
        }


def told(one: Look) -> dict[str, Any]:
    """Give what a page shows of a look: what is `said`, the `picture`, and for each row of it the `words`."""
    return {"said": one.sentence, **_drawn(one.levels)}


def _drawn(levels: tuple[Any, ...]) -> dict[str, Any]:
    return {"picture": picture(levels), "words": [level.words if level else "" for level in levels]}


def _verdict(wrong: int) -> str:
    return f"Squares that cannot be worked: {wrong}." if wrong else "Every square can be worked."


def _around(row: int) -> Iterable[int]:
    return (row + up for up in AROUND)


def names_around(row: int, rows: int) -> list[str]:
    """Name the rows around a row, the highest first."""
    named = {0: "foundation", rows + 1: "no row above"}
    return [named.get(near, f"row {near}") for near in _around(row)]


def inks_around(motif: Motif, row: int) -> list[str]:
    """Give the yarn colours of the rows around a row; the foundation has the yarn of row 1, rows beyond any."""
    inside = (min(max(near, 1), motif.shape[0]) for near in _around(row))
    return [motif.yarns.at(near, orientation.role_of_row(near, motif.first)).colour for near in inside]
