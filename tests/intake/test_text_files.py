"""Delimited text in any usual encoding, delimiter and line end."""

from pathlib import Path

import pytest

from estate.errors import IntakeFault
from estate.intake import package
from estate.intake.reading import read
from tests.intake.making import HEADING, text_file

ROWS = [
    HEADING,
    ("A1", "17 Oct 2026", "60", "15,5 °C", "41,5", ""),
    ("A2", "18 Oct 2026", "61", "14", "41", "40"),
]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "latin-1"]
)
def test_that_an_encoding_is_found(tmp_path: Path, encoding: str) -> None:
    reading = read(text_file(tmp_path, ROWS, encoding=encoding))
    assert [visit.reference for visit in reading.visits] == ["A1", "A2"]
    assert reading.visits[0].readings.cold_c == 15.5


@pytest.mark.parametrize("delimiter", [";", ",", "\t", "|"])
def test_that_a_delimiter_is_found(tmp_path: Path, delimiter: str) -> None:
    rows = [[f'"{cell}"' for cell in row] for row in ROWS]
    reading = read(text_file(tmp_path, rows, delimiter=delimiter))
    assert [visit.readings.found_c for visit in reading.visits] == [41.5, 41]


def test_that_decimal_commas_do_not_pass_for_delimiters(tmp_path: Path) -> None:
    rows = [("Export; results",), HEADING, *[("A1", "17 Oct 2026", "60,1", "15,2", "41,3", "41,4")] * 5]
    assert {visit.readings.left_c for visit in read(text_file(tmp_path, rows)).visits} == {41.4}


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_that_a_line_may_end_in_any_manner(tmp_path: Path, end: str) -> None:
    assert len(read(text_file(tmp_path, ROWS, end=end)).visits) == 2


def test_that_rows_are_numbered_as_a_spreadsheet_program_numbers_them(tmp_path: Path) -> None:
    path = tmp_path / "round.csv"
    path.write_bytes(
        b'Title\n\r\nRef;Date;Hot;Remarks\rA1;17 Oct 2026;60;"two\r\nlines"\r\nA2;17 Oct 2026;60;\n'
    )
    assert [(visit.source.row, visit.remarks) for visit in read(path).visits] == [(4, "two lines"), (5, "")]


@pytest.mark.parametrize(
    "content",
    [
        b'Ref;Date;Hot\nA1;"17 Oct 2026;60\n',
        b'"Ref;Date\n',
        b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
        b"\xff\xfeA\0\0",
        b"\0" * 40,
    ],
)
def test_that_what_cannot_be_parted_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "round.csv"
    path.write_bytes(content)
    with pytest.raises(IntakeFault):
        read(path)


def test_that_a_fault_far_down_is_refused_too(tmp_path: Path) -> None:
    rows = [*ROWS, *[("A3", "17 Oct 2026", "60", "15", "41", "")] * 400, ('"never closed',)]
    with pytest.raises(IntakeFault, match="parted"):
        read(text_file(tmp_path, rows))


def test_that_a_delimiter_that_cannot_part_the_text_is_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "round.csv"
    path.write_text("Ref|Date|Hot|Remarks\nA1|17 Oct 2026|60|'x',\"a\"b\n", encoding="utf-8")
    assert [visit.remarks for visit in read(path).visits] == ["'x',\"a\"b"]


def test_that_quotation_marks_may_hold_another_delimiter(tmp_path: Path) -> None:
    rows = [
        ("Ref", "Date", "Hot", "Remarks"),
        ("A1", "17 Oct 2026", "60", '"a"'),
        ("A2", "17 Oct 2026", "60", '"b,c"'),
    ]
    assert [visit.remarks for visit in read(text_file(tmp_path, rows)).visits] == ["a", "b,c"]


def test_that_too_many_rows_or_columns_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(IntakeFault, match="too big"):
        read(text_file(tmp_path, [("a",) * 1001]))
    monkeypatch.setattr(package, "MOST_ROWS", 10)
    with pytest.raises(IntakeFault, match="too big"):
        read(text_file(tmp_path, [HEADING] * 11))
