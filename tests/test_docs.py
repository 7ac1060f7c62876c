"""The documentation: every public name is in it once, every link leads somewhere, and it asks nobody for anything."""

import importlib
import inspect
import json
import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote, urlsplit

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from bs4 import BeautifulSoup
from questions import QUESTIONS

import mosaickit as mk

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "docs"))
docs, jobs, reference = (importlib.import_module(name) for name in ("build", "jobs", "reference"))

MEDIA = ("script", "img", "iframe", "source", "video", "audio", "embed", "object", "image", "use", "link")
CUT = """all => all.filter(one => {  // what is wider than the page, and does not move in a frame of its own
  if (one.getBoundingClientRect().right <= innerWidth + 1 || !one.checkVisibility()) return false;
  for (let at = one; !at.matches(".bd-article-container, .bd-search-container"); at = at.parentElement)
    if (/auto|scroll/.test(getComputedStyle(at).overflowX)) return false;
  return true;
}).map(one => one.outerHTML.slice(0, 100))"""
BUILD = "import pathlib, sys, build; sys.exit(build.main(['--as-stored'], pathlib.Path(sys.argv[1])))"


def sphinx(*arguments):
    """Run Python in docs/, where Sphinx's own remarks are no errors of ours."""
    return subprocess.run([sys.executable, *map(str, arguments)], capture_output=True, text=True, cwd=ROOT / "docs")


@pytest.fixture(scope="session")
def site(slow, tmp_path_factory):
    """The site, made once; the notebooks are not run."""
    folder = tmp_path_factory.mktemp("docs") / "site"
    made = sphinx("-B", "-c", BUILD, folder)
    assert (made.returncode, made.stdout, made.stderr) == (0, f"{folder / 'index.html'}\n", "")
    return folder


@pytest.fixture(scope="session")
def pages(site):
    """All pages by their path in the site."""
    files = [path for path in sorted(site.rglob("*.html")) if "_static" not in path.parts]  # the theme's own templates
    return {path.relative_to(site).as_posix(): BeautifulSoup(path.read_text("utf-8"), "html.parser") for path in files}


def public():
    """Every public name, as the reference has it, with what it stands for."""
    for name in mk.__all__:
        found = getattr(mk, name)
        if name in ("fabric", "files", "guiding", "ideas", "motif", "sizes", "wording", "yarn"):
            continue  # of these what verbs give back is public, and follows the verbs
        if inspect.ismodule(found):
            offered = {inner: getattr(found, inner) for inner in found.__all__}
            yield from (
                (f"mosaickit.{name}.{inner}", one)
                for inner, one in offered.items()
                if one is not getattr(mk, inner, None)
            )
        elif name != "__version__":
            yield f"mosaickit.{name}", found


def words(text):
    return " ".join(re.sub(r"[`*]|[“”‘’'\"]", "", text).split())


# ---- what is in it -----------------------------------------------------------------------------------------


def test_every_public_name_has_one_place_with_its_first_sentence_under_a_subject(pages):
    places = {}
    for page in (page for path, page in pages.items() if path.startswith("reference/")):
        for head in page.select("dl.py > dt[id]"):
            places.setdefault(head["id"], []).append(head)
    for name, found in public():
        assert len(places[name]) == 1, name
        (head,) = places[name]
        assert words(head.get_text()).replace(" ", "").startswith(name.replace("mosaickit.", "mk.")) or "class" in str(
            head
        )
        assert head.find_parent("section").find(["h1", "h2"]), name
        if callable(found):
            first = inspect.getdoc(found).partition("\n\n")[0]
            assert words(first) in words(head.find_next_sibling("dd").get_text()), name
    assert len(dict(public())) > 100


