# The names at this folder's door, and where they live; mosaickit/doors.py loads them.

from mosaickit.lessons.course import COURSE as COURSE
from mosaickit.lessons.course import EXERCISES as EXERCISES
from mosaickit.lessons.course import Lesson as Lesson
from mosaickit.lessons.course import check as check
from mosaickit.lessons.course import given as given
from mosaickit.lessons.exercises import AnswerPart as AnswerPart
from mosaickit.lessons.exercises import Exercise as Exercise
from mosaickit.lessons.exercises import Feedback as Feedback
