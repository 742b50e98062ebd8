"""The trail page, banner, days and backup choices by themselves: what they say and ask for."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from estate.domain.trail import TrailChange, TrailLine, TrailPage, TrailWanted
from estate.domain.trust import KnownHead, Misfit, Verification
from estate.domain.visits import Standing
from estate.settings import Settings
from estate.window.models.backup_rows import backups_model, size_words
from estate.window.models.mended import mended_words
from estate.window.models.misfit_rows import heading_of, outcome_words
from estate.window.models.trail_rows import entry_words, read, summary, trail_model
from estate.window.pages.trail_page import TrailView
from estate.window.pictures import settle
from estate.window.widgets.backup_choices import BackupChoices
from estate.window.widgets.banner import Banner
from estate.window.widgets.days import DayRange
from tests.window.builders import NOW, TODAY, history_line

WINTER = timezone(timedelta(hours=1))


def line(number: int = 1, **fields: Any) -> TrailLine:
    told: dict[str, Any] = {
        "id": number,
        "at": NOW,
        "local_at": NOW.astimezone(WINTER),
        "who": "A. Officer",
        "program": "estate-register 1",
        "batch_id": 7,
        "what": "renamed an outlet",
        "noun": "outlet",
        "row_id": 5,
        "place": "outlet 5: MM/G/G01/WHB1",
        "action": "amended",
        "changes": (TrailChange("name", "House", "Main house"), TrailChange("use", None, "basin")),
        "why": "asked for",
        "digest": "ab" * 32,
    }
    return TrailLine(**(told | fields))


def page_of(first: int, last: int, below: int | None = None) -> TrailPage:
    return TrailPage(tuple(line(each) for each in range(first, last - 1, -1)), below)


@pytest.fixture
def view(qtbot: QtBot) -> TrailView:
    made = TrailView()
    qtbot.addWidget(made)
    made.resize(1000, 700)
    made.know(["A. Officer", "B. Other"], TODAY)
    made.show()
    return made


def test_that_an_entry_says_both_clocks_what_changed_and_why(view: TrailView) -> None:
    view.tell(page_of(3, 1))
    said = view.said.text()
    assert "25 Nov 2026 09:00:00 UTC (there 25 Nov 2026 10:00 +0100)" in said
    assert "Why: asked for" in said
    assert "batch 7" in said
    rows = [tuple(view.changes.model().index(row, column).data() for column in range(3)) for row in (0, 1)]
    assert rows == [("name", "House", "Main house"), ("use", "–", "basin")]


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({}, "name House → Main house, use empty → basin"),
        ({"action": "added"}, "added"),
        ({"changes": (TrailChange("name", "x" * 90, ""),)}, f"name {'x' * 60}… → empty"),
        ({"action": "added many", "row_id": None, "changes": (TrailChange("rows", None, "1"),)}, "added"),
        (
            {"action": "stood", "row_id": None, "changes": (TrailChange("rows", None, "4400"),)},
            "stood: 4,400 rows",
        ),
        ({"action": "trail begins", "row_id": None, "changes": ()}, "trail begins"),
    ],
)
def test_that_a_change_is_summed_up_in_a_few_words(fields: dict[str, Any], told: str) -> None:
    assert summary(line(**fields)) == told


@pytest.mark.parametrize(
    ("kept", "told"),
    [
        ("2026-11-09", "9 Nov 2026"),
        ("2026-11-25T09:00:00+00:00", "25 Nov 2026 09:00:00 UTC"),
        ("2026-11-25T10:00:00.250000+01:00", "25 Nov 2026 09:00:00 UTC"),
        ("2026-11-09 or so", "2026-11-09 or so"),
        ("2026-19-39", "2026-19-39"),
        ("", ""),
        (None, None),
    ],
)
def test_that_days_and_moments_kept_in_the_trail_are_read_as_everywhere_else(
    kept: str | None, told: str | None
) -> None:
    assert read(kept) == told


def test_that_an_entry_older_than_the_chain_says_so() -> None:
    old = line(digest="", local_at=None, program="", why="", who="", batch_id=None)
    assert "no digest covers it" in entry_words(old)
    assert "Nobody named" in entry_words(old)
    assert "there –" in entry_words(old)


def test_that_older_entries_are_asked_for_once_the_end_is_near_and_put_below(view: TrailView) -> None:
    asked: list[int] = []
    view.more_asked.connect(asked.append)
    view.tell(page_of(500, 301, 301))
    assert asked == []
    view.listing.verticalScrollBar().setValue(view.listing.verticalScrollBar().maximum())
    assert asked == [301]
    view.listing.verticalScrollBar().setValue(100)
    assert asked == [301]
    view.add(page_of(300, 201))
    view.count(500)
    assert [each.id for each in view.listing.table.rows] == list(range(500, 200, -1))
    assert view.counted.text() == "300 entries of 500, the newest first"
    view.listing.verticalScrollBar().setValue(view.listing.verticalScrollBar().maximum())
    assert asked == [301]


def test_that_the_entry_chosen_stays_chosen_and_nothing_is_said_where_none_fits(view: TrailView) -> None:
    view.tell(page_of(9, 1))
    view.listing.choose(4)
    view.tell(page_of(10, 1))
    assert view.listing.current_key() == 4
    view.tell(TrailPage((), None))
    assert view.said.text() == ""
    assert not view.listing.isVisible()


def test_that_what_is_looked_for_is_put_together_and_taken_back(view: TrailView) -> None:
    told: list[TrailWanted] = []
    view.wanted_changed.connect(lambda: told.append(view.wanted))
    view.who.setCurrentText("B. Other")
    QTest.keyClicks(view.sought, "basin")
    view.days.which.setCurrentText("Last 7 days")
    assert told[-1] == TrailWanted("B. Other", "basin", date(2026, 11, 19), TODAY)
    view.know(["B. Other", "C. Third"], TODAY)
    assert view.wanted.who == "B. Other"
    told.clear()
    view.narrow(("visit", 12), "the visit of 3 Nov 2026")
    assert told == [TrailWanted(about=("visit", 12))]
    assert "the visit of 3 Nov 2026" in view.only.text()
    QTest.mouseClick(view.everything, Qt.MouseButton.LeftButton)
    assert told[-1] == TrailWanted()
    assert view.only.isHidden()


def test_that_the_trails_model_stays_sound_while_it_grows(qtbot: QtBot) -> None:
    kept = trail_model()
    held = QAbstractItemModelTester(kept, QAbstractItemModelTester.FailureReportingMode.Warning)
    kept.fill(page_of(4, 3).lines)
    kept.extend(page_of(2, 1).lines)
    kept.extend(())
    assert held.model() is kept
    assert (kept.rowCount(), kept.place_of(1)) == (4, 3)


def test_that_days_are_chosen_from_one_to_another(qtbot: QtBot) -> None:
    days = DayRange("Days")
    qtbot.addWidget(days)
    days.show()
    days.know(TODAY)
    told: list[tuple[date | None, date | None]] = []
    days.changed.connect(lambda: told.append(days.wanted))
    assert days.wanted == (None, None)
    assert not days.first.isVisible()
    days.which.setCurrentText("Today")
    days.which.setCurrentText("From … to …")
    assert days.first.isVisible()
    days.first.setDate(QDate(2026, 11, 1))
    assert told == [(TODAY, TODAY), (TODAY, TODAY), (date(2026, 11, 1), TODAY)]
    days.know(TODAY)
    assert days.first.date() == QDate(2026, 11, 1)


def test_that_a_notice_stays_until_it_is_put_away(qtbot: QtBot) -> None:
    banner = Banner()
    qtbot.addWidget(banner)
    asked: list[str] = []
    banner.tell("One", "It is so.", [("Do it", lambda: asked.append("done"))])
    banner.tell("Two", "It is otherwise.", [("Look", lambda: asked.append("looked"))])
    settle()
    assert (banner.chip.words, banner.said.text()) == ("Two", "It is otherwise.")
    assert list(banner.buttons()) == ["Look", "Put away"]
    banner.buttons()["Look"].click()
    assert asked == ["looked"]
    banner.buttons()["Put away"].click()
    assert banner.isHidden()


MISFIT = Misfit("visit", 812, None, "visit 812", "found_c is 41.0", "It was changed past the program.")


def test_that_verifying_is_told_in_words() -> None:
    head = KnownHead(12, "ab", "")
    whole = Verification(12, 12, 40, (), 0, head, True)
    assert heading_of(whole) == "Everything fits the trail"
    assert "12 entries walked, 40 rows compared. The last entry is 12, its digest ab." in outcome_words(whole)
    assert heading_of(Verification(2, 2, 0, (), 0, head, False)) == "The newest entries fit the trail"
    one = Verification(12, 12, 40, (MISFIT,), 0, head, True)
    assert heading_of(one) == "1 place does not fit the trail"
    many = Verification(12, 12, 40, (MISFIT, MISFIT), 70, head, True)
    assert heading_of(many) == "72 places do not fit the trail"
    assert "The first 2 are listed." in outcome_words(many)
    assert "The last entry" not in outcome_words(Verification(0, 0, 0, (), 0, KnownHead(0, "", ""), True))


class File:
    """A backup as the operations would tell of it."""

    path = Path("copy backup.db")
    at = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
    reason = "by hand"
    size_bytes = 2048

    def __init__(self, entries: int | None) -> None:
        self.entries = entries


def test_that_a_backup_that_can_not_be_read_says_so() -> None:
    model = backups_model()
    model.fill(enumerate([File(4400), File(None)]))
    shown = [[model.index(row, column).data() for column in range(5)] for row in (0, 1)]
    assert shown[0] == ["25 Nov 2026 09:30:00", "by hand", "4,400", "2 KiB", "verified, opens"]
    assert shown[1][2:] == ["–", "2 KiB", "can't be read"]
    assert size_words(3 * 1024 * 1024) == "3.0 MiB"


def test_that_each_choice_about_backups_is_told_by_its_name(qtbot: QtBot, tmp_path: Path) -> None:
    given: list[Path | None] = [tmp_path, None]
    choices = BackupChoices(Settings(second_backup_folder="there"), lambda title: given.pop(0))
    qtbot.addWidget(choices)
    told: list[dict[str, object]] = []
    choices.changed.connect(told.append)
    assert choices.kept["backup_all_days"].text() == "1 day"
    choices.kept["backup_daily_days"].setValue(62)
    choices.when["backup_on_closing"].setChecked(False)
    choices.choosing["backup_folder"].click()
    choices.choosing["backup_folder"].click()
    choices.folders["second_backup_folder"].clear()
    assert told == [
        {"backup_daily_days": 62},
        {"backup_on_closing": False},
        {"backup_folder": str(tmp_path)},
        {"second_backup_folder": ""},
    ]


def test_that_half_a_path_is_no_folder_for_backups(qtbot: QtBot, tmp_path: Path) -> None:
    choices = BackupChoices(Settings(), lambda title: None)
    qtbot.addWidget(choices)
    told: list[dict[str, object]] = []
    choices.changed.connect(told.append)
    field = choices.folders["backup_folder"]
    field.setText("G01")
    field.editingFinished.emit()
    assert not choices.wrong.isHidden()
    assert "Give all of it" in choices.wrong.text()
    assert told == []
    field.setText(str(tmp_path))
    field.editingFinished.emit()
    assert choices.wrong.isHidden()
    assert told == [{"backup_folder": str(tmp_path)}]


def test_that_original_and_correction_tell_of_each_other() -> None:
    wrong = history_line(1, 100, standing=Standing.CORRECTED)
    readings = replace(wrong.visit.readings, cold_c=11.0, found_c=None)
    draft = replace(wrong.visit.draft, readings=readings, on=TODAY)
    right = history_line(2, 100, corrects=1, draft=draft)
    said = mended_words(wrong, (right, wrong))
    assert said.startswith("Corrected by A. Officer, 25 Nov 2026 09:00 UTC: cold °C 12 → 11")
    assert "found °C 41.4 → nothing" in said
    assert "25 Nov 2026" in said
    assert mended_words(right, (right, wrong)).startswith("Corrects the entry by A. Officer")
    assert mended_words(history_line(3), ()) == ""
    same = history_line(4, 100, corrects=1)
    assert "nothing measured was changed" in mended_words(same, (same, wrong))
