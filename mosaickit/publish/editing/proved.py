"""Rows in words, read back: whether they make sense, whether that can be worked, and whether it is what was charted."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from mosaickit.errors import MosaickitError, StitchError, WordingError
from mosaickit.fabric import Chart, work
from mosaickit.publish.editing.draft import RowsSaid, Said, Spot
from mosaickit.wording import InTongue, Tongue, in_tongue, proof, read_closely, read_sizes

SpotOfLine = Callable[[int], Spot]


def proved(
    said: RowsSaid, text: str, spot: SpotOfLine, *, terms: Tongue | None, chart: Chart | None = None
) -> tuple[RowsSaid, Chart | None, str]:
    """Read rows back, and say what is wrong with them.

    Parameters
    ----------
    said : RowsSaid
        The rows as they stand.
    text : str
        The same as a reader takes them.
    spot : function of a line
        Gives where a line of the text is.
    terms : "US", "UK" or "de", optional
        The terms of the stitches, or the language, if the text does not say.
    chart : Chart, optional
        What they ought to say.

    Returns
    -------
    RowsSaid, Chart or None, str
        The rows with what is wrong, the chart that they make, and why they could not be judged, if they could not.
    """
    try:
        reading = read_closely(text, **_asked(terms))
    except WordingError as error:
        if error.faults:
            return replace(said, faults=tuple((each, spot(each.line)) for each in error.faults)), None, ""
        return said, None, _several_sizes(text, terms) or f"The rows: {str(error)[:1].lower()}{str(error)[1:]}"
    settled = []
    for note in reading.notes:
        line = re.match(r"Line (\d+), column \d+ \(row \d+\): ", note)
        settled.append(Said(note[line.end() :] if line else note, spot(int(line[1]) if line else 1)))
    found = replace(said, terms=reading.terms, settled=tuple(settled))
    if chart is None:
        return replace(found, trouble=_trouble(reading.chart)), reading.chart, ""
    if _same(reading.chart, chart):
        return found, chart, ""
    lines = {row.row: row.line for row in reading.rows}
    return replace(found, differs=_differences(text, chart, reading.terms, lines, spot)), chart, ""


def _asked(terms: Tongue | None) -> InTongue:
    return {} if terms is None else in_tongue(terms)


def _same(found: Chart, chart: Chart) -> bool:
    """Whether two charts have the same stitches in the same colours and yarns, for the same hand."""
    return (
        found.row_colours == chart.row_colours
        and found.in_the_round == chart.in_the_round
        and np.array_equal(found.stitches, chart.stitches)
        and found.yarns == chart.yarns
        and found.hand == chart.hand
    )


def _differences(text: str, chart: Chart, terms: Tongue, lines: dict[int, int], spot: SpotOfLine) -> tuple[Said, ...]:
    held = proof(text, chart, **in_tongue(terms))
    found = []
    for sentence in held.about:
        # what a text says nothing of is no difference
        if re.match("Expected (MC|CC) in row", sentence) and "#" not in text:
            continue
        if sentence.startswith("Expected a hook in the hand") and "handed" not in text:
            continue
        found.append(Said(sentence, Spot("rows", "Rows")))
    by_row: dict[int, list[str]] = {}
    for each in held.differences:
        by_row.setdefault(each.row, []).append(re.sub(r" \(line .*", ".", str(each)))
    for row, sentences in by_row.items():
        more = f" And {len(sentences) - 1} more in this row." if len(sentences) > 1 else ""
        found.append(Said(sentences[0] + more, spot(lines[row])._replace(row=row)))
    return tuple(found)


def _trouble(chart: Chart) -> str:
    try:
        work(chart)
    except StitchError as error:
        return str(error)
    return ""


def _several_sizes(text: str, terms: Tongue | None) -> str:
    """Say what was judged in a text of several sizes; "" if the text has one size, or cannot be read."""
    try:
        number = len(read_sizes(text, **_asked(terms)))
    except MosaickitError:
        return ""
    return f"The rows are those of {number} sizes: they can be read in each, and were not judged further."
