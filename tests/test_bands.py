"""Bands: whatever order of them is what one gets who lays every square by hand, and its counts are those of the chart.

The hand here is plain Python and NumPy that shares nothing with the package but the values that say what is asked.
"""

import math
import pickle
from collections import Counter

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.errors import FileError, MotifError, OptionError, UnworkableError
from mosaickit.fabric import count_rows
from mosaickit.sizes import design_from_json, design_to_json
from mosaickit.widgets.book.share_python import python_of

pytestmark = pytest.mark.thorough

GAUGE = mk.Gauge(16, 18)
WAVE = mk.Motif.from_text(
    """
    ......
    .##...
    ......
    ...##.
    ......
    """,
    name="wave",
)
LEAF = mk.Motif.from_text(
    """
    ....
    ####
    .##.
    ####
    ....
    """,
    name="leaf",
)
DOT = mk.Motif.from_text(
    """
    ...
    .#.
    ...
    """,
    name="dot",
)
SAND, MOSS = mk.Yarn("sand", "#e0d0b0"), mk.Yarn("moss", "#3d5a3a")


# ---- the hand --------------------------------------------------------------------------------------------------------


class RefusedError(Exception):
    """What the hand cannot lay as it was asked."""


def mirrored_place(place, size, step):
    if not step:
        return 0
    copy, off = divmod(place, step)
    return off if copy % 2 == 0 else size - 1 - off


class Picture:
    """Rows from the bottom up, squares from the right; True for CC, as is row 1's colour; and the yarns of rows."""

    def __init__(self, squares, first_is_cc, yarns):
        self.squares, self.cc, self.yarns = squares, first_is_cc, yarns

    def row_is_cc(self, row):
        return self.cc ^ bool(row % 2)

    @property
    def overlaid(self):
        return self.squares ^ np.array([[self.row_is_cc(row)] for row in range(len(self.squares))], dtype=bool)

    def turned(self, upside_down, mirrored):
        squares, cc, yarns = self.squares, self.cc, self.yarns
        if upside_down:
            cc, squares, yarns = self.row_is_cc(len(squares) - 1), squares[::-1], yarns[::-1]
        return Picture(squares[:, ::-1] if mirrored else squares, cc, yarns)


def from_overlaid(overlaid, cc, yarns):
    rows = np.array([[cc ^ bool(row % 2)] for row in range(len(overlaid))], dtype=bool)
    return Picture(overlaid ^ rows, cc, yarns)


