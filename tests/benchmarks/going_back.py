"""How long it takes, and how much memory, to go back to a past moment: on the sample and on a large register.

.venv/bin/python -m tests.benchmarks.going_back --outlets 20000 --rounds 20
"""

import argparse
import resource
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from time import perf_counter

from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations.as_known_at import as_known_at
from estate.operations.open_register import new_register, open_register
from estate.operations.plan_retests import due_lines
from estate.operations.register import Register
from estate.store import judgements, ledger, visits
from estate.store.transaction import writing
from tests.store.builders import JUDGED, Basin, add_basin

_WEEK = timedelta(weeks=1)
_LAST = datetime(2026, 11, 18, 9, 0, tzinfo=UTC)


def fill(register: Register, outlets: int, rounds: int) -> None:
    """Outlets, then rounds of visits with their judgements, a week apart."""
    first = _LAST - rounds * _WEEK
    with writing(register.database, "A. Officer", "brought in assets", first) as tx:
        basins = [add_basin(tx, f"MX-{number}", f"Bay {number // 20}") for number in range(outlets)]
    for number in range(1, rounds + 1):
        at = first + number * _WEEK
        with writing(register.database, "A. Officer", f"brought in round {number}", at) as tx:
            added = visits.add_visits(tx, [_draft(each, at.date()) for each in basins], None)
            judgements.add_judgements(tx, [(each.id, JUDGED) for each in added])


def _draft(basin: Basin, on: date) -> VisitDraft:
    return VisitDraft(
        basin.valve_id,
        basin.outlet_id,
        VisitKind.IN_SERVICE,
        on,
        Readings(hot_c=60.2, cold_c=12.1, found_c=41.2, left_c=41.0),
        person="T. Tester",
    )


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Say how long something took, and the memory in use at most so far."""
    began = perf_counter()
    yield
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    say(f"{what:<52} {perf_counter() - began:7.2f} s   at most {most_mb:6.0f} MB")


def say(line: str) -> None:
    """One line on the screen."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def go_back(register: Register, moments: Sequence[datetime]) -> None:
    """Go back to each moment, and plan by what was known then."""
    for moment in moments:
        steps = [perf_counter()]

        def tell(done: int, of: int, what: str, steps: list[float] = steps) -> None:
            steps.append(perf_counter())

        with timed(f"back to {moment:%Y-%m-%d}"):
            past = as_known_at(register, moment, tell)
        longest = max(two - one for one, two in pairwise(steps))
        with past.database.reading() as session:
            say(f"    {ledger.newest(session)} entries known; cancel waits {longest:.2f} s at most")
        with timed("    the due list of that day"):
            due_lines(past, moment.date())
        past.close()


def main() -> None:
    """Build, go back, print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--register", type=Path, help="A register to go back in, instead of a made one.")
    asked.add_argument("--outlets", type=int, default=2000)
    asked.add_argument("--rounds", type=int, default=20)
    said = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "large.db"
        if said.register is not None:
            shutil.copy(said.register, file)
            register = open_register(file)
        else:
            register = new_register(file, "Marlpit Cross", at=_LAST - 99 * _WEEK, who="A. Officer")
            with timed(f"{said.outlets} outlets, {said.outlets * said.rounds} visits made"):
                fill(register, said.outlets, said.rounds)
        size = sum(each.stat().st_size for each in Path(folder).iterdir())
        say(f"The register has {size / 1e6:.0f} MB.")
        go_back(register, [_LAST + _WEEK, _LAST - said.rounds // 2 * _WEEK, _LAST - said.rounds * _WEEK])
        register.close()


if __name__ == "__main__":
    main()
