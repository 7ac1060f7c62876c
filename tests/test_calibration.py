"""Calibration: what swatches teach, against other ways to the same numbers and against swatches that were made up."""

import numpy as np
import pytest
import scipy.linalg
from samples import letter_f

from mosaickit import Chart, Gauge, Motif, Skein, compile_chart, lengths_of_thread, nearest_workable, yarn_usage
from mosaickit.calibration import (
    COMMON_SPREAD,
    NINETY_PERCENT,
    STITCH_SPREAD,
    UNEVENNESS,
    Swatch,
    _design,
    _noise,
    calibrate,
)
from mosaickit.errors import OptionError, SwatchError
from mosaickit.lengths import KINDS, StitchLengths

gauge = Gauge(16, 18)
plain = Chart.from_text("\n".join(["." * 24] * 26))
dense = nearest_workable(Motif(np.random.default_rng(4).random((27, 24)) < 0.5)).motif
overlaid, closed = compile_chart(dense), compile_chart(dense, reversible=True)
label = Skein(metres=210, grams=100)


def took(chart, factors, rng=None, *, parts=("MC", "CC"), kind="metres", step=0.01, heavier=1.0):
    """What a swatch takes by a hand whose stitches are so many times as long, measured."""
    swatch = Swatch(chart, gauge)
    metres, other = _design(swatch, parts)
    stitches = metres @ factors
    if rng is not None:
        stitches = stitches + rng.normal(0, UNEVENNESS * metres.sum(axis=1))
    amounts = (stitches + other) * heavier
    if kind == "grams":
        amounts = amounts / (label.metres / label.grams)
    return dict(zip(parts, (np.round(amounts / step) * step).tolist(), strict=True))


def measured(chart, factors, rng=None, **options):
    return Swatch(chart, gauge, metres=took(chart, factors, rng, **options), resolution=options.get("step", 0.01))


# ---- other ways to the same numbers ------------------------------------------------------------------------


def test_what_is_learned_is_what_the_normal_equations_say():
    factors = np.array([1.1, 1.2, 1.15, 1.05, 1.25, 1.3])
    swatches = [measured(chart, factors, np.random.default_rng(1)) for chart in (plain, overlaid, closed)]
    learned = calibrate(swatches)
    # by precisions instead of covariances, so another road to the same place
    metres, other = (np.concatenate(parts) for parts in zip(*(_design(s, ("MC", "CC")) for s in swatches), strict=True))
    amounts = np.concatenate([list(s.metres.values()) for s in swatches]) - other
    weights = 1 / _noise(metres, 0.01)
    prior = np.linalg.inv(COMMON_SPREAD**2 * np.ones((6, 6)) + STITCH_SPREAD**2 * np.eye(6))
    precision = prior + metres.T @ (weights[:, np.newaxis] * metres)
    mean = np.linalg.solve(precision, prior @ np.ones(6) + metres.T @ (weights * amounts))
    np.testing.assert_allclose(learned.factors, mean, rtol=1e-9)
    np.testing.assert_allclose(learned.covariance, np.linalg.inv(precision), rtol=1e-6)


def test_with_nothing_believed_beforehand_it_is_the_least_squares_of_scipy():
    # SciPy's lstsq, a general reference; many swatches of different mixtures, so that all six kinds are told apart
    rng = np.random.default_rng(2)
    factors = np.array([1.3, 0.9, 1.1, 1.4, 0.8, 1.2])
    charts = [plain]
    for share in (0.15, 0.3, 0.5, 0.7):
        motif = nearest_workable(Motif(rng.random((rng.integers(6, 30), rng.integers(6, 40))) < share)).motif
        charts += [compile_chart(motif), compile_chart(motif, reversible=True)]
    swatches = [measured(chart, factors, rng, step=1e-6) for chart in charts]
    learned = calibrate(swatches, common_spread=10, stitch_spread=10)
    metres, other = (np.concatenate(parts) for parts in zip(*(_design(s, ("MC", "CC")) for s in swatches), strict=True))
    amounts = np.concatenate([list(s.metres.values()) for s in swatches]) - other
    spread = np.sqrt(_noise(metres, 1e-6))
    expected, *_ = scipy.linalg.lstsq(metres / spread[:, np.newaxis], amounts / spread)
    np.testing.assert_allclose(learned.factors, expected, rtol=0.01)


