"""Counts, yarn, fits and variants as pandas tables: the one place where records become DataFrames.

Rows are in working order, row 1 first, and the index holds the maker's row numbers or the names of yarns. Nothing
is worked out here but sums. Whole numbers stay whole, and a column that nothing is known for is left out, so that
no table has a hole in it.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
