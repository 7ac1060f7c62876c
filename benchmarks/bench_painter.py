"""How quickly the painter answers a click, in a real JupyterLab, beside ipympl and beside an echo.

All three stand in one notebook and are clicked in one run, the painter and the echo by turns of a few clicks, so that
what else the machine does meets both. The painter's time runs from pointer down to the frame after the findings were
drawn, with the whole picture checked and the stroke on the disk; ipympl only turns a square of an image and checks
nothing; the echo is a widget whose Python answers at once and computes nothing, which is the floor that the server
sets. Last, a drag: the page's frames while the hand paints, beside those of a page at rest.
"""

import numpy as np
import pytest
from lab import run_all

CLICKS = 60
TURNS, CLICKS_A_TURN = 6, 20
DRAG_STEPS = 80

NOTEBOOK = """
%matplotlib widget
import anywidget, numpy as np, matplotlib.pyplot as plt, mosaickit as mk
from IPython.display import display
N = SIZE
class Echo(anywidget.AnyWidget):
    _esm = '''export default { render({ model, el }) {
        el.innerHTML = '<button class="echo">echo</button>';
        window.echo = () => new Promise((done) => {
            const heard = () => { model.off("msg:custom", heard); requestAnimationFrame(() => done()); };
            model.on("msg:custom", heard); model.send({}); });
    } }'''
    def __init__(self):
        super().__init__()
        self.on_msg(lambda widget, content, buffers: self.send({}))
# a square has room to be hit and watched
figure, ax = plt.subplots(figsize=(max(4, N / 25),) * 2, dpi=100)
grid = np.zeros((N, N)); grid[0, 0] = 1
image = ax.imshow(grid, interpolation="nearest"); ax.set_position((0, 0, 1, 1)); ax.set_axis_off()
def turn(event):
    row, column = int(event.ydata + 0.5), int(event.xdata + 0.5)
    grid[row, column] = 1 - grid[row, column]
    image.set_data(grid); figure.canvas.draw_idle()
figure.canvas.mpl_connect("button_press_event", turn)
display(Echo(), figure.canvas)
rng = np.random.default_rng(3)
start = mk.nearest_workable(mk.Motif(rng.random((N, N)) < 0.5)).motif
mk.widgets.MotifPainter(start, autosave="bench-SIZE.sketch")
"""

# from pointer down to the frame after the findings changed; every click turns a square of row 1, so that the number
# of findings changes with each
PAINTER = """async (clicks) => {
    const canvas = document.querySelector('.mk-canvas'), tally = document.querySelector('.mk-tally');
    const side = (parseFloat(canvas.style.height) - 24) / N;
    const scroll = document.querySelector('.mk-scroll');
    scroll.scrollTop = scroll.scrollHeight; scroll.scrollLeft = 0;
    const times = [], local = [];
    for (let click = 0; click < clicks; click++) {
        await new Promise((done) => setTimeout(done, 150));
        const box = canvas.getBoundingClientRect();
        const [x, y] = [box.left + 4 + 10.5 * side, box.top + 4 + (N - 0.5) * side];
        const at = { clientX: x, clientY: y, button: 0, pointerId: 1, bubbles: true };
        const drawn = new Promise((done) => {
            const watch = new MutationObserver(() => { watch.disconnect(); requestAnimationFrame(() => done()); });
            watch.observe(tally, { childList: true, characterData: true, subtree: true });
            setTimeout(done, 3000);
        });
        const start = performance.now();
        canvas.setPointerCapture = () => {}; canvas.hasPointerCapture = () => true;
        canvas.dispatchEvent(new PointerEvent('pointerdown', at));
        local.push(performance.now() - start);
        canvas.dispatchEvent(new PointerEvent('pointerup', at));
        await drawn;
        times.push(performance.now() - start);
        canvas.dispatchEvent(new KeyboardEvent('keydown', { key: 'x', bubbles: true }));
    }
    return [times, local];
}"""

# one pointer event a frame, from the lower left over the picture; at rest the same frames go by without one
DRAG = """async (steps) => {
    const canvas = document.querySelector('.mk-canvas'), scroll = document.querySelector('.mk-scroll');
    const side = (parseFloat(canvas.style.height) - 24) / N;
    canvas.setPointerCapture = () => {}; canvas.hasPointerCapture = () => true;
    const frames = async (each) => {
        const times = [];
        let before = await new Promise(requestAnimationFrame);
        for (let step = 0; step < steps; step++) {
            each(step);
            const now = await new Promise(requestAnimationFrame);
            times.push(now - before);
            before = now;
        }
        return times;
    };
    const event = (kind, step) => {
        const box = canvas.getBoundingClientRect();
        const part = Math.min(step, N - 1);
        canvas.dispatchEvent(new PointerEvent(kind, { clientX: box.left + 4 + (part + 0.5) * side,
            clientY: box.top + 4 + (N - 2 - part / 2) * side, button: 0, pointerId: 1, bubbles: true }));
    };
    const atRest = await frames(() => {});
    event('pointerdown', 0);
    const moving = await frames((step) => event('pointermove', step));
    event('pointerup', steps);
    return [atRest, moving];
}"""

