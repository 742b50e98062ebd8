"""Rows in which nothing was measured, and why: no access, nothing to measure, or nothing entered."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from estate.domain.intake import SheetReading
from estate.domain.layouts import SheetKind
from estate.intake.reading import read
from tests.intake.making import HEADING, read_rows, text_file

DAY = "17 Oct 2026"
REMARKED = (*HEADING, "Remarks", "Tested by")


def row(
    found: str = "", remark: str = "", on: str = DAY, ref: str = "A1", person: str = ""
) -> tuple[str, ...]:
    return (ref, on, "", "", found, "", remark, person)


def one(folder: Path, *cells: str, heading: Sequence[str] = REMARKED) -> SheetReading:
    reading = read_rows(folder, cells, heading=heading)
    assert (reading.visits, reading.read) == ((), 1)
    return reading


@pytest.mark.parametrize(
    "words",
    [
        "No access",
        "no access - patient in room",
        "Unable to gain access",
        "N/A - room locked",
        "n/a (occupied)",
        "not tested: no key",
        "Couldn't access",
        "Room locked",
        "occupied",
        "Resident asleep",
        "kein Zutritt",
        "Zimmer belegt",
        "verschlossen",
        "Pas d'accès",
        "chambre occupée",
        "fermé à clé",
        "geen toegang",
        "nessun accesso",
        "sin acceso",
    ],
)
def test_that_no_access_is_an_attempt_and_a_question(tmp_path: Path, words: str) -> None:
    for cells, cell in ((row(words, person="A.B."), "E2"), (row(remark=words, person="A.B."), "G2")):
        reading = one(tmp_path, *cells)
        (attempt,), (question,) = reading.attempts, reading.questions
        assert (attempt.reference, attempt.on, attempt.why) == ("A1", date(2026, 10, 17), words)
        assert (attempt.person, attempt.source.row, attempt.cell("on")) == ("A.B.", 2, "B2")
        assert (attempt.cell("kind"), question.code) == ("", "no-access")
        assert (question.cell, question.found, question.ref) == (cell, words, "A1")


def test_that_the_words_of_cell_and_remarks_are_both_kept(tmp_path: Path) -> None:
    (attempt,) = one(tmp_path, *row("No  access", "resident unwell")).attempts
    assert attempt.why == "No access; resident unwell"


def test_that_no_access_in_a_column_of_no_field_counts_where_nothing_was_measured(tmp_path: Path) -> None:
    heading = (*HEADING, "Outcome of visit")
    reading = one(tmp_path, "A1", DAY, "", "", "", "", "No access", heading=heading)
    assert [attempt.why for attempt in reading.attempts] == ["No access"]
    assert [(each.code, each.cell, each.found) for each in reading.questions] == [
        ("no-access", "A2", "No access")
    ]


@pytest.mark.parametrize(("on", "ref"), [("", "A1"), ("soon", "A1"), ("05/10/2026", "A1"), (DAY, "")])
def test_that_without_a_day_or_an_outlet_it_is_a_question_only(tmp_path: Path, on: str, ref: str) -> None:
    reading = one(tmp_path, *row("No access", on=on, ref=ref))
    assert (reading.attempts, [each.code for each in reading.questions]) == ((), ["no-access"])


@pytest.mark.parametrize("remark", ["cap locked in place", "not in use much", "see occupied list"])
def test_that_a_single_word_within_remarks_does_not_tell_of_access(tmp_path: Path, remark: str) -> None:
    reading = one(tmp_path, *row(remark=remark))
    assert (reading.attempts, [each.code for each in reading.questions]) == ((), ["nothing-measured"])


@pytest.mark.parametrize(
    "words",
    [
        "not fitted",
        "TMV removed",
        "isolated",
        "Out of order",
        "no water",
        "tap seized",
        "ausser Betrieb",
        "kein Wasser",
        "hors service",
        "pas d'eau",
    ],
)
def test_that_what_could_not_be_tested_is_asked_about_in_its_own_words(tmp_path: Path, words: str) -> None:
    within = f"Basin: {words} today" if " " in words else words
    for cells, cell in ((row(words), "E2"), (row(remark=words), "G2"), (row(remark=within), "G2")):
        reading = one(tmp_path, *cells)
        (question,) = reading.questions
        assert (question.code, question.cell, reading.attempts) == ("nothing-measured", cell, ())
        assert words in question.found


def test_that_such_words_beside_a_reading_are_asked_about_as_a_cell(tmp_path: Path) -> None:
    reading = one(tmp_path, "A1", DAY, "60", "15", "isolated", "", "", "")
    assert [(each.code, each.cell) for each in reading.questions] == [("unreadable-value", "E2")]


def test_that_a_missing_date_is_asked_about_even_where_nothing_was_measured(tmp_path: Path) -> None:
    reading = one(tmp_path, *row(on=""))
    assert [each.code for each in reading.questions] == ["missing-date"]


KEYED = (
    "Register key",
    "Ref",
    "Date",
    "Hot °C",
    "Mixed found °C",
    "Strainers cleaned",
    "Remarks",
    "Tested by",
)


def keyed(folder: Path, *cells: str) -> SheetReading:
    return read(text_file(folder, [KEYED, ("outlet 1 of mx-1, check 09", *cells)]), SheetKind.VISITS)


def test_that_a_row_of_a_round_sheet_with_nothing_entered_is_blank_and_not_asked_about(
    tmp_path: Path,
) -> None:
    for person in ("", "A.B."):
        reading = keyed(tmp_path, "A1", "", "", "", "", "", person)
        assert (reading.read, reading.blank, reading.questions, reading.visits) == (1, 1, (), ())


@pytest.mark.parametrize(
    ("cells", "code"),
    [
        (("A1", DAY, "", "", "", "", ""), "nothing-measured"),
        (("A1", "", "", "", "", "could not turn it", ""), "missing-date"),
        (("A1", "", "-", "", "", "", ""), "missing-date"),
        (("A1", "", "", "", "", "no access", ""), "no-access"),
    ],
)
def test_that_a_row_of_a_round_sheet_in_which_something_is_entered_is_asked_about(
    tmp_path: Path, cells: Sequence[str], code: str
) -> None:
    reading = keyed(tmp_path, *cells)
    assert (reading.blank, [each.code for each in reading.questions]) == (0, [code])


def test_that_the_key_of_a_round_sheet_is_kept_and_stands_for_a_reference(tmp_path: Path) -> None:
    (visit,) = keyed(tmp_path, "", DAY, "60", "41", "Y", "", "").visits
    assert (visit.key, visit.reference) == ("outlet 1 of mx-1, check 09", "")
    (attempt,) = keyed(tmp_path, "", DAY, "no access", "", "", "", "").attempts
    assert attempt.key == "outlet 1 of mx-1, check 09"
