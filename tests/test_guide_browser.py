"""The row guide in a real JupyterLab in a real Chromium: by keys, by touch, after a restart, dark and on a phone."""

import json

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import idle, restart_kernel, run_all, settle, wait_until

CODE = """import mosaickit as mk
from mosaickit.widgets import RowGuide
leaf = mk.Motif.from_text("......\\n######\\n.##.##\\n######\\n......\\n######\\n......", name="leaf")
chart = mk.compile_chart(leaf, reversible=True)
guide = RowGuide(chart, gauge=mk.Gauge(16, 18), place="leaf.place")
guide"""
TIMER = """() => {
  const { setInterval, clearInterval } = window;
  window.ticks = new Map();
  window.setInterval = (step, ms) => {
    if (ms !== 500) return setInterval(step, ms); // another's
    window.ticks.set(-1, step);
    return -1;
  };
  window.clearInterval = (id) => { window.ticks.delete(id); clearInterval(id); };
}"""
VOICES = """() => {
  window.said = [];
  window.voices = [
    { name: "far", lang: "en-GB", localService: false },
    { name: "here", lang: "en-US", localService: true },
  ];
  window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
  speechSynthesis.getVoices = () => window.voices;
  speechSynthesis.speak = (one) => { window.said.push([one.voice.name, one.text]); };
}"""
WHERE = "print('at', guide.at.rows, guide.at.stitches, guide.at.moves)"


@pytest.fixture(params=["light", "dark"])
def opened(open_notebook, lab, request):
    """Run a guide that has no place yet; opened(touch=False) gives the page and the folder."""

    def it(**options):
        (lab.root / "leaf.place").unlink(missing_ok=True)
        page = open_notebook("guide.ipynb", [CODE, WHERE], dark=request.param == "dark", **options)
        run_all(page)
        page.locator(".mk-guide").wait_for()
        idle(page)
        return page, lab.root

    return it


def kept(page, folder, rows, stitches, moves=0):
    """Wait until the page shows a place, and until the file holds it."""
    page.wait_for_function(
        "text => document.querySelector('.mk-count').textContent.startsWith(text)",
        arg=f"{stitches} of 6 stitches done; {rows} of 7 rows done",
    )

    def told():
        file = folder / "leaf.place"
        place = json.loads(file.read_text("utf-8")) if file.exists() else {}
        return [place.get(name) for name in ("rows", "stitches", "moves")]

    wait_until(lambda: told() == [rows, stitches, moves], lambda: f"the place file holds {told()}")


