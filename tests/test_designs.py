"""Designs: everything that follows from one is what the verbs give when they are called by hand, one after the other.

The picture is held against a rule that says of each square which square of the motif it shows; it shares nothing with
the layouts, which know one repeat and sums only.
"""

import pickle
from dataclasses import fields, replace
from functools import cached_property
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import mosaickit as mk
from mosaickit.errors import OptionError, UnworkableError
from mosaickit.sizes.designs.changing import _BEHIND, PARTS_OF_DESIGN
from mosaickit.sizes.designs.comparing import FIELD_WORDS
from mosaickit.sizes.designs.documents import DesignForm

LAYINGS = ["straight", "brick", "half-drop", "mirrored"]
GAUGE = mk.Gauge(16, 18)
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
YARNS = mk.Yarns(mc=mk.Yarn("oat", "#e8dcc0"), cc=[(1, mk.Yarn("moss", "#3d5a3a")), (2, mk.Yarn("plum", "#5b2a4e"))])


def shown(design):
    """Say square by square, from the lower right, what the repeats show; (rows, stitches) of the repeats, as seen."""
    motif, (rows, columns) = design.motif, design.motif.shape
    seen = motif.grid[::-1, ::-1]  # row 1 first, stitch 1 first
    shared = design.laying == "mirrored" and design.seam == "shared"
    wide, high = columns - shared, rows - shared
    across, up = design.across if wide else 1, design.up if high else 1
    beside, above = design.surround.closing(motif.shape)
    all_stitches, all_rows = wide * across + shared + beside, high * up + shared + above
    out = np.zeros((all_rows, all_stitches), dtype=bool)

    def mirrored(place, size, step):
        if not step:
            return 0
        copy, off = divmod(place, step)
        return off if copy % 2 == 0 else size - 1 - off

    for r in range(all_rows):
        for s in range(all_stitches):
            if design.laying == "mirrored":
                row = mirrored(r, rows, high)
                # columns are counted from the left of the repeats; those that close a row lie further left
                stitch = columns - 1 - mirrored(wide * across + shared - 1 - s, columns, wide)
            else:
                brick, stitch = divmod(r, rows)[0] % 2, s
                if design.laying == "brick" and brick:
                    stitch = s + columns // 2
                dropped = design.laying == "half-drop" and (across - 1 - s // columns) % 2
                row = (r + rows // 2 * dropped) % rows
                stitch %= columns
            other = (r - row) % 2 == 1 and design.surround.colours == "swap"
            out[r, s] = seen[row, stitch] ^ other
    return out[::-1, ::-1]


def by_hand(design):
    """The whole piece from the rule above and the verbs for what stands around."""
    inner = mk.Motif(shown(design), design.motif.first)
    around = design.surround
    framed = mk.frame(inner, around.rings, must_work=False)
    edges = around.edge_stitches
    return mk.pad(framed, left=edges, right=edges, bottom=around.rows_below, top=around.rows_above, must_work=False)


def random_design(rng):
    rows, columns = int(rng.integers(1, 7)), int(rng.integers(1, 7))
    motif = mk.Motif(rng.random((rows, columns)) < 0.5)
    if rng.random() < 0.8:
        motif = mk.nearest_workable(motif).motif
    yarns = YARNS if rows > 1 and rng.random() < 0.5 else mk.Yarns()
    motif = mk.Motif(motif.grid, rng.choice(["MC", "CC"]).item(), yarns, "a motif")
    in_the_round = bool(rng.random() < 0.3)
    surround = mk.Surround(
        balance_across=0 if in_the_round else int(rng.integers(0, columns)),
        balance_up=int(rng.integers(0, rows)),
        rings=0 if in_the_round else int(rng.choice([0, 0, 1, 2])),
        edges=0 if in_the_round else [None, 0, 2][rng.integers(3)],
        rows_below=int(rng.integers(0, 3)),
        rows_above=int(rng.integers(0, 4)),
        colours=rng.choice(["keep", "swap", "swap"]).item(),
        in_the_round=in_the_round,
    )
    return mk.Design(
        motif,
        GAUGE,
        across=int(rng.integers(1, 6)),
        up=int(rng.integers(1, 6)),
        laying=rng.choice(LAYINGS).item(),
        seam=rng.choice(["double", "shared"]).item(),
        surround=surround,
        reversible=bool(rng.random() < 0.5),
        hand=rng.choice(["right", "left"]).item(),
        yarn_settings=mk.YarnSettings(
            between_rows=rng.choice(["carried", "cut"]).item(), tail_cm=float(rng.integers(5, 20))
        ),
        by_thread=bool(rng.random() < 0.2),
    )


@pytest.mark.thorough
def test_all_that_follows_from_2000_designs_is_what_the_verbs_give_by_hand():
    rng = np.random.default_rng(5)
    worked = {}
    for _ in range(2000):
        design = random_design(rng)
        piece = by_hand(design)
        assert np.array_equal(design.picture.grid, piece.grid), design
        assert design.picture.first == piece.first
        assert design.shape == piece.shape
        picture = design.picture
        around, cut = design.surround.in_the_round, design.yarn_settings.between_rows
        assert str(design.report) == str(mk.check(picture, in_the_round=around, hand=design.hand, between_rows=cut))
        assert design.layout.workable == design.report.ok
        assert tuple(design.size) == GAUGE.size_cm(*piece.shape)
        if not design.report.ok:
            for follows in ("chart", "usage"):
                with pytest.raises(UnworkableError) as refused:
                    getattr(design, follows)
                assert not refused.value.report.ok
            continue
        worked[design.laying] = worked.get(design.laying, 0) + 1
        chart = mk.compile_chart(picture, design.reversible, hand=design.hand, in_the_round=around)
        assert design.chart == chart
        assert np.array_equal(design.fabric.front, mk.work(chart).front)
        assert design.counts.sum() == chart.stitches.size
        for role, counted in zip(("MC", "CC"), design.counts, strict=True):
            of_role = chart.stitches[[colour == role for colour in chart.row_colours]]
            assert counted.tolist() == np.bincount(of_role.ravel(), minlength=5).tolist()
        lengths = mk.lengths_of_thread(GAUGE) if design.by_thread else None
        yarn_settings = mk.YarnSettings(between_rows=cut, tail_cm=design.yarn_settings.tail_cm, lengths=lengths)
        usage = mk.yarn_usage(chart, GAUGE, yarn_settings=yarn_settings)
        assert design.usage.likely_m == pytest.approx(usage.total_m.sum())
        assert design.usage.high_m == pytest.approx(usage.high_m.sum())
        for mine, theirs in zip(design.usage.by_yarn, usage.by_yarn, strict=True):
            assert mine.yarn == theirs.yarn
            assert mine.likely_m == pytest.approx(theirs.likely_m)
        repeat = design.layout.motif.shape[1] if design.layout.across > 1 else None
        start = design.first_repeat and design.first_repeat[1][0]
        assert str(design.rows) == str(mk.write_rows(chart, between_rows=cut, repeat=repeat, repeat_from=start))
    assert min(worked.get(laying, 0) for laying in LAYINGS) > 100, worked


CHANGES = {
    "gauge": mk.Gauge(20, 22),
    "across": 3,
    "up": 2,
    "laying": "brick",
    "rings": 1,
    "edges": 2,
    "rows_above": 1,
    "tail_cm": 9,
    "between_rows": "cut",
    "title": "Leaf scarf",
    "reversible": True,
    "hand": "left",
    "hook_mm": 4.5,
    "motif": LEAF.named("other leaf"),
}


@given(st.lists(st.sampled_from(sorted(CHANGES)), min_size=2, max_size=5, unique=True))
def test_the_order_of_changes_does_not_matter_and_each_may_come_by_itself(names):
    design = mk.Design(LEAF, GAUGE)
    at_once = design.but(**{name: CHANGES[name] for name in names})
    for order in list(permutations(names))[:6]:
        one = design
        for name in order:
            one = one.but(**{name: CHANGES[name]})
        assert one == at_once
        assert hash(one) == hash(at_once)


FOLLOWS = ["edging", "shape", "layout", "picture", "report", "chart", "fabric", "counts", "usage", "rows", "lengths"]
FOLLOWS += ["in_sizes"]


@pytest.mark.parametrize(
    "name", [*CHANGES, "swatches", "by_thread", "colours", "balance_up", "margin", "terms", "phrasing", "language"]
)
def test_what_was_worked_out_goes_on_only_where_it_is_still_right(name):
    more = {
        "swatches": [mk.Swatch(mk.compile_chart(LEAF), GAUGE, metres={"all": 1.4})],
        "by_thread": True,
        "colours": "swap",
        "balance_up": 1,
        "margin": 0.3,
        "terms": "UK",
        "phrasing": "shortest",
        "language": "de",
    }
    change = {name: {**CHANGES, **more}[name]}
    plain = mk.Surround(colours="keep" if name == "colours" else "swap")  # of five rows, so laid up in swapped colours
    known = mk.Design(LEAF, GAUGE, surround=plain)
    for each in FOLLOWS:
        getattr(known, each)
    changed, fresh = known.but(**change), mk.Design(LEAF, GAUGE, surround=plain).but(**change)
    for each in FOLLOWS:
        assert str(getattr(changed, each)) == str(getattr(fresh, each)), each
        assert np.array_equal(changed.picture.grid, fresh.picture.grid)


def test_nothing_is_worked_out_fresh_that_did_not_change():
    known = mk.Design(LEAF, GAUGE)
    for each in FOLLOWS:
        getattr(known, each)
    titled = known.but(title="Leaf scarf", hook_mm=5)
    assert titled.chart is known.chart
    assert titled.usage is known.usage
    assert titled.report is known.report
    assert titled.rows is known.rows
    assert "rows" not in vars(known.but(terms="UK"))
    assert "rows" not in vars(known.but(between_rows="cut"))
    wider = known.but(gauge=mk.Gauge(20, 22))
    assert wider.fabric is known.fabric
    assert wider.counts is known.counts
    assert "usage" not in vars(wider)
    assert "chart" not in vars(known.but(across=2))


def test_a_design_travels_without_what_was_worked_out():
    design = mk.Design(LEAF, GAUGE).but(across=2)
    assert len(design.rows.lines) > 0
    again = pickle.loads(pickle.dumps(design))
    assert again == design
    assert not set(FOLLOWS) & set(vars(again))


def test_a_motif_that_cannot_be_worked_is_a_design_and_is_mended_as_it_is_laid():
    rng = np.random.default_rng(8)
    mended = refused = 0
    for _ in range(300):
        design = random_design(rng)
        try:
            better = design.mended()
        except UnworkableError:
            refused += 1
            continue
        assert better.report.ok
        assert better == design.but(motif=better.motif)
        assert (better is design) == design.report.ok
        mended += better is not design
        same = [axes for axes in ((0,), (1,), (0, 1)) if np.array_equal(*flips(design.motif.overlaid, axes))]
        assert all(np.array_equal(*flips(better.motif.overlaid, axes)) for axes in same)
    assert mended > 50
    assert refused < 100


def flips(overlaid, axes):
    return overlaid, np.flip(overlaid, axes)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"acros": 2}, "A design has no `acros`: did you mean `across`"),
        ({"zzz": 2}, "A design has no `zzz`: known are across, "),
        ({"across": 0}, "`across` must be a whole number of 1 or more; got 0"),
        ({"laying": "herringbone"}, "`laying` must be one of 'straight', 'brick', 'half-drop', 'mirrored'"),
        ({"rings": -1}, "`rings` must be a whole number from 0"),
        ({"balance_across": 4}, "`balance_across` must be below the 4 stitches of the repeat"),
        ({"in_the_round": True, "edges": 2}, "In the round the last stitch meets the first"),
        ({"surround": 3}, "`surround` must be a `Surround`; got 3"),
        ({"surround": 3, "rings": 1}, "`surround` must be a `Surround`; got 3"),
        ({"gauge": "16 by 18"}, "`gauge` must be a `Gauge` or None"),
        ({"motif": "leaf.json"}, "`motif` must be a `Motif`; got 'leaf.json'"),
        ({"notes": 3}, "`notes` must be a text, or several; got 3"),
        ({"swatches": [3]}, r"`swatches\[0\]` must be a `Swatch`; got 3"),
        ({"by_thread": True, "lengths": mk.lengths_of_thread(GAUGE)}, "Lengths of your own are told once"),
        ({"hook_mm": 0}, "`hook_mm` must be a number of mm above 0"),
    ],
)
def test_a_wrong_change_is_refused_in_a_sentence(change, sentence):
    with pytest.raises(OptionError, match=sentence):
        mk.Design(LEAF, GAUGE).but(**change)


