"""Rows of results become visits or questions."""

from pathlib import Path

import pytest

from estate.domain.intake import PlaceWords, SheetReading
from estate.domain.visits import VisitKind, measured
from estate.intake.reading import read
from tests.intake.making import HEADING, one_visit, read_rows, text_file

DAY = "17 Oct 2026"


def question_of(
    folder: Path, row: tuple[str, ...], heading: tuple[str, ...] = HEADING
) -> tuple[str, str, str]:
    reading = read_rows(folder, row, heading=heading)
    assert reading.visits == ()
    assert reading.read == 1
    (question,) = reading.questions
    assert question.remedy
    return question.code, question.cell, question.found


@pytest.mark.parametrize("left", ["", "-", "–", "same", "Same", "as found", "gleich"])
def test_that_left_as_found_is_the_number_found_and_not_adjusted(tmp_path: Path, left: str) -> None:
    readings = one_visit(tmp_path, ("A1", DAY, "60", "15", "41,5", left)).readings
    assert (readings.found_c, readings.left_c, readings.adjusted) == (41.5, 41.5, False)


def test_that_left_otherwise_than_found_is_adjusted(tmp_path: Path) -> None:
    readings = one_visit(tmp_path, ("A1", DAY, "60", "15", "42,5", "41")).readings
    assert (readings.found_c, readings.left_c, readings.adjusted) == (42.5, 41, True)


@pytest.mark.parametrize("remark", ["Adjusted", "TMV re-set by me", "nachgestellt", "réglé"])
def test_that_a_blank_left_is_not_taken_as_found_where_the_row_says_adjusted(
    tmp_path: Path, remark: str
) -> None:
    heading = (*HEADING, "Remarks")
    visit = one_visit(tmp_path, ("A1", DAY, "60", "15", "42,5", "", remark), heading)
    assert (visit.readings.left_c, visit.readings.adjusted, visit.remarks) == (None, True, remark)
    visit = one_visit(tmp_path, ("A1", DAY, "60", "15", "42,5", "same", remark), heading)
    assert (visit.readings.left_c, visit.readings.adjusted) == (42.5, True)


@pytest.mark.parametrize("remark", ["Not adjusted", "nicht nachgestellt", "stiff handle"])
def test_that_a_remark_that_denies_adjusting_does_not_say_adjusted(tmp_path: Path, remark: str) -> None:
    visit = one_visit(tmp_path, ("A1", DAY, "60", "15", "42,5", "", remark), (*HEADING, "Remarks"))
    assert (visit.readings.left_c, visit.readings.adjusted) == (42.5, False)


@pytest.mark.parametrize(
    ("left", "said", "expected"),
    [
        ("", "Y", (None, True)),
        ("", "N", (42.5, False)),
        ("41", "Y", (41, True)),
        ("42,5", "Y", (42.5, True)),
        ("42,5", "N", (42.5, False)),
    ],
)
def test_that_a_column_of_its_own_says_whether_it_was_adjusted(
    tmp_path: Path, left: str, said: str, expected: tuple[float | None, bool]
) -> None:
    readings = one_visit(
        tmp_path, ("A1", DAY, "60", "15", "42,5", left, said), (*HEADING, "Adjusted")
    ).readings
    assert (readings.left_c, readings.adjusted) == expected


def test_that_not_adjusted_yet_left_otherwise_is_asked_about(tmp_path: Path) -> None:
    found = question_of(tmp_path, ("A1", DAY, "60", "15", "42,5", "41", "N"), (*HEADING, "Adjusted"))
    assert found == ("contradiction", "G2", "N")


def test_that_without_a_column_for_left_nothing_is_taken_for_it(tmp_path: Path) -> None:
    readings = one_visit(tmp_path, ("A1", DAY, "41"), ("Ref", "Date", "Mixed")).readings
    assert (readings.found_c, readings.left_c, readings.adjusted) == (41, None, None)
    heading = ("Ref", "Date", "Mixed", "Remarks")
    assert one_visit(tmp_path, ("A1", DAY, "41", "adjusted"), heading).readings.adjusted is True


