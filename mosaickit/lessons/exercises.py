"""What an exercise is: how its answer is read, the parts that a right answer has, and what is said about one.

A part looks at an answer and gives a sentence on what is missing and where, or nothing if it is right. It never says
the answer: a maker who counts again learns more than one who copies. What goes wrong inside a part is a fault of the
exercise, and is said as such.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field, replace
from html import escape
from typing import Any

from mosaickit.errors import MosaickitError, OptionError, each_of_kind, number_of, shortly, text

UNANSWERED = "No answer yet: put one in place of the dots, and run the cell again."
NOTHING_NAMED = "There is nothing in it yet that can be looked at."

ANSWER_MIME = "application/vnd.mosaickit.answer+json"
"""Under this name a notebook keeps, beside a feedback, the answer that it is about."""

Missing = Callable[[Any], str | None]
"""Looks at an answer that was read: gives what is missing and where, or None if nothing is."""


@dataclass(frozen=True)
class AnswerPart:
    """One thing that a right answer has.

    Parameters
    ----------
    right : str
        What is said when it has it.
    missing : function of the answer
        Gives what is missing and where, or None.
    needed : bool
        Whether the parts after it make no sense without it.
    applies : function of the answer, optional
        Whether there is anything in the answer that the part can look at. If not, nothing is said: an empty list is
        not praised for having nothing wrong in it.
    kept : mapping, optional
        How a file keeps the part; None for one that looks with a function of its own.
    """

    right: str
    missing: Missing
    needed: bool = False
    applies: Callable[[Any], bool] | None = None
    kept: Mapping[str, Any] | None = field(default=None, compare=False)


@dataclass(frozen=True, eq=False, repr=False)
class Exercise:
    """One exercise of a lesson.

    Parameters
    ----------
    title : str
        What it is about.
    read : function of what was answered
        Gives the answer as the parts take it, or raises `OptionError` with what was expected.
    parts : tuple of AnswerPart
        What a right answer has, the simplest first.
    given : object
        What is worked on, if anything: a motif, a chart, or several by their names.
    because : str
        PartVerdict when all is right: why it is so.
    question : str
        What is asked, in the Markdown of notebooks; empty where a notebook asks it.
    answer : str or tuple of str
        What `READERS` calls the reader, or the words to choose from; empty for a reader of its own.
    solution : object
        One right answer; ``...`` if it is not known here.
    """

    title: str
    read: Callable[[object], Any]
    parts: tuple[AnswerPart, ...]
    given: Any = None
    because: str = ""
    question: str = ""
    answer: str | tuple[str, ...] = ""
    solution: Any = ...

    def look_at(self, answer: object, name: str) -> Feedback:
        """Look at an answer to this exercise, which is called by its name; never raises for what it is given."""
        if answer is ...:
            return Feedback(name, self.title, missing=(UNANSWERED,))
        try:
            value = self.read(answer)
        except MosaickitError as error:
            return Feedback(name, self.title, missing=(str(error),))
        except Exception as error:  # an answer may be of any kind, and do anything when it is looked at
            sentence = f"The answer could not be read, as it raised {type(error).__name__}: {error}."
            return Feedback(name, self.title, missing=(sentence,))
        right, missing, faults = [], [], []
        for number, part in enumerate(self.parts, 1):
            said = said_by(part, value)
            if said.fault or (said.missing and self._refuses_its_solution(part)):
                why = said.fault or "it does not let the solution of the exercise pass either"
                faults.append(f"Part {number}, “{part.right}”: {why}.")
            elif said.missing:
                missing.append(said.missing)
            elif said.applies:
                right.append(part.right)
            if part.needed and not said.right:
                if part is not self.parts[-1] and not faults:
                    missing.append("The rest is looked at when this is right.")
                break
        if not right and not missing and not faults:
            missing.append(NOTHING_NAMED)
        because = "" if missing or faults else self.because
        return Feedback(name, self.title, tuple(right), tuple(missing), because, tuple(faults))

    def _refuses_its_solution(self, part: AnswerPart) -> bool:
        """Tell whether a part finds something missing in the solution as well: then the part is wrong."""
        if self.solution is ...:
            return False
        try:
            said = said_by(part, self.read(self.solution))
        except Exception:  # it cannot even be read
            return True
        return bool(said.missing or said.fault)

    def __repr__(self) -> str:
        """Say what it is about; the solution has to be asked for."""
        return f"<Exercise “{self.title}”, {number_of(len(self.parts), 'part')}>"

    def _repr_html_(self) -> str:
        """Show it in a notebook: what it is about and how its answer is given, not the answer."""
        kind = self.answer if isinstance(self.answer, str) else "one of " + ", ".join(map(repr, self.answer))
        asked = f"<p>{escape(self.question)}</p>" if self.question else ""
        wants = (
            f"<p>Answer: {escape(kind)}. It is looked at in {number_of(len(self.parts), 'part')}.</p>" if kind else ""
        )
        return f"<p><strong>Exercise: {escape(self.title)}</strong></p>{asked}{wants}"


@dataclass(frozen=True)
class PartVerdict:
    """What a part says of an answer: at most one of the two sentences; neither if it is right or does not apply."""

    missing: str = ""
    fault: str = ""
    applies: bool = True

    @property
    def right(self) -> bool:
        """Whether nothing is wrong."""
        return not self.missing and not self.fault


def said_by(part: AnswerPart, value: object) -> PartVerdict:
    """Ask a part about an answer that was read; whatever it raises is its own fault, or a verb's sentence."""
    try:
        if part.applies is not None and not part.applies(value):
            return PartVerdict(applies=False)
        sentence = part.missing(value)
    except MosaickitError as error:  # the answer is not what a verb takes, and the verb says why
        return PartVerdict(missing=str(error))
    except (Exception, SystemExit) as error:
        why = str(error).strip().rstrip(".")
        return PartVerdict(fault=f"it ended with {type(error).__name__}{f': {why}' if why else ''}")
    if sentence is None:
        return PartVerdict()
    if not isinstance(sentence, str) or not sentence.strip():
        return PartVerdict(fault=f"it gave {shortly(sentence)}, where a sentence or None is expected")
    return PartVerdict(missing=sentence)


