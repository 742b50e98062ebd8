"""Kill the program while it commits a batch, many times: all of the batch is there afterwards, or none.

    python -m tests.benchmarks.kills --kills 300 --rows 1500

Each time a child opens a copy of a small register, looks at a sheet and commits it, and is killed (SIGKILL):
at a moment drawn over the real duration of the commit, or before or after a statement of it. The file is then
opened as it lies, with whatever log the child left beside it; every third as on a network share.
"""

import argparse
import contextlib
import json
import os
import shutil
import signal
import sqlite3
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random
from time import monotonic, sleep
from unittest.mock import patch

from sqlalchemy import event
from sqlalchemy.engine import Engine

from estate.domain.layouts import SheetKind
from estate.operations.bring_in import Proposal, commit, look
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.store import batches, database

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
WHO = "A. Officer"
OUTLETS = 40
ASSETS = "Asset ref,Site,Building,Level,Room no,Room,Outlet,Use,Used by,Make,Model,Serial no,Fitted\n"
VISITS = "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min\n"
LASTING = ("visit", "judgement", "finding", "batch", "batch_question", "group_fit", "ledger_entry")


@dataclass(frozen=True)
class Outcome:
    """What was found after one kill.

    Attributes:
        moment: ``at step 12 of 31`` or ``after 0.214 of 0.982 s``.
        survived: whether the child had finished before it was to be killed.
        whole: True with the whole batch there, False with none of it.
        beside: files that the child left beside the register.
    """

    moment: str
    survived: bool
    whole: bool
    beside: tuple[str, ...]


def make_register(folder: Path, rows: int) -> tuple[Path, Path]:
    """A register with basins, and a sheet of visits to them that is not yet brought in."""
    assets, sheet, register = folder / "assets.csv", folder / "round.csv", folder / "register.db"
    valve = "Wash-hand basin,Patients,Make A,A15"
    lines = [
        f"MX/{n},Marlpit Cross,Main,G,{n // 4},Ward,Basin {n},{valve},S-{n},2020-01-01\n"
        for n in range(OUTLETS)
    ]
    assets.write_text(ASSETS + "".join(lines), encoding="utf-8")
    sheet.write_text(VISITS + "".join(_visit(row) for row in range(rows)), encoding="utf-8")
    opened = new_register(register, "Marlpit Cross", at=NOW, who=WHO, identifier="kills")
    commit(opened, look(opened, assets, SheetKind.ASSETS, TODAY), who=WHO, at=NOW)
    opened.close()
    return register, sheet


