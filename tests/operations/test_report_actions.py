from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from estate.domain.life.outlet_use import UseStep
from estate.errors import ReportFault
from estate.operations.register import Register
from estate.operations.report_actions import write_actions
from tests.builders import TODAY
from tests.operations.test_actions import BASIN, BATH, HOT, record, use


def test_that_open_actions_are_written_with_what_to_do_now(register: Register, tmp_path: Path) -> None:
    record(register, HOT)
    use(register, UseStep.TAKE_OUT)
    text = "\n".join(
        page.extract_text() for page in PdfReader(write_actions(register, tmp_path / "a.pdf", TODAY)).pages
    )
    for words in (
        "Open: 2 actions, 1 past the target date",
        BASIN,
        BATH,
        "made safe",
        "out of use",
        "Cautions",
    ):
        assert words in text
    book = load_workbook(write_actions(register, tmp_path / "a.xlsx", TODAY))
    cells = [str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row]
    assert "Take the outlet out of use now: tell the person in charge of the area, put a sign up." in cells
    assert "the responsible person for water safety" in cells
    assert "Have it put right by a competent person, then test again." in cells


def test_that_a_report_without_an_open_action_says_what_that_means(empty: Register, tmp_path: Path) -> None:
    pages = PdfReader(write_actions(empty, tmp_path / "a.pdf", TODAY)).pages
    text = " ".join("".join(page.extract_text() for page in pages).split())
    assert "No action was open in the register on 25 Nov 2026." in text
    assert "It does not mean that every valve works" in text


def test_that_another_ending_is_refused(register: Register, tmp_path: Path) -> None:
    with pytest.raises(ReportFault, match="Unknown kind of file"):
        write_actions(register, tmp_path / "a.odt", TODAY)
