"""The page of a square worked from the centre: all of it in one file, with its cautions, and nothing from outside."""

import re

import numpy as np
import pytest
from bs4 import BeautifulSoup
from test_centre import near_plain, plain_rounds

import mosaickit as mk
from mosaickit.centre import CentreChart, chart
from mosaickit.errors import StitchError

GAUGE = mk.Gauge(16.4, 16.4, over=4, unit="in")


def page_of(subject, tmp_path, **options):
    path = mk.publish.html_from_centre(subject, tmp_path / "page.html", gauge=GAUGE, **options)
    return BeautifulSoup(path.read_text("utf-8"), "html.parser")


def test_a_page_holds_cautions_first_then_size_yarn_chart_and_rounds(tmp_path):
    subject = chart(near_plain(5, [(-3, 0), (0, 4)]))
    page = page_of(subject, tmp_path)
    assert [head.get_text() for head in page("h2")] == ["Take care", "Size and yarn", "Chart", "Words"]
    assert page.h3.get_text() == "Never tried on wool"
    assert page.h1.get_text() == page.title.get_text() == "A square from the centre"
    assert "About 6.8 cm (2.7 in) square" in page.get_text()
    assert [item.get_text() for item in page.select(".rows li")] == mk.centre.write(subject).splitlines()[-5:]
    drawn = page.find("svg")
    assert [text.get_text() for text in drawn("text")] == ["2", "3", "4", "5", "← rounds start"]
    assert "Small parts" not in page.get_text()


def test_a_page_for_children_in_uk_terms_says_more(tmp_path):
    page = page_of(chart(near_plain(3, [])), tmp_path, terms="UK", for_children=True)
    assert "Small parts" in page.get_text()
    assert "Rnd 1 (MC): 8 dc in ring. (8 sts)" in page.get_text()


def test_a_page_asks_nobody_and_takes_a_name_as_text(tmp_path):
    subject = chart(mk.centre.CentreOut(near_plain(3, []).motif.named('<b>"Bold" & co</b>')))
    page = page_of(subject, tmp_path)
    assert page.h1.get_text() == '<b>"Bold" & co</b>'
    assert not page("b")
    assert not page(["script", "link", "iframe"])
    assert all(image["src"].startswith("data:image/png;base64,") for image in page("img"))
    policy = page.find("meta", {"http-equiv": "Content-Security-Policy"})["content"]
    assert re.fullmatch(r"default-src 'none'; img-src data:; style-src 'sha256-[\w+/=]+'; .*", policy)
    assert policy.endswith("base-uri 'none'; form-action 'none'")
    assert mk.centre.read(mk.centre.write(subject)).name == subject.name


def test_a_large_square_is_whole_on_its_page(tmp_path):
    drawn = page_of(chart(near_plain(61, [])), tmp_path).find("svg")
    assert "61" in [text.get_text() for text in drawn("text")]
    assert float(drawn["width"]) > 16 * 123


def test_what_no_hook_makes_has_no_page(tmp_path):
    rounds = plain_rounds(2)
    rounds[1][0] = mk.Stitch.FLDC
    subject = CentreChart(tuple(map(np.array, rounds)), ("MC", "CC"))
    with pytest.raises(StitchError, match="no front loop"):
        page_of(subject, tmp_path)
    assert not list(tmp_path.iterdir())
