"""Build the gallery from motifs/, about.toml and articles/: pictures, patterns, README.md, and index.html.

Run by ``python start.py run gallery/build.py``. The same motifs give the same files, and a test compares them.
What is told of a motif is worked out here once, as a `Card`, and what is told of a whole article as an `Article`;
README.md and index.html, which is browsed without a network, print both.
"""

from __future__ import annotations

import io
import json
import sys
import tomllib
from base64 import b64encode
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import matplotlib
import matplotlib.pyplot as plt
import numpy as np
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from PIL import Image

import mosaickit as mk
from mosaickit import svg
from mosaickit.motif import LARGEST_AREA, Symmetry
from mosaickit.policy import source_hash
from mosaickit.scripts import one_script
from mosaickit.sizes import Fit

HERE = Path(__file__).parent
GAUGE = mk.Gauge(16, 17)
SCARF_CM = (20, 150)
DPI = 100
MOST_PIXELS = (200, 280, 18)
"""A face on the page is at most so wide and so high, and so is a stitch."""

STYLES = ("all-over", "border", "botanical", "geometric", "lettering", "picture")
SIZES = (("tiny", 100), ("small", 500), ("medium", 1000), ("large", LARGEST_AREA))
LEVELS = (("gentle", 50), ("steady", 75), ("demanding", 10_000))
MUCH_FLDC, MANY_ROWS, MANY_CHANGES = 0.4, 30, 25
KINDS = {
    "mirror": "mirrored left to right",
    "glide": "mirrored left to right with a shift",
    "up-down": "mirrored up-down",
    "up-down glide": "mirrored up-down with a shift",
    "half-turn": "turned by half a turn",
}
SWAPPED, NONE = "colours swap", "none"
MEASURE = (
    "Difficulty is a measure of our own, from the plain chart of one repeat: the share of FLdc as part of "
    f"{MUCH_FLDC:.0%}, the number of different rows as part of {MANY_ROWS}, and the changes of stitch in the busiest "
    f"row as part of {MANY_CHANGES}, in points of 100 each, and of the three the mean. Below {LEVELS[0][1]} is "
    f"{LEVELS[0][0]}, below {LEVELS[1][1]} {LEVELS[1][0]}, from there on {LEVELS[2][0]}."
)
PLAN = (
    f"The scarf is the one that comes nearest to {SCARF_CM[0]} × {SCARF_CM[1]} cm in whole repeats, reversible, with "
    "an edge stitch at each side; a motif of an odd number of rows has its colours swapped in every second repeat up."
)


