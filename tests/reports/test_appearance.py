import random
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.worksheet.worksheet import Worksheet

from estate.domain.questions import Question
from estate.reports.marked_copy import CopiedCell, CopiedSheet, marked_copy
from estate.reports.xlsx import appearance, marked
from estate.reports.xlsx.appearance import BOOK, RELATIONS, STYLES, Appearance
from tests.reports.builders import TODAY

SHEET = "xl/worksheets/sheet1.xml"
ROWS: list[list[CopiedCell]] = [["Ref", "Date", 41.5], ["A1", "x", 2.0], [None, "=1+1", 3.0]]
PLAIN_FONT = ("Calibri", 11)


def parts_of_a_workbook() -> dict[str, bytes]:
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Round"
    for number, row in enumerate(ROWS, start=1):
        for column, value in enumerate(row, start=1):
            sheet.cell(number, column).value = value
    sheet["A1"].font = Font("Georgia", 15, bold=True)
    sheet["B1"].border = Border(left=Side("thin"))
    sheet["C1"].number_format = "0.000"
    sheet["C2"].number_format = "0%"
    sheet["A2"].alignment = Alignment("center", wrap_text=True)
    sheet["B2"].fill = PatternFill("solid", "AABBCC")
    sheet.column_dimensions["B"].width = 33
    sheet.row_dimensions[2].height = 50
    file = BytesIO()
    book.save(file)
    with zipfile.ZipFile(file) as archive:
        return {name: archive.read(name) for name in (BOOK, RELATIONS, STYLES, SHEET)}


def replaced(part: str, old: bytes, new: bytes) -> dict[str, bytes]:
    parts = parts_of_a_workbook()
    assert old in parts[part]
    return parts | {part: parts[part].replace(old, new)}


def font_of(parts: dict[str, bytes], row: int = 1, column: int = 1) -> tuple[object, object]:
    dressed = Appearance(parts)
    number = dressed.sheet("Round", 3, 3).cells.get((row, column), 0)
    look = dressed.look(number)
    return look.font.name, look.font.size


def test_that_fonts_fills_borders_alignments_and_formats_are_found() -> None:
    dressed = Appearance(parts_of_a_workbook())
    cells = dressed.sheet("Round", 3, 3).cells
    looks = {place: dressed.look(number) for place, number in cells.items()}
    assert (looks[1, 1].font.name, looks[1, 1].font.size, looks[1, 1].font.bold) == ("Georgia", 15, True)
    assert looks[1, 2].border.left == Side("thin")
    assert (looks[1, 3].number_format, looks[2, 3].number_format) == ("0.000", "0%")
    assert (looks[2, 1].alignment.horizontal, looks[2, 1].alignment.wrap_text) == ("center", True)
    assert looks[2, 2].fill == PatternFill("solid", "AABBCC")


def test_that_widths_and_heights_are_found() -> None:
    found = Appearance(parts_of_a_workbook()).sheet("Round", 3, 3)
    assert (found.widths, found.heights) == ({2: 33.0}, {2: 50.0})


def test_that_nothing_is_looked_at_beyond_what_the_sheet_holds() -> None:
    found = Appearance(parts_of_a_workbook()).sheet("Round", 1, 1)
    assert (set(found.cells), found.widths, found.heights) == ({(1, 1)}, {}, {})


def test_that_a_sheet_may_be_named_from_the_root_and_unlike_its_part() -> None:
    parts = replaced(RELATIONS, b'Target="/xl/worksheets/sheet1.xml"', b'Target="worksheets/sheet1.xml"')
    assert font_of(parts) == font_of(parts_of_a_workbook()) == ("Georgia", 15)


def test_that_cells_without_names_are_counted() -> None:
    parts = replaced(SHEET, b' r="A1"', b"")
    parts[SHEET] = (
        parts[SHEET].replace(b'<row r="1"', b"<row").replace(b' r="B1"', b"").replace(b' r="C1"', b"")
    )
    assert set(Appearance(parts).sheet("Round", 3, 3).cells) >= {(1, 1), (1, 2), (1, 3)}


