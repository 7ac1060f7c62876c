"""The JSON schemas that the models of documents give: for sentences about faults, and published beside the models.

A published schema is made by ``python start.py run docs/schemas.py`` and describes a kind of document for people and
for validators of other makers. What it says is what the models say, descriptions included.
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from pydantic import BaseModel

Schema = dict[str, Any]
"""A JSON schema, or a part of one."""


@cache
def schema_of(model: type[BaseModel]) -> Schema:
    """Give the JSON schema of a model, without the titles that pydantic makes up from names."""
    schema = model.model_json_schema()
    for form in (schema, *schema.get("$defs", {}).values()):
        form.pop("title", None)
        if "description" in form:  # a docstring
            form["description"] = " ".join(form["description"].split())
        for field in form.get("properties", {}).values():
            field.pop("title", None)
    return schema


def published(document: type[BaseModel], *others: type[BaseModel]) -> str:
    """Write the schema of a document, and those of models that belong to it as definitions."""
    definitions: Schema = {}
    for model in (document, *others):
        body = dict(schema_of(model))
        definitions |= body.pop("$defs", {}) | {model.__name__: body}
    body = definitions.pop(document.__name__)
    kind, version = (body["properties"][name]["const"] for name in ("format", "version"))
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:{kind.replace(' ', ':')}:{version}",
        "title": f"{kind}, version {version}",
    }
    return json.dumps({**head, **body, "$defs": definitions}, ensure_ascii=False, indent=2) + "\n"
