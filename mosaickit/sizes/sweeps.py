"""Sweeps: every combination of motifs, repeats, frames, gauges, yarns and widths, a line of figures each.

A sweep is a product of choices. The combinations are numbered, and all that is known of one follows from its number,
so that a batch of work is two numbers, whatever process or machine it goes to, and lines stand in the order of the
numbers. A line costs the same for a bookmark and for a bedspread, since nothing is built: see `layouts`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass
from functools import partial
from math import prod
from os import PathLike
from typing import Any, NamedTuple

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from mosaickit.batches import run_batches
from mosaickit.errors import MosaickitError, OptionError, one_of, positive, within
from mosaickit.files import to_json
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import BETWEEN_ROWS, COLOURS, LARGEST_SIDE, Motif
from mosaickit.sizes.layouts.layout import Layout
from mosaickit.sizes.layouts.repeats import RepeatSums
from mosaickit.sizes.layouts.usage import check_skeins
from mosaickit.sizes.ranking import OFF, Criteria, pareto, rank
from mosaickit.sizes.widths.sides import SLACK, counts_near
from mosaickit.sizes.widths.wanted import WORKED, asked_cm
from mosaickit.yarn import YarnRates

MOST_COMBINATIONS = 5_000_000
"""A sweep of more would fill the memory before anyone could look at it."""

BATCH = 2000
"""Combinations that are worked out in one go: about a tenth of a second's work."""

_Figures = tuple[Any, ...]
_FIGURES = (
    *("number", "across", "up", "rows", "stitches", "centred", "overlaid"),
    *("mc", "cc", "tails", "skeins", "leftover", "why"),
)
"""What is worked out for each line, in the order in which a batch keeps it."""

# ---- the choices -------------------------------------------------------------------------------------------


class _Choice(NamedTuple):
    """An argument: its column in the table, its values, and what the column calls them; hidden if it is one value."""

    column: str
    values: tuple[Any, ...]
    labels: tuple[Any, ...]
    hidden: bool

    @classmethod
    def of(cls, name: str, given: Any, column: str = "", label: Callable[[int, Any], Any] | None = None) -> _Choice:  # noqa: ANN401
        """Read an argument that is one value, several in a sequence, or several by name."""
        several = isinstance(given, Mapping | list | tuple | range | np.ndarray | set | frozenset)
        if isinstance(given, Mapping):
            labels, values = tuple(given), tuple(given.values())
        else:
            values = tuple(given) if several else (given,)
            labels = tuple(label(number, value) for number, value in enumerate(values, 1)) if label else values
        if not values:
            raise OptionError(f"`{name}` is empty: give one value, or several to choose from.")
        if len(set(labels)) < len(labels):
            twice = next(one for one in labels if labels.count(one) > 1)
            raise OptionError(
                f"`{name}` has two that are called {twice!r}: name what looks alike, as in {{'one': …, 'two': …}}."
            )
        return cls(column or name.replace("_", " "), values, labels, not several)


_NOT_LAID = ("gauges", "yarns", "reversible", "between_rows")
"""The choices that a layout does not depend on. They change fastest, so that one layout serves them all."""

_LAID = ("edges", "balance_across", "balance_up", "rings", "rows_below", "rows_above", "colours", "in_the_round")
"""The choices that a layout takes as they are."""


@dataclass(frozen=True)
class _Task:
    """All that the figures of a sweep depend on.

    Attributes
    ----------
    choices : mapping
        Each argument of which there may be several values.
    pictures : tuple of tuple of Motif
        Element [motif][variant].
    rates : tuple of tuple of tuple of YarnRates
        Element [gauge][yarn][between rows].
    tolerance : float
        The share by which a size may differ from what is wanted.
    """

    choices: dict[str, _Choice]
    pictures: tuple[tuple[Motif, ...], ...]
    rates: tuple[tuple[tuple[YarnRates, ...], ...], ...]
    tolerance: float

    @property
    def dimensions(self) -> tuple[int, ...]:
        return tuple(len(choice.values) for choice in self.choices.values())

    @property
    def described(self) -> str:
        """All of it in words, so that what was kept of another sweep is never taken for this one's."""
        choices = {name: [repr(value) for value in choice.values] for name, choice in self.choices.items()}
        del choices["motifs"], choices["variants"]
        pictures = [[to_json(motif) for motif in variants] for variants in self.pictures]
        return json.dumps([choices, pictures, repr(self.rates), self.tolerance, BATCH, _FIGURES])


