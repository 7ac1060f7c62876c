"""The reference as pages for Sphinx: each public name once, under the subject that a maker looks for it by.

What is public is asked of the package itself: ``mosaickit.__all__`` and the ``__all__`` of the modules of verbs named
there. Where a name lives does not matter. A name with no place in `SUBJECTS` is refused, as is a place with no name.
The types that public names give back or take follow them, as `mk.sizes.Sweep` follows `mk.sweep`.
"""

from __future__ import annotations

import inspect
import sys
import typing
from collections.abc import Iterable, Iterator
from functools import cache
from textwrap import indent
from typing import Any

from sphinx.pycode import ModuleAnalyzer

import mosaickit as mk

SUBJECTS = {
    "The picture": {
        "Motifs": "Motif",
        "Yarns and colours": "Yarn Yarns contrast",
        "Changing a motif": "mirror up_down half_turn shift counterchange crop pad repeat tile edge_stitches frame "
        "mosaic_border",
        "Photographs": "from_picture",
        "Lettering": "lettering",
        "Files": "begin load save",
    },
    "Rules": {
        "What can be worked": "check",
        "The nearest workable picture": "nearest_workable",
        "Errors": "errors",
    },
    "Making": {
        "Stitches and charts": "Stitch Chart compile_chart",
        "Working a chart": "work",
        "Tables": "tables",
    },
    "Yarn": {
        "Gauge": "Gauge",
        "Yarn in a stitch": "StitchLengths",
        "How it is calculated": "YarnSettings Skein",
        "Yarn in a chart": "yarn_usage surcharge carry_or_cut_width_cm",
        "Skeins in hand": "reach new_balls grams_per_square_metre",
        "The way of the yarn": "thread_of lengths_of_thread",
        "Swatches": "Swatch calibrate",
    },
    "Designs": {
        "A design": "Design NamedSize Finish PatternWords Photograph Publishing YarnLabel",
        "Comparing designs": "compare",
        "A folder of designs": "designs",
    },
    "Widths": {
        "Layouts": "Surround Layout",
        "Bands": "Bands Band Columns Plain Divider Field",
        "Sizes": "plan_widths border_fits",
        "Every combination": "sweep Batch",
        "The best lines of a table": "rank pareto",
    },
    "Words": {"Written rows": "write_rows read_rows write_sizes read_sizes", "Proofs": "proof check_row"},
    "Variations": {
        "Symmetry": "symmetry",
        "Families": "family",
        "Chance": "count_motifs motifs_near random_motif random_motifs",
        "Search": "search_motifs",
    },
    "Drawing": {"Pictures": "draw"},
    "Widgets": {"In a notebook": "widgets"},
    "From the centre": {"Squares worked in rounds (experimental)": "centre", "Their design": "CentreDesign"},
    "Publishing": {"The pattern": "pattern", "PDF and HTML": "publish", "Technical editing": "tech_edit"},
    "Photographed work": {"A photograph over the chart (experimental)": "read_work"},
    "Testing a pattern": {"Reports and yarn for everyone": "testing"},
    "Sharing and teaching": {"Sharing a notebook": "share sharing", "Lessons": "lessons"},
}
"""The public names by subject and heading, in the order they are read; a module stands for all that it exports."""

SUBJECT_FOLDERS = frozenset(
    ["fabric", "files", "guiding", "ideas", "motif", "photographed", "sizes", "wording", "yarn"]
)
"""Folders that offer what comes out of verbs, beside what the package takes from them: the verbs say what of it."""


LOOKED_UP_TO = {"CentreReport": mk.centre.CentreReport, "Page": mk.publish.Page}
"""Classes of a higher floor that a lower one names for type checkers only."""


class DocsError(Exception):
    """What the documentation cannot show, as a sentence."""


def pages() -> dict[str, str]:
    """Write the pages of the reference; gives their text by their name.

    Raises
    ------
    DocsError
        If a public name has no place in `SUBJECTS`, or a name there is not public.
    """
    places = _places()
    index = [
        _heading("Reference", "="),
        f"Every name of mosaickit {mk.__version__} (``mk.__version__``), by what it is",
    ]
    index += ["for. All are there after ``import mosaickit as mk``.", ""]
    index += [".. toctree::", "   :hidden:", "", *(f"   {_file(subject)}" for subject in SUBJECTS), ""]
    found = {}
    for subject, headings in SUBJECTS.items():
        index += [_heading(f":doc:`{subject} <{_file(subject)}>`", "-")]
        page = [_heading(subject, "=")]
        for heading in headings:
            objects = places[subject, heading]
            page += [_heading(heading, "-"), _explanation(objects), ""]
            for path, item in objects.items():
                page += [_directive(path, item), ""]
                index += _line(path, item) if path.count(".") < 3 else []
        found[_file(subject)] = "\n".join(page)
    return {"index": "\n".join(index), **found}


