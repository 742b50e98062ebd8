from pathlib import Path

import pytest

from estate.domain.layouts import DateOrder, Form, Layout, LayoutColumn, SheetKind
from estate.errors import EntryFault, IntakeFault, NotFoundFault, ReportFault
from estate.operations.keep_layouts import (
    forget_layout,
    keep_layout,
    layout,
    layouts,
    take_layout,
    write_layout,
)
from estate.operations.register import Register
from estate.store import ledger
from tests.operations.conftest import NOW, WHO

CARDS = Layout(
    'Pipework "Ltd"',
    SheetKind.VISITS,
    (LayoutColumn("Außentemp\nmorgens", ""), LayoutColumn("Hot", "hot_c", "fahrenheit")),
    Form.CARDS,
    DateOrder.MONTH_FIRST,
    "J. Bloggs",
)


def test_that_a_layout_is_remembered_found_and_forgotten(empty: Register) -> None:
    keep_layout(empty, CARDS, who=WHO, at=NOW)
    assert layouts(empty) == (CARDS,)
    assert layout(empty, "pipework ltd") == CARDS
    forget_layout(empty, "PIPEWORK LTD", who=WHO, at=NOW)
    assert layouts(empty) == ()
    with empty.database.reading() as session:
        told = [(each.what, each.action) for each in ledger.entries(session, "layout")]
    assert told == [
        ('remembered the layout Pipework "Ltd"', "added"),
        ("forgot the layout PIPEWORK LTD", "removed"),
    ]


def test_that_a_layout_goes_to_another_register_as_a_file(empty: Register, tmp_path: Path) -> None:
    keep_layout(empty, CARDS, who=WHO, at=NOW)
    path = tmp_path / "pipework.toml"
    write_layout(empty, CARDS.name, path)
    forget_layout(empty, CARDS.name, who=WHO, at=NOW)
    assert take_layout(empty, path, who=WHO, at=NOW) == CARDS
    assert take_layout(empty, path, "Night shift", who=WHO, at=NOW).name == "Night shift"
    assert [each.name for each in layouts(empty)] == ["Night shift", CARDS.name]


def test_that_a_layout_that_is_not_there_is_told(empty: Register, tmp_path: Path) -> None:
    with pytest.raises(NotFoundFault, match="No such layout"):
        write_layout(empty, "other", tmp_path / "other.toml")
    with pytest.raises(NotFoundFault, match="No such layout"):
        forget_layout(empty, "other", who=WHO, at=NOW)


def test_that_a_layout_that_cannot_be_written_is_told(empty: Register, tmp_path: Path) -> None:
    keep_layout(empty, CARDS, who=WHO, at=NOW)
    with pytest.raises(ReportFault, match="The layout can't be written"):
        write_layout(empty, CARDS.name, tmp_path / "none" / "pipework.toml")


@pytest.mark.parametrize("content", [None, b"\xff\xfe\x00", b"name = 3", b"not toml at all"])
def test_that_a_file_that_holds_no_layout_is_told(
    empty: Register, tmp_path: Path, content: bytes | None
) -> None:
    path = tmp_path / "other.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(IntakeFault):
        take_layout(empty, path, who=WHO, at=NOW)
    assert layouts(empty) == ()


def test_that_a_layout_without_a_name_is_not_remembered(empty: Register) -> None:
    with pytest.raises(EntryFault, match="A layout needs a name"):
        keep_layout(empty, Layout("", SheetKind.VISITS, CARDS.columns), who=WHO, at=NOW)
