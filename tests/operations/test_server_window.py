"""The window on a register of a server: a connection that is lost, and what others do."""

import time
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from estate.domain.roles import Role
from estate.operations.make_roles import add_account, make_roles
from estate.operations.open_register import new_register
from estate.operations.register import Register
from estate.store import visits
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.pictures import settle
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, Team, ids_at, own_schema
from tests.operations.test_server_dropped import cut_off, rename
from tests.window.conftest import Seat, bare, small_estate  # noqa: F401 - fixtures, found by name


@pytest.fixture
def register(tmp_path: Path) -> Iterator[Register]:
    with own_schema(f"t{uuid.uuid4().hex}") as address:
        made = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier=address[-12:])
        bring(made, tmp_path, ASSETS, "assets.csv")
        yield made
        made.close()


@pytest.fixture
def at_outlet(register: Register, bare: Seat) -> Iterator[Seat]:
    """The window at an outlet of the server's register."""
    bare.window.open(register.database.url)
    settle()
    bare.window.showing.show_outlet(ids_at(register, MINE)["outlet"])
    settle()
    yield bare
    bare.window.seat(None)
    settle()


def test_that_a_lost_connection_loses_nothing_typed_and_the_next_try_connects_anew(
    at_outlet: Seat, register: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_outlet.window.actions_["record"].trigger()
    form = at_outlet.dialog()
    assert isinstance(form, RecordVisitDialog)
    form.form.fields["left_c"].put(41.2)
    add = visits.add_visit

    def cut_first(*args: Any, **kwargs: Any) -> Any:
        cut_off(register)
        return add(*args, **kwargs)

    with monkeypatch.context() as patched:
        patched.setattr(visits, "add_visit", cut_first)
        for _ in range(2):
            form.go_on.click()
            settle()
    faults = [each for each in at_outlet.dialogs() if isinstance(each, FaultDialog)]
    assert [each.windowTitle() for each in faults] == ["The register's server can't be reached"]
    faults[0].accept()
    assert form.draft().readings.left_c == 41.2
    for _ in range(2):
        form.go_on.click()
        settle()
    assert at_outlet.dialogs() == []
    page = at_outlet.window.showing.outlet
    assert page is not None
    assert [each.visit.readings.left_c for each in page.history] == [41.2]
    assert page.history[0].visit.on == TODAY


def test_that_what_another_did_on_the_server_is_shown_even_after_the_watch_was_cut_off(
    at_outlet: Seat, register: Register
) -> None:
    def look() -> str:
        at_outlet.window.watching.look()
        settle()
        return at_outlet.window.statusBar().currentMessage()

    at_outlet.window.statusBar().clearMessage()
    rename(register, "Basin by the door")
    said = look()
    for _ in range(500):  # a busy server passes its word on a moment after the commit
        if said:
            break
        time.sleep(0.01)
        said = look()
    assert said.startswith(f"{WHO} renamed, ")
    page = at_outlet.window.showing.outlet
    assert page is not None
    assert page.outlet.path.outlet == "Basin by the door"
    cut_off(register)
    rename(register, "Basin by the window")
    assert "can't be reached" in look()
    assert look().startswith(f"{WHO} renamed, ")
    assert at_outlet.dialogs() == []


def test_that_an_auditors_login_opens_a_window_that_is_read_only(
    register: Register,
    bare: Seat,
) -> None:
    make_roles(register, who=WHO, at=NOW)
    team = Team(register, register.database.url, register.database.url[-12:])
    add_account(register, team.login(Role.READER), Role.READER, who=WHO, at=NOW)
    bare.window.open(team.address_of(Role.READER))
    settle()
    assert "(read only)" in bare.window.windowTitle()
    assert not bare.window.actions_["bring-in"].isEnabled()
    bare.window.seat(None)
    settle()
