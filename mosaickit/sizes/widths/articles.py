"""Usual sizes of scarves, blankets and other articles, so that a size can be asked for by its name.

There is no standard for any of them. The figures are what people who sell or teach publish, each with the address where
it was read; where pages differ, one is taken, so that they serve to begin with.
"""

from __future__ import annotations

from typing import NamedTuple

from mosaickit.gauge import CM_PER_INCH, Unit


class Article(NamedTuple):
    """The usual size of one article."""

    width_in: float
    """Across, in inches; of what is worked in the round, the way around."""
    length_in: float
    """Upward, in inches."""
    source: str
    """Where it was read."""

    def size(self, unit: Unit) -> tuple[float, float]:
        """(width, length) in whole cm, or in inches."""
        if unit == "in":
            return self.width_in, self.length_in
        return round(self.width_in * CM_PER_INCH), round(self.length_in * CM_PER_INCH)


_BLANKETS = "amerisleep.com/blog/blanket-sizes-and-dimensions-guide"
_AFGHANS = "oombawkadesigncrochet.com/blanket-and-afghan-sizes"
_COWLS = "thescarfshop.blogspot.com/2010/04/cowl.html"
_RUNNERS = "trendyhomeusa.com/blogs/home-living/what-are-table-runner-sizes"
_PADS = "engineerfix.com/how-much-bigger-should-a-pillow-insert-be-than-the-cover"
_SCARVES = "several blogs that agree; no one page"

ARTICLES: dict[str, Article] = {
    "child's scarf": Article(5, 31, _SCARVES),
    "short scarf": Article(7, 55, _SCARVES),
    "scarf": Article(8, 65, _SCARVES),
    "long scarf": Article(8, 82, _SCARVES),
    "cowl": Article(27, 12, _COWLS),
    "long cowl": Article(55, 10, "stonegnome.com/2020/01/scal-introduction.html"),
    "lovey": Article(12, 12, _BLANKETS),
    "stroller blanket": Article(30, 36, _AFGHANS),
    "receiving blanket": Article(40, 40, _BLANKETS),
    "crib blanket": Article(45, 60, _BLANKETS),
    "child's throw": Article(42, 50, _AFGHANS),
    "lap blanket": Article(36, 48, _BLANKETS),
    "throw": Article(50, 60, _BLANKETS),
    "afghan": Article(50, 65, _BLANKETS),
    "twin bed": Article(65, 90, _BLANKETS),
    "double bed": Article(85, 90, _BLANKETS),
    "queen bed": Article(90, 95, _BLANKETS),
    "king bed": Article(108, 95, _BLANKETS),
    "cushion of 16 in": Article(15, 15, _PADS),
    "cushion of 18 in": Article(17, 17, _PADS),
    "cushion of 20 in": Article(18, 18, _PADS),
    "table runner": Article(14, 72, _RUNNERS),
    "mug rug": Article(10, 6, "ediewarren.blogspot.com/2014/12"),
    "dishcloth": Article(8, 8, "qctester.wordpress.com/2013/02/02/dishcloth-comparison"),
}
"""By name; a cushion's cover is 1 in smaller than its pad, 2 in from 20 in on."""
