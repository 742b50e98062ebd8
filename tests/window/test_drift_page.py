"""The drift page: order, filter, opening, and what it says where there is nothing."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from estate.domain.learned import RegulationEstimate
from estate.window.marks import Mark
from estate.window.models.drift_rows import COLUMNS, DriftModel, wanting
from estate.window.models.drift_words import Regulates, regulates
from estate.window.models.ordering import Ordered
from estate.window.pages.drift_page import DriftView
from estate.window.roles import Role
from tests.window.builders import HEALTHY, MIXES, OPEN, TODAY, drift, learned, learned_line
from tests.window.test_pages import said
from tests.window.test_tables import FATAL

BARE = learned_line(4, learned=learned(drift=None, shut_off=None, regulation=None), ceiling_c=None)


@pytest.fixture
def view(qtbot: QtBot) -> DriftView:
    made = DriftView()
    qtbot.addWidget(made)
    made.resize(950, 600)
    return made


def shown(view: DriftView) -> list[int]:
    return [line.outlet_id for line in view.listing.ordered.shown()]


@pytest.mark.parametrize(
    ("estimate", "expected"),
    [
        (HEALTHY, Regulates.YES),
        (MIXES, Regulates.NO),
        (OPEN, Regulates.OPEN),
        (None, Regulates.OPEN),
        (RegulationEstimate(0.75, 0.5, 1.0, 4), Regulates.OPEN),
        (RegulationEstimate(0.25, 0.0, 0.5, 4), Regulates.OPEN),
    ],
)
def test_that_a_valve_is_judged_only_where_its_whole_interval_agrees(
    estimate: RegulationEstimate | None, expected: Regulates
) -> None:
    assert regulates(estimate) is expected


def test_that_the_drift_page_is_a_sound_model(qtbot: QtBot) -> None:
    model = DriftModel()
    ordered = Ordered(model)
    held = [QAbstractItemModelTester(model, FATAL), QAbstractItemModelTester(ordered, FATAL)]
    for lines in ((learned_line(1), BARE), (), (learned_line(2, None),)):
        model.fill(lines)
        assert ordered.rowCount() == len(lines)
    assert len(held) == 2
    assert len({column.title for column in COLUMNS}) == len(COLUMNS)


def test_that_the_likeliest_to_reach_its_ceiling_comes_first(view: DriftView) -> None:
    lines = (
        learned_line(1, 0.05),
        learned_line(2, 0.0001),
        learned_line(3, 0.4),
        BARE,
        learned_line(5, None),
    )
    view.tell(lines, TODAY)
    assert shown(view)[:3] == [3, 1, 2]
    assert set(shown(view)[3:]) == {4, 5}
    texts = [view.listing.ordered.index(row, 1).data() for row in range(5)]
    assert texts == ["40", "5.0", "less than 0.1", "–", "–"]


@pytest.mark.parametrize(
    ("title", "first"),
    [("Drift\nK a week", 2), ("Level\n°C", 1), ("Shut-off\nfailures", 1), ("Index", 2), ("Regulates", 2)],
)
def test_that_each_column_puts_the_worst_first(view: DriftView, title: str, first: int) -> None:
    worn = learned(drift=drift(drift_k_per_week=0.05, level_c=40.0), regulation=MIXES)
    shut = worn.shut_off
    assert shut is not None
    lines = (
        learned_line(1),
        learned_line(2, learned=replace(worn, shut_off=replace(shut, failures=0))),
        BARE,
    )
    view.tell(lines, TODAY)
    place = next(number for number, column in enumerate(COLUMNS) if column.title == title)
    view.listing.sortByColumn(place, Qt.SortOrder.AscendingOrder)
    assert shown(view)[0] == first


def test_that_only_valves_that_no_longer_regulate_can_be_asked_for(view: DriftView) -> None:
    lines = tuple(
        learned_line(number, learned=learned(regulation=each))
        for number, each in enumerate((HEALTHY, MIXES, OPEN, None), 1)
    )
    view.tell(lines, TODAY)
    assert "4 valves of 4, readings up to 25 Nov 2026" in said(view)
    QTest.keyClick(view.which, Qt.Key.Key_Down)
    assert shown(view) == [2]
    assert "1 valve of 4" in said(view)
    index = view.listing.ordered.index(0, [each.title for each in COLUMNS].index("Regulates"))
    assert (index.data(), index.data(Role.MARK)) == ("only mixes", Mark.WEDGE)
    view.tell(lines[:1], TODAY)
    assert "No valve is known to have stopped regulating." in said(view)


def test_that_words_find_lines() -> None:
    wanted = wanting(False, "g02 make a")
    assert [wanted(learned_line(number)) for number in (1, 2)] == [False, True]


def test_that_a_line_opens_its_outlet(view: DriftView, qtbot: QtBot) -> None:
    view.tell((learned_line(7),), TODAY)
    view.show()
    opened: list[int] = []
    view.outlet_opened.connect(opened.append)
    view.listing.selectRow(0)
    QTest.keyClick(view.listing, Qt.Key.Key_Return)
    view.listing.doubleClicked.emit(view.listing.currentIndex())
    assert opened == [7, 7]


def test_that_an_empty_page_says_what_to_do_first(view: DriftView) -> None:
    view.tell((), TODAY)
    assert "Bring in sheets of test results first" in said(view)
    view.tell((learned_line(1),), TODAY)
    view.sought.setText("no such words")
    assert "No line has these words." in said(view)


def test_that_chances_come_with_their_caution(view: DriftView) -> None:
    view.tell((learned_line(1),), TODAY)
    assert "estimates, not permissions" in said(view)
