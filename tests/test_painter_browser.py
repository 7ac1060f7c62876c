"""The painter in a real JupyterLab in a real Chromium: mouse, touch, keyboard, restart, two views."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import restart_kernel, run_all, settle, wait_until

from mosaickit.widgets.sketch import Sketch

START = "\n".join(["." * 12] * 9)
SIDE = 24  # pixels of a square in a picture 12 wide
CELLS = [
    "import mosaickit as mk\n"
    f'painter = mk.widgets.MotifPainter(mk.Motif.from_text("""{START}"""), autosave="NAME.sketch")\n'
    "painter",
    "painter",
    "",
]
INK_BLUE = [0x1D, 0x3F, 0x66]
PIXEL = """([canvas, x, y]) => { const sharp = window.devicePixelRatio || 1;
    return [...canvas.getContext('2d').getImageData(x * sharp, y * sharp, 1, 1).data.slice(0, 3)] }"""
NUMBERS = 31  # what the row numbers take of the canvas, in pixels
NUMBERS_AT_LEFT = """() => { const canvas = document.querySelector('.mk-canvas'), pen = canvas.getContext('2d');
    const sharp = window.devicePixelRatio || 1;
    return pen.getImageData(6 * sharp, 14 * sharp, 1, 1).data[2] === 255; }"""


class Page:
    """One notebook with a painter in it, and what a person does to it."""

    def __init__(self, page, journal):
        self.page, self.journal = page, journal
        self.painter = page.locator(".mk-painter").first
        self.canvas = page.locator(".mk-canvas").first
        self.left, self.side = 4, SIDE

    def start(self):
        run_all(self.page)
        self.canvas.wait_for()
        self.painter.locator(".mk-focus").filter(has_text="Row 1").wait_for()
        self.canvas.scroll_into_view_if_needed()

    def kept(self):
        """The picture as the autosave file has it."""
        sketch = Sketch.read(self.journal)
        return sketch.motif.to_text().split()

    def point(self, column, line):
        box = self.canvas.bounding_box()
        return box["x"] + self.left + (column + 0.5) * self.side, box["y"] + 4 + (line + 0.5) * self.side

    def click(self, column, line):
        self.page.mouse.click(*self.point(column, line))

    def drag(self, *places):
        self.page.mouse.move(*self.point(*places[0]))
        self.page.mouse.down()
        for place in places[1:]:
            self.page.mouse.move(*self.point(*place), steps=4)
        self.page.mouse.up()

    def run_code(self, code):
        """Run code in the last cell, which is empty, and wait until it ran."""
        editor = self.page.locator(".jp-Notebook .jp-Cell").last.locator(".cm-content")
        editor.fill(f"{code}\nprint('ran {len(code)}')")
        self.page.keyboard.press("Control+Enter")
        self.page.locator(".jp-OutputArea-output").filter(has_text=f"ran {len(code)}").wait_for()
        self.canvas.scroll_into_view_if_needed()

    def pixel(self, column, line, canvas=None):
        """The colour in which a square is drawn, above its middle, where no mark is."""
        at = [4 + (column + 0.5) * self.side, 4 + (line + 0.3) * self.side]
        return self.page.evaluate(PIXEL, [(canvas or self.canvas).element_handle(), *at])

    def press(self, name):
        self.painter.get_by_role("button", name=name, exact=True).click()

    def unfold(self, word):
        """Open what is folded away under a word."""
        self.painter.locator("summary").filter(has_text=word).click()

    def wait_for(self, expected):
        """Wait until the file holds a picture, given as its lines or a test of them."""
        test = expected if callable(expected) else lambda lines: lines == expected
        wait_until(lambda: test(self.kept()), lambda: "The file holds:\n" + "\n".join(self.kept()))


@pytest.fixture
def opened(open_notebook, lab, request):
    name = request.node.name.replace("[", "-").replace("]", "")
    dark = getattr(request, "param", "light") == "dark"
    cells = [cell.replace("NAME", name) for cell in CELLS]
    it = Page(open_notebook(f"{name}.ipynb", cells, dark=dark, touch=True), lab.root / f"{name}.sketch")
    it.start()
    return it


def with_squares(*places, colour="#", start=START):
    lines = [list(line) for line in start.split()]
    for column, line in places:
        lines[line][column] = colour
    return ["".join(line) for line in lines]


def test_each_tool_paints_by_mouse_and_undo_takes_it_back(opened):
    opened.click(2, 3)
    opened.wait_for(with_squares((2, 3)))
    opened.press("Line")
    opened.drag((0, 0), (4, 4))
    opened.wait_for(with_squares((2, 3), *((i, i) for i in range(5))))
    opened.press("Undo")
    opened.wait_for(with_squares((2, 3)))
    opened.press("Box")
    opened.drag((5, 5), (7, 6))
    box = [(x, y) for x in (5, 6, 7) for y in (5, 6)]
    opened.wait_for(with_squares((2, 3), *box))
    opened.press("Fill")
    opened.press("MC: cream")
    opened.click(6, 6)
    opened.wait_for(with_squares((2, 3)))
    opened.press("Brush")
    opened.press("CC: ink blue")
    opened.unfold("Paint also")
    opened.painter.get_by_label("Mirror", exact=True).check()
    opened.drag((0, 1), (3, 1))
    opened.wait_for(with_squares((2, 3), *((x, 1) for x in (0, 1, 2, 3, 8, 9, 10, 11))))
    # an exception in a message handler would show nowhere but in the lab's log
    assert opened.page.locator(".jp-StatusBar-Item:has-text('log')").count() == 0


def test_copy_and_paste_move_squares(opened):
    opened.unfold("Selection")
    opened.click(1, 1)
    opened.press("Select")
    opened.drag((1, 1), (2, 2))
    opened.page.keyboard.press("c")
    opened.click(6, 4)
    opened.page.keyboard.press("v")
    opened.wait_for(with_squares((1, 1), (6, 4)))
    opened.drag((0, 0), (2, 2))
    opened.press("Cut")
    opened.wait_for(with_squares((6, 4)))
    opened.click(8, 5)
    opened.press("Paste")
    opened.wait_for(with_squares((6, 4), (9, 6)))
    # the part is mirrored where it lies
    opened.drag((5, 3), (9, 5))
    opened.press("Mirror it")
    opened.wait_for(with_squares((8, 4), (9, 6)))
    opened.press("Ellipse")
    opened.drag((1, 1), (4, 4))
    corners = {(1, 1), (1, 4), (4, 1), (4, 4)}
    drawn = {(x, y) for x in range(1, 5) for y in range(1, 5)} - corners
    opened.wait_for(with_squares((8, 4), (9, 6), *drawn))


def test_a_selection_is_dragged_to_another_place(opened):
    opened.drag((1, 1), (2, 1))
    opened.wait_for(with_squares((1, 1), (2, 1)))
    opened.press("Select")
    opened.drag((1, 1), (2, 2))
    opened.drag((2, 2), (6, 4))
    opened.wait_for(with_squares((5, 3), (6, 3)))
    # it stays selected where it lies, and a part that leaves the picture is cut off
    opened.drag((6, 4), (5, 4), (11, 4))
    opened.wait_for(with_squares((10, 3), (11, 3)))
    opened.page.keyboard.press("Delete")
    opened.wait_for(START.split())
    opened.press("Undo")
    # Escape before the hand lets go leaves all as it was
    opened.wait_for(with_squares((10, 3), (11, 3)))
    opened.page.mouse.move(*opened.point(10, 3))
    opened.page.mouse.down()
    opened.page.mouse.move(*opened.point(4, 6), steps=3)
    opened.page.keyboard.press("Escape")
    opened.page.mouse.up()
    opened.press("Brush")
    opened.click(0, 0)
    opened.wait_for(with_squares((10, 3), (11, 3), (0, 0)))


def test_left_handed_zoomed_and_panned_the_picture_is_the_same(opened):
    painter, page = opened.painter, opened.page
    opened.click(2, 5)
    painter.locator(".mk-focus").filter(has_text="Row 4, stitch 10:").wait_for()
    painter.get_by_label("left-handed", exact=True).check()
    # the numbers change sides, the picture does not; the canvas moves by the margin that the numbers take
    page.wait_for_function(NUMBERS_AT_LEFT)
    opened.left = NUMBERS
    opened.click(9, 5)
    painter.locator(".mk-focus").filter(has_text="Row 4, stitch 10:").wait_for()
    opened.wait_for(with_squares((2, 5), (9, 5)))
    painter.get_by_label("left-handed", exact=True).uncheck()
    page.wait_for_function(f"!({NUMBERS_AT_LEFT})()")
    opened.left = 4
    for _ in range(4):
        opened.press("Larger")
    opened.side = 48
    scroll = painter.locator(".mk-scroll")
    scroll.evaluate("it => { it.scrollLeft = 0; it.scrollTop = 0; }")
    opened.press("Pan")
    opened.click(1, 1)
    opened.press("Brush")
    opened.click(1, 1)
    opened.wait_for(with_squares((2, 5), (9, 5), (1, 1)))


def test_a_full_disk_is_said_and_passes(opened):
    # the system refuses to let the file grow, as it does when the disk is full
    limit = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, ({}, resource.RLIM_INFINITY))"
    opened.click(1, 1)
    opened.wait_for(with_squares((1, 1)))
    opened.run_code(limit.format(1))
    opened.click(2, 2)
    opened.painter.locator(".mk-banner").filter(has_text="kept in memory only, as its file could not be").wait_for()
    assert opened.kept() == with_squares((1, 1))
    opened.run_code(limit.format("resource.RLIM_INFINITY"))
    opened.click(3, 3)
    opened.wait_for(with_squares((1, 1), (2, 2), (3, 3)))
    opened.painter.locator(".mk-banner").wait_for(state="hidden")


def test_what_cannot_be_worked_is_said_and_the_nearest_is_previewed_and_taken(opened):
    tally = opened.painter.locator(".mk-tally")
    tally.filter(has_text="Can be worked.").wait_for()
    opened.click(3, 8)
    tally.filter(has_text="Squares to mend: 2.").wait_for()
    finding = opened.painter.locator(".mk-error button").first
    assert finding.inner_text().startswith("Row 1, stitch 9 does not show its row's colour")
    # a place that is pressed is where the hand goes on
    opened.painter.locator(".mk-error button").last.click()
    opened.painter.locator(".mk-focus").filter(has_text="Row 1, stitch 9").wait_for()
    kind = opened.painter.locator(".mk-error").filter(has_text="overlaid square in row 1")
    kind.get_by_label("List and mark these").uncheck()
    opened.painter.locator(".mk-off").filter(has_text="Switched off, so neither listed nor marked").wait_for()
    assert not kind.locator("button").first.is_visible()
    opened.press("Mend these")
    opened.painter.locator(".mk-preview").filter(has_text="changes 1 square").wait_for()
    opened.press("Accept")
    opened.wait_for(START.split())
    tally.filter(has_text="Can be worked.").wait_for()
    assert not opened.painter.get_by_role("button", name="Mend these").is_visible()


def test_what_is_painted_while_a_cell_runs_is_there_at_once_and_kept_under_its_settings(opened):
    folder = opened.journal.parent
    editor = opened.page.locator(".jp-Notebook .jp-Cell").last.locator(".cm-content")
    editor.fill('import pathlib, time\nwhile not pathlib.Path("go on").exists(): time.sleep(0.01)\nprint("gone on")')
    opened.page.keyboard.press("Control+Enter")
    opened.page.wait_for_function("document.querySelector('.jp-StatusBar-Left')?.textContent.includes('| Busy')")
    opened.canvas.scroll_into_view_if_needed()
    opened.unfold("Paint also")
    opened.painter.get_by_label("Mirror", exact=True).check()
    opened.drag((0, 1), (3, 1))
    opened.press("Undo")
    opened.press("MC: cream")
    opened.press("CC: ink blue")
    opened.click(1, 2)
    assert opened.pixel(1, 2) == INK_BLUE
    (folder / "go on").touch()
    opened.wait_for(with_squares((1, 2), (10, 2)))
    opened.page.locator(".jp-OutputArea-output").filter(has_text="gone on").wait_for()
    (folder / "go on").unlink()


def test_touch_paints(opened):
    opened.page.touchscreen.tap(*opened.point(4, 2))
    opened.wait_for(with_squares((4, 2)))
    # 20 stitches are as wide as 15 rows are high: squares of 24 pixels are then 32 high
    opened.run_code("painter.design = painter.design.but(gauge=mk.Gauge(20, 15))")
    opened.page.wait_for_function("parseFloat(document.querySelector('.mk-canvas').style.height) === 9 * 32 + 24")
    box = opened.canvas.bounding_box()
    opened.page.touchscreen.tap(box["x"] + 4 + 7.5 * SIDE, box["y"] + 4 + 8 * 32 - 2)
    opened.wait_for(with_squares((4, 2), (7, 7)))
    at = [opened.canvas.element_handle(), 4 + 7.5 * SIDE, 4 + 7.3 * 32]
    assert opened.page.evaluate(PIXEL, at) == INK_BLUE


def test_keys_paint_and_none_reaches_the_notebook(opened):
    page = opened.page
    cells = page.locator(".jp-Cell").count()
    opened.click(5, 5)
    for key in ("ArrowRight", "Space", "ArrowUp", "Shift+ArrowUp", "d", "d", "a", "x", "x", "m"):
        page.keyboard.press(key)
    opened.wait_for(with_squares((5, 5), (6, 5), (6, 4), (6, 3)))
    opened.painter.locator(".mk-focus").filter(has_text="Row 6, stitch 6").wait_for()
    page.keyboard.press("Control+z")
    opened.wait_for(with_squares((5, 5), (6, 5)))
    page.keyboard.press("Control+y")
    opened.wait_for(with_squares((5, 5), (6, 5), (6, 4), (6, 3)))
    # between two corners, or two ends: marked until the second is set, and left by Escape
    for key in ("o", "Space", "ArrowRight", "ArrowRight", "ArrowDown"):
        page.keyboard.press(key)
    opened.painter.locator(".mk-note").filter(has_text="First corner: row 6, stitch 6.").wait_for()
    assert opened.pixel(8, 4) == INK_BLUE  # a bead
    page.keyboard.press("Escape")
    opened.painter.locator(".mk-note").filter(has_text="First corner").wait_for(state="detached")
    assert opened.pixel(7, 3) != INK_BLUE
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    opened.wait_for(with_squares((5, 5), (6, 5), (6, 4), (6, 3), (8, 4), (9, 4)))
    page.keyboard.press("Control+z")
    opened.wait_for(with_squares((5, 5), (6, 5), (6, 4), (6, 3)))
    assert page.locator(".jp-Cell").count() == cells
    assert page.evaluate("document.activeElement.className").startswith("mk-canvas")
    page.keyboard.press("Control+s")
    page.wait_for_function("!document.querySelector('.jp-mod-current .jp-mod-dirty, .lm-mod-current.jp-mod-dirty')")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") != "mk-canvas"


def test_two_views_agree(opened):
    opened.click(7, 7)
    opened.wait_for(with_squares((7, 7)))
    second = opened.page.locator(".mk-canvas").nth(1)
    second.scroll_into_view_if_needed()
    # the file may have it before the other view has heard of it
    wait_until(lambda: opened.pixel(7, 7, second) == INK_BLUE, "the other view does not show it")


def test_after_a_restart_the_painter_says_so_and_the_cell_brings_the_picture_back(opened):
    page = opened.page
    opened.click(2, 2)
    opened.wait_for(with_squares((2, 2)))
    restart_kernel(page)
    opened.click(3, 3)
    banner = opened.painter.locator(".mk-banner")
    banner.filter(has_text="Not connected to Python").wait_for()
    opened.click(4, 4)
    assert opened.kept() == with_squares((2, 2))
    opened.start()
    opened.painter.locator(".mk-note").filter(has_text="Restored your last drawing (1 step to undo).").wait_for()
    opened.press("Undo")
    opened.wait_for(START.split())


@pytest.mark.parametrize("opened", ["light", "dark"], indirect=True)
def test_axe_finds_nothing_against_the_painter(opened):
    opened.page.keyboard.press("Escape")
    opened.click(3, 8)
    opened.page.keyboard.press("?")
    opened.page.keyboard.press("n")
    opened.painter.locator(".mk-preview").wait_for()
    found = Axe().run(opened.page, context=".mk-painter")
    assert [
        (fault["id"], [node["html"][:120] for node in fault["nodes"]]) for fault in found.response["violations"]
    ] == []


def test_in_the_workbook_the_painter_leaves_out_what_the_workbook_has_and_on_a_telephone_the_picture_comes_first(
    open_notebook,
):
    code = f'import mosaickit as mk\nmk.widgets.Workbook(mk.Motif.from_text("""{START}"""), autosave="book.sketch")'
    page = open_notebook("book.ipynb", [code])
    run_all(page)
    page.locator(".mk-book .mk-focus").filter(has_text="Row 1").wait_for()
    painter = page.locator(".mk-book .mk-painter")
    found = Axe().run(page, context=".mk-book .mk-painter")
    faults = [(fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in found.response["violations"]]
    assert faults == []
    for name in ("Undo", "Redo"):
        assert not painter.get_by_text(name, exact=True).is_visible()
        assert page.locator(".mk-book-head").get_by_role("button", name=name).is_visible()
    assert not painter.get_by_label("Second view").is_visible()
    tool, canvas = painter.get_by_role("button", name="Line", exact=True), painter.locator(".mk-canvas")
    assert tool.bounding_box()["y"] < canvas.bounding_box()["y"]
    page.set_viewport_size({"width": 390, "height": 800})
    page.evaluate("jupyterapp.shell.collapseLeft()")
    page.wait_for_function("document.querySelector('.mk-book').clientWidth < 400")
    settle(page)
    at = painter.get_by_role("button", name="Line", exact=True).bounding_box()
    assert at["y"] > canvas.bounding_box()["y"]
    assert min(at["width"], at["height"]) >= 44
    # one row, which scrolls
    tools = painter.locator(".mk-tools")
    assert tools.bounding_box()["height"] < 70
    assert tools.evaluate("it => it.scrollWidth > it.clientWidth && it.clientWidth <= innerWidth")
    found = Axe().run(page, context=".mk-book .mk-painter")
    assert [fault["id"] for fault in found.response["violations"]] == []
