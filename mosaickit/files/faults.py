"""What a maker is told of a fault in a document: its place, what was expected there, and what was found.

A model says what a document holds; pydantic gives each fault as data, and the schema that it makes of the model says
what belongs in that place. The sentence is put together from the two, so it cannot name another limit than the one
that was tested, and a new model needs no sentences of its own. Where a law of the craft is broken the sentence is the
law's own. Places are keys, and entries from 1.
"""

from __future__ import annotations

import json
import reprlib
from collections.abc import Iterable, Iterator

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from mosaickit.errors import FileError
from mosaickit.files.schemas import Schema, schema_of
from mosaickit.files.strict import shown


def fault(place: Iterable[str | int], sentence: str) -> FileError:
    """Make the error for a place in a document: keys, and numbers of entries, from 1."""
    words = ", ".join(f"entry {part}" if isinstance(part, int) else f'"{part}"' for part in place)
    return FileError(f"At {words}: {sentence}" if words else sentence)


def as_file_error(error: ValidationError, model: type[BaseModel]) -> FileError:
    """Say of the faults that a model finds in a document the one that helps most.

    A key that is unknown comes before one that is missing, since it may be the same one misspelt, and both before
    values; of keys those of the outer object come first. Otherwise the first fault is told.
    """

    def order(each: ErrorDetails) -> tuple[int, int]:
        kind = each["type"]
        return (_FIRST[kind], len(each["loc"])) if kind in _FIRST else (len(_FIRST), 0)

    found = min(error.errors(include_url=False), key=order)
    kind, steps, value, schema = found["type"], found["loc"], found["input"], schema_of(model)
    if kind in _FIRST and steps:
        return _fault_of_key(steps[-1], kind, *_walk(schema, steps[:-1]))
    if steps[-1:] == ("[key]",):
        place, node = _walk(schema, steps[:-2])
        keys = expected(node.get("propertyNames", {"type": "string"}))
        return fault(place, f"Expected {keys} as a key, found {shown(value)}.")
    place, node = _walk(schema, steps)
    if kind == "value_error":  # raised by a law of ours
        return fault(place, str(found["ctx"]["error"]))
    if kind == "string_unicode":
        return fault(place, f"Expected text of whole characters, found half of one in {shown(value)}.")
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        for choice in _choices(node, schema.get("$defs", {})):
            if "discriminator" in choice:
                key, known = choice["discriminator"]["propertyName"], list(choice["discriminator"]["mapping"])
                if kind == "union_tag_not_found":
                    return _fault_of_key(key, "missing", place, node)
                place, node, value = [*place, key], {"enum": known}, value[key]
    return fault(place, f"Expected {expected(node)}, found {shown(value)}.")


_FIRST = {"extra_forbidden": 0, "missing": 1}


def _fault_of_key(key: str | int, kind: str, place: list[str | int], node: Schema) -> FileError:
    if kind == "missing":
        return fault(place, f'The key "{key}" is missing.')
    known = ", ".join(f'"{name}"' for name in node.get("properties", {}))
    return fault(place, f"The key {reprlib.repr(key)} is unknown here; known are {known}.")


def _walk(schema: Schema, steps: Iterable[str | int]) -> tuple[list[str | int], Schema]:
    """Follow pydantic's steps to a place in a document: how a maker names it, and what belongs there.

    Steps that are none in the document, as the name of one of several models that may stand there, choose the model
    and are left out of the place.
    """
    definitions = schema.get("$defs", {})
    place: list[str | int] = []
    node = schema
    for step in steps:
        choices = list(_choices(node, definitions))
        tags = [choice["discriminator"]["mapping"] for choice in choices if "discriminator" in choice]
        if chosen := [models[step] for models in tags if step in models]:
            node = {"$ref": chosen[0]}
        elif below := [inner for choice in choices for inner in _below(choice, step)]:
            node = below[0]
            place.append(step + 1 if isinstance(step, int) else step)
    return place, _followed(node, definitions)


def _followed(node: Schema, definitions: Schema) -> Schema:
    """Give what a reference means, with what is said beside it."""
    while "$ref" in node:
        target = definitions[node["$ref"].removeprefix("#/$defs/")]
        node = {**target, **{key: value for key, value in node.items() if key != "$ref"}}
    return node


def _choices(node: Schema, definitions: Schema) -> Iterator[Schema]:
    """Give the schemas of which a value may meet any."""
    node = _followed(node, definitions)
    for choice in node.get("anyOf") or node.get("oneOf") or ():
        yield from _choices(choice, definitions)
    yield node


def _below(node: Schema, step: str | int) -> Iterator[Schema]:
    if isinstance(step, int):
        yield from [node["items"]] if "items" in node else []
    elif step in node.get("properties", {}):
        yield node["properties"][step]
    elif isinstance(node.get("additionalProperties"), dict):
        yield node["additionalProperties"]


# ---- what belongs in a place -------------------------------------------------------------------------------


def expected(node: Schema) -> str:
    """Say what belongs in a place, by its schema."""
    for several in ("anyOf", "oneOf"):
        if several in node:
            return " or ".join(dict.fromkeys(map(expected, node[several])))
    if "const" in node:
        return json.dumps(node["const"])
    if "enum" in node:
        return _either(list(map(json.dumps, node["enum"])))
    if {"examples", "description"} <= node.keys():  # limits that no words follow from, as a pattern
        meaning = node["description"].removesuffix(".")
        return f"{_KINDS[node['type']]}, as {json.dumps(node['examples'][0])} ({meaning[:1].lower()}{meaning[1:]})"
    return _KINDS.get(node.get("type", "object"), "something else") + _limits(node)


_KINDS = {
    "array": "a list",
    "boolean": "true or false",
    "integer": "a whole number",
    "null": "null",
    "number": "a number",
    "object": "an object in braces",
    "string": "text in quotes",
}


def _limits(node: Schema) -> str:
    """Say between which limits a number is, or how long a text or a list."""
    for what, least, most in (
        (", of {} characters", "minLength", "maxLength"),
        (" of {} entries", "minItems", "maxItems"),
    ):
        if span := _span(node, least, most):
            return what.format(span)
    if "minimum" in node and "maximum" in node:
        return f" from {_span(node, 'minimum', 'maximum')}"
    limits = [f"{word} {_number(node[key])}" for key, word in _LIMITS.items() if key in node]
    return f", {' and '.join(limits)}" if limits else ""


_LIMITS = {"minimum": "at least", "exclusiveMinimum": "above", "maximum": "at most", "exclusiveMaximum": "below"}


def _span(node: Schema, least: str, most: str) -> str:
    """Say from where to where something goes, or where it ends if only that is said; empty if neither."""
    ends = [_number(node[key]) for key in (least, most) if key in node]
    if len(ends) == 2:
        return f"exactly {ends[0]}" if ends[0] == ends[1] else " to ".join(ends)
    return "".join(f"at {'least' if least in node else 'most'} {end}" for end in ends)


def _number(value: float) -> str:
    return f"{int(value) if value == int(value) else value:,}"


def _either(words: list[str]) -> str:
    return " or ".join([", ".join(words[:-1]), words[-1]] if words[1:] else words)
