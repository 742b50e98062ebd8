"""Whether a sheet's temperatures are °C or °F, where headings, cells or neither say so."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.intake import SheetReading
from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer, Answers, Choice
from estate.intake.grid import Grid
from estate.intake.headings import understand
from estate.intake.reading import read
from estate.intake.rows import TableRow
from estate.intake.table import Table
from estate.intake.units import Units, settle_units
from estate.intake.words_file import load
from tests.intake.making import ASSET_HEADING, workbook_file

WORDS = load()
BARE = ("Ref", "Date", "Hot", "Cold", "Mixed found", "Mixed left")
DAY = "17 Oct 2026"
FAHRENHEIT = [(140, 55, 104, 104), (138, 57, 107, 105), (None, 56, 106, 106)]
CELSIUS = [(60, 13, 41, 41), (59, 14, 42, 41), (None, 13, 41, 41)]


def sheet(
    folder: Path, rows: Sequence[Sequence[Any]], heading: Sequence[str] = BARE, **asked: Any
) -> SheetReading:
    full = [(f"A{number}", DAY, *row) for number, row in enumerate(rows)]
    return read(workbook_file(folder, {"Round": [heading, *full]}), SheetKind.VISITS, **asked)


def temperatures(reading: SheetReading) -> list[tuple[float | None, ...]]:
    return [
        (each.readings.hot_c, each.readings.cold_c, each.readings.found_c, each.readings.left_c)
        for each in reading.visits
    ]


def codes(reading: SheetReading) -> list[tuple[str, str]]:
    return [(question.code, question.cell) for question in reading.questions]


def units(reading: SheetReading) -> set[tuple[str, str, str]]:
    return {(field, unit, how) for _, field, unit, how in reading.units}


def test_that_a_sheet_that_can_only_be_fahrenheit_is_read_so_and_it_is_said(tmp_path: Path) -> None:
    reading = sheet(tmp_path, FAHRENHEIT)
    assert codes(reading) == []
    assert temperatures(reading)[0] == (60.0, 12.778, 40.0, 40.0)
    assert temperatures(reading)[2] == (None, 13.333, 41.111, 41.111)
    fields = ("hot_c", "cold_c", "found_c", "left_c")
    assert units(reading) == {(field, "°F", "plausibility") for field in fields}
    assert ("Round", "Cold (D1)", "cold_c, converted from °f") in reading.mapping


def test_that_a_sheet_that_can_only_be_celsius_is_read_so(tmp_path: Path) -> None:
    reading = sheet(tmp_path, CELSIUS)
    assert (codes(reading), temperatures(reading)[0]) == ([], (60, 13, 41, 41))


def test_that_crossed_supplies_in_a_celsius_sheet_stay_celsius(tmp_path: Path) -> None:
    reading = sheet(tmp_path, [*CELSIUS, (15, 55, 44, 44)])
    assert (codes(reading), temperatures(reading)[3]) == ([], (15, 55, 44, 44))


def test_that_what_may_be_either_is_asked_about(tmp_path: Path) -> None:
    reading = sheet(tmp_path, [(75, 40, None, None), (80, 38, None, None)])
    assert reading.visits == ()
    assert codes(reading) == [("unsure-unit", f"{column}{row}") for row in (2, 3) for column in "CD"]
    assert "°C" in reading.questions[0].remedy


def test_that_one_lone_temperature_is_not_enough_for_fahrenheit_and_three_are(tmp_path: Path) -> None:
    heading = ("Ref", "Date", "Mixed")
    assert codes(sheet(tmp_path, [(104,), (105,)], heading)) == [("unsure-unit", "C2"), ("unsure-unit", "C3")]
    reading = sheet(tmp_path, [(104,), (105,), (103,)], heading)
    assert [visit.readings.found_c for visit in reading.visits] == [40.0, 40.556, 39.444]


def test_that_rows_of_both_kinds_leave_the_fahrenheit_ones_in_question(tmp_path: Path) -> None:
    reading = sheet(tmp_path, [*CELSIUS[:2], *FAHRENHEIT[:1], (None, 55, None, None), (80, 40, None, None)])
    assert [visit.source.row for visit in reading.visits] == [2, 3]
    assert list(dict.fromkeys(question.row for question in reading.questions)) == [4, 5, 6]
    assert {code for code, _ in codes(reading)} == {"unsure-unit"}


def test_that_cells_of_either_unit_are_read_each_in_its_own(tmp_path: Path) -> None:
    rows = [("140 °F", "13 °C", "104F", "40"), (60, 13, 41, 41)]
    reading = sheet(tmp_path, rows)
    assert (codes(reading), temperatures(reading)[0]) == ([], (60.0, 13.0, 40.0, 40.0))
    assert {("hot_c", "°F", "cell"), ("cold_c", "°C", "cell"), ("hot_c", "°C", "plausibility")} <= units(
        reading
    )


HEADED = ("Ref", "Date", "Hot °{}", "Cold °{}", "Mixed found °{}", "Mixed left °{}")


def headed(unit: str) -> list[str]:
    return [text.format(unit) for text in HEADED]


def test_that_a_heading_tells_the_unit(tmp_path: Path) -> None:
    reading = sheet(tmp_path, FAHRENHEIT, headed("F"))
    assert (codes(reading), temperatures(reading)[0]) == ([], (60.0, 12.778, 40.0, 40.0))
    assert units(reading) == {(name, "°F", "heading") for name in ("hot_c", "cold_c", "found_c", "left_c")}


@pytest.mark.parametrize(("unit", "rows"), [("C", FAHRENHEIT), ("F", CELSIUS)])
def test_that_a_heading_that_every_row_denies_is_asked_about(
    tmp_path: Path, unit: str, rows: Sequence[Sequence[Any]]
) -> None:
    reading = sheet(tmp_path, rows, headed(unit))
    assert reading.visits == ()
    assert {code for code, _ in codes(reading)} == {"unsure-unit"}


def test_that_one_odd_row_does_not_deny_a_heading(tmp_path: Path) -> None:
    reading = sheet(tmp_path, [*CELSIUS, (None, 55, 44, 44)], headed("C"))
    assert (codes(reading), temperatures(reading)[3]) == ([], (None, 55, 44, 44))
    assert codes(sheet(tmp_path, [(None, 60, 98, 98)], headed("C"))) != []


def test_that_a_degree_sign_alone_is_no_unit(tmp_path: Path) -> None:
    heading = ("Ref", "Date", "Hot °", "Cold °", "Mixed found °", "Mixed left °")
    rows = [(140, "55°", "104°", 104), *FAHRENHEIT[1:]]
    reading = sheet(tmp_path, rows, heading)
    assert (codes(reading), temperatures(reading)[0]) == ([], (60.0, 12.778, 40.0, 40.0))


@pytest.mark.parametrize(
    ("told", "rows", "read_as"),
    [
        ("Hot °F", FAHRENHEIT, 12.778),
        ("Hot °C", CELSIUS, 13),
        ("Hot °C", FAHRENHEIT, None),
        ("Hot °F", CELSIUS, None),
    ],
)
def test_that_bare_columns_beside_a_told_one_are_read_like_it_or_asked_about(
    tmp_path: Path, told: str, rows: Sequence[Sequence[Any]], read_as: float | None
) -> None:
    reading = sheet(tmp_path, rows, ("Ref", "Date", told, "Cold", "Mixed found", "Mixed left"))
    if read_as is None:
        assert reading.visits == ()
        assert "unsure-unit" in {code for code, _ in codes(reading)}
    else:
        assert reading.visits[0].readings.cold_c == read_as


def test_that_bare_numbers_that_may_be_either_are_read_like_the_column_that_is_told(tmp_path: Path) -> None:
    heading = ("Ref", "Date", "Hot °F", "Cold")
    reading = sheet(tmp_path, [(140, 40), (138, 41)], heading)
    assert [visit.readings.cold_c for visit in reading.visits] == [4.444, 5.0]


def test_that_an_answer_with_a_unit_settles_a_doubt_and_one_without_does_not(tmp_path: Path) -> None:
    heading = ("Ref", "Date", "Mixed")
    for value, taken in (("41 °C", [41.0]), ("105.8 °F", [41.0]), ("41", [])):
        answers = Answers([Answer("unsure-unit", Choice.VALUE, value=value)])
        reading = sheet(tmp_path, [(105.8,)], heading, answers=answers)
        assert [visit.readings.found_c for visit in reading.visits] == taken


def test_that_set_temperatures_of_an_asset_list_are_weighed_too(tmp_path: Path) -> None:
    row = ("Main", "Main", "G", "G01", "Hall", "Basin", "Staff")
    for values, expected in (((106, 111, 106), 41.111), ((41, 44, 41), 41)):
        rows = [(f"A{number}", *row, value) for number, value in enumerate(values)]
        path = workbook_file(tmp_path, {"List": [(*ASSET_HEADING, "Set"), *rows]})
        assert read(path, SheetKind.ASSETS).assets[0].set_c == expected


def settled(rows: Sequence[Sequence[Any]]) -> Units:
    columns = understand(enumerate(BARE), WORDS, SheetKind.VISITS)
    grid = Grid("Round", [BARE, *[("A1", DAY, *row) for row in rows]])
    table = Table(grid, SheetKind.VISITS, (0,), columns)
    return settle_units(table, [TableRow(table, index + 1) for index in range(len(rows))], WORDS)


def test_that_a_tick_box_in_a_column_of_numbers_is_asked_about(tmp_path: Path) -> None:
    reading = sheet(tmp_path, [(True, 13, 41, 41), (1, 13, 41, 41)])
    assert [(each.code, each.cell) for each in reading.questions] == [("unreadable-value", "C2")]


def test_that_a_table_without_temperatures_settles_nothing() -> None:
    assert settled([(None, "-", "n/a", True)]) == Units()


TEST = st.tuples(st.floats(50, 70), st.floats(3, 25), st.floats(36, 48), st.floats(36, 48))


@given(st.lists(TEST, min_size=1, max_size=6), st.booleans(), st.data())
def test_that_true_tests_are_never_settled_in_the_other_unit(
    tests: list[tuple[float, float, float, float]], fahrenheit: bool, data: st.DataObject
) -> None:
    kept = [[data.draw(st.booleans()) for _ in test] for test in tests]
    rows = [
        [
            (value * 9 / 5 + 32 if fahrenheit else value) if told else None
            for value, told in zip(test, tells, strict=True)
        ]
        for test, tells in zip(tests, kept, strict=True)
    ]
    found = settled(rows)
    names = {unit.name for unit in found.settled.values()}
    assert names <= {"fahrenheit" if fahrenheit else "celsius"}
    bare = {number for number, row in enumerate(rows, 2) if any(value is not None for value in row)}
    assert names or bare <= set(found.doubtful)
