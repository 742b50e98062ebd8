from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime
from itertools import product
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from estate.domain.progress import Cancelled
from estate.domain.questions import Question
from estate.domain.round_key import RoundKey, read_key
from estate.domain.visits import Isolation, Readings, VisitDraft, VisitKind, measured
from estate.errors import EntryFault, NotFoundFault, ReportFault
from estate.operations import browse
from estate.operations.bring_in import Proposal, commit, look
from estate.operations.keep_instruments import add_instrument
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.write_round_sheet import Round, write_round_sheet
from estate.store import places
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.round_filling import (
    TESTED,
    columns_of,
    fill,
    head_of,
    rearrange,
    row_of,
    sheet_of,
)
from tests.operations.test_record_visit import typed

BASIN, SHOWER, BATH, STAFF = "MM/G/G01/WHB1", "MM/G/G02/SHR1", "MM/1/101/BTH1", "WE/G/G01/WHB1"
WALKED = [BASIN, SHOWER, BATH, STAFF]
DAY = date(2026, 11, 20)
KEPT = Path(__file__).parents[1] / "data" / "rounds"


@pytest.fixture
def blank(register: Register, tmp_path: Path) -> Path:
    """A round sheet of every valve."""
    add_instrument(register, "T-101", who=WHO, at=NOW)
    return write_round_sheet(register, Round(), tmp_path / "round.xlsx", TODAY)


def references(path: Path) -> list[str]:
    sheet = sheet_of(path)
    return [str(row[0]) for row in sheet.iter_rows(min_row=head_of(sheet) + 1, values_only=True)]


def said(path: Path, reference: str) -> dict[str, object]:
    sheet = sheet_of(path)
    row = row_of(sheet, reference)
    return {heading: sheet.cell(row, column).value for heading, column in columns_of(sheet).items()}


def looked(register: Register, path: Path) -> Proposal:
    return look(register, path, None, TODAY)


def drafts(proposal: Proposal) -> dict[str, VisitDraft]:
    return {each.ref: each.draft for each in proposal.visits}


def codes(questions: Iterable[Question]) -> list[str]:
    return [each.code for each in questions]


def test_that_a_round_leads_to_one_outlet_of_each_valve_in_walking_order(blank: Path) -> None:
    assert references(blank) == WALKED


def test_that_each_row_says_where_the_outlet_is_and_what_is_known_of_it(blank: Path) -> None:
    row = said(blank, SHOWER)
    assert (row["Site"], row["Building"], row["Level"]) == ("Marlpit Cross", "Main Block", "G")
    assert row["Room"] == "G02 Shower room"
    assert row["Outlet"] == "Shower 1 (the valve also serves MM/G/G02/SHR2)"
    assert (row["Use"], row["Used by"], row["Valve"]) == ("shower", "patients", "Make A A15 A15-2")
    assert row["Set to"] == "set 41\u00a0°C"
    assert row["Last time"] == "left at 41.1 °C, 5 Jan 2026"
    assert said(blank, STAFF)["Last time"] == "never visited"


def test_that_the_key_names_register_and_outlet_and_is_out_of_sight(register: Register, blank: Path) -> None:
    sheet, outlet = sheet_of(blank), browse.find_outlet(register, BATH)
    column = columns_of(sheet)["Register key"]
    assert read_key(str(said(blank, BATH)["Register key"])) == RoundKey("mx-1", outlet.id)
    assert sheet.column_dimensions[get_column_letter(column)].hidden


def test_that_the_sheet_says_estate_day_and_what_to_mind(blank: Path) -> None:
    sheet = sheet_of(blank)
    above = " ".join(str(row[0]) for row in sheet.iter_rows(max_row=head_of(sheet), values_only=True))
    words = ("Marlpit Cross", "made on 25 Nov 2026", "4 outlets: every valve in place", "mx-1")
    for each in (*words, "Scald.", "Isolation.", "Hygiene.", "maker's instructions", "risk assessment"):
        assert each in above


