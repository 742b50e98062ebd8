"""A password given in an address is found nowhere afterwards: in no file, no row, no fault, no log line."""

import logging
import traceback
import uuid
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import pytest
from sqlalchemy import make_url, text

from estate import settings
from estate.domain.roles import Role
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import RegisterFault
from estate.operations.checkpoints import checkpoint_text, make_checkpoint
from estate.operations.make_roles import add_account, make_roles
from estate.operations.move_register import move
from estate.operations.open_register import new_register, open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.write_report import write_overdue
from estate.settings import Settings
from estate.store import places
from estate.store.raw_rows import tables
from estate.store.transaction import writing
from estate.window.doors import RegisterDoors
from estate.window.preferences import Preferences
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, ids_at, own_schema
from tests.operations.test_server_dropped import cut_off

SECRET = "Wh1te-kettle"


@pytest.fixture
def address() -> Iterator[str]:
    with own_schema(f"t{uuid.uuid4().hex}") as made:
        yield make_url(made).set(password=SECRET).render_as_string(hide_password=False)


def rows(register: Register) -> str:
    """Everything that the database holds, as text."""
    with register.database.reading() as session:
        names = [*(each.name for each in tables()), "ledger_entry"]
        return "\n".join(str(session.execute(text(f"SELECT * FROM {name}")).all()) for name in names)


def cut_off_change(register: Register) -> str:
    """The fault of a change that is cut off, and its whole trace."""
    outlet_id = ids_at(register, MINE)["outlet"]
    with pytest.raises(RegisterFault) as caught, writing(register.database, WHO, "renamed", NOW) as tx:
        places.amend_outlet(tx, outlet_id, name="Lost")
        cut_off(register)
    return "".join(traceback.format_exception(caught.value))


def test_that_a_password_is_written_nowhere(
    address: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.DEBUG):
        register = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier=address[-12:])
        bring(register, tmp_path, ASSETS, "assets.csv")
        make_roles(register, who=WHO, at=NOW)
        login = f"{make_url(address).query['options'][-33:]} login"
        add_account(register, login, Role.READER, who=WHO, at=NOW)
        ids = ids_at(register, MINE)
        draft = VisitDraft(
            ids["valve"], ids["outlet"], VisitKind.IN_SERVICE, TODAY, Readings(left_c=41.0), WHO
        )
        record_visit(register, draft, who=WHO, at=NOW, today=TODAY)
        (tmp_path / "checkpoint.txt").write_text(checkpoint_text(make_checkpoint(register, who=WHO, at=NOW)))
        write_overdue(register, tmp_path / "overdue.xlsx", TODAY)
        moved = move(register, tmp_path / "moved.db", who=WHO, at=NOW)
        told = [
            rows(register),
            register.database.shown,
            moved.where,
            repr(register),
            cut_off_change(register),
        ]
        register.close()
        back = open_register(tmp_path / "moved.db")
        told.append(rows(back))
        with pytest.raises(RegisterFault, match="not empty") as caught:
            move(back, address, who=WHO, at=NOW)
        told.append(str(caught.value))
        back.close()
    lines = [record.getMessage() for record in caplog.records]
    caplog.clear()
    assert SECRET not in "\n".join([*told, *lines])
    assert "moved the register here from postgresql" in told[-2]
    written = [each for each in tmp_path.rglob("*") if each.is_file()]
    assert len(written) >= 4
    assert [each.name for each in written if SECRET.encode() in each.read_bytes()] == []


def test_that_the_window_keeps_a_password_in_memory_alone(address: str, tmp_path: Path) -> None:
    new_register(address, "Marlpit Cross", at=NOW, who=WHO).close()
    place = tmp_path / "settings.json"
    preferences = Preferences(Settings(), lambda kept: settings.save(kept, place), WHO)
    doors = RegisterDoors(lambda: TODAY, lambda: NOW, lambda progress: tmp_path, lambda: preferences.settings)
    desk = doors.open(address)
    assert SECRET not in desk.where
    assert doors.address(address) == desk.where
    preferences.change(register=desk.where)
    desk.close()
    assert SECRET not in place.read_text("utf-8")
    assert settings.load(place).register == desk.where
    assert SECRET not in str(asdict(preferences.settings))
    again = doors.open(desk.where)
    assert make_url(again._register.database.url).password == SECRET  # type: ignore[attr-defined]  # a desk of ours
    again.close()
    other = doors.open(desk.where, "another")
    assert make_url(other._register.database.url).password == "another"  # type: ignore[attr-defined]  # a desk of ours
    other.close()
    assert doors.address("postgresql://a@b@c/d") == ""
