"""Documents by their models: strict, with a sentence for every fault, and as the published schema says.

The opponent is `jsonschema`, which knows the published schema and nothing of the models.
"""

import json
import re
import runpy
from collections import Counter
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

import jsonschema
import numpy as np
import pytest
from pydantic import Field
from pydantic_core import PydanticCustomError, ValidationError
from pydantic_core._pydantic_core import list_all_errors

import mosaickit as mk
from mosaickit import Motif, Yarn, Yarns
from mosaickit.errors import FileError
from mosaickit.files import WHAT_IT_IS, WHICH_VERSION, Document, FileForm, kept_as, read_document, written
from mosaickit.files.documents import MotifDocument, MotifForm, PngNote, from_json, motif_of
from mosaickit.files.faults import as_file_error

ROOT = Path(__file__).parent.parent
SCHEMA = json.loads((Path(mk.__file__).parent / "files" / "motif.schema.json").read_text("utf-8"))

LEAF = {
    "format": "mosaickit motif",
    "version": 1,
    "name": "leaf",
    "first": "MC",
    "rows": ["..", ".#", "##"],
    "yarns": {
        "MC": [{"from_row": 1, "name": "sand", "colour": "#E9DCC3"}],
        "CC": [
            {"from_row": 1, "name": "deep", "colour": "#123f5a"},
            {"from_row": 3, "name": "foam", "colour": "#3d8f92"},
        ],
    },
}
NOTE = {key: value for key, value in LEAF.items() if key != "rows"}
NOTE |= {"square": 2, "pixels": {"MC": "#ffffff", "CC": "#000000"}}


# ---- the published schema ----------------------------------------------------------------------------------


def test_the_published_schemas_are_those_that_the_models_give():
    schemas = runpy.run_path(str(ROOT / "docs" / "schemas.py"))["SCHEMAS"]
    assert sorted(schemas) == sorted(Path(mk.__file__).parent.rglob("*.schema.json"))
    for file, text in schemas.items():
        due = f"{file.name} is not what its models give: python start.py run docs/schemas.py makes it"
        assert file.read_text("utf-8") == text(), due


def test_every_field_of_a_published_schema_says_what_it_means():
    for form in (SCHEMA, *SCHEMA["$defs"].values()):
        assert form["description"]
        for name, field in form["properties"].items():
            assert field.get("description") or "$ref" in field or name in ("MC", "CC"), name


def ecma_pattern(_, pattern, text, schema):
    """Patterns of a schema are those of ECMA-262 (JSON Schema 2020-12, 6.3.3), whose $ is the very end of a text."""
    if isinstance(text, str) and not re.search(re.sub(r"\$$", r"\\Z", pattern), text):
        yield jsonschema.ValidationError(f"{text!r} does not match {pattern!r}")


def outsider(schema):
    """A validator of a schema; what it found right once, at the same place of the schema, it does not look at again."""
    right = set()

    def ref(validator, place, instance, part):
        seen = place, json.dumps(instance)
        if seen not in right:
            faults = False
            for fault in jsonschema.Draft202012Validator.VALIDATORS["$ref"](validator, place, instance, part):
                faults = True
                yield fault
            if not faults:
                right.add(seen)

    kind = jsonschema.validators.extend(jsonschema.Draft202012Validator, {"pattern": ecma_pattern, "$ref": ref})
    return kind(schema)


OUTSIDERS = {
    MotifDocument: outsider(SCHEMA),
    PngNote: outsider({"$defs": SCHEMA["$defs"], "$ref": "#/$defs/PngNote"}),
}

# what a reader refuses although a schema cannot say it, and where the published schema says so in words
UNSAID = {
    "stands twice in one object": "no key stands twice in an object",
    r"Line \d+ has \d+ squares?, but line 1 has": "all rows are equally long",
    "16,000,000 squares in all": "there are at most 16,000,000 squares",
    "one line of printable characters|half of one in": "names are one line of printable characters",
    "must start at row 1": "the rows from which yarns are used start at 1",
    "must change at rising rows": "and rise",
    "must not change above its last row": "none lies above the picture's last row",
    r"Expected a whole number .*, found \d+\.0\.": "Numbers are written without a decimal point",
    "MC and CC must be different colours": "never the same",
}


def test_the_published_schema_lists_what_it_cannot_say():
    said = json.dumps(SCHEMA)
    assert [words for words in UNSAID.values() if words not in said] == []


# ---- documents changed at random ---------------------------------------------------------------------------

