"""Every public verb and input, given a wrong thing for each of its arguments in turn: the answer is a sentence."""

import inspect
import warnings
from pathlib import Path

import matplotlib.pyplot as plt
import nbformat
import numpy as np
import pytest
from samples import letter_f

import mosaickit as mk
from mosaickit.errors import MosaickitError, OptionError

GAUGE = mk.Gauge(16, 18)
CHART = mk.compile_chart(letter_f)
USAGE = mk.yarn_usage(CHART, GAUGE, yarn_settings=mk.YarnSettings(skeins=mk.Skein(105, 50)))
YARN = letter_f.yarns.mc[0][1]
PLAN = mk.plan_widths(letter_f, GAUGE, 23)
FAMILY = mk.family(letter_f, kinds="flips")
TABLE = mk.tables.fits(PLAN)
RNG = np.random.default_rng(1)
TONES = np.linspace(0, 1, 64).reshape(8, 8)
WRITTEN = str(mk.write_rows(CHART))
SIZE = {"symmetry": (), "repeat_across": None, "repeat_up": None, "repeats_up": False, "colours": "swap"}
SIZE |= {"overlaid": None, "fldc_share": None}
CENTRE = mk.centre.nearest(mk.centre.CentreOut(mk.Motif(np.eye(7, dtype=bool)))).square
ROUNDS = mk.centre.chart(CENTRE)
AROUND, YARNS, QUIET = mk.Surround(), mk.YarnSettings(), mk.Batch(progress=False)
WORKS = {"colours": "keep", "must_work": False}
SAVED = {"design": "", "replace": False}


