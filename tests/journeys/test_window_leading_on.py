"""From an outlet to all that it leads to, and from a place down its floors, at the real window."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from estate.domain.browsing import PlaceKind
from estate.domain.life.actions import Step
from estate.window.dialogs.action_step import ActionStepDialog, OpenActionDialog
from estate.window.dialogs.document import AddDocumentDialog
from estate.window.dialogs.source_sheet import SourceSheetDialog
from estate.window.pictures import settle
from tests.files import PDF
from tests.window.conftest import Seat, bare, seat, small_estate  # noqa: F401 - fixtures, found by name

LEFT = Qt.MouseButton.LeftButton


def test_that_an_outlet_leads_up_to_its_places_and_a_floor_down_to_its_outlets(seat: Seat) -> None:
    window, outlet, place = seat.window, seat.window.pages.outlet, seat.window.pages.place
    reading = window.showing.reading
    assert reading is not None
    line = reading.lines[0]
    window.showing.show_outlet(line.outlet_id)
    settle()
    QTest.mouseClick(outlet.path.parts[PlaceKind.BUILDING], LEFT)
    settle()
    assert window.showing.stack.currentWidget() is place
    node = window.panel.current
    assert node is not None
    assert (node.kind, node.label) == (PlaceKind.BUILDING, line.path.building)
    known = {row.node.id: row for row in place.listing.table.rows}
    assert known[line.outlet_id].outlet == next(each for each in reading.outlets if each.id == line.outlet_id)
    assert known[line.outlet_id].valve == reading.valves[line.valve_id]
    place.chart.setFocus()
    QTest.keyClick(place.chart, Qt.Key.Key_End)
    QTest.keyClick(place.chart, Qt.Key.Key_Return)
    settle()
    assert window.panel.current is not None
    assert window.panel.current.kind is PlaceKind.LEVEL
    assert place.card.isHidden()
    assert len(place.listing.table.rows) == window.panel.current.outlets


def test_that_actions_are_opened_and_taken_on_from_the_page_of_their_outlet(seat: Seat) -> None:
    window, outlet = seat.window, seat.window.pages.outlet
    reading = window.showing.reading
    assert reading is not None
    acting = next(each for each in reading.actions if each.state.live)
    window.showing.show_outlet(acting.opening.outlet_id)
    settle()
    assert outlet.to_do.listing.table.rows
    outlet.tabs.setCurrentWidget(outlet.to_do)
    QTest.mouseClick(outlet.to_do.open_button, LEFT)
    opening = seat.dialog()
    assert isinstance(opening, OpenActionDialog)
    opening.reject()
    settle()
    QTest.mouseClick(outlet.to_do.steps[Step.NOTE], LEFT)
    assert isinstance(seat.dialog(), ActionStepDialog)
    seat.dialog().reject()
    settle()
    busy = {each.opening.outlet_id for each in reading.actions}
    without = next(each for each in reading.outlets if each.id not in busy)
    window.showing.show_outlet(without.id)
    settle()
    assert outlet.to_do.listing.table.rows == ()
    assert "It does not mean that its valve works" in outlet.to_do.said.text()


def test_that_the_file_that_an_entry_came_from_is_saved_as_it_came(seat: Seat, tmp_path: Path) -> None:
    window, outlet = seat.window, seat.window.pages.outlet
    reading = window.showing.reading
    assert reading is not None
    window.showing.show_outlet(next(each.outlet_id for each in reading.lines if each.last_visit is not None))
    settle()
    page = window.showing.outlet
    assert page is not None
    entry = next(each.visit for each in page.history if each.visit.batch_id is not None)
    assert outlet.history.choose(entry.id)
    QTest.keyClick(outlet.history, Qt.Key.Key_Return)
    QTest.mouseClick(outlet.past.detail.sheet, LEFT)
    dialog = seat.dialog()
    assert isinstance(dialog, SourceSheetDialog)
    seat.answers.to_write = tmp_path / "kept.csv"
    dialog.file_asked.emit()
    settle()
    kept = (tmp_path / "kept.csv").read_bytes()
    assert entry.draft.source is not None
    assert all(cell.encode() in kept for _, cell in entry.draft.source.cells)
    dialog.reject()
    settle()
    window.actions_["entry-sheet"].trigger()
    assert isinstance(seat.dialog(), SourceSheetDialog)
    seat.dialog().reject()


def test_that_plans_are_kept_with_their_building(seat: Seat, tmp_path: Path) -> None:
    window, place = seat.window, seat.window.pages.place
    reading = window.showing.reading
    assert reading is not None
    building = reading.tree[0].children[0]
    window.panel.choose((building.kind, building.id))
    settle()
    assert "a plan" in place.documents.findChildren(QLabel)[1].text()
    seat.answers.to_open = tmp_path / "plan.pdf"
    seat.answers.to_open.write_bytes(PDF)
    place.tabs.setCurrentWidget(place.documents)
    QTest.mouseClick(place.documents.add_button, LEFT)
    dialog = seat.dialog()
    assert isinstance(dialog, AddDocumentDialog)
    assert dialog.owner.currentText() == f"building {building.label}"
    QTest.keyClick(dialog, Qt.Key.Key_Return)
    settle()
    assert [each.owner.noun for each in place.documents.documents] == ["building"]
    assert place.tabs.tabText(1) == "Documents (1)"
    assert place.tabs.currentIndex() == 1
    level = building.children[0]
    window.panel.choose((level.kind, level.id))
    settle()
    assert place.documents.documents == ()
    assert place.tabs.currentIndex() == 0
