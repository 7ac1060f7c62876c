"""Lessons of your own: made, tried out, kept and read back, given out without solutions, and what a class answered."""

import base64
import html
import json
import re
from pathlib import Path

import educators
import nbformat
import numpy as np
import pandas as pd
import pytest
from bs4 import BeautifulSoup

import mosaickit as mk
from mosaickit.errors import FileError, NotebookError, OptionError, TakenError
from mosaickit.files import to_png
from mosaickit.lessons.cells import looked_at
from mosaickit.lessons.exercises import ANSWER_MIME
from mosaickit.lessons.paper import room_for
from mosaickit.lessons.sentences import told_apart
from mosaickit.sharing import execute, read

COURSE = sorted((Path(__file__).parents[1] / "notebooks" / "lessons").glob("*.ipynb"))[:12]
LANTERN, MENDED = educators.LANTERN, educators.MENDED


@pytest.fixture
def here(tmp_path, monkeypatch):
    """The educator's folder, with the notebook and the lesson's file."""
    monkeypatch.chdir(tmp_path)
    nbformat.write(educators.notebook(), tmp_path / "lanterns.ipynb")
    mk.lessons.keep(educators.exercises(), "lanterns.lesson")
    return tmp_path


def number_exercise(**changed):
    told = {"question": "How many?", "answer": "a whole number", "parts": [mk.lessons.this_number(7)], "solution": 7}
    return mk.lessons.exercise("rows", **(told | changed))


# ---- making and trying out ---------------------------------------------------------------------------------


def every_kind():
    """An exercise for every part that a file can hold, with answers that it is asked about."""
    plain = mk.Motif.from_text("...\n###\n...")
    parts = mk.lessons
    yield number_exercise(), [6, 7, 8, 7.0, "7"]
    yield number_exercise(answer="a number", parts=[parts.this_number(2.5, off=0.1)], solution=2.5), [2.45, 2.7, 1]
    yield number_exercise(answer=["cut", "carried"], parts=[parts.this_choice("cut", "Yes.", again="Look.")],
                          solution="cut"), ["CUT", "carried", "?"]  # fmt: skip
    again = {"carried": "Measure two tails."}
    yield number_exercise(answer=["cut", "carried"], parts=[parts.this_choice("cut", "Yes.", again=again)],
                          solution="cut"), ["carried"]  # fmt: skip
    squares = [(1, 2), (3, 1)]
    yield number_exercise(answer="squares", parts=[parts.these_squares(squares, "dark squares")], solution=squares), [
        [], [(1, 2)], [(1, 2), (3, 1)], [(2, 2)]]  # fmt: skip
    yield number_exercise(answer="whole numbers", parts=[parts.these_numbers([2, 5], "rows")], solution=[2, 5]), [
        [], [2], [5, 2], [3], [2, 3]]  # fmt: skip
    motif_parts = [parts.of_size(3, 3), parts.no_larger_than(9), parts.can_be_worked(), parts.own_mirror(),
                   parts.overlaid_at_least(1), parts.changes_at_most(2, plain)]  # fmt: skip
    solved = mk.Motif.from_text("...\n#.#\n...")
    yield number_exercise(answer="a motif", parts=motif_parts, solution=solved, given={"plain": plain, "n": 3}), [
        plain, solved, mk.Motif.from_text("...\n.#.\n..."), mk.Motif.from_text("##\n##"), LANTERN,
        mk.Motif.from_text("...\n.##\n...")]  # fmt: skip
    chart = mk.compile_chart(solved)
    yield (
        number_exercise(
            answer="a chart",
            parts=[parts.hook_works_it(), parts.this_picture(solved)],
            solution=chart,
            given=mk.Gauge(16, 18),
        ),
        [chart, mk.compile_chart(plain), mk.Chart.from_text("|||\n...\n...")],
    )


def test_a_lesson_that_was_kept_and_opened_says_what_it_said_before(tmp_path):
    made = list(every_kind())
    lesson = mk.lessons.Lesson("Every kind", [exercise for exercise, _ in made])
    mk.lessons.keep(lesson, tmp_path / "kinds.lesson")
    opened = mk.lessons.open_lesson(tmp_path / "kinds.lesson")
    assert opened.title == lesson.title
    for (exercise, answers), again in zip(made, opened.exercises, strict=True):
        assert again.look_at(again.solution, "x").ok
        assert repr(again.given) == repr(exercise.given)
        assert (again.title, again.question, again.because) == (exercise.title, exercise.question, exercise.because)
        for answer in [*answers, None, [], "x"]:
            assert str(again.look_at(answer, "x")) == str(exercise.look_at(answer, "x"))
    assert {part.kept["part"] for exercise, _ in made for part in exercise.parts} == {
        "squares", "numbers", "number", "choice", "size", "no larger", "workable", "few changes", "overlaid", "mirror",
        "picture", "hook",
    }  # fmt: skip


