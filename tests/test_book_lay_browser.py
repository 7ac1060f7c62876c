"""The panel Lay in a browser: a scarf is brought to size by hand, by keys and on a narrow screen, without fault."""

import pytest
from hands import faults_in
from lab import run_all

CODE = """import mosaickit as mk, numpy as np
tiles = mk.nearest_workable(mk.Motif(np.arange(96).reshape(12, 8) % 7 == 3)).motif
book = mk.widgets.Workbook(tiles)
book"""


def faults(page):
    return faults_in(page, ".mk-lay-top", ".mk-lay-size")


@pytest.mark.parametrize("dark", [False, True])
def test_a_piece_is_brought_to_size_by_hand(open_notebook, lab, dark):
    for file in lab.root.glob("*.sketch*"):
        file.unlink()
    page = open_notebook("lay.ipynb", [CODE], dark=dark)
    run_all(page)
    page.get_by_role("button", name="Lay", exact=True).click()
    size = page.locator(".mk-lay-size")
    size.get_by_text("A size needs a gauge").wait_for()
    for label, value in (
        ("Stitches", "16"),
        ("Rows", "17"),
        ("Width", "22"),
        ("Length", "160"),
        ("May differ by", "8"),
    ):
        size.get_by_label(label, exact=True).fill(value)
        page.keyboard.press("Tab")
    fits = page.locator(".mk-lay-fit")
    size.get_by_text("4 sizes fit, closest first.").wait_for()
    assert size.get_by_text("A size needs a gauge").count() == 0
    fits.first.get_by_role("button", name="Take").focus()
    page.keyboard.press("Enter")
    figure = page.locator(".mk-lay-piece .mk-figure")
    figure.filter(has_text="21.2 × 162.4 cm").wait_for()
    # the button that was pressed keeps the keyboard, and the piece its proportion
    fits.first.get_by_role("button", name="Taken").wait_for()
    assert page.evaluate("document.activeElement.textContent.trim()") == "Taken"
    box = page.locator(".mk-lay-piece canvas").bounding_box()
    assert box["height"] / box["width"] == pytest.approx(162.35 / 21.25, rel=0.03)
    assert faults(page) == []

    # what is typed survives another panel; what cannot be says so at its box and leaves the rest
    size.get_by_label("Length", exact=True).fill("long")
    page.get_by_role("button", name="Words", exact=True).click()
    page.get_by_label("Title").wait_for()
    page.get_by_role("button", name="Lay", exact=True).click()
    length = size.get_by_label("Length", exact=True)
    length.wait_for()
    assert length.input_value() == "long"
    assert length.get_attribute("aria-invalid") == "true"
    size.get_by_text("Length: enter a number").wait_for()
    length.fill("")
    size.get_by_label("Width", exact=True).fill("24")
    size.get_by_label("May differ by", exact=True).fill("0,5")
    page.keyboard.press("Tab")
    size.get_by_text("Nothing fits within 0.5%. These come nearest:").wait_for()
    size.get_by_text("Try a smaller hook").wait_for()

    # skeins are asked for, then strike out
    size.get_by_role("button", name="Let it differ by").click()
    size.locator("summary").click()
    for part, value in (("in a skein", "50"), ("weighs", "50")):
        for number in range(2):
            size.get_by_label(part).nth(number).fill(value)
    size.get_by_role("button", name="Keep these skeins").click()
    size.get_by_label("cream", exact=True).fill("1")
    page.keyboard.press("Tab")
    size.locator(".mk-lay-struck s").first.wait_for()
    assert faults(page) == []

    # a ring around an even number of rows cannot be worked: it is marked, and the way out is a press and one step
    page.get_by_label("Rings of the frame").fill("1")
    page.keyboard.press("Tab")
    page.locator(".mk-lay-sheet path").first.wait_for(state="attached")
    page.locator(".mk-lay-entries .mk-wrong button", has_text="Rows that close the piece: 1").click()
    page.wait_for_function("!document.querySelector('.mk-lay-sheet path')")
    page.get_by_role("button", name="Undo").click()
    page.locator(".mk-lay-sheet path").first.wait_for(state="attached")
    page.set_viewport_size({"width": 390, "height": 844})
    page.evaluate("jupyterapp.shell.collapseLeft()")
    page.wait_for_function("document.querySelector('.mk-book').clientWidth < 400")
    assert faults(page) == []
    work = page.locator(".mk-work")
    assert work.evaluate("work => work.scrollWidth <= work.clientWidth")
    page.evaluate("jupyterapp.shell.collapseLeft()")
    page.wait_for_function("document.querySelector('.mk-book').clientWidth < 400")
