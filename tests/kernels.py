"""Kernels forked from a process that has loaded other people's libraries, since loading is half of a short life.

What runs a notebook, such as `mk.share`, starts its kernel as usual; only the last step differs, in which the process
begins. Nothing of the package is loaded before: each notebook loads that itself, in its own order. A test that needs a
kernel of a new Python asks for `new_kernels`. On systems where processes cannot be forked so, all kernels are new.
"""

import json
import multiprocessing
import os
import subprocess
import sys
from functools import cache
from multiprocessing import forkserver

import kernel_process
import pytest
import warmed
from jupyter_client.provisioning import local_provisioner

LIBRARIES = [
    *("ipykernel.kernelapp", "ipykernel.zmqshell", "ipykernel.debugger", "IPython.core.completerlib"),
    *("IPython.extensions.storemagic", "matplotlib.pyplot", "matplotlib.backends.backend_agg", "pandas"),
    *("scipy.ndimage", "pydantic.main", "jinja2", "lark", "typst", "PIL.Image"),
]
"""None of them asks in which notebook it is when it is loaded, as those of widgets and of progress bars do."""

NEW = local_provisioner.launch_kernel
LAUNCHER = "ipykernel_launcher"


def launch(command, *, cwd=None, env=None, stderr=None, **others):
    """Start a kernel, in place of jupyter_client's own function; gives what can be asked as a `Popen` can."""
    if LAUNCHER not in command:
        return NEW(command, cwd=cwd, env=env, stderr=stderr, **others)
    sys.audit("subprocess.Popen", command[0], command, cwd, env)  # no quick test starts one unseen
    arguments = command[command.index(LAUNCHER) + 1 :]
    quiet = stderr is not None
    return Kernel(arguments, cwd or os.getcwd(), dict(os.environ if env is None else env), quiet)


@cache
def paths():
    """Where a new Python looks for modules, without what pytest adds for tests."""
    told = subprocess.check_output([sys.executable, "-c", "import json, sys; print(json.dumps(sys.path[1:]))"])
    return json.loads(told)


@cache
def server():
    """The process from which all kernels of this one begin; other tests may start and end others."""
    made = forkserver.ForkServer()
    made.set_forkserver_preload(LIBRARIES)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PYDEVD_DISABLE_FILE_VALIDATION", "1")  # a debugger's remark about itself
        made.ensure_running()
    return made


class Kernel:
    """A kernel's process, with what jupyter_client asks of a `Popen`."""

    stdin = stdout = stderr = None

    def __init__(self, *told):
        context = multiprocessing.get_context("forkserver")
        begun, begins = context.Pipe(duplex=False)
        self.process = context.Process(target=kernel_process.run, args=(begins, paths(), *told), daemon=True)
        usual = forkserver.connect_to_new_process
        forkserver.connect_to_new_process = server().connect_to_new_process
        try:
            self.process.start()
        finally:
            forkserver.connect_to_new_process = usual
        begins.close()
        begun.poll(None)  # until it leads a group of its own, as jupyter_client ends the whole group
        begun.close()
        self.pid = self.process.pid

    def poll(self):
        return self.process.exitcode

    def wait(self, timeout=None):
        self.process.join(timeout)
        return self.process.exitcode

    def send_signal(self, number):
        os.kill(self.pid, number)

    def terminate(self):
        self.process.terminate()

    def kill(self):
        self.process.kill()


@pytest.fixture
def new_kernels(monkeypatch):
    """Ask for it where a kernel has to be a new Python, with nothing loaded."""
    monkeypatch.setattr(local_provisioner, "launch_kernel", NEW)


def pytest_configure(config):
    if warmed.KIND == "forkserver":
        local_provisioner.launch_kernel = launch


def pytest_unconfigure(config):
    local_provisioner.launch_kernel = NEW
