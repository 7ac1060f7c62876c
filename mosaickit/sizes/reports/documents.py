"""Report documents: a tester's report as one JSON text, read strictly.

The form that testers fill in saves it, and ``report.schema.json`` beside this module, made from the models here,
describes it for anyone who writes one by another way.
"""

from __future__ import annotations

from collections.abc import Iterable
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field

from mosaickit.errors import FileError, MosaickitError, OptionError, shortly
from mosaickit.files import (
    WHAT_IT_IS,
    WHICH_VERSION,
    Document,
    FileForm,
    as_path,
    decode,
    fault,
    file_name,
    kept_as,
    published,
    read_document,
    read_whole,
    written,
)
from mosaickit.motif import LARGEST_SIDE
from mosaickit.sizes.designs.documents import KeptGauge
from mosaickit.sizes.reports.editions import Tested, checked_all, checked_for, designs_of
from mosaickit.sizes.reports.values import (
    LEAST_CM,
    LEAST_HOOK_MM,
    LEAST_HOURS,
    LEAST_USED,
    LONGEST_LABEL,
    LONGEST_REMARKS,
    LONGEST_SNAG,
    MOST_CM,
    MOST_HOOK_MM,
    MOST_HOURS,
    MOST_METRES,
    MOST_SNAGS,
    MOST_YARNS_USED,
    PieceReport,
    Snag,
    SnagKind,
    YarnUsed,
)
from mosaickit.yarn import Skein

_Place = Annotated[int, Field(ge=1, le=LARGEST_SIDE)]
_Used = Annotated[float, Field(ge=LEAST_USED, le=MOST_METRES)]
_OfBall = Annotated[float, Field(ge=0.1, le=1e6)]
_Measured = Annotated[
    list[Annotated[float, Field(ge=LEAST_CM, le=MOST_CM)]],
    Field(min_length=2, max_length=2, description="Width and length in cm; null if they were not measured."),
]


class SnagForm(FileForm):
    """Something that puzzled the tester."""

    text: Annotated[str, Field(min_length=1, max_length=LONGEST_SNAG, description="What puzzled, in words.")]
    row: Annotated[_Place | None, Field(description="The row, from 1 at the bottom; null if it is in no row.")]
    stitch: Annotated[_Place | None, Field(description="The stitch, from 1 at the edge where rows start.")]
    kind: Annotated[SnagKind, Field(description="What the tester thinks it is.")]


class BallForm(FileForm):
    """What the label of the tester's own yarn says of one ball."""

    metres: Annotated[_OfBall, Field(description="Its length.")]
    grams: Annotated[_OfBall, Field(description="Its weight.")]


class YarnUsedForm(FileForm):
    """How much of one yarn was used: metres or grams, one of the two."""

    yarn: Annotated[str, Field(min_length=1, max_length=LONGEST_SNAG, description="The yarn's name in the pattern.")]
    metres: Annotated[_Used | None, Field(description="What was used, if it was measured.")]
    grams: Annotated[_Used | None, Field(description="What was used, if it was weighed.")]
    ball: Annotated[
        Annotated[
            Skein,
            kept_as(
                Skein,
                BallForm,
                lambda form: Skein(form.metres, form.grams),
                lambda ball: BallForm(metres=ball.metres, grams=ball.grams),
            ),
        ]
        | None,
        Field(description="The label of the yarn that was used; null if it is that of the pattern."),
    ]


def _fields(form: FileForm) -> dict[str, Any]:
    return {name: getattr(form, name) for name in type(form).model_fields}


_KeptUsed = Annotated[
    YarnUsed,
    kept_as(
        YarnUsed,
        YarnUsedForm,
        lambda form: YarnUsed(**_fields(form)),
        lambda used: YarnUsedForm(yarn=used.yarn, metres=used.metres, grams=used.grams, ball=used.ball),
    ),
]
_KeptSnag = Annotated[
    Snag,
    kept_as(
        Snag,
        SnagForm,
        lambda form: Snag(**_fields(form)),
        lambda snag: SnagForm(text=snag.text, row=snag.row, stitch=snag.stitch, kind=snag.kind),
    ),
]


