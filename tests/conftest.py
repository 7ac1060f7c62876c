"""For all tests: enough random examples to find faults, fewer by --quick, no time limits on a busy machine."""

from hypothesis import settings

settings.register_profile("mosaickit", max_examples=60, deadline=None)
settings.register_profile("quick", max_examples=10, deadline=None)


def pytest_configure(config):
    settings.load_profile("quick" if config.getoption("quick") else "mosaickit")
