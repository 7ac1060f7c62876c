"""The web page of a pattern: read by the standard library and by a validator, and worked along with in Chromium."""

import base64
import errno
import hashlib
import json
import os
import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import PATIENCE, need, settle
from samples import letter_f

from mosaickit import Design, Gauge, Publishing, Yarn, Yarns, compile_chart, tile
from mosaickit.errors import FileError, OptionError
from mosaickit.publish import contents, html
from mosaickit.publish.filling import pattern

GAUGE = Gauge(16, 18)
HOSTILE = '</script><b> "x" & \'y\' {{ 1 }} #read("x") $x$ *a* \\'
MOTIF = tile(letter_f, across=5, up=5, colours="swap")
PAGE = pattern(
    compile_chart(MOTIF, reversible=True),
    title="Tidepool scarf",
    gauge=GAUGE,
    intro="Reads from both sides.",
    notes=("Block it wet.",),
    for_children=True,
    level="easy",
    hook_mm=4,
)
ALIKE = Yarns(Yarn("straw <b>", "#d8c27a"), Yarn("sage", "#9fb07f"))
ROUND = pattern(
    compile_chart(letter_f.with_yarns(ALIKE), hand="left", in_the_round=True), title=HOSTILE, gauge=GAUGE, terms="UK"
)
SOLD = replace(
    PAGE,
    publishing=Publishing(
        contact="patterns@tidepool-example.org", copyright_line="© 2026 <b>", published=date(2026, 3, 14),
        notions=["2 stitch markers"], finishing="Weave in.", blocking="Wet.", blocked_cm=(20, 19), language="en-GB",
    ),
)  # fmt: skip
EMPTY = {"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"}


class Read(HTMLParser):
    """The page as elements, (name, attributes, text of it and all within), and as one text."""

    def __init__(self, file):
        super().__init__()
        self.open, self.elements, self.text = [], [], ""
        self.feed(file.read_text("utf-8"))
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag, attributes):
        element = [tag, dict(attributes), ""]
        assert len(attributes) == len(element[1]), (tag, attributes)
        self.elements.append(element)
        if tag not in EMPTY:
            self.open.append(element)

    def handle_startendtag(self, tag, attributes):
        self.elements.append([tag, dict(attributes), ""])

    def handle_endtag(self, tag):
        assert self.open.pop()[0] == tag

    def handle_data(self, data):
        for element in self.open:
            element[2] += data
        self.text += data

    def all(self, tag):
        return [element for element in self.elements if element[0] == tag]


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    return html(PAGE, tmp_path_factory.mktemp("html") / "scarf.html")


@pytest.fixture(scope="module")
def round_file(tmp_path_factory):
    return html(ROUND, tmp_path_factory.mktemp("html") / "cowl.html")


def squeezed(text):
    return " ".join(text.split())


# ---- as text -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["file", "round_file"])
def test_every_row_and_every_step_is_there_in_both_terms(name, request):
    page, found = (PAGE if name == "file" else ROUND), Read(request.getfixturevalue(name))
    lines = [squeezed(text) for _, _, text in found.all("li")]
    steps = [squeezed(text) for _, about, text in found.all("p") if "step" in about.get("class", "")]
    for words in page.instructions:
        for row in words.rows:
            assert squeezed(f"{row.label}: {row.text}. {contents.count(row)}") in lines
        for step in words.steps:
            assert f"{step.text}. {contents.count(step)}" in steps
    assert len(steps) == 2 * page.chart.shape[0]


def test_whatever_else_the_page_says_is_there(file):
    text = squeezed(Read(file).text)
    facts = [said for fact in contents.facts(PAGE, "UK") for said in fact]
    cautions = [said for caution in PAGE.cautions for said in caution]
    special = [said for words in PAGE.instructions for stitch in words.special for said in stitch]
    short = [said for words in PAGE.instructions for pair in words.abbreviations for said in pair]
    yarns = [said for name, amount, _ in contents.yarn_lines(PAGE) for said in (name, amount)]
    for said in (*facts, *cautions, *special, *short, *yarns, *PAGE.notes, PAGE.intro, *PAGE.words.remarks):
        assert said in text, said


