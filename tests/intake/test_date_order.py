"""Dates whose order neither a date of the column nor a person tells, but the sheet does."""

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.layouts import DateOrder as Order
from estate.domain.layouts import Layout, LayoutColumn, SheetKind
from estate.intake.date_order import told_by_closeness, told_by_months
from estate.intake.dates import DayReader, Days
from estate.intake.grid import Cell, Grid
from estate.intake.reading import read
from estate.intake.said_dates import SaidDates, said_dates
from estate.intake.words_file import load
from tests.intake.making import HEADING, workbook_file

WORDS = load()
OPEN = ("05/10/2026", "06/10/2026", "08/10/2026", "09/10/2026")


def days_of(cells: Sequence[Cell]) -> list[Days]:
    reader = DayReader(WORDS)
    return [days for cell in cells if isinstance(days := reader.days(cell), Days)]


def taken(
    folder: Path, written: Sequence[Any], *, title: Sequence[Any] = (), sheet: str = "Round", ref: str = "A{}"
) -> list[Any]:
    """The dates taken and the codes of the questions, in the order of the rows."""
    rows = [(ref.format(number), text, 60, 15, 41, 41) for number, text in enumerate(written)]
    path = workbook_file(folder, {sheet: [*([list(title)] if title else []), HEADING, *rows]})
    reading = read(path, SheetKind.VISITS)
    found: dict[int, Any] = {visit.source.row: visit.on for visit in reading.visits}
    found |= {question.row: question.code for question in reading.questions}
    return [found[row] for row in sorted(found)]


@pytest.mark.parametrize(
    ("title", "sheet"),
    [
        (["Round of October 2026"], "Round"),
        (["TMV tests, Oct 2026"], "Round"),
        (["Prüfung Oktober 2026"], "Round"),
        (["Relevés 10/2026"], "Round"),
        (["Week of 2026-10-05"], "Round"),
        (["Date of round:", date(2026, 10, 5)], "Round"),
        ([], "Oct 2026"),
        ([], "10-2026"),
    ],
)
def test_that_a_title_or_the_name_of_the_sheet_settles_the_order(
    tmp_path: Path, title: list[Any], sheet: str
) -> None:
    assert taken(tmp_path, OPEN[:2], title=title, sheet=sheet) == [date(2026, 10, 5), date(2026, 10, 6)]


def test_that_a_title_settles_month_first_as_well(tmp_path: Path) -> None:
    found = taken(tmp_path, ["10/05/2026", "10/06/2026"], title=["Round of October 2026"])
    assert found == [date(2026, 10, 5), date(2026, 10, 6)]


@pytest.mark.parametrize(
    "title",
    [
        ["TMV round"],
        ["Form issue October 2026"],
        ["Next test due October 2026"],
        ["Report of October 2026"],
        ["May to October 2026"],
        ["Round of September 2026"],
        ["BS EN 1111:2017, 10 2026, 05 2026"],
        ["October 2025 and October 2026"],
        ["x" * 130 + " October 2026"],
        ["Next calibration", date(2026, 10, 5)],
    ],
)
def test_that_a_title_of_other_days_or_of_both_readings_settles_nothing(
    tmp_path: Path, title: list[Any]
) -> None:
    assert taken(tmp_path, OPEN[:2], title=title) == ["ambiguous-date"] * 2


def test_that_a_year_that_is_not_written_is_taken_from_the_title(tmp_path: Path) -> None:
    found = taken(tmp_path, ["5 Oct", "16/10", "06.10.", "5 Nov"], title=["Round of October 2026"])
    assert found == [date(2026, 10, 5), date(2026, 10, 16), date(2026, 10, 6), "unreadable-date"]
    assert taken(tmp_path, ["5 Oct"], sheet="2026") == [date(2026, 10, 5)]
    assert taken(tmp_path, ["5 Oct"], title=["TMV log 2026"]) == ["unreadable-date"]


def test_that_an_asset_list_does_not_take_its_titles_month_for_days_of_fitting(tmp_path: Path) -> None:
    heading = ("Asset ref", "Building", "Room", "Use", "Used by", "Fitted")
    rows = [("A1", "Main", "Hall", "Basin", "Staff", "05/10/2026")]
    path = workbook_file(tmp_path, {"October 2026": [heading, *rows]})
    assert [each.code for each in read(path, SheetKind.ASSETS).questions] == ["ambiguous-date"]


def test_that_the_days_of_a_round_lie_close_together(tmp_path: Path) -> None:
    assert taken(tmp_path, OPEN) == [date(2026, 10, day) for day in (5, 6, 8, 9)]
    turned = [f"{text[3:5]}/{text[:2]}/2026" for text in OPEN]
    assert taken(tmp_path, turned) == [date(2026, 10, day) for day in (5, 6, 8, 9)]


def test_that_a_log_that_names_an_outlet_twice_is_no_round(tmp_path: Path) -> None:
    assert taken(tmp_path, OPEN, ref="A1") == ["ambiguous-date"] * 4


