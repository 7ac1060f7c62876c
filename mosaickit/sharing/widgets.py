"""Widgets without Python: those with a page of their own are alive, the others stand as they were.

A notebook keeps what every widget last knew. An anywidget brings its page as a module, which the shared page runs over
that knowledge; boxes, texts, settings and pictures are laid out as HTML.
"""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import Any

from mosaickit.sharing.notebooks import REFERENCE, lacks

WidgetState = dict[str, Any]
_BOXES = {"HBoxModel": "row", "VBoxModel": "column", "BoxModel": "row", "GridBoxModel": "row"}
_TITLED = ("TabModel", "AccordionModel", "StackModel")
_STILL = "As it was in the notebook: what is changed here changes nothing else and is not kept."


class Widgets:
    """What a notebook knows of its widgets.

    Parameters
    ----------
    known : dict
        The states of the widgets, by the ids of their models.
    tidy : function
        Makes HTML of others fit for the page.
    outputs : function
        Renders a list of outputs, which a widget may hold.

    Attributes
    ----------
    alive : dict
        The anywidgets that were met, by the number they got: what they know, and their page.
    styles : dict
        The style sheets of these, each once.
    """

    def __init__(
        self, known: dict[str, WidgetState], tidy: Callable[[str], str], outputs: Callable[[list[Any]], str]
    ) -> None:
        self._known = known
        self._tidy = tidy
        self._outputs = outputs
        self._numbers: dict[str, str] = {}
        self.alive: dict[str, WidgetState] = {}
        self.styles: dict[str, None] = {}

    def show(self, model_id: str) -> str | None:
        """Show a widget; None if nothing is known of it, or nothing can be shown."""
        model = self._known.get(model_id)
        if model is None or lacks(model["state"]):
            return None
        if self._hidden(model["state"]) or model["state"].get("offline", {}).get("left_out"):
            return ""
        kind, state = model["model_name"], model["state"]
        if model["model_module"] == "anywidget" and "_esm" in state:
            return self._live(model_id, model)
        if kind in _BOXES or kind in _TITLED:
            return self._box(kind, state)
        if kind == "OutputModel":
            return self._outputs(state.get("outputs", []))
        if kind == "ButtonModel":  # which only Python hears
            return ""
        return self._still(kind, model)

    def note(self, model_id: str) -> str:
        """Say what a widget that is shown lacks; nothing if it lacks nothing."""
        model = self._known[model_id]
        if "offline" in model["state"]:
            return str(model["state"]["offline"].get("note", ""))
        return _STILL if model["model_module"] == "anywidget" or self._holds_one(model) else ""

    def _holds_one(self, model: WidgetState) -> bool:
        children = (str(child).removeprefix(REFERENCE) for child in model["state"].get("children", []))
        inside = [self._known[child] for child in children if child in self._known]
        return any(child["model_module"] == "anywidget" or self._holds_one(child) for child in inside)

    def _hidden(self, state: WidgetState) -> bool:
        layout: WidgetState = self._known.get(str(state.get("layout", "")).removeprefix(REFERENCE), {}).get("state", {})
        return bool(layout.get("display") == "none" or layout.get("visibility") == "hidden")

    def _box(self, kind: str, state: WidgetState) -> str:
        children = [self.show(str(child).removeprefix(REFERENCE)) or "" for child in state.get("children", [])]
        if kind in _TITLED:
            titles = [title or f"Part {number}" for number, title in enumerate(state.get("titles") or [], 1)]
            titles += [f"Part {number}" for number in range(len(titles) + 1, len(children) + 1)]
            children = [
                f'<div class="column"><strong>{escape(title)}</strong>{child}</div>'
                for title, child in zip(titles, children, strict=False)
            ]
        return f'<div class="{_BOXES.get(kind, "column")}">{"".join(children)}</div>'

    def _still(self, kind: str, model: WidgetState) -> str | None:
        """Show a widget that says or holds a value."""
        state = model["state"]
        value, name = state.get("value"), str(state.get("description", "")).strip()
        if kind == "LabelModel":
            return f"<span>{escape(str(value))}</span>"
        if kind in ("HTMLModel", "HTMLMathModel"):
            return f"<div>{self._tidy(str(value))}</div>" if value else ""
        if kind == "ImageModel":
            data = next((part["data"] for part in model.get("buffers", []) if part["path"] == ["value"]), None)
            return data and _picture(f"data:image/{state.get('format', 'png')};base64,{data}", name or "Picture")
        if str(state.get("_data_url", "")).startswith("data:image/"):  # a figure with tools: its last picture
            return _picture(state["_data_url"], str(state.get("_figure_label") or "Figure"))
        if "_options_labels" in state:
            at = state.get("index")
            chosen = at if isinstance(at, list) else [] if at is None else [at]
            value = ", ".join(str(state["_options_labels"][index]) for index in chosen) or "nothing"
        elif isinstance(value, bool):
            value = "yes" if value else "no"
        elif value is None and not name:
            return None
        named = f"<span>{escape(name)}:</span> " if name else ""
        return f'<p class="setting">{named}<strong>{escape(_said(value))}</strong></p>'

    # ---- alive ---------------------------------------------------------------------------------------------

    def _live(self, model_id: str, model: WidgetState) -> str:
        number = self._number(model_id)
        if number not in self.alive:
            known = {key: value for key, value in model["state"].items() if key not in ("_esm", "_css")}
            self.alive[number] = {
                "page": model["state"]["_esm"],
                "state": self._renumbered(known),
                "bytes": [[part["path"], part["data"]] for part in model.get("buffers", [])],
            }
            if model["state"].get("_css"):
                self.styles[model["state"]["_css"]] = None
        return (
            f'<div class="live" data-widget="{number}"><p class="note">A widget is drawn here by a script, which this '
            "viewer does not run.</p></div>"
        )

    def _number(self, model_id: str) -> str:
        """Give a widget a number: the names that a kernel gives are others each time it runs."""
        return self._numbers.setdefault(model_id, f"widget-{len(self._numbers) + 1}")

    def _renumbered(self, value: Any) -> Any:  # noqa: ANN401 — whatever JSON holds
        if isinstance(value, str) and value.startswith(REFERENCE):
            return REFERENCE + self._number(value.removeprefix(REFERENCE))
        if isinstance(value, dict):
            return {key: self._renumbered(inner) for key, inner in value.items()}
        if isinstance(value, list):
            return [self._renumbered(inner) for inner in value]
        return value


def _said(value: Any) -> str:  # noqa: ANN401 — whatever a setting holds
    if isinstance(value, list):
        return " to ".join(_said(inner) for inner in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _picture(address: str, words: str) -> str:
    return f'<img class="picture" alt="{escape(words)}" src="{escape(address)}">'
