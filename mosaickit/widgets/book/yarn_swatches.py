"""Swatches by hand: the form of one that was measured, what those of a design taught, which would help most next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from math import ceil
from typing import Any

from mosaickit.errors import MosaickitError, OptionError, UnworkableError, one_of, true_or_false, whole_number
from mosaickit.fabric import Chart, Stitch
from mosaickit.gauge import UNITS, Gauge
from mosaickit.motif import BETWEEN_ROWS
from mosaickit.sizes import Design, Surround
from mosaickit.widgets.book.entries import USUAL_GAUGE, in_labels
from mosaickit.widgets.book.panel import Book
from mosaickit.widgets.book.yarn_hand import hand_of, not_yet, number_in, whole_in
from mosaickit.yarn import NINETY_PERCENT, Calibration, Skein, Swatch, YarnSettings, calibrate

USUAL_SIDE = 20
"""The least rows and stitches of a swatch that is suggested."""

MOST_OF_A_SWATCH = 500
"""The most rows and stitches of a plain piece."""

_PARTS = {"MC": "MC", "CC": "CC", "all": "all of it"}


def shown_swatches(book: Book) -> dict[str, Any]:
    """Give the swatches of the design, what they taught, how the form begins, and what would help most if asked."""
    design, hand = book.design, hand_of(book)
    advised = hand.advised[1] if hand.advised and hand.advised[0] is design else []
    return {
        "swatches": [{"number": number, **_shown(swatch)} for number, swatch in enumerate(design.swatches, 1)],
        "taught": _taught(design),
        "own_lengths": design.yarn_settings.lengths is not None,
        "form": _form_of(design),
        "round": design.surround.in_the_round,
        "advised": advised,
    }


def _shown(swatch: Swatch) -> dict[str, str]:
    grams = swatch.grams is not None
    measured = (swatch.grams if grams else swatch.metres) or {}
    unit, how = ("g", "weighed") if grams else ("m", "unravelled")
    amounts = ", ".join(f"{amount:g} {unit} of {_PARTS[part]}" for part, amount in measured.items())
    return {"chart": swatch.chart.summary, "gauge": swatch.gauge.sentence, "took": f"Yarn {how}: {amounts}"}


def _form_of(design: Design) -> dict[str, Any]:
    """Give what stands in the form of a swatch before anything is entered."""
    gauge, settings = design.gauge or USUAL_GAUGE, design.yarn_settings
    skein = settings.skeins if isinstance(settings.skeins, Skein) else None
    width_cm = gauge.over[0] if isinstance(gauge.over, tuple) else gauge.over
    height = gauge.over[1] if isinstance(gauge.over, tuple) else None
    known = design.gauge is not None
    return {
        "of": "motif",
        "across": 1,
        "up": 1,
        "reversible": design.reversible,
        "in_the_round": False,
        "stitches": USUAL_SIDE,
        "rows": USUAL_SIDE,
        "gauge_stitches": gauge.stitches if known else None,
        "gauge_rows": gauge.rows if known else None,
        "over": width_cm,
        "over_rows": height,
        "unit": gauge.unit,
        "measured": "metres",
        "each": True,
        "MC": None,
        "CC": None,
        "all": None,
        "resolution": 0.1,
        "skein_metres": skein and skein.metres,
        "skein_grams": skein and skein.grams,
        "between_rows": settings.between_rows,
        "tail_cm": settings.tail_cm,
    }


# ---- one that was measured ---------------------------------------------------------------------------------


def add_swatch(book: Book, values: Mapping[str, Any]) -> None:
    """Add the swatch of a form, if it can be believed beside the others."""
    design = book.design
    swatch = swatch_of(design, values)
    swatches = (*design.swatches, swatch)
    calibrate(swatches, prior=_prior(design))  # which says if it contradicts what is known
    book.change(design.but(swatches=swatches), f"swatch {len(swatches)}")
    book.say(f"Swatch {len(swatches)} is added; the yarn of the piece follows what it taught.")


def remove_swatch(book: Book, values: Mapping[str, Any]) -> None:
    """Remove a swatch, by its number."""
    swatches = book.design.swatches
    if not swatches:
        raise OptionError("There is no swatch to remove.")
    number = whole_number("number", values.get("number"), least=1, most=len(swatches))
    book.change(book.design.but(swatches=swatches[: number - 1] + swatches[number:]), f"swatch {number} removed")


def own_lengths_out(book: Book) -> None:
    """Remove the designer's own lengths: they follow from the gauge, the thread or the swatches again."""
    book.change(book.design.but(lengths=None), "own lengths left out")


