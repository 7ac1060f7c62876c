"""Bands on the panel Lay in a browser: laid, dragged, moved by keys, on a wide and a narrow screen, without fault."""

import pytest
from hands import faults_in
from lab import run_all

CODE = """import mosaickit as mk
leaf = mk.Motif.from_text("....\\n####\\n.##.\\n####\\n....", name="leaf")
design = mk.Design(leaf, mk.Gauge(16, 17)).but(across=6, up=2, colours="swap", between_rows="cut")
book = mk.widgets.Workbook(design.but(border_rounds=2, finish_colour="CC"))
book"""


def faults(page):
    return faults_in(page, ".mk-lay-top")


def lies(page):
    return page.locator(".mk-lay-band strong").all_inner_texts()


def wait_for(page, *words):
    page.wait_for_function(
        """words => JSON.stringify([...document.querySelectorAll(".mk-lay-band strong")].map(one => one.textContent))
            === JSON.stringify(words)""",
        arg=list(words),
    )


@pytest.mark.parametrize("dark", [False, True])
def test_bands_are_put_in_order_by_mouse_and_by_keys(open_notebook, lab, dark):
    for file in lab.root.glob("*.sketch*"):
        file.unlink()
    page = open_notebook("bands.ipynb", [CODE], dark=dark)
    run_all(page)
    page.get_by_role("button", name="Lay", exact=True).click()
    bands = page.get_by_role("region", name="Bands")
    bands.get_by_role("button", name="Lay in bands").click()
    wait_for(page, "leaf (the field)")
    choice = bands.get_by_label("Add a motif")
    choice.focus()
    bands.locator("optgroup[label='In the gallery'] option", has_text="seed").first.wait_for(state="attached")
    choice.select_option("gallery:seed")
    wait_for(page, "leaf (the field)", "Seed")
    bands.get_by_role("status").get_by_text("Band 1, seed, has 21 of 24 stitches").wait_for()
    bands.get_by_role("button", name="Add plain rows").click()
    bands.get_by_role("button", name="Add a line").click()
    wait_for(page, "leaf (the field)", "A line of 1 row", "2 plain rows", "Seed")
    assert faults(page) == []

    # by keys: the keyboard goes with the band that is moved, and no cell of the notebook is touched
    bands.get_by_role("button", name="Move Seed").focus()
    page.keyboard.press("ArrowUp")
    wait_for(page, "leaf (the field)", "A line of 1 row", "Seed", "2 plain rows")
    page.wait_for_function("document.activeElement.getAttribute('aria-label')?.startsWith('Move Seed')")
    page.keyboard.press("ArrowUp")
    wait_for(page, "leaf (the field)", "Seed", "A line of 1 row", "2 plain rows")
    assert page.locator(".jp-Cell").count() == 1

    # by mouse
    lines = page.locator(".mk-lay-band")
    lines.nth(3).drag_to(lines.nth(1))
    wait_for(page, "leaf (the field)", "2 plain rows", "Seed", "A line of 1 row")

    # what a band is asked for, the same end above, and back again step by step
    lines.nth(3).get_by_label("Rows").fill("3")
    page.keyboard.press("Tab")
    wait_for(page, "leaf (the field)", "2 plain rows", "Seed", "A line of 3 rows")
    bands.get_by_role("button", name="Same end above").click()
    page.wait_for_function("document.querySelectorAll('.mk-lay-band').length === 7")
    bands.get_by_role("button", name="Take away A line of 3 rows").first.click()
    page.wait_for_function("document.querySelectorAll('.mk-lay-band').length === 6")
    page.get_by_role("button", name="Undo").click()
    page.wait_for_function("document.querySelectorAll('.mk-lay-band').length === 7")
    assert faults(page) == []

    # the picture is of the finished piece
    whole, fabric = (page.locator(of).bounding_box() for of in (".mk-lay-finished", ".mk-lay-piece canvas"))
    assert fabric["x"] > whole["x"] + 2
    assert fabric["y"] > whole["y"] + 2
    assert whole["height"] - fabric["height"] > 4
    assert page.locator(".mk-lay-finish rect").count() == 2

    page.set_viewport_size({"width": 390, "height": 844})
    page.evaluate("jupyterapp.shell.collapseLeft()")
    page.wait_for_function("document.querySelector('.mk-book').clientWidth < 400")
    assert faults(page) == []
    work = page.locator(".mk-work")
    assert work.evaluate("work => work.scrollWidth <= work.clientWidth")
    for button in page.locator(".mk-lay-bands button").all():
        box = button.bounding_box()
        assert min(box["width"], box["height"]) >= 24