def valid():
    """Arguments that every verb takes; a path is "*.ending", and stands for a new file each time."""
    thread, page = mk.thread_of(CHART, GAUGE), mk.pattern(CHART, title="x", gauge=GAUGE)
    yield "Gauge", {"stitches": 16, "rows": 18, "over": 10, "unit": "cm", "blocked": True}
    yield "Batch", {"executor": None, "kept_in": None, "progress": False, "stop": None}
    yield "Layout", {"motif": letter_f, "across": 1, "up": 1, "surround": AROUND}
    yield "Motif", {"grid": letter_f.grid, "first": "MC", "yarns": letter_f.yarns, "name": ""}
    yield "centre.CentreOut", {"motif": CENTRE.motif, "hand": "right"}
    yield "centre.check", {"square": CENTRE}
    yield "centre.nearest", {"square": CENTRE, "symmetry": "none", "first": "keep"}
    yield "centre.chart", {"square": CENTRE}
    yield "centre.work", {"chart": ROUNDS}
    yield "centre.count", {"chart": ROUNDS}
    yield "centre.usage", {"chart": ROUNDS, "gauge": GAUGE, "yarn_settings": YARNS}
    yield "centre.size", {"square": CENTRE, "gauge": GAUGE}
    yield "centre.write", {"chart": ROUNDS, "terms": "US"}
    yield "centre.read", {"words": mk.centre.write(ROUNDS)}
    yield "Skein", {"metres": 100, "grams": 50}
    yarn_settings = {"between_rows": "carried", "yarn_mm": None, "lengths": None, "skeins": None}
    yarn_settings |= {"tail_cm": 15, "ease": 0.05, "margin": 0.1}
    yield "YarnSettings", yarn_settings
    around = {"balance_across": 0, "balance_up": 0, "rings": 0, "edges": None, "rows_below": 0, "rows_above": 0}
    yield "Surround", {**around, "colours": "keep", "in_the_round": False, "strip": None, "strip_start": 1}
    laid = {"across": None, "up": 1, "colours": "keep", "fit": "whole", "upside_down": False, "mirrored": False}
    balance = {"balance_across": 0, "balance_up": 0}
    yield "Band", {"motif": letter_f, "laying": "straight", "seam": "double", **laid, **balance}
    yield "Plain", {"count": 1}
    yield "Divider", {"rows": 1, "colour": None}
    yield "Field", {"upside_down": False, "mirrored": False}
    yield "Columns", {"columns": [mk.Band(letter_f)], **laid, "heights": "repeat", "step": "divider"}
    yield "Bands", {"order": [mk.Field()], "step": "divider"}
    yield (
        "StitchLengths",
        {"chain": 5, "sc": 10, "blsc": 10, "fldc": 16, "tog_back": 20, "tog_front": 20, "low": 0.85, "high": 1.2},
    )
    swatch = {"chart": CHART, "gauge": GAUGE, "metres": {"all": 5.0}, "grams": None, "resolution": 0.01}
    swatch |= {"yarn_settings": YARNS}
    yield "Swatch", swatch
    yield "Yarn", {"name": "a", "colour": "#112233"}
    yield "Yarns", {"mc": YARN, "cc": mk.Yarn("b", "#ffffff")}
    yield (
        "calibrate",
        {"swatches": [mk.Swatch(**swatch)], "common_spread": 0.18, "stitch_spread": 0.08, "prior": "estimate"},
    )
    yield "carry_or_cut_width_cm", {"yarn_settings": YARNS}
    yield (
        "check",
        {"motif": letter_f, "in_the_round": False, "repeats_up": False, "hand": "right", "between_rows": "carried"},
    )
    yield "compile_chart", {"motif": letter_f, "reversible": False, "hand": "right", "in_the_round": False}
    yield "contrast", {"one": "#112233", "two": "#ffffff"}
    yield "tables.count", {"chart": CHART}
    yield "tables.count_by_yarn", {"chart": CHART}
    yield "count_motifs", {"rows": 5, "stitches": 4, **SIZE}
    yield "counterchange", {"motif": letter_f}
    yield "begin", {"what": "there.json", "gauge": GAUGE, "stitches": None}
    yield "centre.fitted", {"motif": letter_f, "most": 41, "hand": "right"}
    yield "draw.motifs", {"motifs": [letter_f], "captions": ["F"], "columns": 2, "gauge": GAUGE, "ax": None}
    yield "crop", {"motif": letter_f, "rows": None, "stitches": None, "hand": "right", **WORKS}
    yield "edge_stitches", {"motif": letter_f, "count": 1}
    yield "family", {"motif": letter_f, "kinds": "flips", "steps": 1, "alike": "repeat", "most": None}
    yield "tables.fits", {"plan": PLAN}
    yield "frame", {"motif": letter_f, "rings": 1, **WORKS}
    yield (
        "from_picture",
        {"picture": TONES, "stitches": 8, "width_cm": None, "rows": None, "gauge": None, "crop": None}
        | {"threshold": "otsu", "dither": None, "invert": False, "first": "better", "edges_weight": 2.0}
        | {"yarns": None, "name": ""},
    )
    yield (
        "lettering",
        {"text": "Ida", "alphabet": "book", "size": 1, "across": None, "gauge": None, "colour": "CC", "way": "up"}
        | {"spacing": None, "margin": 1, "mend": True},
    )
    yield "grams_per_square_metre", {"chart": CHART, "usage": USAGE, "gauge": GAUGE}
    yield "half_turn", {"motif": letter_f, "colours": "keep"}
    yield "lengths_of_thread", {"gauge": GAUGE, "yarn_mm": None}
    yield "load", {"path": "there.json", "first": None, "square": None, "format": None}
    yield (
        "check_row",
        {"chart": CHART, "row": 2, "worked": "BLsc in next 7 sts", "now": None, "terms": None, "language": "en"},
    )
    yield "mirror", {"motif": letter_f}
    strip, inside = mk.Motif.from_text("....\n#.##\n...."), mk.crop(letter_f, rows=(1, 3), stitches=(1, 3))
    yield "mosaic_border", {"motif": inside, "strip": strip, "start": 2, **WORKS}
    yield "border_fits", {"design": mk.Design(letter_f), "strip": strip, "across": 1, "up": [1, 2]}
    yield "motifs_near", {"motif": letter_f, "count": 2, "squares": 4, "symmetry": (), "rng": RNG}
    yield (
        "nearest_workable",
        {"motif": letter_f, "weights": None, "symmetry": (), "repeat_across": None, "repeat_up": None}
        | {"repeats_up": False, "first": "keep", "hand": "right"},
    )
    yield "new_balls", {"usage": USAGE, "yarn": YARN, "skein": mk.Skein(105, 50)}
    yield "pad", {"motif": letter_f, "top": 0, "bottom": 0, "left": 0, "right": 0, "fill": "plain", **WORKS}
    yield "pareto", {"table": TABLE, "criteria": ["yarn m"]}
    yield "rank", {"table": TABLE, "weights": {"yarn m": 1}}
    yield (
        "pattern",
        {"chart": CHART, "title": "x", "gauge": GAUGE, "terms": None, "yarn_settings": YARNS}
        | {
            "designer": "",
            "hook_mm": None,
            "level": None,
            "intro": "",
            "notes": (),
            "for_children": False,
            "phrasing": "natural",
            "repeat": None,
        }
        | {"publishing": mk.Publishing(), "photographs": (), "rows": None, "first_repeat": None},
    )
    yield (
        "plan_widths",
        {"motif": letter_f, "gauge": GAUGE, "width": 23, "length": None, "unit": "cm", "tolerance": 0.05}
        | {
            "worked": "across",
            "surround": AROUND,
            "reversible": False,
            "yarn_settings": YARNS,
            "stitches_a_minute": 20,
        },
    )
    yield "proof", {"text": WRITTEN, "chart": CHART, "terms": None, "language": None}
    yield "random_motif", {"rows": 5, "stitches": 4, "rng": RNG, **SIZE, "first": "MC", "yarns": None}
    yield "random_motifs", {"count": 2, "rows": 5, "stitches": 4, "rng": RNG, **SIZE, "first": "MC", "yarns": None}
    seen = np.kron(mk.work(CHART).front, np.ones((12, 12)))
    high, wide = seen.shape
    read = {"picture": 0.9 - 0.7 * seen, "chart": CHART, "corners": [(0, 0), (wide, 0), (wide, high), (0, high)]}
    read |= {"face": "front", "rows": None, "stitches": None, "gauge": None}
    yield "read_work", read
    photographed = mk.read_work(**read)
    yield "tables.wrong_squares", {"work": photographed}
    yield "draw.photographed", {"work": photographed, "axes": None}
    yield "reach", {"usage": USAGE, "yarn": YARN, "metres": 3}
    yield "read_rows", {"text": WRITTEN, "terms": None, "language": None}
    yield "read_sizes", {"text": str(mk.write_sizes({"S": CHART, "M": CHART})), "terms": None, "language": None}
    yield "repeat", {"motif": letter_f, "across": 1, "up": 1, **WORKS}
    yield "save", {"what": letter_f, "path": "*.json", "square": 1, "format": None, **SAVED}
    yield "tables.TableFile", {"table": TABLE, "ending": ".csv"}
    yield "tables.save_table", {"table": TABLE, "path": "*.csv", **SAVED}
    yield (
        "search_motifs",
        {"start": (5, 4), "objective": "balance", "rng": RNG, "symmetry": (), "first": None, "steps": 20, "runs": 2}
        | {"most": 2, "try_all_up_to": 1000, "on_error": "stop", "batch": QUIET},
    )
    yield (
        "share",
        {
            "notebook": "there.ipynb",
            "path": "*.html",
            "run": False,
            "slides": False,
            "code": True,
            "lang": "en",
            "replace": False,
        },
    )
    yield "shift", {"motif": letter_f, "right": 0, "up": 0, **WORKS}
    yield "surcharge", {"motif": letter_f, "gauge": GAUGE, "in_the_round": False, "yarn_settings": YARNS}
    yield (
        "sweep",
        {"motifs": letter_f, "gauges": GAUGE, "across": None, "up": None, "width": 23, "length": None, "unit": "cm"}
        | {"tolerance": 0.05, "variants": None, "worked": "across", "surrounds": AROUND, "yarn_settings": YARNS}
        | {"reversible": False, "stitches_a_minute": 20, "batch": QUIET},
    )
    yield "symmetry", {"motif": letter_f, "as_": "repeat", "colours": "keep", "hand": "right"}
    yield "tech_edit", {"pattern": page, "text": None, "terms": None, "kinds": mk.publish.EDIT_KINDS}
    yield "thread_of", {"chart": CHART, "gauge": GAUGE, "yarn_settings": YARNS}
    yield "tile", {"motif": letter_f, "across": 1, "up": 1, "layout": "straight", "seam": "double", **WORKS}
    yield "up_down", {"motif": letter_f, "colours": "keep"}
    yield (
        "Design",
        {"motif": letter_f, "gauge": GAUGE, "across": 2, "up": 1, "laying": "straight", "seam": "double"}
        | {
            "bands": None,
            "surround": AROUND,
            "reversible": False,
            "hand": "right",
            "yarn_settings": YARNS,
            "by_thread": False,
        }
        | {"swatches": [], "hook_mm": 5, "words": mk.PatternWords(), "editions": []}
        | {"publishing": mk.Publishing(), "sizes": [], "finish": mk.Finish(), "photographs": []},
    )
    yield (
        "Finish",
        {"foundation": "chain", "ends": "as they come", "fringe_cm": 10, "tails_a_knot": 4, "added_strands": 0}
        | {
            "trimmed": True,
            "border_rounds": 2,
            "border_along": "all sides",
            "border_corner": "3 sc",
            "crab_stitch": True,
        }
        | {"border_ratio": (7, 8), "finish_colour": "MC"},
    )
    yield "CentreDesign", {"square": CENTRE, "gauge": None, "yarn_settings": YARNS, "hook_mm": None,
                           "words": mk.PatternWords(), "publishing": mk.Publishing(), "photographs": (),
                           "editions": ()}  # fmt: skip
    yield "NamedSize", {"name": "M", "across": 4, "up": None, "width": None, "length": "60 cm"}
    yield (
        "Publishing",
        {"contact": "", "copyright_line": "", "licence_line": "", "edition_line": "", "published": None, "errata": ""}
        | {"language": "en", "gauge_stitch": "", "notions": (), "finishing": "", "blocking": "", "unblocked_cm": None}
        | {"blocked_cm": None, "labels": ()},
    )
    yield (
        "YarnLabel",
        {"yarn": "cream", "line": "", "weight": 3, "fibre": "", "wash": None, "bleach": None, "tumble": None}
        | {"dry": None, "iron": None, "professional": None},
    )
    yield (
        "PatternWords",
        {
            "designer": "",
            "terms": "US",
            "phrasing": "natural",
            "level": None,
            "intro": "",
            "notes": [],
            "for_children": False,
        },
    )
    design = mk.Design(letter_f, GAUGE)
    square = mk.CentreDesign(CENTRE, GAUGE)
    yield "compare", {"before": design, "after": design.but(across=2)}
    yield "tables.compared", {"comparison": mk.compare(design, design.but(across=2))}
    yield "draw.compared", {"comparison": mk.compare(design, design.but(across=2)), "whole": False, "axes": None}
    yield "designs", {"folder": "."}
    yield "tables.listed", {"folder": mk.designs(".")}
    yield "publish.page_of", {"design": design, "photographs": ()}
    yield (
        "Photograph",
        {"picture": mk.draw.worked_png(mk.thread_of(CHART, GAUGE), CHART), "text": "A scarf.", "caption": ""},
    )
    tested = design.edition("sent to testers")
    report = {"tester": "A", "design": "letter F", "edition": 1, "size": "", "hook_mm": 4, "gauge": GAUGE}
    report |= {"yarns": [], "before_cm": None, "after_cm": None, "hours": 3, "snags": [], "remarks": ""}
    made = mk.testing.PieceReport(**report)
    told = mk.testing.report_to_json(made)
    yield "testing.PieceReport", report
    yield "testing.Snag", {"text": "Which loop?", "row": 2, "stitch": None, "kind": "unclear"}
    yield "testing.YarnUsed", {"yarn": "cream", "metres": 3, "grams": None, "ball": None}
    yield "testing.edition_of", {"design": tested, "report": made}
    yield "testing.load_reports", {"paths": "report.json", "design": tested}
    yield (
        "testing.next_edition",
        {"design": tested.but(across=2), "enough": [], "errata": [], "changed": "x", "date": None},
    )
    yield "testing.report_from_json", {"text": told, "design": tested}
    yield "testing.report_to_json", {"report": made}
    yield "testing.yarn_for_everyone", {"design": tested, "reports": [made], "share": 0.9}
    yield "tables.reports", {"design": tested, "reports": [made]}
    yield "tables.snags", {"design": tested, "reports": [made]}
    yield "draw.snags", {"design": tested, "reports": [made], "edition": 1, "size": "", "ax": None}
    yield "publish.report_form", {"design": tested, "path": "*.html", "size": "", "replace": False}
    yield (
        "publish.pack_for_testers",
        {"design": tested, "path": "*.zip", "size": "", "photographs": (), "paper": "a4", "replace": False},
    )
    yield "tables.variants", {"variants": FAMILY}
    yield "work", {"chart": CHART}
    written = {"terms": None, "language": "en", "style": "short", "repeat": None, "between_rows": "carried"}
    written |= {"repeat_from": None}
    begun = {"foundation": "chain", "ends": "as they come"}
    yield "write_rows", {"chart": CHART, "phrasing": "natural", **begun, **written}
    yield "write_sizes", {"charts": {"S": CHART, "M": CHART}, **begun, **written}
    yield "tables.yarn_rows", {"usage": USAGE}
    yield "tables.yarn_totals", {"usage": USAGE}
    yield "yarn_usage", {"chart": CHART, "gauge": GAUGE, "yarn_settings": YARNS}

    yield (
        "draw.ChartStyle",
        {
            "every": 10,
            "marks": "symbols",
            "row_bar": True,
            "key": True,
            "cc_mark": None,
            "font_size": 8,
            "square_in": None,
        },
    )
    yield "draw.chart", {"subject": CHART, "ax": None, "report": None}
    yield "draw.face", {"fabric": mk.work(CHART), "side": "front", "gauge": None, "ax": None}
    yield "draw.faces", {"fabric": mk.work(CHART), "gauge": None, "axes": None}
    yield "draw.finished", {"design": design, "ax": None}
    yield "draw.piece", {"fit": PLAN.fits[0], "ax": None}
    yield "draw.pieces", {"fits": PLAN.fits, "ax": None}
    yield "draw.proof", {"proof": mk.proof(WRITTEN, CHART), "gauge": None, "axes": None}
    yield "draw.rounds", {"chart": ROUNDS, "ax": None}
    yield "draw.save", {"drawn": plt.figure(figsize=(1, 1)), "path": "*.png", "dpi": 50, **SAVED}
    yield (
        "draw.symmetry",
        {"motif": letter_f, "across": 2, "up": None, "as_": "repeat", "colours": "keep", "hand": "right"}
        | {"gauge": None, "ax": None},
    )
    yield "draw.traced", {"traced": mk.from_picture(TONES, stitches=8), "gauge": None, "axes": None}
    yield "draw.variants", {"variants": FAMILY, "columns": 6, "sort_by": None, "gauge": None, "ax": None}
    yield "draw.worked", {"chart": CHART, "gauge": GAUGE, "side": "front", "yarn_mm": None, "across": 2, "ax": None}
    yield "draw.worked_png", {"thread": thread, "chart": CHART, "side": "front", "across": 2}
    yield "draw.worked_piece", {"design": design, "side": "front", "across": 2, "ax": None}
    yield "draw.worked_square", {"design": square, "side": "front", "across": 2, "ax": None}
    yield "draw.yarn", {"usage": USAGE, "ax": None}
    yield "draw.yarn_by_width", {"fits": PLAN.fits, "ax": None}
    yield (
        "publish.html",
        {"page": page, "path": "*.html", "guide": False, "marks": "symbols", "in_full": False, **SAVED},
    )
    yield (
        "publish.html_from_centre",
        {"chart": ROUNDS, "path": "*.html", "gauge": GAUGE, "terms": "US", "yarn_settings": YARNS}
        | {"for_children": False, **SAVED},
    )
    yield "publish.pdf_from_centre", {"square": square, "path": "*.pdf", "form": "regular", "paper": "a4", **SAVED}
    yield (
        "centre.square_seen",
        {"chart": ROUNDS, "gauge": GAUGE, "side": "front", "across": 2, "yarn_mm": None},
    )
    yield (
        "centre.read_rounds",
        {"rounds": [(1, "Rnd 1 (MC): 8 sc in ring.")], "terms": None, "yarns": None, "hand": "right", "above": ""},
    )
    yield (
        "publish.pdf",
        {"page": page, "path": "*.pdf", "form": "regular", "paper": "a4", "system_fonts": False}
        | {"marks": "symbols", "in_full": False, **SAVED},
    )
    yield (
        "publish.sheets",
        {"page": page, "form": "regular", "paper": "a4", "system_fonts": False, "marks": "symbols", "in_full": False}
        | {"dpi": 30},
    )
    yield "widgets.Chooser", {"table": TABLE, "caption": "x"}
    yield "widgets.DesignWall", {"folder": mk.designs(".")}
    yield "widgets.LoopView", {"motif": letter_f, "gauge": None, "hand": "right", "reversible": False}
    yield "widgets.MotifPainter", {"start": letter_f, "autosave": None, "hand": "right", "gauge": None, "folder": "."}
    yield (
        "widgets.RowGuide",
        {"chart": CHART, "gauge": None, "terms": "US", "style": "short", "between_rows": "carried", "place": None}
        | {"repeat": None, "repeat_from": None, "foundation": "chain"},
    )
    yield "widgets.TurnOver", {"chart": CHART, "gauge": None, "rows": None, "stitches": None, "yarn_mm": None}
    yield "widgets.VariationExplorer", {"motif": letter_f, "steps": 1, "painter": None, "rng": None}
    yield (
        "widgets.WidthPlanner",
        {"motif": letter_f, "gauge": None, "width": 23.0, "length": 150.0, "skein": None, "folder": "."},
    )
    yield (
        "widgets.Workbook",
        {"start": letter_f, "autosave": None, "folder": "."},
    )
    yield "lessons.check", {"exercise": "1.1", "answer": 3}
    yield "lessons.given", {"exercise": "1.1"}
    made = mk.lessons.exercise("rows", question="How many?", answer="a whole number", solution=7,
                               parts=[mk.lessons.this_number(7)])  # fmt: skip
    yield "lessons.solution", {"exercise": made}
    told = {"title": "rows", "question": "How many?", "answer": "a number", "because": "", "given": None}
    yield "lessons.exercise", told | {"parts": list(made.parts), "solution": 7}
    yield "lessons.try_out", {"exercise": made, "wrong": [8]}
    lesson = mk.lessons.Lesson("Rows", [made])
    yield "lessons.Lesson", {"title": "Rows", "exercises": [made]}
    yield "lessons.keep", {"lesson": lesson, "path": "rows.lesson", "replace": True}
    yield "lessons.open_lesson", {"path": "there.lesson"}
    copies = {"notebook": "there.ipynb", "path": "*.html", "run": False, "code": False, "replace": False}
    yield "lessons.handout", copies
    yield "lessons.teachers_copy", copies
    yield "lessons.class_sheet", {"folder": ".", "lesson": 1}
    yield "lessons.part", {"right": "Yes.", "look": len, "missing": "", "needed": False}
    yield "lessons.can_be_worked", {}
    yield "lessons.own_mirror", {}
    yield "lessons.hook_works_it", {}
    yield "lessons.of_size", {"rows": 7, "stitches": 7}
    yield "lessons.no_larger_than", {"most": 7}
    yield "lessons.overlaid_at_least", {"least": 7}
    yield "lessons.changes_at_most", {"most": 2, "before": letter_f}
    yield "lessons.this_picture", {"picture": letter_f}
    yield "lessons.these_squares", {"wanted": [(1, 2)], "what": "squares"}
    yield "lessons.these_numbers", {"wanted": [1, 2], "what": "rows"}
    yield "lessons.this_number", {"wanted": 7, "right": "Yes.", "off": 0, "low": "More.", "high": "Fewer."}
    yield "lessons.this_choice", {"wanted": "cut", "right": "Yes.", "again": "Look."}


