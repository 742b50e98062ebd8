"""The same sheet in each form gives the same grid."""

import zipfile
from collections.abc import Callable, Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from estate.errors import IntakeFault
from estate.intake import package
from estate.intake.grid import Cell, Grid, Trouble, words_of
from estate.intake.opening import grids_in
from tests.intake.making import FORMS, HEADING, workbook_file

DIVIDED, MISSING, UNNAMED = (Trouble("unreadable-value", text) for text in ("#DIV/0!", "#N/A", "#NAME?"))
EVERY_CELL: list[list[Cell]] = [
    ["Marlpit Cross Community Hospital"],
    [
        "Ref",
        "Date",
        "Hot °C",
        "Cold °C",
        "Mixed found °C",
        "Mixed left °C",
        "Remarks",
        "Key",
        "Time",
        "Took",
        "Share",
        "Seen",
        "Whole",
        "Sum",
        "Bad",
        "Empty",
    ],
    [
        "A1",
        date(2026, 10, 17),
        60.5,
        15.25,
        41.5,
        41.0,
        "fine",
        "k1",
        time(9, 30),
        timedelta(hours=27, minutes=15),
        0.5,
        True,
        3.0,
        75.75,
        DIVIDED,
        None,
    ],
    [
        "A2",
        datetime(2026, 10, 18, 9, 30),
        61.0,
        14.0,
        43.25,
        42.0,
        "two\nlines",
        "k2",
        time(14, 5, 10),
        timedelta(minutes=5),
        0.125,
        False,
        -4.0,
        "as A2",
        MISSING,
        True,
    ],
    [
        "A3",
        date(2026, 10, 19),
        62.0,
        13.0,
        42.75,
        41.5,
        "Größe ½ — “café” ✓",
        "k3",
        time(0),
        timedelta(days=2),
        1.0,
        True,
        1_000_000.0,
        124.0,
        UNNAMED,
        62.0,
    ],
    [],
    ["Signed", None, "by hand"],
]


def grids(path: Path) -> tuple[Grid, ...]:
    return grids_in(path.read_bytes(), path.name, lambda grid: (0, 0))


def trimmed(rows: Sequence[Sequence[Cell]]) -> list[list[Cell]]:
    """Rows without the blanks at their ends; a duration of less than a day is a time to some programs."""
    found = []
    for row in rows:
        cells = [time(0, 5) if cell == timedelta(minutes=5) else cell for cell in row]
        while cells and cells[-1] is None:
            cells.pop()
        found.append(cells)
    return found


def flat(folder: Path) -> Path:
    """The document of one part that the packed one holds."""
    with zipfile.ZipFile(FORMS / "every-cell.ods") as archive:
        content = archive.read("content.xml")
    path = folder / "every-cell.fods"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize("form", ["xlsx", "xls", "ods", "fods"])
def test_that_each_form_gives_every_cell_alike(tmp_path: Path, form: str) -> None:
    path = flat(tmp_path) if form == "fods" else FORMS / f"every-cell.{form}"
    sheet, old, empty = grids(path)
    assert trimmed(sheet.rows) == trimmed(EVERY_CELL)
    assert (sheet.name, sheet.hidden, sheet.epoch) == ("Round", False, date(1899, 12, 30))
    assert sheet.merged == ((0, 0, 0, 5), (6, 2, 7, 3))
    assert sheet.hidden_rows == {3}
    assert sheet.hidden_columns == {7}
    assert (old.name, old.hidden, old.at(1, 1)) == ("Old", True, 1.0)
    assert (empty.name, trimmed(empty.rows)) == ("Empty", [])


@pytest.mark.parametrize("file", ["every-cell.xls", "not-worked-out.xls"])
def test_that_an_old_workbook_is_read_as_a_second_reader_reads_it(file: str) -> None:
    mine = grids(FORMS / file)[0]
    theirs = CalamineWorkbook.from_path(FORMS / file).get_sheet_by_index(0).to_python(skip_empty_area=False)
    assert len(mine.rows) == len(theirs)
    for ours, others in zip(mine.rows, theirs, strict=True):
        for cell, other in zip(ours, others, strict=True):
            if isinstance(cell, Trouble):
                assert other == ""
            elif isinstance(other, datetime) and not isinstance(cell, datetime):
                assert (cell, other.time()) == (other.date(), time())
            else:
                assert (cell or "") == (other or "")


def test_that_a_formula_never_worked_out_is_no_blank_in_an_old_workbook() -> None:
    (grid,) = grids(FORMS / "not-worked-out.xls")
    unknown = Trouble("formula-without-value", "a formula")
    assert [grid.at(row, 5) for row in (9, 10, 20, 30)] == [41.0, unknown, unknown, unknown]
    assert grid.merged == ((32, 0, 32, 3),)
    assert grid.hidden_rows == {4}
    assert grid.hidden_columns == {6}
    texts = {str(grid.at(row, 6)) for row in range(1, 31)}
    assert texts == {("Größe ✓ " if row % 2 else "plain ") * 60 + str(row) for row in range(1, 31)}


def changed(path: Path, change: Callable[[str, bytes], bytes]) -> Path:
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name, change(name, part))
    return path


def sheet_of(folder: Path, rows: Sequence[Sequence[Any]], old: bytes = b"", new: bytes = b"") -> Grid:
    """The grid of a workbook after a change to the bytes of its sheet."""
    path = workbook_file(folder, {"Round": rows})
    changed(path, lambda name, part: part.replace(old, new) if old and "sheet1" in name else part)
    return grids(path)[0]


