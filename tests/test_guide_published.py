"""The row guide in a published page, opened from disk in Chromium with the network cut: it needs no Python."""

import json
import re
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import PATIENCE, SIZE
from samples import letter_f

import mosaickit as mk
from mosaickit import Gauge, Stitch, Yarn, Yarns, compile_chart, guiding, tile, write_rows
from mosaickit.errors import OptionError
from mosaickit.fabric import moves
from mosaickit.orientation import square
from mosaickit.publish import html
from mosaickit.publish.filling import pattern
from mosaickit.scripts import one_script
from mosaickit.wording import STITCH_NAMES, STITCH_WORDS

GAUGE = Gauge(16, 18)
MUG = pattern(
    compile_chart(mk.pad(tile(letter_f, across=3), left=2, right=2), reversible=True),
    title="Mug rug",
    gauge=GAUGE,
    repeat=7,
)
ROWS, STITCHES = MUG.chart.shape
HOSTILE = '</script><b> & "x" <!-- <script>'
NAMED = Yarns(Yarn(HOSTILE, "#d8c27a"), Yarn("sage", "#2f4f3f"))
SCRIPT = one_script(Path(mk.__file__).parent / "widgets" / "guide_desk.js")


def page_of(reversible, hand, terms, in_the_round):
    chart = compile_chart(letter_f.with_yarns(NAMED), reversible, hand=hand, in_the_round=in_the_round)
    return pattern(chart, title=f"Cuff {HOSTILE}", gauge=GAUGE, terms=terms)


def laid_out(file):
    (text,) = re.findall(r'<script type="application/json" id="laid-out">(.*?)</script>', file.read_text("utf-8"))
    return json.loads(text)


# ---- as text -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("page", [MUG, page_of(False, "left", "UK", True)], ids=["mug", "cuff"])
def test_the_page_holds_what_python_laid_out_and_the_script_that_ships(page, tmp_path):
    file = html(page, tmp_path / "x.html", guide=True)
    found = laid_out(file)
    assert set(found["terms"]) == {"US", "UK"}
    for terms, own in found["terms"].items():
        data = guiding.steps(page.chart, gauge=GAUGE, terms=terms, repeat=page.repeat)
        assert {**found["shared"], **own} == json.loads(json.dumps(data))
        assert not set(found["shared"]) & set(own)
    text = file.read_text("utf-8")
    assert text.count(f'<script type="module">{SCRIPT}') == 1
    assert text.count("<script") == text.count("</script>") == 2


@pytest.mark.parametrize("repeat", [None, 3])
def test_the_rows_are_in_the_words_of_the_page_also_where_a_motif_repeats(repeat, tmp_path):
    chart = mk.Chart([[0] * 14, [1] * 14, [1, *[1, 1, 2] * 4, 1]], ("MC", "CC", "MC"))
    page = pattern(chart, title="x", gauge=GAUGE, repeat=repeat)
    assert page.words.steps[2].text.startswith("BLsc in next st; *BLsc in next 2 sts, FLdc") == (repeat == 3)
    data = laid_out(html(page, tmp_path / "x.html", guide=True))
    for words in page.instructions:
        own = {**data["shared"], **data["terms"][words.terms]}
        for step, row in zip(words.steps, own["work"], strict=True):
            assert "".join(own["pieces"][piece][0] for piece in own["lines"][row["line"]]["pieces"]) == step.text


def test_the_same_page_gives_the_same_bytes_and_without_a_guide_has_none(tmp_path):
    first = html(MUG, tmp_path / "a.html", guide=True).read_bytes()
    assert html(MUG, tmp_path / "b.html", guide=True).read_bytes() == first
    rows = html(MUG, tmp_path / "c.html").read_text("utf-8")
    assert "mk-guide" not in rows
    assert "laid-out" not in rows


def noise(rows, stitches):
    """A chart in which nothing repeats: the worst that a guide can be given."""
    rng = np.random.default_rng(8)
    made = np.where(np.arange(rows)[:, np.newaxis] > 1, rng.random((rows, stitches)) < 0.4, False)
    for row in range(1, rows):
        made[row] &= ~made[row - 1]
    made[-1] = False
    stitches = np.where(made, Stitch.FLDC, Stitch.BLSC)
    stitches[0] = Stitch.SC
    return mk.Chart(stitches, tuple(("MC", "CC")[row % 2] for row in range(rows)))


