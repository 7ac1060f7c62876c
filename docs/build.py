"""Build the documentation: a folder of pages that opens from disk and asks no network for anything.

Run by ``python start.py run docs/build.py [folder]``; without a folder it goes to docs/site, which git ignores. The
pages are made from what is there: README.md in front, the reference from docstrings, the notebooks and lessons as
`mk.share` makes them, the gallery as it stands, DEVELOPERS.md and the benchmarks. The notebooks are run, two at a
time, in a folder of their own that goes away; ``--as-stored`` shows them without what they make, which takes
seconds. Nothing is written but the folder, and that whole or not at all.

Docstrings are read by griffe (``griffelib``): it takes numpydoc apart into sections and warns of what it cannot, gives
signatures with types that know where they come from, follows re-exports, and needs neither another library nor the
package's own to be loaded. Python's larger documentation systems bring their own pages and search, and some twenty
libraries; the smaller ones turn a docstring into a text and let a mistake in it pass. Texts are rendered by mistune
and code is coloured by Pygments, which both come with nbconvert, of the ``lab`` extra.
"""

from __future__ import annotations

import argparse
import os
import re
import secrets
import shutil
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from html import escape, unescape
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import mistune
import nbformat
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from pygments import highlight
from pygments.formatters import HtmlFormatter
from pygments.lexers import get_lexer_by_name
from pygments.util import ClassNotFound
from reference import DocsError, Reference, as_html, read

import mosaickit as mk
from mosaickit.errors import FileError, MosaickitError
from mosaickit.files import lay_out
from mosaickit.policy import source_hash

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
PAGES = {
    "README.md": "index.html",
    "DEVELOPERS.md": "contributors.html",
    "benchmarks/README.md": "benchmarks.html",
    "gallery/README.md": "gallery/index.html",
    "gallery/": "gallery/index.html",
    "notebooks/": "notebooks/index.html",
    "notebooks/lessons/": "notebooks/index.html",
    "benchmarks/": "benchmarks.html",
}
"""Which page of the site shows which file or folder of the project."""

SECTIONS = (
    ("Start", "index.html"),
    ("Reference", "reference/index.html"),
    ("Notebooks", "notebooks/index.html"),
    ("Gallery", "gallery/index.html"),
    ("For contributors", "contributors.html"),
)
MARK = '<meta name="generator" content="mosaickit docs/build.py">'
"""What tells a site of ours from a folder that somebody filled otherwise."""

NOT_RUN = "*Shown as it is stored, without what it makes. Open it in JupyterLab and run it to see that.*"
STYLE, FINDER = ((HERE / name).read_text("utf-8") for name in ("site.css", "search.js"))
_MK = re.compile(r'<span class="n">mk</span>((?:<span class="o">\.</span><span class="n">\w+</span>)+)')
_DOT = '<span class="o">.</span>'
_TAG = re.compile(r"<[^>]+>")
_OUTSIDE = re.compile(r"[a-z][a-z0-9+.-]*:|#", re.IGNORECASE)


# ---- texts -------------------------------------------------------------------------------------------------