def test_ninety_percent_intervals_hold_the_truth_about_nine_times_in_ten():
    rng = np.random.default_rng(3)
    prior = COMMON_SPREAD**2 * np.ones((6, 6)) + STITCH_SPREAD**2 * np.eye(6)
    piece = Swatch(compile_chart(letter_f, reversible=True), gauge)
    piece_metres, _ = _design(piece, ("all",))
    held, piece_held, rounds = np.zeros(6), 0, 600
    for _ in range(rounds):
        factors = rng.multivariate_normal(np.ones(6), prior)
        learned = calibrate([measured(plain, factors, rng), measured(closed, factors, rng)])
        ends = np.array(list(learned.intervals().values()))
        held += (ends[:, 0] <= factors) & (factors <= ends[:, 2])
        total = float((piece_metres @ factors)[0]) + rng.normal(0, UNEVENNESS * piece_metres.sum())
        middle = float((piece_metres @ learned.factors)[0])
        piece_held += abs(total - middle) <= NINETY_PERCENT * learned.spread_of(piece) * middle
    assert (held / rounds >= 0.85).all()
    assert (held / rounds <= 0.95).all()
    assert 0.85 <= piece_held / rounds <= 0.95


# ---- either prior ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("prior", ["estimate", "thread"])
def test_nothing_measured_gives_back_the_lengths_of_the_prior(prior):
    given = lengths_of_thread(gauge, 2.0) if prior == "thread" else StitchLengths.from_gauge(gauge, 2.0)
    believed = calibrate([], prior=prior).lengths(closed, gauge, yarn_mm=2.0)
    assert [getattr(believed, kind) for kind in KINDS] == pytest.approx([getattr(given, kind) for kind in KINDS])


def test_a_swatch_that_took_what_the_thread_says_leaves_the_threads_lengths():
    swatches = []
    for chart in (plain, closed):
        usage = yarn_usage(chart, gauge, lengths=lengths_of_thread(gauge))
        cc = np.array([role == "CC" for role in usage.row_colours])
        metres = {"MC": float(usage.total_m[~cc].sum()), "CC": float(usage.total_m[cc].sum())}
        swatches.append(Swatch(chart, gauge, metres=metres))
    assert calibrate(swatches, prior="thread").factors == pytest.approx(np.ones(6))
    assert np.abs(calibrate(swatches).factors - 1).max() > 0.02
    assert str(calibrate(swatches, prior="thread")).startswith("chain: 1.00 times the thread's length (0.")
    # what is asked of it later is reckoned from the thread as well
    what_if = calibrate(swatches[:1], prior="thread").after(Swatch(closed, gauge))
    assert what_if.prior == "thread"
    np.testing.assert_allclose(what_if.covariance, calibrate(swatches, prior="thread").covariance, atol=1e-12)
    learned = calibrate(swatches, prior="thread")
    counts = np.append(closed.shape[1] + 1 + 2 * closed.shape[0] - 1, np.bincount(closed.stitches.ravel(), minlength=5))
    metres = counts * [getattr(lengths_of_thread(gauge), kind) for kind in KINDS] / 100
    spread = np.sqrt(metres @ learned.covariance @ metres / (metres @ learned.factors) ** 2 + UNEVENNESS**2)
    assert learned.spread_of(Swatch(closed, gauge)) == pytest.approx(spread)


def simulated_errors(swatches, piece, rounds=30):
    """Root mean square errors of a piece's yarn, as shares: {(what the hand is drawn round, prior): error}.

    Hands from a family broader than what is believed: spreads of 20 percent for all stitches and 10 for each.
    """
    rng, errors = np.random.default_rng(8), {}
    thread, default = lengths_of_thread(gauge), StitchLengths.from_gauge(gauge)
    ratio = np.array([getattr(thread, kind) / getattr(default, kind) for kind in KINDS])
    of_piece, _ = _design(Swatch(piece, gauge), ("all",))
    for truth, centre in (("estimate", np.ones(6)), ("thread", ratio)):
        for _ in range(rounds):
            factors = centre * np.exp(rng.uniform(-0.35, 0.35) + rng.uniform(-0.17, 0.17, 6))
            took_ = [measured(chart, factors, rng) for chart in swatches]
            for prior, unit in (("estimate", np.ones(6)), ("thread", ratio)):
                # what is believed is as broad as the family in all, so that no hand contradicts it
                learned = calibrate(took_, prior=prior, common_spread=0.25).factors * unit
                off = float((of_piece @ learned)[0] / (of_piece @ factors)[0]) - 1
                errors.setdefault((truth, prior), []).append(off)
    return {key: float(np.sqrt(np.mean(np.square(off)))) for key, off in errors.items()}


