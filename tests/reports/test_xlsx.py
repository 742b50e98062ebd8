from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from estate.domain.compliance import summarise
from estate.domain.progress import Cancelled
from estate.domain.windows import Reason
from estate.reports import xlsx
from estate.reports.content import overdue, summary
from estate.reports.xlsx.sheets import sheet_name
from tests.reports.builders import TODAY, as_at, estate, line, path

HEAD = 4


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "list.xlsx"


def sheet(file: Path, name: str = "Overdue") -> Worksheet:
    found = load_workbook(file)[name]
    assert isinstance(found, Worksheet)
    return found


def by_heading(found: Worksheet, row: int = HEAD + 1) -> dict[object, object]:
    return {cell.value: found.cell(row, cell.column).value for cell in found[HEAD] if cell.column is not None}


def test_that_numbers_and_dates_are_real_and_formatted(target: Path) -> None:
    late = line(days_late=10)
    xlsx.write(overdue([late], as_at()), target)
    found = sheet(target)
    said = by_heading(found)
    assert said["Late (days)"] == 10
    due = said["Test due by"]
    assert isinstance(due, datetime)
    assert due.date() == late.window.not_after
    formats = {
        found.cell(HEAD, cell.column).value: cell.number_format for cell in found[HEAD + 1] if cell.column
    }
    assert formats["Late (days)"] == "#,##0"
    assert formats["Test due by"] == formats["Last visit"] == "d mmm yyyy"


def test_that_a_line_keeps_its_place_words_and_reason(target: Path) -> None:
    xlsx.write(overdue([line(also_serves=("MC/2", "MC/3"))], as_at()), target)
    said = by_heading(sheet(target))
    assert (said["Site"], said["Building"], said["Level"]) == ("Marlpit Cross", "Main Building", "Ground")
    assert (said["Outlet reference"], said["Also serves"]) == ("MC/G/G02/WHB1", "MC/2, MC/3")
    assert (said["State"], said["Last verdict"]) == ("overdue", "satisfactory")
    assert str(said["Source"]).startswith("D08-80")


def test_that_a_missing_value_leaves_its_cell_empty(target: Path) -> None:
    xlsx.write(overdue([line(verdict=None)], as_at()), target)
    said = by_heading(sheet(target))
    assert said["Last visit"] is None
    assert said["Last verdict"] == "never tested"


@pytest.mark.parametrize(
    "text",
    [
        '=HYPERLINK("//x","y")',
        "+1+1",
        "-2+3",
        "@SUM(A1)",
        "\t=1+1",
        "\r=1+1",
        "\n=1+1",
        "#N/A",
        "{=1+1}",
        "'=1",
        "2026-01-02",
        "TRUE",
        "1e5",
    ],
)
def test_that_no_words_become_a_formula_an_error_or_a_number(target: Path, text: str) -> None:
    xlsx.write(overdue([line(text, valve=text, where=path(building=text))], as_at(name=text)), target)
    book = load_workbook(target)
    for found in book.worksheets:
        for row in found.iter_rows():
            for cell in row:
                assert cell.data_type != "f"
                assert cell.data_type != "e"
    said = by_heading(sheet(target))
    kept = text.replace("\r", "\n")
    assert said["Outlet reference"] == said["Valve"] == said["Building"] == kept


@pytest.mark.parametrize("text", ["=1+1", "+44", "-5", "@x", "\ty", "\rz"])
def test_that_words_that_look_like_a_formula_stay_words_when_edited(target: Path, text: str) -> None:
    xlsx.write(overdue([line(text)], as_at()), target)
    cell = sheet(target).cell(HEAD + 1, 4)
    assert cell.data_type == "s"
    assert cell.quotePrefix


def test_that_plain_words_carry_no_quote_prefix(target: Path) -> None:
    xlsx.write(overdue([line("MC/1")], as_at()), target)
    assert not sheet(target).cell(HEAD + 1, 4).quotePrefix


def test_that_what_xml_forbids_is_taken_out(target: Path) -> None:
    xlsx.write(overdue([line("A\x00B\x0bC\ufffeD\ud800E")], as_at(name="Marl\x01pit")), target)
    assert by_heading(sheet(target))["Outlet reference"] == "ABCDE"


def test_that_words_longer_than_a_cell_show_that_they_were_cut(target: Path) -> None:
    xlsx.write(overdue([line(reason=Reason("x", "w" * 40_000, "D08-80"))], as_at()), target)
    words = by_heading(sheet(target))["Reason for the date"]
    assert isinstance(words, str)
    assert len(words) == 32_767
    assert words.endswith("[cut]")


