"""A notebook shared as one file: it holds what the notebook showed, asks no one for anything, and is for everyone."""

import base64
import errno
import json
import os
import re
from io import BytesIO
from itertools import pairwise, product

import nbformat
import numpy as np
import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st
from lab import in_files, settle
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output
from PIL import Image

import mosaickit as mk
from mosaickit.errors import FileError, NotebookError, OptionError
from mosaickit.sharing import share
from mosaickit.sharing.tidy import Tidier

PIXEL = base64.b64encode(
    bytes.fromhex(
        "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c4944415408d763f8cfc0000003010100"
        "c9fe92ef0000000049454e44ae426082"
    )
).decode("ascii")
LESSON = [
    "# Lesson\n\nA leaf, *worked*.\n\n## A figure",
    "%matplotlib inline\nimport matplotlib.pyplot as plt\nimport mosaickit as mk\nimport ipywidgets\n"
    "leaf = mk.Motif.from_text('....\\n####\\n.##.\\n####\\n....', name='leaf')\nmk.draw.chart(leaf)\nplt.show()\nleaf",
    "## A table",
    "print('counted')\nmk.tables.count(mk.compile_chart(leaf))",
    "## A painter",
    "mk.widgets.MotifPainter(leaf)",
    "## Sliders",
    "from mosaickit.widgets.slider import Slider\n"
    "own = Slider('Width in cm', 20, least=2, most=200)\n"
    "ipywidgets.VBox([own, ipywidgets.IntSlider(7, description='Rows'),"
    " ipywidgets.HTML('<b>bold</b>'), ipywidgets.Label('<plain>'),"
    ' ipywidgets.HTML(\'<svg viewBox="0 0 900 9" width="900" height="9" role="img" aria-label="band"></svg>\')])',
]


def write(folder, cells, name="lesson.ipynb", **metadata):
    """Write a notebook; texts that begin with # are markdown."""
    made = [
        cell if not isinstance(cell, str) else new_markdown_cell(cell) if cell.startswith("#") else new_code_cell(cell)
        for cell in cells
    ]
    for number, cell in enumerate(made):
        cell["id"] = f"cell-{number}"
    kernel = {"display_name": "Python 3", "language": "python", "name": "python3"}
    notebook = new_notebook(cells=made, metadata={"kernelspec": kernel} | metadata)
    nbformat.write(notebook, folder / name)
    return folder / name


def ran(source, *outputs):
    """A code cell that was run, with these outputs: each a dict of data, or an output."""
    made = [new_output("display_data", one) if "output_type" not in one else one for one in outputs]
    return new_code_cell(source, outputs=made, execution_count=1)


def read(file):
    return BeautifulSoup(file.read_text("utf-8"), "html.parser")


def shared(folder, cells, metadata=None, **options):
    return share(write(folder, cells, **(metadata or {})), folder / "lesson.html", **options).path


@pytest.fixture
def opened(quiet_page):
    """Open a file in Chromium from disk; it fails if the page asks the network or complains."""

    def it(file, **options):
        return quiet_page(file.absolute().as_uri(), in_files, **options)

    return it


@pytest.fixture
def asked(tab):
    """Open a file that may try to load things; gives its page and the addresses that it asked for."""

    def it(file):
        page, addresses = tab(), []
        page.context.route("http**/*", lambda route: (addresses.append(route.request.url), route.abort()))
        page.goto(file.absolute().as_uri())
        settle(page)
        return page, addresses

    return it


def faults(page):
    violations = Axe().run(page).response["violations"]
    return [(fault["id"], [node["html"][:160] for node in fault["nodes"]]) for fault in violations]


def ink(page, locator):
    """The share of pixels of an element that are not of its commonest colour."""
    picture = np.asarray(Image.open(BytesIO(locator.screenshot())).convert("RGB")).reshape(-1, 3)
    counts = np.unique(picture, axis=0, return_counts=True)[1]
    return 1 - counts.max() / counts.sum()


@pytest.fixture(scope="module")
def lesson(slow, tmp_path_factory):
    """A notebook that was run while it was shared: the notebook and the page."""
    folder = tmp_path_factory.mktemp("lesson")
    file = write(folder, LESSON)
    return file, share(file, folder / "lesson.html").path


