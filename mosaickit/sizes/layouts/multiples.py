"""Multiples: what the counts of a layout are multiples of, said so that chains are not taken for stitches."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass

from mosaickit.errors import number_of


@dataclass(frozen=True)
class Multiple:
    """The counts that a layout has: a multiple of one repeat plus what stands beside it.

    Some say the trade's "multiple of 8 plus 10" about stitches and some about chains, which differ by one worked flat;
    printed, this says which is which.

    Attributes
    ----------
    stitches, plus_stitches : int
        The stitches of a repeat, and all others: closing stitches, frame and edge stitches.
    rows, plus_rows : int
        The same for the rows.
    plus_chains : int
        What stands beside the repeats in the foundation chain.

    Examples
    --------
    >>> print(Multiple(stitches=8, plus_stitches=10, rows=6, plus_rows=1, plus_chains=11))
    Stitches: a multiple of 8 plus 10. Foundation: a multiple of 8 plus 11 chains. Rows: a multiple of 6 plus 1.
    """

    _: KW_ONLY
    stitches: int
    plus_stitches: int
    rows: int
    plus_rows: int
    plus_chains: int

    @classmethod
    def of(
        cls, shape: tuple[int, int], step: tuple[int, int], repeats: tuple[int, int], *, in_the_round: bool
    ) -> Multiple:
        """Give it for a piece.

        Parameters
        ----------
        shape : (int, int)
            The rows and stitches of the piece.
        step, repeats : (int, int)
            How far repeats lie apart, and how many there are: upward, and along a row.
        in_the_round : bool
            Whether the last stitch of a row meets its first.
        """
        beside = [whole - of * number for whole, of, number in zip(shape, step, repeats, strict=True)]
        rows, stitches = (max(of, 1) for of in step)  # repeats that all lie in one place
        return cls(
            stitches=stitches,
            plus_stitches=beside[1],
            rows=rows,
            plus_rows=beside[0],
            plus_chains=beside[1] + (not in_the_round),
        )

    def __str__(self) -> str:
        return (
            f"Stitches: {_multiple(self.stitches, self.plus_stitches)}. "
            f"Foundation: {_multiple(self.stitches, self.plus_chains, 'chain')}. "
            f"Rows: {_multiple(self.rows, self.plus_rows)}."
        )


def _multiple(of: int, plus: int, what: str = "") -> str:
    beside = number_of(plus, what) if what else str(plus)
    return f"a multiple of {of}{f' plus {beside}' if plus else ''}"
