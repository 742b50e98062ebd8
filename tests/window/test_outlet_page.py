"""The parts of an outlet's page: path, history that expands, its sheet, service record, dropped papers."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, QRect, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from estate.domain.browsing import OutletPage, PlaceKind
from estate.domain.steps import Part, Seen, Steps
from estate.domain.temperature import Scale
from estate.domain.valves import Fitting
from estate.domain.visits import Attempt, AttemptDraft, Readings, Standing, VisitKind
from estate.window.models.service_rows import ServiceModel, entered_words, seen_words, service_rows
from estate.window.outlet_flow import above
from estate.window.pages.outlet_page import OutletView
from estate.window.pictures.stage import settle
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.page_stack import PageArea
from estate.window.widgets.text import label
from tests.window.builders import NOW, TODAY, VALVE, history_line, page, tree, visit


@pytest.fixture
def outlet(qtbot: QtBot) -> OutletView:
    view = OutletView()
    qtbot.addWidget(view)
    view.resize(1000, 760)
    view.tell(page(), TODAY)
    view.show()
    return view


def serviced() -> OutletPage:
    """An outlet with a service of which much is recorded, one void entry, and an attempt."""
    readings = Readings(found_c=44.0, left_c=41.0, strainers_cleaned=True, check_valves_good=False)
    steps = Steps(
        (Seen("descaled", True, remark="lime"), Seen("other")), (Part("strainer", 2.0), Part("cap"))
    )
    made = visit(5, 30)
    draft = replace(made.draft, kind=VisitKind.SERVICE, readings=readings, steps=steps, remarks="quiet")
    told = replace(history_line(), visit=replace(made, draft=draft))
    void = replace(told, visit=replace(told.visit, id=6, standing=Standing.VOID, void_reason="twice"))
    attempt = Attempt(1, AttemptDraft(1, date(2026, 9, 1), "room occupied", "T. Tester"), NOW, "A. Officer")
    old = (Fitting(2, 1, None, date(2024, 3, 1)), replace(VALVE, id=2, serial="A15-0"))
    return page(
        history=(told, void), attempts=(attempt,), fittings=((Fitting(1, 1, date(2024, 3, 1)), VALVE), old)
    )


def test_that_each_part_of_the_path_leads_to_its_place(outlet: OutletView) -> None:
    asked: list[PlaceKind] = []
    outlet.place_asked.connect(asked.append)
    for part in outlet.path.parts.values():
        part.setFocus()
        QTest.keyClick(part, Qt.Key.Key_Space)
    assert asked == [PlaceKind.SITE, PlaceKind.BUILDING, PlaceKind.LEVEL, PlaceKind.ROOM]


def test_that_the_places_above_an_outlet_are_found_in_the_tree() -> None:
    assert [each.kind for each in above(tree(3), 2)] == list(PlaceKind)
    assert above(tree(3), 99) == ()


def test_that_an_entry_expands_to_its_findings_by_enter_and_folds_again(outlet: OutletView) -> None:
    history, past = outlet.history, outlet.past
    history.selectRow(1)
    high = history.rowHeight(1)
    QTest.keyClick(history, Qt.Key.Key_Return)
    assert past.expanded.key == history.current_key()
    assert past.detail.isVisible()
    assert history.rowHeight(1) > high + past.detail.findings.height()
    assert "44.6 °C" in _said(outlet)
    outlet.tell(page(), TODAY)
    assert past.expanded.key is not None
    QTest.keyClick(history, Qt.Key.Key_Escape)
    assert past.expanded.key is None
    assert history.rowHeight(1) == high
    for _ in range(2):
        QTest.keyClick(history, Qt.Key.Key_Return)
    assert past.detail.isHidden()


def _said(outlet: OutletView) -> str:
    return "\n".join(each.text() for each in outlet.past.detail.findChildren(type(label())))


def test_that_what_is_expanded_goes_with_its_row_when_the_order_changes(outlet: OutletView) -> None:
    history, past = outlet.history, outlet.past
    history.selectRow(0)
    QTest.keyClick(history, Qt.Key.Key_Return)
    key = past.expanded.key
    history.sortByColumn(0, Qt.SortOrder.AscendingOrder)
    row = next(row for row in range(history.ordered.rowCount()) if history.rowHeight(row) > 60)
    assert history.ordered.row_at(history.ordered.index(row, 0)).visit.id == key
    assert past.detail.y() == history.rowViewportPosition(row) + history.verticalHeader().defaultSectionSize()
    past.expanded.expand(999)
    assert past.expanded.key is None


def test_that_the_sheet_of_an_entry_is_one_click_away_where_it_came_from_one(outlet: OutletView) -> None:
    asked: list[int] = []
    outlet.past.sheet_asked.connect(asked.append)
    assert not outlet.past.sheet_button.isEnabled()
    outlet.history.selectRow(0)
    outlet.past.sheet_button.click()
    QTest.keyClick(outlet.history, Qt.Key.Key_Return)
    outlet.past.detail.sheet.click()
    assert asked == [outlet.history.current_key()] * 2
    by_hand = replace(history_line(9), visit=visit(9, batch_id=None))
    outlet.tell(page(history=(by_hand,)), TODAY)
    outlet.history.selectRow(0)
    assert not outlet.past.sheet_button.isEnabled()


def test_that_the_service_record_tells_what_was_done_by_date() -> None:
    rows = service_rows(serviced())
    told = [(row.what, row.detail) for row in rows if row.visit_id == 5]
    assert told == [
        ("set back", "found 44.0 °C, left 41.0 °C"),
        ("strainers clean or cleaned", ""),
        ("check valves not in good order", ""),
        ("Descale the parts that water touches, as the maker says", "yes, lime"),
        ("part: strainer", "2 put in"),
        ("part: cap", ""),
    ]
    assert [(row.on, row.what) for row in rows if row.visit_id is None] == [
        (date(2026, 9, 1), "attempted, not tested"),
        (date(2024, 3, 1), "valve fitted"),
        (date(2024, 3, 1), "valve removed"),
        (None, "valve fitted"),
    ]
    assert all(not row.counts for row in rows if row.visit_id == 6)
    assert "found 111.2 °F" in service_rows(serviced(), Scale.FAHRENHEIT)[0].detail
    assert [row.number for row in rows] == list(range(len(rows)))


def test_that_the_model_of_the_record_behaves(qtbot: QtBot) -> None:
    model = ServiceModel()
    model.fill(service_rows(serviced()))
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Warning)
    assert {model.cell(row, 5).text for row in range(len(model.rows))} == {"counts", "void or corrected", "–"}


def test_that_a_row_of_the_record_opens_its_entry(outlet: OutletView) -> None:
    outlet.tell(serviced(), TODAY)
    record = outlet.record.listing
    outlet.tabs.setCurrentWidget(outlet.record)
    assert record.choose(next(row.number for row in record.table.rows if row.visit_id == 5))
    QTest.keyClick(record, Qt.Key.Key_Return)
    assert outlet.tabs.currentIndex() == 0
    assert outlet.history.current_key() == 5
    outlet.tell(page(history=(), fittings=()), TODAY)
    assert record.isHidden()
    assert "Nothing is recorded" in outlet.record.told.text()


def test_that_an_entry_says_what_was_done_who_entered_it_and_from_where() -> None:
    draft = serviced().history[0].visit.draft
    assert seen_words(draft) == (
        "set back (found 44.0 °C, left 41.0 °C); strainers clean or cleaned; check valves not in good order; "
        "parts put in: strainer 2, cap; quiet"
    )
    assert entered_words(visit()) == (
        "Entered by A. Officer, 25 Nov 2026 09:00 UTC. From round.xlsx, Main, row 12"
    )
    assert "From" not in entered_words(serviced().attempts[0])


def test_that_papers_dropped_on_the_page_are_kept_and_sheets_are_left_to_the_window(
    outlet: OutletView, tmp_path: Path
) -> None:
    kept: list[list[Path]] = []
    outlet.documents.add_asked.connect(kept.append)
    for name in ("plate.jpg", "round.xlsx"):
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(tmp_path / name))])
        where, copy = QPointF(20, 20), Qt.DropAction.CopyAction
        left = (Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier)
        outlet.dropEvent(QDropEvent(where, copy, data, *left))
    assert kept == [[tmp_path / "plate.jpg"]]
    assert outlet.tabs.currentWidget() is outlet.documents
    outlet.documents.counted.emit(2)
    assert outlet.tabs.tabText(outlet.tabs.indexOf(outlet.documents)) == "Documents (2)"


def test_that_only_parts_of_the_page_scroll_where_there_is_the_room_that_they_need(qtbot: QtBot) -> None:
    view = OutletView()
    area = PageArea(view)
    qtbot.addWidget(area)
    view.tell(page(), TODAY)
    area.resize(954, 664)
    area.show()
    for part in (0, view.tabs.indexOf(view.to_do)):
        view.tabs.setCurrentIndex(part)
        settle()
        assert area.verticalScrollBar().maximum() == 0
        assert view.height() == area.viewport().height()
    area.resize(954, 300)
    settle()
    assert area.verticalScrollBar().maximum() > 0


def test_that_what_has_no_room_goes_on_to_the_next_line(qtbot: QtBot) -> None:
    held = label()
    qtbot.addWidget(held)
    row = Flowing(held, gap=4, to_right=True)
    for number in range(6):
        row.addWidget(label(f"a label {number}"))
    one, wide = row.sizeHint().height(), row.sizeHint().width()
    assert row.heightForWidth(wide) == one
    assert row.heightForWidth(wide // 2) == 2 * one + 4
    row.setGeometry(QRect(0, 0, wide // 2, 100))
    places = [row.itemAt(number) for number in range(6)]
    tops = {each.geometry().top() for each in places if each is not None}
    assert tops == {0, one + 4}
    assert row.itemAt(6) is None
    assert row.takeAt(6) is None
    assert row.minimumSize().width() < wide // 2


def test_that_limits_and_history_are_read_on_the_scale_chosen(outlet: OutletView) -> None:
    outlet.read_in(Scale.FAHRENHEIT)
    names = {each.accessibleName() for each in outlet.cards.limits.findChildren(type(label()))}
    assert "Never above: 109.4 °F" in names
    assert "°F" in outlet.history.table.columns[3].title
