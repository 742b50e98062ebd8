"""The window on a past moment: marked, read-only, and freed when it is closed."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QDateTime, QTimeZone
from PySide6.QtWidgets import QPushButton
from sqlalchemy.exc import OperationalError

from estate.errors import RegisterFault
from estate.window.commands.table import COMMANDS
from estate.window.desk import Desk
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.past_moment import PastMomentDialog
from estate.window.documents import owners_of
from estate.window.past_window import READING, WHY, PastWindow
from estate.window.pictures import settle
from tests.files import PDF
from tests.window.builders import NOW
from tests.window.conftest import Seat, preview_of


def _go_back(seat: Seat, by: timedelta) -> None:
    seat.window.actions_["as-known"].trigger()
    dialog = seat.dialog()
    assert isinstance(dialog, PastMomentDialog)
    moment = QDateTime.fromSecsSinceEpoch(int((NOW - by).timestamp()), QTimeZone.systemTimeZone())
    dialog.moment.setDateTime(moment)
    next(each for each in dialog.findChildren(QPushButton) if each.text() == "Show").click()
    settle()


def _desk(window: PastWindow) -> Desk:
    desk = window.showing.desk
    assert desk is not None
    return desk


@pytest.fixture
def outlet_id(seat: Seat) -> int:
    reading = seat.window.showing.reading
    assert reading is not None
    return next(each.outlet_id for each in reading.lines if each.last_visit is not None)


@pytest.fixture
def past(seat: Seat, outlet_id: int, tmp_path: Path) -> Iterator[PastWindow]:
    """A window on the register as it was before a document was added at `NOW`."""
    desk = seat.window.showing.desk
    assert desk is not None
    paper = tmp_path / "certificate.pdf"
    paper.write_bytes(PDF)
    desk.documents.add(owners_of(desk.outlet_page(outlet_id))[0], paper, "", who="A. Officer", bound_mb=1)
    _go_back(seat, timedelta(seconds=1))
    (window,) = seat.built.past
    yield window
    for each in tuple(seat.built.past):
        each.close()
    settle()


def test_that_a_window_on_the_past_is_marked_with_its_moment(past: PastWindow) -> None:
    assert past.isVisible()
    assert past.strip.isVisible()
    assert past.strip.accessibleName().startswith("As known at 25 Nov 2026, 08:59:59 UTC. Nothing that was")
    assert past.windowTitle().endswith("– as known at 25 Nov 2026, 08:59:59 UTC")


def test_that_the_past_shows_what_was_known_then(seat: Seat, past: PastWindow, outlet_id: int) -> None:
    for window in (past, seat.window):
        window.showing.show_outlet(outlet_id)
        settle()
    assert [each.name for each in seat.window.pages.outlet.documents.documents] == ["certificate.pdf"]
    assert past.pages.outlet.documents.documents == ()


def test_that_nothing_that_changes_is_available_in_the_past_and_why(past: PastWindow, outlet_id: int) -> None:
    past.showing.show_outlet(outlet_id)
    past.pages.outlet.history.selectRow(0)
    settle()
    for command in COMMANDS:
        action = past.actions_[command.id]
        if command.id not in READING:
            assert (command.id, action.isEnabled(), action.toolTip()) == (command.id, False, WHY)
    outlet, pages = past.pages.outlet, past.pages
    for button in (
        *(outlet.past.record_button, outlet.past.correct_button, outlet.past.void_button),
        outlet.documents.add_button,
        *(pages.batches.undo, pages.batches.finish, pages.rules.override_button, pages.trail.checkpoint),
    ):
        button.setEnabled(True)
        assert (button.text(), button.isEnabled(), button.toolTip()) == (button.text(), False, WHY)
    assert past.actions_["trail"].isEnabled()
    assert not past.acceptDrops()


def test_that_every_action_of_the_list_of_readings_is_there() -> None:
    assert {each.id for each in COMMANDS} >= READING


def test_that_the_database_refuses_what_a_window_would_let_through(past: PastWindow) -> None:
    with pytest.raises(RegisterFault, match="The past can't be changed"):
        _desk(past).void(1, "wrong", "A. Officer")


def test_that_a_report_from_the_past_says_so(seat: Seat, past: PastWindow, tmp_path: Path) -> None:
    seat.answers.to_write = tmp_path / "then.pdf"
    past.actions_["write-overdue"].trigger()
    preview_of(past).pdf.click()
    settle()
    for page in PdfReader(tmp_path / "then.pdf").pages:
        assert "as known at 25 Nov 2026, 08:59:59 UTC" in " ".join(page.extract_text().split())


def test_that_the_chart_of_the_past_says_so_on_its_paper(
    seat: Seat, past: PastWindow, outlet_id: int
) -> None:
    for window in (past, seat.window):
        window.showing.show_outlet(outlet_id)
        settle()
    course, now = past.pages.outlet.drift.chart.course, seat.window.pages.outlet.drift.chart.course
    assert course is not None
    assert now is not None
    assert course.where == f"{now.where}, as known at 25 Nov 2026, 08:59:59 UTC"


def test_that_closing_the_past_frees_it_and_leaves_the_register_open(seat: Seat, past: PastWindow) -> None:
    desk = _desk(past)
    assert past.close()
    settle()
    assert seat.built.past == []
    assert seat.window.showing.desk is not None
    assert seat.window.isVisible()
    with pytest.raises(OperationalError, match="no such table"):
        desk.identity()


def test_that_a_moment_before_the_register_is_told_and_opens_nothing(seat: Seat) -> None:
    _go_back(seat, timedelta(days=365 * 40))
    assert isinstance(seat.dialog(), FaultDialog)
    assert list(seat.built.past) == []
