from datetime import date
from pathlib import Path

import pytest

from estate.domain.cell_names import column_name
from estate.domain.findings import Verdict
from estate.domain.layouts import SheetKind
from estate.domain.progress import Cancelled
from estate.domain.questions import Choice
from estate.domain.valves import EnType, ModelLimits
from estate.errors import IntakeFault
from estate.operations import browse
from estate.operations.bring_in import commit, look
from estate.operations.keep_instruments import add_instrument
from estate.operations.plan_retests import due_lines
from estate.operations.register import Register
from estate.store import batches, places, valves, visits
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring

HEAD = VISITS.splitlines()[0]
FURTHER = (
    ("Designations", "HP-W LP-T44", "HP-W", "designations"),
    ("EN 1111 type", "5", "6", "EN 1111 type"),
    ("Check valves", "yes", "no", "check valves"),
    ("Strainers", "no", "yes", "strainers"),
    ("Isolating valves", "yes", "no", "isolating valves"),
    ("Min differential (K)", "10", "12", "least differential"),
    ("Max pressure ratio", "5:1", "10:1", "greatest pressure ratio"),
    ("Little used", "yes", "no", "little used"),
)


def with_further(*cells: str) -> str:
    """The small asset list with further columns, the same in each row."""
    heading, *rows = ASSETS.splitlines()
    lines = [",".join((heading, *(each[0] for each in FURTHER)))]
    return "\n".join(lines + [",".join((row, *cells)) for row in rows]) + "\n"


def codes(register: Register, folder: Path, *rows: str) -> list[str]:
    path = folder / "round.csv"
    path.write_text("\n".join([HEAD, *rows]), encoding="utf-8")
    return [each.code for each in look(register, path, None, TODAY).questions]


def test_that_an_asset_list_becomes_places_and_valves(register: Register) -> None:
    with register.database.reading() as session:
        outlets, bodies = places.outlets(session), valves.valves(session)
    assert [each.reference for each in outlets] == [
        "MM/G/G01/WHB1", "MM/G/G02/SHR1", "MM/G/G02/SHR2", "MM/1/101/BTH1", "WE/G/G01/WHB1",
    ]  # fmt: skip
    assert len(bodies) == 4


def test_that_one_body_in_one_room_serves_both_outlets(register: Register) -> None:
    page = browse.outlet_page(register, browse.find_outlet(register, "mm g g02 shr2").id, TODAY)
    assert page.also_serves == ("MM/G/G02/SHR1",)
    assert [line.visit.on for line in page.history] == [date(2026, 1, 5)]


def test_that_visits_are_judged_as_they_come_in(register: Register) -> None:
    verdicts = {line.ref: line.verdict for line in due_lines(register, TODAY)}
    assert verdicts == {
        "MM/G/G01/WHB1": Verdict.SATISFACTORY,
        "MM/G/G02/SHR1": Verdict.SATISFACTORY,
        "MM/1/101/BTH1": Verdict.OUT_OF_USE,
        "WE/G/G01/WHB1": None,
    }


def test_that_the_same_file_twice_adds_nothing(register: Register, tmp_path: Path) -> None:
    again = bring(register, tmp_path, VISITS, "visits.csv")
    assert (again.batch_id, again.accepted, again.already_there) == (None, 0, 5)
    assert bring(register, tmp_path, ASSETS, "assets.csv").already_there == 5
    with register.database.reading() as session:
        assert len(visits.visits(session)) == 5
        assert len(batches.batches(session)) == 2


def test_that_looking_writes_nothing(empty: Register, tmp_path: Path) -> None:
    path = tmp_path / "assets.csv"
    path.write_text(ASSETS, encoding="utf-8")
    assert look(empty, path, SheetKind.ASSETS, TODAY).accepted == 5
    with empty.database.reading() as session:
        assert places.outlets(session) == ()


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ("MM/G/G09/WHB9,2026-05-01,In-service,60,13,41,41,0", "unknown-outlet"),
        ("MM/G/G01/WHB1,2027-05-01,In-service,60,13,41,41,0", "future-date"),
        ("MM/G/G01/WHB1,2025-05-01,In-service,60,13,41,41,0", "before-fitting"),
        ("MM/G/G01/WHB1,2026-02-23,In-service,60.4,13.0,41.3,41.3,0", "conflicts-with-register"),
    ],
)
def test_that_a_row_that_does_not_fit_is_questioned(
    register: Register, tmp_path: Path, row: str, code: str
) -> None:
    assert codes(register, tmp_path, row) == [code]