@dataclass(frozen=True)
class Card:
    """One motif and what is told of it; `stem` is the name of its files."""

    stem: str
    style: str
    says: str
    motif: mk.Motif

    @cached_property
    def plain(self) -> mk.Chart:
        """The chart for a back that shows strands."""
        return self.chart.plain()

    @cached_property
    def chart(self) -> mk.Chart:
        """The reversible chart."""
        return mk.compile_chart(self.motif, reversible=True)

    @cached_property
    def fabric(self) -> mk.fabric.Fabric:
        """What the hook makes of the chart."""
        return mk.work(self.chart)

    @property
    def size_words(self) -> str:
        """Rows, stitches and centimetres of one repeat."""
        rows, stitches = self.motif.shape
        width, height = GAUGE.size_cm(rows, stitches)
        return f"{rows} rows of {stitches} stitches, {width:.1f} × {height:.1f} cm"

    @property
    def size(self) -> str:
        """How large it is, in a word, by its squares."""
        return next(word for word, most in SIZES if self.motif.grid.size <= most)

    # ---- how hard it is ------------------------------------------------------------------------------------

    @cached_property
    def fldc_share(self) -> float:
        """The share of stitches that are FLdc in the plain chart."""
        return float(np.mean(self.plain.stitches == mk.Stitch.FLDC))

    @cached_property
    def different_rows(self) -> int:
        """How many of the plain chart's rows differ."""
        return len(np.unique(self.plain.stitches, axis=0))

    @cached_property
    def changes(self) -> int:
        """How often the stitch changes in the busiest row of the plain chart."""
        return int((np.diff(self.plain.stitches.astype(int), axis=1) != 0).sum(axis=1).max())

    @property
    def points(self) -> int:
        """The difficulty in points; see `MEASURE`."""
        parts = self.fldc_share / MUCH_FLDC + self.different_rows / MANY_ROWS + self.changes / MANY_CHANGES
        return round(100 * parts / 3)

    @property
    def difficulty(self) -> str:
        """The difficulty in a word."""
        return next(word for word, below in LEVELS if self.points < below)

    @property
    def difficulty_words(self) -> str:
        """The difficulty and what it comes from."""
        return (
            f"{self.difficulty}, {self.points} points: {self.fldc_share:.0%} FLdc, {self.different_rows} different "
            f"rows, {self.changes} changes of stitch in the busiest"
        )

    # ---- symmetry, yarn, scarf -----------------------------------------------------------------------------

    @property
    def colours(self) -> str:
        """What a repeat up does with the colours of an odd number of rows."""
        return "swap" if self.motif.shape[0] % 2 else "keep"

    @cached_property
    def symmetry(self) -> Symmetry:
        """As a border if it is one, otherwise as a repeat of the plane."""
        return mk.symmetry(self.motif, as_="border" if self.style == "border" else "repeat", colours=self.colours)

    @property
    def symmetries(self) -> list[str]:
        """The symmetries that one can look for."""
        kinds = {move.kind for move in self.symmetry.keeping}
        found = [words for kind, words in KINDS.items() if kind in kinds]
        return (found or [NONE]) + ([SWAPPED] if self.symmetry.swapping else [])

    @cached_property
    def yarn(self) -> list[tuple[str, str, str, str]]:
        """Name, and metres at least, as expected and at most, of each yarn and of all, for one repeat."""
        totals = mk.tables.yarn_totals(mk.yarn_usage(self.chart, GAUGE))
        return [
            (str(n), *(f"{t[f'{of} m']:.1f}" for of in ("at least", "yarn", "at most"))) for n, t in totals.iterrows()
        ]

    @property
    def surcharge_words(self) -> str:
        """What reversible takes on top of plain."""
        return f"Reversible takes {mk.surcharge(self.motif, GAUGE):.0%} more than plain."

    @cached_property
    def scarf(self) -> Fit:
        """The scarf that comes nearest to the wish."""
        surround = mk.Surround(colours=self.colours)
        options = {"length": SCARF_CM[1], "surround": surround, "reversible": True}
        try:
            return mk.plan_widths(self.motif, GAUGE, SCARF_CM[0], **options).fits[0]
        except mk.errors.WidthError as error:
            return mk.plan_widths(self.motif, GAUGE, SCARF_CM[0], tolerance=error.tolerance, **options).fits[0]

    @property
    def scarf_words(self) -> str:
        """The scarf as a line."""
        fit = self.scarf
        yarns = ", ".join(f"{total.yarn.name} {total.likely_m:.0f} m" for total in fit.by_yarn)
        return (
            f"{fit.across} × {fit.up} repeats: {fit.stitches} stitches (chain {fit.foundation_chain}), {fit.rows} "
            f"rows, {fit.width_cm:.1f} × {fit.length_cm:.1f} cm; {yarns} (from {fit.usage.low_m:.0f} to "
            f"{fit.usage.high_m:.0f} m in all)"
        )

    @property
    def line(self) -> str:
        """What opens it in the painter."""
        return f'mk.widgets.MotifPainter(mk.load("gallery/motifs/{self.stem}.json"))'

    # ---- pictures ------------------------------------------------------------------------------------------

    def face(self, side: str) -> dict[str, object]:
        """Draw a face as SVG squares, one stitch wide each, and say how large to show it in pixels."""
        fabric = self.fabric
        shown = (fabric.front, fabric.front_rows) if side == "front" else (fabric.back, fabric.back_rows)
        rows, stitches = self.motif.shape
        high = 1 / GAUGE.aspect
        scale = min(MOST_PIXELS[0] / stitches, MOST_PIXELS[1] / (rows * high), MOST_PIXELS[2])
        return {
            "side": side,
            "body": svg.squares(*svg.yarn_colours(*shown, self.motif.yarns)),
            "square_high": high,
            "box": (stitches, rows * high),
            "pixels": (stitches * scale, rows * high * scale),
        }

    def draw(self, folder: Path) -> list[Path]:
        """Write front, back and chart as PNG and return the files."""
        written = []
        for view in ("front", "back", "chart"):
            axes = mk.draw.chart(self.chart) if view == "chart" else mk.draw.face(self.fabric, side=view, gauge=GAUGE)
            written.append(mk.draw.save(axes, folder / f"{self.stem}-{view}.png", dpi=DPI, replace=True))
            plt.close(axes.figure)
        return written