def test_that_limits_stand_beside_their_fields_and_are_marked_where_not_verified(blank: Path) -> None:
    sheet = sheet_of(blank)
    head, column = head_of(sheet), columns_of(sheet)["Mixed as found (°C)"]
    beside = [sheet.cell(row_of(sheet, each), column + 1).value for each in WALKED]
    assert sheet.cell(head, column + 1).value == "Limit"
    assert beside == ["≤\u00a043\u00a0*", "≤\u00a043\u00a0*", "≤\u00a046\u00a0*", "≤\u00a043\u00a0*"]
    flow = columns_of(sheet)["Cold off: residual flow (ml/min)"]
    assert sheet.cell(head - 2, flow).value == "limit here ≤\u00a0120\u00a0*"


def test_that_the_sheet_to_read_first_gives_each_limit_its_source(blank: Path) -> None:
    words = {str(row[0]): str(row[1]) for row in load_workbook(blank)["Read first"].values if row[0]}
    assert "D08-33" in words["Mixed as found (°C): ≤ 46 *"]
    assert words["Mixed as found (°C): ≤ 46 *"].endswith("(at 1 of 4 outlets)")
    assert "not verified in the source" in words["Mixed as found (°C): ≤ 43 *"]
    assert {"Scald", "Isolation", "Hygiene", "What comes first", "Made on", "Rule sets"} <= words.keys()


def test_that_what_is_given_is_locked_and_what_is_entered_is_not(blank: Path) -> None:
    sheet = sheet_of(blank)
    columns, row = columns_of(sheet), row_of(sheet, BATH)
    given = ("Outlet reference", "Room", "Valve", "Set to", "Last time", "Limit", "Register key")
    assert sheet.protection.sheet
    assert not sheet.protection.password
    assert all(sheet.cell(row, columns[each]).protection.locked for each in given)
    assert not any(sheet.cell(row, columns[each]).protection.locked for each in TESTED)


def test_that_choosing_a_cell_says_its_limit_and_no_entry_is_ever_refused(blank: Path) -> None:
    sheet = sheet_of(blank)
    hints = {}
    for check in sheet.data_validations.dataValidation:
        assert check.errorStyle == "warning"
        for area in check.sqref.ranges:
            for row, column in product(
                range(area.min_row, area.max_row + 1), range(area.min_col, area.max_col + 1)
            ):
                hints[row, column] = str(check.prompt)
    columns = columns_of(sheet)
    found = hints[row_of(sheet, BATH), columns["Mixed as found (°C)"]]
    assert found.startswith("Limit here: ≤ 46.")
    assert "never a pass" in found
    assert set(hints) == {(row_of(sheet, each), columns[name]) for each in WALKED for name in COLUMNS}
    assert max(len(each) for each in hints.values()) <= 255


COLUMNS = (*TESTED, "Kind of visit", "Why not tested")


def test_that_it_prints_across_the_page_with_its_head_on_every_page(blank: Path) -> None:
    sheet = sheet_of(blank)
    head = head_of(sheet)
    assert (sheet.page_setup.orientation, sheet.page_setup.fitToWidth) == ("landscape", 1)
    assert sheet.print_title_rows == f"${head}:${head}"
    assert sheet.freeze_panes == f"B{head + 1}"
    assert [each.id for each in sheet.row_breaks.brk] == [row_of(sheet, BATH)]


def test_that_a_filled_sheet_comes_back_without_one_question(register: Register, blank: Path) -> None:
    fill(blank, dict.fromkeys(WALKED, TESTED))
    proposal = looked(register, blank)
    assert proposal.questions == ()
    assert list(drafts(proposal)) == WALKED
    for draft in drafts(proposal).values():
        assert draft.readings == Readings(
            hot_c=60.2,
            cold_c=12.9,
            found_c=41.3,
            left_c=41.3,
            flow_l_min=6.5,
            cold_isolated=Isolation(max_c=42.1, stabilised_c=41.9, residual_ml_min=12.0, shut_s=2.5),
            hot_isolated=Isolation(residual_ml_min=0.0),
            adjusted=False,
            strainers_cleaned=True,
            check_valves_good=True,
            isolating_valves_open=False,
            cap_refitted=True,
        )
        assert (draft.on, draft.person, draft.remarks) == (DAY, "A. Thorne", "quiet ward")
        assert draft.instrument_id is not None
        assert draft.kind is VisitKind.IN_SERVICE


