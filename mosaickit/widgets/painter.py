"""The motif painter: a picture to paint on, which says at once what cannot be worked.

Python holds the picture, its history and every rule; the page in ``painter.js`` holds the hand. A stroke comes in as
the squares it changed; the answer goes out as traits that every view of the painter reads: the squares, their marks,
how the sheet is numbered and coloured, and what is to be said. Each message is answered, also with an error, so that
the page notices when nobody answers any more. Every stroke is in the autosave file before it is answered.
"""

from __future__ import annotations

import re
import weakref
import zlib
from collections.abc import Callable, Sequence
from os import PathLike
from pathlib import Path
from typing import Any

import anywidget
import numpy as np
import traitlets
from numpy.typing import NDArray

from mosaickit import orientation, svg, transforms
from mosaickit.colours import weakest_contrast
from mosaickit.documents import to_json
from mosaickit.errors import MosaickitError, MotifError, OptionError, one_of, whole_number
from mosaickit.gauge import Gauge
from mosaickit.hook import work
from mosaickit.motif import Motif
from mosaickit.orientation import HANDS, ROLES, Hand
from mosaickit.repair import SYMMETRIES, Repair, Symmetry, nearest_workable, with_the_third
from mosaickit.rules import Finding, Report, check
from mosaickit.sketch import Sketch
from mosaickit.stitches import compile_chart
from mosaickit.symbols import heavy_lines

VIEWS = ("none", "front", "back", "gauge", "stitches", "repeat")
MOST_FINDINGS = 60
"""The list shows at most so many findings; marks and the square in focus tell the rest."""

Echo = dict[str, int | bool]

# which painter writes which file: a cell that is run again takes the file over from the painter it made before
_WRITERS: weakref.WeakValueDictionary[Path, MotifPainter] = weakref.WeakValueDictionary()


