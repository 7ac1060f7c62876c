"""Beginning: whatever a maker has, a motif's file, a picture or a design, as a design that can be worked.

Nothing is done in silence. What a file was taken for, what cannot be worked in it and what was changed so that it can
be is said in sentences, and the design as it came is kept beside the one to go on with.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from os import PathLike
from pathlib import Path

import numpy as np

from mosaickit.errors import FileError, UnworkableError, number_of, of_kind, whole_number
from mosaickit.files import as_path, called_after, file_name, from_picture, load
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif, check, crop, nearest_workable
from mosaickit.orientation import Role, place
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.designs.saving import is_design, load_design
from mosaickit.sizes.layouts.surround import USUAL_SURROUND

USUAL_STITCHES = 48
"""How many stitches wide a photograph becomes if nothing is said: our choice, no source."""

LARGEST_DRAWING = 200
"""A picture in two colours with more pixels than this on a side is hardly drawn stitch by stitch: our choice."""

MOTIF_ENDINGS = (".json", ".csv", ".txt", ".png")
"""What the name of a motif's file ends in."""

_SHOWN = 5
_LONGEST_NAME = 60


@dataclass(frozen=True, repr=False)
class Begun:
    """What something was read as, and the design to go on with.

    Attributes
    ----------
    drawn : Design
        As it came, workable or not.
    design : Design
        The same if it can be worked; else the nearest that can.
    said : tuple of str
        Sentences: what it was taken for, what could not be worked, and what was changed.
    """

    drawn: Design
    design: Design
    said: tuple[str, ...]

    @property
    def name(self) -> str:
        """The design's title as part of the name of a file: letters, digits and hyphens."""
        return re.sub(r"\W+", "-", self.design.title).strip("-")[:_LONGEST_NAME] or "motif"

    def part(self, rows: int, stitches: int) -> Motif:
        """Give the motif's first rows and stitches, at most so many, as the nearest motif that can be worked.

        Raises
        ------
        OptionError
            If a number is not 1 or more.
        """
        shape = self.design.motif.shape
        rows = min(whole_number("rows", rows, least=1), shape[0])
        stitches = min(whole_number("stitches", stitches, least=1), shape[1])
        part = crop(self.design.motif, rows=(1, rows), stitches=(1, stitches), hand=self.design.hand, must_work=False)
        return nearest_workable(part).motif

    def __str__(self) -> str:
        return "\n".join(self.said)

    def __repr__(self) -> str:
        return f"<Begun {self.design.summary}>"

    def _repr_svg_(self) -> str:
        alone = self.design.across == self.design.up == 1 and self.design.bands is None
        return self.design.motif._repr_svg_() if alone else self.design._repr_svg_()


def begin(
    what: str | PathLike[str] | Motif | Design, gauge: Gauge | None = None, *, stitches: int | None = None
) -> Begun:
    r"""Begin from a file, a motif or a design: whatever it is, a design comes out that can be worked.

    Parameters
    ----------
    what : path, Motif or Design
        A motif's file (.json, .csv, .txt, or a PNG of two colours, one pixel a square), a picture (PNG, JPEG, WebP,
        GIF, BMP or TIFF), a .design; or a value that is there already.
    gauge : Gauge, optional
        The size of a stitch, for whatever does not say one itself.
    stitches : int, optional
        How many stitches wide a picture becomes, 3 to 10,000: 48 if left out. A picture in two colours of at most 200
        pixels on a side is read pixel by pixel, unless this is given.

    Returns
    -------
    Begun
        With ``.design``, workable; ``.drawn``, as it came; and ``.said``, which ``print`` writes. Repeats that land on
        the other row colours are laid with colours swapped, and what a frame does not close around gets a row more.
        Otherwise the nearest motif is taken; what cannot be worked even so goes on without its frame, or as one repeat.

    Raises
    ------
    FileError
        If there is no such file, or it holds none of these; the sentence names the file.
    OptionError
        If an argument is not as described.

    Examples
    --------
    >>> blot = Motif.from_text("...\n#.#\n.#.\n###\n...", name="blot")
    >>> said = begin(blot, Gauge(16, 18)).said
    >>> print(said[0], said[2], sep="\n")
    The motif 'blot', 5 rows × 3 stitches.
    The nearest motif that can be worked differs in 1 square: row 3, stitch 2.
    """
    of_kind("gauge", gauge, Gauge, or_none=True)
    if isinstance(what, Motif | Design):
        drawn = what if isinstance(what, Design) else Design(what)
        return _workable(_with_gauge(drawn, gauge), [_named(drawn)])
    file = as_path(what, "what")
    if is_design(file):
        drawn = load_design(file)
        return _workable(_with_gauge(drawn, gauge), [f"{file_name(file)}: {drawn.summary}."])
    motif = None
    if stitches is None and file.suffix.lower() in MOTIF_ENDINGS:
        try:
            motif = drawn_in_squares(file)
        except FileError as error:
            if not is_png(file):  # else it is a picture in many colours, or none: `from_picture` tells
                raise FileError(_with_name(file, error)) from None
    if motif is not None:
        named = motif if motif.name.strip() else motif.named(called_after(file))
        return _workable(Design(named, gauge), [f"{file_name(file)}: a motif, {_measured(named)}."])
    try:
        traced = from_picture(
            file, stitches=USUAL_STITCHES if stitches is None else stitches, gauge=gauge, name=called_after(file)
        )
    except FileError as error:
        cure = " The name of a motif's file ends in .json, .png, .csv or .txt, a design's in .design."
        raise FileError(f"{error}{cure if file.is_file() else ''}") from None
    drawn = Design(traced.motif.with_grid(traced.before), gauge)
    said = [f"{file_name(file)}: a picture, traced to {_measured(traced.motif)}; what is dark became CC."]
    if not traced.changed.any():
        return Begun(drawn, drawn, tuple(said))
    said += [_wrong(drawn), _changed(drawn, traced.motif)]
    return Begun(drawn, Design(traced.motif, gauge), tuple(said))