def test_that_rows_left_blank_are_no_questions(register: Register, blank: Path) -> None:
    fill(blank, {SHOWER: TESTED, STAFF: TESTED})
    proposal = looked(register, blank)
    assert proposal.questions == ()
    assert list(drafts(proposal)) == [SHOWER, STAFF]
    assert proposal.reading.blank == 2


def test_that_what_is_said_once_holds_for_every_row_that_does_not_say_otherwise(
    register: Register, blank: Path
) -> None:
    add_instrument(register, "T-9", who=WHO, at=NOW)
    short = {"Date": DAY, "Hot (°C)": 60, "Mixed as found (°C)": 41}
    fill(blank, {BASIN: short, BATH: short | {"Tested by": "B. Vale", "Instrument": "T-9"}}, {
        "Tested by:": "A. Thorne",
        "Instrument:": "T-101",
    })  # fmt: skip
    found = drafts(looked(register, blank))
    assert (found[BASIN].person, found[BASIN].instrument_words) == ("A. Thorne", "T-101")
    assert (found[BATH].person, found[BATH].instrument_words) == ("B. Vale", "T-9")


ENTERED = [
    ({"Mixed as found (°C)": 43.21}, {"found_c": 43.21}),
    ({"Mixed as found (°C)": "41,5"}, {"found_c": 41.5}),
    ({"Mixed as found (°C)": 41.0, "Adjusted": "no"}, {"found_c": 41.0, "left_c": 41.0, "adjusted": False}),
    (
        {"Mixed as found (°C)": 44.5, "Adjusted": "yes", "Mixed as left (°C)": 41.2},
        {"found_c": 44.5, "left_c": 41.2, "adjusted": True},
    ),
    ({"Cold off: residual flow (ml/min)": 0}, {"cold_isolated.residual_ml_min": 0.0}),
    ({"Cold off: residual flow (ml/min)": 3500}, {"cold_isolated.residual_ml_min": 3500.0}),
    ({"Hot off: residual flow (ml/min)": 130}, {"hot_isolated.residual_ml_min": 130.0}),
    ({"Hot (°C)": 47.5, "Cold (°C)": 24}, {"hot_c": 47.5, "cold_c": 24.0}),
    ({"Strainers cleaned": "no"}, {"strainers_cleaned": False}),
]


@pytest.mark.parametrize(("cells", "readings"), ENTERED, ids=lambda each: str(list(each.values())))
def test_that_any_kind_of_entry_is_read_as_it_stands(
    register: Register, blank: Path, cells: dict[str, object], readings: dict[str, object]
) -> None:
    fill(blank, {BATH: {"Date": DAY} | cells})
    proposal = looked(register, blank)
    assert proposal.questions == ()
    found = measured(drafts(proposal)[BATH].readings)
    assert found | readings == found
    assert found.keys() - readings.keys() <= {"left_c", "adjusted"}


@pytest.mark.parametrize("kind", list(VisitKind))
def test_that_every_kind_of_visit_offered_is_understood(
    register: Register, blank: Path, kind: VisitKind
) -> None:
    fill(blank, {BATH: dict(TESTED) | {"Kind of visit": kind.value}})
    assert drafts(looked(register, blank))[BATH].kind is kind


