"""Visits that lie across a sheet."""

from datetime import date
from typing import Any

import pytest

from estate.domain.layouts import Form
from estate.domain.questions import Answer, Answers, Choice
from estate.errors import IntakeFault
from estate.intake import across
from tests.intake.laying import codes, laid, told

FIRST, SECOND = date(2026, 3, 17), date(2026, 9, 16)


def grouped(first: Any = FIRST, second: Any = SECOND) -> list[list[Any]]:
    return [
        ["TMV tests"],
        ["Ref", "Room", first, None, second, None],
        [None, None, "Hot °C", "Mixed °C", "Hot °C", "Mixed °C"],
        ["A1", "Hall", 60, 41, 61, 42],
        ["A2", "Sluice", 62, 43, None, None],
        ["Average", None, 61, 42, 61, 42],
    ]


EXPECTED = [
    ("A1", FIRST, {"hot_c": 60.0, "found_c": 41.0}),
    ("A1", SECOND, {"hot_c": 61.0, "found_c": 42.0}),
    ("A2", FIRST, {"hot_c": 62.0, "found_c": 43.0}),
]


@pytest.mark.parametrize("merged", [(), ("C2:D2", "E2:F2", "A2:A3", "B2:B3")])
def test_that_days_over_groups_of_columns_make_a_visit_of_each_group(merged: tuple[str, ...]) -> None:
    reading = laid(grouped(), merged)
    assert reading.forms == (Form.ACROSS,)
    assert [told(visit) for visit in reading.visits] == EXPECTED
    assert [visit.source.row for visit in reading.visits] == [4, 4, 5]
    second = reading.visits[1]
    assert (second.cell("reference"), second.cell("on"), second.cell("found_c")) == ("A4", "E2", "F4")
    assert (reading.tables[0].header, reading.tables[0].first, reading.tables[0].last) == ((2, 3), 4, 5)


def test_that_a_day_may_stand_among_other_words() -> None:
    reading = laid(grouped("Visit 1 (17/03/2026)", "Visit 2 (16/09/2026)"))
    assert [told(visit) for visit in reading.visits] == EXPECTED


@pytest.mark.parametrize("said", ["Next test 16/09/2026", "Calibration due 16/09/2026"])
def test_that_a_day_said_to_be_another_is_not_the_visits(said: str) -> None:
    with pytest.raises(IntakeFault):
        laid(grouped(FIRST, said))


def test_that_one_day_over_its_merged_group_is_read_and_unmerged_it_is_not() -> None:
    rows = [row[:4] for row in grouped()[1:4]]
    assert [told(visit) for visit in laid(rows, ["C1:D1"]).visits] == EXPECTED[:1]
    with pytest.raises(IntakeFault):
        laid(rows)


def test_that_groups_with_other_headings_are_refused() -> None:
    rows = grouped()
    rows[2] = [None, None, "Hot °C", "Mixed °C", "Hot °C", "Cold °C"]
    with pytest.raises(IntakeFault):
        laid(rows)


def test_that_headings_may_come_again_for_each_visit_with_its_day_among_them() -> None:
    rows: list[list[Any]] = [
        ["Ref", "Visit 1", None, None, "Visit 2", None, None],
        [None, "Date", "Hot °C", "Mixed °C", "Date", "Hot °C", "Mixed °C"],
        ["A1", FIRST, 60, 41, SECOND, 61, 42],
        ["A2", FIRST, 62, 43, None, None, None],
    ]
    assert [told(visit) for visit in laid(rows).visits] == EXPECTED
    plain = [["Ref", *rows[1][1:]], *rows[2:]]
    assert [told(visit) for visit in laid(plain).visits] == EXPECTED


def test_that_a_day_may_follow_the_headings_of_its_group() -> None:
    rows = [
        ["Ref", "Hot °C", "Mixed °C", "Date", "Hot °C", "Mixed °C", "Date"],
        ["A1", 60, 41, FIRST, 61, 42, SECOND],
    ]
    assert [told(visit) for visit in laid(rows).visits] == EXPECTED[:2]


def test_that_a_group_of_the_visit_before_is_left_out() -> None:
    rows = [
        ["Ref", "Last visit", None, None, "This visit", None, None],
        [None, "Date", "Hot °C", "Mixed °C", "Date", "Hot °C", "Mixed °C"],
        ["A1", FIRST, 60, 41, SECOND, 61, 42],
    ]
    assert [told(visit) for visit in laid(rows).visits] == EXPECTED[1:2]


def test_that_a_title_may_say_what_was_measured_under_each_day() -> None:
    rows = [
        ["Monthly mixed temperatures °C"],
        ["Ref", FIRST, SECOND],
        ["A1", 41, 42],
        ["A2", 43, None],
        ["Mean", 42, 42],
    ]
    reading = laid(rows)
    assert [(visit.reference, visit.on, visit.readings.found_c) for visit in reading.visits] == [
        ("A1", FIRST, 41),
        ("A1", SECOND, 42),
        ("A2", FIRST, 43),
    ]


