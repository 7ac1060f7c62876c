"""The lessons: every hidden solution is right, every part of every exercise can be missed, and no feedback tells.

The notebooks themselves run where they are shared, in test_share_offline.py; here their cells are read and their
answers given to the checks.
"""

import inspect
import re
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import MagicMock

import matplotlib.pyplot as plt
import nbformat
import numpy as np
import pytest
import wrong_answers_1_to_4
import wrong_answers_5_to_8
import wrong_answers_9_to_12

import mosaickit as mk
from mosaickit.errors import OptionError
from mosaickit.lessons import repeats
from mosaickit.lessons.exercises import UNANSWERED

FOLDER = Path(__file__).parents[1] / "notebooks" / "lessons"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))[:12]  # the thirteenth shows how to make a lesson
WRONG = wrong_answers_1_to_4.WRONG | wrong_answers_5_to_8.WRONG | wrong_answers_9_to_12.WRONG
PARTS = [(name, number) for name, exercise in mk.lessons.EXERCISES.items() for number in range(len(exercise.parts))]
ODD_THINGS = [
    None, True, 0, -1, 3.5, float("nan"), float("inf"), 10**400, 1j, "", "no", b"#", [], [()], [(1,)], [("a", "b")],
    {}, object(), np.array([]), np.zeros((2, 2)), np.float64("nan"), Exception, mk.Motif.from_text("#"),
    mk.Motif.from_text("..\n##\n.."), mk.compile_chart(mk.Motif.from_text("...")), lambda: None, lambda *_: 1 / 0,
    iter([1]), np.array(5), (1 // n for n in (1, 0)),
]  # fmt: skip


def cells(path):
    return nbformat.read(path, as_version=4).cells


def has_tag(cell, tag):
    return tag in cell.metadata.get("tags", [])


@pytest.fixture(scope="module")
def solutions():
    """The hidden answers, by exercise, as the notebooks make them."""
    found = {}
    for path in NOTEBOOKS:
        names = {}
        for cell in cells(path):
            if cell.cell_type == "code" and (has_tag(cell, "solution") or has_tag(cell, "needed")):
                exec(compile(cell.source, path.name, "exec"), names)
        found |= {name: value for name, value in names.items() if re.fullmatch(r"solution_\d+_\d", name)}
    return {name.removeprefix("solution_").replace("_", "."): value for name, value in found.items()}


def test_there_are_twelve_lessons_of_three_exercises_each_with_a_notebook_of_its_number():
    assert [len(lesson.exercises) for lesson in mk.lessons.COURSE] == [3] * 12
    assert [path.name[:3] for path in NOTEBOOKS] == [f"{number:02}-" for number in range(1, 13)]
    for number, (lesson, path) in enumerate(zip(mk.lessons.COURSE, NOTEBOOKS, strict=True), 1):
        assert cells(path)[0].source.startswith(f"# Lesson {number}: {lesson.title}\n")


@pytest.mark.parametrize("number", range(len(NOTEBOOKS)), ids=lambda number: NOTEBOOKS[number].stem)
def test_a_lesson_leads_to_the_one_before_and_to_the_next(number):
    def link(path):
        return f"[{cells(path)[0].source.partition(chr(10))[0].removeprefix('# ')}]({path.name})"

    before = [f"Before this: {link(path)}." for path in NOTEBOOKS[:number][-1:]]
    after = [f"Next: {link(path)}." for path in NOTEBOOKS[number + 1 :][:1]]
    texts = [cell.source for cell in cells(NOTEBOOKS[number]) if cell.cell_type == "markdown"]
    assert texts[-1].splitlines()[-1] == " ".join(before + after)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_lesson_has_figures_a_widget_three_questions_and_ends_in_asserts(path):
    number = int(path.name[:2])
    code = [cell for cell in cells(path) if cell.cell_type == "code"]
    open_code = "\n".join(cell.source for cell in code if not has_tag(cell, "solution"))
    assert len(re.findall(r"plt\.show\(\)", open_code)) >= 2
    assert re.search(r"mk\.widgets\.\w+\(", open_code)
    for exercise in (1, 2, 3):
        name = f"{number}.{exercise}"
        asked = [cell for cell in code if f'mk.lessons.check("{name}", ' in cell.source and "= ..." in cell.source]
        assert len(asked) == 1, name
        after = code[code.index(asked[0]) + 1]
        assert has_tag(after, "solution"), name
        assert after.metadata["jupyter"]["source_hidden"] is True, name
        assert f'assert mk.lessons.check("{name}", solution_{number}_{exercise}).ok' in after.source
    assert code[-1].source.count("assert ") >= 2
    assert all(not cell.outputs and cell.execution_count is None for cell in code)


def test_every_exercise_is_solved_by_its_hidden_solution(solutions):
    assert set(solutions) == set(mk.lessons.EXERCISES)
    wrong = [mk.lessons.check(name, answer) for name, answer in solutions.items()]
    assert [str(feedback) for feedback in wrong if not feedback.ok] == []


@pytest.mark.parametrize("name", mk.lessons.EXERCISES)
def test_dots_are_no_answer(name):
    feedback = mk.lessons.check(name, ...)
    assert (feedback.ok, feedback.missing) == (False, (UNANSWERED,))


@pytest.mark.parametrize("name", mk.lessons.EXERCISES)
def test_whatever_is_given_is_answered_in_sentences(name):
    for thing in ODD_THINGS:
        feedback = mk.lessons.check(name, thing)
        assert feedback.faults == ()
        for sentence in feedback.right + feedback.missing:
            assert re.fullmatch(r"[A-Z0-9`].*[.!?)]", sentence, re.DOTALL), sentence


@pytest.mark.parametrize(("name", "number"), PARTS)
def test_each_part_of_an_exercise_can_be_missed(name, number):
    """By one of the wrong answers, and looked at: no part before it ended the looking."""
    exercise, parts = mk.lessons.EXERCISES[name], mk.lessons.EXERCISES[name].parts
    for answer, _ in WRONG[name]:
        try:
            exercise.read(answer)
        except mk.errors.MosaickitError:
            continue
        feedback = mk.lessons.check(name, answer)
        needed = {part.right for part in parts[:number] if part.needed}
        if feedback.missing and parts[number].right not in feedback.right and needed <= set(feedback.right):
            return
    pytest.fail(f"No wrong answer misses {parts[number].right!r}")


@pytest.mark.parametrize(("name", "answer", "says"), [(n, a, s) for n, pairs in WRONG.items() for a, s in pairs])
def test_a_wrong_answer_hears_what_is_missing_and_where(name, answer, says):
    feedback = mk.lessons.check(name, answer)
    assert not feedback.ok
    assert any(says in sentence for sentence in feedback.missing), str(feedback)


def test_no_feedback_on_a_wrong_answer_tells_the_answer(solutions):
    for name, pairs in WRONG.items():
        told = " ".join(sentence for answer, _ in pairs for sentence in mk.lessons.check(name, answer).missing)
        for word in spoken(solutions[name]):
            assert not re.search(rf"(?<![\w.]){re.escape(word)}(?![\w.]*\w)", told), (name, word, told)


def spoken(answer):
    """How a feedback could say an answer outright: a number, a text of a picture, a square."""
    if isinstance(answer, mk.Motif | mk.Chart):
        return [answer.to_text()]
    if isinstance(answer, bool | np.bool_):
        return []
    if isinstance(answer, int | float):
        return [f"{answer:g}"] if abs(answer) > 12 else []  # smaller ones also number rows
    if isinstance(answer, list | set | frozenset | tuple):
        return [f"row {each[0]}, stitch {each[1]}" for each in answer if isinstance(each, tuple) and len(each) == 2]
    return []


# ---- what no exercise may do -------------------------------------------------------------------------------


NOTHING = [[], (), set(), frozenset(), "", {}, np.array([]), np.zeros((0, 2)), iter(())]


@pytest.mark.parametrize("name", mk.lessons.EXERCISES)
def test_an_answer_with_nothing_in_it_is_right_in_nothing(name):
    for nothing in NOTHING:
        feedback = mk.lessons.check(name, nothing)
        assert (feedback.right, feedback.ok) == ((), False), str(feedback)


@pytest.mark.parametrize("name", mk.lessons.EXERCISES)
def test_what_was_given_is_not_praised_for_how_little_it_changes(name):
    given = mk.lessons.given(name)
    for thing in given.values() if isinstance(given, dict) else [given]:
        praised = " ".join(mk.lessons.check(name, thing).right)
        assert "changes no more" not in praised
        if isinstance(thing, mk.Chart) and name == "10.3":
            assert "The front looks as charted." not in praised


def test_no_praise_for_flaws_that_a_blank_answer_has_no_room_for():
    blank = mk.Motif.from_text("......\n######\n......\n######\n......\n######")
    assert not any("FLdc" in said for said in mk.lessons.check("11.3", blank).right)
    strip = mk.lessons.given("3.3")
    assert not any("FLdc" in said for said in mk.lessons.check("3.3", strip).right)
    moon = mk.lessons.given("4.2")
    plain = mk.Chart.from_text("\n".join(["." * moon.shape[1]] * moon.shape[0]), moon.first)
    assert "No back loop is open." not in mk.lessons.check("4.2", plain).right


def test_right_so_far_is_said_of_no_answer_that_has_something_wrong_in_it(solutions):
    """Nor of one in which one thing is right and another wrong, of every exercise that is answered by a list."""
    lists = {name: list(answer) for name, answer in solutions.items() if isinstance(answer, list | set | tuple)}
    assert len(lists) >= 9
    for name, right in lists.items():
        spoilt = [[*right[:1], wrong] for wrong in (*range(7), (1, 1), (2, 2), "sc", "FLdc") if wrong not in right]
        for answer in [*spoilt, *(wrong for wrong, _ in WRONG[name])]:
            missing = mk.lessons.check(name, answer).missing
            assert len(missing) == 1 or not any("Right so far" in said for said in missing), (name, answer, missing)


def in_other_numbers(answer, kind):
    """The same answer with its whole numbers written otherwise, and how many they are."""
    if isinstance(answer, int | np.integer) and not isinstance(answer, bool):
        return kind(int(answer)), 1
    if isinstance(answer, list | tuple | set | frozenset):
        pairs = [in_other_numbers(each, kind) for each in answer]
        return [each for each, _ in pairs], sum(count for _, count in pairs)
    return answer, 0


@pytest.mark.parametrize("kind", [float, np.float64, np.float32, np.int16, Fraction, Decimal])
def test_a_whole_number_is_one_however_it_is_written(solutions, kind):
    meant = {name: in_other_numbers(answer, kind) for name, answer in solutions.items()}
    meant = {name: answer for name, (answer, count) in meant.items() if count}
    assert {"1.2", "3.1", "6.1", "6.2", "7.1", "9.1", "11.1", "11.2"} <= set(meant)
    assert [
        str(mk.lessons.check(name, each)) for name, each in meant.items() if not mk.lessons.check(name, each).ok
    ] == []


@pytest.mark.parametrize("odd", [51.5, float("nan"), float("inf"), Decimal("NaN"), Decimal("Infinity"), Fraction(1, 3)])
def test_what_is_no_whole_number_is_refused_as_such(odd):
    assert "should be a whole number" in mk.lessons.check("11.1", odd).missing[0]


def wreck(thing, seen):
    """Change whatever can be changed in a thing, however deep."""
    if id(thing) in seen:
        return
    seen[id(thing)] = thing
    inner = list(thing.values()) if isinstance(thing, dict) else list(getattr(thing, "__dict__", {}).values())
    inner += list(thing) if isinstance(thing, list | tuple) else []
    if type(thing).__module__.startswith("mosaickit"):  # what is worked out on the way is kept in it, too
        for name in dir(type(thing)):
            if isinstance(getattr(type(thing), name, None), cached_property):
                inner.append(getattr(thing, name))
    for each in inner:
        wreck(each, seen)
    if isinstance(thing, np.ndarray) and thing.flags.writeable and thing.dtype != object:
        thing[...] = 0 if thing.any() else 1
    if isinstance(thing, dict | list):
        thing.clear()


def test_what_a_learner_does_to_what_is_given_changes_no_check(solutions):
    before = {name: str(mk.lessons.given(name)) for name in solutions}
    for name in solutions:
        wreck(mk.lessons.given(name), {})
    assert {name: str(mk.lessons.given(name)) for name in solutions} == before
    assert [name for name, answer in solutions.items() if not mk.lessons.check(name, answer).ok] == []
    picture = mk.lessons.given("1.1").grid
    with pytest.raises(ValueError, match="read-only"):
        picture[0, 0] = True


@pytest.mark.parametrize("name", mk.lessons.EXERCISES)
def test_of_a_list_without_an_end_no_more_is_taken_than_an_answer_may_have(name):
    for thing in (1, (1, 1), "sc", "plum"):
        taken = count()
        mk.lessons.check(name, (thing for _ in taken))
        assert next(taken) <= 1002


def test_a_thousand_numbers_take_no_longer_than_seven(monkeypatch):
    laid = []
    real = repeats.repeat
    monkeypatch.setattr(repeats, "repeat", lambda *args, **options: laid.append(args) or real(*args, **options))
    repeats._upper_lamp_is_dark.cache_clear()
    assert "There are 2 more to find." in mk.lessons.check("6.1", [1, 2] * 500).missing
    assert len(laid) <= 7


def shown(thing):
    """The pictures in what is drawn, as bytes of their squares."""
    if isinstance(thing, mk.Motif):
        return {(thing.shape, thing.grid.tobytes())}
    if isinstance(thing, dict):
        return set().union(*map(shown, thing.values()))
    if isinstance(thing, list | tuple):
        return set().union(*map(shown, thing))
    if isinstance(thing, mk.Chart):
        return {(thing.shape, thing.stitches.tobytes())} | _shown_front(thing)
    return {(thing.front.shape, thing.front.tobytes())} if hasattr(thing, "front") else set()


def _shown_front(chart):
    try:
        return shown(mk.work(chart))
    except mk.errors.MosaickitError:
        return set()


@pytest.mark.thorough
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_no_cell_draws_a_solution_of_its_lesson_unasked(path, monkeypatch):
    drawn, at = [], [""]

    def recording(*things, **options):
        drawn.extend((at[0], picture) for picture in shown([*things, *options.values()]))
        return options.get("ax") or plt.gca()

    for name in mk.draw.__all__:
        if inspect.isfunction(getattr(mk.draw, name)):
            monkeypatch.setattr(mk.draw, name, recording)
    for name in mk.widgets.__all__:
        if isinstance(getattr(mk.widgets, name), type):
            monkeypatch.setattr(mk.widgets, name, MagicMock())
    names = {"display": lambda *things: None}
    for cell in cells(path):
        if cell.cell_type != "code" or cell.id == "what-was-shown":
            continue
        at[0] = cell.id
        exec(compile(re.sub(r"^%.*", "", cell.source, flags=re.MULTILINE), path.name, "exec"), names)
        plt.close("all")
    for each in names.values():
        if isinstance(each, TemporaryDirectory):
            each.cleanup()
    solved = {name: value for name, value in names.items() if re.fullmatch(r"solution_\d+_\d", name)}
    pictures = {name: value for name, value in solved.items() if isinstance(value, mk.Motif | mk.Chart)}
    assert drawn or path.stem.startswith(("07", "12"))  # which draw by other means
    assert {
        (name, cell)
        for name, value in pictures.items()
        for cell, picture in drawn
        if picture == (value.shape, (value.grid if isinstance(value, mk.Motif) else value.stitches).tobytes())
    } == set()


def test_an_exercise_that_there_is_not_is_refused():
    for name in ("13.1", "", None, 1.1):
        with pytest.raises(OptionError, match=r"There is no exercise .*'1\.1' to '12\.3'"):
            mk.lessons.check(name, 1)


def test_a_part_that_the_others_need_ends_the_looking():
    exercise = mk.lessons.Exercise(
        "parts", lambda answer: answer, (
            mk.lessons.AnswerPart("It is above 2.", lambda n: None if n > 2 else "It is 2 or less.", needed=True),
            mk.lessons.AnswerPart("It is even.", lambda value: "It is odd." if value % 2 else None),
        ), because="So it is.",
    )  # fmt: skip
    assert exercise.look_at(1, "0.1").missing == ("It is 2 or less.", "The rest is looked at when this is right.")
    assert exercise.look_at(3, "0.1").right == ("It is above 2.",)
    assert str(exercise.look_at(4, "0.1")).endswith("  right: It is even.\n  So it is.")


def test_what_a_learner_wrote_is_shown_as_text():
    assert "&lt;b&gt;" in mk.lessons.check("1.1", "<b>")._repr_html_()


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.ipynb")), ids=lambda path: path.stem)
def test_what_a_lesson_says_is_true_of_its_handout_on_paper(path):
    """Which has no cells below and above one another: code and what is hidden are not there."""
    texts = [cell.source for cell in cells(path) if cell.cell_type == "markdown"]
    assert [said for text in texts for said in re.findall(r"\b[Tt]he\s+cells?\s+(?:below|above)\b", text)] == []
