"""The five sheets of tests/data/sheets against what they are known to hold."""

import json
from datetime import date
from typing import Any

import openpyxl
import pytest

from estate.domain.intake import SheetReading
from estate.domain.layouts import SheetKind
from estate.domain.references import reference_key
from estate.domain.valves import SchemeClass
from estate.domain.visits import VisitKind
from estate.intake.reading import read
from tests.intake.making import SHEETS

TRUTH: dict[str, Any] = json.loads((SHEETS / "truth.json").read_text(encoding="utf-8"))
FOUND_BY_THE_REGISTER = ("future-date", "unknown-outlet", "duplicate-row")


def read_as(reading: SheetReading, shut: bool) -> dict[tuple[str, str], dict[str, Any]]:
    found = {}
    for visit in reading.visits:
        values = visit.readings
        own = {
            "hot": values.hot_c,
            "cold": values.cold_c,
            "found": values.found_c,
            "left": values.left_c,
            "flow": values.cold_isolated.residual_ml_min,
        }
        own |= {"shut": values.cold_isolated.shut_s} if shut else {}
        found[reference_key(visit.reference), visit.on.isoformat()] = own
    return found


def expected(file: str, shut: bool) -> dict[tuple[str, str], dict[str, Any]]:
    keys = ["hot", "cold", "found", "left", "flow", *(["shut"] if shut else [])]
    visits = TRUTH["rounds"][file]["visits"]
    return {(reference_key(each["ref"]), each["date"]): {key: each[key] for key in keys} for each in visits}


@pytest.mark.parametrize(("file", "shut"), [("round-titled.xlsx", True), ("round-csv.csv", False)])
def test_that_a_round_is_read_value_for_value(file: str, shut: bool) -> None:
    reading = read(SHEETS / file)
    assert reading.kind is SheetKind.VISITS
    assert reading.questions == ()
    assert reading.read == len(reading.visits) == 54
    assert read_as(reading, shut) == expected(file, shut)


def test_that_the_messy_round_is_read_value_for_value() -> None:
    reading = read(SHEETS / "round-messy.xlsx")
    by_row = {problem["row"]: problem for problem in TRUTH["rounds"]["round-messy.xlsx"]["problems"]}
    taken = [visit for visit in reading.visits if visit.source.row not in by_row]
    left_to_the_register = [visit for visit in reading.visits if visit.source.row in by_row]
    known = read_as(SheetReading(reading.file, "", reading.kind, 0, visits=tuple(taken)), shut=False)
    assert known == expected("round-messy.xlsx", shut=False)
    assert reading.read == 55
    assert {by_row[visit.source.row]["why"] for visit in left_to_the_register} == set(FOUND_BY_THE_REGISTER)


def test_that_no_access_is_asked_about_at_its_row_and_cell() -> None:
    reading = read(SHEETS / "round-messy.xlsx")
    problems = TRUTH["rounds"]["round-messy.xlsx"]["problems"]
    wanted = {problem["row"]: problem["ref"] for problem in problems if problem["why"] == "no-access"}
    assert {question.row for question in reading.questions} == set(wanted)
    for question in reading.questions:
        assert (question.code, question.cell, question.found) == (
            "no-access",
            f"D{question.row}",
            "No access",
        )
        assert reference_key(question.ref or "") == reference_key(wanted[question.row])


def test_that_adjusted_means_left_otherwise_than_found() -> None:
    for file in ("round-titled.xlsx", "round-messy.xlsx", "round-csv.csv"):
        for visit in read(SHEETS / file).visits:
            assert visit.readings.adjusted is (visit.readings.found_c != visit.readings.left_c)


def test_that_every_sheet_of_a_workbook_is_read_with_its_lines_above_and_below() -> None:
    reading = read(SHEETS / "round-titled.xlsx")
    sheets = {visit.source.sheet for visit in reading.visits}
    assert sheets == {"Marlpit Day Unit", "Marlpit Main Block", "Withy End House"}
    assert {(visit.person, visit.instrument, visit.kind) for visit in reading.visits} == {
        ("T.A.", "T-014", VisitKind.IN_SERVICE)
    }
    assert {visit.remarks for visit in reading.visits} == {"", "Adjusted"}
    first = reading.visits[0]
    assert (first.source.file, first.source.row, first.cell("found_c")) == ("round-titled.xlsx", 7, "G7")
    assert ("Location", "Bedroom G02") in first.source.cells


