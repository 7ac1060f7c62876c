"""What the README promises: its code runs, its links lead somewhere, its commands are there."""

import re
from pathlib import Path

import matplotlib as mpl
import pytest

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")


def test_the_ten_lines_of_the_readme_run(monkeypatch, capsys):
    mpl.use("Agg")
    (code,) = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    assert len([line for line in code.splitlines() if line]) <= 10
    monkeypatch.chdir(ROOT)
    exec(compile(code, "README.md", "exec"), {})
    mpl.pyplot.close("all")
    said = capsys.readouterr().out
    assert said.startswith("Cannot be worked. Findings: ")
    assert "harbour blue" not in said, "a picture file names no yarns"
    assert "15 to 20 percent" in said


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "gallery/README.md", "benchmarks/README.md"])
def test_links_lead_somewhere(page):
    path = ROOT / page
    for link in re.findall(r"\]\(([^)#]+)\)", path.read_text("utf-8")):
        assert (path.parent / link).exists(), link


def test_ci_calls_the_readmes_test_command():
    assert "`python3 start.py test`" in README
    assert "exec python3 start.py test" in (ROOT / ".ci" / "run").read_text("utf-8")
