"""What a PDF says, read by a library that did not write it."""

import re

import pypdfium2


def dense(text):
    """A text without its spaces, as lines may break anywhere."""
    return re.sub(r"\s+", "", text)


def sheet_texts(file):
    """The text of each sheet, line by line."""
    with pypdfium2.PdfDocument(file) as document:
        return [sheet.get_textpage().get_text_bounded().replace("\r\n", "\n") for sheet in document]


def text_of(file):
    """All text without spaces and without the feet of pages, each of which has the title and the number."""
    with pypdfium2.PdfDocument(file) as document:
        title = document.get_metadata_value("Title")
    foot = dense(title if len(title) <= 60 else f"{title[:59].rstrip()}…")
    found, sheets = [], sheet_texts(file)
    for number, sheet in enumerate(sheets, 1):
        text = dense(sheet).removesuffix(f"{number}/{len(sheets)}")
        assert text.endswith(foot)
        found.append(text.removesuffix(foot))
    return "".join(found)


def first_row_missing(text, page):
    """The first row in words of a page that a text from `text_of` does not hold after the rows before; None if none."""
    at = 0
    for row in page.words.rows:
        at = text.find(dense(f"{row.label}: {row.text}."), at)
        if at < 0:
            return row
    return None
