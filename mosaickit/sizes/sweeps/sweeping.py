"""Sweeping: the combinations sent where they are worked out, in batches, and put together again in their order."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from math import prod
from typing import Any

from mosaickit.batches import USUAL_BATCH, Batch, run_batches
from mosaickit.errors import of_kind, positive, within
from mosaickit.gauge import Gauge, Unit
from mosaickit.motif import Motif
from mosaickit.sizes.designs.design import Design
from mosaickit.sizes.layouts.surround import USUAL_SURROUND, Surround, check_any_count
from mosaickit.sizes.sweeps.candidates import Sweep, table_of
from mosaickit.sizes.sweeps.choices import Choice, task_of
from mosaickit.sizes.sweeps.figures import LINE_FIGURES, calculate
from mosaickit.sizes.sweeps.starting import bands_of, each_of, finishes_of, motifs_of, said_by
from mosaickit.yarn import USUAL_YARN_SETTINGS, YarnSettings

BATCH = 2000
"""Combinations that are worked out in one go: about a tenth of a second's work."""

OneOrMore = Any
"""One value, or several in a list or range; also several by name, in a mapping."""

_USUAL: dict[str, Any] = {
    "gauges": None,
    "surrounds": USUAL_SURROUND,
    "yarn_settings": USUAL_YARN_SETTINGS,
    "reversible": False,
}
_AS_DRAWN = {"as drawn": lambda motif: motif}


