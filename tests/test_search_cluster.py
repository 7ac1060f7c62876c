"""A search on a cluster of two worker processes finds what a search in one process finds.

Run as a program this file searches on such a cluster and says as JSON what came of it: a cluster leaves threads and
open sockets to the end of its process, so it is given one of its own.
"""

import json
import os
import subprocess
import sys
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from search_work import pleasing

from mosaickit import search_motifs

SEARCHES = {
    "in runs": {"start": (8, 12), "symmetry": "mirror", "runs": 6, "steps": 60, "keep": 5},
    "of all": {"start": (8, 4), "symmetry": "half-turn", "keep": 5},
}
"""What both search: among too many motifs to try, and among few enough, which is then cut into small batches."""

SMALL_BATCH = 40


def marking(folder, motif):
    """Give a motif its score, and leave a mark that says which process did it."""
    (Path(folder) / str(os.getpid())).touch()
    return pleasing(motif)


def told(found):
    return {
        "motifs": [motif.to_text() for motif in found.motifs],
        "scores": list(found.scores),
        "tried": found.tried,
        "space": found.space,
        "all tried": found.all_tried,
    }


def searched(folder, how, executor=None):
    """Search, and say what was found and which processes scored motifs."""
    folder.mkdir()
    found = search_motifs(
        objective=partial(marking, str(folder)),
        rng=np.random.default_rng(5),
        executor=executor,
        progress=False,
        **SEARCHES[how],
    )
    return told(found) | {"processes": sorted(int(mark.name) for mark in folder.iterdir())}


def run(folder):
    from distributed import Client, LocalCluster

    from mosaickit.ideas.search import searching

    searching.MOTIFS_A_BATCH = SMALL_BATCH
    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, local_directory=str(folder)
        ) as cluster,
        Client(cluster) as client,
    ):
        said = {how: searched(folder / how, how, client.get_executor()) for how in SEARCHES}
        return said | {"workers": sorted(client.run(os.getpid).values())}


@pytest.fixture(scope="module")
def said(slow, tmp_path_factory):
    command = [sys.executable, __file__, str(tmp_path_factory.mktemp("cluster"))]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
    assert ran.returncode == 0, ran.stderr
    return json.loads(ran.stdout.splitlines()[-1])


@pytest.mark.parametrize("how", SEARCHES)
def test_a_search_on_a_cluster_finds_what_one_process_finds(said, how, tmp_path):
    here = searched(tmp_path / "marks", how)
    assert here.pop("processes") == [os.getpid()]
    assert len(set(here["motifs"])) == 5
    assert here["all tried"] == (how == "of all")
    there = {**said[how]}
    assert set(there.pop("processes")) <= set(said["workers"])
    assert there == here


def test_both_workers_scored_motifs(said):
    assert {process for how in SEARCHES for process in said[how]["processes"]} == set(said["workers"])
    assert len(said["workers"]) == 2


def test_other_chance_finds_others(said):
    found = search_motifs(objective=pleasing, rng=np.random.default_rng(6), progress=False, **SEARCHES["in runs"])
    assert told(found)["scores"] != said["in runs"]["scores"]


if __name__ == "__main__":  # the workers load this file too
    print(json.dumps(run(Path(sys.argv[1]))))
