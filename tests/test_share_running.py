"""When sharing runs a notebook, what it says of it, and what becomes of what goes wrong while it runs."""

import os
import threading
from _thread import interrupt_main
from pathlib import Path

import nbformat
import pytest
from bs4 import BeautifulSoup
from lab import wait_until
from nbclient import NotebookClient
from nbconvert import HTMLExporter
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

import mosaickit as mk
from mosaickit import cli
from mosaickit.errors import NotebookError, OptionError

VIEW = "application/vnd.jupyter.widget-view+json"
STATES = "application/vnd.jupyter.widget-state+json"
WALL = (
    "import mosaickit as mk\n"
    "wall = mk.widgets.VariationExplorer(mk.Motif.from_text('....\\n####\\n.##.\\n####\\n....'))\nwall"
)
# three refusals: of an argument, of a picture, and of a file; each its sentence and its cure in an example of its own
REFUSALS = {
    "import mosaickit as mk; mk.Gauge(0, 17)": "`stitches`",
    "mk.load('gone.json')": "gone.json",
    "mk.compile_chart(mk.Motif.from_text('.\\n#\\n.\\n.'))": "cannot be worked",
}


def write(file, *cells, kernel="python3"):
    """Write a notebook of these cells, of which texts that begin with # are markdown, as it was never run."""
    made = [
        cell if not isinstance(cell, str) else new_markdown_cell(cell) if cell.startswith("#") else new_code_cell(cell)
        for cell in cells
    ]
    for number, cell in enumerate(made):
        cell["id"] = f"cell-{number}"
    about = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": kernel}}
    nbformat.write(new_notebook(cells=made, metadata=about), file)
    return file


def saved_without_widgets(file, *cells):
    """Run a notebook and save it as JupyterLab does where nobody told it otherwise: with outputs, without widgets."""
    write(file, *cells)
    notebook = nbformat.read(file, 4)
    NotebookClient(notebook, store_widget_state=False, resources={"metadata": {"path": str(file.parent)}}).execute()
    nbformat.write(notebook, file)
    return file


def text_of(shared):
    return BeautifulSoup(Path(shared).read_text("utf-8"), "html.parser").main.get_text()


@pytest.fixture
def called(capfd):
    """Run a command as a shell does; gives its code and what it printed and complained."""

    def it(*arguments):
        capfd.readouterr()
        code = cli.main(list(map(str, arguments)))
        return code, *capfd.readouterr()

    return it


# ---- widgets that were not saved -----------------------------------------------------------------------------


@pytest.mark.usefixtures("slow", "new_kernels")
def test_a_notebook_saved_in_the_usual_way_keeps_its_widgets_and_says_that_it_is_run(tmp_path, capfd, called):
    file = saved_without_widgets(tmp_path / "walls.ipynb", "# Walls", WALL)
    assert "widgets" not in nbformat.read(file, 4).metadata
    before = file.read_bytes()
    shared = mk.share(file, tmp_path / "walls.html")
    assert (shared.ran, shared.notes) == (True, ())
    assert capfd.readouterr().out == (
        "'walls.ipynb' was saved without what the widgets of cell 2 showed, so it is run now: from the top, in its own "
        "folder. The notebook's file is not changed.\n"
    )
    assert file.read_bytes() == before
    assert 'data-widget="widget-1"' in shared.path.read_text("utf-8")
    assert "open the notebook" in text_of(shared), "what the page lacks is in sight"
    assert repr(shared) == "Shared as walls.html.\nAll that the notebook showed is in it."

    # without a run it is left out: in the page, in what is said, and in what the command ends with
    lost = mk.share(file, tmp_path / "lost.html", run=False)
    assert not lost.ran
    assert lost.notes == (
        "'walls.ipynb' was saved without what the widgets of cell 2 showed, so they are left out: with `run=True` the "
        "notebook is run, and they are there.",
    )
    assert "A widget was here. What it showed was not saved" in text_of(lost)
    code, out, err = called("share", file, tmp_path / "lost.html", "--no-run")
    assert (code, out) == (1, f"{tmp_path / 'lost.html'}\n")
    assert "so they are left out" in err


