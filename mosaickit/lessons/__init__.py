"""Lessons: the exercises of the course and of your own, what is said about an answer, and copies for a class.

`check` looks at an answer and says what is right, what is missing and where, by row and stitch. It never says the
answer. In the course what it says is worked out by the library from the picture or chart that the exercise gives: no
answer is stored anywhere.

An exercise of your own is made by `exercise`, tried by `try_out` and kept by `keep` in a file beside the notebook, from
where `check` takes it by name. `handout` and `teachers_copy` make the copies for a class out of one notebook, and
`class_sheet` reads what the class answered.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
