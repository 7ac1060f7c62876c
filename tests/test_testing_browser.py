"""The form of a tester's report, opened from disk in Chromium with the network shut: filled in, saved, read back."""

import json
import zipfile
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from test_testing import DESIGN, FULL, NAMES, ROWS, STITCHES

import mosaickit as mk

HOSTILE = 'Scarf </script><b> "x" & {{ 1 }}'


@pytest.fixture
def form(quiet_page, tmp_path):
    """Open the form of a design: form(design, **options) as page."""

    def opened(design=DESIGN, **options):
        file = mk.publish.report_form(design, tmp_path / "report.html", replace=True)
        address = file.as_uri()
        return quiet_page(address, lambda url: url == address or url.startswith("blob:"), **options)

    return opened


def fill(page, answers):
    for name, value in answers.items():
        if page.locator(f"#{name}").evaluate("each => each.tagName") == "SELECT":
            page.select_option(f"#{name}", value)
        else:
            page.fill(f"#{name}", value)


def saved(page, folder):
    with page.expect_download() as download:
        page.click("#save")
    file = folder / download.value.suggested_filename
    download.value.save_as(file)
    return file


ANSWERS = {
    "tester": " Blue heron ",
    "hook": "4,5",
    "hours": "12.5",
    "snag1-row": "4",
    "snag1-stitch": "2",
    "snag1-kind": "error",
    "snag1-text": "The count is one short.",
    "yarn1-amount": "20.5",
    "yarn1-ball-metres": "115",
    "yarn1-ball-grams": "50",
    "yarn0-unit": "metres",
    "before-width": "30.5",
    "before-length": "20",
    "after-width": "31.2",
    "after-length": "21",
    "gauge-stitches": "15",
    "gauge-rows": "17.5",
    "gauge-over": "in",
    "gauge-blocked": "no",
    "remarks": "A pleasure.\nThe ends took an evening.",
}


@pytest.mark.parametrize("width", [1280, 390])
def test_a_report_is_filled_in_saved_and_read_back_strictly(form, tmp_path, width):
    with form(viewport={"width": width, "height": 844}) as page:
        fill(page, {**ANSWERS, "yarn0-amount": str(FULL.yarns[0].metres)})
        for number, one in enumerate(FULL.snags[1:], 2):
            page.click("#add")
            assert page.evaluate("document.activeElement.id") == f"snag{number}-row"
            fill(page, {f"snag{number}-row": str(one.row or ""), f"snag{number}-text": one.text})
        file = saved(page, tmp_path)
        assert file.name == "pebble-scarf-edition-1-blue-heron.json"
        expect(page.locator("#saved")).to_contain_text("Send this file to the designer")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    (read,) = mk.testing.load_reports([file], DESIGN)
    assert read == FULL


def test_what_is_typed_is_kept_until_the_page_is_opened_again(form, tmp_path):
    with form() as page:
        page.click("#add")
        page.click("#add")
        fill(page, {"tester": "B", "snag3-row": "7", "snag3-text": "Which loop?"})
        page.click("[data-number='2'] button")
        page.reload()
        assert page.input_value("#tester") == "B"
        assert page.eval_on_selector_all("#snags > li", "items => items.map(i => i.dataset.number)") == ["1", "3"]
        report = mk.testing.report_from_json(saved(page, tmp_path).read_text("utf-8"), DESIGN)
    assert report.snags == (mk.testing.Snag("Which loop?", row=7),)  # a note left empty is none


WRONG = {
    "hook": ("400", "Type a number from 0.4 to 40 mm."),
    "hours": ("two", "Type a number from 0.1 to 10000 hours."),
    "snag1-row": (str(ROWS + 1), f"Type a whole number from 1 to {ROWS}."),
    "snag1-stitch": (str(STITCHES + 1), f"Type a whole number from 1 to {STITCHES}."),
    "yarn0-amount": ("0", "Type a number from 0.1 to 100000."),
    "gauge-rows": ("5000", "Type a number from 0.2 to 1000."),
    "after-width": ("", "Fill in both, or neither."),
    "snag1-text": ("x" * 501, "At most 500 characters fit; these are 501."),
    "remarks": ("\x07", "A character in it cannot be printed."),
    "tester": ("  ", "Give a letter or a made-up name."),
}


