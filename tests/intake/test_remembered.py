"""Layouts: remembered, recognised, forced, exported and brought back."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.layouts import DateOrder, Form, Layout, LayoutColumn, SheetKind
from estate.errors import IntakeFault
from estate.intake.reading import read_content
from estate.intake.remembered import layout_from_text, layout_of, layout_text
from tests.intake.laying import DAY, HEADING, book, codes, laid, row_of, told

COLUMNS = (
    LayoutColumn("Code", "reference"),
    LayoutColumn("Wann", "on"),
    LayoutColumn("T1", "hot_c", "fahrenheit"),
    LayoutColumn("T2", "found_c", "celsius"),
    LayoutColumn("T3", ""),
)
NORTHERN = Layout(
    "Northern", SheetKind.VISITS, COLUMNS, date_order=DateOrder.MONTH_FIRST, sender="Northern Water"
)
ROWS: list[list[Any]] = [["Code", "Wann", "T1", "T2", "T3"], ["A1", "05/10/2026", 140, 41, 9]]


@pytest.mark.parametrize("how", [{"layouts": [NORTHERN]}, {"layout": NORTHERN}])
def test_that_a_layout_gives_fields_units_and_order(how: dict[str, Any]) -> None:
    reading = laid(ROWS, **how)
    assert told(reading.visits[0]) == ("A1", date(2026, 5, 10), {"hot_c": 60.0, "found_c": 41.0})
    assert (reading.layout, reading.date_order, reading.questions) == ("Northern", "month first", ())
    assert [(column.field, column.unit, column.how) for column in reading.tables[0].columns] == [
        ("reference", "", "layout"),
        ("on", "", "layout"),
        ("hot_c", "fahrenheit", "layout"),
        ("found_c", "celsius", "layout"),
        ("", "", ""),
    ]
    assert ("Sheet1", "hot_c", "°F", "layout") in reading.units


def test_that_headings_are_recognised_in_any_order_and_spelling_but_only_all_of_them() -> None:
    shuffled = [[row[place] for place in (4, 2, 0, 3, 1)] for row in ROWS]
    shuffled[0] = ["t3", "T1.", "CODE", " T2 ", "wann"]
    assert laid(shuffled, layouts=[NORTHERN]).layout == "Northern"
    for rows in ([row[:4] for row in ROWS], [[*row, "More"] for row in ROWS]):
        with pytest.raises(IntakeFault):
            laid(rows, layouts=[NORTHERN])


def test_that_a_layout_goes_before_words() -> None:
    swapped = tuple(
        LayoutColumn(heading, {"Hot °C": "cold_c", "Cold °C": "hot_c"}.get(heading, field))
        for heading, field in zip(HEADING, ("reference", "on", "", "", "found_c", ""), strict=True)
    )
    reading = laid([HEADING, row_of("A1")], layouts=[Layout("Odd", SheetKind.VISITS, swapped)])
    assert told(reading.visits[0])[2] == {"hot_c": 14.0, "cold_c": 60.0, "found_c": 41.0}
    assert {unit for _, _, unit, _ in reading.units} == {"°C"}
    plain = laid([HEADING, row_of("A1")])
    assert (plain.layout, told(plain.visits[0])[2]["hot_c"]) == ("", 60.0)


def test_that_a_forced_layout_leaves_other_headings_to_their_words() -> None:
    rows = [[*ROWS[0], "Cold °C", "Hot °C", "Remarks"], [*ROWS[1], 14, 61, "windy"]]
    reading = laid(rows, layout=NORTHERN)
    assert told(reading.visits[0])[2] == {"hot_c": 60.0, "cold_c": 14.0, "found_c": 41.0}
    assert reading.visits[0].remarks == "windy"


def test_that_a_forced_layout_whose_headings_are_not_there_is_refused_by_their_names() -> None:
    with pytest.raises(IntakeFault) as fault:
        laid([[*row[:2], *row[3:]] for row in ROWS], layout=NORTHERN)
    assert "lacks: “T1”" in fault.value.detail
    assert "“Code”, “Wann”, “T2”, “T3”" in fault.value.detail


def test_that_headings_of_a_forced_layout_may_be_spread_over_the_tables_of_a_file() -> None:
    second = [["Code", "Wann", "T2"], ["A2", "06/10/2026", 40]]
    reading = laid([[*row[:3], *row[4:]] for row in ROWS] + [[]] + second, layout=NORTHERN)
    assert [told(visit)[2] for visit in reading.visits] == [{"hot_c": 60.0}, {"found_c": 40.0}]


def test_that_a_header_over_two_rows_has_a_layout_too_and_a_unit_of_another_kind_is_none() -> None:
    rows = [["Code", "Wann", "X", None], [None, None, "eins °C", "zwei °C"], ["A1", DAY, 60, "6 l/min"]]
    columns = (*COLUMNS[:2], LayoutColumn("X eins °C", "hot_c"), LayoutColumn("X zwei °C", "flow_l_min"))
    reading = laid(rows, ["C1:D1"], layouts=[Layout("Two rows", SheetKind.VISITS, columns)])
    assert (reading.layout, told(reading.visits[0])[2]) == ("Two rows", {"hot_c": 60.0})
    assert reading.visits[0].readings.flow_l_min == 6
    assert [column.unit for column in reading.tables[0].columns] == ["", "", "celsius", ""]


def test_that_a_layout_of_another_kind_is_not_used() -> None:
    assert (
        laid([HEADING, row_of("A1")], layouts=[replace(NORTHERN, kind=SheetKind.ASSETS, columns=())]).layout
        == ""
    )
    with pytest.raises(IntakeFault, match="for visits, and assets"):
        read_content(book({"Sheet1": ROWS}), "list.xlsx", SheetKind.ASSETS, layout=NORTHERN)
    assert read_content(book({"Sheet1": ROWS}), "round.xlsx", layout=NORTHERN).kind is SheetKind.VISITS


@pytest.mark.parametrize("wrong", [LayoutColumn("T1", "hotness"), LayoutColumn("T1", "hot_c", "furlong")])
def test_that_a_layout_with_unknown_fields_or_units_is_refused(wrong: LayoutColumn) -> None:
    with pytest.raises(IntakeFault, match="“T1”"):
        laid(ROWS, layouts=[replace(NORTHERN, columns=(*COLUMNS[:2], wrong))])


def test_that_the_same_heading_twice_takes_the_fields_of_the_layout_in_turn() -> None:
    columns = (*COLUMNS[:2], LayoutColumn("Temp", "hot_c"), LayoutColumn("Temp", "found_c"))
    rows = [["Code", "Wann", "Temp", "Temp"], ["A1", DAY, 60, 41]]
    assert told(laid(rows, layouts=[Layout("Two", SheetKind.VISITS, columns)]).visits[0])[2] == {
        "hot_c": 60.0, "found_c": 41.0,
    }  # fmt: skip


CARDS = Layout("Cards", SheetKind.VISITS, (*COLUMNS[:2], COLUMNS[3]), Form.CARDS)
TURNED = Layout("Turned", SheetKind.VISITS, (*COLUMNS[:2], COLUMNS[3]), Form.ACROSS)
PAIRS = [["Code", "A1"], ["Wann", DAY], ["T2", 41]]


def _as(how: str, layout: Layout) -> dict[str, Any]:
    return {how: [layout] if how == "layouts" else layout}


@pytest.mark.parametrize("how", ["layouts", "layout"])
def test_that_cards_and_visits_across_have_layouts_too(how: str) -> None:
    cards = laid([*PAIRS, [], ["Code", "A2"], *PAIRS[1:]], **_as(how, CARDS))
    assert [told(visit) for visit in cards.visits] == [(ref, DAY, {"found_c": 41.0}) for ref in ("A1", "A2")]
    assert (cards.forms, cards.layout) == ((Form.CARDS,), "Cards")
    turned = laid(
        [["Code", "A1", "A2"], ["Wann", DAY, DAY], ["T2", 41, 42]],
        **_as(how, TURNED),
    )
    assert [told(visit)[2] for visit in turned.visits] == [{"found_c": 41.0}, {"found_c": 42.0}]
    assert (turned.forms, turned.layout) == ((Form.ACROSS,), "Turned")


def test_that_a_forced_layout_is_read_in_its_own_form_alone() -> None:
    with pytest.raises(IntakeFault):
        laid(ROWS, layout=replace(NORTHERN, form=Form.CARDS))
    with pytest.raises(IntakeFault):
        laid(PAIRS, layout=replace(CARDS, form=Form.ROWS))


def test_that_a_layout_is_made_of_a_reading_with_what_a_person_changed() -> None:
    reading = laid([[*HEADING, "H", None], [*row_of("A1"), 1, None]])
    layout = layout_of(reading, " Northern ", "Northern Water ", {"H": "flow_l_min", "Cold °C": ""})
    assert (layout.name, layout.sender, layout.kind, layout.form) == (
        "Northern",
        "Northern Water",
        SheetKind.VISITS,
        Form.ROWS,
    )
    assert [(column.heading, column.field, column.unit) for column in layout.columns] == [
        ("Ref", "reference", ""),
        ("Date", "on", ""),
        ("Hot °C", "hot_c", "celsius"),
        ("Cold °C", "", ""),
        ("Mixed found °C", "found_c", "celsius"),
        ("Mixed left °C", "left_c", "celsius"),
        ("H", "flow_l_min", ""),
    ]
    assert layout.date_order is None
    assert layout_of(laid(ROWS, layout=NORTHERN), "Again", "", {}).date_order is DateOrder.MONTH_FIRST


def test_that_a_layout_made_of_a_reading_reads_the_same_again() -> None:
    rows = [HEADING, row_of("A1"), row_of("A2", found=42.0)]
    first = laid(rows)
    again = laid(rows, layouts=[layout_of(first, "Mine", "", {})])
    assert again.layout == "Mine"
    assert again.visits == first.visits


def test_that_a_heading_of_several_tables_is_remembered_once() -> None:
    reading = laid([HEADING, row_of("A1"), [], ["Date", "Ref", "Mixed found °C"], [DAY, "A2", 41]])
    assert [column.heading for column in layout_of(reading, "Mine", "", {}).columns] == list(HEADING)


def test_that_a_layout_needs_a_name_and_headings_of_the_file() -> None:
    reading = laid([HEADING, row_of("A1")])
    with pytest.raises(IntakeFault, match="found again by its name"):
        layout_of(reading, " ", "", {})
    with pytest.raises(IntakeFault, match="“Warm”"):
        layout_of(reading, "Mine", "", {"Warm": "hot_c"})


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12).filter(str.strip)


@given(
    TEXTS,
    TEXTS,
    st.lists(TEXTS, max_size=4, unique_by=str),
    st.sampled_from([None, *DateOrder]),
    st.sampled_from(Form),
)
def test_that_a_layout_comes_back_from_its_text_as_it_was(
    name: str, sender: str, headings: list[str], order: DateOrder | None, form: Form
) -> None:
    columns = tuple(
        LayoutColumn(f"{place}x {heading}", "hot_c", "celsius") for place, heading in enumerate(headings)
    )
    layout = Layout(name, SheetKind.VISITS, columns, form, order, sender)
    assert layout_from_text(layout_text(layout)) == layout


GOOD = layout_text(NORTHERN)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('name = "Northern"', 'name = "  "', "no name"),
        ('name = "Northern"', "name = 7", "name has the wrong type"),
        ('name = "Northern"', "name = ", "Invalid"),
        ('kind = "visits"', 'kind = "votes"', "kind must be one of assets, visits"),
        ('date_order = "month first"', 'date_order = "often"', "date_order must be one of"),
        ('sender = "Northern Water"', "", "missing or unknown: sender"),
        ('sender = "Northern Water"', 'sender = ""\ncolour = "red"', "missing or unknown: colour"),
        ('heading = "T3"', 'heading = "T2"', "“T2” stands twice"),
        ('heading = "T3"', 'heading = " "', "column 5 has no heading"),
        ('heading = "T3"', "", "column 5: missing or unknown: heading"),
    ],
)
def test_that_a_damaged_text_is_refused_with_what_is_wrong(old: str, new: str, said: str) -> None:
    assert old in GOOD
    with pytest.raises(IntakeFault, match=said):
        layout_from_text(GOOD.replace(old, new))


def test_that_columns_of_a_text_must_be_tables() -> None:
    text = 'name="a"\nkind="visits"\nform="one row a visit or outlet"\ndate_order=""\nsender=""\ncolumn=[1]\n'
    with pytest.raises(IntakeFault, match="column 1 is no table"):
        layout_from_text(text)


def test_that_an_answer_of_the_order_settles_a_whole_column() -> None:
    assert codes(laid([HEADING, row_of("A1"), ["A2", "05/10/2026", 60, 14, 41, 41]])) == [
        (3, "ambiguous-date")
    ]
