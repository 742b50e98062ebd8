"""A list in a file: numbers are numbers, days are days, words never run, and it says of what it speaks."""

import csv
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estate.domain.neutral import as_it_was, begins_like_a_formula
from estate.domain.shown_list import ShownCell, ShownColumn, ShownGroup, ShownList
from estate.errors import ReportFault
from estate.operations.register import Register
from estate.operations.write_list import write_list
from tests.builders import TODAY
from tests.operations.test_formulas_stay_words import HOSTILE, check

DAY = date(2026, 11, 20)
COLUMNS = tuple(
    ShownColumn(title) for title in ("Outlet", "State", "Found °C", "Last visit", "Index", "Late")
)


def row(ref: str, found: float | None = 41.0, day: date | None = DAY) -> tuple[ShownCell, ...]:
    return (
        ShownCell(ref),
        ShownCell("in order", mark="tick"),
        ShownCell("") if found is None else ShownCell(f"{found:.1f}", found, 1),
        ShownCell("never") if day is None else ShownCell("20 Nov 2026", day),
        ShownCell("1e-07", 1e-07),
        ShownCell("12", 12, 0),
    )


def shown(*rows: tuple[ShownCell, ...], grouped: bool = False) -> ShownList:
    groups = (
        (ShownGroup("Ground", "", rows[:1]), ShownGroup("First", "", rows[1:]))
        if grouped
        else (ShownGroup("", "", rows),)
    )
    narrowed = ("Overdue", "with the words “bath”")
    return ShownList("Due list", COLUMNS, groups, 278, "Level" if grouped else "", narrowed)


def cells_of(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8-sig", newline="") as stream:
        return list(csv.reader(stream))


def test_that_a_workbook_holds_numbers_days_and_words(only_read: Register, tmp_path: Path) -> None:
    made = shown(row("MM/1"), row("MM/2", None, None), row("MM/3", -3.25))
    sheet = load_workbook(write_list(only_read, made, tmp_path / "list.xlsx", TODAY))["Due list"]
    rows = [[cell.value for cell in each] for each in sheet.iter_rows(min_row=4)]
    assert rows[0] == [column.title for column in COLUMNS]
    assert rows[1] == ["MM/1", "in order", 41, datetime(2026, 11, 20), 1e-07, 12]
    assert rows[2] == ["MM/2", "in order", None, "never", 1e-07, 12]
    formats = [cell.number_format for cell in sheet[5]]
    assert formats[2:] == ["0.0", "d mmm yyyy", "General", "0"]
    assert "as at" in str(sheet["A1"].value)


def test_that_a_workbook_says_what_was_asked_for_and_of_which_register(
    only_read: Register, tmp_path: Path
) -> None:
    made = shown(row("MM/1"), row("MM/2"), grouped=True)
    book = load_workbook(write_list(only_read, made, tmp_path / "list.xlsx", TODAY))
    told = {line[0].value: line[1].value for line in book["Read first"].iter_rows(min_row=3)}
    assert told["Lines"] == "2 of 278"
    assert told["Only"] == "Overdue; with the words “bath”"
    assert told["Grouped by"] == "Level"
    assert told["As at"]
    assert told["Register"]
    assert [cell.value for cell in book["Due list"][4]][:2] == ["Level", "Outlet"]
    assert [line[0].value for line in book["Due list"].iter_rows(min_row=5)] == ["Ground", "First"]


def test_that_delimited_text_holds_one_line_a_row_and_says_of_which_day(
    only_read: Register, tmp_path: Path
) -> None:
    made = shown(row("MM/1"), row("MM/2", None, None), grouped=True)
    lines = cells_of(write_list(only_read, made, tmp_path / "list.CSV", TODAY))
    assert lines[0] == ["Level", *(column.title for column in COLUMNS), "as at"]
    day = TODAY.isoformat()
    assert lines[1] == ["Ground", "MM/1", "in order", "41.0", "2026-11-20", "1e-07", "12", day]
    assert lines[2] == ["First", "MM/2", "in order", "", "never", "1e-07", "12", day]


def test_that_a_list_of_the_past_says_so_in_every_file(only_read: Register, tmp_path: Path) -> None:
    past = replace(only_read, known_at=datetime(2026, 3, 1, 12, tzinfo=UTC))
    lines = cells_of(write_list(past, shown(row("MM/1")), tmp_path / "list.csv", TODAY))
    assert lines[0][-2:] == ["as at", "as known at (UTC)"]
    assert lines[1][-1] == "2026-03-01T12:00+00:00"
    sheet = load_workbook(write_list(past, shown(row("MM/1")), tmp_path / "list.xlsx", TODAY))["Due list"]
    assert "as known at 1 Mar 2026" in str(sheet["A1"].value)


def test_that_an_empty_list_is_written_too(only_read: Register, tmp_path: Path) -> None:
    made = replace(shown(), narrowed=())
    book = load_workbook(write_list(only_read, made, tmp_path / "list.xlsx", TODAY))
    assert [cell.value for cell in book["Due list"][4]] == [column.title for column in COLUMNS]
    assert "Only" not in {line[0].value for line in book["Read first"].iter_rows()}
    assert len(cells_of(write_list(only_read, made, tmp_path / "list.csv", TODAY))) == 1


def test_that_no_list_runs_anything_and_none_loses_a_character(only_read: Register, tmp_path: Path) -> None:
    told = tuple((ShownCell(text), ShownCell("-2.5", -2.5, 1)) for text in HOSTILE)
    columns = tuple(ShownColumn(text) for text in HOSTILE[:2])
    groups = tuple(ShownGroup(text, "", told) for text in HOSTILE)
    made = ShownList(HOSTILE[0], columns, groups, 5, HOSTILE[2], HOSTILE)
    assert set(HOSTILE) <= set(check(write_list(only_read, made, tmp_path / "list.xlsx", TODAY)))
    lines = cells_of(write_list(only_read, made, tmp_path / "list.csv", TODAY))
    words = [cell for line in lines for cell in line if cell != "-2.5"]
    assert not [cell for cell in words if begins_like_a_formula(cell)]
    assert set(HOSTILE) <= {as_it_was(cell) for cell in words}
    assert "-2.5" in lines[1]


def test_that_another_ending_is_refused(only_read: Register, tmp_path: Path) -> None:
    with pytest.raises(ReportFault) as told:
        write_list(only_read, shown(row("MM/1")), tmp_path / "list.ods", TODAY)
    assert ".xlsx or .csv" in told.value.remedy
    assert not list(tmp_path.glob("list*"))