def test_an_exercise_without_a_fault_has_none_and_every_part_of_it_can_be_missed():
    for exercise, _ in every_kind():
        tried = mk.lessons.try_out(exercise)
        assert tried.ok, str(tried)
        assert tried.tried >= 1


def lost_on_others(made):
    return None if made == 7 else [1][made]


@pytest.mark.parametrize(
    ("look", "says"),
    [
        (lambda made: 1 / 0, "goes wrong on the solution: it ended with ZeroDivisionError"),
        (lambda made: "Not 7.", "Part 1, “It is right.”, does not let the solution pass: “Not 7.”"),
        (lambda made: made == 7, "it gave True, where a sentence or None is expected"),
        (lost_on_others, "of the other answers: it ended with IndexError"),
        (mk.lessons.this_number(8).missing, "does not let the solution pass: “That is too small.”"),
    ],
)
def test_a_fault_of_a_part_is_said_to_whoever_made_it(look, says, tmp_path):
    exercise = number_exercise(parts=[mk.lessons.part("It is right.", look)])
    tried = mk.lessons.try_out(exercise)
    assert not tried.ok
    assert says in str(tried)
    with pytest.raises(OptionError, match="Exercise 1 of “One” is not ready for learners"):
        mk.lessons.keep(mk.lessons.Lesson("One", [exercise]), tmp_path / "one.lesson")


def test_a_part_that_lets_everything_pass_is_advice_and_a_wrong_answer_that_passes_a_fault():
    idle = mk.lessons.part("It is fine.", lambda made: None)
    tried = mk.lessons.try_out(number_exercise(parts=[idle]), wrong=[8])
    assert tried.advice == ("Part 1, “It is fine.”, lets all of the other answers pass: does it look at the answer?",)
    assert tried.faults == ("The answer 8, which has to be found wrong, passes every part.",)
    assert mk.lessons.try_out(number_exercise(), wrong=[8, "x"]).ok


def test_a_solution_of_another_kind_cannot_be_read():
    tried = mk.lessons.try_out(number_exercise(solution="seven"))
    assert "The solution cannot be read as an answer. The answer should be a whole number" in str(tried)


@pytest.mark.parametrize("look", [lambda made: 1 / 0, lambda made: made.roof, lambda made: 3, lambda made: "",
                                  lambda made: f"It is not {made}."])  # fmt: skip
def test_a_fault_of_the_exercise_is_never_the_learners(look):
    """The last of these finds something missing in the solution, too."""
    feedback = mk.lessons.check(number_exercise(parts=[mk.lessons.part("It is right.", look)]), 7)
    assert (feedback.ok, feedback.right, feedback.missing) == (False, (), ())
    assert feedback.faults[0].startswith("Part 1, “It is right.”: ")
    for shown in (str(feedback), feedback._repr_html_()):
        assert "your answer is not the cause" in shown
        assert "Tell the person who made it." in shown
        assert "ook again" not in shown


def test_a_part_may_say_true_and_false_beside_a_sentence():
    wide = mk.lessons.part("It is wide.", lambda made: made.shape[1] > 3, missing="It has to be wider.")
    exercise = number_exercise(answer="a motif", parts=[wide], solution=LANTERN)
    assert mk.lessons.check(exercise, mk.Motif.from_text("..")).missing == ("It has to be wider.",)
    assert mk.lessons.check(exercise, LANTERN).right == ("It is wide.",)


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"question": " "}, "`question` must not be empty"),
        ({"answer": "a number of rows"}, "`answer` must be one of 'a motif', 'a chart'"),
        ({"answer": ["cut"]}, "or a list of words to choose from; got"),
        ({"answer": ["cut", "Cut"]}, "names a word twice"),
        ({"parts": []}, "`parts` must have at least one part"),
        ({"parts": mk.lessons.this_number(7)}, "`parts` must be a list of parts"),
        ({"parts": [len]}, "parts"),
        ({"solution": ...}, "`solution` must be one right answer"),
        ({"because": 3}, "`because` must be text"),
    ],
)
def test_an_exercise_that_cannot_be_is_refused_by_name(changed, says):
    with pytest.raises(OptionError, match=re.escape(says)):
        number_exercise(**changed)


