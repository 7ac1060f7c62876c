"""Lettering: a line of text as a motif that can be worked, with what had to be mended and how its back reads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mosaickit.errors import number_of, of_kind, one_of, true_or_false, whole_number
from mosaickit.gauge import Gauge
from mosaickit.ideas.letters.alphabets import ALPHABET_NAMES, AlphabetName, alphabet_named
from mosaickit.ideas.letters.laying import LARGEST_LETTERS, WIDEST_LETTERS, kept_apart, lay_line, stitches_across
from mosaickit.ideas.letters.setting import LINE_WAYS, LineWay, Scale, characters_of
from mosaickit.motif import Motif, counterchange
from mosaickit.orientation import ROLES, Role

_TOP_ROW_LOST = "Where it ends the piece, its top row is lost there; with a margin of 3 it is not."


@dataclass(frozen=True, eq=False, repr=False)
class Lettering:
    """A line of text that became a motif, and what that took.

    Attributes
    ----------
    motif : Motif
        (R, C), named after the text. R is odd, and the first and last row are in the ground's colour.
    changed : bool array, (R, C)
        As seen: the squares that were mended.
    characters : str
        What is set, where that is not what was given: small letters may have become capitals.
    alphabet : str
        The alphabet.
    size, across : int
        How many rows (pairs of rows, where an alphabet is drawn in lines) and stitches a square of it takes.
    confused : tuple of (str, str)
        Letters and digits that are nearer to another one once they are mended, each with what it may be read as.
    instead : tuple of (str, int)
        Alphabets and sizes in which no letter of this text is confused; tried, and empty if none is confused here.
    """

    motif: Motif
    changed: NDArray[np.bool_]
    characters: str
    alphabet: AlphabetName
    size: int
    across: int
    confused: tuple[tuple[str, str], ...] = ()
    instead: tuple[tuple[AlphabetName, int], ...] = ()

    @property
    def mended(self) -> int:
        """How many squares were mended."""
        return int(np.count_nonzero(self.changed))

    @property
    def back_reads_the_same(self) -> bool:
        """Whether the picture is its own mirror image."""
        return np.array_equal(self.motif.grid, self.motif.grid[:, ::-1])

    @property
    def back(self) -> str:
        """How the text reads from behind, in words."""
        cut = "" if self.motif.overlaid[1].all() else f" {_TOP_ROW_LOST}"
        plain = "On plain fabric the back shows rows only. "
        if self.back_reads_the_same:
            return f"{plain}On reversible fabric it shows the same text in the other colours.{cut}"
        return (
            f"{plain}On reversible fabric it shows the text mirrored, in the other colours.{cut} Leave it so, mirror "
            "the lettering if it is to be read from behind, or take a text that is its own mirror image."
        )

    @property
    def legible(self) -> str:
        """Which letters may be misread, and what was tried that keeps them apart; "" if none may."""
        if not self.confused:
            return ""
        pairs = ", ".join(f'"{own}" as "{other}"' for own, other in self.confused)
        tried = " or ".join(f'the alphabet "{name}" in size {size}' for name, size in self.instead)
        return f"Mended, some letters may be misread: {pairs}. {f'In {tried} none is.' if tried else ''}".strip()

    @property
    def summary(self) -> str:
        """One line: what is set, its size, and how much was mended."""
        rows, stitches = self.motif.shape
        mended = f"{number_of(self.mended, 'square')} mended" if self.mended else "nothing to mend"
        return f"“{self.characters}”: {number_of(rows, 'row')} × {number_of(stitches, 'stitch')}, {mended}."

    def __str__(self) -> str:
        return " ".join(part for part in (self.summary, self.legible, self.back) if part)

    def __repr__(self) -> str:
        return f"<Lettering {self}>"


def lettering(
    text: str,
    *,
    alphabet: AlphabetName = "capitals",
    size: int = 1,
    across: int | None = None,
    gauge: Gauge | None = None,
    colour: Role = "CC",
    way: LineWay = "along",
    spacing: int | None = None,
    margin: int = 1,
    mend: bool = True,
) -> Lettering:
    """Set a name, a date or another line of text in letters that can be worked.

    The letters stand on a ground of the other colour. There every second row is in the letters' own colour, and strokes
    that lie on other rows alone cannot be worked, so most alphabets have to be mended: strokes grow thicker. "capitals"
    and "tall" are made for this craft and need no mending at any size, either way.

    Parameters
    ----------
    text : str
        One line, at most 80 characters. Typographic quotes and dashes are set as plain ones.
    alphabet : "capitals", "tall", "small", "book" or "large"
        "capitals" has no small letters: they are set as capitals, 9 rows high. "tall" is narrow, its capitals 13 rows
        high. The others are those of an open bitmap font, with capitals of 7, 10 and 13 rows.
    size : int
        How many times as large, 1 to 10.
    across : int, optional
        How many stitches a square of the alphabet takes, 1 to 40. Left out, letters keep their proportion as nearly as
        whole stitches can.
    gauge : Gauge, optional
        The size of a stitch, for the proportion. Left out, squares are taken for square.
    colour : "MC" or "CC"
        The letters' colour. The ground, and rows 1 and R, are in the other.
    way : "along", "up" or "down"
        Along the row, or turned by a quarter: read up the side or down it.
    spacing : int, optional
        Squares of the alphabet between two letters; 1 or 2 if left out, as suits the alphabet.
    margin : int
        The rows of ground below and above, and stitches at both sides: 1 or more. One row more may be laid below or
        above, so that most strokes lie on rows of the letters' colour.
    mend : bool
        Whether to mend what cannot be worked, with the fewest changes; letters count for more than ground.

    Returns
    -------
    Lettering
        With ``.motif``, ``.mended``, the number of squares that were mended, ``.legible``, which letters may be
        misread now, and ``.back``, how it reads from behind.

    Raises
    ------
    OptionError
        If the alphabet lacks a character, which is named, if there is nothing to set, or if another argument is not
        as described.
    MotifError
        If the picture would be larger than a motif may be.

    Examples
    --------
    >>> name = lettering("Ida", colour="MC")
    >>> print(name.motif.to_text())
    #################
    #...#....###...##
    ##.##.##.###.#.##
    ##.##.##..#..#..#
    ##.##.###.#.###.#
    ##.##.###.#.###.#
    ##.##.###.#.###.#
    ##.##.##..#.....#
    ##.##.##.##.###.#
    #...#....##.###.#
    #################
    >>> name.mended
    0
    """
    one_of("alphabet", alphabet, ALPHABET_NAMES)
    one_of("colour", colour, ROLES)
    one_of("way", way, LINE_WAYS)
    of_kind("gauge", gauge, Gauge, or_none=True)
    up = whole_number("size", size, least=1, most=LARGEST_LETTERS)
    whole_number("margin", margin, least=1)
    true_or_false("mend", mend)
    letters = alphabet_named(alphabet)
    if across is None:
        wide = stitches_across(letters, up, gauge, way)
    else:
        wide = whole_number("across", across, least=1, most=WIDEST_LETTERS)
    scale = Scale(wide, up)
    between = letters.spacing if spacing is None else whole_number("spacing", spacing, most=100)
    characters = characters_of(text, letters)
    found = lay_line(characters, letters, scale, way, between, margin, mend)
    instead = tuple(kept_apart(characters, alphabet, up, way, gauge)) if found.confused else ()
    motif = found.motif.named(characters)
    if colour == "MC":
        motif = counterchange(motif)
    return Lettering(motif, found.changed, characters, alphabet, up, scale.across, found.confused, instead)