# ---- a notebook that was run -------------------------------------------------------------------------------


def test_figure_table_text_and_code_are_there(lesson):
    page = read(lesson[1])
    assert page.title.string == "Lesson"
    assert page.html["lang"] == "en"
    assert [heading.get_text() for heading in page.find_all("h2")] == ["A figure", "A table", "A painter", "Sliders"]
    figure, leaf = page.find_all("img", class_="picture")
    assert figure["src"].startswith("data:image/png;base64,")
    assert figure["alt"] == "Figure 1, under “A figure”"
    assert leaf["src"].startswith("data:image/svg+xml;base64,")
    assert leaf["alt"].startswith("leaf: 5 rows × 4 stitches, row 1 in MC")
    assert "counted" in page.find("pre", class_="stdout").get_text()
    expected = mk.tables.count(mk.compile_chart(mk.Motif.from_text("....\n####\n.##.\n####\n....")))
    cells = [[cell.get_text() for cell in row.find_all("td")] for row in page.find("table").find_all("tr")[-6:]]
    assert [row[-1] for row in cells] == [str(value) for value in expected["stitches"]]
    assert "mk.draw.chart(leaf)" in page.find("div", class_="highlight").get_text()


def test_it_opens_from_disk_without_the_network_for_everyone(opened, lesson):
    with opened(lesson[1]) as page:
        page.locator(".mk-picture-alone .mk-canvas").wait_for()
        for (scheme, ground), width in product({"light": 255, "dark": 23}.items(), (390, 1280)):
            page.emulate_media(color_scheme=scheme)
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate("getComputedStyle(document.body).backgroundColor").startswith(f"rgb({ground},")
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (scheme, width)
            assert faults(page) == [], (scheme, width)


def test_widgets_are_alive_as_far_as_they_need_no_python(opened, lesson):
    with opened(lesson[1]) as page:
        canvas = page.locator(".mk-canvas")
        canvas.wait_for()
        assert ink(page, canvas) > 0.2
        page.locator("text=To paint, open the notebook: here the picture is as it was.").wait_for()
        assert page.get_by_role("button").all_inner_texts() == ["Smaller", "Larger"], "nothing paints"
        assert page.locator("input, select").count() == 0, "nobody follows a slider"
        assert page.locator(".setting").all_inner_texts() == ["Width in cm: 20", "Rows: 7"]
        assert page.locator(".widget b").inner_text() == "bold"
        assert page.locator(".widget span", has_text="<plain>").count() == 1


def test_the_notebook_is_not_changed_and_the_same_run_gives_the_same_bytes(lesson, tmp_path):
    file, page = lesson
    assert all(not cell.get("outputs") for cell in nbformat.read(file, 4).cells)
    again = share(file, tmp_path / "again.html").path
    assert again.read_bytes() == page.read_bytes()


# ---- what is left out, and said ----------------------------------------------------------------------------


def test_nothing_is_loaded_from_elsewhere_and_what_is_missing_is_said(asked, tmp_path):
    html = (
        '<script src="https://far.invalid/a.js"></script><img src="https://far.invalid/b.png" alt="a lighthouse">'
        '<iframe src="https://far.invalid"></iframe><link rel="stylesheet" href="https://far.invalid/c.css">'
        "<style>@import 'https://far.invalid/d.css'; p { background: url(https://far.invalid/e.png) }</style>"
        '<p style="background:url(\'https://far.invalid/f.png\')">kept</p><meta http-equiv="refresh" content="0;url=/">'
        '<img src="gone.png"><svg><image href="https://far.invalid/g.png"/></svg><p onclick="alert(1)">also kept</p>'
    )
    text = f"# Far\n\n![a shore](https://far.invalid/h.png) [see](https://far.invalid) [beside](other.md)\n\n{html}"
    file = shared(
        tmp_path, [text, ran("show()", {"text/html": html}, {"image/svg+xml": "<svg><script>x</script></svg>"})]
    )
    page = read(file)
    assert page.get_text().count("Picture that is not in this file: a lighthouse") == 2
    assert "Picture that is not in this file: a shore" in page.get_text()
    assert page.get_text().count("needs a script or the network, and is left out") == 4
    assert page.get_text().count("also kept") == 2
    assert [link["href"] for link in page.find_all("a")] == ["https://far.invalid"]
    page, addresses = asked(file)
    assert page.locator("text=also kept").count() == 2
    settle(page)
    assert addresses == []


