"""Proofs: a text held against its chart.

A proof says which stitches differ, what the fabric would look like, and whether a hook could work it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mosaickit import orientation
from mosaickit.colours import Yarn
from mosaickit.errors import StitchError, WordingError, of_kind, one_of
from mosaickit.fabric import Chart, Fabric, Stitch, work
from mosaickit.wording.differences import MOST_DIFFERENCES, Difference, in_lines
from mosaickit.wording.faults import Fault, error_of
from mosaickit.wording.reading import read_closely
from mosaickit.wording.terms import Terms


@dataclass(frozen=True, eq=False, repr=False)
class Proof:
    """A text held against a chart.

    Attributes
    ----------
    chart : Chart
        What was expected.
    found : Chart or None
        What the text says; None if it cannot be read.
    faults : tuple of Fault
        Why it cannot be read, all of it.
    about : tuple of str
        How the two differ as a whole: size, colours, yarns, how they are worked.
    differences : tuple of Difference
        The stitches that differ, row 1 first, as far as both charts reach.
    """

    chart: Chart
    found: Chart | None
    faults: tuple[Fault, ...]
    about: tuple[str, ...]
    differences: tuple[Difference, ...]

    @property
    def ok(self) -> bool:
        """Whether the text says what the chart does."""
        return self.found is not None and not self.about and not self.differences

    @cached_property
    def _worked(self) -> tuple[Fabric | None, str]:
        """What the text makes, or why it makes nothing."""
        if self.found is None:
            return None, ""
        try:
            return work(self.found), ""
        except StitchError as error:
            return None, str(error)

    @property
    def fabric(self) -> Fabric | None:
        """What the text makes, None if it makes nothing."""
        return self._worked[0]

    @property
    def trouble(self) -> str:
        """Why no hook can work what the text says; empty if one can, or if the text cannot be read."""
        return self._worked[1]

    @cached_property
    def _charted(self) -> Fabric:
        return work(self.chart)

    def wrong(self, side: Literal["front", "back"] = "front") -> NDArray[np.bool_] | None:
        """Say which squares of a face look otherwise than charted.

        Parameters
        ----------
        side : "front" or "back"
            Which face.

        Returns
        -------
        bool array, (R, N), or None
            As seen from that side; None if the text makes no fabric, or one of another size.
        """
        one_of("side", side, ("front", "back"))
        if self.fabric is None or self.fabric.shape != self.chart.shape:
            return None
        found, expected = (getattr(fabric, side) for fabric in (self.fabric, self._charted))
        return np.asarray(found != expected)

    def __str__(self) -> str:
        if self.found is None:
            return f"The text cannot be read.\n{error_of(list(self.faults))}"
        if self.ok:
            return "The text and the chart are the same."
        count = len(self.differences)
        lines = [*self.about, f"{count} {'stitch differs' if count == 1 else 'stitches differ'}."]
        lines += in_lines(self.differences)
        lines.append(f"A hook cannot work it: {self.trouble}" if self.trouble else "A hook can work it all the same.")
        return "\n".join(lines)

    def __repr__(self) -> str:
        return f"<Proof {str(self).splitlines()[0]}>"


def proof(text: str, chart: Chart, *, terms: Terms | None = None, language: str | None = None) -> Proof:
    """Hold a text, edited or a stranger's, against a chart.

    Parameters
    ----------
    text : str
        Written rows, as `read_rows` takes them.
    chart : Chart
        (R, N) stitches: what the text ought to say.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.
    language : str, optional
        The language by its code, as "de", if the text does not say.

    Returns
    -------
    Proof
        What differs, and what that makes. A text that cannot be read is a proof as well, with all its faults.

    Raises
    ------
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> chart = Chart.from_text('''
    ... ..|.
    ... ....
    ... ....
    ... ''')
    >>> print(proof('''Written in US terms
    ... Row 1 (MC): sc in next 4 sts
    ... Row 2 (CC): BLsc across
    ... Row 3 (MC): BLsc in next 2 sts, FLdc in next st, BLsc in last st''', chart))
    2 stitches differ.
    Row 3, stitch 2: expected FLdc, found BLsc (line 4, column 13).
    Row 3, stitch 3: expected BLsc, found FLdc (line 4, column 33).
    A hook can work it all the same.
    """
    of_kind("chart", chart, Chart)
    try:
        reading = read_closely(text, terms=terms, language=language)
    except WordingError as error:
        if not error.faults:
            raise
        return Proof(chart, None, error.faults, (), ())
    found = reading.chart
    places = {row.row: row.places for row in reading.rows}
    rows, stitches = (min(pair) for pair in zip(chart.shape, found.shape, strict=True))
    differ = np.argwhere(chart.stitches[:rows, :stitches] != found.stitches[:rows, :stitches])
    return Proof(
        chart,
        found,
        (),
        _about(chart, found),
        tuple(
            Difference(
                row + 1,
                stitch + 1,
                Stitch(chart.stitches[row, stitch]),
                Stitch(found.stitches[row, stitch]),
                *places[row + 1][stitch].tolist(),
            )
            for row, stitch in differ.tolist()
        ),
    )


def _about(chart: Chart, found: Chart) -> tuple[str, ...]:
    """Say how two charts differ as a whole."""
    (rows, stitches), (found_rows, found_stitches) = chart.shape, found.shape
    pairs = (
        ("rows", rows, found_rows),
        ("stitches a row", stitches, found_stitches),
        ("row 1 in", chart.first, found.first),
        ("work", *("in the round" if one.in_the_round else "flat" for one in (chart, found))),
        ("a hook in the hand", chart.hand, found.hand),
    )
    return (
        *(f"Expected {what}: {one}; found {other}." for what, one, other in pairs if one != other),
        *(sentence for role in orientation.ROLES for sentence in _yarns(chart, found, role)),
    )


def _yarns(chart: Chart, found: Chart, role: orientation.Role) -> Iterator[str]:
    """Say in which rows of a colour the text has another yarn than the chart, as far as both reach."""
    rows: dict[tuple[Yarn, Yarn], list[int]] = {}
    both = min(len(chart.row_colours), len(found.row_colours))
    pairs = zip(chart.yarns.by_row(both, role), found.yarns.by_row(both, role), strict=True)
    for row, (colour, pair) in enumerate(zip(chart.row_colours, pairs, strict=False), 1):
        if colour == role and pair[0] != pair[1]:
            rows.setdefault(pair, []).append(row)
    for (one, other), where in rows.items():
        stretches = [f"{start} to {end}" if start < end else f"{start}" for start, end in _stretches(where)]
        some = ", ".join(stretches[:MOST_DIFFERENCES]) + (" and more" if len(stretches) > MOST_DIFFERENCES else "")
        yield (
            f"Expected {role} in {'row' if len(where) == 1 else 'rows'} {some}: {one.name} {one.colour}; found "
            f"{other.name} {other.colour}."
        )


def _stretches(rows: list[int]) -> list[tuple[int, int]]:
    """Join rows of one colour, which are two apart, to stretches, as (first, last)."""
    found: list[tuple[int, int]] = []
    for row in rows:
        if found and row == found[-1][1] + 2:
            found[-1] = (found[-1][0], row)
        else:
            found.append((row, row))
    return found
