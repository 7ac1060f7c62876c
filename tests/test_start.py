"""start.py and what starts it by a double click: what a newcomer sees, and what is said if something fails.

start.bat was never tried on Windows. It is read here by `batch_files`, which knows what is published of its commands.
What that cannot tell: whether a double click opens a window, what a real py launcher and the Store's stand-in for
Python answer beyond their numbers, a drive letter that a network gives, and how the console shows what start.py says.
"""

import ast
import importlib.util
import json
import os
import shutil
import socket
import subprocess
import sys
from pathlib import Path

import pytest
from batch_files import Batch
from lab import answers, idle, stop, wait_until

ROOT = Path(__file__).parent.parent
SECRET = "a-token-of-this-test"


@pytest.fixture
def start(tmp_path):
    """start.py in a folder of its own, whose name has a space and an apostrophe."""
    folder = tmp_path / "maker's folder"
    folder.mkdir()
    for name in ("start.py", "start.command", "requirements.lock", "pyproject.toml"):
        shutil.copy(ROOT / name, folder)
    spec = importlib.util.spec_from_file_location("start_of_a_copy", folder / "start.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def steps(start, monkeypatch):
    """The steps of the set-up, noted and not done; `fault` stops the one of that number."""
    noted = []

    def step(command, environment):
        noted.append(command)
        start.VENV.mkdir(exist_ok=True)
        if len(noted) == step.stops_at:
            raise step.fault

    step.stops_at, step.noted = None, noted
    monkeypatch.setattr(start, "step", step)
    monkeypatch.setattr(start, "run", lambda arguments, more=None, folder=None: 0)
    return step


def test_a_newcomer_sees_each_step(start, steps, capsys):
    assert start.main(["run", "x.py"]) == 0
    said = capsys.readouterr().out
    assert [line.split(": ")[0].strip() for line in said.replace("  ", "\n").splitlines() if " of 4" in line] == [
        f"{number} of 4" for number in (1, 2, 3, 4)
    ]
    assert said.startswith("Setting up mosaickit in the folder .venv. This is done once")
    assert start.main(["run", "x.py"]) == 0
    assert len(steps.noted) == 4, "it is set up once"
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("stops_at", [1, 3, 4])
def test_an_interrupted_set_up_is_begun_afresh(stops_at, start, steps, capsys):
    assert start.main(["run", "x.py"]) == 0
    start.LOCK.write_text("another version\n", "utf-8")
    before = len(steps.noted)
    steps.stops_at, steps.fault = before + stops_at, KeyboardInterrupt()
    assert start.main(["run", "x.py"]) == 130
    assert "Setting up was interrupted. Start again when you like" in capsys.readouterr().out
    # the environment that was ready for the lock as it was is not taken for whole
    shutil.copy(ROOT / "requirements.lock", start.LOCK)
    steps.stops_at = None
    assert start.main(["run", "x.py"]) == 0
    assert len(steps.noted) == before + stops_at + 4
    assert "--clear" in steps.noted[-4]


@pytest.mark.parametrize(
    ("said", "cure"),
    [
        # as pip and uv say it
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "The disk is full"),
        ("OSError: [WinError 112] There is not enough space on the disk", "The disk is full"),
        ("WARNING: Retrying (Retry(total=0)) after connection broken by 'x'\nERROR: No matching", "The internet could"),
        ("error: Failed to fetch: `https://…`\n  Caused by: dns error: failed to lookup", "The internet could not"),
        (
            "The virtual environment was not created because ensurepip is not available.",
            "sudo apt install python3-venv",
        ),
        ("error: something no one foresaw", "    error: something no one foresaw\nSetting up stopped. The lines above"),
    ],
)
def test_a_set_up_that_stops_says_why_and_what_to_do(said, cure, start, capsys, monkeypatch):
    command = [sys.executable, "-c", f"import sys; print({said!r}); sys.exit(1)"]
    environment = {**os.environ, "PYTHONUTF8": "1"}
    with pytest.raises(start.SetUpError) as caught:
        start.step(command, environment)
    text = str(caught.value)
    assert cure in text
    assert text.endswith("Then start again: it begins afresh, and nothing has to be deleted.")
    monkeypatch.setattr(start, "set_up", lambda: start.step(command, environment))
    assert start.main([]) == 1
    assert text in capsys.readouterr().out


def test_a_disk_that_is_full_for_our_own_notes_is_said_too(start, steps, capsys, monkeypatch):
    steps.stops_at, steps.fault = 4, OSError(28, "No space left on device")
    assert start.main([]) == 1
    assert "The disk is full. mosaickit needs about 1.5 GB in " in capsys.readouterr().out


