"""Pictures of symmetries, families and traced pictures: where artists stand, against plain Python; never pixels."""

from itertools import product

import matplotlib

matplotlib.use("Agg")

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.collections import LineCollection
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, Rectangle
from samples import letter_f
from strategies import hands, motifs
from test_draw import _figures_are_closed_and_settings_are_left_alone, new_axes  # noqa: F401 — a fixture for all
from test_symmetries import BORDERS, PLANES, TWO_COLOUR_BORDERS, TWO_COLOUR_PLANES, picture

import mosaickit as mk
from mosaickit import Gauge, Motif, Yarn, Yarns, draw
from mosaickit.errors import OptionError
from mosaickit.ideas import FIGURES
from mosaickit.motif import symmetry

pytestmark = pytest.mark.thorough

gauge = Gauge(16, 18)
rare = Yarns(Yarn("sand", "#e9dcc3"), [(1, Yarn("deep", "#123f5a")), (4, Yarn("foam", "#3d8f92"))])


# ---- symmetry: the opponent goes on for ever, one square after the other -----------------------------------


class Pattern:
    """A picture repeated without end, asked by row and stitch; of a border there are no rows but its own."""

    def __init__(self, motif, as_="repeat", colours="keep", hand="right"):
        self.lines = motif.to_text().split()[::-1]
        self.border, self.hand = as_ == "border", hand
        self.swaps = colours == "swap" and len(self.lines) % 2 == 1 and not self.border
        self.rows, self.stitches = len(self.lines) * (2 if self.swaps else 1), len(self.lines[0])

    def at(self, row, stitch):
        """Whether CC shows; None where there is no such row."""
        again, row = divmod(int(row) - 1, len(self.lines))
        if self.border and again:
            return None
        column = (int(stitch) - 1) % self.stitches
        shows = self.lines[row][-1 - column if self.hand == "right" else column] == "#"
        return shows != (self.swaps and again % 2 == 1)

    def is_left(self, swaps, image):
        """Whether a move, from (row, stitch) to another, leaves the picture as it is, or swaps its colours."""
        for row, stitch in product(range(1, self.rows + 1), range(1, self.stitches + 1)):
            to = self.at(*image(row, stitch))
            if to is None or (to != self.at(row, stitch)) != swaps:
                return False
        return True

    def shifted(self, up, along, swaps=False):
        return self.is_left(swaps, lambda row, stitch: (row + up, stitch + along))

    @property
    def period(self):
        """After how many rows and how many stitches it comes again."""
        up = self.rows if self.border else next(n for n in range(1, self.rows + 1) if self.shifted(n, 0))
        return up, next(n for n in range(1, self.stitches + 1) if self.shifted(0, n))

    def upright(self, x, up, swaps):
        return self.is_left(swaps, lambda row, stitch: (row + up, 2 * x - stitch))

    def level(self, y, along, swaps):
        return self.is_left(swaps, lambda row, stitch: (2 * y - row, stitch + along))

    def turned(self, x, y, swaps):
        return self.is_left(swaps, lambda row, stitch: (2 * y - row, 2 * x - stitch))

    def signs(self, size):
        """All signs that a picture of this size has to show, by trying every place."""
        rows, stitches = self.period
        xs, ys = ([0.5 + n / 2 for n in range(2 * length + 1)] for length in reversed(size))
        found = set()
        for swaps in (False, True):
            found |= {("mirror line", swaps, "upright", x) for x in xs if self.upright(x, 0, swaps)}
            found |= {("mirror line", swaps, "level", y) for y in ys if self.level(y, 0, swaps)}
            glides = product(xs, range(1, 1 if self.border else rows))
            found |= {("glide line", swaps, "upright", x) for x, up in glides if self.upright(x, up, swaps)}
            glides = product(ys, range(1, stitches))
            found |= {("glide line", swaps, "level", y) for y, along in glides if self.level(y, along, swaps)}
            turns = product(xs, ys)
            found |= {("centre of a half-turn", swaps, x, y) for x, y in turns if self.turned(x, y, swaps)}
        return found


def said(artist):
    """What the label of a sign says: which it is, and whether it swaps."""
    sign, _, does = artist.get_label().partition(", ")
    assert does in ("keeps the colours", "swaps the colours")
    return sign, does.startswith("swaps")


