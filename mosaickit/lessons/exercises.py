"""What an exercise is: how its answer is read, the parts that a right answer has, and what is said about one.

A part looks at an answer and gives a sentence on what is missing and where, or nothing if it is right. It never says
the answer: a maker who counts again learns more than one who copies.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from typing import Any

from mosaickit.errors import MosaickitError

UNANSWERED = "No answer yet: put one in place of the dots, and run the cell again."

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
    """

    right: str
    missing: Missing
    needed: bool = False


@dataclass(frozen=True, eq=False)
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
        Said when all is right: why it is so.
    """

    title: str
    read: Callable[[object], Any]
    parts: tuple[AnswerPart, ...]
    given: Any = None
    because: str = ""

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
        right, missing = [], []
        for part in self.parts:
            trouble = _trouble(part, value)
            if trouble is None:
                right.append(part.right)
                continue
            missing.append(trouble)
            if part.needed:
                if part is not self.parts[-1]:
                    missing.append("The rest is looked at when this is right.")
                break
        return Feedback(name, self.title, tuple(right), tuple(missing), "" if missing else self.because)


def _trouble(part: AnswerPart, value: object) -> str | None:
    try:
        return part.missing(value)
    except MosaickitError as error:  # the answer is not what a verb takes, and the verb says why
        return str(error)


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
    """

    name: str
    title: str
    right: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    because: str = ""

    @property
    def ok(self) -> bool:
        """Whether nothing is missing."""
        return not self.missing

    @property
    def _verdict(self) -> str:
        if self.ok:
            return "all right"
        return "some of it is right" if self.right else "not yet"

    def __str__(self) -> str:
        lines = [f"Exercise {self.name}, {self.title}: {self._verdict}."]
        lines += [f"  right: {sentence}" for sentence in self.right]
        lines += [f"  look again: {sentence}" for sentence in self.missing]
        lines += [f"  {self.because}"] * bool(self.because)
        return "\n".join(lines)

    def __repr__(self) -> str:
        return f"<Feedback {self}>"

    def _repr_html_(self) -> str:
        """Show it in a notebook: a list, with words and not only signs, in the notebook's own colours."""
        items = [f"<li>✓ {escape(sentence)}</li>" for sentence in self.right]
        items += [f"<li><strong>Look again:</strong> {escape(sentence)}</li>" for sentence in self.missing]
        because = f"<p>{escape(self.because)}</p>" if self.because else ""
        head = f"Exercise {self.name}, {self.title}: {self._verdict}."
        return (
            '<div style="border-left: 4px solid currentcolor; padding-left: 12px; margin: 8px 0">'
            f'<p><strong>{escape(head)}</strong></p><ul style="list-style: none; padding: 0; margin: 0">'
            f"{''.join(items)}</ul>{because}</div>"
        )
