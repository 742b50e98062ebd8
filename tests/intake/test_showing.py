"""Sheets as they are, and what is remembered of how cells look."""

from datetime import date

import pytest

from estate.intake import raw_cells
from estate.intake.showing import shown_sheets
from tests.intake.laying import DAY, HEADING, book, laid, row_of


def test_that_every_cell_is_shown_where_it_is_in_words() -> None:
    (sheet,) = shown_sheets(book({"Round": [[], [None, "Ref", 41.0, 41.5, True, DAY]]}), "round.xlsx")
    assert (sheet.name, sheet.hidden) == ("Round", False)
    assert sheet.rows[1] == ("", "Ref", "41", "41.5", "TRUE", "2026-10-14")


def test_that_a_text_is_shown_parted_as_it_is_read() -> None:
    (sheet,) = shown_sheets("Ref;Date;Hot °C\nA1;2026-10-14;60,5\n".encode(), "round.csv")
    assert sheet.rows == (("Ref", "Date", "Hot °C"), ("A1", "2026-10-14", "60,5"))


def test_that_what_is_remembered_of_cells_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(raw_cells, "MOST_REMEMBERED", 1)
    sheet = [
        HEADING,
        *[row_of(f"A{number}", date(2026, 10, number), 38.0 + number / 10) for number in range(1, 6)],
    ]
    cells = [dict(visit.source.cells)["Mixed found °C"] for visit in laid(sheet).visits]
    assert cells == ["38.1", "38.2", "38.3", "38.4", "38.5"]


def test_that_true_and_one_are_kept_apart_and_cells_without_heading_are_named_by_their_place() -> None:
    sheet = [
        [*HEADING, None, "Box"],
        [*row_of("A1"), "beside", 1],
        [*row_of("A2"), "  ", True],
        [*row_of("A3"), None, True, 7],
    ]
    cells = [dict(visit.source.cells) for visit in laid(sheet).visits]
    assert [row.get("Box") for row in cells] == ["1", "TRUE", "TRUE"]
    assert [(row.get("G2"), row.get("G3"), row.get("I4")) for row in cells] == [
        ("beside", None, None), (None, None, None), (None, None, "7"),
    ]  # fmt: skip
