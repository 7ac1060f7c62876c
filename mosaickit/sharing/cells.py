"""The cells of a notebook as HTML, one after the other: texts, code, and what the code showed."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape, unescape
from pathlib import Path
from typing import Any

from bs4 import BeautifulSoup, Tag
from bs4.element import PageElement
from nbconvert.filters.ansi import ansi2html
from nbconvert.filters.highlight import Highlight2HTML
from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath
from nbformat import NotebookNode

from mosaickit.sharing.notebooks import VIEW
from mosaickit.sharing.tidy import Tidier
from mosaickit.sharing.widgets import Widgets, WidgetState

_PICTURES = ("image/png", "image/jpeg", "image/gif", "image/webp")
_TITLE = re.compile(r"<title[^>]*>(.*?)</title>", re.DOTALL)


@dataclass(frozen=True)
class PagePart:
    """A part of the page.

    Attributes
    ----------
    html : str
        All of it.
    level : int
        The level of the heading that it begins with; 0 if it begins with none.
    heading : str
        The text of that heading.
    """

    html: str
    level: int = 0
    heading: str = ""


class Renderer:
    """Renders the cells of one notebook, in order.

    Parameters
    ----------
    notebook : NotebookNode
        Of version 4.
    known : dict
        The states of its widgets, by the ids of their models.
    folder : Path
        Where it lies: pictures that its texts show are taken from there.
    code : bool
        Whether to show code.
    """

    def __init__(self, notebook: NotebookNode, known: dict[str, WidgetState], folder: Path, *, code: bool) -> None:
        self._notebook = notebook
        self._folder = folder
        self._code = code
        self._pictures = 0
        self._tidier = Tidier()
        self.widgets = Widgets(known, self._tidier.tidy, self._outputs)
        about = notebook.metadata.get("language_info", {})
        language = about.get("pygments_lexer") or about.get("name") or "ipython3"
        self._highlight = Highlight2HTML(pygments_lexer=language)  # type: ignore[no-untyped-call]

    def title(self, text: str) -> PagePart:
        """Render a heading for a notebook that has none."""
        return PagePart(f"<h1>{escape(text)}</h1>", 1, text)

    def pieces(self) -> Iterator[PagePart]:
        """Render what the cells show; texts are parted before each heading of level 1 and 2."""
        for cell in self._notebook.cells:
            if cell.cell_type == "markdown":
                yield from _parted(self._markdown(cell.source, cell.get("attachments", {})))
            elif cell.cell_type == "code":
                html = self._input(cell) + self._outputs(cell.outputs)
                if html:
                    yield PagePart(html)

    def _markdown(self, source: str, attachments: Any = None) -> str:  # noqa: ANN401 — a dict of dicts
        # pictures are put into the text itself; a link beside each heading would be read out with it
        renderer = IPythonRenderer(
            escape=False,
            embed_images=True,
            exclude_anchor_links=True,
            path=str(self._folder),
            attachments=attachments or {},
        )
        return self._tidier.tidy(MarkdownWithMath(renderer=renderer).render(source))

    def _input(self, cell: NotebookNode) -> str:
        if not self._code or not cell.source.strip():
            return ""
        code = self._highlight(cell.source)
        if cell.metadata.get("jupyter", {}).get("source_hidden"):
            what = "A solution" if "solution" in cell.metadata.get("tags", []) else "Code"
            return f"<details><summary>{what}</summary>{code}</details>"
        return str(code)

    # ---- what code showed ----------------------------------------------------------------------------------

    def _outputs(self, outputs: list[Any]) -> str:
        shown = "".join(self._output(output) for output in outputs)
        return f'<div class="output">{shown}</div>' if shown else ""

    def _output(self, output: Any) -> str:  # noqa: ANN401 — a node of a notebook, or of a widget's state
        if output["output_type"] == "stream":
            return f'<pre class="{escape(output["name"])}">{_terminal(_text(output["text"]))}</pre>'
        if output["output_type"] == "error":
            return f'<pre class="stderr">{_terminal(chr(10).join(output["traceback"]))}</pre>'
        return self._data(output["data"], output.get("metadata", {}))

    def _data(self, data: dict[str, Any], about: dict[str, Any]) -> str:
        """Show the richest form that needs no one."""
        if VIEW in data:
            shown = self.widgets.show(data[VIEW]["model_id"])
            if shown is not None:
                said = self.widgets.note(data[VIEW]["model_id"])
                note = f'<p class="note">{escape(said)}</p>' if said and shown else ""
                return f'<div class="widget">{shown}{note}</div>'
            data = {kind: value for kind, value in data.items() if kind not in (VIEW, "text/plain")}
            if not data:
                return (
                    '<p class="note">A widget was here. What it showed was not saved with the notebook, so only the '
                    "notebook, run again, can show it.</p>"
                )
        if "text/html" in data:
            return self._tidier.tidy(_text(data["text/html"]))
        if "image/svg+xml" in data:
            return self._svg(_text(data["image/svg+xml"]), about)
        for kind in _PICTURES:
            if kind in data:
                encoded = "".join(_text(data[kind]).split())
                return self._picture(f"data:{kind};base64,{encoded}", about.get(kind, {}).get("alt", ""))
        if "text/markdown" in data:
            return self._markdown(_text(data["text/markdown"]))
        words = data.get("text/latex", data.get("text/plain"))
        return f"<pre>{_terminal(_text(words))}</pre>" if words else ""

    def _svg(self, svg: str, about: dict[str, Any]) -> str:
        # as a picture of its own, so that names and styles in it stay in it, and nothing in it runs
        found = _TITLE.search(svg)
        words = about.get("image/svg+xml", {}).get("alt", "") or (unescape(found[1]).strip() if found else "")
        if "xmlns=" not in svg:  # which only a page can do without
            svg = svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
        encoded = b64encode(svg.encode("utf-8")).decode("ascii")
        return self._picture(f"data:image/svg+xml;base64,{encoded}", words)

    def _picture(self, address: str, words: str) -> str:
        self._pictures += 1
        under = f", under “{self._tidier.heading}”" if self._tidier.heading else ""
        alt = escape(words or f"Figure {self._pictures}{under}")
        return f'<img class="picture" alt="{alt}" src="{address}">'


def _terminal(text: str) -> str:
    """Make HTML of what a terminal shows, with its colours."""
    return str(ansi2html(text))  # type: ignore[no-untyped-call]


def _text(value: Any) -> str:  # noqa: ANN401 — text, or a list of its lines
    return "".join(value) if isinstance(value, list) else str(value)


def _parted(html: str) -> Iterator[PagePart]:
    """Part a text before each heading of level 1 and 2."""
    parts: list[list[PageElement]] = [[]]
    for element in BeautifulSoup(html, "html.parser").contents:
        if isinstance(element, Tag) and element.name in ("h1", "h2"):
            parts.append([])
        parts[-1].append(element)
    for part in parts:
        text = "".join(str(element) for element in part)
        if text.strip():
            head = part[0]
            if isinstance(head, Tag) and head.name in ("h1", "h2"):
                yield PagePart(text, int(head.name[1]), head.get_text(" ", strip=True))
            else:
                yield PagePart(text)
