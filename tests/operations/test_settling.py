"""What a sheet comes to beside what the register holds: days, bodies, instruments, readings, assets."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from estate.domain.instruments import Calibration
from estate.domain.progress import Cancelled
from estate.domain.questions import Answer, Choice
from estate.domain.valves import ModelLimits
from estate.errors import EntryFault, NotFoundFault
from estate.operations import browse
from estate.operations.bring_in import Proposal, commit, look, look_again
from estate.operations.keep_instruments import add_instrument
from estate.operations.keep_layouts import layouts
from estate.operations.query_reading import UNLIKELY, unlikely_reading
from estate.operations.register import Register
from estate.operations.sheet_days import SheetDays
from estate.store import batches, judgements, places, valves, visits
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.test_learn import learned  # noqa: F401 - a fixture, found by its name

HEAD = (
    "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min,Instrument"
)
BASIN, SHOWER, BATH = "MM/G/G01/WHB1", "MM/G/G02/SHR1", "MM/1/101/BTH1"


def visit(reference: str, on: str, found: float = 41.0, instrument: str = "") -> str:
    return f"{reference},{on},In-service,60,13,{found},{found},0,{instrument}"


def looked(register: Register, folder: Path, *rows: str, answers: tuple[Answer, ...] = ()) -> Proposal:
    path = folder / "round.csv"
    path.write_text("\n".join([HEAD, *rows]), encoding="utf-8")
    return look(register, path, None, TODAY, answers=answers)


def listed(register: Register, folder: Path, text: str, *answers: Answer) -> Proposal:
    path = folder / "assets.csv"
    path.write_text(text, encoding="utf-8")
    return look(register, path, None, TODAY, answers=answers)


def kept(register: Register, proposal: Proposal) -> int:
    brought = commit(register, proposal, who=WHO, at=NOW)
    assert brought.batch_id is not None
    return brought.batch_id


def codes(proposal: Proposal) -> list[str]:
    return [each.code for each in proposal.questions]


def noted(proposal: Proposal) -> list[str]:
    return [each.code for each in proposal.notes]


def test_that_a_visit_to_a_retired_outlet_is_asked_and_can_be_anothers(
    register: Register, tmp_path: Path
) -> None:
    with writing(register.database, WHO, "retired", NOW) as tx:
        places.amend_outlet(tx, browse.find_outlet(register, BATH).id, retired_on=date(2026, 4, 1))
    row = visit(BATH, "2026-05-01")
    (asked,) = looked(register, tmp_path, row).questions
    assert (asked.code, asked.ref, asked.found) == ("retired-outlet", BATH, BATH)
    assert "1 Apr 2026" in asked.remedy
    other = Answer("retired-outlet", Choice.OUTLET, asked.sheet, asked.row, asked.cell, BASIN)
    assert [each.ref for each in looked(register, tmp_path, row, answers=(other,)).visits] == [BASIN]
    left = looked(register, tmp_path, row, answers=(Answer("retired-outlet", Choice.LEAVE_OUT),))
    assert (codes(left), left.accepted, left.left_out) == ([], 0, 1)


def test_that_a_day_without_a_body_or_before_the_first_is_asked(register: Register, tmp_path: Path) -> None:
    outlet = browse.find_outlet(register, BASIN)
    with writing(register.database, WHO, "removed", NOW) as tx:
        (body,) = [
            each.valve_id for each in valves.fittings(tx.session) if each.position_id == outlet.position_id
        ]
        valves.remove(tx, body, outlet.position_id, date(2026, 7, 1))
        room = places.ensure_room(tx, "Marlpit Cross", "Main Block", "G", "G09", "Store")
        bare = places.add_position(tx, room, "Sink")
        places.add_outlet(
            tx, room_id=room, position_id=bare, reference="BARE", name="Sink", use=outlet.use,
            user_group=outlet.user_group, pipe_m=None,
        )  # fmt: skip
    days = ("2026-08-01", "2025-01-01", "2026-06-15")
    proposal = looked(register, tmp_path, *(visit(BASIN, day) for day in days), visit("BARE", "2026-06-15"))
    assert codes(proposal) == ["no-valve-then", "before-fitting", "no-valve-then"]
    told = [each.remedy for each in proposal.questions]
    assert "removed" in told[0]
    assert "fitted on 5 Jan 2026" in told[1]
    assert "No valve is recorded" in told[2]
    assert proposal.accepted == 1


def test_that_several_visits_of_a_day_are_corrected_in_the_register_itself(
    register: Register, tmp_path: Path
) -> None:
    row = visit(BASIN, "2026-02-23", 42.5)
    further = Answer("conflicts-with-register", Choice.FURTHER)
    kept(register, looked(register, tmp_path, row, answers=(further,)))
    third = visit(BASIN, "2026-02-23", 43.5)
    (asked,) = looked(
        register, tmp_path, third, answers=(Answer("conflicts-with-register", Choice.CORRECT),)
    ).questions
    assert "several visits" in asked.remedy
    assert looked(register, tmp_path, third, answers=(further,)).accepted == 1


def test_that_a_row_that_tells_a_part_of_a_kept_visit_is_there_already(
    register: Register, tmp_path: Path
) -> None:
    path = tmp_path / "part.csv"
    path.write_text(f"Asset ref,Date,Mixed as found °C\n{BASIN},2026-02-23,41.2\n", encoding="utf-8")
    proposal = look(register, path, None, TODAY)
    assert (proposal.already_there, codes(proposal), proposal.accepted) == (1, [], 0)


def test_that_a_row_far_from_its_sheets_days_and_before_a_later_visit_is_asked(
    register: Register, tmp_path: Path
) -> None:
    rows = [visit(SHOWER, f"2026-05-{day:02}") for day in range(4, 9)] + [visit(BASIN, "2026-02-10")]
    (asked,) = looked(register, tmp_path, *rows).questions
    assert (asked.code, asked.ref, asked.found) == ("before-later-visit", BASIN, "10 Feb 2026")
    assert "23 Feb 2026" in asked.remedy
    taken = looked(register, tmp_path, *rows, answers=(Answer("before-later-visit", Choice.TAKE),))
    assert (codes(taken), taken.accepted) == ([], 6)


def test_that_a_sheet_brought_late_as_a_whole_is_taken_with_a_note(
    register: Register, tmp_path: Path
) -> None:
    proposal = looked(register, tmp_path, visit(BASIN, "2026-02-10"), visit(BATH, "2026-02-11", 44.0))
    assert (codes(proposal), noted(proposal), proposal.accepted) == ([], ["before-later-visit"], 2)
    assert proposal.notes[0].found == "2 of the rows are older than visits in the register"
    assert len(proposal.again) == 2


def test_that_few_days_have_no_middle_and_many_spread_days_have_none_far() -> None:
    first = date(2026, 1, 1)
    assert not SheetDays([first, first + timedelta(days=300)]).far_before(first)
    spread = [first + timedelta(days=40 * number) for number in range(9)]
    assert not SheetDays(spread).far_before(first)
    round_days = [first + timedelta(days=200 + number) for number in range(9)]
    assert SheetDays(round_days).far_before(first)
    assert not SheetDays(round_days).far_before(first + timedelta(days=180))
    assert not SheetDays(round_days).far_before(first + timedelta(days=999))


def test_that_an_instrument_out_of_calibration_is_asked_and_judged_if_it_was_the_one(
    register: Register, tmp_path: Path
) -> None:
    lapsed = Calibration(date(2025, 1, 1), date(2026, 1, 1))
    add_instrument(register, "T-87", calibration=lapsed, who=WHO, at=NOW)
    add_instrument(register, "T-88", who=WHO, at=NOW)
    row = visit(BASIN, "2026-05-01", instrument="probe T 87 (blue)")
    (asked,) = looked(register, tmp_path, row).questions
    assert (asked.code, asked.suggested) == ("out-of-calibration", ())
    taken = looked(register, tmp_path, row, answers=(Answer("out-of-calibration", Choice.TAKE),))
    assert "instrument-out-of-calibration" in {each.code for each in taken.visits[0].judgement.findings}
    other = Answer("out-of-calibration", Choice.INSTRUMENT, value="T-88")
    (taken_so,) = looked(register, tmp_path, row, answers=(other,)).visits
    assert taken_so.draft.instrument_id == browse.instruments(register)[1].id
    nobody = Answer("out-of-calibration", Choice.INSTRUMENT, value="T-99")
    assert codes(looked(register, tmp_path, row, answers=(nobody,))) == ["out-of-calibration"]
    left = looked(register, tmp_path, row, answers=(Answer("out-of-calibration", Choice.LEAVE_OUT),))
    assert (codes(left), left.left_out) == ([], 1)


def test_that_words_with_two_instruments_in_them_name_neither(register: Register, tmp_path: Path) -> None:
    for reference in ("T-87", "T-88"):
        add_instrument(register, reference, who=WHO, at=NOW)
    row = visit(BASIN, "2026-05-01", instrument="T-87 or T-88")
    assert codes(looked(register, tmp_path, row)) == ["unknown-instrument"]
    rows = [visit(reference, "2026-05-01", instrument="T-187") for reference in (BASIN, SHOWER)]
    asked = looked(register, tmp_path, *rows).questions
    assert [each.suggested for each in asked] == [("T-87",), ("T-87",)]


def test_that_a_reading_unlikely_for_its_valve_is_asked_before_it_is_kept(
    learned: Register,
    tmp_path: Path,
) -> None:
    row = visit("MM/G/G03/WHB1", "2025-02-03", 47.9)
    (asked,) = looked(learned, tmp_path, row).questions
    assert (asked.code, asked.ref, asked.cell, asked.found) == (
        "unlikely-reading", "MM/G/G03/WHB1", "F2", "47.9 °C",
    )  # fmt: skip
    assert "was expected of this valve" in asked.remedy
    both = (row, visit("MM/G/G04/WHB1", "2025-02-03", 41.1))
    assert looked(learned, tmp_path, *both).accepted == 1
    left = looked(learned, tmp_path, *both, answers=(Answer("unlikely-reading", Choice.LEAVE_OUT),))
    assert (codes(left), left.accepted, left.left_out) == ([], 1, 1)
    taken = looked(learned, tmp_path, *both, answers=(Answer("unlikely-reading", Choice.TAKE),))
    assert [UNLIKELY in {check.code for check in each.judgement.checks} for each in taken.visits] == [
        True,
        False,
    ]
    number = kept(learned, taken)
    with learned.database.reading() as session:
        (hot,) = [each for each in visits.visits_of_batch(session, number) if each.readings.found_c == 47.9]
        judged = judgements.judgement(session, hot.id)
    assert judged is not None
    assert UNLIKELY in {each.code for each in judged.findings}


def test_that_a_reading_near_where_the_valve_was_set_is_never_unlikely(
    learned: Register,
    tmp_path: Path,
) -> None:
    drifted = visit("MM/G/G07/WHB1", "2025-02-03", 41.2)
    assert codes(looked(learned, tmp_path, drifted)) == []


def test_that_nothing_is_expected_where_no_outlet_is_in_use(learned: Register) -> None:
    outlet = browse.find_outlet(learned, "MM/G/G04/WHB1")
    last = browse.outlet_page(learned, outlet.id, TODAY).history[0].visit
    hot = replace(last.draft, on=TODAY, readings=replace(last.readings, found_c=47.9))
    assert unlikely_reading(learned, hot) is not None
    with writing(learned.database, WHO, "retired", NOW) as tx:
        places.amend_outlet(tx, outlet.id, retired_on=TODAY)
    assert unlikely_reading(learned, hot) is None


def test_that_a_corrected_visit_is_not_held_against_a_row(register: Register, tmp_path: Path) -> None:
    corrected = visit(BASIN, "2026-02-23", 41.4)
    correct = Answer("conflicts-with-register", Choice.CORRECT)
    kept(register, looked(register, tmp_path, corrected, answers=(correct,)))
    again = looked(register, tmp_path, corrected)
    assert (again.already_there, codes(again)) == (1, [])


def test_that_what_was_entered_meanwhile_is_taken_into_account(register: Register, tmp_path: Path) -> None:
    proposal = looked(register, tmp_path, visit(BASIN, "2026-05-01"))
    add_instrument(register, "T-9", who=WHO, at=NOW)
    assert commit(register, proposal, who=WHO, at=NOW).accepted == 1
    again = looked(register, tmp_path, visit(BATH, "2026-05-01", 44.0))
    bring(register, tmp_path, f"{HEAD}\n{visit(BATH, '2026-05-01', 44.0)}\n", "same.csv")
    with pytest.raises(EntryFault, match="has changed"):
        commit(register, again, who=WHO, at=NOW)


def test_that_a_batch_can_be_finished_from_one_that_follows_it(register: Register, tmp_path: Path) -> None:
    rows = [visit(BASIN, "2026-05-01"), visit("Tap 1", "2026-05-02"), visit("Tap 2", "2026-05-03")]
    first = kept(register, looked(register, tmp_path, *rows))
    answers = [
        Answer("unknown-outlet", Choice.OUTLET, "round", row, value=BATH if row == 3 else SHOWER)
        for row in (3, 4)
    ]
    second = kept(register, look_again(register, first, TODAY, answers[:1]))
    last = look_again(register, second, TODAY, answers[1:])
    assert (last.follows, last.already_there, codes(last)) == (first, 2, [])
    assert [each.ref for each in last.visits] == [SHOWER]
    third = kept(register, last)
    with register.database.reading() as session:
        assert [each.follows for each in batches.batches(session)][-3:] == [None, first, first]
        assert batches.content(session, third) == batches.content(session, first)
        assert batches.answers(session, third) == tuple(answers)


def test_that_a_layout_is_kept_by_name_and_a_later_sheet_is_read_by_it(
    register: Register, tmp_path: Path
) -> None:
    proposal = looked(register, tmp_path, visit(BASIN, "2026-05-01"))
    brought = commit(register, proposal, who=WHO, at=NOW, keep_layout="Velde", sender="R. Velde")
    (layout,) = layouts(register)
    assert (brought.layout, layout.name, layout.sender) == ("Velde", "Velde", "R. Velde")
    path = tmp_path / "round.csv"
    path.write_text(f"{HEAD}\n{visit(BATH, '2026-05-01', 44.0)}", encoding="utf-8")
    by_name = look(register, path, None, TODAY, layout="velde")
    assert (by_name.reading.layout, by_name.accepted) == ("Velde", 1)
    number = kept(register, by_name)
    assert look_again(register, number, TODAY).reading.layout == "Velde"
    assert look(register, path, None, TODAY, layout=layout).already_there == 1
    with pytest.raises(NotFoundFault):
        look(register, path, None, TODAY, layout="Nobody")


def test_that_a_layout_alone_can_be_kept_without_a_batch(register: Register, tmp_path: Path) -> None:
    row = visit(BASIN, "2026-05-01")
    kept(register, looked(register, tmp_path, row))
    proposal = looked(register, tmp_path, row)
    brought = commit(register, proposal, who=WHO, at=NOW, keep_layout="Velde")
    assert (brought.batch_id, brought.layout) == (None, "Velde")
    assert [each.name for each in layouts(register)] == ["Velde"]


@pytest.mark.parametrize("stopped", range(3))
def test_that_stopping_while_writing_visits_keeps_nothing(
    register: Register, tmp_path: Path, stopped: int
) -> None:
    proposal = looked(register, tmp_path, visit(BASIN, "2026-05-01"))
    told: list[str] = []

    def stop(done: int, of: int, words: str) -> None:
        told.append(words)
        if len(told) > stopped:
            raise Cancelled

    with pytest.raises(Cancelled):
        commit(register, proposal, who=WHO, at=NOW, progress=stop, keep_layout="Velde")
    with register.database.reading() as session:
        assert len(visits.visits(session)) == 5
    assert layouts(register) == ()


CHANGED = ASSETS.replace("A15-2,TMV3,15,41", "A15-2,TMV3,15,40")


def test_that_what_two_rows_say_otherwise_of_one_body_is_asked_again(
    register: Register, tmp_path: Path
) -> None:
    differing = CHANGED.replace("A15-2,TMV3,15,40,2026-01-05,1.5", "A15-2,TMV3,15,39,2026-01-05,1.5")
    answers = (Answer("differs-from-register", Choice.SHEET),)
    proposal = listed(register, tmp_path, differing, *answers)
    assert [(each.ref, each.found) for each in proposal.questions] == [("MM/G/G02/SHR2", "39")]
    assert [(each.ref, each.before, each.after) for each in proposal.changes] == [(SHOWER, "41", "40")]
    assert proposal.accepted == 1
    same = listed(register, tmp_path, CHANGED, *answers)
    assert (codes(same), same.accepted) == ([], 2)


def test_that_fields_of_outlet_valve_and_model_are_written_from_the_sheet(
    register: Register, tmp_path: Path
) -> None:
    heading, first, *rest = ASSETS.splitlines()
    text = "\n".join(
        [f"{heading},Min differential (K),Max pressure ratio", f"{first.replace(',1.2', ',0.9')},12,5:1",
         *(f"{row},," for row in rest)]
    )  # fmt: skip
    proposal = listed(register, tmp_path, text, Answer("differs-from-register", Choice.SHEET))
    assert {each.name for each in proposal.changes} == {"pipe_m", "min_differential_k", "max_pressure_ratio"}
    assert {each.before for each in proposal.changes} == {"1.2", "nothing"}
    kept(register, proposal)
    page = browse.outlet_page(register, browse.find_outlet(register, BASIN).id, TODAY)
    assert page.valve is not None
    assert (page.outlet.pipe_m, page.valve.limits) == (0.9, ModelLimits(12, 5))


def test_that_another_serial_number_may_be_another_body(register: Register, tmp_path: Path) -> None:
    (asked,) = listed(register, tmp_path, ASSETS.replace("A15-1,", "A15-9,")).questions
    assert asked.found == "A15-9"
    assert "replaced" in asked.remedy
    kept_so = listed(
        register,
        tmp_path,
        ASSETS.replace("A15-1,", "A15-9,"),
        Answer("differs-from-register", Choice.REGISTER),
    )
    assert (codes(kept_so), kept_so.already_there, kept_so.accepted) == ([], 5, 0)


def test_that_another_day_of_fitting_is_noted(register: Register, tmp_path: Path) -> None:
    first = ASSETS.splitlines()[1]
    proposal = listed(register, tmp_path, ASSETS.replace(first, first.replace("2026-01-05", "2026-01-06")))
    assert (noted(proposal), codes(proposal)) == (["other-day-of-fitting"], [])
    assert proposal.already_there == 5
    assert "5 Jan 2026" in proposal.notes[0].remedy


def test_that_a_new_outlet_that_looks_like_a_known_one_is_noted(register: Register, tmp_path: Path) -> None:
    first = ASSETS.splitlines()[1]
    alike = first.replace("G01/WHB1", "GO1/WHB1", 1).replace("A15-1", "")
    proposal = listed(register, tmp_path, f"{ASSETS}{alike}\n")
    assert (noted(proposal), proposal.accepted) == (["looks-like-another"], 1)


def test_that_a_body_without_a_serial_number_is_never_elsewhere(empty: Register, tmp_path: Path) -> None:
    bring(empty, tmp_path, ASSETS.replace("A15-1,", ","), "first.csv")
    first = ASSETS.splitlines()[1].replace("A15-1,", ",")
    more = first.replace("G01/WHB1", "G08/WHB1", 1).replace(",G01,", ",G08,")
    assert listed(empty, tmp_path, f"{ASSETS}{more}\n").accepted == 1


def test_that_two_new_rows_that_contradict_each_other_of_one_body_are_asked(
    empty: Register, tmp_path: Path
) -> None:
    proposal = listed(
        empty, tmp_path, ASSETS.replace("A15-2,TMV3,15,41,2026-01-05,1.5", "A15-2,TMV2,15,40,2026-01-05,1.5")
    )
    assert [(each.code, each.cell, each.found) for each in proposal.questions] == [
        ("contradiction", "M4", "2"), ("contradiction", "O4", "40"),
    ]  # fmt: skip
    assert "Row 3 says 3 of the same valve" in proposal.questions[0].remedy
    assert proposal.accepted == 4
    blank = ASSETS.replace("A15-2,TMV3,15,41,2026-01-05,1.0", "A15-2,,,41,2026-01-05,1.0")
    assert listed(empty, tmp_path, blank).accepted == 5


def test_that_answers_leave_rows_of_a_list_out_or_take_them(register: Register, tmp_path: Path) -> None:
    first = ASSETS.splitlines()[1]
    twice = listed(register, tmp_path, f"{ASSETS}{first}\n", Answer("duplicate-row", Choice.LEAVE_OUT))
    assert (codes(twice), twice.left_out) == ([], 1)
    still = listed(register, tmp_path, f"{ASSETS}{first}\n", Answer("duplicate-row", Choice.TAKE))
    assert codes(still) == ["duplicate-row"]
    elsewhere = first.replace("G01/WHB1", "G08/WHB1", 1).replace(",G01,", ",G08,")
    asked = listed(register, tmp_path, f"{ASSETS}{elsewhere}\n")
    assert codes(asked) == ["serial-elsewhere"]
    taken = listed(register, tmp_path, f"{ASSETS}{elsewhere}\n", Answer("serial-elsewhere", Choice.TAKE))
    assert taken.accepted == 1
    kept(register, taken)
    assert browse.find_outlet(register, "MM/G/G08/WHB1").path.room_number == "G08"


def test_that_an_outlet_that_a_list_lacks_is_retired_if_a_person_says_so(
    register: Register, tmp_path: Path
) -> None:
    lines = ASSETS.splitlines()
    text = "\n".join(line for line in lines if not line.startswith(BATH))
    answer = Answer("not-in-sheet", Choice.RETIRE, cell=BATH)
    proposal = listed(register, tmp_path, text, answer)
    assert [(each.ref, each.retire) for each in proposal.missing] == [(BATH, True)]
    assert (noted(proposal), proposal.has_news, proposal.accepted) == ([], True, 0)
    brought = commit(register, proposal, who=WHO, at=NOW)
    assert brought.retired == 1
    assert browse.find_outlet(register, BATH).retired_on == TODAY
    assert listed(register, tmp_path, text).missing == ()


def test_that_a_valve_without_an_outlets_position_filled_differs_in_its_outlet_alone(
    register: Register, tmp_path: Path
) -> None:
    outlet = browse.find_outlet(register, BASIN)
    with writing(register.database, WHO, "removed", NOW) as tx:
        (body,) = [
            each.valve_id for each in valves.fittings(tx.session) if each.position_id == outlet.position_id
        ]
        valves.remove(tx, body, outlet.position_id, date(2026, 7, 1))
    proposal = listed(register, tmp_path, ASSETS.replace("Wash-hand basin,Patients", "Shower,Patients"))
    assert [(each.ref, each.found) for each in proposal.questions] == [(BASIN, "shower")]