@pytest.mark.usefixtures("slow")
def test_in_a_notebook_the_widgets_of_its_own_kernel_are_taken_as_they_are(tmp_path):
    """Called from the very notebook, after the hand has pinned something: nothing is run again."""
    file = tmp_path / "walls.ipynb"
    again = f"print(mk.share({str(file)!r}, {str(tmp_path / 'walls.html')!r}).ran)"
    notebook = nbformat.read(write(file, "# Walls", WALL, "wall.pin()", again), 4)
    client = NotebookClient(notebook, store_widget_state=False, resources={"metadata": {"path": str(tmp_path)}})
    with client.setup_kernel():
        for number in (1, 2):
            client.execute_cell(notebook.cells[number], number)
        nbformat.write(notebook, file)  # as the hand saves it before it shares it
        told = client.execute_cell(notebook.cells[3], 3).outputs
    assert [output.text for output in told] == ["False\n"], told
    assert '"pinned":[0]' in (tmp_path / "walls.html").read_text("utf-8")


def test_states_that_lab_saved_without_what_a_page_needs_are_none(tmp_path):
    """JupyterLab can be told to keep states; it keeps the traits alone, with which a wall can show nothing else."""
    for known, kept in (({"_anywidget_id": "mosaickit.widgets.explorer.VariationExplorer"}, False), ({}, True)):
        cell = new_code_cell("wall", execution_count=1)
        cell.outputs = [nbformat.v4.new_output("display_data", {VIEW: {"model_id": "w"}, "text/plain": "W"})]
        notebook = nbformat.read(write(tmp_path / "walls.ipynb", "# Walls", cell), 4)
        model = {"model_name": "AnyModel", "model_module": "anywidget", "state": {"_esm": "export default {}"} | known}
        notebook.metadata["widgets"] = {STATES: {"version_major": 2, "version_minor": 0, "state": {"w": model}}}
        nbformat.write(notebook, tmp_path / "walls.ipynb")
        shared = mk.share(tmp_path / "walls.ipynb", tmp_path / "walls.html", run=False, replace=True)
        assert ("data-widget" in shared.path.read_text("utf-8"), shared.notes == ()) == (kept, kept)


@pytest.mark.usefixtures("slow")
def test_a_notebook_that_shares_itself_is_not_run_for_ever(tmp_path):
    file, page = tmp_path / "own.ipynb", tmp_path / "own.html"
    write(file, "# Own", f"import mosaickit as mk\nmk.share({str(file)!r}, {str(page)!r})")
    shared = mk.share(file, page)
    assert shared.notes == ()
    assert "this cell shares it no second time" in text_of(shared)


def test_a_notebook_that_was_not_run_and_is_not_to_be_is_said(tmp_path):
    file = write(tmp_path / "lesson.ipynb", "# One", "1 + 1")
    with pytest.raises(
        NotebookError, match=r"'lesson\.ipynb' was not run, so it has nothing to show: .* leave `run=False` out"
    ):
        mk.share(file, tmp_path / "lesson.html", run=False)
    with pytest.raises(OptionError, match="`run` must be True or False; got 'yes'"):
        mk.share(file, tmp_path / "lesson.html", run="yes")
    words = mk.share(write(tmp_path / "words.ipynb", "# Only\n\nwords", new_code_cell("")), tmp_path / "words.html")
    assert (words.ran, "words" in text_of(words)) == (False, True)


# ---- what goes wrong while it runs ---------------------------------------------------------------------------


@pytest.mark.usefixtures("slow")
def test_a_cell_that_fails_stands_as_it_failed_and_those_after_it_are_run(tmp_path, called):
    meant = new_code_cell("raise ValueError('as told')", metadata={"tags": ["raises-exception"]})
    # a time of an earlier run must not be taken for this one's
    old = new_code_cell("print('went on')", metadata={"execution": {"iopub.status.busy": "2026-01-01T00:00:00Z"}})
    cells = ["# Title", meant, "def work():\n    raise ValueError('the yarn is out')\nwork()", old]
    code, out, err = called("share", write(tmp_path / "lesson.ipynb", *cells), tmp_path / "lesson.html")
    assert (code, out) == (1, f"{tmp_path / 'lesson.html'}\n")
    assert (
        "mosaickit: Cell 3, which begins 'def work():': ValueError: the yarn is out. It is in the page as it failed."
        in err
    )
    assert "'lesson.ipynb' was not run yet, so it is run now" in err, "it is none of what is printed, the file"
    assert "as told" not in err
    shown = text_of(tmp_path / "lesson.html")
    assert "ValueError: the yarn is out" in shown
    assert "went on" in shown


