"""Workbooks of the form from 1997 to 2003, sound and spoilt."""

import struct
from datetime import date, datetime, time, timedelta

import pytest

from estate.errors import IntakeFault
from estate.intake import old_book, old_strings, package
from estate.intake.compound import SIGN
from estate.intake.grid import Cell, Grid, Trouble
from estate.intake.old_formula import gives_a_number
from estate.intake.opening import grids_in
from tests.intake.making import FORMS
from tests.intake.old_making import FINISH, begin, compound, old_workbook, record
from tests.intake.old_making import old_book as book_stream

FORMAT, STYLE, STRINGS, CONTINUE = 0x041E, 0x00E0, 0x00FC, 0x003C
NUMBER, RK, MULRK, SHARED, LABEL, TRUTH, FORMULA, TEXT = (
    0x0203,
    0x027E,
    0xBD,
    0xFD,
    0x0204,
    0x0205,
    0x06,
    0x0207,
)
UNKNOWN = Trouble("formula-without-value", "a formula")
SUM = b"\x24\x00\x00\x00\xc0\x1e\x01\x00\x03"
"""The tokens of a cell plus one."""


def grid_of(content: bytes) -> Grid:
    (grid,) = grids_in(content, "round.xls", lambda grid: (0, 0))
    return grid


def fault_of(content: bytes) -> IntakeFault:
    with pytest.raises(IntakeFault) as caught:
        grids_in(content, "round.xls", lambda grid: (0, 0))
    assert caught.value.remedy
    return caught.value


def number(row: int, column: int, value: float, style: int = 0) -> bytes:
    return record(NUMBER, struct.pack("<3Hd", row, column, style, value))


def text(written: str) -> bytes:
    wide = not written.isascii()
    return struct.pack("<HB", len(written), wide) + written.encode("utf-16-le" if wide else "ascii")


def formula(value: bytes, signs: int = 0, tokens: bytes = b"\x1e\x01\x00") -> bytes:
    head = struct.pack("<3H8sH4xH", 0, 0, 0, value, signs, len(tokens))
    return record(FORMULA, head + tokens + b"\x03 more")


def special(kind: int, value: int = 0) -> bytes:
    return bytes([kind, 0, value, 0, 0, 0, 0xFF, 0xFF])


@pytest.mark.parametrize(
    ("pattern", "value", "expected"),
    [
        ("0.0", 41.5, 41.5),
        ('0.0" deg C"', 41.5, 41.5),
        ("[Red]0.0\\d", 41.5, 41.5),
        ("General", 41.5, 41.5),
        ("0.00E+00", 41.5, 41.5),
        ('0.0;"dry"', 41.5, 41.5),
        ("dd/mm/yyyy", 46312.0, date(2026, 10, 17)),
        ("[$-809]dd mmmm yyyy", 46312.0, date(2026, 10, 17)),
        ("dd/mm/yyyy hh:mm", 46312.395833333336, datetime(2026, 10, 17, 9, 30)),
        ("h:mm AM/PM", 0.3958333333333333, time(9, 30)),
        ("[h]:mm", 1.25, timedelta(hours=30)),
        ("dd/mm/yyyy", -1.0, -1.0),
        ("dd/mm/yyyy", 9e9, 9e9),
    ],
)
def test_that_a_number_is_what_its_format_shows(pattern: str, value: float, expected: Cell) -> None:
    styles = record(STYLE, struct.pack("<2H", 0, 0)) + record(STYLE, struct.pack("<2H", 0, 170))
    book = record(FORMAT, struct.pack("<H", 170) + text(pattern)) + styles
    assert grid_of(old_workbook(number(0, 0, value, style=1), book)).at(0, 0) == expected


@pytest.mark.parametrize(
    ("built_in", "expected"),
    [(0, 46312.5), (2, 46312.5), (14, datetime(2026, 10, 17, 12)), (46, timedelta(days=46312.5))],
)
def test_that_formats_known_by_number_are_known(built_in: int, expected: Cell) -> None:
    book = record(STYLE, struct.pack("<2H", 0, built_in))
    assert grid_of(old_workbook(number(0, 0, 46312.5), book)).at(0, 0) == expected


def test_that_a_date_of_the_1904_manner_is_counted_from_then() -> None:
    book = record(0x0022, b"\1\0") + record(STYLE, struct.pack("<2H", 0, 14))
    grid = grid_of(old_workbook(number(0, 0, 44850) + number(1, 0, 2_958_000), book))
    assert (grid.epoch, grid.at(0, 0)) == (date(1904, 1, 1), date(2026, 10, 17))
    assert grid.at(1, 0) == 2_958_000