def test_pictures_beside_the_notebook_and_attached_to_it_are_put_into_the_page(tmp_path):
    (tmp_path / "pixel.png").write_bytes(base64.b64decode(PIXEL))
    attached = new_markdown_cell("![held](attachment:a.png)", attachments={"a.png": {"image/png": PIXEL}})
    page = read(shared(tmp_path, ["# One\n\n![beside](pixel.png)", attached]))
    assert [(image["alt"], image["src"]) for image in page.find_all("img")] == [
        ("beside", f"data:image/png;base64,{PIXEL}"),
        ("held", f"data:image/png;base64,{PIXEL}"),
    ]


def test_the_richest_form_that_needs_nobody_is_shown(tmp_path):
    outputs = [
        {"text/plain": "poor", "text/html": "<i>rich</i>"},
        {"text/plain": "poor", "image/png": PIXEL},
        {"text/markdown": "# Deep\n\n*slanted*", "text/plain": "poor"},
        {"text/plain": "<only & this>"},
        new_output("stream", name="stderr", text="careful"),
        new_output("error", ename="E", evalue="v", traceback=["\x1b[31mE\x1b[0m: v <x>"]),
        {"application/javascript": "alert(1)"},
    ]
    page = read(shared(tmp_path, ["# One", ran("show()", *outputs)]))
    text = page.main.get_text()
    assert "poor" not in text
    assert "alert" not in text
    for kept in ("rich", "slanted", "<only & this>", "careful", "E: v <x>"):
        assert kept in text


@pytest.mark.parametrize("code", [True, False])
def test_code_is_shown_folded_or_left_out(tmp_path, code):
    folded = ran("secret = 1", {"text/plain": "one"})
    folded.metadata["jupyter"] = {"source_hidden": True}
    page = read(shared(tmp_path, ["# One", ran("plain = 2", {"text/plain": "two"}), folded], code=code))
    shown = [block.get_text().strip() for block in page.find_all("div", class_="highlight")]
    assert shown == (["plain = 2", "secret = 1"] if code else [])
    assert [details.get_text().split() for details in page.find_all("details")] == (
        [["Codesecret", "=", "1"]] if code else []
    )
    assert {"one", "two"} <= set(page.main.get_text().split())


def test_a_hidden_solution_is_folded_under_its_own_name(tmp_path):
    solution = ran("answer = 7", {"text/plain": "seven"})
    solution.metadata |= {"tags": ["solution"], "jupyter": {"source_hidden": True}}
    page = read(shared(tmp_path, ["# One", solution]))
    assert page.find("summary").get_text() == "A solution"


# ---- for everyone ------------------------------------------------------------------------------------------


@given(st.lists(st.tuples(st.integers(1, 6), st.sampled_from("abcdef")), min_size=1, max_size=8))
def test_headings_run_from_one_without_gaps(headings):
    tidier = Tidier()
    html = "".join(tidier.tidy(f'<h{level} id="{word}">{word}</h{level}>') for level, word in headings)
    found = BeautifulSoup(html, "html.parser").find_all(re.compile("^h[1-6]$"))
    levels = [0, *(int(heading.name[1]) for heading in found)]
    assert [heading.get_text() for heading in found] == [word for _, word in headings]
    assert levels[1] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert all(level <= asked for level, (asked, _) in zip(levels[1:], headings, strict=True))
    ids = [heading["id"] for heading in found if heading.get("id")]
    assert len(ids) == len(set(ids)) == len({word for _, word in headings})


@given(st.lists(st.integers(0, 2), max_size=8))
def test_headings_that_run_well_are_left_as_they_are(steps):
    levels = [1]
    for step in steps:
        levels.append(max(1, min(6, levels[-1] + 1 - step)))
    html = "".join(f"<h{level}>x</h{level}>" for level in levels)
    assert Tidier().tidy(html) == html