@pytest.mark.parametrize("name", [each.name for each in fields(mk.Design)])
def test_a_change_is_checked_as_a_new_design_is(name):
    wrong = object()
    with pytest.raises(OptionError) as made:
        mk.Design(**{"motif": LEAF, "gauge": GAUGE, name: wrong})
    with pytest.raises(OptionError) as changed:
        mk.Design(LEAF, GAUGE).but(**{name: wrong})
    assert str(changed.value) == str(made.value)


def test_a_change_is_kept_in_the_form_of_a_new_design():
    given = {
        "across": np.int64(3),
        "reversible": np.True_,
        "hook_mm": 4,
        "swatches": [],
        "sizes": [],
        "photographs": [],
    }
    changed, made = mk.Design(LEAF, GAUGE).but(**given), mk.Design(LEAF, GAUGE, **given)
    assert changed == made
    assert [type(getattr(changed, name)) for name in given] == [int, bool, float, tuple, tuple, tuple]
    with pytest.raises(mk.errors.MotifError):
        changed.but(up=10_001)
    with pytest.raises(OptionError, match="In the round rows have no ends"):
        changed.but(ends="fringe", in_the_round=True)


def test_what_needs_a_gauge_says_so():
    design = mk.Design(LEAF)
    for follows in ("size", "usage", "lengths"):
        with pytest.raises(OptionError, match=r"This design has no gauge.*design\.but\(gauge=mk\.Gauge"):
            getattr(design, follows)
    assert design.counts.sum() == 5 * 6


