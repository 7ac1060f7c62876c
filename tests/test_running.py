"""How the tests themselves are run: nothing is left out, skipped or put in another order without its being said."""

import re
import shutil
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
FIXTURES = """
import pytest

@pytest.fixture(scope="session")
def slow(): ...

@pytest.fixture
def browser(slow): ...

@pytest.fixture
def lab(slow): ...
"""
TESTS = """
import pytest
def test_at_once(): ...
def test_on_a_page(browser): ...
def test_in_a_notebook(lab, browser): ...
def test_of_a_cluster(slow): ...
@pytest.mark.thorough
def test_all_there_are(): ...
"""


@pytest.fixture
def run(pytester, monkeypatch):
    """Run pytest on some files with the conftest.py that all tests here are run with; gives what it says."""
    monkeypatch.delenv("CI", raising=False)
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")  # starts sooner
    shutil.copy(ROOT / "conftest.py", pytester.path)

    def it(*options, **files):
        (pytester.path / "tests").mkdir(exist_ok=True)
        # what it loads, with nothing behind
        (pytester.path / "browsers.py").write_text(FIXTURES, "utf-8")
        (pytester.path / "kernels.py").touch()
        for name, text in files.items():
            (pytester.path / "tests" / f"{name}.py").write_text(text, "utf-8")
        return pytester.runpytest_subprocess("tests", "--import-mode=importlib", *options)

    return it


@pytest.mark.thorough
@pytest.mark.parametrize("workers", [(), ("-p", "xdist", "-n", "2", "--dist", "loadfile")])
def test_quick_says_what_it_leaves_out_and_how_many(run, workers):
    files = {"test_some": TESTS, "test_drawing_kernel": "def test_killed(): ..."}
    run(*workers, **files).assert_outcomes(passed=6)
    quick = run("--quick", *workers, **files)
    assert quick.ret == 0
    parts = "in a browser: 1, in a lab: 1, other slow ones: 1, that try very much: 1, with kernels that are killed: 1"
    quick.stdout.fnmatch_lines([f"--quick left out 5 tests ({parts}).", "*1 passed*"])
    run("--quick", *workers, test_some=TESTS, test_drawing_kernel="").stdout.fnmatch_lines(["--quick left out 4 *"])


def test_a_test_that_starts_a_kernel_unsaid_fails(run):
    start = "import subprocess, sys\nsubprocess.run([sys.executable, '-c', '0', 'ipykernel'], check=True)"
    unsaid = run(test_some=f"def test_it():\n    exec({start!r})")
    unsaid.assert_outcomes(failed=1)
    unsaid.stdout.fnmatch_lines(
        ["*test_it starts ipykernel: ask for the fixture `slow`, so that --quick leaves it out."]
    )
    run(test_some=f"def test_it(slow):\n    exec({start!r})").assert_outcomes(passed=1)


@pytest.mark.thorough
def test_shuffle_puts_files_and_their_tests_in_an_order_by_its_seed(run):
    text = "import pytest\n@pytest.fixture(scope='module')\ndef once(): print('made')\n"
    text += "".join(f"def test_{letter}(once): ...\n" for letter in "abcdefgh")
    files = {"test_one": text, "test_two": text}

    def order(*options):
        said = run("-v", "-s", *options, **files).stdout.str()
        assert said.count("made") == 2
        found = re.findall(r"test_(one|two)\.py::test_(\w)", said)
        assert len(set(found)) == 16
        names = [name for name, _ in found]
        assert names in ([*["one"] * 8, *["two"] * 8], [*["two"] * 8, *["one"] * 8])
        return found

    assert order("--shuffle", "7") == order("--shuffle", "7") != order("--shuffle", "8") != order()


def test_in_ci_a_skip_is_counted_and_fails(run, monkeypatch):
    files = {"test_some": "import pytest\ndef test_a(): pytest.skip('no browser')\ndef test_b(): ..."}
    assert run(**files).ret == 0
    monkeypatch.setenv("CI", "true")
    skipped = run(**files)
    assert skipped.ret == 1
    skipped.stdout.fnmatch_lines(["Skipped in CI, where nothing may be: 1."])
    assert run(test_some="def test_b(): ...").ret == 0


def test_what_a_failing_test_writes_over_and_over_is_read_once(run):
    said = run(
        test_some="def test_it():\n    for n in range(300): print('kernel', n, 'is gone')\n    assert 6 * 7 == 41"
    )
    said.stdout.fnmatch_lines(
        [
            "*test_it failed in its call. E*assert (6 * 7) == 41",
            "kernel 0 is gone  (×300)",
            "FAILED *test_it - assert (6 * 7) == 41",
            "*1 failed*",
        ]
    )
    assert len(said.outlines) < 31


@pytest.mark.thorough
@pytest.mark.parametrize("hangs", ["test", "what follows a test that failed"])
def test_what_hangs_is_told_by_name_and_ends(run, hangs):
    hang = "__import__('threading').Event().wait()"
    inside, after = (hang, "") if hangs == "test" else ("assert False", hang)
    text = f"import pytest\n@pytest.fixture\ndef door():\n    yield\n    {after}\ndef test_it(door):\n    {inside}\n"
    bound = ("-o", "faulthandler_timeout=1", "-o", "faulthandler_exit_on_timeout=true")
    said = run(*bound, "-p", "xdist", "-n", "1", "--max-worker-restart", "0", test_some=text)
    assert said.ret
    said.stderr.fnmatch_lines(["Timeout (0:00:01)!", f'*test_some.py", line {7 if hangs == "test" else 5} in *'])
    said.stdout.fnmatch_lines(["worker 'gw0' crashed while running 'tests/test_some.py::test_it'"])