@pytest.mark.parametrize("title", ["TMV results", "Hot °C and cold °C", "Strainers cleaned"])
def test_that_days_over_numbers_of_an_unknown_kind_are_refused_with_a_remedy(title: str) -> None:
    rows = [[title], ["Ref", FIRST, SECOND], ["A1", 41, 42]]
    with pytest.raises(IntakeFault) as fault:
        laid(rows)
    assert "row 2 has days over its columns" in fault.value.detail


def test_that_titles_that_name_two_measurements_are_refused() -> None:
    with pytest.raises(IntakeFault):
        laid([["Hot °C"], ["Mixed °C"], ["Ref", FIRST, SECOND], ["A1", 41, 42]])


def test_that_months_without_days_are_refused_with_a_remedy() -> None:
    with pytest.raises(IntakeFault) as fault:
        laid([["Mixed °C"], ["Ref", "Jan 26", "Feb 26", "Mar 26"], ["A1", 41, 42, 41]])
    assert "row 2 holds months" in fault.value.detail
    assert "17 Oct 2026" in fault.value.remedy


def test_that_days_over_columns_with_two_readings_are_asked_about_and_an_answer_settles_them() -> None:
    rows = [["Mixed °C"], ["Ref", "05/01/2026", "06/02/2026"], ["A1", 41, 42]]
    assert codes(laid(rows)) == [(3, "ambiguous-date"), (3, "ambiguous-date")]
    answers = Answers([Answer("ambiguous-date", Choice.DAY_FIRST)])
    assert [visit.on for visit in laid(rows, answers=answers).visits] == [date(2026, 1, 5), date(2026, 2, 6)]


def test_that_too_many_days_and_outlets_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(across, "MOST_ENTRIES", 2)
    with pytest.raises(IntakeFault, match="more than 2 outlets"):
        laid(grouped())


TURNED: list[list[Any]] = [
    ["Test results"],
    ["Ref:", "A1", "A1", "A2"],
    ["Date", FIRST, SECOND, FIRST],
    ["Hot °C", 60, 61, 62],
    ["Mixed °C", 41, 42, 43],
]


def test_that_a_column_may_be_a_visit() -> None:
    reading = laid(TURNED)
    assert reading.forms == (Form.ACROSS,)
    assert [told(visit) for visit in reading.visits] == EXPECTED
    assert [visit.cell("found_c") for visit in reading.visits] == ["B5", "C5", "D5"]
    assert {visit.source.row for visit in reading.visits} == {2}


def test_that_the_one_valve_of_a_log_need_be_said_once_only() -> None:
    rows = [["Valve ref", "A1"], [], *[row[:3] for row in TURNED[2:]]]
    reading = laid(rows)
    assert [told(visit) for visit in reading.visits] == EXPECTED[:2]
    assert reading.visits[1].cell("reference") == "B1"


def test_that_a_reference_forgotten_below_the_days_is_asked_about() -> None:
    rows = [TURNED[2], ["Ref", "A1", None, "A2"], *TURNED[3:]]
    assert codes(laid(rows)) == [(1, "missing-reference")]


def test_that_units_may_stand_in_a_column_of_their_own_behind_the_labels() -> None:
    plain: list[list[Any]] = [
        ["Ref", "A1", "A2"],
        ["Date", FIRST, SECOND],
        ["Hot", 140, 142],
        ["Mixed", 41, 42],
    ]
    rows = [[row[0], unit, *row[1:]] for row, unit in zip(plain, ("", "", "°F", "°C"), strict=True)]
    assert [told(visit)[2] for visit in laid(rows).visits] == [
        {"hot_c": 60.0, "found_c": 41.0},
        {"hot_c": 61.111, "found_c": 42.0},
    ]


def test_that_labels_that_come_again_begin_the_next_table() -> None:
    rows = [[*row[:2], row[0], *row[2:]] for row in TURNED[1:]]
    reading = laid(rows)
    assert [told(visit) for visit in reading.visits] == EXPECTED
    assert reading.forms == (Form.ACROSS, Form.ACROSS)


def test_that_labels_not_understood_above_and_below_belong_to_the_visits_too() -> None:
    rows = [
        ["Test results"],
        ["Wann", *TURNED[2][1:]],
        TURNED[1],
        *TURNED[3:],
        ["Shade", "blue", "red", None],
    ]
    reading = laid(rows)
    assert [told(visit) for visit in reading.visits] == EXPECTED
    assert ("Shade", "blue") in reading.visits[0].source.cells
