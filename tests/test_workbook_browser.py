"""The whole job by hand in a real browser: no cell is edited after the workbook's own, and every gesture is counted."""

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from hands import CELL, MOST_GESTURES, Gestures, kernel_killed, opened, size, took
from lab import idle, promised, settle

import mosaickit as mk


def tools_stay_at_the_thumb(page):
    """On a telephone the painter's tools are above the steps, however far its page is scrolled down."""
    for part in (0, 0.5, 1):
        below = page.evaluate(
            """part => {
              const scroll = document.querySelector(".mk-book-scroll"), easel = document.querySelector(".mk-easel");
              const low = easel.getBoundingClientRect().bottom - scroll.getBoundingClientRect().bottom;
              scroll.scrollTop += part * Math.max(low, 0);
              const tools = document.querySelector(".mk-painter .mk-tools").getBoundingClientRect();
              return scroll.getBoundingClientRect().bottom - tools.bottom;
            }""",
            part,
        )
        assert -1 <= below <= 8, part
    page.evaluate("document.querySelector('.mk-book-scroll').scrollTop = 0")


@pytest.mark.parametrize("width", [1280, 390])
def test_from_an_empty_sheet_to_the_pdf_of_a_scarf(open_notebook, lab, width):
    kernel = "python3"  # a kernel as a reader's machine starts it
    page = opened(open_notebook, f"scarf-{width}.ipynb", CELL % f"scarf-{width}.sketch", width=width, kernel=kernel)
    hand = Gestures(page)
    hand.fill("Stitches", 8)
    hand.fill("Rows", 12)
    gauge = page.get_by_role("group", name="Gauge")
    hand.fill("Stitches", 17, gauge)
    hand.fill("Rows", 19, gauge)
    hand.press("Begin a new sheet")
    page.locator(".mk-canvas").wait_for()
    hand.drag((0.12, 0.3), (0.4, 0.3))
    hand.drag((0.6, 0.6), (0.7, 0.6))
    page.locator(".mk-focus").filter(has_text="Row 5,").wait_for()  # what Python says of it has its room
    if width < 760:
        tools_stay_at_the_thumb(page)
        # the sentence about a square has all of the width, below the buttons
        wide = "name => document.querySelector(name).clientWidth"
        assert page.evaluate(wide, ".mk-focus") == page.evaluate(wide, ".mk-below")
    page.locator(".mk-wrong, .mk-ledger .mk-squares").first.wait_for()
    if page.locator(".mk-wrong").count():
        hand.press("Mend", page.locator(".mk-ledger"))
        page.locator(".mk-wrong").wait_for(state="detached")
    hand.step("Lay")
    hand.fill("Width", 22)
    hand.fill("Length", 160)
    # the list is of both when it is looked at
    page.wait_for_function("/× 1[4-7]\\d/.test(document.querySelector('.mk-lay-fits')?.innerText ?? '')")
    hand.press("Take", page.locator(".mk-lay-fits"))
    page.wait_for_function("document.querySelector('.mk-ledger .mk-figure')?.innerText.includes(' × 1')")
    wide, long = (float(part) for part in size(page).removesuffix(" cm").split(" × "))
    assert abs(wide - 22) <= 22 * 0.1
    assert abs(long - 160) <= 160 * 0.1
    hand.step("Words")
    hand.fill("Title", f"Moss scarf {width}")
    hand.step("Share")
    hand.press("Save PDF: On paper")
    took(page, f"Moss-scarf-{width}")
    assert hand.count <= MOST_GESTURES
    (pdf,) = Path(lab.root).glob(f"Moss-scarf-{width}*.pdf")
    assert pdf.read_bytes().startswith(b"%PDF-")
    hand.press("Save design file: Design")
    took(page, f"Moss-scarf-{width}.design")
    design = mk.load(next(Path(lab.root).glob(f"Moss-scarf-{width}*.design")))
    assert (design.motif.shape, design.gauge, design.title) == ((12, 8), mk.Gauge(17, 19), f"Moss scarf {width}")
    assert design.layout.workable
    assert size(page) == f"{design.size.width_cm:.1f} × {design.size.length_cm:.1f} cm"


def test_a_killed_kernel_loses_nothing_and_until_then_a_still_picture_stands_there(open_notebook, lab):
    page = opened(open_notebook, "killed.ipynb", CELL % "killed.sketch")
    hand = Gestures(page)
    hand.press("Begin a new sheet")
    done = []
    for number in range(1, 6):
        hand.step("Lay")
        hand.fill("Repeats across", number + 1)
        page.locator(".mk-ledger").get_by_text(f"{24 * (number + 1) + 2} stitches").first.wait_for()
        done.append(number)
        kernel_killed(page)
        page.locator(".mk-ledger").get_by_text(f"{24 * (number + 1) + 2} stitches").first.wait_for()
    for number in reversed(done[:-1]):
        hand.press("Undo", page.locator(".mk-book-head"))
        page.locator(".mk-ledger").get_by_text(f"{24 * (number + 1) + 2} stitches").first.wait_for()
    # the hand rests: the picture that the notebook keeps is the design's
    page.wait_for_function("document.querySelector('.mk-still img')?.alt.includes('50 stitches')")
    assert not page.locator(".mk-still").is_visible()
    promised(
        page,
        "async () => { await jupyterapp.commands.execute('docmanager:save');"
        " for (const open of [...jupyterapp.shell.widgets('main')]) open.dispose();"
        " await jupyterapp.serviceManager.sessions.shutdownAll();"
        " await jupyterapp.commands.execute('docmanager:open', { path: 'killed.ipynb' }); }",
    )
    still = page.locator(".mk-still")
    still.wait_for()
    assert "run the cell to go on" in still.inner_text()
    page.locator(".jupyter-widgets", has_text="Error displaying widget").wait_for(state="hidden")
    idle(page)  # a kernel that is only beginning would outlive the test


@pytest.mark.parametrize(("dark", "width"), [(False, 1280), (True, 390)])
def test_axe_finds_nothing_in_any_panel_and_nothing_runs_over_the_side(open_notebook, dark, width):
    cell = (
        "import mosaickit as mk\n"
        "leaf = mk.Motif.from_text('....\\n####\\n.##.\\n####\\n....', name='leaf')\n"
        "mk.widgets.Workbook(mk.Design(leaf, mk.Gauge(16, 18), reversible=True).but(across=4, up=3, colours='swap',"
        f" skeins=mk.Skein(105, 50)), autosave='axe-{width}.sketch')"
    )
    page = opened(open_notebook, f"axe-{width}.ipynb", cell, width=width, dark=dark)
    hand = Gestures(page)
    for name in page.locator(".mk-steps .mk-word").all_inner_texts():
        hand.step(name)
        settle(page)
        assert page.evaluate("document.querySelector('.mk-book-scroll').scrollTop") == 0, name
        found = Axe().run(page, context=".mk-book")
        faults = [(each["id"], [node["html"][:160] for node in each["nodes"]]) for each in found.response["violations"]]
        assert faults == [], name
        over = page.evaluate(
            "(() => { const el = document.querySelector('.mk-work'); return el.scrollWidth - el.clientWidth; })()"
        )
        assert over <= 0, name
        page.evaluate("document.querySelector('.mk-book-scroll').scrollTop = 200")
