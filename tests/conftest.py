"""For all tests: enough random examples to find faults, fewer by --quick, no time limits on a busy machine."""

from pathlib import Path

from hypothesis import settings

collect_ignore = [
    str(file)
    for file in Path(__file__).parent.glob("*.py")
    if not file.name.startswith("test_") and ">>>" not in file.read_text("utf-8")
]
"""What tests share has no examples to try, and would be loaded a second time to look for them."""

settings.register_profile("mosaickit", max_examples=60, deadline=None)
settings.register_profile("quick", max_examples=6, deadline=None)


def pytest_configure(config):
    settings.load_profile("quick" if config.getoption("quick") else "mosaickit")