def test_what_a_public_name_gives_back_or_raises_is_there_too(pages):
    heads = [
        head["id"] for path, page in pages.items() if path.startswith("reference/") for head in page.select("dt[id]")
    ]
    for name in ("Report", "Finding", "Repair", "Usage", "Fit", "WrittenRows", "Proof", "OptionError", "FileError"):
        assert len([head for head in heads if head.endswith(f".{name}")]) == 1, name
    named = {"sizes.Sweep", "ideas.Found", "yarn.Usage", "fabric.Fabric", "publish.Page", "files.Traced"}
    assert {f"mosaickit.{name}" for name in named} <= set(heads)


def test_the_front_of_the_reference_tells_of_every_public_name(pages):
    told = {link.get_text() for link in pages["reference/index.html"].article.find_all("a")}
    assert {name.replace("mosaickit.", "mk.") for name, _ in public()} <= told


def test_texts_and_types_lead_to_the_names_in_them(pages):
    entry = pages["reference/rules.html"].find(id="mosaickit.nearest_workable").find_next_sibling("dd")
    links = {link.get_text(): link["href"] for link in entry.select("a.internal")}
    assert links["check"] == "#mosaickit.check"
    assert links["Motif"] == "the-picture.html#mosaickit.Motif"
    assert links["Repair"].endswith(".Repair")


def test_no_text_in_quotes_was_lost_as_a_dot_is_that_is_taken_for_a_name(pages):
    for path, page in pages.items():
        if path.startswith("reference/"):
            assert [code.parent.get_text() for code in page.article.find_all("code") if not code.get_text()] == [], path


def test_there_is_a_page_for_each_notebook_and_each_lesson_in_their_order(pages):
    stored = ROOT / "notebooks"
    files = [*sorted(stored.glob("*.ipynb")), *sorted(stored.glob("lessons/*.ipynb"))]
    told = [link["href"] for link in pages["notebooks/index.html"].article.select(".toctree-wrapper a")]
    assert told == [file.relative_to(stored).with_suffix(".html").as_posix() for file in files]
    assert "Shown as it is stored" in pages[f"notebooks/{told[0]}"].article.get_text()


def test_lessons_and_notebooks_lead_to_the_next_one_and_back_by_their_titles(pages):
    for folder in ("notebooks", "notebooks/lessons"):
        files = [path.stem for path in sorted((ROOT / folder).glob("*.ipynb"))]
        for before, here, after in zip([None, *files], files, [*files[1:], None], strict=False):
            links = pages[f"{folder}/{here}.html"].select(".prev-next-area a")
            assert [link["href"] for link in links] == [f"{name}.html" for name in (before, after) if name]
            for link in links:
                title = pages[f"{folder}/{link['href']}"].article.h1.find(string=True)
                assert words(link.select_one(".prev-next-title").get_text()) == words(title)
    assert [path for path, page in pages.items() if page.select(".prev-next-area a") and "notebooks/" not in path] == []


def test_every_name_in_a_job_leads_to_the_reference(pages):
    seen = 0
    for path, page in pages.items():
        if path.startswith("jobs/"):
            for name in page.article.select("code.py-obj"):
                assert name.find_parent("a")["href"].startswith("../reference/"), (path, name)
                seen += 1
    assert seen > 40


def test_the_gallery_is_there_as_it_stands(site, pages):
    assert (site / "gallery" / "index.html").read_bytes() == (ROOT / "gallery" / "index.html").read_bytes()
    links = {link["href"] for link in pages["gallery/README.html"].article.find_all("a")}
    assert {"index.html", "pictures/barley-chart.png", "motifs/barley.json"} <= links


# ---- links and loads ---------------------------------------------------------------------------------------


def test_every_link_and_every_anchor_leads_somewhere(site, pages):
    ids = {path: {tag["id"] for tag in page.find_all(id=True)} for path, page in pages.items()}
    followed = 0
    for path, page in pages.items():
        addresses = {tag.get(name) for tag in page.find_all(True) for name in ("href", "src", "action")} - {None}
        for parts in map(urlsplit, addresses):
            if parts.scheme:
                continue
            target = ((site / path).parent / unquote(parts.path)).resolve() if parts.path else (site / path).resolve()
            assert target.is_file(), (path, parts)
            if parts.fragment:
                assert unquote(parts.fragment) in ids[target.relative_to(site.resolve()).as_posix()], (path, parts)
            followed += 1
    assert followed > 1000