@pytest.mark.parametrize("written", [datetime(2026, 11, 20), "20 Nov 2026", "2026-11-20"])
def test_that_the_day_may_be_written_as_the_hint_says(
    register: Register, blank: Path, written: object
) -> None:
    fill(blank, {BATH: dict(TESTED) | {"Date": written}})
    proposal = looked(register, blank)
    assert (codes(proposal.questions), drafts(proposal)[BATH].on) == ([], DAY)


def test_that_a_valve_out_of_reach_is_an_attempt_and_no_visit(register: Register, blank: Path) -> None:
    fill(blank, {BASIN: TESTED, BATH: {"Date": DAY, "Why not tested": "no access: locked"}})
    proposal = looked(register, blank)
    assert list(drafts(proposal)) == [BASIN]
    assert codes(proposal.questions) == ["no-access"]
    assert [(each.on, each.why) for each in proposal.reading.attempts] == [(DAY, "no access: locked")]


def test_that_sorted_rows_and_widened_columns_change_nothing(register: Register, blank: Path) -> None:
    fill(blank, dict.fromkeys(WALKED, TESTED))
    proposal = looked(register, rearrange(blank, [STAFF, BATH, BASIN, SHOWER]))
    assert proposal.questions == ()
    assert list(drafts(proposal)) == [STAFF, BATH, BASIN, SHOWER]


def test_that_a_row_finds_its_outlet_by_key_when_its_reference_was_changed(
    register: Register, blank: Path
) -> None:
    fill(blank, {BATH: dict(TESTED) | {"Outlet reference": ""}})
    assert list(drafts(looked(register, blank))) == [BATH]


@pytest.mark.parametrize("form", ["xlsx", "ods"])
def test_that_a_sheet_saved_by_another_program_comes_back_as_well(register: Register, form: str) -> None:
    add_instrument(register, "T-101", who=WHO, at=NOW)
    proposal = looked(register, KEPT / f"saved-by-libreoffice.{form}")
    assert (proposal.questions, proposal.reading.blank) == ((), 1)
    assert {ref: draft.readings.found_c for ref, draft in drafts(proposal).items()} == {
        BASIN: 41.3,
        BATH: 43.9,
        STAFF: 41.0,
    }
    assert drafts(proposal)[BATH].person == "A. Thorne"


def test_that_a_sheet_brought_in_twice_is_already_there(register: Register, blank: Path) -> None:
    fill(blank, dict.fromkeys(WALKED, TESTED))
    commit(register, looked(register, blank), who=WHO, at=NOW)
    again = looked(register, blank)
    assert (again.visits, again.already_there, again.questions) == ((), 4, ())


def test_that_outlets_are_chosen_one_by_one(register: Register, tmp_path: Path) -> None:
    ids = [browse.find_outlet(register, each).id for each in (STAFF, "MM/G/G02/SHR2")]
    path = write_round_sheet(register, ids, tmp_path / "two.xlsx", TODAY)
    assert references(path) == ["MM/G/G02/SHR2", STAFF]
    assert "Site" in columns_of(sheet_of(path))


def test_that_a_round_of_one_building_stays_in_it(register: Register, tmp_path: Path) -> None:
    building = browse.tree(register, TODAY)[1].children[0]
    path = write_round_sheet(register, Round(building_id=building.id), tmp_path / "one.xlsx", TODAY)
    assert references(path) == [STAFF]
    assert "Site" not in columns_of(sheet_of(path))
    assert "Limit" not in columns_of(sheet_of(path))


def test_that_a_round_of_what_is_due_leaves_the_rest_out(register: Register, tmp_path: Path) -> None:
    with_visit = replace(typed(register), on=TODAY)
    record_visit(register, with_visit, who=WHO, at=NOW, today=TODAY)
    tested = browse.outlet_page(register, with_visit.outlet_id, TODAY).outlet.reference
    path = write_round_sheet(register, Round(due_within_weeks=0), tmp_path / "due.xlsx", TODAY)
    assert references(path) == [each for each in WALKED if each != tested]
    later = write_round_sheet(register, Round(due_within_weeks=60), tmp_path / "due.xlsx", TODAY)
    assert references(later) == WALKED


