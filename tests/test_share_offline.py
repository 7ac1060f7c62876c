"""Shared pages without Python and without the network: every control does what it says, and paper shows figures."""

from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from shutil import copytree

import nbformat
import numpy as np
import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import in_files, listen, new_tab, settle
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook
from PIL import Image

import mosaickit as mk
from mosaickit.widgets import VariationExplorer

LEAF = ".......\n#######\n.#...#.\n###.###\n.#.....\n#######\n......."
ROOT = Path(__file__).parents[1]
NOTEBOOKS = sorted((ROOT / "notebooks").rglob("*.ipynb"))
WIDGETS = {
    "MotifPainter": "mk.widgets.MotifPainter(knot, autosave='knot.sketch')",
    "Workbook": "mk.widgets.Workbook(mk.Design(long, gauge), autosave='leaf.sketch')",
    "VariationExplorer": "mk.widgets.VariationExplorer(leaf)",
    "WidthPlanner": "mk.widgets.WidthPlanner(leaf, gauge=gauge, width=60, length=40, skein=mk.Skein(100, 50))",
    "RowGuide": "mk.widgets.RowGuide(chart, gauge=gauge)",
    "LoopView": "mk.widgets.LoopView(knot)",
    "TurnOver": "mk.widgets.TurnOver(chart, gauge=gauge)",
    "Chooser": "mk.widgets.Chooser(mk.tables.count(chart).reset_index(), caption='Stitches')",
    "DesignWall": "mk.save(mk.Design(leaf), 'leaf.design'); mk.widgets.DesignWall(mk.designs('.'))",
}
"""Each widget at the door, and how a cell shows it. `knot` cannot be worked."""

CONTROLS = {
    "MotifPainter": ["Smaller", "Larger", "Picture", "finding", "place"],
    "Workbook": ["advice"],
    "VariationExplorer": ["Pin (P)", "Sorted by", "variant"],
    "WidthPlanner": ["head", "line", "table"],
    "RowGuide": [
        *("Back", "Next", "Step", "Words", "Row", "Go", "Seconds", "Start timer", "Large type", "Read aloud"),
        *("How rows start and end, and keys", "desk"),
    ],
    "LoopView": ["square"],
    "TurnOver": ["Front", "Back", "Turn over", "Larger", "Smaller", "yarn"],
    "Chooser": ["head", "table"],
    "DesignWall": [],
}
"""What can be reached on a page without Python; `used` does each of them."""

ALIKE = {
    "finding": ".mk-findings summary",
    "place": ".mk-places button",
    "advice": ".mk-advice summary",
    "variant": ".mk-tile",
    "head": "thead button",
    "line": "tbody input",
    "table": ".mk-chooser",
    "desk": ".mk-desk",
    "square": ".mk-square",
    "yarn": ".mk-turnover canvas",
}
"""What there is many of, or what has a name that depends on what is shown."""

REACHED = """place => [...place.querySelectorAll(
    "button, input, select, textarea, summary, a[href], [tabindex]:not([tabindex='-1'])")]
  .filter(each => each.checkVisibility())
  .map(each => [each.getAttribute("aria-label") || (each.labels?.length && each.labels[0].firstChild.textContent.trim())
    || each.textContent.trim(), Object.keys(ALIKE).find(name => each.matches(ALIKE[name])) ?? ""])"""


@pytest.fixture(scope="module")
def page_file(slow, tmp_path_factory):
    """A page with every widget, a heading for each, shared in the usual way."""
    folder = tmp_path_factory.mktemp("offline")
    first = (
        "import mosaickit as mk\n"
        f"leaf = mk.Motif.from_text({LEAF!r}, name='leaf')\n"
        "long = mk.Motif.from_text('.......\\n#.....#\\n.......\\n#######\\n.......', name='long')\n"
        "knot = mk.Motif.from_text('.....\\n.###.\\n.###.\\n.....\\n.....', name='knot')\n"
        "chart, gauge = mk.compile_chart(leaf, reversible=True), mk.Gauge(16, 18)"
    )
    cells = [new_markdown_cell("# Widgets", id="title"), new_code_cell(first, id="first")]
    for name, code in WIDGETS.items():
        cells += [new_markdown_cell(f"## {name}", id=f"{name}-head"), new_code_cell(code, id=name)]
    about = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}}
    nbformat.write(new_notebook(cells=cells, metadata=about), folder / "widgets.ipynb")
    shared = mk.share(folder / "widgets.ipynb", folder / "widgets.html")
    assert shared.notes == ()
    return shared.path