def test_that_a_style_that_is_not_listed_shows_the_number() -> None:
    assert grid_of(old_workbook(number(0, 0, 41.5, style=9))).at(0, 0) == 41.5


@pytest.mark.parametrize(
    ("short", "expected"),
    [(42 << 2 | 2, 42.0), (4150 << 2 | 3, 41.5), ((-3 & 0x3FFFFFFF) << 2 | 2, -3.0), (0x4044C000, 41.5)],
)
def test_that_short_numbers_are_lengthened(short: int, expected: float) -> None:
    one = record(RK, struct.pack("<3HI", 0, 0, 0, short))
    many = record(MULRK, struct.pack("<2H", 1, 0) + struct.pack("<HI", 0, short) * 2 + struct.pack("<H", 1))
    grid = grid_of(old_workbook(one + many))
    assert [grid.at(0, 0), grid.at(1, 0), grid.at(1, 1)] == [expected] * 3


def test_that_texts_carried_on_over_records_are_read_whole() -> None:
    rich = struct.pack("<HBH", 4, 8, 2) + b"rich" + b"runs" * 2
    asian = struct.pack("<HBI", 2, 4, 6) + b"ab" + b"extra!"
    cut = struct.pack("<HB", 6, 0) + b"cut"
    strings = struct.pack("<2I", 9, 9) + rich + asian + cut
    more = b"\1" + "ßé✓".encode("utf-16-le") + text("bell\7 line\n")[:-1]
    book = record(STRINGS, strings) + record(CONTINUE, more) + record(CONTINUE, b"\0\n" + text(""))
    cells = b"".join(record(SHARED, struct.pack("<3HI", row, 0, 0, row)) for row in range(5))
    grid = grid_of(old_workbook(cells + number(5, 0, 1), book + record(0x5C) + record(CONTINUE, b"aside")))
    assert [grid.at(row, 0) for row in range(5)] == ["rich", "ab", "cutßé✓", "bell line\n", None]


@pytest.mark.parametrize(
    "strings",
    [
        struct.pack("<HB", 6, 0) + b"cut",
        struct.pack("<HB", 2, 1) + b"odd",
        struct.pack("<H", 2),
    ],
)
def test_that_texts_that_are_cut_off_are_refused(strings: bytes) -> None:
    book = record(STRINGS, struct.pack("<2I", 1, 1) + strings)
    assert "cut off" in fault_of(old_workbook(b"", book)).detail


def test_that_texts_end_with_their_records_whatever_count_is_claimed() -> None:
    book = record(STRINGS, struct.pack("<2I", 0xFFFFFFFF, 0xFFFFFFFF) + text("only"))
    assert grid_of(old_workbook(record(SHARED, struct.pack("<3HI", 0, 0, 0, 0)), book)).at(0, 0) == "only"


def test_that_extras_said_to_be_longer_than_the_file_are_passed_over() -> None:
    book = record(STRINGS, struct.pack("<2I", 2, 2) + struct.pack("<HBI", 1, 4, 0xFFFFFFFF) + b"a")
    assert grid_of(old_workbook(record(SHARED, struct.pack("<3HI", 0, 0, 0, 0)), book)).at(0, 0) == "a"


def test_that_too_many_texts_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(old_strings, "MOST_CELLS", 3)
    book = record(STRINGS, struct.pack("<2I", 9, 9) + text("a") * 4)
    assert "too big" in fault_of(old_workbook(b"", book)).title


def test_that_texts_truths_and_errors_in_cells_are_read() -> None:
    place = struct.pack("<3H", 0, 0, 0)
    for cell, expected in (
        (record(LABEL, place + text("own ✓")), "own ✓"),
        (record(0x00D6, place + text("rich") + b"runs"), "rich"),
        (record(LABEL, place + b"\0\0"), None),
        (record(TRUTH, place + b"\1\0"), True),
        (record(TRUTH, place + b"\x2a\1"), Trouble("unreadable-value", "#N/A")),
        (record(TRUTH, place + b"\x99\1"), Trouble("unreadable-value", "error")),
        (record(0x0201, place), None),
    ):
        assert grid_of(old_workbook(cell + number(0, 1, 1))).at(0, 0) == expected


