"""Cures: what would make a picture workable that is refused, as arguments to use; each was tried before it is named.

What refuses tries them, `motif/transforms` and `sizes/layouts`; an `UnworkableError` holds them and says them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from mosaickit.fixed import FixedMapping


@dataclass(frozen=True)
class Cure:
    """A way to a picture that can be worked, tried before it was named; its words are the arguments to use.

    Attributes
    ----------
    options : mapping
        The arguments of the same call to change.
    before, after : mapping
        What `mk.pad` has to add to the motif before the call, or to the result after it.
    mend : bool
        Whether the motif has to be mended before the call, as by `mk.nearest_workable`.

    Examples
    --------
    >>> print(Cure({"colours": "swap", "must_work": False}, after={"top": 1}))
    Use colours="swap" and must_work=False, then mk.pad(result, top=1).
    """

    options: Mapping[str, object] = field(default_factory=dict)
    before: Mapping[str, int] = field(default_factory=dict)
    after: Mapping[str, int] = field(default_factory=dict)
    mend: bool = False

    def __post_init__(self) -> None:
        for name in ("options", "before", "after"):
            self.__dict__[name] = FixedMapping(getattr(self, name))

    @property
    def changes(self) -> frozenset[str]:
        """What has to be done, but for `must_work`, which only lets rows be added afterwards."""
        rows = [f"{when} {side}" for when in ("before", "after") for side in getattr(self, when)]
        return frozenset([*self.options, *rows, *["mend"] * self.mend]) - {"must_work"}

    def __str__(self) -> str:
        motif = "mk.nearest_workable(motif).motif" if self.mend else "motif"
        if self.before:
            motif = _call("mk.pad", motif, self.before)
        parts = [f"{motif} as the motif"] if motif != "motif" else []
        parts += [_argument(name, value) for name, value in self.options.items()]
        then = f", then {_call('mk.pad', 'result', self.after)}" if self.after else ""
        return f"Use {', '.join(parts[:-1])}{' and ' if len(parts) > 1 else ''}{parts[-1]}{then}."


def _argument(name: str, value: object) -> str:
    return f"{name}={json.dumps(value) if isinstance(value, str | list) else repr(value)}"


def _call(verb: str, motif: str, arguments: Mapping[str, int]) -> str:
    return f"{verb}({', '.join([motif, *(_argument(*pair) for pair in arguments.items())])})"


MOST_CURES = 2
"""An error names no more cures than this, the simplest ones."""


def simplest(cures: Iterable[Cure]) -> tuple[Cure, ...]:
    """Give of some cures those with the fewest changes, each kind once."""
    kinds: dict[frozenset[str], Cure] = {}
    for cure in cures:
        kinds.setdefault(cure.changes, cure)
    fewest = min(map(len, kinds), default=0)
    return tuple(cure for changes, cure in kinds.items() if len(changes) == fewest)[:MOST_CURES]


def cures_in_words(cures: Sequence[Cure]) -> str:
    """Say what cures a picture, or that nothing does."""
    if not cures:
        return "No other arguments were found to make it workable."
    first, *others = map(str, cures)
    return " ".join([first, *(f"Or u{other[1:]}" for other in others)])
