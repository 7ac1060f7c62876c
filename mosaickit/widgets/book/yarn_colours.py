"""The yarns of a design by hand: what each is called and looks like, where it is used, and which can be told apart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from mosaickit.colours import VISION, Yarn, Yarns, contrast, in_words, seen_by, weakest_contrast
from mosaickit.errors import MotifError, OptionError, number_of, one_of
from mosaickit.motif import LEAST_CONTRAST
from mosaickit.orientation import ROLES, Role, other
from mosaickit.sizes import Design
from mosaickit.widgets.book.panel import Book
from mosaickit.widgets.book.yarn_hand import hand_of, whole_in
from mosaickit.widgets.sheets import contrast_sentence, ratio_in_words
from mosaickit.yarn import Skein

NEW_YARNS = (
    Yarn("chalk", "#f3f0e7"),
    Yarn("charcoal", "#2c2c2e"),
    Yarn("madder", "#93333a"),
    Yarn("moss", "#5c7040"),
    Yarn("mustard", "#d8a72f"),
    Yarn("slate", "#4c6272"),
    Yarn("rose", "#d99a9b"),
)
"""A yarn that is added begins as one of these: the one that stands out most against the yarn it meets."""

MOST_PAIRS = 6
"""The most pairs of yarns that are shown, the weakest first."""

ROLE_LABELS: dict[Role, str] = {"MC": "Main colour (MC)", "CC": "Contrasting colour (CC)"}
"""What the two roles are called."""


def yarns_in(yarns: Yarns) -> list[Yarn]:
    """Give the yarns that are used, each once."""
    return list(dict.fromkeys(yarn for role in ROLES for _, yarn in yarns.of(role)))


def shown_colours(design: Design) -> dict[str, Any]:
    """Give what the page shows of the yarns, where each is used, and the pairs that meet."""
    yarns, rows = design.motif.yarns, design.motif.shape[0]
    used = yarns_in(yarns)
    names = [yarn.name for yarn in used]
    return {
        "yarns": [{"name": yarn.name, "colour": yarn.colour} for yarn in used],
        "twice": sorted({name for name in names if names.count(name) > 1}),
        "roles": [
            {
                "role": role,
                "word": ROLE_LABELS[role],
                "changes": [{"row": row, "yarn": used.index(yarn)} for row, yarn in yarns.of(role)],
            }
            for role in ROLES
        ],
        "rows": rows,
        "counted": "Rows are those of the motif: each repeat up changes its yarns at the same rows."
        if design.up > 1
        else "",
        "contrast": shown_pairs(design),
    }


def shown_pairs(design: Design) -> dict[str, Any]:
    """Give the pairs of yarns that meet in the piece, the weakest first, as each kind of colour vision sees them."""
    meetings = design.picture.yarns.meetings(design.shape[0])
    pairs = list(dict.fromkeys((mc, cc) for _, mc, cc in meetings))
    pairs.sort(key=lambda pair: weakest_contrast(pair[0].colour, pair[1].colour)[1])
    left_out = len(pairs) - MOST_PAIRS
    return {
        "pairs": [_shown_pair(mc, cc) for mc, cc in pairs[:MOST_PAIRS]],
        "more": f"And {number_of(left_out, 'pair')} more, easier to tell apart than these." if left_out > 0 else "",
    }


def _shown_pair(mc: Yarn, cc: Yarn) -> dict[str, Any]:
    seen = [(vision, seen_by(mc.colour, vision), seen_by(cc.colour, vision)) for vision in VISION]
    weak = weakest_contrast(mc.colour, cc.colour)[1] < LEAST_CONTRAST
    return {
        "word": f"{mc.name} with {cc.name}",
        "said": contrast_sentence([(mc, cc)]),
        "advice": f"Too alike: below {LEAST_CONTRAST:g} to 1. Choose a lighter and a darker yarn." if weak else "",
        "seen": [
            {"word": in_words(vision), "mc": one, "cc": two, "ratio": ratio_in_words(contrast(one, two))}
            for vision, one, two in seen
        ],
    }


# ---- what is pressed ---------------------------------------------------------------------------------------


def alter_yarn(book: Book, values: Mapping[str, Any]) -> None:
    """Give a yarn another name or colour wherever it is used."""
    design = book.design
    yarns = design.motif.yarns
    old = _yarn_of(yarns, values.get("was"))
    new = Yarn(values.get("name", old.name), values.get("colour", old.colour))
    if new == old:
        return
    if not new.name.strip():
        raise MotifError("A yarn needs a name.")
    if new in yarns_in(yarns):
        raise MotifError(f"There is a yarn {new.name!r} of this colour already: give this one another name or colour.")
    of_role = {role: [(row, new if yarn == old else yarn) for row, yarn in yarns.of(role)] for role in ROLES}
    changed = Yarns(mc=of_role["MC"], cc=of_role["CC"])
    to, note = with_yarns(design, changed, {new.name: old.name})
    hand = hand_of(book)
    names = {yarn.name for yarn in yarns_in(changed)}
    if old.name in hand.prices and new.name not in hand.prices:
        hand.prices[new.name] = hand.prices[old.name]
    if old.name in hand.prices and old.name not in names:
        del hand.prices[old.name]
    book.change(to, f"yarn {new.name}"[:200])
    book.say(note)


def use_yarn(book: Book, values: Mapping[str, Any]) -> None:
    """Use another yarn from a row on at which the yarn changes, or in row 1."""
    role, row, changes = _changes_of(book, values)
    if row not in changes:
        raise OptionError(f"The yarn of {role} does not change at row {row} any more.")
    before = changes[row]
    changes[row] = _chosen(book.design.motif.yarns, role, row, values.get("yarn"))
    _take(book, role, changes, {changes[row].name: before.name}, f"{role} from row {row}")
    left = dict(book.design.motif.yarns.of(role))
    merged = [each for each in changes if each not in left]
    if merged:
        rows = " and ".join(f"row {each}" for each in merged)
        book.say(f"{role} is in the same yarn before and from {rows} on, so there is no change of yarn there any more.")


def add_change(book: Book, values: Mapping[str, Any]) -> None:
    """Let the yarn of a role change at a row."""
    role, row, changes = _changes_of(book, values, least=2)
    if row in changes:
        raise OptionError(f"The yarn of {role} changes at row {row} already: choose another one there.")
    before = book.design.motif.yarns.at(row, role)
    new = _chosen(book.design.motif.yarns, role, row, values.get("yarn"))
    if new == before:
        raise OptionError(f"{role} is in {new.name!r} before row {row} too: choose another yarn, or another row.")
    after = min((each for each in changes if each > row), default=0)
    if after and changes[after] == new:
        raise OptionError(
            f"{role} changes to {new.name!r} at row {after}: remove that change first, or choose another."
        )
    _take(book, role, dict(sorted({**changes, row: new}.items())), {new.name: before.name}, f"{role} from row {row}")


def remove_change(book: Book, values: Mapping[str, Any]) -> None:
    """Let the yarn of a role go on at a row where it changed."""
    role, row, changes = _changes_of(book, values, least=2)
    if row not in changes:
        raise OptionError(f"The yarn of {role} does not change at row {row} any more.")
    del changes[row]
    _take(book, role, changes, {}, f"{role} goes on at row {row}")
    merged = [each for each in changes if each not in dict(book.design.motif.yarns.of(role))]
    if merged:
        book.say(f"{role} is in the same yarn from before row {merged[0]}, so the change there is gone as well.")


def with_yarns(design: Design, yarns: Yarns, sold_as: Mapping[str, str]) -> tuple[Design, str]:
    """Give the design in other yarns; skeins that are known for each yarn, and what its label says, go with it.

    Parameters
    ----------
    design : Design
        What has other yarns so far.
    yarns : Yarns
        What it is to have.
    sold_as : mapping of str to str
        For the name of a new yarn, that of the yarn whose skein it has.

    Returns
    -------
    design : Design
        The design.
    note : str
        What is to be known of the skeins; "" if nothing.
    """
    motif, skeins = design.motif.with_yarns(yarns), design.yarn_settings.skeins
    names = yarns.names
    renamed = {old: new for new, old in sold_as.items() if new in names and old not in names}
    labels = [replace(label, yarn=renamed.get(label.yarn, label.yarn)) for label in design.publishing.labels]
    design = design.but(labels=labels)
    if skeins is None or isinstance(skeins, Skein):
        return design.but(motif=motif), ""
    from_whom = {name: name if name in skeins else sold_as.get(name, "") for name in names}
    sold = {name: skeins[whose] for name, whose in from_whom.items() if whose in skeins}
    new = [name for name, whose in from_whom.items() if name != whose and whose in names and whose in skeins]
    note = f"{new[0]} is sold as {from_whom[new[0]]} is, until you enter its own skein." if new else ""
    return design.but(motif=motif, skeins=sold), note


def _changes_of(book: Book, values: Mapping[str, Any], *, least: int = 1) -> tuple[Role, int, dict[int, Yarn]]:
    role = values.get("role")
    one_of("role", role, ROLES)
    rows = book.design.motif.shape[0]
    if least == 2 and rows < 2:
        raise OptionError("The motif has one row only, so its yarn cannot change.")
    row = whole_in(values, "row", "Row", least=least, most=rows)
    return role, row, dict(book.design.motif.yarns.of(role))  # type: ignore[arg-type,return-value]  # as `one_of` says


def _yarn_of(yarns: Yarns, said: object) -> Yarn:
    """Find a yarn by its name and colour."""
    known = {(yarn.name, yarn.colour): yarn for yarn in yarns_in(yarns)}
    wanted = (str(said.get("name")), str(said.get("colour"))) if isinstance(said, dict) else ("", "")
    if wanted not in known:
        raise OptionError("That yarn is not in the design any more.")
    return known[wanted]


def _chosen(yarns: Yarns, role: Role, row: int, said: object) -> Yarn:
    """Give the yarn that was chosen for a role from a row on; a new one if that was chosen."""
    if said != "new":
        return _yarn_of(yarns, said)
    used = yarns_in(yarns)
    names, colours = {yarn.name for yarn in used}, {yarn.colour for yarn in used}
    free = [yarn for yarn in NEW_YARNS if yarn.name not in names and yarn.colour not in colours]
    meets = yarns.at(row, other(role)).colour
    if free:
        return max(free, key=lambda yarn: weakest_contrast(yarn.colour, meets)[1])
    number = next(each for each in range(len(used) + 1, 2 * len(used) + 2) if f"yarn {each}" not in names)
    base = max(NEW_YARNS, key=lambda yarn: weakest_contrast(yarn.colour, meets)[1])
    return Yarn(f"yarn {number}", base.colour)


def _take(book: Book, role: Role, changes: dict[int, Yarn], sold_as: Mapping[str, str], label: str) -> None:
    yarns = book.design.motif.yarns
    of_role = {each: yarns.of(each) for each in ROLES} | {role: tuple(changes.items())}
    to, note = with_yarns(book.design, Yarns(mc=of_role["MC"], cc=of_role["CC"]), sold_as)
    book.change(to, label)
    book.say(note)
