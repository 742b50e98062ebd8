"""A commit that is killed leaves all of its batch or none; `tests/benchmarks/kills.py` does it often."""

import json
import subprocess
import sys
from pathlib import Path


def test_that_a_commit_killed_at_any_moment_leaves_all_of_its_batch_or_none(checkout: Path) -> None:
    line = [sys.executable, "-m", "tests.benchmarks.kills", "--kills", "12", "--rows", "240"]
    done = subprocess.run(line, cwd=checkout, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["kills"] == 12
    assert told["finished before the kill"] < 6
    assert told["nothing of it there"] >= 5
    assert told["whole batch there"] >= 1
    assert told["whole batch there"] + told["nothing of it there"] == 12
    assert told["with a log beside the file"] >= 5
