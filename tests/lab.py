"""A real JupyterLab and a real Chromium for tests, each started once for many tests and stopped whatever happens.

Tests come at them by the fixtures of conftest.py. Chromium is the system's own. Where there is none, the tests that
need it are skipped with the reason, but never in CI, where a missing browser is a failure.
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
from warm_kernels import warm_kernels

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
"""Chromium without windows is the same browser and takes a seventh less of a processor."""
CHROMIUM = next((path for name in NAMES if (path := shutil.which(name))), None)
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-unsafe-swiftshader",  # draws in space without a graphics card
]
PATIENCE = 120  # seconds; it bounds what hangs, and proves nothing
SIZE = {"width": 1280, "height": 1000}
PATHS = ("CONFIG_DIR", "DATA_DIR", "RUNTIME_DIR")
SETTINGS = {
    "@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False},
    "@jupyterlab/docmanager-extension:plugin": {"autosave": False},
}
FIRST_OF_ALL = """import atexit, os, sys
atexit.register(os._exit, 0)
if "ipywidgets" in sys.modules:
    sys.modules["ipywidgets"].register_comm_target()
"""
"""What kernels run first: they end without taking apart, at length, what ends with them; widgets that were loaded
before there was a kernel are told of it, as they look for one when they are loaded."""


def need(there, missing, *, left_out, skipped):
    """Skip, with the reason, what needs a tool that is not there; in CI, where nothing may be left out, fail."""
    if not there and os.environ.get("CI"):
        pytest.fail(f"{missing} is missing, and CI must not leave {left_out} out.")
    if not there:
        pytest.skip(skipped)


def need_chromium():
    skipped = "Chromium is not installed: the painter was not tried in a browser."
    need(CHROMIUM, "Chromium", left_out="the browser's tests", skipped=skipped)


@contextmanager
def running_lab(folder):
    """Start JupyterLab on folder/root with settings of its own; gives the address, and the kernelspec of its tests."""
    homes = {f"JUPYTER_{name}": folder / name for name in PATHS}
    homes |= {name: folder / name for name in ("JUPYTERLAB_SETTINGS_DIR", "JUPYTERLAB_WORKSPACES_DIR", "IPYTHONDIR")}
    for home in (*homes.values(), folder / "root"):
        home.mkdir(exist_ok=True)
    startup = folder / "IPYTHONDIR" / "profile_default" / "startup" / "first.py"
    startup.parent.mkdir(parents=True, exist_ok=True)
    startup.write_text(FIRST_OF_ALL, "utf-8")
    overrides = folder / "CONFIG_DIR" / "labconfig" / "default_setting_overrides.json"
    overrides.parent.mkdir(exist_ok=True)
    overrides.write_text(json.dumps(SETTINGS), "utf-8")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    options = [
        "--no-browser", "--allow-root", "--ServerApp.ip=127.0.0.1", f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0", "--IdentityProvider.token=", "--ServerApp.password=",
        "--LabApp.extension_manager=readonly", "--LabApp.expose_app_in_browser=True",
        f"--ServerApp.root_dir={folder / 'root'}",
    ]  # fmt: skip
    environment = {name: str(home) for name, home in homes.items()}
    with warm_kernels(folder, environment) as kernel, (folder / "lab.log").open("w") as log:
        lab = subprocess.Popen(
            [sys.executable, "-m", "jupyterlab", *options],
            env=os.environ | environment,
            stdout=log,
            stderr=subprocess.STDOUT,
        )
        try:
            address = f"http://127.0.0.1:{port}"
            wait_until(lambda: answers(f"{address}/api/status", lab, folder / "lab.log"), "the lab does not answer")
            yield address, kernel
        finally:
            stop(lab)


def stop(lab):
    """Stop a JupyterLab; one that a page is just connecting to may not end of itself."""
    lab.terminate()
    try:
        lab.wait(PATIENCE)
    except subprocess.TimeoutExpired:
        lab.kill()
        lab.wait()


def answers(address, lab, log):
    """Whether a server that was started answers; fails if it has ended."""
    try:
        urllib.request.urlopen(address, timeout=PATIENCE).close()
    except OSError:
        assert lab.poll() is None, log.read_text("utf-8")
        return False
    return True


def wait_until(is_so, what):
    """Wait until something is so, and fail with a sentence (or a function that gives one) if it never is."""
    end = time.monotonic() + PATIENCE
    while not is_so():
        if time.monotonic() > end:
            pytest.fail(what if isinstance(what, str) else what())
        time.sleep(0.02)


def write_notebook(file, cells, kernel="python3"):
    """Write a notebook of code cells, and the kernel that runs them."""
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell, id=f"cell-{number}") for number, cell in enumerate(cells)],
        metadata={"kernelspec": {"display_name": "Python 3", "language": "python", "name": kernel}},
    )
    nbformat.write(notebook, file)


def new_tab(browser, **options):
    """Open an empty page in a fresh profile, with options of playwright's new_context."""
    page = browser.new_context(**{"viewport": SIZE} | options).new_page()
    page.set_default_timeout(PATIENCE * 1000)
    return page