def test_after_a_plain_and_a_reversible_swatch_the_prior_makes_no_difference():
    piece = compile_chart(nearest_workable(Motif(np.random.default_rng(9).random((31, 30)) < 0.15)).motif, True)
    both = simulated_errors([plain, closed], piece)
    assert max(both.values()) < 0.03
    for truth in ("estimate", "thread"):
        assert abs(both[truth, "estimate"] - both[truth, "thread"]) < 0.005
    one = simulated_errors([plain], piece)
    # each prior is the better one for hands that are drawn round it, so neither is the better one
    assert one["estimate", "estimate"] < one["estimate", "thread"]
    assert one["thread", "thread"] < one["thread", "estimate"]


# ---- what one would expect ---------------------------------------------------------------------------------


def test_nothing_measured_leaves_what_is_believed():
    learned = calibrate([])
    assert learned.factors.tolist() == [1] * 6
    assert learned.spreads == pytest.approx([np.hypot(COMMON_SPREAD, STITCH_SPREAD)] * 6)
    assert learned.grams_factor == 1


def test_a_plain_swatch_sets_the_scale_and_a_reversible_one_tells_the_stitches_apart():
    factors = np.array([1.2, 1.2, 1.2, 1.1, 1.35, 1.35])
    one = calibrate([measured(plain, factors)])
    two = calibrate([measured(plain, factors), measured(closed, factors)])
    kinds = dict(zip(KINDS, range(6), strict=True))
    # the scale moves all kinds, and leaves each as much of its own as nobody has measured
    assert (one.factors > 1.1).all()
    assert one.spreads[kinds["blsc"]] < 0.03
    assert one.spreads[kinds["fldc"]] > 2 * one.spreads[kinds["blsc"]]
    assert two.spreads[kinds["fldc"]] < one.spreads[kinds["fldc"]]
    assert two.spreads[kinds["tog_back"]] < one.spreads[kinds["tog_back"]]
    assert two.factors[kinds["tog_back"]] > two.factors[kinds["blsc"]]


def test_the_yarn_of_a_piece_follows_with_its_interval():
    factors = np.full(6, 1.1)
    learned = calibrate([measured(plain, factors), measured(closed, factors)])
    piece = compile_chart(letter_f, reversible=True)
    lengths = learned.lengths(piece, gauge)
    usage, default = yarn_usage(piece, gauge, lengths=lengths), yarn_usage(piece, gauge)
    assert usage.stitches_m.sum() == pytest.approx(1.1 * default.stitches_m.sum(), rel=0.02)
    reach = NINETY_PERCENT * learned.spread_of(Swatch(piece, gauge))
    assert (lengths.low, lengths.high) == pytest.approx((1 - reach, 1 + reach))
    assert (usage.low_m - usage.tails_m).sum() == pytest.approx((1 - reach) * (usage.total_m - usage.tails_m).sum())
    assert reach < 0.08  # closer than the defaults' 15 to 20 percent


def test_moisture_moves_the_grams_and_not_the_metres():
    factors = np.full(6, 1.05)
    lengths = measured(plain, factors)

    def weighed(heavier):
        grams = took(closed, factors, kind="grams", heavier=heavier)
        return calibrate([lengths, Swatch(closed, gauge, grams=grams, skein=label)])

    dry, damp = weighed(1.0), weighed(1.06)
    assert dry.grams_factor == pytest.approx(1, abs=0.01)
    assert damp.grams_factor < 0.985
    # of the 6 percent, most lies with the gram, as the metres that were unravelled say
    assert abs(damp.factors[2] / dry.factors[2] - 1) < 0.01
    # weighing teaches less about the stitches than unravelling
    unravelled = calibrate([lengths, measured(closed, factors)])
    assert (dry.spreads >= unravelled.spreads - 1e-12).all()


def test_colours_together_teach_no_more_than_colours_apart():
    factors = np.full(6, 0.95)
    apart = calibrate([measured(closed, factors)])
    together = calibrate([measured(closed, factors, parts=("all",))])
    assert (together.spreads >= apart.spreads - 1e-12).all()