class Texts(mistune.HTMLRenderer):
    """Renders Markdown with links to the reference and to the pages of the site.

    Parameters
    ----------
    reference : Reference
        Where names lead.
    to_root : str
        What leads from the page to the root of the site: "" or "../".
    source : str, optional
        The file of the project that the text is from, whose links are made links of the site. A docstring has none.
    """

    def __init__(self, reference: Reference, to_root: str, source: str = "") -> None:
        super().__init__(escape=True)
        self.reference = reference
        self.to_root = to_root
        self.source = source
        self._ids: dict[str, int] = {}

    def address(self, name: str) -> str | None:
        """Say where a name leads to from this page."""
        found = self.reference.address(name)
        return found and f"{self.to_root}reference/{found}"

    def heading(self, text: str, level: int, **attrs: Any) -> str:  # noqa: ANN401 — as mistune has it
        """Give a heading an id from its words."""
        words = re.sub(r"[^\w\- ]", "", unescape(_TAG.sub("", text)).lower()).strip().replace(" ", "-")
        seen = self._ids[words] = self._ids.get(words, -1) + 1
        return f'<h{level} id="{words}{f"-{seen}" if seen else ""}">{text}</h{level}>\n'

    def codespan(self, text: str) -> str:
        """Link a name that is alone in its quotes."""
        address = self.address(text)
        shown = f"<code>{escape(text, quote=False)}</code>"
        return f'<a href="{address}">{shown}</a>' if address else shown

    def block_code(self, code: str, info: str | None = None) -> str:
        """Colour code; that of a docstring is Python."""
        return self.coloured(code, info or ("text" if self.source else "python"))

    def coloured(self, code: str, language: str) -> str:
        """Colour code, with links from its names."""
        try:
            lexer = get_lexer_by_name(language, stripnl=False)
        except ClassNotFound:
            lexer = get_lexer_by_name("text")
        return _MK.sub(self._linked, highlight(code.rstrip(), lexer, HtmlFormatter()))

    def _linked(self, found: re.Match[str]) -> str:
        parts = found[1].split(_DOT)[1:]
        for last in range(len(parts), 0, -1):  # the longest beginning that is a name
            address = self.address(_TAG.sub("", ".".join(parts[:last])))
            if address:
                linked = _DOT.join(['<span class="n">mk</span>', *parts[:last]])
                return f'<a href="{address}">{linked}</a>' + "".join(_DOT + part for part in parts[last:])
        return found[0]

    def link(self, text: str, url: str, title: str | None = None) -> str:
        """Make a link to a file of the project one to its page."""
        return str(super().link(text, self._on_site(url), title))

    def image(self, text: str, url: str, title: str | None = None) -> str:
        """Show a picture of the gallery, the only ones that travel with the site."""
        return str(super().image(text, self._on_site(url), title))

    def table(self, text: str) -> str:
        """Let a wide table be moved aside, by keyboard too."""
        return f'<div class="wide" tabindex="0" role="group" aria-label="Table"><table>{text}</table></div>\n'

    def table_cell(self, text: str, align: str | None = None, head: bool = False) -> str:
        """Give a cell; a head without words is none."""
        return f'<th scope="col">{text}</th>' if head and text else f"<td>{text}</td>"

    def _on_site(self, url: str) -> str:
        if _OUTSIDE.match(url):
            return url
        path, _, anchor = url.partition("#")
        inside = os.path.relpath((ROOT / self.source).parent / path, ROOT).replace(os.sep, "/")
        inside += "/" if path.endswith("/") else ""
        shown = PAGES.get(inside) or (inside if inside.startswith("gallery/pictures/") else None)
        if not self.source or shown is None:
            raise DocsError(f"{self.source or 'A docstring'} links to {url!r}, and no page of the site shows that.")
        return self.to_root + shown + (f"#{anchor}" if anchor else "")


def markdown(texts: Texts, text: str) -> Markup:
    """Render a text of several paragraphs."""
    if not texts.source:
        text = re.sub(r"::(?=\n\s*\n)", ":", text)  # how a docstring announces code
    return Markup(mistune.create_markdown(renderer=texts, plugins=["table"])(text))


def inline(texts: Texts, text: str) -> Markup:
    """Render one paragraph without its frame, for a line of a list."""
    return Markup(markdown(texts, text).strip().removeprefix("<p>").removesuffix("</p>").replace("</p>\n<p>", "<br>"))


# ---- pages -------------------------------------------------------------------------------------------------


