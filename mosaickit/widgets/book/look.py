"""Look: the whole piece from either side, a part of it as its yarn lies, and the loops of a square."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from mosaickit import draw, orientation, svg
from mosaickit.errors import OptionError, number_of
from mosaickit.fabric import patch_of
from mosaickit.orientation import Face
from mosaickit.sizes import Design
from mosaickit.widgets.book.entries import USUAL_GAUGE
from mosaickit.widgets.book.ledger import squares_of
from mosaickit.widgets.book.look_part import (
    MOST_AS_YARN,
    LookHand,
    PartSpan,
    choose_part,
    look_of,
    part_of,
    piece_of,
    seen_at,
    square_of,
    touch,
)
from mosaickit.widgets.book.panel import Book, Panel
from mosaickit.widgets.looking import VIEW_BOX, legend, look
from mosaickit.widgets.loops import inks_around, names_around, told
from mosaickit.widgets.parts import data_url
from mosaickit.yarn import Thread, YarnSettings, thread_of

SIDE_WORDS: dict[Face, str] = {"front": "Front", "back": "Back"}
"""What the sides are called."""

FINENESS = ((12, 12), (24, 8), (40, 6), (MOST_AS_YARN, 4))
"""Pairs: up to how many rows and stitches, and how many pixels a yarn's diameter then has."""

MOST_PIXELS = 12_000_000
"""A picture of yarn has no more pixels than this."""


class LookPanel(Panel):
    """Both sides of the whole piece, and a part of it as yarn."""

    name, word, hint = "look", "Look", "The whole piece, front and back, and as yarn"

    def view(self, book: Book) -> dict[str, Any]:
        """Give the side that faces the viewer, where the part and the touched square are, and its loops."""
        piece, hand = piece_of(book), look_of(book)
        return {
            "side": hand.side,
            "face": _face(piece, hand.side),
            "note": _note(book.design, piece),
            "edge": _edge_said(piece, hand.side),
            "part": _shown_part(piece, hand),
            "square": _shown_square(book.design, piece, hand),
        }

    def do(self, book: Book, name: str, values: dict[str, Any], buffers: Sequence[Any]) -> dict[str, Any]:
        """Turn over, touch a square, choose a part, or draw the part as yarn."""
        hand = look_of(book)
        if name == "turn":
            hand.side = "back" if hand.side == "front" else "front"
        elif name == "touch":
            touch(hand, piece_of(book), values)
        elif name == "part":
            choose_part(hand, piece_of(book), values)
        elif name == "draw":
            return draw_part(piece_of(book), hand)
        else:
            return super().do(book, name, values, buffers)
        return {}


def _face(piece: Design, side: Face) -> dict[str, Any]:
    fabric = piece.fabric
    face, rows = (fabric.front, fabric.front_rows) if side == "front" else (fabric.back, fabric.back_rows)
    index, colours = svg.yarn_colours(face, rows, fabric.yarns)
    return squares_of(index, colours, piece, word=SIDE_WORDS[side], about=f"{SIDE_WORDS[side]} of {piece.title}")


def _note(design: Design, piece: Design) -> str:
    if piece is design:
        return ""
    changed = int((design.motif.grid != piece.motif.grid).sum())
    return (
        "The picture cannot be worked yet. This is the nearest piece that can; squares of the motif that differ: "
        f"{changed:,}."
    )


def _edge_said(piece: Design, side: Face) -> str:
    """Say where rows and stitches are counted from."""
    edge = orientation.working_edge(piece.hand)
    if side == "back":
        edge = "left" if edge == "right" else "right"
    return f"Row 1 is at the bottom, stitch 1 at the {edge}."


# ---- the part as yarn --------------------------------------------------------------------------------------


def _shown_part(piece: Design, hand: LookHand) -> dict[str, Any]:
    rows, stitches = spans = part_of(hand, piece.shape)
    corners = [seen_at(place, piece, hand.side) for place in zip(*spans, strict=True)]
    (top, bottom), (left, right) = (sorted(each) for each in zip(*corners, strict=True))
    settings = piece.yarn_settings
    drawn = (piece.chart, piece.gauge, settings.yarn_mm, settings.between_rows)
    if hand.drawn != drawn:
        hand.drawn, hand.number = drawn, hand.number + 1
    return {
        "top": top,
        "left": left,
        "height": bottom - top + 1,
        "width": right - left + 1,
        "row": rows[0],
        "stitch": stitches[0],
        "rows": rows[1] - rows[0] + 1,
        "stitches": stitches[1] - stitches[0] + 1,
        "most": MOST_AS_YARN,
        "whole": _is_whole(piece, rows, stitches),
        "key": f"{hand.number} {hand.side} {rows} {stitches}",
    }


