"""Where FLdc stand: each overlaid square is covered by an FLdc of the row above it.

What counts or places them asks here, so that the law stands once. The hook does not: there it follows from the loops.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def fldc_standing(overlaid: NDArray[np.bool_], *, repeats_up: bool = False) -> NDArray[np.bool_]:
    """Tell in which places an FLdc stands.

    Parameters
    ----------
    overlaid : bool array, (R, C, …)
        Which squares are overlaid, in working order.
    repeats_up : bool
        Whether row 1 follows row R again; otherwise what is overlaid in row R has no row above that could cover it.

    Returns
    -------
    bool array, (R, C, …)
        In working order: one row above each overlaid square.

    Examples
    --------
    >>> fldc_standing(np.array([[False, False], [True, False], [False, False]])).tolist()
    [[False, False], [False, False], [True, False]]
    """
    standing = np.zeros_like(overlaid)
    standing[1:] = overlaid[:-1]
    if repeats_up:
        standing[0] = overlaid[-1]
    return standing
