"""What lines above, between and below rows say, and which of them are no data."""

from datetime import date
from typing import Any

import pytest

from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer, Answers, Choice
from estate.errors import IntakeFault
from estate.intake.reading import read_content
from tests.intake.laying import DAY, HEADING, book, codes, laid, row_of

NEXT = date(2026, 10, 15)
UNDATED = ("Ref", "Hot °C", "Cold °C", "Mixed found °C")
PLACES = ("Room", "Outlet", "Date", "Hot °C", "Mixed found °C")


def places(rows: list[list[Any]]) -> list[tuple[str, str, str]]:
    found = [visit.place for visit in laid(rows).visits]
    return [(place.site, place.building, place.level) for place in found]


def test_that_section_lines_give_the_place_of_the_rows_under_them() -> None:
    rows = [
        ["Site: Withy End"],
        HEADING,
        ["Building: North House"],
        ["Level 1"],
        row_of("A1"),
        ["Level", 2],
        row_of("A2"),
        ["Building", "South House"],
        row_of("A3"),
        ["East Wing"],
        row_of("A4"),
    ]
    assert places([list(row) for row in rows]) == [
        ("Withy End", "North House", "Level 1"),
        ("Withy End", "North House", "2"),
        ("Withy End", "South House", ""),
        ("Withy End", "East Wing", ""),
    ]


def test_that_a_label_without_a_value_says_nothing() -> None:
    rows = [list(HEADING), ["Building:", "Level: 2"], row_of("A1"), ["Building:"], row_of("A2")]
    assert places(rows) == [("", "", "2")] * 2


def test_that_a_column_goes_before_a_section_line() -> None:
    rows = [[*HEADING, "Building"], ["Building: North House"], [*row_of("A1"), "Annex"]]
    assert places(rows) == [("", "Annex", "")]


def test_that_words_that_name_no_place_name_a_building_only_where_there_is_no_reference() -> None:
    assert places([list(HEADING), ["SLUICE ROOMS"], row_of("A1")]) == [("", "", "")]
    rows: list[list[Any]] = [list(PLACES), ["MALE SIDE"], ["101", "Basin", DAY, 60, 41]]
    assert places(rows) == [("", "MALE SIDE", "")]


@pytest.mark.parametrize(
    "line", [["Date: 15 Oct 2026"], ["Date", NEXT], [NEXT], ["15 Oct 2026"], ["Test date:", NEXT]]
)
def test_that_a_day_in_a_line_holds_for_the_rows_under_it(line: list[Any]) -> None:
    rows = [list(UNDATED), ["Date", DAY], ["A1", 60, 14, 41], line, ["A2", 60, 14, 41], ["A3", 60, 14, 41]]
    reading = laid(rows)
    assert [(visit.reference, visit.on) for visit in reading.visits] == [
        ("A1", DAY),
        ("A2", NEXT),
        ("A3", NEXT),
    ]
    assert reading.visits[1].cell("on") in ("A4", "B4")
    assert reading.questions == ()


def test_that_a_day_above_the_table_holds_for_all_rows_and_one_below_for_none() -> None:
    rows = [
        ["Date of visit:", DAY, "Cal due:", NEXT],
        [],
        list(UNDATED),
        ["A1", 60, 14, 41],
        ["Signed", "T.A.", "Date:", NEXT],
    ]
    (visit,) = laid(rows).visits
    assert (visit.on, visit.cell("on")) == (DAY, "B1")
    with pytest.raises(IntakeFault, match="date"):
        laid(rows[2:])


def test_that_rows_above_the_first_day_are_asked_about() -> None:
    rows = [list(UNDATED), ["A1", 60, 14, 41], ["Date", DAY], ["A2", 60, 14, 41]]
    assert codes(laid(rows)) == [(2, "missing-date")]


def test_that_a_valve_named_in_a_line_is_that_of_the_rows_under_it() -> None:
    heading = ["Date", "Hot °C", "Mixed found °C"]
    rows = [["Valve ref: A1"], heading, [DAY, 60, 41], [NEXT, 60, 41], ["Valve ref: A2"], [DAY, 60, 42]]
    assert [(visit.reference, visit.on, visit.cell("reference")) for visit in laid(rows).visits] == [
        ("A1", DAY, "A1"),
        ("A1", NEXT, "A1"),
        ("A2", DAY, "A5"),
    ]


