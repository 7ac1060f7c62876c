"""The words of one row: they say its stitches, and none shorter do."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wording_opponents import NUMBER, all_texts, naive_length

from mosaickit.fabric import Stitch
from mosaickit.wording import Run, plain, short
from mosaickit.wording import shortening as search
from mosaickit.wording.phrases import Repeat, stitches_of
from mosaickit.wording.shortening import shortest


def stitches(row):
    return np.array([NUMBER[letter] for letter in row], dtype=np.uint8)


def starts_and_ends(parts):
    """Where the star repeats of a row start and end."""
    at, found = 0, []
    for part in parts:
        after = at + len(stitches_of((part,)))
        if isinstance(part, Repeat):
            found += [at, after]
        at = after
    return found


@pytest.mark.parametrize(("kinds", "most"), [("bf", 8), ("bft", 6), ("sbg", 5)])
def test_no_text_of_the_grammar_is_shorter(kinds, most):
    for length in range(1, most + 1):
        for row in map("".join, product(kinds, repeat=length)):
            texts = all_texts(row)
            ours = short(shortest(stitches(row)))
            assert ours in texts, row
            assert len(ours) == min(map(len, texts)), row


rows = st.one_of(
    st.text("bft", min_size=1, max_size=24),
    # blocks that repeat within blocks that repeat
    st.tuples(st.text("bf", max_size=3), st.text("bft", min_size=1, max_size=4), st.text("bf", max_size=3)).flatmap(
        lambda three: st.tuples(st.integers(1, 5), st.integers(1, 4), st.text("bf", max_size=3)).map(
            lambda more: (three[0] + three[1] * more[0] + three[2]) * more[1] + more[2] or "b"
        )
    ),
)


@given(rows)
@settings(max_examples=150, deadline=None)
def test_longer_rows_are_as_short_as_the_naive_search_finds(row):
    parts = shortest(stitches(row))
    assert [int(stitch) for stitch in stitches_of(parts)] == [NUMBER[letter] for letter in row]
    assert len(short(parts)) == naive_length(row)


some_times = st.sampled_from([1, 2, 3, 10, 11])


@pytest.mark.thorough
@given(st.text("sbftg", min_size=1, max_size=5), some_times, st.text("bf", max_size=2), some_times)
@settings(max_examples=60, deadline=None)
def test_the_search_counts_with_the_length_that_is_printed(block, times, more, again):
    parts, length = search.search(stitches((block * times + more) * again), None, 0)
    assert length == len(short(parts))


def test_a_bracket_within_a_star_is_found():
    row = "fb" * 6 + "t" + "fb" * 6 + "t"
    assert short(shortest(stitches(row))) == (
        "*[FLdc in next st, BLsc in next st] 6 times, tog-b in next st; rep from * 1 more time"
    )


def test_of_equally_short_rows_the_one_that_breaks_at_the_motif_is_taken():
    row = "bbbf" * 3 + "bbb"
    ways = {edges: shortest(stitches(row), repeat=4, edges=edges) for edges in (0, 3)}
    assert {len(short(parts)) for parts in ways.values()} == {naive_length(row)}
    assert {edges: starts_and_ends(parts) for edges, parts in ways.items()} == {0: [0, 12], 3: [3, 15]}


@pytest.mark.parametrize("count", [9, 10, 11, 99, 100, 101])
def test_counts_of_more_digits_are_measured_as_they_are_printed(count):
    runs = (Run(Stitch.BLSC, count), Run(Stitch.FLDC, 1))
    row = np.repeat([1, 2], [count, 1]).astype(np.uint8)
    assert shortest(row) == runs
    many = np.tile([1, 2], count).astype(np.uint8)
    assert short(shortest(many)) == f"*BLsc in next st, FLdc in next st; rep from * {count - 1} more times"


def test_repeats_longer_than_those_looked_for_are_written_out(monkeypatch):
    monkeypatch.setattr(search, "LONGEST_REPEAT", 2)
    assert "*" not in short(shortest(stitches("bft" * 3)))
    assert "*" in short(shortest(stitches("bf" * 3)))


def test_rows_too_long_to_be_searched_wholly_still_say_their_stitches(monkeypatch):
    monkeypatch.setattr(search, "LONGEST_EXACT", 9)
    row = stitches("bbf" * 4 + "bt")
    parts = shortest(row)
    assert stitches_of(parts) == row.tolist()
    assert short(parts).startswith("*BLsc in next 2 sts, FLdc in next st; rep from * 3 more times")


def test_plain_words_have_no_mark_that_a_screen_reader_stumbles_on():
    text = plain(shortest(stitches("fb" * 6 + "t" + "fb" * 6 + "tbb")), "UK")
    assert text == (
        "repeat the following 2 times in all: repeat the following 6 times in all: front loop treble in the next "
        "stitch, then back loop double crochet in the next stitch, end of inner repeat, then together stitch at the "
        "back in the next stitch, end of repeat. Then back loop double crochet in the last 2 stitches"
    )
    assert not set(text) & set("*[](){}")


def test_numbers_are_as_long_as_they_are_printed():
    numbers = [1, 9, 10, 99, 100, 999, 1000, 9999, 10_000]
    assert search._digits(np.array(numbers)).tolist() == [len(str(number)) for number in numbers]