def signs(ax):
    """All lines and centres that are drawn."""
    drawn = set()
    artists = [artist for artist in ax.collections if isinstance(artist, LineCollection)]
    labels = [artist.get_label() for artist in (*artists, *ax.lines)]
    assert len(labels) == len(set(labels)), "one artist for each kind of sign"
    for artist in artists:
        for (x, y), (to_x, to_y) in artist.get_segments():
            assert (x == to_x) != (y == to_y)
            drawn.add((*said(artist), "upright", x) if x == to_x else (*said(artist), "level", y))
    for artist in ax.lines:
        drawn |= {(*said(artist), x, y) for x, y in artist.get_xydata().tolist()}
    return drawn


def cell(ax):
    (frame,) = [patch for patch in ax.patches if isinstance(patch, Rectangle)]
    assert frame.get_xy() == (0.5, 0.5)
    return frame.get_height(), frame.get_width()


def arrows(ax):
    found = [(patch._posA_posB, said(patch)) for patch in ax.patches if isinstance(patch, FancyArrowPatch)]
    return [(to_row - row, to_stitch - stitch, swaps) for ((stitch, row), (to_stitch, to_row)), (_, swaps) in found]


EXAMPLES = [
    *((group, "border", text) for group, text in {**BORDERS, **TWO_COLOUR_BORDERS}.items()),
    *((group, "repeat", text) for group, text in {**PLANES, **TWO_COLOUR_PLANES}.items()),
]


@pytest.mark.parametrize(("group", "as_", "text"), EXAMPLES, ids=[group for group, *_ in EXAMPLES])
def test_every_sign_is_where_it_leaves_the_endless_picture_and_none_is_missing(group, as_, text):
    motif = picture(text)
    rows, columns = motif.shape
    ax = draw.symmetry(motif, as_=as_, ax=new_axes())
    pattern = Pattern(motif, as_)
    assert signs(ax) == pattern.signs((rows * (1 if as_ == "border" else 2), columns * 2))
    assert cell(ax) == pattern.period
    for up, along, swaps in arrows(ax):
        assert pattern.shifted(up, along, swaps)
    assert group.partition("/")[0] in ax.get_title(loc="left")


@settings(max_examples=20)
@given(
    motifs(shape=st.tuples(st.integers(1, 5), st.integers(1, 5))),
    hands,
    st.sampled_from(["keep", "swap"]),
    st.integers(1, 3),
    st.integers(1, 2),
)
def test_signs_stand_on_the_picture_of_either_hand_with_colours_kept_or_swapped(motif, hand, colours, across, up):
    ax = draw.symmetry(motif, across=across, up=up, hand=hand, colours=colours, ax=new_axes())
    pattern = Pattern(motif, colours=colours, hand=hand)
    rows, columns = size = motif.shape[0] * up, motif.shape[1] * across
    assert signs(ax) == pattern.signs(size)

    (image,) = ax.images
    assert image.origin == "lower"
    assert image.get_extent() == [0.5, columns + 0.5, 0.5, rows + 0.5]
    assert ax.xaxis_inverted() == (hand == "right"), "stitch 1 lies at the working edge"
    assert not ax.yaxis_inverted()
    assert ax.yaxis.get_ticks_position() == hand
    period = pattern.period
    shown = mk.repeat(motif, across=across, up=up, colours=colours, must_work=False)
    numbers = shown.shown_rows[::-1, :: -1 if hand == "right" else 1]
    for row, stitch in product(range(1, rows + 1), range(1, columns + 1)):
        role = "CC" if pattern.at(row, stitch) else "MC"
        yarn = shown.yarns.at(int(numbers[row - 1, stitch - 1]), role).colour
        share = 0.6 if row <= period[0] and stitch <= period[1] else 0.35
        paled = [round(255 - share * (255 - int(yarn[at : at + 2], 16))) for at in (1, 3, 5)]
        assert np.abs(image.get_array()[row - 1, stitch - 1].astype(int) - paled).max() <= 1


def test_a_shift_that_the_smallest_repeat_does_not_show_is_an_arrow():
    assert arrows(draw.symmetry(picture(PLANES["cmm"]), ax=new_axes())) == [(2, 1, False)]
    assert arrows(draw.symmetry(picture(PLANES["pmm"]), ax=new_axes())) == []
    assert arrows(draw.symmetry(letter_f, colours="swap", ax=new_axes())) == [(7, 0, True)]


