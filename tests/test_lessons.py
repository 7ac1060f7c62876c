"""The lessons: every hidden solution is right, every part of every exercise can be missed, and no feedback tells.

The notebooks themselves run under nbval; here their cells are read and their answers given to the checks.
"""

import re
from pathlib import Path

import nbformat
import numpy as np
import pytest
import wrong_answers_1_to_4
import wrong_answers_5_to_8
import wrong_answers_9_to_12

import mosaickit as mk
from mosaickit.errors import OptionError
from mosaickit.lessons.exercises import UNANSWERED

FOLDER = Path(__file__).parents[1] / "notebooks" / "lessons"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))
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
