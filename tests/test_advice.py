"""Every advice of a refusal is followed, as data and as its words say, and leads to what can be worked.

The suite follows the advice of `REFUSALS` refusals. All 20,000 of them take some minutes:

    MOSAICKIT_REFUSALS=20000 python start.py test tests/test_advice.py
"""

import os
import re
from collections import Counter
from dataclasses import replace

import numpy as np
import opponents
import pytest

import mosaickit as mk
from mosaickit.cures import Cure, cures_in_words, simplest
from mosaickit.errors import MosaickitError, UnworkableError
from mosaickit.motif.transforms.tiling import LAYINGS, SEAMS
from mosaickit.sizes import Layout, Surround

REFUSALS = int(os.environ.get("MOSAICKIT_REFUSALS", "600"))


def repeats(rng, rows, stitches):
    """Give a workable picture, now and then one overlaid in every second row, as turned repeats can be."""
    plain = mk.Motif(np.zeros((rows, stitches), dtype=bool), first=str(rng.choice(["MC", "CC"])))
    overlaid = rng.random((rows, stitches)) < 0.5
    if rng.random() < 0.2:
        overlaid[0::2] = False
        overlaid[1::2] = rng.random(overlaid[1::2].shape) < 0.7
    overlaid[[0, -1]] = False
    for above, below in zip(overlaid[1:], overlaid, strict=False):
        above &= ~below
    return plain.with_grid(overlaid ^ plain.row_is_cc)


def shifted(rng, rows, stitches):
    return mk.shift, {"up": int(rng.integers(-2 * rows, 2 * rows + 1)), "right": int(rng.integers(-3, 4))}


def cropped(rng, rows, stitches):
    spans = [sorted(int(n) for n in rng.integers(1, most + 1, size=2)) for most in (rows, stitches)]
    hand = str(rng.choice(["right", "left"]))
    return mk.crop, {"rows": tuple(spans[0]), "stitches": tuple(spans[1]), "hand": hand}


def padded(rng, rows, stitches):
    sides = {side: int(rng.integers(3)) for side in ("top", "bottom", "left", "right")}
    return mk.pad, {**sides, "fill": str(rng.choice(["MC", "CC"]))}


def repeated(rng, rows, stitches):
    return mk.repeat, {"across": int(rng.integers(1, 3)), "up": int(rng.integers(1, 5))}


def tiled(rng, rows, stitches):
    layout, seam = str(rng.choice(LAYINGS)), str(rng.choice(SEAMS))
    return mk.tile, {"across": int(rng.integers(1, 4)), "up": int(rng.integers(1, 5)), "layout": layout, "seam": seam}


def framed(rng, rows, stitches):
    rings = int(rng.integers(1, 4))
    colours = [str(colour) for colour in rng.choice(["MC", "CC"], size=rings)]
    return mk.frame, {"rings": colours if rng.random() < 0.7 else rings}


def refusals(count, seed=1):
    """Give refused calls: the verb, the motif, the arguments and the error."""
    rng = np.random.default_rng(seed)
    calls = [shifted, cropped, padded, repeated, tiled, tiled, framed]
    while count:
        rows, stitches = (int(n) for n in rng.integers(1, 10, size=2))
        motif = repeats(rng, rows, stitches)
        verb, options = calls[rng.integers(len(calls))](rng, rows, stitches)
        options["colours"] = str(rng.choice(["keep", "swap"]))
        try:
            verb(motif, **options)
        except UnworkableError as error:
            count -= 1
            yield verb, motif, options, error


def followed(verb, motif, options, cure):
    motif = mk.pad(motif, **cure.before) if cure.before else motif
    result = verb(motif, **{**options, **cure.options})
    return mk.pad(result, **cure.after) if cure.after else result


def followed_by_words(verb, motif, options, sentence):
    """Do what a sentence says, as a reader would: what it calls is called, and its arguments replace those given."""
    said, _, then = sentence.partition(", then ")
    of_motif = re.match(r"[Uu]se (mk\.\S*\(.*?\)(?:\.motif)?) as the motif", said)
    if of_motif:
        motif = eval(of_motif[1], {"mk": mk, "motif": motif})
        said = said[of_motif.end() :]
    for name, value in re.findall(r"(\w+)=(\[.*?\]|\(.*?\)|\"[^\"]*\"|\w+)", said):
        options = {**options, name: eval(value)}
    result = verb(motif, **options)
    return eval(then, {"mk": mk, "result": result}) if then else result


def sentences(error):
    """Take the advice out of a message, sentence by sentence."""
    advice = re.search(r"(?<=[.] )Use .*?(?=\. (?:\(Or take it|\(All but the motif|What is wrong))", str(error))
    return re.split(r"\. Or (?=use )", advice[0])


def can_be_worked(picture):
    return opponents.workable(picture.grid.tolist(), picture.first)