# ---- what it is --------------------------------------------------------------------------------------------


def drawn_in_squares(file: Path, *, first: Role | None = None, square: int | None = None) -> Motif:
    """Read a file as a motif, square by square; see `load`.

    Raises
    ------
    FileError
        If it holds none, or if `square` is left out and the picture is too large to have been drawn with a pixel for
        each stitch.
    """
    motif = load(file, first=first, square=square)
    if is_png(file) and square is None and not motif.name and max(motif.shape) > LARGEST_DRAWING:
        rows, columns = motif.shape
        raise FileError(
            f"{file_name(file)}: This picture has {columns:,} × {rows:,} pixels, and at most {LARGEST_DRAWING} on a "
            "side are read stitch by stitch. If each is one stitch, say `square=1`, or how wide a square is in pixels."
        )
    return motif


def is_png(file: Path) -> bool:
    """Whether a file is there that may be a motif drawn stitch by stitch as well as a picture to be traced."""
    return file.suffix.lower() == ".png" and file.is_file()


def _with_name(file: Path, error: FileError) -> str:
    said = str(error)
    return said if file_name(file) in said else f"{file_name(file)}: {said}"


def _with_gauge(design: Design, gauge: Gauge | None) -> Design:
    return design if gauge is None or design.gauge is not None else design.but(gauge=gauge)


def _named(design: Design) -> str:
    if design.across == design.up == 1 and design.bands is None:
        name = f" {design.motif.name!r}" if design.motif.name.strip() else ""
        return f"The motif{name}, {_measured(design.motif)}."
    return f"{design.summary}."


def _measured(motif: Motif) -> str:
    rows, columns = motif.shape
    return f"{number_of(rows, 'row')} × {number_of(columns, 'stitch')}"


# ---- what can be worked ------------------------------------------------------------------------------------


def _workable(drawn: Design, said: list[str]) -> Begun:
    """Give a design with the nearest to it that can be worked, and say what that took."""
    if drawn.layout.workable:
        return Begun(drawn, drawn, (*said, "It can be worked as it is."))
    for other, cure in _others(drawn):
        try:
            design = other.mended()
        except UnworkableError:
            continue
        said = [*said, _wrong(drawn)]
        if cure:
            said.append(cure)
        if (design.motif.grid != drawn.motif.grid).any():
            said.append(_changed(drawn, design.motif))
        elif not cure:
            said.append("The nearest that can be worked has other squares in its bands.")
        break
    return Begun(drawn, design, tuple(said))


def _others(drawn: Design) -> Iterator[tuple[Design, str]]:
    """Give the designs to try, the least changed first, each with its sentence; the last can always be worked."""
    surround = drawn.surround
    swapped = drawn.but(surround=replace(surround, colours="swap"))
    bare = swapped.but(surround=replace(swapped.surround, rings=0))
    swap = 'Its repeats land on the other row colours, so every second one is laid with them swapped: colours="swap".'
    closing = [*_closing(drawn, ""), *_closing(swapped, ', colours="swap"')]
    if swapped.layout.workable:  # then no square has to change
        yield swapped, swap
    yield from ((taller, said) for taller, said in closing if taller.layout.workable)
    yield drawn, ""
    yield swapped, swap
    yield from closing
    if surround.rings:
        yield bare, "Its frame cannot be worked around it, so it goes on without: rings=0."
    plain = {"across": 1, "up": 1, "laying": "straight", "bands": None, "surround": USUAL_SURROUND, "sizes": ()}
    alone = drawn.but(motif=nearest_workable(drawn.motif).motif, **plain)
    yield alone, "It cannot be worked as it is laid, so it goes on as one repeat of its motif: across=1, up=1."


def _closing(drawn: Design, more: str) -> Iterator[tuple[Design, str]]:
    """Give a framed design with a row more, since a ring closes only around an odd number of rows."""
    row = drawn.surround.balance_up + 1
    if drawn.surround.rings and drawn.bands is None and drawn.laying == "straight" and row < drawn.motif.shape[0]:
        closes = (
            "A ring closes only around an odd number of rows, so the first row of the repeat comes once more at the end"
        )
        yield drawn.but(balance_up=row), f"{closes}: balance_up={row}{more}."


def _wrong(drawn: Design) -> str:
    """Say what cannot be worked, with the places of the motif if it is wrong by itself."""
    by_itself = check(drawn.motif, hand=drawn.hand)
    report = drawn.report if by_itself.ok else by_itself
    errors = [finding for finding in report.findings if finding.severity == "error"]
    more = f" And {len(errors) - 1} more." if len(errors) > 1 else ""
    return f"It cannot be worked as it is. {errors[0].message}{more}"


def _changed(drawn: Design, motif: Motif) -> str:
    """Say which squares of the motif differ, as makers count."""
    squares = np.argwhere(drawn.motif.grid != motif.grid).tolist()
    places = sorted(place((row, column), motif.shape, drawn.hand) for row, column in squares)
    shown = "; ".join(f"row {row}, stitch {stitch}" for row, stitch in places[:_SHOWN])
    more = f"; and {len(places) - _SHOWN} more" if len(places) > _SHOWN else ""
    return f"The nearest motif that can be worked differs in {number_of(len(places), 'square')}: {shown}{more}."
