"""Workbooks: what they may hold, and files that must be refused."""

import re
import zipfile
from collections.abc import Callable, Mapping
from datetime import date, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from estate.domain.cell_names import place_name
from estate.errors import IntakeFault
from estate.intake import package, workbook
from estate.intake.grid import Trouble, shown
from estate.intake.reading import read
from tests.intake.making import HEADING, SHEETS, workbook_file

ROW = ("A1", "17 Oct 2026", 60, 15, 41.5, 41)


def repack(path: Path, change: Callable[[str, bytes], bytes], method: int = zipfile.ZIP_DEFLATED) -> Path:
    """Rewrites each part of a workbook."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w", method) as archive:
        for name, part in parts.items():
            archive.writestr(name, change(name, part))
    return path


def with_cells(folder: Path, cells: Mapping[str, Any]) -> Path:
    path = workbook_file(folder, {"Round": [HEADING, ROW]})
    book = openpyxl.load_workbook(path)
    for place, value in cells.items():
        book.worksheets[0][place] = value
    book.save(path)
    return path


def in_sheet(old: bytes, new: bytes) -> Callable[[str, bytes], bytes]:
    return lambda name, part: part.replace(old, new) if "worksheets" in name else part


def fault_of(path: Path) -> IntakeFault:
    with pytest.raises(IntakeFault) as caught:
        read(path)
    assert caught.value.title
    assert caught.value.remedy
    return caught.value


@pytest.mark.parametrize("place", ["A2", "B2", "C2", "F2"])
def test_that_a_formula_without_a_value_is_asked_about_and_no_blank(tmp_path: Path, place: str) -> None:
    reading = read(with_cells(tmp_path, {place: "=1+41"}))
    assert reading.visits == ()
    assert [(each.code, each.cell, each.found) for each in reading.questions] == [
        ("formula-without-value", place, "=1+41")
    ]


def test_that_a_formula_with_a_value_is_read_by_its_value(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    repack(path, in_sheet(b"<v>41.5</v>", b"<f>40+1.5</f><v>41.5</v>"))
    assert read(path).visits[0].readings.found_c == 41.5


def test_that_a_formula_that_gives_an_empty_text_is_a_blank(tmp_path: Path) -> None:
    path = with_cells(tmp_path, {"F2": "=1"})
    repack(
        path,
        lambda name, part: re.sub(rb'<c r="F2"[^>]*>.*?</c>', b'<c r="F2" t="str"><f>1</f><v></v></c>', part),
    )
    assert read(path).visits[0].readings.left_c == 41.5


def test_that_a_spreadsheet_error_is_asked_about_and_no_blank(tmp_path: Path) -> None:
    (question,) = read(with_cells(tmp_path, {"F2": "#DIV/0!"})).questions
    assert (question.code, question.cell, question.found) == ("unreadable-value", "F2", "#DIV/0!")


def test_that_cells_without_names_are_counted(tmp_path: Path) -> None:
    path = with_cells(tmp_path, {"F2": "=41", "F3": "=42"})
    repack(
        path, lambda name, part: re.sub(rb' r="[A-Z]*[0-9]+"', b"", part) if "worksheets" in name else part
    )
    assert {question.cell for question in read(path).questions} >= {"F2"}


def test_that_a_sheet_is_found_by_an_absolute_part_name(tmp_path: Path) -> None:
    path = with_cells(tmp_path, {"F2": "=41"})
    repack(path, lambda name, part: part.replace(b'Target="worksheets', b'Target="/xl/worksheets'))
    assert [question.code for question in read(path).questions] == ["formula-without-value"]


def test_that_trouble_beyond_the_last_value_widens_the_grid(tmp_path: Path) -> None:
    (grid,) = workbook.grids_of(with_cells(tmp_path, {"H4": "=1"}).read_bytes(), "round.xlsx")
    assert grid.at(3, 7) == Trouble("formula-without-value", "=1")
    assert (grid.at(3, 0), grid.at(9, 0), grid.at(-1, 0), grid.at(1, 99)) == (None, None, None, None)


def test_that_dates_numbers_and_truths_keep_their_kind(tmp_path: Path) -> None:
    cells = {"G2": datetime(2026, 10, 17, 9, 30), "H2": date(2026, 10, 17), "I2": True, "J2": "text", "K2": 3}
    (grid,) = workbook.grids_of(with_cells(tmp_path, cells).read_bytes(), "round.xlsx")
    assert list(grid.rows[1][6:]) == [datetime(2026, 10, 17, 9, 30), date(2026, 10, 17), True, "text", 3.0]
    assert [shown(cell) for cell in grid.rows[1][6:]] == [
        "2026-10-17 09:30:00",
        "2026-10-17",
        "TRUE",
        "text",
        "3",
    ]


def test_that_serial_dates_of_the_1904_manner_are_read_as_such(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ("A1", 44850, 60, 15, 41, 41)]})
    repack(
        path,
        lambda name, part: (
            part.replace(b"<workbookPr ", b'<workbookPr date1904="1" ') if name == "xl/workbook.xml" else part
        ),
    )
    assert read(path).visits[0].on == date(2026, 10, 17)


def test_that_a_hidden_sheet_with_a_table_is_asked_about_not_read(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW], "Old": [HEADING, ROW], "Lists": [["a", "b"]]})
    book = openpyxl.load_workbook(path)
    book["Old"].sheet_state = "hidden"
    book["Lists"].sheet_state = "veryHidden"
    book.save(path)
    reading = read(path)
    assert len(reading.visits) == 1
    assert [(question.sheet, question.code) for question in reading.questions] == [("Old", "hidden-sheet")]


def test_that_a_chart_sheet_is_passed_over(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    book = openpyxl.load_workbook(path)
    book.create_chartsheet("Chart")
    book.save(path)
    assert len(read(path).visits) == 1


@pytest.mark.parametrize("far", [b"XFD1048576", b"A1048576", b"ALM2", b"xfd9", b"ZZ20000"])
def test_that_a_cell_too_far_out_is_refused_before_the_memory_fills(tmp_path: Path, far: bytes) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    repack(path, in_sheet(b'r="F2"', b'r="' + far + b'"'))
    assert "row" in fault_of(path).detail


@pytest.mark.parametrize("odd", [b"&#88;FD1048576", b"$F$2", b" F2", b"F", b"2", b"F2:G3"])
def test_that_a_veiled_or_odd_cell_name_is_refused(tmp_path: Path, odd: bytes) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    fault_of(repack(path, in_sheet(b'r="F2"', b'r="' + odd + b'"')))


def test_that_a_cell_named_twice_is_refused(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    fault_of(repack(path, in_sheet(b'r="F2"', b'r="F2" r="XFD1048576"')))


def test_that_parts_not_in_utf_8_are_refused(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    fault = fault_of(
        repack(path, lambda name, part: part.decode().encode("utf-16") if "sheet1" in name else part)
    )
    assert "UTF-8" in fault.detail


def test_that_a_bomb_is_refused_within_its_bound(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(package, "MOST_BYTES", 1_000_000)
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    repack(path, lambda name, part: part + b" " * 3_000_000 if "sheet1" in name else part)
    assert path.stat().st_size < 100_000
    assert fault_of(path).title == "The file is too big"


def test_that_an_entity_bomb_is_refused(tmp_path: Path) -> None:
    path = with_cells(tmp_path, {"F2": "=1"})
    levels = b"".join(b'<!ENTITY e%d "%s">' % (n, b"&e%d;" % (n - 1) * 10) for n in range(1, 10))
    bomb = b'<!DOCTYPE x [<!ENTITY e0 "ha">' + levels + b"]>"
    change = in_sheet(b"<worksheet", bomb + b"<worksheet")
    repack(path, lambda name, part: change(name, part).replace(b"<f>1</f>", b"<f>&e9;</f>"))
    fault_of(path)


def test_that_a_part_said_to_be_smaller_than_it_is_is_refused(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    with zipfile.ZipFile(path) as archive:
        size = archive.getinfo("xl/worksheets/sheet1.xml").file_size
    content = path.read_bytes().replace(size.to_bytes(4, "little"), (50).to_bytes(4, "little"))
    path.write_bytes(content)
    fault_of(path)


def test_that_too_many_or_doubled_parts_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    monkeypatch.setattr(package, "MOST_PARTS", 3)
    assert "list of parts" in fault_of(path).detail


def test_that_a_locked_part_is_refused(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    content = bytearray(path.read_bytes())
    for mark, place in ((b"PK\x01\x02", 8), (b"PK\x03\x04", 6)):
        at = content.find(mark)
        content[at + place] |= 1
    path.write_bytes(content)
    assert "password" in fault_of(path).title


def test_that_an_unusual_packing_is_refused(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    assert "unusual" in fault_of(repack(path, lambda name, part: part, zipfile.ZIP_BZIP2)).detail


def test_that_another_container_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "letter.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("word/document.xml", "<a/>")
        archive.writestr("picture.png", b"\0\1")
    assert "text document" in fault_of(path).detail


@pytest.mark.parametrize(
    "content",
    [b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, b"PK\x03\x04 rubbish", b"PK", b"%PDF-1.7\n\0\0"],
)
def test_that_a_file_of_another_kind_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "round.xlsx"
    path.write_bytes(content)
    fault_of(path)


@pytest.mark.parametrize("content", [b"", b" \r\n\r\n"])
def test_that_an_empty_file_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "round.csv"
    path.write_bytes(content)
    assert "empty" in fault_of(path).title


def test_that_a_workbook_of_empty_sheets_is_refused(tmp_path: Path) -> None:
    assert "no table" in fault_of(workbook_file(tmp_path, {"One": [], "Two": []})).title


def test_that_no_file_or_a_folder_is_refused(tmp_path: Path) -> None:
    fault_of(tmp_path / "none.xlsx")
    fault_of(tmp_path)


def test_that_a_file_that_cannot_be_opened_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path) -> bytes:
        raise PermissionError(13, "not allowed")

    path = workbook_file(tmp_path, {"Round": [HEADING, ROW]})
    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert "not allowed" in fault_of(path).detail


def test_that_a_file_beyond_its_bound_is_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("estate.intake.opening.MOST_FILE_BYTES", 10)
    assert "too big" in fault_of(workbook_file(tmp_path, {"Round": [HEADING, ROW]})).title


def test_that_a_panic_of_the_reader_is_a_damaged_file_and_other_ends_go_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class PanicException(BaseException):
        pass

    content = (SHEETS / "round-titled.xlsx").read_bytes()
    for thrown, expected in ((PanicException, IntakeFault), (KeyboardInterrupt, KeyboardInterrupt)):

        def fall(parts: Mapping[str, bytes], thrown: type[BaseException] = thrown) -> BytesIO:
            raise thrown

        monkeypatch.setattr(workbook, "repacked", fall)
        with pytest.raises(expected):
            workbook.grids_of(content, "round.xlsx")


def test_that_a_place_is_named_as_a_spreadsheet_program_names_it() -> None:
    places = [
        place_name(0, 0),
        place_name(8, 2),
        place_name(0, 25),
        place_name(0, 26),
        place_name(1, 701),
        place_name(1, 702),
    ]
    assert places == ["A1", "C9", "Z1", "AA1", "ZZ2", "AAA2"]