@pytest.mark.skipif(os.name == "nt", reason="a link to a folder needs rights there that a maker may lack")
def test_a_link_to_an_environment_elsewhere_is_left_alone(start, steps, tmp_path, capsys):
    other = tmp_path / "elsewhere"
    other.mkdir()
    (other / "kept").write_text("kept")
    start.VENV.symlink_to(other, target_is_directory=True)
    assert start.main(["run", "x.py"]) == 1
    assert "leads to another folder, which would be emptied. Delete that link" in capsys.readouterr().out
    assert (steps.noted, (other / "kept").read_text()) == ([], "kept")
    start.VENV.unlink()  # the cure
    assert start.main(["run", "x.py"]) == 0


def test_an_old_python_is_told_so(start, monkeypatch, capsys):
    ast.parse((ROOT / "start.py").read_text("utf-8"), feature_version=(3, 7))
    monkeypatch.setattr(sys, "version_info", (3, 10, 9))
    assert start.main([]) == 2
    assert "mosaickit needs Python 3.11 or newer" in capsys.readouterr().out


@pytest.fixture
def taken():
    """A port of another program."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


@pytest.mark.parametrize("found", [0, 1])
@pytest.mark.parametrize("failed", [0, 2])
def test_every_check_runs_and_types_beside_the_tests_speak_after_them(
    start, monkeypatch, capfd, tmp_path, found, failed
):
    monkeypatch.setattr(start, "PYTHON", sys.executable)
    begun = tmp_path / "begun"
    types = f"open({str(begun)!r}, 'w'); print('the types'); raise SystemExit({found})"
    tests = f"""import os, sys, time
for _ in range(12_000):  # so long only if types wait for the tests
    if os.path.exists({str(begun)!r}): break
    time.sleep(0.01)
