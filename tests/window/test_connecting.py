"""Opening a register on a server: what is asked, what is typed, and what is never kept."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from estate.app.taking_up import _is_there, take_up
from estate.domain.progress import silent
from estate.errors import PasswordFault, RegisterFault
from estate.settings import Settings
from estate.window.desk import Desk
from estate.window.dialogs.connecting import ConnectingDialog
from estate.window.dialogs.faults import DefectDialog, FaultDialog
from estate.window.doors import RegisterDoors
from estate.window.pictures import settle
from tests.window.conftest import Seat

SECRET = "Wh1te-kettle"
ADDRESS = "postgresql://a.officer@db.marlpit.example:5433/estate?sslmode=require"
ASKS = PasswordFault("The server asks for a password", "db.", "Give it.")


@pytest.fixture
def asked(bare: Seat) -> ConnectingDialog:
    bare.window.actions_["connect"].trigger()
    dialog = bare.dialog()
    assert isinstance(dialog, ConnectingDialog)
    return dialog


def fill(dialog: ConnectingDialog, password: str = SECRET) -> None:
    for line, typed in (
        (dialog.server, "db.marlpit.example"),
        (dialog.port, "5433"),
        (dialog.database, "estate"),
        (dialog.login, "a.officer"),
        (dialog.password, password),
    ):
        line.setText(typed)


def test_that_an_address_is_made_of_its_parts_and_never_of_the_password(
    qtbot: QtBot, asked: ConnectingDialog
) -> None:
    assert not asked.act.isEnabled()
    given: list[tuple[str, str]] = []
    asked.given.disconnect()
    asked.given.connect(lambda address, password: given.append((address, password)))
    fill(asked)
    asked.act.click()
    assert given == [(ADDRESS, SECRET)]
    assert asked.password.echoMode() is QLineEdit.EchoMode.Password
    said = " ".join(each.text() for each in asked.findChildren(QLabel))
    assert "passfile" in said
    assert "written nowhere" in said


@pytest.mark.parametrize(
    "address",
    [
        ADDRESS,
        "postgresql://a.officer@db.marlpit.example:5432/estate",
        "postgresql://o%2Fx%40y@[::1]:5432/an%20estate?options=-csearch_path%3Dlodge&sslmode=require",
    ],
)
def test_that_the_last_address_stands_in_the_form_and_comes_back_as_it_was(
    qtbot: QtBot, address: str
) -> None:
    dialog = ConnectingDialog(address, "", None)
    qtbot.addWidget(dialog)
    assert dialog.address() == address
    assert dialog.act.isEnabled()
    assert dialog.password.text() == ""


def test_that_a_register_that_can_not_be_opened_leaves_the_form_as_typed(
    bare: Seat, asked: ConnectingDialog, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(doors: RegisterDoors, where: str, password: str = "") -> Desk:
        raise ASKS

    fill(asked)
    with monkeypatch.context() as patched:
        patched.setattr(RegisterDoors, "open", refuse)
        asked.act.click()
        settle()
    assert "asks for a password" in asked.wrong.text()
    assert asked.act.isEnabled()
    assert (asked.server.text(), asked.password.text()) == ("db.marlpit.example", SECRET)


def test_that_an_opened_register_closes_the_form_and_only_its_address_is_kept(
    bare: Seat, asked: ConnectingDialog, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, given = RegisterDoors.open, list[tuple[str, str]]()

    def open_sample(doors: RegisterDoors, where: str, password: str = "") -> Desk:
        given.append((where, password))
        desk = real(doors, str(doors._sample(silent)))
        monkeypatch.setattr(type(desk), "where", property(lambda self: doors.address(where)))
        return desk

    fill(asked)
    with monkeypatch.context() as patched:
        patched.setattr(RegisterDoors, "open", open_sample)
        asked.act.click()
        settle()
    assert given == [(ADDRESS, SECRET)]
    assert bare.dialogs() == []
    assert bare.window.showing.desk is not None
    assert "db.marlpit.example" in bare.kept[-1].register
    assert SECRET not in str(bare.kept)


def test_that_a_server_that_asks_for_a_password_at_the_start_is_answered_in_the_form(
    bare: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(doors: RegisterDoors, where: str, password: str = "") -> Desk:
        raise ASKS

    with monkeypatch.context() as patched:
        patched.setattr(RegisterDoors, "open", refuse)
        bare.window.open(ADDRESS.replace("a.officer", f"a.officer:{SECRET}"))
        dialog = bare.dialog()
    assert isinstance(dialog, ConnectingDialog)
    assert dialog.login.text() == "a.officer"
    assert "asks for a password" in dialog.wrong.text()
    assert SECRET not in dialog.address() + dialog.wrong.text() + dialog.password.text()


@pytest.mark.parametrize("error", [ZeroDivisionError(), RegisterFault("It is not there", "db.", "Look.")])
def test_that_what_goes_wrong_after_the_form_was_left_is_still_told(
    bare: Seat, asked: ConnectingDialog, monkeypatch: pytest.MonkeyPatch, error: Exception
) -> None:
    def broken(doors: RegisterDoors, where: str, password: str = "") -> Desk:
        raise error

    fill(asked)
    monkeypatch.setattr(RegisterDoors, "open", broken)
    monkeypatch.setattr(asked, "hold", asked.reject)
    asked.act.click()
    settle()
    (dialog,) = bare.dialogs()
    assert isinstance(dialog, DefectDialog | FaultDialog)


def test_that_only_a_file_that_is_gone_is_not_opened_again_at_the_start(tmp_path: Path) -> None:
    held = tmp_path / "held.db"
    held.touch()
    assert _is_there(ADDRESS)
    assert _is_there(str(held))
    assert not _is_there(str(tmp_path / "gone.db"))
    assert not _is_there("")


def test_that_the_register_opened_last_is_opened_again_from_a_server_too(
    bare: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = list[str]()

    def refuse(doors: RegisterDoors, where: str, password: str = "") -> Desk:
        asked.append(where)
        raise ASKS

    with monkeypatch.context() as patched:
        patched.setattr(RegisterDoors, "open", refuse)
        take_up(bare.window, bare.built.tasks, None, Settings(register=ADDRESS))
        settle()
        dialog = bare.dialog()
    assert asked == [ADDRESS]
    assert isinstance(dialog, ConnectingDialog)
    dialog.reject()