def laid(band, across, up, from_right=0, wide=None):
    """Lay a motif square by square; of a row only `wide` stitches, from the one after `from_right` of them on."""
    motif, (rows, columns) = band.motif, band.motif.shape
    seen = motif.grid[::-1, ::-1]
    shared = band.laying == "mirrored" and band.seam == "shared"
    one_wide, one_high = columns - shared, rows - shared
    all_wide = one_wide * across + shared + band.balance_across
    all_high = one_high * up + shared + band.balance_up
    if not one_wide:
        all_wide = shared + band.balance_across
    whole = one_wide * (across if one_wide else 1) + shared
    out = np.zeros((all_high, all_wide if wide is None else wide), dtype=bool)
    yarns = []
    for r in range(all_high):
        source = mirrored_place(r, rows, one_high) if band.laying == "mirrored" else r % rows
        yarns.append(tuple(motif.yarns.at(source + 1, role) for role in ("MC", "CC")))
        for at in range(out.shape[1]):
            s = at + from_right
            if band.laying == "mirrored":
                row, stitch = source, columns - 1 - mirrored_place(whole - 1 - s, columns, one_wide)
            else:
                brick, stitch = r // rows % 2, s
                if band.laying == "brick" and brick:
                    stitch = s + columns // 2
                dropped = band.laying == "half-drop" and (across - 1 - s // columns) % 2
                row, stitch = (r + rows // 2 * dropped) % rows, stitch % columns
            out[r, at] = seen[row, stitch] ^ ((r - row) % 2 == 1 and band.colours == "swap")
    return Picture(out, motif.first == "CC", yarns), all_wide


def fitted(band, width):
    """Lay a band at a width, as its `fit` says."""
    columns = band.motif.shape[1]
    shared = band.laying == "mirrored" and band.seam == "shared"
    step = columns - shared
    if band.fit == "fill":
        across = 1
        while step * across + shared < width:
            across += 1
            if not step:
                raise RefusedError
        cut = step * across + shared - width
        picture, _ = laid(band, across, band.up, from_right=cut // 2, wide=width)
        return picture.turned(band.upside_down, band.mirrored)
    fits = [n for n in range(1, width + 1) if step * n + shared + band.balance_across <= width]
    across = band.across or max(fits, default=1)
    picture, wide = laid(band, across, band.up)
    if wide > width or (wide < width and band.fit == "whole"):
        raise RefusedError
    picture = picture.turned(band.upside_down, band.mirrored)
    right = (width - wide) // 2
    overlaid = np.pad(picture.overlaid, ((0, 0), (right, width - wide - right)))
    return from_overlaid(overlaid, picture.cc, picture.yarns)


def beside(columns):
    """Lay columns beside each other; gives a motif."""
    pictures = []
    for column in columns.columns:
        if isinstance(column, mk.Band):
            picture, _ = laid(column, column.across or 1, column.up)
            pictures.append((column, picture.turned(column.upside_down, column.mirrored)))
        else:
            pictures.append((column, None))
    bands = [(column, picture) for column, picture in pictures if picture is not None]
    cc = bands[0][1].cc
    high = {len(picture.squares) for _, picture in bands}
    off = [picture.cc != cc for _, picture in bands]
    if columns.step == "refuse" and any(off):
        raise RefusedError
    if columns.heights == "refuse" and len(high) > 1:
        raise RefusedError
    tall = []
    for (column, picture), other in zip(bands, off, strict=True):
        overlaid = picture.overlaid
        if columns.heights == "repeat":
            times = math.lcm(*high) // len(overlaid)
            odd = len(overlaid) % 2 == 1 and column.colours == "keep"
            overlaid = np.concatenate([~overlaid if odd and i % 2 else overlaid for i in range(times)])
        tall.append((overlaid, int(other and columns.step == "divider")))
    rows = max(len(overlaid) + over for overlaid, over in tall)
    parts, tall = [], iter(tall)
    for column, picture in pictures:
        if picture is None:
            parts.append(np.zeros((rows, column.count), dtype=bool))
            continue
        overlaid, over = next(tall)
        spare = rows - len(overlaid)
        below = over
        while abs(2 * (below + 2) - spare) < abs(2 * below - spare) and below + 2 <= spare:
            below += 2
        parts.append(np.pad(overlaid, ((below, spare - below), (0, 0))))
    together = np.concatenate(parts[::-1], axis=1)  # the first one is at the left
    picture = from_overlaid(together, cc, None)
    first = "CC" if cc else "MC"
    return mk.Motif(picture.squares[::-1, ::-1], first, bands[0][0].motif.yarns)


def stacked(order, step, field, width):
    """Lay bands one on the other; gives a picture and how many plain rows were put in."""
    laid_bands = []
    for band in order:
        if isinstance(band, mk.Field):
            picture, _ = laid(field, field.across, field.up)
            laid_bands.append(picture.turned(band.upside_down, band.mirrored))
        elif isinstance(band, mk.Columns):
            as_one = {name: getattr(band, name) for name in ("across", "up", "colours", "fit")}
            as_one |= {"upside_down": band.upside_down, "mirrored": band.mirrored}
            laid_bands.append(fitted(mk.Band(beside(band), **as_one), width))
        elif isinstance(band, mk.Band):
            laid_bands.append(fitted(band, width))
        else:
            laid_bands.append(band)

    def wish(band):
        if isinstance(band, Picture):
            return band.cc
        if isinstance(band, mk.Divider) and band.rows != 2 and band.colour:
            return band.colour == "CC"
        return None

    def height(band):
        if isinstance(band, Picture):
            return len(band.squares)
        return band.rows if isinstance(band, mk.Divider) else band.count

    cc, below = False, 0
    for band in laid_bands:
        if wish(band) is not None:
            cc = wish(band) ^ bool(below % 2)
            break
        below += height(band)
    rows, yarns, put_in = [], [], 0

    def add_plain():
        rows.append(np.zeros(width, dtype=bool))
        yarns.append(None)

    def overlaid_on(band):
        on_cc = cc ^ bool(len(rows) % 2)
        if isinstance(band, Picture):
            return band.overlaid
        out = np.zeros((height(band), width), dtype=bool)
        if isinstance(band, mk.Divider) and band.rows == 3:
            out[1] = True
        if isinstance(band, mk.Divider) and band.rows == 2:
            own = band.colour is None or (band.colour == "CC") == on_cc
            out[1 if own else 0] = True
        return out

    for band in laid_bands:
        differs = wish(band) is not None and wish(band) != cc ^ bool(len(rows) % 2)
        if differs and step == "refuse":
            raise RefusedError
        meets = bool(rows) and bool((rows[-1] & overlaid_on(band)[0]).any())
        count = 0
        if step == "divider" and differs:
            count = 1
        elif step != "refuse" and meets:
            count = 2 if step == "divider" and wish(band) is not None else 1
        for _ in range(count):
            add_plain()
        put_in += count
        squares = overlaid_on(band)
        rows.extend(squares)
        yarns.extend(band.yarns if isinstance(band, Picture) else [None] * len(squares))
    last = next(pair for pair in yarns if pair is not None)
    for row, pair in enumerate(yarns):
        last = yarns[row] = pair or last
    return from_overlaid(np.array(rows), cc, yarns), put_in


def can_be_worked(overlaid):
    """Tell from the rule of the craft whether squares, (rows, stitches), can be worked."""
    return not (overlaid[0].any() or overlaid[-1].any() or (overlaid[:-1] & overlaid[1:]).any())


# ---- orders by chance ------------------------------------------------------------------------------------------------


def some_motif(rng, most=6, plain_ends=0.4):
    rows, columns = int(rng.integers(1, most + 1)), int(rng.integers(1, most + 1))
    motif = mk.Motif(rng.random((rows, columns)) < 0.5, rng.choice(["MC", "CC"]).item())
    if rng.random() < 0.85:
        motif = mk.nearest_workable(motif, repeats_up=bool(rng.random() > plain_ends)).motif
    return motif


def turns(rng):
    return {"upside_down": bool(rng.random() < 0.3), "mirrored": bool(rng.random() < 0.3)}


def some_band(rng, width, yarns, own_width=False):
    motif = some_motif(rng).with_yarns(yarns)
    rows, columns = motif.shape
    fit = "whole" if own_width else rng.choice(["whole", "centre", "fill", "fill", "centre"]).item()
    if fit == "whole" and not own_width and rng.random() < 0.8:
        # a motif that divides the width
        columns = rng.choice([n for n in range(1, 7) if width % n == 0]).item()
        motif = mk.Motif(np.resize(motif.grid, (rows, columns)), motif.first, yarns)
        if rng.random() < 0.9:
            motif = mk.nearest_workable(motif, repeats_up=bool(rng.random() > 0.3)).motif
    closing = 0 if fit == "fill" or rng.random() < 0.7 else int(rng.integers(0, columns))
    return mk.Band(
        motif,
        across=None if fit == "fill" or rng.random() < 0.7 else int(rng.integers(1, 4)),
        up=int(rng.integers(1, 4)),
        laying=rng.choice(["straight", "straight", "brick", "half-drop", "mirrored"]).item(),
        seam=rng.choice(["double", "shared"]).item(),
        colours=rng.choice(["keep", "swap", "swap"]).item(),
        balance_across=closing,
        balance_up=int(rng.integers(0, rows)) if rng.random() < 0.3 else 0,
        fit=fit,
        **turns(rng),
    )


def some_columns(rng, width, yarns):
    parts = [
        mk.Plain(int(rng.integers(1, 3))) if rng.random() < 0.3 else some_band(rng, width, yarns, own_width=True)
        for _ in range(int(rng.integers(1, 4)))
    ]
    fit = rng.choice(["whole", "centre", "fill"]).item()
    return mk.Columns(
        [*parts, mk.Band(some_motif(rng).with_yarns(yarns))],
        up=int(rng.integers(1, 3)),
        colours=rng.choice(["keep", "swap", "swap"]).item(),
        fit=fit,
        heights=rng.choice(["repeat", "centre", "centre", "refuse"]).item(),
        step=rng.choice(["divider", "swap", "refuse"]).item(),
        **turns(rng),
    )


def some_layout(rng):
    """Give bands, a field and what stands around them, as arguments; they may not go together."""
    motif = some_motif(rng)
    yarns = mk.Yarns(SAND, MOSS) if rng.random() < 0.5 else mk.Yarns()
    of_field = yarns
    if rng.random() < 0.3 and motif.shape[0] > 1:
        of_field = mk.Yarns(SAND, [(1, MOSS), (2, mk.Yarn("plum", "#5b2a4e"))])
    motif = motif.with_yarns(of_field)
    rows, columns = motif.shape
    in_the_round = bool(rng.random() < 0.15)
    field = mk.Band(
        motif,
        across=int(rng.integers(1, 7)),
        up=int(rng.integers(1, 6) if rng.random() < 0.8 else rng.integers(8, 14)),
        laying=rng.choice(["straight", "straight", "brick", "mirrored"]).item(),
        seam=rng.choice(["double", "shared"]).item(),
        colours=rng.choice(["keep", "swap", "swap"]).item(),
        balance_across=0 if in_the_round else int(rng.integers(0, columns)),
        balance_up=int(rng.integers(0, rows)) if rng.random() < 0.3 else 0,
    )
    shared = field.laying == "mirrored" and field.seam == "shared"
    width = max((columns - shared) * field.across + shared + field.balance_across, 1)
    order = [mk.Field(**turns(rng))]
    for _ in range(int(rng.integers(0, 6))):
        kind = rng.random()
        if kind < 0.5:
            band = some_band(rng, width, yarns)
            if in_the_round and band.balance_across:
                continue
        elif kind < 0.6:
            band = mk.Plain(int(rng.integers(1, 4)))
        elif kind < 0.75:
            band = mk.Divider(int(rng.integers(1, 4)), colour=[None, "MC", "CC"][rng.integers(3)])
        elif kind < 0.85:
            band = mk.Field(**turns(rng))
        else:
            try:
                band = some_columns(rng, width, yarns)
            except OptionError:
                continue
        order.insert(int(rng.integers(0, len(order) + 1)), band)
    around = mk.Surround(
        rings=0 if in_the_round else int(rng.choice([0, 0, 1, 2])),
        edges=0 if in_the_round else [None, 0, 2][rng.integers(3)],
        rows_below=int(rng.integers(0, 3)),
        rows_above=int(rng.integers(0, 3)),
        colours=field.colours,
        balance_across=field.balance_across,
        balance_up=field.balance_up,
        in_the_round=in_the_round,
    )
    step = rng.choice(["divider", "divider", "swap", "swap", "refuse"]).item()
    return field, order, step, around, width


def design_of(field, order, step, around, **others):
    return mk.Design(
        field.motif,
        GAUGE,
        across=field.across,
        up=field.up,
        laying=field.laying,
        seam=field.seam,
        surround=around,
        bands=mk.Bands(order, step=step),
        **others,
    )


def some_design(rng):
    """Give a design and the picture of its bands by hand, with the plain rows put in; None for what is refused."""
    field, order, step, around, width = some_layout(rng)
    others = {"reversible": bool(rng.random() < 0.5), "hand": rng.choice(["right", "left"]).item()}
    try:
        picture, put_in = stacked(order, step, field, width)
    except RefusedError:
        with pytest.raises(OptionError) as said:
            design_of(field, order, step, around)
        assert any(word in str(said.value) for word in ("does not fill", "begins on"))
        return None
    return design_of(field, order, step, around, **others), picture, put_in


def test_1000_orders_of_bands_are_the_picture_laid_by_hand_and_are_counted_without_it():
    rng, seen = np.random.default_rng(7), Counter()
    for _ in range(1000):
        found = some_design(rng)
        if found is None:
            seen["refused"] += 1
            continue
        design, by_hand, put_in = found
        inside = design.layout.build_inside()
        assert (inside.first == "CC") == by_hand.cc
        assert np.array_equal(inside.grid[::-1, ::-1], by_hand.squares)
        yarns = zip(*(inside.yarns.by_row(len(inside.grid), role) for role in ("MC", "CC")), strict=True)
        assert list(yarns) == by_hand.yarns
        around = design.surround
        whole = mk.pad(
            mk.frame(inside, around.rings, must_work=False),
            left=around.edge_stitches,
            right=around.edge_stitches,
            bottom=around.rows_below,
            top=around.rows_above,
            must_work=False,
        )
        picture = design.picture
        assert np.array_equal(picture.grid, whole.grid)
        assert picture.first == whole.first
        assert design.shape == picture.shape
        # what was put in is said, row by row
        rows_put_in = sum(one.last_row - one.first_row + 1 for one in design.layout.band_rows if not one.band)
        assert rows_put_in == put_in
        assert bool(put_in) == any("put in" in sentence for sentence in design.said)
        spans = [(one.first_row, one.last_row) for one in design.layout.band_rows]
        assert [first for first, _ in spans[1:]] == [last + 1 for _, last in spans[:-1]]
        # what can be worked, and the counts, as the chart that is built says
        overlaid = picture.overlaid[::-1, ::-1]
        assert design.layout.workable == can_be_worked(overlaid)
        assert design.layout.centred == np.array_equal(picture.grid, picture.grid[:, ::-1])
        if not design.layout.workable:
            seen["unworkable"] += 1
            with pytest.raises(UnworkableError, match="These bands cannot be worked"):
                design.counts  # noqa: B018
            continue
        seen["workable"] += 1
        seen["many up"] += design.up > 7
        seen["put in"] += put_in > 0
        seen["swapped"] += any("swapped" in sentence for sentence in design.said)
        seen["columns"] += any(isinstance(band, mk.Columns) for band in design.bands.order)
        counted = count_rows(design.chart)
        of_mc = [role == "MC" for role in counted.row_colours]
        assert np.array_equal(design.counts[0], counted.stitches[of_mc].sum(axis=0))
        assert np.array_equal(design.counts[1], counted.stitches[np.logical_not(of_mc)].sum(axis=0))
        by_row = design.layout.row_counts(design.reversible)
        assert np.array_equal(by_row.stitches, counted.stitches)
        assert (by_row.yarns, by_row.row_colours) == (counted.yarns, counted.row_colours)
        usage = mk.yarn_usage(design.chart, GAUGE)
        assert design.usage.likely_m == pytest.approx(usage.total_m.sum())
        assert [total.yarn for total in design.usage.by_yarn] == [total.yarn for total in usage.by_yarn]
        assert [total.likely_m for total in design.usage.by_yarn] == pytest.approx(
            [total.likely_m for total in usage.by_yarn]
        )
    assert min(seen[kind] for kind in ("refused", "unworkable", "put in", "swapped", "columns", "many up")) > 15, seen
    assert seen["workable"] > 250, seen


# ---- by hand ---------------------------------------------------------------------------------------------------------

SCARF = """
..............
#.#..#..#..#.#
..............
##############
.############.
##############
..............
##############
..............
##..##..##..##
..............
##############
..............
##############
..##..##..##..
##############
..............
##############
.############.
##############
..............
#.#..#..#..#.#
..............
"""
"""Ends of dots, then a line of three rows, and two leaves up; each row in its own colour at both edges."""


def scarf():
    bands = mk.Bands.mirrored([mk.Band(DOT), mk.Divider(3, colour="CC")])
    return mk.Design(LEAF, GAUGE, across=3, up=2, bands=bands).but(colours="swap", title="Scarf")


def test_a_scarf_with_panels_at_both_ends_is_as_it_was_drawn_by_hand():
    design = scarf()
    assert design.picture == mk.Motif.from_text(SCARF, name="leaf")
    assert design.said == (
        "Row 17 is plain and was put in, so that band 4, a line of 3 rows in CC, begins on its colour.",
    )
    assert [str(one) for one in design.layout.band_rows] == [
        "band 1, dot, rows 1 to 3",
        "band 2, a line of 3 rows in CC, rows 4 to 6",
        "band 3, the field of leaf, rows 7 to 16",
        "1 plain row put in, row 17",
        "band 4, a line of 3 rows in CC, rows 18 to 20",
        "band 5, dot, rows 21 to 23",
    ]
    assert "5 bands, 3 × 2 repeats, 23 rows × 14 stitches" in design.summary
    assert str(design.bands) == "dot; a line of 3 rows in CC; the field; a line of 3 rows in CC; dot, upside down"
    assert mk.read_rows(str(design.rows)) == design.chart
    assert repr(design).endswith("begins on its colour.")
    # of many leaves only the first need be drawn
    assert design.but(up=8).page().first_repeat == ((7, 11), (2, 5))
    assert design.but(bands=None).shape == (10, 14)


def test_without_a_motif_the_highest_band_becomes_the_field():
    bands = [
        mk.Band(DOT),
        mk.Divider(3, colour="CC"),
        mk.Band(LEAF, across=3, up=2, colours="swap"),
        mk.Divider(3, colour="CC"),
        mk.Band(DOT, upside_down=True),
    ]
    assert mk.Design(bands=bands, gauge=GAUGE).but(title="Scarf") == scarf()
    # counts may be said by the design
    counted = [*bands[:2], mk.Band(LEAF, colours="swap"), *bands[3:]]
    assert mk.Design(bands=counted, gauge=GAUGE, across=3, up=2).but(title="Scarf") == scarf()
    columns = mk.Columns([mk.Band(DOT), mk.Plain(1), mk.Band(DOT)], up=4, colours="swap", across=2)
    design = mk.Design(bands=[mk.Band(DOT, fit="fill"), columns])
    assert (design.motif, design.across, design.up) == (columns.motif, 2, 4)
    # 3 rows of dots, a plain row so that the columns begin on MC, 12 rows of columns
    assert design.shape == (16, 16)


# ---- widths ----------------------------------------------------------------------------------------------------------


def test_the_counts_across_are_all_at_which_bands_fill_the_width():
    rng, seen = np.random.default_rng(3), Counter()
    for _ in range(60):
        motif = some_motif(rng)
        bands = [mk.Field(), *(some_band(rng, 12, mk.Yarns()) for _ in range(int(rng.integers(1, 4))))]
        works, error = {}, ""
        for across in range(1, 70):
            try:
                works[across] = mk.Design(motif, GAUGE, across=across, bands=bands)
            except OptionError as refused:
                error = str(refused)
        if works:
            counts = next(iter(works.values())).layout.counts_across
            assert [across for across in counts if across < 70] == list(works)
            seen["some"] += len(works) < 69
        else:
            seen["none"] += "There is no width" in error
            assert "There is no width" in error or int(error.partition("across=")[2].split(",")[0].split()[0]) >= 70
    assert seen["some"] > 10
    assert seen["none"] > 5


def test_a_plan_has_every_count_of_bands_that_comes_near():
    rng, seen = np.random.default_rng(8), Counter()
    while seen["plans"] < 20:
        motif = mk.nearest_workable(some_motif(rng, most=5)).motif
        bands = [mk.Field(), *(some_band(rng, 12, mk.Yarns()) for _ in range(2)), mk.Divider(3, colour="CC")]
        step = rng.choice(["divider", "swap"]).item()
        design = None
        for across in range(1, 13):
            try:
                design = mk.Design(motif, GAUGE, across=across, bands=mk.Bands(bands, step=step)).but(colours="swap")
                break
            except OptionError:
                continue
        if design is None:
            continue
        try:
            plan = mk.plan_widths(design, width=12, length=22, tolerance=0.12)
        except (UnworkableError, mk.errors.WidthError):
            seen["none"] += 1
            continue
        seen["plans"] += 1
        near = set()
        for across in range(1, 26):
            for up in range(1, 50):
                try:
                    one = design.but(across=across, up=up)
                except OptionError:
                    break
                width, length = one.size
                if abs(width / 12 - 1) <= 0.12 and abs(length / 22 - 1) <= 0.12 and one.layout.workable:
                    near.add((across, up))
        assert {(fit.across, fit.up) for fit in plan.fits} == near
        seen["fits"] += len(near)
        assert str(plan.multiple) in str(plan)
    assert seen["fits"] > 60


# ---- sweeps ----------------------------------------------------------------------------------------------------------


def test_each_line_of_a_sweep_over_bands_is_its_design():
    ends = mk.Bands.mirrored([mk.Band(DOT, fit="centre"), mk.Divider(2, colour="CC")])
    stripes = mk.Bands(
        [mk.Plain(3), mk.Field(), mk.Plain(1), mk.Band(WAVE, up=2, colours="swap"), mk.Field()], step="swap"
    )
    around = mk.Surround(colours="swap")
    orders = {"ends": ends, "stripes": stripes}
    designs = {name: mk.Design(LEAF, GAUGE, across=3, bands=bands, surround=around) for name, bands in orders.items()}
    designs["alone"] = mk.Design(LEAF, GAUGE, surround=around)
    swept = mk.sweep(
        designs,
        width=[12, 20],
        length=[30, 61],
        surrounds=mk.Surround.each(rings=[0, 1], colours="swap", balance_across=[0, 1]),
        reversible=[False, True],
        batch=mk.Batch(progress=False),
    )
    table = swept.table
    assert set(table["motif"]) == {"ends", "stripes", "alone"}
    refused = table[table["stitches"] == 0]
    # with a closing stitch the field is odd in width, and waves of 6 stitches are even
    assert set(refused["motif"]) == {"stripes"}
    assert refused["why not"].str.contains("There is no width that all of these bands fill").all()
    assert table["can be worked"].sum() > 40
    for line in table.index[table["stitches"] > 0]:
        of, design = table.loc[line], swept.design(line)
        assert (of["rows"], of["stitches"]) == design.shape
        assert of["can be worked"] == can_be_worked(design.picture.overlaid[::-1, ::-1])
        assert design.bands == designs[of["motif"]].bands
        if not of["can be worked"]:
            continue
        assert of["centred"] == np.array_equal(design.picture.grid, design.picture.grid[:, ::-1])
        assert of["yarn m"] == pytest.approx(mk.yarn_usage(design.chart, GAUGE).total_m.sum())
        assert of["yarn m"] == pytest.approx(design.usage.likely_m)
    wanted = ["motif", "rings", "balance across", "wanted width cm", "wanted length cm"]
    for _, lines in table[table["stitches"] > 0].groupby(wanted):
        lengths = lines["length off percent"]
        assert lengths.abs().min() <= 5 or lengths.min() < 0 < lengths.max()


def test_foundation_and_border_are_worked_in_the_yarns_of_the_first_and_last_rows():
    own = {name: mk.Yarns(mk.Yarn(f"{name} light", "#ddccbb"), mk.Yarn(f"{name} dark", "#332211")) for name in "abc"}
    end, field, top = (DOT.with_yarns(own[name]) for name in "abc")
    for order in ([mk.Band(end, fit="fill"), mk.Field()], [mk.Field(), mk.Plain(3), mk.Band(top, fit="fill")]):
        design = mk.Design(field, GAUGE, across=3, bands=order).but(colours="swap", border_rounds=2, rows_above=1)
        design = design.but(foundation="foundation sc")
        counts, bare = design.layout.row_counts(), design.but(border_rounds=0, foundation="chain")
        rows = list(zip(counts.row_colours, counts.yarns, strict=True))
        assert design.layout.first_yarn == rows[0][1]
        for role in ("MC", "CC"):
            last = [yarn for colour, yarn in rows if colour == role][-1]
            assert design.layout.last_yarn(role) == last
            more = design.but(finish_colour=role).usage.by_yarn
            before = {total.yarn: total.likely_m for total in bare.usage.by_yarn}
            assert {total.yarn for total in more if total.likely_m > before[total.yarn]} == {last, rows[0][1]}


def test_a_sweep_over_bands_knows_them_from_others_that_were_kept(tmp_path):
    designs = [
        mk.Design(LEAF, GAUGE, bands=[mk.Band(motif, fit="fill"), mk.Field()]).but(colours="swap")
        for motif in (DOT, WAVE.named("dot"))
    ]
    kept = mk.Batch(progress=False, kept_in=tmp_path)
    first = mk.sweep(designs[0], across=[2, 5], up=[1, 2, 9], batch=kept).table
    assert mk.sweep(designs[0], across=[2, 5], up=[1, 2, 9], batch=kept).table.equals(first)
    with pytest.raises(FileError, match="no batch of this task"):  # though its motifs are called the same
        mk.sweep(designs[1], across=[2, 5], up=[1, 2, 9], batch=kept)


def test_a_sweep_says_in_which_band_a_line_cannot_be_worked():
    good, bad = (scarf().but(bands=[mk.Band(DOT, up=2, colours=colours), mk.Field()]) for colours in ("swap", "keep"))
    table = mk.sweep({"good": good, "bad": bad}, across=[3, 6], up=[1, 10], batch=mk.Batch(progress=False)).table
    assert list(table["can be worked"]) == [True] * 4 + [False] * 4
    assert table["why not"][5:].str.startswith("In band 1, dot, rows 1 to 6: Row").all()


# ---- files -----------------------------------------------------------------------------------------------------------


def test_designs_of_bands_are_opened_as_they_were_saved_compared_and_sent(tmp_path):
    rng, seen = np.random.default_rng(21), 0
    while seen < 40:
        found = some_design(rng)
        if found is None:
            continue
        design, seen = found[0], seen + 1
        again = design_from_json(design_to_json(design))
        assert again == design
        assert again.bands == design.bands
        assert again.picture == design.picture
        assert mk.compare(design, again).same
        assert pickle.loads(pickle.dumps(design)).picture == design.picture
        assert mk.compare(design, design.but(bands=None)).decisions[0].what == "bands"
        made = {}
        exec(python_of(design), made)
        assert made["design"] == design
    mk.save(scarf(), tmp_path / "scarf.design")
    assert mk.load(tmp_path / "scarf.design") == scarf()


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ('"kind": "divider"', '"kind": "ribbon"', r"bands.*ribbon"),
        ('"rows": 3,', '"rows": 4,', r"bands.*rows.*4"),
        ('"kind": "field"', '"kind": "plain"', r"bands"),
        ('"fit": "whole"', '"fit": "stretch"', r"bands.*fit.*stretch"),
        ('"across": 3', '"across": 4', r"Band 1, dot, does not fill the 16 stitches of the field"),
        (
            '"balance_up": 0,\n        "fit"',
            '"balance_up": 3,\n        "fit"',
            r"`balance_up` must be .* 0 to 2; got 3",
        ),
    ],
)
def test_a_file_whose_bands_are_wrong_says_where(old, new, sentence):
    text = design_to_json(scarf())
    assert old in text
    with pytest.raises(FileError, match=f"(?s){sentence}"):
        design_from_json(text.replace(old, new, 1))


# ---- what cannot be --------------------------------------------------------------------------------------------------

TALL = mk.Motif.from_text(
    """
    ##
    #.
    ##
    .#
    """,
    first="CC",
    name="tall",
)


def test_a_band_that_cannot_be_worked_is_named_with_its_rows_and_mended():
    bad = mk.Motif.from_text(
        """
        ...
        .#.
        .#.
        .#.
        .#.
        ...
        """,
        first="CC",
        name="bad",
    )
    order = [mk.Band(DOT), mk.Field(), mk.Band(bad, fit="fill", up=2)]
    design = scarf().but(bands=mk.Bands(order))
    with pytest.raises(UnworkableError) as error:
        design.layout.must_work()
    rows = design.layout.band_rows[-1]
    assert f"In band 3, bad, rows {rows.first_row} to {rows.last_row}: " in str(error.value)
    assert "`design.mended()`" in str(error.value)
    wrong = {finding.row for finding in error.value.report.findings if finding.severity == "error"}
    assert wrong
    assert wrong <= set(range(rows.first_row, rows.last_row + 1))
    mended = design.mended()
    assert mended.layout.workable
    assert mended.motif == design.motif
    assert mended.bands.order[:2] == design.bands.order[:2]
    assert mended.bands.order[2].motif != bad


def test_squares_are_mended_wherever_they_alone_are_wrong():
    rng = np.random.default_rng(31)
    for _ in range(60):
        bands = [
            mk.Band(
                mk.Motif(rng.random((int(rng.integers(1, 7)), 3)) < 0.5, rng.choice(["MC", "CC"]).item()),
                up=int(rng.integers(1, 4)),
                colours="swap",
                fit=rng.choice(["whole", "fill", "centre"]).item(),
                **turns(rng),
            )
            for _ in range(int(rng.integers(1, 4)))
        ]
        motif = mk.Motif(rng.random((int(rng.integers(1, 7)), 6)) < 0.5)
        order = [
            *bands,
            mk.Field(),
            mk.Columns([mk.Band(bands[0].motif, up=2, colours="swap"), mk.Plain(1)], colours="swap", fit="fill"),
        ]
        step = rng.choice(["divider", "swap"]).item()
        design = mk.Design(motif, up=int(rng.integers(1, 4)), bands=mk.Bands(order, step=step)).but(colours="swap")
        mended = design.mended()
        assert mended.layout.workable
        assert can_be_worked(mended.picture.overlaid[::-1])
        assert (mended is design) == design.layout.workable


def test_what_would_cure_a_piece_is_said_and_does():
    turned = scarf().but(colours="keep")
    with pytest.raises(UnworkableError, match=r'Use colours="swap"\.') as error:
        turned.counts  # noqa: B018
    assert turned.but(**error.value.cures[0].options).layout.workable
    of_band = scarf().but(bands=[mk.Band(DOT, up=2), mk.Field()])
    with pytest.raises(UnworkableError, match=r'Give band 1, dot, colours="swap"\.'):
        of_band.counts  # noqa: B018
    assert scarf().but(bands=[mk.Band(DOT, up=2, colours="swap"), mk.Field()]).layout.workable


def test_plain_rows_part_bands_that_would_meet_in_overlaid_squares():
    ends_overlaid = mk.Motif.from_text("#.\n..", name="a")  # on row colours MC, CC: row 2 is overlaid at the right
    assert ends_overlaid.overlaid.tolist() == [[False, True], [False, False]]
    begins_overlaid = mk.up_down(ends_overlaid).named("b")
    order = [mk.Band(ends_overlaid, up=2), mk.Band(begins_overlaid), mk.Plain(2), mk.Field()]

    for step in ("divider", "swap"):
        design = scarf().but(bands=mk.Bands(order, step=step))
        assert design.layout.workable
        assert any("put in" in sentence for sentence in design.said)
    meets = [order[0], mk.Band(mk.counterchange(begins_overlaid)), *order[2:]]
    parted = scarf().but(bands=mk.Bands(meets))
    assert parted.layout.workable
    refused = scarf().but(bands=mk.Bands(meets, step="refuse"))
    assert not refused.layout.workable
    with pytest.raises(UnworkableError, match=r'step="divider".*In band 1, a, rows 1 to 4; band 2, b, rows 5 to 6: '):
        refused.counts  # noqa: B018
    assert parted.said[0] == (
        "Rows 5 and 6 are plain and were put in, because band 2, b, cannot be worked right on top of what is below it."
    )


@pytest.mark.parametrize("step", ["divider", "swap", "refuse"])
def test_colours_are_kept_in_step_as_it_was_chosen(step):
    bands = mk.Bands([mk.Field(), mk.Band(DOT)], step=step)

    def design():
        return mk.Design(LEAF, GAUGE, across=3, bands=bands)

    if step == "refuse":
        with pytest.raises(OptionError, match=r'Band 2, dot, begins on MC.*5 rows below.*row 6 to CC.*step="swap"'):
            design()
        return
    rows, dot = design().picture.grid[::-1, 1:-1], DOT.grid[::-1]
    if step == "divider":
        assert design().said == ("Row 6 is plain and was put in, so that band 2, dot, begins on its colour.",)
        assert np.array_equal(rows[6:, :3], dot)
        assert rows[5].all()
    else:
        assert design().said == ("Band 2, dot, has its colours swapped, so that it begins on the colour of its row.",)
        assert np.array_equal(rows[5:, :3], ~dot)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: mk.Bands([]), r"`order` is empty: give one band at least, such as mk\.Field"),
        (lambda: mk.Design(LEAF, bands=[]), r"`bands` is empty"),
        (lambda: mk.Bands("field"), r"`order` must be several bands, as a list; got 'field'"),
        (lambda: mk.Bands([LEAF]), r"`order\[0\]` must be a `Band`, `Columns`.*got <Motif"),
        (lambda: mk.Bands([mk.Plain()] * 1001), r"at most 1,000 bands; got 1,001"),
        (lambda: mk.Bands.mirrored([mk.Field()]), r"`end` is what lies below the field"),
        (lambda: mk.Design(LEAF, bands=[mk.Plain(2)]), r"have no field: put mk\.Field\(\)"),
        (lambda: mk.Design(bands=[mk.Field()]), r"have a field, so the design needs its motif"),
        (lambda: mk.Design(bands=[mk.Plain(2)]), r"No band gives the width"),
        (lambda: mk.Design(bands=[mk.Band(LEAF, fit="fill")]), r"No band gives the width"),
        (lambda: mk.Design(bands=[mk.Band(LEAF, up=2)], up=3), r"Band 1 is the field and has up=2, the design up=3"),
        (lambda: mk.Plain(0), r"`count` must be a whole number from 1 to 10,000; got 0"),
        (lambda: mk.Divider(4), r"`rows` must be a whole number from 1 to 3; got 4"),
        (lambda: mk.Divider(colour="red"), r"`colour` must be one of 'MC', 'CC'; got 'red'"),
        (lambda: mk.Band(LEAF, fit="stretch"), r"`fit` must be one of 'whole', 'centre', 'fill'; got 'stretch'"),
        (lambda: mk.Band(LEAF, fit="fill", across=2), r"leave out `across` and `balance_across`; got 2 and 0"),
        (lambda: mk.Band(LEAF, balance_across=4), r"`balance_across` must be a whole number from 0 to 3; got 4"),
        (lambda: mk.Columns([mk.Plain(1)]), r"Columns need one motif at least"),
        (lambda: mk.Columns([mk.Band(LEAF, fit="fill")]), r"`columns\[0\]` fills its own width"),
        (lambda: mk.Columns([LEAF]), r"`columns\[0\]` must be a `Band`, a `Plain` or a `Field`; got <Motif"),
        (
            lambda: mk.Columns([mk.Band(LEAF), mk.Band(DOT)], heights="refuse"),
            r'column 1, leaf 5 rows, column 2, dot 3 rows\. Give heights="repeat" .* 15 rows, or heights="centre"',
        ),
        (
            lambda: mk.Columns([mk.Band(DOT), mk.Band(TALL)], step="refuse"),
            r'Column 2, tall, begins on CC and column 1, dot, on MC: give step="divider" .* or step="swap"',
        ),
        (
            lambda: mk.Columns([mk.Band(DOT), mk.Band(DOT.with_yarns(mk.Yarns(SAND, MOSS)))]),
            r"Columns are worked in the same rows, and so in the same yarns",
        ),
        (
            lambda: scarf().but(across=4),
            r"Band 1, dot, does not fill the 16 stitches of the field: 5 repeats across are only 15 stitches wide\. "
            r"All bands fill 12, 24, 36 and so on stitches, which are across=3, 6, 9 and so on of the field; or give "
            r'it fit="centre" or fit="fill"\.',
        ),
        (
            lambda: mk.Design(DOT, bands=[mk.Field(), mk.Band(LEAF, fit="centre")]),
            r"Band 2, leaf, does not fill the 3 stitches of the field: 1 repeat across is 4 stitches wide.*or give it "
            r'fit="fill"',
        ),
        (
            lambda: mk.Design(LEAF, bands=[mk.Field(), mk.Band(DOT, balance_across=1)]).but(in_the_round=True),
            r"In the round the last stitch meets the first.*`balance_across` of band 2, dot, must be 0; got 1",
        ),
        (
            lambda: scarf().but(balance_across=1),
            r"13 stitches of the field.*All bands fill 9, 21, 33 and so on stitches, which are across=2, 5, 8 and so",
        ),
        (
            lambda: mk.Design(
                mk.Motif(np.zeros((1, 101), bool)),
                bands=[mk.Field(), *(mk.Band(mk.Motif(np.zeros((1, wide), bool))) for wide in (97, 103))],
            ),
            r"Band 2 does not fill the 101 stitches of the field.*There is no width that all bands fill as they are",
        ),
        (lambda: scarf().but(up=5000), r"at most 10,000 rows"),
        (lambda: scarf().but(across=3_000_000), r"at most 10,000 rows or columns"),
        (
            lambda: mk.Columns([mk.Band(DOT, across=9999, up=9999)] * 1000),
            r"at most 10,000 rows or columns .* got 29,997 × 29,997,000",
        ),
        (
            lambda: mk.Columns([mk.Band(mk.Motif(np.zeros((rows, 1), bool))) for rows in (97, 89, 83)]),
            r"at most 10,000 rows or columns .* got 716,539 × 3",
        ),
    ],
)
def test_what_cannot_be_bands_is_refused_in_a_sentence(make, sentence):
    with pytest.raises((OptionError, MotifError), match=f"(?s){sentence}"):
        make()


