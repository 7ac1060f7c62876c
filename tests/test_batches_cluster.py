"""Batches on a cluster of two worker processes, one of which is killed in the midst of its work."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from search_work import SEARCHES, pleasing, told

from mosaickit import Batch, search_motifs

PROGRAM = Path(__file__).with_name("run_on_cluster.py")


@pytest.fixture(scope="module")
def said(slow, tmp_path_factory):
    """What the program says; it ends by itself if it does not come to its end."""
    command = [sys.executable, str(PROGRAM), str(tmp_path_factory.mktemp("cluster"))]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout.splitlines()[-1])


def test_a_killed_worker_loses_and_doubles_nothing(said):
    found = said["killed"]
    assert found["numbers"] == list(range(60))
    assert found["kept"] == 60
    assert all(found["begun"])
    assert found["victim"] not in found["workers"]  # it did die, and another took its place


def test_a_sweep_is_the_same_with_a_worker_killed_in_its_midst(said):
    found = said["swept"]
    assert found["same"]
    assert found["lines"] == 720
    assert found["victim"] not in found["workers"]


@pytest.mark.parametrize("how", SEARCHES)
def test_a_search_with_a_worker_killed_in_its_midst_finds_what_one_process_finds(said, how, tmp_path):
    here, ran = told(how, tmp_path / "marks"), said["searched"][how]
    assert here.pop("processes") == [os.getpid()]
    assert len(set(here["motifs"])) == 5
    assert here["all tried"] == (how == "of all")
    there = {**ran["found"]}
    assert set(there.pop("processes")) <= {*ran["before"], *ran["workers"]}
    assert there == here
    assert ran["victim"] in ran["before"]
    assert ran["victim"] not in ran["workers"]


def test_both_workers_scored_motifs(said):
    assert len({process for how in SEARCHES for process in said["searched"][how]["found"]["processes"]}) >= 2


def test_other_chance_finds_others(said):
    quiet = Batch(progress=False)
    found = search_motifs(objective=pleasing, rng=np.random.default_rng(6), batch=quiet, **SEARCHES["in runs"])
    assert list(found.scores) != said["searched"]["in runs"]["found"]["scores"]


def test_a_run_that_is_stopped_goes_on_at_once_on_the_same_cluster(said):
    assert said["stopped"]["stops"] >= 2
    assert said["stopped"]["numbers"] == list(range(40))


def test_a_batch_that_fails_or_kills_its_workers_is_named_and_the_others_are_there(said):
    message = r"Batch 8 of 9 failed: WidthError: No count of repeats comes near\. 7 of 9 batches are done and in this"
    assert re.match(message, said["failed"]["message"])
    message = r"Batch 8 of 9 could not be run: KilledWorker: .* 7 of 9 batches are done and in this error's `results`"
    assert re.match(message, said["deadly"]["message"], re.DOTALL)
    assert said["failed"]["results"] == said["deadly"]["results"] == list(range(7))