def test_a_notebook_without_a_heading_is_called_as_its_file(tmp_path):
    page = read(shared(tmp_path, [ran("1", {"text/plain": "1"})]))
    assert (page.title.string, page.h1.string) == ("lesson", "lesson")


def test_heads_of_tables_say_what_they_are_heads_of():
    head, body = "<tr><th></th><th>a</th></tr>", "<tr><th>1</th><td>2</td></tr>"
    table = f"<table border=1><thead>{head}</thead><tbody>{body}</tbody></table>"
    soup = BeautifulSoup(Tidier().tidy(table), "html.parser")
    assert [(head.get_text(), head["scope"]) for head in soup.find_all("th")] == [("a", "col"), ("1", "row")]
    assert soup.div["tabindex"] == "0"


def test_the_words_of_a_picture_are_what_is_known_of_it(tmp_path):
    told = new_output("display_data", {"image/png": PIXEL}, metadata={"image/png": {"alt": 'a "leaf" & <stem>'}})
    titled = {"image/svg+xml": "<svg width='9' height='9'><title>one &amp; &quot;two&quot;</title></svg>"}
    page = read(shared(tmp_path, ["# Boats & <i>ships</i>", ran("show()", told, titled, {"image/png": PIXEL})]))
    assert [image["alt"] for image in page.find_all("img")] == [
        'a "leaf" & <stem>',
        'one & "two"',
        "Figure 3, under “Boats & ships”",
    ]
    svg = base64.b64decode(page.find_all("img")[1]["src"].partition(",")[2]).decode("utf-8")
    assert svg.startswith('<svg xmlns="http://www.w3.org/2000/svg" width='), "without its name it would be no picture"


# ---- widgets that were saved -------------------------------------------------------------------------------


def states(**models):
    """Metadata of a notebook that holds the states of widgets: name=(kind, state, buffers)."""
    known = {
        name: {
            "model_name": kind,
            "model_module": "anywidget" if kind == "AnyModel" else "@jupyter-widgets/controls",
            "model_module_version": "2.0.0",
            "state": state,
            "buffers": [
                {"path": path, "encoding": "base64", "data": base64.b64encode(data).decode("ascii")}
                for path, data in buffers
            ],
        }
        for name, (kind, state, *rest) in models.items()
        for buffers in [rest[0] if rest else []]
    }
    saved = {"version_major": 2, "version_minor": 0, "state": known}
    return {"widgets": {"application/vnd.jupyter.widget-state+json": saved}}


def view(name, **data):
    return {
        "application/vnd.jupyter.widget-view+json": {"model_id": name, "version_major": 2},
        "text/plain": "W()",
    } | data


STILL = {
    "Yarn: linen": ("DropdownModel", {"description": "Yarn", "index": 1, "_options_labels": ["moss", "linen"]}),
    "Yarns: moss, linen": (
        "SelectMultipleModel",
        {"description": "Yarns", "index": [0, 1], "_options_labels": ["moss", "linen"]},
    ),
    "Yarn: nothing": ("RadioButtonsModel", {"description": "Yarn", "index": None, "_options_labels": ["moss"]}),
    "Rows: 7": ("IntSliderModel", {"description": "Rows", "value": 7}),
    "Width: 2.5 to 4": ("FloatRangeSliderModel", {"description": "Width", "value": [2.5, 4.0]}),
    "Framed: yes": ("CheckboxModel", {"description": "Framed", "value": True}),
    "Name: <b>": ("TextModel", {"description": "Name", "value": "<b>"}),
    "<i>said</i>": ("LabelModel", {"value": "<i>said</i>"}),
    "told": ("HTMLModel", {"value": "<i>told</i>"}),
    "printed": ("OutputModel", {"outputs": [{"output_type": "stream", "name": "stdout", "text": "printed"}]}),
}


@pytest.mark.parametrize("text", STILL)
def test_a_widget_that_needs_python_stands_as_it_was(tmp_path, text):
    page = read(shared(tmp_path, ["# W", ran("w", view("w"))], states(w=STILL[text])))
    assert page.find("div", class_="widget").get_text().strip() == text


