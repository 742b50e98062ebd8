"""A certificate says what is on record, in words that can be read back from the page."""

from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from estate.domain.instruments import Calibration
from estate.domain.visits import VisitKind
from estate.errors import NotFoundFault, ReportFault
from estate.operations.keep_instruments import add_instrument
from estate.operations.record_visit import correct_visit, record_visit, void_visit
from estate.operations.register import Register
from estate.operations.type_visit import TypedVisit, draft_of
from estate.operations.write_certificate import write_certificate
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_type_visit import TYPED


def record(register: Register, typed: TypedVisit) -> int:
    return record_visit(register, draft_of(register, typed), who=WHO, at=NOW, today=TODAY).visit.id


def pages(register: Register, visit_id: int, folder: Path) -> str:
    path = write_certificate(register, visit_id, folder / "certificate.pdf", TODAY)
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)


def test_that_readings_limits_steps_and_signers_are_on_paper(register: Register, tmp_path: Path) -> None:
    calibration = Calibration(TODAY.replace(year=2025), TODAY.replace(year=2027), "C-7")
    add_instrument(register, "T-101", calibration=calibration, who=WHO, at=NOW)
    said = pages(register, record(register, replace(TYPED, instrument="T-101")), tmp_path)
    for words in (
        "Commissioning certificate of a thermostatic mixing valve",
        "Verdict: put right",
        "MM/G/G01/WHB1",
        "Hot supply, °C 60.1",
        "Cold isolated: flow still passing, ml/min 30.0 ≤ 120 TP-02",
        "30 ml were collected in 60 s: 30 ml/min, standard uncertainty 3 ml/min",
        "See that the unions are sealed with washers. yes TP-07",
        "bracket loose",
        "strainer 2",
        "T-101 (immersion probe), calibrated 25 Nov 2025, due again 25 Nov 2027, certificate C-7",
        "These readings are the reference for later tests (D08-62)",
        "Turn the adjuster through its full travel",
        "What was not measured is not tested",
        "In the register this entry is unsigned.",
        "Carried out by M. Osei",
        "Scald",
    ):
        assert words in said


def test_that_an_entry_that_no_longer_counts_says_so(register: Register, tmp_path: Path) -> None:
    first = record(register, replace(TYPED, seen=(), collected=()))
    made = draft_of(register, TYPED)
    second = correct_visit(register, first, made, who=WHO, at=NOW, today=TODAY).visit.id
    assert "was corrected by a later one and no longer counts" in pages(register, first, tmp_path)
    void_visit(register, second, reason="another valve", who=WHO, at=NOW)
    assert "This entry is void another valve" in pages(register, second, tmp_path)


def test_that_a_test_in_service_is_no_reference(register: Register, tmp_path: Path) -> None:
    typed = replace(
        TYPED, kind=VisitKind.IN_SERVICE, seen=(), parts=(), collected=(), readings=("found_c=41",)
    )
    said = pages(register, record(register, typed), tmp_path)
    assert "Record of an in-service test" in said
    assert "are the reference" not in said
    assert "What was seen, step by step" not in said


def test_that_an_instrument_without_calibration_is_said_to_have_none(
    register: Register, tmp_path: Path
) -> None:
    add_instrument(register, reference="T-102", who=WHO, at=NOW)
    said = pages(register, record(register, replace(TYPED, instrument="T-102")), tmp_path)
    assert "T-102: no calibration in force on the day" in said
    assert "not recorded, so its calibration is not known" in pages(
        register, record(register, TYPED), tmp_path
    )


def test_that_a_certificate_of_nothing_is_not_written(register: Register, tmp_path: Path) -> None:
    with pytest.raises(NotFoundFault):
        write_certificate(register, 9_999, tmp_path / "a.pdf", TODAY)
    with pytest.raises(ReportFault):
        write_certificate(register, record(register, TYPED), tmp_path / "a.doc", TODAY)
    assert list(tmp_path.glob("a.*")) == []
