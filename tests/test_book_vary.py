"""The workbook's wall: what hangs there is what the library makes, and what is taken is one step in the design."""

import numpy as np
import pytest
from books import HandAtBook, squares_in
from test_designs import GAUGE, LEAF, YARNS

import mosaickit as mk
from mosaickit.errors import MotifError, OptionError
from mosaickit.ideas import FIGURES, child_of
from mosaickit.widgets import Workbook
from mosaickit.widgets.book.vary import FIGURE_WORDS, WISHES

SCARF = mk.Design(LEAF.with_yarns(YARNS), GAUGE).but(across=3, up=4, colours="swap", rings=1, rows_above=1)


@pytest.fixture
def hand(tmp_path):
    hand = HandAtBook(Workbook(SCARF, autosave=tmp_path / "a.sketch", folder=tmp_path))
    hand.open("vary")
    return hand


def names(hand):
    return [tile["name"] for tile in hand.book.panel["tiles"]]


def test_the_wall_is_the_family_of_the_motif(hand):
    assert (hand.book.panel["hung"], hand.book.panel["tiles"]) == (False, [])
    hand.press("vary", "hang", steps=1)
    family = mk.family(SCARF.motif, most=120)
    assert names(hand) == [variant.name for variant in family]
    for tile, variant in zip(hand.book.panel["tiles"], family, strict=True):
        picture = squares_in(tile["picture"])
        assert picture.shape == variant.motif.shape
        # a square that shows another colour shows another yarn
        assert ((picture == picture[-1, -1]) == (variant.motif.grid == variant.motif.grid[-1, -1])).all() or len(
            tile["picture"]["colours"]
        ) > 2
    assert len(hand.book.panel["figures"]) == len(FIGURES) == len(FIGURE_WORDS)


def test_it_is_sorted_and_filtered_by_its_figures(hand):
    hand.press("vary", "hang", steps=2)
    every = names(hand)
    variants = {variant.name: variant.figures for variant in mk.family(SCARF.motif, steps=2, most=120)}
    for figure in FIGURES:
        hand.press("vary", "sort", by=figure)
        values = [getattr(variants[name], figure) for name in names(hand)]
        assert values == sorted(values, reverse=True)
    hand.press("vary", "sort", by=None)
    assert names(hand) == every
    hand.press("vary", "keep", figure="similarity", least=80, most=None)
    hand.press("vary", "keep", figure="longest_bare", least=None, most=4)
    kept = [name for name in every if variants[name].similarity >= 0.8 and variants[name].longest_bare <= 4]
    assert names(hand) == kept != every
    hand.press("vary", "keep", figure="similarity", least=None, most=None)
    hand.press("vary", "keep", figure="longest_bare", least=None, most=None)
    assert names(hand) == every


def test_what_is_taken_keeps_the_rest_of_the_design_and_is_undone(hand):
    hand.press("vary", "hang", steps=1)
    variant = mk.family(SCARF.motif, most=120)[3]
    hand.press("vary", "take", name=variant.name)
    assert hand.book.design == SCARF.but(motif=variant.motif.named(SCARF.motif.name))
    assert hand.book.head["undo"] == f"variant: {variant.name}"
    assert not hand.book.panel["stale"], "the wall stays, to take another one from it"
    hand.ask("undo")
    assert hand.book.design == SCARF
    hand.enter("motif_name", "fern")
    assert not hand.book.panel["stale"]
    hand.press("begin", "sheet", up=4, across=4)
    assert hand.open("vary")["stale"]


def test_three_are_pinned_at_most_and_stand_side_by_side_as_whole_pieces(hand):
    hand.press("vary", "hang", steps=1)
    chosen = names(hand)[:4]
    for name in chosen:
        hand.press("vary", "pin", name=name)
    pinned = hand.book.panel["pinned"]
    assert [each["name"] for each in pinned] == chosen[1:]
    for each in pinned:
        piece = SCARF.but(motif=mk.family(SCARF.motif, most=120).member(each["name"]).motif)
        if each["trouble"]:
            with pytest.raises(mk.errors.MosaickitError):
                piece.layout.must_work()
        else:
            assert each["lines"][0] == str(piece.size)
            assert len(each["lines"]) == 1 + len(piece.usage.by_yarn)
            assert (each["faces"][0]["rows"], each["faces"][0]["stitches"]) == piece.shape
    hand.press("vary", "pin", name=chosen[1])
    assert [each["name"] for each in hand.book.panel["pinned"]] == chosen[2:]


def test_a_child_takes_each_column_from_one_or_the_other(hand):
    hand.press("vary", "hang", steps=1)
    alike = [v for v in mk.family(SCARF.motif, most=120) if v.motif.shape == LEAF.shape and v.motif.first == "MC"][:2]
    assert "Pin two variants first" in hand.refused("vary", "breed")
    for variant in alike:
        hand.press("vary", "pin", name=variant.name)
    hand.press("vary", "breed")
    child = hand.book.panel["tiles"][-1]
    assert child["name"].startswith("child of ")
    hand.press("vary", "take", name=child["name"])
    one, other = (variant.motif.grid for variant in alike)
    taken = hand.book.design.motif.grid
    assert all((taken[:, at] == one[:, at]).all() or (taken[:, at] == other[:, at]).all() for at in range(4))