def test_pictures_are_told_apart_as_a_maker_sees_them():
    wanted = np.array([[True, False, False], [False, False, False]])
    assert told_apart(wanted, wanted) is None
    assert "mirror image" in told_apart(wanted[:, ::-1], wanted)
    assert "upside down" in told_apart(wanted[::-1], wanted)
    assert told_apart(~wanted, wanted) == "Look again at rows 1 and 2."
    assert told_apart(wanted.T, wanted) == "It should have 2 rows of 3 stitches; it has 3 of 2."


# ---- files -------------------------------------------------------------------------------------------------


def test_an_exercise_is_checked_by_its_lessons_name(here):
    assert mk.lessons.check("lanterns.1", 39).ok
    assert mk.lessons.check("lanterns.1", 39.0).ok
    assert mk.lessons.check("lanterns.1", 35).missing == ("Are the edge stitches in it?",)
    assert mk.lessons.given("lanterns.2") == LANTERN
    assert mk.lessons.check("lanterns.2", MENDED).because == "Either of two overlaid squares could go."
    assert mk.lessons.solution("lanterns.1") == 39


@pytest.mark.parametrize(
    ("name", "kind", "says"),
    [
        ("lanterns.3", OptionError, "the lesson “Lanterns” has exercises 1 to 2"),
        ("lantern.1", FileError, "'lantern.lesson': There is no such file"),
        ("../lanterns.1", OptionError, "There is no exercise"),
        ("lanterns.0", OptionError, "There is no exercise"),
        ("lanterns", OptionError, "There is no exercise"),
        (".1", OptionError, "There is no exercise"),
        ("13.1", OptionError, "There is no exercise"),
    ],
)
def test_a_name_that_is_none_is_refused(here, name, kind, says):
    with pytest.raises(kind, match=re.escape(says)):
        mk.lessons.check(name, 39)


def test_an_exercise_that_is_shown_does_not_show_its_solution():
    for exercise, solution in zip(educators.exercises().exercises, ("39", MENDED.to_text()), strict=True):
        for shown in (repr(exercise), exercise._repr_html_(), str(exercise)):
            assert solution not in shown
            assert exercise.title in shown


def test_a_solution_has_to_be_there_to_be_asked_for(here):
    with pytest.raises(OptionError, match="the hidden cell below its answer"):
        mk.lessons.solution("1.1")
    (here / "out").mkdir()
    mk.lessons.handout("lanterns.ipynb", "out/lanterns.ipynb")
    lesson = mk.lessons.open_lesson("out/lanterns.lesson")
    with pytest.raises(OptionError, match="this copy of the lesson is for learners"):
        mk.lessons.solution(lesson.exercises[0])


def test_no_file_of_another_lesson_is_replaced_unasked(here):
    other = mk.lessons.Lesson("Garlands", [number_exercise()])
    with pytest.raises(TakenError, match=r"it is a lesson with the title 'Lanterns'.*lanterns-2\.lesson"):
        mk.lessons.keep(other, "lanterns.lesson")
    again = mk.lessons.Lesson("Lanterns", [number_exercise()])
    mk.lessons.keep(again, "lanterns.lesson")
    assert len(mk.lessons.open_lesson("lanterns.lesson").exercises) == 1
    mk.lessons.keep(other, "lanterns.lesson", replace=True)
    assert mk.lessons.open_lesson("lanterns.lesson").title == "Garlands"


@pytest.mark.parametrize("name", ["lanterns.json", "lanterns", "a.b.lesson", ".lesson", "12.lesson"])
def test_a_file_of_another_name_is_refused(tmp_path, name):
    with pytest.raises(OptionError, match="`path` must be a name with a letter"):
        mk.lessons.keep(educators.exercises(), tmp_path / name)


def test_what_no_file_can_hold_is_said_and_nothing_is_written(tmp_path):
    own = mk.lessons.part("It is even.", lambda n: n % 2 == 0, missing="It is odd.")
    for changed, says in [
        ({"parts": [own], "solution": 8}, "its part 1, “It is even.”, looks with a function of your own"),
        ({"given": object()}, "what it gives is a `object`"),
        ({"given": {"a": mk.Yarns()}}, "what it gives as 'a' is a `Yarns`"),
    ]:
        with pytest.raises(OptionError, match=re.escape(says)):
            mk.lessons.keep(mk.lessons.Lesson("One", [number_exercise(**changed)]), tmp_path / "one.lesson")
    assert list(tmp_path.iterdir()) == []


