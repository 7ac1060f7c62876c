"""Kernels that begin where a process stands that has loaded what widgets need, since loading is most of what they cost.

`warm_kernels` starts that process and gives the kernelspec. Its command is this file again, which asks for a fork over
a socket and stays as long as the kernel lives: signals go on to the kernel, and neither outlives the other. The kernel
has the folder, environment, output and process group that it would have had; a session of its own keeps it so.
What loads later than `IMPORTED`, as matplotlib, which asks a kernel how it draws, is loaded by each kernel as usual.
"""

import json
import os
import select
import signal
import socket
import subprocess
import sys
import threading
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path

IMPORTED = ["ipykernel.kernelapp", "ipykernel.debugger", "IPython.core.completerlib", "IPython.extensions.storemagic"]
IMPORTED += ["mosaickit.widgets.book.workbook", "mosaickit.widgets.design_wall", "mosaickit.widgets.explorer"]
DOOR = "warm.socket"
FORWARDED = (signal.SIGINT, signal.SIGTERM)
LONGEST = 1 << 20
"""Bytes of a question: the environment is in it."""


@contextmanager
def warm_kernels(folder, environment):
    """Run a process that kernels are forked from, and write their kernelspec where `environment` has Jupyter's data.

    Gives the name of the spec: the usual one's on systems without such kernels.
    """
    if sys.platform != "linux":  # elsewhere what is loaded may not stand a fork
        yield "python3"
        return
    spec = Path(environment["JUPYTER_DATA_DIR"]) / "kernels" / "warm" / "kernel.json"
    spec.parent.mkdir(parents=True)
    command = [sys.executable, "-I", "-S", __file__, str(folder), "{connection_file}"]
    about = {"display_name": "Python 3", "language": "python", "metadata": {"debugger": True}}
    spec.write_text(json.dumps(about | {"argv": command}), "utf-8")
    with subprocess.Popen(
        [sys.executable, "-X", "frozen_modules=off", __file__, str(folder)],  # as the debugger wants it
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env=os.environ | environment,
    ) as parent:
        assert parent.stdout.readline() == b"ready\n"
        yield "warm"  # then its input closes, which ends it, and with it all kernels that are left


def be_parent():
    """Load what kernels need, and fork one for each that asks, until nobody is there who could."""
    from kernel_process import take_place  # which is found by a process that begins with this file, not by `ask`

    del sys.path[0]  # this folder, of which no kernel knows
    for module in IMPORTED:
        import_module(module)
    kernels = set()
    with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as door:
        door.bind(DOOR)
        door.listen(64)
        print("ready", flush=True)
        while sys.stdin not in select.select([door, sys.stdin], [], [])[0]:
            asked, _ = door.accept()
            told, files, *_ = socket.recv_fds(asked, LONGEST, 3)
            kernels = {kernel for kernel in kernels if os.waitpid(kernel, os.WNOHANG) == (0, 0)}
            if (kernel := os.fork()) == 0:
                door.close()
                told = json.loads(told)
                take_place(told["folder"], told["environment"])
                be_kernel(asked, files, told["connection"])
            kernels.add(kernel)
            asked.close()
            for each in files:
                os.close(each)
    for kernel in kernels:
        os.kill(kernel, signal.SIGKILL)  # it may have ended, and stays until it is waited for
        os.waitpid(kernel, 0)


def be_kernel(asked, files, connection):
    """Be a kernel as `python -m ipykernel_launcher` is, until it or who asked for it ends."""
    for place, file in enumerate(files):
        os.dup2(file, place)
        os.close(file)
    asked.send(str(os.getpid()).encode())
    threading.Thread(target=end_with, args=(asked,), daemon=True).start()
    sys.argv = ["ipykernel_launcher", "-f", connection]
    try:
        sys.modules["ipykernel.kernelapp"].launch_new_instance()
    finally:
        os._exit(0)


def end_with(asked):
    """End the kernel, and what it started, with the process that asked for it."""
    asked.recv(1)
    os.killpg(0, signal.SIGKILL)


def ask(connection):
    """Ask for a kernel, and be it for the server that starts, interrupts and ends it."""
    for each in FORWARDED:
        signal.signal(each, signal.SIG_IGN)
    with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as parent:
        told = {"connection": connection, "folder": os.getcwd(), "environment": dict(os.environ)}
        os.chdir(sys.argv[1])  # the name of a socket may be short only
        parent.connect(DOOR)
        socket.send_fds(parent, [json.dumps(told).encode()], [0, 1, 2])
        kernel = int(parent.recv(32))
        for each in FORWARDED:
            signal.signal(each, lambda number, _: os.killpg(kernel, number))
        parent.recv(1)  # nothing comes but the end


if __name__ == "__main__":
    if len(sys.argv) == 3:
        ask(sys.argv[2])
    else:
        os.chdir(sys.argv[1])
        be_parent()