VALID = dict(valid())
DESIGN = mk.Design(letter_f, GAUGE).but(skeins=mk.Skein(105, 50))
SAID_BY_DESIGN = {
    "surround": None,
    "surrounds": None,
    "reversible": None,
    "yarn_settings": None,
    "gauge": None,
    "gauges": None,
}
# a design in place of the motif says the rest itself
OF_DESIGN = {
    door: {name: SAID_BY_DESIGN.get(name, value) for name, value in VALID[door].items()} | {motif: DESIGN}
    for door, motif in (("plan_widths", "motif"), ("sweep", "motifs"))
}
plt.close("all")
# made by verbs, not by hand, and what is called by those who write lessons
NO_DOORS = {"Chart", "Stitch"}
NO_DOORS |= {
    f"publish.{name}"
    for name in ("EdgeUse", "Instructions", "Meeting", "Page", "PageRow", "PageSize", "PageYarn", "RowUse", "YarnStart")
}
NO_DOORS |= {
    f"centre.{name}"
    for name in (
        "CentreChart",
        "CentreFabric",
        "RoundsRead",
        "SquareSeen",
        "CentreFinding",
        "CentreRepair",
        "CentreReport",
    )
}
NO_DOORS |= {"centre.CentreSize", "centre.CentreUsage", "centre.RoundCounts", "centre.RoundsRead", "centre.SquareSeen"}
NO_DOORS |= {"publish.EditFinding", "publish.EditKind", "publish.EditReport"}
NO_DOORS |= {"testing.EnoughYarn"}
NO_DOORS |= {"lessons.Exercise", "lessons.Feedback", "lessons.TryOut", "lessons.AnswerPart"}
NO_DOORS |= {"publish.SizedInstructions"}
WRONG = [None, "red", -1, 2.5, float("nan"), object(), ["red"], {"a": 1}, b"x", np.ones(3), GAUGE]
# of what a motif is made from the sentence says what it is rather than the argument
SAID = {"mc": "yarns of MC", "cc": "yarns of CC", "first": "colour of row 1", "exercise": "no exercise"}


