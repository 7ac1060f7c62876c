"""The contact sheets of the documentation: what they show is what is printed, counted by another library."""

import importlib
import io
import sys
from pathlib import Path

import pypdf
import pytest
from PIL import Image

import mosaickit as mk

pytestmark = pytest.mark.thorough

sys.path.insert(0, str(Path(__file__).parent.parent / "docs"))
sheets = importlib.import_module("contact_sheets")


def test_the_five_patterns_are_of_five_kinds_and_have_all_that_a_pattern_carries():
    scarf, cowl, blanket, coaster, words = sheets.patterns().values()
    assert scarf.across > 1
    assert scarf.up > 1
    assert cowl.surround.in_the_round
    assert blanket.reversible
    assert len(blanket.motif.yarns.names) == 3
    assert coaster.shape == (12, 12)
    assert words.motif.name
    for design in (scarf, cowl, blanket, coaster, words):
        # no camera was there
        assert [each.kind for each in mk.tech_edit(design).findings] == ["no photograph"]


def test_a_picture_shows_every_sheet_and_the_page_counts_them(tmp_path, monkeypatch):
    coaster = sheets.patterns()["A coaster of 12 × 12"]
    monkeypatch.setattr(sheets, "patterns", lambda: {"A coaster": coaster})
    sheets.write(tmp_path, run=True)
    text = (tmp_path / "forms.md").read_text("utf-8")
    counts = []
    for form in mk.publish.FORMS:
        pair = []
        for paper in mk.publish.PAPERS:
            file = mk.publish.pdf(coaster.page(), tmp_path / f"{form} {paper}.pdf", form=form, paper=paper)
            pair.append(len(pypdf.PdfReader(file).pages))
        counts.append("{} / {}".format(*pair))
        picture = Image.open(
            io.BytesIO((tmp_path / "sheets" / f"a-coaster-{'-'.join(form.split())}-a4.png").read_bytes())
        )
        columns, lines = min(pair[0], 6), -(-pair[0] // 6)
        assert picture.width == columns * (132 + 8) + 8
        side = 132 * (2**-0.5 if form == "booklet" else 2**0.5)  # A4 is 1 to √2, and lies across for a booklet
        assert picture.height == pytest.approx(lines * (side + 8) + 8, abs=2 * lines)
    assert f"| A coaster | {' | '.join(counts)} |" in text
    assert text.count("](sheets/") == len(list((tmp_path / "sheets").iterdir())) == len(mk.publish.FORMS) + 1


def test_without_being_run_the_page_says_so(tmp_path):
    sheets.write(tmp_path, run=False)
    text = (tmp_path / "forms.md").read_text("utf-8")
    assert "Shown as it is stored" in text
    assert "checked by" in text
    assert "](sheets/" not in text


@pytest.mark.thorough
def test_all_pictures_together_are_small():
    made = list(sheets.every_form())
    assert len(made) == 5 * len(mk.publish.FORMS) * len(mk.publish.PAPERS)
    assert sum(len(each.picture) for each in made) <= 1_000_000