def test_a_damaged_lesson_is_refused_in_a_sentence(here):
    """Every fault put into the educator's file, and any byte changed in what is sealed for learners."""
    text = Path("lanterns.lesson").read_text("utf-8")
    for old, new in [
        ('"wanted": 39', '"wanted": "39"'),
        ('"part": "number"', '"part": "sum"'),
        ('"version": 1', '"version": 2'),
        ('"answer": "a motif"', '"answer": "a dream"'),
        ('"rows": 7', '"rows": 0'),
        ('"title": "Lanterns"', '"title": "Lanterns", "code": "print()"'),
        ("{", "[", ),
    ]:  # fmt: skip
        assert old in text
        Path("damaged.lesson").write_text(text.replace(old, new, 1), "utf-8")
        with pytest.raises(FileError, match=r"'damaged\.lesson': .*[.]"):
            mk.lessons.open_lesson("damaged.lesson")
    (here / "out").mkdir()
    mk.lessons.handout("lanterns.ipynb", "out/lanterns.ipynb")
    sealed = json.loads(Path("out/lanterns.lesson").read_text("utf-8"))
    whole = base64.b64decode(sealed["sealed"])
    for place in range(0, len(whole), 7):
        spoilt = bytes([*whole[:place], whole[place] ^ 0xFF, *whole[place + 1 :]])
        told = sealed | {"sealed": base64.b64encode(spoilt).decode("ascii")}
        Path("damaged.lesson").write_text(json.dumps(told), "utf-8")
        with pytest.raises(FileError, match=r"'damaged\.lesson': "):
            mk.lessons.open_lesson("damaged.lesson")
    for told in ("", "!", sealed["sealed"][:-8]):
        Path("damaged.lesson").write_text(json.dumps(sealed | {"sealed": told}), "utf-8")
        with pytest.raises(FileError, match="The lesson is damaged"):
            mk.lessons.open_lesson("damaged.lesson")


def test_the_learners_copy_holds_no_solution_and_checks_as_the_lesson_does(here):
    (here / "out").mkdir()
    mk.lessons.handout("lanterns.ipynb", "out/lanterns.ipynb")
    text = Path("out/lanterns.lesson").read_text("utf-8")
    assert "39" not in re.sub(r'"sealed": "[^"]*"', "", text)
    assert "#.###.#" not in text
    for exercise, own in zip(
        mk.lessons.open_lesson("out/lanterns.lesson").exercises, educators.exercises().exercises, strict=True
    ):
        assert exercise.solution is ...
        for answer in (39, 35, MENDED, LANTERN, None):
            assert str(exercise.look_at(answer, "x")) == str(own.look_at(answer, "x"))
    with pytest.raises(OptionError, match="has no solution: a learners' copy"):
        mk.lessons.keep(mk.lessons.open_lesson("out/lanterns.lesson"), "lanterns.lesson")


# ---- handouts ----------------------------------------------------------------------------------------------


def no_blanks(text):
    return re.sub(r"\\+n|[\s\\\"']", "", html.unescape(text))


@pytest.mark.parametrize("path", COURSE, ids=lambda path: path.stem)
def test_no_solution_of_the_course_is_left_in_its_handout(path, tmp_path):
    handed = tmp_path / "handed"
    handed.mkdir()
    mk.lessons.handout(path, handed / path.name)
    out, source = nbformat.read(handed / path.name, 4), nbformat.read(path, 4)
    told = no_blanks((handed / path.name).read_text("utf-8"))
    hidden = [cell for cell in source.cells if "solution" in cell.metadata.get("tags", [])]
    openly = no_blanks("\n".join(cell.source for cell in source.cells if cell not in hidden))
    assert len(hidden) == 3
    for cell in hidden:
        lines = [no_blanks(line.partition("  # ")[0]) for line in cell.source.splitlines()]
        secret = [line for line in lines if len(line) >= 12 and line[0] != "#" and line not in openly]
        assert secret
        assert [line for line in secret if line in told] == []
    number = int(path.name[:2])
    for exercise in (1, 2, 3):
        (asked,) = (cell for cell in out.cells if f'mk.lessons.check("{number}.{exercise}", ' in cell.source)
        assert "= ..." in asked.source
    assert not any(cell.get("outputs") for cell in out.cells)
    assert [cell.source for cell in out.cells if cell.cell_type == "markdown"] == [
        cell.source for cell in source.cells if cell.cell_type == "markdown"
    ]


def cell(source, tags=(), kind="code"):
    return {"cell_type": kind, "source": source, "metadata": {"tags": list(tags)}}


