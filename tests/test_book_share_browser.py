"""Words and Share in a real JupyterLab in a real Chromium: all of it by keys or mouse, dark and on a telephone."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import run_all, settle

import mosaickit as mk
from mosaickit.files import read_whole

CODE = """import mosaickit as mk
leaf = mk.Motif.from_text("....\\n####\\n.##.\\n####\\n....", name="leaf")
scarf = mk.Design(leaf, mk.Gauge(16, 18)).but(across=3, up=4, colours="swap", title="Leaf / \\"scarf\\"")
book = mk.widgets.Workbook(scarf, autosave="leaf.sketch", folder="shared")
book"""
# of the page around the panels, which is not theirs to say
AROUND = {"landmark-banner-is-top-level", "landmark-main-is-top-level", "landmark-no-duplicate-main"}


def emptied(folder):
    """Give the folder with no file in it."""
    folder.mkdir(exist_ok=True)
    for file in folder.iterdir():
        if file.is_file():
            file.unlink()
    return folder


def faults(page):
    settle(page)
    found = Axe().run(page, context=".mk-book").response["violations"]
    return {each["id"]: [node["html"] for node in each["nodes"]] for each in found if each["id"] not in AROUND}


def outside(page):
    """What of the work reaches out of its place at the side."""
    return page.evaluate("""() => {
      const work = document.querySelector(".mk-work").getBoundingClientRect();
      const all = [...document.querySelectorAll(".mk-work *")].filter(each => !each.closest(".mk-share-window"));
      return all.filter(each => each.getBoundingClientRect().right > work.right + 1).map(each => each.outerHTML);
    }""")


@pytest.mark.parametrize(("dark", "width"), [(False, 1280), (True, 390)])
def test_words_and_share_are_done_by_hand(open_notebook, lab, dark, width):
    for file in lab.root.glob("leaf.sketch*"):
        file.unlink()
    folder = emptied(lab.root / "shared")
    page = open_notebook("share.ipynb", [CODE], dark=dark)
    page.set_viewport_size({"width": width, "height": 900})
    if width < 760:
        page.evaluate("jupyterapp.shell.collapseLeft()")
    run_all(page)
    page.locator(".mk-book").wait_for()
    step = page.get_by_role("navigation", name="Steps of the job")

    # words: an edition, the rows, another title and terms, what differs, the edition again
    step.get_by_role("button", name="Words").click()
    page.get_by_label("What changed").fill("begun")
    page.keyboard.press("Enter")
    page.locator("text=This is the design now.").wait_for()
    page.get_by_role("button", name="Write the rows").click()
    page.locator(".mk-words-rows li").first.wait_for()
    assert page.locator(".mk-words-rows li").count() == len(lines("US"))
    page.get_by_label("Terms").select_option(label="UK")
    page.locator("text=The design has changed since these were written.").wait_for()
    page.get_by_role("button", name="Write them again").click()
    page.locator(".mk-words-changed").first.wait_for()
    assert [each.inner_text() for each in page.locator(".mk-words-rows li").all()] == [
        line.replace(":", " changed:", 1) for line in lines("UK")
    ]
    page.get_by_role("button", name="Compare with now").click()
    page.locator(".mk-words-compared li", has_text="Terms: US, now UK").wait_for()
    assert faults(page) == {}
    assert outside(page) == []
    page.get_by_role("group", name="Edition 1").get_by_role("button", name="Open").click()
    page.locator("text=This is edition 1 again.").wait_for()

    # share: a file that is another's, by keys alone; what is saved is there, and comes to this device
    (folder / "Leaf-scarf.pdf").write_bytes(b"mine")
    step.get_by_role("button", name="Share").click()
    button = page.locator("[data-what='pattern.pdf']")
    button.focus()
    page.keyboard.press("Enter")
    page.locator(".mk-share-taken").wait_for()
    assert page.evaluate("document.activeElement.textContent").strip() == "Save as Leaf-scarf-2.pdf"
    assert faults(page) == {}
    page.keyboard.press("Enter")
    page.locator("text=Saved Leaf-scarf-2.pdf").wait_for()
    assert page.evaluate("document.activeElement.dataset.what") == "pattern.pdf"
    assert (folder / "Leaf-scarf.pdf").read_bytes() == b"mine"
    with page.expect_download() as download:
        page.get_by_role("button", name="Download").click()
    assert download.value.suggested_filename == "Leaf-scarf-2.pdf"
    assert read_whole(download.value.path()) == (folder / "Leaf-scarf-2.pdf").read_bytes()
    page.get_by_role("button", name="Save design file").click()
    page.locator("text=Saved Leaf-scarf.design").wait_for()
    assert mk.load(folder / "Leaf-scarf.design").editions[0].changed == "begun"

    # the pages to look at first, and the code
    page.get_by_role("button", name="Preview the pages").click()
    sheet = page.get_by_role("img", name="Page 1 of")
    sheet.wait_for()
    page.wait_for_function("sheet => sheet.naturalWidth === 827", arg=sheet.element_handle())  # A4, 100 pixels an inch
    page.get_by_role("button", name="Next page").click()
    page.get_by_role("img", name="Page 2 of").wait_for()
    page.get_by_role("button", name="Read the pattern").click()
    page.locator("text=/pieces of advice/").wait_for()
    edited = mk.tech_edit(mk.load(folder / "Leaf-scarf.design"))
    assert page.locator(".mk-share-marks li").count() == len(edited.findings)
    page.get_by_role("button", name="Show me the Python").click()
    code = page.get_by_label("Python code of this design")
    code.wait_for()
    left = {}
    exec(code.input_value(), left)
    assert left["design"] == mk.load(folder / "Leaf-scarf.design")
    page.evaluate("() => { navigator.clipboard.writeText = () => Promise.reject(new Error('refused')); }")
    page.get_by_role("button", name="Copy", exact=True).click()
    page.locator("text=All of it is selected").wait_for()
    page.evaluate("() => { delete navigator.clipboard.writeText; }")
    assert code.evaluate("each => each.selectionEnd - each.selectionStart") == len(code.input_value())
    assert faults(page) == {}
    assert outside(page) == []


def lines(terms):
    leaf = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
    design = mk.Design(leaf, mk.Gauge(16, 18)).but(across=3, up=4, colours="swap", terms=terms)
    return list(map(str, design.rows.lines))


SLOW = """
import time
from pathlib import Path
from mosaickit.widgets.book import share_writing
begun, really = [], share_writing.sizes.save
def save(*given, **named):
    begun.append(given)
    while not Path("shared/go").exists():
        time.sleep(0.01)
    return really(*given, **named)
