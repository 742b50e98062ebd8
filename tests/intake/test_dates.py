"""Dates as people and programs write them."""

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.intake.dates import DateOrder, order_of, read_date
from estate.intake.grid import Cell, Trouble
from estate.intake.values import Doubt
from estate.intake.words_file import load
from tests.intake.making import dates_and_codes
from tests.intake.test_numbers import CELLS

WORDS = load()
EPOCH = date(1899, 12, 30)
THE_DAY = date(2026, 10, 17)
NEITHER = DateOrder()


def day(cell: Cell, order: DateOrder = NEITHER, epoch: date = EPOCH) -> date | str | None:
    found = read_date(cell, order, WORDS, epoch)
    return found.code if isinstance(found, Doubt) else found


@pytest.mark.parametrize(
    "cell",
    [
        "17/10/2026",
        "17/10/26",
        "17-10-2026",
        "17.10.2026",
        "17. 10. 2026",
        "17.10.26",
        "17 10 2026",
        "2026-10-17",
        "2026/10/17",
        "20261017",
        "2026-10-17T10:30:00",
        "2026-10-17 10:30",
        "17/10/2026 09:15",
        "17 Oct 2026",
        "17-Oct-26",
        "17th October 2026",
        "October 17, 2026",
        "Sat 17 Oct 2026",
        "17. Oktober 2026",
        "17 octobre 2026",
        "Sa, 17. Okt. 2026",
        " 17 OCT 2026 ",
        "17 Oct 2026 10:30",
        "10/17/2026",
        THE_DAY,
        datetime(2026, 10, 17, 9, 15),
        46312.0,
        "46312",
        46312.4375,
    ],
)
def test_that_a_day_is_read_however_it_is_written(cell: Cell) -> None:
    assert day(cell) == THE_DAY


@pytest.mark.parametrize(
    "cell",
    [
        "31/02/2026",
        "32/01/2026",
        "17/13/2026",
        "2026-13-01",
        "17 Oct",
        "Oct 2026",
        "17 Okay 2026",
        "yesterday",
        "17",
        "1234567",
        "17/10",
        "17/10/026",
        "2026-02-30",
        "17 Oct 2026 and 18 Oct 2026",
        "1/1/1900",
        "15/10/2126",
        "mar 17 mars 2026",
        "2026 Oct 17",
        "17 Oct 12345",
        "Week 42 2026",
        "17 Oct 2026 x",
        "0",
        0.0,
        -5.0,
        5.0,
        99999.0,
        True,
        timedelta(3),
        "9" * 200,
        "√17 Oct 2026 2",
        "1a Oct 2026",
    ],
)
def test_that_what_is_no_day_is_asked_about(cell: Cell) -> None:
    assert day(cell) == "unreadable-date"


@pytest.mark.parametrize("cell", [None, "", "  "])
def test_that_a_blank_is_no_date(cell: Cell) -> None:
    assert day(cell) is None


def test_that_a_date_formula_without_value_is_asked_about_as_such() -> None:
    assert day(Trouble("formula-without-value", "=TODAY()")) == "formula-without-value"


def test_that_a_first_part_above_twelve_proves_the_column_day_first(tmp_path: Path) -> None:
    assert dates_and_codes(tmp_path, "05/10/2026", "13/10/2026") == [date(2026, 10, 5), date(2026, 10, 13)]


def test_that_a_second_part_above_twelve_proves_the_column_month_first(tmp_path: Path) -> None:
    assert dates_and_codes(tmp_path, "10/05/2026", "10/13/2026") == [date(2026, 10, 5), date(2026, 10, 13)]


def test_that_a_column_that_proves_neither_order_is_asked_about_row_by_row(tmp_path: Path) -> None:
    found = dates_and_codes(tmp_path, "05/10/2026", "06/10/2026", "10/10/2026", "5 Nov 2026", "05.10.2026")
    assert found == [
        "ambiguous-date",
        "ambiguous-date",
        date(2026, 10, 10),
        date(2026, 11, 5),
        date(2026, 10, 5),
    ]


def test_that_a_column_that_proves_both_orders_takes_only_what_is_plain(tmp_path: Path) -> None:
    found = dates_and_codes(tmp_path, "05/10/2026", "13/10/2026", "10/13/2026")
    assert found == ["ambiguous-date", date(2026, 10, 13), date(2026, 10, 13)]


def test_that_dots_do_not_prove_the_order_of_strokes(tmp_path: Path) -> None:
    assert dates_and_codes(tmp_path, "05/10/2026", "13.10.2026") == ["ambiguous-date", date(2026, 10, 13)]


def test_that_two_digit_dates_that_begin_with_the_year_are_not_misread(tmp_path: Path) -> None:
    assert dates_and_codes(tmp_path, "26/10/17", "26/10/18", "26/10/19") == ["ambiguous-date"] * 3


def test_that_real_dates_beside_text_of_the_other_order_are_asked_about() -> None:
    mixed: list[Cell] = ["13/10/2026", "20/10/2026", date(2026, 5, 10), date(2026, 10, 10)]
    order = order_of(mixed)
    assert order.swapped
    assert [day(cell, order) for cell in mixed] == [
        date(2026, 10, 13),
        date(2026, 10, 20),
        "ambiguous-date",
        date(2026, 10, 10),
    ]
    assert order_of(["10/13/2026", date(2026, 5, 10)]).swapped
    assert not order_of(["13/10/2026", date(2026, 5, 17)]).swapped
    assert not order_of(["05/10/2026", "13/10/2026", date(2026, 5, 10)]).swapped


def test_that_a_two_digit_year_from_seventy_on_is_of_the_last_century() -> None:
    assert day("17/10/99") == date(1999, 10, 17)
    assert day("17/10/69") == date(2069, 10, 17)


def test_that_serial_dates_count_from_the_files_own_epoch() -> None:
    assert day(44850.0, epoch=date(1904, 1, 1)) == THE_DAY


@given(CELLS, st.booleans(), st.booleans())
def test_that_any_cell_gives_a_day_or_a_doubt(cell: Cell, day_first: bool, month_first: bool) -> None:
    found = day(cell, DateOrder(day_first, month_first))
    assert isinstance(found, date | str | None)


@given(
    st.dates(date(1970, 1, 1), date(2069, 12, 31)),
    st.sampled_from(["%d/%m/%Y", "%d.%m.%Y", "%d-%m-%Y", "%Y-%m-%d", "%d %b %Y", "%B %d, %Y"]),
)
def test_that_a_written_day_is_never_read_as_another(when: date, manner: str) -> None:
    found = day(when.strftime(manner))
    assert found in (when, "ambiguous-date")
    assert day(when.strftime(manner), DateOrder(day_first=True)) == when


@given(st.lists(st.text(max_size=30) | st.dates(), max_size=8))
def test_that_no_column_is_proved_both_swapped_and_without_dates(cells: list[Cell]) -> None:
    assert not order_of(cells).swapped or any(isinstance(cell, date) for cell in cells)
