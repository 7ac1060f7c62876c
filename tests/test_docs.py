"""The documentation: every public name is in it, every link leads somewhere, and it asks nobody for anything."""

import errno
import filecmp
import importlib
import inspect
import re
import subprocess
import sys
from functools import lru_cache
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from bs4 import BeautifulSoup

import mosaickit as mk

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "docs"))
docs, reference = importlib.import_module("build"), importlib.import_module("reference")

MEDIA = ("script", "img", "iframe", "source", "video", "audio", "embed", "object", "image", "use", "link")
LOADED = dict.fromkeys(MEDIA, ("src", "srcset", "href", "xlink:href", "data"))
WATCHED = """
import os, runpy, sys
root, *sys.argv = sys.argv[1:]
def watch(event, given):
    writes = {"open": lambda: isinstance(given[1], str) and set(given[1]) & set("wax+"), "os.mkdir": lambda: True,
              "os.rename": lambda: True, "os.remove": lambda: True, "os.rmdir": lambda: True}
    if event in writes and isinstance(given[0], (str, os.PathLike)) and writes[event]():
        if os.path.abspath(given[0]).startswith(root + os.sep):
            print("wrote", given[0])
sys.addaudithook(watch)
sys.path.insert(0, os.path.dirname(sys.argv[0]))
runpy.run_path(sys.argv[0], run_name="__main__")
"""


@pytest.fixture(scope="session")
def site(slow, tmp_path_factory):
    """The site, made once; the notebooks are not run."""
    folder = tmp_path_factory.mktemp("docs") / "site"
    assert docs.main([str(folder), "--as-stored"]) == 0
    return folder


class Tags(HTMLParser):
    """The tags of a page, as (name, attributes), with the text of its style sheets."""

    def __init__(self, path):
        super().__init__()
        self.tags, self.styles, self._in_style = [], [], False
        self.feed(path.read_text("utf-8"))
        self.ids = [given["id"] for _, given in self.tags if given.get("id")]

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._in_style = tag == "style"

    def handle_endtag(self, tag):
        self._in_style = False

    def handle_data(self, data):
        if self._in_style:
            self.styles.append(data)


@pytest.fixture(scope="session")
def pages(site):
    """The tags of all pages by their path in the site."""
    return {path.relative_to(site).as_posix(): Tags(path) for path in sorted(site.rglob("*.html"))}


@pytest.fixture(scope="session")
def soup(site):
    """Takes a page apart, once."""
    return lru_cache(lambda page: BeautifulSoup((site / page).read_text("utf-8"), "html.parser"))


def public():
    """Every public name with what it stands for."""
    for name in mk.__all__:
        found = getattr(mk, name)
        if inspect.ismodule(found):
            yield from ((f"{name}.{inner}", getattr(found, inner)) for inner in found.__all__)
        elif name != "__version__":
            yield name, found


def words(text):
    return " ".join(re.sub(r"[`*]", "", text).split())


# ---- what is in it -----------------------------------------------------------------------------------------


def test_every_public_name_has_its_place_with_its_first_sentence_and_its_source(site, pages):
    places = {}
    for page in pages:
        for name in pages[page].ids if page.startswith("reference/") else []:
            places.setdefault(name, []).append(page)
    seen = 0
    for name, found in public():
        assert len(places[name]) == 1, name
        (page,) = places[name]
        html = (site / page).read_text("utf-8")
        section = html.partition(f'aria-labelledby="{name}"')[2].partition("</section>")[0]
        assert f'<h2 id="{name}"><code>mk.{name}</code>' in section
        if callable(found):  # a class or a function knows where it lives, and has a docstring of its own
            assert page == f"reference/{found.__module__.split('.')[1]}.html"
            text = words(unescape(re.sub(r"<[^>]+>", "", section)))
            assert words(inspect.getdoc(found).partition("\n\n")[0]) in text, name
            assert words(inspect.getsource(found)) in text, name
            seen += 1
    assert seen > 80
    assert places["__version__"] == ["reference/index.html"]


def test_the_reference_and_the_search_tell_of_every_public_name(soup):
    for page in ("reference/index.html", "search.html"):
        told = {link.text for link in soup(page).main.find_all("a")}
        assert {f"mk.{name}" for name, _ in public()} <= told
    says = {line["data-name"]: line.find(class_="says").text for line in soup("search.html").find_all("li")}
    assert words(says["mk.check"]) == words(inspect.getdoc(mk.check).partition("\n\n")[0])
    assert "mk.Motif.from_text" in says