@pytest.mark.parametrize(
    ("records", "expected"),
    [
        (formula(struct.pack("<d", 41.5)), 41.5),
        (formula(struct.pack("<d", 0)), 0.0),
        (formula(struct.pack("<d", 0), signs=2), UNKNOWN),
        (formula(struct.pack("<d", 41.5), signs=2), 41.5),
        (formula(special(0)) + record(0x04BC) + record(TEXT, text("gave")), "gave"),
        (formula(special(0)), UNKNOWN),
        (formula(special(1, 1)), True),
        (formula(special(2, 7)), Trouble("unreadable-value", "#DIV/0!")),
        (formula(special(3)), None),
        (formula(special(3), signs=2), UNKNOWN),
        (formula(special(3), tokens=SUM), UNKNOWN),
        (record(TEXT, text("of nothing")), None),
    ],
)
def test_that_a_formula_is_read_by_what_it_gave(records: bytes, expected: Cell) -> None:
    assert grid_of(old_workbook(records + number(0, 1, 1))).at(0, 0) == expected


@pytest.mark.parametrize(
    ("tokens", "expected"),
    [
        (SUM, True),
        (SUM + b"\x15", True),
        (b"\x25\x00\x00\x05\x00\x00\xc0\x00\xc0\x19\x10\x00\x00", True),
        (b"\x25\x00\x00\x05\x00\x00\xc0\x00\xc0\x42\x01\x05\x00", True),
        (b"\x44\x00\x00\x00\xc0\x41\x18\x00", True),
        (b"\x44\x00\x00\x00\xc0\x42\x03\x01\x00", False),
        (b"\x44\x00\x00\x00\xc0\x41\x76\x00", False),
        (b"\x44\x00\x00\x00\xc0", False),
        (b"\x17\x00\x00", False),
        (b"\x15", False),
        (b"", False),
    ],
)
def test_that_a_formula_that_must_give_a_number_is_told(tokens: bytes, expected: bool) -> None:
    assert gives_a_number(tokens) is expected


def test_that_hidden_and_merged_are_told_and_charts_in_a_sheet_passed_over() -> None:
    rows = b"".join(record(0x0208, struct.pack("<H10xHH", row, row * 0x20, 0)) for row in (0, 1))
    columns = record(0x007D, struct.pack("<5H", 1, 0xFFFF, 0, 0, 1)) + record(
        0x007D, struct.pack("<5H", 0, 0, 0, 0, 0)
    )
    merged = record(0x00E5, struct.pack("<5H", 1, 0, 1, 0, 2))
    chart = begin(32) + number(50, 0, 1) + FINISH
    grid = grid_of(old_workbook(rows + columns + chart + merged + number(0, 0, 1), hidden=1))
    assert grid.hidden_rows == {1}
    assert grid.hidden_columns == frozenset(range(1, 256))
    assert (grid.merged, len(grid.rows), grid.hidden) == (((0, 0, 1, 2),), 1, True)


def test_that_a_sheet_of_macros_is_passed_over() -> None:
    assert grids_in(old_workbook(number(0, 0, 1), form=1), "round.xls", lambda grid: (0, 0)) == ()


def test_that_a_locked_workbook_is_told_as_such() -> None:
    for content in (
        old_workbook(b"", record(0x002F, b"\1\0" + b"\0" * 52)),
        compound([("EncryptionInfo", b"info"), ("EncryptedPackage", b"\0" * 5_000)]),
        (FORMS / "locked.xlsx").read_bytes(),
    ):
        assert "locked with a password" in fault_of(content).title


def test_that_small_streams_are_read_too() -> None:
    grid = grid_of(old_workbook(number(0, 0, 41.5)))
    whole = compound([("Other", b"x"), ("workbook", book_stream(number(0, 0, 41.5)))], small_below=64)
    assert grid.rows == grid_of(whole).rows == [[41.5]]


@pytest.mark.parametrize(
    ("stream", "said"),
    [
        ("Book", "1997"),
        ("WordDocument", "text document"),
        ("PowerPoint Document", "slides"),
        ("__properties_version1.0", "mail"),
        ("Contents", "another program"),
    ],
)
def test_that_another_old_container_is_named(stream: str, said: str) -> None:
    assert said in fault_of(compound([(stream, b"x" * 100)])).detail


def test_that_a_workbook_of_an_older_form_is_refused_by_name() -> None:
    content = compound([("Workbook", begin(5, version=0x0500) + FINISH)])
    assert "before 1997" in fault_of(content).detail