@dataclass(frozen=True)
class Lesson:
    """A lesson.

    Parameters
    ----------
    title : str
        Its title.
    exercises : sequence of Exercise
        In order; the first is exercise 1.

    Raises
    ------
    OptionError
        If the title is empty, or something is no exercise.
    """

    title: str
    exercises: tuple[Exercise, ...]

    def __post_init__(self) -> None:
        if not text("title", self.title).strip():
            raise OptionError("`title` must not be empty: a lesson is known by it.")
        object.__setattr__(self, "exercises", each_of_kind("exercises", self.exercises, Exercise))


@dataclass(frozen=True)
class Feedback:
    """What is said about an answer.

    Attributes
    ----------
    name, title : str
        The exercise.
    right, missing : tuple of str
        A sentence for each part that is right, and for each that is not: what is missing and where.
    because : str
        Why it is so, when all is right.
    faults : tuple of str
        What is wrong with the exercise itself, which is no fault of the answer.
    kept : mapping, optional
        The answer in a form that a notebook can keep, for the class sheet.
    """

    name: str
    title: str
    right: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    because: str = ""
    faults: tuple[str, ...] = ()
    kept: Mapping[str, Any] | None = field(default=None, compare=False, repr=False)

    @property
    def ok(self) -> bool:
        """Whether nothing is missing, and the exercise has no fault."""
        return not self.missing and not self.faults

    def keeping(self, kept: Mapping[str, Any] | None) -> Feedback:
        """Give the same with the answer, as a notebook keeps it."""
        return replace(self, kept=kept)

    @property
    def _verdict(self) -> str:
        if self.faults:
            return "the exercise has a fault of its own; your answer is not the cause"
        if self.ok:
            return "all right"
        return "some of it is right" if self.right else "not yet"

    @property
    def _head(self) -> str:
        called = f"{self.name}, {self.title}" if self.name else f"“{self.title}”"
        return f"Exercise {called}: {self._verdict}."

    def __str__(self) -> str:
        lines = [self._head]
        lines += [f"  right: {sentence}" for sentence in self.right]
        lines += [f"  look again: {sentence}" for sentence in self.missing]
        lines += [f"  fault of the exercise: {sentence}" for sentence in self.faults]
        lines += ["  Tell the person who made it."] * bool(self.faults)
        lines += [f"  {self.because}"] * bool(self.because)
        return "\n".join(lines)

    def __repr__(self) -> str:
        return f"<Feedback {self}>"

    def _repr_html_(self) -> str:
        """Show it in a notebook: a list, with words and not only signs, in the notebook's own colours."""
        items = [f"<li>✓ {escape(sentence)}</li>" for sentence in self.right]
        items += [f"<li><strong>Look again:</strong> {escape(sentence)}</li>" for sentence in self.missing]
        items += [f"<li><strong>Fault of the exercise:</strong> {escape(sentence)}</li>" for sentence in self.faults]
        items += ["<li>Tell the person who made it.</li>"] * bool(self.faults)
        because = f"<p>{escape(self.because)}</p>" if self.because else ""
        return (
            '<div style="border-left: 4px solid currentcolor; padding-left: 12px; margin: 8px 0">'
            f'<p><strong>{escape(self._head)}</strong></p><ul style="list-style: none; padding: 0; margin: 0">'
            f"{''.join(items)}</ul>{because}</div>"
        )

    def _repr_mimebundle_(self, **_asked: object) -> dict[str, Any]:
        """Keep the answer in the notebook, beside the feedback; text and HTML have methods of their own."""
        if not self.name:
            return {}
        return {ANSWER_MIME: {"exercise": self.name, "ok": self.ok, "answer": deepcopy(self.kept)}}