def test_that_the_head_stays_in_sight_filters_and_prints_on_every_page(target: Path) -> None:
    xlsx.write(overdue(estate(60), as_at()), target)
    found = sheet(target)
    assert found.freeze_panes == "A5"
    assert found.auto_filter.ref == "A4:P64"
    assert found.print_title_rows == "$4:$4"
    assert found.page_setup.orientation == "landscape"
    assert found.oddFooter is not None
    assert found.oddFooter.right.text == "page &P of &N"
    assert found.oddHeader is not None
    assert found.oddHeader.right.text == "as at 25 Nov 2026"


def test_that_an_ampersand_in_a_name_is_no_code_in_the_page_header(target: Path) -> None:
    xlsx.write(overdue(estate(1), as_at(name="Marlpit &P Cross")), target)
    found = sheet(target)
    assert found.oddHeader is not None
    assert found.oddHeader.left.text == "Marlpit &&P Cross"


def test_that_the_cautions_and_the_day_are_in_the_workbook(target: Path) -> None:
    xlsx.write(overdue(estate(2), as_at()), target)
    words = [cell for row in sheet(target, "Read first").values for cell in row]
    assert {"Scald", "Isolation", "Hygiene", "What comes first", "25 Nov 2026"} <= set(words)
    assert "as at 25 Nov 2026" in str(sheet(target)["A1"].value)
    assert "Read first" in str(sheet(target)["A2"].value)


def test_that_it_opens_on_the_list_and_on_no_second_sheet(target: Path) -> None:
    xlsx.write(overdue(estate(2), as_at()), target)
    book = load_workbook(target)
    assert [each.title for each in book.worksheets if each.sheet_view.tabSelected] == ["Overdue"]
    assert book.active is book["Overdue"]


def test_that_an_empty_list_says_so(target: Path) -> None:
    xlsx.write(overdue([line(days_late=-4)], as_at()), target)
    book = load_workbook(target)
    assert book.sheetnames == ["Read first"]
    assert "Nothing is overdue" in [cell for row in sheet(target, "Read first").values for cell in row]


def test_that_five_thousand_lines_are_all_there_in_order(target: Path) -> None:
    lines = estate(5000)
    xlsx.write(overdue(lines, as_at()), target)
    found = sheet(target)
    refs = [row[3] for row in found.iter_rows(min_row=HEAD + 1, values_only=True)]
    assert refs == [each.ref for each in lines]


def test_that_the_summary_has_a_sheet_for_each_table_and_real_shares(target: Path) -> None:
    xlsx.write(summary(summarise(estate(40, days_late=[-9, 5]), TODAY), as_at()), target)
    book = load_workbook(target)
    names = [
        "Read first",
        "By building",
        "Overdue by age",
        "Failures by age",
        "Coming weeks",
        "Failures",
        "Rule sets",
    ]
    assert book.sheetnames == names
    said = by_heading(sheet(target, "By building"))
    assert said["Of (valves)"] == 28
    assert isinstance(said["Share (%)"], float)
    assert sheet(target, "By building")["E5"].number_format == "0.0%"
    assert by_heading(sheet(target, "Coming weeks"))["Week beginning"] == datetime(2026, 11, 23)


def test_that_the_same_report_gives_the_same_bytes(tmp_path: Path) -> None:
    first, second = tmp_path / "one.xlsx", tmp_path / "two.xlsx"
    for file in (first, second):
        xlsx.write(overdue(estate(50), as_at()), file)
    assert first.read_bytes() == second.read_bytes()
    assert load_workbook(first).properties.modified == datetime(2026, 11, 25)


def test_that_sheet_names_are_taken_by_every_program() -> None:
    assert sheet_name("Rates [a/b]: 'x'?", []) == "Rates  a b   'x"
    assert sheet_name("y" * 40, []) == "y" * 31
    assert sheet_name("Y" * 40, ["y" * 31]) == "Y" * 29 + " 2"
    assert sheet_name("///", []) == "Table"


def test_that_stopping_leaves_nothing_behind(target: Path) -> None:
    def stop(done: int, of: int, words: str) -> None:
        if done:
            raise Cancelled

    with pytest.raises(Cancelled):
        xlsx.write(overdue(estate(300), as_at()), target, stop)
    assert list(target.parent.iterdir()) == []


def test_that_progress_counts_up_to_every_row(target: Path) -> None:
    told: list[tuple[int, int, str]] = []
    xlsx.write(overdue(estate(450), as_at()), target, lambda *each: told.append(each))
    assert told == [(200, 450, "rows"), (400, 450, "rows"), (450, 450, "rows")]


def test_that_a_day_is_a_day_without_a_time(target: Path) -> None:
    xlsx.write(overdue([line()], as_at(today=date(2026, 11, 25))), target)
    due = by_heading(sheet(target))["Test due by"]
    assert isinstance(due, datetime)
    assert (due.hour, due.minute, due.second) == (0, 0, 0)
