"""Yarn: how much a stitch takes, a row, a piece, and how it lies in the fabric.

`lengths` are centimetres a stitch by gauge and their band, `yarn_settings` is what a maker says of yarn, as one value,
`rates` all that it is calculated from, `usage` metres a row, `totals` what a piece takes of a yarn in metres, grams and
skeins, `comparing` closed or plain, carried or cut, `skeins` how far skeins reach; `calibration` what a maker's own
swatches teach, `thread` the yarn of a chart as curves in space.
"""

from mosaickit.doors import door

__getattr__, __dir__, __all__ = door(__name__)
