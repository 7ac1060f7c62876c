"""A mapping that stays as it is, for a value that stays as it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeVar

_Key = TypeVar("_Key")
_Held = TypeVar("_Held", covariant=True)


class FixedMapping(Mapping[_Key, _Held]):
    """A mapping that no one can write to. It is equal to a dict that holds the same, and travels between processes.

    Parameters
    ----------
    held : mapping
        What it holds, in the order in which it stays.

    Examples
    --------
    >>> took = FixedMapping({"MC": 3.5})
    >>> took, took == {"MC": 3.5}, took["MC"]
    ({'MC': 3.5}, True, 3.5)
    """

    def __init__(self, held: Mapping[_Key, _Held]) -> None:
        self._held = dict(held)

    def __getitem__(self, key: _Key) -> _Held:
        return self._held[key]

    def __iter__(self) -> Iterator[_Key]:
        return iter(self._held)

    def __len__(self) -> int:
        return len(self._held)

    def __hash__(self) -> int:
        return hash(frozenset(self._held.items()))  # as mappings are equal in any order

    def __repr__(self) -> str:
        return repr(self._held)