ARTICLE_ACROSS = 4
ARTICLE_INCHES = (9.0, 5.0)
MOST_SHOWN = (440, 300)
"""A finished article on index.html is at most so wide and so high in pixels."""


@dataclass(frozen=True)
class Article:
    """A whole article and what is told of it, all from its design file; `stem` is the name of its files."""

    stem: str
    ending: str
    design: mk.Design | mk.CentreDesign

    @property
    def file(self) -> str:
        """Where its design file is, from the gallery's folder."""
        return f"articles/{self.stem}{self.ending}"

    @property
    def facts(self) -> list[tuple[str, str]]:
        """What a maker asks first, as (what, text)."""
        design = self.design
        if isinstance(design, mk.CentreDesign):
            yarn = [str(total) for total in design.usage.by_yarn]
            return [
                ("Size", str(design.size)),
                ("Worked", f"from the centre, {len(design.chart.rounds)} rounds"),
                ("Yarn", "; ".join(yarn)),
            ]
        rows, stitches = design.shape
        in_the_round = design.surround.in_the_round
        way = "joined at their ends" if in_the_round else "flat, the right side always facing"
        found = [
            ("Size", str(design.size)),
            ("Worked", f"{rows} {'rounds' if in_the_round else 'rows'} of {stitches} stitches, {way}"),
            ("Yarn", "; ".join(str(total) for total in design.usage.by_yarn)),
            ("Edges", self.edges),
        ]
        if design.bands is not None:
            found.append(("Bands", f"{design.bands}. {' '.join(design.said)}".rstrip()))
        return found

    @property
    def edges(self) -> str:
        """What is done at the edges, in a line."""
        assert isinstance(self.design, mk.Design)
        finish, edging = self.design.finish, self.design.edging
        if finish.ends == "fringe":
            return f"a fringe of {finish.fringe_cm:g} cm, {edging.knots} knots at each side"
        rounds = f"{finish.border_rounds} rounds"
        if finish.layers == 2:
            return f"a folded border of two layers, {rounds} each, over the tails: {edging.border_stitches:,} sc"
        where = "at both edges" if edging.in_the_round else "all around"
        crab = " and one of crab stitch" if finish.crab_stitch else ""
        return f"{rounds}{crab} {where}"

    def axes(self, side: str) -> plt.Axes:
        """Draw the finished article as its yarn lies."""
        _, ax = plt.subplots(figsize=ARTICLE_INCHES, layout="constrained")
        if isinstance(self.design, mk.CentreDesign):
            return mk.draw.worked_square(self.design, side=side, across=ARTICLE_ACROSS, ax=ax)
        return mk.draw.worked_piece(self.design, side=side, across=ARTICLE_ACROSS, ax=ax)

    def write(self, folder: Path) -> list[Path]:
        """Write front and back as PNG, and the pattern for a screen; and return the files."""
        written = []
        for side in ("front", "back"):
            axes = self.axes(side)
            axes.set_title("")
            picture = folder / "pictures" / f"{self.stem}-{side}.png"
            axes.figure.savefig(picture, dpi=DPI, bbox_inches="tight", metadata={"Software": None})
            plt.close(axes.figure)
            _fewer_colours(picture)
            written.append(picture)
        (folder / "patterns").mkdir(exist_ok=True)
        pattern = folder / "patterns" / f"{self.stem}.html"
        if isinstance(self.design, mk.CentreDesign):
            mk.publish.html_from_centre(self.design, pattern, replace=True)
        else:
            mk.publish.html(self.design.page(), pattern, replace=True)
        return [*written, pattern]

    def shown(self, folder: Path) -> dict[str, object]:
        """Give the front, small, as a picture that stands in a page."""
        with Image.open(folder / "pictures" / f"{self.stem}-front.png") as picture:
            small = picture.convert("RGB")
            small.thumbnail(MOST_SHOWN)
            data = io.BytesIO()
            small.save(data, "JPEG", quality=80)
        return {"address": f"data:image/jpeg;base64,{b64encode(data.getvalue()).decode()}", "size": small.size}


