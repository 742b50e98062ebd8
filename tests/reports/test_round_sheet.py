from pathlib import Path

import pytest
from openpyxl import load_workbook

from estate.domain.field_limits import FieldLimit
from estate.reports.round_columns import LIMITED, Part, columns
from estate.reports.round_sheet import RoundLine, round_sheet
from estate.reports.xlsx.round_checks import checks
from estate.reports.xlsx.rounds import write_round
from tests.reports.builders import as_at, path

CEILING = FieldLimit("≤ 43", ("D08-32: seen (not verified in the source)",))
SEEN = FieldLimit("≤ 44", ("HSE-12: seen",))


def line(number: int = 1, **limits: FieldLimit) -> RoundLine:
    key = f"outlet {number} of mx-1, check 00"
    return RoundLine(f"MC/{number}", path(), "basin", "patients", "Corvane TH3", key, 41.0, limits=limits)


def test_that_a_limit_alike_everywhere_has_no_column_of_its_own() -> None:
    alike = round_sheet([line(1, found_c=CEILING), line(2, found_c=CEILING)], as_at(), "two")
    assert alike.shared["found_c"] == CEILING
    assert not [each for each in alike.columns if each.part is Part.LIMIT]


def test_that_a_limit_that_varies_stands_beside_its_field() -> None:
    varying = round_sheet([line(1, found_c=CEILING), line(2)], as_at(), "two")
    names = [(each.name, each.part) for each in varying.columns]
    assert names.index(("found_c", Part.LIMIT)) == names.index(("found_c", Part.ENTRY)) + 1
    assert [each.limit("found_c") for each in varying.lines] == ["≤\u00a043\u00a0*", "none known"]


def test_that_only_what_is_not_verified_is_starred() -> None:
    assert line(found_c=SEEN).limit("found_c") == "≤\u00a044"


def test_that_every_limit_stands_right_beside_the_field_that_it_is_for() -> None:
    names = [(each.name, each.part) for each in columns(True, LIMITED)]
    for name in LIMITED:
        assert names.index((name, Part.LIMIT)) == names.index((name, Part.ENTRY)) + 1


def test_that_a_round_of_hundreds_tells_how_far_it_is(tmp_path: Path) -> None:
    told: list[tuple[int, int, str]] = []
    round_ = round_sheet([line(number) for number in range(450)], as_at(), "all")
    write_round(round_, tmp_path / "round.xlsx", lambda *each: told.append(each))
    assert told == [(200, 450, "rows"), (400, 450, "rows"), (450, 450, "rows")]


def test_that_a_hint_too_long_for_a_program_shows_that_it_was_cut() -> None:
    long = FieldLimit("≤ 43", ("w" * 400,))
    (prompt,) = {
        str(each.prompt)
        for each in checks(round_sheet([line(found_c=long)], as_at(), "one"), 9)
        if each.promptTitle == "Mixed as found (°C)"
    }
    assert len(prompt) == 255
    assert prompt.endswith("…")


def test_that_neighbours_with_one_limit_share_a_check_and_others_do_not() -> None:
    limits = [CEILING, CEILING, SEEN, CEILING]
    round_ = round_sheet([line(n, found_c=each) for n, each in enumerate(limits)], as_at(), "four")
    found = [str(each.sqref) for each in checks(round_, 9) if each.promptTitle == "Mixed as found (°C)"]
    assert sorted(
        text.translate({ord(letter): None for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}) for text in found
    ) == [
        "11",
        "9:10 12",
    ]


def test_that_a_check_of_very_many_areas_is_parted() -> None:
    lines = [line(n, found_c=(CEILING, SEEN)[n % 2]) for n in range(500)]
    found = [
        each.sqref
        for each in checks(round_sheet(lines, as_at(), "many"), 9)
        if each.promptTitle == "Mixed as found (°C)"
    ]
    assert max(len(each.ranges) for each in found) == 200
    assert sum(len(each.ranges) for each in found) == 500


@pytest.mark.parametrize("reference", ["X" * 200, "X Y", ""])
def test_that_an_odd_reference_is_written_whole(tmp_path: Path, reference: str) -> None:
    odd = RoundLine(reference, path(), "basin", "patients", "", "key")
    sheet = load_workbook(write_round(round_sheet([odd], as_at(), "one"), tmp_path / "r.xlsx"))["Round"]
    assert sheet.cell(sheet.max_row, 1).value == (reference or None)
    assert sheet.column_dimensions["A"].width <= 24