def sweep(
    motifs: Motif | Design | Iterable[Motif | Design] | Mapping[str, Motif | Design],
    gauges: Gauge | Iterable[Gauge] | Mapping[str, Gauge] | None = None,
    *,
    across: OneOrMore = None,
    up: OneOrMore = None,
    width: OneOrMore = None,
    length: OneOrMore = None,
    unit: Unit = "cm",
    tolerance: float = 0.05,
    variants: Mapping[str, Callable[[Motif], Motif]] | None = None,
    worked: OneOrMore = "across",
    surrounds: Surround | Iterable[Surround] | Mapping[str, Surround] | None = None,
    yarn_settings: YarnSettings | Iterable[YarnSettings] | Mapping[str, YarnSettings] | None = None,
    reversible: OneOrMore = None,
    stitches_a_minute: float = 20.0,
    batch: Batch = USUAL_BATCH,
) -> Sweep:
    """Measure every combination of choices, without building any of them.

    Where several values are given, each takes its turn with all others. Motifs change most slowly, then variants, then
    what they are laid by in the order of the arguments; gauges, yarn_settings and reversible change fastest.

    Parameters
    ----------
    motifs : Motif or Design, or several
        The repeats; in a mapping, by name, else by the names they have. Designs, laid straight, say the gauge, the
        surround, the yarn settings and reversible for all, where these are left out; they must say the same then.
        Their own counts of repeats are left aside; their bands and their finish are kept: counts and variants are those
        of the field, and size, yarn and minutes take in the border.
    gauges : Gauge, or several
        The sizes of a stitch; left out where designs say it.
    across, up : int, or several
        The counts of repeats, 1 if nothing else is said; of bands the least count across at which all fill the width.
    width, length : float, or several
        Wanted sizes in `unit`, each above 0: the counts of repeats that make it are then all that come within the
        tolerance, or, where none does, those on both sides of it. Which way that is depends on `worked`.
    unit : "cm" or "in"
        The unit of `width` and `length`.
    tolerance : float
        The share by which a size may differ, 0 to 1.
    variants : mapping of name to function, optional
        What is done to each motif first, as ``{"as drawn": lambda motif: motif, "mirrored": mk.mirror}``.
    worked : "across" or "along", or both
        As `plan_widths` takes it.
    surrounds : Surround, or several
        What stands around the repeats: `Surround.each` makes every combination. In a mapping, by name.
    yarn_settings : YarnSettings, or several
        How yarn is calculated. In a mapping, by name, which they need if they differ in lengths or skeins.
    reversible : bool, or both
        Whether the back is closed.
    stitches_a_minute : float
        How fast the maker works, above 0: 20 is our choice, no source.
    batch : Batch
        How it is run.

    Returns
    -------
    Sweep
        Its table has a line for each combination and count of repeats, in this order whatever it ran on. Columns: one
        for each argument that was given several values, of surrounds and yarn settings their name, if they have one,
        and all in which they differ, as "rings" and "between rows"; repeats across and up, stitches, foundation chain,
        rows; width and length in cm, and by how much they are off from what was wanted, in percent; whether all are
        within the tolerance; whether it can be worked, and if not, why not; whether it is centred; FLdc percent; low,
        likely and at most m of all yarn, yarn m of MC and of CC; if skeins are known, skeins in all, those of the yarns
        that are MC and of those that are CC, and leftover m; minutes.

    Raises
    ------
    OptionError
        If an argument is not as described, or there would be more than 5,000,000 combinations or lines.
    UnworkableError
        If a variant of a motif cannot be made.

    Examples
    --------
    >>> import numpy as np
    >>> dots = Motif(np.pad([[True]], 1), name="dots")
    >>> framed = Surround.each(rings=[1, 3], colours="swap")
    >>> quiet = Batch(progress=False)
    >>> swept = sweep(dots, Gauge(16, 18), width=[15, 20], length=100, surrounds=framed, batch=quiet)
    >>> swept
    <Sweep of 26 candidates, 14 can be worked>
    >>> list(swept.rank({"width off percent": 2, "yarn m": 1})["stitches"].head(3))
    [32, 32, 32]
    """
    of_kind("batch", batch, Batch)
    starts = tuple(one if isinstance(one, Design) else None for one in each_of(motifs))
    given = {"gauges": gauges, "surrounds": surrounds, "yarn_settings": yarn_settings, "reversible": reversible}
    said = said_by([one for one in starts if one is not None], given)
    told = {name: _USUAL[name] if value is None else value for name, value in said.items()}
    motifs = motifs_of(motifs)
    asked = {
        "motifs": Choice.of("motifs", motifs, "motif", lambda number, motif: _name(motif) or f"motif {number}"),
        "variants": Choice.of("variants", _AS_DRAWN if variants is None else variants, "variant")._replace(
            hidden=variants is None
        ),
    }
    rest = {"across": across, "up": up, "width": width, "length": length, "worked": worked}
    asked |= {name: Choice.of(name, given) for name, given in rest.items()}
    asked |= {
        "surrounds": _named("surrounds", "surround", told["surrounds"]),
        "gauges": Choice.of("gauges", told["gauges"], "gauge", lambda _, gauge: str(gauge)),
        "yarn_settings": _named("yarn_settings", "yarn settings", told["yarn_settings"]),
        "reversible": Choice.of("reversible", told["reversible"]),
    }
    for surround in asked["surrounds"].values:
        if isinstance(surround, Surround):
            check_any_count(surround)
    task = task_of(asked, bands_of(starts), finishes_of(starts), unit, within("tolerance", tolerance, 0, 1))
    speed = positive("stitches_a_minute", stitches_a_minute)
    count = prod(task.dimensions)
    batches = [(start, min(start + BATCH, count)) for start in range(0, count, BATCH)]
    done = run_batches(
        partial(calculate, task),
        batches,
        task=json.dumps([task.described, BATCH, LINE_FIGURES]),
        batch=batch,
    )
    columns: list[list[Any]] = [[] for _ in LINE_FIGURES]
    for lines, *parts in done:
        for column, part in zip(columns, parts, strict=True):
            column += part * lines if len(part) < lines else part
    table, numbers = table_of(task, columns, speed)
    return Sweep(table, task, numbers, starts)


def _named(name: str, column: str, given: object) -> Choice:
    """Read surrounds or yarn settings: only names have a column of their own, beside those in which they differ."""
    return Choice.of(name, given, column)._replace(hidden=not isinstance(given, Mapping))


def _name(motif: object) -> str:
    return motif.name if isinstance(motif, Motif) else ""
