"""Python: the code that makes a design, for those who go on by hand from where the workbook is.

Every value is written as the call that makes it, with what differs from what is usual and nothing else. Pictures and
charts are texts of several lines; each is given a name before the design, once, however often it is used.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import MISSING, fields
from datetime import date
from typing import Any

from mosaickit.colours import Yarn, Yarns
from mosaickit.errors import OptionError
from mosaickit.fabric import Chart
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif
from mosaickit.sizes import (
    Band,
    Bands,
    Columns,
    Design,
    Divider,
    Edition,
    Field,
    Finish,
    NamedSize,
    PatternWords,
    Plain,
    Publishing,
    Surround,
    YarnLabel,
)
from mosaickit.yarn import Skein, StitchLengths, Swatch, YarnSettings

MOST_SQUARES_WRITTEN = 1_000_000
"""The most squares that are written as text; no one could read more."""

_WIDEST = 100
_CALLS: dict[type[Any], str] = {
    Band: "mk.Band",
    Bands: "mk.Bands",
    Columns: "mk.Columns",
    Divider: "mk.Divider",
    Field: "mk.Field",
    Plain: "mk.Plain",
    Design: "mk.Design",
    Edition: "mk.sizes.Edition",
    Finish: "mk.Finish",
    Gauge: "mk.Gauge",
    NamedSize: "mk.NamedSize",
    PatternWords: "mk.PatternWords",
    Publishing: "mk.Publishing",
    Skein: "mk.Skein",
    StitchLengths: "mk.StitchLengths",
    Surround: "mk.Surround",
    Swatch: "mk.Swatch",
    Yarn: "mk.Yarn",
    YarnLabel: "mk.YarnLabel",
    YarnSettings: "mk.YarnSettings",
}
_PLAIN = {Band: 1, Bands: 1, Columns: 1, Divider: 1, Plain: 1, NamedSize: 1}
_PLAIN |= {Gauge: 2, Yarn: 2, YarnLabel: 1, Skein: 2, Design: 2, Swatch: 2, Edition: 3}
"""How many of the first arguments are written without their names."""


def python_of(design: Design) -> str:
    r"""Write the code that makes a design: run, it leaves an equal one, without photographs, under the name ``design``.

    Raises
    ------
    OptionError
        If the pictures in it have more than 1,000,000 squares.

    Examples
    --------
    >>> dash = Motif.from_text("....\n.##.\n....", name="dash")
    >>> print(python_of(Design(dash, Gauge(16, 18)).but(across=3, title="Wide")))
    import mosaickit as mk
    <BLANKLINE>
    motif = mk.Motif.from_text(
        '''
        ....
        .##.
        ....
        ''',
        name='dash',
    )
    <BLANKLINE>
    design = mk.Design(motif, mk.Gauge(16.0, 18.0), across=3, words=mk.PatternWords(title='Wide'))
    <BLANKLINE>
    """
    writer = _Writer()
    last = writer.call("mk.Design", writer.arguments(design), len("design = "))
    imports = ["from datetime import date"] * writer.dated + ["import mosaickit as mk"]
    named = [f"{name} = {text}" for name, text in writer.named.values()]
    pictures = ["# its photographs stand in the design's file only"] * bool(design.photographs)
    return "\n\n".join(["\n\n".join(imports), *pictures, *named, f"design = {last}"]) + "\n"


class _Writer:
    """Writes values, and keeps the pictures and charts that were given a name."""

    def __init__(self) -> None:
        self.named: dict[Motif | Chart, tuple[str, str]] = {}
        self.dated = False
        self.squares = 0

    def value(self, value: object) -> str:
        if isinstance(value, Motif | Chart):
            return self._name(value)
        if isinstance(value, Yarns):
            return self.call("mk.Yarns", [*self._role("mc", value), *self._role("cc", value)])
        if type(value) in _CALLS:
            return self.call(_CALLS[type(value)], self.arguments(value))
        if isinstance(value, date):
            self.dated = True
            return f"date({value.year}, {value.month}, {value.day})"
        if isinstance(value, Mapping):
            return _laid_out("{", [f"{key!r}: {self.value(each)}" for key, each in value.items()], "}")
        if isinstance(value, tuple | list):
            inner = [self.value(each) for each in value]
            return _laid_out("(", inner, ")", comma=len(inner) == 1)
        return repr(value)

    def arguments(self, value: Any) -> list[str]:  # noqa: ANN401 — any of the values above
        """Write the arguments that make a value: those that differ from what is usual."""
        plain = _PLAIN.get(type(value), 0)
        written: list[str] = []
        for number, each in enumerate(fields(value)):
            own = getattr(value, each.name)
            if not each.init or own == _usual(each) or each.name == "photographs":
                continue
            without = number < plain and len(written) == number and not each.kw_only
            written.append(self.value(own) if without else f"{each.name}={self.value(own)}")
        return written

    def call(self, name: str, arguments: list[str], before: int = 0) -> str:
        return _laid_out(f"{name}(", arguments, ")", before=before)

    def _role(self, role: str, yarns: Yarns) -> list[str]:
        own = getattr(yarns, role)
        if own == getattr(Yarns(), role):
            return []
        return [f"{role}={self.value(own[0][1] if len(own) == 1 else own)}"]

    def _name(self, picture: Motif | Chart) -> str:
        if picture not in self.named:
            rows, stitches = picture.shape
            self.squares += rows * stitches
            if self.squares > MOST_SQUARES_WRITTEN:
                raise OptionError(
                    f"Its pictures have more than {MOST_SQUARES_WRITTEN:,} squares, too many to write as text. "
                    "Save the design's file; mk.load opens it in Python."
                )
            kind = "motif" if isinstance(picture, Motif) else "chart"
            number = sum(name.startswith(kind) for name, _ in self.named.values()) + 1
            name = kind if number == 1 else f"{kind}_{number}"
            self.named[picture] = name, ""  # keeps its place before what it holds is written
            self.named[picture] = name, self._text(picture)
        return self.named[picture][0]

    def _text(self, picture: Motif | Chart) -> str:
        usual = Chart.from_text(".") if isinstance(picture, Chart) else Motif.from_text(".")
        said = [f"'''\n{picture.to_text().strip()}\n'''"]
        for name in ("first", "yarns", "hand", "in_the_round", "name"):
            own = getattr(picture, name, None)
            if own != getattr(usual, name, None):
                said.append(f"{name}={self.value(own)}")
        return self.call(f"mk.{type(picture).__name__}.from_text", said)


def _usual(each: dataclasses.Field[Any]) -> object:
    if each.default is not MISSING:
        return each.default
    return MISSING if each.default_factory is MISSING else each.default_factory()


def _laid_out(start: str, inner: list[str], end: str, *, before: int = 0, comma: bool = False) -> str:
    """Write what stands between brackets on one line if it is short, else one of them a line."""
    line = f"{start}{', '.join(inner)}{',' * comma}{end}"
    if not inner or (before + len(line) <= _WIDEST and "\n" not in line):
        return line
    return "\n".join([start, *(f"{_indented(each)}," for each in inner), end])


def _indented(text: str) -> str:
    """Move text in, also the rows of a picture: spaces before them do not count."""
    return "\n".join(f"    {line}" for line in text.split("\n"))