share_writing.sizes = type("Slow", (), {"save": staticmethod(save)})"""


def test_a_button_at_work_says_so_and_is_not_pressed_twice(open_notebook, lab):
    for file in lab.root.glob("leaf.sketch*"):
        file.unlink()
    folder = emptied(lab.root / "shared")
    page = open_notebook("slow.ipynb", [SLOW, CODE, "print('begun', len(begun))"])
    cells = page.locator(".jp-Cell")
    cells.first.click()
    for _ in range(2):
        page.keyboard.press("Shift+Enter")
    page.locator(".mk-book").wait_for()
    page.get_by_role("navigation", name="Steps of the job").get_by_role("button", name="Share").click()
    button = page.locator("[data-what='design']")
    button.click()
    page.get_by_role("button", name="Saving design file: Design").wait_for()
    assert button.get_attribute("aria-disabled") == "true"
    assert button.evaluate("each => document.activeElement === each")
    button.click(force=True)
    page.keyboard.press("Enter")
    page.locator("text=Python is busy").wait_for()
    (folder / "go").write_text("")
    page.locator("text=Saved Leaf-scarf.design").wait_for()
    assert button.get_attribute("aria-disabled") is None
    cells.nth(2).click()
    page.keyboard.press("Shift+Enter")
    page.locator("text=/^begun 1/").wait_for()
