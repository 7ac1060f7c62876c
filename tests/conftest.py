"""For all tests: enough random examples to find faults, no time limits on a busy machine."""

from hypothesis import settings

settings.register_profile("mosaickit", max_examples=60, deadline=None)
settings.load_profile("mosaickit")
