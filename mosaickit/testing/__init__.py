"""Testing: what the testers of a pattern report, how much yarn suffices for everyone, and the next edition.

Testers make the piece and change no design. Each sends one report, a small JSON file that the form of
`mk.publish.pack_for_testers` saves::

    design = design.edition("sent to testers")                 # what they will work from
    mk.publish.pack_for_testers(design, "scarf-test.zip")      # the pattern, and the form as one offline page
    reports = mk.testing.load_reports("reports", design)       # read strictly, each against its own edition
    mk.tables.reports(design, reports)                         # a line for each tester
    mk.draw.snags(design, reports)                             # what puzzled them, on the chart
    enough = mk.testing.yarn_for_everyone(design, reports)     # the metres that suffice for nine makers of ten
    mk.testing.next_edition(design, enough, errata=confirmed)  # with those metres and a list of errata
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