def test_each_wrong_answer_is_named_at_its_field_and_nothing_is_saved(form, tmp_path):
    good = {"tester": "A", "snag1-text": "Hm.", "after-width": "20", "after-length": "20", "gauge-stitches": "15"}
    good |= {"gauge-rows": "15"}
    with form() as page:
        page.on("download", lambda _: pytest.fail("a wrong report was saved"))
        for name, (value, said) in WRONG.items():
            fill(page, {**good, "snag1-row": "", "snag1-stitch": "", "hook": "", "hours": "", "yarn0-amount": ""})
            page.fill("#remarks", "")
            if name == "snag1-stitch":
                page.fill("#snag1-row", "1")
            page.fill(f"#{name}", value)
            page.click("#save")
            assert page.locator(f"#{name}").get_attribute("aria-invalid") == "true", name
            assert said in page.text_content(f"#{name}-wrong")
            assert page.locator("#wrongs li").count() == 1, name
            assert page.evaluate("document.activeElement.id") == "wrongs"
            page.keyboard.press("Tab")
            page.keyboard.press("Enter")
            assert page.evaluate("document.activeElement.id") == name
        assert Axe().run(page).violations_count == 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_against_the_form(form, scheme):
    with form(color_scheme=scheme, viewport={"width": 390, "height": 844}) as page:
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()


def test_no_more_notes_are_offered_than_a_report_may_have(form, tmp_path):
    most = mk.sizes.REPORT_LIMITS["snags"][1]
    with form() as page:
        page.fill("#tester", "D")
        page.evaluate("for (let more = 0; more < 300; more += 1) document.getElementById('add').click()")
        assert page.locator("#snags > li").count() == most
        for text in page.query_selector_all("[data-part='text']"):
            text.fill("Hm.")
        report = mk.testing.report_from_json(saved(page, tmp_path).read_text("utf-8"), DESIGN)
        assert len(report.snags) == most
        page.click("[data-number='2'] button")
        assert page.is_enabled("#add")


def test_lengths_in_inches_are_saved_in_cm_and_hostile_titles_do_no_harm(form, tmp_path):
    design = DESIGN.but(title=HOSTILE, editions=[], in_the_round=True, edges=0).edition("sent")
    with form(design) as page:
        assert HOSTILE in page.text_content("header")
        fill(page, {"tester": "C", "unit": "in", "after-width": "10", "after-length": "4"})
        file = saved(page, tmp_path)
    report = mk.testing.report_from_json(file.read_text("utf-8"), design)
    assert report.after_cm == (25.4, 10.16)
    assert report.design == HOSTILE


def test_a_pack_holds_the_pattern_twice_and_the_form(tmp_path):
    file = mk.publish.pack_for_testers(DESIGN, tmp_path / "pack.zip")
    with zipfile.ZipFile(file) as packed:
        assert packed.testzip() is None
        assert packed.namelist() == ["pattern.pdf", "pattern.html", "report.html"]
        assert packed.read("pattern.pdf").startswith(b"%PDF-")
        form = packed.read("report.html").decode()
        assert "Pebble scarf" in packed.read("pattern.html").decode()
    data = json.loads(form.partition('id="form-data">')[2].partition("</script>")[0])
    assert data["yarns"] == NAMES
    assert data["balls"] == [[105, 50], [105, 50]]
    assert data["report"]["size"] == ""
    sized = mk.publish.report_form(DESIGN, tmp_path / "form.html", size="L").read_text("utf-8")
    assert '"size": "L"' in sized
    assert "edition 1, size L" in sized
    again = mk.publish.pack_for_testers(DESIGN, Path(tmp_path) / "again.zip")
    assert again.read_bytes() == file.read_bytes()


@pytest.mark.parametrize("verb", ["report_form", "pack_for_testers"])
def test_what_is_not_kept_as_an_edition_is_not_sent_to_testers(tmp_path, verb):
    write = getattr(mk.publish, verb)
    with pytest.raises(mk.errors.OptionError, match="`design` changed since its last edition, so no report could say"):
        write(DESIGN.but(title="Other"), tmp_path / "a.zip")
    with pytest.raises(mk.errors.OptionError, match="`design` has no edition"):
        write(DESIGN.but(editions=[]), tmp_path / "a.zip")
    assert list(tmp_path.iterdir()) == []