def test_that_what_was_not_measured_last_time_is_said_to_be_so(register: Register, tmp_path: Path) -> None:
    draft = replace(typed(register), readings=Readings(hot_c=60.0), instrument_words="T-9", on=TODAY)
    record_visit(register, draft, who=WHO, at=NOW, today=TODAY)
    path = write_round_sheet(register, [draft.outlet_id], tmp_path / "one.xlsx", TODAY)
    reference = browse.outlet_page(register, draft.outlet_id, TODAY).outlet.reference
    assert said(path, reference)["Last time"] == "not measured, 25 Nov 2026, T-9"


def test_that_a_visit_after_the_day_of_the_sheet_is_no_last_time(register: Register, tmp_path: Path) -> None:
    path = write_round_sheet(register, Round(), tmp_path / "early.xlsx", date(2026, 1, 10))
    assert said(path, BATH)["Last time"] == "left at 44 °C, 5 Jan 2026"


def test_that_a_use_without_a_limit_says_that_none_is_known(empty: Register, tmp_path: Path) -> None:
    other = ASSETS.replace(
        "Wash-hand basin,Staff,Make C,C3,C3-4,TMV2,15,41", "Other,Staff,Make C,C3,C3-4,,15,"
    )
    bring(empty, tmp_path, other, "assets.csv")
    path = write_round_sheet(empty, Round(), tmp_path / "round.xlsx", TODAY)
    sheet = sheet_of(path)
    column = columns_of(sheet)["Mixed as found (°C)"]
    assert sheet.cell(row_of(sheet, STAFF), column + 1).value == "none known"
    assert said(path, STAFF)["Set to"] == "not recorded"


def test_that_the_registers_own_names_are_offered_but_others_taken(blank: Path) -> None:
    book = load_workbook(blank)
    assert book["Lists"].sheet_state == "hidden"
    assert [cell.value for cell in book["Lists"]["A"]] == ["T-101"]


def test_that_an_outlet_or_building_that_is_not_there_is_told(register: Register, tmp_path: Path) -> None:
    with pytest.raises(NotFoundFault, match="outlet 999"):
        write_round_sheet(register, [999], tmp_path / "x.xlsx", TODAY)
    with pytest.raises(NotFoundFault, match="building 999"):
        write_round_sheet(register, Round(building_id=999), tmp_path / "x.xlsx", TODAY)


def test_that_an_outlet_without_a_valve_is_told_by_name(register: Register, tmp_path: Path) -> None:
    outlet = browse.find_outlet(register, BATH)
    with writing(register.database, WHO, "retired", NOW) as tx:
        places.amend_outlet(tx, outlet.id, retired_on=TODAY)
    with pytest.raises(EntryFault, match=BATH):
        write_round_sheet(register, [outlet.id], tmp_path / "x.xlsx", TODAY)


def test_that_an_empty_choice_is_told(register: Register, tmp_path: Path) -> None:
    with pytest.raises(EntryFault, match="nothing to visit"):
        write_round_sheet(register, [], tmp_path / "x.xlsx", TODAY)


def test_that_only_a_workbook_is_written(register: Register, tmp_path: Path) -> None:
    with pytest.raises(ReportFault):
        write_round_sheet(register, Round(), tmp_path / "round.pdf", TODAY)


def test_that_the_same_round_gives_the_same_bytes(register: Register, tmp_path: Path) -> None:
    first, second = (
        write_round_sheet(register, Round(), tmp_path / name, TODAY) for name in ("1.xlsx", "2.xlsx")
    )
    assert first.read_bytes() == second.read_bytes()


def test_that_stopping_leaves_nothing_behind(register: Register, tmp_path: Path) -> None:
    def stop(done: int, of: int, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        write_round_sheet(register, Round(), tmp_path / "round.xlsx", TODAY, stop)
    assert list(tmp_path.glob("round*")) == []