def test_every_decision_has_a_word_a_form_and_what_follows_from_it():
    decisions = {each.name for each in fields(mk.Design)} - {"motif", *PARTS_OF_DESIGN}
    inner = {each.name for kind in PARTS_OF_DESIGN.values() for each in fields(kind)}
    assert set(FIELD_WORDS) == decisions | inner
    assert not decisions & inner  # so that `but` knows which is meant
    assert set(DesignForm.model_fields) | {"editions"} == {each.name for each in fields(mk.Design)}
    assert {name.partition(".")[0] for behind in _BEHIND.values() for name in behind} == {
        each.name for each in fields(mk.Design)
    }
    worked_out = {name for name, each in vars(mk.Design).items() if isinstance(each, cached_property)}
    assert set(_BEHIND) == worked_out == {*FOLLOWS, "_sums", "sized_rows"}


def test_the_page_of_a_design_is_the_pattern_of_its_parts():
    yarn = mk.YarnSettings(between_rows="cut", skeins=mk.Skein(105, 50))
    words = mk.PatternWords(
        title="Leaf scarf",
        designer="The pier club",
        level="easy",
        intro="For a cold pier.",
        notes="Block it.",
        terms="UK",
        for_children=True,
    )
    design = mk.Design(LEAF, GAUGE, across=4, yarn_settings=yarn, words=words, hook_mm=4.5, reversible=True)
    by_hand = mk.pattern(
        mk.compile_chart(mk.edge_stitches(mk.repeat(LEAF, across=4), 1), True),
        title="Leaf scarf",
        designer="The pier club",
        gauge=GAUGE,
        terms="UK",
        yarn_settings=yarn,
        hook_mm=4.5,
        level="easy",
        intro="For a cold pier.",
        notes=["Block it."],
        for_children=True,
        repeat=4,
    )
    # where the first repeat was laid is known of a design only: its rows, and the stitches beside the edge stitch
    assert design.page() == replace(by_hand, first_repeat=((1, 5), (2, 5)))
    with pytest.raises(OptionError, match="This design has no gauge"):
        design.but(gauge=None).page()