@pytest.mark.parametrize(
    ("source", "left"),
    [
        ('a = [1, 2]  # yours\nmk.lessons.check("x.1", a)', 'a = ...  # yours\nmk.lessons.check("x.1", a)'),
        ('a = ...\nmk.lessons.check("x.1", a)', 'a = ...\nmk.lessons.check("x.1", a)'),
        ('mk.lessons.check("x.1", [1, 2])', 'mk.lessons.check("x.1", ...)'),
        ('mk.lessons.check("x.1", answer=39)', 'mk.lessons.check("x.1", answer=...)'),
        ('a = """\n..#\n"""\nb = mk.Motif.from_text(a)\nmk.lessons.check("x.1", b)',
         'a = ...\nb = ...\nmk.lessons.check("x.1", b)'),
        ('def f(n):\n    return n\n\nmk.lessons.check("x.1", f)', 'f = ...\n\nmk.lessons.check("x.1", f)'),
        ('def f(n):\n    return n\n\nb = ...\nmk.lessons.check("x.1", b)',
         'def f(n):\n    return n\n\nb = ...\nmk.lessons.check("x.1", b)'),
        ('ä = "é" + "ü"; mk.lessons.check("x.1", ä)', 'ä = ...; mk.lessons.check("x.1", ä)'),
        ('%matplotlib inline\na: int = 39\nmk.lessons.check("x.1", a)',
         '%matplotlib inline\na: int = ...\nmk.lessons.check("x.1", a)'),
        ('assert mk.lessons.check("x.1", 39).ok', 'assert mk.lessons.check("x.1", ...).ok'),
        ('a = 39\nmk.lessons.check("x.1", a)\nmk.lessons.check("x.2", a)',
         'a = ...\nmk.lessons.check("x.1", a)\nmk.lessons.check("x.2", a)'),
    ],
)  # fmt: skip
def test_an_answer_that_was_put_in_becomes_dots_again(source, left):
    (found,) = looked_at([cell(source)])
    assert (found.role, found.source) == ("answer", left)


def roles(*cells):
    return [each.role for each in looked_at(cells)]


def test_what_is_made_for_the_teacher_takes_along_what_is_made_of_it():
    assert roles(
        cell("import mosaickit as mk"),
        cell("lamp = 1\nshared = 1"),
        cell("solved = lamp + 1\nshared = 2\nkeep = solved", ["solution"]),
        cell("print(solved)"),
        cell("again = solved + 1"),
        cell("print(again)"),
        cell("print(lamp, shared)"),  # which learners have as well
        cell("solved = 5\nprint(solved)"),  # another one
        cell("print(solved)"),
        cell("one = mk.lessons.exercise('x')"),
        cell("part = mk.lessons.this_number(39)"),
        cell("L = mk.lessons"),
        cell("from mosaickit.lessons import this_number"),
        cell("given = mk.lessons.given('x.1')"),
        cell("print(one"),  # no Python, but the name stands in it
        cell("Text", ["teacher"], "markdown"),
    ) == ["open", "open", "solution", "teacher", "teacher", "teacher", "open", "open", "open", "teacher", "teacher",
          "teacher", "teacher", "open", "teacher", "teacher"]  # fmt: skip


def test_an_import_that_learners_would_miss_is_named():
    with pytest.raises(NotebookError, match="Cell 2 uses np, which only cell 1 imports"):
        looked_at([cell("import numpy as np\nsolved = np.ones(3)", ["solution"]), cell("print(np.zeros(3))")])


def educators_with(change):
    notebook = educators.notebook()
    change(notebook.cells)
    nbformat.write(notebook, "lanterns.ipynb")
    Path("out").mkdir(exist_ok=True)
    return mk.lessons.handout("lanterns.ipynb", "out/lanterns.ipynb")


def test_a_handout_that_still_shows_a_solution_is_not_written(here):
    def in_words(cells):
        cells[4].source += "\n\n```\n" + MENDED.to_text() + "\n```"

    def in_code(cells):
        rows = "\\n".join(MENDED.to_text().split("\n"))
        cells[5].source += f'\nprint("{rows}")'

    for change, number in ((in_words, 5), (in_code, 6)):
        with pytest.raises(NotebookError, match=f"Cell {number} of 'lanterns.ipynb' still shows a solution") as caught:
            educators_with(change)
        assert caught.value.cell == number
        assert list(Path("out").iterdir()) == []