def test_signatures_texts_and_examples_link_the_names_in_them(soup):
    signature = soup("reference/repair.html").find(id="nearest_workable").find_next("pre")
    assert {link.text: link["href"] for link in signature.find_all("a")} == {
        "Motif": "motif.html#Motif",
        "Symmetry": "repair.html#repair.Symmetry",
        "First": "repair.html#repair.First",
        "Hand": "orientation.html#orientation.Hand",
        "Repair": "repair.html#repair.Repair",
    }
    texts = {link.text: link["href"] for link in soup("reference/repair.html").select("dd a")}
    assert texts["check"] == "../reference/rules.html#check"
    front = {link.get_text(): link["href"] for link in soup("index.html").select(".highlight a")}
    assert front["mk.check"] == "reference/rules.html#check"
    assert front["mk.draw.chart"] == "reference/draw.html#draw.chart"


def test_a_type_is_told_as_it_was_written(soup):
    types = [each.get_text() for each in soup("reference/repair.html").select("dt .type")]
    assert '"mirror", "up-down", "half-turn", or several of them' in types


def test_there_is_a_page_for_each_notebook_and_each_lesson(pages, soup):
    stored = ROOT / "notebooks"
    files = [*stored.glob("*.ipynb"), *stored.glob("lessons/*.ipynb")]
    made = {f"notebooks/{file.relative_to(stored).with_suffix('.html').as_posix()}" for file in files}
    assert made == {page for page in pages if page.startswith("notebooks/")} - {"notebooks/index.html"}
    told = [link["href"].removeprefix("../") for link in soup("notebooks/index.html").select("dt a")]
    assert set(told) == made
    lessons = [page for page in told if "/lessons/" in page]
    assert lessons == sorted(lessons)


def test_the_gallery_is_there_as_it_stands(site):
    assert (site / "gallery" / "index.html").read_bytes() == (ROOT / "gallery" / "index.html").read_bytes()


# ---- links and loads ---------------------------------------------------------------------------------------


def test_every_link_and_every_anchor_leads_somewhere(site, pages):
    followed = 0
    for page, found in pages.items():
        for address in {given.get(name) for _, given in found.tags for name in ("href", "src", "action")} - {None}:
            parts = urlsplit(address)
            if parts.scheme:
                continue
            target = ((site / page).parent / unquote(parts.path)).resolve() if parts.path else site / page
            assert target.is_file(), (page, address)
            if parts.fragment:
                inside = pages[target.relative_to(site.resolve()).as_posix()]
                assert unquote(parts.fragment) in inside.ids, (page, address)
            followed += 1
    assert followed > 1000


def test_every_id_is_there_once(pages):
    for page, found in pages.items():
        assert len(found.ids) == len(set(found.ids)), page


def test_no_page_would_load_anything_from_elsewhere(pages):
    for page, found in pages.items():
        for tag, given in found.tags:
            addresses = [given.get(name) or "" for name in LOADED.get(tag, ())]
            assert not any(re.search(r"https?:|^//", address) for address in addresses), (page, tag, given)
        styles = [*found.styles, *(given.get("style") or "" for _, given in found.tags)]
        assert not any(re.search(r"@import|url\(\s*['\"]?(?!data:|#)", style) for style in styles), page
        policy = next(given["content"] for _, given in found.tags if given.get("http-equiv"))
        assert policy.startswith("default-src 'none'"), page


def test_a_file_that_links_to_what_the_site_does_not_show_is_refused():
    texts = docs.Texts(reference.Reference([]), "", "README.md")
    assert 'href="contributors.html#words"' in docs.markdown(texts, "[words](DEVELOPERS.md#words)")
    with pytest.raises(reference.DocsError, match=r"README.md links to 'start.py', and no page of the site shows that"):
        docs.markdown(texts, "[start](start.py)")


# ---- the command -------------------------------------------------------------------------------------------


