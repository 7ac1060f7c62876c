"""Build the documentation: a folder of pages that opens from disk and asks no network for anything.

Run by ``python start.py run docs/build.py``; the pages are put into docs/site, which git ignores. Sphinx makes them
from what is there: pages by job in front (docs/jobs.py), README.md, the reference from docstrings (docs/reference.py),
the notebooks and lessons, the gallery, patterns in all their forms (docs/contact_sheets.py), DEVELOPERS.md and the
benchmarks; docs/searching.py adds the search. The notebooks are run, two at a time, in a folder that goes away;
``--as-stored`` shows them without what they make, and no sheets of patterns, which takes seconds. Beside each lies the
page that `mk.share` makes of it, on which its widgets are alive. A warning of Sphinx is an error, and the site that was
there then stays.
"""

from __future__ import annotations

import argparse
import gc
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path

import contact_sheets
import jobs
import nbformat
from reference import DocsError, pages
from sphinx.cmd.build import build_main

import mosaickit as mk
from mosaickit.errors import MosaickitError, NotebookError
from mosaickit.files.bundle import lay_out
from mosaickit.sharing.notebooks import execute, read

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
FRONT = """
```{toctree}
:hidden:
By job <jobs/index>
Notebooks <notebooks/index>
Reference <reference/index>
Gallery <gallery/README>
Patterns in all their forms <forms>
About <about>
For contributors <DEVELOPERS>
Benchmarks <benchmarks/README>
```
"""
NOTEBOOKS = """# Notebooks and lessons

To read here; to work with them, open them in JupyterLab: `python start.py` does.

```{toctree}
:caption: Notebooks
:maxdepth: 1
:glob:
*
```

```{toctree}
:caption: Lessons
:maxdepth: 1
:glob:
lessons/*
```
"""
NOT_RUN = "*Shown as it is stored, without what it makes. Open it in JupyterLab and run it to see that.*"
WIDGET = "application/vnd.jupyter.widget-view+json"
_BESIDE = re.compile(r"\n\n(Before this: \[[^\n]+|Next: \[[^\n]+)$")
"""The line that leads from lesson to lesson in JupyterLab; on the site every page has such links below it."""

_LINK = re.compile(r"(!?)\[([^\]]*)\]\((?![a-z]+:|#)([^)\s]+)\)")


# ---- texts -------------------------------------------------------------------------------------------------


def text(source: str) -> str:
    """Give a Markdown file of the project with its links as the site has them.

    A folder is its page, and a file of the gallery is linked as it lies there, where Sphinx would copy it.
    """

    def on_site(found: re.Match[str]) -> str:
        picture, words, path = found.groups()
        inside = os.path.normpath(Path(source).parent / path).replace(os.sep, "/")
        if inside.startswith("gallery/") and not inside.endswith(".md"):
            return f'<img src="{path}" alt="{words}">' if picture else f'<a href="{path}">{words}</a>'
        page = {"notebooks": "index.md", "notebooks/lessons": "../index.md"}.get(inside, "")
        return f"{picture}[{words}]({path}{page})"

    return _LINK.sub(on_site, (ROOT / source).read_text("utf-8"))


# ---- notebooks ---------------------------------------------------------------------------------------------


def notebook(file: Path, *, run: bool) -> None:
    """Make a notebook ready for Sphinx where it lies; one that is run is shared beside itself."""
    found = read(file)
    for cell in found.cells:
        if cell.cell_type == "markdown":
            cell.source = _BESIDE.sub("", cell.source)
    line, alive = NOT_RUN, file.with_name(f"{file.stem}-alive.html")
    if run:
        if failed := execute(found, file):
            raise NotebookError(f"{file.name} failed in {failed[0].said}", failed[0].cell)
        nbformat.write(found, file)
        mk.share(file, alive, run=False)
        line = f'<a href="{alive.name}">The same in one file</a>, to pass on: its widgets work without Python.'

    title, _, below = found.cells[0].source.partition("\n")
    found.cells[0].source = f"{title}\n\n{line}\n\n{below}"
    found.metadata.pop("widgets", None)
    for cell in found.cells:
        if cell.metadata.get("jupyter", {}).get("source_hidden"):
            cell.metadata.setdefault("tags", []).append("hide-input")
        for output in cell.get("outputs", ()):
            if WIDGET in output.get("data", {}):
                output.data = {"text/markdown": f'<a href="{alive.name}">A widget, which works in that file</a>'}
    nbformat.write(found, file)


def notebooks(files: Iterable[Path], *, run: bool) -> None:
    """Make all notebooks ready; those that are run are run in processes of their own, two at a time."""
    if not run:
        for file in files:
            notebook(file, run=False)
        return
    # since what runs a notebook leaves its event loop open in a thread
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as both:
        list(both.map(partial(notebook, run=True), files))


# ---- all of it ---------------------------------------------------------------------------------------------


def gather(folder: Path, *, run: bool) -> None:
    """Lay out what Sphinx makes the site from: pages at the top, and in "beside" what is put there as it is."""
    lay_out(folder)
    shutil.copytree(ROOT / "gallery", folder / "beside" / "gallery")
    notebooks(sorted((folder / "notebooks").rglob("*.ipynb")), run=run)
    for file in (folder / "notebooks").rglob("*-alive.html"):
        target = folder / "beside" / file.relative_to(folder)
        target.parent.mkdir(parents=True, exist_ok=True)
        file.rename(target)
    contact_sheets.write(folder, run=run)
    texts = {f"reference/{name}.rst": page for name, page in pages().items()}
    texts |= {source: text(source) for source in ("DEVELOPERS.md", "gallery/README.md", "benchmarks/README.md")}
    by_job = {f"{name}.md": page for name, page in jobs.pages().items()}
    by_job["index.md"] += FRONT
    texts |= {"about.md": text("README.md"), "notebooks/index.md": NOTEBOOKS, **by_job}
    for name, page in texts.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(page, "utf-8")


def build(site: Path, *, run: bool = True) -> int:
    """Build the site in a folder, which is replaced when all went well; gives what Sphinx ends with."""
    with tempfile.TemporaryDirectory() as temporary:
        source, made = Path(temporary, "source"), Path(temporary, "made")
        gather(source, run=run)
        options = ["-W", "-q", "-c", str(HERE), "-d", str(Path(temporary, "trees"))]
        options += [] if run else ["-t", "as_stored"]
        failed = build_main([*options, "-D", f"html_extra_path={source / 'beside'}", str(source), str(made)])
        if not failed:
            if site.exists():
                shutil.rmtree(site)
            shutil.move(made, site)
        return failed


def main(arguments: list[str] | None = None, site: Path = HERE / "site") -> int:
    """Build the site; gives 0, or another number if something in the project cannot be shown."""
    parser = argparse.ArgumentParser(prog="docs/build.py", description="Build the documentation in docs/site.")
    parser.add_argument("--as-stored", action="store_true", help="show the notebooks without running them")
    given = parser.parse_args(arguments)
    gc.disable()  # Sphinx keeps what it makes: to look for garbage takes a fifth of the time
    try:
        failed = build(site, run=not given.as_stored)
    except (DocsError, jobs.JobError, MosaickitError, OSError) as err:
        print(err, file=sys.stderr)
        return 1
    if not failed:
        print(site / "index.html")
    return failed


if __name__ == "__main__":
    sys.exit(main())
