"""The words of one row as a maker would break it: the rule, held against a slow reading of it."""

from itertools import groupby, product

import numpy as np
import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from wording_opponents import NUMBER

import mosaickit as mk
from mosaickit.fabric import Stitch
from mosaickit.files import gallery_motifs
from mosaickit.wording import Run, short
from mosaickit.wording.natural import Across, natural, repeats_across
from mosaickit.wording.phrases import Repeat, stitches_of
from mosaickit.wording.shortening import shortest


def stitches(row):
    return np.array([NUMBER[letter] for letter in row], dtype=np.uint8)


def whole_runs(row):
    """The runs of a row of letters, none of them split."""
    return [Run(Stitch(NUMBER[letter]), len(list(same))) for letter, same in groupby(row)]


def runs_of(parts):
    """The runs of a row as its parts work them, one after the other."""
    found = []
    for part in parts:
        found += [part] if isinstance(part, Run) else runs_of(part.parts) * part.times
    return found


def ways_in_brackets(runs):
    """All ways to set whole runs that come again in brackets, as lists of parts."""
    if not runs:
        yield []
        return
    for rest in ways_in_brackets(runs[1:]):
        yield [runs[0], *rest]
    for size in range(2, len(runs) // 2 + 1):
        times = 1
        while runs[size * times : size * (times + 1)] == runs[:size]:
            times += 1
            for rest in ways_in_brackets(runs[size * times :]):
                yield [Repeat(tuple(runs[:size]), times, star=False), *rest]


@pytest.mark.parametrize(("kinds", "most"), [("bf", 9), ("bft", 6)])
def test_runs_are_never_split_and_no_way_to_set_brackets_is_shorter(kinds, most):
    for length in range(1, most + 1):
        for row in map("".join, product(kinds, repeat=length)):
            parts = natural(stitches(row))
            assert runs_of(parts) == whole_runs(row), row
            bracketed = tuple(Repeat(p.parts, p.times, star=False) if isinstance(p, Repeat) else p for p in parts)
            assert len(short(bracketed)) == min(len(short(tuple(way))) for way in ways_in_brackets(whole_runs(row)))


@given(
    st.text("bft", max_size=4), st.text("bft", min_size=2, max_size=8), st.integers(2, 5), st.text("bft", max_size=6)
)
def test_the_star_is_the_motif_and_what_stands_at_the_edges_is_kept_apart(left, unit, times, right):
    parts = natural(stitches(left + unit * times + right), Across(len(left), len(unit), times))
    assert stitches_of(parts) == stitches(left + unit * times + right).tolist()
    if len(set(unit)) == 1:
        assert runs_of(parts) == whole_runs(left + unit * times + right)
        return
    stars = [number for number, part in enumerate(parts) if isinstance(part, Repeat) and part.star]
    assert len(stars) == 1
    (number,) = stars
    star = parts[number]
    assert stitches_of(parts[:number]) == stitches(left).tolist()
    assert stitches_of(parts[number + 1 :]) == stitches(right).tolist()
    worked = stitches_of(star.parts)
    assert len(unit) % len(worked) == 0
    assert worked * (len(unit) // len(worked)) == stitches(unit).tolist(), "a whole number of them is the motif"
    # and it is the least such part
    assert not any(worked[:p] * (len(worked) // p) == worked for p in range(1, len(worked)) if len(worked) % p == 0)
    assert runs_of(star.parts) == whole_runs("".join("sbftg"[one] for one in worked))


def test_a_row_with_one_repeat_has_the_star_for_it_and_with_several_brackets():
    assert short(natural(stitches("bb" + "fb" * 3 + "bb"))) == (
        "BLsc in next 2 sts; *FLdc in next st, BLsc in next st; rep from * 1 more time; FLdc in next st, "
        "BLsc in last 3 sts"
    )
    assert short(natural(stitches("fb" * 2 + "tt" + "fbb" * 3 + "t"))) == (
        "[FLdc in next st, BLsc in next st] 2 times, tog-b in next 2 sts, "
        "[FLdc in next st, BLsc in next 2 sts] 3 times, tog-b in last st"
    )


def test_a_row_that_one_stitch_fills_says_so():
    chart = mk.Chart([[0] * 5, [1] * 5], ["MC", "CC"])
    assert mk.write_rows(chart).lines[1].text == "BLsc in each st across"
    plain = mk.write_rows(chart, style="plain words", terms="UK")
    assert plain.lines[1].text == "back loop double crochet in each stitch across"
    assert mk.read_rows(str(plain)) == chart
    in_rounds = mk.Chart([[0] * 5, [1] * 5], ["MC", "CC"], in_the_round=True)
    assert mk.write_rows(in_rounds).lines[1].text == "BLsc in each st around"
    assert mk.write_rows(chart, phrasing="shortest").lines[1].text == "BLsc in next 5 sts"


@given(strategies.workable_motifs(), st.integers(2, 4), st.integers(0, 3), st.booleans())
@settings(max_examples=80)
def test_what_a_chart_repeats_is_found_with_its_edges(motif, across, edges, reversible):
    design = mk.Design(motif, across=across, surround=mk.Surround(edges=edges), reversible=reversible)
    chart, columns = design.chart.stitches, motif.shape[1]
    found = repeats_across(chart, design.repeat)
    if columns == 1:
        return  # no repeat to speak of
    assert found.period == columns
    assert across <= found.times <= across + 2 * edges // columns
    assert found.start + columns * found.times <= chart.shape[1]
    again = chart[:, found.start : found.start + columns * found.times]
    assert (again == np.tile(again[:, :columns], found.times)).all()
    before, after = chart[:, edges - 1 : edges], chart[:, edges + columns * across :][:, :1]
    if edges and (before != chart[:, edges + columns - 1, None]).any() and (after != chart[:, edges, None]).any():
        assert found == (edges, columns, across), "the edges do not go on as the motif does"


def test_where_no_motif_says_so_repeats_start_where_runs_do():
    chart = mk.Chart.from_text("...|..." + "|..." * 3 + "\n" + "." * 19 + "\n" + "." * 19)
    assert repeats_across(chart.stitches, None) == (3, 4, 4)
    assert repeats_across(chart.stitches, 4) == (1, 4, 4), "a motif of four with an edge stitch before it"


def test_every_other_motif_mirrored_is_repeated_by_twos():
    design = mk.Design(mk.Motif.from_text(".....\n#####\n.#...\n#####\n....."), across=4, laying="mirrored")
    assert repeats_across(design.chart.stitches, design.repeat) == (1, 10, 2)


@pytest.mark.thorough
def test_the_gallery_has_fewer_than_a_fifth_more_characters_than_the_shortest():
    natural_words = shortest_words = 0
    for motif in gallery_motifs().values():
        design = mk.Design(motif, across=4)
        rows = np.unique(design.chart.stitches, axis=0)
        found = repeats_across(design.chart.stitches, design.repeat)
        natural_words += sum(len(short(natural(row, found))) for row in rows)
        shortest_words += sum(len(short(shortest(row, repeat=design.repeat, edges=1))) for row in rows)
    assert shortest_words < natural_words < 1.2 * shortest_words
