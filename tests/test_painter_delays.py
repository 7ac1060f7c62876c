"""The painter however late Python answers: the picture is the one that a patient hand gets.

Opponent of every run is the same hand with a Python that answers before anything else is done.
"""

import random
import shutil
from pathlib import Path

import numpy as np
import pytest
from delays import Run, begin, open_painters, play, walk
from kill_drawing import UNHURRIED

import mosaickit as mk
import mosaickit.widgets.journal
from mosaickit.widgets.sketch import Sketch

START = mk.Motif.from_text(
    """
    ............
    ####..######
    ..#.........
    #.##########
    .#......#...
    ###########.
    ............
    ###.########
    ............
    """
)
TOOLS = ["Brush", "Line", "Box", "Ellipse", "Fill", "Select", "Letters", "Stamps", "Pan"]
TURNS = ["Mirror it", "Turn it upside down", "Turn it by half"]
CHANGES = [
    "mirror", "up-down", "half-turn", "counterchange", "insert row", "insert two rows", "delete row",
    "delete two rows", "repeat row", "repeat two rows", "insert column", "delete column", "repeat column", "clear",
]  # fmt: skip
KEYS = [*"xbloefstmpnckv", " ", "Enter", "Escape", "Delete", "Backspace", "+", "-", "?"]
ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"]


def drag(*places):
    first, *rest = (list(place) for place in places)
    return [["down", first], *(["move", place] for place in rest), ["up", [*rest, first][-1] if not rest else rest[-1]]]


# no hand can choose a stamp before it is shown
STAMPS = [["press", "Stamps"], ["settle"]]


def controls():
    """Everything that a hand can press, by name: what it does."""
    named = {f"press {name}": [["press", name]] for name in [*TOOLS, "MC: cream", "CC: ink blue"]}
    named |= {f"press {name}": [["press", name]] for name in ("Undo", "Redo", "Nearest workable", "Accept", "Leave")}
    named |= {
        f"press {name}": [["press", name]] for name in ("Smaller", "Larger", "Copy", "Cut", "Paste", "Keys", *TURNS)
    }
    named |= {f"change {name}": [["choose", "Change the whole picture", name]] for name in CHANGES}
    views = ["none", "front", "back", "gauge", "stitches", "repeat"]
    named |= {f"view {name}": [["choose", "Second view", name]] for name in views}
    ticks = ["Mirror", "Up-down", "Half-turn", "only what can be worked", "left-handed"]
    named |= {f"tick {name}": [["tick", name]] for name in ticks}
    named |= {"tick Mirror twice": [["tick", "Mirror"], ["tick", "Mirror"]]}
    named |= {"across 4": [["type", "Repeat everystitches", "4"]], "up 3": [["type", "and everyrows", "3"]]}
    line = [["press", "Letters"], ["type", "Text", "Ida"]]
    chosen = {"Alphabet": "book", "Size": "2", "Colour of the letters": "MC", "Way of the text": "up"}
    chosen |= {"Ground around the letters": "2"}
    named |= {"type a line": line, "type what cannot be set": [["press", "Letters"], ["type", "Text", "☃"]]}
    named |= {f"letters: {name} {value}": [*line, ["choose", name, value]] for name, value in chosen.items()}
    named |= {f"stamp {name}": [*STAMPS, ["press", name]] for name in ("seed", "barley")}
    named |= {f"key {key}": [["key", key]] for key in [*KEYS, *ARROWS]}
    named |= {f"key shift {key}": [["key", key, "shift"]] for key in ARROWS}
    named |= {f"key ctrl {key}": [["key", key, "ctrl"]] for key in "zy"}
    return named


CONTROLS = controls()
# all in the part of the picture that every control leaves
STROKES = {
    "a dot": [["down", [2, 3]], ["up", [2, 3]]],
    "a brush": [["press", "Brush"], *drag([0, 1], [3, 2], [3, 6])],
    "a line": [["press", "Line"], *drag([1, 6], [8, 2], [10, 5])],
    "a box": [["press", "Box"], *drag([7, 1], [2, 4], [5, 2])],
    "an ellipse": [["press", "Ellipse"], *drag([8, 1], [1, 4], [2, 6])],
    "a part turned": [["press", "Select"], *drag([1, 1], [6, 4]), ["press", "Turn it by half"]],
    "two corners": [["press", "Ellipse"], *[["key", key] for key in (" ", "ArrowUp", "ArrowLeft", "ArrowUp", "Enter")]],
    "a fill": [["press", "Fill"], *drag([4, 4])],
    "keys": [["key", "ArrowUp"], ["key", " "], ["key", "ArrowLeft", "shift"], ["key", "Enter"]],
    "a part carried": [["press", "Select"], *drag([1, 1], [3, 3]), *drag([2, 2], [7, 4])],
    "a part pasted": [["press", "Select"], *drag([0, 4], [3, 6]), ["key", "c"], *drag([8, 1], [8, 1]), ["key", "v"]],
    "letters": [["press", "Letters"], ["type", "Text", "I"], *drag([2, 1], [4, 2]), *drag([8, 3])],
    "letters by keys": [["key", "t"], ["type", "Text", "L"], ["key", "ArrowUp"], ["key", "Enter"], ["key", " "]],
    "a stamp turned": [*STAMPS, ["press", "seed"], *drag([3, 2], [1, 1]), ["press", "Turn it by half"]],
    "a part cut": [["press", "Select"], *drag([6, 2], [9, 5]), ["press", "Cut"]],
}


@pytest.fixture
def page(tab):
    page, faults = tab(), []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    open_painters(page)
    yield page
    assert faults == []


