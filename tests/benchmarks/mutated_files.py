"""Brings in thousands of spoilt files within bounds of memory and time, and says what came of them.

    python -m tests.benchmarks.mutated_files --files 10000 --seed 1

Each file meets the real reader in a process that may take no more than so much memory. A file that is neither
read nor refused, that ends the process or that takes too long is a defect: the run names it and fails.
"""

import argparse
import multiprocessing
import resource
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

from estate.domain.layouts import SheetKind
from estate.errors import IntakeFault
from estate.intake.reading import read
from tests.intake.mutations import spoilt_file

KINDS = (None, SheetKind.VISITS, SheetKind.ASSETS)
READ, ENDED, SLOW = "read", "DEFECT: the process ended", "DEFECT: too slow"


@dataclass(frozen=True)
class Met:
    """What came of one file."""

    number: int
    outcome: str
    seconds: float = 0.0


def meet(folder: Path, number: int, seed: int) -> Met:
    """Bring in one spoilt file."""
    path = spoilt_file(folder, number, seed)
    began = time.perf_counter()
    try:
        read(path, KINDS[number % len(KINDS)])
        outcome = READ
    except IntakeFault as fault:
        outcome = f"refused: {fault.title}"
    seconds = time.perf_counter() - began
    path.unlink()
    return Met(number, outcome, seconds)


def work(results: Connection, numbers: range, seed: int, memory_bytes: int) -> None:
    """Bring in a series; whatever is no known fault ends the process and is heard of by its end."""
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
    with tempfile.TemporaryDirectory() as folder:
        for number in numbers:
            results.send(meet(Path(folder), number, seed))


def met(numbers: range, seed: int, memory_bytes: int, seconds: float) -> Iterator[Met]:
    """What came of each file of a series; a process that ends is followed by another."""
    spawning = multiprocessing.get_context("spawn")
    while numbers:
        ours, theirs = spawning.Pipe(duplex=False)
        worker = spawning.Process(target=work, args=(theirs, numbers, seed, memory_bytes))
        worker.start()
        theirs.close()
        heard: Met | None = None
        for number in numbers:
            heard = _next(ours, number, seconds)
            yield heard
            if heard.outcome in (ENDED, SLOW):
                break
        worker.kill() if heard and heard.outcome == SLOW else worker.join()
        numbers = range(heard.number + 1 if heard else numbers.stop, numbers.stop)


def _next(results: Connection, number: int, seconds: float) -> Met:
    # The first file waits for the process to start.
    if not results.poll(seconds + 30):
        return Met(number, SLOW, seconds)
    try:
        heard: Met = results.recv()
    except EOFError:
        return Met(number, ENDED)
    return heard if heard.seconds <= seconds else Met(number, SLOW, heard.seconds)


def main() -> int:
    """Run the series asked for and print what came of it."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--files", type=int, default=1_000)
    asked.add_argument("--first", type=int, default=0)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--memory-mb", type=int, default=1_500)
    asked.add_argument("--seconds", type=float, default=5)
    given = asked.parse_args()
    numbers = range(given.first, given.first + given.files)
    found = list(met(numbers, given.seed, given.memory_mb * 1_000_000, given.seconds))
    for outcome, count in Counter(each.outcome for each in found).most_common():
        sys.stdout.write(f"{count:7}  {outcome}\n")
    defects = [each for each in found if each.outcome in (ENDED, SLOW)]
    for each in defects:
        sys.stdout.write(f"{each.outcome}: --first {each.number} --files 1 --seed {given.seed}\n")
    slowest = max(found, key=lambda each: each.seconds)
    most_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1_000
    sys.stdout.write(
        f"slowest {slowest.seconds:.2f} s (number {slowest.number}); most memory {most_mb:.0f} MB\n"
    )
    return bool(defects)


if __name__ == "__main__":
    sys.exit(main())
