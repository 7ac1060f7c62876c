"""An entry: how one decision of a design is asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from mosaickit.sizes import Design

Kind = Literal["choice", "count", "number", "line", "text", "tick"]
"""What is entered: one of several, a whole number, a number, a line of text, several lines, yes or no."""


@dataclass(frozen=True)
class Entry:
    """How one decision is asked for.

    Attributes
    ----------
    label : str
        What it is called.
    kind : str
        What is entered.
    options : tuple of (value, str)
        What can be chosen, and what each is called.
    least, most : float, optional
        Bounds of a number.
    unit : str
        What a number counts; "" if the label says it.
    hint : str
        What more there is to know.
    empty : bool
        Whether it may be left empty, which is then None.
    read : function, optional
        Gives the value that a design has; that of the field of this name if left out.
    put : function, optional
        Gives a design with another value; changes the field of this name if left out.
    """

    label: str
    kind: Kind
    options: tuple[tuple[Any, str], ...] = ()
    least: float | None = None
    most: float | None = None
    unit: str = ""
    hint: str = ""
    empty: bool = False
    read: Callable[[Design], Any] | None = None
    put: Callable[[Design, Any], Design] | None = None
