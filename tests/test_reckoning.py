"""How yarn is calculated, as a value: its rules, each of which is checked there alone."""

import pickle
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mosaickit import Gauge, Skein, StitchLengths, YarnSettings
from mosaickit.errors import OptionError

ONE, OTHER = Skein(100, 50), Skein(105, 50)
lengths = StitchLengths.from_gauge(Gauge(16, 18))
fields = {
    "between_rows": st.sampled_from(["carried", "cut"]),
    "yarn_mm": st.none() | st.floats(0.1, 20),
    "skeins": st.sampled_from([None, ONE, {"cream": ONE}, {"cream": ONE, "ink blue": OTHER}]),
    "tail_cm": st.integers(0, 1000) | st.floats(0, 1000),
    "ease": st.floats(0, 10),
    "margin": st.floats(0, 10),
}


@given(st.fixed_dictionaries({}, optional=fields))
def test_equal_values_are_one_value_wherever_they_come_from(given):
    one = YarnSettings(**given)
    assert {one, YarnSettings(**given), pickle.loads(pickle.dumps(one)), replace(one)} == {one}
    assert [getattr(one, name) for name in given] == list(given.values())
    assert repr(one) == repr(YarnSettings(**given))


def test_skeins_by_name_are_the_same_in_any_order_and_stay_as_they_were():
    mine = {"sand": ONE, "ink": OTHER}
    one = YarnSettings(skeins=mine)
    assert one == YarnSettings(skeins={"ink": OTHER, "sand": ONE})
    assert hash(one) == hash(YarnSettings(skeins={"ink": OTHER, "sand": ONE}))
    assert repr(one) == repr(YarnSettings(skeins={"ink": OTHER, "sand": ONE}))
    mine["foam"] = ONE
    assert dict(one.skeins) == {"sand": ONE, "ink": OTHER}
    with pytest.raises(TypeError, match="item assignment"):
        one.skeins["foam"] = ONE
    assert one != YarnSettings(skeins={"sand": ONE})
    assert one != YarnSettings(skeins=ONE)


def test_lengths_are_ones_own_or_follow_from_the_gauge():
    assert YarnSettings(lengths=lengths).lengths_at(Gauge(30, 30)) == lengths
    assert YarnSettings().lengths_at(Gauge(16, 18)) == lengths
    thick = YarnSettings(yarn_mm=6).lengths_at(Gauge(16, 18))
    assert thick == StitchLengths.from_gauge(Gauge(16, 18), 6)
    assert thick != lengths


# ---- bad input ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "most"), [("tail_cm", 1000), ("ease", 10), ("margin", 10)])
def test_an_amount_out_of_its_limits_is_refused(name, most):
    for right in (0, most):
        assert getattr(YarnSettings(**{name: right}), name) == right
    for wrong in (-0.1, most + 0.1, float("nan"), float("inf"), 10**400, "red", None, True):
        with pytest.raises(OptionError, match=rf"`{name}` must be a number from 0 to {most}; got "):
            YarnSettings(**{name: wrong})


def test_other_bad_values_are_refused_in_a_sentence():
    with pytest.raises(OptionError, match="`between_rows` must be one of 'carried', 'cut'; got 'knotted'"):
        YarnSettings(between_rows="knotted")
    for wrong in (0, -1, "thick"):
        with pytest.raises(OptionError, match="`yarn_mm` must be a number of mm above 0; got "):
            YarnSettings(yarn_mm=wrong)
    with pytest.raises(OptionError, match=r"`lengths` must be a `StitchLengths` or None; got 5\."):
        YarnSettings(lengths=5)
    with pytest.raises(OptionError, match=r"Give `yarn_mm` or `lengths`, not both: .* got yarn_mm=4\.0\."):
        YarnSettings(yarn_mm=4, lengths=lengths)


@pytest.mark.parametrize("wrong", [5, "cream", [ONE], {1: ONE}])
def test_bad_skeins_are_refused_with_an_example_that_works(wrong):
    with pytest.raises(OptionError, match=r"`skeins` must be a `Skein`, or name a `Skein` for each yarn, as in \{'cre"):
        YarnSettings(skeins=wrong)
    assert YarnSettings(skeins={"cream": OTHER}).skeins["cream"] == OTHER
    with pytest.raises(OptionError, match=r"`skeins\['cream'\]` must be a `Skein`; got 5\."):
        YarnSettings(skeins={"cream": 5})
