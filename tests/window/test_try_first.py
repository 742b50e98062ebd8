"""A rule value is tried on the whole estate before it is adopted."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.preview import Move, PolicyPreview, Workload
from estate.domain.rules.values import RuleSet
from estate.errors import RuleFault
from estate.window.dialogs.override import OverrideDialog
from estate.window.models.preview_rows import MovesModel, by_month, figures, moved, tried
from estate.window.notices import Notices
from estate.window.pictures import Stage, place_scenes, settle
from estate.window.pictures import rule_scenes as scenes
from estate.window.schemes import DARK, LIGHT, palette_of
from estate.window.shades import Shades
from estate.window.tasks import Latest, Straight, Tasks
from estate.window.widgets.month_bars import MonthBars, fitting
from tests.builders import healthcare
from tests.window.builders import TODAY
from tests.window.conftest import Seat
from tests.window.walking import silent

KEY = "policy.risk.patients"
NOV, DEC = date(2026, 11, 1), date(2026, 12, 1)
FATAL = QAbstractItemModelTester.FailureReportingMode.Fatal
PREVIEW = PolicyPreview(
    KEY,
    "estate",
    0.05,
    0.02,
    Workload(1390.4, 105.5, ((NOV, 76), (DEC, 0))),
    Workload(1393.2, 104.4, ((NOV, 78), (DEC, 1))),
    23,
    (
        Move("WW/W/W00/WHB1", TODAY + timedelta(days=31), TODAY),
        Move("WW/W/W01/SHR1", TODAY, TODAY + timedelta(days=9)),
    ),
)


@pytest.fixture
def dialog(qtbot: QtBot) -> OverrideDialog:
    value = healthcare().get(KEY)
    assert value is not None
    made = OverrideDialog(value, None)
    qtbot.addWidget(made)
    return made


def opened(seat: Seat) -> OverrideDialog:
    """The dialog for the accepted chance, over the real register."""
    stage = Stage(seat.window, Path())
    place_scenes.rules(stage)
    settle()
    page = seat.window.pages.rules
    page.sought.setText(KEY)
    page.listing.selectRow(0)
    page.override_button.click()
    shown = seat.dialog()
    assert isinstance(shown, OverrideDialog)
    return shown


def in_force(seat: Seat) -> RuleSet:
    desk = seat.window.showing.desk
    assert desk is not None
    return desk.rules("estate")


def said(dialog: OverrideDialog) -> str:
    labels = [each for each in dialog.findChildren(QLabel) if each.isVisible()]
    return "\n".join(each.text() for each in labels)


def clipped(dialog: QWidget) -> list[str]:
    """Labels that have less room than their words need."""
    found = []
    for each in dialog.findChildren(QLabel):
        needed = each.heightForWidth(each.width()) if each.wordWrap() else each.sizeHint().height()
        narrow = not each.wordWrap() and each.width() < each.sizeHint().width()
        if each.isVisible() and (each.height() < needed or narrow):
            found.append(each.text())
    return found


def test_that_a_value_is_tried_without_a_why_but_not_adopted(dialog: OverrideDialog) -> None:
    asked: list[object] = []
    dialog.tried.connect(asked.append)
    assert not dialog.try_first.isEnabled()
    QTest.keyClicks(dialog.value, "0,02")
    dialog.try_first.click()
    assert asked == [0.02]
    assert not dialog.act.isEnabled()


def test_that_the_estate_is_shown_before_and_after_with_the_caution(dialog: OverrideDialog) -> None:
    dialog.show()
    QTest.keyClicks(dialog.value, "0.02")
    dialog.show_outcome(PREVIEW)
    words = said(dialog)
    for expected in (
        "1,390",
        "1,393",
        "3 more",
        "1.1 fewer",
        "23 dates to test by would move. The 2 that move most:",
        "estimates, not permissions",
        "water safety group decides",
    ):
        assert expected in words
    assert dialog.preview.listing.isVisible()
    assert silent(dialog) == []


def test_that_what_is_shown_goes_when_another_value_is_typed(dialog: OverrideDialog) -> None:
    dialog.show()
    overtaken: list[bool] = []
    dialog.overtaken.connect(lambda: overtaken.append(True))
    QTest.keyClicks(dialog.value, "0.02")
    dialog.show_outcome(PREVIEW)
    overtaken.clear()
    QTest.keyClicks(dialog.why, "minutes of May")
    assert dialog.preview.isVisible()
    QTest.keyClicks(dialog.value, "5")
    assert not dialog.preview.isVisible()
    assert overtaken == [True]


def test_that_a_value_that_can_not_stand_is_refused_in_place(dialog: OverrideDialog) -> None:
    dialog.show_outcome(RuleFault("The value can't stand", "It is 7.", "Give a share below 1."))
    assert dialog.wrong.text() == "The value can't stand. It is 7. Give a share below 1."
    assert dialog.preview.isHidden()
    assert dialog.trying.text() == ""


def test_that_going_back_to_the_published_value_is_tried_first_too(seat: Seat) -> None:
    dialog = opened(seat)
    QTest.keyClicks(dialog.value, "0.001")
    QTest.keyClicks(dialog.why, "water safety group")
    dialog.act.click()
    settle()
    dialog = opened(seat)
    dialog.try_published.click()
    settle()
    assert dialog.preview.heading.text() == "Tried: the published value in place of 0.001 of 1"
    assert dialog.preview.listing.isVisible()
    assert clipped(dialog) == []
    assert dialog.width() <= 1280
    assert "until you go back" in dialog.trying.text()
    assert dialog.focusWidget() is dialog.withdraw
    assert in_force(seat).number(KEY) == 0.001
    dialog.withdraw.click()
    settle()
    assert in_force(seat).values[KEY].override is None


@pytest.mark.parametrize("adopted", [False, True])
def test_that_a_tried_value_is_kept_only_when_it_is_adopted(seat: Seat, adopted: bool) -> None:
    dialog = opened(seat)
    before = in_force(seat).number(KEY)
    QTest.keyClicks(dialog.value, "0.001")
    QTest.mouseClick(dialog.try_first, Qt.MouseButton.LeftButton)
    settle()
    assert dialog.preview.isVisible()
    assert "Tried: 0.001" in dialog.preview.heading.text()
    assert dialog.preview.bars.months[0][0] == "Nov 2026"
    assert len(dialog.preview.bars.months) == 12
    assert dialog.focusWidget() is dialog.why
    assert in_force(seat).number(KEY) == before
    QTest.keyClicks(dialog.why, "water safety group")
    QTest.keyClick(dialog.why, Qt.Key.Key_Return if adopted else Qt.Key.Key_Escape)
    settle()
    value = in_force(seat).values[KEY]
    assert value.number == (0.001 if adopted else before)
    assert (value.override is not None) is adopted


def test_that_the_register_refuses_what_can_not_stand_beside_the_field(seat: Seat) -> None:
    dialog = opened(seat)
    QTest.keyClicks(dialog.value, "7")
    dialog.try_first.click()
    settle()
    assert KEY in dialog.wrong.text()
    assert clipped(dialog) == []
    assert seat.dialog() is dialog
    assert not dialog.preview.isVisible()


def test_that_the_whole_of_it_fits_the_smallest_screen_and_is_never_clipped(seat: Seat) -> None:
    shown = scenes.tried(Stage(seat.window, Path()))
    settle()
    assert shown.width() <= 1280
    assert shown.height() <= 800
    assert clipped(shown) == []
    assert silent(shown) == []


def test_that_the_keyboard_reaches_everything_that_was_tried(seat: Seat) -> None:
    dialog = scenes.tried(Stage(seat.window, Path()))
    assert isinstance(dialog, OverrideDialog)
    reached = set()
    for _ in range(12):
        reached.add(dialog.focusWidget())
        QTest.keyClick(dialog.focusWidget() or dialog, Qt.Key.Key_Tab)
    assert {dialog.value, dialog.why, dialog.preview.bars, dialog.try_first} <= reached


def test_that_the_change_is_the_one_between_the_figures_shown() -> None:
    same = replace(PREVIEW, after=replace(PREVIEW.before, visits_a_year=1389.6))
    assert [each.change for each in figures(same)] == ["no change", "no change"]
    assert [(each.now, each.then) for each in figures(PREVIEW)] == [("1,390", "1,393"), ("105.5", "104.4")]
    assert by_month(PREVIEW) == (("Nov 2026", 76, 78), ("Dec 2026", 0, 1))


def test_that_an_estate_of_which_nothing_was_learned_is_not_said_to_stay_below_its_ceilings() -> None:
    bare = replace(PREVIEW.before, weeks_above_a_year=None)
    above = figures(replace(PREVIEW, before=bare, after=bare))[1]
    assert (above.now, above.then, above.change) == ("not known yet", "not known yet", "–")
    never = replace(PREVIEW.before, weeks_above_a_year=0.0)
    above = figures(replace(PREVIEW, before=never, after=never))[1]
    assert (above.now, above.then, above.change) == ("0.0", "0.0", "no change")


def test_that_values_that_were_never_published_are_said_to_be_none() -> None:
    assert tried(replace(PREVIEW, before_value=None), "degC") == "Tried: 0.02 °C in place of no value"
    assert tried(replace(PREVIEW, before_value="3"), "") == "Tried: 0.02 in place of 3"


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        (0, "No date to test by would move."),
        (2, "2 dates to test by would move."),
        (3, "3 dates to test by would move. The 2 that move most:"),
    ],
)
def test_that_dates_that_move_are_counted(number: int, expected: str) -> None:
    assert moved(replace(PREVIEW, moved=number)) == expected


def test_that_moves_are_a_sound_model_that_says_sooner_and_later(qtbot: QtBot) -> None:
    model = MovesModel()
    tester = QAbstractItemModelTester(model, FATAL)
    model.fill(PREVIEW.moves)
    assert tester.model() is model
    assert [model.index(0, column).data() for column in range(4)] == [
        "WW/W/W00/WHB1",
        "26 Dec 2026",
        "25 Nov 2026",
        "31 sooner",
    ]
    assert model.index(1, 3).data() == "9 later"


@pytest.mark.parametrize("shades", [LIGHT, DARK], ids=lambda shades: shades.name)
def test_that_months_are_bars_in_two_shapes_and_words_for_those_who_listen(
    qtbot: QtBot, shades: Shades
) -> None:
    bars = MonthBars()
    qtbot.addWidget(bars)
    bars.setPalette(palette_of(shades))
    bars.resize(600, 150)
    bars.tell((("Nov 2026", 10, 10),))
    assert bars.accessibleDescription() == "Nov 2026: now 10, then 10"
    picture = bars.grab().toImage()
    assert picture.pixelColor(150, 80).name() == shades.base
    assert picture.pixelColor(450, 80).name() == shades.accent


@pytest.mark.parametrize("most", [9, 12345])
def test_that_numbers_of_any_size_stay_in_their_half_of_a_month(qtbot: QtBot, most: int) -> None:
    font = fitting(QApplication.font(), (("Nov 2026", 0, most), ("Dec 2026", 1, 2)), 34)
    assert QFontMetricsF(font).horizontalAdvance(str(most)) <= 34
    assert font.pixelSize() >= 8


@pytest.mark.parametrize("forgotten", [False, True])
def test_that_a_defect_is_reported_and_ends_the_wait(qtbot: QtBot, forgotten: bool) -> None:
    notices, told, ended = Notices(), list[object](), list[bool]()
    notices.defect_met.connect(told.append)

    def breaks() -> None:
        latest_forgets() if forgotten else None
        raise ZeroDivisionError

    with Straight() as executor:
        latest = Latest(Tasks(executor, notices))
        latest_forgets: Callable[[], None] = latest.forget
        latest.run(breaks, lambda outcome: None, lambda: ended.append(True))
        settle()
    assert [type(each) for each in told] == [ZeroDivisionError]
    assert ended == ([] if forgotten else [True])
