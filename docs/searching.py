"""What the search of the documentation reads: every page by its places, and the script of docs/search.

Sphinx's own search knows no other words for a thing, gives every page that has a word the same weight, and wants all
words there. Ours weighs places (docs/search/ranking.js) and knows what else a word may be called (words.toml). All it
needs lies in three scripts beside the page, so that it works from disk.
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx

from mosaickit.scripts import one_script

SEARCH = Path(__file__).resolve().parent / "search"
COUNTS = {
    "jobs/index": 0.3,
    "jobs/": 1.3,
    "reference/index": 0.3,
    "reference/": 0.85,
    "index": 0.4,
    "about": 0.7,
    "notebooks/index": 0.4,
    "gallery/": 0.6,
    "forms": 0.6,
    "DEVELOPERS": 0.3,
    "benchmarks/": 0.2,
}
"""How much a page counts beside others, by how its path begins: what to do before what there is, and that before how it
is built; lists of links count little, as what they list is found itself."""

UNSEEN = (nodes.literal_block, nodes.raw, nodes.comment, nodes.rubric, addnodes.toctree, addnodes.index)
"""What says nothing to a search: code, whose names are in the reference, and words that stand on every page."""

Place = tuple[str, str, str]
"""The anchor, heading and text of a part of a page."""


def table() -> dict[str, Any]:
    """Give the table of words that are looked for one for another."""
    return tomllib.loads((SEARCH / "words.toml").read_text("utf-8"))


def places(doctree: nodes.document) -> list[Place]:
    """Take a page apart: its sections and the names that it describes, each with the text that belongs to it alone."""
    found: list[Place] = []

    def walk(node: nodes.Node, said: list[str]) -> None:
        for child in node.children:
            if isinstance(child, nodes.Text):
                said.append(child.astext())
            elif isinstance(child, nodes.section):
                title = next((one for one in child.children if isinstance(one, nodes.title)), None)
                begin(child, title.astext() if title else "", child["ids"][0] if found else "")
            elif isinstance(child, addnodes.desc):
                heads = [one for one in child.children if isinstance(one, addnodes.desc_signature)]
                ids = [one for head in heads for one in head["ids"]]
                begin(child, _name(heads[0]), ids[0]) if ids else walk(child, said)
            elif not isinstance(child, (*UNSEEN, nodes.title)) and not _leads_to_its_file(child):
                walk(child, said)
                if not isinstance(child, nodes.Inline):
                    said.append(" ")

    def begin(node: nodes.Node, heading: str, anchor: str) -> None:
        at, said = len(found), []
        found.append(("", "", ""))
        walk(node, said)
        found[at] = (anchor, heading, " ".join("".join(said).split()))

    walk(doctree, [])
    return found


def _leads_to_its_file(node: nodes.Node) -> bool:
    """Say whether a paragraph is the one with which every notebook begins on the site."""
    raw = [one for one in node.children if isinstance(one, nodes.raw)]
    return isinstance(node, nodes.paragraph) and any("-alive.html" in one.astext() for one in raw)


def _name(head: addnodes.desc_signature) -> str:
    """Give a name as the page shows it, without its arguments."""
    parts = [one for one in head.children if isinstance(one, (addnodes.desc_addname, addnodes.desc_name))]
    return "".join(part.astext() for part in parts)


def weight(page: str) -> float:
    """Say how much a page counts."""
    return next((counts for begins, counts in COUNTS.items() if page.startswith(begins)), 1.0)


# ---- in Sphinx ---------------------------------------------------------------------------------------------


def _without_its_own(app: Sphinx) -> None:
    app.builder.search = False  # the page and the index that Sphinx would make


def _take(app: Sphinx, doctree: nodes.document, page: str) -> None:
    app.env.our_places = getattr(app.env, "our_places", {})
    app.env.our_places[page] = places(doctree)


def _write(app: Sphinx, error: Exception | None) -> None:
    if error or app.builder.format != "html":
        return
    stored = [
        [app.builder.get_target_uri(page), parts[0][1], weight(page), parts]
        for page, parts in sorted(app.env.our_places.items())
        if parts
    ]
    files = {
        "search-words.js": f"const WORDS = {json.dumps(table())};\n",
        "search-pages.js": f"const PAGES = {json.dumps(stored, ensure_ascii=False, separators=(',', ':'))};\n",
        "search.js": f'"use strict";\n{{\n{one_script(SEARCH / "page.js")}searchPage(PAGES, WORDS);\n}}\n'.replace(
            "\nexport ", "\n"
        ),
    }
    for name, text in files.items():
        (app.outdir / "_static" / name).write_text(text, "utf-8")


def setup(app: Sphinx) -> dict[str, bool]:
    """Make the search a part of Sphinx's work."""
    app.connect("builder-inited", _without_its_own)
    app.connect("doctree-resolved", _take)
    app.connect("build-finished", _write)
    return {"parallel_read_safe": True, "parallel_write_safe": False}
