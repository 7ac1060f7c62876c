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


class Refused(Exception):
    """What the hand cannot lay as it was asked."""


def mirrored_place(place, size, step):
    if not step:
        return 0
    copy, off = divmod(place, step)
    return off if copy % 2 == 0 else size - 1 - off


class Picture:
    """Rows from the bottom up, squares from the right; the colours of squares and of rows, True for CC; yarns of rows."""

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
    """Lay a motif, square by square; of it, from a stitch on, so many stitches."""
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
    rows, columns = band.motif.shape
    shared = band.laying == "mirrored" and band.seam == "shared"
    step = columns - shared
    if band.fit == "fill":
        across = 1
        while step * across + shared < width:
            across += 1
            if not step:
                raise Refused
        cut = step * across + shared - width
        picture, _ = laid(band, across, band.up, from_right=cut // 2, wide=width)
        return picture.turned(band.upside_down, band.mirrored)
    fits = [n for n in range(1, width + 1) if step * n + shared + band.balance_across <= width]
    across = band.across or max(fits, default=1)
    picture, wide = laid(band, across, band.up)
    if wide > width or (wide < width and band.fit == "whole"):
        raise Refused
    picture = picture.turned(band.upside_down, band.mirrored)
    right = (width - wide) // 2
    overlaid = np.pad(picture.overlaid, ((0, 0), (right, width - wide - right)))
    return from_overlaid(overlaid, picture.cc, picture.yarns)


def beside(columns):
    """Lay columns beside each other; gives a motif."""
    pictures = []
    for column in columns.columns:
        if isinstance(column, mk.Band):
            picture, wide = laid(column, column.across or 1, column.up)
            pictures.append((column, picture.turned(column.upside_down, column.mirrored)))
        else:
            pictures.append((column, None))
    bands = [(column, picture) for column, picture in pictures if picture is not None]
    cc = bands[0][1].cc
    high = {len(picture.squares) for _, picture in bands}
    off = [picture.cc != cc for _, picture in bands]
    if columns.step == "refuse" and any(off):
        raise Refused
    if columns.heights == "refuse" and len(high) > 1:
        raise Refused
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
            raise Refused
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
    except Refused:
        with pytest.raises(OptionError) as said:
            design_of(field, order, step, around)
        assert any(word in str(said.value) for word in ("does not fill", "begins on"))
        return None
    return design_of(field, order, step, around, **others), picture, put_in


def test_1500_orders_of_bands_are_the_picture_laid_by_hand_and_are_counted_without_it():
    rng, seen = np.random.default_rng(7), Counter()
    for _ in range(1500):
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
        assert np.array_equal(picture.grid, whole.grid) and picture.first == whole.first
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
        assert by_row.yarns == counted.yarns and by_row.row_colours == counted.row_colours
        usage = mk.yarn_usage(design.chart, GAUGE)
        assert design.usage.likely_m == pytest.approx(usage.total_m.sum())
        assert [total.yarn for total in design.usage.by_yarn] == [total.yarn for total in usage.by_yarn]
        assert [total.likely_m for total in design.usage.by_yarn] == pytest.approx(
            [total.likely_m for total in usage.by_yarn]
        )
    assert min(seen[kind] for kind in ("refused", "unworkable", "put in", "swapped", "columns", "many up")) > 30, seen
    assert seen["workable"] > 300, seen
