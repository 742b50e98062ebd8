"""OpenDocument spreadsheets, sound and spoilt."""

import zipfile
from datetime import date, datetime, time, timedelta
from io import BytesIO

import pytest

from estate.errors import IntakeFault
from estate.intake import open_cells, open_document, package
from estate.intake.grid import Cell, Grid, Trouble
from estate.intake.opening import grids_in

NAMES = " ".join(
    f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
    for short, name in (
        ("office", "office"),
        ("table", "table"),
        ("text", "text"),
        ("style", "style"),
        ("draw", "drawing"),
    )
)
CALC = 'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'


def document(tables: str, before: str = "") -> bytes:
    body = f"<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body>"
    return f"<office:document-content {NAMES} {CALC}>{before}{body}</office:document-content>".encode()


def sheet(rows: str, name: str = "Round") -> str:
    return f'<table:table table:name="{name}">{rows}</table:table>'


def row(*cells: str, attributes: str = "") -> str:
    return f"<table:table-row {attributes}>{''.join(cells)}</table:table-row>"


def cell(attributes: str = "", text: str = "") -> str:
    return f"<table:table-cell {attributes}>{text}</table:table-cell>"


def typed(kind: str, attributes: str = "", text: str = "") -> str:
    return cell(f'office:value-type="{kind}" {attributes}', text)


def text(words: str) -> str:
    return typed("string", "", f"<text:p>{words}</text:p>")


def grids(content: bytes) -> tuple[Grid, ...]:
    return grids_in(content, "round.fods", lambda grid: (0, 0))


def fault_of(content: bytes) -> IntakeFault:
    with pytest.raises(IntakeFault) as caught:
        grids(content)
    assert caught.value.remedy
    return caught.value


def packed(**parts: bytes) -> bytes:
    container = BytesIO()
    with zipfile.ZipFile(container, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name.replace("__", "/").replace("_xml", ".xml").replace("_", "-"), part)
    return container.getvalue()


P = "<text:p>41.5</text:p>"


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        (typed("float", 'office:value="41.5"', P), 41.5),
        (typed("percentage", 'office:value="0.4"'), 0.4),
        (typed("currency", 'office:value="12"'), 12.0),
        (typed("float", 'office:value="1"', "<text:p>TRUE</text:p>"), True),
        (typed("float", 'office:value="1"', "<text:p>1</text:p>"), 1.0),
        (typed("boolean", 'office:boolean-value="false"'), False),
        (typed("date", 'office:date-value="2026-10-17"'), date(2026, 10, 17)),
        (typed("date", 'office:date-value="2026-10-17T00:00:00"'), date(2026, 10, 17)),
        (typed("date", 'office:date-value="2026-10-17T09:30:00"'), datetime(2026, 10, 17, 9, 30)),
        (typed("time", 'office:time-value="PT09H30M00S"'), time(9, 30)),
        (typed("time", 'office:time-value="PT27H15M00,5S"'), timedelta(hours=27, minutes=15)),
        (typed("time", 'office:time-value="P1DT1H"'), timedelta(hours=25)),
        (typed("time", 'office:time-value="-PT01H00M00S"'), timedelta(hours=-1)),
        (typed("string", 'office:string-value="kept"', "<text:p>shown</text:p>"), "kept"),
        (text("shown"), "shown"),
        (cell("", "<text:p>untyped</text:p>"), "untyped"),
        (text("two<text:s text:c='2'/>blanks<text:tab/>tab<text:line-break/>line"), "two  blanks\ntab\nline"),
        (text("one</text:p><text:p>two"), "one\ntwo"),
        (text("a <text:span>b\nc</text:span>"), "a b c"),
        (text("<text:ruby-text>no</text:ruby-text>yes"), "yes"),
        (text(""), None),
        (cell(), None),
        (cell('table:style-name="ce1"'), None),
        (
            typed("string", "", "<office:annotation><text:p>a comment</text:p></office:annotation>" + P),
            "41.5",
        ),
        (
            typed(
                "string", "", "<draw:frame><draw:text-box><text:p>no</text:p></draw:text-box></draw:frame>"
            ),
            None,
        ),
        (typed("float", 'office:value="41.5"', sheet(row(text("inner")))), 41.5),
        (typed("float", 'office:value="warm"', P), Trouble("unreadable-value", "41.5")),
        (typed("float", 'office:value="NaN"'), Trouble("unreadable-value", "float")),
        (typed("float"), Trouble("unreadable-value", "float")),
        (typed("boolean", 'office:boolean-value="maybe"'), Trouble("unreadable-value", "boolean")),
        (typed("date", 'office:date-value="2026-02-30"'), Trouble("unreadable-value", "date")),
        (typed("date", 'office:date-value="2026-10-17T09:30:00Z"'), Trouble("unreadable-value", "date")),
        (typed("time", 'office:time-value="soon"'), Trouble("unreadable-value", "time")),
        (cell('table:formula="of:=1+1"'), Trouble("formula-without-value", "=1+1")),
        (cell('table:formula="of:=A1"', "<text:p/>"), None),
        (typed("float", 'table:formula="of:=1+1" office:value="2"', "<text:p>2</text:p>"), 2.0),
        (
            typed("string", 'calcext:value-type="error" table:formula="of:=1/0"', "<text:p>#DIV/0!</text:p>"),
            Trouble("unreadable-value", "#DIV/0!"),
        ),
        (
            typed("float", 'office:value="0" table:formula="of:=nosuch"', "<text:p>Err:508</text:p>"),
            Trouble("unreadable-value", "Err:508"),
        ),
        (typed("string", 'calcext:value-type="error"'), Trouble("unreadable-value", "error")),
    ],
)
def test_that_a_cell_is_read_by_its_kind(written: str, expected: Cell) -> None:
    found = grids(document(sheet(row(written, text("after")))))[0]
    assert found.at(0, 0) == expected
    assert type(found.at(0, 0)) is type(expected)
    assert found.at(0, 1) == "after"


