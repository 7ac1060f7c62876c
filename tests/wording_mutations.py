"""Written rows that were changed by chance as people change them, each read by the package and by a second reader.

`python tests/wording_mutations.py 200000` reads that many and prints what came of it. A second number sets
another seed. The suite reads some thousands.
"""

import random
import re
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor

import numpy as np
from wording_opponents import NUMBER, Refused, second_reading

import mosaickit as mk
from mosaickit.errors import WordingError
from mosaickit.wording import read_rows, write_rows

LETTER = {number: letter for letter, number in NUMBER.items()}


def base_texts():
    """Written texts of small charts, in both terms and styles, flat and in the round, of one yarn and of several."""
    rng = np.random.default_rng(11)
    texts = []
    for number in range(24):
        motif = mk.nearest_workable(mk.Motif(rng.random((int(rng.integers(2, 6)), 3 + number % 3)) < 0.35)).motif
        if number % 3 == 0 and motif.shape[0] % 2 == 0:
            motif = mk.repeat(motif, up=2, must_work=False)
            motif = mk.nearest_workable(motif).motif
        motif = mk.repeat(motif, across=1 + number % 3)
        options = {"hand": ("right", "left")[number % 2], "in_the_round": number % 4 == 1}
        chart = mk.compile_chart(motif, number % 5 == 2, **options)
        if number % 2:
            rows = chart.shape[0]
            late = [(1, mk.Yarn("sand", "#e9dcc3")), (min(rows, 5), mk.Yarn("clay", "#b5651d"))]
            chart = mk.Chart(chart.stitches, chart.row_colours, yarns=mk.Yarns(mc=late), **options)
        way = {"terms": ("US", "US", "UK")[number % 3], "style": ("short", "plain words")[number % 4 == 3]}
        text = str(write_rows(chart, **way))
        # abbreviations and stitches are remarks, which only make the text longer
        text = re.sub(r"\n(Abbreviations|Special stitches):\n(.+\n)+", "", text)
        texts.append(text)
        # bare rows, in which nothing but the words says what is meant
        text = re.sub(r"\n(Yarns|Notes):\n(.+\n)+|\n(Multiple|Foundation).*", "", text)
        for said in (r" change to \S+( then)?", r" \(\d+ sts?\)$", r" \d+ stitch(es)? in all\.$"):
            text = re.sub(rf"(?m)^((?:Row|Rnd|Round) (?!1\b).*?){said}", r"\1", text)
        texts.append(text)
    return texts


WORDS = """
BLsc FLdc sc dc tr BLdc FLtr tog-b tog-f hdc MC CC sts st chs ch stitches next last each every of in into the a
across around to end times time more twice once rep repeat from * [ ] ( ) { } , ; : . - = and then row rows rnd
0 1 2 3 4 5 6 7 8 9 12 two three 2nd hook right left flat join inc dec sk skip same together tog 2tog in-all
change US UK ( 2 BLsc, 2 FLdc) all
""".split()  # noqa: SIM905 — a list of so many quotes reads badly
PHRASES = [
    *("in each of next 2 sts", "2 BLsc in each", "2 BLsc in next st", "3 BLsc in next st", "in each st across"),
    *("in same st", "BLsc across", "and in each st across", "twice", "2 times", "1 more time", "2 more times"),
    *("in all", ". 4 BLsc", ". 2 FLdc", "(4 sts)", "(4 BLsc)", "(2 BLsc, 2 FLdc)", "(4 FLdc)", ". 4 sts", "- 4 sts"),
    *("[BLsc, FLdc] 2 times", "*BLsc, FLdc; rep from * across", "rep rows 2-3", "rep row 3", "rep rows 3-5", "(CC)"),
    *("BLsc in next 2 sts. FLdc in next 2 sts", "ch 1", "ch 2 sk 1", "to last 2 sts", "to last st", "x 2", "BLsc inc"),
    *("(BLsc, FLdc) in next st", "sc2tog", "left-handed", "in the round", "(MC)", "each of next", "1 BLsc in each st"),
]