def test_skeins_name_the_yarns_of_all_bands():
    panel = mk.Band(DOT.with_yarns(mk.Yarns(SAND, MOSS)))
    design = scarf().but(bands=[panel, mk.Field()])
    skein = mk.Skein(105, 50)
    with pytest.raises(OptionError, match=r"`skeins` must name each yarn.*'cream'.*'sand'"):
        design.but(skeins={"cream": skein, "ink blue": skein}).usage  # noqa: B018
    names = ["cream", "ink blue", "sand", "moss"]
    usage = design.but(skeins=dict.fromkeys(names, skein)).usage
    assert sorted(total.yarn.name for total in usage.by_yarn) == sorted(names)


def test_what_was_done_to_columns_is_said():
    columns = mk.Columns([mk.Band(DOT), mk.Plain(2), mk.Band(TALL)], heights="centre")
    assert columns.motif.shape == (5, 7)
    assert columns.said == (
        "Column 3, tall, begins a row higher, so that it keeps its colours.",
        "Column 1, dot, has 0 plain rows below and 2 above.",
        "Column 3, tall, has 1 plain row below and 0 above.",
    )
    repeated = mk.Columns([mk.Band(DOT, colours="swap"), mk.Band(TALL)], step="swap")
    assert repeated.motif.shape == (12, 5)
    assert repeated.said == (
        "The colours of column 2, tall, are swapped, so that it begins on MC.",
        "Column 1, dot, is laid 4 times up, to 12 rows.",
        "Column 2, tall, is laid 3 times up, to 12 rows.",
    )
    design = scarf().but(bands=[mk.Field(), mk.Columns([mk.Band(DOT), mk.Band(TALL)], fit="centre", step="swap")])
    assert "Band 2, dot + tall: Column 2, tall, is laid 3 times up, to 12 rows." in design.said
    assert "Band 2, dot + tall, has 10 of 12 stitches: 1 plain at the right, 1 at the left." in design.said


