"""Saving and opening: a design or a square from the centre as one file, and motifs, by one pair of verbs."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from mosaickit import files
from mosaickit.centre import CentreOut
from mosaickit.errors import FileError, MosaickitError, OptionError, of_kind
from mosaickit.files import (
    Format,
    Owner,
    as_path,
    check_length,
    decode,
    file_name,
    motif_in,
    read_whole,
    save_bytes,
)
from mosaickit.motif import Motif
from mosaickit.orientation import Role
from mosaickit.sizes.centred import forms
from mosaickit.sizes.centred.square_design import CentreDesign
from mosaickit.sizes.designs import documents
from mosaickit.sizes.designs.design import Design

ENDING = ".design"
"""What the name of a design's file ends in."""
SQUARE_ENDING = ".square"
"""What the name of the file of a square from the centre ends in."""


def save(
    what: Motif | Design | CentreDesign | CentreOut,
    path: str | PathLike[str],
    *,
    square: int = 1,
    format: Format | None = None,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Write a motif or a design to a file, whole or not at all.

    Parameters
    ----------
    what : Motif, Design, CentreDesign or CentreOut
        Workable or not.
    path : path
        Of a motif, ends in .json, .png, .csv or .txt; of a design, in .design; of a square from the centre, in .square.
    square : int
        PNG only: the side of a square in pixels.
    format : "json", "png", "csv" or "txt", optional
        Of a motif: what to write, whatever the ending.
    design : str
        What it is known by where its own earlier file is there. Left out, it is the motif's name, or the design's
        title; what has none is known by its content.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file. `load` gives the same motif from JSON and PNG, and the same design (of a `CentreOut`, the
        `CentreDesign` that has nothing else); CSV and text keep a motif's
        squares only, without the colour of row 1, yarns and name. A PNG shows the first yarn of each colour, or black
        on white if both look the same.

    Raises
    ------
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    OptionError
        If an argument is none that this format knows.
    """
    if isinstance(what, CentreDesign | CentreOut):
        return _save_square(what, path, plainly=format is None and square == 1, design=design, replace=replace)
    if not isinstance(what, Design):
        of_kind("what", what, Motif)
        if is_design(as_path(path)):
            raise OptionError(f"{ENDING} is for designs: save mk.Design(motif), or save the motif as .json.")
        if is_square(as_path(path)):
            raise OptionError(
                f"{SQUARE_ENDING} is for squares from the centre: save mk.CentreDesign(mk.centre.CentreOut(motif)), or "
                "save the motif as .json."
            )
        return files.save(what, path, square=square, format=format, design=design, replace=replace)
    file = as_path(path)
    if not is_design(file) or format is not None or square != 1:
        raise OptionError(
            f"A design is saved under a name that ends in {ENDING}, without `format` and `square`; got "
            f"{file_name(file)}. Its chart or its motif may be saved otherwise: `design.motif`."
        )
    text = documents.design_to_json(what)
    owner = Owner.named("design", design, what.words.title or what.motif.name, text)
    return save_bytes(file, text.encode("utf-8"), owner, replace=replace)


def _save_square(
    what: CentreDesign | CentreOut, path: str | PathLike[str], *, plainly: bool, design: str, replace: bool
) -> Path:
    file = as_path(path)
    if not is_square(file) or not plainly:
        raise OptionError(
            f"A square from the centre is saved under a name that ends in {SQUARE_ENDING}, without `format` and "
            f"`square`; got {file_name(file)}. Its picture may be saved otherwise: `square.motif`."
        )
    kept = CentreDesign(what) if isinstance(what, CentreOut) else what
    text = forms.square_to_json(kept)
    owner = Owner.named("square", design, kept.words.title or kept.square.motif.name, text)
    return save_bytes(file, text.encode("utf-8"), owner, replace=replace)


def load(
    path: str | PathLike[str], *, first: Role | None = None, square: int | None = None, format: Format | None = None
) -> Motif | Design | CentreDesign:
    r"""Read a motif or a design from a file.

    Parameters
    ----------
    path : path
        Ends in .json, .png, .csv or .txt for a motif, in .design for a design, in .square for a square from the centre.
    first : "MC" or "CC", optional
        The colour of row 1. A file that says it itself must agree; CSV, text and PNG pictures from elsewhere do not
        say it, and get MC if nothing is given.
    square : int, optional
        PNG only: the side of a square in pixels. Left out, it is what the file says, or else 1.
    format : "json", "png", "csv" or "txt", optional
        How to read a motif's file, whatever its ending.

    Returns
    -------
    Motif, Design or CentreDesign
        A PNG picture from elsewhere may have two colours: the darker one is CC, as ink on paper is. In a picture of
        one colour all squares are MC. Its colours become the yarns'. Pixels count as they are stored, without any
        turn or colour profile that a camera noted.

    Raises
    ------
    FileError
        If there is no such file, or it holds no motif or design; the sentence names the file and the place in it.
    OptionError
        If an argument is none that this format knows.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     file = save(Motif.from_text("..#\n.##"), Path(folder) / "corner.png", square=4)
    ...     load(file).to_text().split()
    ['..#', '.##']
    """
    file = as_path(path)
    if not (is_design(file) or is_square(file)) or format is not None:
        return files.load(path, first=first, square=square, format=format)
    if first is not None or square is not None:
        raise OptionError(f"A file that ends in {file.suffix} says everything itself: leave out `first` and `square`.")
    try:
        text = decode(read_whole(file))
        return forms.square_from_json(text) if is_square(file) else documents.design_from_json(text)
    except MosaickitError as error:
        raise FileError(f"{file_name(file)}: {error}") from None


def load_design(path: str | PathLike[str]) -> Design:
    """Read a design from a file, or a motif's file as a design of one repeat; raises as `load` does."""
    read = load(path)
    if isinstance(read, CentreDesign):
        raise FileError(
            f"{file_name(as_path(path))}: This is a square from the centre, which is no design in rows: mk.load reads "
            "it."
        )
    return read if isinstance(read, Design) else Design(read)


def design_in(data: bytes, name: str) -> Design:
    """Read a design from the bytes of a file from elsewhere, or a motif as a design of one repeat.

    Parameters
    ----------
    data : bytes
        All that the file holds.
    name : str
        What it is called; nothing of that name is looked for on the disk. Only its ending counts, as for `load`.

    Raises
    ------
    FileError
        If the bytes hold neither; the sentence names the file and the place in it.
    """
    file = Path(name)
    if not is_design(file):
        return Design(motif_in(data, name))
    try:
        check_length(len(data))
        return documents.design_from_json(decode(data))
    except MosaickitError as error:
        raise FileError(f"{file_name(file)}: {error}") from None


def is_square(file: Path) -> bool:
    """Whether a file is that of a square from the centre, by the ending of its name."""
    return file.suffix.lower() == SQUARE_ENDING


def is_design(file: Path) -> bool:
    """Whether a file is a design's, by the ending of its name."""
    return file.suffix.lower() == ENDING
