"""One text for all sizes: where the texts of the sizes differ in numbers only, a number for each stands in it.

A page in several sizes says everything by the same functions as a page in one: each is asked for every size, and the
answers are laid over each other. ``20.0 cm (7.9 in)`` and ``24.0 cm (9.4 in)`` are ``20.0 (24.0) cm, 7.9 (9.4) in``.
What differs in words is said once for each size.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar, cast

from mosaickit.wording import in_series

if TYPE_CHECKING:
    from mosaickit.publish.page import Page

_NUMBER = re.compile(r"(\d+(?:,\d{3})*(?:\.\d+)?)")
_COUNTED = "skein|ball|row|round|stitch|repeat|chain|time"
# where the numbers of all sizes will stand, until what is around them is settled
_BEGIN, _END = "\ue000", "\ue001"

Options = ParamSpec("Options")
Told = TypeVar("Told")


def in_all_sizes(tell: Callable[Concatenate[Page, Options], Told]) -> Callable[Concatenate[Page, Options], Told]:
    """Make a function that tells something of a page in one size tell it of all sizes."""

    @wraps(tell)
    def tell_all(page: Page, /, *args: Options.args, **options: Options.kwargs) -> Told:
        if not page.sizes:
            return tell(page, *args, **options)
        names = [size.name for size in page.sizes]
        each = [tell(size.page, *args, **options) for size in page.sizes]
        # text stays text, and a tuple a tuple of what it holds
        return cast(Told, _laid(names, each))

    return tell_all


def _laid(names: Sequence[str], each: Sequence[object]) -> object:
    first = each[0]
    if all(one == first for one in each):
        return first
    if isinstance(first, str):
        return laid_or_listed(names, [str(one) for one in each])
    of_tuples = [one for one in each if isinstance(one, tuple)]
    if len({len(one) for one in of_tuples}) == 1:
        return tuple(_laid(names, inner) for inner in zip(*of_tuples, strict=True))
    if all(isinstance(inner, str) for one in of_tuples for inner in one):
        return _lines(names, cast("list[tuple[str, ...]]", of_tuples))
    # what some sizes have and others have not is listed once
    return tuple(dict.fromkeys(inner for one in of_tuples for inner in one))


def laid_or_listed(names: Sequence[str], texts: Sequence[str], worked: Sequence[bool] | None = None) -> str:
    """Lay texts over each other, and say what differs in words once for each size; see `laid_over`."""
    one = laid_over(texts, worked)
    named = [name for name, there in zip(names, worked or [True] * len(names), strict=True) if there]
    return one if one is not None else _one_by_one(named, texts)


def _one_by_one(names: Sequence[str], texts: Sequence[str]) -> str:
    """Say a text sentence by sentence, those that differ in words once for each size."""
    cut = [re.split(r"(?<=[.:;]) (?=[A-Z])", one) for one in texts]
    if len({len(sentences) for sentences in cut}) > 1 or len(cut[0]) == 1:
        return " ".join(f"Size {name}: {one}" for name, one in zip(names, texts, strict=True) if one)
    return " ".join(laid_or_listed(names, same) for same in zip(*cut, strict=True))


def _lines(names: Sequence[str], each: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """List the lines of all sizes: those of every size once, the others with the size that they hold for."""
    of_all = set(each[0]).intersection(*each)
    lines = dict.fromkeys(
        line if line in of_all else f"Size {name}: {line}"
        for name, own in zip(names, each, strict=True)
        for line in own
    )
    return tuple(lines)


def laid_lines(names: Sequence[str], each: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """Lay lines over each other, one by one where all sizes have as many of them."""
    return cast("tuple[str, ...]", _laid(names, list(each)))


def laid_over(texts: Sequence[str], worked: Sequence[bool] | None = None) -> str | None:
    """Lay texts over each other that differ in numbers only; None if they differ in words.

    Parameters
    ----------
    texts : texts
        One for each size.
    worked : bools, optional
        For each size whether it has a text at all; there is one for each that has, and the numbers of the others are 0.

    Examples
    --------
    >>> laid_over(["20.0 cm wide (7.9 in), by gauge", "24.0 cm wide (9.4 in), by gauge"])
    '20.0 (24.0) cm wide, 7.9 (9.4) in, by gauge'
    >>> laid_over(["1 skein of 105 m", "2 skeins of 105 m"])
    '1 (2) skeins of 105 m'
    >>> laid_over(["1 skein", "3 skeins"], [True, False, True])
    '1 (0, 3) skeins'
    """
    cut = [_NUMBER.split(one) for one in texts]
    if not _alike(cut):
        cut = [_NUMBER.split(re.sub(rf"\b({_COUNTED})\b", _plural, one)) for one in texts]
        if not _alike(cut):
            return None
    said = ""
    for place, same in enumerate(zip(*cut, strict=True)):
        if place % 2 == 0:
            said += same[0]
            continue
        numbers = iter(same)
        whole = [next(numbers) if one else "0" for one in worked] if worked else list(same)
        told = in_series(whole)
        said += told if told == same[0] else f"{_BEGIN}{told}{_END}"
    # brackets in brackets are hard to read; a count after a sentence is one of its own
    said = re.sub(rf"\. \(([^()]*{_BEGIN}[^{_END}]*{_END}(?:[^()]|{_BEGIN}[^{_END}]*{_END})*)\)$", r". \1.", said)
    said = re.sub(rf" \(([^()]*{_BEGIN}[^{_END}]*{_END}(?:[^()]|{_BEGIN}[^{_END}]*{_END})*)\)", r", \1", said)
    said = said.replace(_BEGIN, "").replace(_END, "")
    return re.sub(rf"(?<![\d.,])1 ({_COUNTED})e?s\b", r"1 \1", said)


def _alike(cut: Sequence[Sequence[str]]) -> bool:
    return len({tuple(pieces[::2]) for pieces in cut}) == 1


def _plural(found: re.Match[str]) -> str:
    return f"{found[1]}es" if found[1].endswith("ch") else f"{found[1]}s"
