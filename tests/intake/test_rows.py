"""Which rows are data, and what the lines around them say."""

from pathlib import Path

import pytest

from estate.intake.reading import read
from tests.intake.making import HEADING, text_file, workbook_file

DAY = "17 Oct 2026"
ROW = ("A1", DAY, "60", "15", "41", "")
NEXT = ("A2", DAY, "60", "15", "41", "")


@pytest.mark.parametrize(
    "between",
    [
        (),
        ("", "", ""),
        ("NORTH WING",),
        ("", "NORTH WING"),
        ("Ward 3",),
        ("Gebäude 12",),
        HEADING,
        tuple(text.upper() for text in HEADING),
        ("TOTAL TESTED", "", "46"),
        ("Summe", "", "60", "15"),
        ("Average", "", "59,9", "14,1"),
        ("Tested by:", "", "T.A."),
        ("Tested by", "T.A."),
        ("Signed:",),
        ("Date:", DAY),
        ("Page: 2", "", "", "", "", "of 3"),
    ],
)
def test_that_rows_between_data_are_passed_over(tmp_path: Path, between: tuple[str, ...]) -> None:
    reading = read(text_file(tmp_path, [HEADING, ROW, between, NEXT]))
    assert reading.questions == ()
    assert reading.read == 2
    assert [visit.source.row for visit in reading.visits] == [2, 4]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (("A3",), "missing-date"),
        (("A3", "", "60"), "missing-date"),
        (("", DAY, "60", "15"), "missing-reference"),
        (("MIN/01/WHB",), "missing-date"),
        (("Total Care 01", "", "60"), "missing-date"),
        (("Sluice", "", "60"), "missing-date"),
        (("Annex",), ""),
    ],
)
def test_that_a_row_that_may_be_data_is_asked_about_not_dropped(
    tmp_path: Path, row: tuple[str, ...], code: str
) -> None:
    reading = read(text_file(tmp_path, [HEADING, ROW, row]))
    assert [question.code for question in reading.questions] == ([code] if code else [])


def test_that_a_lone_word_is_asked_about_where_references_are_words(tmp_path: Path) -> None:
    reading = read(text_file(tmp_path, [HEADING, ("Sluice", *ROW[1:]), ("Pantry",)]))
    assert [(question.code, question.found, question.ref) for question in reading.questions] == [
        ("missing-date", "", "Pantry")
    ]


def test_that_a_total_row_with_a_date_is_data(tmp_path: Path) -> None:
    reading = read(text_file(tmp_path, [HEADING, ("Total 1", *ROW[1:])]))
    assert [visit.reference for visit in reading.visits] == ["Total 1"]


@pytest.mark.parametrize(
    ("above", "below", "expected"),
    [
        (("Instrument: T-014  (cal. due 14/03/2027)",), ("Tested by:", "", "T.A."), ("T.A.", "T-014")),
        (("Instrument:", "T-014"), ("Tested by: T.A.",), ("T.A.", "T-014")),
        (("Thermometer no: T-014 - calibrated",), ("Tested by", "T.A."), ("T.A.", "T-014")),
        (("Engineer: T. A. Date: 17/10/2026", "", "Probe: T-014"), (), ("T. A.", "T-014")),
        (("Tested by:", "Signed:"), ("Instrument:",), ("", "")),
        (("Instrument: T-014",), ("Instrument: T-015",), ("", "T-014, T-015")),
        (("Prüfer: T.A.; Messgerät",), (), ("T.A.", "")),
    ],
)
def test_that_lines_around_the_table_name_person_and_instrument(
    tmp_path: Path, above: tuple[str, ...], below: tuple[str, ...], expected: tuple[str, str]
) -> None:
    (visit,) = read(text_file(tmp_path, [above, HEADING, ROW, below])).visits
    assert (visit.person, visit.instrument) == expected


def test_that_a_rows_own_person_and_instrument_go_first(tmp_path: Path) -> None:
    heading = (*HEADING, "Tested by", "Instrument")
    rows = [("Instrument: T-014",), heading, (*ROW, "B.C.", ""), (*NEXT, "", "T-015"), heading]
    first, second = read(text_file(tmp_path, rows)).visits
    assert (first.person, first.instrument) == ("B.C.", "T-014")
    assert (second.person, second.instrument) == ("", "T-015")


def test_that_numbers_serve_as_references_and_rows_may_be_short(tmp_path: Path) -> None:
    rows = [["No.", "Asset no", "Date", "Hot °C", "Mixed"], [1, 1023, DAY, 60], [2], [3, None, None, None]]
    reading = read(workbook_file(tmp_path, {"Round": rows}))
    assert [(visit.reference, visit.readings.hot_c) for visit in reading.visits] == [("1023", 60)]
    assert (reading.read, reading.questions) == (1, ())
