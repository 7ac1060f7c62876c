"""`python -m mosaickit`: the same as the command `mosaickit`."""

from mosaickit.cli.running import run

if __name__ == "__main__":
    run()
