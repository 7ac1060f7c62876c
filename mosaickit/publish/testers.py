"""A tester's pack: the pattern on paper and on a screen, and the form of her report, a page that needs no network.

The form holds the yarns, the counts of rows and stitches and every limit of a report as JSON, so that it refuses what
`mk.testing.load_reports` would refuse. It sends nothing: what is typed stays on the device, and the report is a file
that the tester saves and sends herself.
"""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Iterable
from hashlib import sha256
from os import PathLike
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from mosaickit.errors import OptionError, each_of_kind, of_kind, true_or_false
from mosaickit.files import Owner, as_path, ask_first, save_bytes
from mosaickit.publish.filling import page_of
from mosaickit.publish.paper import Paper, pdf
from mosaickit.publish.screen import JINJA, html, policy_of
from mosaickit.sizes import REPORT_LENGTHS, REPORT_LIMITS, Design, Photograph, check_size_label, totals_of

_HERE = Path(__file__).parent
_STYLE = "".join((_HERE / name).read_text("utf-8") for name in ("pattern.css", "tester_form.css"))
_SCRIPT = (_HERE / "tester_form.js").read_text("utf-8")
_TEMPLATE = JINJA.get_template("tester_form.html.j2")
_NO_TIME = (1980, 1, 1, 0, 0, 0)  # so that the same pack has the same bytes


def report_form(design: Design, path: str | PathLike[str], *, size: str = "", replace: bool = False) -> Path:
    """Write the form of a tester's report as one HTML file that needs no network.

    Parameters
    ----------
    design : Design
        What is tested: its last edition, which nothing may have changed since.
    path : path
        The file; its folder must be there.
    size : str
        The label of its size, where the pattern has several.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file, written whole. It checks what is typed by the limits of a report, keeps it on the tester's device and
        saves it as the JSON file that `mk.testing.load_reports` reads.

    Raises
    ------
    OptionError
        If an argument is not as described, the design has no gauge, or it is not as its last edition.
    UnworkableError
        If the design cannot be worked.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    tested = _tested(design, size)
    owner = Owner.named("tester's form", "", design.title)
    return save_bytes(path, _form(tested, len(design.editions), size).encode(), owner, replace=replace)


def pack_for_testers(
    design: Design,
    path: str | PathLike[str],
    *,
    size: str = "",
    photographs: Iterable[Photograph] | None = None,
    paper: Paper = "a4",
    replace: bool = False,
) -> Path:
    """Write what a tester needs as one zip file: the pattern as PDF and HTML, and the form of her report.

    Parameters
    ----------
    design : Design
        What is tested: its last edition, which nothing may have changed since, so that every report says what it is
        about. `Design.edition` keeps one.
    path : path
        The file, which ends in .zip; its folder must be there.
    size : str
        The label of its size, where the pattern has several: each size has its own pack.
    photographs : Photographs
        As `Design.page` takes them.
    paper : "a4" or "us-letter"
        The paper of the PDF.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file, written whole. The same design gives the same bytes.

    Raises
    ------
    OptionError
        If an argument is not as described, the design has no gauge, or it is not as its last edition.
    UnworkableError
        If the design cannot be worked.
    PublishError
        If the PDF cannot be set.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    tested = _tested(design, size)
    shots = design.photographs if photographs is None else each_of_kind("photographs", photographs, Photograph)
    owner = Owner.named("tester's pack", "", design.title)
    if as_path(path).suffix.lower() != ".zip":
        raise OptionError(f"`path` must end in .zip; got {as_path(path).name!r}.")
    if not true_or_false("replace", replace):
        ask_first(path, owner)
    page = page_of(tested, shots)
    held = io.BytesIO()
    with TemporaryDirectory() as folder, zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        made = [
            pdf(page, Path(folder) / "pattern.pdf", paper=paper),
            html(page, Path(folder) / "pattern.html"),
        ]
        for name, content in (
            *((file.name, file.read_bytes()) for file in made),
            ("report.html", _form(tested, len(design.editions), size).encode()),
        ):
            entry = zipfile.ZipInfo(name, _NO_TIME)
            entry.create_system = 3  # wherever it is made
            entry.compress_type, entry.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
            packed.writestr(entry, content)
    return save_bytes(path, held.getvalue(), owner, replace=replace)


def _tested(design: Design, size: str) -> Design:
    """Give the last edition of a design, or raise `OptionError` if it is not what the design is now."""
    of_kind("design", design, Design)
    check_size_label(size)
    if not design.editions or design.editions[-1].design != design.but(editions=()):
        why = "changed since its last edition" if design.editions else "has no edition"
        raise OptionError(
            f"`design` {why}, so no report could say what it is about: keep what testers work from first, "
            'design = design.edition("sent to testers").'
        )
    return design.editions[-1].design


def _span(name: str, unit: str = "") -> dict[str, Any]:
    least, most = REPORT_LIMITS[name]
    return {"least": least, "most": most, "unit": unit}


def _form(tested: Design, edition: int, size: str) -> str:
    rows, stitches = tested.chart.shape
    totals = list(totals_of(tested).values())
    report = {"format": "mosaickit tester report", "version": 1, "design": tested.title, "edition": edition}
    data: dict[str, Any] = {
        "report": {**report, "size": size},
        "yarns": [total.yarn.name for total in totals],
        "balls": [None if total.skein is None else [total.skein.metres, total.skein.grams] for total in totals],
        "limits": {
            "label": REPORT_LENGTHS["tester"],
            "snag": REPORT_LENGTHS["snag"],
            "remarks": REPORT_LENGTHS["remarks"],
            "hook": _span("hook_mm", "mm"),
            "hours": _span("hours", "hours"),
            "used": _span("used"),
            "ball": _span("used"),
            "length": _span("cm", "cm"),
            "gauge": {"least": 0.2, "most": 1000},  # a stitch is from 0.01 to 100 cm wide
            "snags": _span("snags"),
            "row": {"least": 1, "most": rows, "whole": True},
            "stitch": {"least": 1, "most": stitches, "whole": True},
        },
    }
    data["key"] = sha256(json.dumps(data, sort_keys=True).encode()).hexdigest()[:16]
    return _TEMPLATE.render(
        policy=policy_of(_STYLE, _SCRIPT),
        style=_STYLE,
        script=_SCRIPT,
        title=tested.title,
        edition=edition,
        size=size,
        rows=rows,
        stitches=stitches,
        in_the_round=tested.surround.in_the_round,
        yarns=[total.yarn for total in totals],
        data=re.sub("[<\u2028\u2029]", lambda found: f"\\u{ord(found[0]):04x}", json.dumps(data)),
    )