def test_the_table_is_that_of_the_page(file):
    found = Read(file)
    rows = [squeezed(text) for tag, _, text in found.elements if tag == "tr"]
    table = contents.row_use(PAGE)
    cells = [text for tag, about, text in found.elements if tag == "td" or about.get("scope") == "row"]
    assert cells == [text for line in table.lines for text in line]
    assert len(rows) == 1 + len(table.lines)


def test_nothing_comes_from_outside_and_the_policy_lets_nothing_else_in(file):
    found = Read(file)
    for tag, about, _ in found.elements:
        assert "style" not in about, tag
        assert not any(name.startswith("on") for name in about), tag
        assert about.get("src", "data:image/").startswith("data:image/"), tag
        assert about.get("href", "#").startswith("#"), tag
    policy = next(about["content"] for _, about, _ in found.all("meta") if "http-equiv" in about)
    assert policy.startswith("default-src 'none'")
    for tag in ("style", "script"):
        ((_, _, text),) = found.all(tag)
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in policy
    # the name of a namespace is no address
    assert re.findall(r"https?://[^\"' ]+", file.read_text("utf-8")) == []


def test_names_within_the_page_are_its_own_and_lead_somewhere(file):
    found = Read(file)
    ids = [about["id"] for _, about, _ in found.elements if "id" in about]
    assert len(ids) == len(set(ids))
    for _, about, _ in found.elements:
        for name in ("href", "for", "aria-labelledby"):
            if name in about:
                assert about[name].lstrip("#") in ids


def test_every_picture_says_what_it_shows(file):
    pictures = [about for _, about, _ in Read(file).all("svg")]
    assert all(len(about.get("aria-label", "")) > 10 or about.get("aria-hidden") == "true" for about in pictures)
    assert any(about.get("aria-label", "").startswith("The stitches over") for about in pictures)


def test_headings_skip_no_level(file):
    levels = [int(tag[1]) for tag, *_ in Read(file).elements if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_markup_of_any_kind_comes_out_as_text(round_file):
    found = Read(round_file)
    assert [text for _, _, text in found.all("title")] == [HOSTILE]
    assert [text for _, _, text in found.all("h1")] == [HOSTILE]
    assert len(found.all("script")) == 1
    assert not found.all("b")
    assert "straw <b>" in found.text


def test_a_page_in_uk_terms_starts_in_them(round_file):
    found = Read(round_file)
    assert found.all("html")[0][1]["data-terms"] == "UK"
    assert [about["value"] for _, about, _ in found.all("input") if "checked" in about] == ["UK", "auto"]


def test_the_same_page_gives_the_same_bytes(file, tmp_path):
    assert html(PAGE, tmp_path / "again.html").read_bytes() == file.read_bytes()


@pytest.mark.parametrize("name", ["page.js", "rows.js", "stitches.js"])
def test_the_scripts_have_no_word_of_the_craft(name):
    script = (Path(contents.__file__).parent / name).read_text("utf-8")
    assert not re.search(r"\b(BLsc|FLdc|tog|sc|dc|MC|CC|stitch|row|crochet)\b", script.partition("\n")[2])


def validator():
    """The Nu HTML checker, where the environment or the node_modules of the project have it, or say what is missing."""
    here = Path(__file__).parent.parent
    places = [os.environ.get("VNU_JAR"), here / "node_modules" / "vnu-jar" / "build" / "dist" / "vnu.jar"]
    jar = next((Path(place) for place in places if place and Path(place).is_file()), None)
    java = shutil.which("java")
    missing = "Java" if not java else "vnu.jar (set VNU_JAR)"
    skipped = f"{missing} is not here: the HTML was not validated."
    need(jar and java, missing, left_out="the validation of HTML", skipped=skipped)
    return [java, "-jar", str(jar)]


@pytest.mark.usefixtures("slow")
def test_the_nu_checker_finds_no_fault(file, round_file, tmp_path):
    led = [html(page, tmp_path / f"{number}.html", guide=True) for number, page in enumerate((PAGE, ROUND))]
    led.append(html(SOLD, tmp_path / "sold.html"))
    # the other ways to set a page: the whole chart alone, and stitches by letters or not marked
    others = {"full": {"in_full": True}, "letters": {"marks": "letters"}, "plain": {"marks": "plain", "guide": True}}
    led += [html(PAGE, tmp_path / f"{name}.html", **options) for name, options in others.items()]
    files = map(str, (file, round_file, *led))
    said = subprocess.run([*validator(), "--format", "json", *files], capture_output=True, text=True, timeout=PATIENCE)
    # it warns of style and script in the file, since it does not look at the policy's hashes: the browser does
    messages = [
        message
        for message in json.loads(said.stderr)["messages"]
        if "violates Content Security Policy" not in message["message"]
    ]
    assert messages == []


# ---- failures ----------------------------------------------------------------------------------------------


def test_what_is_no_page_is_refused(tmp_path):
    with pytest.raises(OptionError, match=r"`page` must be a `Page`, as `mk.pattern` gives; got <Chart"):
        html(PAGE.chart, tmp_path / "x.html")


def test_a_full_disk_or_a_missing_folder_leaves_what_was_there(tmp_path, monkeypatch):
    with pytest.raises(FileError, match=r"'x.html' could not be written, .*: there is no such folder"):
        html(PAGE, tmp_path / "nowhere" / "x.html")
    file = tmp_path / "x.html"
    file.write_bytes(b"the old file")

    def full(_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"'x.html' could not be written, and nothing was changed: the disk is full"):
        html(PAGE, file, replace=True)
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"the old file"]