def test_that_reference_and_day_both_from_lines_make_no_table() -> None:
    with pytest.raises(IntakeFault):
        laid(
            [
                ["Valve ref:", "A1"],
                ["Date:", DAY],
                [],
                ["Hot °C", "Cold °C", "Comment"],
                ["as usual", "as usual", ""],
            ]
        )


def test_that_testers_lead_their_rows_where_one_stands_above_the_first() -> None:
    rows = [["Tested by: A.A."], list(HEADING), row_of("A1"), ["Tested by: B.B."], row_of("A2"), row_of("A3")]
    assert [visit.person for visit in laid(rows).visits] == ["A.A.", "B.B.", "B.B."]
    trailing = [list(HEADING), row_of("A1"), ["Tested by: A.A."], row_of("A2"), ["Tested by: B.B."]]
    assert [visit.person for visit in laid(trailing).visits] == ["A.A., B.B."] * 2


def test_that_a_column_of_testers_goes_before_lines() -> None:
    rows = [
        ["Tested by: A.A."],
        [*HEADING, "Tested by"],
        [*row_of("A1"), "C.C."],
        ["Tested by: B.B."],
        [*row_of("A2"), "D.D."],
    ]
    assert [visit.person for visit in laid(rows).visits] == ["C.C.", "D.D."]


def test_that_a_day_or_place_in_a_merged_cell_holds_for_all_its_rows_and_a_number_for_the_first_alone() -> (
    None
):
    rows = [row_of("A1"), row_of("A2", None), row_of("A3", NEXT)]
    rows[1][2] = None
    reading = laid([list(HEADING), *rows], ["B2:B3", "C2:C3"])
    assert [(visit.on, visit.readings.hot_c) for visit in reading.visits] == [
        (DAY, 60),
        (DAY, None),
        (NEXT, 60),
    ]


@pytest.mark.parametrize(
    "line",
    [
        ["Total tested", 12],
        ["Limits", None, 55, 20, 43],
        ["Number of valves tested:", 12],
        ["Page 2 of 3"],
        ["1. All readings were taken with T-014."],
        ["Ward 4 - continued overleaf"],
        ["Checked by J. Smith 16/10/2026"],
        ["Instrument: T-014 (calibrated 4 Jan 2026)"],
    ],
)
def test_that_lines_without_data_are_no_rows(line: list[Any]) -> None:
    reading = laid([list(HEADING), row_of("A1"), line, row_of("A2")])
    assert (reading.read, reading.questions) == (2, ())


def test_that_a_title_that_comes_again_on_each_page_is_no_row() -> None:
    rows = []
    for page in (1, 2, 3):
        rows += [["Monthly return", None, None, f"Sheet {page}"], list(HEADING), row_of(f"A{page}"), []]
    reading = laid(rows)
    assert ([visit.reference for visit in reading.visits], reading.questions) == (["A1", "A2", "A3"], ())


def test_that_a_header_over_two_rows_may_come_again() -> None:
    header = [["Ref", "Date", "Mixed", None], [None, None, "found °C", "left °C"]]
    rows = [*header, ["A1", DAY, 41, 41], ["Page 2"], *header, ["A2", DAY, 41, 41]]
    reading = laid(rows)
    assert ([visit.reference for visit in reading.visits], reading.questions) == (["A1", "A2"], ())


def test_that_a_summary_below_an_empty_row_is_no_data() -> None:
    below = [[], ["Building", "Date", "Remarks"], ["North 1", DAY, "good"], ["South 2", DAY, "good"]]
    reading = laid([list(HEADING), row_of("A1"), *below])
    assert ([visit.reference for visit in reading.visits], reading.questions) == (["A1"], ())


def test_that_what_is_nearly_a_table_below_is_asked_about() -> None:
    below = [[], ["Ref", "Hot °C", "Cold °C"], ["A2", 60, 14]]
    reading = laid([list(HEADING), row_of("A1"), *below, [], list(HEADING), row_of("A3")])
    assert [visit.reference for visit in reading.visits] == ["A1", "A3"]
    assert codes(reading) == [(4, "unreadable-sheet")]