@pytest.mark.parametrize("chart", ["motif", "noise"])
def test_a_guide_to_a_large_chart_makes_the_page_little_larger(chart, tmp_path):
    if chart == "motif":
        chart = compile_chart(tile(letter_f, across=28, up=14, colours="swap"), reversible=True)
    else:
        chart = noise(40, 80)
    page = pattern(chart, title="x", gauge=GAUGE)
    rows, led = (html(page, tmp_path / f"{guide}.html", guide=guide).stat().st_size for guide in (False, True))
    assert led < 1.25 * rows


def test_a_chart_too_large_for_a_guide_is_refused_and_nothing_is_written(tmp_path, monkeypatch):
    monkeypatch.setattr("mosaickit.guiding.data.MOST_STITCHES", 100)
    with pytest.raises(OptionError, match="A guide leads through at most 100 stitches"):
        html(MUG, tmp_path / "x.html", guide=True)
    assert list(tmp_path.iterdir()) == []


# ---- in a browser ------------------------------------------------------------------------------------------


class Led:
    """A published page in a browser, and where its guide is."""

    def __init__(self, context, page, file):
        self.asked, self.faults = [], []
        self.tab = context.new_page()
        self.tab.set_default_timeout(PATIENCE * 1000)
        self.tab.on("request", lambda request: self.asked.append(request.url))
        self.tab.on("console", lambda message: self.faults.append(message.text))
        self.tab.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page, self.file = page, file
        self.tab.goto(file.as_uri())

    def text(self, selector):
        return self.tab.locator(f"#along {selector}").inner_text()

    @property
    def at(self):
        """Rows and stitches that are done."""
        stitches, rows = re.match(r"(\d+) of \d+ stitches done; (\d+) of", self.text(".mk-count")).groups()
        return int(rows), int(stitches)

    def button(self, name):
        return self.tab.locator("#along").get_by_role("button", name=name, exact=True)

    def choose(self, label, value):
        self.tab.locator("#along label", has_text=re.compile(f"^{label} ")).locator("select").select_option(value)

    def press(self, *keys):
        self.tab.locator("#along .mk-desk").focus()
        for key in keys:
            self.tab.keyboard.press(key)

    def jump(self, row):
        word = "Round" if self.page.chart.in_the_round else "Row"
        self.tab.locator("#along").get_by_label(word, exact=True).fill(str(row))
        self.button("Go").click()

    def violations(self):
        found = Axe().run(self.tab, context="#guide")
        return [(each["id"], [node["html"][:160] for node in each["nodes"]]) for each in found.response["violations"]]


@pytest.fixture
def profile(browser):
    """Make fresh profiles without network; what they open asks for nothing and complains of nothing."""
    contexts, opened = [], []

    def fresh(*, refuse="", **options):
        contexts.append(browser.new_context(**{"viewport": SIZE} | options))
        contexts[-1].route(re.compile(r"^(?!file:)"), lambda route: route.abort())
        contexts[-1].set_offline(True)
        if refuse:
            contexts[-1].add_init_script(refuse)

        def open_page(page, file):
            opened.append(Led(contexts[-1], page, html(page, file, guide=True)))
            return opened[-1]

        return open_page

    yield fresh
    for led in opened:
        assert led.faults == []
        assert set(led.asked) == {led.file.as_uri()}
    for context in contexts:
        context.close()


@pytest.fixture
def led(profile, tmp_path):
    return profile()(MUG, tmp_path / "mug.html")


def test_keys_step_and_the_row_is_marked_in_the_chart(led):
    led.press("ArrowRight", "Space")
    assert led.at == (0, 2)
    led.press("ArrowUp", "End", "Space", "ArrowLeft")
    assert led.at == (1, STITCHES - 1)
    mark = led.tab.locator("#mark")
    assert float(mark.get_attribute("y")) == 1 + 16 * (ROWS - 2)
    assert mark.is_visible()
    led.press("PageUp")
    assert led.text(".mk-head") == f"All {ROWS} done"
    assert not mark.is_visible()
    led.press("ArrowLeft")
    assert led.at == (ROWS - 1, STITCHES - 1)
    assert mark.is_visible()


