"""A page as a tagged PDF, set by Typst.

Texts reach the document as data, in a JSON file that exists in memory only, and never as source; pictures are vectors
with a text for those who cannot see them. The compiler's own switch holds the document to PDF/UA-1 (ISO 14289-1): it
refuses pictures without a text, skipped headings and characters that no font holds.
"""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from math import ceil
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from mosaickit.doors import late
from mosaickit.errors import OptionError, PublishError, one_of, true_or_false, within
from mosaickit.files import Owner, save_bytes
from mosaickit.publish import contents
from mosaickit.publish.booklet import SIZE_MM, laid_in_twos
from mosaickit.publish.chart_words import key_words
from mosaickit.publish.charts import Drawings
from mosaickit.publish.fonts import FONTS, font_folders
from mosaickit.publish.metadata import known_of_itself
from mosaickit.publish.page import Page, texts
from mosaickit.publish.paper_charts import FORM_SIZES, FormSizes, PaperFiles, charts_on_paper
from mosaickit.publish.pictures import photographs, said_of_photographs, yarn_views
from mosaickit.publish.poster import MM, poster_files
from mosaickit.publish.poster import TEMPLATE as POSTER
from mosaickit.publish.printed import printed_words, row_tables, tables_of_sizes
from mosaickit.publish.schematic import schematic
from mosaickit.publish.sized_charts import in_order, sized_charts
from mosaickit.publish.sizes_told import of_size
from mosaickit.publish.translating import Translator, translated
from mosaickit.svg import ChartMarks, Marks, marks_of

if TYPE_CHECKING:
    import typst
else:
    typst = late("typst")

Form = Literal["regular", "large print", "low ink", "booklet", "poster"]
Paper = Literal["a4", "us-letter"]

FORMS: tuple[Form, ...] = ("regular", "large print", "low ink", "booklet", "poster")
"""The forms in which a pattern is printed."""
PAPERS: tuple[Paper, ...] = ("a4", "us-letter")
"""The papers that it is printed on."""

SIZES_MM: dict[Paper, tuple[float, float]] = {"a4": (210, 297), "us-letter": (215.9, 279.4)}
_LETTER = 0.5  # of the size of type: how wide a letter is
_TEMPLATE = Path(__file__).with_name("pattern.typ").read_bytes()


def pdf(
    page: Page,
    path: str | PathLike[str],
    *,
    form: Form = "regular",
    paper: Paper = "a4",
    system_fonts: bool = False,
    marks: Marks = "symbols",
    in_full: bool = False,
    design: str = "",
    replace: bool = False,
) -> Path:
    """Set a page as a tagged PDF.

    Parameters
    ----------
    page : Page
        What `pattern` gives.
    path : path
        The file; its folder must be there.
    form : "regular", "large print", "low ink", "booklet" or "poster"
        Large print has type of 18 points and more, one column, and squares of at least 7 mm. Low ink fills no
        squares and has no photographs: regions of CC are outlined, and thin lines tell up to five yarns apart. A
        booklet has pages of half the size, two on each side of a sheet: print it on both sides, turned at the short
        edge, and fold it in the middle. It has no tags for screen readers. A poster is the whole chart alone, in
        squares of 7 mm over sheets that are taped together.
    paper : "a4" or "us-letter"
        The paper. Charts too large for a page are cut into parts, each with a map that shows where it lies.
    system_fonts : bool
        Whether to look for characters in this computer's fonts where the built-in ones lack them. The file then hangs
        on the computer; otherwise the same page gives the same bytes everywhere.
    marks : "symbols", "plain", "letters" or mapping
        How the chart marks its stitches: by symbols, not at all, by the usual letters, or by letters of your own, as
        ``{"sc": "s", "FLdc": "X", "tog-b": "b", "tog-f": "f"}``.
    in_full : bool
        Whether the whole chart is drawn. Otherwise a repeat that comes again is charted once, in a box that says how
        often it is worked, and the whole piece is shown in small.
    design : str
        What the pattern is known by where its own earlier file is there. Left out, it is the page's title.
    replace : bool
        Whether to replace whatever file is there. Otherwise only the same design's own earlier file is, if nothing
        changed it since.

    Returns
    -------
    Path
        The file, written whole.

    Raises
    ------
    PublishError
        If no font holds a character; names it and its field.
    OptionError
        If an argument is not as described.
    TakenError
        If a file of another design is there, or one that was changed since; names a free name.
    FileError
        If the file cannot be written; what was there before is then untouched.
    """
    files = _checked_files(page, form, paper, system_fonts, marks, in_full)
    data = _set(page, files, system_fonts, marks)
    if form == "booklet":
        data = laid_in_twos(data, paper, Translator(page).data(known_of_itself(page)))
    return save_bytes(path, data, Owner.named("pattern", design, page.title), replace=replace)


