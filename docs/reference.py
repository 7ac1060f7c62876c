"""What the reference says of mosaickit: its public names and the types they speak of, read without running them.

griffe reads the source: docstrings as numpydoc says, signatures with their types, and where each name really lives,
which for names that are loaded when first used stands in the imports for type checkers. A docstring that it cannot
take apart is refused here with its name, and so is a section that nobody would see.
"""

from __future__ import annotations

import logging
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from html import escape
from pathlib import Path

import griffe

JOBS = {
    "The picture": ("motif", "colours", "orientation", "files"),
    "Making": ("fabric", "gauge", "tables"),
    "Yarn": ("yarn",),
    "Sizes": ("sizes", "batches"),
    "Words": ("wording",),
    "Variations": ("ideas",),
    "Drawing": ("draw", "svg"),
    "Widgets": ("widgets", "guiding"),
    "Publishing": ("publish",),
    "Sharing and teaching": ("sharing", "lessons"),
    "Errors": ("errors",),
}
"""The modules that have something to say to users, by the job they do and in the order they are read."""

_TYPED = re.compile(r"^ *([\w*]+(?:, [\w*]+)*) : (.+)$", re.MULTILINE)
_SHORT = 88  # a longer signature gets a line for each parameter


class DocsError(Exception):
    """Something that the site cannot show; says of what name."""


@dataclass(frozen=True)
class Line:
    """A line of a list of parameters, attributes, results or errors: what, of which type, and a text."""

    what: str
    type: str
    text: str


@dataclass(frozen=True)
class Part:
    """A section of a docstring: its title, and lines, or texts and examples as (is an example, text)."""

    title: str
    lines: tuple[Line, ...] = ()
    texts: tuple[tuple[bool, str], ...] = ()


@dataclass(frozen=True)
class Entry:
    """One name of the reference.

    Attributes
    ----------
    name : str
        As it is written after ``mk.``; for a type that has no public name, its own.
    anchor : str
        Its id on the page of its module.
    kind : str
        What it is, in a word.
    public : bool
        Whether it can be reached from ``mk``.
    item : griffe.Object
        What was read of it.
    parts : tuple of Part
        Its docstring; the first part has no title.
    members : tuple of Entry
        What a class has, in the order it was written.
    """

    name: str
    anchor: str
    kind: str
    public: bool
    item: griffe.Object
    parts: tuple[Part, ...]
    members: tuple[Entry, ...] = ()

    @property
    def module(self) -> str:
        """The module of its page, below mosaickit."""
        return self.item.path.split(".")[1]

    @property
    def summary(self) -> str:
        """The first paragraph of its docstring; empty for a constant without one."""
        return summary_of(self.item)

    @property
    def place(self) -> str:
        """File and line of its source."""
        return f"{self.item.relative_package_filepath.as_posix()}, line {self.item.lineno}"

    @property
    def signature(self) -> list[str | griffe.ExprName]:
        """How it is called, or what it is, as texts and the names of types in it."""
        if isinstance(self.item, griffe.Function):
            ends = [")", *_typed(" -> ", self.item.returns)]
            return _call(self.item.name, self.item.parameters, ends)
        if isinstance(self.item, griffe.Class):
            called = self.kind == "class" and any(one.name not in ("self", "cls") for one in self.item.parameters)
            return _call(self.item.name, self.item.parameters, [")"]) if called else []
        if not isinstance(self.item, griffe.Attribute):
            return []
        value = _typed(" = ", self.item.value) if len(str(self.item.value)) < 3 * _SHORT else [" = …"]
        is_property = "property" in self.item.labels
        return [self.item.name, *_typed(": ", self.item.annotation), *([] if is_property or not value else value)]

    @property
    def bases(self) -> list[griffe.Expr | str]:
        """What a class is a kind of."""
        return list(self.item.bases) if isinstance(self.item, griffe.Class) else []