def open_offline(page, file):
    """Open a file from disk where no network is; gives the complaints of the page, and what it asks a network for."""
    page.context.set_offline(True)
    wrong = listen(page, in_files)
    page.goto(file.absolute().as_uri())
    settle(page)
    page.wait_for_function("!document.querySelector('[data-widget]')")
    return wrong


def complaints(page, wrong):
    """What was wrong until now."""
    settle(page)
    return [each for each in wrong if "GL Driver Message" not in each]  # which says that there is no graphics card


@pytest.fixture
def opened(tab):
    """Open a file from disk where no network is; it fails if the page asks for anything, or complains."""

    @contextmanager
    def it(file, **options):
        page = tab(**options)
        wrong = open_offline(page, file)
        yield page
        assert complaints(page, wrong) == []

    return it


@pytest.fixture(scope="module")
def kept_pages():
    """Pages of every widget that stay open from test to test, by width, with what was wrong with them."""
    return {}


@pytest.fixture
def widgets_page(browser, page_file, kept_pages):
    """Give the page of every widget at a width: the one that the test before used, as each widget is used by one."""

    @contextmanager
    def it(width):
        if width not in kept_pages or kept_pages[width][0].is_closed():  # as those of a browser that broke down are
            page = new_tab(browser, viewport={"width": width, "height": 900}, reduced_motion="reduce")
            kept_pages[width] = page, open_offline(page, page_file)
        page, wrong = kept_pages[width]
        yield page
        found = complaints(page, wrong)
        wrong.clear()  # the tests after this one have not caused it
        assert found == []

    return it


def places(page):
    """Where each widget of the page is, by name."""
    return dict(zip(WIDGETS, page.locator(".widget").all(), strict=True))


def seen(place):
    """All that can be seen of a widget, whatever it is drawn with."""
    settle(place.page)
    return np.asarray(Image.open(BytesIO(place.screenshot())).convert("RGB"))


def differ(one, other):
    return one.shape != other.shape or bool((one != other).any())


def reached(place):
    script = REACHED.replace("ALIKE", repr(ALIKE))
    found = [kind or name for name, kind in place.evaluate(script)]
    return list(dict.fromkeys(found))


def test_every_widget_at_the_door_is_walked_through():
    assert set(WIDGETS) == set(CONTROLS) == set(mk.widgets.__all__)


@pytest.mark.parametrize("width", [1280, 390])
def test_what_can_be_reached_is_just_what_works(opened, page_file, width):
    with opened(page_file, viewport={"width": width, "height": 900}) as page:
        for name, place in places(page).items():
            assert sorted(reached(place)) == sorted(CONTROLS[name]), name
            assert "Not connected" not in place.inner_text(), name
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        assert [fault["id"] for fault in Axe().run(page).response["violations"]] == []


def test_what_needs_python_is_said_in_sight(opened, page_file):
    notes = {
        "MotifPainter": "To paint, open the notebook",
        "Workbook": "To go on with the design, open the notebook",
        "VariationExplorer": "To breed two variants, to add one at random or to paint on one, open the notebook.",
        "WidthPlanner": "To change the settings or to save tables, open the notebook.",
        "LoopView": "To change a square, open the notebook.",
        "Chooser": "To choose a line, open the notebook.",
        "DesignWall": "To pick a design, open the notebook.",
    }
    with opened(page_file) as page:
        for name, place in places(page).items():
            said = place.locator(".note").all_inner_texts()
            assert len(said) == (name in notes), name
            assert all(notes[name] in sentence for sentence in said)


# ---- every control, used -------------------------------------------------------------------------------------


def paints(place):
    """The painter: it is looked at nearer and from afar, and what is wrong with it leads to its squares."""
    before = seen(place)
    canvas = place.locator(".mk-canvas")
    wide = canvas.bounding_box()["width"]
    place.get_by_role("button", name="Larger").click()
    near = canvas.bounding_box()["width"]
    assert near > wide
    place.get_by_role("button", name="Smaller").click()
    assert canvas.bounding_box()["width"] < near
    still = seen(place)
    place.locator(".mk-places button").first.click()
    assert differ(still, seen(place)), "the square is outlined"
    place.locator(".mk-findings summary").first.click()
    assert place.locator(".mk-places button").first.is_hidden()
    assert differ(before, seen(place))


