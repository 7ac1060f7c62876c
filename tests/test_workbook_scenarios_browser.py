"""Whole jobs by hand in a real browser, each as a maker would go about it; what comes of them is asked of the library.

A photograph becomes the PDF of a scarf, a motif of the gallery its tenth variant in a frame, six motifs and five widths
the one scarf that ten skeins make; and once all is done with the keys alone.
"""

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from hands import CELL, MOST_GESTURES, WHERE, Gestures, Keys, kernel_killed, opened, size, took
from lab import settle
from papers import dense, first_row_missing, text_of
from PIL import Image, ImageDraw, ImageFilter

import mosaickit as mk


def saved(lab, name):
    """The files of this name that a hand saved in the lab's folder, by their endings."""
    return {file.suffix: file for file in Path(lab.root).rglob(f"{name}*.*")}


def ledger_has(page, text):
    page.locator(".mk-ledger").get_by_text(text).first.wait_for()


# ---- from a photograph -------------------------------------------------------------------------------------


def photograph(file):
    """Make the photograph of a moon above hills at dusk, with a broad dark frame around it that is no part of them."""
    rng = np.random.default_rng(5)
    sky = np.linspace(70, 150, 700)[:, np.newaxis, np.newaxis] + np.zeros((700, 560, 3)) + (0, 8, 30)
    picture = Image.fromarray((sky + rng.normal(0, 9, sky.shape)).clip(0, 255).astype(np.uint8))
    pen = ImageDraw.Draw(picture)
    pen.ellipse([320, 130, 470, 280], fill="#f6f0d2")
    pen.polygon([(70, 560), (180, 330), (290, 520), (400, 380), (490, 560)], fill="#efe7d0")
    pen.rectangle([70, 560, 490, 620], fill="#e9dfc4")
    for side in ([0, 0, 560, 70], [0, 630, 560, 700], [0, 0, 56, 700], [504, 0, 560, 700]):
        pen.rectangle(side, fill="#101010")
    picture.filter(ImageFilter.GaussianBlur(2)).save(file)
    return file


@pytest.mark.parametrize(("width", "killed"), [(1280, True), (390, False)])
def test_from_a_photograph_to_the_pdf_of_a_scarf(open_notebook, lab, tmp_path, width, killed):
    name = f"Moonrise scarf {width}"
    page = opened(open_notebook, f"photo-{width}.ipynb", CELL % f"photo-{width}.sketch", width=width)
    hand = Gestures(page)
    hand.press("Photo")
    hand.hand_in(photograph(tmp_path / "moonrise.jpg"))
    page.locator(".mk-begin-crop canvas").wait_for()
    hand.drag((0.12, 0.11), (0.88, 0.885), over=".mk-begin-crop")
    hand.fill("Stitches", 18)
    hand.unfold("Dark and light")
    hand.choose("Threshold", "set by hand")
    hand.fill("Dark up to", 60)
    hand.unfold("Gauge")
    gauge = page.get_by_role("group", name="Gauge")
    hand.fill("Stitches", 17, gauge)
    hand.fill("Rows", 19, gauge)
    now = page.locator(".mk-begin-now")
    now.get_by_text("18 stitches").wait_for()
    page.get_by_text("After: ").filter(has_text="changed").wait_for()
    hand.press("Use this picture")
    page.locator(".mk-said", has_text="From the picture moonrise.jpg: 18 stitches").wait_for()
    assert page.locator(".mk-ledger .mk-wrong").count() == 0, "the nearest that can be worked was taken"
    hand.step("Lay")
    hand.fill("Width", 22)
    hand.fill("Length", 160)
    page.wait_for_function("/Nothing fits|× 1[56]\\d/.test(document.querySelector('.mk-lay-size').innerText)")
    if page.get_by_text("Nothing fits").count():  # an odd number of rows repeats with its colours swapped
        hand.press("Every second repeat up: swaps its colours")
        page.get_by_text("Nothing fits").wait_for(state="detached")
    hand.press("Take", page.locator(".mk-lay-fits"))
    page.get_by_role("button", name="Taken", exact=True).wait_for()
    laid = size(page)
    if killed:
        kernel_killed(page)
        ledger_has(page, laid)
        hand.press("Undo", page.locator(".mk-book-head"))
        ledger_has(page, "20 stitches")
        hand.press("Redo", page.locator(".mk-book-head"))
        ledger_has(page, laid)
    hand.step("Words")
    hand.fill("Title", name)
    hand.step("Share")
    hand.press("Save PDF: On paper")
    stem = name.replace(" ", "-")
    took(page, f"{stem}.pdf")
    hand.press("Save design file: Design")
    took(page, f"{stem}.design")
    assert hand.count <= MOST_GESTURES
    files = saved(lab, stem)
    design, text = mk.load(files[".design"]), text_of(files[".pdf"])
    assert dense(name) in text
    assert first_row_missing(text, design.page()) is None
    assert (design.title, design.gauge, design.motif.shape[1]) == (name, mk.Gauge(17, 19), 18)
    assert mk.check(design.picture).ok
    assert size(page) == laid == f"{design.size.width_cm:.1f} × {design.size.length_cm:.1f} cm"
    best = mk.plan_widths(design, width=22, length=160).fits[0]
    assert (design.across, design.up) == (best.across, best.up)
    assert abs(design.size.width_cm - 22) <= 22 * 0.05
    assert abs(design.size.length_cm - 160) <= 160 * 0.05


