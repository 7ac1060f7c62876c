"""Ranking: scores against hand sums, and lines that nothing beats against comparing all with all."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mosaickit.errors import OptionError
from mosaickit.sizes import pareto, rank

numbers = st.lists(st.tuples(*[st.integers(-4, 4)] * 3), min_size=1, max_size=30)
weights = st.fixed_dictionaries({name: st.sampled_from([-2, -0.5, 1, 3]) for name in ("a", "b", "width off percent")})


def framed(rows):
    table = pd.DataFrame(rows, columns=["a", "b", "width off percent"], dtype=float)
    table.index = pd.RangeIndex(1, len(rows) + 1, name="line")
    return table


def worth(row, weights):
    """Each criterion of a line so that less is better, in plain Python."""
    a, b, off = row
    values = {"a": a, "b": b, "width off percent": abs(off)}
    return tuple(values[name] * (1 if weight > 0 else -1) for name, weight in weights.items())


@given(numbers, weights)
def test_no_line_that_is_left_is_beaten_and_every_other_is(rows, weights):
    worths = [worth(row, weights) for row in rows]

    def beaten(one):
        return any(other != one and all(x <= y for x, y in zip(other, one, strict=True)) for other in worths)

    expected = [number for number, one in enumerate(worths, 1) if not beaten(one)]
    assert list(pareto(framed(rows), weights).index) == expected


@given(numbers, weights)
def test_a_score_is_the_mean_of_where_each_criterion_stands_between_best_and_worst(rows, weights):
    worths = [worth(row, weights) for row in rows]
    ends = [(min(column), max(column)) for column in zip(*worths, strict=True)]
    total = sum(abs(weight) for weight in weights.values())
    scores = {}
    for number, one in enumerate(worths, 1):
        places = [(x - low) / (high - low) if high > low else 0 for x, (low, high) in zip(one, ends, strict=True)]
        scores[number] = sum(abs(w) * place for w, place in zip(weights.values(), places, strict=True)) / total
    ranked = rank(framed(rows), weights)
    assert ranked["score"].to_dict() == pytest.approx(scores)
    assert list(ranked["score"]) == sorted(ranked["score"])
    # lines of one score keep their order
    pairs = list(zip(ranked["score"], ranked.index, strict=True))
    assert pairs == sorted(pairs)


@given(numbers, weights, st.sampled_from([0.5, 4.0, 1024.0]))
def test_the_unit_of_a_criterion_does_not_matter(rows, weights, factor):
    table = framed(rows)
    scaled = table.assign(a=table["a"] * factor)
    assert list(rank(scaled, weights).index) == list(rank(table, weights).index)
    assert list(pareto(scaled, weights).index) == list(pareto(table, weights).index)


def test_names_alone_weigh_alike():
    table = framed([(1, 9, -3), (2, 4, 2), (3, 1, 0)])
    assert rank(table, ["a", "b"]).equals(rank(table, {"a": 1, "b": 1}))
    assert rank(table, "a").equals(rank(table, {"a": 5}))
    assert pareto(table, "a").equals(table.iloc[:1])


def test_what_cannot_be_worked_takes_no_part():
    table = framed([(1, 1, 0), (2, 2, 1), (3, 3, 2)]).assign(**{"can be worked": [False, True, True]})
    table.loc[1, "a"] = np.nan
    assert list(rank(table, ["a"]).index) == [2, 3]
    assert list(pareto(table, ["a"]).index) == [2]
    with pytest.raises(OptionError, match="There is no line that can be worked, so there is none to choose"):
        rank(table.assign(**{"can be worked": False}), ["a"])


def test_the_table_given_is_left_alone():
    table = framed([(3, 1, 0), (1, 2, -2)])
    before = table.copy()
    rank(table, {"a": 1, "width off percent": -1})
    pareto(table, {"a": 1, "width off percent": -1})
    assert table.equals(before)


@pytest.mark.parametrize(
    ("given", "message"),
    [
        (["yarn"], r"must name columns of numbers: a, b, width off percent; got 'yarn'"),
        (["name"], r"must name columns of numbers: a, b, width off percent; got 'name'"),
        ({"a": 0}, r"must give 'a' a number other than 0; got 0"),
        ({"a": float("nan")}, r"must give 'a' a number other than 0; got nan"),
        ({"a": "much"}, r"must give 'a' a number other than 0; got 'much'"),
        ({}, r"is empty: name at least one column"),
    ],
)
def test_bad_criteria_are_refused_in_a_sentence(given, message):
    table = framed([(1, 2, 3)]).assign(name="x")
    with pytest.raises(OptionError, match=f"`weights` {message}"):
        rank(table, given)
    with pytest.raises(OptionError, match=f"`criteria` {message}"):
        pareto(table, given)


def test_a_figure_that_is_not_known_for_every_line_is_no_criterion():
    with pytest.raises(OptionError, match="'a' is not known for every line"):
        rank(framed([(1, 2, 3), (np.nan, 2, 3)]), ["a"])
