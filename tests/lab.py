"""A real JupyterLab and a real Chromium for tests, each stopped whatever happens.

Chromium is the system's own. Where there is none, the tests that need it are skipped with the reason, but never in
CI, where a missing browser is a failure.
"""

import json
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager

import nbformat
import pytest
from playwright.sync_api import sync_playwright

CHROMIUM = next(
    (path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), None
)
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PATHS = ("CONFIG_DIR", "DATA_DIR", "RUNTIME_DIR")
SETTINGS = {
    "@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False},
    "@jupyterlab/docmanager-extension:plugin": {"autosave": False},
}


def need(there, missing, *, left_out, skipped):
    """Skip, with the reason, what needs a tool that is not there; in CI, where nothing may be left out, fail."""
    if not there and os.environ.get("CI"):
        pytest.fail(f"{missing} is missing, and CI must not leave {left_out} out.")
    if not there:
        pytest.skip(skipped)


def need_chromium():
    skipped = "Chromium is not installed: the painter was not tried in a browser."
    need(CHROMIUM, "Chromium", left_out="the browser's tests", skipped=skipped)


def types_of(folder, whose):
    """Check the types of all JavaScript in a folder; gives the files, and tsc's process when it has ended."""
    tsc = shutil.which("tsc")
    skipped = f"TypeScript's tsc is not installed: the types in {whose} JavaScript were not checked."
    need(tsc, "TypeScript", left_out=f"the types in {whose} JavaScript", skipped=skipped)
    options = ["--noEmit", "--checkJs", "--allowJs", "--strict", "--target", "es2022", "--module", "es2022"]
    pages = sorted(folder.glob("*.js"))
    command = [tsc, *options, "--lib", "es2022,dom,dom.iterable", *map(str, pages)]
    return pages, subprocess.run(command, capture_output=True, text=True, timeout=120)


@contextmanager
def running_lab(folder, *, dark=False):
    """Start JupyterLab on folder/root with settings of its own; gives the address."""
    homes = {f"JUPYTER_{name}": folder / name for name in PATHS}
    homes |= {name: folder / name for name in ("JUPYTERLAB_SETTINGS_DIR", "JUPYTERLAB_WORKSPACES_DIR", "IPYTHONDIR")}
    for home in (*homes.values(), folder / "root"):
        home.mkdir(exist_ok=True)
    theme = {"@jupyterlab/apputils-extension:themes": {"theme": "JupyterLab Dark"}} if dark else {}
    overrides = folder / "CONFIG_DIR" / "labconfig" / "default_setting_overrides.json"
    overrides.parent.mkdir(exist_ok=True)
    overrides.write_text(json.dumps(SETTINGS | theme), "utf-8")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    options = [
        "--no-browser", "--allow-root", "--ServerApp.ip=127.0.0.1", f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0", "--IdentityProvider.token=", "--ServerApp.password=",
        "--LabApp.extension_manager=readonly", f"--ServerApp.root_dir={folder / 'root'}",
    ]  # fmt: skip
    with (folder / "lab.log").open("w") as log:
        lab = subprocess.Popen(
            [sys.executable, "-m", "jupyterlab", *options],
            env=os.environ | {name: str(home) for name, home in homes.items()},
            stdout=log,
            stderr=subprocess.STDOUT,
        )
    try:
        address = f"http://127.0.0.1:{port}"
        for _ in range(300):
            try:
                urllib.request.urlopen(f"{address}/api/status", timeout=1).close()
                break
            except OSError:
                assert lab.poll() is None, (folder / "lab.log").read_text()
                time.sleep(0.1)
        yield address
    finally:
        lab.terminate()
        try:
            lab.wait(15)
        except subprocess.TimeoutExpired:
            lab.kill()
            lab.wait()


@contextmanager
def chromium(*, flags=(), **options):
    """Open a page of a fresh browser; nothing on it may take longer than 20 seconds."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=[*FLAGS, *flags])
        context = browser.new_context(viewport={"width": 1280, "height": 1000}, **options)
        page = context.new_page()
        page.set_default_timeout(20_000)
        try:
            yield page
        finally:
            browser.close()


@contextmanager
def many_profiles():
    """One Chromium for several tests, each of which has a profile of its own; fails or skips where there is none."""
    need_chromium()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


@contextmanager
def quiet_page(address, may_ask, **options):
    """Open a page; it fails if it asks for an address that it may not ask for, or complains."""
    need_chromium()
    asked, said = [], []

    def answer(route):
        if may_ask(route.request.url):
            route.continue_()
        else:
            asked.append(route.request.url)
            route.abort()

    with chromium(**options) as page:
        page.context.route("**/*", answer)
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(address)
        yield page
        page.wait_for_timeout(100)
    assert asked == []
    assert said == []


def write_notebook(folder, name, cells):
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell, id=f"cell-{number}") for number, cell in enumerate(cells)],
        metadata={"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}},
    )
    nbformat.write(notebook, folder / "root" / name)


def idle(page):
    # running before the kernel is connected would open a dialog
    page.wait_for_function("document.querySelector('.jp-StatusBar-Left')?.textContent.includes('| Idle')")


def open_notebook(page, address, name):
    page.goto(f"{address}/lab/tree/{name}?reset")
    page.wait_for_selector(".jp-NotebookPanel .jp-Cell")
    idle(page)


def menu(page, title, command):
    page.click(f".lm-MenuBar-itemLabel:text-is('{title}')")
    page.click(f".lm-Menu-item[data-command='{command}']")


def run_all(page):
    menu(page, "Run", "runmenu:run-all")
