"""The painter in a real Jupyter kernel that is killed while it draws, over and over."""

import asyncio
import os
import random
import sys
import time
from queue import Empty

import numpy as np
import warmed
from jupyter_client.asynchronous import AsyncKernelClient
from jupyter_client.connect import write_connection_file

from mosaickit.widgets.sketch import Sketch

COLUMNS = 30
SQUARES = COLUMNS * COLUMNS
MOST_STROKES = 6
"""Each kernel answers so many strokes at most, so that a hundred of them do not run out of squares."""
PATIENCE = 300.0
"""Seconds after which a kernel that says nothing counts as broken; no kernel that works takes so long."""
START = """
import mosaickit as mk, numpy as np
painter = mk.widgets.MotifPainter(mk.Motif(np.zeros((30, 30), bool)), autosave="drawing.sketch")
print(painter.comm.comm_id, int(painter.motif.grid.sum()))
"""
# a kernel is mostly imports
IMPORTED = ["ipykernel.kernelapp", "ipykernel.debugger", "IPython.core.completerlib", "IPython.extensions.storemagic"]
IMPORTED += ["matplotlib_inline.backend_inline", "mosaickit.widgets.painter"]


def run_kernel(folder, connection):
    """Be a kernel, as `python -m ipykernel_launcher` is."""
    from ipykernel.kernelapp import IPKernelApp

    os.chdir(folder)
    os.environ["IPYTHONDIR"] = str(folder)
    IPKernelApp.launch_instance(["-f", connection, "--HistoryManager.enabled=False"])


class Kernel:
    """A kernel with a painter in it, and a page that paints on it."""

    def __init__(self, processes):
        self.processes = processes

    async def start(self, folder):
        """Run the cell that makes the painter; give how many squares it brought back."""
        # by files, where there are such sockets: of two that start at once both might find the same port free
        transport, place = ("tcp", "127.0.0.1") if sys.platform == "win32" else ("ipc", str(folder / "socket"))
        connection, _ = write_connection_file(str(folder / "kernel.json"), transport=transport, ip=place)
        self.process = self.processes.Process(target=run_kernel, args=(folder, connection))
        self.process.start()
        self.client = AsyncKernelClient()
        self.client.load_connection_file(connection)
        self.client.start_channels(hb=False)  # a heart that does not beat yet would count as one that stopped
        await self.client.wait_for_ready(timeout=PATIENCE)
        said = []
        reply = await self.client.execute_interactive(START, timeout=PATIENCE, output_hook=said.append)
        assert reply["content"]["status"] == "ok", reply["content"]
        text = "".join(message["content"]["text"] for message in said if message["msg_type"] == "stream")
        self.comm, squares = text.split()
        return int(squares)

    def paint(self, stroke):
        """Send a stroke, which paints one square, as a page would."""
        content = {"kind": "paint", "view": "hand", "seq": stroke, "tool": "brush", "colour": 1}
        data = {"method": "custom", "content": content}
        message = self.client.session.msg("comm_msg", {"comm_id": self.comm, "data": data})
        message["buffers"] = [np.array([stroke % COLUMNS, stroke // COLUMNS], dtype="<i4").tobytes()]
        self.client.shell_channel.send(message)

    def answered(self, data):
        """Give the stroke that a message from the painter says it keeps, or None if it says nothing of one."""
        state = data.get("state", {})
        assert state.get("said", {}).get("note", "") == ""
        return state.get("heard", {}).get("hand")

    async def answer(self, stroke, patience=PATIENCE):
        """Tell whether a stroke is answered, within so many seconds."""
        end = time.monotonic() + patience
        while (left := end - time.monotonic()) > 0:
            try:
                content = (await self.client.get_iopub_msg(timeout=left))["content"]
            except Empty:
                break
            if content.get("comm_id") == self.comm and self.answered(content.get("data", {})) == stroke:
                return True
        return False

    async def close(self):
        self.process.kill()
        self.process.join()
        self.client.stop_channels()


async def drawn_and_killed(processes, folder, kills):
    """Draw, kill the kernel in a stroke and run the cell again, over and over; give how many last strokes were kept."""
    folder.mkdir()
    rng = random.Random(folder.name)
    kept = strokes = 0
    moment = 0.01
    for _ in range(kills):
        kernel = Kernel(processes)
        try:
            assert await kernel.start(folder) == strokes
            for _ in range(rng.randrange(MOST_STROKES + 1)):
                kernel.paint(strokes)
                assert await kernel.answer(strokes)
                strokes += 1
            kernel.paint(strokes)
            await kernel.answer(strokes, rng.uniform(0, moment))
        finally:
            await kernel.close()
        sketch = Sketch.read(folder / "drawing.sketch")
        # every stroke that was answered is in the file; the one in hand may be
        assert sketch.steps in (strokes, strokes + 1)
        assert np.array_equal(sketch.motif.grid.ravel(), np.arange(SQUARES) < sketch.steps)
        # whether it is is left to chance, on machines of any speed: kill sooner after one that was, later after others
        moment *= 0.7 if sketch.steps > strokes else 1.5
        kept += sketch.steps - strokes
        strokes = sketch.steps
    return kept


def test_a_kernel_killed_a_hundred_times_loses_at_most_the_stroke_in_hand(tmp_path):
    processes = warmed.processes(*IMPORTED)
    kills = (24, 25, 26, 25)

    async def side_by_side():  # as a kernel that starts mostly waits
        each = (drawn_and_killed(processes, tmp_path / f"{n}", count) for n, count in enumerate(kills))
        return await asyncio.gather(*each)

    for kept, count in zip(asyncio.run(side_by_side()), kills, strict=True):
        assert 0 < kept < count