# ---- the figures -------------------------------------------------------------------------------------------


class _Calculator:
    """Works out combinations of a task, and keeps what many of them share."""

    def __init__(self, task: _Task) -> None:
        self.task = task
        self.cells = [(gauge.stitch_width_cm, gauge.row_height_cm) for gauge in task.choices["gauges"].values]
        # only what there is a choice of depends on the number; a sweep asks for the others 100,000 times
        self.first = {name: choice.values[0] for name, choice in task.choices.items()}
        several = [(name, choice.values) for name, choice in task.choices.items() if len(choice.values) > 1]
        self.several = [(name, values, len(values)) for name, values in reversed(several)]
        self.nowhere = dict.fromkeys(task.choices, 0)
        self.alike = prod(len(task.choices[name].values) for name in _NOT_LAID)
        self.before: tuple[int, Layout] | None = None
        self.sums: dict[tuple[int, int], RepeatSums] = {}
        self.centred: dict[tuple[int, int, int], bool] = {}
        self.reasons: dict[tuple[Any, ...], str] = {}

    def chosen(self, number: int) -> tuple[dict[str, int], dict[str, Any]]:
        """Give the place and the value of each choice in a combination."""
        at, value = self.nowhere.copy(), self.first.copy()
        for name, values, count in self.several:
            number, place = divmod(number, count)
            at[name], value[name] = place, values[place]
        return at, value

    def lines(self, number: int) -> Iterable[_Figures]:
        """Give the figures of each count of repeats of a combination."""
        at, value = self.chosen(number)
        laid = number // self.alike
        if self.before is None or self.before[0] != laid:
            try:
                self.before = laid, self.laid(at, value, value["across"], value["up"])
            except MosaickitError as err:  # this combination makes no sense; others do
                yield (number, 1, 1, 0, 0, *[None] * 7, str(err))
                return
        one = self.before[1]
        rates = self.task.rates[at["gauges"]][at["yarns"]][at["between_rows"]]
        reversible = value["reversible"]
        if value["width"] is value["length"] is None:
            yield (number, one.across, one.up, *self.figures(one, at, rates, reversible))
            return
        across, up = self.counts(one, at, value)
        for i in across:
            for j in up:
                yield (number, i, j, *self.figures(self.laid(at, value, i, j), at, rates, reversible))

    def laid(self, at: Mapping[str, int], value: Mapping[str, Any], across: int, up: int) -> Layout:
        """Lay the repeat, with all that stands around it."""
        place = at["motifs"], at["variants"]
        motif = self.task.pictures[place[0]][place[1]]
        options = {name: value[name] for name in _LAID}
        if options["edges"] is None:
            options["edges"] = int(not options["in_the_round"])
        if options["balance_across"] == "half":
            options["balance_across"] = motif.shape[1] // 2
        if place not in self.sums:
            self.sums[place] = RepeatSums.of(motif)
        return Layout(motif, across=across, up=up, **options, sums=self.sums[place])

    def counts(self, one: Layout, at: Mapping[str, int], value: Mapping[str, Any]) -> tuple[list[int], list[int]]:
        """List the counts of repeats across and up: as given, or those that come near the wanted sizes."""
        wanted = [value["width"], value["length"]]
        if value["worked"] == "along":
            wanted.reverse()
        cells, repeat = self.cells[at["gauges"]], one.multiple
        across = self._near(wanted[0], cells[0], repeat.plus_stitches, repeat.stitches) or [one.across]
        return across, self._near(wanted[1], cells[1], repeat.plus_rows, repeat.rows) or [one.up]

    def _near(self, wanted_cm: float | None, cell_cm: float, beside: int, repeat: int) -> list[int]:
        """List the counts within the tolerance; if there is none, those on both sides of what is wanted."""
        if wanted_cm is None:
            return []
        most = max((LARGEST_SIDE - beside) // repeat, 1)
        first_cm, repeat_cm = (repeat + beside) * cell_cm, repeat * cell_cm
        counts = counts_near(wanted_cm, self.task.tolerance, first_cm, repeat_cm, most)
        if not counts:
            below = int((wanted_cm / cell_cm - beside) // repeat)
            counts = sorted({min(max(count, 1), most) for count in (below, below + 1)})
        return counts

    def figures(self, layout: Layout, at: Mapping[str, int], rates: YarnRates, reversible: bool) -> _Figures:
        """Give the figures of one line, from its rows on."""
        if not layout.workable:
            return (layout.rows, layout.stitches, *[None] * 7, self.reason(layout))
        usage = layout.usage_at(rates, reversible=reversible)
        skeins = leftover = None
        if rates.skeins is not None:
            skeins = sum(total.skeins or 0 for total in usage.by_yarn)
            leftover = sum(total.leftover_m or 0.0 for total in usage.by_yarn)
        place = at["motifs"], at["variants"], layout.balance_across
        if place not in self.centred:
            self.centred[place] = layout.centred
        centred, overlaid = self.centred[place], layout.overlaid
        (_, of_mc, _), (_, of_cc, _) = usage.by_role
        return layout.rows, layout.stitches, centred, overlaid, of_mc, of_cc, usage.tails_m, skeins, leftover, ""

    def reason(self, layout: Layout) -> str:
        """Say why a layout cannot be worked; the same for all with the same joins."""
        sample = layout.sample
        key = id(sample.motif), *(getattr(sample, name) for name in ("up", *_LAID))
        if key not in self.reasons:
            self.reasons[key] = sample.report.errors_in_words
        return self.reasons[key]


def _calculate(task: _Task, numbers: tuple[int, int]) -> list[Any]:
    """Work out the combinations from the first number to before the second.

    Returns
    -------
    list
        How many lines there are, and a list for each figure; or, where it is the same in all lines, of that one.
    """
    calculator = _Calculator(task)
    lines = [line for number in range(*numbers) for line in calculator.lines(number)]
    columns = [list(column) for column in zip(*lines, strict=True)]
    return [len(lines), *(column[:1] if column.count(column[0]) == len(column) else column for column in columns)]


# ---- what comes out ----------------------------------------------------------------------------------------


@dataclass(frozen=True, repr=False, eq=False)
class Sweep:
    """The lines of a sweep.

    Attributes
    ----------
    table : DataFrame
        A line for each candidate, numbered from 1: see `sweep`.
    """

    table: pd.DataFrame
    _task: _Task
    _numbers: NDArray[np.int64]

    def __len__(self) -> int:
        return len(self.table)

    def __repr__(self) -> str:
        return f"<Sweep of {len(self)} candidates, {int(self.table['can be worked'].sum())} can be worked>"

    def _repr_html_(self) -> str:
        # the reasons are long, and each line would be as high as its reason
        return str(self.table.drop(columns="why not")._repr_html_())  # type: ignore[operator]

    def layout(self, line: int) -> Layout:
        """Give the layout of a line, which builds its picture.

        Parameters
        ----------
        line : int
            Its number in the table, from 1.

        Raises
        ------
        OptionError
            If there is no such line, or its combination makes no sense.
        """
        if line not in self.table.index:
            raise OptionError(f"`line` must be one of the {len(self)} lines of the sweep, from 1; got {line!r}.")
        calculator = _Calculator(self._task)
        at, value = calculator.chosen(int(self._numbers[line - 1]))
        found = self.table.loc[line]
        return calculator.laid(at, value, int(found["repeats across"]), int(found["repeats up"]))  # type: ignore[arg-type]

    def rank(self, weights: Criteria) -> pd.DataFrame:
        """Put the candidates that can be worked in order, the best first: see `rank`."""
        return rank(self.table, weights)

    def pareto(self, criteria: Criteria) -> pd.DataFrame:
        """Give the candidates that no other one beats in everything: see `pareto`."""
        return pareto(self.table, criteria)


def _table(task: _Task, columns: list[list[Any]], stitches_a_minute: float) -> tuple[pd.DataFrame, NDArray[np.int64]]:
    figures = dict(zip(_FIGURES, columns, strict=True))
    numbers = np.array(figures["number"], dtype=np.int64)
    places = dict(zip(task.choices, np.unravel_index(numbers, task.dimensions), strict=True))

    def chosen(name: str) -> NDArray[Any]:
        labels = np.empty(len(task.choices[name].labels), dtype=object)
        labels[:] = task.choices[name].labels
        return labels[places[name]]

    def measured(name: str) -> NDArray[np.float64]:
        return np.array(figures[name], dtype=np.float64)

    table: dict[str, Any] = {
        choice.column: pd.Series(chosen(name)).infer_objects()
        for name, choice in task.choices.items()
        if not choice.hidden and name not in ("across", "up", "width", "length")
    }
    stitches, rows = np.array(figures["stitches"]), np.array(figures["rows"])
    cells = np.array([(gauge.stitch_width_cm, gauge.row_height_cm) for gauge in task.choices["gauges"].values])
    along_row, along_column = (np.stack([stitches, rows], axis=1) * cells[places["gauges"]]).T
    across = chosen("worked") == "across"
    sizes = {"width": np.where(across, along_row, along_column), "length": np.where(across, along_column, along_row)}
    wanted = {name: chosen(name).astype(np.float64) for name in sizes if task.choices[name].values != (None,)}
    off = {name: 100 * (sizes[name] / size - 1) for name, size in wanted.items()}
    table |= {f"wanted {name} cm": size for name, size in wanted.items() if not task.choices[name].hidden}
    table |= {
        "repeats across": np.array(figures["across"]),
        "repeats up": np.array(figures["up"]),
        "stitches": stitches,
        "foundation chain": stitches + ~chosen("in_the_round").astype(bool),
        "rows": rows,
        **{f"{name} cm": size for name, size in sizes.items()},
        **{f"{name} {OFF}": share for name, share in off.items()},
    }
    if off:
        most = 100 * (task.tolerance + SLACK)
        table["within tolerance"] = np.all([np.abs(share) <= most for share in off.values()], axis=0)
    why = pd.Series(figures["why"], dtype=object)
    of_mc, of_cc, tails = measured("mc"), measured("cc"), measured("tails")
    ends = [[(of_yarn[0].in_stitches.low, of_yarn[0].in_stitches.high) for of_yarn in one] for one in task.rates]
    low, high = np.moveaxis(np.array(ends)[places["gauges"], places["yarns"]], -1, 0)
    table |= {
        "can be worked": why == "",
        "centred": pd.Series(figures["centred"], dtype=object) == True,  # noqa: E712 — None is not centred
        "FLdc percent": 100 * measured("overlaid") / np.maximum(stitches * rows, 1),
        "low m": low * (of_mc + of_cc - tails) + tails,
        "likely m": of_mc + of_cc,
        "high m": high * (of_mc + of_cc - tails) + tails,
        "MC likely m": of_mc,
        "CC likely m": of_cc,
    }
    if any(rates.skeins is not None for of_gauge in task.rates for of_yarn in of_gauge for rates in of_yarn):
        table |= {"skeins": measured("skeins"), "leftover m": measured("leftover")}
    table |= {"minutes": stitches * rows / stitches_a_minute, "why not": why}
    framed = pd.DataFrame(table)
    framed.index = pd.RangeIndex(1, len(framed) + 1, name="line")
    return framed, numbers


OneOrMore = Any
"""One value, or several in a list or range; also several by name, in a mapping."""


def sweep(
    motifs: Motif | Iterable[Motif] | Mapping[str, Motif],
    gauges: Gauge | Iterable[Gauge] | Mapping[str, Gauge],
    *,
    across: OneOrMore = None,
    up: OneOrMore = None,
    width: OneOrMore = None,
    length: OneOrMore = None,
    unit: Unit = "cm",
    tolerance: float = 0.05,
    variants: Mapping[str, Callable[[Motif], Motif]] | None = None,
    yarns: Mapping[str, Mapping[str, Any]] | None = None,
    worked: OneOrMore = "across",
    edges: OneOrMore = None,
    balance_across: OneOrMore = 0,
    balance_up: OneOrMore = 0,
    rings: OneOrMore = 0,
    rows_below: OneOrMore = 0,
    rows_above: OneOrMore = 0,
    colours: OneOrMore = "keep",
    in_the_round: OneOrMore = False,
    reversible: OneOrMore = False,
    between_rows: OneOrMore = "carried",
    stitches_a_minute: float = 20.0,
    executor: Executor | None = None,
    kept_in: str | PathLike[str] | None = None,
    progress: bool = True,
    stop: Callable[[], bool] | None = None,
) -> Sweep:
    """Measure every combination of choices, without building any of them.

    Where several values are given, each takes its turn with all others. Motifs change most slowly, then variants, then
    what they are laid by in the order of the arguments; gauges, yarns, reversible and between_rows change fastest.

    Parameters
    ----------
    motifs : Motif, or several
        The repeats; in a mapping, by name, else by the names they have.
    gauges : Gauge, or several
        The sizes of a stitch.
    across, up : int, or several
        The counts of repeats, 1 if nothing else is said.
    width, length : float, or several
        Wanted sizes in `unit`, each above 0: the counts of repeats that make it are then all that come within the
        tolerance, or, where none does, those on both sides of it. Which way that is depends on `worked`.
    unit : "cm" or "in"
        The unit of `width` and `length`.
    tolerance : float
        The share by which a size may differ, 0 to 1.
    variants : mapping of name to function, optional
        What is done to each motif first, as ``{"as drawn": lambda motif: motif, "mirrored": mk.mirror}``.
    yarns : mapping of name to mapping, optional
        What `yarn_usage` takes for each yarn: yarn_mm, lengths, skeins, tail_cm, ease, margin.
    worked, edges, balance_across, balance_up, rings, rows_below, rows_above, colours, in_the_round, reversible
        As `plan_widths` takes them, or several of each.
    between_rows : "carried" or "cut", or both
        What becomes of the yarn between rows of its colour.
    stitches_a_minute : float
        How fast the maker works, above 0: 20 is our choice, no source.
    executor, kept_in, progress, stop
        As `run_batches` takes them: where it runs, what it is kept in to go on after a break, whether a bar is shown,
        what is asked whether to stop.

    Returns
    -------
    Sweep
        Its table has a line for each combination and count of repeats, in this order whatever it ran on. Columns: one
        for each argument that was given several values; repeats across and up, stitches, foundation chain, rows; width
        and length in cm, and by how much they are off from what was wanted, in percent; whether all are within the
        tolerance; whether it can be worked, and if not, why not; whether it is centred; FLdc percent; low, likely and
        high m of all yarn, likely m of MC and of CC; skeins and leftover m if skeins are known; minutes.

    Raises
    ------
    OptionError
        If an argument is not as described.
    UnworkableError
        If a variant of a motif cannot be made.

    Examples
    --------
    >>> dots = Motif(np.pad([[True]], 1), name="dots")
    >>> swept = sweep(dots, Gauge(16, 18), width=[15, 20], length=100, rings=[1, 3], colours="swap", progress=False)
    >>> swept
    <Sweep of 26 candidates, 14 can be worked>
    >>> list(swept.rank({"width off percent": 2, "likely m": 1})["stitches"].head(3))
    [32, 32, 32]
    """
    asked = {
        "motifs": _Choice.of("motifs", motifs, "motif", lambda number, motif: _name(motif) or f"motif {number}"),
        "variants": _Choice.of("variants", variants or _AS_DRAWN, "variant")._replace(hidden=not variants),
    }
    rest = {"across": across, "up": up, "width": width, "length": length, "worked": worked, "edges": edges}
    rest |= {"balance_across": balance_across, "balance_up": balance_up, "rings": rings, "rows_below": rows_below}
    rest |= {"rows_above": rows_above, "colours": colours, "in_the_round": in_the_round}
    asked |= {name: _Choice.of(name, given) for name, given in rest.items()}
    asked |= {
        "gauges": _Choice.of("gauges", gauges, "gauge", lambda _, gauge: str(gauge)),
        "yarns": _Choice.of("yarns", yarns or {"": {}}, "yarn")._replace(hidden=not yarns),
        "reversible": _Choice.of("reversible", reversible),
        "between_rows": _Choice.of("between_rows", between_rows),
    }
    task = _task(asked, unit, within("tolerance", tolerance, 0, 1))
    speed = positive("stitches_a_minute", stitches_a_minute)
    count = prod(task.dimensions)
    batches = [(start, min(start + BATCH, count)) for start in range(0, count, BATCH)]
    done = run_batches(
        partial(_calculate, task),
        batches,
        task=task.described,
        executor=executor,
        kept_in=kept_in,
        progress=progress,
        stop=stop,
    )
    columns: list[list[Any]] = [[] for _ in _FIGURES]
    for lines, *parts in done:
        for column, part in zip(columns, parts, strict=True):
            column += part * lines if len(part) < lines else part
    table, numbers = _table(task, columns, speed)
    return Sweep(table, task, numbers)


_AS_DRAWN = {"as drawn": lambda motif: motif}


def _name(motif: object) -> str:
    return motif.name if isinstance(motif, Motif) else ""


def _task(asked: dict[str, _Choice], unit: Unit, tolerance: float) -> _Task:
    """Check what was asked, and make of it what the figures depend on."""
    count = prod(len(choice.values) for choice in asked.values())
    if count > MOST_COMBINATIONS:
        raise OptionError(
            f"This is a sweep of {count:,} combinations; the most are {MOST_COMBINATIONS:,}, so leave some out."
        )
    for motif in asked["motifs"].values:
        if not isinstance(motif, Motif):
            raise OptionError(f"`motifs` must be a `Motif` or several; got {motif!r}.")
    for name, allowed in (("worked", WORKED), ("colours", COLOURS), ("between_rows", BETWEEN_ROWS)):
        for value in asked[name].values:
            one_of(name, value, allowed)
    for name in ("in_the_round", "reversible"):
        for value in asked[name].values:
            one_of(name, value, (False, True))
    _check_counts(asked)
    for name in ("width", "length"):
        if asked[name].values != (None,):
            sizes = tuple(asked_cm(name, size, unit) for size in asked[name].values)
            asked[name] = asked[name]._replace(values=sizes, labels=sizes)
    for name in ("across", "up"):
        if asked[name].values == (None,):
            asked[name] = asked[name]._replace(values=(1,), labels=(1,))
    pictures = tuple(
        tuple(
            _varied(name, make, motif)
            for name, make in zip(asked["variants"].labels, asked["variants"].values, strict=True)
        )
        for motif in asked["motifs"].values
    )
    rates = tuple(
        tuple(
            tuple(YarnRates(gauge, between_rows=way, **_yarn(yarn)) for way in asked["between_rows"].values)
            for yarn in asked["yarns"].values
        )
        for gauge in asked["gauges"].values
    )
    for variants in pictures:
        for motif in variants:
            for of_yarn in rates[0]:
                check_skeins(motif, of_yarn[0])
    # functions need not travel: what they make does
    asked["variants"] = asked["variants"]._replace(values=asked["variants"].labels)
    return _Task(asked, pictures, rates, tolerance)


def _check_counts(asked: Mapping[str, _Choice]) -> None:
    """Raise unless each count of repeats is given or follows from a size, not both."""
    for worked in asked["worked"].values:
        sizes = ("width", "length") if worked == "across" else ("length", "width")
        for count, size in zip(("across", "up"), sizes, strict=True):
            if asked[count].values != (None,) and asked[size].values != (None,):
                raise OptionError(
                    f"Worked {worked!r}, `{count}` and `{size}` both say how many repeats there are: give one of them."
                )


def _yarn(options: object) -> Mapping[str, Any]:
    if not isinstance(options, Mapping) or not set(options) <= _YARN_OPTIONS:
        raise OptionError(
            f"`yarns` must give each yarn's {', '.join(sorted(_YARN_OPTIONS))}, or some of them; got {options!r}."
        )
    return options


_YARN_OPTIONS = {"yarn_mm", "lengths", "skeins", "tail_cm", "ease", "margin"}


def _varied(name: str, make: object, motif: Motif) -> Motif:
    if not callable(make):
        raise OptionError(f"`variants` must give a function from motif to motif for each name; {name!r} is {make!r}.")
    made = make(motif)
    if not isinstance(made, Motif):
        raise OptionError(f"The variant {name!r} must make a `Motif`; it made {made!r}.")
    return made
