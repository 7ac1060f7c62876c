"""Search: trying all against brute force, annealing against trying all, and the same wherever it runs."""

import math
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from functools import partial
from itertools import product
from multiprocessing import get_context
from threading import Event

import numpy as np
import opponents
import pytest
import search_work
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import letter_f, two_stacked
from search_work import counted, dislikes_overlaid, hidden, like_target, pleasing
from strategies import motifs, roles, workable_motifs

import mosaickit as mk
from mosaickit.errors import FileError, MotifError, OptionError, StoppedError, UnfinishedError
from mosaickit.ideas import READY, Found, balance, both_faces, edges_match, low_surcharge, search_motifs
from mosaickit.ideas.search import searching, spaces
from mosaickit.ideas.search.trials import MOST_FAILURES

pytestmark = pytest.mark.thorough

SYMMETRIES = [(), ("mirror",), ("up-down",), ("half-turn",), ("mirror", "half-turn")]
SIZES = [(1, 3), (2, 2), (3, 4), (4, 3), (5, 2), (6, 2), (7, 1), (8, 1)]


def searched(start, objective, *, seed=7, **options):
    """Search without a bar; what is no argument of `search_motifs` is one of `Batch`."""
    batch = {name: options.pop(name) for name in ("executor", "kept_in", "stop") if name in options}
    run = {"batch": mk.Batch(progress=False, **batch)} | options
    return search_motifs(start, objective, rng=np.random.default_rng(seed), **run)


def all_pictures(shape, first, symmetry):
    """Every picture that can be worked and has the symmetry, by trying all."""
    pairs = list(opponents.agreeing(shape, symmetry))
    for squares in product((False, True), repeat=shape[0] * shape[1]):
        grid = np.array(squares).reshape(shape)
        agrees = all((grid[a] != grid[b]) == swapped for a, b, swapped in pairs)
        if agrees and opponents.workable(grid, first):
            yield grid


def same(one, other):
    return (one.motifs, one.scores, one.tried) == (other.motifs, other.scores, other.tried)


# ---- trying all --------------------------------------------------------------------------------------------


@pytest.mark.thorough
@pytest.mark.parametrize("symmetry", SYMMETRIES, ids=str)
@pytest.mark.parametrize("shape", SIZES, ids=str)
@pytest.mark.parametrize("first", ["MC", "CC"])
def test_trying_all_gives_what_brute_force_over_all_pictures_gives(shape, symmetry, first):
    found = searched(shape, pleasing, symmetry=symmetry, first=first, most=10_000)
    expected = sorted(
        (mk.Motif(grid, first) for grid in all_pictures(shape, first, symmetry)), key=pleasing, reverse=True
    )
    assert sorted(m.to_text() for m in found) == sorted(m.to_text() for m in expected)
    assert found.scores == tuple(pleasing(motif) for motif in expected)
    assert [pleasing(motif) for motif in found] == list(found.scores)
    assert found.space == found.tried == len(expected)
    assert found.all_tried


def test_the_motifs_of_a_size_are_a_fibonacci_number_to_the_number_of_stitches():
    fibonacci = [1, 1, 2, 3, 5, 8, 13, 21, 34, 55]  # F(1) to F(10), OEIS A000045
    for rows, number in enumerate(fibonacci, 1):
        assert searched((rows, 1), "balance").space == number
        assert searched((rows, 3), "balance", most=1, runs=1, steps=1, try_all_up_to=0).space == number**3


@pytest.fixture
def small_batches(monkeypatch):
    """Make eight batches of the 13³ motifs of seven rows and three stitches."""
    monkeypatch.setattr(searching, "MOTIFS_A_BATCH", 275)


def test_batches_of_all_are_put_together(small_batches):
    found = searched((7, 3), pleasing, most=50)
    space = _columns(7)
    assert found.tried == found.space == len(space) ** 3 == 2197
    # what a column adds depends on no other, so that the best picture has the best of each
    best = [max(space, key=lambda column, x=x: alone(column, x)) for x in range(3)]
    assert np.array_equal(found.best.grid, np.stack(best, axis=1))
    assert list(found.scores) == sorted(found.scores, reverse=True)
    assert len(set(found)) == 50


def _columns(rows):
    return [grid[:, 0] for grid in all_pictures((rows, 1), "MC", ())]


def alone(column, x):
    """Score a column of three with MC in the others."""
    grid = np.zeros((7, 3), dtype=bool)
    grid[:, x] = column
    return pleasing(mk.Motif(grid))


# ---- annealing ---------------------------------------------------------------------------------------------


