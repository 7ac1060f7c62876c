"""The house: imports run down the floors and through the doors, little is loaded, and names are what they say."""

import ast
import inspect
import re
import subprocess
import sys
import typing
from functools import cache
from graphlib import CycleError, TopologicalSorter
from importlib import import_module
from pathlib import Path
from statistics import median

import pytest

import mosaickit as mk

PACKAGE = Path(mk.__file__).parent
DEVELOPERS = Path(__file__).parent.parent / "DEVELOPERS.md"

# From the ground up. A room is a folder or a single module, and all of the ground is one room. A room imports from
# rooms of lower floors only; a type-only import may look up.
FLOORS = [
    {
        "distribution",
        "fixed",
        "doors",
        "cures",
        "errors",
        "orientation",
        "colours",
        "gauge",
        "policy",
        "scripts",
        "sentences",
        "svg",
    },
    {"motif"},
    {"files", "fabric"},
    {"yarn", "wording", "batches"},
    {"ideas", "guiding", "centre", "photographed"},
    {"sizes"},
    {"tables", "draw", "publish", "sharing", "testing"},
    {"widgets", "lessons", "cli"},
]
MOST_FLOORS = 8
"""As many as a newcomer can hold in the head."""
ROOM = dict.fromkeys(FLOORS[0], "ground")
FLOOR = {ROOM.get(room, room): number for number, floor in enumerate(FLOORS) for room in floor}
FOLDERS = {room for floor in FLOORS for room in floor if (PACKAGE / room).is_dir()}
# what a module, or all of a folder, may load from outside, beside the standard library and NumPy
LIBRARIES = {
    "files.pictures.darkness": {"scipy"},
    "files.pictures.photographs": {"PIL"},
    "files.pictures.pixels": {"PIL"},
    "files.documents": {"pydantic"},
    "files.faults": {"pydantic", "pydantic_core"},
    "files.forms": {"pydantic", "pydantic_core"},
    "files.png": {"PIL"},
    "files.schemas": {"pydantic"},
    "photographed": {"scipy"},
    "batches": {"tqdm"},
    "wording": {"lark"},
    "sizes.bands.forms": {"pydantic"},
    "sizes.centred.forms": {"pydantic"},
    "sizes.designs.documents": {"pydantic"},
    "sizes.designs.named_forms": {"pydantic"},
    "sizes.designs.photograph_forms": {"pydantic"},
    "sizes.designs.finish_forms": {"pydantic"},
    "sizes.designs.words_forms": {"pydantic"},
    "sizes.ranking": {"pandas"},
    "sizes.reports.documents": {"pydantic"},
    "sizes.sweeps.candidates": {"pandas"},
    "tables": {"pandas"},
    "testing.everyone": {"scipy"},
    "tables.spreadsheet": {"openpyxl"},
    "draw": {"matplotlib"},
    "publish": {"jinja2", "typst"},
    "lessons.documents": {"pydantic"},
    "lessons.handouts": {"nbformat"},
    "lessons.kept": {"pydantic"},
    "lessons.sheets": {"pandas"},
    "sharing": {"bs4", "jinja2", "jupyter_client", "nbclient", "nbconvert", "nbformat"},
    "widgets": {"IPython", "anywidget", "ipywidgets", "matplotlib", "pandas", "scipy", "traitlets"},
}
# modules at `mk.` all of whose names are for makers; other folders there offer what comes out of verbs
VERBS = {"centre", "draw", "errors", "lessons", "publish", "tables", "testing", "widgets"}
# what a door for makers shows again of a lower room: a report is a value of `sizes`, as draw and tables take it too
REPORTS = (
    "PieceReport",
    "Snag",
    "Tested",
    "YarnUsed",
    "edition_of",
    "load_reports",
    "report_from_json",
    "report_to_json",
)
SHOWN_AGAIN = {("testing", "sizes"): REPORTS}
# what layouts, plans and sweeps count with; no maker asks for them
WORKINGS = {"Framed", "Bordered", "Inside", "Repeats", "RepeatSums", "Choice", "Task", "Wanted"}
# what each module of a folder holds for the one that gathers them
GATHERED = {"COMMAND": "cli", "EXERCISES": "lessons", "PANEL": "widgets"}
HEAVY = {"matplotlib", "pandas", "scipy", "PIL", "skimage", "lark", "typst", "jinja2", "tqdm", "pydantic"}
HEAVY |= {"IPython", "ipywidgets", "anywidget", "nbconvert", "jupyterlab"}


