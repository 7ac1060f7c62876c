"""Runs batches on a cluster of two worker processes and says as JSON what came of it; see test_batches_cluster.py."""

import json
import os
import signal
import sys
from itertools import count
from pathlib import Path

from batch_work import deadly, marked, nearly, slow
from distributed import Client, LocalCluster
from samples import letter_f

from mosaickit import Gauge
from mosaickit.batches import run_batches
from mosaickit.errors import StoppedError, UnfinishedError
from mosaickit.sizes.sweeps import sweeping


def killed(client, folder):
    """Kill a worker in the midst of a batch; give the results, and how often each batch was begun."""
    (folder / "marks").mkdir()
    victim = next(iter(client.run(os.getpid).values()))
    looks = count()

    def kill():
        """Be asked whether to stop, once for each batch that comes; never do."""
        if next(looks) == 20:
            os.kill(victim, signal.SIGKILL)
        return False

    batches = [(str(folder / "marks"), number) for number in range(60)]
    results = run_batches(
        marked, batches, executor=client.get_executor(), stop=kill, kept_in=folder / "kept", task=1, progress=False
    )
    return {
        "numbers": [result["number"] for result in results],
        "kept": len(os.listdir(folder / "kept")),
        "begun": [(folder / "marks" / str(number)).stat().st_size for number in range(60)],
        "victim": victim,
        "workers": sorted(client.run(os.getpid).values()),
    }


def stopped(client, folder):
    """Stop again and again, and go on at once with the same batches on the same cluster."""
    stops = 0
    folder.mkdir()
    while True:
        enough = len(os.listdir(folder)) + 10
        try:
            results = run_batches(
                slow,
                range(40),
                executor=client.get_executor(),
                stop=lambda enough=enough: len(os.listdir(folder)) >= enough,
                kept_in=folder,
                task="slow",
                progress=False,
            )
        except StoppedError:
            stops += 1
        else:
            return {"stops": stops, "numbers": [result["batch"] for result in results]}


def swept(client):
    """Sweep with a worker killed in its midst; say whether the table is the one that comes without a cluster."""
    sweeping.BATCH = 10
    victim = next(iter(client.run(os.getpid).values()))
    looks = count()

    def kill():
        if next(looks) == 15:
            os.kill(victim, signal.SIGKILL)
        return False

    def found(**options):
        return sweeping.sweep(
            letter_f, Gauge(16, 18), across=range(1, 31), up=[1, 3, 5], rings=[0, 1], edges=range(4), colours="swap",
            progress=False, **options,
        ).table  # fmt: skip

    table = found(executor=client.get_executor(), stop=kill)
    return {
        "same": table.equals(found()),
        "lines": len(table),
        "victim": victim,
        "workers": sorted(client.run(os.getpid).values()),
    }


def failed(client, work):
    try:
        run_batches(work, range(9), executor=client.get_executor(), in_flight=1, progress=False)
    except UnfinishedError as error:
        return {"message": str(error), "results": list(error.results.values())}


def run(folder):
    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, local_directory=str(folder)
        ) as cluster,
        Client(cluster) as client,
    ):
        said = {
            "killed": killed(client, folder),
            "stopped": stopped(client, folder / "stopped"),
            "swept": swept(client),
            "failed": failed(client, nearly),
        }
        cluster.scheduler.allowed_failures = 0  # else four workers would have to die
        return said | {"deadly": failed(client, deadly)}


if __name__ == "__main__":  # the workers load this file too
    print(json.dumps(run(Path(sys.argv[1]))))