def test_that_same_as_nothing_is_asked_about(tmp_path: Path) -> None:
    assert question_of(tmp_path, ("A1", DAY, "60", "15", "", "same")) == ("unreadable-value", "F2", "same")
    readings = one_visit(tmp_path, ("A1", DAY, "60", "15", "", "-")).readings
    assert (readings.found_c, readings.left_c, readings.adjusted) == (None, None, None)


def test_that_a_found_that_is_asked_about_is_asked_about_once(tmp_path: Path) -> None:
    assert question_of(tmp_path, ("A1", DAY, "60", "15", "4l", "same")) == ("unreadable-value", "E2", "4l")


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (("", DAY, "60", "15", "41", ""), ("missing-reference", "A2", "")),
        (("A1", "", "60", "15", "41", ""), ("missing-date", "B2", "")),
        (("A1", "soon", "60", "15", "41", ""), ("unreadable-date", "B2", "soon")),
        (("A1", DAY, "6o", "15", "41", ""), ("unreadable-value", "C2", "6o")),
        (("A1", DAY, "60", "150", "41", ""), ("implausible-value", "D2", "150")),
        (("A1", DAY, "", "-", "n/a", ""), ("nothing-measured", "A2", "A1")),
        (("A1", DAY, "No access", "", "", ""), ("no-access", "C2", "No access")),
        (("A1", "No access - locked", "", "", "", ""), ("no-access", "B2", "No access - locked")),
        (("A1", DAY, "", "", "kein Zugang", ""), ("no-access", "E2", "kein Zugang")),
    ],
)
def test_that_a_row_that_cannot_be_taken_is_asked_about_at_its_cell(
    tmp_path: Path, row: tuple[str, ...], expected: tuple[str, str, str]
) -> None:
    assert question_of(tmp_path, row) == expected


def test_that_an_answer_that_is_not_plain_is_asked_about(tmp_path: Path) -> None:
    row = ("A1", DAY, "60", "15", "41", "", "perhaps")
    assert question_of(tmp_path, row, (*HEADING, "Strainers cleaned")) == (
        "unreadable-value",
        "G2",
        "perhaps",
    )


def test_that_every_bad_cell_of_a_row_is_asked_about(tmp_path: Path) -> None:
    reading = read_rows(tmp_path, ("A1", "soon", "6o", "150", "41", ""))
    assert [question.cell for question in reading.questions] == ["B2", "C2", "D2"]
    assert {question.ref for question in reading.questions} == {"A1"}


def test_that_no_access_in_the_remarks_counts_only_where_nothing_was_measured(tmp_path: Path) -> None:
    heading = (*HEADING, "Remarks")
    remark = "room occupied, no access"
    found = question_of(tmp_path, ("A1", DAY, "", "", "", "", remark), heading)
    assert found == ("no-access", "G2", remark)
    assert one_visit(tmp_path, ("A1", DAY, "60", "", "", "", remark), heading).readings.hot_c == 60


def test_that_the_kind_of_visit_is_read_and_asked_about(tmp_path: Path) -> None:
    heading = (*HEADING, "Visit")
    row = ("A1", DAY, "60", "15", "41", "")
    assert one_visit(tmp_path, (*row, "Commissioning"), heading).kind is VisitKind.COMMISSIONING
    assert one_visit(tmp_path, (*row, "In-service"), heading).kind is VisitKind.IN_SERVICE
    assert one_visit(tmp_path, (*row, "Wartung"), heading).kind is VisitKind.SERVICE
    assert one_visit(tmp_path, (*row, ""), heading).kind is VisitKind.IN_SERVICE
    assert question_of(tmp_path, (*row, "picnic"), heading) == ("unreadable-value", "G2", "picnic")


