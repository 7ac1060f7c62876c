"""The panel Many in a browser: ticked, stopped and gone on with, sorted by keys, a line taken, a table saved."""

from hands import faults_in
from lab import run_all

import mosaickit as mk

CODE = """import mosaickit as mk, numpy as np, time
from pathlib import Path
from mosaickit.tables import saving
from mosaickit.widgets.book.many_runs import ManyRun
saving.LINES_OF_PART = 3  # so that a short table too is saved in many parts
step = ManyRun.step
def waits(run):  # so that it is not done before it is stopped
    while not Path("go").exists():
        time.sleep(0.01)
    step(run)
ManyRun.step = waits
tiles = mk.nearest_workable(mk.Motif(np.arange(96).reshape(12, 8) % 7 == 3, name="tiles")).motif
book = mk.widgets.Workbook(mk.Design(tiles, mk.Gauge(16, 17)))
book"""


def faults(page):
    return faults_in(page, ".mk-many-lists", ".mk-many-run")


def test_many_pieces_are_compared_by_hand(open_notebook, lab):
    for file in [*lab.root.glob("*.sketch*"), *lab.root.glob("tiles-many*"), *lab.root.glob("go")]:
        file.unlink()
    mk.save(mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf"), lab.root / "leaf.json", replace=True)
    page = open_notebook("many.ipynb", [CODE])
    run_all(page)
    page.get_by_role("button", name="Many", exact=True).click()
    page.get_by_label("leaf.json, 5 × 4").check()
    widths = page.get_by_role("group", name="Widths in cm")
    for size in ("20", "30"):
        widths.get_by_label(size, exact=True).check()
    widths.get_by_label("Another, in cm").fill("22,5")
    widths.get_by_role("button", name="Add").click()
    widths.get_by_label("22.5", exact=True).wait_for()
    page.get_by_text("6 combinations.").wait_for()
    # stopped as soon as it runs, it keeps what is done and can go on
    page.get_by_role("button", name="Work them out").click()
    page.get_by_text("0 of 2 parts done").wait_for()
    page.get_by_role("button", name="Stop", exact=True).click()
    page.get_by_role("button", name="Stopping…").wait_for()
    (lab.root / "go").touch()
    page.get_by_text("1 of 2 parts done").wait_for()
    page.get_by_role("button", name="Go on").click()
    page.get_by_text("2 of 2 parts done").wait_for()
    assert faults(page) == []
    lines = page.locator(".mk-many-scroll tbody tr")
    yarn = page.get_by_role("button", name="Yarn (m)")
    yarn.focus()
    for order in ("ascending", "descending"):
        page.keyboard.press("Enter")
        page.locator(f"th[aria-sort={order}] button", has_text="Yarn (m)").wait_for()
    taken = lines.first.get_by_role("button", name="Take")
    number = taken.inner_text().split()[-1]
    taken.click()
    page.get_by_text(f"Line {number} is the design now").wait_for()
    page.get_by_role("button", name="Undo").click()
    (lab.root / "tiles-many.csv").write_bytes(b"mine")
    page.get_by_role("button", name="Save CSV").click()
    page.get_by_role("button", name="Save as tiles-many-2.csv").click()
    page.get_by_text("Saved tiles-many-2.csv.").wait_for()
    assert (lab.root / "tiles-many.csv").read_bytes() == b"mine"
    page.get_by_label("Sizes in").select_option("inches")
    page.get_by_role("group", name="Widths in inches").get_by_label("12", exact=True).check()
    page.set_viewport_size({"width": 390, "height": 844})
    page.evaluate("jupyterapp.shell.collapseLeft()")
    page.wait_for_function("document.querySelector('.mk-book').clientWidth < 400")
    assert faults(page) == []
    assert page.locator(".mk-work").evaluate("work => work.scrollWidth <= work.clientWidth")
    page.evaluate("jupyterapp.shell.collapseLeft()")
    page.wait_for_function("document.querySelector('.mk-book').clientWidth < 400")
