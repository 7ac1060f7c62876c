"""Written rows: a chart in words, and words back into a chart, by one grammar and one table of words.

`terms` holds the names of stitches, `english` and `german` all else that is written, by one table of `phrasebook`, and
`languages` which languages there are. `english_words` and `german_words` hold what is read, each a `lexicon`, and
`grammar.lark` the grammar of all of them. `writing.write_rows` writes: `phrases` and
`shortening` make the words of one row, `remarks` what stands around the rows. `reading.read_rows` reads: `sorting`
tells rows, headings and remarks apart; `lexing`, `parsing` and `building` make a value of each line, with `runs` and
`shaping`; `headings`, `claims` and `nations` hear what is said around the rows, `rows` and `steps` work the rows out.
`faults` says all that is wrong with a text. `proofing` and `checking` hold a text, or a row as worked, against a chart.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
