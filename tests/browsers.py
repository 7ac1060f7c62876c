"""Fixtures of tests and benchmarks that need a browser: one Chromium and one JupyterLab for many of them."""

import asyncio
from contextlib import contextmanager

import pytest
from lab import CHROMIUM, FLAGS, Lab, listen, need_chromium, new_tab, running_lab, settle
from playwright.sync_api import sync_playwright


@pytest.fixture(scope="session")
def slow():
    """Ask for it where a browser, a kernel or another long process is started: `--quick` leaves the test out."""


@contextmanager
def within(loop):
    """Let playwright find its event loop, which would be in the way of all others between its tests."""
    asyncio._set_running_loop(loop)
    try:
        yield
    finally:
        asyncio._set_running_loop(None)


@pytest.fixture(scope="session")
def _started(slow):
    """Playwright and its loop, for all tests of this process."""
    need_chromium()
    playwright = sync_playwright().start()
    loop = asyncio.get_running_loop()
    asyncio._set_running_loop(None)
    yield playwright, loop
    with within(loop):
        playwright.stop()


@pytest.fixture(scope="session")
def _browsers(_started):
    """The browser that runs, in a list; it is ended with the tests."""
    running = []
    yield running
    with within(_started[1]):
        for browser in running:
            browser.close()


@pytest.fixture
def playwright(_started):
    """Playwright itself, for a test that starts a browser of its own."""
    playwright, loop = _started
    with within(loop):
        yield playwright


@pytest.fixture
def browser(playwright, _browsers):
    """One Chromium for all tests, started again only if it broke down; make a profile of your own in it."""
    if not _browsers or not _browsers[-1].is_connected():
        _browsers.append(playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS))
    return _browsers[-1]


@pytest.fixture
def tab(browser):
    """Open an empty page in a fresh profile: tab(**options of playwright's new_context)."""
    pages = []

    def fresh(**options):
        pages.append(new_tab(browser, **options))
        return pages[-1]

    yield fresh
    for page in pages:
        page.context.close()


@pytest.fixture
def quiet_page(tab):
    """With quiet_page(address, may_ask, **options) as page: it fails if it asks for what it may not, or complains."""

    @contextmanager
    def opened(address, may_ask, **options):
        page = tab(**options)
        wrong = listen(page, may_ask)
        page.goto(address)
        yield page
        if options.get("java_script_enabled", True):
            settle(page)
        assert wrong == []

    return opened


@pytest.fixture(scope="session")
def lab(slow, tmp_path_factory):
    """One JupyterLab for all tests: `root` is its folder; `open_notebook` opens notebooks in it."""
    need_chromium()
    folder = tmp_path_factory.mktemp("lab")
    with running_lab(folder) as (address, kernel):
        yield Lab(folder, address, kernel)


@pytest.fixture
def open_notebook(lab, browser, request):
    """Write a notebook and open it in the lab: open_notebook(name, cells, dark=False, touch=False) gives the page.

    Its kernel is a new one, started and idle; nothing is run. It has the package loaded, unless it is asked for as
    readers start it, kernel="python3". The page was used by other tests and will be used again, unless this one fails.
    """
    used = []

    def opened(name, cells, *, dark=False, touch=False, kernel=None):
        page = lab.page(browser, dark=dark, touch=touch)
        used.append(page)
        lab.open(page, name, cells, kernel)
        return page

    yield opened
    for page in used:
        if page.is_closed():
            continue
        again = False
        try:
            again = not request.node.stash.get(FAILED, True) and lab.clear(page)
        finally:
            if not again:
                lab.forget(page)


FAILED = pytest.StashKey()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    """Note whether a test failed, for fixtures to know what they may use again."""
    report = yield
    if report.when == "call":
        item.stash[FAILED] = report.failed
    return report
