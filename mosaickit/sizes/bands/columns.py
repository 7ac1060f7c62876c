"""Columns: motifs beside each other over the same rows, made into one motif that is laid like any other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import KW_ONLY, dataclass, field, replace
from functools import cached_property
from math import lcm
from typing import Any, Literal, NamedTuple, get_args

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import LONGEST_NAME, Yarns
from mosaickit.errors import OptionError, number_of, one_of, shortly
from mosaickit.motif import COLOURS, Colours, Motif, checked_size
from mosaickit.orientation import Role
from mosaickit.sizes.bands.fitting import SumsKept, strip_of, ways
from mosaickit.sizes.bands.strips import Strip
from mosaickit.sizes.bands.values import IN_STEP, AsSaid, Band, BandFit, Field, InStep, Plain, going_on, in_words

Heights = Literal["repeat", "centre", "refuse"]
HEIGHTS: tuple[Heights, ...] = get_args(Heights)

MOST_BESIDE = 1000
"""No piece has more columns beside each other than this."""


class _Laid(NamedTuple):
    """A column as it is laid at its own width."""

    band: Band
    strip: Strip
    first: Role
    name: str

    @property
    def rows(self) -> int:
        return self.strip.rows

    def again(self, times: int) -> NDArray[np.bool_]:
        """Lay it again and again upward: its overlaid squares in working order, (rows × times, stitches)."""
        turned, overlaid = self.band.colours == "keep" and self.rows % 2 == 1, self.strip.squares()
        return np.concatenate([overlaid ^ (turned and time % 2 == 1) for time in range(times)])


@dataclass(frozen=True, repr=False)
class Columns(AsSaid):
    """Motifs beside each other over the same rows, laid as one across the width, and up.

    Parameters
    ----------
    columns : sequence of Band, Plain and Field
        From the left as seen: each motif with its own repeats, across once if nothing is said; the count of a `Plain`
        among them is that of plain stitches. A `Field` among them takes the design's own motif, once across; where it
        is laid again upward and has an odd number of rows, its colours are swapped.
    across, up, colours, fit, upside_down, mirrored
        How all of them together are laid; as for a `Band`.
    heights : "repeat", "centre" or "refuse"
        What is done where the columns differ in height: repeat each up to the least height that all divide; centre the
        lower ones in plain rows; or refuse. Where it cannot be halved, the row more is on top.
    step : "divider", "swap" or "refuse"
        What is done where columns begin on different colours: a plain row more below some of them, swap their colours,
        or refuse.

    Raises
    ------
    OptionError
        If one of them is not as described, or they do not go together: columns share their rows, and so their yarns.

    Examples
    --------
    >>> dot = Motif.from_text('''
    ... ...
    ... .#.
    ... ...
    ... ''', name="dot")
    >>> pair = Columns([Band(dot, up=2, colours="swap"), Plain(2), Band(dot, across=2)], heights="centre")
    >>> pair.motif.shape, pair.said
    ((6, 11), ('Column 3, dot, has 2 plain rows below and 1 above.',))
    """

    columns: tuple[Band | Plain | Field, ...]
    _: KW_ONLY
    across: int | None = None
    up: int = 1
    colours: Colours = "keep"
    fit: BandFit = "whole"
    upside_down: bool = False
    mirrored: bool = False
    heights: Heights = "repeat"
    step: InStep = "divider"
    _together: tuple[Motif, tuple[str, ...]] | None = field(init=False, compare=False)

    def __post_init__(self) -> None:
        given: Any = self.columns
        if isinstance(given, str | bytes) or not isinstance(given, Iterable):
            raise OptionError(
                f"`columns` must be several of `Band`, `Plain` and `Field`, as a list; got {shortly(given)}."
            )
        own = self.__dict__
        own["columns"] = tuple(given)
        if len(self.columns) > MOST_BESIDE:
            raise OptionError(f"`columns` must be at most {MOST_BESIDE:,}; got {len(self.columns):,}.")
        for number, column in enumerate(self.columns, 1):
            if not isinstance(column, Band | Plain | Field):
                raise OptionError(
                    f"`columns[{number - 1}]` must be a `Band`, a `Plain` or a `Field`; got {shortly(column)}."
                )
            if isinstance(column, Band) and column.fit != "whole":
                raise OptionError(
                    f"`columns[{number - 1}]` fills its own width, so its `fit` says nothing: leave it out; got "
                    f"{column.fit!r}."
                )
        bands = [column for column in self.columns if isinstance(column, Band)]
        if not bands and not self.takes_field:
            raise OptionError("Columns need one motif at least: give a `Band` or a `Field` among them.")
        one_of("colours", self.colours, COLOURS)
        one_of("heights", self.heights, HEIGHTS)
        one_of("step", self.step, IN_STEP)
        yarns = bands[0].motif.yarns if bands else Yarns()
        if len(yarns.mc) + len(yarns.cc) > 2 or any(band.motif.yarns != yarns for band in bands):
            raise OptionError(
                "Columns are worked in the same rows, and so in the same yarns, one of each colour: give all of their "
                "motifs the same `yarns`, with `with_yarns`."
            )
        whole = [column for column in self.columns if not isinstance(column, Field)]
        own["_together"] = None if self.takes_field else _beside(tuple(whole), self.heights, self.step)
        # which checks the rest
        as_one = self._as_band(Motif.from_text(".") if self.takes_field else self.motif)
        own |= {name: getattr(as_one, name) for name in ("across", "up", "upside_down", "mirrored")}

    @cached_property
    def band(self) -> Band:
        """All of them as one band."""
        return self._as_band(self.motif)

    def _as_band(self, motif: Motif) -> Band:
        return Band(
            motif,
            across=self.across,
            up=self.up,
            colours=self.colours,
            fit=self.fit,
            upside_down=self.upside_down,
            mirrored=self.mirrored,
        )

    @property
    def takes_field(self) -> bool:
        """Whether the motif of the design stands in one of them, which they need before they can be laid."""
        return any(isinstance(column, Field) for column in self.columns)

    def with_field(self, motif: Motif) -> Columns:
        """Give the same with the motif of a design in each of its places.

        Raises
        ------
        OptionError
            If the motif does not go with the other columns.
        """
        if not self.takes_field:
            return self
        colours: Colours = "swap" if motif.shape[0] % 2 else "keep"
        return replace(
            self,
            columns=tuple(
                Band(motif, colours=colours, upside_down=column.upside_down, mirrored=column.mirrored)
                if isinstance(column, Field)
                else column
                for column in self.columns
            ),
        )

    @property
    def motif(self) -> Motif:
        """All of them as one picture, workable or not; raises `OptionError` if they take the motif of a design."""
        return self._laid_together[0]

    @property
    def said(self) -> tuple[str, ...]:
        """What was done so that they have one height, and begin on one colour; raises as `motif` does."""
        return self._laid_together[1]

    @property
    def _laid_together(self) -> tuple[Motif, tuple[str, ...]]:
        if self._together is None:
            raise OptionError(
                "These columns take the motif of a design: lay them with it, as columns.with_field(motif)."
            )
        return self._together

    @property
    def name(self) -> str:
        """What they are called: the names of their motifs, or of some of them; may be empty."""
        if self._together is not None:
            return self.motif.name
        motifs = [column for column in self.columns if not isinstance(column, Plain)]
        named = ["the field" if isinstance(column, Field) else column.motif.name for column in motifs]
        return " + ".join(dict.fromkeys(filter(None, named)))[:LONGEST_NAME]

    def __str__(self) -> str:
        return in_words(self, self.name or "columns")


def _beside(columns: tuple[Band | Plain, ...], heights: Heights, step: InStep) -> tuple[Motif, tuple[str, ...]]:
    """Lay columns beside each other, and say what was done for it."""
    laid = {place: _laid(column, place + 1) for place, column in enumerate(columns) if isinstance(column, Band)}
    bands = list(laid.values())
    first, said = bands[0].first, []
    over = {place: int(column.first != first) for place, column in laid.items()}
    for column in (laid[place] for place, differs in over.items() if differs):
        if step == "refuse":
            raise OptionError(
                f"{going_on(column.name, begins=True)} begins on {column.first} and {going_on(bands[0].name)} on "
                f'{first}: give step="divider" for a plain row more below it, or step="swap" to swap its colours.'
            )
        if step == "divider":
            said.append(f"{going_on(column.name, begins=True)} begins a row higher, so that it keeps its colours.")
        else:
            said.append(f"The colours of {going_on(column.name)} are swapped, so that it begins on {first}.")
    if step == "swap":
        over = dict.fromkeys(over, 0)
    high = {column.rows for column in bands}
    if len(high) > 1 and heights == "refuse":
        told = ", ".join(f"{column.name} {number_of(column.rows, 'row')}" for column in bands)
        raise OptionError(
            f'Columns share their rows, and these differ in height: {told}. Give heights="repeat" to repeat each up '
            f'to {lcm(*high):,} rows, or heights="centre" to centre the lower ones in plain rows.'
        )
    common = lcm(*high) if heights == "repeat" else 0
    rows = max(max(common, column.rows) + over[place] for place, column in laid.items())
    wide = [laid[place].strip.stitches if place in laid else column.count for place, column in enumerate(columns)]  # type: ignore[union-attr]  # what is not laid is plain
    checked_size(rows, sum(wide))  # before any of it is made
    times = {place: max(common // column.rows, 1) for place, column in laid.items()}
    for place, column in laid.items():
        if times[place] > 1:
            said.append(f"{going_on(column.name, begins=True)} is laid {times[place]} times up, to {common} rows.")
    parts = []
    for place, given in enumerate(columns):
        if isinstance(given, Plain):
            parts.append(np.zeros((rows, given.count), dtype=bool))
            continue
        below, above = _rows_around(rows - times[place] * laid[place].rows, over[place])
        if len(high) > 1 and heights == "centre" and below + above:
            said.append(
                f"{going_on(laid[place].name, begins=True)} has {number_of(below, 'plain row')} below and {above} "
                "above."
            )
        parts.append(np.pad(laid[place].again(times[place]), ((below, above), (0, 0))))
    names = " + ".join(dict.fromkeys(column.band.motif.name for column in bands if column.band.motif.name))
    # columns are given from the left, as they are seen
    together = np.concatenate([orientation.to_seen(part) for part in parts], axis=1)
    blank = Motif(np.zeros_like(together), first, bands[0].band.motif.yarns, names[:LONGEST_NAME])
    return blank.with_overlaid(together), tuple(said)


def _rows_around(rows: int, over: int) -> tuple[int, int]:
    """Part plain rows into those below and those above as evenly as the colours allow: an even number below, or odd."""
    below = min(range(over, rows + 1, 2), key=lambda below: abs(2 * below - rows))
    return below, rows - below


def _laid(band: Band, number: int) -> _Laid:
    along, _ = ways(band, band.across or 1, in_the_round=False)
    strip = strip_of(replace(band, across=band.across or 1), along.whole, SumsKept())
    assert strip.first is not None
    name = f"column {number}" + (f", {band.motif.name}" if band.motif.name else "")
    return _Laid(band, strip, strip.first, name)