def test_another_run_makes_the_same_bytes_and_writes_nothing_into_the_project(site, tmp_path):
    again = tmp_path / "again"
    command = [
        sys.executable,
        "-B",
        "-c",
        WATCHED,
        str(ROOT),
        str(ROOT / "docs" / "build.py"),
        str(again),
        "--as-stored",
    ]
    ran = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path)
    assert (ran.stdout, ran.returncode) == (f"{again / 'index.html'}\n", 0), ran.stderr
    files = sorted(path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())
    assert files == sorted(path.relative_to(again).as_posix() for path in again.rglob("*") if path.is_file())
    assert filecmp.cmpfiles(site, again, files, shallow=False)[0] == files
    assert list(tmp_path.iterdir()) == [again]


@pytest.mark.usefixtures("slow")
def test_a_notebook_is_run_in_its_own_folder_and_the_site_shows_what_it_made(tmp_path):
    laid, folder = tmp_path / "laid", tmp_path / "site"
    (laid / "notebooks").mkdir(parents=True)
    cells = [nbformat.v4.new_markdown_cell("# Stripes\n\nTwo `rows`.", id="one")]
    cells += [nbformat.v4.new_code_cell("import os\nprint(os.getcwd(), 6 * 7)", id="two")]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), laid / "notebooks" / "01-stripes.ipynb")
    shown = docs.notebooks(laid, folder, run=True)
    page = "notebooks/01-stripes.html"
    assert shown == {"Notebooks": [docs.Notebook("notebook", page, "Stripes", "Two `rows`.")]}
    html = (folder / page).read_text("utf-8")
    assert f"{laid / 'notebooks'} 42" in html
    assert 'href="../index.html"' in html
    assert "Shown as it is stored" not in html