def swatch_of(design: Design, values: Mapping[str, Any]) -> Swatch:
    """Make the swatch that a form describes.

    Raises
    ------
    MosaickitError
        If a number is missing, or it cannot be such a swatch; names the box.
    """
    weighed = values.get("measured") == "grams"
    unit = "grams" if weighed else "metres"
    parts = ("MC", "CC") if values.get("each") else ("all",)
    took = {part: number_in(values, part, f"{unit.capitalize()} of {_PARTS[part]}") for part in parts}
    skein = None
    if weighed:
        skein = Skein(
            number_in(values, "skein_metres", "Metres of a skein"), number_in(values, "skein_grams", "Grams of a skein")
        )
    between_rows: Any = values.get("between_rows")
    one_of("between_rows", between_rows, BETWEEN_ROWS)
    tail_cm = values.get("tail_cm")
    if tail_cm is None:
        raise OptionError("Tails: enter a number; 0 if they were cut off.")
    settings = replace(design.yarn_settings, lengths=None, skeins=skein, between_rows=between_rows, tail_cm=tail_cm)
    return Swatch(
        _chart_of(design, values),
        _gauge_of(values),
        **{unit: took},  # type: ignore[arg-type]  # one of the two
        resolution=number_in(values, "resolution", "Read to the nearest"),
        yarn_settings=settings,
    )


def _gauge_of(values: Mapping[str, Any]) -> Gauge:
    one_of("unit", values.get("unit"), UNITS)
    over: Any = number_in(values, "over", "Measured over")
    if values.get("over_rows") is not None:
        over = (over, number_in(values, "over_rows", "Rows over another length"))
    stitches, rows = (
        number_in(values, f"gauge_{name}", f"{name.capitalize()} of the swatch's gauge")
        for name in ("stitches", "rows")
    )
    return Gauge(stitches, rows, over, values["unit"])


def _chart_of(design: Design, values: Mapping[str, Any]) -> Chart:
    """Give what was worked: the motif by itself, or plain rows."""
    one_of("of", values.get("of"), ("motif", "plain"))
    in_the_round = true_or_false("in_the_round", values.get("in_the_round", False))
    if in_the_round and not design.surround.in_the_round:
        raise OptionError("This piece is worked flat, and so are its swatches: choose worked flat.")
    if values["of"] == "plain":
        stitches, rows = (
            whole_in(values, name, f"{name.capitalize()} of the swatch", least=1, most=MOST_OF_A_SWATCH)
            for name in ("stitches", "rows")
        )
        return plain_piece(rows, stitches, design, in_the_round=in_the_round)
    across, up = (whole_in(values, name, f"Repeats {name}", least=1, most=99) for name in ("across", "up"))
    reversible = true_or_false("reversible", values.get("reversible"))
    return motif_alone(design, across, up, reversible, in_the_round=in_the_round)


def plain_piece(rows: int, stitches: int, design: Design, *, in_the_round: bool = False) -> Chart:
    """Give plain rows of the two colours, for the hand of a design."""
    text = "\n".join(["." * stitches] * rows)
    return Chart.from_text(text, design.motif.first, hand=design.hand, in_the_round=in_the_round)


def motif_alone(design: Design, across: int, up: int, reversible: bool, *, in_the_round: bool = False) -> Chart:
    """Give the motif with nothing around it; raises `OptionError` if it cannot be worked so."""
    bare = Surround(edges=0, colours=design.surround.colours, in_the_round=in_the_round)
    alone = replace(design, surround=bare, swatches=())
    try:
        return alone.but(across=across, up=up, reversible=reversible).chart
    except UnworkableError as error:
        raise OptionError(
            f"The motif, {across} × {up} times with nothing around it, cannot be worked: {error.report.errors_in_words}"
        ) from error