# ---- in a browser ------------------------------------------------------------------------------------------


class Guide:
    """The page in a browser, and where its guide is."""

    def __init__(self, page, file):
        self.page, self.asked, self.faults = page, [], []
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("console", lambda message: self.faults.append(message.text))
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.goto(file.as_uri())

    @property
    def row(self):
        return int(re.search(r"\d+", self.page.locator("#words strong").inner_text())[0])

    @property
    def done(self):
        return self.page.locator("#count").inner_text()

    def comes_to(self, row):
        self.page.locator("#words strong").filter(has_text=re.compile(rf"^Row {row}$")).wait_for()

    def press(self, *keys):
        for key in keys:
            self.page.keyboard.press(key)

    def marked_row(self):
        """The row whose number stands beside the mark in the chart."""
        top = float(self.page.locator("#mark").get_attribute("y"))
        places = self.page.evaluate(
            "[...document.querySelectorAll('#chart-body text')].filter(t => t.getAttribute('text-anchor') !== 'middle')"
            ".map(t => [Number(t.getAttribute('y')), Number(t.textContent)])"
        )
        (row,) = [number for y, number in places if top < y < top + 16]
        return row


@pytest.fixture
def guide(tab, file, request):
    opened = Guide(tab(**getattr(request, "param", {})), file)
    yield opened
    assert opened.faults == []
    assert set(opened.asked) == {file.as_uri()}


def test_buttons_lead_row_by_row_and_mark_the_row_in_the_chart(guide):
    assert (guide.row, guide.done) == (1, "0 of 35 done")
    assert guide.page.locator("#back").is_disabled()
    for _ in range(4):
        guide.page.click("#next")
    assert (guide.row, guide.done, guide.marked_row()) == (5, "4 of 35 done", 5)
    shown = guide.page.locator("#words .step:visible").inner_text()
    assert shown == f"{PAGE.words.steps[4].text}. (35 sts)"
    assert "MC, cream" in guide.page.locator("#words").inner_text()
    guide.page.click("#back")
    assert (guide.row, guide.done) == (4, "3 of 35 done")


def test_keys_move_on_the_desk_and_leave_fields_and_scrolling_alone(guide):
    guide.page.focus("#desk")
    guide.press("ArrowRight", "ArrowUp", "Space")
    assert guide.row == 4
    guide.press("ArrowLeft", "ArrowDown")
    assert guide.row == 2
    guide.press("End")
    assert (guide.row, guide.done) == (35, "34 of 35 done")
    guide.press("Space")
    assert guide.done == "All 35 done"
    assert guide.page.locator("#next").is_disabled()
    guide.press("ArrowRight", "Home")
    assert guide.row == 1
    guide.press("Control+ArrowRight")
    # a space on a button presses that button, and nothing else
    guide.page.focus("#next")
    guide.press("Space", "ArrowRight")
    assert guide.row == 3
    guide.page.focus("#back")
    guide.press("Space", "Space")
    assert guide.row == 1
    guide.page.focus("#jump")
    guide.press("ArrowUp", "Home")
    assert guide.row == 1
    guide.page.evaluate("document.activeElement.blur()")
    guide.press("ArrowRight", "Space", "End")
    assert guide.row == 2


