"""Lettering and stamps by hand in a real browser: by mouse and by keys, on a desk and at a telephone's width."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import run_all, settle

CELLS = [
    """import mosaickit as mk, numpy as np
from pathlib import Path
Path("mine").mkdir(exist_ok=True)
mk.save(mk.Motif.from_text(".....\\n.#.#.\\n.....", name="two dots"), "mine/dots.json", replace=True)
sheet = mk.Motif(np.zeros((41, 60), dtype=bool))
painter = mk.widgets.MotifPainter(sheet, autosave="letters.sketch", folder="mine")
painter""",
    """def lies(part):
    windows = np.lib.stride_tricks.sliding_window_view(painter.motif.grid, part.shape)
    return int((windows == part.grid).all(axis=(2, 3)).sum())
ida, up = mk.lettering("Ida").motif, mk.lettering("Ida", alphabet="large", way="up", colour="MC").motif
reeds = mk.mirror(mk.files.gallery_motifs()["basket of reeds"])
print("found", lies(ida), *(lies(part) + lies(mk.counterchange(part)) for part in (up, reeds)))""",
]


def faults(page):
    found = Axe().run(page, context=".mk-painter")
    return [(one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found.response["violations"]]


@pytest.mark.parametrize("width", [1280, 390])
def test_letters_and_stamps_are_laid_by_mouse_and_by_keys_and_taken_back(open_notebook, lab, width):
    for file in lab.root.glob("letters.sketch*"):
        file.unlink()
    page = open_notebook("letters.ipynb", CELLS, dark=width == 390)
    if width < 760:
        page.evaluate("jupyterapp.shell.collapseLeft()")
        page.set_viewport_size({"width": width, "height": 844})
    cells = page.locator(".jp-Cell")
    cells.first.click()
    page.keyboard.press("Shift+Enter")
    painter = page.locator(".mk-painter")
    canvas, note = painter.locator(".mk-canvas"), painter.locator(".mk-note")
    canvas.wait_for()
    press = lambda name: painter.get_by_role("button", name=name, exact=True).click()  # noqa: E731
    undo = painter.get_by_role("button", name="Undo", exact=True)

    def at(x, y):
        """A place told as parts of the canvas's width and height, brought in sight."""
        canvas.evaluate(
            """(it, x) => { it.parentElement.scrollLeft = x * it.clientWidth - it.parentElement.clientWidth / 2;
              it.scrollIntoView({ block: 'center' }); }""",
            x,
        )
        box = canvas.bounding_box()
        return box["x"] + x * box["width"], box["y"] + y * box["height"]

    # by keys alone: T takes the letters, Enter leads from the text to the picture, and lays it there
    canvas.focus()
    page.keyboard.press("t")
    said = painter.locator(".mk-held-said")
    said.filter(has_text="Type a name, a date or a few words.").wait_for()
    painter.get_by_label("Text", exact=True).focus()
    page.keyboard.type("Ida ☃")
    said.filter(has_text='The alphabet "capitals" has no').wait_for()
    page.keyboard.press("Backspace")
    page.keyboard.press("Enter")
    said.filter(has_text="“IDA”: 11 rows × 17 stitches, nothing to mend.").wait_for()
    for key in [*["ArrowUp"] * 20, *["ArrowLeft"] * 34, "Enter"]:
        page.keyboard.press(key)
    note.filter(has_text="Laid from row 21, stitch 35 on.").wait_for()
    assert undo.get_attribute("title") == "Undo: lettering"
    assert faults(page) == []

    # one step takes it back; the mouse lays other letters, held down until they are where they should be
    page.keyboard.press("Control+z")
    page.wait_for_function("document.querySelector('.mk-painter [title=\"Nothing to undo\"]')")
    page.keyboard.press("Control+y")
    painter.get_by_label("Alphabet").select_option("large")
    painter.get_by_label("Colour of the letters").select_option("MC")
    painter.get_by_label("Way of the text").select_option("up")
    said.filter(has_text="squares mended").wait_for()
    painter.get_by_text("From behind", exact=True).click()
    painter.get_by_text("On plain fabric the back shows rows only.").wait_for()
    page.mouse.move(*at(0.6, 0.6))
    page.mouse.down()
    page.mouse.move(*at(0.8, 0.86), steps=4)
    page.mouse.up()
    note.filter(has_text="Laid from row").wait_for()

    # stamps: of the gallery and of the folder, chosen, laid and mirrored where it lies
    press("Stamps")
    said.filter(has_text="Choose a stamp.").wait_for()
    painter.get_by_role("group", name="In the folder").get_by_role("button", name="two dots").wait_for()
    assert faults(page) == []
    press("basket of reeds")
    said.filter(has_text="basket of reeds: 17 rows × 16 stitches").wait_for()
    page.mouse.click(*at(0.34, 0.88))
    note.filter(has_text="Laid from row").wait_for()
    painter.get_by_text("Selection", exact=True).click()
    press("Mirror it")
    page.wait_for_function("document.querySelector('.mk-painter [title=\"Undo: mirror of a part\"]')")
    settle(page)
    assert cells.count() == 2  # no key has reached the notebook
    run_all(page)
    page.locator(".jp-OutputArea-output pre", has_text="found 1 1 1").wait_for()
