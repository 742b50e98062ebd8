"""Kill the program at its work, many times: all of what it was doing is there afterwards, or none of it.

    python -m tests.benchmarks.kills --kills 1000 --rows 600

Five works take turns: bringing a batch in, recording visits, backing up, upgrading an old register, restoring
one. Each time a child does the work on a fresh copy and is killed (SIGKILL): at a moment drawn over the real
duration of the work, or at a step of it (before or after a statement, or a call that the store makes). The
file is then opened as it lies, with whatever log the child left beside it; every third as on a network share.
"""

import argparse
import contextlib
import json
import os
import shutil
import signal
import sys
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from random import Random
from time import monotonic, sleep
from types import FrameType
from unittest.mock import patch

from sqlalchemy import event
from sqlalchemy.engine import Engine

from estate.store import database
from tests.benchmarks.killed_works import WORKS, Work

STORE = ("estate.store", "estate.operations")
CALLS = {"c_call", "c_return"}


@dataclass(frozen=True)
class Outcome:
    """What was found after one kill.

    Attributes:
        work: what was being done.
        moment: ``at step 12 of 31`` or ``after 0.214 of 0.982 s``.
        survived: whether the child had finished before it was to be killed.
        whole: True with all of the work there, False with none of it or, of several records, the first ones.
        beside: whether the child left files beside the register.
    """

    work: str
    moment: str
    survived: bool
    whole: bool
    beside: bool


class _Steps:
    """Counts the steps of a work, and kills this process at one of them."""

    def __init__(self, kill_at: int | None = None) -> None:
        self.met = 0
        self._kill_at = kill_at

    def step(self, *ignored: object) -> None:
        self.met += 1
        if self.met == self._kill_at:
            os.kill(os.getpid(), signal.SIGKILL)

    def profile(self, frame: FrameType, kind: str, ignored: object) -> None:
        if kind in CALLS and str(frame.f_globals.get("__name__")).startswith(STORE):
            self.step()


@contextmanager
def _stepping(steps: _Steps, by_calls: bool) -> Iterator[None]:
    """Count each statement, before and after, and each commit; with `by_calls` each call of the store too."""
    marks = [(Engine, "before_cursor_execute"), (Engine, "after_cursor_execute"), (Engine, "commit")]
    for target, name in marks:
        event.listen(target, name, steps.step)
    if by_calls:
        sys.setprofile(steps.profile)
    try:
        yield
    finally:
        sys.setprofile(None)
        for target, name in marks:
            event.remove(target, name, steps.step)


def _killed(work: Work, place: Path, after_s: float, kill_at: int | None, share: bool) -> tuple[bool, int]:
    """Do a work in a child and kill it; whether it had finished before, and how many records it told of."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        _do_it_here(work, place, write, kill_at, share)
    os.close(write)
    os.read(read, 1)
    if kill_at is None:
        sleep(after_s)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
    told = 0
    while met := os.read(read, 4096):
        told += len(met)
    os.close(read)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status) != 0:
        raise AssertionError(f"{work.name}: the child failed by itself")
    return os.WIFEXITED(status), told


def _do_it_here(work: Work, place: Path, ready: int, kill_at: int | None, share: bool) -> None:
    status = 3
    try:
        with patch.object(database, "lies_on_network_share", return_value=share):
            deed = work.begin(place)
            os.write(ready, b".")
            with _stepping(_Steps(kill_at), work.by_calls and kill_at is not None):
                deed(lambda: os.write(ready, b"+"))
        status = 0
    finally:
        if status:
            traceback.print_exc()
        os._exit(status)


def _measured(work: Work, master: Path, folder: Path) -> tuple[int, float]:
    """Steps and seconds of the whole work; its outcome is checked as every other."""
    took = 0.0
    steps = _Steps()
    for by_calls in (True, False):
        place = folder / f"{work.name} whole {by_calls}"
        shutil.copytree(master, place)
        deed, records = work.begin(place), [0]
        began = monotonic()
        with _stepping(steps if by_calls else _Steps(), by_calls and work.by_calls):
            deed(partial(records.append, 1))
        took = monotonic() - began
        if not work.whole_after(master, place, len(records) - 1):
            raise AssertionError(f"{work.name}: done and not there")
        shutil.rmtree(place)
    return steps.met, took


def kill_at_work(kills: int, rows: int, seed: int, folder: Path) -> list[Outcome]:
    """Kill works, taking turns; of each every second time at a step.

    Raises:
        AssertionError: a part of a work was left, a record told of is gone, or a register does not open, is
            not sound or does not verify.
    """
    random = Random(seed)
    outcomes: list[Outcome] = []
    for turn, work in enumerate(WORKS):
        master = folder / f"{work.name} master"
        master.mkdir()
        work.make(master, rows)
        steps, took = _measured(work, master, folder)
        share = kills // len(WORKS) + (turn < kills % len(WORKS))
        for number in range(share):
            kill_at = 1 + (steps - 1) * number // max((share - 1) // 2 * 2, 1) if number % 2 == 0 else None
            after_s = random.uniform(0, took * 1.15)
            outcomes.append(_one(work, master, folder / "killed", number, kill_at, steps, after_s, took))
    return outcomes


def _one(
    work: Work,
    master: Path,
    place: Path,
    number: int,
    kill_at: int | None,
    steps: int,
    after_s: float,
    took: float,
) -> Outcome:
    shutil.copytree(master, place)
    survived, told = _killed(work, place, after_s, kill_at, number % 3 == 2)
    moment = f"at step {kill_at} of {steps}" if kill_at else f"after {after_s:.3f} of {took:.3f} s"
    beside = any(each.name.startswith("register.db-") for each in place.iterdir())
    try:
        whole = work.whole_after(master, place, told)
    except AssertionError as fault:
        raise AssertionError(f"{work.name}, killed {moment}: {fault}") from fault
    if survived and not whole:
        raise AssertionError(f"{work.name}: finished and not there, {moment}")
    shutil.rmtree(place)
    return Outcome(work.name, moment, survived, whole, beside)


def told(outcomes: list[Outcome]) -> dict[str, dict[str, int]]:
    """How often each work was killed and what was found."""
    found = {}
    for work in WORKS:
        own = [each for each in outcomes if each.work == work.name]
        found[work.name] = {
            "kills": len(own),
            "finished before the kill": sum(each.survived for each in own),
            "all of it there": sum(each.whole for each in own),
            "none of it there, or the first records": sum(not each.whole for each in own),
            "a part of it there": 0,
            "with a log beside the file": sum(each.beside for each in own),
        }
    return found


def main() -> None:
    """Kill and tell."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--kills", type=int, default=1000)
    options.add_argument("--rows", type=int, default=600)
    options.add_argument("--seed", type=int, default=20261125)
    given = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        outcomes = kill_at_work(given.kills, given.rows, given.seed, Path(folder))
    print(json.dumps(told(outcomes), indent=2))  # noqa: T201 - this is what it is run for


if __name__ == "__main__":
    main()
