"""The gallery is what its command makes of the motifs, and every motif in it can be worked."""

import runpy
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import mosaickit as mk

GALLERY = Path(__file__).parent.parent / "gallery"
MOTIFS = sorted((GALLERY / "motifs").glob("*.json"))


def test_there_are_at_least_six_motifs():
    assert len(MOTIFS) >= 6


@pytest.mark.parametrize("path", MOTIFS, ids=lambda path: path.stem)
def test_a_gallery_motif_can_be_worked_in_yarns_that_differ(path):
    report = mk.check(mk.load(path))
    assert report.ok
    assert "weak contrast" not in {finding.rule for finding in report.findings}


def test_the_gallery_is_what_its_command_makes(tmp_path):
    build = runpy.run_path(str(GALLERY / "build.py"))["build"]
    made = build(tmp_path)
    kept = {path.relative_to(GALLERY) for path in GALLERY.rglob("*") if path.suffix in (".md", ".png")}
    assert {path.relative_to(tmp_path) for path in made} == kept
    for path in made:
        stored = GALLERY / path.relative_to(tmp_path)
        if path.suffix == ".md":
            assert path.read_text("utf-8") == stored.read_text("utf-8")
        else:
            with Image.open(path) as new, Image.open(stored) as old:
                assert new.size == old.size, path.name
                # the same library draws the same bytes; another version may smooth an edge otherwise
                difference = np.abs(np.asarray(new, dtype=float) - np.asarray(old, dtype=float))
                assert difference.mean() < 1.0, path.name
