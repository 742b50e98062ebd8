"""The first page: every number opens exactly the list that it counts, by mouse and by keyboard."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estate.domain.progress import Progress
from estate.domain.today import Behind, ListAsked, Share, Today
from estate.operations import browse, plan_retests
from estate.operations.browse_actions import action_lines
from estate.operations.browse_upkeep import upkeep_lines
from estate.operations.keep_people import people_known
from estate.operations.open_register import open_register
from estate.operations.register import Register
from estate.operations.today import today_of, with_past
from estate.window.list_opening import ListOpening
from estate.window.models import share_words
from estate.window.models.workload_rows import bars_of
from estate.window.pages.actions_page import ActionsView
from estate.window.pages.due_page import DueView
from estate.window.pages.instruments_page import InstrumentsView
from estate.window.pages.out_of_use_page import OutOfUseView
from estate.window.pages.people_page import PeopleView
from estate.window.pages.today_page import TodayView
from estate.window.pages.upkeep_page import UpkeepView
from estate.window.pictures import settle
from estate.window.register_work import RegisterWork
from tests.window.builders import TODAY
from tests.window.conftest import Seat


@pytest.fixture(scope="module")
def register(small_estate: Path) -> Iterator[Register]:
    opened = open_register(small_estate)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def today(register: Register) -> Today:
    return with_past(register, today_of(register, TODAY))


@pytest.fixture
def view(qtbot: QtBot, today: Today) -> TodayView:
    view = TodayView()
    qtbot.addWidget(view)
    view.resize(958, 700)
    view.tell(today)
    view.show()
    return view


def lists(qtbot: QtBot, register: Register) -> ListOpening:
    due, actions = DueView(), ActionsView()
    pages = ListOpening(
        due,
        actions,
        OutOfUseView(lambda: TODAY),
        InstrumentsView(lambda: TODAY),
        PeopleView(lambda: TODAY),
        UpkeepView(lambda: TODAY),
    )
    due.tell(plan_retests.due_lines(register, TODAY), TODAY)
    actions.tell(action_lines(register, TODAY, live_only=False))
    pages.instruments.tell(browse.instruments(register))
    pages.people.tell(people_known(register).known)
    pages.upkeep.tell(enumerate(upkeep_lines(register, TODAY)))
    for each in vars(pages).values():
        qtbot.addWidget(each)
    return pages


def test_that_every_number_opens_a_list_as_long_as_it_says(
    qtbot: QtBot, register: Register, today: Today
) -> None:
    pages = lists(qtbot, register)
    asked = [(each.asks, each.count) for each in today.figures]
    asked += [(each.asks, each.count) for each in today.workload.weeks]
    asked.append((today.not_in_date, today.share.valves - today.share.good))
    for asks, count in asked:
        page = pages.prepare(asks, today)
        assert page.listing.ordered.rowCount() == count, asks  # type: ignore[attr-defined] # every list page


def test_that_a_number_asks_for_its_list(view: TodayView, today: Today, qtbot: QtBot) -> None:
    links = {key: link for rows in view.parts.values() for key, link in rows.links.items()}
    assert set(links) == {each.asks.behind for each in today.figures if each.count}
    for each in today.figures:
        if each.count:
            link = links[each.asks.behind]
            assert link.accessibleName() == each.sentence
            with qtbot.waitSignal(view.list_asked) as asked:
                QTest.keyClick(link, Qt.Key.Key_Space)
            assert asked.args == [each.asks]


def test_that_a_bar_opens_its_week_by_keyboard_and_by_mouse(view: TodayView, qtbot: QtBot) -> None:
    chart = view.chart
    said: list[ListAsked] = []
    view.list_asked.connect(said.append)
    QTest.keyClick(chart, Qt.Key.Key_Return)
    QTest.keyClick(chart, Qt.Key.Key_Right)
    QTest.keyClick(chart, Qt.Key.Key_Return)
    assert [each.behind for each in said] == [Behind.OVERDUE]
    assert "overdue" in chart.accessibleDescription()
    QTest.keyClick(chart, Qt.Key.Key_End)
    assert chart.chosen == 26
    QTest.keyClick(chart, Qt.Key.Key_Home)
    QTest.keyClick(chart, Qt.Key.Key_Left)
    assert chart.chosen == 0
    bar = next(each for each in chart.bars[1:] if each.count)
    where = chart._ground().column(bar.number).center().toPoint()
    QTest.mouseMove(chart, where)
    QTest.mouseClick(chart, Qt.MouseButton.LeftButton, pos=where)
    assert said[-1] == bar.asks
    assert chart.bar_at(QPointF(-5, -5)) == -1


def test_that_the_table_says_what_the_chart_says(view: TodayView, today: Today, qtbot: QtBot) -> None:
    view.as_table.click()
    assert view.table.isVisible()
    assert not view.chart.isVisible()
    assert view.table.table.rows == bars_of(today.workload)
    with qtbot.waitSignal(view.list_asked) as asked:
        view.table.opened.emit(0)
    assert asked.args[0].outlet_ids == frozenset(today.workload.overdue)
    view.as_table.click()
    assert view.chart.isVisible()


def test_that_an_estate_without_valves_is_not_told_as_well(qtbot: QtBot, today: Today) -> None:
    view = TodayView()
    qtbot.addWidget(view)
    nothing = Today(
        TODAY, "Withy End", 0, (), (Share(TODAY, 0, 0),), today.not_in_date, type(today.workload)((), (), 0)
    )
    view.tell(nothing)
    assert not view.empty.isHidden()
    assert "does not mean that all is well" in view.empty.text()
    assert view.known.isHidden()


def test_that_the_share_is_told_with_how_it_moved() -> None:
    course = (Share(TODAY, 0, 0), Share(TODAY, 1000, 870), Share(TODAY, 1000, 999), Share(TODAY, 1000, 745))
    assert [share_words.percent(each) for each in course] == ["–", "87 %", "99 %", "74 %"]
    assert share_words.percent(Share(TODAY, 3, 0)) == "0 %"
    assert share_words.percent(Share(TODAY, 3, 3)) == "100 %"
    assert share_words.moved(course) == (
        "25 points less than at the end of Nov 2026 (99 %), "
        "12 points less than at the end of Nov 2026 (87 %)."
    )
    assert share_words.moved(course[:1]) == ""
    assert share_words.moved((course[1], course[1])) == "As at the end of Nov 2026 (87 %)."
    assert share_words.in_words(course[:1]) == "Today, 25 Nov 2026: no valve in place"


def test_that_the_months_before_are_worked_out_once_for_each_reading(
    seat: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[Today] = []

    def with_past_counted(self: RegisterWork, today: Today, progress: Progress) -> Today:
        told.append(today)
        return today

    monkeypatch.setattr(RegisterWork, "with_past", with_past_counted)
    seat.window.showing.show_due()
    seat.window.today.show()
    settle()
    assert seat.window.showing.stack.currentWidget() is seat.window.today.page
    assert told == []
    seat.window.showing.refresh()
    settle()
    reading = seat.window.showing.reading
    assert reading is not None
    assert told == [reading.today]