def test_what_swaps_differs_by_more_than_its_colour_from_what_keeps():
    ax = draw.symmetry(picture(TWO_COLOUR_PLANES["cmm/pgg"]), ax=new_axes())
    lines = {said(artist): artist for artist in ax.collections}
    assert set(lines) == {("mirror line", True), ("glide line", False)}
    (_, dashes), (_, solid) = (
        lines["glide line", False].get_linestyle()[0],
        lines["mirror line", True].get_linestyle()[0],
    )
    assert dashes is not None
    assert solid is None
    # open: a white line that an edge of black makes two
    mirror, glide = lines["mirror line", True], lines["glide line", False]
    assert [to_hex(artist.get_color()[0]) for artist in (mirror, glide)] == ["#ffffff", "#000000"]
    assert mirror.get_linewidth()[0] == 2 * glide.get_linewidth()[0]
    lenses = {said(artist): artist.get_markerfacecolor() for artist in ax.lines}
    assert lenses == {("centre of a half-turn", True): "white", ("centre of a half-turn", False): "black"}


def test_the_key_names_just_the_signs_that_are_drawn():
    ax = draw.symmetry(picture(TWO_COLOUR_BORDERS["pma2/p112"]), as_="border")
    assert [text.get_text() for text in ax.get_legend().get_texts()] == [
        "mirror line, swaps the colours",
        "glide line, swaps the colours",
        "centre of a half-turn, keeps the colours",
        "smallest repeat, 6 stitches",
    ]
    ax = draw.symmetry(letter_f)
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["smallest repeat, 7 rows of 7 stitches"]
    assert ax.get_title(loc="left") == "letter F\nPlane group p1, and no move swaps the colours"


def test_symmetry_is_drawn_in_the_proportion_of_the_gauge():
    assert draw.symmetry(letter_f, ax=new_axes()).get_aspect() == 1
    ax = draw.symmetry(letter_f, gauge=gauge, ax=new_axes())
    assert ax.get_aspect() == pytest.approx(16 / 18)  # a row is so much lower than a stitch is wide


def test_the_drawn_places_are_those_of_the_report():
    report = symmetry(letter_f, colours="swap")
    ax = draw.symmetry(letter_f, colours="swap", up=4, ax=new_axes())
    assert cell(ax) == (report.rows, report.stitches) == (14, 7)


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"as_": "border", "up": 2}, "A border is laid along its rows only, so `up` must be 1; got 2"),
        ({"as_": "plane"}, "`as_` must be one of 'repeat', 'border'; got 'plane'"),
        ({"up": 0}, "`up` must be a whole number of 1 or more; got 0"),
        ({"across": 0}, "`across` must be a whole number of 1 or more; got 0"),
        ({"hand": "both"}, "`hand` must be one of 'right', 'left'; got 'both'"),
        ({"colours": "mix"}, "`colours` must be one of 'keep', 'swap'; got 'mix'"),
    ],
    ids=str,
)
def test_a_symmetry_that_has_no_meaning_is_refused(options, message):
    with pytest.raises(OptionError, match=message):
        draw.symmetry(letter_f, **options)


# ---- variants ----------------------------------------------------------------------------------------------

sea_f = letter_f.with_yarns(rare)
of_f = mk.family(sea_f)


def boxes(ax, label):
    """The corners of each box, (left, top, right, bottom), and its colour."""
    (found,) = [artist for artist in ax.collections if artist.get_label() == label]
    corners = [path.vertices for path in found.get_paths()]
    colours = [to_hex(colour) for colour in found.get_facecolor()]
    return [(*v.min(axis=0).tolist(), *v.max(axis=0).tolist()) for v in corners], colours


def colour_at(squares, colours, x, y):
    here = [
        colour
        for (left, top, right, bottom), colour in zip(squares, colours, strict=True)
        if left < x < right and top < y < bottom
    ]
    assert len(here) == 1
    return here[0]