def _is_whole(piece: Design, rows: PartSpan, stitches: PartSpan) -> bool:
    return (rows[1] - rows[0] + 1, stitches[1] - stitches[0] + 1) == piece.shape


def draw_part(piece: Design, hand: LookHand) -> dict[str, Any]:
    """Draw the part as its yarn lies: the picture as an address, what it shows in words, and the key of the part.

    Raises
    ------
    OptionError
        If the yarn is so thin beside its stitches that the picture would be too large.
    """
    rows, stitches = part_of(hand, piece.shape)
    chart = patch_of(piece.chart, rows, stitches)
    settings = YarnSettings(
        yarn_mm=piece.yarn_settings.yarn_mm, between_rows=piece.yarn_settings.between_rows, tail_cm=0
    )
    thread = thread_of(chart, piece.gauge or USUAL_GAUGE, yarn_settings=settings)
    across = _fineness(thread)
    picture = draw.worked_png(thread, chart, side=hand.side, across=across)
    return {
        "picture": data_url(picture),
        "about": _part_said(piece, hand, rows, stitches),
        "key": _shown_part(piece, hand)["key"],
    }


def _fineness(thread: Thread) -> int:
    """Give pixels to a yarn's diameter: the finer, the fewer stitches there are to draw."""
    longest = max(len(thread.rows), thread.stitches)
    wanted = next(across for most, across in FINENESS if longest <= most)
    size = (thread.stitches + 3) * thread.width_cm * (len(thread.rows) + 3) * thread.height_cm / thread.yarn_cm**2
    finest = int((MOST_PIXELS / size) ** 0.5)
    if finest < 2:
        raise OptionError(
            "The yarn is so thin beside its stitches that this part would be too large a picture: show fewer rows and "
            "stitches of it, or look at the thickness of the yarn."
        )
    return min(wanted, finest)


def _part_said(piece: Design, hand: LookHand, rows: PartSpan, stitches: PartSpan) -> str:
    side = f"{SIDE_WORDS[hand.side]} as yarn"
    notes = []
    if piece.gauge is None:
        notes.append(
            f"No gauge is entered, so it is drawn at {USUAL_GAUGE.stitches:g} stitches and {USUAL_GAUGE.rows:g} rows "
            "to 10 cm."
        )
    if piece.surround.in_the_round:
        notes.append("Rounds are laid out flat.")
    if _is_whole(piece, rows, stitches):
        return " ".join([f"{side}: the whole piece.", *notes])
    high, wide = piece.shape
    shown = f"{_spanned('row', rows, high)} and {_spanned('stitch', stitches, wide)}"
    notes.insert(0, "The part is drawn as a piece of its own: its edges are not those of the whole.")
    return " ".join([f"{side}: {shown}.", *notes])


def _spanned(what: str, span: PartSpan, most: int) -> str:
    first, last = span
    if (first, last) == (1, most):
        return f"all {number_of(most, what)}"
    if first == last:
        return f"{what} {first:,} of {most:,}"
    return f"{number_of(2, what).removeprefix('2 ')} {first:,} to {last:,} of {most:,}"


# ---- the loops of a square ---------------------------------------------------------------------------------


def _shown_square(design: Design, piece: Design, hand: LookHand) -> dict[str, Any]:
    row, stitch = square_of(hand, piece.shape)
    top, left = seen_at((row, stitch), piece, hand.side)
    one = look(piece.picture, row, stitch, hand=piece.hand, reversible=piece.reversible)
    names, shown = names_around(row, piece.shape[0]), told(one)
    return {
        "top": top,
        "left": left,
        "place": f"Row {row}, stitch {stitch}",
        "said": f"Row {row}, stitch {stitch}: {shown['said']}",
        "drawn": _as_drawn(design, piece, row, stitch),
        "picture": shown["picture"],
        "levels": [[name, word] for name, word in zip(names, shown["words"], strict=True)],
        "inks": inks_around(piece.picture, row),
        "view_box": VIEW_BOX,
        "legend": legend(),
    }


def _as_drawn(design: Design, piece: Design, row: int, stitch: int) -> str:
    """Say what is the matter with a square in a picture that cannot be worked; "" if nothing is."""
    if piece is design:
        return ""
    one = look(design.picture, row, stitch, hand=design.hand, reversible=design.reversible)
    return f"As it is drawn now: {one.sentence}" if one.verdict == "cannot be worked" else ""


PANEL = LookPanel()
