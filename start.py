"""Set mosaickit up in a folder of its own and start it: one command for makers, one for developers.

``python start.py`` opens JupyterLab on the first notebook; ``python start.py test`` passes every check
and test; ``python start.py run COMMAND …`` runs anything else inside the environment. The environment
lives in ``.venv`` beside this file and is made again only when the locked requirements change. Only the
standard library is used, so a fresh Python 3.11 or newer is all that is needed.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
SCRIPTS = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = SCRIPTS / ("python.exe" if os.name == "nt" else "python")
LOCK = ROOT / "requirements.lock"
STAMP = VENV / "ready"
FIRST_NOTEBOOK = "notebooks/01-from-picture-to-chart.ipynb"

CHECKS = [
    ["-m", "ruff", "format", "--check", "."],
    ["-m", "ruff", "check", "."],
    ["-m", "mypy"],
    # a file's tests stay together, as a notebook's cells must; conftest.py puts the files in order
    ["-m", "pytest", "-n", "2", "--dist", "loadfile", "--no-loadscope-reorder", "--durations", "20"],
]


def fingerprint() -> str:
    """Name what the environment is made from: a change of any of it makes the environment anew."""
    parts = [
        LOCK.read_bytes(),
        (ROOT / "pyproject.toml").read_bytes(),
        str(ROOT).encode(),
        sys.version.encode(),
    ]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def set_up() -> None:
    """Make the environment if it is missing or out of date: locked versions by hash, then mosaickit."""
    if STAMP.is_file() and STAMP.read_text() == fingerprint():
        return
    print("Setting up mosaickit in .venv (once; about a minute) ...", flush=True)
    subprocess.run([sys.executable, "-m", "venv", "--clear", str(VENV)], check=True)
    # uv compiles no bytecode unless asked, and every notebook would then start two to three times slower
    environment = {**os.environ, "UV_COMPILE_BYTECODE": "1", "VIRTUAL_ENV": str(VENV)}
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*pip, "uv>=0.9,<1"], check=True)
    uv = [str(PYTHON), "-m", "uv", "pip", "install", "--quiet", "--python", str(PYTHON)]
    subprocess.run([*uv, "--require-hashes", "-r", str(LOCK)], check=True, env=environment)
    subprocess.run([*uv, "--no-deps", "--editable", str(ROOT)], check=True, env=environment)
    STAMP.write_text(fingerprint())


def run(arguments: list[str]) -> int:
    """Run the environment's Python with these arguments at the project's root."""
    path = str(SCRIPTS) + os.pathsep + os.environ.get("PATH", "")
    environment = {**os.environ, "PATH": path, "VIRTUAL_ENV": str(VENV)}
    return subprocess.run([str(PYTHON), *arguments], cwd=ROOT, env=environment).returncode


def check(options: list[str]) -> int:
    """Run every check in turn and fail if one failed; options go to pytest."""
    failed = []
    for command in CHECKS:
        arguments = [*command, *options] if "pytest" in command else command
        print("$ python " + " ".join(arguments), flush=True)
        if run(arguments):
            failed.append(" ".join(command[1:]))
    if failed:
        print("Failed: " + ", ".join(failed), flush=True)
    return 1 if failed else 0


def main(arguments: list[str]) -> int:
    """Set up, then open the lab, test, or run what was asked."""
    if sys.version_info < (3, 11):  # noqa: UP036 — this file may be started by any Python
        print("mosaickit needs Python 3.11 or newer; this is " + sys.version.split()[0])
        return 2
    verb, *rest = arguments or ["lab"]
    if verb not in ("lab", "test", "run") or (verb == "run" and not rest):
        print("Usage: python start.py [lab [options] | test [pytest options] | run ARGUMENTS FOR PYTHON]")
        return 2
    try:
        set_up()
    except subprocess.CalledProcessError as error:
        print(f"Setting up stopped at: {' '.join(map(str, error.cmd[:6]))} ...; see the lines above.")
        return 1
    if verb == "test":
        return check(rest)
    return run(rest if verb == "run" else ["-m", "jupyterlab", *(rest or [FIRST_NOTEBOOK])])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