def doors():
    """Every public name that can be called."""
    for room in ("", "centre", "draw", "publish", "widgets", "lessons", "tables", "testing"):
        here = getattr(mk, room) if room else mk
        for name in here.__all__:
            thing = getattr(here, name)
            if room and thing is getattr(mk, name, None):
                continue  # the same verb, offered to other rooms
            if callable(thing) and not (isinstance(thing, type) and issubclass(thing, Exception)):
                yield f"{room}.{name}".removeprefix(".")


def test_every_door_is_tried():
    assert set(doors()) == set(VALID) | NO_DOORS


@pytest.mark.thorough
@pytest.mark.parametrize(("door", "valid"), [*VALID.items(), *OF_DESIGN.items()])
def test_a_wrong_argument_is_answered_in_a_sentence_that_names_it(door, valid, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    mk.save(letter_f, "there.json")
    Path("report.json").write_text(VALID["testing.report_from_json"]["text"], "utf-8")
    cells = [nbformat.v4.new_markdown_cell("# A", id="one")]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), "there.ipynb")
    mk.lessons.keep(VALID["lessons.keep"]["lesson"], "there.lesson")
    verb = mk
    for name in door.split("."):
        verb = getattr(verb, name)
    count = 0

    def call(**wrong):
        nonlocal count
        count += 1
        given = {
            name: value.replace("*", str(count)) if isinstance(value, str) and value.startswith("*.") else value
            for name, value in (valid | wrong).items()
        }
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of many figures
            verb(**given)

    call()
    answers, others = [], 0
    for name in valid:
        for wrong in WRONG:
            try:
                call(**{name: wrong})
            except OptionError as error:
                answers.append((name, wrong, str(error)))
            except MosaickitError:  # what is of the right kind may be wrong otherwise, as a file that is not there
                others += 1
    plt.close("all")
    assert [each for each in answers if each[0] not in each[2] and SAID.get(each[0], "?") not in each[2]] == []
    assert len(answers) + others >= len(valid)  # no argument takes all of it


def test_every_argument_of_a_door_is_tried():
    for door, given in VALID.items():
        verb = mk
        for name in door.split("."):
            verb = getattr(verb, name)
        left = set(inspect.signature(verb).parameters) - set(given)
        # run by other tests, as they take long or any value of theirs will do
        assert left <= {"title", "style", "rules", "lengths", "sums", "grid"}, door
