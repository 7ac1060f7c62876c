import pytest
from hypothesis import given
from hypothesis import strategies as st

from mosaickit.errors import OptionError
from mosaickit.gauge import CM_PER_INCH, GRAMS_PER_OUNCE, METRES_PER_YARD, Gauge, to_cm

counts = st.floats(1, 60)
lengths = st.floats(1, 20)
gauges = st.builds(
    Gauge, counts, counts, st.one_of(lengths, st.tuples(lengths, lengths)), st.sampled_from(["cm", "in"]), st.booleans()
)


# ---- laws --------------------------------------------------------------------------------------------------


@given(gauges, st.integers(1, 500), st.integers(1, 500), st.sampled_from(["cm", "in"]))
def test_stitches_and_rows_for_the_size_of_a_piece_are_those_of_the_piece(gauge, rows, stitches, unit):
    width, height = (length / to_cm("length", 1, unit) for length in gauge.size_cm(rows, stitches))
    assert gauge.stitches_for(width, unit) == pytest.approx(stitches)
    assert gauge.rows_for(height, unit) == pytest.approx(rows)


@given(counts, counts, lengths)
def test_a_swatch_measured_in_inches_is_the_same_swatch_measured_in_cm(stitches, rows, inches):
    in_inches = Gauge(stitches, rows, inches, "in")
    in_cm = Gauge(stitches, rows, inches * 2.54, "cm")
    assert in_inches.stitch_width_cm == pytest.approx(in_cm.stitch_width_cm)
    assert in_inches.row_height_cm == pytest.approx(in_cm.row_height_cm)


@given(gauges)
def test_the_aspect_is_that_of_one_stitch_of_one_row(gauge):
    width, height = gauge.size_cm(1, 1)
    assert gauge.aspect == pytest.approx(width / height)


@given(counts, counts, lengths, st.sampled_from(["cm", "in"]))
def test_one_length_and_the_same_length_twice_are_one_gauge(stitches, rows, length, unit):
    assert Gauge(stitches, rows, length, unit) == Gauge(stitches, rows, (length, length), unit)


def test_a_pair_measures_the_stitches_over_the_width_and_the_rows_over_the_height():
    gauge = Gauge(16, 9, over=(8, 3))
    assert (gauge.stitch_width_cm, gauge.row_height_cm) == (0.5, pytest.approx(1 / 3))
    assert gauge.size_cm(rows=9, stitches=32) == (16.0, 3.0)


# ---- published values --------------------------------------------------------------------------------------


def test_inch_yard_and_ounce_are_those_of_the_agreement_of_1959():
    # international yard and pound agreement, 1 July 1959: yard 0.9144 m, pound 0.45359237 kg
    assert METRES_PER_YARD == 0.9144
    assert pytest.approx(100 * 0.9144 / 36, rel=1e-15) == CM_PER_INCH
    assert pytest.approx(453.59237 / 16, rel=1e-15) == GRAMS_PER_OUNCE


def test_36_inches_at_6_stitches_and_7_rows_to_the_inch_take_216_and_252():
    # a published worked example of "stitches = gauge × width"
    gauge = Gauge(6, 7, over=1, unit="in")
    assert gauge.stitches_for(36, "in") == pytest.approx(216)
    assert gauge.rows_for(36, "in") == pytest.approx(252)


@pytest.mark.parametrize(
    ("stitches", "rows", "inches", "wider_than_tall"),
    [(14, 16, 4, 1.14), (13, 15, 4, 1.15), (7, 8, 2, 1.14)],  # published gauges of sc, worsted yarn
)
def test_published_gauges_of_sc_make_squares_a_little_wider_than_tall(stitches, rows, inches, wider_than_tall):
    assert round(Gauge(stitches, rows, inches, "in").aspect, 2) == wider_than_tall


def test_4_inches_are_1_6_percent_more_than_the_10_cm_that_the_trade_prints_beside_them():
    in_inches, in_cm = Gauge(16, 18, 4, "in"), Gauge(16, 18, 10, "cm")
    assert in_inches.stitch_width_cm / in_cm.stitch_width_cm == pytest.approx(1.016)


# ---- words -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gauge", "sentence"),
    [
        (Gauge(16, 18, 4, "in"), "Gauge: 16 sts by 18 rows = 4 in (10 cm), blocked"),
        (Gauge(15.5, 17.25, blocked=False), "Gauge: 15.5 sts by 17.25 rows = 10 cm (4 in), unblocked"),
        (Gauge(20, 30, (5, 6), "in"), "Gauge: 20 sts by 30 rows = 5 × 6 in (12.5 × 15 cm), blocked"),
        (Gauge(9, 10, 2.5, "cm"), "Gauge: 9 sts by 10 rows = 2.5 cm (1 in), blocked"),
        (Gauge(11, 12, (3, 7), "cm"), "Gauge: 11 sts by 12 rows = 3 × 7 cm (1.18 × 2.76 in), blocked"),
    ],
)
def test_the_sentence_says_what_was_measured_and_what_the_trade_prints_beside_it(gauge, sentence):
    assert str(gauge) == gauge.sentence == sentence


@pytest.mark.parametrize("bad", [0, -1, float("nan"), float("inf"), True, "a few", None])
@pytest.mark.parametrize("name", ["stitches", "rows", "over"])
def test_a_count_or_length_that_is_no_number_above_0_is_refused_by_name(name, bad):
    with pytest.raises(OptionError, match=rf"`{name}` must be a number.* above 0; got {bad!r}\."):
        Gauge(**{"stitches": 16, "rows": 18, name: bad})


@pytest.mark.parametrize("over", [(4,), (4, 5, 6), []])
def test_over_is_one_length_or_two(over):
    with pytest.raises(OptionError, match="`over` must be one length or a pair of width and height; got"):
        Gauge(16, 18, over)


@pytest.mark.parametrize(
    ("gauge", "side"), [((16, 18, 1e-3), "wide"), ((16, 1e300), "high"), ((16, 18, (10, 1e306)), "high")]
)
def test_a_stitch_that_no_hook_makes_is_refused(gauge, side):
    with pytest.raises(OptionError, match=f"must be from 0.01 to 100 cm {side}; this one would be"):
        Gauge(*gauge)


def test_unit_and_blocked_are_what_they_should_be():
    with pytest.raises(OptionError, match="`unit` must be one of 'cm', 'in'; got 'mm'"):
        Gauge(16, 18, unit="mm")
    with pytest.raises(OptionError, match="`unit` must be one of 'cm', 'in'; got 'ft'"):
        Gauge(16, 18).stitches_for(3, "ft")
    with pytest.raises(OptionError, match="`blocked` must be True or False; got 'yes'"):
        Gauge(16, 18, blocked="yes")


@pytest.mark.parametrize("bad", [0, -3, float("nan"), True, "wide"])
def test_a_width_or_height_is_a_number_above_0(bad):
    with pytest.raises(OptionError, match="`width` must be a number of cm above 0; got"):
        Gauge(16, 18).stitches_for(bad, "cm")
    with pytest.raises(OptionError, match="`height` must be a number of in above 0; got"):
        Gauge(16, 18).rows_for(bad, "in")


@pytest.mark.parametrize("bad", [-1, 2.5, True, "two"])
def test_rows_and_stitches_of_a_size_are_whole_numbers(bad):
    with pytest.raises(OptionError, match="`rows` must be a whole number of 0 or more"):
        Gauge(16, 18).size_cm(bad, 3)
    with pytest.raises(OptionError, match="`stitches` must be a whole number of 0 or more"):
        Gauge(16, 18).size_cm(3, bad)