def test_every_place_that_the_search_knows_is_there(site, pages):
    stored = json.loads((site / "_static" / "search-pages.js").read_text("utf-8").removeprefix("const PAGES = ")[:-2])
    left_out = {"genindex.html", "search.html", "gallery/index.html"}
    told = {path for path in pages.keys() - left_out if not path.startswith("gallery/patterns/")}
    assert {file for file, *_ in stored} == told
    for file, title, counts, places in stored:
        assert title
        assert 0 < counts < 2
        ids = {tag["id"] for tag in pages[file].find_all(id=True)}
        assert places[0][0] == ""
        assert {anchor for anchor, *_ in places[1:]} <= ids, file
    names = {heading for file, *_, places in stored for _, heading, _ in places if file.startswith("reference/")}
    assert {name.replace("mosaickit.", "mk.") for name, _ in public()} <= names


def test_no_page_and_no_style_would_load_anything_from_elsewhere(site, pages):
    for path, page in pages.items():
        for tag in page.find_all(MEDIA):
            addresses = [tag.get(name) or "" for name in ("src", "srcset", "href", "xlink:href", "data")]
            assert not any(re.match(r"https?:|//", address) for address in addresses), (path, tag)
    for path in site.rglob("*.css"):
        assert not re.search(r"(@import|url\()\s*['\"]?(https?:)?//", path.read_text("utf-8")), path


@pytest.mark.parametrize(
    ("source", "link", "shown"),
    [
        ("README.md", "[words](notebooks/)", "[words](notebooks/index.md)"),
        ("README.md", "[words](DEVELOPERS.md)", "[words](DEVELOPERS.md)"),
        ("gallery/README.md", "[words](index.html)", '<a href="index.html">words</a>'),
        ("gallery/README.md", "![words](pictures/a.png)", '<img src="pictures/a.png" alt="words">'),
    ],
)
def test_a_link_to_a_file_of_the_project_becomes_one_of_the_site(tmp_path, monkeypatch, source, link, shown):
    (tmp_path / source).parent.mkdir(exist_ok=True)
    (tmp_path / source).write_text(link)
    monkeypatch.setattr(docs, "ROOT", tmp_path)
    assert docs.text(source) == shown


# ---- the command -------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("slow")
def test_a_notebook_is_run_in_its_own_folder_and_leads_to_the_page_on_which_its_widgets_work(tmp_path):
    file = tmp_path / "stripes.ipynb"
    code = "import os\nimport mosaickit as mk\nprint(os.getcwd(), 6 * 7)\nmk.widgets.LoopView(mk.Motif.from_text('#'))"
    beside = "Before this: [Dots](dots.ipynb). Next: [Checks](checks.ipynb)."
    cells = [
        nbformat.v4.new_markdown_cell(f"# Stripes\n\nTwo `rows`.\n\n{beside}", id="one"),
        nbformat.v4.new_code_cell(code, id="two"),
    ]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), file)
    docs.notebook(file, run=True)
    made = nbformat.read(file, as_version=4)
    link = '<a href="stripes-alive.html">'
    assert made.cells[0].source.startswith(f"# Stripes\n\n{link}")
    assert made.cells[0].source.endswith("Two `rows`."), "the site has links of its own"
    assert f"{tmp_path} 42" in made.cells[1].outputs[0].text
    assert made.cells[1].outputs[1].data["text/markdown"].startswith(link)
    assert "data-widget=" in (tmp_path / "stripes-alive.html").read_text("utf-8")


