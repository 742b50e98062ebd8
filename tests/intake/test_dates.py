"""Dates as people and programs write them."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.layouts import DateOrder as Order
from estate.domain.questions import Choice
from estate.intake.date_order import DateOrder, order_of, settle
from estate.intake.dates import DayReader, Days
from estate.intake.grid import Cell, Trouble
from estate.intake.said_dates import SaidDates
from estate.intake.values import Doubt
from estate.intake.words_file import load
from tests.intake.making import dates_and_codes
from tests.intake.test_numbers import CELLS

WORDS = load()
EPOCH = date(1899, 12, 30)
THE_DAY = date(2026, 10, 17)
NEITHER = DateOrder()
NO_DATES = SaidDates()
OCTOBER = SaidDates(frozenset({2026}), frozenset({(2026, 10)}))
THE_YEAR, TWO_YEARS = SaidDates(frozenset({2026})), SaidDates(frozenset({2026, 2027}))


def day(
    cell: Cell,
    order: DateOrder = NEITHER,
    epoch: date = EPOCH,
    answer: Choice | None = None,
    said: SaidDates = NO_DATES,
) -> date | str | None:
    days = DayReader(WORDS, epoch, said.years, said.months).days(cell)
    found = settle(days, order, answer) if isinstance(days, Days) else days
    return found.code if isinstance(found, Doubt) else found[0] if found else None


def column(cells: Sequence[Cell], settled: Order | None = None) -> DateOrder:
    reader = DayReader(WORDS)
    return order_of([days for cell in cells if isinstance(days := reader.days(cell), Days)], settled)


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
        "17 Oct 2026 at 10.30 am",
        "17/10/2026, 09:15",
        "17.10.2026 um 9:15 Uhr",
        "17/10/2026 à 9h15",
        "17/10/'26",
        "Sat 17/10/2026",
        "Samstag, 17.10.2026",
        "sam. 17/10/26",
        "Saturday, October 17, 2026",
        "the 17th of October 2026",
        "den 17. Oktober 2026",
        "le 17 octobre 2026",
        "17 ottobre 2026",
        "17 de octubre de 2026",
        "zaterdag 17 oktober 2026",
        20261017.0,
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
        "2026 Oct 17",
        "17 Oct 12345",
        "Week 42 2026",
        "17 Oct 2026 x",
        "Sun 17 Oct 2026",
        "Mon 17/10/2026",
        "before 17 Oct 2026",
        "ca. 17 Oct 2026",
        "xyz 17 Oct 2026",
        "12-14 Oct 2026",
        "12-14 Oct",
        "Oct 12-14",
        "Oct 17, 26",
        "Oct 26",
        "17/10-19/10/2026",
        "KW 42",
        "week 42",
        "17.10",
        17.1,
        time(17, 10),
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


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("mar 17 mars 2026", date(2026, 3, 17)),
        ("Mar 17, 2026", date(2026, 3, 17)),
        ("Mar 17 2026", date(2026, 3, 17)),
        ("mar 17/03/2026", date(2026, 3, 17)),
        ("mar 18 mars 2026", "unreadable-date"),
    ],
)
def test_that_a_word_for_a_month_and_a_weekday_is_what_makes_a_date(cell: str, expected: object) -> None:
    assert day(cell) == expected


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("Mon 05/10/2026", date(2026, 10, 5)),
        ("Sun 05/10/2026", date(2026, 5, 10)),
        ("Tue 05/10/2026", "unreadable-date"),
        ("Mo 05.10.2026", date(2026, 10, 5)),
        ("Di 05.10.2026", "unreadable-date"),
    ],
)
def test_that_a_weekday_tells_the_order_or_gainsays_the_date(cell: str, expected: object) -> None:
    assert day(cell) == expected
    assert day(cell, DateOrder(month_first=True)) == expected


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("17 Oct", THE_DAY),
        ("17th October", THE_DAY),
        ("17/10", THE_DAY),
        ("17.10.", THE_DAY),
        ("10/17", THE_DAY),
        ("Sat 17 Oct", THE_DAY),
        ("05/10", date(2026, 10, 5)),
        ("10/10", date(2026, 10, 10)),
        ("17 Nov", "unreadable-date"),
        ("17/11", "unreadable-date"),
        ("05/11", "unreadable-date"),
        ("31/11", "unreadable-date"),
        ("Oct 17", "unreadable-date"),
        ("12-14", "unreadable-date"),
    ],
)
def test_that_a_date_without_a_year_has_the_one_that_is_said_of_its_month(
    cell: str, expected: object
) -> None:
    assert day(cell, said=OCTOBER) == expected


def test_that_a_year_alone_will_do_and_two_years_will_not() -> None:
    assert day("17 Oct", said=THE_YEAR) == THE_DAY
    assert day("05/10", said=THE_YEAR) == "ambiguous-date"
    assert day("17 Oct", said=TWO_YEARS) == day("17/10", said=TWO_YEARS) == "unreadable-date"
    assert day("17 Oct") == day("17/10") == "unreadable-date"


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
    order = column(mixed)
    assert order.swapped
    assert [day(cell, order) for cell in mixed] == [
        date(2026, 10, 13),
        date(2026, 10, 20),
        "ambiguous-date",
        date(2026, 10, 10),
    ]
    assert column(["10/13/2026", date(2026, 5, 10)]).swapped
    assert not column(["13/10/2026", date(2026, 5, 17)]).swapped
    assert not column(["05/10/2026", "13/10/2026", date(2026, 5, 10)]).swapped


@pytest.mark.parametrize(
    ("text", "answer", "expected"),
    [
        ("13/10/2026", Choice.DAY_FIRST, date(2026, 10, 5)),
        ("13/10/2026", Choice.MONTH_FIRST, date(2026, 5, 10)),
        ("10/13/2026", Choice.DAY_FIRST, date(2026, 5, 10)),
        ("10/13/2026", Choice.MONTH_FIRST, date(2026, 10, 5)),
        ("13/10/2026", Choice.VALUE, "ambiguous-date"),
    ],
)
def test_that_a_person_can_say_how_a_real_date_stood_as_text(
    text: str, answer: Choice, expected: object
) -> None:
    assert day(date(2026, 5, 10), column([text, date(2026, 5, 10)]), answer=answer) == expected


@pytest.mark.parametrize(
    ("cell", "answer", "expected"),
    [
        ("05/10/2026", Choice.DAY_FIRST, date(2026, 10, 5)),
        ("05/10/2026", Choice.MONTH_FIRST, date(2026, 5, 10)),
        ("05/10/2026", Choice.LEAVE_OUT, "ambiguous-date"),
        ("26/10/17", Choice.DAY_FIRST, date(2017, 10, 26)),
        ("26/10/17", Choice.MONTH_FIRST, "unreadable-date"),
    ],
)
def test_that_a_person_settles_a_date_with_two_readings(cell: str, answer: Choice, expected: object) -> None:
    order = DateOrder(year_first=cell.startswith("26"))
    assert day(cell, order) == "ambiguous-date"
    assert day(cell, order, answer=answer) == expected


@pytest.mark.parametrize(
    ("cells", "settled", "expected"),
    [
        (["05/10/2026"], Order.DAY_FIRST, [date(2026, 10, 5)]),
        (["05/10/2026"], Order.MONTH_FIRST, [date(2026, 5, 10)]),
        (["05/10/2026"], Order.YEAR_FIRST, ["ambiguous-date"]),
        (["05/10/2026", "10/13/2026"], Order.DAY_FIRST, ["ambiguous-date", date(2026, 10, 13)]),
        (["05/10/2026", "13/10/2026"], Order.YEAR_FIRST, [date(2026, 10, 5), date(2026, 10, 13)]),
        (["05/10/2026", "10/13/2026", "13/10/2026"], Order.DAY_FIRST, ["ambiguous-date"]),
        (["26/10/17", "26/10/18"], Order.YEAR_FIRST, [date(2026, 10, 17), date(2026, 10, 18)]),
        (["26/13/17"], Order.YEAR_FIRST, ["unreadable-date"]),
        (["17/10/26", "31/02/26"], Order.YEAR_FIRST, [date(2017, 10, 26), date(2031, 2, 26)]),
        (["31/02/26"], Order.DAY_FIRST, ["unreadable-date"]),
        (["12/11/10", "31/11/30"], Order.YEAR_FIRST, [date(2012, 11, 10), date(2031, 11, 30)]),
        (["2026-10-05"], Order.DAY_FIRST, [date(2026, 10, 5)]),
    ],
)
def test_that_a_remembered_order_is_used_where_the_column_does_not_prove_another(
    cells: list[Cell], settled: Order, expected: list[object]
) -> None:
    order = column(cells, settled)
    assert [day(cell, order) for cell in cells][: len(expected)] == expected


def test_that_a_year_first_that_makes_no_day_is_asked_about() -> None:
    assert day("30/02/31", DateOrder(settled=Order.YEAR_FIRST)) == "unreadable-date"
    assert day("28/02/30", DateOrder(settled=Order.YEAR_FIRST)) == "ambiguous-date"


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
    st.sampled_from(
        ["%d/%m/%Y", "%d.%m.%Y", "%d-%m-%Y", "%Y-%m-%d", "%d %b %Y", "%B %d, %Y", "%a %d %b %Y", "%d-%b-%y"]
    ),
)
def test_that_a_written_day_is_never_read_as_another(when: date, manner: str) -> None:
    found = day(when.strftime(manner))
    assert found in (when, "ambiguous-date")
    assert day(when.strftime(manner), DateOrder(day_first=True)) == when


@given(
    st.lists(st.dates(date(2000, 1, 1), date(2060, 12, 31)), min_size=1, max_size=12),
    st.sampled_from(["%d/%m/%Y", "%m/%d/%Y", "%d-%m-%Y", "%m-%d-%Y"]),
)
def test_that_a_column_that_proves_its_order_is_read_back_and_another_is_asked_about(
    days: list[date], manner: str
) -> None:
    cells: list[Cell] = [each.strftime(manner) for each in days]
    order = column(cells)
    proved = any(each.day > 12 for each in days)
    for when, cell in zip(days, cells, strict=True):
        plain = proved or when.day == when.month
        assert day(cell, order) == (when if plain else "ambiguous-date")


@given(st.lists(st.text(max_size=30) | st.dates(), max_size=8))
def test_that_no_column_is_proved_both_swapped_and_without_dates(cells: list[Cell]) -> None:
    assert not column(cells).swapped or any(isinstance(cell, date) for cell in cells)
