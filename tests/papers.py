"""What a PDF says, read by a library that did not write it."""

import re

import pypdf


def dense(text):
    """A text without its spaces, as lines may break anywhere."""
    return re.sub(r"\s+", "", text)


def text_of(file):
    """All text without spaces and without the feet of pages."""
    sheets = [sheet.extract_text() for sheet in pypdf.PdfReader(file).pages]
    assert all(re.search(r"\d+ / \d+\s*$", sheet) for sheet in sheets)
    return dense("".join(re.sub(r"\d+ / \d+\s*$", "", sheet) for sheet in sheets))


def first_row_missing(text, page):
    """The first row in words of a page that a text from `text_of` does not hold after the rows before; None if none."""
    at = 0
    for row in page.words.rows:
        at = text.find(dense(f"{row.label}: {row.text}."), at)
        if at < 0:
            return row
    return None
