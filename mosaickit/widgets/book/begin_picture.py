"""A picture to begin from: its pixels and settings, and what it becomes with them, shown before it is taken."""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass, field
from math import ceil
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mosaickit import svg
from mosaickit.errors import FileError, MosaickitError, number_of, one_of, within
from mosaickit.files import Traced, called_after, from_picture, pixels_of
from mosaickit.gauge import Gauge
from mosaickit.motif import Motif, check
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import USUAL_GAUGE
from mosaickit.widgets.book.ledger import squares_of, squares_of_motif

MARK = "#e02040"
"""The colour of squares that change, in the picture as it is before."""

LONGEST_SIDE_SHOWN = 360
"""The longest side, in pixels, with which the picture itself is shown."""

USUAL_SETTINGS: dict[str, Any] = {
    "stitches": 48,
    "rows": None,
    "left": 0,
    "top": 0,
    "right": 0,
    "bottom": 0,
    "greys": "areas",
    "dark": "otsu",
    "tone": 50,
    "invert": False,
    "first": "better",
    "edges": 2,
}
"""What is asked for first: size, percent cut off at each side, and how dark and light part."""


def _said(wrong: int, changed: int) -> str:
    if not wrong:
        return "All squares can be worked as they are."
    stay = f"As it is, {number_of(wrong, 'square')} cannot be worked"
    return (
        f"{stay}; in the nearest that can be, {number_of(changed, 'square')} {'is' if changed == 1 else 'are'} changed."
    )


@dataclass
class HeldPicture:
    """A picture that was chosen, and the motif that it becomes with the settings."""

    name: str
    pixels: NDArray[Any]
    settings: dict[str, Any] = field(default_factory=lambda: dict(USUAL_SETTINGS))
    gauge: Gauge | None = None
    traced: Traced | None = None
    _tones: tuple[object, NDArray[np.float64]] | None = None

    @classmethod
    def of(cls, data: bytes, name: str) -> HeldPicture:
        """Unpack a picture; raises `FileError` if the bytes hold none."""
        try:
            pixels = pixels_of(data)
        except MosaickitError as error:
            raise FileError(f"{name!r}: {error}") from None
        return cls(name, pixels)

    def trace(self, values: dict[str, Any], gauge: Gauge | None) -> None:
        """Take other settings; raises `MosaickitError`, and nothing is changed, if the picture cannot be traced so."""
        asked = {name: values.get(name, usual) for name, usual in USUAL_SETTINGS.items()}
        if self.traced is not None and (asked, gauge) == (self.settings, self.gauge):
            return
        one_of("greys", asked["greys"], ("areas", "dots"))
        one_of("dark", asked["dark"], ("otsu", "adaptive", "tone"))
        dots = asked["greys"] == "dots"
        tones = self._tones_of(asked, gauge)
        rows, stitches = tones.shape
        own = within("tone", asked["tone"], 0, 100) / 100 if asked["dark"] == "tone" else asked["dark"]
        self.traced = from_picture(
            tones,
            stitches=stitches,
            rows=rows,
            threshold="otsu" if dots else own,
            dither="error diffusion" if dots else None,
            invert=asked["invert"],
            first=asked["first"],
            edges_weight=asked["edges"],
            name=called_after(Path(self.name)),
        )
        self.settings, self.gauge = asked, gauge

    def _tones_of(self, asked: dict[str, Any], gauge: Gauge | None) -> NDArray[np.float64]:
        """Give the tone of each square; it is worked out again only if the size or the crop is another one.

        What a picture becomes follows from these tones alone, so that a hand may move the other settings at any size.
        """
        left, top, right, bottom = (
            within(side, asked[side], 0, 100) / 100 for side in ("left", "top", "right", "bottom")
        )
        crop = (left, top, 1 - right, 1 - bottom)
        key = asked["stitches"], asked["rows"], crop, gauge
        if self._tones is None or self._tones[0] != key:
            traced = from_picture(
                self.pixels,
                stitches=asked["stitches"],
                rows=asked["rows"],
                gauge=gauge or USUAL_GAUGE,
                crop=crop,
            )
            self._tones = key, traced.tones
        return self._tones[1]

    @property
    def design(self) -> Design:
        """What it becomes: a design of one repeat."""
        return Design(self._made.motif, self.gauge)

    @property
    def view(self) -> dict[str, Any]:
        """What the page shows: the settings, the squares of the picture, and those of the motif."""
        made, design = self._made, self.design
        rows, stitches = made.motif.shape
        wrong = check(Motif(made.before, made.first)).count("error")
        changed = int(made.changed.sum())
        index, colours = svg.yarn_colours(made.before, made.motif.shown_rows, made.motif.yarns)
        index = np.where(made.changed, len(colours), index)
        size = f"{number_of(stitches, 'stitch')}, {number_of(rows, 'row')}"
        before = f"{number_of(wrong, 'square')} cannot be worked" if wrong else "All squares can be worked"
        after = f"{number_of(changed, 'square')} changed" if changed else "Nothing has to change"
        return {
            "name": self.name,
            "pixels": f"{self.pixels.shape[1]:,} × {self.pixels.shape[0]:,} pixels",
            "settings": self.settings,
            "rows": rows,
            "said": f"{size}. {_said(wrong, changed)}",
            "before": squares_of(
                index,
                [*colours, MARK],
                design,
                word=f"Before: {before.lower()}",
                about=f"Squares of {self.name}, {size}",
            ),
            "after": squares_of_motif(
                made.motif,
                design,
                word=f"After: {after.lower()}",
                about=f"The motif made of {self.name}, {size}",
            ),
            "changed": changed,
        }

    @property
    def _made(self) -> Traced:
        if self.traced is None:
            raise FileError("There is no picture yet: choose one.")
        return self.traced

    def shown_small(self) -> dict[str, Any]:
        """Give the picture itself, small: `wide` and `high` in pixels, and their red, green, blue and opacity."""
        step = ceil(max(self.pixels.shape[:2]) / LONGEST_SIDE_SHOWN)
        small = self.pixels[::step, ::step]
        if small.dtype == np.uint16:
            small = (small >> 8).astype(np.uint8)
        if small.ndim == 2:
            small = np.repeat(small[..., np.newaxis], 3, axis=2)
        if small.shape[2] == 3:
            small = np.concatenate([small, np.full((*small.shape[:2], 1), 255, dtype=np.uint8)], axis=2)
        high, wide = small.shape[:2]
        return {"wide": wide, "high": high, "pixels": b64encode(small.tobytes()).decode("ascii")}
