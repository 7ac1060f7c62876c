"""The page: a notebook's cells in one HTML file, with style and scripts of its own and no leave to ask the network."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from nbformat import NotebookNode

from mosaickit.errors import OptionError, true_or_false
from mosaickit.files import Owner, as_path, file_name, place, save_bytes
from mosaickit.policy import source_hash
from mosaickit.sharing.cells import PagePart, Renderer
from mosaickit.sharing.live import ForWidgets, states
from mosaickit.sharing.notebooks import SHARING, execute, failures, missing, not_run, read, states_in

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


@dataclass(frozen=True)
class Shared:
    """A page that a notebook was shared as; it stands for its file wherever a path is asked for.

    Attributes
    ----------
    path : Path
        The file, written whole.
    ran : bool
        Whether the notebook was run for it.
    notes : tuple of str
        What of the notebook is not in it, or failed, a sentence each, with the cure; empty if all is there.
    """

    path: Path
    ran: bool
    notes: tuple[str, ...]

    def __fspath__(self) -> str:
        return str(self.path)

    def __str__(self) -> str:
        return "\n".join([str(self.path), *self.notes])

    def __repr__(self) -> str:
        told = self.notes or ("All that the notebook showed is in it.",)
        return "\n".join([f"Shared as {self.path.name}.", *told])


def share(
    notebook: str | PathLike[str],
    path: str | PathLike[str],
    *,
    run: bool | None = None,
    slides: bool = False,
    code: bool = True,
    lang: str = "en",
    replace: bool = False,
) -> Shared:
    """Write a notebook as one HTML file that needs neither Python nor the network.

    Notebooks are mostly saved without what their widgets showed. Where this is so, the notebook is run, which is said
    before: from the top, in its own folder, by its own kernel, so its code does whatever it does. Called from the very
    notebook, it takes the widgets as they are in its kernel. The notebook's file is not changed.

    Parameters
    ----------
    notebook : path
        The notebook, as it was last saved.
    path : path
        The file; its folder must be there.
    run : bool, optional
        Whether to run the notebook first. Left out, it is run if it was never run, or if what a widget showed is
        neither in its file nor in the kernel that we are in. With False, such a widget is left out, which is said.
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
    Shared
        The file, and what of the notebook is not in it. A cell that fails is in it as it failed. The same notebook
        gives the same bytes.

    Raises
    ------
    NotebookError
        If it is no notebook; if it was not run, and is not to be; if its kernel is not there or dies, or the run is
        stopped. Nothing is written then.
    OptionError
        If another argument is not as described.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    if not isinstance(lang, str) or not lang.replace("-", "").isalnum():
        raise OptionError(f'`lang` must name a language, as "en" or "pt-BR"; got {lang!r}.')
    slides, code = true_or_false("slides", slides), true_or_false("code", code)
    if run is not None:
        run = true_or_false("run", run)
    file, target = as_path(notebook, "notebook"), as_path(path)
    if file.absolute() == target.absolute():
        raise OptionError(f"`path` must be another file than the notebook; got {str(target)!r} for both.")
    if os.environ.get(SHARING) == str(file.absolute()):  # a notebook that shares itself would be run by itself for ever
        return Shared(target, False, ("The notebook is being run to be shared: this cell shares it no second time.",))
    found = read(file)
    known = states_in(found) | ({} if run else states())
    why = _why_run(found, known, file, asked=run)
    if run or (run is None and why):
        execute(found, file, why)
        ran, known = True, states_in(found)
    else:
        ran = False
    notes = _notes(found, known, file, ran=ran)
    renderer = Renderer(found, known, file.parent, code=code)
    data = _page(renderer, file.stem, slides=slides, lang=lang).encode("utf-8")
    owner = Owner("page", place(file, target.parent))
    return Shared(save_bytes(target, data, owner, replace=replace), ran, notes)


def _why_run(notebook: NotebookNode, known: ForWidgets, file: Path, *, asked: bool | None) -> str:
    """Say why a notebook has to be run, as the beginning of a sentence; nothing if it has not to be."""
    if why := not_run(notebook, file, asked=asked):
        return why
    cells = missing(notebook, known)
    return f"{file_name(file)} was saved without what the widgets of {_cells(cells)} showed" if cells else ""


def _notes(notebook: NotebookNode, known: ForWidgets, file: Path, *, ran: bool) -> tuple[str, ...]:
    """Say what of a notebook is not in its page, and which cells failed."""
    notes = [
        f"{failure.said[:1].upper()}{failure.said[1:]}. It is in the page as it failed."
        for failure in failures(notebook)
    ]
    cells = missing(notebook, known)
    if cells and ran:
        notes.append(f"The widgets of {_cells(cells)} could not be kept and are left out: the notebook shows them.")
    elif cells:
        notes.append(
            f"{file_name(file)} was saved without what the widgets of {_cells(cells)} showed, so they are left out: "
            "with `run=True` the notebook is run, and they are there."
        )
    return tuple(notes)


def _cells(numbers: list[int]) -> str:
    listed = ", ".join(map(str, numbers[:-1]))
    return f"cells {listed} and {numbers[-1]}" if listed else f"cell {numbers[0]}"


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
