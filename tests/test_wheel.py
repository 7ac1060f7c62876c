"""The wheel: built as a release is, installed where nothing of the checkout can be seen, and used."""

import base64
import hashlib
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
    rest = {name for name in inside - package if not re.match(r"mosaickit_crochet-[^/]+\.dist-info/", name)}
    assert {name.rsplit(".", 1)[-1] for name in rest} <= {"ipynb", "json", "png"}
    assert all(name.startswith("mosaickit/_bundle/") for name in rest)


def test_the_commands_of_the_wheel_work_where_there_is_no_checkout(python, tmp_path):
    where = run(python, "-c", "import mosaickit; print(mosaickit.__file__)", cwd=tmp_path)
    assert Path(where.stdout.strip()).is_relative_to(Path(python).parent.parent), where.stderr
    laid = run(python, "-m", "mosaickit", "lab", "lessons", "--no-open", cwd=tmp_path)
    assert (laid.returncode, laid.stderr) == (0, "")
    notebooks = tmp_path / "lessons" / "notebooks"
    for name in ("01-begin.ipynb", "pictures/harbour-boat.png"):
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


# ---- beside another project whose folder is called as ours ---------------------------------------------------


@pytest.fixture(scope="module")
def other(tmp_path_factory):
    """A wheel of another project `mosaickit`, made here: the real one is no one's to install for a test."""
    files = {
        "mosaickit/__init__.py": "WHOSE = 'another'\n",
        "mosaickit/tesserae.py": "",
        "mosaickit-0.9.2.dist-info/METADATA": "Metadata-Version: 2.1\nName: mosaickit\nVersion: 0.9.2\n",
        "mosaickit-0.9.2.dist-info/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any",
    }
    record = "mosaickit-0.9.2.dist-info/RECORD"
    hashes = {
        name: base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).decode().rstrip("=")
        for name, text in files.items()
    }
    lines = [f"{name},sha256={hashes[name]},{len(text.encode())}" for name, text in files.items()]
    path = tmp_path_factory.mktemp("other") / "mosaickit-0.9.2-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in {**files, record: "\n".join([*lines, f"{record},,"]) + "\n"}.items():
            archive.writestr(name, text)
    return path


@pytest.fixture(scope="module")
def bare(tmp_path_factory):
    """The Python of an environment with pip and nothing else."""
    folder = tmp_path_factory.mktemp("bare") / "it's a venv"
    venv.create(folder, with_pip=True, symlinks=os.name != "nt")
    return shutil.which("python", path=str(folder / ("Scripts" if os.name == "nt" else "bin")))


@pytest.fixture
def shell(bare, wheel, monkeypatch, tmp_path):
    """Run a command line as it would be typed in that environment, where pip finds our wheel and nothing else."""
    for name, value in {
        "PATH": str(Path(bare).parent) + os.pathsep + os.environ["PATH"],
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": wheel.parent.as_uri(),
        "PIP_NO_DEPS": "1",
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
    }.items():
        monkeypatch.setenv(name, value)
    monkeypatch.delenv("PYTHONPATH", raising=False)

    def typed(line, **options):
        return subprocess.run(
            line, shell=True, capture_output=True, encoding="utf-8", timeout=120, cwd=tmp_path, **options
        )

    def pip(line):
        done = typed(f"python -m pip {line}")
        assert done.returncode == 0, done.stderr

    typed.pip = pip
    pip("uninstall --yes mosaickit mosaickit-crochet")
    return typed


def said_by(done):
    """The one sentence that an import stopped with."""
    assert done.returncode, done.stdout
    return done.stderr.splitlines()[-1]


# what needs no library: that environment has none
IMPORT, MODULE, COMMAND = 'python -c "import mosaickit"', 'python -c "import mosaickit.gauge"', "mosaickit --help"
OURS = 'python -c "import mosaickit.gauge; print(mosaickit.__version__)"'


@pytest.mark.parametrize("ours_is", ["the first", "the second"])
def test_beside_another_project_of_that_name_the_import_says_so_and_its_cure_works(ours_is, shell, wheel, other):
    for file in (wheel, other) if ours_is == "the first" else (other, wheel):
        shell.pip(f'install "{file}"')
    if ours_is == "the first":
        # the other's __init__ is the one that runs: only what is left of ours can speak
        assert shell('python -c "import mosaickit; print(mosaickit.WHOSE)"').stdout.strip() == "another"
        lines = (MODULE, COMMAND)
    else:
        lines = (IMPORT, MODULE, COMMAND)
    (said,) = {said_by(shell(line)) for line in lines}
    assert re.match(
        r"ImportError: Two projects were installed into .*mosaickit: mosaickit-crochet, which is this one, and "
        r"mosaickit 0\.9\.2, which is not\. ",
        said,
    )
    for command in re.findall("`([^`]+)`", said):
        done = shell(command)
        assert done.returncode == 0, done.stderr
    assert shell(OURS).stdout.strip() == "0.1.0"


def test_a_package_that_lost_its_init_to_the_other_says_so_and_its_cure_works(shell, wheel, other):
    for file in (other, wheel):
        shell.pip(f'install "{file}"')
    shell.pip("uninstall --yes mosaickit")
    said = said_by(shell(MODULE))
    assert re.match(
        r"ImportError: .*mosaickit has lost its __init__\.py, perhaps because another project of that name", said
    )
    for command in re.findall("`([^`]+)`", said):
        done = shell(command)
        assert done.returncode == 0, done.stderr
    assert shell(OURS).stdout.strip() == "0.1.0"


@pytest.mark.parametrize("ours_is", ["the first", "the second"])
def test_in_a_folder_that_pip_uninstalls_nothing_from_the_cure_works_too(ours_is, shell, wheel, other, tmp_path):
    folder = tmp_path / "it's ours"
    # pip leaves a folder that is there as it is, and says so, unless it may replace it
    if ours_is == "the first":
        shell.pip(f'install --target "{folder}" "{wheel}"')
        shell.pip(f'install --target "{folder}" "{other}"')
    else:
        shell.pip(f'install --target "{folder}" "{other}"')
        shell.pip(f'install --upgrade --target "{folder}" "{wheel}"')
    searched = {"env": os.environ | {"PYTHONPATH": str(folder)}}
    said = said_by(shell(IMPORT, **searched))
    (names,) = re.findall("Delete (.+?) from ", said)
    assert names == "mosaickit, mosaickit-0.9.2.dist-info, mosaickit_crochet-0.1.0.dist-info"
    for name in names.split(", "):
        shutil.rmtree(folder / name)
    (command,) = re.findall("`([^`]+)`", said)
    done = shell(command)
    assert done.returncode == 0, done.stderr
    assert shell(OURS, **searched).stdout.strip() == "0.1.0"