@pytest.mark.thorough
@pytest.mark.parametrize("symmetry", SYMMETRIES, ids=str)
@pytest.mark.parametrize("objective", [pleasing, like_target, "both faces"], ids=["pleasing", "target", "faces"])
def test_annealing_finds_the_best_of_all(symmetry, objective):
    for shape in ((6, 3), (5, 4)):
        every = searched(shape, objective, symmetry=symmetry)
        found = searched(shape, objective, symmetry=symmetry, try_all_up_to=0, runs=4, steps=600)
        assert every.all_tried
        assert not found.all_tried
        assert found.scores[0] == pytest.approx(every.scores[0], abs=1e-12)
        assert found.space == every.space


def test_annealing_finds_one_picture_among_more_than_can_be_tried():
    found = searched((9, 8), like_target, runs=3, steps=4000)
    assert found.space == 34**8
    assert found.scores[0] == 1
    assert found.best == hidden(found.best)


@given(
    st.tuples(st.integers(1, 9), st.integers(1, 7)),
    st.sampled_from(SYMMETRIES),
    roles,
    st.integers(0, 99),
    st.booleans(),
)
@settings(max_examples=60)
def test_whatever_is_found_can_be_worked_has_the_symmetry_and_comes_once(shape, symmetry, first, seed, everything):
    limit = 3000 if everything else 0
    found = searched(
        shape, "balance", symmetry=symmetry, first=first, seed=seed, runs=2, steps=30, most=20, try_all_up_to=limit
    )
    assert len(found) >= 1
    assert len(set(found)) == len(found)
    assert list(found.scores) == sorted(found.scores, reverse=True)
    for motif in found:
        assert (motif.shape, motif.first) == (shape, first)
        assert opponents.workable(motif.grid, first)
        assert all((motif.grid[a] != motif.grid[b]) == swapped for a, b, swapped in opponents.agreeing(shape, symmetry))


@given(workable_motifs(st.tuples(st.integers(3, 8), st.integers(1, 6))), st.integers(0, 99))
@settings(max_examples=40)
def test_what_is_found_from_a_motif_is_no_worse_and_keeps_its_yarns_and_name(motif, seed):
    found = searched(motif, pleasing, seed=seed, runs=1, steps=20, try_all_up_to=0)
    assert found.scores[0] >= pleasing(motif)
    assert (found.best.yarns, found.best.name, found.best.first) == (motif.yarns, motif.name, motif.first)


@given(motifs(st.tuples(st.integers(3, 8), st.integers(1, 6))), st.sampled_from(SYMMETRIES))
@settings(max_examples=40)
def test_a_motif_to_start_from_is_mended_first(motif, symmetry):
    mended = mk.nearest_workable(motif, symmetry=symmetry).motif
    found = searched(motif, pleasing, runs=1, steps=1, most=2, symmetry=symmetry, try_all_up_to=0)
    assert mended in found.motifs


def test_a_random_start_is_each_motif_equally_likely():
    space, _ = spaces.space_of((6, 2), (), None)
    rng = np.random.default_rng(11)
    counts = {}
    for _ in range(6400):
        key = space.drawn(rng).tobytes()
        counts[key] = counts.get(key, 0) + 1
    assert len(counts) == 64  # F(6)² of them; 100 of each, the standard deviation being 10
    assert all(55 < count < 145 for count in counts.values())


