"""What a kind of finding is, one finding of a technical edit, and the report that gathers them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from html import escape
from typing import Any

from mosaickit.errors import number_of
from mosaickit.publish.editing.draft import Spot


@dataclass(frozen=True)
class EditKind:
    """One thing that an editor looks for.

    Parameters
    ----------
    name : str
        A short name, as a finding shows it.
    severity : "error" or "advice"
        Whether the pattern is wrong, as it contradicts itself or leaves a maker at a loss, or whether something is
        missing or could be said better.
    about : str
        What is looked for, in a sentence.
    source : str
        Where it is published that editors or patterns do so, or that it is common practice.
    found : function
        Takes the pattern as it was read, and gives what is found, each as (where, what, cure).
    """

    name: str
    severity: str
    about: str
    source: str
    found: Callable[[Any], Iterator[Any]]  # of a `Draft` and `Marked`, which stay inside this folder


Marked = tuple[Spot, str, str]
"""Where something is, what it is, and what mends it."""


@dataclass(frozen=True)
class EditFinding:
    """One mark of the editor.

    Attributes
    ----------
    kind : str
        The name of its kind.
    severity : "error" or "advice"
        Whether it is wrong, or only missing or better said otherwise.
    where : str
        Where it stands, as "Row 7" or "line 12".
    message : str
        What is found, in a sentence.
    cure : str
        What to do, in a sentence.
    row : int or None
        The row, from 1, if it is about one.
    line : int or None
        The line of the text, from 1, if a text was edited.
    """

    kind: str
    severity: str
    where: str
    message: str
    cure: str
    row: int | None = None
    line: int | None = None

    def __str__(self) -> str:
        return f"{self.severity}, {self.where}: {self.message} {self.cure}"


@dataclass(frozen=True, repr=False)
class EditReport:
    """What `tech_edit` found.

    Attributes
    ----------
    title : str
        The pattern's title.
    findings : tuple of EditFinding
        In the order in which the pattern is read.
    unjudged : tuple of str
        What was not judged, and why, a sentence each.
    """

    title: str
    findings: tuple[EditFinding, ...]
    unjudged: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether nothing is wrong: no finding is an error."""
        return not self.errors

    @property
    def errors(self) -> tuple[EditFinding, ...]:
        """What is wrong."""
        return tuple(each for each in self.findings if each.severity == "error")

    @property
    def advice(self) -> tuple[EditFinding, ...]:
        """What is missing, or could be said better."""
        return tuple(each for each in self.findings if each.severity == "advice")

    def of(self, kind: str) -> tuple[EditFinding, ...]:
        """Give the findings of one kind, by its name."""
        return tuple(each for each in self.findings if each.kind == kind)

    def without(self, kinds: Collection[str]) -> EditReport:
        """Give the report without the findings of some kinds, by their names."""
        return replace(self, findings=tuple(each for each in self.findings if each.kind not in kinds))

    @property
    def head(self) -> str:
        """How much there is, in a line."""
        if not self.findings:
            return f"{self.title}: an editor would mark nothing."
        wrong, usual = len(self.errors), len(self.advice)
        said = [number_of(wrong, "error")] if wrong else []
        said += [f"{usual:,} {'piece' if usual == 1 else 'pieces'} of advice"] if usual else []
        return f"{self.title}: {' and '.join(said)}."

    def __str__(self) -> str:
        lines = [self.head, *(f"  {finding}" for finding in self.findings)]
        return "\n".join(
            [*lines, *(["Not judged:"] if self.unjudged else []), *(f"  {each}" for each in self.unjudged)]
        )

    def __repr__(self) -> str:
        return f"<EditReport {self}>"

    def _repr_html_(self) -> str:
        rows = "".join(
            f'<tr><td style="text-align:left">{"<strong>error</strong>" if each.severity == "error" else "advice"}</td>'
            f'<td style="text-align:left">{escape(each.where)}</td>'
            f'<td style="text-align:left">{escape(each.message)} <em>{escape(each.cure)}</em></td></tr>'
            for each in self.findings
        )
        head = "<thead><tr>" + "".join(
            f'<th scope="col" style="text-align:left">{word}</th>' for word in ("What", "Where", "Found, and the cure")
        )
        table = f"<table>{head}</tr></thead><tbody>{rows}</tbody></table>" if rows else ""
        left = "".join(f"<li>{escape(each)}</li>" for each in self.unjudged)
        left = f"<p>Not judged:</p><ul>{left}</ul>" if left else ""
        return f"<p>{escape(self.head)}</p>{table}{left}"