def shows_design(place):
    assert place.locator("h2").inner_text() == "long"
    summaries = place.locator(".mk-advice summary")
    for number in range(summaries.count()):
        summaries.nth(number).click()
        assert place.locator(".mk-advice p").nth(number).is_visible()
    assert place.locator(".mk-squares canvas").count() >= 1


def picks_and_pins(place):
    """The wall, against the widget itself: every variant, every order, and pins as Python lets them fall."""
    twin = VariationExplorer(mk.Motif.from_text(LEAF, name="leaf"))
    tiles, said = place.locator(".mk-tile"), place.locator("[role=status]")
    assert tiles.count() == len(twin.variants)
    for key in (3, 1, 3, 5, 0, 5):
        place.locator(f".mk-tile[data-key='{key}']").click()
        twin.picked = key
        assert place.locator(".mk-preview p").inner_text() == twin.preview["about"]
        assert place.locator(".mk-faces").inner_html().count("<path") == twin.preview["faces"].count("<path")
        place.get_by_role("button", name="Pin (P)").click()
        twin.pin()
        assert said.inner_text() == twin.said
        pinned = place.locator(".mk-pinned").evaluate_all("tiles => tiles.map(tile => Number(tile.dataset.key))")
        assert sorted(pinned) == sorted(twin.pinned)
    for by in twin.sorts:
        place.get_by_label("Sorted by").select_option(by)
        twin.sort(by)
        order = tiles.evaluate_all("tiles => tiles.map(tile => Number(tile.dataset.key))")
        assert order == [tile["key"] for tile in twin.tiles], by
    place.locator(".mk-tile[aria-selected=true]").focus()
    place.page.keyboard.press("Home")
    assert place.locator(".mk-tile").first.get_attribute("aria-selected") == "true"
    place.page.keyboard.press("p")
    place.page.keyboard.press("b")  # which needs Python, and says nothing
    assert said.inner_text().startswith("Pinned: ")


def plans(place):
    """The planner: every line shows its own piece, as it was worked out when the page was shared."""
    lines = place.locator("tbody input")
    assert lines.count() > 3
    alts = set()
    for number in range(lines.count()):
        lines.nth(number).check()
        place.locator("tbody tr").nth(number).locator("th").wait_for()
        alts.add(place.locator("img[alt^='The piece chosen: ']").get_attribute("alt"))
        assert place.locator("img[alt^='Metres of each yarn']").count() == 1
    assert len(alts) == lines.count()
    sorts(place)


def sorts(place):
    """A table: by each column, up and down."""
    heads = place.locator("thead button")
    for number in range(heads.count()):
        for direction in ("ascending", "descending"):
            heads.nth(number).click()
            assert place.locator("thead th").nth(number).get_attribute("aria-sort") == direction
    shown = place.locator("tbody tr").evaluate_all("rows => rows.map(row => row.dataset.key)")
    assert len(shown) == len(set(shown)) > 1


def leads(place):
    """The guide: on and back, by each step, to a row, by its timer, in large type; and the place stays."""
    page, press = place.page, lambda name: place.get_by_role("button", name=name, exact=True).click()
    desk = place.locator(".mk-desk")
    at = desk.inner_text
    begin = at()
    press("Next")
    assert at() != begin
    press("Back")
    assert at() == begin
    place.get_by_label("Step").select_option("row")
    press("Next")
    assert "Row 2 of" in at()
    place.get_by_label("Words").select_option(index=1)
    place.get_by_label("Row", exact=True).fill("3")
    press("Go")
    assert "Row 3 of" in at()
    place.get_by_label("Seconds").fill("600")  # so long that it does not step before it is paused
    press("Start timer")
    press("Pause timer")
    press("Large type")
    assert place.get_by_role("button", name="Large type").get_attribute("aria-pressed") == "true"
    press("Large type")
    press("Read aloud")
    press("Read aloud")
    place.locator("summary").click()
    desk.focus()
    page.keyboard.press("ArrowDown")
    assert "Row 2 of" in at()


