"""Charts on paper: how large a form sets its squares and its type, and a chart whole or in parts that fit a sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mosaickit.publish.boxes import ChartView, RepeatBox
from mosaickit.publish.chart_words import key_height, text_height
from mosaickit.publish.drawing import Drawing
from mosaickit.publish.numbering import PrintStyle
from mosaickit.publish.parts import ChartPart, parts
from mosaickit.publish.pictures import PagePicture
from mosaickit.publish.poster import MM
from mosaickit.publish.sized_charts import SizedChart
from mosaickit.svg import ChartMarks


@dataclass(frozen=True)
class FormSizes:
    """Sizes of one form: type in points, squares in mm, whether it is filled, and how many sizes stand side by side."""

    body: float
    small: float
    chart_numbers: float
    least_mm: float
    part_mm: float
    most_mm: float
    finder_mm: float
    overview_mm: float
    filled: bool = True
    margin_mm: float = 20.0
    most_sizes: int = 6


# 18 points and more is large print, 12 the least for clear print (guidelines for blind and partially sighted readers)
FORM_SIZES: dict[str, FormSizes] = {
    "regular": FormSizes(12, 10.5, 8, 3.2, 4.2, 9, 34, 3),
    "large print": FormSizes(18, 18, 18, 7, 7, 12, 42, 4, most_sizes=3),
    "low ink": FormSizes(12, 10.5, 8, 3.2, 4.2, 9, 34, 3, filled=False),
    "booklet": FormSizes(10, 9, 7, 2.6, 3.2, 7, 26, 2.5, margin_mm=14.0, most_sizes=4),
}


class PaperFiles:
    """Pictures by name, and how the template is told of them."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def add_pixels(self, name: str, picture: PagePicture, most: tuple[float, float]) -> dict[str, Any]:
        """Keep a picture in pixels, as large as fits within others."""
        # the typesetter takes files in memory as text only, and SVG may hold a picture in pixels
        width, height = picture.within(most)
        body = f'<image width="{width:g}" height="{height:g}" href="{picture.address}"/>'
        return {**self.add(name, Drawing(body, width, height, picture.alt)), "caption": picture.caption}

    def add(self, name: str, picture: Drawing) -> dict[str, Any]:
        """Keep a drawing."""
        self.kept[f"{name}.svg"] = picture.svg.encode()
        return {"file": f"{name}.svg", "width": picture.width, "height": picture.height, "alt": picture.alt}


def charts_on_paper(
    chart: SizedChart, number: int, sizes: FormSizes, marks: ChartMarks, room: tuple[float, float], files: PaperFiles
) -> dict[str, Any]:
    """Draw a chart of a page, whole if its squares stay large enough, or in parts; gives what the template reads of it.

    A part has a finder, which shows where it lies. The `number` keeps the files of several charts apart.
    """
    drawings, view = chart.drawings, chart.view
    shape, fits = view.shape, _Fits(drawings.chart.shape, view.box, sizes, drawings.letters)
    said = chart.words
    heading = 3.4 * sizes.body * (2 if chart.title else 1)
    heading += text_height(said, sizes.body, room[0]) + 1.2 * sizes.body if said else 0
    beside_finder = max(sizes.finder_mm * MM, 5 * sizes.body) + 2 * sizes.body
    # stands above a chart that is whole
    key = key_height(drawings, marks, (sizes.body, sizes.small), room[0], filled=sizes.filled)
    key += 1.6 * sizes.body * len(drawings.page.yarns) * drawings.page.lettered
    cut = parts(shape, shape)
    square = fits.largest(shape, (room[0], room[1] - heading - key))
    if square is None:
        space = (room[0], room[1] - heading - beside_finder)
        across, up = fits.squares_in(sizes.part_mm * MM, space)
        cut = parts(shape, (int(up), int(across)))
        square = fits.largest(cut[0].shape, space) or sizes.part_mm * MM
    look = PrintStyle(square, sizes.chart_numbers, filled=sizes.filled, marks=marks, letters=drawings.letters)
    found = []
    for part in cut:
        name = f"chart{number}-{part.number}"
        told = {"caption": _caption(part, view), **files.add(name, drawings.part(part, look, view))}
        if part.of > 1:
            finder, frame = drawings.finder(part, (0.3 * room[0], sizes.finder_mm * MM), view)
            told["finder"] = {"frame": frame, **files.add(f"finder{number}-{part.number}", finder)}
        found.append(told)
    small = PrintStyle(sizes.overview_mm * MM, sizes.chart_numbers, filled=sizes.filled)
    overviews = [
        {
            "title": f"size {name}" if len(chart.wholes) > 1 else "",
            **files.add(f"overview{number}-{place}", whole.overview(small, (room[0], room[1] - 6 * sizes.body))),
        }
        for place, (whole, name) in enumerate(zip(chart.wholes, chart.names or ("",), strict=True))
    ]
    return {
        "title": chart.title,
        "words": said,
        "parts": found,
        "overviews": overviews if view.box else [],
    }


@dataclass(frozen=True)
class _Fits:
    """What fits on a sheet beside the bar and the numbers of a whole chart, and the words at a repeat's box."""

    whole: tuple[int, int]
    box: RepeatBox | None
    sizes: FormSizes
    letters: int

    def squares_in(self, square: float, room: tuple[float, float]) -> tuple[float, float]:
        """Give how many squares of a side, in points, fit across and up."""
        beside, below = PrintStyle(square, self.sizes.chart_numbers, letters=self.letters).around(*self.whole, self.box)
        return (room[0] - beside) / square, (room[1] - below) / square

    def largest(self, part: tuple[int, int], room: tuple[float, float]) -> float | None:
        """Find the largest square with which a part fits, in points; None if it were smaller than the form's least."""
        # the bar beside the chart grows with its squares, so sizes are tried, a tenth of a millimetre apart
        for tenths in range(round(self.sizes.most_mm * 10), round(self.sizes.least_mm * 10) - 1, -1):
            across, up = self.squares_in(tenths / 10 * MM, room)
            if part[1] <= across and part[0] <= up:
                return tenths / 10 * MM
        return None


def _caption(part: ChartPart, view: ChartView) -> str:
    words = view.words(part.rows, part.stitches)
    return f"Part {part.number} of {part.of}: {words}. Beyond a dashed line lies what a neighbouring part shows too."
