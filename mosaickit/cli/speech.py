"""Speech: sentences of the library in the words of the command, its options and commands in place of names of Python.

The library marks its names: an argument or a verb stands in backticks, a value for one as ``name=value``, a verb as
``mk.verb``; and what cures a refused piece is held by the error itself. So one rule does for every command: a name is
the option that says it, here or else at the command that takes it; a verb is the command that does it; a cure is what
to type. What was typed is left as it is.
"""

from __future__ import annotations

import argparse
import re
import shlex
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from mosaickit.cli.decisions import KNOWN, LAID_AROUND, field_of
from mosaickit.cures import Cure, cures_in_words
from mosaickit.errors import MosaickitError, TakenError, UnworkableError

VERBS = {
    "Bands": "bands",
    "Design": "new",
    "compare": "compare",
    "frame": "frame",
    "from_picture": "new",
    "nearest_workable": "check --mend",
    "plan_widths": "widths",
    "proof": "rows --proof",
    "read_rows": "read",
    "read_sizes": "read",
    "repeat": "repeat",
    "share": "share",
    "tech_edit": "edit",
    "tile": "repeat",
    "write_rows": "rows",
    "write_sizes": "rows",
    "yarn_usage": "yarn",
}
"""Verbs of the library and the commands that do the same."""

_IN_CODE = {
    " (All but the motif is of the surround.)": "",
    " (That is of the surround.)": "",
    " in the surround": "",
    ": `border_fits` finds the counts; or leave out `strip`.": (
        ": `mosaickit edges --mosaic-border` finds the counts; give a design without one."
    ),
    "No other arguments were found": "No other options were found",
    ": give it one, as `design.but(gauge=mk.Gauge(16, 18))`, or say `border_ratio`.": (
        ": give it one with `--gauge`, as 16x18, or say `--border-ratio`."
    ),
    ": give it one, as `design.but(gauge=mk.Gauge(16, 18))`": ": give it one with `--gauge`, as 16x18",
    "or name a `Skein` for each yarn, as in {'cream': mk.Skein(105, 50)}": "as 105m/50g",
    "save mk.Design(motif), or save the motif as .json": "`mosaickit new` makes one of a motif; save a motif as .json",
    ", without `format` and `square`;": ";",
    " Its chart or its motif may be saved otherwise: `design.motif`.": "",
    "; or say its `format`": "",
    ": give `format='png'`": ": give it a name that ends in .png",
    "`design.mended()` mends": "`mosaickit check --mend` mends",
    'mk.Bands(…, step="divider") puts': "`--step divider` puts",
    'or give mk.Bands(…, step="divider") to have': "or give `--step divider` to have",
    "Put mk.Plain(1) below it": "Put plain:1 below it",
    " Give yarns for more rows to the finished picture, with `with_yarns`.": "",
    " must be True or False": " must be yes or no",
    ", as (7, 8), or None; got": ", as 7:8; got",
    ", or None; got": "; got",
    " or None; got": "; got",
}
"""Parts of sentences that help in code only, and what helps at the command."""

_VERB = re.compile(r"\bmk(?:\.\w+)*\.(\w+)(?:\((?:[^()]|\([^()]*\))*\))?(?:\.\w+)?")
_ARGUMENT = re.compile(r"\b([a-z]+(?:_[a-z]+)*)=(\"[^\"]*\"|'[^']*'|[\w+-]+(?:\.\w+)*|\ue000\d+\ue001)")
_TO_TYPE = re.compile("`(?:mosaickit |python |--)[^`]*`")
_TICKED = re.compile("`([^`]+)`")
_SURELY_TYPED = re.compile(r"[^\w=-]")  # no word of a sentence has such a letter in it
_KEPT = "\ue000{}\ue001"  # stands for what was typed; both are of a private plane
_KEPT_AT = re.compile("\ue000(\\d+)\ue001")


