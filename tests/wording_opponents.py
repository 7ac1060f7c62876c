"""Slow ways to the shortest words of a row, which share no code with the package.

A row is a text of letters, one for each stitch. `all_texts` writes out every text of the grammar; `naive_length`
tries every part at every place and remembers what it found.
"""

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