def _visit(row: int) -> str:
    day = TODAY - timedelta(days=1 + row // OUTLETS)
    mixed = f"{41 + row % 4 / 10:.1f}"
    return f"MX/{row % OUTLETS},{day},In-service,{60 + row % 3},13,{mixed},{mixed},{row % 9}\n"


def counted(path: Path) -> dict[str, int]:
    """How many rows each table has in which a batch leaves any."""
    with closing(sqlite3.connect(path)) as connection:
        return {name: connection.execute(f"SELECT count(*) FROM {name}").fetchone()[0] for name in LASTING}


@contextmanager
def _hooked(before: Callable[[int], None]) -> Iterator[Counter[str]]:
    """Call a function before and after each statement, before the commit and at the end, with its number."""
    met: Counter[str] = Counter()

    def step(*ignored: object) -> None:
        met["steps"] += 1
        before(met["steps"])

    marks = [(Engine, "before_cursor_execute"), (Engine, "after_cursor_execute"), (Engine, "commit")]
    for target, name in marks:
        event.listen(target, name, step)
    try:
        yield met
        step()
    finally:
        for target, name in marks:
            event.remove(target, name, step)


def _child(path: Path, sheet: Path, ready: int, kill_at: int | None, on_a_share: bool) -> None:
    with patch.object(database, "lies_on_network_share", return_value=on_a_share):
        register = open_register(path)
    proposal = look(register, sheet, SheetKind.VISITS, TODAY)
    os.write(ready, b".")
    if kill_at is None:
        commit(register, proposal, who=WHO, at=NOW)
        return
    with _hooked(lambda step: os.kill(os.getpid(), signal.SIGKILL) if step == kill_at else None):
        commit(register, proposal, who=WHO, at=NOW)


def _killed(path: Path, sheet: Path, after_s: float, kill_at: int | None, on_a_share: bool) -> bool:
    """Run a commit in a child and kill it; returns whether it had finished before."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        status = 3
        try:
            _child(path, sheet, write, kill_at, on_a_share)
            status = 0
        finally:
            if status:
                traceback.print_exc()
            os._exit(status)
    os.close(write)
    os.read(read, 1)
    os.close(read)
    if kill_at is None:
        sleep(after_s)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status) != 0:
        raise AssertionError("the child failed by itself")
    return os.WIFEXITED(status)


def _measured(register: Path, sheet: Path, folder: Path) -> tuple[int, float, dict[str, int]]:
    """Steps and seconds of a whole commit, and the rows there are afterwards."""
    path = folder / "whole.db"
    shutil.copy(register, path)
    opened = open_register(path)
    proposal = look(opened, sheet, SheetKind.VISITS, TODAY)
    began = monotonic()
    with _hooked(lambda step: None) as met:
        commit(opened, proposal, who=WHO, at=NOW)
    took = monotonic() - began
    opened.close()
    return met["steps"], took, counted(path)


def _plain(path: Path) -> str:
    """What SQLite says of a file after the program has opened it."""
    with closing(sqlite3.connect(path)) as connection:
        said: str = connection.execute("PRAGMA integrity_check").fetchone()[0]
        if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
            said = "rows point to rows that are not there"
    return said


def _after_the_kill(path: Path, before: dict[str, int], after: dict[str, int], moment: str) -> bool:
    """Whether the whole batch is there; raises where only a part of it is, or the file is not sound."""
    opened = open_register(path)
    with opened.database.reading() as session:
        kept = {each.id for each in batches.batches(session)}
    opened.close()
    found, said = counted(path), _plain(path)
    if said != "ok" or found not in (before, after) or len(kept) != found["batch"]:
        raise AssertionError(f"killed {moment}: {said}; {found}, neither {before} nor {after}")
    return found == after


def kill_commits(kills: int, rows: int, seed: int, folder: Path) -> list[Outcome]:
    """Kill as many commits, of a sheet with as many rows; every second one at a statement.

    Raises:
        AssertionError: a part of a batch was left, or a register that does not open or is not sound.
    """
    random = Random(seed)
    register, sheet = make_register(folder, rows)
    before = counted(register)
    _measured(register, sheet, folder)  # loads what a first commit loads, or the seconds would be too many
    steps, took, after = _measured(register, sheet, folder)
    outcomes: list[Outcome] = []
    for number in range(kills):
        path = folder / f"killed {number}.db"
        shutil.copy(register, path)
        by_step = number % 2 == 0
        kill_at = 1 + (steps - 1) * number // max(kills - 2, 1) if by_step else None
        after_s = random.uniform(0, took * 1.15)
        moment = f"at step {kill_at} of {steps}" if by_step else f"after {after_s:.3f} of {took:.3f} s"
        survived = _killed(path, sheet, after_s, kill_at, number % 3 == 2)
        beside = sorted(each.suffix for each in folder.glob(f"{path.name}-*"))
        whole = _after_the_kill(path, before, after, moment)
        outcomes.append(Outcome(moment, survived, whole, tuple(beside)))
        if not whole and number % 10 == 0:
            _take_it_after_all(path, sheet, after)
        for each in folder.glob(f"{path.name}*"):
            each.unlink()
    return outcomes


def _take_it_after_all(path: Path, sheet: Path, after: dict[str, int]) -> None:
    opened: Register = open_register(path)
    proposal: Proposal = look(opened, sheet, SheetKind.VISITS, TODAY)
    commit(opened, proposal, who=WHO, at=NOW)
    opened.close()
    if counted(path) != after:
        raise AssertionError(f"brought in again after a kill: {counted(path)}, not {after}")


def main() -> None:
    """Kill and tell."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--kills", type=int, default=300)
    options.add_argument("--rows", type=int, default=1500)
    options.add_argument("--seed", type=int, default=20261125)
    given = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        outcomes = kill_commits(given.kills, given.rows, given.seed, Path(folder))
    told = {
        "kills": len(outcomes),
        "finished before the kill": sum(each.survived for each in outcomes),
        "whole batch there": sum(each.whole for each in outcomes),
        "nothing of it there": sum(not each.whole for each in outcomes),
        "a part of it there": 0,
        "with a log beside the file": sum(bool(each.beside) for each in outcomes),
    }
    print(json.dumps(told, indent=2))  # noqa: T201 - this is what it is run for


if __name__ == "__main__":
    main()
