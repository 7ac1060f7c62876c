"""Written rows of several sizes: each size is read back as its own chart, whatever stands side by side."""

import re

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st

import mosaickit as mk
from mosaickit.errors import OptionError, WordingError
from mosaickit.wording.series import in_series, merged

LEAF = mk.Motif.from_text(
    """
    ########
    #..##..#
    ########
    .#....#.
    ########
    ........
    """,
    first="MC",
    name="leaf",
)


def sizes_of(design, **counts):
    return {name: design.but(across=across, up=up).chart for name, (across, up) in counts.items()}


@st.composite
def sized(draw):
    """Designs laid in 2 to 4 sizes, with frames, hands, fabrics, yarns that change, and rows of either kind."""
    motif = draw(strategies.workable_motifs(most=8))
    design = mk.Design(
        motif,
        hand=draw(strategies.hands),
        reversible=draw(st.booleans()),
        surround=mk.Surround(
            edges=draw(st.integers(0, 2)),
            rings=draw(st.integers(0, 2)),
            colours="swap",
            rows_below=draw(st.integers(0, 2)),
            rows_above=draw(st.integers(0, 2)),
        ),
    )
    counts = st.tuples(st.integers(1, 4), st.integers(1, 4))
    wanted = draw(st.lists(counts, min_size=2, max_size=4))
    names = ("S", "M 2", "L", "to 40")
    return design, {name: design.but(across=a, up=u) for name, (a, u) in zip(names, wanted, strict=False)}


ways = st.fixed_dictionaries(
    {
        "terms": st.sampled_from(["US", "UK"]),
        "style": st.sampled_from(["short", "plain words"]),
        "between_rows": st.sampled_from(["carried", "cut"]),
    }
)


@pytest.mark.thorough
@given(sized(), ways)
@settings(max_examples=500, deadline=None)
def test_every_size_is_read_back_as_its_own_chart(sizes, way):
    design, wanted = sizes
    try:
        charts = {name: one.chart for name, one in wanted.items()}
    except mk.errors.UnworkableError:
        return  # not every picture can be framed or laid
    written = mk.write_sizes(charts, repeat=design.motif.shape[1], **way)
    text = str(written)
    assert mk.read_sizes(text) == charts
    assert list(mk.read_sizes(text)) == list(wanted)
    for place, (name, chart) in enumerate(charts.items()):
        rows = [line.rows[place] for line in written.lines if not isinstance(line, str) and line.rows[place]]
        assert [row for first, last in rows for row in range(first, last + 1)] == list(range(1, chart.shape[0] + 1)), (
            name
        )
    with pytest.raises(WordingError):
        mk.read_rows(text)


ROWS = """\
Multiple of 8 sts plus 2, add 1 for the foundation chain.
Foundation: with MC, ch 11 (27, 35).
Row 1 (MC): sc in 2nd ch from hook and in each ch across. 10 (26, 34) sts.
Row 2 (CC): BLsc in each st across. 10 (26, 34) sts.
Row 3 (MC): BLsc in each st across. 10 (26, 34) sts.
Row 4 (CC): BLsc in next st; *BLsc in next st, FLdc in next st, BLsc in next 4 sts, FLdc in next st, BLsc in next st; \
rep from * 0 (2, 3) more times; BLsc in last st. 10 (26, 34) sts.
Row 5 (MC): BLsc in each st across. 10 (26, 34) sts.
Row 6 (CC): BLsc in next st; *FLdc in next st, BLsc in next 2 sts, FLdc in next st; rep from * 1 (5, 7) more times; \
BLsc in last st. 10 (26, 34) sts.
Row 0 (7, 7) (MC): BLsc in each st across. 0 (26, 34) sts.
Rows 0 (8-12, 8-12): rep rows 2-6.
Rows 0 (0, 13-24): rep rows 7-12, 0 (0, 2) more times.
"""


def test_three_sizes_in_words():
    sizes = sizes_of(mk.Design(LEAF), S=(1, 1), M=(3, 2), L=(4, 4))
    written = mk.write_sizes(sizes, repeat=8)
    text = str(written)
    assert text.endswith(f"\n\n{ROWS}")
    assert "\nSizes: S (M, L).\n" in text
    assert "After row 6 (12, 24) cut all yarn" in text
    assert "The numbers stand for the sizes S (M, L). A lone number holds for all of them; what has a 0 is not" in text
    assert written.names == ("S", "M", "L")
    assert mk.read_sizes(text) == sizes
    # typed with other capitals, spaces and spellings it is read as the same
    typed = text.replace("Sizes: S (M, L).", "sizes: S (M,L)").replace(" sts.", " stitches").replace(", 3)", ",3)")
    assert mk.read_sizes(typed) == sizes


def test_a_row_that_cannot_be_said_for_all_says_why_and_is_given_for_each():
    one = mk.Chart([[0] * 6, [1] * 6, [1, 2, 1, 2, 1, 2]], ["MC", "CC", "MC"])
    other = mk.Chart([[0] * 6, [1] * 6, [2, 1, 1, 2, 1, 1]], ["MC", "CC", "MC"])
    third = mk.Chart([[0] * 6, [1] * 6, [1, 1, 2, 1, 3, 2]], ["MC", "CC", "MC"])
    written = mk.write_sizes({"S": one, "M": other, "L": third}, repeat=5)
    assert [str(line) for line in written.lines[2:]] == [
        "Row 3 differs by size: its steps are 1 in size S, 1 in size M, 5 in size L.",
        "For size S, Row 3 (MC): *BLsc in next st, FLdc in next st; rep from * 2 more times. 6 sts.",
        "For size M, Row 3 (MC): *FLdc in next st, BLsc in next 2 sts; rep from * 1 more time. 6 sts.",
        "For size L, Row 3 (MC): BLsc in next 2 sts, FLdc in next st, BLsc in next st, tog-b in next st, FLdc in last "
        "st. 6 sts.",
    ]
    assert mk.read_sizes(str(written)) == {"S": one, "M": other, "L": third}
    twins = mk.write_sizes({"S": one, "M": other}, repeat=5)
    assert twins.lines[2] == ("Row 3 differs by size: its stitches come in another order in size M than in size S.")