class MotifPainter(anywidget.AnyWidget):
    """A picture to paint on.

    Parameters
    ----------
    motif : Motif
        What to start from; may be unworkable.
    autosave : path, optional
        The file that every stroke is kept in. If it is there, the painter goes on where it ended, with its undo
        history. Left out, a name is made from the motif, in the folder of the notebook.
    hand : "right" or "left"
        The hand that holds the hook.
    gauge : Gauge, optional
        The proportion of a stitch, for the view at true proportion.

    Raises
    ------
    OptionError
        If an argument is not as described.
    FileError
        If the autosave file is damaged or cannot be read.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     painter = MotifPainter(Motif.from_text("..."), autosave=Path(folder) / "dots.sketch")
    ...     painter.motif = Motif.from_text(".#.")
    ...     MotifPainter(Motif.from_text("..."), autosave=Path(folder) / "dots.sketch").motif.to_text()
    '.#.'
    """

    _esm = Path(__file__).with_name("painter.js")
    _css = Path(__file__).with_name("painter.css")

    motif = traitlets.Instance(Motif)
    """The picture now. Set it to paint something else; observe it to follow the hand."""
    cells = traitlets.CBytes().tag(sync=True)
    """A byte for each square as seen, row by row: 0 MC, 1 CC."""
    marks = traitlets.CBytes().tag(sync=True)
    """A byte for each square: 0 nothing, 1 advice, 2 cannot be worked."""
    ghost = traitlets.CBytes().tag(sync=True)
    """A byte for each square: 1 where the preview would change it."""
    sheet = traitlets.Dict().tag(sync=True)
    """Size, numbers, colours and what follows the hand."""
    said = traitlets.Dict().tag(sync=True)
    """Findings, undo and redo, settings, and sentences."""
    look = traitlets.Unicode().tag(sync=True)
    """The second view, as SVG or a sentence."""

    def __init__(
        self,
        motif: Motif,
        *,
        autosave: str | PathLike[str] | None = None,
        hand: Hand = "right",
        gauge: Gauge | None = None,
    ) -> None:
        if not isinstance(motif, Motif):
            raise OptionError(f"`motif` must be a Motif; got {motif!r}.")
        one_of("hand", hand, HANDS)
        self._hand: Hand = hand
        self._gauge = gauge or Gauge(16, 17)
        self._follow: tuple[Symmetry, ...] = ()
        self._repeat_across = self._repeat_up = 0
        self._only_workable = False
        self._view = "none"
        self._preview: Repair | None = None
        self._note = ""
        self._about: tuple[object, ...] = ()
        self._retired = False
        self.autosave = _take_over(Path(autosave) if autosave is not None else _default_file(motif), self)
        """The file that every stroke is kept in."""
        self._sketch = Sketch.open(self.autosave, otherwise=motif)
        if self._sketch.steps or self._sketch.recovered:
            self._note = f"Brought back from {self.autosave.name}. {self._sketch.recovered}".strip()
        super().__init__(motif=self._sketch.motif)
        self.observe(self._motif_set, names="motif")
        self.on_msg(self._receive)
        self._show()

    # ---- messages ------------------------------------------------------------------------------------------

    def _receive(self, _: object, content: dict[str, Any], buffers: Sequence[Any]) -> None:
        answer: dict[str, Any] = {"kind": "done", "view": content.get("view"), "seq": content.get("seq")}
        try:
            self._refuse_if_retired()
            answer |= self._handle(content, buffers)
        except MosaickitError as error:
            answer["error"] = str(error)
        except Exception as error:  # an exception here would be seen by nobody
            answer["error"] = f"mosaickit met an error of its own, and the picture is as it was: {error!r}"
        self.send(answer)
        # whoever follows the motif may take their time, so the hand is answered first
        if not self._retired:
            self.motif = self._sketch.motif

    def _handle(self, content: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        kind = content.get("kind")
        if kind == "ask":
            square = whole_number("square", content.get("square"))
            return {"kind": "told", "sentence": self._sentence(square)}
        self._note = ""
        if kind == "paint":
            self._paint(*buffers)
        elif kind == "act":
            self._act(str(content.get("name")), content)
        elif kind == "set":
            self._set(content)
        elif kind == "look":
            one_of("view", content.get("at"), VIEWS)
            self._view = content["at"]
        else:
            raise OptionError(f"A painter knows no message {kind!r}.")
        self._show()
        return {}

    def _paint(self, squares: Any, values: Any) -> None:  # noqa: ANN401 — what a browser sends
        index = np.frombuffer(squares, dtype="<i4")
        painted = np.frombuffer(values, dtype=np.uint8)
        now = self._sketch.motif
        if len(index) != len(painted) or index.size == 0 or index.min() < 0 or index.max() >= now.grid.size:
            raise OptionError("A stroke must name squares of the picture, each with its colour.")
        grid = now.grid.copy()
        grid.ravel()[index] = painted != 0
        if self._only_workable:
            grid = self._kept_workable(now, grid)
        self._change(now.with_grid(grid), "paint")

    def _kept_workable(self, before: Motif, grid: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Take back, of a stroke, the fewest squares that leave what cannot be worked."""
        painted = before.grid != grid
        weights = np.where(painted, 1.0, 1.0 + painted.size)  # what was there stays if it can
        mended = nearest_workable(before.with_grid(grid), weights=weights).changed & painted
        if mended.any():
            self._note = f"Squares left out, as they cannot be worked there: {np.count_nonzero(mended)}."
        kept: NDArray[np.bool_] = grid ^ mended
        return kept

    def _act(self, name: str, content: dict[str, Any]) -> None:
        now = self._sketch.motif
        if name in ("undo", "redo"):
            self._preview = None
            getattr(self._sketch, name)()
        elif name == "nearest":
            self._preview = nearest_workable(now, hand=self._hand)
            if not self._preview.changed.any():
                self._preview, self._note = None, "Nothing to change: this picture can be worked."
        elif name == "accept" and self._preview is not None:
            self._change(self._preview.motif, "nearest workable")
        elif name in ("accept", "leave"):
            self._preview = None
        elif name in _CHANGES:
            x, y = whole_number("x", content.get("x")), whole_number("y", content.get("y"))
            self._change(_CHANGES[name](now, y, x), name)
        else:
            raise OptionError(f"A painter cannot {name!r}.")

    def _set(self, content: dict[str, Any]) -> None:
        follow = tuple(content.get("follow", ()))
        for symmetry in follow:
            one_of("follow", symmetry, SYMMETRIES)
        one_of("hand", content.get("hand"), HANDS)
        self._repeat_across = whole_number("repeat_across", content.get("repeat_across"))
        self._repeat_up = whole_number("repeat_up", content.get("repeat_up"))
        self._follow, self._hand = follow, content["hand"]
        self._only_workable = content.get("only_workable") is True
        self._preview = None

    # ---- the picture ---------------------------------------------------------------------------------------

    def _change(self, motif: Motif, label: str) -> None:
        self._preview = None
        self._sketch.change(motif, label)

    def _motif_set(self, change: dict[str, Any]) -> None:
        """Follow a motif that was set from Python; one that came from the hand is in the sketch already."""
        if change["new"] != self._sketch.motif:
            self._refuse_if_retired()
            self._change(change["new"], "set in Python")
            self._show()

    def _refuse_if_retired(self) -> None:
        if self._retired:
            raise OptionError(f"This drawing went on in a newer painter, which writes {self.autosave.name} now.")

    def _report(self) -> Report:
        return check(self._sketch.motif, hand=self._hand)

    def _sentence(self, square: int) -> str:
        """Say what a square shows and what is the matter with it."""
        motif = self._sketch.motif
        rows, columns = motif.shape
        if square >= rows * columns:
            raise OptionError(f"The picture has {rows * columns} squares; there is no square {square}.")
        place = divmod(square, columns)
        row, stitch = orientation.place(place, motif.shape, self._hand)
        shows = ROLES[int(motif.grid[place])]
        of_row = orientation.role_of_row(row, motif.first)
        what = f"{shows}, as its row" if shows == of_row else f"{shows}, overlaid on a row in {of_row}"
        matter = " ".join(finding.message for finding in self._report().at(row, stitch))
        return f"Row {row}, stitch {stitch}: {what}. {matter}".strip()

    # ---- what every view shows -----------------------------------------------------------------------------

    def _show(self) -> None:
        motif, report = self._sketch.motif, self._report()
        marks = np.where(report.squares("error"), 2, report.squares("advice")).astype(np.uint8)
        changed = self._preview.changed if self._preview else np.zeros(motif.shape, dtype=np.bool_)
        with self.hold_sync():
            # a stroke changes nothing of the sheet, and a new one has every view drawn anew
            about = (
                motif.shape,
                motif.first,
                motif.yarns,
                self._hand,
                self._follow,
                self._repeat_across,
                self._repeat_up,
            )
            if about != self._about:
                self._about, self.sheet = about, self._sheet()
            self.cells = motif.grid.tobytes()
            self.marks = marks.tobytes()
            self.ghost = changed.tobytes()
            self.said = self._said(report)
            self.look = self._look(report)

    def _sheet(self) -> dict[str, Any]:
        motif = self._sketch.motif
        rows, columns = motif.shape
        row_numbers = orientation.row_numbers(rows)
        stitch_numbers = orientation.stitch_numbers(columns, self._hand)
        inks = [_inks(motif, role == "CC") for role in ROLES]
        row_is_cc = motif.row_is_cc[:, 0].astype(int)
        row_inks = [motif.yarns.at(int(row), ROLES[cc]).colour for row, cc in zip(row_numbers, row_is_cc, strict=True)]
        return {
            "rows": rows,
            "columns": columns,
            "row_numbers": row_numbers.tolist(),
            "stitch_numbers": stitch_numbers.tolist(),
            "edge": orientation.working_edge(self._hand),
            "heavy_rows": heavy_lines(row_numbers).tolist(),
            "heavy_columns": heavy_lines(stitch_numbers).tolist(),
            "inks": inks,
            "row_inks": row_inks,
            "roles": [f"{role}: {motif.yarns.at(1, role).name}" for role in ROLES],
            "echoes": echoes(motif.shape, self._follow, self._repeat_across, self._repeat_up),
            "contrast": _contrast_sentence(motif),
        }

    def _said(self, report: Report) -> dict[str, Any]:
        return {
            "findings": [self._listed(finding) for finding in report.some(MOST_FINDINGS)],
            "errors": report.count("error"),
            "advice": report.count("advice"),
            "summary": self._sketch.motif.summary,
            "undo": self._sketch.undo_label,
            "redo": self._sketch.redo_label,
            "preview": _preview_sentence(self._preview),
            "note": self._note,
            "trouble": self._sketch.trouble,
            "only_workable": self._only_workable,
            "follow": list(self._follow),
            "repeat_across": self._repeat_across,
            "repeat_up": self._repeat_up,
            "hand": self._hand,
        }

    def _listed(self, finding: Finding) -> dict[str, Any]:
        shape = self._sketch.motif.shape
        top, left = orientation.square(finding.row, finding.stitch, shape, self._hand)
        return {"severity": finding.severity, "message": finding.message, "square": top * shape[1] + left}

    def _look(self, report: Report) -> str:
        motif = self._sketch.motif
        if self._view == "none":
            return ""
        if self._view == "gauge":
            index = svg.yarn_colours(motif.grid, motif.shown_rows, motif.yarns)
            return svg.picture(*index, title=f"{motif.summary}, at true proportion", aspect=self._gauge.aspect)
        if self._view == "repeat":
            try:
                return transforms.tile(motif, across=3, up=3, colours="swap", must_work=False)._repr_svg_()
            except MotifError as error:
                return f"<p>{error}</p>"
        if not report.ok:
            return "<p>This view follows when the picture can be worked.</p>"
        chart = compile_chart(motif, reversible=True, hand=self._hand)
        if self._view == "stitches":
            return chart._repr_svg_()
        fabric = work(chart)
        face, rows = (fabric.front, fabric.front_rows) if self._view == "front" else (fabric.back, fabric.back_rows)
        return svg.picture(*svg.yarn_colours(face, rows, motif.yarns), title=f"{motif.summary}, {self._view} face")


def echoes(shape: tuple[int, int], follow: Sequence[Symmetry], across: int = 0, up: int = 0) -> list[Echo]:
    """List the squares that follow one square when it is painted, as moves of (x, y) as seen.

    Parameters
    ----------
    shape : (R, C)
        The picture's size.
    follow : sequence of "mirror", "up-down" and "half-turn"
        The symmetries to keep; two of them make the third.
    across, up : int
        Repeat every so many stitches and rows; 0 for not at all.

    Returns
    -------
    list of dict
        sx, ox, sy, oy: (x, y) goes to (sx · x + ox, sy · y + oy); swap: in the other colour, as it lands on a row of
        the other colour. The first moves nothing.

    Examples
    --------
    >>> echoes((3, 5), ["mirror"])[1]
    {'sx': -1, 'ox': 4, 'sy': 1, 'oy': 0, 'swap': False}
    """
    rows, columns = shape
    kept = with_the_third(follow)
    turns = [(1, 1)]
    turns += [turn for name, turn in zip(SYMMETRIES, [(-1, 1), (1, -1), (-1, -1)], strict=True) if name in kept]
    steps_x = range(-(columns // across), columns // across + 1) if across else [0]
    steps_y = range(-(rows // up), rows // up + 1) if up else [0]
    steps = sorted(((i, j) for i in steps_x for j in steps_y), key=lambda step: (step != (0, 0), step))
    moves: list[Echo] = []
    for sx, sy in turns:
        for i, j in steps:
            oy = (0 if sy == 1 else rows - 1) + j * up
            ox = (0 if sx == 1 else columns - 1) + i * across
            moves.append({"sx": sx, "ox": ox, "sy": sy, "oy": oy, "swap": oy % 2 == 1})
    return moves


def _inks(motif: Motif, cc: bool) -> list[str]:
    """Give the colour that a square of MC or of CC has in each row, from the top down."""
    column = motif.with_grid(np.full((motif.shape[0], 1), cc))
    index, colours = svg.yarn_colours(column.grid, column.shown_rows, motif.yarns)
    return [colours[number] for number in index[:, 0]]


def _contrast_sentence(motif: Motif) -> str:
    pairs = motif.yarns.meetings(motif.shape[0])
    vision, ratio = min((weakest_contrast(mc.colour, cc.colour) for _, mc, cc in pairs), key=lambda weak: weak[1])
    return f"The yarns differ by {int(ratio * 10) / 10:.1f} to 1 at least (for {vision})."


def _preview_sentence(preview: Repair | None) -> str:
    if preview is None:
        return ""
    count = len(preview.squares)
    return f"The nearest workable picture changes {count} square{'' if count == 1 else 's'}, marked with a dot. "


def _default_file(motif: Motif) -> Path:
    """Name an autosave file after a motif, so that other motifs have other files."""
    name = re.sub(r"[^\w-]+", "-", motif.name).strip("-") or "painting"
    return Path(f"{name[:40]}-{zlib.crc32(to_json(motif).encode('utf-8')):08x}.sketch")


def _take_over(file: Path, painter: MotifPainter) -> Path:
    key = file.absolute()
    older = _WRITERS.get(key)
    if older is not None:
        older._retired = True
        sketch = getattr(older, "_sketch", None)  # none if its file could not be opened
        if sketch is not None:
            sketch.close()
    _WRITERS[key] = painter
    return file


# ---- changes of the whole picture: (motif, row as seen, column as seen) of the focus ------------------------


def _rows_taken(motif: Motif, tops: list[int]) -> Motif:
    """Give the picture of these rows as seen, each with its yarns; rows keep their colours as squares."""
    numbers = orientation.row_numbers(motif.shape[0])[tops]
    return motif.with_grid(motif.grid[tops], yarns=motif.yarns.gather(reversed(numbers.tolist())))


def _insert_row(motif: Motif, top: int, left: int) -> Motif:
    twice = _repeat_row(motif, top, left)
    grid = twice.grid.copy()
    grid[top] = twice.row_is_cc[top]
    return twice.with_grid(grid)


def _repeat_row(motif: Motif, top: int, left: int) -> Motif:
    tops = list(range(motif.shape[0]))
    return _rows_taken(motif, [*tops[: top + 1], *tops[top:]])


def _delete_row(motif: Motif, top: int, left: int) -> Motif:
    if motif.shape[0] == 1:
        raise OptionError("The last row cannot be deleted.")
    return _rows_taken(motif, [row for row in range(motif.shape[0]) if row != top])


def _delete_two_rows(motif: Motif, top: int, left: int) -> Motif:
    """Delete the row in focus and the one below it (above it, at the lower edge): the others keep their colours."""
    if motif.shape[0] < 3:
        raise OptionError("A picture must keep a row: there are no two to delete.")
    lower = min(top, motif.shape[0] - 2)
    return _delete_row(_delete_row(motif, lower + 1, left), lower, left)


def _insert_column(motif: Motif, top: int, left: int) -> Motif:
    return motif.with_grid(np.insert(motif.grid, left, motif.row_is_cc[:, 0], axis=1))


def _repeat_column(motif: Motif, top: int, left: int) -> Motif:
    return motif.with_grid(np.insert(motif.grid, left, motif.grid[:, left], axis=1))


def _delete_column(motif: Motif, top: int, left: int) -> Motif:
    if motif.shape[1] == 1:
        raise OptionError("The last column cannot be deleted.")
    return motif.with_grid(np.delete(motif.grid, left, axis=1))


_CHANGES: dict[str, Callable[[Motif, int, int], Motif]] = {
    "mirror": lambda motif, top, left: transforms.mirror(motif),
    "up-down": lambda motif, top, left: transforms.up_down(motif),
    "half-turn": lambda motif, top, left: transforms.half_turn(motif),
    "counterchange": lambda motif, top, left: transforms.counterchange(motif),
    "insert row": _insert_row,
    "insert two rows": lambda motif, top, left: _insert_row(_insert_row(motif, top, left), top, left),
    "delete row": _delete_row,
    "delete two rows": _delete_two_rows,
    "repeat row": _repeat_row,
    "insert column": _insert_column,
    "delete column": _delete_column,
    "repeat column": _repeat_column,
    "clear": lambda motif, top, left: motif.with_grid(np.zeros(motif.shape, dtype=np.bool_)),
}