def mutated(text, rng):
    """Change a text in one to three places."""
    lines = text.split("\n")
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3))):
        # mostly rows, which stand at the end
        rows = [n for n, line in enumerate(lines) if re.match(r"(Row|Rnd|Round)", line)]
        at = rng.choice(rows) if rows and rng.random() < 0.8 else rng.randrange(len(lines))
        kind = rng.randrange(12)
        if kind == 0 and len(lines) > 2:
            other = rng.choice(rows or [0])
            lines[at], lines[other] = lines[other], lines[at]
        elif kind == 1 and len(lines) > 2:
            del lines[at]
        elif kind == 2:
            lines.insert(at, lines[rng.randrange(len(lines))])
        else:
            words = re.findall(r"\s+|\w+|[^\w\s]", lines[at]) or [""]
            places = [n for n, word in enumerate(words) if not word.isspace()] or [0]
            place = rng.choice(places)
            numbers = [n for n in places if words[n].isdigit()]
            if kind <= 4 and numbers:
                place, other = rng.choice(numbers), rng.choice(numbers)
                by = rng.choice((-2, -1, 1, 1, 2, 3))
                words[place] = str(max(0, int(words[place]) + by))
                if rng.random() < 0.5:  # and back in another place, so that the count may stay
                    words[other] = str(max(0, int(words[other]) - by))
            elif kind == 5:
                stitches = [n for n in places if re.fullmatch(r"BL\w+|FL\w+|back|front", words[n])]
                if stitches:
                    place, other = rng.choice(stitches), rng.choice(stitches)
                    swap = {"BL": "FL", "FL": "BL"}
                    if rng.random() < 0.5:
                        words[place], words[other] = words[other], words[place]
                    else:
                        words[place] = rng.choice(
                            [
                                "BLsc",
                                "FLdc",
                                "tog-b",
                                "BLdc",
                                "FLtr",
                                words[other],
                                swap.get(words[place][:2], "BL") + words[place][2:],
                            ]
                        )
            elif kind == 6:
                words[place] = rng.choice(WORDS)
            elif kind == 7:
                words.insert(place, rng.choice(WORDS) + " ")
            elif kind == 8:
                del words[place]
            elif kind == 9:
                words.insert(place, rng.choice(PHRASES) + " ")
            elif kind == 10:
                other = rng.choice(places)
                words[place], words[other] = words[other], words[place]
            else:
                start, stop = sorted((place, rng.choice(places)))
                words[start:stop] = [*words[start:stop], " ", *words[start:stop]] if rng.random() < 0.4 else []
            lines[at] = "".join(words)
    return "\n".join(lines)


def package_reading(text, **options):
    """What the package reads, in the words of the second readers."""
    chart = read_rows(text, **options)
    return {
        "rows": ["".join(LETTER[int(kind)] for kind in row) for row in chart.stitches],
        "colours": list(chart.row_colours),
        "yarns": [
            (yarn.name, yarn.colour)
            for row, role in enumerate(chart.row_colours, 1)
            for yarn in [[yarn for start, yarn in chart.yarns.of(role) if start <= row][-1]]
        ],
        "hand": chart.hand,
        "in the round": chart.in_the_round,
        "name": chart.name,
    }


def held_against_each_other(seed, count):
    """Read so many texts both ways: how many were accepted, changed in meaning, and those read otherwise."""
    rng = random.Random(seed)
    bases = base_texts()
    meant = [second_reading(text) for text in bases]
    counts, findings = Counter(), []
    for _ in range(count):
        number = rng.randrange(len(bases))
        text = mutated(bases[number], rng)
        counts["texts"] += 1
        try:
            ours = package_reading(text)
        except WordingError as error:
            counts["refused"] += 1
            if not error.faults:
                counts["refused as a whole"] += 1
            continue
        counts["accepted"] += 1
        counts["accepted with another meaning than before"] += ours != meant[number]
        try:
            theirs = second_reading(text)
        except Refused as refusal:
            theirs = f"refused: {refusal}"
        if ours != theirs:
            findings.append((text, ours, theirs))
    return counts, findings


def main(count, seed=1):
    share = 500
    with ProcessPoolExecutor(2) as pool:
        done = list(pool.map(held_against_each_other, range(seed, seed + count // share), [share] * (count // share)))
    total = sum((counts for counts, _ in done), Counter())
    findings = [finding for _, found in done for finding in found]
    print(
        ", ".join(f"{number:,} {what}" for what, number in total.items()), f"{len(findings)} read otherwise", sep="; "
    )
    for text, ours, theirs in findings:
        print("-" * 80, text, ours, theirs, sep="\n")
    return len(findings)


if __name__ == "__main__":
    sys.exit(bool(main(*map(int, sys.argv[1:]))))
