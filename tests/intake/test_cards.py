"""Cards: one a valve, each value beside its label."""

from datetime import date
from typing import Any

import pytest

from estate.domain.layouts import Form
from estate.errors import IntakeFault
from tests.intake.laying import DAY, codes, laid, told

LABELS = ("Ref", "Date", "Hot °C", "Cold °C", "Mixed found °C", "Remarks")


def card(
    ref: str | None, found: float | None = 41.0, labels: tuple[str, ...] = LABELS, colon: str = ""
) -> list[Any]:
    values = dict(zip(LABELS, (ref, DAY, 60.0, 14.0, found, "Adjusted"), strict=True))
    return [[label + colon, values[label]] for label in labels]


@pytest.mark.parametrize("colon", ["", ":", " :"])
def test_that_a_label_met_again_begins_the_next_card(colon: str) -> None:
    reading = laid([["Test cards"], *card("A1", colon=colon), [], *card("A2", 42.0, colon=colon)])
    assert reading.forms == (Form.CARDS,)
    assert [told(visit) for visit in reading.visits] == [
        ("A1", DAY, {"hot_c": 60.0, "cold_c": 14.0, "found_c": 41.0}),
        ("A2", DAY, {"hot_c": 60.0, "cold_c": 14.0, "found_c": 42.0}),
    ]
    assert [visit.source.row for visit in reading.visits] == [2, 9]
    assert [visit.cell("found_c") for visit in reading.visits] == ["B6", "B13"]
    assert ("Mixed found °C", "42") in reading.visits[1].source.cells
    assert reading.questions == ()


def test_that_cards_may_stand_side_by_side() -> None:
    left, right = card("A1"), card("A2", 42.0)
    reading = laid([[*one, None, *two] for one, two in zip(left, right, strict=True)])
    assert [(visit.reference, visit.readings.found_c) for visit in reading.visits] == [("A1", 41), ("A2", 42)]
    assert [visit.cell("found_c") for visit in reading.visits] == ["B5", "E5"]


def test_that_two_labels_may_stand_in_one_row() -> None:
    rows = []
    for ref in ("A1", "A2"):
        rows += [["Ref", ref, "Date", DAY], ["Hot °C", 60, "Mixed found °C", 41], []]
    reading = laid(rows)
    assert [told(visit) for visit in reading.visits] == [
        (ref, DAY, {"hot_c": 60.0, "found_c": 41.0}) for ref in ("A1", "A2")
    ]


def test_that_labels_before_the_reference_belong_to_the_card() -> None:
    order = ("Date", "Hot °C", "Ref", "Mixed found °C", "Cold °C", "Remarks")
    reading = laid([*card("A1", labels=order), *card("A2", 42.0, labels=order)])
    assert [(visit.reference, visit.readings.found_c, visit.source.row) for visit in reading.visits] == [
        ("A1", 41, 1),
        ("A2", 42, 7),
    ]


def test_that_label_and_value_may_share_a_cell() -> None:
    lines = ["Ref: A1", "Date: 17 Oct 2026", "Hot: 60 °C", "Mixed found: 106 °F", "Remarks:"]
    (visit,) = laid([[line] for line in lines]).visits
    assert told(visit) == ("A1", date(2026, 10, 17), {"hot_c": 60.0, "found_c": 41.111})
    assert visit.cell("on") == "A2"


def test_that_a_value_may_stand_a_column_further_on_with_its_unit_behind() -> None:
    rows = [
        ["Ref", None, "A1"],
        ["Date", None, DAY],
        ["Hot", None, 140, "°F"],
        ["Mixed found", None, 41, "°C"],
    ]
    (visit,) = laid(rows).visits
    assert told(visit) == ("A1", DAY, {"hot_c": 60.0, "found_c": 41.0})


def test_that_a_day_above_all_cards_holds_for_each() -> None:
    labels = ("Ref", "Hot °C", "Cold °C", "Mixed found °C", "Remarks")
    rows = [["Date of visit:", DAY], [], *card("A1", labels=labels), [], *card("A2", labels=labels)]
    assert [visit.on for visit in laid(rows).visits] == [DAY, DAY]


def test_that_a_card_without_reference_or_value_is_asked_about_at_its_cell() -> None:
    reading = laid([*card("A1"), *card(None), *card("A3", None)])
    assert [(question.cell, question.code) for question in reading.questions] == [("B7", "missing-reference")]
    assert [(visit.reference, visit.readings.found_c) for visit in reading.visits] == [
        ("A1", 41),
        ("A3", None),
    ]


def test_that_a_card_with_other_labels_is_read_by_its_own() -> None:
    labels = (*LABELS[:4], "Mixed found °C")
    reading = laid([*card("A1"), *card("A2", labels=labels)])
    assert reading.forms == (Form.CARDS, Form.CARDS)
    assert [visit.reference for visit in reading.visits] == ["A1", "A2"]


def test_that_a_card_that_says_a_thing_twice_is_asked_about() -> None:
    reading = laid([*card("A1"), *card("A2"), ["Mixed as found °C", 43]])
    assert [visit.reference for visit in reading.visits] == ["A1"]
    assert codes(reading) == [(7, "unreadable-sheet")]


@pytest.mark.parametrize(
    "rows",
    [
        [
            ["Ref", "Hot °C", "Cold °C", "Mixed found °C"],
            ["A1", 60, 14, 41],
            [],
            ["Signed:", "T.A.", "Date:", DAY],
        ],
        [["Ref", "A1"], ["Date", DAY]],
        [["Hot °C", 60], ["Cold °C", 14], ["Mixed found °C", 41], ["Remarks", "none"]],
    ],
)
def test_that_labels_that_make_no_card_are_refused(rows: list[list[Any]]) -> None:
    with pytest.raises(IntakeFault, match="not found"):
        laid(rows)


def test_that_a_sheet_too_big_for_cards_is_not_looked_through() -> None:
    rows = [["word"] * 600] * 340
    with pytest.raises(IntakeFault):
        laid([*rows, *card("A1"), *card("A2")])


def test_that_labels_not_understood_are_kept_and_their_values_may_tell_the_day() -> None:
    rows: list[list[Any]] = []
    for ref in ("A1", "A2", "A3"):
        rows += [
            ["Equipment pass", ref],
            ["Wann", DAY],
            ["Hot °C", 60],
            ["Cold °C", 14],
            ["Mixed found °C", 41],
            ["Shade", "blue"],
            [],
        ]
    reading = laid([["Test record 7"], *rows])
    assert [told(visit) for visit in reading.visits] == [
        (ref, DAY, {"hot_c": 60.0, "cold_c": 14.0, "found_c": 41.0}) for ref in ("A1", "A2", "A3")
    ]
    assert [(column.field, column.how) for column in reading.tables[0].columns] == [
        ("reference", "values"),
        ("on", "values"),
        ("hot_c", "words"),
        ("cold_c", "words"),
        ("found_c", "words"),
        ("", ""),
    ]