@dataclass
class Site:
    """A site that is being made in a folder."""

    folder: Path
    reference: Reference

    def __post_init__(self) -> None:
        self._templates = Environment(
            loader=FileSystemLoader(HERE),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )

    def texts(self, path: str, source: str = "") -> Texts:
        """Give what renders the texts of a page."""
        return Texts(self.reference, to_root(path), source)

    def write(self, path: str, template: str, *, title: str, script: str = "", **values: object) -> None:
        """Write a page from its template."""
        place = to_root(path)
        texts = self.texts(path)

        rules = ["default-src 'none'", f"style-src '{source_hash(STYLE)}'", "img-src 'self' file:", "base-uri 'none'"]
        rules += [f"script-src '{source_hash(script)}'"] if script else []
        html = self._templates.get_template(template).render(
            title=title,
            mark=Markup(MARK),
            path=path,
            root=place,
            sections=SECTIONS,
            policy="; ".join(rules),
            style=Markup(STYLE),
            script=Markup(script),
            version=mk.__version__,
            markdown=lambda text: markdown(texts, text),
            inline=lambda text: inline(texts, text),
            coloured=lambda code, language: Markup(texts.coloured(code, language)),
            plain=lambda text: Markup(re.sub(r"(`+)(.+?)\1", r"<code>\2</code>", escape(text, quote=False))),
            signature=lambda pieces: Markup(as_html(pieces, self.reference)),
            typed=lambda text: Markup(_typed(text, self.reference)),
            **values,
        )
        file = self.folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(html.rstrip("\n") + "\n", "utf-8", newline="\n")

    def write_document(self, source: str) -> None:
        """Write the page of a Markdown file of the project."""
        path = PAGES[source]
        body = markdown(self.texts(path, source), (ROOT / source).read_text("utf-8"))
        title = unescape(_TAG.sub("", body.partition("</h1>")[0])).strip()
        self.write(path, "document.html.j2", title=title, body=body)

    def write_reference(self) -> None:
        """Write a page for each module, and one that leads to them all."""
        jobs: dict[str, list[Any]] = {}
        for page in self.reference.pages:
            jobs.setdefault(page.job, []).append(page)
            self.write(f"reference/{page.module}.html", "module.html.j2", title=page.module, page=page)
        self.write("reference/index.html", "reference.html.j2", title="Reference", jobs=jobs)


def to_root(path: str) -> str:
    """Say what leads from a page to the root of the site."""
    return "../" * path.count("/")


def _typed(text: str, reference: Reference) -> str:
    """Write the type that a docstring names, with links from types of ours."""

    def linked(found: re.Match[str]) -> str:
        address = reference.address(found[0]) if found[0][0].isupper() else None
        return f'<a href="{address}">{found[0]}</a>' if address else found[0]

    return re.sub(r"[A-Za-z_][\w.]*", linked, escape(text, quote=False))


# ---- notebooks ---------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Notebook:
    """A notebook's page: what it is, where it lies in the site, its heading and what it says first."""

    kind: str
    page: str
    title: str
    summary: str


def notebooks(laid: Path, folder: Path, *, run: bool) -> dict[str, list[Notebook]]:
    """Write the pages of notebooks and lessons, by section; the notebooks lie in a folder that may be written to."""
    sections = {
        "Notebooks": sorted((laid / "notebooks").glob("*.ipynb")),
        "Lessons": sorted((laid / "notebooks" / "lessons").glob("*.ipynb")),
    }
    files = [file for section in sections.values() for file in section]
    pages = {file: file.relative_to(laid).with_suffix(".html").as_posix() for file in files}
    shared = [file.with_suffix(".html") for file in files]  # there, since notes of what was saved are no part of a site
    if run:
        # in processes of their own, since what runs a notebook leaves its event loop open in a thread
        with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as both:
            list(both.map(partial(mk.share, execute=True), files, shared))
    else:
        for file, made in zip(files, shared, strict=True):
            _as_if_run(file)
            mk.share(file, made)
    for made, page in zip(shared, pages.values(), strict=True):
        (folder / page).parent.mkdir(parents=True, exist_ok=True)
        _link_back(made, folder / page, to_root(page))
    return {title: [_notebook(file, pages[file]) for file in section] for title, section in sections.items() if section}


def _link_back(made: Path, target: Path, root: str) -> None:
    """Put a notebook's page into the site, with links to the rest of it above."""
    links = " · ".join(f'<a href="{root}{address}">{escape(words)}</a>' for words, address in SECTIONS)
    style = "max-width:60rem;margin:0 auto;padding:0.75rem clamp(0.75rem,4vw,2rem) 0"  # as wide as what follows
    nav = f'<nav aria-label="The documentation" style="{style}">{links}</nav>'
    html = made.read_text("utf-8").replace("<main>", f"{nav}\n<main>", 1)
    target.write_text(html, "utf-8", newline="\n")


