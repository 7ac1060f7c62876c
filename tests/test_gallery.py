"""The gallery is what its command makes of motifs and designs, and every motif and article in it can be worked."""

import re
import runpy
from collections import Counter
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import mosaickit as mk
from mosaickit.fabric import work_edges
from mosaickit.sizes import edge_moves

ROOT = Path(__file__).parent.parent
GALLERY = ROOT / "gallery"
MOTIFS = sorted((GALLERY / "motifs").glob("*.json"))
BUILD = runpy.run_path(str(GALLERY / "build.py"))
ARTICLES = {article.stem: article for article in BUILD["articles"]()}
IN_ROWS = {stem: article.design for stem, article in ARTICLES.items() if isinstance(article.design, mk.Design)}
CARDS = {card.stem: card for card in BUILD["cards"]()}
MADE = (".md", ".png", ".html")


def test_there_are_at_least_24_motifs_and_each_style_and_size_has_its_own():
    assert len(MOTIFS) >= 24
    assert len({card.motif.name for card in CARDS.values()}) == len(MOTIFS)
    styles = Counter(card.style for card in CARDS.values())
    assert set(styles) == set(BUILD["STYLES"])
    assert min(styles.values()) >= 3
    assert {card.size for card in CARDS.values()} == {word for word, _ in BUILD["SIZES"]}
    assert {card.difficulty for card in CARDS.values()} == {word for word, _ in BUILD["LEVELS"]}


@pytest.mark.parametrize("path", MOTIFS, ids=lambda path: path.stem)
def test_a_gallery_motif_can_be_worked_in_yarns_that_differ(path):
    motif = mk.load(path)
    report = mk.check(motif)
    assert report.ok
    assert "weak contrast" not in {finding.rule for finding in report.findings}
    assert path.stem == motif.name.replace(" ", "-")


def looks(grid):
    """Write a picture in all the ways that shifts, mirrors and swapped colours make of it, and give the least."""
    rows, columns = grid.shape
    flips = [grid, grid[::-1], grid[:, ::-1], grid[::-1, ::-1]]
    moved = [np.roll(flip, (r, c), axis=(0, 1)) for flip in flips for r in range(rows) for c in range(columns)]
    return min(min(each.tobytes(), (~each).tobytes()) for each in moved)


def test_no_motif_is_another_one_shifted_mirrored_or_in_other_colours():
    shapes = Counter(card.motif.shape for card in CARDS.values())
    alike = [card.motif.grid for card in CARDS.values() if shapes[card.motif.shape] > 1]
    assert len(alike) > 1
    assert len({looks(grid) for grid in alike}) == len(alike)


def test_looks_are_those_of_any_shift_mirror_or_swap():
    seed = CARDS["seed"].motif.grid
    assert looks(seed) == looks(~np.roll(seed, (3, 2), axis=(0, 1))[::-1])
    other = seed.copy()
    other[5, 3] = ~other[5, 3]
    assert looks(seed) != looks(other)


@pytest.mark.parametrize("stem", CARDS)
def test_a_motif_lies_beside_and_above_itself_and_can_still_be_worked(stem):
    card = CARDS[stem]
    assert mk.check(mk.repeat(card.motif, across=2, up=3, colours=card.colours)).ok


def test_difficulty_is_counted_by_hand_once():
    card = CARDS["rain"]
    rows = [[str(mk.Stitch(kind).name) for kind in row] for row in card.plain.stitches.tolist()]
    fldc = sum(row.count("FLDC") for row in rows)
    changes = max(sum(one != two for one, two in pairwise(row)) for row in rows)
    different = len({tuple(row) for row in rows})
    assert (card.different_rows, card.changes) == (different, changes)
    assert card.points == round(100 * (fldc / 36 / 0.4 + different / 30 + changes / 25) / 3)


@pytest.mark.parametrize("stem", ["seed", "alphabet-sampler", "garden-maze"])
def test_the_scarf_of_a_card_can_be_built_and_has_the_size_it_tells(stem):
    card = CARDS[stem]
    built = card.scarf.layout.build()
    assert mk.check(built).ok
    rows, stitches = built.shape
    width, length = BUILD["GAUGE"].size_cm(rows, stitches)
    assert f"{stitches} stitches" in card.scarf_words
    assert f"{rows} rows, {width:.1f} × {length:.1f} cm" in card.scarf_words


def test_the_line_in_a_card_opens_its_motif_in_the_painter(monkeypatch, tmp_path):
    (tmp_path / "gallery").symlink_to(GALLERY)
    monkeypatch.chdir(tmp_path)
    lines = re.findall(r"<code>(mk\..*?)</code>", (GALLERY / "index.html").read_text("utf-8"))
    assert len(lines) == len(MOTIFS)
    for line, path in zip(lines[:3], MOTIFS[:3], strict=True):
        assert eval(line.replace("&#34;", '"'), {"mk": mk}).motif == mk.load(path)


def test_both_pages_tell_of_every_motif():
    index, readme = ((GALLERY / name).read_text("utf-8") for name in ("index.html", "README.md"))
    assert re.findall(r'<li id="([^"]+)"', index) == list(CARDS)
    heads = re.findall(r"^## (.+)$", readme, re.MULTILINE)
    assert heads == ["Articles", "Motifs", *(card.motif.name for card in CARDS.values())]
    for card in CARDS.values():
        assert f"motifs/{card.stem}.json" in index
        assert card.difficulty_words in index
        assert card.scarf_words in index
        assert card.scarf_words in readme
        assert card.symmetry.words[0] in readme


