"""The words of everything that is read: none of those at which readers stopped and read the sentence twice."""

import re
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
READ = [
    *(ROOT / "mosaickit").rglob("*.py"),
    *(ROOT / "mosaickit").rglob("*.js"),
    *(ROOT / "notebooks").rglob("*.ipynb"),
    *(ROOT / "docs" / "jobs").glob("*.md"),
    *(ROOT / "gallery").glob("*.j2"),
    *(ROOT / "gallery").glob("*.toml"),
    *ROOT.glob("*.md"),
    *ROOT.glob("start.*"),
]
# each with what to write; loops do hang on a hook, and squares do lie one above the other
WORDS = {
    r"hangs? on (?!the hook|it\b|the last loop)": "depends on",
    r"calculates": "calculate",
    r"anew\b": "again",
    r"whoever\b": "anyone who, or say who",
    r"nobody\b": "no one",
    r"nought\b": "zero",
    r"thus\b": "so",
    r"hence\b": "so",
    r"wholly\b": "completely",
    r"altogether\b": "in all",
    r"by turns\b": "alternately",
    r"good to about": "15 to 20 percent more or less",
    r"comes? out at\b": "is, has",
    r"comes? to lie\b": "ends up",
    r"lies? on the other (row )?colour": "is on the other colour",
    r"would tell most": "would help most",
    r"has it\?": "does it have?",
    r"dearer\b": "costs more, weighs more",
    r"plus 0\b": "a multiple of 5",
    r"brought back from\b": "restored from",
    r"not named yet": "more to find",
    r"is answered yet": "no answer yet",
    r"that else\b": "otherwise",
    r"(likely|high|low) (m|yd)\b": "yarn m, at most m, at least m",
    r"unlike front": "88% of the back differs",
    r"to 1 at least": "a contrast of 8.2 to 1",
    r"comes? within \{[^}:]*:\.\dg\} of": "within 5 percent of",
}


@cache
def read():
    """Whatever is read, with the place where it stands."""
    return {str(path.relative_to(ROOT)): path.read_text("utf-8") for path in READ}


@pytest.mark.parametrize("word", WORDS)
def test_no_word_at_which_readers_stopped_comes_back(word):
    found = [
        f"{path}: {line.strip()[:120]}"
        for path, text in read().items()
        if re.search(rf"\b{word}", text, re.IGNORECASE)  # few files hold it
        for line in text.splitlines()
        if re.search(rf"\b{word}", line, re.IGNORECASE)
    ]
    assert not found, "\n".join([f"Write: {WORDS[word]}", *found])


def test_everything_that_is_read_is_looked_through():
    assert {path.suffix for path in READ} == {".py", ".js", ".ipynb", ".j2", ".toml", ".md", ".command", ".bat"}
    assert len(READ) > 150