@cache
def public() -> dict[str, Any]:
    """Give each public name, as ``mosaickit.draw.chart``, with what it stands for."""
    found = {}
    for name in mk.__all__:
        item = getattr(mk, name)
        if name in SUBJECT_FOLDERS:
            continue
        if inspect.ismodule(item):
            offered = {inner: getattr(item, inner) for inner in item.__all__}
            # what a folder offers to other rooms and stands at `mk.` as well is told of there
            found |= {f"mosaickit.{name}.{inner}": one for inner, one in offered.items() if not _at_mk(inner, one)}
        elif name != "__version__":
            found[f"mosaickit.{name}"] = item
    return found


def _at_mk(name: str, item: object) -> bool:
    return name in mk.__all__ and getattr(mk, name) is item


# ---- which names stand where -------------------------------------------------------------------------------


def _places() -> dict[tuple[str, str], dict[str, Any]]:
    names = public()
    places: dict[tuple[str, str], dict[str, Any]] = {}
    for subject, headings in SUBJECTS.items():
        for heading, text in headings.items():
            here = places[subject, heading] = {}
            for word in text.split():
                paths = [path for path in names if path == f"mosaickit.{word}" or path.startswith(f"mosaickit.{word}.")]
                if not paths:
                    raise DocsError(f"`SUBJECTS` of docs/reference.py lists {word!r}, which is not public.")
                here |= {path: names[path] for path in paths}
    lost = sorted(names.keys() - {path for here in places.values() for path in here})
    if lost:
        raise DocsError(f"{lost[0]} has no place in `SUBJECTS` of docs/reference.py.")
    homes = {item.__module__: place for place, here in places.items() for item in here.values() if callable(item)}
    seen = [item for item in names.values() if inspect.isclass(item)]
    for place, here in list(places.items()):
        todo = list(here.values())
        for item in todo:  # grows while it is walked
            for other in _spoken_of(item):
                if other not in seen:
                    seen.append(other)
                    todo.append(other)
                    places[homes.get(other.__module__, place)][_path_of(other)] = other
    return places


def _path_of(kind: type) -> str:
    """Give a class the name that a maker writes, if it has one."""
    folder = kind.__module__.split(".")[1]
    offered = folder in mk.__all__ and kind.__name__ in getattr(mk, folder).__all__
    return f"mosaickit.{folder}.{kind.__name__}" if offered else f"{kind.__module__}.{kind.__qualname__}"


def _spoken_of(item: Any) -> Iterator[type]:  # noqa: ANN401 — whatever is public
    """Yield the classes of mosaickit that something takes, gives back or is a kind of."""
    said = [item] if callable(item) else []
    if inspect.isclass(item):
        yield from _ours(item.__bases__)
        members = [member for name, member in vars(item).items() if not name.startswith("_")]
        # what a property, a cached one or a class method calls
        calls = ("fget", "func", "__func__")
        said += [next((getattr(one, call) for call in calls if hasattr(one, call)), one) for one in members]
    for one in said:
        if inspect.isclass(one) or inspect.isfunction(one):
            yield from _ours(typing.get_type_hints(one, localns=LOOKED_UP_TO).values())


def _ours(types: Iterable[Any]) -> Iterator[type]:
    """Yield the classes of mosaickit in types, however deep."""
    for one in types:
        if inspect.isclass(one) and one.__module__.startswith("mosaickit.") and not one.__name__.startswith("_"):
            yield one
        yield from _ours(each for each in typing.get_args(one) if not isinstance(each, str))


# ---- how they are written ----------------------------------------------------------------------------------


def _file(subject: str) -> str:
    return subject.lower().replace(" ", "-")


def _heading(text: str, line: str) -> str:
    return f"{text}\n{line * len(text)}\n"


def _explanation(objects: dict[str, Any]) -> str:
    """Give what the module of the first name says of itself."""
    path, first = next(iter(objects.items()))
    home = path.rpartition(".")[0]
    return inspect.getdoc(sys.modules[first.__module__ if home == "mosaickit" else home]) or ""


def _directive(path: str, item: Any) -> str:  # noqa: ANN401 — whatever is public
    if not callable(item):
        return f".. py:data:: {path}\n\n{indent(_said_of(item), '   ')}"
    if not item.__doc__:
        raise DocsError(f"{path} has no docstring.")
    kind = "function" if inspect.isfunction(item) else "exception" if issubclass(item, Exception) else "class"
    return f".. auto{kind}:: {path}"


def _line(path: str, item: Any) -> list[str]:  # noqa: ANN401 — whatever is public
    """Write a name as a maker does, ``mk.draw.chart``, with the first paragraph that is said of it."""
    said = (inspect.getdoc(item) or "") if callable(item) else _said_of(item)
    return [
        f":py:obj:`{path.replace('mosaickit.', 'mk.')} <{path}>`",
        *indent(said.partition("\n\n")[0], "   ").splitlines(),
        "",
    ]


def _said_of(value: object) -> str:
    """Give the text below a constant, in whichever module of mosaickit it was made."""
    for name, module in sys.modules.items():
        if name.startswith("mosaickit."):
            for word, found in vars(module).items():
                if found is value:
                    text = ModuleAnalyzer.for_module(name).find_attr_docs().get(("", word))
                    if text:
                        return "\n".join(text)
    raise DocsError(f"A public constant has no text below it: {value!r:.60}.")
