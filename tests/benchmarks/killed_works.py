"""The works that `kills` interrupts, and what must be true after each, wherever it was cut off."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from estate.domain.layouts import SheetKind
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations.back_up import back_up, backups_of
from estate.operations.bring_in import commit, look
from estate.operations.open_register import new_register, open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.restore_register import restore
from estate.operations.verify_register import verify

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
WHO = "A. Officer"
OUTLETS = 40
RECORDS = 12
ASSETS = "Asset ref,Site,Building,Level,Room no,Room,Outlet,Use,Used by,Make,Model,Serial no,Fitted\n"
VISITS = "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min\n"
OLD = Path(__file__).parent.parent / "data" / "registers" / "0001.sql"
LASTING = (
    "visit",
    "judgement",
    "finding",
    "outlet",
    "valve",
    "batch",
    "batch_question",
    "group_fit",
    "ledger_entry",
)
Tell = Callable[[], object]
Deed = Callable[[Tell], None]


@dataclass(frozen=True)
class Work:
    """Something that is interrupted.

    Attributes:
        make: puts a register, ``register.db``, and what the work needs into a folder.
        begin: opens what is needed in a folder and gives the deed to be killed, which tells of each record.
        whole_after: whether all of it is there, given the folder as made, the folder and how many records
            were told of; raises where neither all nor none is.
        by_calls: whether calls of the store count as steps beside statements.
    """

    name: str
    make: Callable[[Path, int], None]
    begin: Callable[[Path], Deed]
    whole_after: Callable[[Path, Path, int], bool]
    by_calls: bool


def _visit(row: int) -> str:
    day = TODAY - timedelta(days=1 + row // OUTLETS)
    mixed = f"{41 + row % 4 / 10:.1f}"
    return f"MX/{row % OUTLETS},{day},In-service,{60 + row % 3},13,{mixed},{mixed},{row % 9}\n"


def _must(holds: bool, otherwise: str) -> None:
    if not holds:
        raise AssertionError(otherwise)


def counted(path: Path, query: str = "SELECT count(*) FROM {}") -> dict[str, int]:
    """How many rows each table has in which work leaves any."""
    with closing(sqlite3.connect(path)) as connection:
        return {name: connection.execute(query.format(name)).fetchone()[0] for name in LASTING}


def _value(path: Path, query: str) -> str:
    with closing(sqlite3.connect(path)) as connection:
        return str(connection.execute(query).fetchone()[0])


def _sound(path: Path) -> None:
    """Open a file as the program does, after SQLite has looked at it, and let the ledger be walked."""
    with closing(sqlite3.connect(path)) as connection:
        said = connection.execute("PRAGMA integrity_check").fetchone()[0]
        _must(said == "ok", f"{path.name}: {said}")
        lost = connection.execute("PRAGMA foreign_key_check").fetchone()
        _must(lost is None, f"{path.name}: rows point to rows that are not there")
    register = open_register(path)
    misfits = verify(register).misfits
    register.close()
    _must(misfits == (), f"{path.name} does not verify: {misfits[:1]}")


def _made(folder: Path) -> Register:
    lines = [
        f"MX/{n},Marlpit Cross,Main,G,{n // 4},Ward,Basin {n},Wash-hand basin,Patients,Make A,A15,S-{n},"
        "2020-01-01\n"
        for n in range(OUTLETS)
    ]
    assets = folder / "assets.csv"
    assets.write_text(ASSETS + "".join(lines), encoding="utf-8")
    opened = new_register(folder / "register.db", "Marlpit Cross", at=NOW, who=WHO, identifier="kills")
    commit(opened, look(opened, assets, SheetKind.ASSETS, TODAY), who=WHO, at=NOW)
    return opened


def _sheet(folder: Path, rows: int) -> Path:
    sheet = folder / "round.csv"
    sheet.write_text(VISITS + "".join(_visit(row) for row in range(rows)), encoding="utf-8")
    return sheet


def _brought(register: Register, sheet: Path) -> None:
    commit(register, look(register, sheet, SheetKind.VISITS, TODAY), who=WHO, at=NOW)


def make_empty(folder: Path, rows: int) -> None:
    """A register with basins, and a sheet of visits to them that is not yet brought in."""
    _made(folder).close()
    _sheet(folder, rows)


def make_full(folder: Path, rows: int) -> None:
    """A register with basins and visits to them."""
    register = _made(folder)
    _brought(register, _sheet(folder, rows))
    register.close()


def _import(place: Path) -> Deed:
    register = open_register(place / "register.db")
    proposal = look(register, place / "round.csv", SheetKind.VISITS, TODAY)

    def deed(tell: Tell) -> None:
        commit(register, proposal, who=WHO, at=NOW)
        tell()

    return deed


def _imported(master: Path, place: Path, told: int) -> bool:
    before, path = counted(master / "register.db"), place / "register.db"
    _sound(path)
    found = counted(path)
    rows = len((master / "round.csv").read_text("utf-8").splitlines()) - 1
    if found["batch"] == before["batch"]:
        _must(found == before and told == 0, f"{found}, not {before}")
        return False
    there = (found["batch"] - before["batch"], found["visit"], found["judgement"])
    _must(there == (1, rows, rows), f"{there}, not a batch of {rows}")
    _must(
        _value(path, "SELECT accepted FROM batch ORDER BY id DESC") == str(rows), "the batch counts otherwise"
    )
    _must(found["ledger_entry"] > before["ledger_entry"], "the ledger does not tell")
    return True


def _draft(number: int) -> VisitDraft:
    readings = Readings(hot_c=60.0, cold_c=13.0, found_c=41.0, left_c=41.0 + number / 100)
    return VisitDraft(number + 1, number + 1, VisitKind.IN_SERVICE, TODAY, readings, "A. Thorne")


def _record(place: Path) -> Deed:
    register = open_register(place / "register.db")

    def deed(tell: Tell) -> None:
        for number in range(RECORDS):
            record_visit(register, _draft(number), who=WHO, at=NOW, today=TODAY)
            tell()

    return deed


def _recorded(master: Path, place: Path, told: int) -> bool:
    path = place / "register.db"
    _sound(path)
    with closing(sqlite3.connect(path)) as connection:
        kept = [value for (value,) in connection.execute("SELECT left_c FROM visit ORDER BY id")]
        judged = connection.execute("SELECT count(DISTINCT visit_id) FROM judgement").fetchone()[0]
        query = "SELECT count(*) FROM ledger_entry WHERE noun = 'visit' AND action = 'added'"
        entered = connection.execute(query).fetchone()[0]
    _must(told <= len(kept) <= told + 1, f"{told} were told of, {len(kept)} are there")
    _must(kept == [41.0 + number / 100 for number in range(len(kept))], f"other visits: {kept}")
    _must(judged == entered == len(kept), f"{len(kept)} visits, {judged} judged, {entered} in the ledger")
    return len(kept) == RECORDS


def _back_up(place: Path) -> Deed:
    register = open_register(place / "register.db")

    def deed(tell: Tell) -> None:
        back_up(register, "on closing", at=NOW, second=place)
        tell()

    return deed


def _all_backups_are_whole(path: Path, like: dict[str, int]) -> int:
    found = backups_of(path)
    for each in found:
        _sound(each.path)
        _must(counted(each.path) == like, f"{each.path.name} does not hold what the register held")
    return len(found)


def _backed_up(master: Path, place: Path, told: int) -> bool:
    path = place / "register.db"
    before = counted(master / "register.db")
    _sound(path)
    _must(counted(path) == before, "backing up changed the register")
    made = _all_backups_are_whole(path, before)
    for each in place.glob("register backup *.db"):
        _sound(each)
        _must(counted(each) == before, f"{each.name} does not hold what the register held")
    _must(made >= told, "a backup that was told of is gone")
    register = open_register(path)
    again = back_up(register, "on closing", at=NOW + timedelta(days=3), second=place)
    register.close()
    _must(again.path is not None and not again.faults, "a later backup fails")
    return made == 1


def make_old(folder: Path, rows: int) -> None:
    """A register as the first program wrote it, with more rows in its ledger."""
    with closing(sqlite3.connect(folder / "register.db")) as connection:
        connection.executescript(OLD.read_text("utf-8"))
        columns = "at, who, what, noun, row_id, action, after"
        more = f"INSERT INTO ledger_entry ({columns}) SELECT {columns} FROM ledger_entry WHERE id = 1"
        for _ in range(rows):
            connection.execute(more)
        connection.commit()


def _upgrade(place: Path) -> Deed:
    def deed(tell: Tell) -> None:
        open_register(place / "register.db").close()
        tell()

    return deed


def _upgraded(master: Path, place: Path, told: int) -> bool:
    path, old = place / "register.db", "SELECT version_num FROM alembic_version"
    before, first = counted(master / "register.db"), _value(master / "register.db", old)
    done = _value(path, old) != first
    _must(done or told == 0, "an upgrade that was told of is gone")
    _must(_older(path) == before, f"{_older(path)}, not {before}")
    _must(done == (counted(path) != before), "an upgrade without the beginning of the trail, or the reverse")
    if done:
        _must(any(_value(each.path, old) == first for each in backups_of(path)), "upgraded without a backup")
    for each in backups_of(path):
        _must(counted(each.path) == before, f"{each.path.name} does not hold what the register held")
    _sound(path)
    _must(_older(path) == before, "the second opening lost rows")
    return done


def _older(path: Path) -> dict[str, int]:
    """Rows without the entries with which an upgrade lets the trail begin."""
    query = "SELECT count(*) FROM ledger_entry WHERE what <> 'brought up to date'"
    return counted(path) | {"ledger_entry": int(_value(path, query))}


def make_restorable(folder: Path, rows: int) -> None:
    """A register with a backup from before its batch."""
    register = _made(folder)
    back_up(register, "before a batch", at=NOW)
    _brought(register, _sheet(folder, rows))
    register.close()


def _restore(place: Path) -> Deed:
    path = place / "register.db"
    (backup,) = backups_of(path)

    def deed(tell: Tell) -> None:
        restore(path, backup.path, who=WHO, at=NOW + timedelta(hours=1))
        tell()

    return deed


def _restored(master: Path, place: Path, told: int) -> bool:
    path, before = place / "register.db", counted(master / "register.db")
    (backup,) = backups_of(master / "register.db")
    older = counted(backup.path)
    _sound(path)
    found = counted(path)
    if found == before:
        _must(told == 0, "a restoring that was told of is gone")
        return False
    _must({**found, "ledger_entry": 0} == {**older, "ledger_entry": 0}, f"{found}, not {older}")
    said = _value(path, "SELECT what FROM ledger_entry ORDER BY id DESC")
    _must(said.startswith("restored from"), f"the ledger ends with {said}")
    kept = [each for each in backups_of(path) if each.reason == "before restoring"]
    _must(len(kept) == 1, "the file before was not kept")
    _sound(kept[0].path)
    _must(counted(kept[0].path) == before, "the file before was not kept whole")
    return True


WORKS = (
    Work("import", make_empty, _import, _imported, by_calls=False),
    Work("record", make_empty, _record, _recorded, by_calls=False),
    Work("backup", make_full, _back_up, _backed_up, by_calls=True),
    Work("upgrade", make_old, _upgrade, _upgraded, by_calls=True),
    Work("restore", make_restorable, _restore, _restored, by_calls=True),
)