def test_a_site_is_replaced_only_when_all_went_well(tmp_path, monkeypatch):
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "index.html").write_text("before")
    ends = iter([1, 0])

    def half(arguments):
        Path(arguments[-1]).mkdir()
        Path(arguments[-1], "index.html").write_text("after")
        return next(ends)

    monkeypatch.setattr(docs, "gather", lambda folder, *, run: None)
    monkeypatch.setattr(docs, "build_main", half)
    assert docs.build(folder) == 1
    assert (folder / "index.html").read_text() == "before"
    assert docs.build(folder) == 0
    assert (folder / "index.html").read_text() == "after"
    assert list(tmp_path.rglob("*")) == [folder, folder / "index.html"]


# ---- what cannot be shown ----------------------------------------------------------------------------------

WRONG = '''"""Names that cannot be shown."""


def parameter(row):
    """Say it.

    Parameters
    ----------
    raw : int
        From 1.
    """


def section(row):
    """Say it.

    Paramters
    ---------
    row : int
        From 1.
    """


def silent(row): ...


def text(row):
    """Say *it."""
'''


@pytest.mark.usefixtures("slow")
def test_what_cannot_be_taken_apart_stops_the_build_with_a_sentence_that_names_it(tmp_path):
    (tmp_path / "wrong.py").write_text(WRONG)
    names = ("parameter", "section", "silent", "text")
    page = "Names\n=====\n\n.. toctree::\n\n   links\n\n" + "".join(
        f".. autofunction:: wrong.{name}\n\n" for name in names
    )
    (tmp_path / "index.rst").write_text(page)
    (tmp_path / "links.md").write_text("# Links\n\n[start](start.py)\n")
    code = f"import sys; sys.path.insert(0, {str(tmp_path)!r}); from sphinx.cmd.build import main; sys.exit(main())"
    ran = sphinx("-B", "-c", code, "-W", "-q", "-c", ROOT / "docs", "-b", "dummy", tmp_path, tmp_path / "made")
    assert ran.returncode == 1
    for sentence in (
        r"'wrong.parameter':\s+PR02: Unknown parameters {'raw'}",
        r"'wrong.section':\s+GL06: Found unknown section \"Paramters\"",
        r"'wrong.silent':\s+GL08: The object does not have a docstring",
        r"docstring of wrong.text:2: WARNING: Inline emphasis start-string without end-string",
        r"links.md:3: WARNING: .*start.py",
    ):
        assert re.search(sentence, ran.stderr), ran.stderr


def test_a_public_name_without_a_subject_is_refused(monkeypatch):
    monkeypatch.setitem(reference.SUBJECTS, "Rules", {"Errors": "errors"})
    with pytest.raises(reference.DocsError, match=r"mosaickit.check has no place in `SUBJECTS`"):
        reference.pages()


def test_a_subject_that_names_what_is_not_public_is_refused(monkeypatch):
    monkeypatch.setitem(reference.SUBJECTS, "Rules", reference.SUBJECTS["Rules"] | {"Songs": "sing"})
    with pytest.raises(reference.DocsError, match=r"lists 'sing', which is not public"):
        reference.pages()


# ---- in a browser ------------------------------------------------------------------------------------------


@pytest.fixture
def opened(tab, site):
    """Open a page of the site from disk; at the end it has asked for its files only, and met no error."""
    asked, said = [], []

    def it(path, **options):
        page = tab(**options)
        page.on("console", lambda message: message.type == "error" and said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))

        def answer(route):
            if route.request.url.startswith(site.as_uri()):
                route.continue_()
            else:
                asked.append(route.request.url)
                route.abort()

        page.context.route("**/*", answer)
        page.goto(f"{site.as_uri()}/{path}")
        return page

    yield it
    assert asked == []
    assert said == []


