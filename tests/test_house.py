"""The house: imports run down the floors, the package loads little, and the public names are what they say."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import mosaickit as mk

PACKAGE = Path(mk.__file__).parent

# From the ground up. A module imports only from floors below its own; a type-only import may look up.
FLOORS = [
    {"distribution"},
    {"errors"},
    {"orientation"},
    {"colours", "symbols", "gauge", "disk"},
    {"svg", "lengths", "batches", "bundle", "policy", "locks"},
    {"motif"},
    {"rules"},
    {"transforms", "repair", "documents"},
    {"symmetries", "chance", "families", "pictures"},
    {"png"},
    {"saved"},
    {"files"},
    {"stitches"},
    {"hook", "counts"},
    {"yarn", "wording", "thread"},
    {"layouts", "calibration", "skeins", "proofing", "search"},
    {"widths", "page", "guiding"},
    {"tables", "draw", "sketch", "ranking", "publish", "lessons"},
    {"sweeps", "looking"},
    {"widgets", "sharing"},
    {"cli"},
    {"__main__"},
]
FLOOR = {module: number for number, floor in enumerate(FLOORS) for module in floor}
# what a module may load from outside, beside the standard library and NumPy
LIBRARIES = {
    "png": {"PIL"},
    "batches": {"tqdm"},
    "pictures": {"PIL", "scipy"},
    "wording": {"lark"},
    "sharing": {"nbclient", "nbconvert", "nbformat", "bs4", "jinja2", "jupyter_client"},
    "publish": {"typst", "jinja2"},
    "tables": {"pandas"},
    "ranking": {"pandas"},
    "sweeps": {"pandas"},
    "draw": {"matplotlib"},
    "widgets": {"anywidget", "traitlets", "ipywidgets", "IPython", "matplotlib", "pandas", "scipy"},
}


def modules():
    return sorted(path for path in PACKAGE.rglob("*.py") if path != PACKAGE / "__init__.py")


def floor_name(path):
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(tree):
    """Every import that runs, as (node, module): those under `if TYPE_CHECKING:` are left out."""
    type_only = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if id(node) in type_only:
            continue
        if isinstance(node, ast.Import):
            yield from ((node, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module == "mosaickit":
            yield from ((node, f"mosaickit.{alias.name}") for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node, node.module


def faults(source, own):
    """What a module's imports do against the house, as sentences."""
    tree = ast.parse(source)
    inside = {id(inner) for node in ast.walk(tree) if isinstance(node, ast.FunctionDef) for inner in ast.walk(node)}
    for node, name in imports(tree):
        package, _, rest = name.partition(".")
        if id(node) in inside:
            yield f"{own} imports {name} inside a function"
        if name == "mosaickit":
            if own != "cli":  # which stands on top of all and loads only what a command asks for
                yield f"{own} imports the whole package"
        elif package == "mosaickit":
            other = rest.partition(".")[0]
            if other != own and FLOOR[other] >= FLOOR[own]:
                yield f"{own} imports {other}, which is not below it"
        elif package not in sys.stdlib_module_names | {"numpy"} | LIBRARIES.get(own, set()):
            yield f"{own} imports {name}"


def test_every_module_has_a_floor_and_imports_run_down():
    assert {floor_name(path) for path in modules()} == set(FLOOR)
    assert [fault for path in modules() for fault in faults(path.read_text("utf-8"), floor_name(path))] == []


def test_the_floor_check_sees_what_it_must():
    assert list(faults("from mosaickit.stitches import Chart", "motif")) == [
        "motif imports stitches, which is not below it"
    ]
    assert list(faults("from mosaickit import counts", "hook")) == ["hook imports counts, which is not below it"]
    assert list(faults("import pandas as pd", "yarn")) == ["yarn imports pandas"]
    assert list(faults("import mosaickit as mk", "yarn")) == ["yarn imports the whole package"]
    assert list(faults("import mosaickit as mk", "cli")) == []
    assert list(faults("def f():\n    import json", "yarn")) == ["yarn imports json inside a function"]
    assert list(faults("if TYPE_CHECKING:\n    from mosaickit.rules import Report", "errors")) == []


def test_importing_the_package_loads_nothing_heavy():
    heavy = "matplotlib", "pandas", "scipy", "PIL", "IPython", "ipywidgets", "anywidget", "jupyterlab"
    code = f"import sys, mosaickit; mosaickit.Motif; print([n for n in {heavy} if n in sys.modules])"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert loaded.stdout.strip() == "[]"


def test_public_names_are_listed_and_there():
    assert mk.__all__ == sorted(set(mk.__all__))
    assert set(dir(mk)) == set(mk.__all__)
    for name in mk.__all__:
        assert getattr(mk, name) is not None


def test_no_verb_has_the_name_of_a_module():
    # anyone who imports the module would get it in place of the verb
    assert set(mk._HOME) & {floor_name(path) for path in modules()} == set()


def test_type_checkers_see_the_same_names():
    tree = ast.parse((PACKAGE / "__init__.py").read_text("utf-8"))
    block = next(node for node in tree.body if isinstance(node, ast.If))
    seen = {alias.asname for node in block.body for alias in node.names}
    assert seen == set(mk.__all__) - {"__version__"}


def test_an_unknown_name_is_refused_with_advice():
    with pytest.raises(AttributeError, match=r"mosaickit has no 'plait'; `dir\(mosaickit\)` lists what it has"):
        mk.plait  # noqa: B018 — the look-up is the test


def test_every_public_name_and_module_is_described():
    for path in modules():
        assert len(ast.get_docstring(ast.parse(path.read_text("utf-8"))) or "") > 40, path.name
    for name in mk.__all__:
        assert name == "__version__" or getattr(mk, name).__doc__, name