# ---- from a motif of the gallery ---------------------------------------------------------------------------


@pytest.mark.parametrize("width", [1280, 390])
def test_from_a_motif_of_the_gallery_to_its_tenth_variant_in_a_frame(open_notebook, lab, width):
    page = opened(open_notebook, f"tenth-{width}.ipynb", CELL % f"tenth-{width}.sketch", width=width)
    hand = Gestures(page)
    hand.press("Gallery")
    gauge = page.get_by_role("group", name="Gauge")
    hand.fill("Stitches", 17, gauge)
    hand.fill("Rows", 19, gauge)
    hand.press("tulip row", exact=False)
    page.locator(".mk-said", has_text="From the gallery: tulip row").wait_for()
    motif = mk.load(Path(mk.__file__).parents[1] / "gallery" / "motifs" / "tulip-row.json")
    hand.step("Vary")
    hand.press("Hang the family")
    tiles = page.locator(".mk-vary-tile")
    tiles.nth(9).wait_for()
    family = mk.ideas.family(motif, steps=1)
    first, tenth = family[0], family[9]
    for number in (0, 9):
        hand.press("Pin", tiles.nth(number))
    tiles.nth(9).get_by_role("button", name="Unpin").wait_for()
    hand.press("Take", tiles.nth(9))
    page.locator(".mk-said", has_text=f"Taken: {tenth.name}.").wait_for()
    hand.step("Lay")
    hand.fill("Repeats across", 3)
    hand.fill("Rings of the frame", 3)
    hand.fill("Edge stitches at each side", 2)
    framed = mk.Design(tenth.motif.named("tulip row"), mk.Gauge(17, 19)).but(across=3, rings=3, edges=2)
    ledger_has(page, f"{framed.shape[1]} stitches, {framed.shape[0]} rows")
    hand.step("Vary")
    pinned = page.locator(".mk-vary-pinned > div")
    pinned.nth(1).wait_for()
    assert hand.count <= MOST_GESTURES
    pieces = [framed.but(motif=variant.motif) for variant in (first, tenth)]
    said = [shown.locator("p").all_inner_texts() for shown in pinned.all()]
    for shown, lines, variant, piece in zip(pinned.all(), said, (first, tenth), pieces, strict=True):
        assert shown.locator("strong").inner_text() == variant.name
        yarn = {f"{total.yarn.name}: {total.likely_m:.0f} m" for total in piece.usage.by_yarn}
        assert (lines[0], {*lines[1:]}) == (str(piece.size), yarn)
        assert shown.locator("canvas").first.get_attribute("height") == str(piece.shape[0])
    # what differs, as read from one to the other, is what the library says differs
    sizes = [lines[0].split(" cm")[0].split(" × ") for lines in said]
    metres = [dict(line.split(": ") for line in lines[1:]) for lines in said]
    differ = {f"{way}: {was} cm, now {now} cm" for way, was, now in zip(("Width", "Length"), *sizes, strict=True)}
    differ |= {f"{name.capitalize()}, likely: {was}, now {metres[1][name]}" for name, was in metres[0].items()}
    assert differ <= {*str(mk.compare(*pieces)).splitlines()}


# ---- from many, the one ------------------------------------------------------------------------------------

