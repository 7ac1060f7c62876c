"""The loop view in a real JupyterLab in a real Chromium, and on a page without Python: keys, touch, change, axe."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import idle, run_all, write_notebook

from mosaickit.sharing import share

# rows from the bottom: 3 and 4 are both overlaid at stitch 2, which is in the middle
CODE = """import mosaickit as mk
from mosaickit.widgets import LoopView
view = LoopView(mk.Motif.from_text("...\\n#.#\\n.#.\\n###\\n...", name="two"), gauge=mk.Gauge(16, 18))
view"""
STATE = "print(view.motif.to_text().split())"


def violations(page):
    found = Axe().run(page, context=".mk-loopview")
    return [(fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in found.response["violations"]]


def cell(page, row, stitch):
    return page.get_by_role("gridcell", name=re.compile(rf"^Row {row}, stitch {stitch}:"))


def said(page, *words):
    page.wait_for_function(
        "words => words.every((word) => document.querySelector('.mk-said').textContent.includes(word))", arg=list(words)
    )


@pytest.mark.parametrize("dark", [False, True])
def test_squares_are_touched_and_changed_by_keys_mouse_and_finger(open_notebook, dark):
    page = open_notebook("loops.ipynb", [CODE, STATE], dark=dark, touch=True)
    run_all(page)
    view = page.locator(".mk-loopview")
    view.wait_for()
    idle(page)
    # the first that cannot be worked is looked at from the start
    said(page, "Row 3, stitch 2: CC over a row in MC", "hides the front loop of row 3")
    assert view.locator(".mk-verdict").inner_text() == "Squares that cannot be worked: 2."
    assert cell(page, 4, 2).get_attribute("aria-label") == "Row 4, stitch 2: MC, cannot be worked"
    assert view.locator(".mk-wrong").count() == 2
    assert violations(page) == []

    # arrows move, Enter and the space bar touch; nothing reaches the notebook
    cells = page.locator(".jp-Cell").count()
    cell(page, 3, 2).focus()
    page.keyboard.press("ArrowUp")
    assert cell(page, 4, 2).evaluate("cell => cell === document.activeElement")
    said(page, "Row 3, stitch 2")
    page.keyboard.press("Enter")
    said(page, "Row 4, stitch 2: MC over a row in CC", "which lies under the FLdc of row 4")
    column = view.locator(".mk-column")
    assert column.locator(".mk-cross").count() == 1
    assert column.locator("text[data-level]").all_text_contents() == ["row 2", "row 3", "row 4", "row 5"]
    assert "row 5: FLdc, which cannot be made; row 4: FLdc" in column.get_attribute("aria-label")
    for key in ("a", "b", "d", "d", "m"):
        page.keyboard.press(key)
    page.keyboard.press("End")
    page.keyboard.press(" ")
    said(page, "Row 4, stitch 1: CC, as its row: its own BLsc shows.")
    assert page.locator(".jp-Cell").count() == cells

    # key x changes the square in focus, and Python looks again
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("x")
    said(page, "Row 4, stitch 2: CC, as its row: its own FLdc shows")
    assert view.locator(".mk-verdict").inner_text() == "Every square can be worked."
    assert view.locator(".mk-wrong").count() == 0
    assert cell(page, 4, 2).evaluate("cell => cell === document.activeElement")

    # a finger touches; the button and a double click change
    cell(page, 5, 3).tap()
    said(page, "Row 5, stitch 3: MC, as its row")
    view.get_by_role("button", name="Change this square").tap()
    said(page, "Row 5, stitch 3: CC over a row in MC", "row 5 is the last")
    cell(page, 1, 1).dblclick()
    said(page, "Row 1, stitch 1: CC over a row in MC", "only the foundation chain")
    assert view.locator(".mk-verdict").inner_text() == "Squares that cannot be worked: 2."
    for line in view.locator(".mk-square").all():
        assert min(line.bounding_box()["width"], line.bounding_box()["height"]) >= 24
    assert violations(page) == []

    page.locator(".jp-Cell").nth(1).click()
    page.keyboard.press("Shift+Enter")
    page.locator(".jp-OutputArea-output pre", has_text="['#..', '###', '.#.', '###', '..#']").wait_for()
    # an exception in a message handler would show nowhere but in the lab's log
    assert page.locator(".jp-StatusBar-Item:has-text('log')").count() == 0


def test_without_python_squares_are_touched_but_not_changed(tab, tmp_path):
    write_notebook(tmp_path / "loops.ipynb", ["# Loops\n", CODE])
    page = tab()
    page.goto(share(tmp_path / "loops.ipynb", tmp_path / "loops.html", run=True).path.as_uri())
    said(page, "Row 3, stitch 2: CC over a row in MC")
    cell(page, 4, 2).click()
    said(page, "Row 4, stitch 2: MC over a row in CC, which cannot be worked here")
    assert page.locator(".mk-banner").is_hidden()
    assert page.get_by_role("button").count() == 0
    assert page.locator(".note").inner_text() == "To change a square, open the notebook."
    cell(page, 4, 2).dblclick()
    page.keyboard.press("x")
    assert page.locator(".mk-asked").count() == 0
    assert page.locator(".mk-banner").is_hidden()
    cell(page, 1, 1).click()
    said(page, "Row 1, stitch 1: MC, as its row: its own sc shows.")
    assert violations(page) == []
