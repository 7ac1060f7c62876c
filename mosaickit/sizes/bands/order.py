"""The order: bands from the foundation up, with the field in its place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import KW_ONLY, dataclass, replace
from typing import Any, TypeAlias

from mosaickit.errors import OptionError, one_of, shortly
from mosaickit.motif import Motif
from mosaickit.sizes.bands.columns import Columns
from mosaickit.sizes.bands.values import IN_STEP, AsSaid, Band, Divider, Field, InStep, Plain, going_on

AnyBand: TypeAlias = Band | Plain | Divider | Columns | Field
"""What may stand in an order of bands."""

MOST_BANDS = 1000
"""No piece has more bands than this."""


@dataclass(frozen=True, repr=False)
class Bands(AsSaid):
    """What lies in a piece, from the foundation up.

    Parameters
    ----------
    order : sequence of Band, Columns, Plain, Divider and Field
        The lowest first. `Field` stands where the design's own motif lies; where a design is made without a motif, it
        takes the highest of the bands for its field.
    step : "divider", "swap" or "refuse"
        How row colours are kept in step. A band of an odd number of rows leaves the other colour for the first row of
        what follows: put a plain row in between, so that each band keeps its colours; swap the colours of what follows;
        or refuse. Where overlaid squares of two bands would meet one above the other, as many plain rows, one or two,
        go between them, unless that is refused: then the piece is reported as one that cannot be worked.

    Raises
    ------
    OptionError
        If nothing is in it, or something else than bands.

    Examples
    --------
    >>> from mosaickit.motif import Motif
    >>> wave = Motif.from_text('''
    ... ....
    ... .##.
    ... ....
    ... ''', name="wave")
    >>> print(Bands.mirrored([Band(wave, up=3, colours="swap"), Divider(3)]))
    wave 3 up; a line of 3 rows; the field; a line of 3 rows; wave 3 up, upside down
    """

    order: tuple[AnyBand, ...]
    _: KW_ONLY
    step: InStep = "divider"

    def __post_init__(self) -> None:
        order = checked_order("order", self.order)
        self.__dict__["order"] = order
        one_of("step", self.step, IN_STEP)

    def __getstate__(self) -> dict[str, Any]:
        return {"order": self.order, "step": self.step}  # what was worked out stays behind

    @classmethod
    def mirrored(cls, end: Iterable[AnyBand], *, step: InStep = "divider") -> Bands:
        """Give a field with an end below it, and the same end upside down above it.

        Parameters
        ----------
        end : sequence of Band, Columns, Plain and Divider
            From the foundation up.
        step : "divider", "swap" or "refuse"
            How row colours are kept in step.
        """
        below = cls(end, step=step).order  # type: ignore[arg-type]  # which says what is none
        if any(isinstance(band, Field) for band in below):
            raise OptionError("`end` is what lies below the field, which is put in by itself: leave it out.")
        return cls((*below, Field(), *(_turned(band) for band in reversed(below))), step=step)

    def with_field(self, motif: Motif) -> Bands:
        """Give the same with the motif of a design in the columns that take it; itself if none do."""
        if not any(isinstance(band, Columns) and band.takes_field for band in self.order):
            return self
        order = []
        for number, band in enumerate(self.order, 1):
            try:
                order.append(band.with_field(motif) if isinstance(band, Columns) else band)
            except OptionError as error:
                raise OptionError(f"{going_on(name_of(number, band), begins=True)}: {error}") from None
        return replace(self, order=tuple(order))

    def __str__(self) -> str:
        return "; ".join(map(str, self.order))


def checked_order(name: str, given: Any) -> tuple[AnyBand, ...]:  # noqa: ANN401 — whatever was given
    """Return several bands as a tuple, or raise `OptionError`, which names the argument."""
    if isinstance(given, str | bytes | Mapping) or not isinstance(given, Iterable):
        raise OptionError(f"`{name}` must be several bands, as a list; got {shortly(given)}.")
    order = tuple(given)
    if not order:
        raise OptionError(f"`{name}` is empty: give one band at least, such as mk.Field().")
    if len(order) > MOST_BANDS:
        raise OptionError(f"`{name}` must be at most {MOST_BANDS:,} bands; got {len(order):,}.")
    for number, band in enumerate(order):
        if not isinstance(band, AnyBand):
            raise OptionError(
                f"`{name}[{number}]` must be a `Band`, `Columns`, `Plain`, `Divider` or `Field`; got {shortly(band)}."
            )
    return order


def _turned(band: AnyBand) -> AnyBand:
    return replace(band, upside_down=not band.upside_down) if isinstance(band, Band | Columns | Field) else band


def name_of(number: int, band: AnyBand, field: str = "") -> str:
    """Write what a band is called in a sentence, as "band 2, wave"; `field` is the name of the field's motif."""
    match band:
        case Field():
            what = f"the field{f' of {field}' if field else ''}"
        case Columns():
            what = band.name
        case Band():
            what = band.motif.name
        case _:
            what = str(band)
    return f"band {number}{f', {what}' if what else ''}"