# ---- the field among columns -------------------------------------------------------------------------------

WINDOW = mk.Motif.from_text("......\n.#..#.\n......\n..##..\n......", name="window")
FLECK = mk.Motif.from_text("...\n#.#\n...", name="spot")


def overlaid_by_hand(motif):
    """The squares that do not show their row's colour, from the bottom up, each in its own place as seen."""
    rows = motif.to_text().split()[::-1]
    cc_first = motif.first == "CC"
    return [[(square == "#") != ((row % 2 == 0) == cc_first) for square in line] for row, line in enumerate(rows)]


@pytest.mark.parametrize("turned", [{}, {"mirrored": True}, {"upside_down": True}])
def test_a_column_takes_the_motif_of_the_design_whatever_that_is(turned):
    columns = mk.Columns([mk.Plain(1), mk.Field(**turned), mk.Band(FLECK, colours="swap")], fit="centre")
    assert columns.takes_field
    assert str(columns) == "the field + spot"
    bands = mk.Bands([columns, mk.Plain(2), mk.Field()])
    pictures = []
    for motif in (WINDOW, mk.Motif.from_text(".....\n###.#\n.....", name="bar")):
        design = mk.Design(motif, across=6, surround=mk.Surround(edges=0), bands=bands)
        high = math.lcm(len(motif.grid), 3)
        one, dot = overlaid_by_hand(motif), overlaid_by_hand(FLECK)
        if turned.get("mirrored"):
            one = [line[::-1] for line in one]
        if turned.get("upside_down"):
            one = one[::-1]
        block = [[False, *one[row % len(one)], *dot[row % 3]] for row in range(high)]
        times, left = divmod(6 * motif.shape[1], len(block[0]))
        wanted = [[False] * ((left + 1) // 2) + block[row] * times + [False] * (left // 2) for row in range(high)]
        found = design.picture.overlaid[::-1][:high]
        assert found.any()
        assert found.tolist() == wanted
        assert design.layout.workable
        assert design.counts.sum(axis=0).tolist() == count_rows(design.chart).stitches.sum(axis=0).tolist()
        pictures.append(design.picture)
    assert design.but(motif=WINDOW).picture == pictures[0]


def test_the_field_among_columns_is_kept_in_a_file_and_in_code(tmp_path):
    columns = mk.Columns([mk.Field(mirrored=True), mk.Plain(2), mk.Field()])
    design = mk.Design(WINDOW, across=7, bands=[columns, mk.Field()], surround=mk.Surround(edges=0))
    mk.save(design, tmp_path / "beside.design")
    assert mk.load(tmp_path / "beside.design") == design
    made = {}
    exec(python_of(design), made)
    assert made["design"] == design
    assert made["design"].picture == design.picture
    assert pickle.loads(pickle.dumps(design)) == design


def test_the_field_among_columns_is_refused_where_it_cannot_stand():
    columns = mk.Columns([mk.Field(), mk.Band(FLECK)])
    with pytest.raises(OptionError, match="These columns take the motif of a design"):
        columns.motif  # noqa: B018
    with pytest.raises(OptionError, match="have no field"):
        mk.Design(WINDOW, bands=[columns])
    other = WINDOW.with_yarns(mk.Yarns(mk.Yarn("oat", "#efe3c8"), mk.Yarn("sea", "#123f5a")))
    with pytest.raises(OptionError, match=r"Band 1, the field \+ spot,: Columns are worked in the same rows"):
        mk.Design(other, across=3, bands=[columns, mk.Field()])
    with pytest.raises(OptionError, match="one motif at least: give a `Band` or a `Field`"):
        mk.Columns([mk.Plain(2)])
    with pytest.raises(OptionError, match="`up` must be"):
        mk.Columns([mk.Field()], up=0)
    # a design without a motif takes that of another band, and so do the columns
    taken = mk.Design(bands=[mk.Columns([mk.Field(), mk.Plain(1)], fit="centre"), mk.Band(WINDOW, across=4)])
    assert taken.motif == WINDOW
    bad = mk.Motif.from_text("##..\n##..\n##..\n....", name="bad")
    torn = mk.Design(bad, across=4, bands=[mk.Columns([mk.Field()]), mk.Field()], surround=mk.Surround(edges=0))
    assert not torn.layout.workable
    assert torn.mended().layout.workable
    assert torn.mended().bands == torn.bands
