import math
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from estate.domain.questions import Question
from estate.reports.marked_copy import CopiedCell, CopiedSheet, marked_copy
from estate.reports.xlsx import marked
from tests.reports.builders import TODAY

ASKED = (Question("Round", 1, "A1", "unknown-outlet", None, "A1", "Look."),)


def written(folder: Path, *sheets: CopiedSheet, asked: tuple[Question, ...] = ASKED) -> Path:
    return marked.write_marked(
        marked_copy("f.xls", "Marlpit Cross", TODAY, asked, sheets, {}), folder / "marked.xlsx"
    )


def sheet_in(path: Path) -> Worksheet:
    found = load_workbook(path)["Round"]
    assert isinstance(found, Worksheet)
    return found


def test_that_what_the_form_can_not_hold_becomes_words(tmp_path: Path) -> None:
    rows: list[list[CopiedCell]] = [[math.inf, math.nan, date(1899, 12, 31), date(1900, 3, 1), "a\x00b"]]
    sheet = sheet_in(written(tmp_path, CopiedSheet("Round", rows)))
    assert [cell.value for cell in sheet[1]][:3] == ["inf", "nan", "1899-12-31"]
    assert sheet["E1"].value == "ab"
    assert sheet["D1"].is_date


def test_that_hidden_sheets_rows_and_columns_stay_hidden(tmp_path: Path) -> None:
    shown = CopiedSheet(
        "Round", [["a", "b"], ["c", "d"]], (), False, frozenset({1, 10**12}), frozenset({0, 999})
    )
    path = written(tmp_path, shown, CopiedSheet("Secret", [["x"]], (), True))
    assert sheet_in(path).row_dimensions[2].hidden
    assert sheet_in(path).column_dimensions["A"].hidden
    assert len(sheet_in(path).row_dimensions) == 1
    assert load_workbook(path)["Secret"].sheet_state == "hidden"


@pytest.mark.parametrize(
    ("merged", "kept"),
    [
        ([(0, 0, 0, 1)], ["A1:B1"]),
        ([(0, 0, 0, 1), (0, 1, 1, 1)], ["A1:B1"]),
        ([(0, 0, 0, 0)], []),
        ([(0, 0, 9, 1)], []),
        ([(0, 0, 1_048_575, 16_383)], []),
        ([(1, 0, 0, 1)], []),
    ],
)
def test_that_merged_ranges_stay_within_the_sheet_and_apart(
    tmp_path: Path, merged: list[tuple[int, int, int, int]], kept: list[str]
) -> None:
    sheet = sheet_in(written(tmp_path, CopiedSheet("Round", [["a", None], ["b", None]], merged)))
    assert [str(each) for each in sheet.merged_cells.ranges] == kept


def test_that_merged_cells_beyond_the_bound_are_left_apart(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(marked, "MOST_MERGED", 3)
    copied = CopiedSheet("Round", [["a", None], ["b", None]], [(0, 0, 0, 1), (1, 0, 1, 1)])
    assert len(sheet_in(written(tmp_path, copied)).merged_cells.ranges) == 1


def test_that_sheets_too_big_to_be_copied_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(marked, "MOST_CELLS", 3)
    path = written(tmp_path, CopiedSheet("Big", [["a", "b", "c", "d"]]), CopiedSheet("Round", [["a", None]]))
    book = load_workbook(path)
    assert book.sheetnames == ["Questions", "Read first", "Round"]
    said = {row[0]: row[1] for row in book["Read first"].values}
    assert str(said["Too big to be copied here"]).startswith("Big. Correct the rows")


def test_that_marks_beyond_the_bound_are_in_the_list_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(marked, "MOST_COMMENTS", 1)
    asked = tuple(Question("Round", 1, cell, "x", None, "", "Look.") for cell in ("A1", "B1"))
    path = written(tmp_path, CopiedSheet("Round", [["a", "b"]]), asked=asked)
    assert [cell.comment is not None for cell in sheet_in(path)[1]] == [True, False]
    assert len(list(load_workbook(path)["Questions"].values)) == 6


def test_that_an_empty_sheet_is_copied_empty(tmp_path: Path) -> None:
    path = written(tmp_path, CopiedSheet("Round", []))
    assert load_workbook(path)["Round"].max_row == 1


def test_that_the_same_copy_gives_the_same_bytes(tmp_path: Path) -> None:
    first = written(tmp_path, CopiedSheet("Round", [["a"]])).read_bytes()
    assert written(tmp_path, CopiedSheet("Round", [["a"]])).read_bytes() == first