@pytest.mark.parametrize("size", [None, gauge], ids=["square", "gauge"])
def test_every_variant_is_drawn_square_by_square_at_one_scale(size):
    some = of_f[:9]
    ax = draw.variants(some, columns=4, gauge=size)
    tall = 1.0 if size is None else 16 / 18
    squares, colours = boxes(ax, "squares")
    outlines, _ = boxes(ax, "outlines")
    assert len(outlines) == 9
    for variant, (left, top, right, bottom) in zip(some, outlines, strict=True):
        rows, columns = variant.motif.shape
        assert (right - left, bottom - top) == pytest.approx((columns, rows * tall))
        for row, column in product(range(rows), range(columns)):
            number = int(variant.motif.shown_rows[row, column])
            yarn = variant.motif.yarns.at(number, "CC" if variant.motif.grid[row, column] else "MC")
            assert colour_at(squares, colours, left + column + 0.5, top + (row + 0.5) * tall) == yarn.colour


def test_variants_stand_in_rows_and_their_captions_below_them():
    ax = draw.variants(of_f, columns=5, sort_by="surcharge")
    outlines, _ = boxes(ax, "outlines")
    renderer = ax.figure.canvas.get_renderer()
    ax.apply_aspect()
    texts = [text.get_window_extent(renderer).transformed(ax.transData.inverted()) for text in ax.texts]
    captions = [(t.x0, min(t.y0, t.y1), t.x1, max(t.y0, t.y1)) for t in texts]
    assert len(captions) == len(outlines) == len(of_f)
    for (left, _, right, bottom), (low, top, high, _) in zip(outlines, captions, strict=True):
        assert top > bottom
        assert (left + right) / 2 == pytest.approx((low + high) / 2, abs=0.2)
    everything = [*outlines, *captions]
    for n, one in enumerate(everything):
        for other in everything[n + 1 :]:
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    (left, right), (bottom, top) = ax.get_xlim(), ax.get_ylim()
    assert all(left <= x0 and x1 <= right and top <= y0 and y1 <= bottom for x0, y0, x1, y1 in everything)
    feet = [round(box[3], 6) for box in outlines]
    assert [len(set(feet[n : n + 5])) for n in range(0, len(feet), 5)] == [1] * -(-len(feet) // 5)


@pytest.mark.parametrize("by", FIGURES)
def test_variants_are_sorted_by_each_figure_the_most_first_and_say_it(by):
    ax = draw.variants(of_f, sort_by=by, ax=new_axes())
    # sorted by hand: each goes before the first that has less
    expected = []
    for variant in of_f:
        value = getattr(variant.figures, by)
        place = next((n for n, v in enumerate(expected) if getattr(v.figures, by) < value), len(expected))
        expected.insert(place, variant)
    assert len({getattr(variant.figures, by) for variant in of_f}) > 1
    for text, variant in zip(ax.texts, expected, strict=True):
        *name, figure = text.get_text().split("\n")
        assert " ".join(name) == variant.name
        value = getattr(variant.figures, by)
        assert (f"{value:.0%}" if isinstance(value, float) else str(value)) in figure


def test_without_a_sort_variants_keep_their_order_and_say_their_names_only():
    ax = draw.variants(of_f, ax=new_axes())
    assert [text.get_text().replace("\n", " ") for text in ax.texts] == [variant.name for variant in of_f]


def test_all_squares_of_sixty_variants_are_one_artist():
    sixty = mk.family(letter_f, steps=2, most=60)
    ax = draw.variants(sixty, columns=10)
    assert len(sixty) == len(ax.texts) == 60
    assert [artist.get_label() for artist in ax.collections] == ["squares", "outlines"]
    assert not ax.images
    assert not ax.patches


@pytest.mark.parametrize(
    ("variants", "options", "message"),
    [
        ([], {}, "`variants` must be at least one variant; got none"),
        (of_f, {"sort_by": "beauty"}, "`sort_by` must be one of 'fldc_share', .*; got 'beauty'"),
        (of_f, {"columns": 0}, "`columns` must be a whole number of 1 or more; got 0"),
    ],
    ids=["none", "sort_by", "columns"],
)
def test_variants_that_cannot_be_drawn_are_refused(variants, options, message):
    with pytest.raises(OptionError, match=message):
        draw.variants(variants, **options)


@pytest.mark.parametrize("size", [None, gauge], ids=["square", "gauge"])
def test_motifs_of_any_size_are_drawn_square_by_square_in_their_yarns(size):
    walls = [letter_f.with_yarns(rare), mk.mirror(letter_f), mk.Motif.from_text("#"), mk.Motif.from_text("." * 30)]
    ax = draw.motifs(walls, captions=["one", "two", "$x^2$", ""], columns=3, gauge=size)
    tall = 1.0 if size is None else 16 / 18
    squares, colours = boxes(ax, "squares")
    outlines, _ = boxes(ax, "outlines")
    assert [text.get_text() for text in ax.texts] == ["one", "two", "$x^2$"]
    assert len({round(bottom, 6) for _, _, _, bottom in outlines[:3]}) == 1, "a row stands on one line"
    for motif, (left, top, right, bottom) in zip(walls, outlines, strict=True):
        rows, columns = motif.shape
        assert (right - left, bottom - top) == pytest.approx((columns, rows * tall))
        for row, column in product(range(rows), range(columns)):
            yarn = motif.yarns.at(int(motif.shown_rows[row, column]), "CC" if motif.grid[row, column] else "MC")
            assert colour_at(squares, colours, left + column + 0.5, top + (row + 0.5) * tall) == yarn.colour


@pytest.mark.parametrize(
    ("motifs", "options", "message"),
    [
        ([], {}, "`motifs` must be at least one motif; got none"),
        ([letter_f], {"captions": ["a", "b"]}, "`captions` must be one for each of the 1 motifs; got 2"),
        ([letter_f], {"columns": 0}, "`columns` must be a whole number of 1 or more; got 0"),
    ],
    ids=["none", "captions", "columns"],
)
def test_motifs_that_cannot_be_drawn_are_refused(motifs, options, message):
    with pytest.raises(OptionError, match=message):
        draw.motifs(motifs, **options)


# ---- traced ------------------------------------------------------------------------------------------------

rng = np.random.default_rng(3)
photo = rng.random((9, 12))
blot = mk.from_picture(photo, stitches=12, yarns=rare, first="MC")


def squares_of(mask):
    return set(map(tuple, np.argwhere(mask).tolist()))


def stamped(ax):
    """The squares, (row from the top, column), that carry each mark."""
    return {
        artist.get_label(): {(int(row), int(column)) for column, row in artist.get_offsets()}
        for artist in ax.collections
    }


def test_a_traced_picture_is_shown_before_and_after_in_its_yarns():
    before, after, changes = draw.traced(blot, gauge=gauge)
    assert [ax.get_title(loc="left") for ax in (before, after, changes)] == ["before", "after", "what changed"]
    for ax, grid in ((before, blot.before), (after, blot.motif.grid)):
        (image,) = ax.images
        shows = Motif.from_array(grid, yarns=rare)
        expected = [
            [rare.at(int(number), "CC" if cc else "MC").colour for cc, number in zip(*line, strict=True)]
            for line in zip(grid.tolist(), shows.shown_rows.tolist(), strict=True)
        ]
        assert [[to_hex(square / 255) for square in line] for line in image.get_array()] == expected
    for ax in (before, after, changes):
        assert ax.images[0].get_extent() == [0, 12, 9, 0]
        assert ax.get_aspect() == pytest.approx(16 / 18)


def test_what_changed_is_marked_by_whether_it_became_cc_or_mc():
    _, _, ax = draw.traced(blot)
    to_cc = squares_of(blot.motif.grid & ~blot.before)
    to_mc = squares_of(blot.before & ~blot.motif.grid)
    assert len(to_cc) > 1
    assert len(to_mc) > 1
    labels = [f"became CC: {len(to_cc)} squares", f"became MC: {len(to_mc)} squares"]
    assert stamped(ax) == dict(zip(labels, (to_cc, to_mc), strict=True))
    assert [text.get_text() for text in ax.get_legend().get_texts()] == labels
    filled, opened = ax.collections
    assert [to_hex(artist.get_facecolor()[0]) for artist in (filled, opened)] == ["#000000", "#ffffff"]
    assert [to_hex(artist.get_edgecolor()[0]) for artist in (filled, opened)] == ["#000000", "#000000"]


def test_where_nothing_had_to_change_it_says_so():
    dots = mk.from_picture(photo, stitches=12, dither="error diffusion")
    _, _, ax = draw.traced(dots, axes=tuple(Figure().subplots(1, 3)))
    assert ax.get_title(loc="left") == "nothing had to change"
    assert stamped(ax) == {}
    assert ax.get_legend() is None
