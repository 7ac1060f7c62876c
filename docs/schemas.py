"""Write the published schemas of what is kept in files, each beside the module whose models it is made from.

Run by ``python start.py run docs/schemas.py`` after a change of those models; the tests say when it is due.
"""

from __future__ import annotations

from pathlib import Path

import mosaickit
from mosaickit.files import documents
from mosaickit.sizes.centred import forms as square_documents
from mosaickit.sizes.designs import documents as design_documents
from mosaickit.sizes.reports import documents as report_documents

PACKAGE = Path(mosaickit.__file__).parent
SCHEMAS = {
    PACKAGE / "files" / "motif.schema.json": documents.schema,
    PACKAGE / "sizes" / "designs" / "design.schema.json": design_documents.schema,
    PACKAGE / "sizes" / "centred" / "square.schema.json": square_documents.schema,
    PACKAGE / "sizes" / "reports" / "report.schema.json": report_documents.schema,
}
"""The files, and what gives their text."""

if __name__ == "__main__":
    for file, text in SCHEMAS.items():
        file.write_text(text(), "utf-8")