def test_a_handout_says_what_keeps_it_from_being_made(here):
    def made_here(cells):
        cells[7].source = "stitches = ...\nmk.lessons.check(counting, stitches)"

    with pytest.raises(NotebookError, match=r"Cell 8 of 'lanterns\.ipynb' checks an exercise that is in no file"):
        educators_with(made_here)
    nbformat.write(educators.notebook(), "lanterns.ipynb")
    for path, says in [
        ("x.ipynb", "another folder"),
        ("lanterns.ipynb", "another file"),
        ("x.pdf", r"\.html or \.ipynb"),
    ]:
        with pytest.raises(OptionError, match=says):
            mk.lessons.handout("lanterns.ipynb", path)
    with pytest.raises(NotebookError, match="was not run"):
        mk.lessons.handout("lanterns.ipynb", "x.html", run=False)
    Path("lanterns.lesson").unlink()
    with pytest.raises(FileError, match=r"lanterns\.lesson"):
        mk.lessons.handout("lanterns.ipynb", "out/x.ipynb")


def read_by_all(path):
    """The words of a page, or of a notebook's cells."""
    if path.endswith(".html"):
        return BeautifulSoup(Path(path).read_text("utf-8"), "html.parser").main.get_text(" ")
    return "\n".join(each.source for each in nbformat.read(path, 4).cells)


@pytest.mark.usefixtures("slow")
def test_of_one_notebook_come_a_handout_without_and_a_teachers_copy_with_the_solutions(here):
    (here / "out").mkdir()
    mk.lessons.handout("lanterns.ipynb", "handout.html")
    run = read(here / "lanterns.ipynb")
    execute(run, here / "lanterns.ipynb")
    nbformat.write(run, "lanterns.ipynb")
    solved = next(each for each in run.cells if "lessons.solution(" in each.source)
    mine = next(each for each in run.cells if 'title="Mine"' in each.source)  # drawn from what was put in as an answer
    pictures = [
        no_blanks(output.data["image/png"])
        for each in (solved, mine)
        for output in each.outputs
        if "image/png" in output.get("data", {})
    ]
    assert len(pictures) == 2
    mk.lessons.teachers_copy("lanterns.ipynb", "teacher.ipynb")
    mk.lessons.teachers_copy("lanterns.ipynb", "teacher.html")
    mk.lessons.handout("lanterns.ipynb", "handout.html")
    mk.lessons.handout("lanterns.ipynb", "out/handout.ipynb")
    squares = no_blanks(MENDED.to_text())
    for path, with_solutions in [("handout.html", False), ("out/handout.ipynb", False), ("teacher.html", True),
                                 ("teacher.ipynb", True)]:  # fmt: skip
        text = Path(path).read_text("utf-8")
        assert (squares in no_blanks(text)) == with_solutions, path
        assert [picture in no_blanks(text) for picture in pictures] == [with_solutions] * 2, path
        assert bool(re.search(r"\b39\b", read_by_all(path))) == with_solutions, path
        assert "five lanterns" in text
        assert (base64.b64encode(to_png(MENDED, 16)).decode("ascii") in text) == with_solutions, path
    page = Path("handout.html").read_text("utf-8")
    assert page.count("Your answer:") == 2
    assert "7 rows of 7 empty squares to fill in" in page
    assert "Name</span>" in page


def test_on_paper_there_is_room_for_a_motif_of_the_size_that_is_asked_for():
    of_any_size = mk.lessons.exercise(
        "a lamp", question="?", answer="a motif", parts=[mk.lessons.own_mirror()], given=LANTERN, solution=LANTERN
    )
    assert "20 rows of 20 empty squares" in room_for(of_any_size)
    assert "7 rows of 7 empty squares" in room_for(mk.lessons.EXERCISES["2.2"])
    assert "empty squares" not in room_for(mk.lessons.EXERCISES["2.1"])
    assert "empty squares" not in room_for(None)
    (address,) = re.findall(r"base64,([\w+/=]+)", room_for(mk.lessons.EXERCISES["2.2"]))
    svg = base64.b64decode(address).decode("ascii")
    assert svg.count("h210") == svg.count("v210") == 8  # lines around 7 squares of 30
    assert re.findall(r">(\d)<", svg) == list("12345671234567")


# ---- class sheets ------------------------------------------------------------------------------------------


def handed_in(who, *answers, outputs=None):
    """A learner's notebook in the folder of answers: cells by their source, with what is kept beside them."""
    Path("answers").mkdir(exist_ok=True)
    cells = []
    for number, source in enumerate(answers):
        made = nbformat.v4.new_code_cell(source, id=f"c{number}")
        if outputs and outputs[number] is not None:
            made.outputs = [nbformat.v4.new_output("display_data", data={ANSWER_MIME: outputs[number]})]
        cells.append(made)
    nbformat.write(nbformat.v4.new_notebook(cells=cells), f"answers/{who}.ipynb")