def refused(capsys, folder, sentence):
    assert docs.main([str(folder), "--as-stored"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert re.fullmatch(sentence, said.err.strip())


def test_a_folder_that_cannot_be_written_is_refused_in_a_sentence(tmp_path, capsys, monkeypatch):
    nowhere, file, full = tmp_path / "nowhere" / "site", tmp_path / "file", tmp_path / "full"
    refused(capsys, nowhere, r".*nowhere/site cannot be made: there is no folder .*nowhere\.")
    file.write_text("mine")
    refused(capsys, file, r".*file is a file; name a folder\.")
    full.mkdir()
    (full / "letter.txt").write_text("mine")
    refused(capsys, full, r".*full holds other files; name a folder that is empty, new, or a site made before\.")

    def forbidden(*_, **__):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "mkdir", forbidden)
    refused(capsys, tmp_path / "site", r".*site could not be written, and nothing was changed: Permission denied\.")
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["file", "full", "letter.txt"]


def test_what_goes_wrong_on_the_way_leaves_the_site_that_was_there(tmp_path, capsys, monkeypatch):
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "index.html").write_text(docs.MARK)

    def half(new, *, run):
        (new / "index.html").write_text("half")
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(docs, "build", half)
    refused(capsys, folder, r".*site could not be written, and nothing was changed: No space left on device\.")
    assert [path.name for path in tmp_path.rglob("*")] == ["site", "index.html"]
    assert (folder / "index.html").read_text() == docs.MARK
    monkeypatch.setattr(docs, "build", lambda new, *, run: (new / "index.html").write_text("whole"))
    rename = Path.rename

    def not_the_new(self, target):
        if ".new-" in self.name:
            raise OSError(errno.EBUSY, "Device or resource busy")
        return rename(self, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", not_the_new)
        refused(capsys, folder, r".*site could not be written, and nothing was changed: Device or resource busy\.")
    assert [path.name for path in tmp_path.rglob("*")] == ["site", "index.html"]
    assert (folder / "index.html").read_text() == docs.MARK
    assert docs.main([str(folder)]) == 0
    assert [path.name for path in tmp_path.rglob("*")] == ["site", "index.html"]
    assert (folder / "index.html").read_text() == "whole"


# ---- docstrings that cannot be shown -----------------------------------------------------------------------

GOOD = '''    """Say it.

    Parameters
    ----------
    row : int
        From 1.
    """
'''


def package(folder, docstring):
    """Make a package of one name with this docstring."""
    (folder / "mosaickit").mkdir()
    lines = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from mosaickit.rules import say as say\n"
    (folder / "mosaickit" / "__init__.py").write_text(lines)
    (folder / "mosaickit" / "rules.py").write_text(
        f'"""Rules.\n\nAll of them."""\n\ndef say(row: int) -> None:\n{docstring}    ...\n'
    )
    return folder


def test_a_docstring_is_read_by_its_parts(tmp_path):
    found = reference.read(package(tmp_path, GOOD), ["say"])
    (page,) = found.pages
    assert (page.module, page.job, page.summary) == ("rules", "Rules", "Rules.")
    (entry,) = page.entries
    assert (entry.name, entry.kind, entry.summary) == ("say", "function", "Say it.")
    assert entry.parts[1] == reference.Part("Parameters", (reference.Line("row", "int", "From 1."),))


@pytest.mark.parametrize(
    ("docstring", "sentence"),
    [
        (GOOD.replace("row :", "raw :"), r"docstring of mosaickit.rules.say cannot be taken apart: .*Parameter 'raw'"),
        (
            GOOD.replace("Parameters", "Paramters"),
            r"docstring of mosaickit.rules.say has a section 'Paramters', which numpydoc has not",
        ),
        ("", r"mosaickit.rules.say has no docstring"),
    ],
    ids=["no such parameter", "no such section", "none"],
)
def test_a_docstring_that_cannot_be_taken_apart_is_refused_by_name(tmp_path, docstring, sentence):
    with pytest.raises(reference.DocsError, match=sentence):
        reference.read(package(tmp_path, docstring), ["say"])


def test_a_name_that_type_checkers_do_not_see_is_refused(tmp_path):
    with pytest.raises(reference.DocsError, match=r"`mk.sing` is not among the imports for type checkers"):
        reference.read(package(tmp_path, GOOD), ["say", "sing"])


def test_a_docstring_that_cannot_be_shown_ends_the_command_with_1(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(docs, "ROOT", package(tmp_path, GOOD.replace("row :", "raw :")))
    monkeypatch.setattr(docs.mk, "__all__", ["say"])
    assert docs.main([str(tmp_path / "site")]) == 1
    assert "mosaickit.rules.say" in capsys.readouterr().err
    assert not (tmp_path / "site").exists()


# ---- in a browser ------------------------------------------------------------------------------------------


@pytest.fixture
def opened(quiet_page, site):
    """Open a page; it fails if it asks for anything but files of the site or complains."""

    def it(path, **options):
        return quiet_page((site / path).as_uri(), lambda url: url.startswith(site.as_uri()), **options)

    return it


def test_from_the_front_page_a_name_is_found_by_keyboard(opened):
    with opened("index.html") as page:
        assert page.eval_on_selector("main img", "image => image.complete && image.naturalWidth > 100")
        page.focus("#find")
        page.keyboard.type("mirror")
        page.keyboard.press("Enter")
        page.wait_for_url("**/search.html?q=mirror")
        found = page.eval_on_selector_all("#all li", "lines => lines.map(line => line.dataset.name)")
        assert found[0] == "mk.mirror"
        assert page.text_content("#found").startswith(f"{len(found)} of ")
        page.fill("#find", "differs least")
        assert "mk.nearest_workable" in page.eval_on_selector_all(
            "#all li", "lines => lines.map(line => line.dataset.name)"
        )
        page.fill("#find", "Nearest_Workable")
        page.keyboard.press("Enter")
        page.keyboard.press("Enter")
        page.wait_for_url("**/reference/repair.html#nearest_workable")
        assert page.locator("#nearest_workable").is_visible()


def test_without_javascript_the_search_is_a_list_of_all_names(opened):
    with opened("search.html", java_script_enabled=False) as page:
        assert page.locator("#all li").count() > 200


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_and_nothing_runs_over_the_side(opened, site, scheme):
    with opened("index.html", color_scheme=scheme) as page:
        for path in ("index.html", "reference/ranking.html", "notebooks/index.html", "search.html?q=mirror"):
            page.goto(f"{site.as_uri()}/{path}")
            page.eval_on_selector_all("details", "all => all.forEach(one => (one.open = true))")
            for width in (390, 1280):
                page.set_viewport_size({"width": width, "height": 900})
                assert page.evaluate("document.documentElement.scrollWidth") <= width, path
            assert [fault["id"] for fault in Axe().run(page).response["violations"]] == [], path
        background = page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert (sum(map(int, re.findall(r"\d+", background)[:3])) < 200) == (scheme == "dark")