@pytest.mark.parametrize(
    ("title", "kind"),
    [
        ("TMV commissioning record", VisitKind.COMMISSIONING),
        ("TMV in-service test sheet", VisitKind.IN_SERVICE),
        ("Commissioning and in-service test", VisitKind.IN_SERVICE),
        ("Commissioning engineer: A. B.", VisitKind.IN_SERVICE),
        ("Serviced valves", VisitKind.IN_SERVICE),
    ],
)
def test_that_a_title_that_names_one_kind_of_visit_counts_and_is_said(
    tmp_path: Path, title: str, kind: VisitKind
) -> None:
    reading = read(text_file(tmp_path, [(title,), HEADING, ("A1", DAY, "60", "15", "", "41")]))
    assert reading.visits[0].kind is kind
    if kind is VisitKind.COMMISSIONING:
        assert ("round", title, "kind: commissioning") in reading.mapping


def test_that_several_columns_of_remarks_are_kept_together(tmp_path: Path) -> None:
    visit = one_visit(
        tmp_path, ("A1", DAY, "60", "stiff", "cap lost"), ("Ref", "Date", "Hot", "Remarks", "Notes")
    )
    assert visit.remarks == "stiff; cap lost"


def test_that_the_cells_are_kept_as_they_stood(tmp_path: Path) -> None:
    visit = one_visit(tmp_path, (" a 1 ", DAY, "60,0 C", "15", "41", "", "blue"))
    assert visit.reference == "a 1"
    assert visit.source.cells == (
        ("Ref", " a 1 "),
        ("Date", DAY),
        ("Hot °C", "60,0 C"),
        ("Cold °C", "15"),
        ("Mixed found °C", "41"),
        ("G2", "blue"),
    )
    assert (visit.cell("hot_c"), visit.cell("flow_l_min")) == ("C2", "")


@pytest.mark.parametrize(
    ("remark", "expected"),
    [
        ("Adjusted, no leaks", (None, True)),
        ("No leaks. Adjusted", (None, True)),
        ("Adjusted - not flushed", (None, True)),
        ("adjusted no leaks", (None, None)),
        ("adjustment: none", (None, None)),
        ("could not be adjusted", (42.5, False)),
        ("no adjustment made", (42.5, False)),
    ],
)
def test_that_a_blank_left_stays_unknown_where_the_remarks_may_say_adjusted(
    tmp_path: Path, remark: str, expected: tuple[float | None, bool | None]
) -> None:
    readings = one_visit(
        tmp_path, ("A1", DAY, "60", "15", "42,5", "", remark), (*HEADING, "Remarks")
    ).readings
    assert (readings.left_c, readings.adjusted) == expected


def test_that_same_beside_remarks_that_may_say_adjusted_is_the_number_found(tmp_path: Path) -> None:
    heading = (*HEADING, "Remarks")
    row = ("A1", DAY, "60", "15", "42,5", "same", "adjusted no leaks")
    readings = one_visit(tmp_path, row, heading).readings
    assert (readings.left_c, readings.adjusted) == (42.5, None)


DITTO = (
    "Ref",
    "Date",
    "Visit",
    "Hot °C",
    "Mixed found °C",
    "Mixed left °C",
    "Strainers cleaned",
    "Tested by",
    "Room",
)


def ditto(folder: Path, mark: str, *places: int) -> SheetReading:
    first = ("A1", DAY, "Service", "60", "41", "41", "Y", "A.B.", "Hall")
    rows = [
        first,
        *(tuple(mark if place in places else text for place, text in enumerate(first)) for _ in range(2)),
    ]
    return read_rows(folder, *rows, heading=DITTO)


@pytest.mark.parametrize(
    "mark", ["“", "〃", "ditto", "Ditto", "do.", "dito", "as above", "wie oben", "idem", "''"]
)
def test_that_a_mark_for_as_above_is_taken_for_words_days_and_kinds(tmp_path: Path, mark: str) -> None:
    reading = ditto(tmp_path, mark, 0, 1, 2, 7, 8)
    assert reading.questions == ()
    said = {
        (each.reference, each.on.isoformat(), each.kind, each.person, each.place.room)
        for each in reading.visits
    }
    assert said == {("A1", "2026-10-17", VisitKind.SERVICE, "A.B.", "Hall")}
    assert len(reading.visits) == 3


