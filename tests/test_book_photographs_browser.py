"""Photographs chosen by hand on Share, and what sizes measure on Lay, in a real JupyterLab: light, dark, small."""

import os
from pathlib import Path

import pytest
from lab import run_all
from test_book_share_browser import emptied, faults, outside
from test_publishing import picture

CODE = """import mosaickit as mk
leaf = mk.Motif.from_text("....\\n####\\n.##.\\n####\\n....", name="leaf")
sizes = [mk.NamedSize("S", across=3, up=4), mk.NamedSize("M", width="12 in", up=6)]
mat = mk.Design(leaf, mk.Gauge(16, 18), sizes=sizes).but(across=3, up=4, colours="swap", title="Leaf mat")
book = mk.widgets.Workbook(mat, autosave="photographs.sketch", folder="pictured")
book"""


@pytest.mark.parametrize(("dark", "width"), [(False, 1280), (True, 390)])
def test_photographs_are_chosen_by_hand_and_sizes_say_what_they_measure(open_notebook, lab, dark, width):
    for file in lab.root.glob("photographs.sketch*"):
        file.unlink()
    folder = emptied(lab.root / "pictured")
    (folder / "front.png").write_bytes(picture((400, 300)))
    (folder / "broken.jpg").write_bytes(b"\xff\xd8\xff nothing more")
    page = open_notebook("photographs.ipynb", [CODE], dark=dark)
    page.set_viewport_size({"width": width, "height": 900})
    if width < 760:
        page.evaluate("jupyterapp.shell.collapseLeft()")
    run_all(page)
    page.locator(".mk-book").wait_for()
    step = page.get_by_role("navigation", name="Steps of the job")

    step.get_by_role("button", name="Lay").click()
    told = page.get_by_role("region", name="What each size measures")
    told.wait_for()
    assert told.get_by_role("listitem").count() == 2
    assert "wanted 12 in" in told.get_by_role("listitem").nth(1).inner_text()
    told.scroll_into_view_if_needed()
    shot(page, f"lay-{width}")
    assert faults(page) == {}
    assert outside(page) == []

    step.get_by_role("button", name="Share").click()
    page.get_by_label("File beside the workbook").select_option("broken.jpg")
    page.get_by_label("What it shows, for those").fill("The whole mat on a table.")
    page.get_by_role("button", name="Add it").click()
    page.locator("text=This is no picture that can be read").wait_for()
    page.get_by_label("File beside the workbook").select_option("front.png")
    page.get_by_role("button", name="Add it").click()
    page.get_by_role("img", name="The whole mat on a table.").wait_for()
    page.get_by_label("File beside the workbook").select_option("front.png")
    page.get_by_label("What it shows, for those").fill("Its back.")
    page.get_by_role("button", name="Add it").click()
    page.get_by_role("button", name="Make it the cover").click()
    page.locator(".mk-share-photograph:first-child img[alt='Its back.']").wait_for()
    page.locator(".mk-share-photographs").scroll_into_view_if_needed()
    shot(page, f"share-{width}")
    assert faults(page) == {}
    assert outside(page) == []
    page.get_by_role("button", name="Take it out").first.click()
    page.locator(".mk-share-photograph >> nth=1").wait_for(state="detached")
    assert page.get_by_role("img", name="The whole mat on a table.").count() == 1


def shot(page, name):
    """Keep a picture of the page where somebody wants to look at it."""
    if folder := os.environ.get("MOSAICKIT_SHOTS"):
        page.screenshot(path=Path(folder) / f"{name}.png")