def sheets(
    page: Page,
    *,
    form: Form = "regular",
    paper: Paper = "a4",
    system_fonts: bool = False,
    marks: Marks = "symbols",
    in_full: bool = False,
    dpi: float = 100,
) -> tuple[bytes, ...]:
    """Set a page and give each sheet of paper as a PNG picture, to look at before it is printed.

    Parameters
    ----------
    page : Page
        What `pattern` gives.
    form, paper, system_fonts, marks, in_full
        As `pdf` takes them.
    dpi : float
        Pixels an inch, 20 to 600.

    Returns
    -------
    tuple of bytes
        One picture for each sheet, as the PDF has them; of a booklet one for each page, in the order of reading.

    Raises
    ------
    PublishError, OptionError
        As `pdf` does.
    """
    files = _checked_files(page, form, paper, system_fonts, marks, in_full)
    dpi = within("dpi", dpi, 20, 600)
    _set(page, files, system_fonts, marks)  # refuses what the PDF would
    pictures = compiled(files, system_fonts, format="png", ppi=dpi)
    return (pictures,) if isinstance(pictures, bytes) else tuple(pictures)


def _checked_files(
    page: Page, form: Form, paper: Paper, system_fonts: bool, marks: Marks, in_full: bool
) -> dict[str, bytes]:
    true_or_false("system_fonts", system_fonts)
    if not isinstance(page, Page):
        raise OptionError(f"`page` must be a `Page`, as `mk.pattern` gives; got {page!r}.")
    one_of("form", form, FORMS)
    one_of("paper", paper, PAPERS)
    true_or_false("in_full", in_full)
    if form == "poster":
        return {"main": POSTER, **poster_files(Drawings(page, page.terms), marks_of(marks), SIZES_MM[paper])}
    return {"main": _TEMPLATE, **_files(page, form, paper, marks_of(marks), in_full=in_full)}


def _set(page: Page, files: dict[str, bytes], system_fonts: bool, marks: Marks) -> bytes:
    try:
        data: bytes = compiled(files, system_fonts, pdf_standards=["ua-1"])
    except typst.TypstError as err:
        raise _as_publish_error(page, str(err), system_fonts, marks_of(marks)) from None
    return data


def compiled(files: dict[str, bytes], system_fonts: bool, **options: Any) -> Any:  # noqa: ANN401 — as the typesetter
    """Let the typesetter make a document, or pictures, of files; a fault is the typesetter's own `TypstError`."""
    folders = list(font_folders())
    return typst.compile(files, ignore_system_fonts=not system_fonts, font_paths=folders, **options)


def _as_publish_error(page: Page, said: str, system_fonts: bool, marks: ChartMarks) -> PublishError:
    missing = re.search(r'the text `"(.+?)"` could not be displayed', said)
    if missing is None:
        return PublishError(f"The page could not be set in type; the typesetter says: {said}.")
    character = re.sub(r"\\u\{([0-9a-f]+)\}", lambda code: chr(int(code[1], 16)), missing[1])
    # a yarn's name stands in every row of it too: the shortest way there is where it was given
    field = min((field for field, text in texts(page) if character in text), key=len, default="")
    where = f"`{field}` of the page" if field else "The page"
    if not field and character in "".join(marks.letters):
        field, where = "marks", "A letter of `marks`"
    cure = "write it without that character" if system_fonts else "write it without, or try system_fonts=True"
    point = f"U+{ord(character[0]):04X}"
    fonts = "none of the fonts here" if system_fonts else "none of the built-in fonts"
    return PublishError(f"{where} holds {character!r} ({point}), which {fonts} can show: {cure}.", field, character)


# ---- the files that the template reads ---------------------------------------------------------------------


