"""Rows of results become visits or questions."""

from pathlib import Path

import pytest

from estate.domain.visits import VisitKind
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