SKEIN = mk.Skein(85, 50)
SHAPES = [(12, 8), (10, 9), (14, 11), (16, 10), (12, 13), (18, 12)]
WIDTHS, LENGTH, TOLERANCE = (15, 20, 25, 30, 45), 150, 0.05
MOST_OF = {"MC": 6, "CC": 4}
ROLE_OF = {"cream": "MC", "ink blue": "CC"}
MANY_CELL = CELL.replace("autosave=", "folder='ten', autosave=")


def six_motifs(folder):
    """Write six motifs into a folder; gives them by the names of their files."""
    folder.mkdir(exist_ok=True)
    motifs = {}
    for number, (rows, stitches) in enumerate(SHAPES, 1):
        squares = np.arange(rows * stitches).reshape(rows, stitches) % (number + 4) == (number + 1) % 3
        motif = mk.nearest_workable(mk.Motif(squares, name=f"pebble {number}")).motif
        motifs[mk.save(motif, folder / f"pebble-{number}.json", replace=True).name] = motif
    return motifs


def near(wanted, got):
    return abs(got / wanted - 1) <= TOLERANCE


def the_one_of(motifs, gauge):
    """Build every piece there could be, one by one, and give the one that most of ten skeins go into."""
    pieces = []
    for motif, wanted in product(motifs.values(), WIDTHS):
        whole = mk.Design(motif, gauge).but(skeins=SKEIN)
        for across in range(1, 30):
            if not near(wanted, whole.but(across=across).size.width_cm):
                continue
            for up in range(1, 40):
                piece = whole.but(across=across, up=up)
                if near(LENGTH, piece.size.length_cm) and mk.check(piece.picture).ok:
                    pieces.append(piece)
    can = []
    for piece in pieces:
        usage = mk.yarn_usage(piece.chart, gauge, yarn_settings=piece.yarn_settings)
        if all(total.skeins <= MOST_OF[ROLE_OF[total.yarn.name]] for total in usage.by_yarn):
            can.append((usage.total_m.sum(), piece))
    return max(can, key=lambda one: one[0])[1]


@pytest.mark.parametrize(("width", "killed"), [(1280, True), (390, False)])
def test_from_six_motifs_and_five_widths_to_the_one_scarf_that_ten_skeins_make(open_notebook, lab, width, killed):
    motifs, gauge = six_motifs(Path(lab.root) / "ten"), mk.Gauge(13, 15)
    page = opened(open_notebook, f"ten-{width}.ipynb", MANY_CELL % f"ten-{width}.sketch", width=width)
    hand = Gestures(page)
    hand.press("Open")
    hand.press("pebble 1", exact=False)
    page.locator(".mk-said", has_text="Opened pebble-1.json").wait_for()
    hand.step("Yarn")
    hand.fill("Stitches", gauge.stitches)
    hand.fill("Rows", gauge.rows)
    hand.choose("Sold in", "one skein for all")
    hand.fill("Metres", f"{SKEIN.metres:g}")
    hand.fill("Grams", f"{SKEIN.grams:g}")
    ledger_has(page, "1 skein")
    hand.step("Many")
    for file in [*motifs][1:]:
        hand.tick(f"{file}, {motifs[file].shape[0]} × {motifs[file].shape[1]}")
    for wanted in WIDTHS:
        hand.tick(str(wanted), page.get_by_role("group", name="Widths in cm"))
    hand.tick(str(LENGTH), page.get_by_role("group", name="Lengths in cm"))
    page.get_by_text("30 combinations.").wait_for()
    hand.press("Work them out")
    page.get_by_text("6 of 6 parts done").wait_for()
    for role, most in MOST_OF.items():
        hand.fill(f"Skeins of {role}, at most", most)
    page.get_by_text("there are skeins enough.").wait_for()
    hand.press("Yarn (m)")
    page.locator("th[aria-sort=ascending] button", has_text="Yarn (m)").wait_for()
    hand.press("Yarn (m)")
    page.locator("th[aria-sort=descending] button", has_text="Yarn (m)").wait_for()
    hand.press("Take", page.locator(".mk-many-scroll tbody tr").first, exact=False)
    said = page.locator(".mk-said", has_text="is the design now").inner_text()
    taken = said.split(", ")[-1].split(" (")[0]
    ledger_has(page, taken)
    if killed:
        kernel_killed(page)
        ledger_has(page, taken)
    hand.step("Words")
    name = f"Ten skeins {width}"
    hand.fill("Title", name)
    hand.step("Share")
    hand.press("Save design file: Design")
    stem = name.replace(" ", "-")
    took(page, f"{stem}.design")
    assert hand.count <= MOST_GESTURES
    design = mk.load(saved(lab, stem)[".design"])
    one = the_one_of(motifs, gauge)
    assert np.array_equal(design.picture.grid, one.picture.grid)
    assert {ROLE_OF[total.yarn.name]: total.skeins for total in design.usage.by_yarn} == MOST_OF
    quiet = mk.Batch(progress=False)
    swept = mk.sweep(
        [mk.Design(motif, gauge).but(skeins=SKEIN) for motif in motifs.values()],
        width=WIDTHS, length=LENGTH, tolerance=TOLERANCE, batch=quiet,
    )  # fmt: skip
    table = swept.table[swept.table["within tolerance"] & swept.table["can be worked"]]
    for role, most in MOST_OF.items():
        table = table[table[f"{role} skeins"] <= most]
    assert swept.design(int(table["yarn m"].idxmax())).picture == design.picture
    for _ in range(2):  # the title, and the line that was taken before Python was gone
        hand.press("Undo", page.locator(".mk-book-head"))
    ledger_has(page, "10 stitches, 12 rows")