@pytest.mark.parametrize(
    "written",
    [
        OPEN[:2],
        (*OPEN, "2 Feb 2026"),
        ("05/01/2026", "06/02/2026", "07/03/2026"),
        # The first of April, May and June 2026 fall on no week-end: somebody may have come on each.
        ("01/04/2026", "01/05/2026", "01/06/2026"),
        # Sunday 4 October: both orders have a week-end.
        ("04/10/2026", "05/10/2026", "06/10/2026"),
        ("10/10/2026", "10/10/2026"),
    ],
)
def test_that_days_that_may_as_well_lie_months_apart_settle_nothing(written: Sequence[str]) -> None:
    assert told_by_closeness(days_of(written)) is None


@given(st.dates(date(2020, 1, 1), date(2035, 12, 31)), st.sets(st.integers(0, 20), min_size=3), st.booleans())
def test_that_a_round_on_working_days_is_never_read_in_the_wrong_order(
    start: date, after: set[int], month_first: bool
) -> None:
    days = [day for each in after if (day := start + timedelta(days=each)).isoweekday() < 6]
    manner = "%m/%d/%Y" if month_first else "%d/%m/%Y"
    told = told_by_closeness(days_of([day.strftime(manner) for day in days]))
    assert told in (None, Order.MONTH_FIRST if month_first else Order.DAY_FIRST)


@given(st.integers(2020, 2035), st.integers(1, 12), st.sets(st.integers(1, 12), min_size=3), st.booleans())
def test_that_one_day_of_each_month_without_a_week_end_is_never_taken_for_a_round(
    year: int, day: int, months: set[int], month_first: bool
) -> None:
    days = [when for month in months if (when := date(year, month, day)).isoweekday() < 6]
    manner = "%m/%d/%Y" if month_first else "%d/%m/%Y"
    told = told_by_closeness(days_of([when.strftime(manner) for when in days]))
    assert told in (None, Order.MONTH_FIRST if month_first else Order.DAY_FIRST)


def test_that_months_settle_nothing_where_no_date_is_open() -> None:
    assert told_by_months(days_of(["17 Oct 2026", "13/10/2026"]), {(2026, 10)}) is None


def test_that_lines_far_above_or_below_a_header_say_nothing() -> None:
    rows: list[tuple[Cell, ...]] = [("Round of October 2026",)]
    assert said_dates(Grid("Sheet1", rows), 0, WORDS) == SaidDates()
    far = [(None,)] * 40 + rows
    assert said_dates(Grid("Sheet1", far), 41, WORDS) == SaidDates()
    assert said_dates(Grid("Round 7 of 2026", rows), 0, WORDS).years == frozenset()


@pytest.mark.parametrize(
    ("written", "order"),
    [
        (["13/10/2026"], "day first"),
        (["10/13/2026"], "month first"),
        (["2026-10-13"], "year first"),
        (["October 13, 2026"], "month first"),
        (["13 Oct 2026", "14.10.2026", "10/10/2026"], "day first"),
        ([date(2026, 10, 13)], "real dates"),
        ([date(2026, 10, 13), "2026-10-14"], "mixed"),
        (["soon"], ""),
    ],
)
def test_that_the_order_of_the_dates_is_said(tmp_path: Path, written: list[Any], order: str) -> None:
    rows = [(f"A{number}", text, 60, 15, 41, 41) for number, text in enumerate(written)]
    path = workbook_file(tmp_path, {"Round": [HEADING, *rows]})
    assert read(path, SheetKind.VISITS).date_order == order


@pytest.mark.parametrize(
    ("written", "codes"),
    [
        (["13/10/2026", "05/10/2026"], []),
        (["10/13/2026", "10/05/2026"], []),
        (["13/10/2026", "10/13/2026", "05/10/2026"], ["ambiguous-date"]),
        (["05/10/2026", "06/10/2026"], ["ambiguous-date"] * 2),
        (["13/10/2026", date(2026, 10, 5)], []),
    ],
)
def test_that_a_sheet_leans_on_the_other_sheets_of_its_file(
    tmp_path: Path, written: list[Any], codes: list[str]
) -> None:
    sheets = {
        f"S{number}": [HEADING, (f"A{number}", text, 60, 15, 41, 41)] for number, text in enumerate(written)
    }
    reading = read(workbook_file(tmp_path, sheets), SheetKind.VISITS)
    assert [question.code for question in reading.questions] == codes
    assert {visit.on for visit in reading.visits} <= {date(2026, 10, 13), date(2026, 10, 5)}


def test_that_a_remembered_order_goes_before_that_of_other_sheets(tmp_path: Path) -> None:
    names = ("reference", "on", "hot_c", "cold_c", "found_c", "left_c")
    columns = tuple(LayoutColumn(text, name) for text, name in zip(HEADING, names, strict=True))
    layout = Layout("Northern", SheetKind.VISITS, columns, date_order=Order.MONTH_FIRST)
    days = {"One": "13/10/2026", "Two": "05/10/2026"}
    sheets = {name: [HEADING, ("A1", text, 60, 15, 41, 41)] for name, text in days.items()}
    reading = read(workbook_file(tmp_path, sheets), SheetKind.VISITS, layouts=[layout])
    assert [visit.on for visit in reading.visits] == [date(2026, 10, 13), date(2026, 5, 10)]
