"""A guide's place in processes that are killed at random while they step on, over and over."""

import multiprocessing
import random
import sys
import time

from mosaickit.guiding import Place, PlaceFile
from mosaickit.stitches import Chart

CHART = Chart.from_text("\n".join(["." * 97] * 400))
KILLS = 100


def number(place):
    """How many stitches are done in all."""
    return place.rows * 97 + place.stitches


def step_on(file, mouth):
    """Do stitch after stitch for ever, and say the number of each one that is kept."""
    kept = PlaceFile(file, CHART)
    done = number(kept.place)
    mouth.send(done)
    while True:
        done += 1
        kept.keep(Place(*divmod(done, 97)))
        mouth.send(done)


def killed_while_stepping(processes, file, rng):
    """Let a process step on until it has said some words, and kill it in any part of a step; give all that it said."""
    ear, mouth = processes.Pipe(duplex=False)
    process = processes.Process(target=step_on, args=(file, mouth))
    process.start()
    mouth.close()
    said = [ear.recv() for _ in range(1 + rng.randrange(6))]
    time.sleep(rng.uniform(0, 0.002))
    process.kill()
    process.join()
    try:
        while True:
            said.append(ear.recv())
    except (EOFError, OSError):  # a word cut short is none
        return said
    finally:
        ear.close()


def test_a_process_killed_a_hundred_times_loses_at_most_the_step_in_hand(tmp_path):
    file = tmp_path / "scarf.place"
    rng = random.Random(KILLS)
    # the package is loaded once, and each process starts from there
    processes = multiprocessing.get_context("spawn" if sys.platform == "win32" else "forkserver")
    if sys.platform != "win32":
        processes.set_forkserver_preload([__name__])
    done, runs_that_stepped = 0, 0
    for _ in range(KILLS):
        said = killed_while_stepping(processes, file, rng)
        assert said[0] == done
        kept = PlaceFile(file, CHART)
        done = number(kept.place)
        # what it said is in the file; the step in hand may be
        assert said[-1] <= done <= said[-1] + 1
        assert kept.file == file
        runs_that_stepped += done > said[0]
    assert runs_that_stepped > KILLS // 2
    # nothing lies about but what a kill left unfinished beside the file
    assert {path.suffix for path in tmp_path.iterdir()} <= {".place", ".part"}
