"""The page of the gallery, opened from disk in Chromium with the network shut: found by keyboard, open to all."""

from functools import partial
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

INDEX = Path(__file__).parent.parent / "gallery" / "index.html"


@pytest.fixture
def opened(quiet_page):
    """Open the page; it fails if it asks for anything but itself or complains."""
    return partial(quiet_page, INDEX.as_uri(), lambda url: url == INDEX.as_uri())


def shown(page):
    return page.eval_on_selector_all("#cards > li", "items => items.filter(i => i.checkVisibility()).map(i => i.id)")


def test_search_and_filters_work_by_keyboard(opened):
    with opened() as page:
        everything = shown(page)
        assert len(everything) >= 24
        page.keyboard.press("Tab")  # past the articles by the link to the motifs
        assert page.evaluate("document.activeElement.textContent") == "To the motifs"
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.id") == "search"
        page.keyboard.type("MOTH plum")
        assert shown(page) == ["night-moth"]
        assert page.text_content("#count") == f"1 of {len(everything)} motifs"
        page.keyboard.press("Escape")
        assert shown(page) == everything

        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.id") == "style"
        page.keyboard.type("botanical")
        of_style = shown(page)
        assert "seed" in of_style
        assert set(page.eval_on_selector_all("#cards > li:not([hidden])", "i => i.map(x => x.dataset.style)")) == {
            "botanical"
        }
        for _ in range(3):
            page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.id") == "symmetry"
        page.keyboard.type("mirrored up-down")
        assert 0 < len(shown(page)) < len(of_style)

        page.focus("#search")
        page.keyboard.type("no such thing")
        assert shown(page) == []
        assert page.is_visible("#nothing")
        for _ in range(5):
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        expect(page.locator("#nothing")).to_be_hidden()
        assert shown(page) == everything
        assert page.input_value("#search") == ""


def test_a_word_finds_what_begins_with_it_in_either_spelling_and_by_other_words_for_it(opened):
    with opened() as page:

        def found(words):
            page.fill("#search", words)
            return set(shown(page))

        assert found("owl") == found("owls") == found("OWL") == {"tawny-owl"}
        assert found("tea") == {"teacups"}, "no part of steady"
        assert found("ring") == {"mushroom-ring"}, "no part of a string"
        assert found("plow") == found("ploughed") == {"ploughed-hill"}
        assert found("harbor") == found("harbour") == {"harbour-boat"}
        assert found("flower") == found("blossoms") == {"sunflower", "tulip-row"}
        assert found("letters") == found("alphabet") >= {"alphabet-sampler", "good-night", "slow-rows"}
        assert found("frame") == found("edging") == found("borders") > found("north star") == {"north-star"}
        assert found("gentle botanical") == {"seed"}
        assert found("sno") == {"snow-crystal"}
        page.evaluate("document.querySelector('#filters').reset()")


@pytest.mark.parametrize("name", ["style", "size", "difficulty", "symmetry"])
def test_every_choice_of_a_filter_shows_some_motifs_and_not_all(opened, name):
    with opened() as page:
        everything = len(shown(page))
        for choice in page.eval_on_selector_all(f"#{name} option", "all => all.slice(1).map(one => one.value)"):
            page.select_option(f"#{name}", choice)
            assert 0 < len(shown(page)) < everything, choice


def test_without_javascript_the_page_is_a_plain_list(opened):
    with opened(java_script_enabled=False) as page:
        assert page.locator("#cards > li").count() >= 24
        assert page.locator("#tulip-row svg").first.is_visible()
        assert not page.is_visible("#filters")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_axe_finds_nothing_and_nothing_runs_over_the_side(opened, scheme, width):
    with opened(color_scheme=scheme) as page:
        page.set_viewport_size({"width": width, "height": 900})
        page.eval_on_selector("details", "one => (one.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert [fault["id"] for fault in Axe().run(page).response["violations"]] == []