def test_a_button_that_only_python_hears_is_left_out(tmp_path):
    held = states(
        box=("HBoxModel", {"children": ["IPY_MODEL_save", "IPY_MODEL_said"]}),
        save=("ButtonModel", {"description": "Save"}),
        said=("LabelModel", {"value": "nothing saved yet"}),
    )
    page = read(shared(tmp_path, ["# W", ran("w", view("box"))], held))
    assert page.find("div", class_="widget").get_text() == "nothing saved yet"
    assert page.find("button") is None


def test_boxes_hold_what_they_held_and_leave_out_what_was_hidden(tmp_path):
    held = states(
        box=("VBoxModel", {"children": ["IPY_MODEL_tabs", "IPY_MODEL_hidden", "IPY_MODEL_picture"]}),
        tabs=("TabModel", {"children": ["IPY_MODEL_a", "IPY_MODEL_b"], "titles": ["First", ""]}),
        a=("LabelModel", {"value": "in first"}),
        b=("LabelModel", {"value": "in second"}),
        hidden=("LabelModel", {"value": "unseen", "layout": "IPY_MODEL_away"}),
        away=("LayoutModel", {"display": "none"}),
        picture=("ImageModel", {"format": "png", "description": "a pixel"}, [(["value"], base64.b64decode(PIXEL))]),
    )
    page = read(shared(tmp_path, ["# W", ran("w", view("box"))], held))
    widget = page.find("div", class_="widget")
    assert [text.get_text() for text in widget.find_all(["strong", "span"])] == [
        "First",
        "in first",
        "Part 2",
        "in second",
    ]
    assert (widget.img["alt"], widget.img["src"]) == ("a pixel", f"data:image/png;base64,{PIXEL}")


def test_a_figure_with_tools_shows_its_last_picture(tmp_path):
    held = states(w=("MPLCanvasModel", {"_data_url": f"data:image/png;base64,{PIXEL}", "_figure_label": "Figure 1"}))
    page = read(shared(tmp_path, ["# W", ran("w", view("w"))], held))
    assert page.img["alt"] == "Figure 1"


def test_a_widget_of_which_nothing_is_known_shows_its_picture_or_says_so(tmp_path):
    svg = "<svg xmlns='http://www.w3.org/2000/svg'><title>still</title></svg>"
    page = read(shared(tmp_path, ["# W", ran("w", view("gone"), view("gone", **{"image/svg+xml": svg}))], run=False))
    assert "A widget was here. What it showed was not saved with the notebook" in page.main.get_text()
    assert page.img["alt"] == "still"
    assert "W()" not in page.main.get_text()


PAGE = """
function tell(el, words) { const p = document.createElement("p"); p.textContent = words; el.append(p); }
export default {
  initialize({ model }) { model.set("begun", (model.get("begun") ?? 0) + 1); },
  render({ model, el, signal }) {
    const bytes = model.get("cells");
    tell(el, `bytes ${bytes.byteLength} ${bytes.getUint8(1)}; begun ${model.get("begun")}; ${signal.aborted}`);
    const button = document.createElement("button");
    button.textContent = "more";
    button.onclick = () => {
      model.set("count", model.get("count") + 1);
      model.save_changes();
      model.send({ hello: 1 });
    };
    el.append(button);
    const heard = () => tell(el, `count ${model.get("count")}`);
    const once = () => { tell(el, "once"); model.off("change:count", once); };
    model.on("change:count change:other", heard);
    model.on("change:count", once);
    model.on("msg:custom", () => tell(el, "an answer from nowhere"));
  },
};
"""


