"""Lesson 12: contrast and colour vision.

The scenario: somebody who paints signs crochets cushions with door numbers for a waiting room, where people of every
kind of colour vision wait.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import combinations, islice
from typing import Any

from mosaickit.colours import VISION, Yarn, contrast, weakest_contrast
from mosaickit.errors import OptionError
from mosaickit.lessons.answers import function, short
from mosaickit.lessons.exercises import AnswerPart, Exercise
from mosaickit.motif import LEAST_CONTRAST

Basket = Mapping[str, str]
"""The colours of yarns, "#rrggbb", by their names."""

# ---- from dark to light ------------------------------------------------------------------------------------

ORDERED: Basket = {
    "orange": "#ff7b00",
    "plum": "#5b2a86",
    "sky": "#7fb7e6",
    "red": "#d62828",
    "grass": "#58a618",
}


def _names(answer: object) -> tuple[str, ...]:
    names: tuple[object, ...] = ()
    if isinstance(answer, Iterable) and not isinstance(answer, str):
        try:
            names = tuple(islice(answer, 2 * len(ORDERED)))
        except Exception:  # it cannot be gone through, so it is no list
            names = ()
    if not names or not all(isinstance(name, str) for name in names):
        raise OptionError("The answer should be a list of names, each in quotation marks, as ['red', 'sky'].")
    return tuple(str(name).strip().casefold() for name in names)


def _each_once(names: tuple[str, ...]) -> str | None:
    unknown = [name for name in names if name not in ORDERED]
    if unknown:
        return f"There is no yarn {unknown[0]!r} in the basket."
    missing = [name for name in ORDERED if name not in names]
    if missing:
        return f"The basket also holds {', '.join(missing)}."
    return "A yarn is named twice." if len(names) > len(ORDERED) else None


def _from_dark_to_light(names: tuple[str, ...]) -> str | None:
    # black makes the lighter of two colours the one that differs more
    light = [contrast(ORDERED[name], "#000000") for name in names]
    for before, after, one, two in zip(light, light[1:], names, names[1:], strict=False):
        if before > after:
            return f"Look again at {one} and {two}, for how light they are and not for how bright."
    return None


# ---- a red that everybody sees -----------------------------------------------------------------------------

FERN = Yarn("fern", "#2f5a2a")
REDDER_BY = 64


def _colour(answer: object) -> str:
    if isinstance(answer, Yarn):
        return answer.colour
    if not isinstance(answer, str):
        raise OptionError(f"The answer should be a colour in quotation marks, as '#1f4e79'; got {short(answer, str)}.")
    return Yarn("red", answer.strip()).colour


def _is_red(colour: str) -> str | None:
    red, green, blue = (int(colour[start : start + 2], 16) for start in (1, 3, 5))
    if red >= max(green, blue) + REDDER_BY:
        return None
    return (
        f"Of 255 steps it has {red} of red, {green} of green and {blue} of blue: that is no red by {REDDER_BY} steps."
    )


def _most_people_see(colour: str) -> str | None:
    ratio = contrast(colour, FERN.colour)
    return None if ratio >= LEAST_CONTRAST else f"From fern it differs by {_down(ratio)} to 1 only."


def _everybody_sees(colour: str) -> str | None:
    vision, ratio = weakest_contrast(colour, FERN.colour)
    return None if ratio >= LEAST_CONTRAST else f"For {vision} it differs from fern by {_down(ratio)} to 1 only."


def _down(ratio: float) -> str:
    """Write a ratio rounded down, so that one below the limit never reads as the limit."""
    return f"{int(ratio * 100) / 100:.2f}"


# ---- the best pair of any basket ---------------------------------------------------------------------------

BASKET: Basket = {
    "poppy": "#ff4b33",
    "moss": "#3f5d2a",
    "night": "#1c2b52",
    "brick": "#a63d2f",
    "heather": "#8a78a8",
}

OTHERS: tuple[Basket, ...] = (
    {"coral": "#ff6f59", "pine": "#1f4d3a", "berry": "#8e1f4f", "clay": "#b5654a"},
    {"chalk": "#f5f2e8", "coal": "#26262b", "straw": "#e8d27a"},
    {"sand": "#d9c3a0", "lime": "#9bd23c"},
)


def _weakest(basket: Basket, pair: Iterable[str]) -> float:
    one, two = pair
    return weakest_contrast(basket[one], basket[two])[1]


def _pair(choose: Callable[..., Any], basket: Basket) -> tuple[tuple[str, ...], str]:
    """Ask the learner's function for a pair; gives it, or what went wrong."""
    given = f"Given {', '.join(basket)}, it"
    try:
        # what is given back is looked at here, where whatever it raises is caught
        answer = choose(dict(basket))
        named = tuple(islice(answer, 3)) if isinstance(answer, Iterable) else ()
        pair = tuple(name for name in basket if name in named)
    except (Exception, SystemExit) as error:
        return (), f"{given} ends with {type(error).__name__}: {short(error, str).rstrip('.')}."
    if len(pair) != 2 or len(named) != 2:
        return (), f"{given} gives back {short(answer, str)}; two of those names are asked for."
    return pair, ""


def _gives_a_pair(choose: Callable[..., Any]) -> str | None:
    return _pair(choose, BASKET)[1] or None


def _best_of(basket: Basket, choose: Callable[..., Any]) -> str | None:
    pair, trouble = _pair(choose, basket)
    if trouble:
        return trouble
    best = max(_weakest(basket, two) for two in combinations(basket, 2))
    if _weakest(basket, pair) >= best - 1e-9:
        return None
    one, two = pair
    vision, ratio = weakest_contrast(basket[one], basket[two])
    return (
        f"Of {', '.join(basket)} it takes {one} and {two}, which differ by {_down(ratio)} to 1 for {vision}; another "
        "pair does not fall so low for anybody."
    )


def _best_of_others(choose: Callable[..., Any]) -> str | None:
    return next((trouble for basket in OTHERS if (trouble := _best_of(basket, choose))), None)


EXERCISES = (
    Exercise(
        "from dark to light",
        _names,
        (
            AnswerPart("Every yarn of the basket is named once.", _each_once, needed=True),
            AnswerPart("Each is lighter than the one before it.", _from_dark_to_light),
        ),
        dict(ORDERED),
        "How bright a colour is says little about how light it is.",
    ),
    Exercise(
        "a red beside fern",
        _colour,
        (
            AnswerPart("It is a red.", _is_red),
            AnswerPart("Most people can tell it from fern.", _most_people_see),
            AnswerPart(
                f"So can people of each of the {len(VISION) - 1} other kinds of colour vision.", _everybody_sees
            ),
        ),
        FERN,
        "Not the hue makes them different, but that one is light and the other dark.",
    ),
    Exercise(
        "the pair that everybody tells apart best",
        function,
        (
            AnswerPart("It gives back two names of the basket.", _gives_a_pair, needed=True),
            AnswerPart(
                "No other pair of the basket given is told apart better.", lambda choose: _best_of(BASKET, choose)
            ),
            AnswerPart("It finds the best pair of other baskets as well.", _best_of_others),
        ),
        dict(BASKET),
        "A pair is as good as it is for those who tell it apart least.",
    ),
)
