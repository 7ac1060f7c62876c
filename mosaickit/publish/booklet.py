"""A booklet: pages of half the size, two on each side of a sheet, in the order in which they lie when it is folded.

The pages themselves are set by `paper`. Printed on both sides, turned over at the short edge, stacked and folded in the
middle, the sheets read from the first page to the last. What is laid on a sheet is a picture of a page, so a booklet
has no tags for screen readers.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from mosaickit.doors import late

if TYPE_CHECKING:
    import typst
else:
    typst = late("typst")


SIZE_MM: dict[str, tuple[float, float]] = {"a4": (148.5, 210.0), "us-letter": (139.7, 215.9)}
"""The size of a page of a booklet, half of the paper."""


def booklet_order(pages: int) -> tuple[tuple[int, int], ...]:
    """Give the two pages of each side of the sheets, left and right; 0 is an empty one.

    Examples
    --------
    >>> booklet_order(6)
    ((0, 1), (2, 0), (6, 3), (4, 5))
    """
    whole = -(-pages // 4) * 4
    sides = []
    for front in range(1, whole // 2, 2):
        sides += [(whole + 1 - front, front), (front + 1, whole - front)]
    return tuple((left if left <= pages else 0, right if right <= pages else 0) for left, right in sides)


def pages_in(document: bytes) -> int:
    """Count the pages of a document that Typst made."""
    return len(re.findall(rb"/Type\s*/Page\b", document))


def laid_in_twos(document: bytes, paper: str, known: dict[str, Any]) -> bytes:
    """Lay the pages of a document on sheets of paper of twice the size, ready to be folded; `known` is its metadata."""
    wide, high = SIZE_MM[paper]
    sides = booklet_order(pages_in(document))
    # the typesetter reads a document only from a folder
    with TemporaryDirectory() as folder:
        Path(folder, "pages.pdf").write_bytes(document)
        Path(folder, "known.json").write_text(json.dumps(known), "utf-8")
        main = Path(folder, "main.typ")
        main.write_text(_SHEETS.format(across=2 * wide, wide=wide, high=high, sides=_tuples(sides)), "utf-8")
        laid: bytes = typst.compile(main, ignore_system_fonts=True)
    return laid


def _tuples(sides: tuple[tuple[int, int], ...]) -> str:
    return "".join(f"({left}, {right})," for left, right in sides)


_SHEETS = """#let d = json("known.json")
#set document(
  title: d.title,
  author: d.author,
  description: d.summary,
  keywords: d.keywords,
  date: if d.date == none {{ none }} else {{ datetime(year: d.date.at(0), month: d.date.at(1), day: d.date.at(2)) }},
)
#set text(lang: d.language, region: d.region)
#set page(width: {across}mm, height: {high}mm, margin: 0mm)
#for (number, side) in ({sides}).enumerate() {{
  if number > 0 {{ pagebreak() }}
  for (place_, page_) in side.enumerate() {{
    if page_ > 0 {{
      place(left, dx: place_ * {wide}mm, pdf.artifact(
        image("pages.pdf", page: page_, width: {wide}mm, height: {high}mm),
      ))
    }}
  }}
}}
"""
