"""What an editor marks in the figures: size, gauge, skeins and contrast, which have to agree with one another."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from mosaickit.gauge import CM_PER_INCH
from mosaickit.motif import LEAST_CONTRAST
from mosaickit.publish.contents import length_words
from mosaickit.publish.editing.draft import Draft, DraftYarn, SizeFigures
from mosaickit.publish.editing.findings import EditKind, Marked
from mosaickit.publish.editing.measures import in_cm
from mosaickit.publish.editing.sources import CHECKLIST

SIZE_MARGIN = 0.05
"""By how much a stated size may be off what the gauge gives.

Common practice, no source; 4 in for 10 cm alone is 1.6 percent.
"""

UNITS_MARGIN = 0.03
"""By how much the same length in cm and in inches may differ: a trade's round numbers, as 4 in for 10 cm."""

SKEIN_MARGIN = 0.10
"""How much more than the sample took is bought at least.

10 to 15 percent, "Enough Yarn to Swatch", deviousknitter.com.
"""

_GAUGE_STITCH = re.compile(
    r"\bin\s+(?!\d)(?!(?:cm|in)\b)[\w\"'-]+|\b(?:BL|FL)?[sd]c\b|\bcrochet\b|\bpattern\b|\btog-", re.IGNORECASE
)
_FILE_NAME = re.compile(
    r"\.(?:jpe?g|png|heic|webp|gif|tiff?)\b|^(?:IMG|DSC|PXL)[_-]?\d|^(?:photo|image|picture)\W*\d*$", re.I
)


def _size(draft: Draft) -> Iterator[Marked]:
    for own in draft.figures:
        extent = own.extent
        if own.gauge is None or extent is None:
            continue
        (width, height), (wider, higher) = own.gauge.size_cm(extent.rows, extent.stitches), own.border_cm
        expected = (width + wider, height + higher)
        ways = [expected] if extent.in_the_round else [expected, expected[::-1]]
        if extent.from_centre:  # its edges have the width of stitches, and its middle the height of rounds
            ways += [(side, side) for side in expected]
        for size in own.sizes:
            stated = in_cm(size)
            if not any(
                all(abs(one - other) <= SIZE_MARGIN * other for one, other in zip(stated, way, strict=True))
                for way in ways
            ):
                border = " with the border" if any(own.border_cm) else ""
                yield (
                    size.spot,
                    own.told(
                        f"{length_words(stated[0])} by {length_words(stated[1])} is stated; {extent.words}{border} are "
                        f"{length_words(expected[0])} by {length_words(expected[1])} by the gauge."
                    ),
                    "Measure the piece and the swatch again.",
                )


def _units(draft: Draft) -> Iterator[Marked]:
    for own in draft.figures:
        for size in own.sizes:
            if size.cm is None or size.inches is None:
                continue
            for cm, inches in zip(size.cm, size.inches, strict=True):
                # half of the last place of a printed inch, beside what round numbers cost
                if abs(cm - inches * CM_PER_INCH) > UNITS_MARGIN * cm + 0.05 * CM_PER_INCH:
                    yield (
                        size.spot,
                        own.told(f"{cm:g} cm are {cm / CM_PER_INCH:.1f} in, not {inches:g} in."),
                        "Correct one of the two.",
                    )


def _gauge_stitch(draft: Draft) -> Iterator[Marked]:
    said = draft.parts.get("gauge")
    if said is None:
        return
    # what was counted, "16 sts by 18 rows = 10 cm (4 in), blocked", names no stitch
    left = re.sub(r"[\d.,½¼¾]+\s*(?:cm|in|inch(?:es)?)\b", "", said.text)
    if not _GAUGE_STITCH.search(re.sub(r"^[^:]*:", "", left)):
        yield (
            said.spot,
            "The gauge does not say in which stitch it was measured.",
            "Name the stitch, and whether it was worked flat or in the round.",
        )


def _yarns(draft: Draft) -> Iterator[tuple[SizeFigures, DraftYarn]]:
    return ((own, yarn) for own in draft.figures for yarn in own.yarns)


