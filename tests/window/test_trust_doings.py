"""What is done about trust while the worker has not come back yet, and where it can't do its work."""

from collections.abc import Callable, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.trust import KnownHead, Verification
from estate.errors import KnownFault, RegisterFault
from estate.settings import Settings
from estate.window.backing_up import BackingUp
from estate.window.backup_doings import BackupDoings
from estate.window.desk import Desk
from estate.window.dialogs.closing import ClosingDialog, NoBackupDialog
from estate.window.notices import Notices
from estate.window.pictures import settle
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.trust_doings import TrustDoings
from tests.window.conftest import Answers

FULL = RegisterFault("There is no room on the disk", "estate.db.", "Make room and do it again.")
AWAY = RegisterFault("The second backup folder is not there", "stick.", "Connect it.")
FITS = Verification(1, 1, 1, (), 0, KnownHead(1, "", ""), False)


class Held(Executor):
    """Does nothing until it is told to."""

    def __init__(self) -> None:
        self.waiting: list[tuple[Future[Any], Callable[[], Any]]] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        self.waiting.append((future, fn))
        return future

    def go_on(self) -> None:
        """Do all that waits."""
        while self.waiting:
            future, work = self.waiting.pop(0)
            try:
                future.set_result(work())
            except (KnownFault, ZeroDivisionError) as error:
                future.set_exception(error)
            settle()


@dataclass
class Made:
    """A backup that was made."""

    faults: Sequence[KnownFault] = ()
    made: bool = True
    told: str = "Backed up."


@dataclass
class FakeTrust:
    """A register whose backup and look come to what the test says."""

    outcome: Made | Exception | None = None

    def leave(self, settings: Settings) -> Made | None:
        if isinstance(self.outcome, Exception):
            raise self.outcome
        return self.outcome

    def verify_quick(self, afresh: bool = False) -> Verification:
        self.leave(Settings())
        return FITS


@dataclass
class FakeDesk:
    """A register of which only the trust is asked for."""

    trust: FakeTrust
    closed: list[bool] = field(default_factory=list)

    def close(self) -> None:
        self.closed.append(True)


class Around:
    """Doings with all that they need, and what was told."""

    def __init__(self, qtbot: QtBot) -> None:
        self.executor = Held()
        self.notices = Notices()
        self.told: list[tuple[str, object]] = []
        for name in ("cautioned", "fault_met", "defect_met"):
            getattr(self.notices, name).connect(lambda what, name=name: self.told.append((name, what)))
        self.tasks = Tasks(self.executor, self.notices)
        self.preferences = Preferences(Settings(), lambda kept: None, "account")
        self.backing_up = BackingUp(self.tasks, self.notices, self.preferences)
        parts = (self.tasks, self.notices, Answers(), self.preferences, self.backing_up)
        self.trust = TrustDoings(*parts)
        self.backups = BackupDoings(*parts, lambda: cast(Any, self))
        self.parent = QWidget()
        qtbot.addWidget(self.parent)
        self.parent.show()

    def file_of(self, where: str) -> Path | None:
        """No register here is a file."""
        return None

    def dialogs(self) -> list[QDialog]:
        """Every dialog on show."""
        settle()
        return [each for each in self.parent.findChildren(QDialog) if each.isVisible()]


@pytest.fixture
def around(qtbot: QtBot) -> Around:
    return Around(qtbot)


def desk(outcome: Made | Exception | None) -> Desk:
    return cast(Desk, FakeDesk(FakeTrust(outcome)))


def test_that_the_window_shows_that_it_backs_up_and_closes_once_that_is_done(around: Around) -> None:
    gone: list[bool] = []
    around.trust.close(desk(Made()), lambda: gone.append(True), around.parent)
    (dialog,) = around.dialogs()
    assert isinstance(dialog, ClosingDialog)
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    dialog.close()
    around.trust.close(desk(Made()), lambda: gone.append(True), around.parent)
    assert around.dialogs() == [dialog]
    assert gone == []
    around.executor.go_on()
    assert (gone, around.dialogs()) == ([True], [])


@pytest.mark.parametrize("outcome", [Made(), Made((AWAY,)), FULL, None])
def test_that_one_who_does_not_wait_closes_at_once_and_only_once(
    around: Around, outcome: Made | Exception | None
) -> None:
    gone: list[bool] = []
    around.trust.close(desk(outcome), lambda: gone.append(True), around.parent)
    (dialog,) = around.dialogs()
    assert isinstance(dialog, ClosingDialog)
    dialog.at_once.click()
    assert gone == [True]
    around.executor.go_on()
    assert (gone, around.dialogs()) == ([True], [])


def test_that_a_second_copy_that_failed_is_told_before_closing(around: Around) -> None:
    gone: list[bool] = []
    around.trust.close(desk(Made((AWAY,))), lambda: gone.append(True), around.parent)
    around.executor.go_on()
    (dialog,) = around.dialogs()
    assert isinstance(dialog, NoBackupDialog)
    assert (dialog.windowTitle(), gone) == (AWAY.title, [])
    dialog.go_on.click()
    assert gone == [True]


def test_that_a_defect_is_no_reason_to_close_unseen(around: Around) -> None:
    gone: list[bool] = []
    around.trust.close(desk(ZeroDivisionError()), lambda: gone.append(True), around.parent)
    around.executor.go_on()
    assert (gone, [name for name, _ in around.told]) == ([], ["defect_met"])


@pytest.mark.parametrize(
    ("outcome", "told"),
    [(Made(), []), (None, []), (Made((AWAY,)), [("cautioned", AWAY)]), (FULL, [("fault_met", FULL)])],
)
def test_that_a_register_left_for_another_is_closed_whatever_its_backup_came_to(
    around: Around, outcome: Made | Exception | None, told: list[tuple[str, object]]
) -> None:
    left = FakeDesk(FakeTrust(outcome))
    around.trust.give_back(cast(Desk, left))
    around.executor.go_on()
    assert (left.closed, around.told) == ([True], told)


def test_that_a_look_that_can_not_be_taken_stays_in_sight(around: Around) -> None:
    found: list[Verification] = []
    for outcome in (None, FULL, ZeroDivisionError()):
        around.trust.look(desk(outcome), False, found.append)
        around.executor.go_on()
    assert found == [FITS]
    assert [name for name, _ in around.told] == ["cautioned", "defect_met"]


def test_that_a_server_is_asked_for_its_own_backups(around: Around) -> None:
    where = "postgresql://team@server/estate"
    around.backups.show(where, None, lambda: None, lambda restored: None, around.parent)
    ((name, fault),) = around.told
    assert name == "fault_met"
    assert isinstance(fault, KnownFault)
    assert fault.title == "This register is on a server"
    assert around.dialogs() == []
