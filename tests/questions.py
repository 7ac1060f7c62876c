"""What a newcomer types into the search of the documentation, and the page that answers it.

Each page was chosen before the search was tried. A page is named as docs/jobs.py names it: a path in the site, or a
notebook by a verb that it uses, or a lesson by a word of its title, as their files may be renamed.
"""

QUESTIONS = {
    # who explores motifs
    "how do i start from a photo": "jobs/begin-from-a-picture",
    "why can this square not be worked": "jobs/see-what-cannot-be-worked",
    "fix my drawing automatically": "jobs/repair-a-picture",
    "my picture has three colors": "jobs/use-three-yarns",
    "paint my own chart": "jobs/draw-by-hand",
    "flip a motif": "reference/the-picture",
    "variations of my motif": "jobs/explore-variations",
    "random motif": "reference/variations",
    "center out square": "notebook:mk.centre.work",
    "granny square": "jobs/work-from-the-centre",
    "frame": "jobs/add-a-border-or-fringe",
    "mosaic border": "jobs/put-a-mosaic-border-around",
    "color blind": "lesson:colour vision",
    "double-sided": "lesson:reversible",
    "put a name in it": "jobs/put-words-in-it",
    # who tests widths for a scarf
    "how do i make a scarf wider": "jobs/plan-a-scarf",
    "compare hundreds of widths": "jobs/try-many-widths",
    "how much yarn do i need": "jobs/know-the-yarn",
    "tension swatch": "lesson:swatch",
    "how many balls of wool to buy": "jobs/know-the-yarn",
    "yardage": "jobs/know-the-yarn",
    "stitch multiple": "lesson:repeats",
    "cowl": "jobs/work-in-the-round",
    "small medium large": "jobs/offer-sizes",
    "export to excel": "reference/making",
    "terminal": "jobs/use-the-command-line",
    "cut or carry the yarn": "lesson:carried",
    # who publishes
    "print the pattern": "jobs/publish-and-sell",
    "sell my pattern": "jobs/publish-and-sell",
    "german": "jobs/use-another-language",
    "UK terms": "jobs/use-another-language",
    "test crocheters": "jobs/send-to-testers",
    # who teaches
    "share my notebook": "jobs/share-a-notebook",
    "left-handed crochet": "jobs/work-left-handed",
    "reading a chart for beginners": "lesson:reading a chart",
    "exercises for my class": "jobs/teach-a-lesson",
    "unravel a mistake": "lesson:mistakes",
    "row counter": "jobs/follow-row-by-row",
    "why is my circle an oval": "lesson:proportion",
}
