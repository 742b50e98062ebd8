"""Work that is killed leaves all of itself or none; `tests/benchmarks/kills.py` does it often."""

import json
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.fixture(scope="module")
def told(checkout: Path) -> dict[str, dict[str, int]]:
    """What a short run found of each work."""
    line = [sys.executable, "-m", "tests.benchmarks.kills", "--kills", "20", "--rows", "120"]
    done = subprocess.run(line, cwd=checkout, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    found: dict[str, dict[str, int]] = json.loads(done.stdout)
    return found


def test_that_work_killed_at_any_moment_is_there_whole_or_not_at_all(told: dict[str, dict[str, int]]) -> None:
    assert list(told) == ["import", "record", "backup", "upgrade", "restore"]
    for each in told.values():
        assert each["kills"] == 4
        assert each["all of it there"] + each["none of it there, or the first records"] == 4
        assert each["none of it there, or the first records"] >= 1
        assert each["finished before the kill"] < 4


def test_that_the_kills_strike_while_something_is_written(told: dict[str, dict[str, int]]) -> None:
    assert sum(each["with a log beside the file"] for each in told.values()) >= 6
    assert sum(each["all of it there"] for each in told.values()) >= 3
