"""The course: its lessons in order, each with its exercises."""

from __future__ import annotations

from mosaickit.lessons import (
    faces,
    mending,
    overlay,
    proportion,
    reading,
    repeats,
    reversible,
    scarf,
    strands,
    swatches,
    vision,
    workable,
)
from mosaickit.lessons.exercises import Lesson

COURSE = (
    Lesson("Reading a chart", reading.EXERCISES),
    Lesson("Why a square can or cannot be worked", workable.EXERCISES),
    Lesson("Overlay, row by row", overlay.EXERCISES),
    Lesson("Making it reversible", reversible.EXERCISES),
    Lesson("The law of the two faces", faces.EXERCISES),
    Lesson("Repeats, centring and frames", repeats.EXERCISES),
    Lesson("Gauge and proportion", proportion.EXERCISES),
    Lesson("Yarn and a swatch", swatches.EXERCISES),
    Lesson("Carried or cut", strands.EXERCISES),
    Lesson("Mistakes, and how to mend them", mending.EXERCISES),
    Lesson("Designing for a scarf", scarf.EXERCISES),
    Lesson("Contrast and colour vision", vision.EXERCISES),
)
"""The lessons in order; the first is lesson 1."""

EXERCISES = {
    f"{lesson}.{number}": exercise
    for lesson, each in enumerate(COURSE, 1)
    for number, exercise in enumerate(each.exercises, 1)
}
"""All exercises by their names, as "3.2"."""