def _files(page: Page, form: Form, paper: Paper, marks: ChartMarks, *, in_full: bool) -> dict[str, bytes]:
    sizes, files = FORM_SIZES[form], PaperFiles()
    drawings = Drawings(page, page.terms)
    foot = contents.foot(page)
    size = SIZE_MM[paper] if form == "booklet" else SIZES_MM[paper]
    width, height = ((side - 2 * sizes.margin_mm) * MM for side in size)
    lines = ceil(len(foot) * _LETTER * sizes.small / (width - 6 * sizes.small))
    # the foot begins at 30 percent of its margin, and ends 5 mm above the edge of the paper, where printers reach
    foot_mm = max(sizes.margin_mm, (1.16 * lines * max(sizes.small, 9) / MM + 5) / 0.7)
    height -= (foot_mm - sizes.margin_mm) * MM
    room = (width, height)
    own = page.publishing
    words = printed_words(page, page.terms)
    charts = sized_charts(page, page.terms, in_full=in_full)
    views = [whole.in_full if in_full else whole.once for whole in in_order(page, charts)]
    tables = row_tables(page, views, brief=form == "large print")
    told = {
        **known_of_itself(page),
        "foot-margin": foot_mm * MM,
        "fonts": FONTS,
        "size": [side * MM for side in size],
        "margin": sizes.margin_mm * MM,
        "body": sizes.body,
        "small": sizes.small,
        "filled": sizes.filled,
        "large": form == "large print",
        "row-word": contents.row_word(page),
        "intro": contents.paragraphs(page.intro),
        "facts": contents.facts(page, page.terms),
        "yarns": contents.yarn_lines(page),
        "labels": contents.yarn_labels(page),
        "notions": contents.notions(page),
        "care-line": contents.care_line(page),
        "edge-steps": words.finishing,
        "finishing": contents.paragraphs(own.finishing),
        "blocking": contents.paragraphs(own.blocking),
        "schematic": files.add("schematic", schematic(page, (0.62 * room[0], 0.3 * room[1]), sizes.small)),
        "about": contents.about(page),
        "contrast": contents.contrast_lines(page),
        "between": contents.about_yarn(page),
        "abbreviations": words.abbreviations,
        "special": words.special,
        "foundation": words.foundation,
        "remarks": words.remarks,
        "rows": words.rows,
        "tables": [asdict(table) for table in tables],
        "size-tables": [asdict(table) for table in tables_of_sizes(page, sizes.most_sizes)],
        "of-size": of_size(page),
        "notes": [contents.paragraphs(note) for note in page.notes],
        "cautions": page.cautions,
        "cover": _cover(page, drawings, sizes, room, files),
        "photographs": [
            files.add_pixels(f"photograph{number}", each, (room[0], 0.45 * room[1]))
            for number, each in enumerate(photographs(page)[1:] if sizes.filled else (), 1)
        ],
        "no-photographs": said_of_photographs(page, filled=sizes.filled),
        "faces": [
            {"side": side, **files.add(side, drawings.face(side, (room[0], 0.36 * room[1]), filled=sizes.filled))}
            for side in ("front", "back")
        ],
        "key": [
            {"name": name, **files.add(f"key{number}", picture)}
            for number, (name, picture) in enumerate(drawings.key(1.6 * sizes.body, marks, filled=sizes.filled))
        ],
        "yarn-key": contents.yarn_key(page),
        "key-words": key_words(drawings, marks, filled=sizes.filled),
        "charts": [charts_on_paper(chart, number, sizes, marks, room, files) for number, chart in enumerate(charts, 1)],
    }
    translator = Translator(page)
    put = {**translator.data(told), "row-word": told["row-word"], "say": translator.labels()}
    return {"page.json": json.dumps(put).encode(), **translated(files.kept, translator)}


def _cover(
    page: Page, drawings: Drawings, sizes: FormSizes, room: tuple[float, float], files: PaperFiles
) -> list[dict[str, Any]]:
    """Show the first photograph, or else the fabric as its yarn lies: the front, and below it back and detail."""
    whole, half = (room[0], 0.34 * room[1]), (0.48 * room[0], 0.17 * room[1])
    shown = (photographs(page)[:1] or yarn_views(page)) if sizes.filled else ()
    if not shown:
        face = files.add("cover0", drawings.face("front", whole, filled=sizes.filled))
        cc = "" if sizes.filled else "Regions with dots" if drawings.outlined(whole) else "Grey regions"
        return [{**face, "caption": contents.cover_words(page, cc)}]
    return [files.add_pixels(f"cover{number}", each, half if number else whole) for number, each in enumerate(shown)]
