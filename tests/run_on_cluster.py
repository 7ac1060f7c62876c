"""Runs batches, a sweep and searches on a cluster of two worker processes; see test_batches_cluster.py.

It says as JSON what came of it, and is a process of its own, as a cluster leaves threads and open sockets to its end.
Each step is said when it begins; if all of it takes longer than `LONGEST`, it says where it stands as well, and ends.
"""

import faulthandler
import json
import os
import signal
import sys
from contextlib import suppress
from itertools import count
from pathlib import Path

import dask
from batch_work import deadly, marked, nearly, slow
from distributed import Client, LocalCluster
from samples import letter_f
from search_work import SEARCHES, told

from mosaickit import Batch, Gauge, Surround
from mosaickit.batches import run_batches
from mosaickit.errors import StoppedError, UnfinishedError
from mosaickit.ideas.search import searching
from mosaickit.sizes.sweeps import sweeping

LONGEST = 800
"""Seconds, some twenty times what it takes; shorter than what a whole test is given, so that it can tell its own."""

# A cluster gives a worker up that is not back within 15 s of its death, which on a busy machine it is not, or that was
# killed again 15 s after; then nobody works any more. Nor is a worker dead that has no time to say that it lives.
PATIENT = {"distributed.deploy.lost-worker-timeout": "1 day", "distributed.scheduler.worker-ttl": None}


def workers(client, gone=None):
    """Give the processes of both workers, as soon as another one has taken the place of one that is gone."""
    while True:
        with suppress(OSError):  # the scheduler has not noticed yet that it is gone
            found = sorted(client.run(os.getpid).values())
            if len(found) == 2 and gone not in found:
                return found


def killer(client, after):
    """Give a worker, and what is asked whether to stop: it never does, but kills the worker when asked so often.

    It is asked once for each batch that comes, and now and then between.
    """
    victim = workers(client)[0]
    looks = count()

    def kill():
        if next(looks) == after:
            os.kill(victim, signal.SIGKILL)
        return False

    return victim, kill


def killed(client, folder):
    """Kill a worker in the midst of a batch; give the results, and how often each batch was begun."""
    (folder / "marks").mkdir()
    victim, kill = killer(client, 20)
    batches = [(str(folder / "marks"), number) for number in range(60)]
    batch = Batch(executor=client.get_executor(), stop=kill, kept_in=folder / "kept", progress=False)
    results = run_batches(marked, batches, task=1, batch=batch)
    return {
        "numbers": [result["number"] for result in results],
        "kept": len(os.listdir(folder / "kept")),
        "begun": [(folder / "marks" / str(number)).stat().st_size for number in range(60)],
        "victim": victim,
        "workers": workers(client, victim),
    }


def stopped(client, folder):
    """Stop again and again, and go on at once with the same batches on the same cluster."""
    stops = 0
    folder.mkdir()
    while True:
        enough = len(os.listdir(folder)) + 10
        try:
            batch = Batch(
                executor=client.get_executor(),
                stop=lambda enough=enough: len(os.listdir(folder)) >= enough,
                kept_in=folder,
                progress=False,
            )
            results = run_batches(slow, range(40), task="slow", batch=batch)
        except StoppedError:
            stops += 1
        else:
            return {"stops": stops, "numbers": [result["batch"] for result in results]}


def swept(client):
    """Sweep with a worker killed in its midst; say whether the table is the one that comes without a cluster."""
    sweeping.BATCH = 10
    victim, kill = killer(client, 15)

    def found(**batch):
        return sweeping.sweep(
            letter_f, Gauge(16, 18), across=range(1, 31), up=[1, 3, 5],
            surrounds=Surround.each(rings=[0, 1], edges=range(4), colours="swap"),
            batch=Batch(progress=False, **batch),
        ).table  # fmt: skip

    table = found(executor=client.get_executor(), stop=kill)
    return {
        "same": table.equals(found()),
        "lines": len(table),
        "victim": victim,
        "workers": workers(client, victim),
    }


def searched(client, how, folder):
    """Search with a worker killed in its midst; say what was found, and which workers there were."""
    searching.MOTIFS_A_BATCH = 40
    before = workers(client)
    victim, kill = killer(client, 8)
    found = told(how, folder, executor=client.get_executor(), stop=kill)
    return {
        "found": found,
        "victim": victim,
        "before": before,
        "workers": workers(client, victim),
    }


def failed(client, work):
    try:
        run_batches(work, range(9), in_flight=1, batch=Batch(executor=client.get_executor(), progress=False))
    except UnfinishedError as error:
        return {"message": str(error), "results": list(error.results.values())}


def run(folder):
    with (
        dask.config.set(PATIENT),
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, local_directory=str(folder)
        ) as cluster,
        Client(cluster) as client,
    ):
        said = {
            "killed": step(killed, client, folder),
            "stopped": step(stopped, client, folder / "stopped"),
            "swept": step(swept, client),
            "searched": {how: step(searched, client, how, folder / how) for how in SEARCHES},
            "failed": step(failed, client, nearly),
        }
        cluster.scheduler.allowed_failures = 0  # else four workers would have to die
        return said | {"deadly": step(failed, client, deadly)}


def step(work, *given):
    print("Now:", work.__name__, *given[1:], file=sys.stderr, flush=True)
    return work(*given)


if __name__ == "__main__":  # the workers load this file too
    faulthandler.dump_traceback_later(LONGEST, exit=True)
    print(json.dumps(run(Path(sys.argv[1]))))