@dataclass(frozen=True)
class Page:
    """A module's page: its explanation and its names, public ones first."""

    module: str
    job: str
    text: str
    entries: tuple[Entry, ...]

    @property
    def summary(self) -> str:
        """The first paragraph of its explanation."""
        return _first_paragraph(self.text)


@dataclass
class Reference:
    """All pages, and where a name leads to, as "module.html#anchor"."""

    pages: list[Page]
    by_path: dict[str, str] = field(default_factory=dict)
    by_name: dict[str, str] = field(default_factory=dict)

    def address(self, name: str | griffe.ExprName) -> str | None:
        """Say where a name leads: one in a type by where it lives, one in a text by how it is written."""
        if isinstance(name, griffe.ExprName):
            return self.by_path.get(name.canonical_path)
        return self.by_name.get(name.removesuffix("()").removeprefix("mosaickit.").removeprefix("mk."))


def read(folder: Path, public: Iterable[str]) -> Reference:
    """Read the reference of the package in a folder.

    Parameters
    ----------
    folder : Path
        Where ``mosaickit`` lies.
    public : iterable of str
        The public names of the package; names of modules stand for all that these export.

    Raises
    ------
    DocsError
        If a docstring is missing or cannot be taken apart, or a module has no job; says which.
    """
    package = _itself(
        griffe.load(
            "mosaickit",
            search_paths=[str(folder)],
            try_relative_path=False,  # or it would read what lies in the current folder
            allow_inspection=False,
            docstring_parser="numpy",
        )
    )
    named = {path: name for name, path in _public(package, public)}
    entries = [_entry(package[path], named.get(path)) for path in _with_their_types(package, named)]
    jobs = {module: job for job, modules in JOBS.items() for module in modules}
    lost = sorted({entry.module for entry in entries} - jobs.keys())
    if lost:
        raise DocsError(f"The module {lost[0]!r} has names for users, and no job in docs/reference.py names it.")
    pages = [
        Page(module, job, _explanation(package[module]), tuple(found))
        for module, job in jobs.items()
        if (found := sorted((each for each in entries if each.module == module), key=lambda each: not each.public))
    ]
    return _with_addresses(pages)


def summary_of(item: griffe.Object) -> str:
    """Give the first paragraph of a docstring, in one line."""
    return _first_paragraph(item.docstring.value) if item.docstring else ""


# ---- which names -------------------------------------------------------------------------------------------