def test_that_the_mapping_shows_heading_and_field() -> None:
    mapping = read(SHEETS / "round-messy.xlsx").mapping
    assert mapping == (
        ("Sheet1", "Valve ref.", "reference"),
        ("Sheet1", "Date", "on"),
        ("Sheet1", "Temperatures HWS", "hot_c"),
        ("Sheet1", "Temperatures CWS", "cold_c"),
        ("Sheet1", "Temperatures found", "found_c"),
        ("Sheet1", "Temperatures left", "left_c"),
        ("Sheet1", "Fail safe OK?", "cold_isolated.said_to_shut"),
        ("Sheet1", "Fail safe ml in 1 min", "cold_isolated.residual_ml_min"),
        ("Sheet1", "Notes", "remarks"),
    )


def test_that_a_tick_a_word_and_a_failure_are_told_apart() -> None:
    by_row = {
        visit.source.row: visit.readings.cold_isolated for visit in read(SHEETS / "round-messy.xlsx").visits
    }
    assert [by_row[row].said_to_shut for row in (6, 7, 8, 15)] == [True] * 4
    assert (by_row[33].said_to_shut, by_row[33].residual_ml_min) == (False, 300.0)


def test_that_history_is_read_as_a_second_reader_reads_it() -> None:
    reading = read(SHEETS / "history.xlsx")
    sheet = openpyxl.load_workbook(SHEETS / "history.xlsx").worksheets[0]
    rows = list(sheet.iter_rows(min_row=2, values_only=True))
    assert reading.read == len(reading.visits) == len(rows) == TRUTH["history"]
    assert reading.questions == ()
    for visit, row in zip(reading.visits, rows, strict=True):
        values, off = visit.readings, visit.readings.cold_isolated
        when = row[1]
        assert isinstance(when, date)
        assert (visit.reference, visit.on.isoformat()) == (row[0], when.isoformat()[:10])
        assert visit.kind is (VisitKind.COMMISSIONING if row[2] == "Commissioning" else VisitKind.IN_SERVICE)
        got = (
            values.hot_c,
            values.cold_c,
            values.found_c,
            values.left_c,
            off.max_c,
            off.residual_ml_min,
            off.shut_s,
        )
        assert got == row[3:10]
        assert values.strainers_cleaned is (row[10] == "Y")


def test_that_a_commissioning_visit_has_no_as_found() -> None:
    first = read(SHEETS / "history.xlsx").visits[0]
    assert first.kind is VisitKind.COMMISSIONING
    assert (first.readings.found_c, first.readings.left_c, first.readings.adjusted) == (None, 41.5, None)


def test_that_assets_are_read_as_a_second_reader_reads_them() -> None:
    reading = read(SHEETS / "assets.xlsx")
    sheet = openpyxl.load_workbook(SHEETS / "assets.xlsx").worksheets[0]
    rows = list(sheet.iter_rows(min_row=4, values_only=True))
    assert reading.kind is SheetKind.ASSETS
    assert reading.questions == ()
    assert reading.read == len(reading.assets) == len(rows) == TRUTH["outlets"]
    for asset, row in zip(reading.assets, rows, strict=True):
        words = (
            asset.reference,
            asset.site,
            asset.building,
            asset.level,
            asset.room_number,
            asset.room,
            asset.outlet,
        )
        assert words == tuple(str(cell) for cell in row[:7])
        assert asset.use.value == str(row[7]).casefold().replace("wash-hand ", "")
        assert asset.user_group.value == str(row[8]).casefold()
        assert (asset.make, asset.model, asset.serial) == row[9:12]
        assert asset.scheme_class is {"TMV3": SchemeClass.TYPE_3, "TMV2": SchemeClass.TYPE_2}[str(row[12])]
        assert (asset.size_mm, asset.set_c, asset.pipe_m) == (row[13], row[14], row[16])
        assert asset.fitted_on is not None
        assert str(row[15]).startswith(asset.fitted_on.isoformat())


def test_that_a_digest_and_a_name_without_folder_are_kept() -> None:
    reading = read(SHEETS / "round-csv.csv")
    assert reading.file == "round-csv.csv"
    assert len(reading.digest) == 64
    assert {visit.source.file for visit in reading.visits} == {"round-csv.csv"}
    assert {visit.source.sheet for visit in reading.visits} == {"round-csv"}
    assert reading.visits[0].source.row == 4