def kept(name, answer):
    return mk.lessons.check(name, answer)._repr_mimebundle_()[ANSWER_MIME]


ONE, TWO = 'mk.lessons.check("lanterns.1", a)', 'mk.lessons.check("lanterns.2", mine)'
PICTURE = 'mine = mk.Motif.from_text("""\n{}\n""")\n' + TWO


def test_a_class_sheet_says_of_everyone_how_far_they_are(here):
    handed_in("ada", f"a = 39\n{ONE}", PICTURE.format(MENDED.to_text()))
    handed_in("bo", f"a = 35.0\n{ONE}", PICTURE.format(LANTERN.to_text()))
    handed_in("cy", f"a = ...\n{ONE}")
    handed_in("dee", f"a = 5 * 7 + 4\n{ONE}", f"mine = painter.motif\n{TWO}",
              outputs=[kept("lanterns.1", 39), kept("lanterns.2", MENDED)])  # fmt: skip
    handed_in("eve", f"a = counted()\n{ONE}", outputs=[kept("lanterns.1", 35) | {"ok": True}])
    handed_in("flo", f"a = counted()\n{ONE}", f"mine = drawn\n{TWO}")
    handed_in("gus", f"a = nothing_yet\n{ONE}", outputs=[kept("lanterns.1", ...)])
    notebook = nbformat.read("answers/gus.ipynb", 4)
    notebook.cells.append(
        nbformat.v4.new_code_cell('mk.lessons.check("lanterns.1", 39)', metadata={"tags": ["solution"]})
    )
    nbformat.write(notebook, "answers/gus.ipynb")
    sheet = mk.lessons.class_sheet("answers", lesson="lanterns.lesson")
    assert list(sheet.columns) == ["who", "exercise", "title", "state", "answer", "said"]
    states = sheet.pivot(index="who", columns="exercise", values="state").to_dict("index")
    assert states == {
        "ada": {"lanterns.1": "right", "lanterns.2": "right"},
        "bo": {"lanterns.1": "not yet", "lanterns.2": "not yet"},
        "cy": {"lanterns.1": "not answered", "lanterns.2": "not answered"},
        "dee": {"lanterns.1": "right", "lanterns.2": "right"},
        "eve": {"lanterns.1": "not yet", "lanterns.2": "not answered"},  # it says itself that it is right
        "flo": {"lanterns.1": "not looked at", "lanterns.2": "not looked at"},
        "gus": {"lanterns.1": "not answered", "lanterns.2": "not answered"},
    }
    said = {(line.who, line.exercise): line.said for line in sheet.itertuples()}
    assert said["bo", "lanterns.1"] == "Are the edge stitches in it?"
    assert said["bo", "lanterns.2"].startswith("It cannot be worked: look at row 2")
    assert said["cy", "lanterns.2"] == "The notebook has no cell that checks it."
    assert said["flo", "lanterns.1"].startswith("The cell was not run, or ")
    assert mk.lessons.class_sheet("answers").equals(sheet)


def test_no_line_of_a_learner_is_run(here):
    trap = "open('trap', 'w').close()"
    sources = [
        f"a = {trap}\n{ONE}",
        f"{trap}\na = 39\n{ONE}",
        f"a = (lambda: {trap})()\n{ONE}",
        f'mine = mk.Motif.from_text({trap})\n{TWO}',
        f'mk.lessons.check("lanterns.1", {trap})',
        f'mk.lessons.check("{{}}".format({trap}), 39)',
        f"!touch trap\n%run trap\na = 39\n{ONE}",
        f"@{trap}\ndef a(): pass\n{ONE}",
    ]  # fmt: skip
    for number, source in enumerate(sources):
        handed_in(f"l{number}", source, "import os; os._exit(3)")
    sheet = mk.lessons.class_sheet("answers")
    assert len(sheet) >= len(sources)
    assert not list(here.rglob("trap"))


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda path: path.write_bytes(b""), "is no notebook|damaged|not JSON"),
        (lambda path: path.write_bytes(b"\xff\xfe"), "it is not UTF-8 text"),
        (lambda path: path.write_text("[" * 100_000), "."),
        (lambda path: path.write_text("{}"), "does not say its `nbformat`"),
        (lambda path: path.write_text(path.read_text().replace('"code"', '"coda"')), "is a damaged notebook"),
        (lambda path: path.write_bytes(path.read_bytes()[:-40]), "is no notebook"),
        (lambda path: (path.unlink(), path.mkdir()), "could not be read|is no notebook|cannot be read"),
    ],
)
def test_a_damaged_notebook_is_a_line_and_stops_no_one(here, spoil, says):
    handed_in("ada", f"a = 39\n{ONE}")
    handed_in("bo", f"a = 39\n{ONE}")
    spoil(Path("answers/bo.ipynb"))
    sheet = mk.lessons.class_sheet("answers", lesson="lanterns.lesson")
    (line,) = sheet[sheet.who == "bo"].itertuples()
    assert line.state == "not looked at"
    assert re.search(says, line.said)
    assert list(sheet[sheet.who == "ada"].state) == ["right", "not answered"]


