"""Naming the group: what moves there are decides between the plane groups, or the border groups, that can occur."""

from __future__ import annotations

from mosaickit.motif.symmetries.trying import MoveTable, Tables


def name_of(tables: Tables, plane: bool) -> str:
    """Name the group of these moves."""
    mirrors, up_downs, turns = tables.mirror.any(), tables.up_down.any(), tables.half_turn.any()
    # a mirror without a shift along its line: any such line has it at 0
    straight = int(tables.mirror[0].any()) + int(tables.up_down[:, 0].any())
    if not plane:
        second = "m" if tables.up_down[0, 0] else "a" if up_downs else "1"
        return f"p{'m' if mirrors else '1'}{second}{'2' if turns else '1'}"
    if mirrors and up_downs:
        return "cmm" if _centred(tables.shift) else ("pgg", "pmg", "pmm")[straight]
    if mirrors or up_downs:
        return "cm" if _centred(tables.shift) else ("pg", "pm")[straight]
    return "p2" if turns else "p1"


def step(shift: MoveTable) -> tuple[int, int, int]:
    """Give the shifts that make all others: so many rows up with so many stitches on, and so many stitches on."""
    rows, columns = shift.shape
    along = next((s for s in range(1, columns) if shift[0, s]), columns)
    up = next((r for r in range(1, rows) if shift[r].any()), rows)
    return up, int(shift[up % rows].argmax()), along


def _centred(shift: MoveTable) -> bool:
    """Whether these shifts, which a mirror keeps, hold the middle of their smallest straight repeat."""
    return step(shift)[1] > 0


def two_colour_of(keeps: Tables, swaps: Tables, plane: bool) -> str:
    """Name the two-colour group, G/H, or give nothing if no move swaps the colours."""
    if not any(table.any() for table in (swaps.shift, swaps.mirror, swaps.up_down, swaps.half_turn)):
        return ""
    pair = f"{name_of(keeps | swaps, plane)}/{name_of(keeps, plane)}"
    if pair != "pm/pm":
        return pair
    return pair + ("(m′)" if swaps.mirror[0].any() or swaps.up_down[:, 0].any() else "(m)")