def test_children_of_workable_motifs_are_workable_and_others_are_refused():
    rng = np.random.default_rng(3)
    for _ in range(50):
        one, other = mk.random_motifs(2, 6, 7, rng=rng)
        assert mk.check(child_of(one, other, rng=rng)).ok
    with pytest.raises(OptionError, match="one size"):
        child_of(one, mk.random_motif(5, 7, rng=rng), rng=rng)


# ---- chance near the motif -------------------------------------------------------------------------------------


@pytest.mark.parametrize("symmetry", [(), "mirror", "up-down", "half-turn", ("mirror", "up-down")])
def test_motifs_near_another_can_be_worked_differ_by_a_few_squares_and_keep_its_symmetry(symmetry):
    rng = np.random.default_rng(8)
    for _ in range(20):
        start = mk.nearest_workable(mk.Motif(rng.random((7, 6)) < 0.4), symmetry=symmetry).motif
        squares = int(rng.integers(4, 9))
        for near in mk.motifs_near(start, 4, squares=squares, symmetry=symmetry, rng=rng):
            assert mk.check(near).ok
            assert 1 <= np.count_nonzero(near.grid != start.grid) <= squares
            assert near == start.with_grid(near.grid)
            axes = {"mirror": (1,), "up-down": (0,), "half-turn": (0, 1)}
            for name in [symmetry] if isinstance(symmetry, str) else symmetry:
                assert (np.flip(near.overlaid, axes[name]) == near.overlaid).all()


@pytest.mark.thorough
def test_every_motif_that_near_is_met_sooner_or_later():
    """Of a small sheet all that can be worked and differ by up to two squares, found by trying every one."""
    start = mk.Motif.from_text("...\n###\n...\n###\n...")
    wanted = set()
    for number in range(2**15):
        grid = np.array([number >> bit & 1 for bit in range(15)], dtype=bool).reshape(5, 3)
        if 1 <= np.count_nonzero(grid != start.grid) <= 2 and mk.check(start.with_grid(grid)).ok:
            wanted.add(grid.tobytes())
    met = {near.grid.tobytes() for near in mk.motifs_near(start, 200, squares=2, rng=np.random.default_rng(1))}
    assert met == wanted


def test_where_no_other_is_so_near_it_is_said():
    one = mk.Motif.from_text(".")
    with pytest.raises(MotifError, match="within 1 square of this one: allow more squares"):
        mk.motifs_near(one, squares=1, rng=np.random.default_rng(0))


def test_what_chance_draws_hangs_on_the_wall(hand):
    hand.press("vary", "near", squares=4, symmetry=[], count=3)
    assert hand.book.said == "Added to the wall: 3 motifs."
    assert len(names(hand)) == 3
    hand.press("vary", "take", name=names(hand)[0])
    assert 1 <= np.count_nonzero(hand.book.design.motif.grid != SCARF.motif.grid) <= 4
    assert "squares" in hand.refused("vary", "near", squares=0)
    assert "squares" in hand.refused("vary", "near")


# ---- a search ----------------------------------------------------------------------------------------------------


def test_a_search_goes_on_from_press_to_press_and_never_gets_worse(hand):
    weights = {"balance": 1.0, "edges match": 0.5, "likeness": 0.5}
    scores = []
    for _ in range(3):
        hand.press("vary", "search", weights=weights)
        scores.append(float(hand.book.panel["best"][0]["score"].rstrip("%")))
    assert scores == sorted(scores)
    assert set(WISHES) == set(mk.ideas.READY)
    hand.press("vary", "take", best=0)
    assert mk.check(hand.book.design.motif).ok
    assert hand.book.design.motif.shape == LEAF.shape
    assert "no longer" in hand.refused("vary", "take", best=99)
    hand.press("vary", "forget")
    assert hand.book.panel["best"] == []
    assert "move one of the sliders besides" in hand.refused("vary", "search", weights={"balance": 0})
    assert "move one of the sliders besides" in hand.refused("vary", "search", weights={"luck": 1})


def test_what_makes_no_sense_is_said(hand):
    assert "no longer on the wall" in hand.refused("vary", "take", name="gone")
    assert "no longer on the wall" in hand.refused("vary", "pin", name=None)
    assert "knows no figure" in hand.refused("vary", "sort", by="luck")
    assert "enter a number" in hand.refused("vary", "keep", figure="similarity", least="much")
    hand.press("begin", "sheet", up=200, across=200)
    assert "of up to 20,000" in hand.refused("vary", "hang", steps=1)


def test_two_workbooks_have_two_walls(hand, tmp_path):
    hand.press("vary", "hang", steps=1)
    other = HandAtBook(Workbook(SCARF, autosave=tmp_path / "b.sketch"))
    assert other.open("vary")["tiles"] == []
