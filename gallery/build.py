"""Build the gallery: every motif in motifs/ with its front, back, chart and yarn table, and the page that shows them.

Run by ``python start.py run gallery/build.py``. The same motifs give the same files, and a test compares them.
"""

from __future__ import annotations

import sys
from pathlib import Path

import matplotlib

import mosaickit as mk

HERE = Path(__file__).parent
GAUGE = mk.Gauge(16, 17)
HEAD = f"""# Gallery

Motifs of our own, each worked in the machine before it is shown: front and back are what the hook made of the
chart, loop by loop. All are drawn reversible, at {GAUGE.sentence.removeprefix("Gauge: ")}.

Open one with `mk.load("gallery/motifs/NAME.json")`; made anew by `python start.py run gallery/build.py`.
"""


def build(folder: Path) -> list[Path]:
    """Write pictures/ and README.md into a folder and return what was written."""
    matplotlib.use("Agg")
    pictures = folder / "pictures"
    pictures.mkdir(parents=True, exist_ok=True)
    page, written = [HEAD], []
    for source in sorted((HERE / "motifs").glob("*.json")):
        motif = mk.load(source)
        chart = mk.compile_chart(motif, reversible=True)
        fabric = mk.work(chart)
        for view in ("front", "back", "chart"):
            axes = mk.draw.chart(chart) if view == "chart" else mk.draw.face(fabric, side=view, gauge=GAUGE)
            written.append(mk.draw.save(axes, pictures / f"{source.stem}-{view}.png"))
            matplotlib.pyplot.close(axes.figure)
        page.append(section(motif, chart, source.stem))
    readme = folder / "README.md"
    readme.write_text("\n".join(page), "utf-8", newline="\n")
    return [*written, readme]


def section(motif: mk.Motif, chart: mk.Chart, stem: str) -> str:
    """Describe one motif in Markdown."""
    rows, stitches = motif.shape
    width, height = GAUGE.size_cm(rows, stitches)
    more = mk.surcharge(motif, GAUGE)
    share = mk.count(chart.plain()).loc["total", "FLdc"] / (rows * stitches)
    totals = mk.yarn_totals(mk.yarn_usage(chart, GAUGE))
    lines = [
        f"## {motif.name}",
        "",
        f"![{motif.name}, front](pictures/{stem}-front.png) ![{motif.name}, back](pictures/{stem}-back.png)",
        "",
        f"{rows} rows of {stitches} stitches, {width:.1f} × {height:.1f} cm; {share:.0%} of the stitches are FLdc, and "
        f"reversible it takes {more:.0%} more yarn than plain. [Chart](pictures/{stem}-chart.png), "
        f"[file](motifs/{stem}.json).",
        "",
        "| yarn | low m | likely m | high m |",
        "| --- | --- | --- | --- |",
        *(f"| {name} | {t['low m']:.1f} | {t['likely m']:.1f} | {t['high m']:.1f} |" for name, t in totals.iterrows()),
        "",
    ]
    return "\n".join(lines)


if __name__ == "__main__":
    for path in build(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE):
        print(path)
