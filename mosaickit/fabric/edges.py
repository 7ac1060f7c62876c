"""The hook at the edges: works border, fringe and tails move by move, and says what was left open.

It is the witness against the sums of `sizes.finishes`, as `hook` is against the compiler: it knows no ratio and no
count. It knows the places that a finished piece offers, the loops that its own stitches leave, and the tails. A loop
is entered by stitches that are made one after the other, and by no later one; a round stands on the round below; a
tail lies between two layers only as long as they are open. What no hook can do is refused, with the number of the move.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple, NoReturn, get_args

from mosaickit.errors import ChartError, each_of_kind, number_of, of_kind, one_of
from mosaickit.fabric.stitches import Chart
from mosaickit.motif import BETWEEN_ROWS, BetweenRows

Foundation = Literal["chain", "foundation sc"]
FOUNDATIONS: tuple[Foundation, ...] = ("chain", "foundation sc")

Ends = Literal["as they come", "woven in", "fringe", "enclosed"]
ENDS: tuple[Ends, ...] = ("as they come", "woven in", "fringe", "enclosed")

Layer = Literal["front", "back"]
EdgeSide = Literal["foundation", "first ends", "top", "last ends", "border"]
Doing = Literal["join yarn", "sc", "crab", "ch", "close round", "turn", "fasten off", "weave in", "knot", "tuck in"]


class EdgePlace(NamedTuple):
    """A place that the hook goes into, or at which a tail hangs.

    Attributes
    ----------
    where : str
        The foundation, the ends of the rows at their first or last stitch, the top of the last row, or "border": what
        the round before left in that layer.
    number : int
        The stitch, the row, or the stitch or space of the round before, from 1.
    """

    where: EdgeSide
    number: int


class EdgeMove(NamedTuple):
    """One move at the edges.

    Attributes
    ----------
    do : str
        What is done.
    at : tuple of EdgePlace
        Where: one place for a stitch, two for a stitch through both layers (front, back), the tails that are knotted.
    layer : "front" or "back"
        In which layer.
    """

    do: Doing
    at: tuple[EdgePlace, ...] = ()
    layer: Layer = "front"


@dataclass(frozen=True)
class WorkedEdges:
    """What the hook made at the edges.

    Attributes
    ----------
    rounds : tuple of (layer, sc, chain spaces)
        Each round or row of the border in the order in which they were worked; "both" for one through two layers.
    entered : dict from where to int
        How many places of each edge of the piece were worked into.
    skipped_ends : tuple of EdgePlace
        The row ends that were skipped along a side, as its ratio says.
    left_open : tuple of str
        What should be closed and is not, in words; empty if all is closed.
    """

    rounds: tuple[tuple[str, int, int], ...]
    entered: dict[str, int]
    skipped_ends: tuple[EdgePlace, ...]
    left_open: tuple[str, ...]

    @property
    def closed(self) -> bool:
        """Whether nothing is left open that should be closed."""
        return not self.left_open

    @property
    def stitches(self) -> int:
        """All sc of the border."""
        return sum(count for _, count, _ in self.rounds)


class _Element:
    """A stitch or a space of a round, and whether a later stitch went into it."""

    def __init__(self, kind: str) -> None:
        self.kind, self.used = kind, False


class _Layer:
    """One layer in hand: the round below, the round being worked, and its yarn."""

    def __init__(self) -> None:
        self.below: list[_Element] | None = None
        self.now: list[_Element] = []
        self.last: object = None  # the place that the last stitch went into
        self.yarn = False


class _Edges:
    def __init__(self, chart: Chart, tails: Iterable[EdgePlace]) -> None:
        rows, stitches = chart.shape
        # a chart in the round has no row ends
        ends = 0 if chart.in_the_round else rows
        self.sizes = {"foundation": stitches, "top": stitches, "first ends": ends, "last ends": ends}
        self.layers: dict[str, _Layer] = {"front": _Layer(), "back": _Layer()}
        self.entered: dict[tuple[EdgePlace, str], bool] = {}
        self.rounds: list[tuple[str, int, int]] = []
        self.tails = dict.fromkeys(tails, "")
        self.own_tails = 0
        self.move = 0
        self.through_both = False

    def refuse(self, reason: str) -> NoReturn:
        raise ChartError(f"Move {self.move} at the edges cannot be made, as {reason}.")

    # ---- stitches ------------------------------------------------------------------------------------------

    def join_yarn(self, move: EdgeMove) -> None:
        layer = self.layers[move.layer]
        if layer.yarn:
            self.refuse(f"the {move.layer} layer has its yarn already")
        layer.yarn, layer.below, layer.now, layer.last = True, None, [], None
        self.own_tails += 1

    def sc(self, move: EdgeMove) -> None:
        layer = self.layers[move.layer]
        if not layer.yarn:
            self.refuse(f"no yarn is joined in the {move.layer} layer")
        if len(move.at) == 2:
            self.sc_through_both(move.at)
        elif len(move.at) == 1:
            self.enter(move.at[0], move.layer)
        else:
            self.refuse(f"a stitch goes into one place, or through both layers; it has {len(move.at)}")
        layer.now.append(_Element("sc"))
        layer.last = move.at

    def crab(self, move: EdgeMove) -> None:
        """Work a single crochet backwards: over a round of sc, and never on from where the last one was."""
        layer = self.layers[move.layer]
        if len(move.at) != 1 or move.at[0].where != "border":
            self.refuse("crab stitch goes over a round of sc, a stitch of it at a time")
        last = layer.last
        if isinstance(last, tuple) and last and last[0].number < move.at[0].number:
            self.refuse("crab stitch goes backwards")
        self.sc(move)

    def enter(self, place: EdgePlace, name: Layer) -> None:
        layer = self.layers[name]
        if place.where == "border":
            below = layer.below
            if below is None or not 1 <= place.number <= len(below):
                self.refuse(f"there is no stitch {place.number} in a round below it in the {name} layer")
            element = below[place.number - 1]
            if element.used and layer.last != (place,):
                self.refuse(f"stitch {place.number} of the round below is already worked into")
            element.used = True
            return
        if not 1 <= place.number <= self.sizes[place.where]:
            self.refuse(f"the piece has no place {place.number} at its {place.where}")
        if layer.below is not None:
            self.refuse("a later round goes into the round below it, not into the piece")
        if (place, name) in self.entered and layer.last != (place,):
            self.refuse(f"place {place.number} at the {place.where} is already worked into in that layer")
        self.entered[place, name] = True

    def sc_through_both(self, places: tuple[EdgePlace, ...]) -> None:
        self.through_both = True
        last = self.layers["front"].last
        for name, place in zip(("front", "back"), places, strict=True):
            below = self.layers[name].below
            if place.where != "border" or below is None or not 1 <= place.number <= len(below):
                self.refuse(f"there is no stitch {place.number} in the last round of the {name} layer")
            element = below[place.number - 1]
            if element.used and last != places:
                self.refuse(f"stitch {place.number} of the {name} layer is already worked into")
            element.used = True

    def ch(self, move: EdgeMove) -> None:
        layer = self.layers[move.layer]
        if not layer.yarn:
            self.refuse(f"no yarn is joined in the {move.layer} layer")
        layer.now.append(_Element("space"))

    def close_round(self, move: EdgeMove, *, turned: bool = False) -> None:
        layer = self.layers[move.layer]
        if not layer.now:
            self.refuse("no stitch of the round is worked")
        stitches = sum(each.kind == "sc" for each in layer.now)
        self.rounds.append(("both" if self.through_both else move.layer, stitches, len(layer.now) - stitches))
        self.must_be_worked(layer.below, move.layer)
        if self.through_both:
            self.must_be_worked(self.layers["back"].below, "back")
            self.layers["back"].below = []
        layer.below, layer.now, layer.last = layer.now[::-1] if turned else layer.now, [], None

    def turn(self, move: EdgeMove) -> None:
        self.close_round(move, turned=True)

    def must_be_worked(self, below: list[_Element] | None, name: str) -> None:
        missed = [number for number, each in enumerate(below or [], 1) if not each.used]
        if missed:
            self.refuse(f"the round in the {name} layer passed over stitch {missed[0]} of the round below")

    def fasten_off(self, move: EdgeMove) -> None:
        layer = self.layers[move.layer]
        if not layer.yarn:
            self.refuse(f"no yarn is joined in the {move.layer} layer")
        if layer.now:
            self.refuse("its round is not closed")
        layer.yarn = False
        self.own_tails += 1

    # ---- tails ---------------------------------------------------------------------------------------------

    def tail(self, place: EdgePlace, word: str) -> None:
        if place not in self.tails:
            self.refuse(f"no tail hangs at the {place.where} of row {place.number}")
        if self.tails[place]:
            self.refuse(f"the tail at the {place.where} of row {place.number} is already {self.tails[place]}")
        self.tails[place] = word

    def weave_in(self, move: EdgeMove) -> None:
        if not move.at:
            if not self.own_tails:
                self.refuse("the border has no tail left")
            self.own_tails -= 1
        for place in move.at:
            self.tail(place, "woven in")

    def knot(self, move: EdgeMove) -> None:
        sides = {place.where for place in move.at}
        rows = sorted(place.number for place in move.at)
        if len(sides) != 1 or rows != list(range(rows[0], rows[0] + len(rows))):
            self.refuse("tails that are knotted together hang beside each other at one side")
        for place in move.at:
            self.tail(place, "knotted")

    def tuck_in(self, move: EdgeMove) -> None:
        if self.through_both or not all(layer.below for layer in self.layers.values()):
            self.refuse("a tail lies between two layers only when both are worked and nothing closes them yet")
        for place in move.at:
            for name in self.layers:
                if not any(entered.where == place.where and own == name for entered, own in self.entered):
                    self.refuse(f"the {name} layer is not worked along the {place.where}")
            self.tail(place, "between the layers")

    # ---- what is left --------------------------------------------------------------------------------------

    def left_open(self) -> tuple[str, ...]:
        found = []
        both = any(layer.below for layer in self.layers.values()) and any(own == "back" for _, own in self.entered)
        for name, layer in self.layers.items():
            if layer.yarn:
                found.append(f"the last loop of the {name} layer is not fastened off")
            for where in ("foundation", "top"):
                worked = sum(entered.where == where and own == name for entered, own in self.entered)
                if 0 < worked < self.sizes[where]:
                    missing = self.sizes[where] - worked
                    found.append(f"{number_of(missing, 'stitch')} of the {where} not worked into in the {name} layer")
        if both and not self.through_both:
            found.append("the two layers are not closed by a round through both")
        loose = [place for place, word in self.tails.items() if not word]
        if loose:
            found.append(
                f"{number_of(len(loose), 'tail')} loose, the first at the {loose[0].where} of row {loose[0].number}"
            )
        if self.own_tails:
            found.append(f"{number_of(self.own_tails, 'tail')} of the border loose")
        return tuple(found)


def edge_tails(chart: Chart, between_rows: BetweenRows) -> tuple[EdgePlace, ...]:
    """List the tails that a worked chart has, each at the end of the row where it hangs.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches.
    between_rows : "carried" or "cut"
        What was done with the yarn between rows.

    Returns
    -------
    tuple of EdgePlace
        Cut yarn has two in each row; carried yarn one where it begins and one where it ends.
    """
    of_kind("chart", chart, Chart)
    one_of("between_rows", between_rows, BETWEEN_ROWS)
    yarns = [chart.yarns.at(row, role) for row, role in enumerate(chart.row_colours, 1)]
    found: list[EdgePlace] = []
    for row, yarn in enumerate(yarns, 1):
        before, after = yarns[row - 3] if row > 2 else None, yarns[row + 1] if row + 1 < len(yarns) else None
        if between_rows == "cut" or before != yarn:
            found.append(EdgePlace("first ends", row))
        if between_rows == "cut" or after != yarn:
            found.append(EdgePlace("last ends", row))
    return tuple(found)


def work_edges(chart: Chart, moves: Iterable[EdgeMove], *, between_rows: BetweenRows = "cut") -> WorkedEdges:
    """Work the edges of a piece move by move.

    Parameters
    ----------
    chart : Chart
        (R, N) stitches of the piece, which is worked.
    moves : EdgeMoves
        What is done, in order; `sizes.edge_moves` gives those of a design.
    between_rows : "carried" or "cut"
        What was done with the yarn between rows, which says where tails hang.

    Returns
    -------
    WorkedEdges
        The rounds as they were counted while they were worked, and what was left open.

    Raises
    ------
    ChartError
        At the first move that cannot be made.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... ...
    ... ...
    ... ''')
    >>> work_edges(chart, []).left_open
    ('4 tails loose, the first at the first ends of row 1',)
    """
    edges = _Edges(chart, edge_tails(chart, between_rows))
    for number, move in enumerate(each_of_kind("moves", moves, EdgeMove), 1):
        edges.move = number
        done = getattr(edges, move.do.replace(" ", "_"), None) if move.do in get_args(Doing) else None
        if done is None:
            edges.refuse(f"there is no move {move.do!r}")
        done(move)
    sides = {place.where for place, _ in edges.entered}
    skipped = tuple(
        EdgePlace(where, row)
        for where in ("first ends", "last ends")
        if where in sides
        for row in range(1, edges.sizes[where] + 1)
        if not any((EdgePlace(where, row), layer) in edges.entered for layer in edges.layers)
    )
    entered = {where: len({place for place, _ in edges.entered if place.where == where}) for where in edges.sizes}
    return WorkedEdges(tuple(edges.rounds), entered, skipped, edges.left_open())