def test_the_page_of_a_widget_finds_its_model(opened, tmp_path):
    held = states(
        w=("AnyModel", {"_esm": PAGE, "_css": "button { color: #000 }", "count": 3}, [(["cells"], b"\1\2\3")])
    )
    file = shared(tmp_path, ["# W", ran("w", view("w"), view("w"))], held)
    with opened(file) as page:
        places = page.locator(".live")
        places.nth(1).locator("button").wait_for()
        for place in places.all():
            assert place.locator("p").first.inner_text() == "bytes 3 2; begun 1; false"
        places.nth(0).locator("button").click()
        places.nth(1).locator("button").click()
        for place in places.all():  # both are views of one widget
            assert place.locator("p").all_inner_texts()[1:] == ["count 4", "once", "count 5"]
        assert faults(page) == []


@pytest.mark.parametrize(
    "text",
    [
        'import far from "https://far.invalid/x.js"; export default {}',
        'export default { async render() { await fetch("https://far.invalid/y") } }',
        "export default { render() { throw new Error() } }",
    ],
)
def test_a_widget_that_cannot_be_drawn_says_so(asked, tmp_path, text):
    file = shared(tmp_path, ["# W", ran("w", view("w"))], states(w=("AnyModel", {"_esm": text})))
    page, addresses = asked(file)
    page.locator("text=This widget could not be drawn without Python or the network").wait_for()
    assert addresses == []


def test_what_a_widget_holds_cannot_end_the_script_that_holds_it(opened, tmp_path):
    hostile = "</script><script>document.title='taken'</script><!--"
    held = states(w=("AnyModel", {"_esm": f"export default {{}} // {hostile}", "_css": "</style><b>", "name": hostile}))
    file = shared(tmp_path, ["# W", ran("w", view("w"))], held)
    with opened(file) as page:
        settle(page)
        assert page.title() == "W"
        assert page.locator("b").count() == 0
    told = json.loads(read(file).find("script", id="widgets").string)
    assert told["widget-1"]["state"]["name"] == hostile


# ---- slides ------------------------------------------------------------------------------------------------

SLIDES = [
    "# Title\n\nWelcome.",
    "## One\n\nfirst\n\n### Detail\n\n## Two\n\nsecond",
    ran("w", view("w")),
    "#### deep\n\n## Three",
]


@pytest.fixture
def slides(tmp_path):
    wide = (
        'export default { render({ el }) { el.innerHTML = `<input value="${el.clientWidth > 0}" aria-label="wide">` } }'
    )
    return shared(tmp_path, SLIDES, states(w=("AnyModel", {"_esm": wide})), slides=True)


def test_a_slide_begins_at_each_heading_of_level_one_and_two(slides):
    found = read(slides).find_all("section")
    assert [section.find(["h1", "h2"]).get_text() for section in found] == ["Title", "One", "Two", "Three"]
    assert [section["aria-label"] for section in found][-1] == "Slide 4 of 4"
    assert "second" in found[2].get_text()
    assert "deep" in found[2].get_text()
    assert found[2].find("div", class_="live")


def test_keys_and_buttons_turn_slides_and_printing_shows_all(opened, slides):
    with opened(slides) as page:

        def seen():
            return page.locator(".slide:visible").locator("h1, h2").inner_text()

        assert seen() == "Title"
        page.keyboard.press("ArrowLeft")
        assert seen() == "Title"
        page.keyboard.press("ArrowRight")
        page.get_by_role("button", name="Next").click()
        assert (seen(), page.url.rpartition("#")[2]) == ("Two", "3")
        assert page.locator(".turn [role=status]").inner_text() == "3 of 4"
        assert page.get_by_label("wide").input_value() == "true", "drawn when there is room for it"
        page.get_by_label("wide").focus()
        page.keyboard.press("ArrowRight")
        assert seen() == "Two", "keys in a field are the field's"
        page.evaluate("document.activeElement.blur()")
        page.keyboard.press("End")
        assert seen() == "Three"
        assert page.get_by_role("button", name="Next").is_disabled()
        page.reload()
        assert seen() == "Three"
        page.keyboard.press("Home")
        assert faults(page) == []
        printed = pypdfium2.PdfDocument(page.pdf())
        texts = [sheet.get_textpage().get_text_range() for sheet in printed]
        printed.close()
    assert [
        next(word for word in ("Title", "One", "Two", "Three") if word in text) for text in texts if text.strip()
    ] == [
        "Title",
        "One",
        "Two",
        "Three",
    ]