def test_from_disk_a_name_is_found_by_keyboard(opened):
    page = opened("index.html")
    assert page.eval_on_selector("article img", "image => image.complete && image.naturalWidth > 100")
    page.keyboard.press("Control+k")
    page.keyboard.type("nearest_workable")
    page.keyboard.press("Enter")
    page.wait_for_url("**/search.html?q=nearest_workable")
    assert page.evaluate("document.activeElement.id") == "search-words"
    page.keyboard.press("Tab")
    focused = page.locator("#search-results li:first-child > a:focus")
    assert focused.evaluate("link => getComputedStyle(link).outlineStyle") != "none"
    page.keyboard.press("Enter")
    page.wait_for_url("**/reference/rules.html*#mosaickit.nearest_workable")
    assert page.locator('[id="mosaickit.nearest_workable"]').is_visible()


def asked(page, question):
    """Type a question; gives the files that the first three answers lead to."""
    page.fill("#search-words", question)
    found = page.eval_on_selector_all("#search-results > li > a", "all => all.map(one => one.getAttribute('href'))")
    return [re.sub("#.*", "", address) for address in found[:3]]


def test_each_question_of_a_newcomer_finds_its_page_among_the_first_three(opened):
    page = opened("search.html")
    found = {question: asked(page, question) for question in QUESTIONS}
    missed = {
        question: found[question]
        for question, right in QUESTIONS.items()
        if f"{jobs.place(right)}.html" not in found[question]
    }
    assert missed == {}
    assert len(QUESTIONS) >= 30
    page.fill("#search-words", "xylophone")
    assert page.text_content("#search-status").startswith("No page says this.")
    assert page.locator("#search-results li").count() == 0


def test_without_the_table_of_words_many_questions_miss_their_page(opened):
    page = opened("index.html")
    none = "const WORDS = { spellings: [], synonyms: [], small: '' };"
    page.route("**/search-words.js", lambda route: route.fulfill(body=none, content_type="text/javascript"))
    page.goto(page.url.replace("index.html", "search.html"))
    missed = [
        question for question, right in QUESTIONS.items() if f"{jobs.place(right)}.html" not in asked(page, question)
    ]
    assert {"yardage", "flip a motif", "double-sided", "how do i start from a photo"} <= set(missed)


def test_what_was_found_is_said_with_its_words_marked_and_enter_goes_to_the_first(opened):
    page = opened("search.html?q=tension")
    first = page.locator("#search-results > li").first
    assert "gauge" in {word.lower() for word in first.locator("mark").all_text_contents()}
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.closest('#search-results > li') !== null")
    address = page.evaluate("document.activeElement.href")
    page.keyboard.press("Enter")
    page.wait_for_url(address)
    page.locator(".highlighted").first.wait_for()  # which comes a little later than the page
    assert "gauge" in {word.lower() for word in page.locator(".highlighted").all_text_contents()}


@pytest.mark.parametrize(("scheme", "rules"), [("light", {}), ("dark", {"runOnly": ["color-contrast"]})])
def test_axe_finds_nothing_serious_and_nothing_runs_over_the_side(opened, site, scheme, rules):
    page = opened("index.html", color_scheme=scheme)
    # axe would ask for the styles itself, which a page on disk may not
    options = {"preload": False, "resultTypes": ["violations"]} | rules
    notebook = f"{jobs.place('notebook:mk.widgets.Workbook')}.html"
    paths = (
        "index.html",
        "jobs/plan-a-scarf.html",
        "search.html?q=wider",
        "reference/sharing-and-teaching.html",
        notebook,
    )
    for path in paths:
        page.goto(f"{site.as_uri()}/{path}")
        for width in (390, 1280):
            page.set_viewport_size({"width": width, "height": 900})
            assert page.eval_on_selector_all(".bd-article-container *, .bd-search-container *", CUT) == [], (
                path,
                width,
            )
        faults = Axe().run(page, options=options).response["violations"]
        serious = [fault for fault in faults if fault["impact"] in ("serious", "critical")]
        assert [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in serious] == [], path
    assert page.evaluate("document.documentElement.dataset.theme") == scheme
