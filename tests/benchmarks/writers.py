"""Many writers on one register of the test server.

``python tests/postgresql.py -- python -m tests.benchmarks.writers --writers 8 --operations 1000``

Every writer is a process with a connection of its own and does in turn: a visit, the visit's void, a rename
of an outlet that all share, a rule of the site's own. Afterwards all of it is counted.
"""

import argparse
import multiprocessing
import sys
import tempfile
import time
import uuid
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import RegisterFault
from estate.operations.open_register import new_register, open_register
from estate.operations.record_visit import record_visit, void_visit
from estate.operations.register import Register
from estate.operations.set_rules import override
from estate.operations.verify_register import verify
from estate.store import ledger, places, row_versions
from estate.store.faults import is_in_use, was_overtaken
from estate.store.retrying import retried
from estate.store.schema import OutletRow
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, ids_at, own_schema

KINDS = 4
TRIES = 100
"""Who is told that the register is in use does it again; what was overtaken the store does again."""


@dataclass(frozen=True)
class Told:
    """What came of it.

    Attributes:
        waits: how often a writer was told that the register is in use, and did it again.
    """

    operations: int
    done: int
    renames: int
    waits: int
    version: int
    entries: int
    misfits: int
    seconds: float

    @property
    def whole(self) -> bool:
        """Nothing was lost and the ledger fits."""
        return self.done == self.operations and self.version == self.renames + 1 and self.misfits == 0


class Writer:
    """One person at work."""

    def __init__(self, register: Register, number: int) -> None:
        self._register = register
        self._who = f"Writer {number}"
        self._ids = ids_at(register, MINE)
        self._visit_id = 0
        self.renames = 0

    def work(self, turn: int) -> None:
        """Operation number `turn`."""
        (self._record, self._void, self._rename, self._override)[turn % KINDS](turn)

    def _record(self, turn: int) -> None:
        ids, on = self._ids, TODAY - timedelta(days=turn % 300)
        readings = Readings(left_c=41.0)
        draft = VisitDraft(ids["valve"], ids["outlet"], VisitKind.IN_SERVICE, on, readings, self._who)
        done = record_visit(self._register, draft, who=self._who, at=NOW, today=TODAY)
        self._visit_id = done.visit.id

    def _void(self, turn: int) -> None:
        void_visit(self._register, self._visit_id, reason=f"turn {turn}", who=self._who, at=NOW)

    def _rename(self, turn: int) -> None:
        outlet_id = self._ids["outlet"]
        rename(self._register, outlet_id, self._who, f"{self._who} {turn}")
        self.renames += 1

    def _override(self, turn: int) -> None:
        key, place = "isolation.residual-flow", f"outlet:{self._ids['outlet']}"
        override(
            *(self._register, "uk-healthcare", key, place, float(20 + turn % 7)),
            who=self._who,
            at=NOW,
            why=f"turn {turn}",
        )


@retried
def rename(register: Register, outlet_id: int, who: str, name: str) -> None:
    """Rename the outlet that all share, by its version as it is then."""
    with writing(register.database, who, "renamed", NOW) as tx:
        version = row_versions.version_of(tx.session, OutletRow, outlet_id)
        row_versions.must_be_at(tx, OutletRow, outlet_id, version)
        places.amend_outlet(tx, outlet_id, name=name)


def write(address: str, number: int, operations: int) -> tuple[int, int, int]:
    """Work as one writer; operations done, renames among them, and how often it waited."""
    register = open_register(address)
    writer, done, waits = Writer(register, number), 0, 0
    for turn in range(operations):
        for left in reversed(range(TRIES)):
            try:
                writer.work(turn)
            except RegisterFault as fault:
                if not is_in_use(fault) or was_overtaken(fault) or not left:
                    raise
                waits += 1
            else:
                done += 1
                break
    register.close()
    return done, writer.renames, waits


def run(writers: int, operations: int) -> Told:
    """Let them all work at once, then count."""
    name = f"t{uuid.uuid4().hex}"
    with own_schema(name) as address, tempfile.TemporaryDirectory() as folder:
        register = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier=name)
        bring(register, Path(folder), ASSETS, "assets.csv")
        began = time.monotonic()
        with multiprocessing.get_context("spawn").Pool(writers) as pool:
            found = pool.starmap(write, [(address, number, operations) for number in range(writers)])
        seconds = time.monotonic() - began
        with register.database.reading() as session:
            version = row_versions.version_of(session, OutletRow, ids_at(register, MINE)["outlet"])
            entries = ledger.newest(session)
        misfits = len(verify(register).misfits)
        register.close()
    done, renames, waits = (sum(each) for each in zip(*found, strict=True))
    return Told(writers * operations, done, renames, waits, version, entries, misfits, seconds)


def main(arguments: list[str]) -> int:
    """Run as the command line asks, and say what came of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--writers", type=int, default=8)
    parser.add_argument("--operations", type=int, default=1000)
    asked = parser.parse_args(arguments)
    told = run(asked.writers, asked.operations)
    sys.stdout.write(f"{told}\n{'whole' if told.whole else 'NOT WHOLE'}\n")
    return 0 if told.whole else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
