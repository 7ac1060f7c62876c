"""Set mosaickit up in a folder of its own and start it: one command for makers, one for developers.

``python start.py`` opens JupyterLab on the first notebook; ``python start.py test`` passes every check
and test; ``python start.py run COMMAND …`` runs anything else inside the environment, in the folder where it
was called: ``python start.py run -m mosaickit check boat.png`` finds the picture beside you. The environment
lives in ``.venv`` beside this file and is made again only when the locked requirements change. JupyterLab keeps
its settings in ``.jupyter`` beside it, so that a Jupyter of your own is neither read nor changed. Only the
standard library is used, so a fresh Python 3.11 or newer is all that is needed.
"""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import IO

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
SCRIPTS = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = SCRIPTS / ("python.exe" if os.name == "nt" else "python")
LOCK = ROOT / "requirements.lock"
STAMP = VENV / "ready"
JUPYTER = ROOT / ".jupyter"
FIRST_NOTEBOOK = "notebooks/01-begin.ipynb"
FIRST_PORT = 8888

# no question whether news may be fetched, no look for updates
LAB_SETTINGS = {"@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False}}
# how pip and uv say that there is no network, in small letters
NO_NETWORK = (
    "failed to establish a new connection",
    "temporary failure in name resolution",
    "name or service not known",
    "getaddrinfo failed",
    "network is unreachable",
    "no route to host",
    "connection refused",
    "connection broken",
    "timed out",
    "dns error",
    "error sending request",
    "failed to fetch",
)

# one more than two cores have, as tests that wait for a browser or a kernel leave theirs to others; quick ones do not
WORKERS = str(min(max(2 if "--quick" in sys.argv else 3, os.cpu_count() or 1), 8))
TYPES = ["-m", "mypy"]
CHECKS = [
    ["-m", "ruff", "format", "--check", "."],
    ["-m", "ruff", "check", "."],
    # a file's tests stay together, as a notebook's cells must; conftest.py puts the files in order
    [
        *["-m", "pytest", "-n", WORKERS, "--max-worker-restart", "1", "--dist", "loadfile"],
        *["--no-loadscope-reorder", "--durations", "20"],
    ],
]


def fingerprint() -> str:
    """Name what the environment is made from: a change of any of it means making the environment again."""
    parts = [
        LOCK.read_bytes(),
        (ROOT / "pyproject.toml").read_bytes(),
        str(ROOT).encode(),
        sys.version.encode(),
    ]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


class SetUpError(Exception):
    """What stopped the set-up, as sentences."""


def set_up() -> None:
    """Make the environment if it is missing or out of date: locked versions by hash, then mosaickit."""
    made_from = fingerprint()  # now, as a file that changes meanwhile is for the next start
    if STAMP.is_file() and STAMP.read_text() == made_from:
        return
    if VENV.is_symlink():
        raise SetUpError(
            "Here .venv leads to another folder, which would be emptied. Delete that link, not what it leads to, and "
            "start again."
        )
    print("Setting up mosaickit in the folder .venv. This is done once, takes a minute or two and needs the internet.")
    # uv compiles no bytecode unless asked, and every notebook would then start two to three times slower
    environment = {**os.environ, "UV_COMPILE_BYTECODE": "1", "VIRTUAL_ENV": str(VENV)}
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    uv = [str(PYTHON), "-m", "uv", "pip", "install", "--quiet", "--python", str(PYTHON)]
    steps = [
        ("an environment", [sys.executable, "-m", "venv", "--clear", str(VENV)]),
        ("the installer", [*pip, "uv>=0.9,<1"]),
        # the lock names all there is to install
        ("JupyterLab and the libraries, the longest step", [*uv, "--no-deps", "--require-hashes", "-r", str(LOCK)]),
        ("mosaickit", [*uv, "--no-deps", "--editable", str(ROOT)]),
    ]
    try:
        STAMP.unlink(missing_ok=True)  # what is cut short from here on is begun afresh by the next start
        for number, (what, command) in enumerate(steps, 1):
            print(f"  {number} of {len(steps)}: {what} ", end="", flush=True)
            step(command, environment)
        STAMP.write_text(made_from)
    except OSError as error:
        raise SetUpError(stopped(str(error))) from None
    print("Ready.", flush=True)


def step(command: list[str], environment: dict[str, str]) -> None:
    """Run one step; a dot every two seconds shows that it is alive, and what it says is kept for a fault."""
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen(command, env=environment, stdout=said, stderr=subprocess.STDOUT)
        try:
            start = time.monotonic()
            while process.poll() is None:
                try:
                    process.wait(2)
                except subprocess.TimeoutExpired:
                    print(".", end="", flush=True)
        except KeyboardInterrupt:
            process.kill()
            process.wait()
            print()
            raise
        print(f" {time.monotonic() - start:.0f} s", flush=True)
        if process.returncode:
            said.seek(0)
            raise SetUpError(stopped(said.read().decode("utf-8", "replace")))


def stopped(said: str) -> str:
    """Say what stopped the set-up and what to do; the last lines of the tool that stopped only if we know no cure."""
    low, last = said.lower(), ""
    if "no space left" in low or "not enough space" in low or "disk quota" in low:
        cure = f"The disk is full. mosaickit needs about 1.5 GB in {ROOT}: free some."
    elif "ensurepip is not available" in low:
        cure = "This Python cannot make environments. On Debian and Ubuntu, `sudo apt install python3-venv` cures it."
    elif any(sign in low for sign in NO_NETWORK):
        cure = "The internet could not be reached. It is needed once, for this: check the connection."
    else:
        last = "".join(f"    {line}\n" for line in said.strip().splitlines()[-6:])
        cure = "The lines above say why."
    return f"{last}Setting up stopped. {cure}\nThen start again: it begins afresh, and nothing has to be deleted."


def begin(
    arguments: list[str], more: dict[str, str] | None = None, folder: Path = ROOT, said: IO[bytes] | None = None
) -> subprocess.Popen[bytes]:
    """Start the environment's Python with these arguments in a folder; what it says goes to a file if one is given."""
    path = str(SCRIPTS) + os.pathsep + os.environ.get("PATH", "")
    environment = {**os.environ, "PATH": path, "VIRTUAL_ENV": str(VENV), **(more or {})}
    return subprocess.Popen([str(PYTHON), *arguments], cwd=folder, env=environment, stdout=said, stderr=said)


def ended(process: subprocess.Popen[bytes]) -> int:
    """Wait for the end, and give the code of it; Ctrl C is for what runs, not for us."""
    while True:
        try:
            return process.wait()
        except KeyboardInterrupt:
            continue


def run(arguments: list[str], more: dict[str, str] | None = None, folder: Path = ROOT) -> int:
    """Run the environment's Python with these arguments in a folder, to its end."""
    return ended(begin(arguments, more, folder))


def lab(options: list[str]) -> int:
    """Open JupyterLab on the first notebook, with notebooks and gallery in its file browser and settings of our own."""
    overrides = JUPYTER / "labconfig" / "default_setting_overrides.json"
    overrides.parent.mkdir(parents=True, exist_ok=True)
    overrides.write_text(json.dumps(LAB_SETTINGS, indent=2), "utf-8")
    asked = asked_port(options)
    port = free_port(asked)
    if port is None:
        print(f"Port {asked} is taken by another program. Leave it out, and a free one is found: {command_line()}")
        return 1
    token = os.environ.get("JUPYTER_TOKEN") or secrets.token_hex(16)
    # the file browser shows the whole folder, not the notebook's own
    page = f"/lab/tree/{FIRST_NOTEBOOK}?file-browser-path=/"
    address = f"http://127.0.0.1:{port}{page}&token={token}"
    if asked is None and port != FIRST_PORT:
        print(f"Port {FIRST_PORT} is taken, perhaps by a JupyterLab that is open already; this one is on {port}.")
    print(f"JupyterLab opens in your browser. If it does not, copy this address into one: {address}")
    print("Keep this window open while you work. To stop, save your notebooks and press Ctrl C twice here.", flush=True)
    arguments = [
        "-m", "jupyterlab", "--ServerApp.ip=127.0.0.1", f"--ServerApp.port={port}", "--ServerApp.port_retries=0",
        f"--ServerApp.root_dir={ROOT}", f"--LabApp.default_url={page}",
        "--LabApp.extension_manager=readonly", "--log-level=WARN", "--LabApp.log_level=WARN", *options,
    ]  # fmt: skip
    homes = {"JUPYTER_CONFIG_DIR": JUPYTER, "JUPYTER_DATA_DIR": JUPYTER / "data"}
    return run(arguments, {"JUPYTER_TOKEN": token, **{name: str(home) for name, home in homes.items()}})


def asked_port(options: list[str]) -> int | None:
    """Take a port that was asked for out of the options."""
    for option in options:
        name, _, value = option.partition("=")
        if name == "--port" and value.isdecimal():
            options.remove(option)
            return int(value)
    return None


def free_port(asked: int | None) -> int | None:
    """Find a free port: the one that is asked for, or the first of many."""
    for port in range(FIRST_PORT, FIRST_PORT + 50) if asked is None else [asked]:
        with socket.socket() as probe:
            if os.name != "nt":  # where it would let two programs have one port
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    return None


def command_line() -> str:
    """Say how this file is started here."""
    return "py start.py" if os.name == "nt" else "python3 start.py"


def check(options: list[str]) -> int:
    """Run every check and fail if one failed; options go to pytest.

    Types are checked beside the tests, which leave a core free while they are collected; what was found follows them.
    """
    # what was compiled is kept, as on most machines anyway: many processes import the same modules;
    # and numpy's sums take one core, not all: its threads wait in a busy circle for cores that other workers have
    more = {"PYTHONDONTWRITEBYTECODE": "", "OPENBLAS_NUM_THREADS": "1"}
    failed = []
    with tempfile.TemporaryFile() as said:
        types = begin(TYPES, more, said=said)
        for command in CHECKS:
            arguments = [*command, *options] if "pytest" in command else command
            print("$ python " + " ".join(arguments), flush=True)
            if run(arguments, more):
                failed.append(" ".join(command[1:]))
        print("$ python " + " ".join(TYPES), flush=True)
        if ended(types):
            failed.append(" ".join(TYPES[1:]))
        said.seek(0)
        print(said.read().decode("utf-8", "replace"), end="", flush=True)
    if failed:
        print("Failed: " + ", ".join(failed), flush=True)
    return 1 if failed else 0


def main(arguments: list[str]) -> int:
    """Set up, then open the lab, test, or run what was asked."""
    if sys.version_info < (3, 11):  # noqa: UP036 — this file may be started by any Python
        print("mosaickit needs Python 3.11 or newer; this is " + sys.version.split()[0])
        return 2
    if not arguments or arguments[0].startswith("-"):
        arguments = ["lab", *arguments]
    verb, *rest = arguments
    if verb not in ("lab", "test", "run") or (verb == "run" and not rest):
        print("Usage: python start.py [lab [options] | test [pytest options] | run ARGUMENTS FOR PYTHON]")
        return 2
    try:
        set_up()
    except SetUpError as error:
        print(error)
        return 1
    except KeyboardInterrupt:
        print("Setting up was interrupted. Start again when you like: it begins afresh, and nothing has to be deleted.")
        return 130
    if verb == "test":
        return check(rest)
    if verb == "lab":
        return lab(rest)
    # a maker's folder may hold any file: none of them is taken for a module of Python
    safe = ["-P"] if rest[:2] == ["-m", "mosaickit"] else []
    return run([*safe, *rest], folder=Path.cwd())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
