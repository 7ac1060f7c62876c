"""What the writer says in English: in US terms and British spelling, which `render` puts into the terms of a text."""

from __future__ import annotations

from mosaickit.fabric import Stitch
from mosaickit.wording.phrasebook import Phrasebook
from mosaickit.wording.terms import ROLE_WORDS

_CLOSED = (
    "(4 loops on the hook); yarn over and draw through 2 loops, yarn over and draw through the 3 loops that are left."
)

# from memory: common practice, no source
_FOUNDATION_SC = (
    "Chain 2, insert the hook into the second chain from the hook and draw up a loop; yarn over and draw through 1 "
    "loop, which makes the chain at its foot; yarn over and draw through 2 loops. Work each further one into the chain "
    "at the foot of the one before."
)

ENGLISH = Phrasebook(
    roles=({"MC": "MC", "CC": "CC"}, ROLE_WORDS),
    role_words=ROLE_WORDS,
    places=(
        {"next": ("in next st", "in next {n} sts"), "last": ("in last st", "in last {n} sts")},
        {
            "next": ("in the next stitch", "in the next {n} stitches"),
            "last": ("in the last stitch", "in the last {n} stitches"),
        },
    ),
    star=("*{inner}; rep from * 1 more time", "*{inner}; rep from * {n} more times"),
    bracket="[{inner}] {n} times",
    following="repeat the following {n} times in all: {inner}, {end}",
    ends=("end of inner repeat", "end of repeat"),
    then=(", then ", ". Then "),
    every=(
        ("{stitch} in each st across", "{stitch} in each st around"),
        ("{stitch} in each stitch across", "{stitch} in each stitch around"),
    ),
    first_flat=(
        ("{stitch} in 2nd ch from hook", "{stitch} in 2nd ch from hook and in each ch across"),
        (
            "{stitch} in the second chain from the hook",
            "{stitch} in the second chain from the hook and in each chain across",
        ),
    ),
    first_round=("{stitch} in each ch around", "{stitch} in each chain around"),
    change=("change to {yarn};", "change to {yarn}, then"),
    row_words=("Row", "Rows"),
    round_words=(("Rnd", "Rnds"), ("Round", "Rounds")),
    label=("{row} {n} ({colour})", "{row} {n}, {colour}"),
    span=("{first}-{last}", "{first} to {last}"),
    units=(("st", "sts"), ("stitch", "stitches")),
    in_all="{told} in all.",
    again=(
        ("rep {small} {span}", "rep {small} {span}, {n} more times"),
        ("repeat {small} {span}", "repeat {small} {span}, {n} more times"),
    ),
    sections=("Yarns", "Abbreviations", "Special stitches", "Notes"),
    written=("Written in {terms} terms.", "Written in {nation} terms."),
    name="Name: {name}",
    worked=("Worked flat, {hand}.", "Worked in the round, {hand}."),
    handed={"right": "right-handed", "left": "left-handed"},
    yarn_from="from row {n}: ",
    foundation=(
        ("Foundation: with {colour}, ch {n}.", "Foundation: with {colour}, ch {n}, join."),
        ("Foundation: with {colour}, chain {n}.", "Foundation: with {colour}, chain {n} and join."),
    ),
    multiple=("Multiple of {n} sts", "Multiple of {n} stitches"),
    plus=" plus {n}",
    more_chains=", add 1 for the foundation chain",
    rounds=(r"\b([Rr])ow(s?)\b", r"\1ound\2"),
    how={
        Stitch.BLSC: "Single crochet into the back loop only of the stitch below; its front loop stays free.",
        Stitch.FLDC: (
            "Double crochet, in front of the work, into the free front loop of the stitch two rows below, which has "
            "the same colour; skip the stitch just behind it."
        ),
        Stitch.TOG_BACK: (
            "Single crochet and double crochet worked together, the second behind the work: draw up a loop through "
            "the back loop of the stitch below, yarn over, draw up a loop on the wrong side through the unworked back "
            f"loop of the stitch two rows below{{strand}} {_CLOSED}"
        ),
        Stitch.TOG_FRONT: (
            "Single crochet and double crochet worked together, the second in front of the work: draw up a loop "
            "through the back loop of the stitch below, yarn over, draw up a loop on the right side through the free "
            f"front loop of the stitch two rows below {_CLOSED} Nothing is skipped."
        ),
    },
    strand=", under the carried yarn",
    abbreviations=(
        ("MC", ROLE_WORDS["MC"], r"\bMC\b"),
        ("CC", ROLE_WORDS["CC"], r"\bCC\b"),
        ("ch", "chain", r"\bch\b"),
        ("rep", "repeat", r"\brep\b"),
        ("Rnd", "round", r"\bRnd\b"),
        ("st", "stitch", r"\bst\b"),
        ("sts", "stitches", r"\bsts\b"),
    ),
    meanings={
        Stitch.SC: "single crochet",
        Stitch.BLSC: "single crochet in the back loop only",
        Stitch.FLDC: "double crochet in the front loop two rows below",
        Stitch.TOG_BACK: "single crochet and double crochet worked together, the second behind the work",
        Stitch.TOG_FRONT: "single crochet and double crochet worked together, the second in front of the work",
    },
    notes_flat=(
        "The right side faces you in every row, and every row starts at the {edge} edge with its own colour.",
        "Work the first stitch of row 1 into the second chain from the hook.",
        "Start every later row with a chain of 1, which counts as no stitch.",
    ),
    notes_flat_cut=("End every row with a lock: chain 1, cut the yarn, leave a tail and draw it through.",),
    notes_flat_carried=(
        "End every row with a lock: chain 1, draw the loop out, pass the ball through it and tighten.",
        "Then carry the yarn back along the top of the row to its first stitch; the next row of that colour is worked "
        "over it. Cut a yarn where the next row of that colour has another one.",
    ),
    notes_round=(
        "The right side faces you in every row, and every row is worked towards the {towards}.",
        "Work the first stitch of row 1 into the first chain after the join.",
        "Start every row with a chain of 1, which counts as no stitch, and join it to its first stitch at the end with "
        "a slip stitch.",
    ),
    notes_round_cut=("After the join cut the yarn, leave a tail and draw it through.",),
    notes_round_carried=(
        "Let the yarn wait at the join until the next row of its colour. Cut it where that row has another yarn.",
    ),
    edges={"right": "right-hand", "left": "left-hand"},
    towards={"right": "left", "left": "right"},
    firm_edges="At the first and last stitch of a row work {stitch} through both loops, not one, which keeps the edges "
    "firm.",
    last_row="In the last row {stitch} stands for the double crochet, as no row follows to close the back.",
    fasten_off={
        "as they come": "After row {n} cut all yarn, fasten off and weave in the ends.",
        "woven in": "After row {n} cut all yarn, fasten off and weave in the ends.",
        "fringe": "After row {n} fasten off; the tails at both ends of the rows stay as a fringe.",
        "enclosed": "After row {n} fasten off; leave the tails for the border, which closes over them.",
    },
    foundation_sc=("foundation {stitch}", "foundation {stitch}"),
    how_foundation_sc=_FOUNDATION_SC,
    note_foundation_sc=(
        "Begin with foundation sc, which are the foundation chain and row 1 in one, and slightly stretchy.",
        "Begin with foundation sc, which are the foundation chain and row 1 in one, and slightly stretchy. Join them "
        "without a twist.",
    ),
    sizes="Sizes: {names}.",
    sizes_note="The numbers stand for the sizes {names}. A lone number holds for all of them; what has a 0 is not "
    "worked in that size.",
    for_size="For size {name}, {said}",
    all_differ="{rows} differ by size: no even number of them is repeated from each size to the next.",
    differs="{row} {n} differs by size: {why}.",
    why_steps="its steps are {told}",
    steps_of="{n} in size {name}",
    why_order="its stitches come in another order in size {other} than in size {one}",
    one_as_many=(
        (r"\b(next|last) st\b", r"\1 1 sts"),
        (r"\b(next|last) stitch\b", r"\1 1 stitches"),
        (r"\b1 more time\b", "1 more times"),
    ),
    many_as_one=((r"(?<!\))(next|last) 1 sts\b", r"\1 st"), (r"(?<!\))(next|last) 1 stitches\b", r"\1 stitch")),
)