# ---- with the keys alone -----------------------------------------------------------------------------------


def test_with_the_keys_alone_from_an_empty_sheet_to_a_pdf_and_the_keyboard_is_never_lost(open_notebook, lab):
    page = opened(open_notebook, "keys.ipynb", CELL % "keys.sketch")
    while not page.evaluate(WHERE)["inside"]:
        page.keyboard.press("Tab")
    keys = Keys(page)
    for box, number in (("Stitches", "9"), ("Rows", "12")):
        keys.to(box)
        keys.type(number)
    keys.to("Begin a new sheet")
    keys.press("Enter")
    page.locator(".mk-canvas").wait_for()
    keys.at()
    keys.to("CANVAS")
    keys.press("ArrowUp", "ArrowUp", "ArrowLeft", "Space", *["Shift+ArrowLeft"] * 3)
    keys.press("ArrowUp", "ArrowUp", "ArrowRight", "Space")
    keys.to("Lay", back=True)
    keys.press("Enter")
    page.locator(".mk-lay-size").wait_for()
    keys.to("Stitches")
    keys.type("17")
    keys.to("Rows")
    page.wait_for_function("document.activeElement.value === '17'")  # the usual one, which comes with the stitches
    keys.type("19")
    keys.to("Width")
    keys.type("22")
    keys.to("Length")
    keys.type("160")
    keys.to("Sizes in")
    page.wait_for_function("/× 1[56]\\d/.test(document.querySelector('.mk-lay-fits')?.innerText)")
    keys.to("Take")
    keys.press("Enter")
    page.get_by_role("button", name="Taken", exact=True).wait_for()
    keys.at()
    keys.to("Words", back=True)
    keys.press("Enter")
    page.locator("section[aria-label=Words]").wait_for()
    keys.to("Title")
    keys.type("By keys")
    keys.to("Undo", back=True)
    page.locator(".mk-book-head h2", has_text="By keys").wait_for()
    keys.press("Enter")
    page.locator(".mk-book-head h2", has_text="By keys").wait_for(state="detached")
    keys.to("Redo")
    keys.press("Enter")
    page.locator(".mk-book-head h2", has_text="By keys").wait_for()
    settle(page)
    assert keys.at()["name"] == "Undo", "nothing is left to redo"
    keys.to("Share")
    keys.press("Enter")
    page.locator("section[aria-label=Share]").wait_for()
    for button, file in (("Save PDF: On paper", "By-keys.pdf"), ("Save design file: Design", "By-keys.design")):
        keys.to(button)
        keys.press("Enter")
        took(page, file)
        keys.at()
    files = saved(lab, "By-keys")
    design, text = mk.load(files[".design"]), text_of(files[".pdf"])
    painted = {tuple(map(int, at)) for at in np.argwhere(design.motif.overlaid[::-1, ::-1])}
    assert painted == {(2, 1), (2, 2), (2, 3), (2, 4), (4, 3)}, "rows and stitches in working order, from 0"
    best = mk.plan_widths(design, width=22, length=160).fits[0]
    assert (design.title, design.gauge) == ("By keys", mk.Gauge(17, 19))
    assert (design.across, design.up) == (best.across, best.up)
    assert first_row_missing(text, design.page()) is None
