"""What stands around repeats, as a value: its rules, each of which is checked there alone."""

import pickle
from dataclasses import fields, replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mosaickit import Surround
from mosaickit.errors import OptionError

NAMES = [each.name for each in fields(Surround)]
NUMBERS = ["balance_across", "balance_up", "rings", "edges", "rows_below", "rows_above"]
numbers = st.integers(0, 5)
flat = dict.fromkeys(NUMBERS, numbers) | {"colours": st.sampled_from(["keep", "swap"])}
flat |= {"balance_across": numbers | st.just("half"), "edges": numbers | st.none()}


@given(st.fixed_dictionaries({}, optional=flat))
def test_equal_values_are_one_value_wherever_they_come_from(given):
    one = Surround(**given)
    assert {one, Surround(**given), pickle.loads(pickle.dumps(one)), replace(one), eval(repr(one))} == {one}
    assert [getattr(one, name) for name in given] == list(given.values())


@given(st.fixed_dictionaries({}, optional={name: st.lists(one, max_size=3, min_size=1) for name, one in flat.items()}))
def test_each_gives_every_combination_in_the_order_of_the_parameters(given):
    every = [given.get(name, [getattr(Surround(), name)]) for name in NAMES]
    expected = [Surround(**dict(zip(NAMES, values, strict=True))) for values in product(*every)]
    backwards = dict(reversed(given.items()))
    assert list(Surround.each(**given)) == list(Surround.each(**backwards)) == expected


def test_each_takes_single_values_ranges_and_arrays():
    assert Surround.each() == (Surround(),)
    every = Surround.each(balance_across="half", rings=range(2), edges=np.array([1, 3]), colours="swap")
    assert [(one.balance_across, one.rings, one.edges, one.colours) for one in every] == [
        ("half", 0, 1, "swap"),
        ("half", 0, 3, "swap"),
        ("half", 1, 1, "swap"),
        ("half", 1, 3, "swap"),
    ]
    assert Surround.each(in_the_round=[True]) == (Surround(in_the_round=True),)


def test_what_is_not_said_of_edge_stitches_depends_on_how_it_is_worked():
    assert Surround().edge_stitches == 1
    assert Surround(in_the_round=True).edge_stitches == 0
    assert [one.edge_stitches for one in Surround.each(edges=[0, 3])] == [0, 3]
    assert Surround(edges=0, in_the_round=True).edge_stitches == 0


@given(st.integers(1, 9), st.integers(1, 9), st.integers(0, 9) | st.just("half"), st.integers(0, 9))
def test_less_than_a_repeat_closes_it(rows, columns, across, up):
    surround = Surround(balance_across=across, balance_up=up)
    stitches = columns // 2 if across == "half" else across
    if stitches < columns and up < rows:
        assert surround.closing((rows, columns)) == (stitches, up)
    else:
        with pytest.raises(OptionError, match=r"must be below the [1-9] (stitch(es)?|rows?) of the repeat, of which"):
            surround.closing((rows, columns))


# ---- bad input ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NUMBERS)
@pytest.mark.parametrize("wrong", [-1, 10_001, 10**30, 2.0, "all", True, [1]])
def test_a_bad_number_is_refused_in_a_sentence(name, wrong):
    besides = {"balance_across": ", or 'half'", "edges": ", or None"}.get(name, "")
    with pytest.raises(OptionError, match=rf"`{name}` must be a whole number from 0 to 10,000{besides}; got "):
        Surround(**{name: wrong})


def test_other_bad_values_are_refused_in_a_sentence():
    with pytest.raises(OptionError, match="`colours` must be one of 'keep', 'swap'; got 'stay'"):
        Surround(colours="stay")
    with pytest.raises(OptionError, match="`in_the_round` must be True or False; got 1"):
        Surround(in_the_round=1)
    with pytest.raises(OptionError, match=r"`rings` must be a whole number from 0 to 10,000; got None\."):
        Surround(rings=None)
    with pytest.raises(OptionError, match=r"`rings` must be a whole number from 0 to 10,000; got \{0\}\."):
        Surround.each(rings={0})  # a set has no order of its own
    with pytest.raises(OptionError, match="`edges` is empty: give one value, or several"):
        Surround.each(edges=[])


@pytest.mark.parametrize("given", [{"edges": 1}, {"rings": 1}, {"balance_across": 1}, {"balance_across": "half"}])
def test_in_the_round_there_are_no_edges(given):
    with pytest.raises(OptionError, match="In the round the last stitch meets the first, so there are no edges to"):
        Surround(in_the_round=True, **given)


def test_flat_and_round_together_are_made_by_themselves_as_the_sentence_says():
    with pytest.raises(OptionError, match=r"got None, 0 and 1\. Make those in the round by themselves, and add the t"):
        Surround.each(rings=[0, 1], in_the_round=[False, True])
    assert len(Surround.each(rings=[0, 1]) + Surround.each(in_the_round=True)) == 3


@pytest.mark.parametrize("most", [10**6, 10**12, 10**30])
def test_too_many_combinations_are_refused_before_any_is_made(most):
    with pytest.raises(OptionError, match=r"^These are [\d,]+ combinations; the most are 100,000, so leave some out"):
        Surround.each(rings=range(most), edges=[1, 2])


def test_numbers_from_numpy_are_numbers():
    one = Surround(rings=np.int64(2), edges=np.uint8(1), in_the_round=np.bool_(False))
    assert (type(one.rings), type(one.edges), type(one.in_the_round)) == (int, int, bool)
