"""What a PDF says, read by a library that did not write it."""

import re

import pypdf


def dense(text):
    """A text without its spaces, as lines may break anywhere."""
    return re.sub(r"\s+", "", text)


def text_of(file):
    """All text without spaces and without the feet of pages, each of which has the title and the number."""
    reader = pypdf.PdfReader(file)
    title = reader.metadata.title
    foot = dense(title if len(title) <= 60 else f"{title[:59].rstrip()}…")
    found = []
    for number, sheet in enumerate(reader.pages, 1):
        text = dense(sheet.extract_text()).removesuffix(f"{number}/{len(reader.pages)}")
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