else: sys.exit('the types were not begun')
print('the tests', sys.argv[2:]); raise SystemExit({failed})"""
    monkeypatch.setattr(start, "TYPES", ["-c", types])
    monkeypatch.setattr(start, "CHECKS", [["-c", tests, "pytest"]])
    assert start.check(["-k", "owl"]) == (1 if found or failed else 0)
    said = capfd.readouterr().out
    assert "the tests ['-k', 'owl']\n" in said
    assert said.index("the tests [") < said.index("\nthe types\n")
    assert ("Failed: " in said) == bool(found or failed)
    last = said.partition("Failed: ")[2]
    assert ("open(" in last, "import os" in last) == (bool(found), bool(failed))


@pytest.fixture
def opened(start, monkeypatch):
    """What JupyterLab would be started with: (arguments, more of the environment)."""
    calls = []
    monkeypatch.setattr(start, "run", lambda arguments, more=None: calls.append((arguments, more)) or 0)
    monkeypatch.setenv("JUPYTER_TOKEN", SECRET)
    return calls


def test_a_port_that_is_taken_is_said_and_another_is_found(start, opened, taken, monkeypatch, capsys):
    monkeypatch.setattr(start, "FIRST_PORT", taken)
    assert start.lab([]) == 0
    ((arguments, _),) = opened
    (port,) = (int(each.partition("=")[2]) for each in arguments if each.startswith("--ServerApp.port="))
    assert taken < port < taken + 50
    said = capsys.readouterr().out
    assert said.startswith(
        f"Port {taken} is taken, perhaps by a JupyterLab that is open already; this one is on {port}.\n"
    )
    assert f"If it does not, copy this address into one: http://127.0.0.1:{port}/lab/tree/notebooks/01-" in said


def test_a_port_that_was_asked_for_and_is_taken_stops_with_a_cure(start, opened, taken, capsys):
    assert start.lab([f"--port={taken}", "--no-browser"]) == 1
    assert opened == []
    assert (
        f"Port {taken} is taken by another program. Leave it out, and a free one is found:" in capsys.readouterr().out
    )
    assert start.lab(["--no-browser"]) == 0


def test_the_lab_opens_the_first_notebook_with_all_folders_and_no_question(
    start, opened, tab, monkeypatch, tmp_path, capsys
):
    shutil.copytree(
        ROOT / "notebooks", start.ROOT / "notebooks", ignore=shutil.ignore_patterns("made", ".ipynb_check*")
    )
    shutil.copytree(ROOT / "gallery" / "motifs", start.ROOT / "gallery" / "motifs")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        monkeypatch.setattr(start, "FIRST_PORT", probe.getsockname()[1])
    assert start.lab(["--no-browser", "--allow-root"]) == 0
    ((arguments, more),) = opened
    (address,) = (word for word in capsys.readouterr().out.split() if word.startswith("http://"))
    home = tmp_path / "home"
    home.mkdir()
    environment = {
        **os.environ,
        **more,
        "HOME": str(home),
        "USERPROFILE": str(home),
        "IPYTHONDIR": str(home / "ipython"),
    }
    asked = []
    with (tmp_path / "lab.log").open("w") as log:
        server = subprocess.Popen(
            [sys.executable, *arguments], cwd=start.ROOT, env=environment, stdout=log, stderr=subprocess.STDOUT
        )
    try:
        port = int(address.split(":")[2].split("/")[0])
        wait_until(lambda: answers(f"http://127.0.0.1:{port}", server, tmp_path / "lab.log"), "the lab does not answer")
        page = tab()
        page.on("request", lambda request: asked.append(request.url))
        page.goto(address)
        first = json.loads((start.ROOT / start.FIRST_NOTEBOOK).read_text("utf-8"))["cells"][0]["source"][0]
        page.wait_for_selector(
            f".jp-NotebookPanel .jp-Cell h1:has-text({json.dumps(first.removeprefix('# ').strip())})"
        )
        idle(page)
        # the question about news comes when the lab has been restored, as this request says
        # and the list goes into the notebook's folder and comes back before it stays
        page.wait_for_selector(".jp-DirListing-itemText:has-text('gallery')")
        listed = page.locator(".jp-DirListing-itemText").all_inner_texts()
        assert {"notebooks", "gallery"} <= set(listed)
        assert page.locator(".jp-Dialog, .Toastify__toast").count() == 0
        settings = page.evaluate(
            "async () => (await fetch('/lab/api/settings/@jupyterlab/apputils-extension:notification')).json()"
        )
        assert settings["schema"]["properties"]["fetchNews"]["default"] == "false"
        assert settings["schema"]["properties"]["checkForUpdates"]["default"] is False
    finally:
        stop(server)
    assert {url.split("/")[2] for url in asked if url.startswith("http")} == {f"127.0.0.1:{port}"}
    assert not list(home.glob(".jupyter")) + list(home.glob(".local/share/jupyter")), (
        "a Jupyter of one's own is untouched"
    )
    assert (start.ROOT / ".jupyter" / "data").is_dir()


def test_a_command_reads_and_writes_in_the_folder_where_it_was_called(start, monkeypatch, tmp_path, capfd):
    """Not in that of start.py: its name has a blank and letters that are not ASCII, and a file named as a module."""
    here = tmp_path / "Häkeln, Øre og más"
    here.mkdir()
    (here / "boat.txt").write_text("...\n#.#\n.#.\n###\n...\n", "utf-8")
    (here / "json.py").write_text("raise SystemExit('a file of the maker was taken for a module')\n", "utf-8")
    monkeypatch.chdir(here)
    monkeypatch.setattr(start, "set_up", lambda: None)
    monkeypatch.setattr(start, "PYTHON", sys.executable)
    assert start.main(["run", "-m", "mosaickit", "check", "boat.txt", "--mend", "mended boat.json"]) == 0
    said, wrong = capfd.readouterr()
    assert wrong == ""
    assert "boat.txt: 5 rows" in said
    assert (here / "mended boat.json").is_file()
    assert not (start.ROOT / "mended boat.json").exists()
    (here / "where.py").write_text("import os; print(os.getcwd())", "utf-8")
    assert start.main(["run", "where.py"]) == 0
    assert capfd.readouterr().out.strip() == str(here)


# ---- by a double click ---------------------------------------------------------------------------------------


@pytest.fixture
def click(start, tmp_path):
    """Start start.command from elsewhere, with only these programs to be found; gives its end and what it said."""
    if os.name == "nt":
        pytest.skip("start.command is for macOS and Linux; start.bat does it here.")
    programs = tmp_path / "programs"
    programs.mkdir()
    for name in ("dirname",):
        (programs / name).symlink_to(shutil.which(name))

    def clicked(**pythons):
        for name, script in pythons.items():
            file = programs / name.replace("_", ".")
            file.write_text(f"#!/bin/sh\n{script}\n", "utf-8")
            file.chmod(0o755)
        done = subprocess.run(
            [start.ROOT / "start.command"],
            env={"PATH": str(programs)},
            cwd=tmp_path,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=60,
        )
        return done.returncode, done.stdout

    return clicked


NEW, OLD = 'if [ "$1" = -c ]; then exit 0; fi; echo "$PWD: $@"; exit 7', "exit 1"


def test_a_double_click_starts_the_lab_in_its_own_folder(click, start):
    assert click(python3=NEW) == (7, f"{start.ROOT}: start.py\n")


def test_a_double_click_takes_the_python_that_is_new_enough(click, start):
    assert click(python3=OLD, python3_12=NEW)[0] == 7


@pytest.mark.parametrize("pythons", [{}, {"python3": OLD, "python": OLD}])
def test_a_double_click_without_a_python_that_will_do_says_so(pythons, click):
    ended, said = click(**pythons)
    assert ended == 2
    assert said.startswith("mosaickit needs Python 3.11 or newer, and none was found here. Install it from python.org")


def test_the_double_clicks_are_laid_out_for_their_systems():
    command, bat = ((ROOT / f"start.{kind}").read_bytes() for kind in ("command", "bat"))
    assert os.name == "nt" or os.access(ROOT / "start.command", os.X_OK)
    assert b"\r" not in command
    lines = bat.decode("ascii").split("\r\n")
    assert "\n" not in "".join(lines), "cmd.exe loses labels in files with bare line feeds"
    assert 'pushd "%~dp0" || goto nowhere' in lines
    assert lines.index(":failed") < lines.index("pause"), "the window stays open when it fails"
    sentence = next(line for line in lines if "none was found here" in line).removeprefix("echo ")
    assert sentence in command.decode("ascii")


# ---- start.bat ---------------------------------------------------------------------------------------------

BAT = (ROOT / "start.bat").read_bytes().decode("ascii")
HERE = "C:\\maker's folder & more!\\"


def program(*, asked=0, started=0):
    """A Python that answers the question for its version, and then start.py, with these numbers."""
    return lambda words: started if "start.py" in words else asked


def ran(batch):
    return [words for _, words in batch.ran if "start.py" in words]


@pytest.mark.parametrize(
    ("programs", "line"),
    [
        ({"py": program(), "python": program()}, "py -3 start.py"),
        ({"python": program()}, "python start.py"),
        ({"py": program(asked=1), "python": program()}, "python start.py"),  # the launcher has an older one
        ({"py": program(asked=103), "python": program()}, "python start.py"),  # the launcher has none
    ],
)
def test_a_double_click_on_windows_starts_with_the_python_that_is_new_enough(programs, line):
    batch = Batch(BAT, HERE, programs=programs)
    assert ran(batch) == [line]
    assert {folder for folder, _ in batch.ran} == {HERE}
    assert (batch.ended, batch.paused, batch.said, batch.pushed) == (0, 0, [], [])


@pytest.mark.parametrize("python", [None, program(asked=1), program(asked=9009)])  # the last is the shop's stand-in
def test_without_a_python_windows_says_so_and_keeps_the_window_open(python):
    batch = Batch(BAT, HERE, programs={} if python is None else {"python": python})
    assert ran(batch) == []
    assert (batch.ended, batch.paused, batch.pushed) == (1, 1, [])
    assert batch.said == [
        "mosaickit needs Python 3.11 or newer, and none was found here. Install it from python.org, then start again."
    ]


@pytest.mark.parametrize("number", [1, 2, 130, -1073741510])  # the last is what Windows gives for Ctrl C
def test_what_fails_on_windows_keeps_the_window_open(number):
    batch = Batch(BAT, HERE, programs={"py": program(started=number)})
    assert ran(batch) == ["py -3 start.py"]
    assert (batch.ended, batch.paused, batch.said, batch.pushed) == (1, 1, [], [])


def test_a_folder_of_a_network_is_gone_to_or_said_to_be_out_of_reach():
    place = "\\\\server\\crafts\\mosaickit\\"
    assert ran(Batch(BAT, place, programs={"py": program()})) == ["py -3 start.py"]
    batch = Batch(BAT, place, programs={"py": program()}, folders=set())
    assert (batch.ran, batch.ended, batch.paused, batch.pushed) == ([], 1, 1, [])
    assert batch.said[0].startswith("This folder cannot be opened from here. Copy it to a disk of this computer")


def test_what_is_typed_behind_start_bat_goes_to_start_py_whatever_python_was_set_to():
    batch = Batch(BAT, HERE, programs={"python": program()}, variables={"PYTHON": "old.exe"}, given=("test", "--quick"))
    assert ran(batch) == ["python start.py test --quick"]


def test_git_keeps_the_line_ends_that_windows_needs():
    assert "start.bat text eol=crlf" in (ROOT / ".gitattributes").read_text("utf-8").splitlines()