@pytest.fixture(scope="module")
def begun(tmp_path_factory):
    """A drawing in which there is something to undo, and something to redo."""
    file = tmp_path_factory.mktemp("begun") / "begun.sketch"
    sketch = Sketch(START.with_grid(START.grid[:, ::-1]), journal=file)
    for motif in (START.with_grid(np.roll(START.grid, 1, axis=1)), START, START.with_grid(~START.grid)):
        sketch.change(motif, "earlier")
    sketch.undo()
    sketch.close()
    return file


class Hands:
    """Runs of one drawing, each on a copy of its own."""

    def __init__(self, page, begun, folder):
        self.page, self.begun, self.folder = page, begun, folder

    def play(self, scripts, delay):
        runs = []
        for number, gestures in enumerate(scripts):
            alone = self.folder / f"{number}-{delay if isinstance(delay, int) else 'late'}"
            alone.mkdir()  # stamps are looked for in the whole folder
            file = Path(shutil.copy(self.begun, alone))
            runs.append(Run(START, [["settle"], *gestures], delay if isinstance(delay, int) else delay[number], file))
        return [self.told(run, *ended) for run, ended in zip(runs, play(self.page, runs), strict=True)]

    @staticmethod
    def told(run, painter, shown):
        """What is to be the same whenever Python answers; page, Python and file agree in every run."""
        text = painter.motif.to_text().split()
        if not any(painter.ghost):  # a preview covers squares
            assert shown["drawn"] == text
        kept, labels = Sketch.read(run.sketch), []
        assert kept.motif == painter.motif
        while kept.can_undo:
            labels.append(kept.undo_label)
            kept.undo()
        said = {name: value for name, value in painter.said.items() if name not in ("findings", "trouble")}
        return text, labels, said, shown["set"]


@pytest.fixture
def hands(page, begun, tmp_path, monkeypatch):
    # whether a stroke outlives a power cut is tried elsewhere, and thousands of them would wait for the disk here
    monkeypatch.setattr(mosaickit.widgets.journal, "SETTINGS", UNHURRIED)
    return Hands(page, begun, tmp_path)


@pytest.mark.parametrize("stroke", STROKES)
def test_what_is_done_after_any_control_is_done_under_it_at_any_delay(hands, stroke):
    scripts = [[*control, *STROKES[stroke]] for control in CONTROLS.values()]
    patient = hands.play(scripts, 0)
    assert len({repr(told[0]) for told in patient}) > 12  # the controls do differ
    # three seconds for all; the shorter delays, in which an answer comes in between, for a third each: at 120 ms it
    # comes while the hand is in mid-stroke, perhaps with another sheet
    turn = list(STROKES).index(stroke)
    thirds = [(delay, slice((turn + start) % 3, None, 3)) for start, delay in enumerate((50, 500, 120))]
    for delay, of in [(3000, slice(None)), *thirds]:
        late = hands.play(scripts[of], delay)
        told = zip(list(CONTROLS)[of], patient[of], late, strict=True)
        assert {name: (a, b) for name, a, b in told if a != b} == {}, f"at {delay} ms"


RESIZES = ["insert", "delete", "repeat"]
"""What changes the picture's size: a hand that waits sees another sheet then, and may press beside it."""


def sequence(seed, names):
    """Two hundred gestures: any control, or a stroke from anywhere to anywhere, as a seed says."""
    rng = random.Random(seed)
    gestures = []
    for _ in range(200):
        if rng.random() < 0.5:
            gestures += CONTROLS[rng.choice(names)]
        else:
            gestures += drag(*([rng.randrange(12), rng.randrange(9)] for _ in range(rng.choice([1, 2, 2, 3]))))
    return gestures, [rng.choice([0, 50, 500, 3000]) for _ in range(997)]


def test_two_hundred_gestures_at_random_delays_give_what_a_patient_hand_gets(hands):
    names = [name for name in CONTROLS if not any(word in name for word in RESIZES)]
    scripts, delays = zip(*(sequence(seed, names) for seed in range(10)), strict=True)
    patient = hands.play(scripts, 0)
    assert len({len(labels) for _, labels, _, _ in patient}) > 1
    assert hands.play(scripts, delays) == patient


def test_whatever_changes_size_meanwhile_page_python_and_file_agree_in_the_end(hands):
    # `told` asks for it
    scripts, delays = zip(*(sequence(seed, list(CONTROLS)) for seed in range(100, 110)), strict=True)
    assert len({np.shape(text) for text, *_ in hands.play(scripts, delays)}) > 1


def test_a_busy_python_is_said_to_be_busy_while_it_is(page, tmp_path):
    gestures = [["settle"], ["tick", "Mirror"], *drag([0, 1], [3, 1])]
    runs = [Run(START, gestures, delay, tmp_path / f"{delay}.sketch") for delay in (0, 500, 3000)]
    said = [shown["banners"] for _, shown in play(page, runs)]
    busy = "Python is busy. Go on: what you do is kept here in order, and done when Python answers."
    assert said[:2] == [[], []]
    assert any(banner.startswith(f"{busy} The last 2 things you did are not in the file yet.") for banner in said[2])


def test_a_sheet_of_a_quarter_of_a_million_squares_is_filled(page, tmp_path):
    blank = mk.Motif(np.zeros((500, 500), dtype=bool))
    sides = begin(page, [Run(blank, [["press", "Fill"], *drag([3, 3])], 0, tmp_path / "large.sketch")])
    walk(page, sides)
    assert sides[0].painter.motif.grid.all()