def test_that_tables_below_each_other_may_have_other_columns() -> None:
    other = ["Date", "TMV ref", "Mixed found °C"]
    rows = [
        ["Tested by: A.A."], list(HEADING), row_of("A1"), [],
        ["Tested by: B.B."], other, [NEXT, "A2", 40], other, [NEXT, "A3", 40], [], ["Instrument: T-014"],
    ]  # fmt: skip
    reading = laid(rows)
    assert [
        (visit.reference, visit.on, visit.person, visit.readings.found_c) for visit in reading.visits
    ] == [
        ("A1", DAY, "A.A.", 41),
        ("A2", NEXT, "B.B.", 40),
        ("A3", NEXT, "B.B.", 40),
    ]
    assert {visit.instrument for visit in reading.visits} == {"T-014"}
    assert [(table.header, table.first, table.last) for table in reading.tables] == [
        ((2,), 3, 3),
        ((6,), 7, 9),
    ]


def test_that_the_kind_of_visit_in_a_title_holds_for_its_own_table_and_in_the_first_line_for_all() -> None:
    other = ["Date", "TMV ref", "Mixed left °C"]
    second = [["Commissioning tests"], other, [NEXT, "A2", 40]]
    reading = laid([list(HEADING), row_of("A1"), [], *second])
    assert [visit.kind.name for visit in reading.visits] == ["IN_SERVICE", "COMMISSIONING"]
    reading = laid([["Commissioning tests"], [], list(HEADING), row_of("A1"), [], ["Block B"], *second[1:]])
    assert [visit.kind.name for visit in reading.visits] == ["COMMISSIONING", "COMMISSIONING"]


def test_that_the_name_of_a_sheet_is_the_building_where_outlets_are_told_by_place() -> None:
    rows = [list(PLACES), ["101", "Basin", DAY, 60, 41]]
    sheets = {"North Wing": rows, "South Wing": rows, "Sheet3": rows}
    reading = read_content(book(sheets), "round.xlsx", SheetKind.VISITS)
    assert [visit.place.building for visit in reading.visits] == ["North Wing", "South Wing", ""]
    assert [visit.cell("building") for visit in reading.visits] == ["", "", ""]
    alone = read_content(book({"North Wing": rows}), "round.xlsx", SheetKind.VISITS)
    assert [visit.place.building for visit in alone.visits] == [""]


def test_that_an_asset_list_may_have_its_building_in_the_name_of_the_sheet_or_in_a_line() -> None:
    heading = ["Ref", "Room", "Use", "Used by"]
    sheets = {
        name: [heading, [f"{name} 1", "Hall", "Basin", "Staff"]] for name in ("North Wing", "South Wing")
    }
    reading = read_content(book(sheets), "list.xlsx", SheetKind.ASSETS)
    assert [asset.building for asset in reading.assets] == ["North Wing", "South Wing"]
    lines = [["Site: Withy End"], heading, ["Building: North"], ["A1", "Hall", "Basin", "Staff"]]
    (asset,) = read_content(book({"Sheet1": lines}), "list.xlsx", SheetKind.ASSETS).assets
    assert (asset.site, asset.building) == ("Withy End", "North")


def test_that_a_row_of_places_alone_is_asked_about() -> None:
    rows = [list(PLACES), ["101", "Basin", DAY, 60, 41], ["102", "Basin", None, None, None]]
    assert codes(laid(rows)) == [(3, "missing-date")]


def hidden(*answers: Answer) -> Any:
    rows = [HEADING, row_of("A1"), row_of("A2"), row_of("A3")]
    content = book({"Sheet1": rows}, hidden_rows=[3], hidden_columns=["D"])
    return read_content(content, "round.xlsx", SheetKind.VISITS, answers=Answers(answers))


def test_that_a_hidden_row_is_taken_only_if_a_person_says_so() -> None:
    reading = hidden()
    assert [visit.reference for visit in reading.visits] == ["A1", "A3"]
    assert [(each.row, each.cell, each.code, each.ref) for each in reading.questions] == [
        (3, "A3", "hidden-row", "A2")
    ]
    taken = hidden(Answer("hidden-row", Choice.TAKE))
    assert ([visit.reference for visit in taken.visits], taken.questions) == (["A1", "A2", "A3"], ())
    left = hidden(Answer("hidden-row", Choice.LEAVE_OUT, row=3))
    assert ([visit.reference for visit in left.visits], left.questions, left.read) == (["A1", "A3"], (), 3)


def test_that_a_hidden_column_is_read_and_said() -> None:
    reading = hidden()
    assert reading.visits[0].readings.cold_c == 14
    assert ("Sheet1", "Cold °C (D, hidden)", "cold_c") in reading.mapping
