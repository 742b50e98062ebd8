import csv
from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from pypdf import PdfReader

from estate.domain.instruments import Calibration
from estate.errors import EntryFault, NotFoundFault, ReportFault
from estate.operations import browse, set_rules
from estate.operations.export_tables import VISIT_COLUMNS, export_tables
from estate.operations.keep_instruments import add_calibration, add_instrument
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.write_report import write_overdue, write_summary
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_record_visit import typed


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def text_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(path).pages)


def test_that_every_table_is_exported(register: Register, tmp_path: Path) -> None:
    written = {path.name for path in export_tables(register, tmp_path / "out")}
    assert {
        "visits.csv",
        "visit.csv",
        "outlet.csv",
        "valve.csv",
        "finding.csv",
        "ledger_entry.csv",
    } <= written
    visits = rows_of(tmp_path / "out" / "visits.csv")
    assert tuple(visits[0]) == VISIT_COLUMNS
    assert [(row["ref"], row["date"], row["verdict"]) for row in visits[:2]] == [
        ("MM/1/101/BTH1", "2026-01-05", "satisfactory"),
        ("MM/1/101/BTH1", "2026-02-24", "take out of use"),
    ]


def test_that_no_exported_cell_can_be_taken_for_a_formula(register: Register, tmp_path: Path) -> None:
    draft = replace(typed(register), remarks='=HYPERLINK("x")', person="@tester")
    record_visit(register, draft, who="+who", at=NOW, today=TODAY)
    for path in export_tables(register, tmp_path / "out"):
        for row in rows_of(path):
            assert not [cell for cell in row.values() if cell[:1] in ("=", "+", "@")]
    assert any(row["remarks"] == '\'=HYPERLINK("x")' for row in rows_of(tmp_path / "out" / "visits.csv"))


def test_that_an_export_that_can_not_be_written_says_so(register: Register, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file in the way", encoding="utf-8")
    with pytest.raises(ReportFault):
        export_tables(register, tmp_path / "out")


def test_that_the_overdue_list_says_as_at_when_by_which_rules(register: Register, tmp_path: Path) -> None:
    text = text_of(write_overdue(register, tmp_path / "overdue.pdf", TODAY))
    for words in ("25 Nov 2026", "Marlpit Cross", "mx-1", "uk-healthcare", "MM/1/101/BTH1", "page 1 of "):
        assert words.casefold() in text.casefold()
    sheet = openpyxl.load_workbook(write_overdue(register, tmp_path / "overdue.xlsx", TODAY))
    assert any("MM/1/101/BTH1" in [cell.value for cell in row] for row in sheet["Overdue"].iter_rows())


def test_that_the_summary_names_the_places_of_the_sites_own_values(
    register: Register, tmp_path: Path
) -> None:
    building = browse.tree(register, TODAY)[1].children[0]
    outlet = browse.find_outlet(register, "MM/1/101/BTH1")
    for place in ("estate", f"building:{building.id}", f"outlet:{outlet.id}"):
        set_rules.override(
            register,
            "uk-healthcare",
            "isolation.residual-flow",
            place,
            60.0,
            who=WHO,
            at=NOW,
            why="minutes of May",
        )
    text = text_of(write_summary(register, tmp_path / "summary.pdf", TODAY))
    for words in ("Withy End House", "MM/1/101/BTH1", "whole estate", "minutes of May"):
        assert words in " ".join(text.split())
    assert write_summary(register, tmp_path / "summary.xlsx", TODAY).exists()


def test_that_a_report_of_another_kind_is_refused(register: Register, tmp_path: Path) -> None:
    with pytest.raises(ReportFault):
        write_overdue(register, tmp_path / "overdue.doc", TODAY)


def test_that_instruments_keep_all_their_calibrations(register: Register) -> None:
    first = Calibration(date(2025, 1, 1), date(2026, 1, 1), "C-1")
    add_instrument(register, "T-101", standard_uncertainty_k=0.25, calibration=first, who=WHO, at=NOW)
    add_calibration(register, "t 101", Calibration(date(2026, 1, 2), date(2027, 1, 2)), who=WHO, at=NOW)
    (kept,) = browse.instruments(register)
    assert len(kept.calibrations) == 2
    assert kept.calibration_on(date(2025, 6, 1)) == first


def test_that_an_instrument_needs_a_reference_and_a_calibration_its_order(register: Register) -> None:
    with pytest.raises(EntryFault):
        add_instrument(register, " - ", who=WHO, at=NOW)
    with pytest.raises(EntryFault):
        add_instrument(register, "T-1", calibration=Calibration(TODAY, date(2026, 1, 1)), who=WHO, at=NOW)
    with pytest.raises(NotFoundFault):
        add_calibration(register, "T-9", Calibration(date(2026, 1, 1), TODAY), who=WHO, at=NOW)
    assert browse.instruments(register) == ()
