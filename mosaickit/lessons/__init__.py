"""Lessons: the exercises of the course in `notebooks/lessons`, and what is said about an answer.

`check` looks at an answer and says what is right, what is missing and where, by row and stitch. It never says the
answer, and what it says is worked out by the library from the picture or chart that the exercise gives: no answer is
stored anywhere.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
