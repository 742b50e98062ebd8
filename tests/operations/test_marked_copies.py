import zipfile
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill, Side
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from estate.domain.progress import Cancelled
from estate.domain.questions import CHOICES, Question
from estate.domain.written_back import QUESTIONS_MARK
from estate.errors import EntryFault, NotFoundFault, ReportFault
from estate.operations.bring_in import Proposal, commit, look
from estate.operations.register import Register
from estate.operations.write_marked import write_marked
from estate.reports.question_words import question_words
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO, bring

HEADING = ("Asset ref", "Date", "Hot °C", "Cold °C", "Mixed as found °C", "Mixed as left °C", "Remarks")
GOOD = ("MM/G/G01/WHB1", date(2026, 11, 20), 60.1, 13.2, 41.0, 41.0, "")
ROWS = (
    GOOD,
    ("MM/G/G99/WHB1", date(2026, 11, 20), 60.0, 13.0, 41.1, 41.1, ""),
    ("MM/1/101/BTH1", date(2027, 11, 20), 60.0, 13.0, 44.1, 44.1, "odd"),
)
Dress = Callable[[Workbook, Worksheet], None]


def plain(book: Workbook, sheet: Worksheet) -> None:
    """Leave the workbook as it is."""


def contractors(folder: Path, rows: Iterable[tuple[object, ...]] = ROWS, dress: Dress = plain) -> Path:
    """A contractor's workbook: a title, a blank row, the heading in row 3, then the rows."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Round 3"
    for line in (("Results of the round",), (), HEADING, *rows):
        sheet.append(list(line))
    dress(book, sheet)
    path = folder / "contractor.xlsx"
    book.save(path)
    return path


def looked(register: Register, path: Path) -> Proposal:
    return look(register, path, None, TODAY)


def marked(register: Register, path: Path) -> Path:
    return write_marked(register, looked(register, path), path.with_name("marked.xlsx"))


def sheet_in(path: Path, name: str = "Round 3") -> Worksheet:
    found = load_workbook(path)[name]
    assert isinstance(found, Worksheet)
    return found


def values(sheet: Worksheet) -> list[tuple[object, ...]]:
    return list(sheet.iter_rows(values_only=True))


def is_marked(cell: Cell | MergedCell) -> bool:
    filled = cell.fill == PatternFill("solid", "FFE7A3")
    return filled and cell.border.top == Side("thick", color="9B2C00")


def test_that_questioned_cells_are_marked_and_say_what_to_do(register: Register, tmp_path: Path) -> None:
    sheet = sheet_in(marked(register, contractors(tmp_path)))
    for place, words in (("A5", "Outlet not known"), ("B6", "Date in the future")):
        cell = sheet[place]
        assert is_marked(cell)
        assert cell.comment is not None
        for each in (words, "Found:", "Expected:", "To do:"):
            assert each in cell.comment.text
    assert [cell.coordinate for row in sheet for cell in row if is_marked(cell)] == ["A5", "B6"]


def test_that_all_questions_are_listed_in_front_with_their_places(register: Register, tmp_path: Path) -> None:
    path = marked(register, contractors(tmp_path))
    book = load_workbook(path)
    assert book.sheetnames == ["Questions", "Read first", "Round 3"]
    assert [each.title for each in book.worksheets if each.sheet_view.tabSelected] == ["Questions"]
    listed = values(sheet_in(path, "Questions"))
    assert listed[3] == (
        "Question", "Sheet", "Row", "Cell", "Outlet", "About", "Found", "Expected", "What to do",
    )  # fmt: skip
    assert [row[:7] for row in listed[4:]] == [
        (1, "Round 3", 5, "A5", None, "Outlet not known", "MM/G/G99/WHB1"),
        (2, "Round 3", 6, "B6", "MM/1/101/BTH1", "Date in the future", "20 Nov 2027"),
    ]
    words = " ".join(str(cell) for row in book["Read first"].values for cell in row)
    for each in ("Scald", "Isolation", "Hygiene", "Local codes", "values only", "send it back"):
        assert each in words


def test_that_values_stay_as_they_were_and_formatting_is_kept(register: Register, tmp_path: Path) -> None:
    def dress(book: Workbook, sheet: Worksheet) -> None:
        sheet["A3"].font = Font("Georgia", 14, bold=True)
        sheet["C4"].fill = PatternFill("solid", "DDEEFF")
        sheet["C4"].number_format = '0.00" °C"'
        sheet["A5"].font = Font(italic=True)
        sheet.column_dimensions["A"].width = 31
        sheet.row_dimensions[2].height = 44
        sheet.merge_cells("A1:D1")
        sheet.column_dimensions["G"].hidden = True
        book.create_sheet("Notes").append(["seen"])

    path = contractors(tmp_path, dress=dress)
    before, after = sheet_in(path), sheet_in(marked(register, path))
    assert values(before) == values(after)
    assert (after["A3"].font.name, after["A3"].font.size, after["A3"].font.bold) == ("Georgia", 14, True)
    assert (after["C4"].fill.fgColor.rgb, after["C4"].number_format) == ("00DDEEFF", '0.00" °C"')
    assert after["A5"].font.italic
    assert after["B4"].number_format == before["B4"].number_format
    assert (after.column_dimensions["A"].width, after.row_dimensions[2].height) == (31, 44)
    assert [str(each) for each in after.merged_cells.ranges] == ["A1:D1"]
    assert after.column_dimensions["G"].hidden
    assert values(sheet_in(tmp_path / "marked.xlsx", "Notes")) == [("seen",)]


def test_that_the_copy_comes_back_as_the_same_sheet(register: Register, tmp_path: Path) -> None:
    path = contractors(tmp_path)
    first, again = looked(register, path), looked(register, marked(register, path))
    assert [replace(each, found="") for each in again.questions] == [
        replace(each, found="") for each in first.questions
    ]
    assert [each.draft.readings for each in again.visits] == [each.draft.readings for each in first.visits]


def test_that_a_corrected_copy_gives_the_rows_that_were_left_out(register: Register, tmp_path: Path) -> None:
    path = contractors(tmp_path)
    commit(register, looked(register, path), who=WHO, at=NOW)
    copy = marked(register, path)
    book = load_workbook(copy)
    book["Round 3"]["A5"] = "MM/G/G02/SHR1"
    book["Round 3"]["B6"] = date(2026, 11, 20)
    book.save(copy)
    proposal = looked(register, copy)
    assert proposal.questions == ()
    assert proposal.already_there == 1
    assert [each.ref for each in proposal.visits] == ["MM/G/G02/SHR1", "MM/1/101/BTH1"]


def test_that_a_copy_of_a_copy_has_one_list_of_questions(register: Register, tmp_path: Path) -> None:
    copy = marked(register, contractors(tmp_path))
    again = write_marked(register, looked(register, copy), tmp_path / "again.xlsx")
    assert load_workbook(again).sheetnames == ["Questions", "Read first", "Round 3"]


def test_that_a_batch_is_marked_like_its_proposal(register: Register, tmp_path: Path) -> None:
    path = contractors(tmp_path)
    proposal = looked(register, path)
    brought = commit(register, proposal, who=WHO, at=NOW)
    assert brought.batch_id is not None
    kept = tuple(replace(each, suggested=()) for each in proposal.questions)
    first = write_marked(register, replace(proposal, questions=kept), tmp_path / "one.xlsx")
    second = write_marked(register, brought.batch_id, tmp_path / "two.xlsx")
    assert first.read_bytes() == second.read_bytes()


def test_that_nothing_to_ask_is_told(register: Register, tmp_path: Path) -> None:
    with pytest.raises(EntryFault, match="nothing to ask"):
        marked(register, contractors(tmp_path, [GOOD]))


def test_that_another_batch_or_kind_of_file_is_told(register: Register, tmp_path: Path) -> None:
    with pytest.raises(NotFoundFault):
        write_marked(register, 999, tmp_path / "x.xlsx")
    with pytest.raises(ReportFault):
        write_marked(register, 1, tmp_path / "x.pdf")


def test_that_stopping_leaves_nothing_behind(register: Register, tmp_path: Path) -> None:
    def stop(done: int, of: int, words: str) -> None:
        raise Cancelled

    proposal = looked(register, contractors(tmp_path))
    with pytest.raises(Cancelled):
        write_marked(register, proposal, tmp_path / "marked.xlsx", stop)
    assert not (tmp_path / "marked.xlsx").exists()


def test_that_delimited_text_becomes_a_workbook_of_its_cells(register: Register, tmp_path: Path) -> None:
    path = tmp_path / "round 4.csv"
    path.write_text(
        "Ref;Date;Mixed as found °C\nMM/G/G01/WHB1;2026-11-20;41,2\n-nowhere;2026-11-20;41,9\n", "utf-8"
    )
    sheet = sheet_in(marked(register, path), "round 4")
    assert values(sheet) == [
        ("Ref", "Date", "Mixed as found °C"),
        ("MM/G/G01/WHB1", "2026-11-20", "41,2"),
        ("-nowhere", "2026-11-20", "41,9"),
    ]
    assert is_marked(sheet["A3"])
    assert sheet["A3"].quotePrefix
    again = looked(register, tmp_path / "marked.xlsx")
    assert [each.draft.readings.found_c for each in again.visits] == [41.2]


def test_that_formulas_links_and_names_are_left_behind(register: Register, tmp_path: Path) -> None:
    def dress(book: Workbook, sheet: Worksheet) -> None:
        sheet["H3"] = "Checked"
        sheet["H4"] = "=1+1"
        sheet["H5"] = '=HYPERLINK("//x.example","y")'
        sheet["H6"] = "seen"
        sheet["H6"].hyperlink = "https://x.example/"
        sheet["A4"].comment = Comment("mine", "me")
        check = DataValidation("list", "=OFFSET(Z1,0,0)")
        check.add("C4")
        sheet.add_data_validation(check)
        book.defined_names["steal"] = DefinedName("steal", attr_text="'[//x.example/b.xlsx]S'!A1")

    copy = marked(register, contractors(tmp_path, dress=dress))
    book = load_workbook(copy)
    for sheet in book.worksheets:
        assert not sheet.data_validations.dataValidation
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f"
                assert cell.hyperlink is None
    assert not book.defined_names
    with zipfile.ZipFile(copy) as archive:
        assert not [
            name for name in archive.namelist() if "external" in name.lower() or name.endswith(".bin")
        ]
        assert b"x.example/" not in b"".join(
            archive.read(name) for name in archive.namelist() if "rels" in name
        )
    assert book["Round 3"]["H6"].value == "seen"


def test_that_a_formula_without_a_value_stays_words(register: Register, tmp_path: Path) -> None:
    rows = [("MM/G/G01/WHB1", date(2026, 11, 20), 60.1, 13.2, "=E9+1", 41.0, "")]
    sheet = sheet_in(marked(register, contractors(tmp_path, rows)))
    assert (sheet["E4"].value, sheet["E4"].data_type) == ("=E9+1", "s")
    assert is_marked(sheet["E4"])


def test_that_every_kind_of_value_is_copied_or_becomes_words(register: Register, tmp_path: Path) -> None:
    odd: tuple[bool | time | datetime | timedelta | date, ...] = (
        True,
        time(9, 30),
        datetime(2026, 11, 20, 9, 30),
        timedelta(hours=30),
        date(1900, 1, 5),
    )

    def dress(book: Workbook, sheet: Worksheet) -> None:
        for column, value in enumerate(odd, start=9):
            sheet.cell(4, column).value = value

    sheet = sheet_in(marked(register, contractors(tmp_path, dress=dress)))
    found = [sheet.cell(4, column).value for column in range(9, 14)]
    assert found[:3] == [True, time(9, 30), datetime(2026, 11, 20, 9, 30)]
    assert None not in found


def test_that_a_sheet_of_the_contractors_own_called_questions_keeps_its_name(
    register: Register, tmp_path: Path
) -> None:
    def dress(book: Workbook, sheet: Worksheet) -> None:
        book.create_sheet("Questions").append(["Who has the keys?"])

    book = load_workbook(marked(register, contractors(tmp_path, dress=dress)))
    assert book.sheetnames == ["Questions 2", "Read first", "Round 3", "Questions"]
    assert str(book["Questions 2"]["A1"].value).startswith(QUESTIONS_MARK)


@pytest.mark.parametrize("code", sorted(CHOICES))
def test_that_every_question_has_its_own_words(code: str) -> None:
    assert question_words(code) != question_words("no such code")
    assert question_words(code).title
    assert question_words(code).expected


def test_that_a_question_about_a_row_or_a_place_outside_is_listed_all_the_same(
    register: Register, tmp_path: Path
) -> None:
    proposal = looked(register, contractors(tmp_path))
    places = [
        ("Round 3", 6, ""),
        ("Round 3", 2, ""),
        ("Round 3", 9_999, ""),
        ("Round 3", 9_999, "ZZ9999"),
        ("Gone", 1, "A1"),
        ("Round 3", 1, "C1"),
    ]
    asked = tuple(Question(*place, "not-known", None, "", "Look again.", ("MM/1",)) for place in places)
    path = write_marked(register, replace(proposal, questions=asked), tmp_path / "m.xlsx")
    sheet = sheet_in(path)
    assert [cell.coordinate for row in sheet for cell in row if is_marked(cell)] == ["C1", "A2", "A6"]
    listed = values(sheet_in(path, "Questions"))[4:]
    assert len(listed) == len(asked)
    assert {row[8] for row in listed} == {"Look again. Perhaps: MM/1."}


def test_that_a_mark_in_a_merged_range_is_on_its_first_cell(register: Register, tmp_path: Path) -> None:
    def dress(book: Workbook, sheet: Worksheet) -> None:
        sheet.merge_cells("A1:D1")

    proposal = looked(register, contractors(tmp_path, dress=dress))
    asked = (Question("Round 3", 1, "C1", "not-known", None, "", "Look again."),)
    sheet = sheet_in(write_marked(register, replace(proposal, questions=asked), tmp_path / "m.xlsx"))
    assert is_marked(sheet["A1"])


def test_that_several_questions_about_one_cell_share_its_comment(register: Register, tmp_path: Path) -> None:
    proposal = looked(register, contractors(tmp_path))
    asked = tuple(
        Question("Round 3", 4, "A4", "not-known", None, "x" * 3_000, "Look again.") for _ in range(2)
    )
    sheet = sheet_in(write_marked(register, replace(proposal, questions=asked), tmp_path / "m.xlsx"))
    assert sheet["A4"].comment is not None
    assert "Question 1" in sheet["A4"].comment.text
    assert sheet["A4"].comment.text.endswith(" …")


def test_that_an_asset_list_is_marked_as_well(register: Register, tmp_path: Path) -> None:
    path = tmp_path / "assets.csv"
    path.write_text("Asset ref,Building,Room,Use,Used by\nX/1,Main,Ward,spoon,patients\n", "utf-8")
    sheet = sheet_in(marked(register, path), "assets")
    assert is_marked(sheet["D2"])
    assert bring(register, tmp_path, "Asset ref,Building,Room,Use,Used by\n", "none.csv").accepted == 0