@pytest.mark.usefixtures("slow", "new_kernels")
def test_a_kernel_that_dies_or_is_not_there_leaves_the_old_file(tmp_path):
    (tmp_path / "lesson.html").write_text("old", "utf-8")
    faults = {
        r"^'lesson\.ipynb' stopped in cell 2, which begins 'import os': the kernel died, and nothing was written\.$": (
            ["# T", "import os\nos._exit(1)", "1"],
            "python3",
            2,
        ),
        r"asks for a kernel 'far-away', which is not installed here: choose one in JupyterLab": (
            ["# T", "1"],
            "far-away",
            None,
        ),
    }
    for said, (cells, kernel, number) in faults.items():
        file = write(tmp_path / "lesson.ipynb", *cells, kernel=kernel)
        before = file.read_bytes()
        with pytest.raises(NotebookError, match=said) as caught:
            mk.share(file, tmp_path / "lesson.html", replace=True)
        assert caught.value.cell == number
        assert (tmp_path / "lesson.html").read_text("utf-8") == "old"
        assert file.read_bytes() == before
        assert sorted(path.name for path in tmp_path.iterdir()) == ["lesson.html", "lesson.ipynb"]


@pytest.mark.usefixtures("slow", "new_kernels")
def test_a_cell_that_never_ends_is_stopped_by_hand_and_its_kernel_with_it(tmp_path):
    begun = tmp_path / "begun"
    endless = (
        "import os, pathlib\n"
        f"pathlib.Path({str(tmp_path / 'pid')!r}).write_text(str(os.getpid()))\n"
        f"pathlib.Path({str(begun)!r}).touch()\nwhile True: pass"
    )

    def interrupt():
        wait_until(begun.exists, "the cell does not begin")
        interrupt_main()  # as Ctrl C does

    hand = threading.Thread(target=interrupt)
    hand.start()
    with pytest.raises(NotebookError, match=r"^'lesson\.ipynb' was stopped in cell 2, .*; nothing was written\.$"):
        mk.share(write(tmp_path / "lesson.ipynb", "# T", endless), tmp_path / "lesson.html")
    hand.join()
    assert not (tmp_path / "lesson.html").exists()
    wait_until(lambda: not runs(int((tmp_path / "pid").read_text())), "the kernel runs on")


def runs(process):
    """Whether a process is there."""
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


# ---- a refusal -----------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def refused(slow, tmp_path_factory):
    """A notebook of refusals that was run: as nbconvert makes HTML of it, and as it is shared; errors by cell."""
    file = tmp_path_factory.mktemp("refused") / "refused.ipynb"
    write(file, "# Refused", *REFUSALS, "def mine():\n    mk.Gauge(16, -1)\nmine()")
    notebook = nbformat.read(file, 4)
    NotebookClient(notebook, allow_errors=True, resources={"metadata": {"path": str(file.parent)}}).execute()
    nbformat.write(notebook, file)
    converted = BeautifulSoup(HTMLExporter().from_notebook_node(notebook)[0], "html.parser")
    shared = BeautifulSoup(mk.share(file, file.with_suffix(".html"), run=False).path.read_text("utf-8"), "html.parser")
    return {
        "nbconvert": [each.get_text() for each in converted.select(".jp-RenderedText[data-mime-type*=error] pre")]
        or [each.get_text() for each in converted.select('[data-mime-type="application/vnd.jupyter.stderr"] pre')],
        "shared": [each.get_text() for each in shared.select("pre.stderr")],
    }


@pytest.mark.parametrize("form", ["nbconvert", "shared"])
def test_a_refused_verb_stands_as_its_sentence_and_cure_alone(refused, form, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    names = {"mk": mk}
    sentences = []
    for source in REFUSALS:
        with pytest.raises(mk.errors.MosaickitError) as caught:
            exec(source, names)
        sentences.append(str(caught.value))
    shown = [" ".join(text.split()) for text in refused[form]]
    assert shown[:-1] == [" ".join(sentence.split()) for sentence in sentences]
    assert all(word in text for word, text in zip(REFUSALS.values(), shown, strict=False))
    # of a cell of several lines it says which of them asked, and nothing of the library's own
    assert shown[-1].endswith("Line 2 of the cell: mk.Gauge(16, -1)")
    assert not any(word in text for text in shown for word in ("Traceback", "File", ".py"))
