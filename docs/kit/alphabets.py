"""Make ``mosaickit/ideas/letters/open.txt``: alphabets of a public-domain bitmap font, as squares.

Its source is the X Window System's misc-fixed font, which Debian packages as xfonts-base. `.ci/run` installs that; any
folder that holds its files does as well::

    python docs/kit/alphabets.py [FOLDER OF THE FONT] [FILE TO WRITE]
"""

from __future__ import annotations

import gzip
import sys
from io import BytesIO
from pathlib import Path

from PIL.PcfFontFile import PcfFontFile

SIZES = ("6x10", "9x15", "10x20")
"""The sizes that are taken, by width and height of a character."""

CHARSETS = ("iso8859-1", "iso8859-15")
"""The files that are read: together they hold the letters of Western Europe."""

FONT = Path("/usr/share/fonts/X11/misc")
MADE = Path(__file__).parents[2] / "mosaickit" / "ideas" / "letters" / "open.txt"

HEAD = """\
## Characters of the misc-fixed bitmap font of the X Window System, made by docs/kit/alphabets.py.
## A line "size" gives width, height and the copyright notice of the font. The others give a character by its number in
## Unicode and its rows from the top, each a number in base 16 whose bits are squares, the last bit at the right.
"""


def characters(file: Path, charset: str) -> tuple[dict[str, list[str]], str]:
    """Read a font file; give the rows of each character that can be printed, as texts of 0 and 1, and its notice."""
    font = PcfFontFile(
        BytesIO(gzip.decompress(file.read_bytes())), "iso8859-1"
    )  # characters by their number in the file
    found = {}
    for number, glyph in enumerate(font.glyph):
        character = bytes([number]).decode(charset)
        if glyph is None or not character.isprintable() or character.isspace():
            continue
        image = glyph[3].convert("L")
        squares = ["1" if value else "0" for value in image.tobytes()]
        found[character] = ["".join(squares[at : at + image.width]) for at in range(0, len(squares), image.width)]
    return found, font.info[b"COPYRIGHT"].decode("ascii")


def made(folder: Path) -> str:
    """Give the text of the file."""
    lines = []
    for size in SIZES:
        wide, high = map(int, size.split("x"))
        found: dict[str, list[str]] = {}
        for charset in CHARSETS:
            more, notice = characters(folder / f"{size}-{charset.upper()}.pcf.gz", charset)
            found |= more
        lines.append(f"size {wide} {high} {notice}")
        for character in sorted(found):
            rows = found[character]
            if len(rows) != high or any(len(row) != wide for row in rows):
                raise SystemExit(f"{size}: {character} does not fill its cell.")
            lines.append(f"{ord(character):04x} {' '.join(f'{int(row, 2):x}' for row in rows)}")
    return HEAD + "\n".join(lines) + "\n"


if __name__ == "__main__":
    given = [Path(each) for each in sys.argv[1:]]
    folder, file = [*given, *(FONT, MADE)[len(given) :]]
    file.write_text(made(folder), encoding="utf-8")
