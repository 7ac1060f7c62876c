"""The wall of designs: what is picked is what its file holds, by mouse and by keys, and what cannot be read says so."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from test_design_folders import SCARF, folder  # noqa: F401 — a fixture

import mosaickit as mk
from mosaickit.errors import FileError, OptionError
from mosaickit.widgets import DesignWall


@pytest.fixture
def wall(folder):  # noqa: F811 — the fixture
    return DesignWall(mk.designs(folder))


def press(wall, **content):
    wall._receive(wall, {"view": "v", "seq": 1, **content}, [])


def test_it_shows_what_the_list_shows(wall):
    assert [tile["name"] for tile in wall.tiles] == list(wall.folder.names)
    by_name = {tile["name"]: tile for tile in wall.tiles}
    assert by_name["leaf-scarf.design"]["title"] == SCARF.title
    assert by_name["leaf-scarf.design"]["lines"][0] == str(SCARF.size)
    assert by_name["leaf-scarf.design"]["picture"] in wall.folder._repr_html_()
    assert by_name["broken.design"]["picture"] == ""
    assert "this is no JSON" in by_name["broken.design"]["lines"][0]
    assert wall.said == f"{wall.folder.summary}."
    assert (wall.design, wall.picked) == (None, "")


def test_it_says_where_a_picture_shows_a_part(wall, folder):  # noqa: F811 — the fixture
    for file in folder.iterdir():
        if file.is_file():
            file.unlink()
    mk.save(SCARF.but(across=2, up=2, rings=0), folder / "small.design")
    press(wall, kind="again")
    assert wall.corners == ""
    mk.save(SCARF.but(across=30), folder / "wide.design")
    press(wall, kind="again")
    assert wall.corners == "Of more than 80 rows or stitches the picture shows the corner where the work begins."
    assert wall.corners in wall.folder._repr_html_()


def test_what_is_picked_is_what_its_file_holds(wall):
    seen = []
    wall.observe(lambda change: seen.append(change.new), names="design")
    press(wall, kind="pick", name="leaf-scarf.design")
    assert (wall.design, wall.picked, seen) == (SCARF, "leaf-scarf.design", [SCARF])
    assert wall.said.startswith("Picked: Leaf <b>scarf</b> (leaf-scarf.design).")


@pytest.mark.parametrize(
    ("name", "sentence"),
    [("broken.design", "this is no JSON"), ("gone.design", "No design is called 'gone.design'"), (None, "'None'")],
)
def test_what_cannot_be_picked_says_so_and_leaves_what_was(wall, name, sentence):
    wall.pick("leaf-scarf")
    press(wall, kind="pick", name=name)
    assert sentence in wall.said
    assert (wall.design, wall.picked) == (SCARF, "leaf-scarf.design")
    with pytest.raises(FileError, match=sentence):
        wall.pick(str(name))


def test_listed_again_it_shows_what_is_new_and_what_is_gone(wall, folder):  # noqa: F811 — the fixture
    wall.pick("leaf-scarf")
    mk.save(SCARF.but(across=3), folder / "new.design")
    (folder / "broken.design").unlink()
    press(wall, kind="again")
    assert [tile["name"] for tile in wall.tiles] == list(mk.designs(folder).names)
    assert wall.picked == "leaf-scarf.design"
    wall.pick("new")
    assert wall.design.across == 3
    for file in folder.iterdir():
        if file.is_file():
            file.unlink()
    press(wall, kind="again")
    assert wall.tiles == []
    assert wall.said.startswith("0 designs in ")


def test_a_folder_that_is_gone_is_said_and_a_wrong_one_refused(wall, folder, tmp_path):  # noqa: F811 — the fixture
    folder.rename(tmp_path / "elsewhere")
    press(wall, kind="again")
    assert "could not be looked into: there is no such folder" in wall.said
    with pytest.raises(OptionError, match="`folder` must be a `DesignFolder`; got 'mine'"):
        DesignWall("mine")


# ---- in the browser ----------------------------------------------------------------------------------------

CODE = """import mosaickit as mk
from pathlib import Path
Path("wall").mkdir(exist_ok=True)
leaf = mk.Design(mk.Motif.from_text("....\\n####\\n.##.\\n####\\n....", name="leaf"), mk.Gauge(16, 18))
for across in (1, 2, 3, 4):
    mk.save(leaf.but(across=across, title=f"{across} wide"), f"wall/{across}.design")
Path("wall/broken.design").write_text("{")
wall = mk.widgets.DesignWall(mk.designs("wall"))
wall"""
MORE = 'mk.save(leaf.but(across=9, title="9 wide"), "wall/9.design"); print("saved")'


@pytest.mark.parametrize("dark", [False, True])
def test_a_design_is_picked_by_mouse_and_by_keys(open_notebook, lab, dark):
    for file in (lab.root / "wall").glob("*.design"):
        file.unlink()
    page = open_notebook("wall.ipynb", [CODE, MORE, "print('picked', wall.design.across)"], dark=dark)
    run = page.locator(".jp-Cell")
    run.first.click()
    page.keyboard.press("Shift+Enter")
    tiles = page.locator(".mk-design-wall .mk-tile")
    tiles.first.wait_for()
    assert tiles.count() == 5
    cells = run.count()
    tiles.nth(0).click()
    status = page.locator(".mk-design-wall p")
    status.filter(has_text="Picked: 1 wide (1.design)").wait_for()
    tiles.nth(0).focus()
    for key in ("ArrowRight", "ArrowRight", "x", "ArrowLeft", "Enter"):
        page.keyboard.press(key)
    status.filter(has_text="Picked: 2 wide (2.design)").wait_for()
    page.wait_for_function("document.activeElement.getAttribute('aria-selected') === 'true'")
    page.keyboard.press("End")
    page.keyboard.press(" ")
    status.filter(has_text="'broken.design': ").wait_for()
    assert tiles.nth(1).get_attribute("aria-selected") == "true"
    assert run.count() == cells
    found = Axe().run(page, context=".mk-design-wall")
    faults = [(one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found.response["violations"]]
    assert faults == []
    run.nth(1).click()
    page.keyboard.press("Shift+Enter")
    page.locator(".jp-OutputArea-output pre", has_text="saved").wait_for()
    page.get_by_role("button", name="List again").click()
    page.get_by_role("option", name="9 wide, 9.design").wait_for()
    run.nth(2).click()
    page.keyboard.press("Shift+Enter")
    page.locator(".jp-OutputArea-output pre", has_text="picked 2").wait_for()
