"""The pages by job: what a maker wants to do, a short example of it, and where to go on.

Each job is a file of docs/jobs: a heading that says it, a paragraph, an example, which a test runs, and links. Files of
notebooks may be renamed, so a link says which notebook is meant by a verb that it uses, ``[](notebook:mk.sweep)``, and
which lesson by words of its title, ``[](lesson:mistakes)``; the words of the link are the title that the notebook has.
"""

from __future__ import annotations

import os
import re
from functools import cache
from pathlib import Path, PurePosixPath

import nbformat

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent

GROUPS = {
    "Begin": "begin-from-a-picture draw-by-hand put-words-in-it explore-variations",
    "Make it right": "see-what-cannot-be-worked repair-a-picture use-three-yarns work-left-handed work-in-the-round "
    "work-from-the-centre",
    "Plan the piece": "plan-a-scarf try-many-widths know-the-yarn add-a-border-or-fringe "
    "put-a-mosaic-border-around offer-sizes",
    "Write it and pass it on": "write-rows publish-and-sell send-to-testers use-another-language follow-row-by-row",
    "Teach and share": "teach-a-lesson share-a-notebook use-the-command-line",
}
"""The jobs under their headings, in the order of the first page; each is the name of its file."""

FRONT = """# What do you want to do?

mosaickit is a toolkit for two-colour overlay mosaic crochet, in Python, for notebooks: from a picture to a pattern that
is right. Choose a job; each page has an example of a few lines and leads on to a notebook, a lesson and the reference.
New here? Read [what mosaickit is and how to start it](about.md), or begin with [](first notebook).

<p class="front-pictures">
<img src="gallery/pictures/harbour-boat-chart.png" alt="A sailing boat in a frame as a chart of stitches">
<img src="gallery/pictures/harbour-boat-front.png" alt="Its front, light on dark">
<img src="gallery/pictures/harbour-boat-back.png" alt="Its back, in the other colours">
</p>
"""
INDEX = """# By job

Each page has one example of a few lines and says where to go on.
"""
_LINK = re.compile(r"\[\]\((notebook:|lesson:|first )([^)]+)\)")


class JobError(Exception):
    """A job that the documentation cannot show, as a sentence."""


def pages() -> dict[str, str]:
    """Write the first page, "index", the list of jobs, "jobs/index", and each job, "jobs/plan-a-scarf", as Markdown.

    Raises
    ------
    JobError
        If a file of docs/jobs has no place in `GROUPS`, a place has no file, or a link leads nowhere.
    """
    named = [name for names in GROUPS.values() for name in names.split()]
    there = {file.stem for file in (HERE / "jobs").glob("*.md")}
    lost = sorted(there ^ set(named))
    if lost:
        raise JobError(f"docs/jobs and `GROUPS` of docs/jobs.py must name the same jobs; they differ in {lost}.")
    texts = {name: (HERE / "jobs" / f"{name}.md").read_text("utf-8") for name in named}
    front, index = [FRONT], [INDEX]
    for group, names in GROUPS.items():
        front.append(f"\n## {group}\n")
        index.append("\n".join(["```{toctree}", f":caption: {group}", *names.split(), "```", ""]))
        for name in names.split():
            title, says = _title(texts[name]), first_sentence(texts[name])
            front.append(f"- **[{title}](jobs/{name}.md)**. {says}")
    found = {"index": "\n".join(front) + "\n", "jobs/index": "\n".join(index)}
    found |= {f"jobs/{name}": text for name, text in texts.items()}
    return {name: _linked(text, name) for name, text in found.items()}


def _title(text: str) -> str:
    return text.partition("\n")[0].removeprefix("# ")


def first_sentence(text: str) -> str:
    """Give the first sentence of what a job says below its heading."""
    paragraph = text.split("\n\n")[1].replace("\n", " ")
    return re.split(r"(?<=[.:]) (?=[A-Z`])", paragraph)[0].removesuffix(":").removesuffix(".") + "."


# ---- which notebook is meant -------------------------------------------------------------------------------


def _linked(text: str, name: str) -> str:
    def link(found: re.Match[str]) -> str:
        path = place(found[1] + found[2])
        away = os.path.relpath(path, PurePosixPath(name).parent).replace(os.sep, "/")
        return f"[{_notebooks()[path][0]}]({away}.ipynb)"

    return _LINK.sub(link, text)


def place(name: str) -> str:
    """Give the path of a page in the site, without its ending.

    Parameters
    ----------
    name : str
        "notebook:" and a verb that it uses most, "lesson:" and words of its title, "first notebook", or the path
        itself.

    Raises
    ------
    JobError
        If no notebook uses the verb, or not just one lesson has the words.
    """
    kind, _, which = name.partition(":")
    known = _notebooks()
    if name == "first notebook":
        return next(iter(known))
    if kind == "notebook":
        used = {path: len(re.findall(rf"\b{re.escape(which)}\b", code)) for path, (_, code) in known.items()}
        used = {path: times for path, times in used.items() if times and not _is_lesson(path)}
        if not used:
            raise JobError(f"A link asks for the notebook that uses {which}; no notebook of notebooks/ does.")
        return max(used, key=used.__getitem__)  # the first of those that use it as often
    if kind == "lesson":
        said = [path for path, (title, _) in known.items() if _is_lesson(path) and which.lower() in title.lower()]
        if len(said) != 1:
            titles = ", ".join(known[path][0] for path in said) or "none"
            raise JobError(f"A link asks for the lesson whose title has {which!r}; got {titles}.")
        return said[0]
    return name


def _is_lesson(path: str) -> bool:
    return path.startswith("notebooks/lessons/")


@cache
def _notebooks() -> dict[str, tuple[str, str]]:
    """Give the title and the code of each notebook and lesson, by its path in the site, in order."""
    files = [file for folder in ("notebooks", "notebooks/lessons") for file in sorted((ROOT / folder).glob("*.ipynb"))]
    found = {}
    for file in files:
        cells = nbformat.read(file, as_version=4).cells
        code = "\n".join(cell.source for cell in cells if cell.cell_type == "code")
        found[file.relative_to(ROOT).with_suffix("").as_posix()] = (_title(cells[0].source), code)
    return found
