"""Python's end of a widget's talk with its pages: every message is answered, also one that cannot be done.

A page numbers its messages, and an answer says which one it belongs to, so that silence is noticed. What a message does
is the widget's own; that no exception is lost in its handler, where no one would see it, is seen to here. The other end
is ``link.js``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from mosaickit.errors import MosaickitError, OptionError

MOST_VIEWS = 40
"""How many views of one widget are told which message they were heard with; a notebook shows two or three."""


def answer_to(content: dict[str, Any], does: Callable[[], dict[str, Any]], *, kept: str) -> dict[str, Any]:
    """Do what a message asks for, and make the answer.

    Parameters
    ----------
    content : dict
        The message, with the `view` that it comes from and its number `seq`.
    does : function
        Does it, and gives what is to be added to the answer.
    kept : str
        What is as it was if that fails, such as "the picture".

    Returns
    -------
    dict
        `view` and `seq` of the message, what `does` gave, or under `error` a sentence that says why it was not done.

    Examples
    --------
    >>> def refuse():
    ...     raise unknown_message("guide", "dance")
    >>> answer_to({"view": "v", "seq": 3}, refuse, kept="the place")
    {'view': 'v', 'seq': 3, 'error': "A guide knows no message 'dance'."}
    """
    answer = {"view": content.get("view"), "seq": content.get("seq")}
    try:
        return answer | does()
    except MosaickitError as error:
        return answer | {"error": str(error)}
    except Exception as error:  # an exception here would be seen by no one
        return answer | {"error": f"mosaickit met an error of its own, and {kept} is as it was: {error!r}"}


def answer_aloud(widget: Any, content: dict[str, Any], *, kept: str) -> None:  # noqa: ANN401 — with said and _handle
    """Let a widget's `_handle` do what a message asks for, send the answer, and say in `said` why it was not done."""
    answer = answer_to(content, lambda: widget._handle(content), kept=kept)
    widget.said = answer.get("error", widget.said)
    widget.send(answer)


def heard_with(heard: dict[str, Any], content: dict[str, Any]) -> dict[str, Any]:
    """Give which message each view was heard with last, after one more; the oldest of very many views are left out."""
    view = str(content.get("view"))
    others = [(name, last) for name, last in heard.items() if name != view]
    return dict([*others, (view, content.get("seq"))][-MOST_VIEWS:])


def unknown_message(widget: str, kind: object) -> OptionError:
    """Make the error for a message of a kind that a widget does not know."""
    article = "An" if widget[0] in "aeiou" else "A"
    return OptionError(f"{article} {widget} knows no message {kind!r}.")
