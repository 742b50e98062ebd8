"""Files that are no sheets are refused by name, whatever their own name says."""

import zipfile
from io import BytesIO
from pathlib import Path

import pytest

from estate.errors import IntakeFault
from estate.intake import opening, workbook
from estate.intake.compound import Compound
from estate.intake.grid import Grid
from estate.intake.opening import grids_in
from tests.intake.making import FORMS, workbook_file

MAIL = b"Received: from a\r\nSubject: your sheet\r\nMIME-Version: 1.0\r\n\r\nDear all,\r\n"


def widest(grid: Grid) -> tuple[int, int]:
    return max(map(len, grid.rows), default=0), 0


def fault_of(content: bytes) -> IntakeFault:
    with pytest.raises(IntakeFault) as caught:
        grids_in(content, "round.xlsx", widest)
    assert caught.value.remedy
    return caught.value


def container(*names: str) -> bytes:
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name in names:
            archive.writestr(name, b"<a/>")
    return packed.getvalue()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"%PDF-1.7\n1 0 obj", "a PDF document"),
        (b"\n\n%PDF-1.4 late", "a PDF document"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"\xff\xd8\xff\xe0 JFIF", "a picture"),
        (b"{\\rtf1 text}", "a text document"),
        (b"\x1f\x8b\x08 packed", "a packed archive"),
        (b"SQLite format 3\0 and more", "a database"),
        (b"MZ\x90\0", "a program"),
        (b"<html><table><tr><td>Ref</td></tr></table></html>", "a web page"),
        (b"\xef\xbb\xbf\r\n<!DOCTYPE HTML><html>", "a web page"),
        ("<table><tr><td>Ref".encode("utf-16"), "a web page"),
        (b'<?xml version="1.0"?><Workbook/>', "an XML file"),
        (MAIL, "a mail"),
        (container("word/document.xml"), "a text document"),
        (container("ppt/presentation.xml"), "a set of slides"),
        (container("xl/workbook.bin"), "binary xlsb form"),
        (container("round.xlsx", "notes.txt"), "a packed folder"),
        (b"\0\1\2\3" * 20, "neither a workbook nor text"),
        (b"\1\2\3\4 text" * 20, "neither a workbook nor text"),
    ],
)
def test_that_a_file_of_another_kind_is_named(content: bytes, said: str) -> None:
    assert said in fault_of(content).detail


def test_that_lines_like_those_of_a_mail_may_stand_in_a_sheet() -> None:
    (grid,) = grids_in(b"Received: 17 Oct 2026\nRef;Date\nA1;17 Oct 2026\n", "round.csv", widest)
    assert list(grid.rows[1]) == ["Ref", "Date"]


@pytest.mark.parametrize("file", ["every-cell.xlsx", "every-cell.xls", "every-cell.ods"])
def test_that_a_wrong_ending_does_not_matter(file: str) -> None:
    grids = grids_in((FORMS / file).read_bytes(), "round.csv", widest)
    assert [grid.name for grid in grids] == ["Round", "Old", "Empty"]


def test_that_bytes_beyond_the_bound_are_refused_unread(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "MOST_FILE_BYTES", 10)
    assert "too big" in fault_of(b"Ref;Date;Hot").title


def test_that_no_bytes_are_no_sheet() -> None:
    assert "empty" in fault_of(b" \r\n").title


def spoilt(name: str, old: bytes, new: bytes) -> bytes:
    packed = BytesIO()
    with zipfile.ZipFile(FORMS / "every-cell.xlsx") as archive, zipfile.ZipFile(packed, "w") as copy:
        for each in archive.namelist():
            part = archive.read(each)
            assert each != name or old in part
            copy.writestr(each, part.replace(old, new) if each == name else part)
    return packed.getvalue()


SHEET, BOOK, STRINGS = "xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/sharedStrings.xml"


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        (SHEET, b"<sheetData>", b"<sheetData>\7", "characters"),
        (SHEET, b"UTF-8", b"ISO-8859-1", "UTF-8"),
        (STRINGS, b"<sst", b'<!DOCTYPE a [<!ENTITY b "c">]><sst', "entities"),
        (STRINGS, b'uniqueCount="', b'uniqueCount="9999', "claims"),
        (STRINGS, b'uniqueCount="', b'uniqueCount="&#57;', "claims"),
        (BOOK, b"<sheets>", b"<sheets>" + b" " * workbook.MOST_BOOK_BYTES, "claims"),
        (BOOK, b'name="Old"', b'name="Round"', "list of sheets"),
        (SHEET, b"</sheetData>", b'<row><c t="e"><v>', "can't be opened"),
        (SHEET, b'<row r="3"', b'<row r="three"', "can't be opened"),
    ],
)
def test_that_a_hostile_part_is_refused(name: str, old: bytes, new: bytes, said: str) -> None:
    assert said in fault_of(spoilt(name, old, new)).detail


@pytest.mark.parametrize(
    "cells", [b"<c><v>1</v></c>" * 1_001, b'<c r="A1"/><c  r="XFD2"/>', b"<!-- --><c r='XFD9'/>"]
)
def test_that_a_row_without_end_is_refused_however_its_cells_are_named(cells: bytes) -> None:
    content = spoilt(SHEET, b"</sheetData>", b"<row>" + cells + b"</row></sheetData>")
    assert "too big" in fault_of(content).title


def test_that_sheets_too_big_together_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = workbook_file(tmp_path, {"Round": [("a", "b")], "Other": [("c", "d")]})
    monkeypatch.setattr("estate.intake.package.MOST_CELLS", 3)
    assert "together" in fault_of(path.read_bytes()).detail


def test_that_too_many_elements_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("estate.intake.package.MOST_MARKS", 50)
    assert "more cells than can be read" in fault_of((FORMS / "every-cell.xlsx").read_bytes()).detail


def test_that_a_part_listed_twice_is_refused() -> None:
    twice = container("xl/workbook.xml", "xl\\styles.xml", "xl/styles.xml")
    assert "list of parts" in fault_of(twice).detail


def test_that_readers_asked_for_what_is_not_there_refuse() -> None:
    with pytest.raises(IntakeFault, match="no workbook"):
        workbook.grids_of(container("word/document.xml"), "round.xlsx")
    with pytest.raises(IntakeFault, match="has no part"):
        Compound((FORMS / "every-cell.xls").read_bytes(), "round.xls").stream("other")