@pytest.mark.parametrize("place", [3, 4, 5, 6])
def test_that_a_mark_for_as_above_is_no_measurement(tmp_path: Path, place: int) -> None:
    reading = ditto(tmp_path, "ditto", place)
    assert {question.code for question in reading.questions} == {"unreadable-value"}
    assert len(reading.questions) == 2


def test_that_a_mark_with_nothing_above_is_asked_about(tmp_path: Path) -> None:
    row = ("ditto", "ditto", "", "60", "41", "41", "Y", "ditto", "")
    reading = read_rows(tmp_path, row, heading=DITTO)
    found = [(question.code, question.cell) for question in reading.questions]
    assert found == [("unreadable-value", "B2"), ("unreadable-value", "A2"), ("unreadable-value", "H2")]


def test_that_initials_are_no_mark_and_a_dash_is_no_name(tmp_path: Path) -> None:
    for text, person in (("DO", "DO"), ("D.O.", "D.O."), ("-", ""), ("n/a", "")):
        visit = one_visit(tmp_path, ("A1", DAY, "60", text), ("Ref", "Date", "Hot °C", "Tested by"))
        assert visit.person == person


def test_that_a_dash_for_the_kind_is_the_usual_kind(tmp_path: Path) -> None:
    visit = one_visit(tmp_path, (*("A1", DAY, "60", "15", "41", "41"), "-"), (*HEADING, "Visit"))
    assert visit.kind is VisitKind.IN_SERVICE


def test_that_the_place_of_an_outlet_is_kept_and_stands_for_a_reference(tmp_path: Path) -> None:
    heading = (
        "Site",
        "Building",
        "Floor",
        "Room no",
        "Location",
        "Outlet type",
        "Date",
        "Hot °C",
        "Mixed °C",
    )
    row = ("Marlpit Cross", "Main", "1", "101", "Bedroom", "Basin", DAY, "60", "41")
    visit = one_visit(tmp_path, row, heading)
    assert visit.place == PlaceWords("Marlpit Cross", "Main", "1", "101", "Bedroom", "Basin")
    assert visit.reference == ""
    assert visit.cell("room_number") == "D2"


def test_that_a_row_without_reference_key_or_place_is_asked_for_one(tmp_path: Path) -> None:
    heading = ("Building", "Room", "Date", "Hot °C")
    reading = read_rows(tmp_path, ("", "-", DAY, "60"), ("Main", "101", DAY, "60"), heading=heading)
    assert [(question.code, question.cell) for question in reading.questions] == [("missing-reference", "A2")]
    assert len(reading.visits) == 1


def test_that_weak_words_are_a_reference_before_they_are_a_place(tmp_path: Path) -> None:
    visit = one_visit(tmp_path, ("A1", DAY, "60"), ("Outlet", "Date", "Hot °C"))
    assert (visit.reference, visit.place.outlet) == ("A1", "")
    visit = one_visit(tmp_path, ("A1", "Basin", DAY, "60"), ("Ref", "Outlet", "Date", "Hot °C"))
    assert (visit.reference, visit.place.outlet) == ("A1", "Basin")


@pytest.mark.parametrize(
    "heading", ["Set temp °C", "Target °C", "Max allowed °C", "Previous mixed °C", "Hot min °C"]
)
def test_that_a_column_of_limits_targets_or_earlier_results_is_not_measured(
    tmp_path: Path, heading: str
) -> None:
    rows = [(f"A{number}", DAY, "60", "41") for number in range(5)]
    reading = read_rows(tmp_path, *rows, heading=("Ref", "Date", "Hot °C", heading))
    assert [measured(visit.readings) for visit in reading.visits] == [{"hot_c": 60.0}] * 5
