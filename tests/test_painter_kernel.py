"""The painter in a real Jupyter kernel that is killed while it draws, over and over."""

import asyncio
import os
import random
import signal
import time
from queue import Empty

import numpy as np
from jupyter_client.manager import AsyncKernelManager

from mosaickit.sketch import Sketch

SQUARES = 900
START = """
import mosaickit as mk, numpy as np
painter = mk.widgets.MotifPainter(mk.Motif(np.zeros((30, 30), bool)), autosave="drawing.sketch")
print(painter.comm.comm_id, int(painter.motif.grid.sum()))
"""


class Kernel:
    """A kernel with a painter in it, and a page that paints on it."""

    def __init__(self):
        self.manager = AsyncKernelManager(kernel_name="python3")

    async def start(self, folder):
        """Run the cell that makes the painter; give how many squares it brought back."""
        await self.manager.start_kernel(cwd=folder, env={**os.environ, "IPYTHONDIR": str(folder)})
        self.client = self.manager.client()
        self.client.start_channels()
        await self.client.wait_for_ready(timeout=60)
        said = []
        reply = await self.client.execute_interactive(START, timeout=60, output_hook=said.append)
        assert reply["content"]["status"] == "ok", reply["content"]
        text = "".join(message["content"]["text"] for message in said if message["msg_type"] == "stream")
        self.comm, squares = text.split()
        return int(squares)

    def paint(self, square):
        """Send the stroke that paints one square as a page would."""
        data = {"method": "custom", "content": {"kind": "paint", "view": "hand", "seq": square}}
        message = self.client.session.msg("comm_msg", {"comm_id": self.comm, "data": data})
        message["buffers"] = [np.int32([square]).tobytes(), b"\x01"]
        self.client.shell_channel.send(message)

    async def answer(self, patience):
        """Give the square that the painter says it keeps, or None if it says nothing for so many seconds."""
        end = time.monotonic() + patience
        while (left := end - time.monotonic()) > 0:
            try:
                content = (await self.client.get_iopub_msg(timeout=left))["content"]
            except Empty:
                break
            answer = content.get("data", {}).get("content", {}) if content.get("comm_id") == self.comm else {}
            if answer.get("kind") == "done":
                assert "error" not in answer
                return answer["seq"]
        return None

    async def draw_and_die(self, first, seconds):
        """Paint square after square, each as the last is answered, until killed; give how many were kept and sent."""
        end = time.monotonic() + seconds
        kept = sent = first
        while (left := end - time.monotonic()) > 0:
            if sent == kept:
                self.paint(sent)
                sent += 1
            square = await self.answer(left)
            kept = kept if square is None else square + 1
        os.kill(self.manager.provisioner.pid, signal.SIGKILL)
        # what it said before it died is on the way
        square = await self.answer(0.05)
        return kept if square is None else square + 1, sent

    async def close(self):
        self.client.stop_channels()
        await self.manager.shutdown_kernel(now=True)


async def drawn_and_killed(folder, kills):
    """Draw, kill the kernel at a random moment and run the cell again, over and over; give the strokes kept."""
    folder.mkdir()
    rng = random.Random(kills)
    strokes = 0
    for _ in range(kills):
        kernel = Kernel()
        try:
            assert await kernel.start(folder) == strokes
            kept, sent = await kernel.draw_and_die(strokes, rng.uniform(0, 0.15))
        finally:
            await kernel.close()
        sketch = Sketch.open(folder / "drawing.sketch")
        strokes = int(sketch.motif.grid.sum())
        # a stroke that was answered is in the file; the one in hand may be
        assert kept <= strokes <= sent <= kept + 1
        assert np.array_equal(sketch.motif.grid.ravel(), np.arange(SQUARES) < strokes)
        assert sketch.steps == strokes
    return strokes


def test_a_kernel_killed_a_hundred_times_loses_at_most_the_stroke_in_hand(tmp_path):
    async def two_at_a_time():  # as starting a kernel is most of the work
        return await asyncio.gather(drawn_and_killed(tmp_path / "one", 49), drawn_and_killed(tmp_path / "other", 51))

    assert min(asyncio.run(two_at_a_time())) > 50
