"""The wheel: built as a release is, installed where nothing of the checkout can be seen, and used."""

import os
import re
import shutil
import site
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def wheel(slow, tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    code = f"from hatchling.build import build_wheel; print(build_wheel({str(folder)!r}))"
    built = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=600)
    if "No module named 'hatchling'" in built.stderr:
        if os.environ.get("CI"):
            pytest.fail("hatchling is missing, and CI must not leave the wheel out.")
        pytest.skip("hatchling is not installed: the wheel was not built.")
    assert built.returncode == 0, built.stderr
    return folder / built.stdout.split()[-1]


@pytest.fixture(scope="module")
def python(wheel, tmp_path_factory):
    """The Python of an environment that has the wheel, and the libraries of this one."""
    folder = tmp_path_factory.mktemp("clean") / "venv"
    venv.create(folder, with_pip=False, symlinks=os.name != "nt")
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    found = shutil.which("python", path=str(scripts))
    install = [sys.executable, "-m", "pip", "--python", found, "install", "--quiet", "--no-deps", "--no-index", wheel]
    subprocess.run([*install, "--disable-pip-version-check"], check=True, timeout=600)
    libraries = subprocess.run(
        [found, "-c", "import site; print(site.getsitepackages()[-1])"], capture_output=True, text=True, check=True
    ).stdout.strip()
    # a folder named in a .pth file is searched, but its own .pth files are not read: the checkout stays unseen
    Path(libraries, "libraries.pth").write_text("\n".join(site.getsitepackages()), "utf-8")
    return found


def run(python, *arguments, cwd):
    clean = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    return subprocess.run(
        [python, *arguments],
        cwd=cwd,
        env=clean | {"PYTHONUTF8": "1"},
        capture_output=True,
        encoding="utf-8",
        timeout=600,
    )


def test_whatever_the_package_reads_is_in_the_wheel(wheel):
    inside = set(zipfile.ZipFile(wheel).namelist())
    package = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "mosaickit").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and path.suffix != ".sketch"
    }
    notebooks = {f"mosaickit/_bundle/notebooks/{path.name}" for path in (ROOT / "notebooks").glob("*.ipynb")}
    motifs = {f"mosaickit/_bundle/gallery/motifs/{path.name}" for path in (ROOT / "gallery/motifs").glob("*.json")}
    assert package | notebooks | motifs <= inside
    rest = {name for name in inside - package if not re.match(r"mosaickit-[^/]+\.dist-info/", name)}
    assert {name.rsplit(".", 1)[-1] for name in rest} <= {"ipynb", "json", "png"}
    assert all(name.startswith("mosaickit/_bundle/") for name in rest)


def test_the_commands_of_the_wheel_work_where_there_is_no_checkout(python, tmp_path):
    where = run(python, "-c", "import mosaickit; print(mosaickit.__file__)", cwd=tmp_path)
    assert Path(where.stdout.strip()).is_relative_to(Path(python).parent.parent), where.stderr
    laid = run(python, "-m", "mosaickit", "lab", "lessons", "--no-open", cwd=tmp_path)
    assert (laid.returncode, laid.stderr) == (0, "")
    notebooks = tmp_path / "lessons" / "notebooks"
    for name in ("01-from-picture-to-chart.ipynb", "pictures/harbour-boat.png"):
        assert (notebooks / name).read_bytes() == (ROOT / "notebooks" / name).read_bytes()
    leaf = "../gallery/motifs/hazel-leaf.json"
    script = str(Path(python).with_name("mosaickit.exe" if os.name == "nt" else "mosaickit"))
    for line in (
        f"check {leaf}",
        f"chart {leaf} leaf.svg --reversible",
        f"pattern {leaf} leaf.pdf --gauge 16x18",
        f"pattern {leaf} leaf.html --gauge 16x18",
        f"widths {leaf} --gauge 16x18 --width 30cm --tolerance 20% --csv leaf.csv",
    ):
        done = run(script, *line.split(), cwd=notebooks)
        assert (done.returncode, done.stderr) == (0, ""), line
    made = {path.suffix: path.stat().st_size for path in notebooks.glob("leaf.*")}
    assert made.keys() == {".svg", ".pdf", ".html", ".csv"}
    assert all(made.values())


def test_the_widgets_of_the_wheel_find_their_pages(python, tmp_path):
    code = "import mosaickit as mk; p = mk.widgets.MotifPainter(mk.Motif.from_text('.#.')); print(len(p._esm) > 1000)"
    done = run(python, "-c", code, cwd=tmp_path)
    assert (done.stdout.strip(), done.stderr) == ("True", "")
