"""The page: a notebook's cells in one HTML file, with style and scripts of its own and no leave to ask the network."""

from __future__ import annotations

import json
from collections.abc import Iterable
from os import PathLike
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mosaickit.errors import OptionError, true_or_false
from mosaickit.files import Owner, as_path, place, save_bytes
from mosaickit.policy import source_hash
from mosaickit.sharing.cells import PagePart, Renderer
from mosaickit.sharing.notebooks import execute as run
from mosaickit.sharing.notebooks import need_outputs, read

_HERE = Path(__file__).parent
_STYLE = (_HERE / "page.css").read_text("utf-8")
_HOST = (_HERE / "host.js").read_text("utf-8")
_SLIDES = (_HERE / "slides.js").read_text("utf-8")
_TEMPLATE = Environment(
    loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
).get_template("page.html.j2")


_POLICY = "; ".join(
    [
        "default-src 'none'",
        # outputs bring styles of their own, and a widget its page as a module, which is run from memory
        "style-src 'unsafe-inline'",
        f"script-src '{source_hash(_HOST)}' '{source_hash(_SLIDES)}' blob:",
        "img-src data: blob:",
        "font-src data:",
        "base-uri 'none'",
        "form-action 'none'",
    ]
)


def share(
    notebook: str | PathLike[str],
    path: str | PathLike[str],
    *,
    execute: bool = False,
    slides: bool = False,
    code: bool = True,
    lang: str = "en",
    replace: bool = False,
) -> Path:
    """Write a worked notebook as one HTML file that needs neither Python nor the network.

    Parameters
    ----------
    notebook : path
        The notebook, as it was last saved. It is not changed.
    path : path
        The file; its folder must be there.
    execute : bool
        Whether to run the notebook first, from the top and in its own folder.
    slides : bool
        Whether to begin a slide at each heading of level 1 and 2; arrow keys lead from one to the next, and each is
        printed on a page of its own.
    code : bool
        Whether to show the code.
    lang : str
        The language of its texts, for screen readers, as "en" or "pt-BR".
    replace : bool
        Whether to replace whatever file is there. Otherwise only an earlier page of the same notebook is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file, written whole. The same notebook gives the same bytes.

    Raises
    ------
    NotebookError
        If it is no notebook, was not run, or fails when it is: then which cell, and with what.
    OptionError
        If another argument is not as described.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    if not isinstance(lang, str) or not lang.replace("-", "").isalnum():
        raise OptionError(f'`lang` must name a language, as "en" or "pt-BR"; got {lang!r}.')
    execute, slides = true_or_false("execute", execute), true_or_false("slides", slides)
    code = true_or_false("code", code)
    file, target = as_path(notebook, "notebook"), as_path(path)
    if file.absolute() == target.absolute():
        raise OptionError(f"`path` must be another file than the notebook; got {str(target)!r} for both.")
    found = read(file)
    if execute:
        run(found, file)
    need_outputs(found, file)
    renderer = Renderer(found, file.parent, code=code)
    data = _page(renderer, file.stem, slides=slides, lang=lang).encode("utf-8")
    known = Owner("page", place(file, target.parent))
    return save_bytes(target, data, known, replace=replace)


def _page(renderer: Renderer, name: str, *, slides: bool, lang: str) -> str:
    pieces = list(renderer.pieces())
    title = next((piece.heading for piece in pieces if piece.level), name)
    if not any(piece.level for piece in pieces):
        pieces.insert(0, renderer.title(name))
    return _TEMPLATE.render(
        lang=lang,
        title=title,
        policy=_POLICY,
        style=_STYLE,
        styles=list(renderer.widgets.styles),
        widgets=_in_script(renderer.widgets.alive) if renderer.widgets.alive else "",
        host=_HOST,
        slides=list(_slides(pieces)) if slides else [],
        script=_SLIDES,
        pieces=pieces,
    )


def _slides(pieces: Iterable[PagePart]) -> Iterable[list[PagePart]]:
    """Part the pieces before each heading of level 1 and 2."""
    slide: list[PagePart] = []
    for piece in pieces:
        if slide and piece.level:
            yield slide
            slide = []
        slide.append(piece)
    yield slide


def _in_script(data: object) -> str:
    """Write JSON that may stand in a script of a page."""
    return json.dumps(data, sort_keys=True, separators=(",", ":")).replace("<", "\\u003c")
