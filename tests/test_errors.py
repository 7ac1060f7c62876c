"""The checks of arguments that every module shares: what they let through, and the sentence for the rest."""

import importlib
import inspect
import pickle
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from mosaickit import Gauge, Motif, errors, plan_widths
from mosaickit.errors import OptionError, WidthError


def test_the_tree_is_as_its_docstring_draws_it():
    drawn = [line.split() for line in errors.__doc__.splitlines() if line.startswith("    ")]
    assert {line[0] for line in drawn} == {
        name for name, kind in vars(errors).items() if isinstance(kind, type) and issubclass(kind, Exception)
    }
    assert all(issubclass(getattr(errors, line[0]), errors.MosaickitError) for line in drawn)


def test_one_of_lists_every_choice():
    errors.one_of("hand", "right", ("right", "left"))
    with pytest.raises(OptionError, match=r"`hand` must be one of 'right', 'left', 'both'; got 'up'\."):
        errors.one_of("hand", "up", ("right", "left", "both"))


@pytest.mark.parametrize("value", [3, np.int64(3), np.uint8(3)])
def test_a_whole_number_of_any_kind_is_one(value):
    assert type(errors.whole_number("up", value)) is int


@pytest.mark.parametrize("value", [True, np.True_, 2.0, "3", None, -1, np.array([]), np.ones(2, int)])
def test_what_is_no_whole_number_is_refused(value):
    with pytest.raises(OptionError, match=r"`up` must be a whole number of 0 or more; got"):
        errors.whole_number("up", value)


@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf"), 10**400, True, np.True_, "3", None, 1j])
def test_what_is_no_positive_number_is_refused(value):
    with pytest.raises(OptionError, match=r"`width` must be a number of cm above 0; got"):
        errors.positive("width", value, "cm")


@pytest.mark.parametrize("value", [3, 0.5, np.float32(0.5), np.int16(2)])
def test_a_positive_number_comes_back_as_a_float(value):
    assert errors.positive("width", value) == value
    assert type(errors.positive("width", value)) is float


@pytest.mark.parametrize("value", [-0.1, 10.1, float("nan"), "3"])
def test_what_lies_outside_its_limits_is_refused(value):
    with pytest.raises(OptionError, match=r"`ease` must be a number from 0 to 10; got"):
        errors.within("ease", value, 0, 10)


# ---- from process to process, and in a notebook ------------------------------------------------------------


def every_kind():
    package = Path(errors.__file__).parent
    kinds = []
    for path in sorted(package.rglob("*.py")):
        for name in re.findall(r"^class (\w+Error)\(", path.read_text("utf-8"), re.MULTILINE):
            module = ".".join(path.relative_to(package.parent).with_suffix("").parts)
            kinds.append(getattr(importlib.import_module(module), name))
    return kinds


@pytest.mark.parametrize("kind", every_kind(), ids=lambda kind: kind.__name__)
def test_an_error_comes_out_of_another_process_with_its_sentence_and_all_its_parts(kind):
    parts = inspect.signature(kind.__init__).parameters.values()
    needed = [
        part for part in list(parts)[1:] if part.kind is part.POSITIONAL_OR_KEYWORD and part.default is part.empty
    ]
    error = kind(*(Path(f"part {number}") for number, _ in enumerate(needed)) if needed else ["A sentence."])
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is kind
    assert (str(back), back.args, vars(back)) == (str(error), error.args, vars(error))


CELL = "import mosaickit as mk\nmotif = mk.Motif.from_text('..')\nmk.shift(motif,\n         right='far')\n"


def shown(cell, mode="Context"):
    """What IPython writes below a cell, without its colours."""
    said = subprocess.run(
        [sys.executable, "-c", SHELL, mode, cell], capture_output=True, text=True, encoding="utf-8", check=True
    )
    mode_said, *lines = re.sub(r"\x1b\[[0-9;]*m", "", said.stdout).strip().splitlines()
    assert mode in mode_said
    return lines


SHELL = """
import sys
from IPython.core.interactiveshell import InteractiveShell
shell = InteractiveShell.instance()
shell.history_manager.enabled = False
shell.run_line_magic("xmode", sys.argv[1])
shell.run_cell(sys.argv[2], store_history=True)
"""


def test_in_a_notebook_an_error_is_its_sentence_and_the_line_it_comes_from():
    assert shown(CELL) == [
        "`right` must be a whole number; got 'far'.",
        "Line 3 of the cell: mk.shift(motif,",
    ]
    assert shown("import mosaickit as mk; mk.shift(mk.Motif.from_text('..'), right='far')") == [
        "`right` must be a whole number; got 'far'."
    ]


def test_a_long_sentence_is_broken_between_words():
    cell = (
        "import mosaickit as mk\nmk.plan_widths(mk.Motif.from_text('##\\n..'), mk.Gauge(16, 18), 20.6, tolerance=0.001)"
    )
    lines = shown(cell)[:-1]
    assert len(lines) > 1
    assert all(len(line) <= 100 for line in lines)
    with pytest.raises(WidthError) as refused:
        plan_widths(Motif.from_text("##\n.."), Gauge(16, 18), 20.6, tolerance=0.001)
    assert " ".join(lines) == str(refused.value)


def test_verbose_shows_all_of_the_traceback():
    lines = shown(CELL, "Verbose")
    assert any("OptionError" in line for line in lines)
    assert any("transforms" in line for line in lines)
