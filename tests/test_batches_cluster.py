"""Batches on a cluster of two worker processes, one of which is killed in the midst of its work."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

PROGRAM = Path(__file__).with_name("run_on_cluster.py")


@pytest.fixture(scope="module")
def said(slow, tmp_path_factory):
    """What the program says; it is a process of its own, as a cluster leaves threads and open sockets to its end."""
    command = [sys.executable, str(PROGRAM), str(tmp_path_factory.mktemp("cluster"))]
    run = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout.splitlines()[-1])


def test_a_killed_worker_loses_and_doubles_nothing(said):
    found = said["killed"]
    assert found["numbers"] == list(range(60))
    assert found["kept"] == 60
    assert all(found["begun"])
    assert found["victim"] not in found["workers"]  # it did die, and another took its place or none


def test_a_sweep_is_the_same_with_a_worker_killed_in_its_midst(said):
    found = said["swept"]
    assert found["same"]
    assert found["lines"] == 720
    assert found["victim"] not in found["workers"]


def test_a_run_that_is_stopped_goes_on_at_once_on_the_same_cluster(said):
    assert said["stopped"]["stops"] >= 2
    assert said["stopped"]["numbers"] == list(range(40))


def test_a_batch_that_fails_or_kills_its_workers_is_named_and_the_others_are_there(said):
    message = r"Batch 8 of 9 failed: WidthError: No count of repeats comes near\. 7 of 9 batches are done and in this"
    assert re.match(message, said["failed"]["message"])
    message = r"Batch 8 of 9 could not be run: KilledWorker: .* 7 of 9 batches are done and in this error's `results`"
    assert re.match(message, said["deadly"]["message"], re.DOTALL)
    assert said["failed"]["results"] == said["deadly"]["results"] == list(range(7))
