"""A picture of a page: what an SVG holds, its size in points, and what it shows in words."""

from __future__ import annotations

from dataclasses import dataclass

from mosaickit.publish.strokes import GRID


@dataclass(frozen=True)
class Drawing:
    """What an SVG picture holds, its size in points, and what it shows in words."""

    body: str
    width: float
    height: float
    alt: str

    @property
    def svg(self) -> str:
        """The picture as a file of its own."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.width:g}" height="{self.height:g}" '
            f'viewBox="0 0 {self.width:g} {self.height:g}">{self.body}</svg>'
        )


def sample_square(size: float, drawn: str, alt: str) -> Drawing:
    """Draw one square of a key."""
    body = (
        f'<g transform="translate(1 1) scale({size:g})"><rect width="1" height="1" fill="#ffffff" stroke="{GRID}" '
        f'stroke-width="0.04"/>{drawn}</g>'
    )
    return Drawing(body, size + 2, size + 2, alt)