def test_that_the_second_of_two_equal_rows_is_questioned(register: Register, tmp_path: Path) -> None:
    row = "MM/G/G01/WHB1,2026-05-01,In-service,60,13,41,41,0"
    assert codes(register, tmp_path, row, row) == ["duplicate-row"]


def test_that_a_question_names_sheet_row_cell_and_remedy(register: Register, tmp_path: Path) -> None:
    path = tmp_path / "round.csv"
    path.write_text(f"{HEAD}\nMM/G/G01/WHB1,2027-05-01,In-service,60,13,41,41,0\n", encoding="utf-8")
    (asked,) = look(register, path, None, TODAY).questions
    assert (asked.sheet, asked.row, asked.cell, asked.ref) == ("round", 2, "B2", "MM/G/G01/WHB1")
    assert "1 May 2027" in asked.found
    assert "ask the tester" in asked.remedy


def test_that_good_rows_go_in_beside_questioned_ones_and_the_questions_are_kept(
    register: Register, tmp_path: Path
) -> None:
    rows = "MM/G/G01/WHB1,2026-05-01,In-service,60,13,41,41,0\nMM/X,2026-05-01,In-service,60,13,41,41,0"
    brought = bring(register, tmp_path, f"{HEAD}\n{rows}\n", "round.csv")
    assert (brought.accepted, [each.code for each in brought.questions]) == (1, ["unknown-outlet"])
    with register.database.reading() as session:
        assert brought.batch_id is not None
        assert batches.questions(session, brought.batch_id) == brought.questions
        assert b"MM/X" in batches.content(session, brought.batch_id)


def test_that_a_visit_knows_its_file_sheet_and_row(register: Register) -> None:
    page = browse.outlet_page(register, browse.find_outlet(register, "MM/G/G01/WHB1").id, TODAY)
    source = page.history[0].visit.draft.source
    assert source is not None
    assert (source.file, source.sheet, source.row) == ("visits.csv", "visits", 3)
    assert dict(source.cells)["Hot °C"] == "60.4"


def test_that_an_older_visit_brought_in_later_has_the_newer_one_judged_again(
    register: Register, tmp_path: Path
) -> None:
    bring(register, tmp_path, f"{HEAD}\nMM/G/G01/WHB1,2026-06-01,In-service,60,13,42.1,42.1,0\n", "june.csv")
    june = due_lines(register, TODAY)[0].verdict
    bring(register, tmp_path, f"{HEAD}\nMM/G/G01/WHB1,2026-05-01,In-service,60,13,39.9,39.9,0\n", "may.csv")
    page = browse.outlet_page(register, browse.find_outlet(register, "MM/G/G01/WHB1").id, TODAY)
    assert june is Verdict.WATCH
    assert page.judgement is not None
    assert page.judgement.verdict is Verdict.PUT_RIGHT
    assert {each.code for each in page.judgement.findings} >= {"changed-since-previous"}


def test_that_an_instrument_named_in_the_sheet_is_found_in_the_register(
    register: Register, tmp_path: Path
) -> None:
    add_instrument(register, "T-101", standard_uncertainty_k=0.25, who=WHO, at=NOW)
    rows = "MM/G/G01/WHB1,2026-05-01,In-service,60,13,41,41,0,t101\n"
    bring(register, tmp_path, f"{HEAD},Instrument\n{rows}", "round.csv")
    page = browse.outlet_page(register, browse.find_outlet(register, "MM/G/G01/WHB1").id, TODAY)
    assert page.history[0].visit.draft.instrument_id == browse.instruments(register)[0].id


def test_that_an_asset_that_differs_from_the_register_is_questioned(
    register: Register, tmp_path: Path
) -> None:
    path = tmp_path / "assets.csv"
    path.write_text(ASSETS.replace("A15-1,TMV3,15,41", "A15-9,TMV3,15,40"), encoding="utf-8")
    asked = look(register, path, None, TODAY).questions
    assert {each.code for each in asked} == {"differs-from-register"}
    assert {(each.ref, each.cell) for each in asked} == {("MM/G/G01/WHB1", "L2"), ("MM/G/G01/WHB1", "O2")}
    assert all(each.choices == (Choice.SHEET, Choice.REGISTER) for each in asked)


