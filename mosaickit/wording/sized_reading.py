"""Written rows of several sizes back into a chart for each: its numbers are picked, and the rest is read as ever."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from mosaickit.errors import OptionError, WordingError
from mosaickit.fabric import Chart
from mosaickit.wording.faults import LONGEST_TEXT, Fault, error_of
from mosaickit.wording.languages import told_tongue
from mosaickit.wording.lexicon import Lexicon
from mosaickit.wording.lexicons import composed, lexicon_for
from mosaickit.wording.reading import read_rows
from mosaickit.wording.series import LITERAL, MOST_SIZES, NAMED_SIZES, NUMBER
from mosaickit.wording.terms import Terms


def read_sizes(text: str, *, terms: Terms | None = None, language: str | None = None) -> dict[str, Chart]:
    """Read written rows of several sizes back into a chart for each.

    Parameters
    ----------
    text : str
        The whole text, with a line as "Sizes: S (M, L)." in its heading.
    terms : "US" or "UK", optional
        The terms of the stitches, if the text does not say.
    language : str, optional
        The language by its code, as "de", if the text does not say.

    Returns
    -------
    dict of name to Chart
        As of `read_rows`, in the order of the sizes.

    Raises
    ------
    OptionError
        If `text` is no str, `terms` no terms, or rows are not read in the language.
    WordingError
        If no line names the sizes, somewhere another number of values stands than there are sizes, or what is left for
        a size cannot be read; the message names the size, and `faults` are those of it.
    """
    names = _names(text)
    text = composed(text)
    lexicon = lexicon_for(text, told_tongue(terms, language))
    charts = {}
    for place, name in enumerate(names):
        lines = _lines_for(text, names, place, lexicon)
        try:
            charts[name] = read_rows("\n".join(line.text for line in lines), terms=terms, language=language)
        except WordingError as error:
            faults = [lines[fault.line - 1].fault(fault) for fault in error.faults]
            found = error_of(faults) if faults else error
            raise WordingError(f"In size {name}: {found}", found.faults) from None
    return charts


@dataclass(frozen=True)
class _Line:
    """A line as it stands for one size, and where it came from.

    Attributes
    ----------
    number : int
        Its line in the whole text, from 1.
    text : str
        What it says for the size.
    left_out : tuple of (column, characters)
        How many characters of the whole text were left out before each of these columns, from 0.
    """

    number: int
    text: str
    left_out: tuple[tuple[int, int], ...] = ()

    def fault(self, fault: Fault) -> Fault:
        """Say a fault of it where it stands in the whole text."""
        before = sum(count for column, count in self.left_out if column < fault.column)
        return replace(fault, line=self.number, column=fault.column + before)


def _names(text: object) -> tuple[str, ...]:
    if not isinstance(text, str):
        raise OptionError(f"`text` must be a str; got {type(text).__name__}.")
    if len(text) > LONGEST_TEXT:
        raise WordingError(f"A text has at most {LONGEST_TEXT:,} characters; this one has {len(text):,}.")
    found = NAMED_SIZES.findall(composed(text))
    if len(found) != 1:
        how = "no line names" if not found else f"{len(found)} lines name"
        raise WordingError(f"Expected one line that names the sizes, as 'Sizes: S (M, L).'; {how} them.")
    names = (found[0][0], *(name.strip() for name in found[0][1].split(",")))
    if len(set(names)) < len(names) or not 2 <= len(names) <= MOST_SIZES:
        raise WordingError(f"Expected 2 to {MOST_SIZES} sizes, each with its own name; found {', '.join(names)}.")
    return names


def _lines_for(text: str, names: tuple[str, ...], place: int, lexicon: Lexicon) -> list[_Line]:
    """Pick what a text of several sizes says for one of them."""
    lines = []
    for number, line in enumerate(text.split("\n"), 1):
        if NAMED_SIZES.fullmatch(line) or re.match(lexicon.differs, line):
            continue
        only = re.match(lexicon.for_size, line)
        if only is None:
            picked = _picked(number, line, names, place)
            # what has no number in this size is not worked in it
            lines += [] if re.match(r"^\w+ 0\b", picked.text) else [picked]
        elif only[1] == names[place]:
            lines.append(_Line(number, only[2], ((0, only.start(2)),)))
        elif only[1] not in names:
            raise WordingError(f"Line {number}: expected one of the sizes {', '.join(names)}; found {only[1]!r}.")
    return lines


def _picked(number: int, line: str, names: tuple[str, ...], place: int) -> _Line:
    said, left_out = "", []
    end = 0
    for found in re.finditer(f"{LITERAL}|({NUMBER}) \\(({NUMBER}(?:, ?{NUMBER})*)\\)", line):
        if found[1] is None:
            continue  # a name in quotes, or a colour
        values = [found[1], *(value.strip() for value in found[2].split(","))]
        if len(values) != len(names):
            raise WordingError(
                f"Line {number}: expected a number for each of the {len(names)} sizes; found {len(values)} in "
                f"{found[0]!r}."
            )
        said += line[end : found.start()] + values[place]
        end = found.end()
        left_out.append((len(said), len(found[0]) - len(values[place])))
    return _Line(number, said + line[end:], tuple(left_out))
