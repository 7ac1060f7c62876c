"""Work for the tests of batches: functions that another process can import, and a run to be killed."""

import os
import random
import sys
import time
from pathlib import Path

from mosaickit import Batch
from mosaickit.batches import run_batches
from mosaickit.errors import WidthError

SQUARES = [{"batch": number, "squares": [n * n for n in range(number)], "half": number / 2} for number in range(30)]
"""What `squares` gives for the batches from 0."""


def squares(number):
    """Give the same for the same batch, sooner or later."""
    time.sleep(random.uniform(0, 0.004))
    return {"batch": number, "squares": [n * n for n in range(number)], "half": number / 2}


def slow(number):
    time.sleep(0.05)
    return {"batch": number}


def nearly(number):
    """Fail at one batch, with an error that no pickle brings back: it wants two arguments, and is given one."""
    if number == 7:
        raise WidthError("No count of repeats comes near.", None)
    return number


def deadly(number):
    if number == 7:
        os.kill(os.getpid(), 9)
    return number


def interrupted(number):
    if number == 7:
        raise KeyboardInterrupt
    return number


def marked(batch):
    """Leave a mark for every time that this batch is worked out."""
    folder, number = batch
    with (Path(folder) / str(number)).open("a") as file:
        file.write("x")
    time.sleep(0.004)
    return {"number": number, "long": "x" * 20_000}


def run_to_be_killed(folder):
    """Do sixty marked batches, kept in a folder beside their marks."""
    batches = [(f"{folder}/marks", number) for number in range(60)]
    results = run_batches(marked, batches, task="marks", batch=Batch(kept_in=f"{folder}/kept", progress=False))
    print([result["number"] for result in results])


if __name__ == "__main__":
    run_to_be_killed(sys.argv[1])
