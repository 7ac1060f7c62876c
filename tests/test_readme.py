"""What the README promises: its code runs, its links lead somewhere, its commands are there."""

import re
import shutil
import tomllib
from pathlib import Path

import matplotlib as mpl
import pytest

from mosaickit.distribution import NAME, WITH_LAB

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")


FIRST, OF_DESIGNS, OF_LESSONS = re.findall(r"```python\n(.*?)```", README, re.DOTALL)


@pytest.mark.parametrize("code", [FIRST, OF_DESIGNS, OF_LESSONS])
def test_an_example_of_the_readme_has_ten_lines_at_most(code):
    assert len([line for line in code.splitlines() if line]) <= 10


def test_the_first_example_of_the_readme_runs(monkeypatch, capsys):
    mpl.use("Agg")
    monkeypatch.chdir(ROOT)
    exec(compile(FIRST, "README.md", "exec"), {})
    mpl.pyplot.close("all")
    said = capsys.readouterr().out
    assert said.startswith("Cannot be worked. Findings: ")
    assert "harbour blue" not in said, "a picture file names no yarns"
    assert "15–20% more or less" in said


def test_the_example_of_designs_does_what_its_notes_say(monkeypatch, capsys, tmp_path):
    shutil.copytree(ROOT / "gallery" / "motifs", tmp_path / "gallery" / "motifs")
    monkeypatch.chdir(tmp_path)
    made = {}
    exec(compile(OF_DESIGNS, "README.md", "exec"), made)
    said = capsys.readouterr().out
    assert said.startswith(str(made["wide"].size))
    assert "Repeats across: 3, now 5" in said
    assert made["scarf"].across == 3
    assert made["wide"].editions[0].design == made["scarf"]
    assert list(made["designs"]) == ["seed-scarf.design"]
    assert made["page"].title == "Seed scarf"


def test_the_example_of_lessons_does_what_its_notes_say(monkeypatch, capsys, tmp_path):
    monkeypatch.chdir(tmp_path)
    exec(compile(OF_LESSONS, "README.md", "exec"), {})
    said = capsys.readouterr().out
    assert "no fault." in said
    assert "look again: Are the edge stitches in it?" in said
    assert [path.name for path in tmp_path.iterdir() if path.is_file()] == ["lanterns.lesson"]


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "gallery/README.md", "benchmarks/README.md"])
def test_links_lead_somewhere(page):
    path = ROOT / page
    for link in re.findall(r"\]\(([^)#]+)\)", path.read_text("utf-8")):
        assert (path.parent / link).exists(), link


def test_ci_calls_the_readmes_test_command():
    assert "`python3 start.py test`" in README
    assert "exec python3 start.py test" in (ROOT / ".ci" / "run").read_text("utf-8")


# a command that installs, or a lookup, followed by the bare name; `mosaickit[lab]` is a requirement wherever it stands
INSTALLERS = r"(?:pip3?|pipx|uvx?|conda|mamba|poetry|pdm)\b(?![^\n]*uninstall)[^\n]*?[\s\"'`=]"
ANOTHERS = re.compile(
    rf"\b{INSTALLERS}mosaickit(?=[\s\"'`,;:)\]=<>~!]|\.?$)|mosaickit\[[a-z]|"
    r"(?:version|distribution|metadata|requires|files)\(\s*[\"']mosaickit[\"']",
    re.MULTILINE,
)


def texts():
    """Every text of the project, but this test and what is made."""
    folders = ("mosaickit", "notebooks", "gallery", "docs", "tests", "benchmarks", ".ci")
    kinds = {
        ".py",
        ".md",
        ".toml",
        ".ipynb",
        ".j2",
        ".js",
        ".html",
        ".json",
        ".sh",
        ".txt",
        ".lock",
        ".command",
        ".bat",
    }
    files = [path for folder in folders for path in (ROOT / folder).rglob("*")] + list(ROOT.iterdir())
    for path in files:
        made = (
            "__pycache__" in path.parts or "node_modules" in path.parts or path.is_relative_to(ROOT / "docs" / "site")
        )
        if (
            path.is_file()
            and not made
            and path != Path(__file__)
            and (path.suffix in kinds or path.parent.name == ".ci")
        ):
            yield path, path.read_text("utf-8")


def test_nothing_tells_a_reader_to_install_another_project_of_that_name():
    seen = 0
    for path, text in texts():
        seen += 1
        found = ANOTHERS.search(text)
        assert not found, f"{path.relative_to(ROOT)} says {found.group()!r}; pip's name is {NAME}"
    assert seen > 200


@pytest.mark.parametrize(
    "wrong",
    [
        "pip install mosaickit",
        "`pip install 'mosaickit[lab]'` adds it.",
        '%pip install -U "mosaickit"',
        "uv tool install mosaickit.",
        "pipx run mosaickit lab",
        'version("mosaickit")',
        'dependencies = ["mosaickit[lab]"]',
        "python -m pip install mosaickit==0.1.0",
    ],
)
def test_the_search_for_another_project_sees_what_it_must(wrong):
    assert ANOTHERS.search(wrong)
    assert not ANOTHERS.search(wrong.replace("mosaickit", NAME))


def test_what_pip_installs_is_called_the_same_everywhere():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["name"] == NAME
    assert f'"{NAME}[lab]"' in WITH_LAB
    assert "lab" in project["optional-dependencies"]
    assert f"`{NAME}`" in README
    for module in ("widgets", "sharing"):
        assert f"``{WITH_LAB}``" in (ROOT / "mosaickit" / module / "__init__.py").read_text("utf-8")
