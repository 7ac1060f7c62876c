"""The two files of the widgets that are made from other people's: each is what its sources make."""

import subprocess
from pathlib import Path

import pytest
from lab import need

ROOT = Path(__file__).parent.parent
MADE = ROOT / "mosaickit" / "widgets" / "book"


@pytest.mark.thorough
def test_kit_and_icons_are_what_their_sources_make(tmp_path):
    packages = (ROOT / "docs" / "kit" / "packages.txt").read_text("utf-8").split()
    homes = [ROOT / "node_modules" / each.partition("@")[0] for each in packages]
    skipped = "The packages of docs/kit/packages.txt are not installed: kit.js and icons.js were not made again."
    need(
        all(home.is_dir() for home in homes), "a package of docs/kit/packages.txt", left_out="the kit", skipped=skipped
    )
    command = ["node", str(ROOT / "docs" / "kit" / "build.mjs"), str(tmp_path)]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120)
    assert ran.returncode == 0, ran.stderr
    for name in ("kit.js", "icons.js"):
        assert (tmp_path / name).read_text("utf-8") == (MADE / name).read_text("utf-8"), name


def test_both_keep_the_licences_of_what_they_are_made_from():
    kit, icons = ((MADE / name).read_text("utf-8") for name in ("kit.js", "icons.js"))
    assert "The MIT License (MIT)" in kit
    assert "Apache License, Version 2.0" in kit
    assert "ISC License" in icons