def test_a_row_is_jumped_to_and_wild_numbers_are_brought_in(guide):
    for wanted, row in (("12", 12), ("99", 35), ("-3", 1), ("", 1), ("7.9", 7)):
        guide.page.fill("#jump", wanted)
        guide.press("Enter")
        assert guide.row == row
    guide.page.fill("#jump", "20")
    guide.page.click("#go")
    assert (guide.row, guide.marked_row()) == (20, 20)
    guide.page.click("#again")
    assert guide.row == 1


def test_the_place_is_remembered_and_hangs_on_the_pattern(guide, tmp_path):
    for _ in range(3):
        guide.page.click("#next")
    guide.page.check("input[value=UK]")
    guide.page.check("input[value=dark]")
    guide.page.reload()
    assert guide.row == 4
    assert guide.page.locator("#words .step:visible").inner_text().startswith("*BLdc")
    assert guide.page.evaluate("document.documentElement.dataset.look") == "dark"
    # another pattern in the same place starts at its own row 1
    guide.page.evaluate("document.documentElement.dataset.pattern = 'another'")
    keys = guide.page.evaluate("Object.keys(localStorage)")
    assert keys == [f"mosaickit-pattern-{PAGE.fingerprint}"]


@pytest.mark.parametrize("kept", ['{"done": 1e9, "terms": "<b>", "look": 3}', "[", "null", '{"done": "x"}'])
def test_whatever_is_found_in_the_store_the_guide_starts(guide, kept):
    key = f"mosaickit-pattern-{PAGE.fingerprint}"
    guide.page.evaluate("([key, kept]) => localStorage.setItem(key, kept)", [key, kept])
    guide.page.reload()
    assert guide.done in ("0 of 35 done", "All 35 done")
    assert guide.page.evaluate("document.documentElement.dataset.terms") == "US"


def test_the_guide_works_where_nothing_may_be_kept(tab, file):
    page = tab()
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('', 'SecurityError'); } });"
    )
    guide = Guide(page, file)
    page.click("#next")
    assert guide.row == 2
    assert guide.faults == []


def swipe(page, across, down=0, place="#words"):
    box = page.locator(place).bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = page.context.new_cdp_session(page)
    for kind, points in (
        ("touchStart", [{"x": x, "y": y}]),
        ("touchMove", [{"x": x + across / 2, "y": y + down / 2}]),
        ("touchMove", [{"x": x + across, "y": y + down}]),
        ("touchEnd", []),
    ):
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


@pytest.mark.parametrize("guide", [{"has_touch": True, "color_scheme": "dark"}], indirect=True)
def test_swipes_turn_rows_on_a_phone_in_the_dark(guide):
    guide.page.set_viewport_size({"width": 390, "height": 844})
    guide.page.locator("#desk").scroll_into_view_if_needed()
    swipe(guide.page, -120)
    guide.comes_to(2)
    swipe(guide.page, 120)
    guide.comes_to(1)
    # up and down is scrolling, and so is along the strip of the chart: the swipe that follows turns one row only
    for across, down, place, row in ((-70, 200, "#desk", 2), (-100, 0, "#strip", 3)):
        guide.page.locator(place).evaluate("it => it.scrollIntoView({ block: 'center' })")
        swipe(guide.page, across, down, place=place)
        guide.page.locator("#desk").scroll_into_view_if_needed()
        swipe(guide.page, -120)
        settle(guide.page)
        assert guide.row == row
    assert guide.page.evaluate("document.documentElement.scrollWidth") == 390
    sizes = guide.page.locator("#desk button").evaluate_all("all => all.map(b => b.getBoundingClientRect().height)")
    assert min(sizes) >= 44


def test_words_longer_than_a_phone_is_wide_are_broken(tab, tmp_path):
    yarns = Yarns(Yarn("w" * 200, "#ffffff"), Yarn("m" * 200, "#000000"))
    page = pattern(compile_chart(letter_f.with_yarns(yarns)), title="W" * 200, gauge=GAUGE, notes=["n" * 500])
    opened = Guide(tab(), html(page, tmp_path / "x.html"))
    opened.page.set_viewport_size({"width": 390, "height": 844})
    assert opened.page.evaluate("document.documentElement.scrollWidth") == 390


def background(page):
    return page.evaluate("getComputedStyle(document.body).backgroundColor")