@pytest.mark.parametrize(
    ("part", "old", "new"),
    [
        (STYLES, b'<sz val="15"', b'<sz val="big"'),
        (STYLES, b"<fonts", b"<lost"),
        (STYLES, b"<cellXfs", b"<lost"),
        (STYLES, b"<", b"<<"),
        (BOOK, b"<", b""),
        (BOOK, b'name="Round"', b'name="Other"'),
        (RELATIONS, b"<Relationships", b"<Relationships odd"),
        (SHEET, b"</sheetData>", b""),
        (SHEET, b'<row r="1"', b'<row r="first"'),
        (SHEET, b'<row r="2"', b'<row r="' + b"9" * 6_000 + b'"'),
    ],
)
def test_that_what_no_program_writes_looks_plain(part: str, old: bytes, new: bytes) -> None:
    parts = parts_of_a_workbook()
    tags = (b"<fonts", b"<cellXfs")
    changed = parts[part].replace(old, new)
    if old in tags:
        changed = changed.replace(b"</" + old[1:], b"</lost")
    assert changed != parts[part]
    assert font_of(parts | {part: changed}) == PLAIN_FONT


def test_that_a_number_out_of_reach_looks_plain() -> None:
    dressed = Appearance(parts_of_a_workbook())
    assert dressed.look(999_999).font.name == dressed.look(999_999).font.name == "Calibri"
    far = Appearance(replaced(STYLES, b'fontId="1"', b'fontId="77"'))
    assert far.look(1).font.name == "Calibri"


def test_that_an_overlong_or_unknown_number_format_is_general() -> None:
    long = Appearance(replaced(STYLES, b'formatCode="0.000"', b'formatCode="' + b"0" * 300 + b'"'))
    numbers = long.sheet("Round", 3, 3).cells
    assert long.look(numbers[1, 3]).number_format == "General"
    unknown = Appearance(replaced(STYLES, b'numFmtId="9"', b'numFmtId="163"'))
    assert unknown.look(numbers[2, 3]).number_format == "General"


@pytest.mark.parametrize("limit", ["MOST_STYLE_BYTES", "MOST_SHEET_BYTES"])
def test_that_a_workbook_beyond_the_bounds_goes_without_formatting(
    monkeypatch: pytest.MonkeyPatch, limit: str
) -> None:
    monkeypatch.setattr(appearance, limit, 100)
    assert font_of(parts_of_a_workbook()) == PLAIN_FONT


def test_that_endless_shapes_of_columns_are_not_followed() -> None:
    col = b'<col min="1" max="16384" width="9"/>'
    parts = replaced(SHEET, b"<cols>", b"<cols>" + col * 50_000)
    assert Appearance(parts).sheet("Round", 3, 3).widths == {1: 9.0, 2: 9.0, 3: 9.0}


def test_that_sizes_no_program_takes_are_left() -> None:
    parts = replaced(SHEET, b'width="33"', b'width="1e9"')
    assert Appearance(parts).sheet("Round", 3, 3).widths == {}


def test_that_mutated_parts_never_stop_a_copy(tmp_path: Path) -> None:
    whole = parts_of_a_workbook()
    asked = (Question("Round", 2, "A2", "unknown-outlet", None, "A1", "Look."),)
    chance = random.Random(20261125)
    for _ in range(60):
        parts = dict(whole)
        name = chance.choice([STYLES, STYLES, SHEET, BOOK, RELATIONS])
        part = bytearray(parts[name])
        for _ in range(chance.randint(1, 12)):
            place = chance.randrange(len(part))
            part[place : place + chance.randint(0, 3)] = bytes(chance.choices(b'<>"/=0129xA &', k=2))
        parts[name] = bytes(part)
        copy = marked_copy("f.xlsx", "Marlpit Cross", TODAY, asked, [CopiedSheet("Round", ROWS)], parts)
        path = marked.write_marked(copy, tmp_path / "m.xlsx")
        assert load_workbook(path)["Round"]["A2"].value == "A1"
