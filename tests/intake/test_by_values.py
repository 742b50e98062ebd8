"""Columns known by their values and neighbours, and those that are never taken so."""

from datetime import date, timedelta
from typing import Any

import pytest

from estate.errors import IntakeFault
from tests.intake.laying import DAY, codes, laid, told

NUMBERS = range(1, 9)


def sheet(*columns: tuple[str | None, Any]) -> list[list[Any]]:
    """Columns, each with its heading and what all rows have, or a function of the number of the row."""
    heading = [head for head, _ in columns]
    return [
        heading,
        *[[each(number) if callable(each) else each for _, each in columns] for number in NUMBERS],
    ]


REF = ("Ref", lambda number: f"A{number}")
ON = ("Date", DAY)
HOT = ("Hot °C", 60)


def how(rows: list[list[Any]]) -> dict[str, tuple[str, str]]:
    (table,) = laid(rows).tables
    return {column.heading: (column.field, column.how) for column in table.columns}


@pytest.mark.parametrize("written", [DAY, "14/10/2026", "14 Oct 2026", "2026-10-14", "05.10.2026"])
def test_that_the_one_column_of_days_is_the_day_of_the_visit(written: Any) -> None:
    reading = laid(sheet(REF, ("Wann", written), HOT))
    assert len(reading.visits) == len(NUMBERS)
    assert [(column.field, column.how) for column in reading.tables[0].columns][1] == ("on", "values")


def test_that_a_column_without_a_heading_may_be_the_day_or_the_reference() -> None:
    rows = sheet((None, lambda number: f"TMV-{number:03}"), (None, DAY), HOT, ("Mixed found °C", 41))
    assert {told(visit)[0] for visit in laid(rows).visits} == {f"TMV-{number:03}" for number in NUMBERS}
    assert how(rows)[""] == ("on", "values")


@pytest.mark.parametrize(
    "heading", ["Next due", "Last tested", "Calibration due", "Retest by", "Fitted", "Installed on"]
)
def test_that_days_said_to_be_others_are_not_the_visits(heading: str) -> None:
    with pytest.raises(IntakeFault, match="not found: date"):
        laid(sheet(REF, (heading, DAY), HOT))


def test_that_of_two_columns_of_days_none_is_guessed() -> None:
    with pytest.raises(IntakeFault, match="not found: date"):
        laid(sheet(REF, ("Eins", DAY), ("Zwei", DAY + timedelta(1)), HOT))


@pytest.mark.parametrize(
    "half", [lambda number: DAY if number % 2 else "see note", lambda number: DAY if number < 3 else None]
)
def test_that_a_column_of_which_too_few_are_days_is_none(half: Any) -> None:
    with pytest.raises(IntakeFault, match="not found: date"):
        laid(sheet(REF, ("Wann", half), HOT))


def test_that_the_one_column_of_distinct_codes_is_the_reference() -> None:
    rows = sheet(("No.", lambda number: number), ("Eqpt", lambda number: f"B/{number}/WHB"), ON, HOT)
    assert how(rows)["Eqpt"] == ("reference", "values")


@pytest.mark.parametrize(
    "other",
    [
        lambda number: "B/1/WHB",
        lambda number: number,
        lambda number: f"Room number {number}",
        lambda number: "x" * 50 + str(number),
    ],
)
def test_that_what_is_no_column_of_distinct_codes_is_no_reference(other: Any) -> None:
    with pytest.raises(IntakeFault, match="not found: reference"):
        laid(sheet(("Eqpt", other), ON, HOT))


def test_that_of_two_columns_of_codes_none_is_guessed() -> None:
    with pytest.raises(IntakeFault, match="not found: reference"):
        laid(sheet(("Eins", lambda number: f"A{number}"), ("Zwei", lambda number: f"S{number}"), ON, HOT))


def test_that_codes_said_to_be_something_else_are_no_references() -> None:
    with pytest.raises(IntakeFault, match="not found: reference"):
        laid(sheet(("Serial no", lambda number: f"S{number}"), ON, HOT))