def _notebook(file: Path, page: str) -> Notebook:
    """Read a notebook's heading, and the first paragraph below it."""
    cells = nbformat.read(file, as_version=4).cells
    text = "\n\n".join(cell.source for cell in cells if cell.cell_type == "markdown" and cell.id != "not-run")
    heading = next((line.lstrip("# ") for line in text.splitlines() if line.startswith("# ")), file.stem)
    below = re.sub(r"^#.*$", "", text, flags=re.MULTILINE).strip()
    kind = "lesson" if "/lessons/" in page else "notebook"
    return Notebook(kind, page, heading, " ".join(below.partition("\n\n")[0].split()))


def _as_if_run(file: Path) -> None:
    """Make a copy say that it was not run, and give its cells numbers, since only what has some is shared."""
    notebook = nbformat.read(file, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.execution_count = 1
    note = nbformat.v4.new_markdown_cell(NOT_RUN, id="not-run")
    notebook.cells.insert(1, note)
    nbformat.write(notebook, file)


# ---- all of it ---------------------------------------------------------------------------------------------


def build(folder: Path, *, run: bool = True) -> None:
    """Make the site in a folder that is empty; a notebook is run only if asked for."""
    site = Site(folder, read(ROOT, mk.__all__))
    site.write_reference()
    for source in ("README.md", "DEVELOPERS.md", "benchmarks/README.md"):
        site.write_document(source)
    gallery = folder / "gallery"
    for inside in ("pictures", "motifs"):
        shutil.copytree(ROOT / "gallery" / inside, gallery / inside, ignore=shutil.ignore_patterns(".*"))
    shutil.copyfile(ROOT / "gallery" / "index.html", gallery / "index.html")
    with tempfile.TemporaryDirectory() as laid:
        lay_out(laid)
        shown = notebooks(Path(laid), folder, run=run)
    site.write("notebooks/index.html", "notebooks.html.j2", title="Notebooks and lessons", shown=shown)
    books = [book for section in shown.values() for book in section]
    site.write("search.html", "search.html.j2", title="Search", script=FINDER, pages=site.reference.pages, books=books)


def may_hold_a_site(folder: Path) -> None:
    """Raise `DocsError` unless a folder is not there, is empty, or holds a site that this command made."""
    if folder.is_dir():
        front = folder / "index.html"
        if any(folder.iterdir()) and not (front.is_file() and MARK in front.read_text("utf-8", errors="replace")):
            raise DocsError(f"{folder} holds other files; name a folder that is empty, new, or a site made before.")
    elif folder.exists():
        raise DocsError(f"{folder} is a file; name a folder.")
    elif not folder.parent.is_dir():
        raise DocsError(f"{folder} cannot be made: there is no folder {folder.parent}.")


@contextmanager
def in_its_place(folder: Path) -> Iterator[Path]:
    """Give a new folder beside one, and put it into its place when all went well; otherwise nothing is changed."""
    new, old = (folder.with_name(f"{folder.name}.{what}-{secrets.token_hex(4)}") for what in ("new", "old"))
    new.mkdir()
    try:
        yield new
        if folder.exists():
            folder.rename(old)
        try:
            new.rename(folder)
        except OSError:
            if old.exists():
                old.rename(folder)
            raise
    finally:
        for rest in (new, old):
            shutil.rmtree(rest, ignore_errors=True)


def main(arguments: list[str] | None = None) -> int:
    """Build the site; gives 0, 1 if something in the project cannot be shown, or 2 if the folder cannot be written."""
    parser = argparse.ArgumentParser(
        prog="docs/build.py", description="Build the documentation as pages for a browser."
    )
    parser.add_argument("folder", nargs="?", type=Path, default=HERE / "site", help="where to; docs/site if left out")
    parser.add_argument("--as-stored", action="store_true", help="show the notebooks without running them")
    given = parser.parse_args(arguments)
    folder = given.folder.absolute()
    try:
        may_hold_a_site(folder)
    except (DocsError, OSError) as err:
        print(err, file=sys.stderr)
        return 2
    try:
        with in_its_place(folder) as new:
            build(new, run=not given.as_stored)
    except (OSError, FileError) as err:
        reason = str(getattr(err, "strerror", None) or err).rstrip(".")
        print(f"{folder} could not be written, and nothing was changed: {reason}.", file=sys.stderr)
        return 2
    except (DocsError, MosaickitError) as err:
        print(err, file=sys.stderr)
        return 1
    print(folder / "index.html")
    return 0


if __name__ == "__main__":
    sys.exit(main())
