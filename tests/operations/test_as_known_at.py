"""A register as known at a past moment is the file that was kept then."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader
from sqlalchemy import text

from estate.domain.progress import Cancelled, Progress
from estate.errors import EntryFault, RegisterFault, ReportFault
from estate.operations.as_known_at import as_known_at
from estate.operations.browse import outlet_page
from estate.operations.export_tables import export_tables
from estate.operations.open_register import new_register
from estate.operations.plan_retests import due_lines
from estate.operations.record_visit import record_visit, void_visit
from estate.operations.register import Register
from estate.operations.write_report import write_overdue, write_summary
from estate.operations.write_round_sheet import Round, write_round_sheet
from estate.store import places, valves, visits
from estate.store.schema import PositionRow
from estate.store.transaction import writing
from tests.store.builders import DAY, EVERYTHING_MEASURED, NOW, Basin, add_basin, draft
from tests.trail import Content, content

TODAY = date(2026, 11, 25)
STEPS = 24


def _step(register: Register, random: Random, basins: list[Basin], at: datetime) -> None:
    def add() -> None:
        with writing(register.database, "A. Officer", "added", at) as tx:
            basins.append(add_basin(tx, f"MX-{len(basins)}", f"Bay {random.randrange(4)}"))

    def amend() -> None:
        with writing(register.database, "B. Other", "amended", at) as tx:
            places.amend_outlet(tx, random.choice(basins).outlet_id, name=f"Basin {random.random()}")
            valves.amend_valve(tx, random.choice(basins).valve_id, set_c=random.choice([None, 41.0, 43.5]))

    def visit() -> None:
        basin, on = random.choice(basins), DAY - timedelta(days=random.randrange(300))
        made = draft(basin, on, EVERYTHING_MEASURED)
        record_visit(register, made, who="A. Officer", at=at, today=TODAY)

    def void() -> None:
        with register.database.reading() as session:
            standing = [each.id for each in visits.visits(session) if each.counts]
        if standing:
            void_visit(register, random.choice(standing), reason="wrong", who="A. Officer", at=at)

    def remove() -> None:
        with writing(register.database, "A. Officer", "removed", at) as tx:
            room = places.ensure_room(tx, "Marlpit Cross", "Main block", "G", "01", "Bay 1")
            spare = places.add_position(tx, room, "spare")
            kept = places.add_position(tx, room, "kept")
            tx.remove(PositionRow, spare)
            tx.amend(PositionRow, kept, words="kept on")

    choices: list[Callable[[], None]] = [add, amend, visit, visit, void, remove]
    (random.choice(choices) if len(basins) > 2 else add)()


@pytest.mark.parametrize("seed", range(3))
def test_that_the_register_at_each_earlier_moment_is_the_one_kept_then(address: str, seed: int) -> None:
    register = new_register(address, "Marlpit Cross", at=NOW, who="A. Officer")
    random, basins = Random(seed), list[Basin]()
    kept: dict[datetime, Content] = {NOW: content(register.database)}
    for number in range(1, STEPS):
        at = NOW + timedelta(minutes=number)
        _step(register, random, basins, at)
        kept[at] = content(register.database)
    for moment, then in kept.items():
        past = as_known_at(register, moment + timedelta(seconds=30))
        assert content(past.database) == then
        past.close()
    register.close()


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return new_register(tmp_path / "r.db", "Marlpit Cross", at=NOW, who="A. Officer")


def test_that_pages_and_due_dates_of_the_past_are_those_that_were_shown_then(register: Register) -> None:
    with writing(register.database, "A. Officer", "added", NOW) as tx:
        basin = add_basin(tx)
    shown = outlet_page(register, basin.outlet_id, TODAY), due_lines(register, TODAY)
    later = NOW + timedelta(hours=1)
    made = draft(basin, DAY, replace(EVERYTHING_MEASURED, found_c=47.0))
    record_visit(register, made, who="A. Officer", at=later, today=TODAY)
    now = outlet_page(register, basin.outlet_id, TODAY), due_lines(register, TODAY)
    past = as_known_at(register, later - timedelta(seconds=1))
    assert (outlet_page(past, basin.outlet_id, TODAY), due_lines(past, TODAY)) == shown
    assert now != shown
    assert "as known at 2026-11-25 10:29 UTC" in past.database.shown


def test_that_an_entry_dated_back_does_not_show_what_came_before_it(register: Register) -> None:
    with writing(register.database, "A. Officer", "added", NOW + timedelta(days=2)) as tx:
        add_basin(tx)
    with writing(register.database, "A. Officer", "added", NOW + timedelta(days=1)) as tx:
        add_basin(tx, "MX-2")
    past = as_known_at(register, NOW + timedelta(days=1))
    with past.database.reading() as session:
        assert places.outlets(session) == ()


def test_that_the_past_can_not_be_changed(register: Register) -> None:
    past = as_known_at(register, NOW)
    with pytest.raises(RegisterFault, match="The past can't be changed"):
        void_visit(past, 1, reason="wrong", who="A. Officer", at=NOW)
    with pytest.raises(RegisterFault, match="can't be written"), past.database.reading() as session:
        session.execute(text("DELETE FROM register"))


def test_that_nothing_is_known_of_a_moment_before_the_register(register: Register) -> None:
    with pytest.raises(RegisterFault, match=r"the trail begins on 25 Nov 2026 at 09:30 UTC"):
        as_known_at(register, NOW - timedelta(seconds=1))


def test_that_a_moment_to_come_is_refused(register: Register) -> None:
    with pytest.raises(EntryFault, match="That moment is still to come"):
        as_known_at(register, NOW + timedelta(seconds=1), now=NOW)
    as_known_at(register, NOW, now=NOW).close()


def test_that_the_work_tells_how_far_it_is_and_can_be_stopped(address: str) -> None:
    register = new_register(address, "Marlpit Cross", at=NOW, who="A. Officer")
    with writing(register.database, "A. Officer", "added", NOW + timedelta(days=1)) as tx:
        add_basin(tx)
    told: list[str] = []
    as_known_at(register, NOW, lambda done, of, what: told.append(what)).close()
    assert told[0].startswith("Copying the register into memory")
    assert any(each.startswith("Taking back what was entered later: 0 of ") for each in told)

    def stop_at(stage: str) -> Progress:
        def stop(done: int, of: int, what: str) -> None:
            if what.startswith(stage):
                raise Cancelled

        return stop

    for stage in ("Copying", "Taking back"):
        with pytest.raises(Cancelled):
            as_known_at(register, NOW, stop_at(stage))
    register.close()


def _paper(path: Path) -> list[str]:
    if path.suffix == ".pdf":
        return [page.extract_text() for page in PdfReader(path).pages]
    found = []
    for sheet in load_workbook(path).worksheets:
        assert sheet.oddHeader is not None
        found.append(str(sheet.oddHeader.right.text))
    return found


@pytest.mark.parametrize("write", [write_overdue, write_summary])
@pytest.mark.parametrize("ending", [".pdf", ".xlsx"])
def test_that_a_report_of_the_past_says_so_on_every_page_and_sheet(
    register: Register, write: Callable[[Register, Path, date], Path], ending: str, tmp_path: Path
) -> None:
    with writing(register.database, "A. Officer", "added", NOW) as tx:
        for number in range(60):
            add_basin(tx, f"MX-{number}")
    past = as_known_at(register, NOW + timedelta(seconds=5))
    pages = _paper(write(past, tmp_path / f"r{ending}", TODAY))
    assert len(pages) > 1
    for page in pages:
        assert "as known at 25 Nov 2026, 09:30:05 UTC" in " ".join(page.split())
    for page in _paper(write(register, tmp_path / f"n{ending}", TODAY)):
        assert "known" not in page


def test_that_tables_of_the_past_are_told_as_such(register: Register, tmp_path: Path) -> None:
    past = as_known_at(register, NOW)
    (said,) = [each for each in export_tables(past, tmp_path / "then") if each.suffix == ".txt"]
    assert said.read_text("utf-8") == "Every file here is as known at 25 Nov 2026, 09:30 UTC.\n"
    assert all(each.suffix == ".csv" for each in export_tables(register, tmp_path / "now"))


def test_that_no_round_sheet_is_made_of_the_past(register: Register, tmp_path: Path) -> None:
    with pytest.raises(ReportFault, match="A round sheet is not made of the past"):
        write_round_sheet(as_known_at(register, NOW), Round(), tmp_path / "r.xlsx", TODAY)


@pytest.mark.parametrize("stopped", [False, True])
def test_that_a_large_register_goes_back_on_the_disk_and_leaves_nothing_there(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stopped: bool
) -> None:
    monkeypatch.setattr("estate.store.unwinding.MOST_IN_MEMORY_BYTES", 0)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    register = new_register(address, "Marlpit Cross", at=NOW, who="A. Officer")
    kept = content(register.database)
    with writing(register.database, "A. Officer", "added", NOW + timedelta(days=1)) as tx:
        add_basin(tx)

    def stop(done: int, of: int, what: str) -> None:
        if stopped and what.startswith("Taking back"):
            raise Cancelled

    if stopped:
        with pytest.raises(Cancelled):
            as_known_at(register, NOW, stop)
    else:
        past = as_known_at(register, NOW, stop)
        (folder,) = tmp_path.glob("estate-past-*")
        assert folder.stat().st_mode & 0o077 == 0
        assert content(past.database) == kept
        past.close()
    assert list(tmp_path.glob("estate-past-*")) == []
    register.close()