def test_that_codes_are_not_looked_for_where_places_tell_the_outlet() -> None:
    rows = sheet(
        ("Room", lambda number: f"{number}"),
        ("Outlet", "Basin"),
        ("Code", lambda number: f"S{number}"),
        ON,
        HOT,
    )
    assert {visit.reference for visit in laid(rows).visits} == {""}


def test_that_a_heading_for_outlets_is_taken_for_names_where_its_words_are_names() -> None:
    rows = sheet(("Room", lambda number: f"Room {number}"), ("Outlet", "Basin"), ON, HOT)
    visits = laid(rows).visits
    assert {(visit.reference, visit.place.outlet) for visit in visits} == {("", "Basin")}
    again = sheet(("Outlet", lambda number: ("Basin", "Bath")[number % 2]), ON, HOT)
    assert {visit.place.outlet for visit in laid(again).visits} == {"Basin", "Bath"}
    coded = sheet(("Outlet", lambda number: f"A{number}"), ON, HOT)
    assert {visit.reference for visit in laid(coded).visits} == {f"A{number}" for number in NUMBERS}


def test_that_a_measurement_is_suggested_by_its_values_and_never_taken() -> None:
    columns = [
        ("H", lambda number: 58 + number),
        ("C", lambda number: 10 + number),
        ("M", lambda number: 40 + number / 10),
    ]
    reading = laid(sheet(REF, ON, ("Flow l/min", 6), *columns, ("Set °C", 41), ("Z", 3000)))
    suggested = {column.heading: column.suggested for column in reading.tables[0].columns}
    assert {heading: suggested[heading] for heading in ("H", "C", "M", "Set °C")} == {
        "H": "hot_c", "C": "cold_c", "M": "found_c", "Set °C": "",
    }  # fmt: skip
    assert {tuple(told(visit)[2]) for visit in reading.visits} == {()}


def test_that_nothing_is_suggested_for_what_a_heading_tells() -> None:
    reading = laid(
        sheet(REF, ON, HOT, ("Cold °C", 14), ("Mixed found °C", 41), ("H", lambda number: 58 + number))
    )
    assert {column.suggested for column in reading.tables[0].columns} == {""}


def test_that_a_unit_may_stand_in_a_column_of_its_own() -> None:
    rows = sheet(REF, ON, ("Hot", 140), ("Unit", "°F"), ("Mixed found", 41), (None, "°C"))
    reading = laid(rows)
    assert {tuple(told(visit)[2].values()) for visit in reading.visits} == {(60.0, 41.0)}
    assert ("Sheet1", "hot_c", "°F", "cell") in reading.units


def test_that_each_row_has_its_own_unit_there() -> None:
    rows = sheet(
        REF,
        ON,
        ("Hot", lambda number: 60 if number % 2 else 140),
        ("Unit", lambda number: "°C" if number % 2 else "°F"),
    )
    assert {visit.readings.hot_c for visit in laid(rows).visits} == {60}


def test_that_numbers_that_are_text_have_that_unit_too_and_an_own_unit_goes_before_it() -> None:
    written = [
        ("140", "°F"),
        ("60 °C", "°F"),
        ("n/a", "°F"),
        ("60", "°C"),
        (None, "°F"),
        ("140", "°F"),
        ("60 °C", "-"),
    ]
    rows = [[f"A{place}", DAY, 41, *pair] for place, pair in enumerate(written)]
    reading = laid([["Ref", "Date", "Mixed found °C", "Hot °C", "Unit"], *rows])
    assert [visit.readings.hot_c for visit in reading.visits] == [60, 60, None, 60, None, 60, 60]


def test_that_a_column_of_words_behind_numbers_is_no_unit() -> None:
    assert codes(laid(sheet(REF, ON, ("Hot", 60), ("Note on it", "°C as usual")))) == []


def test_that_a_layout_of_two_rows_is_told_by_both() -> None:
    rows = [["Eqpt", "Wann", "Hot °C"], ["A1", DAY, 60], ["A2", date(2026, 10, 15), 61]]
    assert [told(visit)[:2] for visit in laid(rows).visits] == [("A1", DAY), ("A2", date(2026, 10, 15))]
