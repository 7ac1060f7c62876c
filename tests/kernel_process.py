"""What a kernel's process does that begins where another one stands, and has to look like a new Python."""

import atexit
import multiprocessing
import os
import sys


def take_place(folder, environment):
    """Take the place of a process that a server would have started: its group, its folder and its environment."""
    os.setsid()
    os.chdir(folder)
    os.environ.clear()
    os.environ.update(environment, JPY_PARENT_PID=str(os.getppid()))


def run(begins, path, arguments, folder, environment, quiet):
    """Be a kernel, as `python -m ipykernel_launcher` is, and say first that this process leads a group of its own."""
    take_place(folder, environment)
    begins.close()
    sys.path[:] = path
    if quiet:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 2)
        os.close(nowhere)
    multiprocessing.current_process()._config["daemon"] = False  # it may have processes of its own
    sys.argv[:] = ["ipykernel_launcher", *arguments]
    import matplotlib as mpl
    from ipykernel.kernelapp import IPKernelApp

    # matplotlib reads it where it is loaded, which is after the kernel has set it
    mpl.rcParams["backend"] = os.environ.get("MPLBACKEND") or "module://matplotlib_inline.backend_inline"
    try:
        IPKernelApp.launch_instance(arguments, parent_handle=os.getppid())  # it ends where no one is left
    finally:
        atexit._run_exitfuncs()
