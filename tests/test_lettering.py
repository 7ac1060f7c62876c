"""Lettering: laws of setting, an outside rendering of the open font, and letters that are still read once mended."""

import gzip
import string
import sys
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest
from lab import need
from PIL import Image, ImageDraw, ImageFont
from PIL.PcfFontFile import PcfFontFile

import mosaickit as mk
from mosaickit.errors import MotifError, OptionError
from mosaickit.ideas.letters.alphabets import alphabet_named

pytestmark = pytest.mark.thorough

ROOT = Path(__file__).parent.parent
MADE = ROOT / "mosaickit" / "ideas" / "letters" / "open.txt"
FONT = Path("/usr/share/fonts/X11/misc")
ALPHABETS = mk.ideas.ALPHABET_NAMES
IN_LINES = ("capitals", "tall")
READ = string.ascii_letters + string.digits
WESTERN = "äöüßéèêëñåøæçàáâãìíîïòóôõùúûýÿœÄÖÜÉÈÑÅØÆÇŒ€" + ".,:;!?'\"-+=/()&#%@*"


def drawn(motif, letters="CC"):
    """What shows the letters' colour, without the ground around it."""
    shows = motif.grid if letters == "CC" else ~motif.grid
    rows, columns = np.flatnonzero(shows.any(axis=1)), np.flatnonzero(shows.any(axis=0))
    return shows[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


# ---- laws --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("alphabet", ALPHABETS)
@pytest.mark.parametrize("way", mk.ideas.LINE_WAYS)
def test_every_character_is_drawn_and_can_be_worked_each_way(alphabet, way):
    for character in alphabet_named(alphabet).characters:
        made = mk.lettering(character, alphabet=alphabet, way=way)
        assert made.motif.grid.any(), character
        assert mk.check(made.motif).count("error") == 0, character
        assert alphabet not in IN_LINES or made.mended == 0, character


@pytest.mark.parametrize("alphabet", ALPHABETS)
def test_letters_of_western_europe_digits_and_signs_are_there(alphabet):
    for character in READ + WESTERN:
        assert mk.lettering(character, alphabet=alphabet).motif.grid.any()


@pytest.mark.parametrize("colour", ["MC", "CC"])
@pytest.mark.parametrize(("size", "margin"), [(1, 1), (2, 2), (3, 5)])
def test_a_line_stands_on_ground_of_the_other_colour(colour, size, margin):
    for alphabet in ALPHABETS:
        motif = mk.lettering("Anna 7", alphabet=alphabet, colour=colour, size=size, margin=margin).motif
        ground = colour == "MC"
        assert motif.shape[0] % 2 == 1
        assert motif.first != colour
        assert not motif.overlaid[[0, -1]].any()
        sides = [motif.grid[:, :margin], motif.grid[:, -margin:], motif.grid[: margin - 1], motif.grid[1 - margin :]]
        assert all((side == ground).all() for side in (sides if margin > 1 else sides[:2]))


def test_the_other_colour_is_the_counterchange():
    for alphabet in ALPHABETS:
        one, other = (mk.lettering("Ida 2", alphabet=alphabet, colour=role).motif for role in ("CC", "MC"))
        assert mk.counterchange(one) == other


@pytest.mark.parametrize("alphabet", ALPHABETS)
def test_a_line_is_as_wide_as_its_letters_and_what_is_between_them(alphabet):
    for spacing in (None, 0, 4):
        between = alphabet_named(alphabet).spacing if spacing is None else spacing
        wide = [mk.lettering(one, alphabet=alphabet, across=1).motif.shape[1] - 2 for one in "Wide"]
        line = mk.lettering("Wide", alphabet=alphabet, across=1, spacing=spacing).motif
        assert line.shape[1] == sum(wide) + 3 * between + 2


@pytest.mark.parametrize("alphabet", ALPHABETS)
def test_what_is_read_down_the_side_is_half_a_turn_of_what_is_read_up_it(alphabet):
    up, down = (mk.lettering("Kiel 9", alphabet=alphabet, way=way, mend=False).motif for way in ("up", "down"))
    assert np.array_equal(np.rot90(drawn(up), 2), drawn(down))


@pytest.mark.parametrize("alphabet", sorted(set(ALPHABETS) - set(IN_LINES)))
def test_turned_letters_are_the_letters_turned(alphabet):
    along, up = (mk.lettering("Kiel 9", alphabet=alphabet, way=way, mend=False).motif for way in ("along", "up"))
    assert np.array_equal(np.rot90(drawn(along)), drawn(up))


def test_a_size_makes_every_square_so_large():
    once = drawn(mk.lettering("Rue 4", alphabet="book", mend=False).motif)
    thrice = drawn(mk.lettering("Rue 4", alphabet="book", mend=False, size=3).motif)
    assert np.array_equal(np.kron(once, np.ones((3, 3), dtype=bool)), thrice)
    for size in (1, 2, 5):
        assert len(drawn(mk.lettering("H", size=size).motif)) == 2 * 5 * size - 1


def test_of_letters_in_lines_each_row_between_shows_what_both_beside_it_show():
    for alphabet in IN_LINES:
        for way in mk.ideas.LINE_WAYS:
            rows = drawn(mk.lettering("Quiz & Øre", alphabet=alphabet, way=way).motif)
            assert np.array_equal(rows[1::2], rows[:-1:2] & rows[2::2])


def test_letters_keep_their_proportion_at_the_gauge():
    for gauge, wide in ((None, 2), (mk.Gauge(10, 20), 1), (mk.Gauge(20, 10), 4)):
        assert mk.lettering("A", alphabet="book", size=2, gauge=gauge).across == wide


def test_small_letters_become_capitals_where_there_are_no_others():
    made = mk.lettering("Groß")
    assert made.characters == made.motif.name == "GROSS"
    assert made.motif == mk.lettering("GROSS").motif


def test_what_telephones_type_is_set_as_plain_signs():
    assert mk.lettering("“O’ Hara”–1").motif == mk.lettering('"O\' Hara"-1').motif
    assert mk.lettering("  a \t b ").characters == "A B"
    assert mk.lettering("A\N{COMBINING RING ABOVE}").characters == "Å"


# ---- the open font -----------------------------------------------------------------------------------------


def need_font():
    skipped = "Debian's xfonts-base is not installed: the open alphabets were not compared with their source."
    need(FONT.is_dir(), "xfonts-base", left_out="the source of the open alphabets", skipped=skipped)


def test_the_open_alphabets_are_what_their_source_makes(monkeypatch):
    need_font()
    monkeypatch.syspath_prepend(ROOT / "docs" / "kit")
    script = import_module("alphabets")
    monkeypatch.delitem(sys.modules, "alphabets")
    assert script.made(FONT) == MADE.read_text("utf-8")


def test_every_size_says_that_it_is_in_the_public_domain():
    notices = [line for line in MADE.read_text("utf-8").splitlines() if line.startswith("size")]
    assert len(notices) == 3
    assert all("Public domain" in notice for notice in notices)


@pytest.mark.parametrize(("alphabet", "size"), [("small", "6x10"), ("book", "9x15"), ("large", "10x20")])
def test_unmended_letters_are_those_that_an_image_library_draws(alphabet, size, tmp_path):
    need_font()
    with gzip.open(FONT / f"{size}-ISO8859-1.pcf.gz") as file:
        PcfFontFile(file, "iso8859-1").save(str(tmp_path / "font.pil"))
    font = ImageFont.load(str(tmp_path / "font.pil"))
    for character in "AgQ&8ßäÑ":
        image = Image.new("1", (20, 30))
        ImageDraw.Draw(image).text((2, 2), character.encode("latin-1"), fill=1, font=font)
        seen = mk.Motif(np.asarray(image))
        assert np.array_equal(drawn(mk.lettering(character, alphabet=alphabet, mend=False).motif), drawn(seen))


# ---- reading -----------------------------------------------------------------------------------------------


def differing(one, other):
    """The squares that differ where two pictures are laid over each other as well as they go, one square each way."""
    rows, columns = (max(sides) + 4 for sides in zip(one.shape, other.shape, strict=True))

    def laid(picture, down, right):
        sheet = np.zeros((rows, columns), dtype=bool)
        top, left = 2 + down, (columns - picture.shape[1]) // 2 + right
        sheet[top : top + picture.shape[0], left : left + picture.shape[1]] = picture
        return sheet

    still = laid(other, 0, 0)
    return min(np.count_nonzero(laid(one, y, x) != still) for y in (-1, 0, 1) for x in (-1, 0, 1))


@pytest.mark.parametrize("alphabet", ["capitals", "tall", "book", "large"])
def test_every_mended_letter_is_nearer_to_itself_than_to_any_other(alphabet):
    # set beside a letter that goes all the way up and down, so that all are equally high
    def shapes(mend):
        beside = "jÅ" if alphabet != "capitals" else "ÇÅ"
        found = {}
        for one in sorted(set(READ.upper() if alphabet == "capitals" else READ)):
            line = mk.lettering(f"{beside}{one}", alphabet=alphabet, mend=mend).motif.grid[:, :-1]
            wide = alphabet_named(alphabet).characters[one].shape[1]
            wide *= mk.lettering(one, alphabet=alphabet).across
            found[one] = line[:, line.shape[1] - wide :]
        return found

    mended, plain = shapes(True), shapes(False)
    for own, picture in mended.items():
        there = {other: differing(picture, shape) for other, shape in plain.items()}
        nearer = [other for other, squares in there.items() if squares <= there[own] and other != own]
        assert nearer == [], own


def test_where_letters_may_be_misread_a_way_that_was_tried_is_named():
    made = mk.lettering("Cecile 2", alphabet="small")
    assert made.confused
    assert made.legible.startswith("Mended, some letters may be misread: ")
    assert made.instead
    for name, size in made.instead:
        assert f'the alphabet "{name}" in size {size}' in made.legible
        assert mk.lettering("Cecile 2", alphabet=name, size=size).confused == ()
    assert mk.lettering("Cecile 2", alphabet="large").legible == ""


def test_what_was_mended_is_counted():
    made, plain = (mk.lettering("Emma", alphabet="large", mend=mend) for mend in (True, False))
    assert made.mended == np.count_nonzero(made.changed) > 0
    assert f"{made.mended} squares mended" in str(made)
    assert plain.mended == 0
    assert mk.check(plain.motif).count("error") > 0


# ---- the back ----------------------------------------------------------------------------------------------


def behind(motif):
    """The letters as the hook makes them on the back of reversible fabric, without the ground around them."""
    back = mk.work(mk.compile_chart(motif, reversible=True)).back
    return drawn(mk.Motif(back[1:-1]), "MC")  # the first and the last row show their own colours


@pytest.mark.parametrize(("text", "same"), [("OTTO", True), ("Ida", False)])
def test_the_back_is_said_as_the_hook_makes_it(text, same):
    made = mk.lettering(text, margin=3)
    front = drawn(made.motif)
    assert made.back_reads_the_same == np.array_equal(behind(made.motif), front) == same
    assert ("mirrored" in made.back) == (not same)
    assert np.array_equal(behind(mk.mirror(made.motif)), front)  # so mirroring it does help
    assert "its top row is lost there" not in made.back
    narrow = mk.lettering(text)
    assert "its top row is lost there; with a margin of 3 it is not" in narrow.back
    assert len(behind(narrow.motif)) == len(front) - 1


@pytest.mark.parametrize("alphabet", ALPHABETS)
def test_with_the_margin_that_is_named_no_row_is_lost_on_the_back(alphabet):
    for way in mk.ideas.LINE_WAYS:
        for character in alphabet_named(alphabet).characters:
            motif = mk.lettering(character, alphabet=alphabet, way=way, margin=3).motif
            assert motif.overlaid[1].all(), character


# ---- what cannot be set ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "options", "said"),
    [
        ("", {}, "There is no text to set in letters"),
        (" \t", {}, "There is no text to set in letters"),
        ("a\nb", {}, "Lettering is one line of text"),
        ("x" * 81, {}, "at most 80 characters; this one has 81"),
        ("I ☃ it", {}, "The alphabet \"capitals\" has no '☃', and no other has one"),
        ("I ♥ it", {"alphabet": "book"}, 'The alphabet "book" has no \'♥\'; there is one in "capitals"'),
        (7, {}, "`text` must be text; got 7"),
        ("a", {"alphabet": "gothic"}, "`alphabet` must be one of 'capitals', 'tall', 'small', 'book', 'large'"),
        ("a", {"size": 0}, "`size` must be a whole number from 1 to 10; got 0"),
        ("a", {"across": 1.5}, "`across` must be a whole number from 1 to 40; got 1.5"),
        ("a", {"gauge": 16}, "`gauge` must be a `Gauge` or None; got 16"),
        ("a", {"colour": "red"}, "`colour` must be one of 'MC', 'CC'; got 'red'"),
        ("a", {"way": "round"}, "`way` must be one of 'along', 'up', 'down'; got 'round'"),
        ("a", {"spacing": -1}, "`spacing` must be a whole number from 0 to 100; got -1"),
        ("a", {"margin": 0}, "`margin` must be a whole number of 1 or more; got 0"),
        ("a", {"mend": "yes"}, "`mend` must be True or False; got 'yes'"),
    ],
)
def test_what_cannot_be_set_is_refused_in_a_sentence(text, options, said):
    with pytest.raises(OptionError) as caught:
        mk.lettering(text, **options)
    assert said in str(caught.value)


def test_a_picture_larger_than_a_motif_may_be_is_refused():
    with pytest.raises(MotifError, match="A motif may have at most 10,000 rows or columns"):
        mk.lettering("M" * 80, alphabet="large", size=10, across=40)