def test_strips_longer_than_the_machines_numbers_are_drawn_too():
    found = searched((301, 2), "balance", runs=1, steps=5, most=3)
    assert mk.check(found.best).ok
    assert 0.2 < found.best.overlaid.mean() < 0.35  # 1 / (√5 φ) = 0.276 of the squares of a long column
    rng = np.random.default_rng(2)
    large = 3 << 80
    draws = [spaces._below(large, rng) for _ in range(400)]
    assert all(0 <= draw < large for draw in draws)
    assert sum(draw < large // 2 for draw in draws) == pytest.approx(200, abs=50)


# ---- wherever it runs --------------------------------------------------------------------------------------


@pytest.mark.parametrize("options", [{"runs": 6, "steps": 60, "try_all_up_to": 0}, {}], ids=["annealed", "all"])
def test_it_finds_the_same_here_in_threads_and_in_other_processes(options, small_batches):
    objective = {"balance": 2, pleasing: 0.1, partial(balance, share=0.3): 1}
    here = searched((7, 3), objective, **options)
    assert same(here, searched((7, 3), objective, **options))
    with ThreadPoolExecutor(3) as threads:
        assert same(here, searched((7, 3), objective, executor=threads, **options))
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as processes:
        assert same(here, searched((7, 3), objective, executor=processes, **options))


def test_another_seed_finds_other_motifs():
    options = {"runs": 2, "steps": 30, "try_all_up_to": 0}
    assert not same(searched((9, 9), pleasing, seed=1, **options), searched((9, 9), pleasing, seed=2, **options))


@pytest.mark.parametrize("options", [{"runs": 6, "steps": 60, "try_all_up_to": 0}, {}], ids=["annealed", "all"])
def test_a_stopped_search_gives_the_best_so_far_and_goes_on_from_there(tmp_path, options, small_batches):
    whole = searched((7, 3), counted, **options)
    batches = 6 if options else 8
    asked = iter(range(100))
    search_work.CALLS.clear()
    stopped = searched((7, 3), counted, kept_in=tmp_path, stop=lambda: next(asked) >= 3, **options)
    assert 0 < stopped.tried < whole.tried
    assert (stopped.finished, stopped.all_tried) == (False, False)
    assert "; stopped before its end>" in repr(stopped)
    assert set(stopped.scores) <= {pleasing(mk.Motif.from_text(text)) for text in search_work.CALLS}
    assert stopped.scores[0] == max(pleasing(mk.Motif.from_text(text)) for text in search_work.CALLS)
    kept = len(list(tmp_path.iterdir()))
    assert 0 < kept < batches

    finished = searched((7, 3), counted, kept_in=tmp_path, **options)
    assert same(finished, whole)
    assert finished.finished
    assert len(search_work.CALLS) == whole.tried  # nothing was done twice
    again = searched((7, 3), counted, kept_in=tmp_path, **options)
    assert same(again, whole)
    assert len(search_work.CALLS) == whole.tried


def test_a_search_stopped_before_anything_was_found_says_so():
    event = Event()
    event.set()
    with pytest.raises(StoppedError, match=r"The run was stopped\. 0 of 16 batches"):
        searched((9, 9), "balance", stop=event)


def test_another_objective_size_or_start_does_not_go_on_with_what_was_kept(tmp_path):
    options = {"runs": 2, "steps": 5, "try_all_up_to": 0, "kept_in": tmp_path}
    searched((5, 3), partial(balance, share=0.4), **options)
    for start, objective, more in (
        ((5, 3), partial(balance, share=0.5), {}),
        ((5, 3), balance, {}),
        ((5, 3), {partial(balance, share=0.4): 1}, {}),
        ((5, 4), partial(balance, share=0.4), {}),
        (mk.Motif(np.zeros((5, 3), dtype=bool)), partial(balance, share=0.4), {}),
        ((5, 3), partial(balance, share=0.4), {"steps": 6}),
        ((5, 3), partial(balance, share=0.4), {"symmetry": "mirror"}),
        ((5, 3), partial(balance, share=0.4), {"seed": 8}),
    ):
        with pytest.raises(FileError, match="is no batch of this task"):
            searched(start, objective, **{**options, **more})


def test_a_function_that_was_rewritten_is_another_objective(tmp_path):
    def written(text):
        def objective(motif):
            return 1.0

        def other(motif):
            return 2.0

        other.__qualname__ = objective.__qualname__
        return {"first": objective, "then": other}[text]

    options = {"runs": 2, "steps": 5, "try_all_up_to": 0, "kept_in": tmp_path}
    searched((5, 3), written("first"), **options)
    assert searched((5, 3), written("first"), **options).scores[0] == 1
    for objective in (written("then"), both_faces):
        with pytest.raises(FileError, match="is no batch of this task"):
            searched((5, 3), objective, **options)


# ---- objectives --------------------------------------------------------------------------------------------


def test_balance_is_one_at_its_share_and_falls_evenly_to_none():
    stripes = {mk.Motif.from_text("#" * cc + "." * (8 - cc)): cc / 8 for cc in range(9)}
    for motif, share in stripes.items():
        assert balance(motif) == 1 - abs(share - 0.5) * 2
        assert balance(motif, share=0.25) == pytest.approx(1 - abs(share - 0.25) / 0.75)


def test_low_surcharge_is_one_up_to_the_cap_and_then_the_caps_share_of_it():
    gauge = mk.Gauge(20, 24)
    extra = mk.surcharge(letter_f, gauge)
    assert extra > 0
    assert low_surcharge(letter_f, most=extra * 1.01, gauge=gauge) == 1
    assert low_surcharge(letter_f, most=extra / 2, gauge=gauge) == pytest.approx(0.5)
    assert low_surcharge(letter_f, most=0.01) == pytest.approx(0.01 / mk.surcharge(letter_f, mk.Gauge(16, 18)))
    assert low_surcharge(mk.Motif.from_text("."), most=0.1) == 1  # nothing overlaid, nothing more


@given(workable_motifs(most=8))
@settings(max_examples=50)
def test_both_faces_are_those_that_the_hook_makes(motif):
    fabric = mk.work(mk.compile_chart(motif, True))
    long = overlaid = 0
    for row in opponents.overlaid(motif.grid, motif.first):
        runs = "".join(" #"[square] for square in row).split()
        overlaid += sum(map(len, runs))
        long += sum(len(run) for run in runs if len(run) > 4)
    shares = [1 - abs(face.mean() - 0.5) * 2 for face in (fabric.front, fabric.back)]
    short = 1 - long / overlaid if overlaid else 1
    assert both_faces(motif) == pytest.approx((sum(shares) + short) / 3)


def test_edges_match_if_the_join_is_no_busier_than_the_motif():
    calm = mk.Motif.from_text("......\n#....#\n......")  # row 2 is in CC: stitches 2 to 5 are overlaid
    assert edges_match(calm) == 1
    torn = mk.Motif.from_text("......\n######\n###...\n######\n......", first="MC")
    assert torn.overlaid.sum() == 3  # row 3, overlaid on one side only
    # across the join one row of five differs, inside one of 25 pairs
    assert edges_match(torn) == pytest.approx(1 - (1 / 5 - 1 / 25))
    assert edges_match(mk.Motif.from_text("#")) == 1


def test_weights_make_a_weighted_mean():
    found = searched((5, 3), {"balance": 3, "edges match": 1, pleasing: 2}, most=10_000)
    for motif, score in zip(found, found.scores, strict=True):
        assert score == pytest.approx((3 * balance(motif) + edges_match(motif) + 2 * pleasing(motif)) / 6)


def test_every_ready_objective_gives_from_none_to_one_and_can_be_sent_to_other_processes():
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as processes:
        for name in READY:
            found = searched((5, 2), name, most=100, executor=processes)
            assert len(found) == 25
            assert all(0 <= score <= 1 for score in found.scores)
            assert found.scores == tuple(READY[name](motif) for motif in found)


# ---- what goes wrong ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("limit", [0, 1000])
def test_an_objective_that_fails_names_the_motif_and_stops_the_search(limit):
    start = mk.Motif.from_text("..\n##\n..")
    message = (
        r"^Batch 1 of \d+ failed: OptionError: The objective failed \(ZeroDivisionError: float division by zero\) for "
        r"this motif,\n\.\.\n##\n\.\.\nwith row 1 in MC; it must give a finite number, or `on_error='skip'` leaves"
    )
    with pytest.raises(UnfinishedError, match=message):
        searched(start, lambda motif: 1 / float(motif.overlaid.sum()), try_all_up_to=limit)


@pytest.mark.parametrize("value", [math.nan, math.inf, "high", None, True + 1j])
def test_what_is_no_finite_number_is_refused(value):
    with pytest.raises(UnfinishedError, match=r"The objective gave .* for this motif,\n"):
        searched((3, 2), lambda motif: value)


@pytest.mark.parametrize("limit", [0, 100_000])
def test_motifs_that_fail_are_left_out_counted_and_shown_if_asked(limit):
    found = searched((5, 3), dislikes_overlaid, on_error="skip", most=10_000, try_all_up_to=limit, runs=3, steps=1500)
    good, raised, nan = {}, set(), set()
    for grid in all_pictures((5, 3), "MC", ()):
        motif = mk.Motif(grid)
        if motif.overlaid[:, 0].any():
            raised.add(motif.to_text())
        elif motif.overlaid[:, -1].any():
            good[motif.to_text()] = pleasing(motif)
        else:
            nan.add(motif.to_text())
    assert {motif.to_text(): score for motif, score in zip(found, found.scores, strict=True)} == good
    assert len(found.failures) == MOST_FAILURES
    for text, reason in found.failures:
        assert reason == "ZeroDivisionError: the first column" if text in raised else text in nan
    if limit:
        assert (found.failed, found.tried) == (len(raised) + len(nan), len(good))
        assert f"; {found.failed} left out, as the objective failed>" in repr(found)


def test_nothing_is_found_if_all_fails():
    found = searched((3, 2), lambda motif: math.nan, on_error="skip")
    assert (len(found), found.failed) == (0, 4)
    assert "none has a score" in repr(found)
    with pytest.raises(MotifError, match=r"found no motif, as the objective failed on all that were tried\."):
        found.best  # noqa: B018


def test_an_objective_that_cannot_be_sent_to_other_processes_is_refused_with_the_cure():
    with (
        ProcessPoolExecutor(1, mp_context=get_context("spawn")) as processes,
        pytest.raises(
            OptionError, match=r"other processes can import, so write it into a module of its own.* or use thr"
        ),
    ):
        searched((5, 3), {"balance": 1, (lambda motif: 1.0): 2}, executor=processes)
    with ThreadPoolExecutor(1) as threads:
        assert len(searched((5, 3), lambda motif: 1.0, executor=threads)) == 10


def test_it_says_what_it_found():
    assert repr(searched((5, 3), "balance")) == "<Found 10 motifs, the best scores 0.9333; all of 125>"
    few = searched((40, 40), "balance", runs=2, steps=3, most=3)
    assert repr(few).startswith("<Found 3 motifs, the best scores 0.9")
    assert repr(few).endswith(f"; {few.tried} tried of about 10^320>")
    huge = searched((200, 150), "balance", runs=1, steps=1, most=1)
    assert "of about 10^6217>" in repr(huge)
    assert isinstance(huge, Found)
    assert huge.best is huge.motifs[0]


@pytest.mark.parametrize(
    ("start", "objective", "options", "error", "message"),
    [
        (
            (5, 3),
            "beauty",
            {},
            OptionError,
            "`objective` must be one of 'balance', 'low surcharge', 'both faces', 'edg",
        ),
        (
            (5, 3),
            7,
            {},
            OptionError,
            "a function from a motif to a number, one of 'balance', .*, or several .*; got 7.",
        ),
        ((5, 3), {}, {}, OptionError, "`objective` must name something: the mapping is empty."),
        ((5, 3), {"balance": 0}, {}, OptionError, "`the weight of an objective` must be a number above 0; got 0."),
        (
            "5 by 3",
            "balance",
            {},
            OptionError,
            r"`start` must be a `Motif` or a size, \(rows, stitches\); got '5 by 3'.",
        ),
        ((5,), "balance", {}, OptionError, r"`start` must be a `Motif` or a size, .*; got \(5,\)."),
        ((5, 2.5), "balance", {}, OptionError, "`stitches` must be a whole number of 1 or more; got 2.5."),
        ((5, 20_000), "balance", {}, MotifError, "at most 10,000 rows or columns"),
        (letter_f, "balance", {"first": "CC"}, OptionError, "`first` must be left out: .* has row 1 in MC."),
        ((5, 3), "balance", {"first": "both"}, OptionError, "`first` must be one of 'MC', 'CC'; got 'both'."),
        ((5, 3), "balance", {"symmetry": "turn"}, OptionError, "must be one of 'mirror', 'up-down', 'half-turn'"),
        ((5, 3), "balance", {"steps": 0}, OptionError, "`steps` must be a whole number from 1 to 10,000,000; got 0."),
        ((5, 3), "balance", {"runs": 0}, OptionError, "`runs` must be a whole number from 1 to 100,000; got 0."),
        ((5, 3), "balance", {"most": 0}, OptionError, "`most` must be a whole number from 1 to 10,000; got 0."),
        (
            (5, 3),
            "balance",
            {"most": 10_001},
            OptionError,
            "`most` must be a whole number from 1 to 10,000; got 10001.",
        ),
        ((5, 3), "balance", {"try_all_up_to": 10**8}, OptionError, "whole number from 0 to 10,000,000; got 1000000"),
        ((5, 3), "balance", {"runs": 10**30}, OptionError, "`runs` must be a whole number from 1 to 100,000; got 1"),
        ((5, 3), "balance", {"batch": "here"}, OptionError, "`batch` must be a `Batch`; got 'here'"),
        ((5, 3), "balance", {"on_error": "ask"}, OptionError, "`on_error` must be one of 'stop', 'skip'; got 'ask'."),
        ((5, 3), "balance", {"stop": 7}, OptionError, "`stop` must be a function without arguments, or an event"),
    ],
)
def test_bad_arguments_are_refused_with_a_sentence(start, objective, options, error, message):
    with pytest.raises(error, match=message):
        searched(start, objective, **options)


def test_chance_must_be_a_generator():
    with pytest.raises(OptionError, match=r"`rng` must be a NumPy Generator, as numpy.random.default_rng\(7\); got 7."):
        search_motifs((5, 3), "balance", rng=7)


def test_the_start_is_left_as_it_is():
    grid = two_stacked.grid.copy()
    searched(two_stacked, "balance", runs=1, steps=20, try_all_up_to=0)
    assert np.array_equal(two_stacked.grid, grid)
