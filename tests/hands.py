"""A hand at the workbook in a real browser: what it presses, fills in and drags is counted; no cell is edited."""

from axe_playwright_python.sync_playwright import Axe
from lab import restart_kernel, run_all, settle

MOST_GESTURES = 40
"""No whole job takes more."""

CELL = "import mosaickit as mk\nbook = mk.widgets.Workbook(autosave='%s')\nbook"


class Gestures:
    """A hand at the workbook's page, which counts what it does."""

    def __init__(self, page):
        self.page, self.count = page, 0

    def step(self, name):
        """Open a step of the job."""
        self.press(name, self.page.get_by_role("navigation", name="Steps of the job"))
        self.page.locator(f"section[aria-label='{name}']").wait_for()

    def press(self, name, within=None, *, exact=True):
        """Press a button."""
        self.count += 1
        (within or self.page.locator(".mk-book")).get_by_role("button", name=name, exact=exact).first.click()

    def fill(self, label, value, within=None):
        """Type into a box and leave it."""
        self.count += 1
        box = self._box(label, within)
        box.fill(str(value))
        box.dispatch_event("change")

    def choose(self, label, option, within=None):
        """Choose from a list, by the words of the option."""
        self.count += 1
        self._box(label, within).select_option(label=option)

    def tick(self, label, within=None):
        """Tick a box."""
        self.count += 1
        self._box(label, within).check()

    def unfold(self, word):
        """Open what is folded behind a word."""
        self.count += 1
        self.page.locator(".mk-work summary", has_text=word).first.click()

    def hand_in(self, file):
        """Choose a file of the device."""
        self.count += 1
        self.page.locator(".mk-work input[type=file]").first.set_input_files(file)

    def drag(self, *places, over=".mk-canvas"):
        """Drag from place to place, each told as parts of the width and height of what is dragged over."""
        self.count += 1
        canvas = self.page.locator(over)
        canvas.scroll_into_view_if_needed()
        box = canvas.bounding_box()
        for number, (x, y) in enumerate(places):
            at = box["x"] + x * box["width"], box["y"] + y * box["height"]
            self.page.mouse.move(*at, steps=4)
            if not number:
                self.page.mouse.down()
        self.page.mouse.up()
        settle(self.page)

    def _box(self, label, within):
        return (within or self.page.locator(".mk-work")).get_by_label(label, exact=True).first


WHERE = """() => {
  const at = document.activeElement;
  const { outlineStyle, outlineWidth } = getComputedStyle(at), box = at.getBoundingClientRect();
  return {
    tag: at.tagName,
    name: (at.getAttribute("aria-label") ?? at.labels?.[0]?.textContent ?? at.textContent).trim().slice(0, 60),
    inside: at !== document.body && Boolean(at.closest(".mk-book")),
    shown: at.matches(":focus-visible") && outlineStyle !== "none" && parseFloat(outlineWidth) >= 1,
    inSight: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
  };
}"""
"""Asks a page what has the keyboard: what it is, whether it is in the workbook, and whether that is to be seen."""


class Keys:
    """A hand that has a keyboard and nothing else. What has the keyboard is looked at after every key."""

    def __init__(self, page):
        self.page, self.count = page, 0

    def at(self):
        """What has the keyboard: something of the workbook that can be seen to have it."""
        where = self.page.evaluate(WHERE)
        assert where["inside"], f"the keyboard is lost to {where}"
        assert where["shown"], f"nothing shows where the keyboard is: {where}"
        assert where["inSight"], f"what has the keyboard is out of sight: {where}"
        return where

    def press(self, *keys):
        """Press keys, one after the other; gives what has the keyboard then."""
        for key in keys:
            self.count += 1
            self.page.keyboard.press(key)
            if "Tab" not in key:
                settle(self.page)
            where = self.at()
        return where

    def to(self, name, *, back=False, most=60):
        """Go on with Tab, or back with Shift and Tab, until what has this name or tag has the keyboard."""
        seen = []
        while not seen or name not in (seen[-1]["name"], seen[-1]["tag"]):
            assert len(seen) < most, f"no way to {name}: {[each['name'] for each in seen]}"
            seen.append(self.press("Shift+Tab" if back else "Tab"))

    def type(self, text):
        """Type a text, in place of what is in the box."""
        self.count += len(text)
        self.page.keyboard.type(text)
        settle(self.page)
        self.at()


def faults_in(page, *parts):
    """What axe finds wrong in parts of the page, each told by a selector: what it is, and the elements."""
    settle(page)
    found = Axe().run(page, context={"include": [[part] for part in parts]})
    return [(one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found.response["violations"]]


def opened(open_notebook, name, cell, *, width=1280, **options):
    """Open a notebook with one cell, run it, and give its page when the workbook is there."""
    page = open_notebook(name, [cell], **options)
    if width < 760:
        page.evaluate("jupyterapp.shell.collapseLeft()")
        page.set_viewport_size({"width": width, "height": 844})
    run_all(page)
    page.locator(".mk-book").wait_for()
    page.wait_for_function("narrow => !narrow || document.querySelector('.mk-book').clientWidth < 400", arg=width < 760)
    return page


def kernel_killed(page):
    """Restart the kernel under the workbook, and run its cell again."""
    restart_kernel(page)
    page.get_by_text("Not connected to Python").first.wait_for()
    run_all(page)
    page.get_by_text("Not connected to Python").first.wait_for(state="detached")
    page.locator(".mk-book").wait_for()


def size(page):
    """The size of the piece as the ledger says it."""
    return page.locator(".mk-ledger .mk-figure").inner_text()


def took(page, name):
    """Wait until the page says that a file of this name, or one that begins so, is saved."""
    page.get_by_text(f"Saved {name}").first.wait_for()
