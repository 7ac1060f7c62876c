"""How quickly a large chart and a family are drawn, against the plain way of one artist a square.

Both ways draw a reversible chart of 100 × 400 with its symbols and grid, and end in a file in memory. The plain way is
timed once, as it takes its time.
"""

from collections.abc import Sequence
from io import BytesIO

import matplotlib
import numpy as np
import pytest

matplotlib.use("Agg")

import matplotlib.pyplot as plt
from matplotlib.patches import Rectangle

from mosaickit import Chart, Motif, compile_chart, draw, family, work
from mosaickit.ideas import Variant
from mosaickit.svg import SYMBOLS, ink_on

SQUARE_IN = 0.08
LEAF = Motif.from_text(".......\n#######\n.#...#.\n###.###\n.#.....\n#######\n.......")


def large_chart(rows: int = 100, columns: int = 400) -> Chart:
    """Compile a random picture in which about a quarter of the squares are overlaid."""
    overlaid = np.random.default_rng(7).random((rows, columns)) < 0.4
    overlaid[[0, -1]] = False
    for row in range(1, rows):
        overlaid[row] &= ~overlaid[row - 1]
    stripes = Motif(np.zeros((rows, columns), dtype=bool))
    return compile_chart(stripes.with_grid(overlaid ^ stripes.row_is_cc), reversible=True)


def _file(figure: plt.Figure, file_format: str) -> bytes:
    file = BytesIO()
    figure.savefig(file, format=file_format, dpi=100)
    plt.close(figure)
    return file.getvalue()


def fast(chart: Chart, file_format: str) -> bytes:
    """Draw with `draw.chart`."""
    return _file(draw.chart(chart, style=draw.ChartStyle(square_in=SQUARE_IN)).figure, file_format)


def one_artist_a_square(chart: Chart, file_format: str) -> bytes:
    """Draw a rectangle for every square and a line for every symbol; no numbers, no key."""
    rows, columns = chart.shape
    front = work(chart).front
    figure, ax = plt.subplots(figsize=(columns * SQUARE_IN, rows * SQUARE_IN))
    ax.set(xlim=(0, columns), ylim=(rows, 0), aspect="equal")
    colours = [chart.yarns.at(1, role).colour for role in ("MC", "CC")]
    inks = [ink_on(colour) for colour in colours]
    pen_up = np.full((1, 2), np.nan)
    symbols = [np.concatenate([*(np.vstack([line, pen_up]) for line in s.unit_lines), pen_up]) for s in SYMBOLS]
    # the chart is right-handed: the last row is on top and stitch 1 at the right
    for top, line in enumerate(chart.stitches[::-1, ::-1]):
        for left, stitch in enumerate(line):
            shows = int(front[top, left])
            ax.add_patch(Rectangle((left, top), 1, 1, facecolor=colours[shows], edgecolor="#7f7f7f", linewidth=0.2))
            if SYMBOLS[stitch].lines:
                x, y = symbols[stitch].T
                ax.plot(left + x, top + 1 - y, color=inks[shows], linewidth=0.4)
    return _file(figure, file_format)


@pytest.mark.parametrize("file_format", ["png", "svg"])
def test_a_large_chart_against_one_artist_a_square(file_format, ratio, keep_line):
    chart = large_chart()
    megabytes = {}

    def drawn(way):
        megabytes[way] = len(way(chart, file_format)) / 1e6

    ratio(
        f"chart with symbols, 100 × 400, {file_format.upper()}",
        lambda: drawn(fast),
        lambda: drawn(one_artist_a_square),
        "one artist a square",
        rounds=3,
        other_rounds=1,
        at_least=10,
    )
    ours, other = megabytes[fast], megabytes[one_artist_a_square]
    keep_line(
        f"| size of that {file_format.upper()} | {ours:.2f} MB | one artist a square: {other:.2f} MB | "
        f"{ours / other:.2f} | {'within 1' if file_format == 'svg' else 'none'} |",
        met=ours <= other or file_format == "png",
    )


def family_on_a_wall(variants: Sequence[Variant]) -> bytes:
    """Draw with `draw.variants`."""
    return _file(draw.variants(variants, columns=10, sort_by="similarity").figure, "png")


def axes_for_each(variants: Sequence[Variant]) -> bytes:
    """Draw each variant into axes of its own, with its name and figure."""
    figure, axes = plt.subplots(-(-len(variants) // 10), 10, figsize=(15, 12))
    for ax in axes.flat:
        ax.axis("off")
    for ax, variant in zip(axes.flat, sorted(variants, key=lambda v: -v.figures.similarity), strict=False):
        rows, columns = variant.motif.shape
        front = variant.motif.grid
        colours = [[variant.motif.yarns.at(1, "CC" if cc else "MC").colour for cc in row] for row in front]
        for top in range(rows):
            for left in range(columns):
                ax.add_patch(Rectangle((left, top), 1, 1, facecolor=colours[top][left]))
        ax.set(xlim=(0, columns), ylim=(rows, 0), aspect="equal")
        ax.set_title(f"{variant.name}\n{variant.figures.similarity:.0%} similar", fontsize=8)
    return _file(figure, "png")


def test_a_family_against_axes_for_each_variant(ratio):
    variants = family(LEAF, steps=2, most=60)
    ratio(
        "a family of 60 on a wall, PNG",
        lambda: family_on_a_wall(variants),
        lambda: axes_for_each(variants),
        "axes for each, one artist a square",
        rounds=3,
        other_rounds=1,
        at_least=3,
    )
