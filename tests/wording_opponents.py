"""Slow ways to the shortest words of a row, and a second reader; they share no code with the package.

A row is a text of letters, one for each stitch. `all_texts` writes out every text of the grammar; `naive_length`
tries every part at every place and remembers what it found. `second_reading` says what a text says.
"""

import re
from functools import cache

WORDS = {"s": "sc", "b": "BLsc", "f": "FLdc", "t": "tog-b", "g": "tog-f"}
NUMBER = {"s": 0, "b": 1, "f": 2, "t": 3, "g": 4}


def run(letter, count, where="next"):
    return f"{WORDS[letter]} in {where} {'st' if count == 1 else f'{count} sts'}"


def blocks(row):
    """Every (block, times in all), two or more, whose repeat is the row."""
    for period in range(1, len(row) // 2 + 1):
        if len(row) % period == 0 and row[:period] * (len(row) // period) == row:
            yield row[:period], len(row) // period


@cache
def runs(row):
    """Every way to write a row in runs, which may be cut anywhere."""
    if not row:
        return [()]
    found = []
    for cut in range(1, len(row) + 1):
        if len(set(row[:cut])) == 1:
            found += [(run(row[0], cut), *rest) for rest in runs(row[cut:])]
    return found


@cache
def inner(row):
    """Every way to write what a star repeats: runs and brackets of runs."""
    if not row:
        return [()]
    found = []
    for cut in range(1, len(row) + 1):
        firsts = [run(row[0], cut)] if len(set(row[:cut])) == 1 else []
        for block, times in blocks(row[:cut]):
            firsts += [f"[{', '.join(way)}] {times} times" for way in runs(block)]
        found += [(first, *rest) for first in firsts for rest in inner(row[cut:])]
    return found


@cache
def parts(row, first):
    """Every way to write a row, as tuples of (text, whether it is a star)."""
    if not row:
        return [()]
    found = []
    for cut in range(1, len(row) + 1):
        firsts = []
        if len(set(row[:cut])) == 1:
            last = cut == len(row) and not first
            firsts.append((run(row[0], cut, "last" if last else "next"), False))
        for block, times in blocks(row[:cut]):
            more = "1 more time" if times == 2 else f"{times - 1} more times"
            firsts += [(f"*{', '.join(way)}; rep from * {more}", True) for way in inner(block)]
        found += [(one, *rest) for one in firsts for rest in parts(row[cut:], False)]
    return found


def all_texts(row):
    texts = set()
    for way in parts(row, True):
        text, star_before = "", False
        for number, (part, star) in enumerate(way):
            if number:
                text += "; " if star or star_before else ", "
            text, star_before = text + part, star
        texts.add(text)
    return texts


def naive_length(row):
    """The fewest characters, by trying every part at every place."""
    best_inner, best_row = {"": -2}, {"": -2}

    def search(row, best, repeats):
        if row not in best:
            found = []
            for cut in range(1, len(row) + 1):
                head = row[:cut]
                costs = [len(run(row[0], cut))] if len(set(head)) == 1 else []
                costs += [repeats(block, times) for block, times in blocks(head)]
                if costs:
                    found.append(min(costs) + 2 + search(row[cut:], best, repeats))
            best[row] = min(found)
        return best[row]

    def flat(row):
        texts, start = [], 0
        for place in range(1, len(row) + 1):
            if place == len(row) or row[place] != row[start]:
                texts.append(run(row[start], place - start))
                start = place
        return len(", ".join(texts))

    def bracket(block, times):
        return len(f"[] {times} times") + flat(block)

    def star(block, times):
        more = "1 more time" if times == 2 else f"{times - 1} more times"
        return len(f"*; rep from * {more}") + search(block, best_inner, bracket)

    return search(row, best_row, star)


# ---- a second reader ---------------------------------------------------------------------------------------


class Refused(Exception):  # noqa: N818 — no error of the package
    """The second reader does not know what a text says, or what it says is no overlay mosaic."""


_NOT_IN_THIS_FABRIC = re.compile(
    r"\b(inc|increase|dec|decrease|sk|skip|miss|same|shell|cluster)\b"
    r"|\btogether\b(?! ?-? ?stitch ?-? ?at ?-? ?(?:back|front))|\b(turn|sps?|ws)\b|\d+tog"
    r"|\btog(?![a-z])(?! ?-? ?[bf]\b| back| front)"
)
_NOISE = re.compile(r"(?<![^\W_])(?:the|of|work|a)(?![^\W\d_])")
_LOOPS = {"b": r"(?:bl|blo|back ?-? ?loop(?: ?-? ?only)?)", "f": r"(?:fl|flo|front ?-? ?loop(?: ?-? ?only)?)"}
_FULL = {
    "US": {"s": r"(?:sc|single ?-? ?crochet)", "d": r"(?:dc|double ?-? ?crochet)"},
    "UK": {"s": r"(?:dc|double ?-? ?crochet)", "d": r"(?:tr|treble(?: ?-? ?crochet)?)"},
}


def _scanner(terms):
    sc, dc = _FULL[terms]["s"], _FULL[terms]["d"]

    def in_loop(loop, base):
        gap = r" ?-? ?"
        return rf"{loop}{gap}{base}|{base}{gap}{loop}|{base}{gap}in{gap}{loop}"

    kinds = [
        ("b", in_loop(_LOOPS["b"], sc)),
        ("f", in_loop(_LOOPS["f"], dc)),
        ("t", r"tog ?-? ?(?:b|back)|togb|together ?-? ?stitch ?-? ?at ?-? ?back"),
        ("g", r"tog ?-? ?(?:f|front)|togf|together ?-? ?stitch ?-? ?at ?-? ?front"),
        ("s", sc),
        ("end", r"to end(?: row| round)?|across(?: row| round)?|around"),
        ("follow", r"rep(?:eat)? following"),
        ("close", r"end repeat|end inner repeat"),
        ("inall", r"in all|in total"),
        ("rep", r"rep(?:eat)?"),
        ("row", r"rows?|rnds?|rounds?"),
        ("in", r"in|into"),
        ("times", r"times?|x|×"),
        ("sts", r"sts|stitches"),
        ("st", r"st|stitch"),
        ("chs", r"chs|chains"),
        ("ch", r"ch|chain"),
        ("each", r"each|every"),
        *((word, word) for word in ("next", "last", "from", "to", "more", "once", "twice", "then", "and", "hook")),
        ("2nd", r"2nd|second"),
    ]
    words = "|".join(f"(?P<k{n}>(?:{pattern})(?![^\\W\\d_]))" for n, (_, pattern) in enumerate(kinds))
    names = [name for name, _ in kinds]
    pattern = re.compile(rf"\s*(?:{words}|(?P<num>\d+(?![.,'/]\d|tog|nd|rd|th))|(?P<word>[a-z]+)|(?P<mark>[^\w\s]))")

    def scan(text):
        found, at = [], 0
        text = text.strip()
        while at < len(text):
            match = pattern.match(text, at)
            if match is None:
                raise Refused(f"what is {text[at : at + 9]!r}?")
            at = match.end()
            if match.group("num"):
                found.append(("num", int(match.group("num"))))
            elif match.group("word"):
                if match.group("word") not in _NUMBERS[1:]:
                    raise Refused(f"what is {match.group('word')}?")
                found.append(("num", _NUMBERS.index(match.group("word"))))
            elif match.group("mark"):
                mark = match.group("mark")
                found.append(("-" if mark in "-–—" else mark, None))
            else:
                found.append((names[int(match.lastgroup[1:])], None))
        return found

    return scan


class _Row:
    """One row, read word by word from the left: `stitches` is what has been worked so far."""

    def __init__(self, words, width, first_row, in_the_round):
        self.words, self.at, self.width = words, 0, width
        self.first_row, self.in_the_round = first_row, in_the_round
        self.counts = []

    def see(self, *kinds, ahead=0):
        at = self.at + ahead
        return at < len(self.words) and self.words[at][0] in kinds

    def take(self, *kinds):
        if not self.see(*kinds):
            raise Refused(f"expected {kinds} at {self.words[self.at : self.at + 3]}")
        self.at += 1
        return self.words[self.at - 1][1]

    def maybe(self, *kinds):
        if self.see(*kinds):
            self.at += 1
            return True
        return False

    # -- steps; each gives the stitches as text, or None for a repeat that needs to be told how often

    def places(self, before):
        """After a stitch: in how many places it is worked, each with one."""
        start = self.at
        if self.maybe("in"):
            if self.maybe("2nd"):
                self.take("ch")
                self.take("from")
                self.take("hook")
                # "1 sc in 2nd ch" is one stitch in one place, as "sc in 2nd ch" is
                if before not in (None, 1) or not self.first_row or self.in_the_round or self.done:
                    raise Refused("the second chain begins a row 1 worked flat")
                return 1
            each = self.maybe("each")
            if self.see("next", "last"):
                last = self.see("last")
                self.at += 1
                number = self.take("num") if self.see("num") else None
                if not self.maybe("st", "sts"):
                    if self.maybe("ch", "chs"):
                        if not self.first_row:
                            raise Refused("chains are in row 1")
                    elif number is None:
                        raise Refused("no place")
                if number is None and self.words[self.at - 1][0] in ("sts", "chs"):
                    raise Refused("how many?")
                number = 1 if number is None else number
                if before is not None and (before != 1 if each else before != number):
                    raise Refused("an increase, or places without a stitch")
                if last and self.inside:
                    raise Refused("last stitches within a repeat")
                self.ends = self.ends or last
                return number
            if self.maybe("ch", "chs", "st", "sts"):
                if self.words[self.at - 1][0] in ("ch", "chs") and not self.first_row:
                    raise Refused("chains are in row 1")
                if before is not None and not (each and before == 1):
                    raise Refused("an increase")
                if self.see("end", "to"):
                    return self.across()
                if each:
                    return self.rest(0)
            raise Refused("in what?")
        if self.see("end") or (self.see("to") and self.see("last", ahead=1)):
            if before is not None:
                raise Refused("so many, or all?")
            return self.across()
        self.at = start
        return 1 if before is None else before

    def across(self):
        if self.maybe("end"):
            return self.rest(0)
        return self.rest(self.left_over())

    def left_over(self):
        self.take("to")
        self.take("last")
        number = self.take("num") if self.see("num") else None
        had = self.maybe("st", "sts", "ch", "chs")
        if number is None and not (had and self.words[self.at - 1][0] in ("st", "ch")):
            raise Refused("how many?")
        return 1 if number is None else number

    def rest(self, leave):
        if self.inside:
            raise Refused("across within a repeat")
        if self.width is None:
            raise Refused("across what?")
        count = self.width - len(self.done) - leave
        if count < 1:
            raise Refused("no room")
        return count

    def often(self):
        """How often in all, as (least, most), of which the row's count has to settle."""
        if self.maybe("once", "twice"):
            n = 1 if self.words[self.at - 1][0] == "once" else 2
            return (n + 1, n + 1) if self.maybe("more") else (n, n + 1)
        if self.maybe("times"):
            n = self.take("num")
            return n, n + 1
        n = self.take("num")
        if self.maybe("more"):
            self.take("times")
            return n + 1, n + 1
        self.take("times")
        if self.maybe("more"):
            return n + 1, n + 1
        return (n, n) if self.maybe("inall") else (n, n + 1)

    def block(self, *ends):
        """Steps up to one of the ends, which is taken."""
        deep, self.inside = self.inside, True
        before = self.done
        self.done = ""
        self.step()
        while not self.maybe(*ends):
            # "; then" is one break, here as between steps
            marks = 2 if self.see(",", ";", ".") and self.see("then", ahead=1) else 1
            if self.see(",", ";", "then", "and", *["."] * (marks == 2)) and self.see(*ends, ahead=marks):
                self.at += marks + 1
                break
            self.separator()
            self.step()
        block, self.done, self.inside = self.done, before, deep
        return block

    def separator(self):
        if self.see(",", ";", ".") and self.see("then", ahead=1):
            self.at += 2
        else:
            self.take(",", ";", "then", "and", ".")

    def step(self):
        if self.ends:
            raise Refused("something after the last stitches")
        if self.see("*"):
            if self.stars:
                raise Refused("a star in a star")
            self.at += 1
            self.stars = True
            block = self.block("rep")
            self.stars = False
            self.take("from")
            self.take("*")
            self.maybe(",")
            if self.see("end", "to"):
                count = self.across()
                if count % len(block):
                    raise Refused("no whole repeats")
                self.done += block * (count // len(block))
            else:
                self.repeat(block, *self.often())
        elif self.see("(", "[", "{"):
            closing = {"(": ")", "[": "]", "{": "}"}[self.words[self.at][0]]
            self.at += 1
            block = self.block(closing)
            least, _ = self.often()  # "n times" behind brackets is n in all
            self.repeat(block, least, least)
        elif self.maybe("follow"):
            least, _ = self.often()
            self.take(":")
            self.repeat(self.block("close"), least, least)
        else:
            before = self.take("num") if self.see("num") else None
            kind = self.words[self.at][0] if self.at < len(self.words) else None
            self.take(*"sbftg")
            count = self.places(before)
            if not count:
                raise Refused("no stitch")
            if len(self.done) + count > 2000:
                raise Refused("too many")
            self.done += kind * count
            while self.see("and") and self.see("in", "end", "to", ahead=1):
                if self.ends or self.see("next", "last", "2nd", ahead=2) or self.see("next", "last", ahead=3):
                    raise Refused("which stitch goes on?")
                self.at += 1
                self.done += kind * self.places(None)

    def repeat(self, block, least, most):
        if least != most:
            self.unclear = True
        times = most if self.more else least
        if len(block) * times > 2000:
            raise Refused("too many")
        self.done += block * times

    def kinds(self, *ends):
        """A count by kind, up to the end."""
        found = {}
        while True:
            n = self.take("num")
            kind = self.words[self.at][0] if self.at < len(self.words) else None
            self.take(*"sbftg")
            if kind in found:
                raise Refused("a kind counted twice")
            found[kind] = n
            if not self.maybe(",", "and", ";"):
                break
        return found

    def total(self):
        n = self.take("num")
        self.take("st", "sts")
        self.maybe("inall")
        return n

    def read(self):
        """The stitches of the row. A repeat that may be meant once more is settled by the count that the row states."""
        if self.width is None:
            self.width = self.stated()
        found = []
        for self.more in (False, True):
            self.unclear = False
            try:
                found.append(self.read_once())
            except Refused:
                if not found and (self.more or not self.unclear):
                    raise
            if not self.unclear:
                break
        if self.unclear:
            found = [(stitches, tally) for stitches, tally in found if tally is not None]
        if len(found) != 1:
            raise Refused("so often, or once more?")
        return found[0][0]

    def stated(self):
        """How many stitches the end of the row speaks of, None if it does not."""
        words = "".join("0" if kind == "num" else kind if len(kind) == 1 else f"<{kind}>" for kind, _ in self.words)
        end = re.search(r"(?:0<sts?>(?:<inall>)?|(?<=[.:=(\[-])0[sbftg](?:(?:,|<and>|;)0[sbftg])*)[)\]]?\.?$", words)
        if end is None:
            return None
        return sum([n for kind, n in self.words if kind == "num"][-end.group().count("0") :])

    def read_once(self):
        self.at, self.done, self.inside, self.stars, self.ends = 0, "", False, False, False
        self.step()
        tally = None
        while self.at < len(self.words):
            if self.see(".") and self.at == len(self.words) - 1:
                self.at += 1
                break
            dot = self.maybe(".")
            # after a full stop, too, "= 4 BLsc" and "- 4 sts" can be nothing but a count; "- 4 BLsc" can
            only_a_count = self.see("=") or (self.see("num", ahead=1) and self.see("st", "sts", ahead=2))
            if self.see("(", "[") or (self.see("-", "=", ":") and (only_a_count or not dot)):
                tally = self.counted(self.words[self.at][0])
                self.maybe(".")
                break
            if dot and self.see("num") and self.see("st", "sts", ahead=1):
                tally = self.total()
                self.maybe(".")
                break
            if dot:
                here = self.at
                try:
                    tally = self.kinds()
                    self.maybe(".")
                    if self.at < len(self.words):
                        raise Refused("more")
                except Refused:
                    tally = None
                if tally is not None and self.agrees(tally):
                    break
                self.at, tally = here, None
                if self.maybe("then"):
                    pass
                if self.see("(", "["):
                    raise Refused("a bracket after a full stop")
                self.step()
                continue
            self.separator()
            self.step()
        if self.at < len(self.words):
            raise Refused("words after the count")
        if tally is not None and not self.agrees(tally):
            raise Refused("another count than stitches")
        return self.done, tally

    def counted(self, mark):
        self.at += 1
        tally = self.total() if self.see("num") and self.see("st", "sts", ahead=1) else self.kinds()
        if mark in "([":
            self.take({"(": ")", "[": "]"}[mark])
        return tally

    def agrees(self, tally):
        if isinstance(tally, int):
            return tally == len(self.done)
        return sum(tally.values()) == len(self.done) and all(self.done.count(kind) == n for kind, n in tally.items())


_ROW = re.compile(
    r"\s*(rows?|rnds?|rounds?) ?(\d+)(?: ?(?:[-–—]|to\b|and\b) ?(\d+))? ?"
    r"(?:(?P<marks>\([^()]*\)|,? ?(?:with )?(?:mc|cc|main colou?r|contrast(?:ing)? colou?r)(?![^\W\d_])))?"
    r" ?(?P<colon>:?)"
)
_ROLE = {"m": "MC", "c": "CC"}
_STRING = r'"((?:[^"\\\\]|\\\\.)*)"'


def _unquoted(text):
    return re.sub(r"\\\\(.)", r"\\1", text)


def _simple(text):
    """Lower case, one space between words, no words that carry nothing; names in quotes as they are."""
    parts = re.split(r'("(?:[^"\\\\]|\\\\.)*")', text)
    plain = [part if part.startswith('"') else re.sub(r"\s+", " ", _NOISE.sub(" ", part.lower())) for part in parts]
    return "".join(plain).strip()


_NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()  # noqa: SIM905


def _in_digits(simple):
    """Put numbers that are written as words into digits, but for those in names."""
    word = rf'("(?:[^"\\]|\\.)*")|(?<![^\W_])({"|".join(_NUMBERS[1:])})(?![^\W_])'
    return re.sub(word, lambda found: found[1] or str(_NUMBERS.index(found[2])), simple)


class SecondReader:
    """Written rows read a second way, without the package: line by line, and in a row word by word.

    It is strict: what it does not know it refuses. So a text that the package reads and this does not is a finding,
    as is one that both read but otherwise.
    """

    def __init__(self, text, terms=None):
        self.terms = terms
        self.facts, self.yarns, self.rows, self.roles, self.changes, self.hands = {}, {}, [], {}, [], []
        lines = text.replace("\r", "\n").split("\n")
        bodies, prose, in_row = [], False, False
        for line in lines:
            simple = _simple(line)
            if not simple:
                prose, in_row = prose and bool(line.strip()), in_row and bool(line.strip())
                continue
            if in_row and re.match(r"[.,;:=(\[\d-]", simple):
                # a row may go on in the line below it: what begins with such a mark or a number can be nothing else
                bodies[-1] = (*bodies[-1][:2], f"{bodies[-1][2]} {simple}")
                continue
            in_row = False
            # "Row two" is row 2 as in its stitches "two BLsc" are 2 BLsc; remarks are read as they stand
            said, simple = simple, _in_digits(simple)
            if re.match(r"(abbreviations|special stitches|notes?)(?![^\W\d_])", simple):
                prose = True
                self.remark(said)
            elif (match := _ROW.match(simple)) and (match["marks"] or match["colon"]):
                prose, in_row = False, True
                bodies.append(("row", match, simple[match.end() :]))
            elif re.match(r"rep(eat)? (row|rnd|round)s? \d", simple):
                prose, in_row = False, True
                bodies.append(("again", None, simple))
            elif self.heading(simple):
                prose = False
            elif prose:
                self.remark(said)
            else:
                raise Refused(f"what is the line {simple!r}?")
        self.finish(bodies)

    def remark(self, simple):
        for side in re.findall(r"starts? at (left|right)-hand edge", simple):
            self.hands.append(side)
        for side in re.findall(r"worked towards (left|right)", simple):
            self.hands.append({"left": "right", "right": "left"}[side])
        for side in re.findall(r"worked[^.:]{0,40} (left|right)-handed", simple):
            self.hands.append(side)
        for number in re.findall(r"after (?:row|round) (\d+) cut all yarn", simple):
            self.facts["last"] = int(number)
        match = re.match(r"(mc|cc): (main|contrasting) colou?r$", simple)
        if match and match[1][0] != match[2][0]:
            raise Refused("a word that means the other")

    def fact(self, name, value):
        if name in self.facts:
            raise Refused(f"{name} twice")
        self.facts[name] = value
        return True

    def heading(self, simple):
        if match := re.fullmatch(
            r"(?:written (?:rows |rounds )?in )?(us|usa|american|uk|british|united states|united kingdom)"
            r" term(?:s|inology) ?\.?",
            simple,
        ):
            us = match[1] in ("us", "usa", "american", "united states")
            return self.fact("terms", "US" if us else "UK")
        if match := re.fullmatch(rf"(?:name|title) ?: ?{_STRING} ?\.?", simple):
            return self.fact("name", _unquoted(match[1]))
        if match := re.fullmatch(
            r"worked (?:(flat|in rows)|in round|in rounds)(?: ?,? ?(left|right) ?-? ?hand(?:ed|ers?))? ?\.?", simple
        ):
            return self.fact("worked", (not match[1], match[2]))
        if re.fullmatch(r"yarns? ?:?", simple):
            return self.fact("yarns", True)
        role = r"(mc|cc|main colou?r|contrast(?:ing)? colou?r)"
        if match := re.match(rf"{role} ?: ?(?=\")", simple):
            where = _ROLE[match[1][0]]
            one = rf"{_STRING} ?,? ?(#[0-9a-f]{{6}})"
            rest = simple[match.end() :]
            if not re.fullmatch(rf"{one}(?: ?; ?from (?:row|rnd|round)s? ?\d+ ?: ?{one})* ?\.?", rest):
                raise Refused("no yarns")
            if where in self.yarns:
                raise Refused("yarns twice")
            found = re.findall(rf"(?:from (?:row|rnd|round)s? ?(\d+) ?: ?)?{one}", rest)
            self.yarns[where] = [(int(row or 1), _unquoted(name), colour) for row, name, colour in found]
            starts = [row for row, _, _ in self.yarns[where]]
            if starts != sorted(set(starts)):
                raise Refused("changes that do not rise")
            return True
        if match := re.fullmatch(
            r"multiple (\d+) (?:sts?|stitch(?:es)?)(?: plus (\d+)(?: (?:sts?|stitch(?:es)?))?)?"
            r"(?: ?,? ?add (\d+) for foundation(?: ch| chain)?)? ?\.?",
            simple,
        ):
            return self.fact("multiple", tuple(None if n is None else int(n) for n in match.groups()))
        if match := re.fullmatch(
            rf"(?:foundation(?: chain| ch)? ?:? ?)?(?:with {role} ?,? ?)?(?:ch|chs|chain|chains) ?(\d+)"
            r"(?: ?,? ?((?:and )?join))? ?\.?",
            simple,
        ):
            return self.fact("foundation", (match[1] and _ROLE[match[1][0]], int(match[2]), bool(match[3])))
        return False

    def finish(self, bodies):
        terms = self.facts.get("terms", self.terms)
        scan = _SCANNERS[terms]
        rounds = {match[1].startswith(("rnd", "round")) for _, match, _ in bodies if match}
        worked = self.facts.get("worked")
        self.in_the_round = worked[0] if worked else True in rounds
        if rounds - {self.in_the_round}:
            raise Refused("rows and rounds")
        self.hand = (worked and worked[1]) or "right"
        if set(self.hands) - {self.hand}:
            raise Refused("two hands")
        role, chains, join = self.facts.get("foundation", (None, None, False))
        self.width = None if chains is None else chains - (not self.in_the_round)
        if join and not self.in_the_round:
            raise Refused("joined, but flat")
        for number, (kind, match, body) in enumerate(bodies):
            following = next((int(m[2]) for k, m, _ in bodies[number + 1 : number + 2] if m), None)
            self.row(kind, match, body, scan, following)
        if not self.rows:
            raise Refused("no rows")
        first = {told if row % 2 else {"MC": "CC", "CC": "MC"}[told] for row, told in self.roles.items()}
        first |= {role} - {None}
        if len(first) != 1:
            raise Refused("which colour?")
        (self.first,) = first
        self.check(role)

    def check(self, role):
        width = len(self.rows[0])
        if any(len(row) != width for row in self.rows) or (self.width is not None and self.width != width):
            raise Refused("rows of two widths")
        if self.facts.get("last", len(self.rows)) != len(self.rows):
            raise Refused("another last row")
        if multiple := self.facts.get("multiple"):
            repeat, plus, more = multiple
            left = width - (plus or 0)
            if not repeat or left < repeat or left % repeat or more not in (None, 0 if self.in_the_round else 1):
                raise Refused("another multiple")
        for row, name in self.changes:
            before = self.yarn(row - 2)
            if row < 3 or self.yarn(row)[0] != name or self.yarn(row) == before:
                raise Refused("another change of yarn")

    def colour(self, row):
        return self.first if row % 2 else {"MC": "CC", "CC": "MC"}[self.first]

    def yarn(self, row):
        """(name, colour) of the yarn of a row."""
        colour = self.colour(max(row, 1) if row > 0 else row + 2)
        found = self.yarns.get(colour, [(1, *_YARNS[colour])])
        return [(name, ink) for start, name, ink in found if start <= max(row, 1)][-1]

    def row(self, kind, match, body, scan, following):
        here = len(self.rows) + 1
        first = last = None
        told = []
        if match:
            first, last = int(match[2]), int(match[3] or match[2])
            if first != here or last < first or last > 2000:
                raise Refused("row numbers")
            marks = match["marks"] or ""
            if marks:
                inside = marks.strip("()") if marks.startswith("(") else re.sub(r"^,? ?(with )?", "", marks)
                for mark in inside.split(","):
                    mark = mark.strip()
                    if re.fullmatch(r"mc|main colou?r", mark):
                        told.append("MC")
                    elif re.fullmatch(r"cc|contrast(?:ing)? colou?r", mark):
                        told.append("CC")
                    elif not re.fullmatch(r"rs|right side", mark):
                        raise Refused(f"what is {mark!r}?")
            for row in range(first, last + 1):
                if told:
                    self.roles[row] = told[(row - first) % len(told)]
            if change := re.match(rf" ?change to {_STRING} ?(?:[,;.] ?then(?![^\W\d_])|[,;.]|then(?![^\W\d_]))", body):
                self.changes.append((first, _unquoted(change[1])))
                if last > first:
                    raise Refused("a change in several rows")
                body = body[change.end() :]
        if wrong := _NOT_IN_THIS_FABRIC.search(body):
            raise Refused(f"not in this fabric: {wrong.group()}")
        words = scan(body)
        if words and words[0][0] == "rep" and len(words) > 1 and words[1][0] == "row":
            self.again(words[2:], here, last, bool(told), following)
            return
        reader = _Row(words, self.width, here == 1, self.in_the_round)
        stitches = reader.read()
        self.width = len(stitches) if self.width is None else self.width
        self.rows += [stitches] * (last - first + 1)

    def again(self, words, here, last, told, following):
        reader = _Row(words, self.width, False, self.in_the_round)
        reader.done, reader.inside = "", False
        start = end = reader.take("num")
        if reader.maybe("-", "to", "and"):
            end = reader.take("num")
        reader.maybe(",")
        block = end - start + 1
        if not 1 <= start <= end < here:
            raise Refused("rows that are not there")
        ways = None
        if reader.see("once", "twice", "num", "times"):
            least, most = reader.often()
            ways = {least - 1, most - 1} if least == most else {least - 1, most - 1} - {0}
        room = last - here + 1 if last else None
        if ways is None:
            ways = {room // block} if room and room % block == 0 else {1}
        if room is None and len(ways) > 1 and following:
            room = following - here
        fitting = [times for times in ways if room is None or times * block == room]
        if len(fitting) != 1 or fitting[0] < 1:
            raise Refused("so many rows do not fit")
        again = [self.rows[start - 1 + n % block] for n in range(fitting[0] * block)]
        if not told and any((here + n - start - n % block) % 2 for n in range(len(again))):
            raise Refused("rows of the other colour")
        for stitches in dict.fromkeys(again[:block]):
            rest, reader.done = reader.at, stitches
            reader.at = rest
            dot = reader.maybe(".")
            tally = None
            if reader.see("(", "["):
                tally = reader.counted(reader.words[reader.at][0])
            elif dot and reader.see("num"):
                tally = reader.total() if reader.see("st", "sts", ahead=1) else reader.kinds()
            reader.maybe(".")
            if reader.at < len(reader.words) or (tally is not None and not reader.agrees(tally)):
                raise Refused("another count")
            reader.at = rest
        self.rows += again


_SCANNERS = {terms: _scanner(terms) for terms in _FULL}
_YARNS = {"MC": ("cream", "#f4ead5"), "CC": ("ink blue", "#1d3f66")}


def second_reading(text):
    """What a text says: its rows as letters from row 1 on, the colours and yarns of the rows, and how it is worked."""
    if re.search(r"(?im)^\W*(written .*terms|terms|(us|uk|united|american|british)\b)", text):
        reader = SecondReader(text)
    else:  # whichever terms make sense of it
        readers = []
        for terms in _FULL:
            try:
                readers.append(SecondReader(text, terms))
            except Refused as refusal:
                reason = refusal
        if len(readers) != 1:
            raise Refused("which terms?") if readers else reason
        reader = readers[0]
    rows = range(1, len(reader.rows) + 1)
    return {
        "rows": reader.rows,
        "colours": [reader.colour(row) for row in rows],
        "yarns": [reader.yarn(row) for row in rows],
        "hand": reader.hand,
        "in the round": reader.in_the_round,
        "name": reader.facts.get("name", ""),
    }
