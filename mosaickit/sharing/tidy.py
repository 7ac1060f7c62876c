"""HTML from a notebook made fit for a page that is read by everyone and asks no one for anything.

Whatever would load from elsewhere is left out and said; headings run from 1 without gaps, heads of tables say what
they are heads of, and every picture has a text.
"""

from __future__ import annotations

import re

from bs4 import BeautifulSoup, Tag

_RUNS = ("script", "iframe", "object", "embed", "link", "meta", "base", "audio", "video", "source", "template")
_LOADED = re.compile(r"url\(\s*['\"]?(?!\s*['\"]?(data:|#))[^)]*\)|@import[^;]*;?", re.IGNORECASE)
_ADDRESS = re.compile(r"(?:[a-z][a-z0-9+.-]*:|#)", re.IGNORECASE)
_MANY, _VERY_MANY = 8, 14  # columns, more than which are printed small, and very small
_HEADING = re.compile(r"h[1-6]")


class Tidier:
    """Tidies one piece after the other, and knows which heading came last.

    Attributes
    ----------
    heading : str
        The text of the last heading; empty before the first.
    level : int
        Its level; 0 before the first.
    """

    def __init__(self) -> None:
        self.heading = ""
        self.level = 0
        self._ids: set[str] = set()

    def tidy(self, html: str) -> str:
        """Tidy a piece of HTML."""
        soup = BeautifulSoup(html, "html.parser")
        _leave_out_what_loads(soup)
        for tag in soup.find_all(True):
            if _HEADING.fullmatch(tag.name):
                self._place(tag)
            if tag.get("id") in self._ids:
                del tag["id"]
            elif tag.get("id"):
                self._ids.add(str(tag["id"]))
        _head_tables(soup)
        return str(soup)

    def _place(self, heading: Tag) -> None:
        """Give a heading a level that follows from the one before."""
        self.level = min(int(heading.name[1]), self.level + 1)
        heading.name = f"h{self.level}"
        self.heading = heading.get_text(" ", strip=True)


def _leave_out_what_loads(soup: BeautifulSoup) -> None:
    for tag in soup.find_all(_RUNS):
        if tag.name == "script" and str(tag.get("type")).startswith("application/json"):
            tag.decompose()
            continue
        if tag.name in ("script", "iframe", "object", "embed", "audio", "video"):
            tag.replace_with(_note(soup, "What was here needs a script or the network, and is left out."))
        else:
            tag.decompose()
    for image in soup.find_all("img"):
        words = str(image.get("alt") or "").strip()
        if not str(image.get("src", "")).startswith("data:"):
            image.replace_with(_note(soup, f"Picture that is not in this file: {words or image.get('src', '')}"))
            continue
        image["alt"] = words or "Picture"
        del image["srcset"]
    for style in soup.find_all("style"):
        style.string = _LOADED.sub("none", style.get_text())
    for tag in soup.find_all(style=True):
        tag["style"] = _LOADED.sub("none", str(tag["style"]))
    for link in soup.find_all("a"):
        if not _ADDRESS.match(
            str(link.get("href") or "")
        ):  # of a file beside the notebook, which is not beside this page
            link.unwrap()


def _note(soup: BeautifulSoup, words: str) -> Tag:
    note = soup.new_tag("em", attrs={"class": "note"})
    note.string = words
    return note


def _head_tables(soup: BeautifulSoup) -> None:
    for head in soup.find_all("th"):
        if not head.get_text(strip=True):
            head.name = "td"
        elif "scope" not in head.attrs:
            head["scope"] = "col" if head.find_parent("thead") else "row"
    for table in soup.find_all("table"):
        del table["border"]
        columns = max((len(row.find_all(["td", "th"])) for row in table.find_all("tr")), default=0)
        if columns > _MANY:
            known = map(str, filter(None, table.get_attribute_list("class")))
            table["class"] = " ".join([*known, "many", *(["very-many"] if columns > _VERY_MANY else [])])
        table.wrap(
            soup.new_tag("div", attrs={"class": "wide", "tabindex": "0", "role": "group", "aria-label": "Table"})
        )