def test_a_finger_steps_on_a_phone(profile, tmp_path):
    led = profile(has_touch=True, viewport={"width": 390, "height": 844})(MUG, tmp_path / "mug.html")
    led.button("Next").tap()
    led.button("Next").tap()
    led.button("Back").tap()
    assert led.at == (0, 1)
    assert led.tab.evaluate("document.documentElement.scrollWidth") == 390
    for control in led.tab.locator("#along button, #along select, #along input").all():
        assert control.bounding_box()["height"] >= 44


def test_the_place_and_the_manner_are_there_after_a_reload(led):
    led.jump(6)
    led.press("ArrowRight", "ArrowRight", "ArrowRight")
    led.choose("Step", "move")
    led.choose("Words", "1")
    led.press("ArrowRight")
    led.button("Large type").click()
    assert led.text(".mk-note").startswith("Your place is kept on this device, in this browser.")
    before = led.text(".mk-desk")
    led.tab.reload()
    assert led.at == (5, 3)
    assert led.text(".mk-desk") == before
    assert led.tab.locator("#along .mk-this").count() == 1
    assert led.button("Large type").get_attribute("aria-pressed") == "true"
    assert led.tab.evaluate("Object.keys(localStorage).sort()") == [
        f"mosaickit-place-{MUG.fingerprint}",
        f"mosaickit-place-{MUG.fingerprint}-manner",
    ]


def test_patterns_keep_their_places_apart_and_windows_of_one_pattern_share_it(profile, tmp_path):
    open_page = profile()
    mug = open_page(MUG, tmp_path / "mug.html")
    cuff = open_page(pattern(MUG.chart, title="Cuff", gauge=GAUGE), tmp_path / "cuff.html")
    mug.jump(4)
    cuff.press("ArrowRight")
    for one, at in ((mug, (3, 0)), (cuff, (0, 1))):
        one.tab.reload()
        assert one.at == at
    again = open_page(MUG, tmp_path / "copy.html")
    assert again.at == (3, 0)
    again.press("ArrowUp")
    mug.tab.wait_for_function("document.querySelector('.mk-head').textContent.startsWith('Row 5 of')")
    assert mug.at == (4, 0)
    assert float(mug.tab.locator("#mark").get_attribute("y")) == 1 + 16 * (ROWS - 5)


REFUSED = {
    "closed": "Object.defineProperty(window, 'localStorage', "
    "{ get() { throw new DOMException('', 'SecurityError'); } });",
    "full": "Storage.prototype.setItem = () => { throw new DOMException('', 'QuotaExceededError'); };",
}


@pytest.mark.parametrize("how", REFUSED)
def test_where_nothing_may_be_kept_the_guide_works_and_says_so(profile, tmp_path, how):
    led = profile(refuse=REFUSED[how])(MUG, tmp_path / "mug.html")
    assert led.text(".mk-banner").startswith("This browser keeps nothing for this page")
    led.jump(3)
    led.press("ArrowRight")
    # also over a change of terms, which lays the guide out again
    led.tab.check("input[value=UK]")
    assert led.at == (2, 1)
    assert led.text(".mk-banner").startswith("This browser keeps nothing for this page")
    assert led.text(".mk-note") == ""
    led.tab.reload()
    assert led.at == (0, 0)


@pytest.mark.parametrize("spoilt", ["[", "null", '{"rows": 1e9}', '{"rows": 2, "stitches": "<b>", "moves": 0}', "7"])
def test_whatever_is_found_in_the_store_the_guide_starts(led, spoilt):
    for ending in ("", "-manner"):
        key = f"mosaickit-place-{MUG.fingerprint}{ending}"
        led.tab.evaluate("([key, spoilt]) => localStorage.setItem(key, spoilt)", [key, spoilt])
    led.tab.reload()
    assert led.at == (0, 0)
    led.press("ArrowRight")
    assert led.at == (0, 1)


