"""The page of the year ahead."""

from dataclasses import replace

import pytest
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from estate.domain.forecast import (
    FORECAST_CAUTION,
    Ages,
    BodyChance,
    Counted,
    Expected,
    Forecast,
    PartForecast,
    Ranged,
)
from estate.window.pages.forecast_page import ForecastView
from estate.window.pictures import settle
from estate.window.widgets.forecast_bars import Bar
from tests.journeys.test_choosing_words import POOR, RICH
from tests.window.builders import TODAY

FEW = Counted(1, 4.0)
LITTLE = replace(
    POOR,
    replaced=FEW,
    shut_off=FEW,
    services=FEW,
    put_right=None,
    too_few=("replacements: at least 5 valve-years",),
)
TESTED = replace(
    RICH,
    shut_off_tested=48,
    shut_off_tests=Ranged(0.021, 0.001, 0.111),
    tested_valves=11,
    put_right=Ranged(0.091, 0.002, 0.413),
)
WHOLE = Forecast(
    TODAY,
    replace(TESTED, name="the whole estate"),
    (TESTED, LITTLE),
    likeliest=(
        BodyChance("MM/1", "A15 1", None, Ranged(0.2, 0.1, 0.3)),
        BodyChance("MM/2", "A15 2", 5.25, Ranged(0.1, None, None)),
    ),
    parts=(PartForecast("element", 2.0, 1.5, None), PartForecast("washer", 4.0, 3.0, Expected(1.5, 0, 5))),
    strainers_due=1,
    strainer_cleanings=4,
)

MODE = QAbstractItemModelTester.FailureReportingMode.Warning


@pytest.fixture
def view(qtbot: QtBot) -> ForecastView:
    made = ForecastView()
    qtbot.addWidget(made)
    made.resize(958, 700)
    made.tell(WHOLE)
    made.show()
    return made


def rows(view: ForecastView) -> list[list[str]]:
    model = view.groups.model()
    return [
        [str(model.index(row, column).data()) for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ]


def facts(view: ForecastView) -> str:
    return "\n".join(each.text() for each in view.facts.findChildren(QLabel))


def test_that_estate_and_models_stand_with_their_intervals(view: ForecastView) -> None:
    tester = QAbstractItemModelTester(view.groups.table, MODE)
    assert tester.model() is view.groups.table
    assert rows(view)[0] == [
        "The whole estate",
        "8",
        "5.5",
        "15.8 (10.1 to 23.5)",
        "3.1 (0 to 7)",
        "15.8 (10.1 to 23.5)",
        "+0.006 ± 0.003",
        "9 (0 to 41)",
    ]
    assert [row[0] for row in rows(view)] == ["The whole estate", "Make A A15", "Make C C3"]


def test_that_too_few_is_said_and_never_a_nought(view: ForecastView) -> None:
    assert rows(view)[2] == ["Make C C3", "8", "–", *["too few to tell"] * 5]
    view.groups.choose(2)
    assert "Too few to tell\nreplacements: at least 5 valve-years" in facts(view)
    assert "1 in 4 valve-years: too few to tell" in facts(view)
    assert "Ages" not in facts(view)


def test_that_the_chosen_line_is_told_in_full(view: ForecastView) -> None:
    assert view.named.text() == "The whole estate: 8 in place"
    text = facts(view)
    for words in (
        "median 5.5 years, oldest 8.0; of 1 not known",
        "24 in 152 valve-years; 16 % (10 % to 24 %) a year; expected 3.1 (0 to 7)",
        "Still in place at 2 years\nall; 30 watched then",
        "Still in place at 5 years\n80 % (60 % to 90 %); 20 watched then",
        "Half are replaced by\n8.0 years (7.5 to not reached)",
        "2.1 % (0.1 % to 11 %) of 48 tests",
        "9.1 % (0.2 % to 41 %) of 11 valves tested",
        "+0.0060 (+0.0030 to +0.0090) K a week; from valve to valve ± 0.0120",
    ):
        assert words in text
    assert "one rate for all ages" not in text


def test_that_one_rate_for_all_ages_and_a_drift_without_ends_are_said(view: ForecastView) -> None:
    assert RICH.drift is not None
    bare = replace(RICH, by_age=False, drift=replace(RICH.drift, mean=Ranged(0.006, None, None)))
    bare = replace(bare, ages=Ages(8, 0, 5.5, 8.0), put_right=Ranged(0.5, None, None))
    view.tell(replace(WHOLE, estate=bare))
    assert "one rate for all ages" in facts(view)
    assert "+0.0060 K a week" in facts(view)
    assert "not known" not in facts(view)
    assert rows(view)[0][6:] == ["+0.006", "50"]


def test_that_a_line_stays_chosen_when_it_is_told_anew(view: ForecastView) -> None:
    view.groups.choose(1)
    view.tell(WHOLE)
    assert view.chosen is not None
    assert view.chosen.name == "Make A A15"


def test_that_only_models_of_which_enough_is_known_are_drawn(view: ForecastView) -> None:
    assert view.bars.bars == (Bar("Make A A15", Expected(3.1, 0, 7)),)
    assert view.bars.accessibleDescription() == "Make A A15: 3.1 (0 to 7)"
    view.tabs.setCurrentIndex(1)
    settle()
    assert view.bars.isVisible()
    assert view.no_bars.isHidden()
    blank = view.bars.grab().toImage()
    view.bars.tell((Bar("Make A A15", Expected(6.0, 3, 7)),))
    assert view.bars.grab().toImage() != blank


def test_that_bodies_and_parts_are_listed(view: ForecastView) -> None:
    bodies, parts = view.bodies.model(), view.parts.model()
    assert [bodies.index(row, 3).data() for row in range(2)] == ["20 % (10 % to 30 %)", "10 %"]
    assert [bodies.index(row, 2).data() for row in range(2)] == ["–", "5.2"]
    assert [parts.index(row, 3).data() for row in range(2)] == ["too few to tell", "1.5 (0 to 5)"]
    assert view.strainers.text() == "4 cleanings of strainers fall due in the year ahead, at 1 valve."


def test_that_where_nothing_is_there_each_part_says_why(view: ForecastView) -> None:
    empty = replace(LITTLE, in_place=0)
    view.tell(Forecast(TODAY, empty, ()))
    assert "No valve is in the register yet" in view.as_at.text()
    assert [each.isHidden() for each in (view.bars, view.bodies, view.parts)] == [True] * 3
    assert [each.isHidden() for each in (view.no_bars, view.no_bodies, view.no_parts)] == [False] * 3
    assert "As at 25 Nov 2026" in view.as_at.text()


def test_that_the_page_fits_its_room_and_says_that_it_replaces_no_test(view: ForecastView) -> None:
    settle()
    assert view.minimumSizeHint().width() <= 958
    assert not view.groups.horizontalScrollBar().isVisible()
    assert [each.isVisible() for each in view.findChildren(QLabel) if each.text() == FORECAST_CAUTION] == [
        True
    ]
