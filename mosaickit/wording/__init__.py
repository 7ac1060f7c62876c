"""Written rows: a chart in words, and words back into a chart, by one grammar and one table of words.

`writing.write_rows` writes and `reading.read_rows` reads. `terms` holds the words and `grammar.lark` the grammar of
what is read; `phrases` and `shortest` make the words of one row, `remarks` what stands around the rows; `lexing`,
`parsing`, `steps` and `rows` take a text apart; `faults` says all that is wrong with it.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