def test_light_and_dark_follow_the_device_and_the_switch(guide):
    light = background(guide.page)
    guide.page.emulate_media(color_scheme="dark")
    dark = background(guide.page)
    assert light != dark
    guide.page.check("input[value=light]")
    assert background(guide.page) == light
    guide.page.emulate_media(color_scheme="light")
    guide.page.check("input[value=dark]")
    assert background(guide.page) == dark


def test_terms_are_switched_everywhere(guide):
    rows = guide.page.locator(".rows li:visible")
    assert "FLdc" in rows.nth(3).inner_text()
    guide.page.check("input[value=UK]")
    assert "FLtr" in rows.nth(3).inner_text()
    visible = guide.page.locator("main").inner_text()
    assert "Tension" in visible
    assert not re.search(r"\bFLdc\b|\bBLsc\b|\bsc\b|\bGauge\b", visible)


@pytest.mark.parametrize("guide", [{"color_scheme": "dark"}], indirect=True)
def test_print_shows_all_rows_and_no_controls(guide):
    guide.page.click("#next")
    guide.page.emulate_media(media="print", color_scheme="dark")
    for hidden in ("#guide", "#settings", "nav", "#mark"):
        assert not guide.page.locator(hidden).is_visible()
    assert guide.page.locator(".rows li:visible").count() == len(PAGE.words.rows)
    assert guide.page.locator("#sheet svg").is_visible()
    assert guide.page.evaluate("getComputedStyle(document.querySelector('h1')).color") == "rgb(35, 32, 28)"


def test_without_script_it_is_a_plain_document(tab, file):
    page = tab(java_script_enabled=False)
    page.goto(file.as_uri())
    assert page.locator(".rows li:visible").count() == len(PAGE.words.rows)
    for shown in ("#chart", "#faces", "table", "#care"):
        assert page.locator(shown).is_visible()
    for hidden in ("#guide", "#settings", "#to-guide"):
        assert not page.locator(hidden).is_visible()


def test_a_left_hander_in_the_round_is_led_too(tab, round_file):
    page = tab()
    guide = Guide(page, round_file)
    page.click("#next")
    assert (guide.row, guide.marked_row()) == (2, 2)
    assert page.locator("#words strong").inner_text() == "Round 2"
    assert guide.faults == []


@pytest.mark.parametrize(
    "guide",
    [{"color_scheme": scheme, "has_touch": touch} for scheme in ("light", "dark") for touch in (False, True)],
    indirect=True,
)
def test_axe_finds_nothing_against_the_page(guide):
    if guide.page.evaluate("navigator.maxTouchPoints") > 0:
        guide.page.set_viewport_size({"width": 390, "height": 844})
    guide.page.click("#next")
    found = Axe().run(guide.page)
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_chart_is_whole_in_view_or_both_its_ends_can_be_reached(tab, tmp_path, hand):
    # 60 stitches fit on a desk, and the repeat of 7 on a telephone too
    design = Design(letter_f, GAUGE, hand=hand).but(across=8, up=4, colours="swap", edges=2, title="Wide")
    file = html(design.page(), tmp_path / "wide.html")
    page = tab()
    for width, fits in ((1280, {"once": True, "sheet": True}), (390, {"once": True, "sheet": False})):
        page.set_viewport_size({"width": width, "height": 800})
        guide = Guide(page, file)
        page.click("summary")
        page.wait_for_function(
            "document.querySelector('#sheet').clientWidth > 0 && document.querySelector('details').open"
        )
        for name, whole in fits.items():
            sheet, squares = page.locator(f"#{name}"), page.locator(f"#{name} svg")
            sheet.scroll_into_view_if_needed()
            seen = sheet.bounding_box()
            ends = []
            for end in (0, 100_000):
                sheet.evaluate("(sheet, end) => { sheet.scrollLeft = end; }", end)
                drawn = squares.bounding_box()
                ends.append((drawn["x"] >= seen["x"], drawn["x"] + drawn["width"] <= seen["x"] + seen["width"]))
            assert ends[0][0], "the left end can be seen"
            assert ends[1][1], "the right end can be seen"
            assert all(map(all, ends)) == whole
            said = page.locator(f"p:has(+ #{name})")
            assert said.is_visible() == (not whole)
        assert guide.faults == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