def test_the_gallery_stays_small():
    files = [path for path in GALLERY.rglob("*") if path.suffix in (*MADE, ".json")]
    assert sum(path.stat().st_size for path in files) < 8_000_000


# ---- whole articles ----------------------------------------------------------------------------------------


def test_there_is_a_scarf_of_bands_a_cowl_a_blanket_and_a_cushion():
    scarf, cowl, blanket = (IN_ROWS[stem] for stem in ("ferry-scarf", "street-lamp-cowl", "old-roof-blanket"))
    assert len(scarf.bands.order) > 2
    assert (scarf.finish.ends, bool(scarf.said)) == ("fringe", True)
    assert cowl.surround.in_the_round
    assert cowl.finish.border_rounds and cowl.finish.crab_stitch  # noqa: PT018
    assert blanket.finish.layers == 2
    assert isinstance(ARTICLES["whirlpool-cushion"].design, mk.CentreDesign)
    names = [motif.name for design in IN_ROWS.values() for motif in (design.motif, *_motifs_of(design))]
    assert not {*names} & {card.motif.name for card in CARDS.values()}


def _motifs_of(design):
    return [band.motif for band in (design.bands.order if design.bands else ()) if isinstance(band, mk.Band)]


@pytest.mark.parametrize("stem", ARTICLES)
def test_a_design_file_saved_again_is_the_same(tmp_path, stem):
    kept = GALLERY / ARTICLES[stem].file
    assert mk.save(mk.load(kept), tmp_path / kept.name).read_bytes() == kept.read_bytes()


@pytest.mark.parametrize("stem", IN_ROWS)
def test_the_hook_works_an_article_whole_with_its_edges_and_its_rows_read_back(stem):
    design = IN_ROWS[stem]
    assert np.array_equal(design.fabric.front, design.picture.grid)
    worked = work_edges(design.chart, edge_moves(design), between_rows=design.yarn_settings.between_rows)
    assert worked.left_open == ()
    assert worked.stitches == design.edging.border_stitches
    for terms in ("US", "UK"):
        assert mk.read_rows(str(design.but(terms=terms).rows)) == design.chart


def test_the_hook_works_the_cushion_and_its_rounds_read_back():
    design = ARTICLES["whirlpool-cushion"].design
    assert np.array_equal(design.fabric.front, design.square.motif.grid)
    assert mk.centre.read(design.rounds) == design.chart
    assert design.size.lies_flat
    assert design.report.findings == ()


@pytest.mark.parametrize("stem", IN_ROWS)
def test_a_technical_editor_finds_no_error_in_an_article(stem):
    report = mk.tech_edit(IN_ROWS[stem])
    assert report.ok, report.errors


def test_both_pages_tell_of_every_article_and_their_pictures_stand_in_the_page():
    index, readme = ((GALLERY / name).read_text("utf-8") for name in ("index.html", "README.md"))
    assert re.findall(r'<article id="([^"]+)"', index) == list(ARTICLES)
    assert len(re.findall(r'<img src="data:image/jpeg;base64,', index)) == len(ARTICLES)
    for stem, article in ARTICLES.items():
        for text in (index, readme):
            assert f"patterns/{stem}.html" in text
            assert article.file in text
            assert article.design.title in text
        for what, text in article.facts:
            assert f"- {what}: {text}\n" in readme


def test_the_pattern_of_an_article_says_how_its_edges_are_finished():
    for stem, said in (
        ("ferry-scarf", "make the fringe: 39 at each side."),
        ("street-lamp-cowl", "work sc backwards into the round below"),
        ("old-roof-blanket", "Lay all tails between the two layers."),
        ("whirlpool-cushion", "Join front and back with a round of sc"),
    ):
        assert said in (GALLERY / "patterns" / f"{stem}.html").read_text("utf-8")


def test_pictures_drawn_again_are_the_same_bytes(tmp_path):
    one, two = tmp_path / "one", tmp_path / "two"
    for folder in (one, two):
        folder.mkdir()
        CARDS["seed"].draw(folder)
    pictures = list(one.glob("*.png"))
    assert len(pictures) == 3
    for path in pictures:
        assert path.read_bytes() == (two / path.name).read_bytes()


@pytest.mark.usefixtures("slow")
def test_the_gallery_is_what_its_command_makes(tmp_path):
    made = BUILD["build"](tmp_path)
    kept = {path.relative_to(GALLERY) for path in GALLERY.rglob("*") if path.suffix in MADE}
    assert {path.relative_to(tmp_path) for path in made} == kept
    for path in made:
        stored = GALLERY / path.relative_to(tmp_path)
        if path.suffix != ".png":
            # pictures that stand in a page are as the library of this computer packs them
            new, old = (re.sub(r"data:image/[^\"]+", "", file.read_text("utf-8")) for file in (path, stored))
            assert new == old, path.name
        else:
            with Image.open(path) as new, Image.open(stored) as old:
                assert new.size == old.size, path.name
                # the same library draws the same bytes; another version may smooth an edge otherwise
                difference = np.abs(np.asarray(new, dtype=float) - np.asarray(old, dtype=float))
                assert difference.mean() < 1.0, path.name