@pytest.mark.parametrize("laying", LAYINGS)
@pytest.mark.parametrize("seam", ["double", "shared"])
@pytest.mark.parametrize(
    "change", [{"colours": "swap"}, {"across": 4}, {"up": 4}, {"laying": "brick"}, {"seam": "shared"}, {"across": 2}]
)
def test_the_repeats_that_were_counted_before_are_counted_again_only_where_they_are_the_same(laying, seam, change):
    known, fresh = (mk.Design(LEAF, GAUGE, across=3, up=3, laying=laying, seam=seam) for _ in range(2))
    assert known.layout.shape == known.picture.shape
    changed, fresh = known.but(**change), fresh.but(**change)
    assert changed.layout.overlaid == fresh.layout.overlaid
    assert changed.picture == fresh.picture
    assert np.array_equal(changed.picture.grid, by_hand(changed).grid)


def test_what_differs_is_said_also_where_the_same_words_stand_for_both():
    chart = mk.compile_chart(LEAF)
    one, other = (mk.Swatch(chart, GAUGE, metres={"all": took}) for took in (1.4, 1.5))
    design = mk.Design(LEAF, GAUGE, swatches=[one])
    found = mk.compare(design, design.but(swatches=[other]))
    assert "Swatches: 1 swatch, now 1 swatch, which are others" in str(found)
    smaller = design.but(motif=mk.crop(LEAF, stitches=(1, 3), must_work=False))
    assert "Size of the motif: 5 rows × 4 stitches, now 5 rows × 3 stitches" in str(mk.compare(design, smaller))


def test_stitches_and_yarn_are_compared_where_both_can_tell_of_them():
    bad = LEAF.with_grid(np.ones((5, 4), dtype=bool))
    design = mk.Design(bad, GAUGE)
    said = [str(each) for each in mk.compare(design, design.mended()).figures]
    assert said == ["can be worked: no, now yes"]
    known = mk.Design(LEAF, GAUGE)
    said = [each.what for each in mk.compare(known.but(gauge=None), known.but(rows_above=1)).figures]
    assert said == ["rows", "BLsc in all"]
    added = known.but(motif=LEAF.with_yarns(YARNS))
    assert {"oat, likely", "plum, likely", "cream, likely"} <= {each.what for each in mk.compare(known, added).figures}


def test_a_motif_named_by_blanks_alone_gives_no_title():
    design = mk.Design(LEAF.named(" "), GAUGE).but(colours="swap")
    assert design.title == "A design"
    assert design.page().title == "A design"
