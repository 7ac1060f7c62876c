"""How Sphinx makes the documentation: no page of it asks the network for anything, and every warning is an error."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

from docutils import nodes
from jinja2.sandbox import SandboxedEnvironment
from numpydoc import docscrape_sphinx
from numpydoc.xref import DEFAULT_LINKS
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.environment import BuildEnvironment
from sphinx.jinja2glue import BuiltinTemplateLoader
from sphinx.util.nodes import make_refnode

import mosaickit

sys.path.insert(0, str(Path(__file__).parent))  # for searching.py

project = "mosaickit"
author = "The mosaickit authors"
copyright = "the mosaickit authors, MIT licence"
release = version = mosaickit.__version__
language = "en"
extensions = ["sphinx.ext.autodoc", "numpydoc", "myst_nb", "searching"]
if "as_stored" not in tags:  # noqa: F821 — Sphinx gives them; the source takes a third of the time
    extensions.append("sphinx.ext.viewcode")
exclude_patterns = ["**/.*", "beside"]

# docstrings
default_role = "py:obj"
autodoc_preserve_defaults = True
autodoc_typehints = "none"  # numpydoc lists types in words
autodoc_default_options = {"members": True, "member-order": "bysource"}
numpydoc_show_class_members = False
numpydoc_xref_param_type = True
numpydoc_xref_aliases = {name: name for name in DEFAULT_LINKS}  # which would lead to Python's and NumPy's own pages
numpydoc_validation_checks = {"GL06", "GL07", "GL08", "PR02"}
nitpicky = True
nitpick_ignore_regex = [("py:obj", ".*")]  # a parameter in a text is written as a name is

# texts and notebooks, which were run before
myst_heading_anchors = 4
nb_execution_mode = "off"
nb_ipywidgets_js = {}  # would be loaded from elsewhere

html_context = {"default_mode": "auto"}
html_theme = "pydata_sphinx_theme"
html_title = project
html_static_path = ["static"]
html_css_files = ["site.css"]
html_copy_source = False
templates_path = ["templates"]
html_additional_pages = {"search": "search.html"}
html_theme_options = {
    "logo": {"text": project},
    "navbar_align": "left",
    "header_links_before_dropdown": 6,
    "show_prev_next": True,  # but see `only_in_the_course`
    "footer_start": ["copyright"],
    "footer_end": [],
    "search_bar_text": "A question, a name or a word",
}
html_sidebars = {"index": [], "about": [], "DEVELOPERS": [], "benchmarks/README": [], "gallery/README": [], "forms": []}


def find_name(
    app: Sphinx, env: BuildEnvironment, node: addnodes.pending_xref, contnode: nodes.Element
) -> nodes.reference | None:
    """Lead a name that is written short, as `mk.draw.chart` or `Report`, to the only object that ends so."""
    short = str(node["reftarget"]).removesuffix("()")
    if node.get("refdomain") != "py" or not re.match(r"mk\.|[A-Z]", short):
        return None
    ends = "." + short.removeprefix("mk.")
    known = env.domains.python_domain.objects
    whole = known.get(f"mosaickit{ends}") if short.startswith("mk.") else None
    found = [whole] if whole else [one for name, one in known.items() if name.endswith(ends) and not one.aliased]
    if len(found) != 1:
        return None
    return make_refnode(app.builder, node["refdoc"], found[0].docname, found[0].node_id, contnode)


def call_it_mk(app: Sphinx, doctree: nodes.document) -> None:
    """Write a name as a maker does: mk.check; a type that has no name after mk. stands alone."""
    for node in doctree.findall(addnodes.desc_addname):
        module = node.astext()
        public = module.removeprefix("mosaickit.").rstrip(".") in ("", *mosaickit.__all__)
        node.children[:] = [nodes.Text(module.replace("mosaickit.", "mk."))] if public else []


def only_in_the_course(
    app: Sphinx, page: str, template: str, context: dict[str, Any], doctree: nodes.document | None
) -> None:
    """Lead from a notebook or a lesson to the next one and back, and from no other page."""
    for way in ("prev", "next"):
        there = context.get(way)
        beside = there and "/" not in there["link"] and there["link"] != "index.html"
        if not (beside and page.startswith("notebooks/")):
            context[way] = None


_made: list[SandboxedEnvironment] = []


def templates(*, loader: BuiltinTemplateLoader) -> SandboxedEnvironment:
    """Give numpydoc its templates; it asks for them at each docstring, and would read them a thousand times."""
    if not _made:
        _made.append(SandboxedEnvironment(loader=loader))
    return _made[0]


def setup(app: Sphinx) -> dict[str, bool]:
    """Add them to Sphinx."""
    docscrape_sphinx.SandboxedEnvironment = templates
    app.connect("html-page-context", only_in_the_course)
    app.connect("missing-reference", find_name)
    app.connect("doctree-read", call_it_mk)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