ECHO = """async (clicks) => {
    const times = [];
    for (let click = 0; click < clicks; click++) {
        await new Promise((done) => setTimeout(done, 150));
        const start = performance.now();
        await window.echo();
        times.push(performance.now() - start);
    }
    return times;
}"""

# arms a stop-watch that the real mouse sets off and a changed pixel stops
IPYMPL = """() => {
    const shown = document.querySelector('.jupyter-matplotlib-canvas-div canvas');
    const pen = shown.getContext('2d', { willReadFrequently: true });
    const box = shown.getBoundingClientRect(), sharp = shown.width / box.width;
    const [x, y] = [box.width * (10.5 / N), box.height * (10.5 / N)];
    const pixel = () => pen.getImageData(x * sharp, y * sharp, 1, 1).data.join();
    const before = pixel();
    window.armed = new Promise((done) => window.addEventListener('pointerdown', async () => {
        const start = performance.now();
        while (pixel() === before && performance.now() - start < 2000) await new Promise(requestAnimationFrame);
        done(performance.now() - start);
    }, { capture: true, once: true }));
    return [box.left + x, box.top + y];
}"""


def click_ipympl(page, size):
    times = []
    page.locator(".jupyter-matplotlib-canvas-div").first.scroll_into_view_if_needed()
    for _ in range(CLICKS):
        page.wait_for_timeout(150)
        page.mouse.click(*page.evaluate(IPYMPL.replace("N", str(size))))
        times.append(page.evaluate("window.armed"))
    # a pixel that never changed says nothing of how quick the other way is
    answered = [time for time in times if time < 2000]
    assert len(answered) >= CLICKS * 0.8
    return answered


def p50_p95(times):
    return np.percentile(times, [50, 95])


@pytest.mark.parametrize("size", [40, 200])
def test_a_click_is_answered(size, open_notebook, keep_line):
    painter = PAINTER.replace("N", str(size))
    page = open_notebook("bench.ipynb", [NOTEBOOK.replace("SIZE", str(size))], kernel="python3")  # as readers start it
    run_all(page)
    page.locator(".mk-canvas").wait_for()
    page.locator(".mk-focus").filter(has_text="Row 1").wait_for()
    page.wait_for_timeout(2000)
    clicked, local, echo = [], [], []
    for _ in range(TURNS):
        for times, more in zip((clicked, local), page.evaluate(painter, CLICKS_A_TURN), strict=True):
            times += more
        echo += page.evaluate(ECHO, CLICKS_A_TURN)
    plain = click_ipympl(page, size)
    at_rest, moving = page.evaluate(DRAG.replace("N", str(size)), DRAG_STEPS)
    (ours, ours95), (_, floor95) = map(p50_p95, (clicked, echo))
    own = ours95 - floor95
    other, other95 = p50_p95(plain)
    keep_line(
        f"| click to findings drawn, {size} × {size}, p50 and p95 | {ours:.0f} and {ours95:.0f} ms | ipympl, no "
        f"findings: {other:.0f} and {other95:.0f} ms | {other / ours:.1f} times faster | at least 2 times faster |",
        met=other / ours >= 2,
    )
    keep_line(
        f"| click to findings drawn, {size} × {size}, beyond an echo, p95 | {own:.1f} ms | an echo that computes "
        f"nothing: {floor95:.0f} ms | "
        f"{ours95 / floor95:.2f} | at most 1.5; the aim is 10 ms of our own, about what two runs differ by |",
        met=ours95 / floor95 <= 1.5,
    )
    still, moved = np.percentile(at_rest, 95), np.percentile(moving, 95)
    painted = np.percentile(local, 95)
    keep_line(
        f"| painted before Python knows, {size} × {size}, p95 | {painted:.1f} ms | a frame at rest: {still:.1f} ms | "
        f"{painted / still:.2f} | at most 0.25 |",
        met=painted / still <= 0.25,
    )
    keep_line(
        f"| a frame while {DRAG_STEPS} squares are dragged over {size} × {size}, p95 | {moved:.1f} ms | a frame at "
        f"rest: {still:.1f} ms | {moved / still:.2f} | at most 1.5 |",
        met=moved / still <= 1.5,
    )
