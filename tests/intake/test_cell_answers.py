"""What a person answers to the questions about a row's cells."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from estate.domain.intake import SheetReading
from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer, Answers, Choice
from estate.intake.reading import read
from tests.intake.making import ASSET_HEADING, HEADING, text_file, workbook_file

DAY = "17 Oct 2026"
GOOD = ("A1", DAY, "60", "15", "41", "41")
RESIDUAL = (*HEADING, "Residual flow ml/min", "Remarks")


def answered(
    folder: Path, rows: Sequence[Sequence[str]], *given: Answer, heading: Sequence[str] = HEADING
) -> SheetReading:
    return read(text_file(folder, [heading, *rows]), SheetKind.VISITS, answers=Answers(given))


def at(code: str, choice: Choice, cell: str, value: str = "", row: int = 2) -> Answer:
    return Answer(code, choice, sheet="round", row=row, cell=cell, value=value)


@pytest.mark.parametrize(
    ("row", "answer", "field", "value"),
    [
        (
            ("A1", DAY, "6o", "15", "41", "41"),
            at("unreadable-value", Choice.VALUE, "C2", "60,5"),
            "hot_c",
            60.5,
        ),
        (
            ("A1", DAY, "600", "15", "41", "41"),
            at("implausible-value", Choice.VALUE, "C2", "60"),
            "hot_c",
            60.0,
        ),
        (
            ("A1", DAY, "6o", "15", "41", "41"),
            at("unreadable-value", Choice.NOT_MEASURED, "C2"),
            "hot_c",
            None,
        ),
        (("A1", DAY, "6o", "15", "41", "41"), Answer("unreadable-value", Choice.NOT_MEASURED), "hot_c", None),
        (
            ("A1", DAY, "60", "15", "41", "same?"),
            at("unreadable-value", Choice.VALUE, "F2", "same"),
            "left_c",
            41.0,
        ),
        (
            ("A1", DAY, "60", "15", "41", "?"),
            at("unreadable-value", Choice.VALUE, "F2", "104 °F"),
            "left_c",
            40.0,
        ),
    ],
)
def test_that_an_answer_stands_in_the_cells_stead(
    tmp_path: Path, row: Sequence[str], answer: Answer, field: str, value: float | None
) -> None:
    reading = answered(tmp_path, [row], answer)
    assert (reading.questions, reading.read) == ((), 1)
    assert getattr(reading.visits[0].readings, field) == value
    assert ("Hot °C", row[2]) in reading.visits[0].source.cells


def test_that_an_answer_is_for_its_own_row_and_cell_only(tmp_path: Path) -> None:
    rows = [("A1", DAY, "6o", "1S", "41", "41"), ("A2", DAY, "6o", "15", "41", "41")]
    reading = answered(tmp_path, rows, at("unreadable-value", Choice.VALUE, "C2", "60"))
    assert [question.cell for question in reading.questions] == ["D2", "C3"]
    reading = answered(tmp_path, rows, Answer("unreadable-value", Choice.VALUE, sheet="other", value="60"))
    assert [question.cell for question in reading.questions] == ["C2", "D2", "C3"]


def test_that_an_answer_that_can_not_be_read_is_asked_about_as_it_stands(tmp_path: Path) -> None:
    row = ("A1", DAY, "6o", "15", "41", "41")
    for value, code in (("about 60", "unreadable-value"), ("600", "implausible-value")):
        (question,) = answered(tmp_path, [row], at("unreadable-value", Choice.VALUE, "C2", value)).questions
        assert (question.code, question.cell, question.found) == (code, "C2", value)


def test_that_one_answer_may_lead_to_another_question_with_its_own(tmp_path: Path) -> None:
    row = ("A1", "soon", "60", "15", "41", "41")
    first = at("unreadable-date", Choice.VALUE, "B2", "05/10/2026")
    (question,) = answered(tmp_path, [row], first).questions
    assert question.code == "ambiguous-date"
    reading = answered(tmp_path, [row], first, Answer("ambiguous-date", Choice.DAY_FIRST))
    assert [visit.on for visit in reading.visits] == [date(2026, 10, 5)]


def test_that_leaving_out_drops_the_row_without_a_question(tmp_path: Path) -> None:
    rows = [("A1", "soon", "6o", "15", "41", "41"), GOOD]
    reading = answered(tmp_path, rows, at("unreadable-value", Choice.LEAVE_OUT, "C2"))
    assert (reading.read, len(reading.visits), reading.questions) == (2, 1, ())
    reading = answered(tmp_path, [("A1", DAY, "", "", "", "")], Answer("nothing-measured", Choice.LEAVE_OUT))
    assert (reading.read, reading.visits, reading.questions) == (1, (), ())


def test_that_leaving_out_goes_before_other_answers_of_the_row(tmp_path: Path) -> None:
    row = ("A1", "soon", "6o", "15", "41", "41")
    given = (at("unreadable-value", Choice.VALUE, "C2", "60"), Answer("unreadable-date", Choice.LEAVE_OUT))
    reading = answered(tmp_path, [row], *given)
    assert (reading.visits, reading.questions) == ((), ())


def test_that_an_answer_for_missing_dates_does_not_hide_a_row_without_access(tmp_path: Path) -> None:
    row = ("A1", "", "No access", "", "", "")
    (question,) = answered(tmp_path, [row], Answer("missing-date", Choice.LEAVE_OUT)).questions
    assert question.code == "no-access"


def test_that_a_missing_date_and_a_missing_reference_can_be_told(tmp_path: Path) -> None:
    reading = answered(
        tmp_path,
        [("", "", "60", "15", "41", "41")],
        at("missing-date", Choice.VALUE, "B2", "5 Oct 2026"),
        at("missing-reference", Choice.OUTLET, "A2", "MM/1"),
    )
    assert [(visit.reference, visit.on) for visit in reading.visits] == [("MM/1", date(2026, 10, 5))]


def test_that_an_order_is_answered_for_all_alike_or_for_one_cell(tmp_path: Path) -> None:
    rows = [("A1", "05/10/2026", *GOOD[2:]), ("A2", "06/10/2026", *GOOD[2:])]
    reading = answered(tmp_path, rows, Answer("ambiguous-date", Choice.MONTH_FIRST))
    assert [visit.on for visit in reading.visits] == [date(2026, 5, 10), date(2026, 6, 10)]
    reading = answered(tmp_path, rows, at("ambiguous-date", Choice.DAY_FIRST, "B2"))
    assert [visit.on for visit in reading.visits] == [date(2026, 10, 5)]
    assert [question.cell for question in reading.questions] == ["B3"]


def test_that_a_contradiction_is_settled_by_another_value(tmp_path: Path) -> None:
    heading = (*HEADING, "Adjusted")
    row = ("A1", DAY, "60", "15", "42,5", "41", "N")
    reading = answered(tmp_path, [row], at("contradiction", Choice.VALUE, "G2", "Y"), heading=heading)
    assert reading.visits[0].readings.adjusted is True


@pytest.mark.parametrize("code", ["future-date", "unlikely-reading", "before-fitting", "retired-outlet"])
def test_that_an_answer_to_a_question_of_the_register_replaces_the_cell_it_names(
    tmp_path: Path, code: str
) -> None:
    given = Answer(code, Choice.VALUE, row=2, cell="B2", value="3 Oct 2026")
    assert answered(tmp_path, [GOOD], given).visits[0].on == date(2026, 10, 3)


def test_that_an_unlikely_reading_can_be_taken_as_not_measured(tmp_path: Path) -> None:
    given = at("unlikely-reading", Choice.NOT_MEASURED, "D2")
    assert answered(tmp_path, [GOOD], given).visits[0].readings.cold_c is None


@pytest.mark.parametrize(
    "given",
    [
        Answer("unlikely-reading", Choice.NOT_MEASURED),
        at("unlikely-reading", Choice.NOT_MEASURED, "D2", row=3),
        at("unlikely-reading", Choice.LEAVE_OUT, "D2"),
        at("unlikely-reading", Choice.NOT_MEASURED, "Z9"),
        Answer("unlikely-reading", Choice.NOT_MEASURED, sheet="other", row=2, cell="D2"),
        at("unreadable-value", Choice.VALUE, "D2", "9"),
    ],
)
def test_that_an_answer_that_names_no_such_cell_changes_nothing(tmp_path: Path, given: Answer) -> None:
    assert answered(tmp_path, [GOOD], given) == answered(tmp_path, [GOOD])


def test_that_a_bound_and_the_words_of_a_trace_are_kept_with_the_remarks(tmp_path: Path) -> None:
    row = (*GOOD, "<20", "stiff")
    visit = answered(tmp_path, [row], heading=RESIDUAL).visits[0]
    assert visit.readings.cold_isolated.residual_ml_min == 20
    assert visit.remarks == "stiff; Residual flow ml/min: <20"
    row = (*GOOD, "drips", "")
    reading = answered(tmp_path, [row], heading=RESIDUAL)
    assert [(question.code, question.cell) for question in reading.questions] == [("unreadable-value", "G2")]
    visit = answered(
        tmp_path, [row], Answer("unreadable-value", Choice.NOT_MEASURED), heading=RESIDUAL
    ).visits[0]
    assert visit.readings.cold_isolated.residual_ml_min is None
    assert visit.remarks == "Residual flow ml/min: drips"
    bounded = (*GOOD[:2], "6o", *GOOD[3:], "<20", "")
    visit = answered(
        tmp_path, [bounded], at("unreadable-value", Choice.VALUE, "C2", "60"), heading=RESIDUAL
    ).visits[0]
    assert visit.remarks == "Residual flow ml/min: <20"


def test_that_assets_are_answered_too(tmp_path: Path) -> None:
    row = ("A1", "Marlpit Cross", "", "G", "G01", "Hall", "fountain", "Staff")
    given = (
        Answer("missing-place", Choice.VALUE, value="Main"),
        Answer("unknown-use", Choice.VALUE, value="Basin"),
    )
    path = text_file(tmp_path, [ASSET_HEADING, row])
    (asset,) = read(path, SheetKind.ASSETS, answers=Answers(given)).assets
    assert (asset.building, asset.use) == ("Main", "basin")


def test_that_words_whose_value_the_file_does_not_hold_are_asked_about_once(tmp_path: Path) -> None:
    row: Sequence[Any] = ("A1", date(2026, 10, 17), None, None, None, None, "=1+1")
    path = workbook_file(tmp_path, {"Round": [(*HEADING, "Remarks"), row]})
    assert [question.cell for question in read(path, SheetKind.VISITS).questions] == ["G2"]


def test_that_a_formula_without_value_in_words_is_asked_about_and_answered(tmp_path: Path) -> None:
    rows: list[Sequence[Any]] = [(*HEADING, "Remarks"), (*GOOD, "=1+1")]
    path = workbook_file(tmp_path, {"Round": rows})
    (question,) = read(path, SheetKind.VISITS).questions
    assert (question.code, question.cell) == ("formula-without-value", "G2")
    given = Answers([Answer(question.code, Choice.VALUE, value="stiff")])
    assert read(path, SheetKind.VISITS, answers=given).visits[0].remarks == "stiff"