def touches(place):
    """The loop view: every square says its own; none can be changed."""
    said = place.locator(".mk-said")
    before = place.locator(".mk-square").evaluate_all("cells => cells.map(cell => cell.style.backgroundColor)")
    for number in range(place.locator(".mk-square").count()):
        cell = place.locator(".mk-square").nth(number)
        cell.click()
        place_of = cell.get_attribute("aria-label").partition(":")[0]
        assert said.inner_text().startswith(f"{place_of}: ")
    place.locator(".mk-square").first.dblclick()
    place.page.keyboard.press("x")
    assert place.locator(".mk-asked").count() == 0
    after = place.locator(".mk-square").evaluate_all("cells => cells.map(cell => cell.style.backgroundColor)")
    assert before == after


def turns(place):
    """The yarn: to its back and front again, larger and smaller, by key too."""
    canvas = place.locator("canvas")
    for name, side in {"Back": "back", "Front": "front", "Turn over": "back"}.items():
        place.get_by_role("button", name=name, exact=True).click()
        place.locator(".mk-said", has_text=f"The {side} of the fabric.").wait_for()
    canvas.focus()
    place.page.keyboard.press("Home")
    place.locator(".mk-said", has_text="The front of the fabric.").wait_for()
    place.page.wait_for_function("document.querySelector('.mk-turnover canvas').dataset.turn === '0'")
    for name in ("Larger", "Smaller"):
        before = seen(canvas)
        place.get_by_role("button", name=name, exact=True).click()
        settle(place.page)
        assert differ(before, seen(canvas)), name


def hangs(place):
    assert place.locator(".mk-tile strong").all_inner_texts() == ["leaf"]
    place.locator(".mk-tile").click()
    assert "Picked" not in place.inner_text()


USED = {
    "MotifPainter": paints,
    "Workbook": shows_design,
    "VariationExplorer": picks_and_pins,
    "WidthPlanner": plans,
    "RowGuide": leads,
    "LoopView": touches,
    "TurnOver": turns,
    "Chooser": sorts,
    "DesignWall": hangs,
}


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("name", USED)
def test_every_control_does_what_it_says(widgets_page, name, width):
    with widgets_page(width) as page:
        USED[name](places(page)[name])


def test_a_guide_goes_on_where_this_browser_left_it(opened, page_file):
    with opened(page_file) as page:
        place = places(page)["RowGuide"]
        place.get_by_label("Step").select_option("row")
        place.get_by_role("button", name="Next").click()
        assert "Row 2 of" in place.locator(".mk-desk").inner_text()
        page.reload()
        page.wait_for_function("!document.querySelector('[data-widget]')")
        assert "Row 2 of" in places(page)["RowGuide"].locator(".mk-desk").inner_text()


# ---- on paper ------------------------------------------------------------------------------------------------

PAPERS = {"A4": 680, "Letter": 702}  # the width between margins of 1.5 cm, in pixels of which an inch has 96


def sheets(page, paper):
    """Print a page; gives the text of each sheet, line by line."""
    printed = pypdfium2.PdfDocument(page.pdf(format=paper, print_background=False))
    found = [[line for line in sheet.get_textpage().get_text_range().splitlines() if line.strip()] for sheet in printed]
    printed.close()
    return found


def fits(page, paper):
    """What is wider than the paper; a browser would make all of it smaller then."""
    page.emulate_media(media="print")
    page.set_viewport_size({"width": PAPERS[paper], "height": 900})
    settle(page)
    return page.evaluate(
        "() => [...document.querySelectorAll('main *')]"
        ".filter(each => each.checkVisibility() && each.getBoundingClientRect().right > innerWidth + 1)"
        ".map(each => each.outerHTML.slice(0, 120))"
    )


def alone_at_the_end(page, found):
    """The headings that are the last of their sheet, with what they head on the next."""
    heads = set(page.locator("h1, h2, h3, h4").all_inner_texts())
    return [lines[-1] for lines in found[:-1] if lines and lines[-1].strip() in heads]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_widget_prints_as_a_still_figure(opened, page_file, paper):
    with opened(page_file) as page:
        assert fits(page, paper) == []
        for name, place in places(page).items():
            pressed = place.locator("button:visible, select:visible, input:visible, nav:visible").all()
            kept = [each for each in pressed if not each.evaluate("each => each.matches('thead button, .mk-places *')")]
            assert kept == [], name
            assert (seen(place) < 200).any(), f"{name} is blank on paper"
        page.emulate_media(media=None)
        page.set_viewport_size({"width": 1280, "height": 900})
        found = sheets(page, paper)
        text = "\n".join(line for lines in found for line in lines)
        assert all(f"{name}\n" in f"{text}\n" for name in WIDGETS)
        for button in ("Pin (P)", "Larger", "Turn over", "Change this square", "Start timer"):
            assert button not in text
        assert alone_at_the_end(page, found) == []