def test_the_swatch_that_tells_most_leaves_the_smallest_spread_whatever_comes_of_it():
    learned = calibrate([measured(plain, np.full(6, 1.1))])
    piece = Swatch(closed, gauge)
    choices = {
        "plain again": Swatch(plain, gauge),
        "plain with pictures": Swatch(overlaid, gauge),
        "reversible": Swatch(closed, gauge),
    }
    spreads = learned.tells_most(choices, piece)
    assert next(iter(spreads)) == "reversible"
    assert list(spreads.values()) == sorted(spreads.values())
    assert max(spreads.values()) < learned.spread_of(piece)
    for chart in (closed, plain):
        for outcome in (0.97, 1.2):
            then = calibrate([measured(plain, np.full(6, 1.1)), measured(chart, np.full(6, outcome))])
            np.testing.assert_allclose(then.covariance, learned.after(Swatch(chart, gauge)).covariance, atol=1e-12)


def test_what_was_learned_can_be_read():
    learned = calibrate([measured(plain, np.full(6, 1.1))])
    lines = str(learned).splitlines()
    assert len(lines) == 7
    assert lines[2].startswith("blsc: 1.10 times the default (1.")
    assert repr(learned).startswith("<Calibration chain 1.")


# ---- bad input ---------------------------------------------------------------------------------------------


def test_a_swatch_that_contradicts_the_others_is_named():
    good = [measured(plain, np.full(6, 1.1)), measured(closed, np.full(6, 1.1))]
    bad = measured(plain, np.full(6, 1.6))
    with pytest.raises(SwatchError, match=r"Swatch 3 contradicts the others: its stitches took \d+(\.\d)? m of"):
        calibrate([*good, bad])
    with pytest.raises(SwatchError, match=r"Swatch 1 contradicts what any hand makes: .* were to be expected"):
        calibrate([measured(plain, np.full(6, 3.0))])


def test_less_than_its_tails_is_no_swatch():
    with pytest.raises(SwatchError, match=r"Swatch 1 took 0\.1 m of MC, but its tails and carried strands alone are"):
        calibrate([Swatch(plain, gauge, metres={"MC": 0.1, "CC": 40.0})])


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"metres": {"all": 0}}, r"`metres\['all'\]` must be a number above 0; got 0"),
        ({"metres": {"MC": -3}}, r"`metres\['MC'\]` must be a number above 0; got -3"),
        ({"metres": {"MC": float("nan")}}, r"`metres\['MC'\]` must be a number above 0; got nan"),
        ({"metres": {"red": 3}}, r"`metres` must give the amount of 'MC', 'CC' or 'all'; got {'red': 3}"),
        ({"metres": {}}, r"`metres` must give the amount of 'MC', 'CC' or 'all'; got {}"),
        ({"metres": {"MC": 3, "all": 7}}, "`metres` must give 'all' or the colours, not both"),
        ({"metres": {"all": 3}, "grams": {"all": 3}}, "Give `metres` or `grams` of a swatch, not both"),
        ({"grams": {"all": 3}}, "`grams` need the `skein`"),
        ({"metres": {"all": 3}, "resolution": 0}, "`resolution` must be a number above 0; got 0"),
        ({"tail_cm": -1}, "`tail_cm` must be a number from 0 to 1000; got -1"),
        ({"yarn_mm": 0}, "`yarn_mm` must be a number of mm above 0; got 0"),
    ],
)
def test_bad_swatches_are_refused_in_a_sentence(options, message):
    with pytest.raises(OptionError, match=message):
        Swatch(plain, gauge, **options)


def test_what_was_not_measured_teaches_nothing():
    with pytest.raises(OptionError, match="Swatch 2 was not measured: give its `metres` or its `grams`"):
        calibrate([measured(plain, np.ones(6)), Swatch(plain, gauge)])
    with pytest.raises(OptionError, match="`swatches` must be `Swatch`es; swatch 1 is 'swatch'"):
        calibrate(["swatch"])
    with pytest.raises(OptionError, match="`common_spread` must be a number from 1e-06 to 10; got 0"):
        calibrate([], common_spread=0)
    with pytest.raises(OptionError, match="`prior` must be one of 'estimate', 'thread'; got 'guess'"):
        calibrate([], prior="guess")
    with pytest.raises(OptionError, match="`gauge` must be a `Gauge`; got 16"):
        Swatch(plain, 16)
    with pytest.raises(OptionError, match="`chart` must be a `Chart`"):
        Swatch("F", gauge)