def test_that_cells_and_rows_said_to_be_repeated_are_and_blank_ones_cost_nothing() -> None:
    blank = row(cell('table:number-columns-repeated="16384"'), attributes='table:number-rows-repeated="5"')
    twice = row(
        cell('table:number-columns-repeated="2"'),
        typed("float", 'office:value="1" table:number-columns-repeated="2"'),
        attributes='table:number-rows-repeated="2" table:visibility="filter"',
    )
    end = row(cell(), attributes='table:number-rows-repeated="1048576" table:visibility="collapse"')
    (grid,) = grids(document(sheet(blank + twice + row(text("last")) + end)))
    assert [list(each) for each in grid.rows] == [[]] * 5 + [[None, None, 1.0, 1.0]] * 2 + [["last"]]
    assert grid.hidden_rows == {5, 6}


def test_that_merged_cells_hide_those_under_them() -> None:
    span = 'table:number-columns-spanned="2" table:number-rows-spanned="1"'
    under = "<text:p>under<text:s/></text:p>"
    covered = f"<table:covered-table-cell>{under}</table:covered-table-cell>"
    rows = row(text("above")) + row(cell(), typed("string", span, P), covered, text("beside"))
    (grid,) = grids(document(sheet(rows)))
    assert list(grid.rows[1]) == [None, "41.5", None, "beside"]
    assert grid.merged == ((1, 1, 1, 2),)


def test_that_hidden_sheets_and_columns_are_told_and_copies_of_other_files_left_out() -> None:
    styles = (
        '<style:style style:name="ta1"><style:table-properties table:display="true"/></style:style>'
        '<style:style style:name="ta2"><style:table-properties table:display="false"/></style:style>'
    )
    hidden = f'<table:table table:name="Old" table:style-name="ta2">{row(text("a"))}</table:table>'
    columns = (
        "<table:table-column table:number-columns-repeated='2'/>"
        "<table:table-column table:visibility='collapse'/>"
        "<table:table-column table:number-columns-repeated='999999' table:visibility='collapse'/>"
    )
    other = sheet(row(text("b")), name="'file:///else.ods'#$Round")
    epoch = '<table:null-date table:date-value="1904-01-01"/>'
    found = grids(document(epoch + hidden + sheet(columns + row(text("c"))) + other, styles))
    assert [(each.name, each.hidden) for each in found] == [("Old", True), ("Round", False)]
    assert found[1].hidden_columns == frozenset(range(2, package.MOST_COLUMNS))
    assert found[1].epoch == date(1904, 1, 1)


def test_that_pieces_outside_a_sheet_are_passed_over() -> None:
    stray = "<table:table-column/>" + row(text("stray")) + "<table:covered-table-cell/>"
    assert grids(document(stray + "</office:spreadsheet><office:spreadsheet>" + sheet(row(text("a")))))[
        0
    ].rows == [["a"]]


@pytest.mark.parametrize(
    "rows",
    [
        row(typed("float", 'office:value="1" table:number-columns-repeated="1001"')),
        row(cell('table:number-columns-repeated="5000"'), text("far")),
        row(text("a"), attributes='table:number-rows-repeated="1048576"'),
        row(cell(), attributes='table:number-rows-repeated="1048576"') + row(text("far")),
        row(
            typed("float", 'office:value="1" table:number-columns-repeated="99"'),
            attributes='table:number-rows-repeated="99999"',
        ),
    ],
)
def test_that_what_reaches_too_far_is_refused(rows: str) -> None:
    assert "too big" in fault_of(document(sheet(rows))).title


def test_that_sheets_too_big_together_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(package, "MOST_CELLS", 3)
    assert "together" in fault_of(document(sheet(row(text("a"), text("b"))) * 2)).detail
    monkeypatch.setattr(open_cells, "MOST_SHEETS", 1)
    assert "list of sheets" in fault_of(document(sheet(row(text("a"))) * 2)).detail
    monkeypatch.setattr(open_document, "MOST_MARKS", 5)
    assert "too big" in fault_of(document(sheet(row(text("a"))))).title


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (document(sheet(row("<text:p>" * 300 + "</text:p>" * 300))), "too deep"),
        (
            document(sheet(row(text("a")))).replace(
                b"<office:doc", b'<!DOCTYPE a [<!ENTITY b "c">]><office:doc', 1
            ),
            "entities",
        ),
        (document(sheet(row(text("a"))))[:-40], "can't be opened"),
        (document(sheet(row(cell('table:number-columns-repeated="many"')))), "can't be opened"),
        (
            document(sheet(row(text("a")))).replace(b"office:spreadsheet", b"office:text"),
            "without a spreadsheet",
        ),
        (b'<?xml version="1.0" encoding="utf-16"?>' + document(""), "UTF-8"),
        (document("\7"), "characters"),
    ],
)
def test_that_a_spoilt_document_is_refused(content: bytes, said: str) -> None:
    assert said in fault_of(content).detail
    assert said in fault_of(packed(content_xml=content)).detail


def test_that_a_locked_document_is_told_as_such() -> None:
    locked = b"<m><manifest:file-entry><manifest:encryption-data/></manifest:file-entry></m>"
    for content in (
        packed(**{"META_INF__manifest_xml": locked}, content_xml=b"\0\1"),
        packed(encrypted_package=b"\0\1"),
    ):
        assert "password" in fault_of(content).title


def test_that_a_packed_document_is_read() -> None:
    content = packed(content_xml=document(sheet(row(text("a")))))
    assert grids(content)[0].rows == [["a"]]