def _fewer_colours(picture: Path) -> None:
    """Keep 64 colours of a picture, which yarn in two colours does not need more of."""
    with Image.open(picture) as drawn:
        fewer = drawn.convert("RGB").quantize(64, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    fewer.save(picture, optimize=True)


def articles() -> list[Article]:
    """Read the design file of every article."""
    files = sorted(path for path in (HERE / "articles").iterdir() if path.suffix in (".design", ".square"))
    return [Article(path.stem, path.suffix, mk.load(path)) for path in files]


def cards() -> list[Card]:
    """Read every motif with what is said of it."""
    about = tomllib.loads((HERE / "about.toml").read_text("utf-8"))
    files = {path.stem: path for path in sorted((HERE / "motifs").glob("*.json"))}
    if about.keys() != files.keys():
        raise SystemExit(f"about.toml and motifs/ must tell of the same; they differ in {about.keys() ^ files.keys()}.")
    return [Card(stem, motif=mk.load(path), **about[stem]) for stem, path in files.items()]


def build(folder: Path) -> list[Path]:
    """Write pictures/, README.md and index.html into a folder and return what was written."""
    matplotlib.use("Agg")
    pictures = folder / "pictures"
    pictures.mkdir(parents=True, exist_ok=True)
    shown = cards()
    written = [path for card in shown for path in card.draw(pictures)]
    whole = articles()
    written += [path for article in whole for path in article.write(folder)]
    style, script = (HERE / "index.css").read_text("utf-8"), search_script()
    for name, autoescape in (("README.md", False), ("index.html", True)):
        page = folder / name
        environment = Environment(
            loader=FileSystemLoader(HERE),
            autoescape=autoescape,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        text = environment.get_template(f"{name}.j2").render(
            cards=shown,
            articles=[(article, article.shown(folder)) for article in whole],
            gauge=GAUGE.sentence.removeprefix("Gauge: "),
            measure=MEASURE,
            plan=PLAN,
            filters=filters(shown),
            style=style,
            script=script,
            policy=policy(style, script),
        )
        page.write_text(text.rstrip("\n") + "\n", "utf-8", newline="\n")
        written.append(page)
    return written


def search_script() -> str:
    """Give the script of the page, with the table of words that the documentation's search has too."""
    words = tomllib.loads((HERE.parent / "docs" / "search" / "words.toml").read_text("utf-8"))
    return f'"use strict";\n{{\nconst WORDS = {json.dumps(words)};\n{one_script(HERE / "index.js")}}}\n'


def filters(shown: list[Card]) -> dict[str, list[str]]:
    """List what the page can be filtered by: only what some motif has."""
    has = {word for card in shown for word in card.symmetries}
    return {
        "style": list(STYLES),
        "size": [word for word, _ in SIZES],
        "difficulty": [word for word, _ in LEVELS],
        "symmetry": [word for word in (*KINDS.values(), SWAPPED, NONE) if word in has],
    }


def policy(style: str, script: str) -> str:
    """Say that nothing but this very style and script may be loaded or run."""
    return (
        f"default-src 'none'; img-src data:; style-src '{source_hash(style)}'; script-src '{source_hash(script)}'; "
        "base-uri 'none'; form-action 'none'"
    )


if __name__ == "__main__":
    for path in build(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE):
        print(path)
