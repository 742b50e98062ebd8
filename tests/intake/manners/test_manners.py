"""The sheets are what they say they are, and the rod that measures their reading is straight."""

import io
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import openpyxl
import pytest

from estate.operations.register import Register
from tests.intake.manners.kept import KEPT, kept
from tests.intake.manners.manner import MANNERS, made
from tests.intake.manners.paper import Due, Entry, Sheet
from tests.intake.manners.places import STYLES, estate
from tests.intake.manners.savers import by_hand, by_openpyxl, saved
from tests.intake.manners.scoring import Score, registers, scored

PLAIN = "Ref,Date,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C\n"


@pytest.fixture(scope="module")
def held() -> Iterator[Mapping[str, Register]]:
    with registers() as found:
        yield found


def one_row(said: str, day: date, **changes: Any) -> tuple[Sheet, tuple[str, bytes]]:
    """A sheet with one row; the truth may be told otherwise than the row."""
    values = {"hot_c": 60.0, "cold_c": 13.0, "found_c": 41.0, "left_c": 41.0}
    entry = replace(Entry(said, day, values, Due.TAKE, "Page", 2, 2), **changes)
    text = f"{PLAIN}{said},{day.isoformat()},60.0,13.0,41.0,41.0\n"
    return Sheet("one", 1, "slashed", "", (), (entry,)), ("one.csv", text.encode())


def told(held: Mapping[str, Register], **changes: Any) -> Score:
    spot = next(each for each in estate("slashed") if each.kind == "WHB")
    sheet, file = one_row(spot.ref, date(2026, 10, 14), **changes)
    return scored(held["slashed"], sheet, file)


@pytest.mark.parametrize("manner", MANNERS)
def test_that_a_seed_makes_the_same_sheet_each_time_and_its_truth_names_outlets_that_are_there(
    manner: str,
) -> None:
    for seed in (1, 2):
        sheet = made(manner, seed)
        refs = {spot.ref for spot in estate(sheet.style)} | {""}
        rows = {page.name: len(page.rows) for page in sheet.pages}
        assert sheet == made(manner, seed)
        assert len(sheet.entries) >= 10
        assert all(
            entry.ref in refs and 1 <= entry.first <= entry.last <= rows[entry.page]
            for entry in sheet.entries
        )


def test_that_both_ways_of_saving_a_workbook_hold_the_same_cells() -> None:
    for manner in ("titled", "by building", "cards down"):
        sheet = made(manner, 3)
        books = [openpyxl.load_workbook(io.BytesIO(save(sheet))) for save in (by_openpyxl, by_hand)]
        cells = [[[list(row) for row in tab.iter_rows(values_only=True)] for tab in book] for book in books]
        assert cells[0] == cells[1]


def test_that_every_style_and_many_ways_of_saving_are_met() -> None:
    sheets = [made(manner, seed) for manner in ("plain", "delimited", "german") for seed in range(1, 20)]
    assert {sheet.style for sheet in sheets} == set(STYLES)
    assert {saved(sheet)[0].rpartition(".")[2] for sheet in sheets} >= {"xlsx", "ods", "csv", "tsv", "txt"}


def test_that_the_kept_sheets_and_their_truth_belong_together() -> None:
    names = [name for _, (name, _) in kept()]
    assert sorted([*names, "truth.json"]) == sorted(path.name for path in KEPT.iterdir())
    assert {name.rpartition(".")[2] for name in names} == {"xlsx", "xls", "ods", "xlsm", "csv"}
    assert all(sheet.entries for sheet, _ in kept())


def test_that_a_row_read_as_it_is_scores_as_right(held: Mapping[str, Register]) -> None:
    score = told(held)
    assert (score.due, score.right, score.wrong, score.lost, score.notes) == (1, 1, 0, 0, [])


@pytest.mark.parametrize(
    "changes",
    [
        {"on": date(2026, 10, 14) + timedelta(days=1)},
        {"ref": "MB/G/G99/WHB1"},
        {"values": {"hot_c": 60.0, "cold_c": 13.0, "found_c": 41.1, "left_c": 41.0}},
        {"values": {"hot_c": 60.0, "cold_c": 13.0, "left_c": 41.0}},
        {"values": {"hot_c": (61.0, 62.0), "cold_c": 13.0, "found_c": 41.0, "left_c": 41.0}},
        {"kind": "commissioning"},
        {"due": Due.ASK},
        {"due": Due.ATTEMPT},
    ],
)
def test_that_a_row_taken_otherwise_than_it_truly_is_scores_as_wrong(
    held: Mapping[str, Register], changes: dict[str, object]
) -> None:
    score = told(held, **changes)
    assert (score.right, score.wrong) == (0, 1)
    assert "WRONG" in score.notes[0]


def test_that_a_value_left_behind_scores_as_short(held: Mapping[str, Register]) -> None:
    values = {"hot_c": 60.0, "cold_c": 13.0, "found_c": 41.0, "left_c": 41.0, "flow_l_min": 6.0}
    score = told(held, values=values)
    assert (score.due, score.right, score.short, score.wrong) == (1, 0, 1, 0)


def test_that_an_entry_of_which_nothing_is_heard_scores_as_lost(held: Mapping[str, Register]) -> None:
    spot = next(each for each in estate("slashed") if each.kind == "WHB")
    sheet, file = one_row(spot.ref, date(2026, 10, 14))
    further = replace(sheet.entries[0], on=date(2026, 10, 20), first=9, last=9)
    score = scored(held["slashed"], replace(sheet, entries=(*sheet.entries, further)), file)
    assert (score.due, score.right, score.lost) == (2, 1, 1)


def test_that_a_question_scores_as_asked_and_a_refused_file_as_asked_throughout(
    held: Mapping[str, Register],
) -> None:
    sheet, (name, content) = one_row("nowhere", date(2026, 10, 14))
    for file, code in (((name, content), "unknown-outlet"), ((name, b"\0"), "refused")):
        score = scored(held["slashed"], sheet, file)
        assert (score.due, score.right, score.asked, score.wrong) == (1, 0, 1, 0)
        assert score.codes == {code: 1}