def test_without_scripts_all_slides_are_there(tab, slides):
    page = tab(java_script_enabled=False)
    page.goto(slides.absolute().as_uri())
    assert page.locator(".slide:visible").count() == 4
    assert page.locator(".turn:visible").count() == 0
    assert page.locator("text=A widget is drawn here by a script").count() == 1


# ---- what goes wrong ---------------------------------------------------------------------------------------

BAD = {
    b"": r"'lesson\.ipynb' is no notebook: it is not JSON",
    b"\xff\xfe": r"'lesson\.ipynb' is no notebook: it is not UTF-8 text\.",
    b"[1, 2]": "does not say its `nbformat`",
    b'{"nbformat": "4"}': "does not say its `nbformat`",
    b'{"nbformat": 4, "nbformat_minor": 5}': r"'lesson\.ipynb' is a damaged notebook: ",
    b'{"nbformat": 4, "nbformat_minor": 5, "metadata": {}, "cells": [7]}': r"'lesson\.ipynb' is a damaged notebook: ",
    b'{"nbformat": 99, "nbformat_minor": 0, "metadata": {}, "cells": []}': r"'lesson\.ipynb' is a damaged notebook: ",
}


@pytest.mark.parametrize("data", BAD)
def test_what_is_no_notebook_is_said(tmp_path, data):
    (tmp_path / "lesson.ipynb").write_bytes(data)
    with pytest.raises(NotebookError, match=BAD[data]) as caught:
        share(tmp_path / "lesson.ipynb", tmp_path / "lesson.html")
    assert "\n" not in str(caught.value)
    assert not (tmp_path / "lesson.html").exists()


def test_files_that_cannot_be_read_or_written_are_said(tmp_path):
    with pytest.raises(NotebookError, match=r"'gone\.ipynb' could not be read: no such file or directory\."):
        share(tmp_path / "gone.ipynb", tmp_path / "lesson.html")
    with pytest.raises(NotebookError, match="could not be read: is a directory"):
        share(tmp_path, tmp_path / "lesson.html")
    file = write(tmp_path, ["# One"])
    with pytest.raises(FileError, match=r"'lesson\.html' could not be written, .*: there is no such folder\."):
        share(file, tmp_path / "nowhere" / "lesson.html")
    with pytest.raises(OptionError, match="`path` must be another file than the notebook"):
        share(file, file)
    with pytest.raises(OptionError, match=r'`lang` must name a language, as "en" or "pt-BR"; got \'"><b>\''):
        share(file, tmp_path / "lesson.html", lang='"><b>')
    with pytest.raises(OptionError, match="`notebook` must be a path"):
        share(3, tmp_path / "lesson.html")


def test_a_folder_that_may_not_be_written_to_is_said(tmp_path, monkeypatch):
    file = write(tmp_path, ["# One"])
    (tmp_path / "lesson.html").write_text("old", "utf-8")

    def refuse(*_):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(os, "replace", refuse)  # root, who runs CI, may write anywhere
    with pytest.raises(FileError, match="and nothing was changed: permission is denied"):
        share(file, tmp_path / "lesson.html", replace=True)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["lesson.html", "lesson.ipynb"]
    assert (tmp_path / "lesson.html").read_text("utf-8") == "old"


def test_an_older_notebook_is_read_too(tmp_path):
    cells = [
        {"cell_type": "heading", "level": 1, "metadata": {}, "source": "Old"},
        {
            "cell_type": "code", "collapsed": False, "input": "6 * 7", "language": "python", "metadata": {},
            "prompt_number": 1, "outputs": [{"output_type": "pyout", "text": "42", "metadata": {}, "prompt_number": 1}],
        },
    ]  # fmt: skip
    old = {
        "nbformat": 3,
        "nbformat_minor": 0,
        "metadata": {"name": ""},
        "worksheets": [{"cells": cells, "metadata": {}}],
    }
    (tmp_path / "old.ipynb").write_text(json.dumps(old), "utf-8")
    page = read(share(tmp_path / "old.ipynb", tmp_path / "old.html").path)
    assert page.h1.get_text() == "Old"
    assert page.find("pre", string="42")
