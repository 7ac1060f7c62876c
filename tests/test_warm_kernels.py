"""Kernels of the lab's tests that are forked: they are begun, interrupted, restarted and ended as any others are."""

import os
import sys

from jupyter_client.kernelspec import KernelSpecManager
from jupyter_client.manager import KernelManager
from lab import PATIENCE, wait_until
from warm_kernels import warm_kernels

SAY = "import os, sys\nprint(os.getpid(), os.getcwd(), os.environ['FOR_KERNELS'], 'mosaickit.widgets' in sys.modules)"


def gone(process):
    """Whether a process has ended, and is waited for or about to be."""
    try:
        with open(f"/proc/{process}/stat", encoding="utf-8") as stat:
            return stat.read().rpartition(")")[2].split()[0] == "Z"
    except (FileNotFoundError, ProcessLookupError):
        return True


def test_a_warm_kernel_is_as_others(tmp_path, slow):
    with warm_kernels(tmp_path, {"JUPYTER_DATA_DIR": str(tmp_path)}) as name:
        if sys.platform != "linux":
            assert name == "python3"
            return
        specs = KernelSpecManager(kernel_dirs=[str(tmp_path / "kernels")])
        manager = KernelManager(kernel_name=name, kernel_spec_manager=specs)
        folder = tmp_path / "of a notebook"
        folder.mkdir()
        manager.start_kernel(cwd=str(folder), env=os.environ | {"FOR_KERNELS": "told", "IPYTHONDIR": str(tmp_path)})
        client = manager.client()
        client.start_channels()
        said = []

        def run(cell):
            said.clear()
            return client.execute_interactive(cell, timeout=PATIENCE, output_hook=said.append)["content"]

        def printed():
            return "".join(each["content"]["text"] for each in said if each["msg_type"] == "stream")

        client.wait_for_ready(timeout=PATIENCE)
        run(SAY)
        first, *told = printed().strip().split(maxsplit=1)
        assert told == [f"{folder} told True"]

        def interrupt_once_it_runs(message):
            if message["msg_type"] == "stream":
                manager.interrupt_kernel()

        reply = client.execute_interactive(
            "import time\nprint('runs')\nwhile True: time.sleep(0.01)",
            timeout=PATIENCE,
            output_hook=interrupt_once_it_runs,
        )
        assert reply["content"]["ename"] == "KeyboardInterrupt"

        run("left = 1")
        manager.restart_kernel(now=False)
        client.wait_for_ready(timeout=PATIENCE)
        assert run("left")["ename"] == "NameError"
        run(SAY)
        second = printed().split()[0]
        assert second != first
        wait_until(lambda: gone(first), "the kernel that was restarted goes on")

        manager.restart_kernel(now=True)  # as one that does not answer is
        wait_until(lambda: gone(second), "the kernel that was killed goes on")
        client.wait_for_ready(timeout=PATIENCE)
        client.execute("import os, signal\nos.kill(os.getpid(), signal.SIGKILL)")
        wait_until(lambda: not manager.is_alive(), "nobody hears that the kernel has killed itself")

        manager.restart_kernel(now=True)
        client.wait_for_ready(timeout=PATIENCE)
        run(SAY)
        third = printed().split()[0]
        assert not gone(third)
    wait_until(lambda: gone(third), "a kernel outlives the tests")
    client.stop_channels()
    manager.shutdown_kernel(now=True)
