from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter

from estate.domain.cell_names import CellsOfRow, column_name, place_name, place_of


@given(st.integers(0, 18_277))
def test_that_columns_are_named_as_a_spreadsheet_library_names_them(column: int) -> None:
    assert column_name(column) == get_column_letter(column + 1)


@given(st.integers(0, 1_048_575), st.integers(0, 18_277))
def test_that_a_name_leads_back_to_its_place(row: int, column: int) -> None:
    assert place_of(place_name(row, column)) == (row, column)


def test_that_what_is_no_name_of_a_cell_leads_nowhere() -> None:
    assert [place_of(text) for text in ("row 9", "", "9C", "c9", "ABCD1")] == [None] * 5


def test_that_the_cells_of_a_row_are_named_when_they_are_asked_for() -> None:
    cells = CellsOfRow((("reference", "A"), ("hot_c", "AB")), 12)
    assert dict(cells) == {"reference": "A12", "hot_c": "AB12"}