def test_sizes_of_rows_that_repeat_nothing_are_given_one_by_one():
    charts = sizes_of(mk.Design(LEAF), S=(2, 1)) | {"M": mk.Design(LEAF).but(across=2, rows_above=1).chart}
    written = mk.write_sizes(charts, repeat=8)
    assert written.lines[0] == "Rows differ by size: no even number of them is repeated from each size to the next."
    assert mk.read_sizes(str(written)) == charts


@given(st.lists(st.integers(0, 400), min_size=2, max_size=5))
def test_numbers_side_by_side_are_those_of_each_size(numbers):
    said = in_series(numbers)
    assert [int(one) for one in re.findall(r"\d+", said)] in (numbers, numbers[:1])
    assert merged([f"work {n} sts" for n in numbers]) == f"work {said} sts"


def test_digits_of_names_and_colours_are_no_numbers():
    assert merged(['"clay 5", #111111', '"clay 6", #111111']) is None
    assert merged(['"a 5 (6)", #111111', '"a 5 (6)", #222222']) is None
    assert in_series([1, 2]) == "1 (2)"
    named = mk.Motif(LEAF.grid, first="MC", yarns=mk.Yarns(mc=mk.Yarn("clay 5 (6, 7)", "#123456")), name="x 1 (2)")
    charts = sizes_of(mk.Design(named), S=(1, 1), M=(2, 1))
    assert mk.read_sizes(str(mk.write_sizes(charts, repeat=8))) == charts


@pytest.mark.parametrize(
    ("charts", "sentence"),
    [
        ({}, "2 to 12 sizes, each with its name; got 0 sizes"),
        ([1, 2], r"2 to 12 sizes, each with its name; got \[1, 2\]"),
        ({"S": LEAF, "M": LEAF}, r"`charts\['S'\]` must be a `Chart`"),
        ({"S (small)": 1, "M": 2}, "without commas, colons, brackets, stars and quotes; got 'S \\(small\\)'"),
        ({"": 1, "M": 2}, "1 to 30 characters"),
        ({3: 1, "M": 2}, "name of a size"),
    ],
)
def test_what_are_no_sizes_is_refused(charts, sentence):
    with pytest.raises(OptionError, match=sentence):
        mk.write_sizes(charts)


def test_sizes_that_do_not_belong_together_are_refused():
    one = mk.Design(LEAF)
    for other, what in ((one.but(hand="left"), "hand"), (one.but(in_the_round=True, edges=0), "in the round")):
        with pytest.raises(OptionError, match=f"worked alike; size M differs in its {what}"):
            mk.write_sizes({"S": one.chart, "M": other.chart})


@pytest.mark.parametrize(
    ("was", "wrong", "sentence"),
    [
        ("Sizes: S (M, L).\n", "", "Expected one line that names the sizes, as .*; no line names"),
        ("S (M, L).\n", "S (M, M).\n", "each with its own name; found S, M, M"),
        (
            "ch 11 (27, 35)",
            "ch 11 (27)",
            "Line .*: expected a number for each of the 3 sizes; found 2 in",
        ),
        ("rep from * 0 (2, 3)", "rep from * 0 (2, 4)", "In size L: .*Line .*row 4"),
        ("rep from * 0 (2, 3)", "rep from * 2", "In size S: .*row 4"),
    ],
)
def test_what_is_wrong_in_a_text_names_the_size_and_the_line(was, wrong, sentence):
    text = str(mk.write_sizes(sizes_of(mk.Design(LEAF), S=(1, 1), M=(3, 2), L=(4, 4)), repeat=8))
    assert was in text
    with pytest.raises(WordingError, match=f"(?s){sentence}"):
        mk.read_sizes(text.replace(was, wrong, 1))


def test_a_fault_is_told_where_it_stands_in_the_whole_text():
    text = str(mk.write_sizes(sizes_of(mk.Design(LEAF), S=(1, 1), M=(3, 2), L=(4, 4)), repeat=8))
    lines = text.split("\n")
    number = next(n for n, line in enumerate(lines, 1) if line.startswith("Row 0 (7, 7)"))
    wrong = lines[number - 1].replace("each st across", "each moon across")
    broken = "\n".join([*lines[: number - 1], wrong, *lines[number:]])
    with pytest.raises(WordingError, match="In size M: The text has 2 faults") as error:
        mk.read_sizes(broken)
    assert [(fault.line, fault.column) for fault in error.value.faults] == [
        (number, wrong.index(word) + 1) for word in ("moon", "across.")
    ]


def test_a_text_of_sizes_read_as_one_pattern_says_what_reads_it():
    text = str(mk.write_sizes(sizes_of(mk.Design(LEAF), S=(1, 1), M=(2, 1)), repeat=8))
    with pytest.raises(WordingError, match=r"holds several sizes; `mk\.read_sizes` reads it"):
        mk.read_rows(text)


def test_what_one_size_has_nothing_to_say_of_is_said_of_the_others_only():
    alone, wide = (mk.Chart([[1] * count], ["MC"], in_the_round=True) for count in (1, 4))
    written = mk.write_sizes({"S": alone, "M": wide}, repeat=2)
    assert written.multiple == ("For size M, Multiple of 2 sts.",)
    assert mk.read_sizes(str(written)) == {"S": alone, "M": wide}