def test_that_a_nought_for_a_formula_yet_to_be_worked_out_is_no_value(tmp_path: Path) -> None:
    formula = b"<f>1+1</f><v />"
    for value, expected in ((b"0", Trouble("formula-without-value", "=1+1")), (b"41.5", 41.5)):
        grid = sheet_of(tmp_path, [HEADING, ["=1+1"]], formula, b"<f>1+1</f><v>" + value + b"</v>")
        assert grid.at(1, 0) == expected


def test_that_a_nought_is_a_value_where_the_workbook_was_worked_out(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [["=1+1"], ["=2"]]})
    changed(
        path,
        lambda name, part: part.replace(b'fullCalcOnLoad="1"', b"").replace(
            b"<f>1+1</f><v />", b"<f>1+1</f><v>0</v>"
        ),
    )
    assert [grids(path)[0].at(row, 0) for row in (0, 1)] == [0.0, Trouble("formula-without-value", "=2")]


def test_that_hidden_and_filtered_rows_and_hidden_columns_are_told(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING, *[("A1",)] * 4]})
    book = openpyxl.load_workbook(path)
    sheet = book.worksheets[0]
    sheet.row_dimensions[3].hidden = True
    for letter in "CDE":
        sheet.column_dimensions[letter].hidden = True
    sheet.column_dimensions.group("C", "E", hidden=True)
    book.save(path)
    (grid,) = grids(path)
    assert grid.hidden_rows == {2}
    assert grid.hidden_columns == {2, 3, 4}


def test_that_a_sheet_that_is_protected_is_read(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING]})
    book = openpyxl.load_workbook(path)
    book.worksheets[0].protection.set_password("marlpit")
    book.security.lockStructure = True
    book.save(path)
    assert grids(path)[0].at(0, 0) == "Ref"


def test_that_macros_links_and_pictures_are_not_even_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING]})
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
        for name in ("xl/vbaProject.bin", "xl/externalLinks/externalLink1.xml", "xl/media/image1.xml"):
            archive.writestr(name, b" " * 2_000_000)
    monkeypatch.setattr(package, "MOST_BYTES", 1_000_000)
    assert grids(path)[0].at(0, 0) == "Ref"


def test_that_characters_written_by_number_are_read_and_unseen_ones_dropped(tmp_path: Path) -> None:
    grid = sheet_of(tmp_path, [["two_x000D_\nlines"], ["a_x0007_b_x0041__x005F_x000D_"], ["_x0007_"]])
    assert [words_of(grid.at(row, 0)) for row in range(3)] == ["two lines", "abA_x000D_", ""]


def test_that_strokes_of_another_kind_in_part_names_do_not_matter(tmp_path: Path) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING]})
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name.replace("/", "\\"), part)
    assert grids(path)[0].at(0, 0) == "Ref"


def test_that_dates_of_the_1904_manner_are_read_as_shown(tmp_path: Path) -> None:
    path = tmp_path / "round.xlsx"
    book = openpyxl.Workbook()
    book.epoch = datetime(1904, 1, 1)
    book.worksheets[0].append([date(2026, 10, 17), datetime(2026, 10, 17, 9, 30)])
    book.save(path)
    (grid,) = grids(path)
    assert list(grid.rows[0]) == [date(2026, 10, 17), datetime(2026, 10, 17, 9, 30)]
    assert grid.epoch == date(1904, 1, 1)


def test_that_dates_written_out_in_a_workbook_are_dates(tmp_path: Path) -> None:
    grid = sheet_of(tmp_path, [[1234]], b'<c r="A1" t="n"><v>1234</v>', b'<c r="A1" t="d"><v>2026-10-17</v>')
    assert grid.at(0, 0) == date(2026, 10, 17)


@pytest.mark.parametrize(
    "pattern", ['0.0"°C"', '0.0" deg"', "0.0 \\d", "#,##0.00 [$€-407]", "0.0_d", "[Red]0.0", "0%", "*d0.0"]
)
def test_that_letters_around_a_number_make_no_date_of_it(tmp_path: Path, pattern: str) -> None:
    path = tmp_path / "round.xlsx"
    book = openpyxl.Workbook()
    book.worksheets[0].append([41.5])
    book.worksheets[0]["A1"].number_format = pattern
    book.save(path)
    assert grids(path)[0].at(0, 0) == 41.5


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"xl/worksheets/sheet1.xml", b"xl/worksheets/sheet9.xml"),
        (b'Target="/xl/worksheets/sheet2.xml"', b'Target="/xl/worksheets/sheet1.xml"'),
    ],
)
def test_that_a_list_that_names_a_sheet_wrongly_is_refused(tmp_path: Path, old: bytes, new: bytes) -> None:
    path = workbook_file(tmp_path, {"Round": [HEADING], "Other": [HEADING]})
    changed(path, lambda name, part: part.replace(old, new) if name.endswith("workbook.xml.rels") else part)
    with pytest.raises(IntakeFault, match="damaged"):
        grids(path)


def test_that_comments_in_a_sheet_do_not_hide_a_formula(tmp_path: Path) -> None:
    grid = sheet_of(tmp_path, [["=1"]], b"</f><v />", b"</f><!-- x --><v />")
    assert grid.at(0, 0) == Trouble("formula-without-value", "=1")


def test_that_a_formula_with_a_text_of_its_own_is_read_by_it(tmp_path: Path) -> None:
    grid = sheet_of(
        tmp_path, [["=1"]], b'<c r="A1"><f>1</f><v />', b'<c r="A1" t="inlineStr"><f>1</f><is><t>x</t></is>'
    )
    assert grid.at(0, 0) == "x"