@pytest.mark.parametrize(
    "output",
    [
        "text", [], {}, {"exercise": "lanterns.1"}, {"exercise": "lanterns.1", "ok": True, "answer": {"kind": "motif"}},
        {"exercise": "lanterns.1", "ok": True, "answer": {"kind": "motif", "value": {"rows": ["..", "#"]}}},
        {"exercise": "lanterns.1", "ok": True, "answer": {"kind": "plain", "value": {"a": 1}}},
        {"exercise": "lanterns.1", "ok": True, "answer": {"kind": "code", "value": "39"}},
        {"exercise": "lanterns.1", "ok": True, "answer": None}, {"exercise": "lanterns.2", "ok": True, "answer": None},
    ],
)  # fmt: skip
def test_a_lying_notebook_is_not_believed(here, output):
    handed_in("ada", f"a = counted()\n{ONE}", outputs=[output])
    (line,) = mk.lessons.class_sheet("answers").itertuples()
    assert line.state == "not looked at"
    assert line.said.endswith(".")


def test_an_answer_that_is_a_function_is_not_looked_at(here):
    handed_in("ada", 'def f(column):\n    return True\n\nmk.lessons.check("2.3", f)')
    handed_in("bo", 'mk.lessons.check("2.3", lambda column: True)', outputs=[kept("2.3", len)])
    sheet = mk.lessons.class_sheet("answers", lesson=2)
    assert list(sheet[sheet.exercise == "2.3"].state) == ["not looked at"] * 2
    assert "function" in " ".join(sheet[sheet.exercise == "2.3"].said)


def test_every_solution_of_the_course_that_is_no_function_is_found_right_in_a_sheet(here):
    for path in COURSE[:4]:
        names = {}
        for each in nbformat.read(path, 4).cells:
            if {"solution", "needed"} & set(each.metadata.get("tags", [])):
                exec(compile(each.source, path.name, "exec"), names)
        answers = {
            name.removeprefix("solution_").replace("_", "."): names[name] for name in names if "solution_" in name
        }
        sources = [f'mk.lessons.check("{name}", made_somewhere)' for name in answers]
        handed_in(path.stem, *sources, outputs=[kept(name, answer) for name, answer in answers.items()])
        sheet = mk.lessons.class_sheet("answers", lesson=int(path.name[:2]))
        expected = ["not looked at" if callable(answer) else "right" for answer in answers.values()]
        assert list(sheet[sheet.who == path.stem].state) == expected


def test_a_class_sheet_is_saved_as_any_table(here):
    handed_in("ada", f"a = '=1+1'\n{ONE}")
    sheet = mk.lessons.class_sheet("answers")
    mk.tables.save_table(sheet, "class.csv", design="Lanterns")
    mk.tables.save_table(sheet, "class.xlsx", design="Lanterns")
    for back in (pd.read_csv("class.csv", index_col=0), pd.read_excel("class.xlsx", index_col=0)):
        assert back.fillna("").astype(str).equals(sheet.astype(str))
    assert sheet.answer[0] == "'=1+1'"


def test_a_folder_without_notebooks_and_a_lesson_that_there_is_not_are_refused(here):
    Path("answers").mkdir()
    for options, says in [
        ({"folder": "nowhere"}, "there is no folder 'nowhere'"),
        ({"folder": "answers"}, "There is no notebook in the folder 'answers'"),
        ({"folder": ".", "lesson": 13}, "`lesson` must be from 1 to 12"),
        ({"folder": ".", "lesson": True}, "`lesson` must be from 1 to 12"),
        ({"folder": ".", "lesson": 1.5}, "`lesson` must be a number from 1 to 12, or a path"),
    ]:
        with pytest.raises(OptionError, match=re.escape(says)):
            mk.lessons.class_sheet(**options)
    handed_in("ada", 'mk.lessons.check("moths.1", 3)')
    (line,) = mk.lessons.class_sheet("answers").itertuples()
    assert (line.state, "moths.lesson" in line.said) == ("not looked at", True)