@dataclass(frozen=True)
class CommandWords:
    """The words of one command.

    Attributes
    ----------
    own : dict of str to str
        The option, or the place, that says a name, at this command.
    elsewhere : dict of str to str
        The same at the first command that says it, as "edges --ends".
    """

    own: Mapping[str, str]
    elsewhere: Mapping[str, str]

    def told(self, sentence: str, typed: Mapping[str, Any] | None = None) -> str:
        """Write a sentence of the library in the words of the command.

        What was `typed`, by the name of the option or the place, is left as it was, and a `path` is the one of these
        that the sentence shows.
        """
        kept: list[str] = []
        told = [(name, word) for name, word in _texts(typed or {}) if name in self.own]
        if "`path`" in sentence:
            place = next((name for name, word in told if repr(word) in sentence), "path")
            sentence = sentence.replace("`path`", f"`{place}`")

        def keep(found: re.Match[str]) -> str:
            kept.append(found[0])
            return _KEPT.format(len(kept) - 1)

        for word in sorted({word for _, word in told}, key=len, reverse=True):
            for form in [repr(word), word] if _SURELY_TYPED.search(word) and len(word) > 3 else [repr(word)]:
                sentence = re.sub(re.escape(form), keep, sentence)
        for several in (value for value in (typed or {}).values() if isinstance(value, tuple)):
            sentence = sentence.replace(repr(several), (":" if len(several) == 2 else ",").join(map(str, several)))
        for code, words in _IN_CODE.items():
            sentence = sentence.replace(code, words)
        sentence = _TO_TYPE.sub(keep, sentence)
        for rule, said in ((_TICKED, self._ticked), (_VERB, self._verb), (_ARGUMENT, self._argument)):
            sentence = _outside(rule, said, sentence, keep)
        for value, word in (("None", "none"), ("True", "yes"), ("False", "no")):
            sentence = re.sub(rf"\b{value}\b", word, sentence)
        while _KEPT_AT.search(sentence):  # what was kept may hold what was kept before
            sentence = _KEPT_AT.sub(lambda found: kept[int(found[1])], sentence)
        return sentence

    def option(self, name: str) -> str:
        """Give what says a name: an option in backticks, a place by its name; plain words in quotes if none does."""
        if name not in self.own:
            name = name.removesuffix("_cm") if name.removesuffix("_cm") in self.own else name
        if name in self.own:
            return f"`{self.own[name]}`" if self.own[name].startswith("-") else self.own[name]
        if name in self.elsewhere:
            return f"`mosaickit {self.elsewhere[name]}`"
        return f'"{_plain(name)}"'

    def _ticked(self, found: re.Match[str]) -> str:
        code = found[1]
        if re.fullmatch(r"[A-Za-z_]\w*(?:\[.*\])?", code):
            return self.option(code.partition("[")[0])
        if verb := _VERB.fullmatch(code):
            return self._verb(verb)
        if argument := _ARGUMENT.fullmatch(code):
            return self._argument(argument)
        return f'"{_ARGUMENT.sub(self._argument, code)}"'

    def _verb(self, found: re.Match[str]) -> str:
        name = found[1]
        return f"`mosaickit {VERBS[name]}`" if name in VERBS else f'"{_plain(name)}"'

    def _argument(self, found: re.Match[str]) -> str:
        name, value = found[1], found[2].strip("\"'")
        if name in ("must_work", "replace"):
            return "`--replace`" if name == "replace" else "all the same"
        said = self.option(name)
        if value in ("True", "False") and said.startswith("`"):
            return said if value == "True" else said.replace("--", "--no-", 1)
        word = value if re.fullmatch(r"[\w.-]+|\ue000\d+\ue001", value) else shlex.quote(value)
        return f"{said[:-1]} {word}`" if said.startswith("`") else f"{said} {value}"

    # ---- cures ---------------------------------------------------------------------------------------------

    def cures(self, cures: Iterable[Cure], file: str) -> str:
        """Say what to type to cure a piece; "" if nothing was found."""
        said = [words for words in (self._cure(cure, file) for cure in cures) if words]
        return " ".join(f"Or {one[0].lower()}{one[1:]}" if at else one for at, one in enumerate(dict.fromkeys(said)))

    def _cure(self, cure: Cure, file: str) -> str:
        options = {name: value for name, value in cure.options.items() if name in LAID_AROUND}
        typed = " ".join(f"--{name.replace('_', '-')} {value}" for name, value in options.items())
        first, ending = shlex.quote(file), ".design" if options or file.lower().endswith(".design") else ""
        if not cure.mend:
            if all(name in self.own for name in options):
                return f"Add `{typed}`."
            return f"`mosaickit repeat {first} OUT.design {typed}` writes one that can be worked."
        if not options:
            return f"`mosaickit check {first} --mend OUT{ending}` writes the nearest that can."
        return (
            f"`mosaickit repeat {first} OUT.design {typed}` and then `mosaickit check OUT.design --mend OUT.design` "
            "writes the nearest that can."
        )


def _outside(
    rule: re.Pattern[str], said: Callable[[re.Match[str]], str], sentence: str, keep: Callable[[re.Match[str]], str]
) -> str:
    """Follow a rule, and keep what it says from the rules that come after it."""
    sentence = rule.sub(said, sentence)
    return _TO_TYPE.sub(keep, sentence)


def _plain(name: str) -> str:
    """Give a name of Python in plain words: `with_two` is with two, `YarnSettings` yarn settings."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name).replace("_", " ").lower()


def words_of(command: str, parsers: Mapping[str, argparse.ArgumentParser]) -> CommandWords:
    """Give the words of a command, from what all parsers take."""
    elsewhere: dict[str, str] = {}
    for name, parser in parsers.items():
        for says, option in _says(parser).items():
            if option.startswith("--") and says in KNOWN:
                elsewhere.setdefault(says, f"{name} {option}")
    return CommandWords(_says(parsers[command]), elsewhere)


def _says(parser: argparse.ArgumentParser) -> dict[str, str]:
    said: dict[str, str] = {}
    for action in parser._actions:
        option = action.option_strings[0] if action.option_strings else str(action.metavar)
        said |= {action.dest: option, field_of(action.dest): option}
    return said


def spoken(error: MosaickitError, given: argparse.Namespace) -> str:
    """Write what went wrong in the words of the command that was given."""
    words: CommandWords = given.speech
    if isinstance(error, TakenError):
        return f"{error.found} Write {str(error.free)!r}, which is free, or add `--replace` to replace it."
    said = str(error)
    if isinstance(error, UnworkableError) and error.cures:
        others = [
            cure for cure in error.cures if not any(getattr(given, name, None) is not None for name in cure.options)
        ]
        # none takes back what was typed, if there is another
        to_type = words.cures(others or error.cures, getattr(given, "file", None) or "FILE")
        said = said.replace(cures_in_words(error.cures), to_type)
    return words.told(said, vars(given))


def _texts(said: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    """Give the texts that were typed, each with the name of what it says."""
    for name, value in said.items():
        for each in value if isinstance(value, list) else [value]:
            if isinstance(each, str) and each:
                yield name, each


def in_quotes(sentence: str) -> str:
    """Write a sentence about a part of what was typed, whose names are no options: in quotes, in plain words."""
    return re.sub(r"`(\w+)`", lambda found: f'"{_plain(found[1])}"', sentence)
