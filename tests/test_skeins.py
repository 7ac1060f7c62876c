"""Skeins in hand: how far they reach, against counting row by row."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f
from strategies import workable_motifs

from mosaickit import Chart, Gauge, Skein, Yarn, Yarns, YarnSettings, compile_chart, yarn_usage
from mosaickit.errors import OptionError
from mosaickit.yarn import DYE_LOT, grams_per_square_metre, new_balls, reach

gauge = Gauge(16, 18)
plain = Chart.from_text("\n".join(["." * 20] * 30))
cream, ink = plain.yarns.mc[0][1], plain.yarns.cc[0][1]
usages = st.builds(
    lambda motif, reversible, way: yarn_usage(
        compile_chart(motif, reversible), gauge, yarn_settings=YarnSettings(between_rows=way)
    ),
    workable_motifs(most=8),
    st.booleans(),
    st.sampled_from(["carried", "cut"]),
)


@given(usages, st.data())
def test_the_rows_reached_are_those_of_using_it_up_row_by_row(usage, data):
    yarn = data.draw(st.sampled_from(list(dict.fromkeys(usage.yarns))))
    metres = data.draw(st.floats(0.01, 1.2 * float(usage.high_m.sum())))
    expected = []
    for amounts in (usage.high_m, usage.total_m, usage.low_m):
        left, last = metres, 0
        for row, (amount, one) in enumerate(zip(amounts.tolist(), usage.yarns, strict=True), 1):
            if one == yarn:
                left -= amount
                if left < -1e-9:
                    break
                last = row
        expected.append(last)
    found = reach(usage, yarn, metres)
    assert [found.worst, found.likely, found.best] == expected
    assert found.last == max(row for row, one in enumerate(usage.yarns, 1) if one == yarn)
    assert found.worst <= found.likely <= found.best <= found.last


@given(usages, st.floats(1, 4))
def test_every_ball_lasts_to_the_next_one_and_no_longer(usage, times):
    for yarn in dict.fromkeys(usage.yarns):
        rows = [row for row, one in enumerate(usage.yarns, 1) if one == yarn]
        skein = Skein(max(times * max(usage.total_m[row - 1] for row in rows), 0.1), 50)
        begun = new_balls(usage, yarn, skein)
        assert begun[0] == rows[0]
        for first, after in zip(begun, [*begun[1:], None], strict=True):
            worked = [row for row in rows if row >= first and (after is None or row < after)]
            used = sum(usage.total_m[row - 1] for row in worked)
            assert used <= skein.metres + 1e-9
            if after is not None:
                assert used + usage.total_m[after - 1] > skein.metres
        total = sum(usage.total_m[row - 1] for row in rows)
        assert len(begun) >= total / skein.metres - 1e-9


def test_reach_is_said_in_a_sentence():
    usage = yarn_usage(plain, gauge)
    assert str(reach(usage, cream, 500)) == "cream: 500 m is enough: it reaches row 29, the last."
    enough = float(usage.total_m[::2].sum())
    assert str(reach(usage, cream, enough)) == (
        f"cream: {enough:.4g} m may be enough: it finishes about row 29 (between 23 and 29) of 29."
    )
    assert str(reach(usage, cream, 0.01)) == "cream: 0.01 m is not enough: it finishes no row of 29."


def test_one_dye_lot_is_advised_and_no_spare_that_the_upper_end_covers():
    # "The Dye Lot Dilemma": one lot plus a spare; mixed lots: alternate every few rows
    assert "one dye lot" in DYE_LOT
    assert "alternately" in DYE_LOT
    assert "spare" not in DYE_LOT


def test_a_skein_that_is_known_need_not_be_said_again():
    skein = Skein(6, 50)
    usage = yarn_usage(plain, gauge, yarn_settings=YarnSettings(skeins=skein))
    assert new_balls(usage, ink) == new_balls(yarn_usage(plain, gauge), ink, skein)
    assert len(new_balls(usage, ink)) > 2
    with pytest.raises(OptionError, match="`skein` must say how many metres of 'ink blue' a ball has; got None"):
        new_balls(yarn_usage(plain, gauge), ink)
    with pytest.raises(OptionError, match=r"Row 1 takes .* m of 'cream' and a ball has 0\.5: yarn is joined at"):
        new_balls(usage, cream, Skein(0.5, 50))


def test_the_weight_of_a_square_metre_is_that_of_the_stitches():
    usage = yarn_usage(plain, gauge, yarn_settings=YarnSettings(skeins=Skein(200, 100)))
    metres = float(usage.worked_m.sum())
    square_metres = 20 * 0.10 / 16 * 30 * 0.10 / 18
    assert grams_per_square_metre(plain, usage, gauge) == pytest.approx(metres / 2 / square_metres)
    two = yarn_usage(
        plain, gauge, yarn_settings=YarnSettings(skeins={"cream": Skein(200, 100), "ink blue": Skein(100, 100)})
    )
    assert grams_per_square_metre(plain, two, gauge) == pytest.approx(
        (usage.worked_m[::2].sum() / 2 + usage.worked_m[1::2].sum()) / square_metres
    )
    with pytest.raises(OptionError, match="The skeins must be known for the weight"):
        grams_per_square_metre(plain, yarn_usage(plain, gauge), gauge)


def test_a_yarn_that_is_not_there_is_refused_by_name():
    usage = yarn_usage(plain, gauge)
    with pytest.raises(OptionError, match="`yarn` must be one that the piece is worked in, 'cream', 'ink blue'; got"):
        reach(usage, Yarn("moss", "#335522"), 10)
    with pytest.raises(OptionError, match="`metres` must be a number of m above 0; got -1"):
        reach(usage, cream, -1)


def test_a_yarn_that_comes_in_late_begins_late():
    foam = Yarn("foam", "#3d8f92")
    chart = compile_chart(letter_f.with_yarns(Yarns(cc=[(1, ink), (5, foam)])))
    usage = yarn_usage(chart, gauge, yarn_settings=YarnSettings(skeins=Skein(100, 50)))
    assert new_balls(usage, foam) == (6,)
    assert reach(usage, foam, 100).last == 6
    assert np.isfinite(usage.total_m).all()
