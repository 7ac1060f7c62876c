"""The pictures of a page in pixels: photographs, or else the fabric as its yarn lies, its front, back and a detail."""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass
from functools import lru_cache

from mosaickit.centre import CentreChart, size, square_seen
from mosaickit.fabric import Chart, patch_of
from mosaickit.files import png_of
from mosaickit.gauge import Gauge
from mosaickit.orientation import Face
from mosaickit.publish.contents import front_words, row_word, several
from mosaickit.publish.page import Page
from mosaickit.publish.sizes_told import of_size
from mosaickit.sizes import CentreDesign
from mosaickit.yarn import YarnSettings, seen, thread_of, yarn_cm

MOST_STITCHES_AS_YARN = 10_000
"""A larger piece is shown in squares: drawing its yarn would take longer than all the rest of its pages."""

_DETAIL = 20  # rows and stitches of a detail
_PIXELS, _MOST_PIXELS = 1200, 3_000_000  # of the width of a picture, and in all


@dataclass(frozen=True)
class PagePicture:
    """A picture in pixels.

    Parameters
    ----------
    data : bytes
        A file of that kind.
    kind : "png" or "jpeg"
        What it is.
    size : (width, height)
        In pixels.
    alt : str
        What it shows, for those who cannot see it.
    caption : str
        What stands below it; may be empty.
    """

    data: bytes
    kind: str
    size: tuple[int, int]
    alt: str
    caption: str

    @property
    def address(self) -> str:
        """The picture as an address that holds it whole."""
        return f"data:image/{self.kind};base64,{b64encode(self.data).decode()}"

    def within(self, most: tuple[float, float]) -> tuple[float, float]:
        """Give the largest width and height of the picture within others."""
        scale = min(side / pixels for side, pixels in zip(most, self.size, strict=True))
        return self.size[0] * scale, self.size[1] * scale


def photographs(of: Page | CentreDesign) -> tuple[PagePicture, ...]:
    """Give the photographs of a page, or of a square from the centre, the cover first."""
    return tuple(PagePicture(each.data, "jpeg", each.size, each.text, each.caption) for each in of.photographs)


def said_of_photographs(of: Page | CentreDesign, *, filled: bool) -> str:
    """Say that photographs are left out where nothing is filled, as they would take the most ink; "" if none are."""
    return "To save ink, photographs are left out of this file." if of.photographs and not filled else ""


def yarn_views(page: Page) -> tuple[PagePicture, ...]:
    """Give front, back and, of a larger piece, a detail of the fabric as its yarn lies; none of a very large piece."""
    chart = page.chart
    rows, stitches = chart.shape
    if chart.stitches.size > MOST_STITCHES_AS_YARN:
        return ()
    size = f"{several(rows, row_word(page))} of {several(stitches, 'stitch')}"
    in_all = f"The front as its yarn lies{of_size(page)}, {front_words(page)}."
    captions: dict[Face, str] = {"front": in_all, "back": "The back, seen from behind."}
    found = [
        _view(page, chart, side, f"The {side} of the fabric as its yarn lies: {size}.", caption)
        for side, caption in captions.items()
    ]
    if max(rows, stitches) > 1.5 * _DETAIL:
        spans = [_middle(length) for length in (rows, stitches)]
        detail = patch_of(chart, spans[0], spans[1])
        where = f"{row_word(page)}s {spans[0][0]} to {spans[0][1]}, stitches {spans[1][0]} to {spans[1][1]}"
        found.append(
            _view(page, detail, "front", f"A detail of the front as its yarn lies: {where}.", f"A detail: {where}.")
        )
    return tuple(found)


def _middle(length: int) -> tuple[int, int]:
    """Give the first and the last of the rows or stitches in the middle, from 1."""
    shown = min(length, _DETAIL)
    first = (length - shown) // 2 + 1
    return first, first + shown - 1


def _view(page: Page, chart: Chart, side: Face, alt: str, caption: str) -> PagePicture:
    data, size = _drawn(chart, page.gauge, page.yarn_mm, side)
    return PagePicture(data, "png", size, alt, caption)


@lru_cache(maxsize=12)  # all forms of a page ask for the same few
def _drawn(chart: Chart, gauge: Gauge, yarn_mm: float | None, side: Face) -> tuple[bytes, tuple[int, int]]:
    thread = thread_of(chart, gauge, yarn_settings=YarnSettings(yarn_mm=yarn_mm, tail_cm=0))
    width, height = (length / thread.yarn_cm for length in gauge.size_cm(*chart.shape))
    image = seen(thread, chart, side=side, across=_across(width, height))
    return png_of(image), (image.shape[1], image.shape[0])


def _across(width: float, height: float) -> int:
    """Give the pixels to a yarn's diameter in a picture of fabric of so many of them."""
    across = float(min(_PIXELS / width, (_MOST_PIXELS / (width * height)) ** 0.5))
    return max(2, min(round(across), 12))


# ---- squares from the centre -------------------------------------------------------------------------------


def square_views(chart: CentreChart, gauge: Gauge, yarn_mm: float | None) -> tuple[PagePicture, ...]:
    """Give front and back of a square from the centre as its yarn lies; none of a very large square."""
    if chart.side**2 > MOST_STITCHES_AS_YARN:
        return ()
    captions: dict[Face, str] = {
        "front": "The front as its yarn lies. How the corners of such a square look is not known.",
        "back": "The back, seen from behind.",
    }
    rounds = several(len(chart.rounds), "round")
    found = []
    for side, caption in captions.items():
        data, size = _square_drawn(chart, gauge, yarn_mm, side)
        alt = f"The {side} of the square as its yarn lies: {rounds} from the centre."
        found.append(PagePicture(data, "png", size, alt, caption))
    return tuple(found)


@lru_cache(maxsize=4)
def _square_drawn(chart: CentreChart, gauge: Gauge, yarn_mm: float | None, side: Face) -> tuple[bytes, tuple[int, int]]:
    whole = size(chart, gauge)
    wide = max(whole.across_cm, whole.edge_cm) / yarn_cm(gauge, yarn_mm)
    image = square_seen(chart, gauge, side=side, across=_across(wide, wide), yarn_mm=yarn_mm).image
    return png_of(image), (image.shape[1], image.shape[0])
