"""One script for a page from several files of JavaScript.

Each file is a module of its own, with real imports, so that it can be run, tested and type-checked as it is. A page
takes one text: the files one after the other, each after those that it imports from, without the lines that join them.
"""

from __future__ import annotations

import re
from pathlib import Path

_IMPORT = re.compile(r'^import \{\s*\w+(?:,\s*\w+)*,?\s*\} from "(\.{1,2}/(?:\w+/)*\w+\.js)";\n', re.MULTILINE)
_OTHER_IMPORT = re.compile(r"^import\b.*$", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function|const|let|class)\b)", re.MULTILINE)


def one_script(file: Path) -> str:
    r"""Put a module of JavaScript and all that it imports together.

    The files must import by name, from files by relative paths, and use no name twice at their top level.

    Parameters
    ----------
    file : Path
        The module that the page loads; it alone keeps its exports.

    Returns
    -------
    str
        The text of one module that imports nothing.

    Raises
    ------
    ValueError
        If a file imports in another way; names the file and the line.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     _ = Path(folder, "two.js").write_text("export const two = 2;\n")
    ...     _ = Path(folder, "four.js").write_text('import { two } from "./two.js";\nexport const four = 2 * two;\n')
    ...     print(one_script(Path(folder, "four.js")))
    const two = 2;
    export const four = 2 * two;
    <BLANKLINE>
    """
    texts: dict[Path, str] = {}
    _gather(file.resolve(), texts)
    *before, last = texts.values()
    return "".join([*(_EXPORT.sub("", text) for text in before), last])


def _gather(file: Path, texts: dict[Path, str]) -> None:
    """Add a file's text, without its imports, after those of the files that it imports from."""
    if file in texts:
        return
    whole = file.read_text("utf-8")
    for name in _IMPORT.findall(whole):
        _gather((file.parent / name).resolve(), texts)
    text = _IMPORT.sub("", whole)
    other = _OTHER_IMPORT.search(text)
    if other:
        form = 'import { a } from "./b.js";'
        raise ValueError(f"{file.name} must import by name from a file beside it, as `{form}`; got `{other.group()}`.")
    texts[file] = text
