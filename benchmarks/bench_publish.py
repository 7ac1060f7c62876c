"""How quickly a large pattern becomes a PDF and a web page, against one chart alone as matplotlib saves it.

The chart is reversible, of 100 × 200 squares and with no two rows alike, so every row is written out.
"""

from io import BytesIO

import matplotlib
import numpy as np
import pytest

matplotlib.use("Agg")

import matplotlib.pyplot as plt

from mosaickit import Chart, Gauge, Motif, compile_chart, draw
from mosaickit.publish import html, pdf
from mosaickit.publish.filling import pattern


@pytest.fixture(scope="module")
def chart() -> Chart:
    """Compile a random picture in which about a quarter of the squares are overlaid."""
    overlaid = np.random.default_rng(7).random((100, 200)) < 0.4
    overlaid[[0, -1]] = False
    for row in range(1, 100):
        overlaid[row] &= ~overlaid[row - 1]
    stripes = Motif(np.zeros((100, 200), dtype=bool))
    return compile_chart(stripes.with_grid(overlaid ^ stripes.row_is_cc), reversible=True)


def page_of(chart):
    return pattern(chart, title="A large throw", gauge=Gauge(16, 18))


def saved_by_matplotlib(chart):
    figure = draw.chart(chart).figure
    figure.savefig(BytesIO(), format="pdf")
    plt.close(figure)


def test_a_large_chart_with_written_rows_to_pdf(chart, ratio, keep_line, tmp_path):
    file = tmp_path / "throw.pdf"
    ratio(
        "chart of 100 × 200 to a pattern in PDF, rows written",
        lambda: pdf(page_of(chart), file),
        lambda: saved_by_matplotlib(chart),
        "the chart alone, saved as PDF by matplotlib",
        rounds=3,
        other_rounds=3,
        within=10,
    )
    keep_line(f"| size of that PDF | {file.stat().st_size / 1e6:.2f} MB | | | none |")


def test_a_large_page_to_html(chart, ratio, keep_line, tmp_path):
    file, page = tmp_path / "throw.html", page_of(chart)
    ratio(
        "its page to HTML",
        lambda: html(page, file),
        lambda: saved_by_matplotlib(chart),
        "the chart alone, saved as PDF by matplotlib",
        other_rounds=3,
        within=1,
    )
    keep_line(f"| size of that page | {file.stat().st_size / 1e6:.2f} MB | | | none |")
