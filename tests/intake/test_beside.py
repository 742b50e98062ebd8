"""What stands beside a table, and groups of columns that are not this visit's."""

from typing import Any

import pytest

from estate.errors import IntakeFault
from tests.intake.laying import DAY, HEADING, codes, laid, row_of, told

LEGEND = (["Outlet", "Max °C", "Flow l/min"], ["Basin", 43, 6], ["Bath", 46, 12], ["Shower", 43, 8])


def beside(left: list[list[Any]], right: list[list[Any]], gap: int = 1) -> list[list[Any]]:
    width = max(map(len, left))
    return [
        [*one, *[None] * (width - len(one) + gap), *two]
        for one, two in zip(left, [*right, *[[]] * (len(left) - len(right))], strict=True)
    ]


def test_that_two_complete_tables_side_by_side_are_both_read() -> None:
    left = [list(HEADING), row_of("A1"), row_of("A2")]
    right: list[list[Any]] = [["Date", "TMV ref", "Mixed found °C"], [DAY, "B1", 40]]
    reading = laid(beside(left, right))
    assert [(visit.reference, visit.readings.found_c) for visit in reading.visits] == [
        ("A1", 41),
        ("A2", 41),
        ("B1", 40),
    ]
    assert [visit.cell("found_c") for visit in reading.visits] == ["E2", "E3", "J2"]
    assert [table.columns[0].index for table in reading.tables] == [0, 7]
    assert dict(reading.visits[2].source.cells) == {"Date": str(DAY), "TMV ref": "B1", "Mixed found °C": "40"}


def test_that_the_same_headings_may_come_again_without_an_empty_column() -> None:
    rows = [["No.", *HEADING] * 2, [1, *row_of("A1"), 2, *row_of("A2")], [3, *row_of("A3")]]
    assert [(visit.reference, visit.source.row) for visit in laid(rows).visits] == [
        ("A1", 2),
        ("A3", 3),
        ("A2", 2),
    ]


def test_that_a_small_table_beside_is_never_mixed_in() -> None:
    left = [list(HEADING), *[row_of(f"A{number}") for number in range(1, 5)]]
    reading = laid(beside(left, [list(each) for each in LEGEND]))
    assert {visit.readings.flow_l_min for visit in reading.visits} == {None}
    assert {len(visit.source.cells) for visit in reading.visits} == {6}
    assert reading.questions == ()
    before = laid(beside([list(each) for each in LEGEND] + [[]], left))
    assert [told(visit) for visit in before.visits] == [told(visit) for visit in reading.visits]


def test_that_a_section_line_beside_a_small_table_is_still_a_line() -> None:
    left = [list(HEADING), ["NORTH SIDE"], row_of("A1"), row_of("A2")]
    assert laid(beside(left, [list(each) for each in LEGEND])).questions == ()


@pytest.mark.parametrize("columns", [(2, 4), (3,), (1, 5)])
def test_that_empty_columns_inside_a_table_part_nothing(columns: tuple[int, ...]) -> None:
    rows = [list(HEADING), row_of("A1"), row_of("A2")]
    for column in sorted(columns, reverse=True):
        for row in rows:
            row.insert(column, None)
    reading = laid(rows)
    assert [told(visit)[2] for visit in reading.visits] == [
        {"hot_c": 60.0, "cold_c": 14.0, "found_c": 41.0, "left_c": 41.0}
    ] * 2


def test_that_columns_behind_an_empty_one_belong_where_they_go_with_all_rows() -> None:
    left = [[*HEADING[:3]], *[row_of(f"A{number}")[:3] for number in range(1, 8)]]
    right: list[list[Any]] = [
        ["Where", "Mixed found °C"],
        *[[f"Room {number}", 41] for number in range(1, 8)],
    ]
    reading = laid(beside(left, right))
    assert {visit.readings.found_c for visit in reading.visits} == {41}


def test_that_two_columns_for_one_thing_are_refused_in_a_second_table_too() -> None:
    second = [["Ref", "Date", "Mixed found °C", "Mixed as found °C"], ["A2", DAY, 41, 42]]
    with pytest.raises(IntakeFault, match="both look like found_c"):
        laid([list(HEADING), row_of("A1"), [], *second])


GROUPED = [
    ["Ref", "Previous", None, "This visit", None, None],
    [None, "Hot °C", "Mixed found °C", "Date", "Hot °C", "Mixed found °C"],
]


@pytest.mark.parametrize("merged", [(), ("B1:C1", "D1:F1")])
@pytest.mark.parametrize("word", ["Previous", "Last visit", "Limits", "Target"])
def test_that_columns_under_words_of_another_visit_or_of_limits_are_never_taken(
    merged: tuple[str, ...], word: str
) -> None:
    rows = [["Ref", word, *GROUPED[0][2:]], GROUPED[1], ["A1", 55, 39, DAY, 60, 41]]
    (visit,) = laid(rows, merged).visits
    assert told(visit) == ("A1", DAY, {"hot_c": 60.0, "found_c": 41.0})


def test_that_an_earlier_value_is_not_taken_where_this_visit_has_none() -> None:
    rows = [[None, None, None, "Last results", None], ["Ref", "Date", "Cold °C", "Hot °C", "Mixed found °C"]]
    (visit,) = laid([*rows, ["A1", DAY, 14, 55, 39]]).visits
    assert told(visit) == ("A1", DAY, {"cold_c": 14.0})


def test_that_words_about_the_visit_in_a_title_spoil_no_heading() -> None:
    rows = [["Results beside the limits of the last visit"], list(HEADING), row_of("A1")]
    assert told(laid(rows).visits[0])[2]["found_c"] == 41
    rows = [["Date:", DAY, "Next due:", DAY], ["Ref", "Hot °C", "Mixed found °C"], ["A1", 60, 41]]
    assert told(laid(rows).visits[0]) == ("A1", DAY, {"hot_c": 60.0, "found_c": 41.0})


def test_that_a_header_may_have_three_rows() -> None:
    rows = [
        [None, None, "Temperatures", None, None, None],
        ["Ref", "Date", "Supply", None, "Mixed", None],
        [None, None, "Hot °C", "Cold °C", "found °C", "left °C"],
        row_of("A1"),
    ]
    reading = laid(rows, ["C1:F1", "C2:D2", "E2:F2"])
    assert told(reading.visits[0])[2] == {"hot_c": 60.0, "cold_c": 14.0, "found_c": 41.0, "left_c": 41.0}
    assert reading.tables[0].header == (1, 2, 3)


def test_that_group_words_may_name_the_unit() -> None:
    rows = [
        ["Ref", "Date", "Temperatures °F", None],
        [None, None, "Hot", "Mixed found"],
        ["A1", DAY, 140, 106],
    ]
    (visit,) = laid(rows, ["C1:D1"]).visits
    assert told(visit)[2] == {"hot_c": 60.0, "found_c": 41.111}


def test_that_only_pieces_together_make_a_table() -> None:
    rows = [["Ref", None, "Date", "Mixed found °C"], ["A1", None, DAY, 41]]
    assert codes(laid(rows)) == []
    assert told(laid(rows).visits[0]) == ("A1", DAY, {"found_c": 41.0})