VALUES = [
    *(None, True, False, 0, 1, 2, 3, 4, -1, 1.0, 2.0, 1.5, 1e300, 10_000, 10_001, 10**17),
    *("", "MC", "CC", "1", "#", "..", ".#", "##", ".x", "..\n", "#12345", "#12345g", "#ABCDEF", "#ABCDEF\n"),
    *("a\nb", "\ud800", "ü" * 200, "x" * 201, "mosaickit motif"),
    *([], {}, ["."], [[]], [1], {"MC": []}, {"MC": "#ffffff", "CC": "#ffffff"}),
]
KEYS = ["name", "first", "rows", "yarns", "MC", "CC", "from_row", "colour", "square", "pixels", "stitch", "Name", ""]
CHARACTERS = list('{}[]":,.#0123456789-+eE \\untrfalsMC\nx')


def places(value, place=()):
    """Every place in a document."""
    yield place
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, below in inner:
        yield from places(below, (*place, key))


@lru_cache(8)
def places_of(text):
    """Every place in the document of a text."""
    return list(places(json.loads(text)))


def at(document, place):
    for part in place:
        document = document[part]
    return document


def changed(document, rng):
    """A copy with one thing changed: a value set, taken out, moved, doubled, or a key renamed."""
    text = json.dumps(document)
    copy, everywhere = json.loads(text), places_of(text)
    place = everywhere[rng.integers(len(everywhere))]
    new = (
        VALUES[rng.integers(len(VALUES))] if rng.random() < 0.7 else at(copy, everywhere[rng.integers(len(everywhere))])
    )
    new = json.loads(json.dumps(new))
    if not place:
        return new if rng.random() < 0.3 else copy
    owner, key = at(copy, place[:-1]), place[-1]
    way = rng.integers(6)
    if way < 2:
        owner[key] = new
    elif way == 2:
        del owner[key]
    elif way == 3 and isinstance(owner, list):
        owner.insert(key, new if rng.random() < 0.5 else owner[key])
    elif way == 4 and isinstance(owner, list):
        owner.reverse()
    elif isinstance(owner, dict):
        other = KEYS[rng.integers(len(KEYS))]
        owner[other] = owner.pop(key) if way == 5 else new
    elif isinstance(owner[key], str):
        letters = [*owner[key], ".#xä\n"[rng.integers(5)]]
        rng.shuffle(letters)
        owner[key] = "".join(letters)
    return copy


def changed_text(text, rng):
    """A copy with a few characters put in, taken out, replaced or doubled."""
    for _ in range(rng.integers(1, 4)):
        start = rng.integers(len(text))
        end = start + rng.integers(4)
        put = CHARACTERS[rng.integers(len(CHARACTERS))] if rng.random() < 0.6 else text[start : end + rng.integers(30)]
        text = text[:start] + put + text[end:] or " "
    return text


def read(form, text):
    return from_json(text, None) if form is MotifDocument else read_document(form, text)


def judged(form, text):
    """What an outsider says of a text, true or false, and the sentence with which we refuse it, None if we do not."""
    try:
        valid = OUTSIDERS[form].is_valid(json.loads(text))
    except ValueError:
        valid = False
    try:
        read(form, text)
    except FileError as error:
        return valid, str(error)
    return valid, None


@pytest.mark.thorough
@pytest.mark.parametrize(("form", "good", "rounds"), [(MotifDocument, LEAF, 4000), (PngNote, NOTE, 1000)])
def test_a_validator_of_the_published_schema_and_the_reader_agree(form, good, rounds):
    rng = np.random.default_rng([20_241_129, rounds])
    outcomes, unsaid = Counter(), Counter()
    for number in range(rounds):
        document = good
        for _ in range(rng.integers(1, 3)):
            document = changed(document, rng)
        text = json.dumps(document, indent=1)
        if number % 4 == 0:
            text = changed_text(json.dumps(good), rng)
        valid, sentence = judged(form, text)
        outcomes[valid, sentence is None] += 1
        if sentence is None:
            assert valid, text
            continue
        assert re.fullmatch(r"[A-Z\-].{15,400}\.", sentence), sentence
        if valid:
            excuses = [words for words in UNSAID if re.search(words, sentence)]
            assert excuses, (sentence, text)
            unsaid.update(excuses)
    assert outcomes[True, True] > rounds // 20, outcomes
    assert outcomes[False, False] > rounds // 2, outcomes
    assert len(unsaid) >= (7 if form is MotifDocument else 5), unsaid


def test_too_many_squares_are_refused_where_a_schema_cannot():
    valid, sentence = judged(MotifDocument, json.dumps({**LEAF, "rows": ["." * 10_000] * 1601}))
    assert valid
    assert sentence.startswith('At "rows": A motif may have at most')
    assert "16,000,000 squares in all; got 1,601 × 10,000" in sentence


# ---- strictness --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("row", ["1", 1.0, True, None, [1]])
def test_nothing_is_taken_for_a_whole_number_that_is_none(row):
    yarns = {"MC": [{"from_row": row, "name": "sand", "colour": "#e9dcc3"}], "CC": LEAF["yarns"]["CC"]}
    with pytest.raises(
        FileError, match=r'^At "yarns", "MC", entry 1, "from_row": Expected a whole number from 1 to 10,'
    ):
        from_json(json.dumps({**LEAF, "yarns": yarns}), None)