@pytest.mark.parametrize(
    ("reversible", "hand", "terms", "in_the_round"),
    [
        (True, "right", "US", False),
        (True, "left", "UK", True),
        (False, "left", "US", False),
        (False, "right", "UK", True),
    ],
)
def test_it_says_at_every_row_what_the_chart_says(profile, tmp_path, reversible, hand, terms, in_the_round):
    page = page_of(reversible, hand, terms, in_the_round)
    led = profile()(page, tmp_path / "cuff.html")
    chart, what = page.chart, "Round" if in_the_round else "Row"
    short, plain = (write_rows(chart, terms=terms, style=style) for style in ("short", "plain words"))
    for row in range(1, chart.shape[0] + 1):
        led.jump(row)
        led.press("ArrowRight", "ArrowRight")
        kind = chart.stitches[row - 1, 2]
        role = chart.row_colours[row - 1]
        assert led.text(".mk-head") == f"{what} {row} of {chart.shape[0]}: {chart.yarns.at(row, role).name} ({role})"
        assert led.text(".mk-stitch") == f"Stitch 3: {STITCH_NAMES[terms][kind]}, {STITCH_WORDS[terms][kind]}"
        assert [int(said.split()[0]) for said in led.tab.locator(".mk-loops").all_inner_texts()] == [
            move.loops for move in moves(Stitch(kind))
        ]
        for style, written, names in (("0", short, STITCH_NAMES), ("1", plain, STITCH_WORDS)):
            led.choose("Words", style)
            line = next(line for line in written.lines if row in line.numbers)
            if line.repeats is None:
                assert led.text(".mk-words") == line.text
            assert led.text(".mk-words mark").startswith(names[terms][kind])
    # two stitches of the last row are painted on the front, from the edge where this hand starts
    _, first = square(1, 1, chart.shape, hand)
    shown = led.tab.locator("#along canvas").first.evaluate(
        """(canvas, [column, count]) => {
          const x = (column + 0.5) * canvas.width / count, y = canvas.height / count / 2;
          return canvas.getContext("2d").getImageData(x, y, 1, 1).data[3];
        }""",
        [first, chart.shape[1]],
    )
    assert shown == 255


def test_terms_are_switched_and_the_place_stays(led):
    led.jump(4)
    while "FLdc" not in led.text(".mk-stitch"):
        led.press("ArrowRight")
    at = led.at
    led.tab.check("input[value=UK]")
    assert led.at == at
    assert "FLtr, front loop treble" in led.text(".mk-stitch")
    led.tab.locator("#along summary").click()
    assert not re.search(r"\bFLdc\b|\bBLsc\b|\bsc\b|\bskip\b", led.text(".mk-guide"), re.IGNORECASE)
    led.tab.check("input[value=US]")
    assert led.tab.locator("#along .mk-guide").count() == 1


def test_without_script_it_is_the_same_plain_document(browser, tmp_path):
    files = [html(MUG, tmp_path / f"{guide}.html", guide=guide) for guide in (False, True)]
    context = browser.new_context(java_script_enabled=False)
    texts = []
    for file in files:
        tab = context.new_page()
        tab.goto(file.as_uri())
        assert not tab.locator("#guide").is_visible()
        assert tab.locator("#chart").is_visible()
        texts.append(tab.locator("body").inner_text())
    context.close()
    assert texts[0] == texts[1]
    assert all(row.text in texts[1] for row in MUG.words.rows)


def test_print_leaves_the_guide_out(led):
    led.tab.emulate_media(media="print")
    for hidden in ("#guide", "#settings", "#mark"):
        assert not led.tab.locator(hidden).is_visible()
    assert led.tab.locator(".rows li:visible").count() == len(MUG.words.rows)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_axe_finds_nothing_against_it(profile, tmp_path, scheme, width):
    led = profile(color_scheme=scheme, viewport={"width": width, "height": 1000})(MUG, tmp_path / "mug.html")
    led.jump(4)
    led.tab.locator("#along summary").click()
    assert led.violations() == []
    led.choose("Step", "move")
    led.button("Large type").click()
    assert led.violations() == []
    assert led.tab.evaluate("document.documentElement.scrollWidth") == width
