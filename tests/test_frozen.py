"""Frozen values are frozen all through: nobody can write into an array or a mapping that one of them holds."""

import copy
import pickle
from collections.abc import MutableMapping, MutableSequence, MutableSet
from dataclasses import fields, is_dataclass
from functools import cached_property

import numpy as np
import pytest

import mosaickit as mk
from mosaickit.errors import MosaickitError, OptionError, UnworkableError
from mosaickit.fixed import FixedMapping

LEAF = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
GAUGE = mk.Gauge(16, 18)
SKEINS = {"cream": mk.Skein(105, 50), "ink blue": mk.Skein(105, 50)}
DESIGN = mk.Design(LEAF, GAUGE).but(across=3, up=4, colours="swap", skeins=SKEINS)
SIZED = DESIGN.but(sizes=(mk.NamedSize("S", across=3, up=4), mk.NamedSize("L", across=5, up=4)))
SWATCH = mk.Swatch(DESIGN.chart, GAUGE, metres={"MC": 12, "CC": 10.5})


def values():
    yield from (LEAF, DESIGN, SIZED, DESIGN.but(swatches=[SWATCH], skeins=None), mk.compare(DESIGN, DESIGN.but(up=6)))
    yield mk.compare(DESIGN, DESIGN.but(motif=mk.mirror(LEAF)))
    yield from (mk.check(mk.Motif.from_text("#.\n#.\n##")), mk.nearest_workable(mk.Motif.from_text("#.\n#.\n##")))
    yield from (DESIGN.page(), SIZED.sized_rows, mk.proof("Row 1: 3 sc", DESIGN.chart), mk.symmetry(LEAF))
    yield from (mk.thread_of(mk.Chart.from_text("..."), GAUGE), mk.yarn_usage(DESIGN.chart, GAUGE))
    yield from (mk.family(LEAF)[0], mk.plan_widths(LEAF, GAUGE, 20, tolerance=0.1), mk.calibrate([SWATCH]))
    with pytest.raises(UnworkableError) as caught:
        mk.shift(LEAF, up=1)
    yield caught.value.cures[0]


def open_parts(value, place="", seen=None):
    """What can be written to in a value of ours and the values it holds, by where it was found."""
    seen = set() if seen is None else seen
    if isinstance(value, tuple):
        for each in value[:3]:
            yield from open_parts(each, place, seen)
    if isinstance(value, np.ndarray) and value.flags.writeable:
        yield place
    if isinstance(value, MutableMapping | MutableSequence | MutableSet):
        yield place
    kind = type(value)
    if not kind.__module__.startswith("mosaickit") or kind in seen:
        return
    seen.add(kind)
    names = {each.name for each in fields(value)} if is_dataclass(value) else set()
    names |= {name for name in dir(kind) if isinstance(getattr(kind, name), property | cached_property)}
    for name in sorted(name for name in names if not name.startswith("_")):
        try:
            part = getattr(value, name)
        except MosaickitError:  # what does not follow from this one
            continue
        # what a property makes afresh is the caller's own
        if getattr(value, name) is part:
            yield from open_parts(part, f"{kind.__name__}.{name}", seen)


def test_nothing_that_a_value_holds_can_be_written_to():
    assert {place for value in values() for place in open_parts(value)} == set()


def test_what_a_swatch_took_stays_as_it_is():
    with pytest.raises(TypeError):
        SWATCH.metres["MC"] = 9
    given = {"all": 4}
    weighed = mk.Swatch(DESIGN.chart, GAUGE, grams=given, yarn_settings=mk.YarnSettings(skeins=mk.Skein(105, 50)))
    given["all"] = 70
    assert weighed.grams == {"all": 4}
    assert weighed.measured == {"all": pytest.approx(4 * 105 / 50)}


@pytest.mark.parametrize("made", [copy.copy, copy.deepcopy, lambda value: pickle.loads(pickle.dumps(value))])
def test_a_swatch_that_was_copied_or_sent_is_the_same(made):
    assert made(SWATCH) == SWATCH
    assert hash(made(SWATCH)) == hash(SWATCH)
    assert "metres={'MC': 12.0, 'CC': 10.5}, grams=None" in repr(made(SWATCH))
    with pytest.raises(TypeError):
        made(SWATCH).metres["MC"] = 9


def test_swatches_that_took_the_same_are_equal_in_any_order():
    turned = mk.Swatch(DESIGN.chart, GAUGE, metres={"CC": 10.5, "MC": 12})
    assert turned == SWATCH
    assert hash(turned) == hash(SWATCH)
    assert mk.Swatch(DESIGN.chart, GAUGE, metres={"CC": 10.5, "MC": 13}) != SWATCH
    with pytest.raises(OptionError, match=r"`metres\['MC'\]` must be a number"):
        mk.Swatch(DESIGN.chart, GAUGE, metres={"MC": "much"})


def test_a_fixed_mapping_is_as_the_dict_that_it_was_made_of():
    held = {"a": 1, "b": 2}
    fixed = FixedMapping(held)
    assert fixed == held
    assert repr(fixed) == repr(held)
    assert list(fixed) == ["a", "b"]
    assert "c" not in fixed
    assert len(fixed) == 2
    with pytest.raises(TypeError):
        del fixed["a"]