def _public(package: griffe.Object, names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield each public name with where it lives below mosaickit."""
    for name in names:
        if name.startswith("_"):
            continue
        if name not in package.imports:
            raise DocsError(f"`mk.{name}` is not among the imports for type checkers in mosaickit/__init__.py.")
        home = _final(package, package.imports[name])
        if not home.is_module:
            yield name, _below(home)
            continue
        for inner in home.exports or ():
            # asked of the imports, since a verb may have the name of the module it lives in
            yield f"{name}.{inner}", _below(_final(package, home.imports.get(str(inner), f"{home.path}.{inner}")))


def _final(package: griffe.Object, path: str) -> griffe.Object:
    return _itself(package[path.removeprefix("mosaickit.")])


def _itself(item: griffe.Object | griffe.Alias) -> griffe.Object:
    """Give what an alias stands for, in the end."""
    found = item.final_target if isinstance(item, griffe.Alias) else item
    assert isinstance(found, griffe.Object)
    return found


def _below(item: griffe.Object) -> str:
    return item.path.removeprefix("mosaickit.")


def _with_their_types(package: griffe.Object, named: Iterable[str]) -> list[str]:
    """Add the types that signatures speak of, and those that theirs speak of, each once."""
    found = list(named)
    for path in found:  # grows while it is walked
        for name in _types(package[path]):
            if name.startswith("mosaickit.") and not any(part.startswith("_") for part in name.split(".")):
                other = _final(package, name)
                if (other.is_class or other.is_attribute) and _below(other) not in found:
                    found.append(_below(other))
    return found


def _types(item: griffe.Object) -> Iterator[str]:
    """Yield where the types live that an object speaks of."""
    said: list[griffe.Expr | str | None] = []
    if isinstance(item, griffe.Function):
        said = [item.returns, *(parameter.annotation for parameter in item.parameters)]
    elif isinstance(item, griffe.Attribute):
        said = [item.annotation]
    elif isinstance(item, griffe.Class):
        said = [*item.bases, *(parameter.annotation for parameter in item.parameters)]
        for member in _members(item):
            yield from _types(member)
    said += [raised.annotation for part in _parsed(item) if part.kind.value == "raises" for raised in part.value]
    for expression in said:
        if isinstance(expression, griffe.Expr):
            names = (part for part in expression.iterate(flat=True) if isinstance(part, griffe.ExprName))
            yield from (name.canonical_path for name in names)


def _members(item: griffe.Class) -> list[griffe.Object]:
    """Give what a class has of its own or from a class of ours, if it is described."""
    members = {**item.inherited_members, **item.members}
    found = [_itself(member) for name, member in members.items() if not name.startswith("_")]
    return [member for member in found if member.docstring and (member.is_function or member.is_attribute)]


# ---- one name ----------------------------------------------------------------------------------------------


def _entry(item: griffe.Object, name: str | None) -> Entry:
    if not item.docstring and not item.is_attribute:
        raise DocsError(f"{item.path} has no docstring.")
    public, shown, anchor = name is not None, name or item.name, name or _below(item)
    members = tuple(
        Entry(f"{shown}.{each.name}", f"{anchor}.{each.name}", _kind(each), public, each, _parts(each))
        for each in (_members(item) if isinstance(item, griffe.Class) else ())
    )
    return Entry(shown, anchor, _kind(item), public, item, _parts(item), members)


def _kind(item: griffe.Object) -> str:
    if isinstance(item, griffe.Class):
        bases = [str(base) for base in item.bases]
        if any(base.endswith(("Error", "Exception")) for base in bases):
            return "error"
        return "choice" if any(base.endswith("Enum") for base in bases) else "class"
    of_class = isinstance(item.parent, griffe.Class)
    if isinstance(item, griffe.Function):
        return ("class method" if "classmethod" in item.labels else "method") if of_class else "function"
    if of_class:
        return "attribute"
    value = str(item.value) if isinstance(item, griffe.Attribute) else ""
    return "type" if value.startswith(("Literal", "Callable", "NDArray")) or "|" in value else "constant"


def _parsed(item: griffe.Object) -> list[griffe.DocstringSection]:
    """Take a docstring apart, or raise `DocsError`."""
    if not item.docstring:
        return []
    said: list[str] = []
    handler = logging.Handler(logging.WARNING)
    handler.emit = lambda record: said.append(record.getMessage())  # type: ignore[method-assign]
    log = logging.getLogger("griffe")
    log.addHandler(handler)
    try:
        sections = item.docstring.parse("numpy")
    finally:
        log.removeHandler(handler)
    if said:
        raise DocsError(f"The docstring of {item.path} cannot be taken apart: {said[0]}.")
    for section in sections:
        if section.kind.value == "admonition" and section.title not in _OTHER_TITLES:
            raise DocsError(f"The docstring of {item.path} has a section {section.title!r}, which numpydoc has not.")
    return list(sections)


_OTHER_TITLES = ("Notes", "See Also", "References")  # of numpydoc, that hold a text
_TITLES = {
    "parameters": "Parameters",
    "attributes": "Attributes",
    "returns": "Gives back",
    "yields": "Yields",
    "raises": "Raises",
}


def _parts(item: griffe.Object) -> tuple[Part, ...]:
    types = dict(_TYPED.findall(item.docstring.value)) if item.docstring else {}
    parts = []
    for section in _parsed(item):
        kind = section.kind.value
        if kind == "text":
            parts.append(Part("", texts=((False, section.value),)))
        elif kind == "examples":
            texts = tuple((what.value == "examples", text) for what, text in section.value)
            parts.append(Part("Example", texts=texts))
        elif kind == "admonition":
            parts.append(Part(section.title or "", texts=((False, section.value.description),)))
        elif kind in _TITLES:
            parts.append(Part(_TITLES[kind], lines=tuple(_lines(section.value, types))))
        else:
            raise DocsError(f"The docstring of {item.path} has a section of {kind}, which the site cannot show.")
    return tuple(parts)


def _lines(elements: Iterable[griffe.DocstringElement], types: dict[str, str]) -> Iterator[Line]:
    """Give the lines of a section; names that were described together stay so, with the type as it was written."""
    together: dict[str, list[str]] = {}
    texts = {}
    for element in elements:
        name = getattr(element, "name", "")
        if not name:
            yield Line("", str(element.annotation), element.description.strip())
            continue
        heads = next((key for key in types if name in key.split(", ")), None) or element.description
        together.setdefault(heads, []).append(name)
        texts[heads] = element.description.strip()
    for heads, names in together.items():
        yield Line(", ".join(names), types.get(heads, ""), texts[heads])


def _call(
    name: str, parameters: Iterable[griffe.Parameter], ends: list[str | griffe.ExprName]
) -> list[str | griffe.ExprName]:
    shown: list[list[str | griffe.ExprName]] = []
    starred = False
    for parameter in parameters:
        if parameter.name in ("self", "cls"):
            continue
        kind = parameter.kind.value if parameter.kind else ""
        if kind == "keyword-only" and not starred:
            shown.append(["*"])
        starred = starred or kind in ("keyword-only", "variadic positional")
        stars = {"variadic positional": "*", "variadic keyword": "**"}.get(kind, "")
        default = [] if stars or parameter.default is None else [f" = {parameter.default}"]
        shown.append([f"{stars}{parameter.name}", *_typed(": ", parameter.annotation), *default])
    long = sum(len(str(piece)) for each in [*shown, ends] for piece in each) + len(name) > _SHORT
    before, between, after = ("\n    ", ",\n    ", ",\n") if long and shown else ("", ", ", "")
    pieces: list[str | griffe.ExprName] = [f"{name}({before}"]
    for number, each in enumerate(shown):
        pieces += [between] if number else []
        pieces += each
    return [*pieces, after, *ends]


def _typed(before: str, expression: griffe.Expr | str | None) -> list[str | griffe.ExprName]:
    if expression is None:
        return []
    return [before, *(expression.iterate(flat=True) if isinstance(expression, griffe.Expr) else [expression])]


# ---- pages and addresses -----------------------------------------------------------------------------------


def _explanation(module: griffe.Object) -> str:
    if not module.docstring:
        raise DocsError(f"The module {module.path} has no docstring.")
    return module.docstring.value


def _first_paragraph(text: str) -> str:
    return " ".join(text.strip().partition("\n\n")[0].split())


def _with_addresses(pages: list[Page]) -> Reference:
    reference = Reference(pages)
    own: dict[str, set[str]] = {}
    for page in pages:
        for entry in page.entries:
            for each in (entry, *entry.members):
                address = f"{page.module}.html#{each.anchor}"
                reference.by_path.setdefault(each.item.path, address)
                if each.public:
                    reference.by_name[each.name] = address
                else:
                    own.setdefault(each.name, set()).add(address)
    for name, addresses in own.items():
        if len(addresses) == 1:  # two types of one name cannot be told apart in a text
            reference.by_name.setdefault(name, *addresses)
    exported = {entry.name.partition(".")[0] for page in pages for entry in page.entries if entry.public}
    for page in pages:
        if page.module in exported and page.module not in reference.by_name:
            reference.by_name[page.module] = f"{page.module}.html"
    return reference


def as_html(pieces: Iterable[str | griffe.ExprName], reference: Reference) -> str:
    """Write a signature or a type as HTML, each name of ours a link."""
    shown = []
    for piece in pieces:
        address = reference.address(piece) if isinstance(piece, griffe.ExprName) else None
        text = escape(str(piece), quote=False)
        shown.append(f'<a href="{address}">{text}</a>' if address else text)
    return "".join(shown)
