"""What an editor misses: what patterns that are sold usually carry, part by part."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from mosaickit.publish.editing.draft import Draft
from mosaickit.publish.editing.findings import EditKind, Marked
from mosaickit.publish.editing.sources import ANATOMY, COMMON, ERRATA, FIRST_PAGE, LAYOUT, NUMBERS

_PARTS = (
    ("title", "The pattern has no title.", "Give it one.", LAYOUT),
    ("designer", "The designer is not named.", "Name the designer.", ANATOMY),
    ("pictures", "There is no photograph of the piece.", "Add one of the whole piece and one of a detail.", ANATOMY),
    ("intro", "Nothing describes the piece.", "Say in a few sentences what it is.", ANATOMY),
    ("size", "The finished measurements are not given.", "Give width and height, in cm and in.", NUMBERS),
    ("gauge", "There is no gauge.", "Give stitches and rows over 10 cm (4 in), and in which stitch.", NUMBERS),
    ("hook", "The hook is not given.", "Give its diameter in mm and its US size.", NUMBERS),
    ("level", "The project level is not given.", "Give one of the Craft Yarn Council's four levels.", ANATOMY),
    ("terms", "Nothing says whether the terms are US or UK.", "Say: Written in US terms.", ANATOMY),
    ("finishing", "There is nothing about finishing.", "Say what is done with ends and edges.", ANATOMY),
    ("blocking", "There is nothing about blocking.", "Say how the piece is blocked, or that it is not.", FIRST_PAGE),
    ("care", "There is nothing about care.", "Give the care of the weaker yarn, in words.", COMMON),
    ("edition", "The edition is not named.", "Say which edition it is.", COMMON),
    ("date", "The edition has no date.", "Give its date.", COMMON),
    ("errata", "Nothing says where corrections are found.", "Give the address of corrections.", ERRATA),
    ("contact", "There is no address for questions.", "Give one.", LAYOUT),
    ("copyright", "There is no line of copyright.", "Add one, as © 2026 and a name.", LAYOUT),
    ("licence", "Nothing says what a maker may do with it.", "Say whether what is made may be sold.", COMMON),
)
_NAMES = {"pictures": "photograph", "intro": "description", "size": "finished size", "errata": "address of corrections"}


def _missing(part: str, message: str, cure: str) -> Callable[[Draft], Iterator[Marked]]:
    def found(draft: Draft) -> Iterator[Marked]:
        if part not in draft.parts:
            yield draft.spot(part), message, cure

    return found


def _hook(draft: Draft) -> Iterator[Marked]:
    said = draft.parts.get("hook")
    if said is None or not draft.is_text:
        return  # a page prints the US size of every hook that has one
    millimetres = re.search(r"\d\s*mm\b", said.text, re.IGNORECASE)
    letter = re.search(r"\b[A-Z](?:/[A-Z])?-?\s?\d|\bUS\b|\b[B-SU-Z]\b", said.text)
    if not (millimetres and letter):
        lacks = "its US size" if millimetres else "its diameter in mm, which alone is the same everywhere"
        yield said.spot, f"The hook is given without {lacks}.", "Give the hook in mm and in its US size."


def _measured(draft: Draft) -> Iterator[Marked]:
    said = draft.parts.get("size")
    if said is not None and not re.search("block", said.text, re.IGNORECASE):
        yield (
            said.spot,
            "Nothing says that the finished size was measured after blocking.",
            "Measure the blocked piece, and say so.",
        )


def _both_units(draft: Draft) -> Iterator[Marked]:
    for size in draft.sizes if draft.is_text else ():
        if size.cm is None or size.inches is None:
            yield size.spot, "The size is in one unit only.", "Give it in cm and in inches."


def _yarns(draft: Draft) -> Iterator[Marked]:
    for yarn in draft.yarns:
        if yarn.lacks:
            yield (
                yarn.spot,
                f"Missing for {yarn.name}: {', '.join(yarn.lacks)}.",
                "Give what it is sold as, its weight and fibre, and length and weight of a ball.",
            )


def _amounts(draft: Draft) -> Iterator[Marked]:
    for yarn in draft.yarns:
        if not yarn.most_m and not yarn.sample_m and not (yarn.skeins and yarn.ball_m):
            yield (
                yarn.spot,
                f"There is no amount of {yarn.name}.",
                "Give the amount of each colour.",
            )
    if not draft.yarns:
        yield draft.spot("yarn"), "No yarn is listed with its amount.", "List each colour with its amount."


CARRIED_KINDS: tuple[EditKind, ...] = (
    *(
        EditKind(f"no {_NAMES.get(part, part)}", "advice", f"A pattern says: {_NAMES.get(part, part)}.", source,
                 _missing(part, message, cure))
        for part, message, cure, source in _PARTS
    ),
    EditKind("hook in one system", "advice", "A hook is given in mm and as its US size.",
             "Craft Yarn Council, hooks: rely on the millimetres, as letters differ by maker", _hook),
    EditKind("size not measured", "advice", "The finished size is that of the blocked piece.", NUMBERS, _measured),
    EditKind("size in one unit", "advice", "The finished size is given in cm and in inches.", NUMBERS, _both_units),
    EditKind("yarn not described", "advice",
             "A yarn has its name, weight, fibre, and the length and weight of a ball.", NUMBERS, _yarns),
    EditKind("no amount of yarn", "advice", "The amount is given for each colour.", NUMBERS, _amounts),
)  # fmt: skip
"""What is looked for among what patterns carry."""
