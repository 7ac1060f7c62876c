"""The width planner in a real JupyterLab in a real Chromium: sorted, picked from and set by hand."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import run_all

CODE = """import mosaickit as mk
leaf = mk.Motif.from_text("....\\n####\\n.##.\\n####\\n....", name="leaf")
planner = mk.widgets.WidthPlanner(leaf, width=24, length=30, skein=mk.Skein(30, 50))
planner"""


@pytest.fixture(params=["light", "dark"])
def page(open_notebook, request):
    cells = [CODE, "print(planner.fit.across, planner.fit.up)"]
    page = open_notebook("widths.ipynb", cells, dark=request.param == "dark")
    run_all(page)
    return page


def wait_for_another_piece(page, before):
    page.wait_for_function("old => document.querySelector(\"img[alt^='The piece chosen']\").alt !== old", arg=before)


def test_a_table_is_sorted_and_picked_from_by_mouse_and_keyboard(page):
    table = page.locator(".mk-chooser")
    rows = table.locator("tbody tr")
    rows.first.wait_for()
    count = rows.count()
    assert count > 3
    assert table.locator("tr.mk-chosen").get_attribute("data-key") == "1"

    def column(head):
        at = table.locator("thead th").all_inner_texts()
        index = [text.rstrip(" ▲▼") for text in at].index(head)
        return [float(row.locator("th, td").nth(index).inner_text()) for row in rows.all()]

    for press, sort in ((1, "ascending"), (2, "descending")):
        table.get_by_role("button", name="minutes").click()
        minutes = column("minutes")
        assert minutes == sorted(minutes, reverse=press == 2)
        head = table.locator("th", has=page.get_by_role("button", name="minutes"))
        assert head.get_attribute("aria-sort") == sort
    # the line that was chosen is still chosen, wherever it stands now
    assert table.locator("tr.mk-chosen").get_attribute("data-key") == "1"

    piece = page.locator("img[alt^='The piece chosen']")
    before = piece.get_attribute("alt")
    other = table.locator("tbody tr:not(.mk-chosen)").first
    key = other.get_attribute("data-key")
    other.click()
    wait_for_another_piece(page, before)
    assert table.locator("tr.mk-chosen").get_attribute("data-key") == key
    # arrows move the choice and never reach the notebook, nor do letters that would change its cells
    cells = page.locator(".jp-Cell").count()
    table.locator("tr.mk-chosen input").focus()
    before = piece.get_attribute("alt")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("a")
    page.keyboard.press("x")
    wait_for_another_piece(page, before)
    assert page.locator(".jp-Cell").count() == cells
    picked = table.locator("tr.mk-chosen").locator("th, td").all_inner_texts()[1:3]
    page.locator(".jp-Cell").nth(1).click()
    page.keyboard.press("Shift+Enter")
    page.locator(".jp-OutputArea-output pre", has_text=" ".join(picked)).wait_for()

    found = Axe().run(page, context=".jp-OutputArea-output:has(.mk-chooser)")
    assert [
        (fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in found.response["violations"]
    ] == []


def test_a_setting_changes_the_table(page, lab):
    table = page.locator(".mk-chooser")
    table.locator("tbody tr").first.wait_for()
    before = table.inner_text()
    page.get_by_label("Width in cm, as a number").fill("31")
    page.keyboard.press("Enter")
    page.wait_for_function("old => document.querySelector('.mk-chooser').innerText !== old", arg=before)
    slider = page.get_by_role("slider", name="Edge stitches a side")
    slider.focus()
    page.keyboard.press("ArrowRight")
    page.locator("text=Stitches: a multiple of 4 plus 4.").wait_for()
    assert page.get_by_label("Edge stitches a side, as a number").input_value() == "2"
    (lab.root / "leaf-widths.xlsx").unlink(missing_ok=True)
    page.get_by_role("button", name="Save XLSX").click()
    page.locator("text=Saved leaf-widths.xlsx").wait_for()
    assert (lab.root / "leaf-widths.xlsx").exists()
