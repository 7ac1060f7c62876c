"""The technical edit of patterns in several sizes: figures are judged size by size, and each fault is found alone."""

import re
from dataclasses import replace

import pytest
from test_named_sizes import GAUGE, LEAF

import mosaickit as mk
from mosaickit.publish import EDIT_KINDS
from mosaickit.publish.editing.of_sizes import SIZE_KINDS
from mosaickit.publish.editing.of_text import draft_of_text

NAMES = ("S", "M", "L")
COUNTS = ((2, 2), (3, 3), (4, 5))
DESIGN = mk.Design(LEAF, GAUGE, across=2, up=2).but(
    sizes=[mk.NamedSize(name, across=across, up=up) for name, (across, up) in zip(NAMES, COUNTS, strict=True)],
    colours="swap",
    title="Leaf mat",
    skeins=mk.Skein(105, 50),
)
SHAPES = [DESIGN.in_size(name).shape for name in NAMES]
# as one stitch and one row measure at the gauge
CM = [(stitches * GAUGE.stitch_width_cm, rows * GAUGE.row_height_cm) for rows, stitches in SHAPES]
PAGE = DESIGN.but(blocked_cm=CM[0]).page()
OF_FIGURES = [kind for kind in EDIT_KINDS if kind.severity == "error"]


def series(values):
    first, *others = values
    return f"{first} ({', '.join(others)})"


def text_of(sizes=NAMES, cm=CM, most=(5, 12, 25), skeins=(1, 1, 1)):
    """An author's text in several sizes."""
    charts = {name: DESIGN.in_size(name).chart for name in sizes}
    of_name = dict(zip(NAMES, zip(cm, most, skeins, strict=True), strict=True))
    own = [of_name[name] for name in sizes]
    wide, high = (series([f"{each[0][way]:.1f}" for each in own]) for way in (0, 1))
    wide_in, high_in = (series([f"{each[0][way] / 2.54:.1f}" for each in own]) for way in (0, 1))
    bought, at_most = (series([str(each[at]) for each in own]) for at in (2, 1))
    yarn = f"{bought} skeins of 105 m / 50 g; up to {at_most} m"
    return (
        f"Leaf mat\n\nFinished size: {wide} cm wide × {high} cm high, {wide_in} in wide × {high_in} in high\n"
        f"Gauge: {GAUGE.stitches:g} sts by {GAUGE.rows:g} rows = 10 cm (4 in) in the mosaic pattern, blocked\n"
        f"Materials:\nMC: Pier DK in oat, 100% cotton, {yarn}\n\n{mk.write_sizes(charts)}"
    )


def found(pattern):
    return [(finding.kind, finding.message) for finding in mk.tech_edit(pattern, kinds=OF_FIGURES).findings]


def with_size(name, change):
    sizes = tuple(replace(size, page=change(size.page)) if size.name == name else size for size in PAGE.sizes)
    return replace(PAGE, sizes=sizes)


def test_nothing_is_wrong_with_a_page_and_a_text_that_are_right():
    assert found(PAGE) == []
    assert found(text_of()) == []
    report = mk.tech_edit(text_of())
    assert not [each for each in report.unjudged if "size follows" in each]
    assert [(own.name, own.sizes[0].cm) for own in draft_of_text(text_of()).sized] == [
        (name, (round(wide, 1), round(high, 1))) for name, (wide, high) in zip(NAMES, CM, strict=True)
    ]


FAULTS_OF_PAGES = {
    "too few skeins": (
        lambda: with_size(
            "M",
            lambda page: replace(
                page, yarns=tuple(replace(yarn, skeins=1, ball=mk.Skein(3, 50)) for yarn in page.yarns[:1])
            ),
        ),
        "Size M: 1 × 3 m are 3 m",
    ),
    "amounts disagree": (
        lambda: with_size(
            "L",
            lambda page: replace(
                page, yarns=(replace(page.yarns[0], high_m=page.yarns[0].high_m - 1), *page.yarns[1:])
            ),
        ),
        "Size L: Up to",
    ),
    "size does not follow from gauge": (
        lambda: with_size("M", lambda page: replace(page, publishing=replace(page.publishing, blocked_cm=CM[2]))),
        f"Size M: {CM[2][0]:.1f} cm",
    ),
    "sizes out of order": (
        lambda: replace(PAGE, sizes=(PAGE.sizes[0], PAGE.sizes[2], PAGE.sizes[1])),
        "Size M is smaller than size L, which stands before it.",
    ),
    "not a number for each size": (
        lambda: replace(
            PAGE,
            sized=(
                replace(
                    PAGE.sized[0],
                    rows=(*PAGE.sized[0].rows[:-1], (*PAGE.sized[0].rows[-1][:2], "12 (18) sts.")),
                ),
            ),
        ),
        "12 (18) are 2 numbers, and the pattern has 3 sizes.",
    ),
}


@pytest.mark.parametrize("kind", FAULTS_OF_PAGES)
def test_a_fault_in_one_size_of_a_page_is_found_alone(kind):
    seeded, message = FAULTS_OF_PAGES[kind]
    ((name, said),) = found(seeded())
    assert (name, said[: len(message)]) == (kind, message)


FAULTS_OF_TEXTS = {
    "too few skeins": (lambda: text_of(most=(5, 120, 25)), "Size M: 1 × 105 m are 105 m, and it may take up to 120 m."),
    "size does not follow from gauge": (lambda: text_of(cm=(CM[0], CM[1], CM[0])), f"Size L: {CM[0][0]:.1f} cm"),
    "units disagree": (
        lambda: text_of().replace(f"{CM[1][0] / 2.54:.1f}, ", f"{CM[1][0] / 2.54 + 2:.1f}, ", 1),
        f"Size M: {CM[1][0]:.1f} cm are",
    ),
    "sizes out of order": (lambda: text_of(("S", "L", "M")), "Size M is smaller than size L"),
    "not a number for each size": (
        lambda: re.sub(r"up to 5 \(12, 25\)", "up to 5 (12)", text_of()),
        "5 (12) are 2 numbers, and the pattern has 3 sizes.",
    ),
}


@pytest.mark.parametrize("kind", FAULTS_OF_TEXTS)
def test_a_fault_in_one_size_of_a_text_is_found_alone(kind):
    seeded, message = FAULTS_OF_TEXTS[kind]
    ((name, said),) = found(seeded())
    assert (name, said[: len(message)]) == (kind, message)


def test_all_kinds_of_sizes_have_been_found_in_a_page_and_in_a_text():
    kinds = {kind.name for kind in SIZE_KINDS}
    assert kinds <= set(FAULTS_OF_PAGES)
    assert kinds <= set(FAULTS_OF_TEXTS)


def test_what_is_said_for_one_size_only_is_read_for_that_size():
    text = text_of().replace("Finished size:", "For size M, Finished size:", 1)
    assert [len(own.sizes) for own in draft_of_text(text).sized] == [0, 1, 0]


@pytest.mark.parametrize("language", ["en", "de"])
def test_an_untouched_page_in_sizes_with_a_border_has_nothing_wrong(language):
    design = DESIGN.but(border_rounds=2, border_ratio=(1, 1), language=language)
    assert found(design) == []
    # what was measured has the border too
    wider, higher = design.in_size("S").edging.adds_cm
    assert found(design.but(blocked_cm=(CM[0][0] + wider, CM[0][1] + higher))) == []
    one = design.but(sizes=(), blocked_cm=CM[0])
    assert [kind for kind, _ in found(one)] == ["size does not follow from gauge"]
