"""Requests: a size, symmetries, repeats and limits become a plan, or are refused with sizes that would do."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor
from typing import Any

import numpy as np

from mosaickit.errors import OptionError, number_of, one_of, true_or_false, whole_number, within
from mosaickit.ideas.chance.chains import kinds_of
from mosaickit.ideas.chance.plan import Plan
from mosaickit.motif import COLOURS, Colours, SymmetryName, checked_size, period, with_the_third


def _allowed(
    area: int, overlaid: int | tuple[int, int] | None, share: tuple[float, float] | None
) -> tuple[int, int] | None:
    """Give the least and the most overlaid squares that are asked for."""
    if overlaid is not None and share is not None:
        raise OptionError("`overlaid` and `fldc_share` say the same: give one of them.")
    if share is not None:
        low, high = (within("fldc_share", end, 0, 1) for end in _pair("fldc_share", share))
        # 0.3 of 10 squares are 3, whatever the last binary digit says
        least, most = ceil(low * area - 1e-9), floor(high * area + 1e-9)
        if least > most:
            raise OptionError(
                f"No whole number of {number_of(area, 'square')} lies within `fldc_share` {share!r}: widen it."
            )
        return least, most
    if overlaid is None:
        return None
    least, most = (
        whole_number("overlaid", end)
        for end in (_pair("overlaid", overlaid) if isinstance(overlaid, tuple | list) else (overlaid, overlaid))
    )
    if least > most:
        raise OptionError(f"`overlaid` must be (least, most), the smaller one first; got {overlaid!r}.")
    return least, most


def check_rng(rng: object) -> None:
    """Raise `OptionError` unless chance comes in as a Generator."""
    if not isinstance(rng, np.random.Generator):
        raise OptionError(f"`rng` must be a NumPy Generator, as numpy.random.default_rng(7); got {rng!r}.")


def _pair(name: str, value: Any) -> tuple[Any, Any]:  # noqa: ANN401
    if not isinstance(value, tuple | list) or len(value) != 2:
        raise OptionError(f"`{name}` must be (least, most); got {value!r}.")
    return value[0], value[1]


def plan_of(
    rows: int,
    stitches: int,
    symmetry: SymmetryName | Iterable[SymmetryName],
    repeat_across: int | None,
    repeat_up: int | None,
    repeats_up: bool,
    colours: Colours,
    overlaid: int | tuple[int, int] | None,
    fldc_share: tuple[float, float] | None,
) -> Plan:
    """Read what is asked for, and refuse what has no meaning."""
    one_of("colours", colours, COLOURS)
    true_or_false("repeats_up", repeats_up)
    shape = checked_size(whole_number("rows", rows), whole_number("stitches", stitches))
    across, up = period("repeat_across", repeat_across, shape[1]), period("repeat_up", repeat_up, shape[0])
    symmetries = with_the_third(symmetry)
    if repeats_up and shape[0] % up:
        fitting = shape[0] - shape[0] % up
        raise OptionError(
            f"`repeat_up` must divide the {number_of(rows, 'row')} of a picture that itself repeats up; got {up}. "
            f"Sizes that would do: {fitting} or {fitting + up} rows."
        )
    if colours == "keep" and up % 2 and (up < shape[0] or repeats_up):
        raise OptionError(
            f"Repeated every {number_of(up, 'row')}, an odd number, a picture ends up on the other row colours "
            f'and has its colours swapped: take {_even_repeats(shape[0], up, repeats_up)}colours="swap".'
        )
    if colours == "keep" and shape[0] % 2 == 0 and symmetries & {"up-down", "half-turn"}:
        raise OptionError(
            f"Upside down, a picture of {rows} rows, an even number, ends up on the other row colours and has its "
            f'colours swapped: take {rows - 1} or {rows + 1} rows, or colours="swap".'
        )
    allowed = _allowed(shape[0] * shape[1], overlaid, fldc_share)
    return Plan(shape, kinds_of(shape, symmetries, across, up, repeats_up), allowed)


def _even_repeats(rows: int, up: int, repeats_up: bool) -> str:
    """Name the even repeats, or numbers of rows, next to an odd one."""
    if up == rows:
        return " or ".join(str(n) for n in (rows - 1, rows + 1) if n) + " rows, or "
    even = [n for n in range(2, rows + 1, 2) if not (repeats_up and rows % n)]
    near = [max((n for n in even if n < up), default=None), min((n for n in even if n > up), default=None)]
    return "".join(f"repeat_up={n}, or " for n in near if n is not None)