@pytest.mark.parametrize("version", ["1", 1.0, True, None, [1], 0, 10_001])
def test_nothing_is_taken_for_a_version_that_is_none(version):
    for form, good in ((MotifDocument, LEAF), (PngNote, NOTE)):
        with pytest.raises(FileError, match=r'^At "version": Expected a whole number from 1 to 10,000, found'):
            read(form, json.dumps({**good, "version": version}))


def test_half_a_character_is_refused_in_keys_and_texts():
    with pytest.raises(FileError, match=r"^The key '\\udc00' holds half a character; write it whole\."):
        from_json(json.dumps({**LEAF, "\udc00": 1}), None)
    with pytest.raises(FileError, match=r'^At "rows", entry 2: Expected text of whole .* half of one in \'\\udc00\'\.'):
        from_json(json.dumps({**LEAF, "rows": ["..", "\udc00"]}), None)


# ---- another kind of document ------------------------------------------------------------------------------


def motif_form(motif):
    return MotifForm(name=motif.name, first=motif.first, rows=motif.grid, yarns=motif.yarns)


class Bead(FileForm):
    """One of two things that may stand in one place."""

    kind: Literal["bead"]
    size: Annotated[float, Field(gt=0, le=10)]


class Fringe(FileForm):
    """The other one."""

    kind: Literal["fringe"]
    strands: Annotated[int, Field(ge=2)]


class Shelf(Document):
    """A document that holds motifs, and some of everything."""

    format: Annotated[Literal["mosaickit shelf"], WHAT_IT_IS]
    version: Annotated[Literal[3], WHICH_VERSION]
    motifs: Annotated[list[Annotated[Motif, kept_as(Motif, MotifForm, motif_of, motif_form)]], Field(max_length=2)]
    trims: list[Annotated[Bead | Fringe, Field(discriminator="kind")]] = Field(default_factory=list)
    labels: dict[Literal["top", "side"], Annotated[str, Field(min_length=1, max_length=4)]] = Field(
        default_factory=dict
    )
    last: Annotated[Bead | Fringe, Field(discriminator="kind")] | None = None
    finished: bool = False
    metres: float = 0
    pair: Annotated[list[int], Field(min_length=2, max_length=2)] | None = None
    beside: list[Bead] | bool = False


FLAG = Motif.from_text(
    ".#\n#.", "CC", name="Fahne", yarns=Yarns(cc=[(1, Yarn("a", "#000000")), (2, Yarn("b", "#111111"))])
)
SHELF = Shelf(format="mosaickit shelf", version=3, motifs=[FLAG], trims=[Bead(kind="bead", size=1.5)])


def test_a_value_of_ours_in_a_document_is_written_and_read_back():
    text = written(SHELF)
    assert read_document(Shelf, text).motifs == [FLAG]
    assert read_document(Shelf, text).trims == SHELF.trims
    assert '        ".#",\n        "#."\n' in text  # a row of squares a line
    assert written(read_document(Shelf, text)) == text