def test_that_sheets_listed_twice_or_over_each_other_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    name = bytes([1, 0]) + b"A"
    listed = [record(0x0085, struct.pack("<I2B", start, 0, 0) + name) for start in (100, 100)]
    assert "list of sheets" in fault_of(compound([("Workbook", begin(5) + b"".join(listed) + FINISH)])).detail
    globals_ = begin(5) + b"".join(listed) * 2 + FINISH
    starts = [len(globals_) + 20 * index for index in range(4)]
    lists = b"".join(record(0x0085, struct.pack("<I2B", start, 0, 0) + name) for start in starts)
    body = begin(16) * 4 + record(0x0300, b"\0" * 3_000) + FINISH * 4
    stream = begin(5) + lists + FINISH + body
    assert "over each other" in fault_of(compound([("Workbook", stream)])).detail
    monkeypatch.setattr(old_book, "MOST_SHEETS", 3)
    assert "list of sheets" in fault_of(compound([("Workbook", stream)])).detail


def test_that_a_sheet_that_is_too_big_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(package, "MOST_ROWS", 10)
    assert "too big" in fault_of(old_workbook(number(10, 0, 1))).title
    assert grid_of(old_workbook(number(9, 0, 1))).at(9, 0) == 1


@pytest.mark.parametrize(
    "stream",
    [
        b"",
        begin(5)[:10],
        record(0x0022, b"\0\0"),
        FINISH,
        begin(5) + record(0x0085, b"\0"),
        begin(5) + record(FORMAT, b"\0\0\5\0") + FINISH,
        begin(5) + FINISH[:3],
        book_stream(record(NUMBER, b"\0\0")),
        book_stream(record(SHARED, struct.pack("<3HI", 0, 0, 0, 7))),
        book_stream(record(FORMULA, b"\0" * 8)),
        book_stream(b"")[:-4],
    ],
)
def test_that_records_cut_off_are_refused(stream: bytes) -> None:
    assert fault_of(compound([("Workbook", stream)])).title == "The file is damaged"


def changed(place: int, form: str, value: int) -> bytes:
    content = bytearray(compound([("Workbook", book_stream(number(0, 0, 1)) + b"\0" * 6_000)]))
    struct.pack_into(form, content, place, value)
    return bytes(content)


@pytest.mark.parametrize(
    ("place", "form", "value"),
    [
        (30, "<H", 31),
        (32, "<H", 9),
        (32, "<H", 0),
        (48, "<I", 0xFFFFFFFE),
        (48, "<I", 0x00FFFFFF),
        (76, "<I", 0xFFFFFFFF),
        (76, "<I", 0x00FFFFFF),
    ],
)
def test_that_a_container_that_contradicts_itself_is_refused(place: int, form: str, value: int) -> None:
    assert fault_of(changed(place, form, value)).title == "The file is damaged"


def test_that_sectors_in_a_circle_are_refused() -> None:
    content = bytearray(changed(30, "<H", 9))
    struct.pack_into("<I", content, len(content) - 512, 0)
    assert "circle" in fault_of(bytes(content)).detail


def test_that_a_table_longer_than_the_file_is_refused() -> None:
    content = bytearray(changed(30, "<H", 9))
    struct.pack_into("<109I", content, 76, *[1] * 109)
    assert "longer than the file" in fault_of(bytes(content)).detail


def test_that_a_list_of_tables_carried_on_in_a_circle_or_out_of_the_file_ends() -> None:
    content = bytearray(changed(30, "<H", 9))
    struct.pack_into("<I", content, 68, 0x00FFFFFF)
    assert grid_of(bytes(content)).at(0, 0) == 1
    more = (len(content) - 512) // 512
    struct.pack_into("<I", content, 68, more)
    content += struct.pack("<128I", *[0xFFFFFFFF] * 127, more)
    assert grid_of(bytes(content)).at(0, 0) == 1


def test_that_a_list_of_tables_carried_on_is_followed() -> None:
    content = bytearray(changed(30, "<H", 9))
    table = struct.unpack_from("<I", content, 76)[0]
    more = (len(content) - 512) // 512
    struct.pack_into("<2I", content, 68, more, 1)
    struct.pack_into("<I", content, 76, 0xFFFFFFFF)
    content += struct.pack("<128I", table, *[0xFFFFFFFF] * 126, 0xFFFFFFFE)
    assert grid_of(bytes(content)).at(0, 0) == 1


def test_that_entries_that_name_each_other_end() -> None:
    content = bytearray(compound([("A", b"x"), ("Workbook", book_stream(number(0, 0, 1)))]))
    entry = content.index("Workbook".encode("utf-16-le"))
    struct.pack_into("<2I", content, entry + 68, 1, 0x00FFFFFF)
    assert grid_of(bytes(content)).at(0, 0) == 1


def test_that_no_more_than_a_sign_is_refused() -> None:
    assert "ends too soon" in fault_of(SIGN + b"\0" * 100).detail