def test_that_an_asset_list_fills_what_the_register_holds_of_valve_and_outlet(
    empty: Register, tmp_path: Path
) -> None:
    bring(empty, tmp_path, with_further(*(each[1] for each in FURTHER)), "assets.csv")
    with empty.database.reading() as session:
        outlets, bodies = places.outlets(session), valves.valves(session).values()
    assert [each.little_used for each in outlets] == [True] * 5
    assert {(each.designations, each.en_type, each.limits) for each in bodies} == {
        (("HP-W", "LP-T44"), EnType.PRE_SET, ModelLimits(10, 5))
    }
    assert {(each.check_valves, each.strainers, each.isolating_valves) for each in bodies} == {
        (True, False, True)
    }


def test_that_what_an_asset_list_leaves_blank_differs_from_nothing(empty: Register, tmp_path: Path) -> None:
    full = with_further(*(each[1] for each in FURTHER))
    bring(empty, tmp_path, full, "assets.csv")
    blank = with_further(*("" for _ in FURTHER))
    for text in (full, blank, ASSETS):
        again = bring(empty, tmp_path, text, "again.csv")
        assert (again.accepted, again.already_there, again.questions) == (0, 5, ())


@pytest.mark.parametrize("place", range(len(FURTHER)))
def test_that_what_an_asset_list_says_otherwise_is_named(empty: Register, tmp_path: Path, place: int) -> None:
    bring(empty, tmp_path, with_further(*(each[1] for each in FURTHER)), "assets.csv")
    other = with_further(*(each[2] if at == place else "" for at, each in enumerate(FURTHER)))
    asked = bring(empty, tmp_path, other, "again.csv").questions
    assert {each.code for each in asked} == {"differs-from-register"}
    assert all(FURTHER[place][3] in f"{each.found} {each.remedy}" for each in asked)
    assert {each.cell[0] for each in asked} == {column_name(ASSETS.splitlines()[0].count(",") + 1 + place)}


def test_that_one_body_in_two_rooms_is_questioned(empty: Register, tmp_path: Path) -> None:
    path = tmp_path / "assets.csv"
    path.write_text(ASSETS.replace("B-15,B-3", "A15,A15-2").replace("Make B", "Make A"), encoding="utf-8")
    proposal = look(empty, path, None, TODAY)
    assert [each.code for each in proposal.questions] == ["serial-elsewhere"]
    assert proposal.accepted == 4


def test_that_a_reference_twice_in_an_asset_list_is_questioned(empty: Register, tmp_path: Path) -> None:
    path = tmp_path / "assets.csv"
    path.write_text(ASSETS + ASSETS.splitlines()[1].lower() + "\n", encoding="utf-8")
    assert [each.code for each in look(empty, path, None, TODAY).questions] == ["duplicate-row"]


def test_that_a_valve_without_a_serial_number_stands_for_itself(empty: Register, tmp_path: Path) -> None:
    bring(empty, tmp_path, ASSETS.replace("A15-2", ""), "assets.csv")
    assert len(due_lines(empty, TODAY)) == 5


def test_that_stopping_half_way_keeps_nothing(empty: Register, tmp_path: Path) -> None:
    path = tmp_path / "assets.csv"
    path.write_text(ASSETS, encoding="utf-8")
    proposal = look(empty, path, None, TODAY)

    def stop(done: int, of: int, words: str) -> None:
        if done == 1:
            raise Cancelled

    with pytest.raises(Cancelled):
        commit(empty, proposal, who=WHO, at=NOW, progress=stop)
    with empty.database.reading() as session:
        assert places.outlets(session) == ()
        assert batches.batches(session) == ()


def test_that_a_file_that_is_no_sheet_is_refused(empty: Register, tmp_path: Path) -> None:
    path = tmp_path / "picture.png"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(200))
    with pytest.raises(IntakeFault) as caught:
        look(empty, path, None, TODAY)
    assert caught.value.remedy
