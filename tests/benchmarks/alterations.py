"""Alter a register behind the program's back, many times: verifying or opening finds every one.

    python -m tests.benchmarks.alterations --count 1000 --seed 1

Each time a copy of a small register is altered (a byte of the file, a value, a row dropped, put in or
swapped, an entry of the ledger changed or dropped, the chain written anew after an edit, an older copy put in
its place, the triggers dropped), then opened and verified. A byte that changes nothing readable is none.
"""

import argparse
import shutil
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from random import Random
from time import perf_counter

from sqlalchemy import create_engine
from sqlalchemy.orm import Session

from estate.domain.trust import KnownHead, Verification
from estate.errors import KnownFault
from estate.operations.checkpoints import checkpoint_text, known_head_of, make_checkpoint, read_checkpoint
from estate.operations.open_register import open_register
from estate.operations.record_visit import record_visit
from estate.operations.verify_register import verify
from estate.sample.build import SAMPLE_TODAY, WHO, build_sample
from estate.store import visits
from estate.store.canonical import converters, settled, text_of
from estate.store.chain import COLUMNS, digest_of
from estate.store.raw_rows import raw_rows
from estate.store.schema import EVIDENCE, LedgerEntryRow
from tests.store.builders import NOW

OUTLETS = 12


@dataclass(frozen=True)
class Subject:
    """A register to alter copies of.

    Attributes:
        file: the register as it stands; `older` as it stood a visit ago.
        known: the newest entry, from a printed checkpoint.
        rows: ids by table.
        columns: columns by table, without the id.
    """

    file: Path
    older: Path
    known: KnownHead
    rows: dict[str, list[int]]
    columns: dict[str, list[str]]


@dataclass(frozen=True)
class Alteration:
    """What was done, and where.

    Attributes:
        kind: in a word or two.
        places: tables and rows of which one has to be named; none where any misfit will do.
    """

    kind: str
    places: tuple[tuple[str, int], ...]
    told: str


@dataclass(frozen=True)
class Found:
    """How an alteration was found; `words` are empty where it was not."""

    alteration: Alteration
    words: str
    named: bool


