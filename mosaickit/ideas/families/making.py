"""A family: the original and its variants, changed, mended, sorted out and measured."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import overload

from mosaickit.errors import OptionError, of_kind, one_of, several, whole_number
from mosaickit.ideas.families.changes import CHANGE_KINDS, ChangeKind, drafts_of
from mosaickit.ideas.families.measuring import USUAL_LENGTHS, FigureName, Figures, measured
from mosaickit.ideas.families.mending import ALIKE, Alike, canonical, first_of_each, mended_of
from mosaickit.motif import Motif
from mosaickit.yarn import StitchLengths


@dataclass(frozen=True)
class Variant:
    """One of a family.

    Attributes
    ----------
    name : str
        What was done to the original, in words.
    motif : Motif
        Workable.
    changed : int
        How many squares had to change to make it workable.
    figures : Figures
        What can be said of it in numbers.
    """

    name: str
    motif: Motif
    changed: int
    figures: Figures


def in_order(variants: Iterable[Variant], by: FigureName) -> list[Variant]:
    """Sort variants by a figure, the most first; those that are alike stay in their order."""
    return sorted(variants, key=lambda variant: getattr(variant.figures, by), reverse=True)


@dataclass(frozen=True, repr=False)
class Family(Sequence[Variant]):
    """The variants of a motif, the original first: a sequence.

    Attributes
    ----------
    variants : tuple of Variant
        No two with the same name.
    """

    variants: tuple[Variant, ...]

    def __len__(self) -> int:
        return len(self.variants)

    @overload
    def __getitem__(self, index: int) -> Variant: ...
    @overload
    def __getitem__(self, index: slice) -> Family: ...
    def __getitem__(self, index: int | slice) -> Variant | Family:
        return Family(self.variants[index]) if isinstance(index, slice) else self.variants[index]

    def member(self, name: str) -> Variant:
        """Give the variant of that name, or raise `OptionError`."""
        for variant in self.variants:
            if variant.name == name:
                return variant
        raise OptionError(f"No variant is named {name!r}; there are {', '.join(v.name for v in self.variants[:12])}, …")

    def __str__(self) -> str:
        return "\n".join(
            f"{variant.name}: {variant.motif.shape[0]} × {variant.motif.shape[1]}, {variant.changed} mended, "
            f"{variant.figures.fldc_share:.0%} FLdc, {variant.figures.similarity:.0%} similar"
            for variant in self.variants
        )

    def __repr__(self) -> str:
        return f"<Family of {len(self)}>"


def family(
    motif: Motif,
    *,
    kinds: ChangeKind | Iterable[ChangeKind] = CHANGE_KINDS,
    steps: int = 1,
    alike: Alike = "repeat",
    most: int | None = None,
    lengths: StitchLengths = USUAL_LENGTHS,
) -> Family:
    """Make variants of a motif, all workable, with figures to compare them by.

    Parameters
    ----------
    motif : Motif
        Any picture, (R, C); if it is not workable, its nearest workable one stands first.
    kinds : str or several
        What may be done: "flips" (mirror, upside down, half a turn), "counterchange", "shifts" (overlaid squares go
        round by quarters of the size), "layouts" (two by two repeats as brick, half-drop, mirrored), "glides" (the
        mirrored one above, the one upside down beside), "thinner" and "thicker" (lines of CC lose or gain a square),
        "edges" (cropped, re-centred) and "frames" (one to three rings).
    steps : int
        How many changes may be made one after the other, 1 or more; no two of the same kind in a row.
    alike : "repeat" or "picture"
        Which variants count as the same: those that are the same repeat, shifted along its rows or mirrored left to
        right; or only equal pictures. Yarns and their names do not count.
    most : int, optional
        Make at most so many, those of fewer steps first.
    lengths : StitchLengths
        What the surcharge is calculated with.

    Returns
    -------
    Family
        The original and its variants, in the order of `CHANGE_KINDS`.

    Raises
    ------
    OptionError
        If an option has no meaning.
    MotifError
        If layouts or frames make a variant larger than a motif may be.

    Examples
    --------
    >>> leaf = Motif.from_text('''
    ... .....
    ... #####
    ... .##..
    ... #####
    ... .....
    ... ''')
    >>> for variant in family(leaf, kinds=["flips", "frames"])[:3]:
    ...     print(variant.name, variant.motif.shape, variant.changed)
    as it is (5, 5) 0
    framed in 1 ring (7, 7) 0
    framed in 2 rings (9, 9) 0
    """
    of_kind("motif", motif, Motif)
    wanted = several("kinds", kinds, CHANGE_KINDS)
    one_of("alike", alike, ALIKE)
    steps = whole_number("steps", steps, least=1)
    most = whole_number("most", most, least=1) if most is not None else None
    names, drafts = drafts_of(motif, [kind for kind in CHANGE_KINDS if kind in wanted], steps)
    mended = mended_of(drafts)
    kept = first_of_each(canonical([workable for workable, _ in mended], alike))[:most]
    figures = measured([mended[i][0] for i in kept], mended[0][0], lengths=lengths)
    return Family(tuple(Variant(names[i], *mended[i], of_it) for i, of_it in zip(kept, figures, strict=True)))