class ReportDocument(Document):
    """A tester's report of a pattern for overlay mosaic crochet.

    The file is UTF-8 text. What a schema cannot say: labels are one line of printable characters, each yarn is one of
    the pattern and stands once, with metres or grams and not both; a stitch has a row, and both are within the chart.
    """

    format: Annotated[Literal["mosaickit tester report"], WHAT_IT_IS]
    version: Annotated[Literal[1], WHICH_VERSION]
    tester: Annotated[
        str, Field(min_length=1, max_length=LONGEST_LABEL, description="A letter or a pseudonym; no real name.")
    ]
    design: Annotated[str, Field(max_length=LONGEST_SNAG, description="The title of the pattern.")]
    edition: Annotated[int, Field(ge=1, le=1000, description="The edition that was tested.")]
    size: Annotated[str, Field(max_length=LONGEST_LABEL, description="The size that was made; empty if there is one.")]
    hook_mm: Annotated[
        Annotated[float, Field(ge=LEAST_HOOK_MM, le=MOST_HOOK_MM)] | None, Field(description="The hook that was used.")
    ]
    gauge: Annotated[KeptGauge | None, Field(description="The tester's own gauge, if it was measured.")]
    yarns: Annotated[list[_KeptUsed], Field(max_length=MOST_YARNS_USED, description="How much of each was used.")]
    before_cm: Annotated[_Measured | None, Field(description="The finished piece before it was blocked.")]
    after_cm: Annotated[_Measured | None, Field(description="The finished piece after it was blocked.")]
    hours: Annotated[
        Annotated[float, Field(ge=LEAST_HOURS, le=MOST_HOURS)] | None, Field(description="How long it took.")
    ]
    snags: Annotated[list[_KeptSnag], Field(max_length=MOST_SNAGS, description="What puzzled the tester.")]
    remarks: Annotated[str, Field(max_length=LONGEST_REMARKS, description="Anything else.")]


_OWN = [name for name in ReportDocument.model_fields if name not in ("format", "version")]


def report_to_json(report: PieceReport) -> str:
    """Write a report as the JSON document that the testers' form saves."""
    if not isinstance(report, PieceReport):
        raise OptionError(f"`report` must be a `PieceReport`; got {shortly(report)}.")
    said = {name: getattr(report, name) for name in _OWN}
    said |= {name: list(said[name]) for name in ("yarns", "snags", "before_cm", "after_cm") if said[name] is not None}
    return written(ReportDocument(format="mosaickit tester report", version=1, **said))


def report_from_json(text: str, design: Tested | None = None) -> PieceReport:
    """Read a report from a JSON document.

    Parameters
    ----------
    text : str
        What the file holds.
    design : Design or mapping of str to Design, optional
        The design with its editions, or one for each size, that the report is checked against: title, edition, yarns,
        rows and stitches.

    Returns
    -------
    PieceReport

    Raises
    ------
    FileError
        If it is no report, or something in it is not as it must be; the sentence names the place.
    """
    if not isinstance(text, str):
        raise OptionError(f"`text` must be the text of a report; got {shortly(text)}.")
    if design is not None:
        designs_of(design)
    document = read_document(ReportDocument, text)
    try:
        report = PieceReport(**{name: getattr(document, name) for name in _OWN})
        if design is not None:
            checked_for(report, design)
    except OptionError as error:
        raise fault((), str(error)) from None
    return report


def load_reports(paths: str | PathLike[str] | Iterable[str | PathLike[str]], design: Tested) -> tuple[PieceReport, ...]:
    """Read the reports of a round of testing, each checked against the edition it is about.

    Parameters
    ----------
    paths : path or paths
        A folder, of which every file that ends in .json is read in the order of names, or the files themselves.
    design : Design or mapping of str to Design
        The design that was tested, with its editions, or one for each size by its label.

    Returns
    -------
    tuple of PieceReport
        All of them: one that cannot be read is an error, never left out.

    Raises
    ------
    FileError
        If a file cannot be read or is no report of this design; the sentence names the file and the place in it.
    OptionError
        If `design` is not as described, or two reports of an edition have the same tester's label.
    """
    designs_of(design)
    if isinstance(paths, str | PathLike):
        folder = as_path(paths, "paths")
        files = sorted(folder.glob("*.json")) if folder.is_dir() else [folder]
        if not files:
            raise FileError(f"The folder {str(folder)!r} holds no file that ends in .json, as reports do.")
    else:
        if not isinstance(paths, Iterable):
            raise OptionError(f"`paths` must be a folder, a file or several files; got {shortly(paths)}.")
        files = [as_path(path, "paths") for path in paths]
    reports = tuple(_load(file, design) for file in files)
    checked_all(reports, design)
    return reports


def _load(file: Path, design: Tested) -> PieceReport:
    try:
        return report_from_json(decode(read_whole(file)), design)
    except MosaickitError as error:
        raise FileError(f"{file_name(file)}: {error}") from None


def schema() -> str:
    """Give the text of ``report.schema.json``."""
    return published(ReportDocument)