def with_motif(**changes):
    return {"motifs": [{**json.loads(written(SHELF))["motifs"][0], **changes}]}


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"format": "mosaickit motif"}, 'This is no shelf: expected an object with "format": "mosaickit shelf".'),
        ({"version": 2}, "This file is of version 2; this mosaickit reads version 3: save the file in that version"),
        ({"version": 4}, "This file is of version 4; this mosaickit reads version 3: .* a newer mosaickit."),
        ({"colour": 1}, 'The key \'colour\' is unknown here; known are "format", "version", "motifs", "trims", '),
        ({"colour": 1, "motifs": 3}, "The key 'colour' is unknown here"),
        ({"trims": [{"kind": "fringe", "size": 1}], "colour": 1}, "The key 'colour' is unknown here"),
        (
            with_motif(stitch=1),
            'At "motifs", entry 1: The key \'stitch\' is unknown here; known are "name", "first", "',
        ),
        (with_motif(rows=["..", ".x"]), 'At "motifs", entry 1, "rows": Line 2, column 2: expected'),
        (with_motif(rows=[".."]), 'At "motifs", entry 1: A motif\'s yarns must not change above its last row, 1'),
        (with_motif(yarns={"MC": []}), 'At "motifs", entry 1, "yarns": The key "CC" is missing.'),
        ({"motifs": [1] * 3}, r'At "motifs": Expected a list of at most 2 entries, found \[1, 1, 1\].'),
        ({"motifs": [1]}, 'At "motifs", entry 1: Expected an object in braces, found 1.'),
        ({"motifs": {}}, 'At "motifs": Expected a list of at most 2 entries, found {}.'),
        (
            {"trims": [{"kind": "bead", "size": 0}]},
            'At "trims", entry 1, "size": Expected a number, above 0 and at most 10, f',
        ),
        ({"trims": [{"kind": "bead", "size": "1"}]}, ".*, \"size\": Expected a number, above .*, found '1'."),
        ({"trims": [{"kind": "fringe"}]}, 'At "trims", entry 1: The key "strands" is missing.'),
        ({"trims": [{"kind": "fringe", "strands": 1}]}, '.*"strands": Expected a whole number, at least 2, found 1.'),
        (
            {"trims": [{"kind": "fringe", "size": 1}]},
            '.*: The key \'size\' is unknown here; known are "kind", "strands"',
        ),
        ({"trims": [{"kind": "fur"}]}, 'At "trims", entry 1, "kind": Expected "bead" or "fringe", found \'fur\'.'),
        ({"trims": [{"kind": []}]}, r'At "trims", entry 1, "kind": Expected "bead" or "fringe", found \[\].'),
        ({"trims": [{}]}, 'At "trims", entry 1: The key "kind" is missing.'),
        (
            {"last": {"kind": "fringe", "strands": 1}},
            'At "last", "strands": Expected a whole number, at least 2, found',
        ),
        ({"last": {"kind": "fringe", "size": 1}}, 'At "last": The key .size. is unknown here; known are "kind", "str'),
        ({"last": {"kind": "fur"}}, 'At "last", "kind": Expected "bead" or "fringe", found \'fur\'.'),
        ({"last": {}}, 'At "last": The key "kind" is missing.'),
        ({"last": 7}, 'At "last": Expected an object in braces or null, found 7.'),
        ({"trims": [7]}, 'At "trims", entry 1: Expected an object in braces, found 7.'),
        ({"labels": {"left": "a"}}, 'At "labels": Expected "top" or "side" as a key, found \'left\'.'),
        ({"labels": {"top": "abcde"}}, 'At "labels", "top": Expected text in quotes, of 1 to 4 characters, found'),
        ({"labels": []}, r'At "labels": Expected an object in braces, found \[\].'),
        ({"finished": 1}, 'At "finished": Expected true or false, found 1.'),
        ({"finished": None}, 'At "finished": Expected true or false, found null.'),
        ({"pair": [1]}, r'At "pair": Expected a list of exactly 2 entries or null, found \[1\].'),
        ({"pair": [1, "2"]}, "At \"pair\", entry 2: Expected a whole number, found '2'."),
        (
            {"beside": [{"kind": "bead", "size": 11}]},
            'At "beside", entry 1, "size": Expected a number, above 0 and at',
        ),
        ({"beside": 3}, 'At "beside": Expected a list or true or false, found 3.'),
    ],
)
def test_a_fault_in_any_document_is_told_with_its_place_and_what_was_expected(changes, sentence):
    with pytest.raises(FileError, match=f"^{sentence}"):
        read_document(Shelf, json.dumps({**json.loads(written(SHELF)), **changes}))


@pytest.mark.parametrize("metres", ["1e999", "-1e999", "NaN", "Infinity", "true", '"1"'])
def test_nothing_is_taken_for_a_number_that_is_none(metres):
    text = written(SHELF).replace('"metres": 0.0', f'"metres": {metres}')
    with pytest.raises(FileError, match=r'^At "metres": Expected a number, found|^\w+ is no number of JSON\.'):
        read_document(Shelf, text)
    assert read_document(Shelf, text.replace(metres, "1e2")).metres == 100


@pytest.mark.parametrize(
    "steps",
    [(), ("first",), ("yarns", "MC", 0, "colour"), ("stitch",), ("rows", 3, "x", "[key]"), ("[key]",), ("yarns", 7)],
)
def test_every_error_that_pydantic_knows_becomes_a_sentence(steps):
    kinds = {error["type"]: error["example_context"] or {} for error in list_all_errors()}
    assert {"missing", "extra_forbidden", "int_type", "value_error", "string_unicode"} < kinds.keys()
    kinds["value_error"] = {"error": ValueError("A law of ours.")}
    crooked = PydanticCustomError("crooked", "It is crooked.")
    for kind, context in [*kinds.items(), (crooked, {})]:
        found = {"type": kind, "loc": steps, "input": {"a": [1] * 1000}, "ctx": context}
        error = as_file_error(ValidationError.from_exception_data("document", [found]), MotifDocument)
        assert isinstance(error, FileError)
        assert re.fullmatch(r"(At .*: )?[A-Z].{6,300}\.", str(error)), (kind, str(error))
        if steps[:1] == ("yarns",) and kind not in ("missing", "extra_forbidden"):
            assert str(error).startswith('At "yarns"')