def _skeins(draft: Draft) -> Iterator[Marked]:
    for own, yarn in _yarns(draft):
        if yarn.skeins is None or yarn.ball_m is None or yarn.most_m is None:
            continue
        have = yarn.skeins * yarn.ball_m
        if have < yarn.most_m - 1e-6:
            need = -int(-yarn.most_m // yarn.ball_m)
            yield (
                yarn.spot,
                own.told(
                    f"{yarn.skeins} × {yarn.ball_m:g} m are {have:g} m, and it may take up to {yarn.most_m:.0f} m."
                ),
                f"Ask for {need} skeins.",
            )


def _margin(draft: Draft) -> Iterator[Marked]:
    for own, yarn in _yarns(draft):
        if yarn.skeins is None or yarn.ball_m is None or yarn.sample_m is None:
            continue
        have = yarn.skeins * yarn.ball_m
        if have < (1 + SKEIN_MARGIN) * yarn.sample_m - 1e-6:
            need = -int(-(1 + SKEIN_MARGIN) * yarn.sample_m // yarn.ball_m)
            yield (
                yarn.spot,
                own.told(
                    f"{yarn.skeins} × {yarn.ball_m:g} m are less than 10 percent more than the {yarn.sample_m:g} m of "
                    "the sample."
                ),
                f"Ask for {need} skeins, or say how little is left.",
            )


def _amounts(draft: Draft) -> Iterator[Marked]:
    for own, yarn in _yarns(draft):
        if yarn.by_row_m is None or yarn.most_m is None:
            continue
        if abs(yarn.by_row_m - yarn.most_m) > 0.005 * yarn.most_m + 0.05:
            yield (
                yarn.spot,
                own.told(
                    f"Up to {yarn.most_m:.1f} m are stated, and {draft.worked} take up to {yarn.by_row_m:.1f} m "
                    "together."
                ),
                "Add up the rows again.",
            )


def _contrast(draft: Draft) -> Iterator[Marked]:
    said = set()
    for meeting in draft.meetings:
        if not meeting.clear and (meeting.mc, meeting.cc) not in said:
            said.add((meeting.mc, meeting.cc))
            ratio = int(meeting.weakest * 100) / 100  # down, so that a ratio below the limit never reads as the limit
            yield (
                draft.spot("yarn"),
                f"{meeting.mc} and {meeting.cc} have a contrast of {ratio:.2f} to 1 for some kinds of colour vision.",
                f"Choose a lighter and a darker yarn, {LEAST_CONTRAST:g} to 1 or more.",
            )


def _pictures(draft: Draft) -> Iterator[Marked]:
    again = Counter(said.text.strip().lower() for said in draft.pictures)
    seen: set[str] = set()
    for said in draft.pictures:
        words = said.text.strip()
        if not words or _FILE_NAME.search(words):
            what = "has no words" if not words else f"has {words!r} for words, which says nothing of it"
            yield said.spot, f"This photograph {what}.", "Say what it shows, for those who do not see it."
        elif again[words.lower()] > 1 and words.lower() in seen:
            yield said.spot, "This photograph has the words of another one.", "Say what is different in it."
        seen.add(words.lower())


FIGURE_KINDS: tuple[EditKind, ...] = (
    EditKind(
        "size does not follow from gauge", "error", "Stitches and rows, at the gauge, give the finished size.",
        CHECKLIST, _size,
    ),
    EditKind(
        "units disagree", "error", "A length is the same in both units: an inch is 2.54 cm.",
        "International yard and pound agreement, 1 July 1959", _units,
    ),
    EditKind(
        "gauge without its stitch", "advice", "The gauge names the stitch that it was measured in.",
        CHECKLIST, _gauge_stitch,
    ),
    EditKind(
        "too few skeins", "error", "The skeins reach the upper end of what the piece takes.",
        "Calculating Substitutions, agoodyarn.biz: balls are the total by the length of a ball, rounded up", _skeins,
    ),
    EditKind(
        "small margin", "advice", "Where only a sample is known, 10 percent more is bought at least.",
        "Enough Yarn to Swatch, deviousknitter.com: 10 to 15 percent over the sample", _margin,
    ),
    EditKind(
        "amounts disagree", "error", "What the rows take adds up to what the yarn list says.",
        CHECKLIST, _amounts,
    ),
    EditKind(
        "low contrast", "advice", "Yarns that meet can be told apart by everybody.",
        "WCAG 2.2, success criterion 1.4.11: 3 to 1", _contrast,
    ),
    EditKind(
        "photograph without words", "error", "A photograph says what it shows, for those who do not see it.",
        "WCAG 2.2, success criterion 1.1.1", _pictures,
    ),
)  # fmt: skip
"""What is looked for in the figures and the photographs."""