def violations(page):
    found = Axe().run(page, context=".mk-guide")
    return [(fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in found.response["violations"]]


def test_keys_lead_through_the_chart_and_reach_no_cell(opened):
    page, folder = opened()
    cells = page.locator(".jp-Cell").count()
    desk = page.locator(".mk-desk")
    desk.focus()
    for key, place in [
        (" ", (0, 1)), ("ArrowRight", (0, 2)), ("ArrowLeft", (0, 1)), ("End", (0, 5)), (" ", (1, 0)),
        ("ArrowUp", (2, 0)), ("ArrowDown", (1, 0)), ("PageDown", (0, 0)), ("ArrowUp", (1, 0)),
        ("End", (1, 5)), ("Home", (1, 0)),
    ]:  # fmt: skip
        page.keyboard.press(key)
        kept(page, folder, *place)
    # letters that would delete, add or change cells stay here
    for key in ("a", "b", "d", "d", "x", "m", "Enter"):
        page.keyboard.press(key)
    assert page.locator(".jp-Cell").count() == cells
    assert page.locator(".jp-MarkdownCell").count() == 0
    # Tab leaves, Ctrl S saves
    page.keyboard.press("Tab")
    assert not desk.evaluate("desk => desk === document.activeElement")
    desk.focus()
    file = folder / "guide.ipynb"
    before = file.stat().st_mtime_ns
    page.keyboard.press("Control+s")
    wait_until(lambda: file.stat().st_mtime_ns != before, "Ctrl S did not save the notebook")
    page.keyboard.press("PageUp")
    page.locator(".mk-next:disabled").wait_for()
    assert page.locator(".mk-head").inner_text() == "All 7 done"
    assert page.locator(".mk-live").inner_text() == "All rows are done."


def test_words_moves_and_loops_follow_the_stitch(opened):
    page, folder = opened()
    page.locator(".mk-guide").get_by_label("Row", exact=True).fill("6")
    page.get_by_role("button", name="Go", exact=True).click()
    kept(page, folder, 5, 0)
    text = page.locator(".mk-words").inner_text()
    assert "FLdc in" in text
    while "FLdc" not in page.locator(".mk-stitch").inner_text():
        page.get_by_role("button", name="Next").click()
    assert page.locator(".mk-words mark").inner_text().startswith("FLdc in")
    assert page.locator(".mk-loops").all_inner_texts() == [
        f"{loops} {'loop' if loops == 1 else 'loops'} on the hook" for loops in (2, 2, 3, 2, 1)
    ]
    assert page.locator(".mk-drawing svg").count() == 1
    page.locator(".mk-guide").get_by_label("Step").select_option("move")
    page.get_by_role("button", name="Next").click()
    page.get_by_role("button", name="Next").click()
    assert "draw up a loop" in page.locator(".mk-this").inner_text()
    assert page.locator(".mk-live").inner_text().endswith("3 loops on the hook.")
    stitches = int(page.locator(".mk-count").inner_text().split()[0])
    kept(page, folder, 5, stitches, 2)
    # two groups on, and what is painted of the row has the colour of its yarn
    page.locator(".mk-guide").get_by_label("Step").select_option("group")
    page.get_by_role("button", name="Next").click()
    page.wait_for_function("old => document.querySelector('.mk-count').textContent.split(' ')[0] !== old", arg="0")
    page.locator(".mk-guide").get_by_label("Step").select_option("row")
    page.get_by_role("button", name="Next").click()
    kept(page, folder, 6, 0)


def test_a_restarted_kernel_goes_on_where_it_was(opened):
    page, folder = opened()
    page.locator(".mk-desk").focus()
    page.keyboard.press("ArrowUp")
    page.keyboard.press(" ")
    kept(page, folder, 1, 1)
    restart_kernel(page)
    # the page looks alive, and says that no one answers it
    if page.locator(".mk-guide").count():
        page.get_by_role("button", name="Next").click()
        page.locator(".mk-banner", has_text="Not connected to Python").wait_for()
    run_all(page)
    page.locator(".mk-note", has_text="Restored from 'leaf.place'").wait_for()
    page.locator("pre", has_text="at 1 1 0").wait_for()
    kept(page, folder, 1, 1)
    page.get_by_role("button", name="Next").click()
    kept(page, folder, 1, 2)


def test_a_timer_steps_on_without_hands_until_it_is_paused(opened, lab):
    page, folder = opened()
    page.evaluate(TIMER)
    page.get_by_label("Seconds").fill("0.5")
    page.get_by_role("button", name="Start timer").click()
    for stitches in (1, 2):
        page.evaluate("window.ticks.forEach((tick) => tick())")
        kept(page, folder, 0, stitches)
    page.get_by_role("button", name="Pause timer").click()
    assert page.evaluate("window.ticks.size") == 0
    # nothing is read aloud before it is asked for
    assert page.get_by_role("button", name="Read aloud").get_attribute("aria-pressed") == "false"
    page.evaluate(VOICES)
    page.get_by_role("button", name="Next").click()
    assert page.evaluate("window.said") == []
    page.get_by_role("button", name="Read aloud").click()
    page.get_by_role("button", name="Next").click()
    words = page.locator(".mk-live").inner_text()
    assert page.evaluate("window.said.at(-1)") == ["here", words]
    # a voice that needs the network is never asked
    page.evaluate("window.voices.pop()")
    page.get_by_role("button", name="Back").click()
    assert page.evaluate("window.said.at(-1)") == ["here", words]
    assert "no English voice of its own" in page.locator(".mk-live").inner_text()
    lab.forget(page)  # whose clock and voice are not its own


def test_axe_finds_nothing_against_it(opened):
    page, _ = opened()
    page.locator(".mk-guide summary").click()
    page.get_by_role("button", name="Large type").click()
    assert page.locator(".mk-guide").evaluate("guide => getComputedStyle(guide).fontSize") == "23px"
    assert violations(page) == []
    page.locator(".mk-guide").get_by_label("Step").select_option("move")
    assert violations(page) == []


def test_a_finger_on_a_phone_finds_large_buttons(opened):
    page, folder = opened(touch=True)
    page.set_viewport_size({"width": 390, "height": 800})
    # the lab leaves its side bars as they are: the guide alone is laid out for the phone's width
    page.evaluate("document.body.replaceChildren(document.querySelector('.mk-guide'))")
    settle(page)
    assert page.evaluate("document.querySelector('.mk-guide').scrollWidth <= 390")
    box = page.locator(".mk-next").bounding_box()
    assert box["height"] >= 60
    assert box["width"] >= 180
    for button in page.locator(".mk-guide button, .mk-guide select, .mk-guide input").all():
        assert button.bounding_box()["height"] >= 44
    page.locator(".mk-next").tap()
    kept(page, folder, 0, 1)
    page.locator(".mk-guide button", has_text="Back").tap()
    kept(page, folder, 0, 0)