# ---- what they taught --------------------------------------------------------------------------------------


@lru_cache(maxsize=32)
def _learned(swatches: tuple[Swatch, ...], prior: Any) -> tuple[Calibration, list[list[str]]]:  # noqa: ANN401 — a word
    """Learn from swatches, and give for each kind of stitch its name, how many times the default it is, and a range."""
    learned = calibrate(swatches, prior=prior)
    words = stitch_words()
    lines = [
        [words[kind], f"{middle:.2f}", f"{low:.2f} to {high:.2f}"]
        for kind, (low, middle, high) in learned.intervals().items()
    ]
    return learned, lines


def stitch_words() -> dict[str, str]:
    """Give the name in print of each kind of stitch that has a length."""
    return {"chain": "chain", **{each.name.lower(): each.abbreviation for each in Stitch}}


def _prior(design: Design) -> Any:  # noqa: ANN401 — one of two words
    return "thread" if design.by_thread else "estimate"


def _taught(design: Design) -> dict[str, Any] | None:
    if not design.swatches:
        return None
    if why := not_yet(design):
        return {"lines": [], "said": why}
    try:
        lines = _learned(design.swatches, _prior(design))[1]
        before, now = design.but(swatches=()).usage, design.usage
    except MosaickitError as error:
        return {"lines": [], "said": in_labels(str(error))}
    said = (
        f"Without swatches this piece would take {before.likely_m:.0f} m, from {before.low_m:.0f} to "
        f"{before.high_m:.0f}; by what they taught it takes {now.likely_m:.0f} m, from {now.low_m:.0f} to "
        f"{now.high_m:.0f}."
    )
    return {"lines": lines, "said": said}


# ---- which would help most ---------------------------------------------------------------------------------


def advise_swatch(book: Book) -> None:
    """Find which swatch, worked next, would help most with the yarn of the piece."""
    design = book.design
    if why := not_yet(design):
        raise OptionError(why)
    gauge, bare = design.known_gauge, YarnSettings(yarn_mm=design.yarn_settings.yarn_mm)
    thought_of = {word: (form, chart) for word, form, chart in _candidates(design)}
    known = _learned(design.swatches, _prior(design))[0]
    swatches = {word: Swatch(chart, gauge, yarn_settings=bare) for word, (_, chart) in thought_of.items()}
    spreads = known.tells_most(swatches, Swatch(design.chart, gauge, yarn_settings=bare))
    hand_of(book).advised = (
        design,
        [
            {
                "word": word,
                "said": f"the piece's yarn is then known to within {NINETY_PERCENT * spread:.1%}, 9 times in 10",
                "form": thought_of[word][0],
            }
            for word, spread in spreads.items()
        ],
    )


def _candidates(design: Design) -> list[tuple[str, dict[str, Any], Chart]]:
    """List swatches that could be worked, in words, as a form and as a chart."""
    rows, stitches = design.motif.shape
    across, up = ceil(USUAL_SIDE / stitches), ceil(USUAL_SIDE / rows)
    plain = plain_piece(USUAL_SIDE, USUAL_SIDE, design)
    form: dict[str, Any] = {"of": "plain", "rows": USUAL_SIDE, "stitches": USUAL_SIDE, "in_the_round": False}
    flat = ", worked flat" if design.surround.in_the_round else ""
    found = [(f"Plain rows, {USUAL_SIDE} rows of {USUAL_SIDE} stitches{flat}", form, plain)]
    for reversible in (False, True):
        chart, laid = None, (across, up)
        for laid in ((across, up), (across, 1)):
            try:
                chart = motif_alone(design, *laid, reversible)
                break
            except MosaickitError:
                continue  # it cannot be worked by itself, or not one above the other
        if chart is not None:
            fabric = "reversible" if reversible else "plain"
            form = {"of": "motif", "across": laid[0], "up": laid[1], "reversible": reversible, "in_the_round": False}
            found.append((f"The motif, {laid[0]} × {laid[1]} times, {fabric} fabric{flat}", form, chart))
    return found
