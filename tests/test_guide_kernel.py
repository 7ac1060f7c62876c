"""A guide's place in processes that are killed at random while they step on, over and over."""

import random
import time

import warmed

from mosaickit.errors import FileError
from mosaickit.fabric import Chart
from mosaickit.guiding import Place, PlaceFile

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


def killed_while_stepping(processes, file, steps, moment):
    """Let a process keep so many steps and kill it a moment later; give all that it said."""
    ear, mouth = processes.Pipe(duplex=False)
    process = processes.Process(target=step_on, args=(file, mouth))
    process.start()
    mouth.close()
    said = [ear.recv() for _ in range(1 + steps)]
    time.sleep(moment)
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
    processes = warmed.processes(PlaceFile.__module__, Chart.__module__)
    done = 0
    for _ in range(KILLS):
        said = killed_while_stepping(processes, file, rng.randrange(5), rng.uniform(0, 0.02))
        assert said[0] == done
        kept = PlaceFile(file, CHART)
        done = number(kept.place)
        # what it said is in the file; the step in hand may be
        assert said[-1] <= done <= said[-1] + 1
        assert kept.file == file
    # nothing lies about but what a kill left unfinished beside the file
    assert {path.suffix for path in tmp_path.iterdir()} <= {".place", ".part", ".lock"}


def step_in_turn(file, mouth, first):
    """Do every second stitch, and say how often another's further place was in the way."""
    kept = PlaceFile(file, CHART)
    mouth.send("ready")
    refused = 0
    for done in range(first, 200, 2):
        try:
            kept.keep(Place(*divmod(done, 97)))
        except FileError as error:
            if "has gone further" not in str(error):
                raise
            refused += 1
    mouth.send(refused)


def test_two_guides_that_step_at_once_leave_the_further_place(tmp_path):
    file = tmp_path / "scarf.place"
    processes = warmed.processes(PlaceFile.__module__, Chart.__module__)
    pipes = [processes.Pipe(duplex=False) for _ in range(2)]
    guides = [processes.Process(target=step_in_turn, args=(file, pipes[n][1], n)) for n in range(2)]
    for guide in guides:
        guide.start()
    for ear, _ in pipes:
        assert ear.recv() == "ready"
    for guide, (ear, _) in zip(guides, pipes, strict=True):
        assert ear.recv() < 100
        guide.join()
        assert guide.exitcode == 0
    assert number(PlaceFile(file, CHART).place) in (198, 199)
    assert [path.name for path in tmp_path.iterdir()] == ["scarf.place"]