def dotted(path):
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


PATHS = {dotted(path): path for path in sorted(PACKAGE.rglob("*.py")) if path != PACKAGE / "__init__.py"}
SOURCES = {module: path.read_text("utf-8") for module, path in PATHS.items()}
LINES = {module: len(source.splitlines()) for module, source in SOURCES.items()}


@cache
def parsed(source):
    return ast.parse(source)


@cache
def nodes_in(source):
    """All of what a source holds, in the order of `ast.walk`."""
    return tuple(ast.walk(parsed(source)))


def head_of(module):
    head = module.partition(".")[0]
    return "cli" if head == "__main__" else head


def room_of(module):
    return ROOM.get(head_of(module), head_of(module))


def offered(folder):
    """The names of a folder's stub, each with the module it comes from."""
    tree = ast.parse((PACKAGE / folder / "__init__.pyi").read_text("utf-8"))
    return {
        alias.asname: node.module.removeprefix("mosaickit").removeprefix(".")
        for node in tree.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }


OFFERED = {folder: offered(folder) for folder in FOLDERS}


@cache
def imports(source):
    """Every import, as (node, module, name or None, whether it is for types only)."""
    return tuple(_imports(nodes_in(source)))


def _imports(nodes):
    type_only = {
        id(inner)
        for node in nodes
        if isinstance(node, ast.If) and getattr(node.test, "id", None) == "TYPE_CHECKING"
        for inner in ast.walk(node)
    }
    for node in nodes:
        if isinstance(node, ast.Import):
            yield from ((node, alias.name, None, id(node) in type_only) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            module = "." * node.level + (node.module or "")
            yield from ((node, module, alias.name, id(node) in type_only) for alias in node.names)


def defined(source):
    """The public classes, aliases and tables of a module: what it names with a capital letter at its top level."""
    for node in parsed(source).body:
        if isinstance(node, ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            yield from (name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name))


def twice(sources):
    """Each public name that several modules give to things of their own, with those modules."""
    homes = {}
    for module, source in sources.items():
        for name in set(defined(source)):
            if name[0].isupper() and GATHERED.get(name) != room_of(module):
                homes.setdefault(name, []).append(module)
    return {name: modules for name, modules in homes.items() if len(modules) > 1}


def libraries(own):
    return {each for place, these in LIBRARIES.items() if f"{own}.".startswith(f"{place}.") for each in these}


def below(module, name):
    """What an import of ours reaches, as (module below mosaickit, name): a name of the package itself may be a room."""
    place = module.removeprefix("mosaickit").removeprefix(".")
    inner = f"{place}.{name}".removeprefix(".") if name else place
    return (inner, None) if inner in SOURCES else (place, name)


def faults(source, own):
    """What a module's imports do against the house, as sentences."""
    hidden = {
        id(inner)
        for node in nodes_in(source)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        for inner in ast.walk(node)
    }
    for node, module, name, type_only in imports(source):
        if id(node) in hidden:
            yield f"{own} imports {module} inside a function"
        if module.startswith("."):
            yield f"{own} imports {module} by a relative path"
        elif module.partition(".")[0] == "mosaickit":
            yield from inner_faults(own, *below(module, name), type_only)
        elif module.partition(".")[0] not in sys.stdlib_module_names | {"numpy"} | libraries(own):
            yield f"{own} imports {module}"
    for node in nodes_in(source):
        names = {getattr(node, field, None) for field in ("id", "attr", "name")}
        if names & {"import_module", "__import__"} and own != "doors":
            yield f"{own} loads a module by its name"
        if isinstance(node, ast.Call) and getattr(node.func, "id", None) == "late":
            library = ast.literal_eval(node.args[0]).partition(".")[0]
            if library not in libraries(own):
                yield f"{own} loads {library} late"


def inner_faults(own, module, name, type_only):
    if not module:
        if room_of(own) != "cli":  # which stands on top of all and loads only what a command asks for
            yield f"{own} imports the whole package"
        return
    other = head_of(module)
    if other == head_of(own) or (room_of(own) == room_of(module) and other not in FOLDERS):
        if module == other and other in FOLDERS:
            yield f"{own} goes out by its own door for {name}"
        return
    if (name or module).startswith("_"):
        yield f"{own} imports {name or module}, which is private"
    if other in FOLDERS and module != other:
        yield f"{own} imports {module}, which lies inside {other}"
    elif other in FOLDERS and name is not None and name not in OFFERED[other]:
        yield f"{own} imports {name}, which is not offered by {other}"
    if FLOOR[room_of(module)] >= FLOOR[room_of(own)] and not type_only:
        yield f"{own} imports {other}, which is not below it"


def circles(sources):
    """The first circle of imports among modules, as a list of them; None if there is none."""
    graph = {
        own: {
            module
            for _, module, name, type_only in imports(source)
            if module.partition(".")[0] == "mosaickit" and not type_only
            for module in [below(module, name)[0]]
            if module in sources and module != own
        }
        for own, source in sources.items()
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return error.args[1]
    return None


# ---- floors and doors --------------------------------------------------------------------------------------


def test_every_room_has_a_floor():
    assert {room_of(module) for module in SOURCES} == set(FLOOR)
    assert {head_of(module) for module in SOURCES if room_of(module) == "ground"} == FLOORS[0]


# what a value offers that is made of it on a higher floor, and where: see `doors.above`
ABOVE = {"sizes.designs.design": {("publish", "page_of")}}


def test_only_these_ask_upward_and_what_they_ask_for_is_offered_there():
    asked = {}
    for own, source in SOURCES.items():
        for node in nodes_in(source):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "above":
                room, name = (ast.literal_eval(argument) for argument in node.args)
                asked.setdefault(own, set()).add((room, name))
                assert name in OFFERED[room]
                assert FLOOR[room] > FLOOR[room_of(own)]
    assert asked == ABOVE


def test_imports_run_down_the_floors_and_through_the_doors():
    assert [fault for own, source in SOURCES.items() for fault in faults(source, own)] == []


def test_no_imports_run_in_a_circle_within_a_room():
    assert circles(SOURCES) is None


def test_the_floor_check_sees_what_it_must():
    def said(source, own):
        return list(faults(source, own))

    assert said("from mosaickit.fabric import Chart", "motif.rules") == [
        "motif.rules imports fabric, which is not below it"
    ]
    assert said("from mosaickit import draw", "tables") == ["tables imports draw, which is not below it"]
    assert said("from mosaickit import svg", "gauge") == ["gauge imports svg, which is not below it"]
    assert said("from mosaickit.colours import contrast", "svg.drawing") == []
    assert said("from mosaickit.svg.drawing import sheet", "motif.motif") == [
        "motif.motif imports svg.drawing, which lies inside svg"
    ]
    assert said("from mosaickit.errors import OptionError", "gauge") == []
    assert said("from mosaickit.motif import Motif, check", "fabric.hook") == []
    assert said("from mosaickit.motif.rules import check", "fabric.hook") == [
        "fabric.hook imports motif.rules, which lies inside motif"
    ]
    assert said("from mosaickit.motif import rules", "fabric.hook") == [
        "fabric.hook imports motif.rules, which lies inside motif"
    ]
    assert said("import mosaickit.motif.rules", "fabric.hook") == [
        "fabric.hook imports motif.rules, which lies inside motif"
    ]
    assert said("from mosaickit.motif import _moved", "fabric.hook") == [
        "fabric.hook imports _moved, which is private",
        "fabric.hook imports _moved, which is not offered by motif",
    ]
    assert said("from mosaickit.errors import _plain", "fabric.hook") == [
        "fabric.hook imports _plain, which is private"
    ]
    assert said("from mosaickit.motif import Motif", "motif.rules") == [
        "motif.rules goes out by its own door for Motif"
    ]
    assert said("from mosaickit.motif.motif import Motif", "motif.rules") == []
    assert said("import pandas as pd", "yarn.usage") == ["yarn.usage imports pandas"]
    assert said("import pandas as pd", "sizes.sweeps.candidates") == []
    assert said("import pandas as pd", "sizes.sweeps.figures") == ["sizes.sweeps.figures imports pandas"]
    assert said("import mosaickit as mk", "yarn.usage") == ["yarn.usage imports the whole package"]
    assert said("from mosaickit import Motif", "yarn.usage") == ["yarn.usage imports the whole package"]
    assert said("import mosaickit as mk", "cli") == []
    assert said("def f():\n    import json", "yarn.usage") == ["yarn.usage imports json inside a function"]
    assert said("async def f():\n    import json", "yarn.usage") == ["yarn.usage imports json inside a function"]
    assert said("from .skeins import reach", "yarn.usage") == ["yarn.usage imports .skeins by a relative path"]
    assert said("import importlib\nimportlib.import_module('mosaickit.draw')", "yarn.usage") == [
        "yarn.usage loads a module by its name"
    ]
    assert said('pd = late("pandas")', "sizes.ranking") == []
    assert said('plt = late("matplotlib.pyplot")', "sizes.ranking") == ["sizes.ranking loads matplotlib late"]
    assert said('draw = late("mosaickit.draw")', "sizes.ranking") == ["sizes.ranking loads mosaickit late"]
    look_up = "if TYPE_CHECKING:\n    from mosaickit.{} import Report"
    assert said(look_up.format("motif"), "errors") == []
    assert said(look_up.format("motif.rules"), "errors") == ["errors imports motif.rules, which lies inside motif"]


def test_the_check_for_circles_sees_what_it_must():
    one, two, three = "motif.motif", "motif.rules", "motif.repair"
    line = "from mosaickit.motif.{} import x"
    assert circles({one: "", two: line.format("motif"), three: line.format("rules")}) is None
    assert circles({one: "from mosaickit.motif import repair", two: line.format("motif"), three: line.format("rules")})
    assert circles({one: f"if TYPE_CHECKING:\n    {line.format('rules')}", two: line.format("motif")}) is None


def test_the_guide_for_developers_shows_these_floors():
    lines = re.findall(r"^\| \d+ \| (.+?) \|", DEVELOPERS.read_text("utf-8"), re.MULTILINE)
    shown = [set(re.findall(r"`([a-z_]+)/?`", line)) for line in lines]
    assert shown == FLOORS
    assert len(shown) <= MOST_FLOORS
    assert {name for line in lines for name in re.findall(r"`([a-z_]+)/`", line)} == FOLDERS


# ---- names -------------------------------------------------------------------------------------------------


def test_no_class_alias_or_table_has_the_name_of_another():
    assert twice(SOURCES) == {}


def test_the_check_for_names_sees_what_it_must():
    one, two = "motif.motif", "fabric.hook"
    assert twice({one: "class Row: ...", two: "Row = tuple[int, ...]"}) == {"Row": [one, two]}
    assert twice({one: "LEAST, MOST = 1, 2", two: "MOST: int = 2"}) == {"MOST": [one, two]}
    assert twice({one: "class Row: ...", two: "from mosaickit.motif import Row"}) == {}
    assert twice({one: "class _Row: ...\ndef row(): ...", two: "_Row = 1\ndef row(): ..."}) == {}
    assert twice({"lessons.faces": "EXERCISES = ()", "lessons.course": "EXERCISES = {}"}) == {}
    assert twice({"lessons.faces": "EXERCISES = ()", one: "EXERCISES = {}"}) == {}
    assert twice({two: "EXERCISES = ()", one: "EXERCISES = {}"}) == {"EXERCISES": [two, one]}


@pytest.mark.parametrize("room", sorted(FOLDERS))
def test_a_door_offers_what_its_stub_says(room):
    module = import_module(f"mosaickit.{room}")
    assert module.__all__ == sorted(OFFERED[room]) == dir(module)
    for name, home in OFFERED[room].items():
        assert getattr(module, name) is getattr(import_module(f"mosaickit.{home}"), name), name
        assert head_of(home) == room or name in SHOWN_AGAIN.get((room, home), ()), name


@pytest.mark.parametrize("folder", ["", *sorted(FOLDERS)])
def test_no_name_at_a_door_is_that_of_a_module_behind_it(folder):
    # an import of the module would put it in place of the name
    here = PACKAGE / folder
    behind = {path.stem for path in here.glob("*.py")} | {path.name for path in here.iterdir() if path.is_dir()}
    assert {name for name, home in offered(folder).items() if home} & behind == set()


def test_importing_the_package_or_a_folder_loads_nothing_heavy():
    everything = ", ".join(f"mosaickit.{room}" for room in sorted(FOLDERS))
    code = f"import sys, {everything}; mosaickit.Motif; print([n for n in {sorted(HEAVY)} if n in sys.modules])"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert loaded.stdout.strip() == "[]"


def test_only_what_reads_or_writes_documents_loads_their_models():
    # the last four keep what they find in files, by motifs as JSON
    names = sorted(set(mk.__all__) - {"begin", "load", "save", "designs", "search_motifs", "Found", "sweep", "Sweep"})
    code = f"import sys, mosaickit; [getattr(mosaickit, name) for name in {names}]; print('pydantic' in sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert loaded.stdout.strip() == "False"


def test_a_painter_and_a_workbook_are_there_before_what_only_a_button_needs_is_loaded(tmp_path):
    ours = sorted({each for these in LIBRARIES.values() for each in these} | HEAVY)
    code = f"""
import sys
def loaded():
    print(*(each for each in {ours} if each in sys.modules))
import mosaickit as mk
loaded()
design = mk.Design(mk.Motif.from_text("...\\n.#.\\n..."), mk.Gauge(16, 18), across=2)
mk.widgets.MotifPainter(design)
loaded()
book = mk.widgets.Workbook(design, autosave="dots.sketch")
book._still_picture(), book._repr_mimebundle_()
sys.path.insert(0, {str(Path(__file__).parent)!r})
from books import HandAtBook
hand = HandAtBook(book)
print(*(hand.open(panel["name"])["name"] for panel in book.head["panels"]))
hand.open("look")
assert hand.press("look", "draw")["picture"]
loaded()
"""
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path)
    widget = "IPython PIL anywidget ipywidgets pydantic pydantic_core traitlets"
    panels = "begin picture lay vary many yarn look words share"
    assert run.stdout.splitlines() == ["", widget, panels, widget]


def test_public_names_are_listed_and_there():
    assert mk.__all__ == sorted(set(mk.__all__))
    assert set(dir(mk)) == set(mk.__all__)
    for name in mk.__all__:
        assert getattr(mk, name) is not None


# ---- what makers write ------------------------------------------------------------------------------------


def public_things():
    """Every verb and class that stands at `mk.` or in a module of verbs there."""
    for name in mk.__all__:
        thing = getattr(mk, name)
        if name in VERBS:
            yield from (getattr(thing, inner) for inner in thing.__all__ if callable(getattr(thing, inner)))
        elif callable(thing):
            yield thing


def called(thing):
    """What of a verb, or of the public methods of a class, has annotations."""
    if not isinstance(thing, type):
        return [thing]
    members = [member for name, member in vars(thing).items() if name == "__init__" or not name.startswith("_")]
    inner = [
        getattr(one, "fget", None) or getattr(one, "func", None) or getattr(one, "__func__", one) for one in members
    ]
    return [thing, *(one for one in inner if inspect.isfunction(one))]


def ours(types):
    """The classes of mosaickit in types, however deep, each once."""
    found = []
    for one in types:
        if isinstance(one, type) and one.__module__.startswith("mosaickit."):
            found.append(one)
        found += ours(each for each in typing.get_args(one) if not isinstance(each, str))
    return found


def hints(one):
    # errors name for types only what floors above them make
    above = {"Report": mk.motif.Report, "Cure": import_module("mosaickit.cures").Cure, "Fault": mk.wording.Fault}
    above |= {"CentreReport": mk.centre.CentreReport}
    above |= {"Page": mk.publish.Page, "Photograph": mk.Photograph, "Fit": import_module("mosaickit.sizes").Fit}
    return typing.get_type_hints(one, localns=above)


def where(kind):
    """Where makers find a class: `mk.` or the door of its folder, or the module of verbs that has it."""
    room = kind.__module__.split(".")[1]
    doors = [mk, *([getattr(mk, room)] if room in mk.__all__ else [])]
    return [door for door in doors if kind.__name__ in door.__all__ and getattr(door, kind.__name__) is kind]


def test_what_stands_at_mk_is_a_verb_or_goes_into_one():
    taken = set()
    for thing in public_things():
        for one in called(thing):
            if not isinstance(one, type):
                taken |= set(ours(kind for name, kind in hints(one).items() if name != "return"))
    results = {name for name in mk.__all__ if isinstance(getattr(mk, name), type) and getattr(mk, name) not in taken}
    assert results == {"Layout"}  # which a maker makes, and asks


def test_errors_stand_in_errors_and_tables_in_tables_and_nowhere_at_mk():
    for module in SOURCES.keys() - {"__main__"}:
        import_module(f"mosaickit.{module}")
    kinds = [mk.errors.MosaickitError]
    for kind in kinds:  # grows while it is walked
        kinds += [error for error in kind.__subclasses__() if not error.__name__.startswith("_")]
    assert {error.__name__ for error in kinds} == set(mk.errors.__all__)
    assert all(getattr(mk.errors, error.__name__) is error for error in kinds)
    assert set(mk.errors.__all__) & set(mk.__all__) == set()
    assert {"count", "fits"} <= set(mk.tables.__all__)
    assert set(mk.tables.__all__) & set(mk.__all__) == set()


def test_whatever_a_verb_gives_back_and_its_parts_have_a_public_name():
    given = [kind for thing in public_things() for one in called(thing) for kind in ours([hints(one).get("return")])]
    todo, seen = given, set()
    for kind in todo:  # grows while it is walked
        if kind not in seen and kind.__name__ not in WORKINGS:
            seen.add(kind)
            todo += ours(hints(kind).values())
            todo += ours(hints(one).get("return") for one in called(kind) if not isinstance(one, type))
    assert len(seen) > 30
    assert sorted(f"{kind.__module__}.{kind.__name__}" for kind in seen if not where(kind)) == []


def test_every_error_that_a_verb_says_it_raises_has_a_public_name():
    said = set()
    for thing in public_things():
        raised = re.search(r"Raises\n-+\n(.*?)(\n\n\w+\n-+|\Z)", inspect.getdoc(thing) or "", re.DOTALL)
        if raised:
            said |= set(re.findall(r"\b\w+Error\b", raised[1]))
    assert len(said) > 8
    assert said - set(mk.errors.__all__) == set()


def test_type_checkers_see_the_same_names():
    assert set(offered("")) == set(mk.__all__) - {"__version__"}


def test_an_unknown_name_is_refused_with_advice():
    with pytest.raises(AttributeError, match=r"mosaickit has no 'plait'; `dir\(mosaickit\)` lists what it has"):
        mk.plait  # noqa: B018 — the look-up is the test
    with pytest.raises(
        AttributeError, match=r"mosaickit.draw has no 'plait'; `dir\(mosaickit.draw\)` lists what it has"
    ):
        mk.draw.plait  # noqa: B018 — the look-up is the test


def test_every_public_name_and_module_is_described():
    for module, source in SOURCES.items():
        assert len(ast.get_docstring(parsed(source)) or "") > 40, module
    for name in mk.__all__:
        assert name == "__version__" or getattr(mk, name).__doc__, name


def test_no_module_is_longer_than_400_lines():
    assert {own: count for own, count in LINES.items() if count > 400} == {}


def test_half_of_the_modules_have_at_most_150_lines():
    assert median(LINES.values()) <= 150