def test_yarn_is_on_paper_though_what_is_drawn_in_space_is_not(opened, page_file):
    with opened(page_file) as page:
        place = places(page)["TurnOver"]
        assert place.locator("img").first.is_hidden()
        page.emulate_media(media="print")
        assert [image.is_visible() for image in place.locator("img").all()] == [True, True]
        assert place.locator("canvas").is_hidden()


def test_headings_stay_with_what_follows_and_wide_tables_fit(opened, tmp_path):
    """Headings at every height of a sheet, and tables of many columns of long words."""
    row = "".join(f"<td>{'width' * 2} {number}</td>" for number in range(25))
    head = "".join(f"<th>foundation chain {number}</th>" for number in range(25))
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{f'<tr>{row}</tr>' * 3}</tbody></table>"
    cells = [new_markdown_cell("# Sheets", id="title")]
    for number in range(40):
        words = "\n\n".join(["A line of words."] * (number % 7 + 1))
        cells.append(new_markdown_cell(f"## Heading {number}", id=f"head-{number}"))
        cells.append(new_markdown_cell(words, id=f"words-{number}"))
    shown = nbformat.v4.new_output("display_data", {"text/html": table})
    cells.append(new_code_cell("wide", id="wide", execution_count=1, outputs=[shown]))
    nbformat.write(new_notebook(cells=cells), tmp_path / "sheets.ipynb")
    with opened(mk.share(tmp_path / "sheets.ipynb", tmp_path / "sheets.html").path) as page:
        for paper in PAPERS:
            found = sheets(page, paper)
            assert len(found) > 4
            assert alone_at_the_end(page, found) == []
        for paper in PAPERS:
            assert fits(page, paper) == []
            assert broken_headings(page) == []


def broken_headings(page):
    """The headings of tables that stand on more than one line, and so may be broken within a word."""
    return page.evaluate(
        """() => [...document.querySelectorAll(".very-many thead th")].filter((head) => {
            const words = document.createRange();
            words.selectNodeContents(head);
            return words.getClientRects().length > 1;
        }).map((head) => head.textContent)"""
    )


# ---- every notebook and lesson -------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def stored(tmp_path_factory):
    """The notebooks and what they read, in a folder that goes away."""
    folder = tmp_path_factory.mktemp("stored")
    for name in ("notebooks", "gallery"):
        copytree(ROOT / name, folder / name)
    return folder


@pytest.mark.thorough
@pytest.mark.parametrize("name", [str(file.relative_to(ROOT)) for file in NOTEBOOKS])
def test_every_notebook_is_shared_whole_used_and_printed(opened, stored, slow, name):
    file = stored / name
    before = file.read_bytes()
    shared = mk.share(file, stored / f"{file.stem}.html")
    assert (shared.ran, shared.notes) == (True, ())
    assert file.read_bytes() == before
    for width in (1280, 390):
        with opened(shared.path, viewport={"width": width, "height": 900}, reduced_motion="reduce") as page:
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
            use_all(page)
            assert "Not connected" not in page.inner_text("main")
            assert "could not be drawn" not in page.inner_text("main")
            if width == 1280:
                for paper in PAPERS:
                    assert alone_at_the_end(page, sheets(page, paper)) == []
                for paper in PAPERS:
                    assert fits(page, paper) == []


def use_all(page):
    """Press every button and summary that can be seen, choose every option, twice where a press undoes a press."""
    for place in page.locator(".widget").all():
        for control in place.locator("summary, button, select, input[type=radio], .mk-tile, .mk-square").all()[:60]:
            if not control.is_visible() or not control.is_enabled():
                continue
            if control.evaluate("each => each.matches('select')"):
                for number in range(control.locator("option").count()):
                    control.select_option(index=number)
            else:
                control.click()
        settle(page)
