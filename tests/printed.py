"""What a pattern prints as a web page, taken out of the file by the standard library: its words, one set of terms each.

And small designs by chance, of every kind that there is: `DIMENSIONS` names the kinds, and one more is one more line.
"""

import itertools
import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

import numpy as np

import mosaickit as mk

DIMENSIONS = {
    "number": (1, 2, 3, 4),  # of yarns
    "in_the_round": (False, True),
    "reversible": (False, True),
    "hand": ("right", "left"),
    "sizes": (1, 2, 3, 4),
    "language": ("en", "de"),
}
"""What designs differ in; `design_of` takes each by its name."""

KINDS = [dict(zip(DIMENSIONS, each, strict=True)) for each in itertools.product(*DIMENSIONS.values())]
SIZE_NAMES = ("S", "M 2", "L", "2X")


def pairs_of(kind):
    """Every two decisions of a kind."""
    return set(itertools.combinations(sorted(kind.items()), 2))


def pairwise():
    """Kinds that hold every two decisions together, found greedily: each next one holds the most that are missing."""
    missing = set().union(*map(pairs_of, KINDS))
    while missing:
        best = max(KINDS, key=lambda kind: len(missing & pairs_of(kind)))
        missing -= pairs_of(best)
        yield best


COLOURS = ("#f4ead5", "#1d3f66", "#8a2f2f", "#2f6b4a")
NAMES = ("oat", "deep sea", "madder 3", "moss & fern, dark")
SHORT, SPECIAL = ("Abbreviations", "Abkürzungen"), ("Special", "Besondere")
VOID = {"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr", "path", "use", "rect"}


def yarns_of(rng, number, rows):
    """Yarns over the rows of a motif, as many as asked: one in both roles, or MC and CC that change."""
    yarns = [mk.Yarn(name, colour) for name, colour in zip(NAMES[:number], COLOURS, strict=False)]
    if number == 1:
        return mk.Yarns(yarns[0], yarns[0])
    mc, cc = [(1, yarns[0])], [(1, yarns[1])]
    for role, yarn in zip((cc, mc), yarns[2:], strict=False):
        role.append((int(rng.integers(3, rows + 1)), yarn))
    return mk.Yarns(mc, cc)


def design_of(rng, *, number, in_the_round, reversible, hand, sizes, language):
    """A small design by chance of one kind."""
    rows, stitches = int(rng.integers(3 if number > 2 else 1, 7)), int(rng.integers(1, 7))
    motif = mk.random_motif(rows, stitches, rng=rng)
    motif = motif.with_yarns(yarns_of(rng, number, rows))
    across, up = (int(each) for each in rng.integers(1, 4, 2))
    around = mk.Surround(colours="swap", in_the_round=in_the_round)
    if not in_the_round:
        edges, rings = int(rng.integers(0, 3)), int(rng.integers(0, 2))
        around = mk.Surround(colours="swap", edges=edges, rings=rings)
    design = mk.Design(
        motif, mk.Gauge(16, 18), across=across, up=up, surround=around, reversible=reversible, hand=hand
    )  # fmt: skip
    between_rows = ("carried", "cut")[int(rng.integers(2))]
    return design.but(
        title="Tide cloth", between_rows=between_rows, language=language, sizes=sizes_of(rng, sizes, across, up)
    )


def sizes_of(rng, number, across, up):
    """As many sizes as asked, each larger than the one before; one is no size."""
    found = []
    for name in SIZE_NAMES[: number if number > 1 else 0]:
        found.append(mk.NamedSize(name, across=across, up=up))
        wider = int(rng.integers(0, 3))
        across, up = across + wider, up + int(rng.integers(0 if wider else 1, 3))
    return found


def designs_of_all_kinds(each, seed, kinds=KINDS):
    """Designs of each kind, as many as asked, with what they are."""
    rng = np.random.default_rng(seed)
    for kind in kinds:
        made = 0
        while made < each:
            design = design_of(rng, **kind)
            if design.report.ok and all(one.report.ok for one in design.in_sizes.values()):
                made += 1
                yield kind, design


@dataclass
class Printed:
    """The words of a page in one set of terms, by the part they stand in."""

    terms: str
    rows: list = field(default_factory=list)
    """Triples of label, text and count."""
    abbreviations: list = field(default_factory=list)
    special: list = field(default_factory=list)
    told: list = field(default_factory=list)
    """All other sentences about the rows."""


def printed(source, *terms):
    """What a page prints, in each set of terms that is asked for."""
    reader = _Reader(terms)
    reader.feed(re.sub(r"<svg\b.*?</svg>", "", source, flags=re.DOTALL))
    reader.close()
    return [reader.of[each] for each in terms]


class _Reader(HTMLParser):
    def __init__(self, terms):
        super().__init__()
        self.of = {each: Printed(each) for each in terms}
        self.open, self.items, self.part = [], [], ""

    def handle_starttag(self, tag, attributes):
        if tag not in VOID:
            self.open.append((tag, dict(attributes)))
            self.items.append("")

    def handle_startendtag(self, tag, attributes):
        """Nothing stands in it."""

    def handle_data(self, data):
        if self.items:
            self.items[-1] += data

    def handle_endtag(self, tag):
        assert self.open[-1][0] == tag
        (_, about), text = self.open.pop(), " ".join(self.items.pop().split())
        if self.items:
            self.items[-1] += (
                text if "whole" in about.get("class", "") else f" \x00{text}\x00 " if tag in "strong span" else ""
            )
        if tag == "h3":
            self.part = text
        elif tag in ("li", "dt", "dd", "p"):
            self.words(tag, text)

    def words(self, tag, text):
        """Keep a text by the part it stands in, if its terms are asked for."""
        classes = [each.get("class", "") for _, each in self.open]
        said = self.of.get(next((each.removeprefix("in-") for each in classes if each.startswith("in-")), ""))
        if said is None:
            return
        section = next((each["id"] for name, each in reversed(self.open) if name == "section"), "")
        if tag == "li" and ("ol", "rows") in [(name, each.get("class", "")) for name, each in self.open]:
            label, body, count = re.fullmatch(r"(?:\x00(.*?):\x00 )?(.*?)\. ?\x00(.*?)\x00", text).groups()
            said.rows.append((label or "", body, count))
        elif tag in ("dt", "dd") and section == "before" and self.part.startswith((*SHORT, *SPECIAL)):
            pairs = said.abbreviations if self.part.startswith(SHORT) else said.special
            pairs.append([text]) if tag == "dt" else pairs[-1].append(text)
        elif tag in ("li", "p") and section == "rows":
            said.told.append(text)