def listen(page, may_ask):
    """Note what a page complains of, and what it asks for though it may not, which it is not given; gives the list."""
    wrong = []

    def answer(route):
        if may_ask(route.request.url):
            route.continue_()
        else:
            wrong.append(route.request.url)
            route.abort()

    page.context.route("**/*", answer)
    page.on("console", lambda message: wrong.append(message.text))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    return wrong


def in_files(url):
    """Whether an address needs no network: a page that is one file asks for no other."""
    return url.startswith(("file:", "data:", "blob:"))


class Lab:
    """A running JupyterLab: address, usual kernel, the folder that it shows, and pages that stay open between tests."""

    def __init__(self, folder, address, kernel):
        self.root, self.address, self.kernel, self.pages = folder / "root", address, kernel, {}

    def new_page(self, browser, *, touch=False):
        """Load the lab into a new profile, with nothing open in it."""
        page = new_tab(browser, has_touch=touch)
        page.goto(f"{self.address}/lab?reset")
        page.wait_for_function("window.jupyterapp?.restored.then(() => true)")
        return page

    def page(self, browser, *, dark, touch):
        """Give a page with the lab and nothing open in it: the one used before, or a new one."""
        page = self.pages.get(touch)
        if page is None or page.is_closed():  # as those of a browser that broke down are
            page = self.pages[touch] = self.new_page(browser, touch=touch)
        theme = "JupyterLab Dark" if dark else "JupyterLab Light"
        # the device stays light: a widget has to follow the lab
        promised(page, "theme => jupyterapp.commands.execute('apputils:change-theme', { theme })", theme)
        page.wait_for_function("light => document.body.dataset.jpThemeLight === light", arg=str(not dark).lower())
        return page

    def open(self, page, name, cells, kernel=None):
        """Write a notebook, open it on a page and wait for its kernel, a new one; nothing is run."""
        write_notebook(self.root / name, cells, kernel or self.kernel)
        promised(
            page,
            "async path => { const open = await jupyterapp.commands.execute('docmanager:open', { path });"
            " await open.revealed; await open.sessionContext.ready; }",
            name,
        )
        page.locator(".jp-NotebookPanel .jp-Cell").first.wait_for()
        idle(page)

    def clear(self, page):
        """Close all that is open and end its kernels; gives whether the page can be used again."""
        if not page.locator(".jp-LabShell").count():
            return False
        page.mouse.up()
        page.set_viewport_size(SIZE)
        promised(
            page,
            "() => { for (const open of [...jupyterapp.shell.widgets('main')]) open.dispose();"
            " jupyterapp.shell.expandLeft();"
            " return jupyterapp.serviceManager.sessions.shutdownAll(); }",
        )
        return not page.locator(".jp-Dialog").count()

    def forget(self, page):
        """Close a page that cannot be used again, and end its kernels: one that is behind would go on writing files."""
        self.pages = {touch: kept for touch, kept in self.pages.items() if kept is not page}
        server, address = page.context.request, f"{self.address}/api/sessions"
        cookies = {cookie["name"]: cookie["value"] for cookie in page.context.cookies()}
        for session in server.get(address, timeout=PATIENCE * 1000).json():
            answer = server.delete(
                f"{address}/{session['id']}", headers={"X-XSRFToken": cookies["_xsrf"]}, timeout=PATIENCE * 1000
            )
            assert answer.ok or answer.status == 404, answer.text()  # it may have ended by itself
        page.context.close()


def promised(page, script, given=None):
    """Run what gives a promise, and wait until it is kept; playwright's own evaluate would wait for ever.

    A kernel that cannot start, for one, never comes to be ready.
    """
    page.wait_for_function(f"async given => {{ await ({script})(given); return true; }}", arg=given)


def settle(page):
    """Wait until what the page was about to do is done and its messages have come: two pictures later."""
    promised(
        page, "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))))"
    )


def idle(page):
    """Wait until the notebook's kernel is connected and idle: running before would open a dialog."""
    page.wait_for_function("document.querySelector('.jp-StatusBar-Left')?.textContent.includes('| Idle')")


def menu(page, title, command):
    """Choose a command from a menu of the lab."""
    page.click(f".lm-MenuBar-itemLabel:text-is('{title}')")
    page.click(f".lm-Menu-item[data-command='{command}']")


def run_all(page):
    """Run all cells of the notebook."""
    menu(page, "Run", "runmenu:run-all")


def restart_kernel(page):
    """Restart the notebook's kernel by the menu, and wait until the new one is idle."""
    page.evaluate(
        """() => {
          let away = false;
          window.restarted = false;
          jupyterapp.shell.currentWidget.sessionContext.session.kernel.statusChanged.connect((_, status) => {
            away ||= status === "restarting";
            window.restarted ||= away && status === "idle";
          });
        }"""
    )
    menu(page, "Kernel", "kernelmenu:restart")
    page.click(".jp-Dialog button.jp-mod-accept")
    page.wait_for_function("window.restarted")
    idle(page)