@pytest.mark.usefixtures("slow")
def test_every_advice_of_a_verb_is_followed_to_a_picture_that_can_be_worked():
    verbs = Counter()
    for verb, motif, options, error in refusals(REFUSALS):
        assert can_be_worked(motif)
        assert 1 <= len(error.cures) == len(sentences(error)), (options, str(error))
        for cure, sentence in zip(error.cures, sentences(error), strict=True):
            result = followed(verb, motif, options, cure)
            assert can_be_worked(result), (options, str(error))
            assert followed_by_words(verb, motif, options, sentence) == result, (options, sentence)
        verbs[verb.__name__] += 1
    assert min(verbs[name] for name in ("shift", "crop", "pad", "repeat", "tile", "frame")) > REFUSALS // 50, verbs


def refused_layouts(count, seed=2):
    rng = np.random.default_rng(seed)
    while count:
        rows, stitches = (int(n) for n in rng.integers(1, 8, size=2))
        motif = repeats(rng, rows, stitches)
        if rng.random() < 0.5:
            motif = motif.with_grid(motif.grid ^ (rng.random(motif.shape) < 0.1))
        up, numbers = int(rng.integers(1, 6)), {"balance_up": int(rng.integers(rows))}
        numbers |= {name: int(rng.integers(3)) for name in ("rings", "rows_below", "rows_above")}
        surround = Surround(**numbers, colours=str(rng.choice(["keep", "swap"])))
        layout = Layout(motif, across=2, up=up, surround=surround)
        if not layout.workable:
            count -= 1
            with pytest.raises(UnworkableError, match=r"This layout cannot be worked\. Use ") as error:
                layout.counts()
            yield layout, error.value


@pytest.mark.usefixtures("slow")
def test_every_advice_of_a_layout_is_followed_to_one_that_can_be_worked():
    mended = 0
    for layout, error in refused_layouts(REFUSALS):
        assert error.cures
        for cure, sentence in zip(error.cures, sentences(error), strict=True):
            motif = mk.nearest_workable(layout.motif).motif if cure.mend else layout.motif
            cured = replace(layout, motif=motif, surround=replace(layout.surround, **cure.options))
            assert can_be_worked(cured.build()), (layout, str(error))

            def laid(motif, layout=layout, **options):
                return replace(layout, motif=motif, surround=replace(layout.surround, **options))

            assert followed_by_words(laid, layout.motif, {}, sentence) == cured
            mended += cure.mend
    assert mended > REFUSALS // 10


# ---- by example --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("up", [-7, 7, 21])
def test_a_full_turn_of_an_odd_height_is_cured_by_swapped_colours_alone(up):
    motif = mk.Motif.from_text("..\n##\n.#\n##\n.#\n##\n..")
    with pytest.raises(UnworkableError, match=r'Use colours="swap"\. \(Or take it') as error:
        mk.shift(motif, up=up)
    assert error.value.cures == (Cure({"colours": "swap"}),)


def test_an_odd_half_drop_names_both_things_that_it_needs():
    motif = mk.Motif.from_text("..\n##\n#.\n##\n..")
    with pytest.raises(
        UnworkableError, match=r'Use colours="swap" and must_work=False, then mk\.pad\(result, bottom=1\)\. \(Or take'
    ) as error:
        mk.tile(motif, across=2, layout="half-drop")
    assert error.value.cures == (Cure({"colours": "swap", "must_work": False}, after={"bottom": 1}),)


def test_a_frame_in_wrong_colours_around_an_even_height_names_both_things_that_it_needs():
    motif = mk.Motif.from_text("##\n..\n##\n..")
    with pytest.raises(
        UnworkableError, match=r'Use mk\.pad\(motif, top=1\) as the motif and rings=\["MC", "CC", "MC", "CC"\]'
    ):
        mk.frame(motif, ["MC", "MC", "CC"])


def test_where_nothing_cures_it_says_so():
    # it is as high as a motif may be, so no row can be added
    overlaid = np.zeros((10_000, 1), dtype=bool)
    overlaid[5000] = True
    plain = mk.Motif(np.zeros((10_000, 1), dtype=bool))
    motif = plain.with_grid(overlaid ^ plain.row_is_cc)
    with pytest.raises(UnworkableError, match="No other arguments were found to make it workable") as error:
        mk.shift(motif, up=5000)
    assert error.value.cures == ()


def test_a_cure_with_more_changes_than_another_is_left_out():
    swap, more = Cure({"colours": "swap"}), Cure({"colours": "swap"}, before={"top": 1})
    rings = Cure({"rings": ["MC", "CC"]})
    assert simplest([swap, more, rings]) == (swap, rings)
    assert cures_in_words([swap, rings]) == 'Use colours="swap". Or use rings=["MC", "CC"].'
    assert issubclass(UnworkableError, MosaickitError)