def subject(folder: Path, outlets: int = OUTLETS) -> Subject:
    """Build the register that is altered."""
    file, older = folder / "register.db", folder / "older.db"
    build_sample(file, outlets=outlets)
    shutil.copy(file, older)
    register = open_register(file)
    with register.database.reading() as session:
        last = visits.visits(session)[-1].draft
    record_visit(register, replace(last, remarks="again"), who=WHO, at=NOW, today=SAMPLE_TODAY)
    printed = checkpoint_text(make_checkpoint(register, who=WHO, at=NOW + timedelta(minutes=1)))
    known = known_head_of(register, read_checkpoint(printed))
    register.close()
    with closing(sqlite3.connect(file)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        tables = sorted(name for (name,) in names if name != "alembic_version")
        rows, columns = {}, {}
        for table in tables:
            ids = [each for (each,) in connection.execute(f"SELECT id FROM {table}")]
            if ids:
                rows[table] = ids
                told = connection.execute(f"SELECT * FROM {table} LIMIT 1").description
                columns[table] = [each[0] for each in told if each[0] != "id"]
    return Subject(file, older, known, rows, columns)


def dumped(file: Path) -> list[str] | None:
    """Everything readable in a file; None where it can't be read."""
    try:
        with closing(sqlite3.connect(file)) as connection:
            return list(connection.iterdump())
    except (sqlite3.Error, UnicodeDecodeError, ValueError, TypeError):
        return None


def _connect(file: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(file, isolation_level=None)
    connection.execute("PRAGMA foreign_keys = OFF")
    return connection


def _free(connection: sqlite3.Connection, table: str) -> list[str]:
    """Drop a table's guards; gives back what makes them again, so that nothing else shows."""
    query = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?"
    found = connection.execute(query, (table,)).fetchall()
    for name, _ in found:
        connection.execute(f"DROP TRIGGER {name}")
    return [sql for _, sql in found]


def _guard(connection: sqlite3.Connection, guards: Sequence[str]) -> None:
    for each in guards:
        connection.execute(each)


def _byte(file: Path, of: Subject, random: Random) -> Alteration:
    content = bytearray(file.read_bytes())
    place = random.randrange(len(content))
    content[place] ^= 1 << random.randrange(8)
    file.write_bytes(bytes(content))
    return Alteration("byte", (), f"byte {place} of the file")


def _other(value: object, random: Random) -> object:
    if value is None:
        return random.choice([1, 41.5, "put in"])
    if isinstance(value, int):
        return value + random.choice([-1, 1, 7])
    if isinstance(value, float):
        return round(value + random.choice([-3.0, -0.1, 0.1, 2.5]), 3)
    if isinstance(value, bytes):
        return value + b"x"
    return f"{value}{random.choice(' .x1')}"


def _value(file: Path, of: Subject, random: Random) -> Alteration:
    with closing(_connect(file)) as connection:
        while True:
            table = random.choice(sorted(of.rows))
            row, column = random.choice(of.rows[table]), random.choice(of.columns[table])
            old = connection.execute(f"SELECT {column} FROM {table} WHERE id = ?", (row,)).fetchone()[0]
            guards = _free(connection, table)
            try:
                connection.execute(
                    f"UPDATE {table} SET {column} = ? WHERE id = ?", (_other(old, random), row)
                )
            except sqlite3.IntegrityError:
                _guard(connection, guards)
                continue
            _guard(connection, guards)
            kind = "ledger value" if table == "ledger_entry" else "value"
            return Alteration(kind, ((table, row),), f"{table} {row} {column}: {old!r}")


def _drop(file: Path, of: Subject, random: Random) -> Alteration:
    table = random.choice(sorted(of.rows.keys() - {"ledger_entry"}))
    row = random.choice(of.rows[table])
    with closing(_connect(file)) as connection:
        guards = _free(connection, table)
        connection.execute(f"DELETE FROM {table} WHERE id = ?", (row,))
        _guard(connection, guards)
    places = () if table == "register" else ((table, row),)
    return Alteration("row dropped", places, f"{table} {row}")


def _add(file: Path, of: Subject, random: Random) -> Alteration:
    with closing(_connect(file)) as connection:
        while True:
            table = random.choice(sorted(of.rows.keys() & EVIDENCE))
            row, new = random.choice(of.rows[table]), max(of.rows[table]) + random.choice([1, 5])
            columns = ", ".join(of.columns[table])
            try:
                connection.execute(
                    f"INSERT INTO {table} (id, {columns}) SELECT ?, {columns} FROM {table} WHERE id = ?",
                    (new, row),
                )
            except sqlite3.IntegrityError:
                continue
            return Alteration("row put in", ((table, new),), f"{table} {new}")


def _swap(file: Path, of: Subject, random: Random) -> Alteration:
    with closing(_connect(file)) as connection:
        while True:
            table = random.choice(sorted(each for each in of.rows if len(of.rows[each]) > 1))
            one, two = random.sample(of.rows[table], 2)
            values = [
                connection.execute(f"SELECT * FROM {table} WHERE id = ?", (each,)).fetchone()[1:]
                for each in (one, two)
            ]
            if values[0] == values[1]:
                continue
            guards = _free(connection, table)
            connection.execute(f"UPDATE {table} SET id = -1 WHERE id = ?", (one,))
            connection.execute(f"UPDATE {table} SET id = ? WHERE id = ?", (one, two))
            connection.execute(f"UPDATE {table} SET id = ? WHERE id = -1", (two,))
            _guard(connection, guards)
            kind = "entries swapped" if table == "ledger_entry" else "rows swapped"
            return Alteration(kind, ((table, one), (table, two)), f"{table} {one} and {two}")


def _drop_entry(file: Path, of: Subject, random: Random) -> Alteration:
    row = random.choice(of.rows["ledger_entry"])
    with closing(_connect(file)) as connection:
        # Of the newest entry nothing follows: then the row that it told of is left without one.
        query = "SELECT noun, row_id FROM ledger_entry WHERE id = ?"
        told = connection.execute(query, (row,)).fetchone()
        guards = _free(connection, "ledger_entry")
        connection.execute("DELETE FROM ledger_entry WHERE id = ?", (row,))
        _guard(connection, guards)
    return Alteration(
        "entry dropped", (("ledger_entry", row), ("ledger_entry", row + 1), told), f"entry {row}"
    )


def _rewrite(file: Path, of: Subject, random: Random) -> Alteration:
    """Change a visit and its entry alike, and work out every digest anew, also those of checkpoints."""
    with closing(_connect(file)) as connection:
        guards = [
            sql for table in ("visit", "ledger_entry", "checkpoint") for sql in _free(connection, table)
        ]
        row = random.choice(of.rows["visit"])
        old = connection.execute("SELECT remarks FROM visit WHERE id = ?", (row,)).fetchone()[0]
        query = "SELECT id, after FROM ledger_entry WHERE noun = 'visit' AND row_id = ? AND action = 'added'"
        entry, after = connection.execute(query, (row,)).fetchone()
        said = after.replace(f'"remarks":{text_of(old)}', f'"remarks":{text_of(old + " good")}')
        connection.execute("UPDATE visit SET remarks = ? WHERE id = ?", (f"{old} good", row))
        connection.execute("UPDATE ledger_entry SET after = ? WHERE id = ?", (said, entry))
        _rehash(file, connection, entry)
        _guard(connection, guards)
    return Alteration("chain written anew", (("ledger_entry", of.known.entry_id),), f"visit {row}")


def _rehash(file: Path, connection: sqlite3.Connection, above: int) -> None:
    engine, table = create_engine(f"sqlite:///{file}"), LedgerEntryRow.metadata.tables["ledger_entry"]
    with Session(engine) as session:
        rows = raw_rows(session, table, COLUMNS, above - 2 if above > 1 else None)
        entries = [dict(zip(COLUMNS, row, strict=True)) for row in settled(rows, converters(table, COLUMNS))]
    engine.dispose()
    connection.execute("BEGIN")
    previous = ""
    for each in entries:
        if each["id"] >= above:
            change = [each[key] for key in ("noun", "row_id", "action", "before", "after")]
            told = [text_of(each[key]) for key in ("who", "what", "why", "local_at", "program")]
            digest = digest_of(each["id"], each["at"], change, told, each["batch_id"], previous)
            values = (previous, digest, each["id"])
            connection.execute("UPDATE ledger_entry SET previous = ?, digest = ? WHERE id = ?", values)
            connection.execute(
                "UPDATE checkpoint SET digest = ? WHERE last_entry_id = ?", (digest, each["id"])
            )
            previous = digest
        else:
            previous = each["digest"]
    connection.execute("COMMIT")


def _older(file: Path, of: Subject, random: Random) -> Alteration:
    shutil.copy(of.older, file)
    return Alteration("older copy", (("ledger_entry", of.known.entry_id),), "an older copy")


def _unguarded(file: Path, of: Subject, random: Random) -> Alteration:
    table = random.choice(sorted(EVIDENCE))
    with closing(_connect(file)) as connection:
        _free(connection, table)
    return Alteration("guards dropped", (), table)


KINDS: tuple[tuple[Callable[[Path, Subject, Random], Alteration], int], ...] = (
    (_byte, 30),
    (_value, 25),
    (_drop, 10),
    (_add, 6),
    (_swap, 10),
    (_drop_entry, 6),
    (_rewrite, 8),
    (_older, 2),
    (_unguarded, 3),
)


def altered(of: Subject, file: Path, random: Random) -> Alteration:
    """Alter a fresh copy so that what is readable in it changes."""
    makers, weights = [make for make, _ in KINDS], [weight for _, weight in KINDS]
    before = dumped(of.file)
    while True:
        shutil.copy(of.file, file)
        done = random.choices(makers, weights)[0](file, of, random)
        if dumped(file) != before:
            return done


def found(of: Subject, file: Path, alteration: Alteration) -> Found:
    """Open and verify what was altered."""
    try:
        register = open_register(file)
    except KnownFault as fault:
        return Found(alteration, str(fault), True)
    try:
        said: Verification = verify(register, known_head=of.known)
    except KnownFault as fault:
        return Found(alteration, str(fault), True)
    finally:
        register.close()
    if said.fits:
        return Found(alteration, "", False)
    places = {(each.noun, each.row_id) for each in said.misfits}
    named = not alteration.places or bool(places & set(alteration.places))
    return Found(alteration, said.words, named)


def run(count: int, seed: int, folder: Path) -> list[Found]:
    """Alter and look, so many times."""
    of, random, results = subject(folder), Random(seed), list[Found]()
    for _ in range(count):
        file = folder / "altered.db"
        for suffix in ("-wal", "-shm", "-journal"):
            file.with_name(file.name + suffix).unlink(missing_ok=True)
        results.append(found(of, file, altered(of, file, random)))
    return results


def main() -> int:
    """Run as told on the command line; 1 where an alteration was not found or its place not named."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    began = perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        results = run(asked.count, asked.seed, Path(folder))
    kinds = Counter(each.alteration.kind for each in results)
    lost = [each for each in results if not each.words]
    unnamed = [each for each in results if each.words and not each.named]
    for kind, times in sorted(kinds.items()):
        sys.stdout.write(f"{kind}: {times}\n")
    for each in (*lost, *unnamed):
        sys.stdout.write(
            f"{'NOT FOUND' if not each.words else 'NOT NAMED'} {each.alteration}: {each.words}\n"
        )
    took = perf_counter() - began
    sys.stdout.write(
        f"{len(results)} alterations, seed {asked.seed}: {len(results) - len(lost)} found, "
        f"{len(unnamed)} without their place, {took:.0f} s\n"
    )
    return 1 if lost or unnamed else 0


if __name__ == "__main__":
    raise SystemExit(main())
