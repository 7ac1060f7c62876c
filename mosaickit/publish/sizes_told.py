"""What only a page with sizes says: which sizes there are, how each is laid, and what to buy for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mosaickit.publish.entries import PageYarn
from mosaickit.publish.page import Page
from mosaickit.wording import in_series


def of_size(page: Page) -> str:
    """Say of which size a picture is, after what it is: ", size M"; empty where a page has not several."""
    return f", size {page.size_name}" if len(page.sizes) > 1 else ""


def facts_of_sizes(page: Page) -> tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]]:
    """Say which sizes there are, and how each is laid, as (what, text) each; nothing of a page without sizes."""
    if not page.sizes:
        return (), ()
    names = in_series([size.name for size in page.sizes])
    told = f"{names}."
    if len(page.sizes) > 1:
        told += (
            f" Numbers stand in this order; a lone number is that of all sizes. Pictures show size {page.size_name}."
        )
        measured = page.publishing.blocked_cm or page.publishing.unblocked_cm
        told += " One piece was measured; the measures of the others follow in proportion." if measured else ""
    row = "Rounds" if page.chart.in_the_round else "Rows"
    across, up = (in_series([getattr(size, way) for size in page.sizes]) for way in ("across", "up"))
    rows, stitches = (in_series([size.page.chart.shape[way] for size in page.sizes]) for way in (0, 1))
    return (("Sizes" if len(page.sizes) > 1 else "Size", told),), (
        ("Repeats", f"{across} across × {up} up."),
        *(
            [("Foundation", f"{in_series([chains(size.page) for size in page.sizes])} chains.")]
            if has_chain(page)
            else []
        ),
        (row, f"{rows}, each of {stitches} stitches."),
    )


def has_chain(page: Page) -> bool:
    """Whether there is a foundation chain, as foundation sc are none."""
    return all(use.what != "Foundation sc" for use in page.edge_use)


def chains(page: Page) -> int:
    """Count the chains of the foundation: one more than stitches worked flat."""
    return page.chart.shape[1] + (not page.chart.in_the_round)


def all_yarns(page: Page) -> tuple[PageYarn, ...]:
    """List the yarns of all sizes, each as it is in the first size that uses it."""
    found: dict[tuple[str, str], PageYarn] = {}
    for one in [size.page for size in page.sizes] or [page]:
        for yarn in one.yarns:
            found.setdefault((yarn.name, yarn.colour), yarn)
    return tuple(found.values())


def yarns_of_sizes(page: Page) -> Iterator[tuple[tuple[str, ...], list[tuple[Page, PageYarn]], list[bool]]]:
    """Give for each yarn the names of all sizes, the pages of those that take it, and which sizes do."""
    names = tuple(size.name for size in page.sizes)
    for yarn in all_yarns(page):
        own = [yarn_in(size.page, yarn) for size in page.sizes]
        pages = [(size.page, each) for size, each in zip(page.sizes, own, strict=True) if each is not None]
        yield names, pages, [each is not None for each in own]


def yarn_in(page: Page, yarn: PageYarn) -> PageYarn | None:
    """Find a yarn among those of a page in one size."""
    return next((each for each in page.yarns if (each.name, each.colour) == (yarn.name, yarn.colour)), None)


def advice_of_sizes(yarns: Sequence[PageYarn], worked: Sequence[bool]) -> str:
    """Say what to buy of a yarn in each size; empty if what it is sold in is not known."""
    ball = yarns[0].ball
    if ball is None:
        return ""
    if len({yarn.advice for yarn in yarns}) == 1 and all(worked):
        return yarns[0].advice
    buy, likely = (
        in_series([getattr(next(each), name) if there else 0 for there in worked])
        for name, each in (("skeins", iter(yarns)), ("likely_skeins", iter(yarns)))
    )
    what = "skein" if buy == "1" else "skeins"
    return (
        f"Buy {buy} {what} of {ball.metres:g} m / {ball.grams:g} g, enough for the upper end; the likely amount needs "
        f"{likely}."
    )
