"""The yarn and look panels in a real browser: by mouse and by keys, wide and narrow, light and dark."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import run_all, settle

CODE = """import mosaickit as mk
leaf = mk.Motif.from_text("....\\n####\\n.##.\\n####\\n....", name="leaf")
design = mk.Design(leaf, mk.Gauge(16, 18), reversible=True).but(across=9, up=9, colours="swap")
book = mk.widgets.Workbook(design, autosave="{name}.sketch")
book"""
TELL = "print('yarns', [each.name for _, each in book.design.motif.yarns.cc], book.design.yarn_settings.skeins)"


def faults(page):
    found = Axe().run(page, context=".mk-work > *")  # the frame around it is not this test's
    return [(one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found.response["violations"]]


def enter(page, label, value):
    box = page.get_by_label(label, exact=True)
    box.fill(value)
    box.press("Tab")


def open_panel(page, word):
    page.locator(".mk-steps button", has_text=word).click()
    page.locator(f".mk-work[aria-label='{word}']").wait_for()


def drawn(page, side):
    page.wait_for_function(
        "side => !document.querySelector('.mk-look-cloth[aria-busy]') &&"
        " document.querySelector('.mk-look-yarn figcaption')?.textContent.startsWith(side) &&"
        " document.querySelector('.mk-look-cloth img')?.complete",
        arg=side,
    )


@pytest.mark.parametrize(("dark", "width"), [(False, 1280), (True, 390)])
def test_yarns_are_chosen_and_the_piece_is_looked_at_by_hand(open_notebook, dark, width):
    name = "dark" if dark else "light"
    page = open_notebook(f"yarn-{name}.ipynb", [CODE.format(name=f"yarn-{name}")], dark=dark)
    page.set_viewport_size({"width": width, "height": 1000})
    if width < 500:
        page.evaluate("jupyterapp.shell.collapseLeft()")
    run_all(page)
    page.locator(".mk-book").wait_for()

    open_panel(page, "Yarn")
    enter(page, "Name of ink blue", "indigo")
    page.get_by_label("Name of indigo", exact=True).wait_for()
    page.get_by_label("Colour of indigo", exact=True).fill("#223344")
    page.locator(".mk-yarn-pair li", has_text="for most people").first.wait_for()
    page.get_by_label("Row at which CC changes", exact=True).fill("4")
    page.get_by_role("button", name="Add a change").nth(1).click()
    page.get_by_role("button", name="Remove", exact=True).wait_for()
    enter(page, "Name of indigo", " ")
    fault = page.locator(".mk-yarn-box .mk-fault", has_text="A yarn needs a name.")
    fault.wait_for()
    assert page.locator(".mk-yarn-box input[aria-invalid]").input_value() == " ", "what was typed stays"
    enter(page, "Name of indigo", "night")
    fault.wait_for(state="detached")
    page.get_by_label("Sold in", exact=True).select_option("one")
    enter(page, "Metres", "50")
    page.get_by_text("Still to enter: grams.").wait_for()
    enter(page, "Grams", "25")
    enter(page, "Price of a skein", "3")
    page.locator(".mk-yarn-total", has_text="skein").first.wait_for()
    page.get_by_text("In all ").first.wait_for()

    page.get_by_text("Add a swatch that you measured").click()
    page.get_by_label("Swatch", exact=True).select_option(label="plain rows")
    add = page.get_by_role("button", name="Add the swatch")
    add.click()
    page.locator(".mk-said", has_text="Metres of MC: enter a number above 0.").wait_for()
    page.get_by_label("MC", exact=True).fill("14")
    page.get_by_label("CC", exact=True).fill("13.4")
    open_panel(page, "Look")
    open_panel(page, "Yarn")  # what was typed is still there
    page.get_by_text("Add a swatch that you measured").click()
    add.click()
    page.locator(".mk-yarn-swatch", has_text="Swatch 1").wait_for()
    settle(page)
    assert faults(page) == []

    open_panel(page, "Look")
    drawn(page, "Front")
    whole = page.locator(".mk-look-whole")
    whole.focus()
    for key in ("ArrowUp", "ArrowUp", "ArrowLeft", "Shift+ArrowLeft"):
        page.keyboard.press(key)
    page.get_by_text("Row 3, stitch 12: ").wait_for()
    page.get_by_role("button", name="Turn over").click()
    drawn(page, "Back")
    box = whole.bounding_box()
    whole.click(position={"x": box["width"] - 2, "y": 2})
    page.get_by_text("Row 45, stitch 38: ").wait_for()  # on the back stitch 1 is at the left
    drawn(page, "Back as yarn: rows 22 to 45 of 45 and stitches 15 to 38 of 38.")
    enter(page, "Stitches", "9")
    drawn(page, "Back as yarn: rows 22 to 45 of 45 and stitches 15 to 23 of 38.")
    settle(page)
    assert faults(page) == []
