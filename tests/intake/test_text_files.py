"""Delimited text in any usual encoding, delimiter and line end."""

from pathlib import Path

import pytest

from estate.errors import IntakeFault
from estate.intake import package
from estate.intake.csv_text import text_of
from estate.intake.opening import grids_in
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


WESTERN = [
    ("Nr", "Warmwasser °C", "Küche"),
    ("Réf", "Température à l'étage", "Évier"),
    ("A1", "60,5", "Größe ½"),
]


@pytest.mark.parametrize("encoding", ["cp1252", "cp850", "mac_roman", "utf-8", "utf-16-le", "utf-16-be"])
def test_that_western_letters_are_read_in_any_usual_encoding(encoding: str) -> None:
    rows = [row for row in WESTERN if encoding != "mac_roman" or "½" not in row[2]]
    text = "".join(";".join(row) + "\r\n" for row in rows)
    assert text_of(text.encode(encoding), "round.csv") == text


@pytest.mark.parametrize("encoding", ["cp1252", "cp850", "mac_roman"])
@pytest.mark.parametrize("text", ["Hot °C;Cold °C", "Temp (°C)", "limit 44.5°", "KÜCHE", "ß"])
def test_that_a_single_sign_is_enough_to_tell_an_encoding(encoding: str, text: str) -> None:
    if text != "ß":
        assert text_of(f"Ref;{text}\n".encode(encoding), "round.csv") == f"Ref;{text}\n"
    else:
        assert len(text_of(f"Ref;{text}\n".encode(encoding), "round.csv")) == 6


def test_that_quotes_dashes_and_signs_of_windows_are_read() -> None:
    text = "Ref;“as found” – café’s sink ± 2 µ"
    assert text_of(text.encode("cp1252"), "round.csv") == text


def test_that_wide_letters_of_other_scripts_are_no_sign_of_wide_bytes() -> None:
    text = "Ref;Дата;Горячая\r\nA1;17.10.2026;60\r\n"
    for encoding in ("utf-8", "utf-16", "utf-16-le"):
        assert text_of(text.encode(encoding), "round.csv") == text


def test_that_stray_control_characters_are_dropped() -> None:
    lines = b"Ref;Date\r\n" + b"A1;17 Oct 2026\r\n" * 9 + b"A1;fine\x07 and\x1a more\r\n"
    assert text_of(lines, "round.csv").endswith("A1;fine and more\r\n")


@pytest.mark.parametrize("line", ["sep=|", '"sep=|"', "SEP=|;;;"])
def test_that_a_line_that_names_the_delimiter_is_no_row(tmp_path: Path, line: str) -> None:
    path = tmp_path / "round.csv"
    path.write_text(f"{line}\nRef|Date|Hot\nA1|17 Oct 2026|60,5\n", encoding="utf-8")
    (visit,) = read(path).visits
    assert (visit.source.row, visit.readings.hot_c) == (2, 60.5)


def test_that_millions_of_cells_are_refused_before_they_are_made(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(package, "MOST_CELLS", 100)
    for content in (b"Ref;Date" + b";" * 101, b"a;b\n" * 60):
        with pytest.raises(IntakeFault, match="too big"):
            grids_in(content, "round.csv", lambda grid: (0, 0))
