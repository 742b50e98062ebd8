"""What is answered to the questions of a sheet: one by one, all alike, or later from the kept file."""

import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from estate.domain.questions import Answer, Choice, Question
from estate.domain.visits import Standing
from estate.errors import EntryFault, ReportFault
from estate.operations import browse, browse_batches
from estate.operations.answer_questions import (
    answers_from_file,
    answers_from_text,
    answers_text,
    write_answers,
)
from estate.operations.bring_in import Proposal, commit, look, look_again
from estate.operations.keep_instruments import add_instrument
from estate.operations.register import Register
from estate.operations.undo_batch import undo_batch
from estate.store import attempts, visits
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO

HEAD = "Asset ref,Date,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min,Remarks"
GOOD = "MM/G/G01/WHB1,2026-05-01,60,13,41,41,0,"
UNKNOWN = "Basin by the door,2026-05-02,60,13,41,41,0,"


def sheet(folder: Path, *rows: str, head: str = HEAD) -> Path:
    path = folder / "round.csv"
    path.write_text("\n".join([head, *rows]), encoding="utf-8")
    return path


def looked(register: Register, path: Path, *answers: Answer) -> Proposal:
    return look(register, path, None, TODAY, answers=answers)


def asked(proposal: Proposal) -> list[str]:
    return [each.code for each in proposal.questions]


def written(register: Register, proposal: Proposal) -> int:
    brought = commit(register, proposal, who=WHO, at=NOW)
    assert brought.batch_id is not None
    return brought.batch_id


def test_that_an_outlet_that_is_answered_is_taken_and_remembered(register: Register, tmp_path: Path) -> None:
    path = sheet(tmp_path, GOOD, UNKNOWN)
    assert asked(looked(register, path)) == ["unknown-outlet"]
    answer = Answer("unknown-outlet", Choice.OUTLET, "round", 3, value="MM/1/101/BTH1")
    proposal = looked(register, path, answer)
    assert (asked(proposal), proposal.accepted) == ([], 2)
    assert [each.ref for each in proposal.visits] == ["MM/G/G01/WHB1", "MM/1/101/BTH1"]
    number = written(register, proposal)
    assert browse_batches.batch_page(register, number).answers == (answer,)
    again = looked(register, sheet(tmp_path, UNKNOWN.replace("05-02", "06-02")))
    assert [(each.ref, each.by) for each in again.matched] == [("MM/1/101/BTH1", "alias")]


def test_that_what_is_not_answered_is_finished_later_from_the_kept_file(
    register: Register, tmp_path: Path
) -> None:
    path = sheet(tmp_path, GOOD, UNKNOWN)
    first = written(register, looked(register, path))
    path.unlink()
    answer = Answer("unknown-outlet", Choice.OUTLET, row=3, value="MM/1/101/BTH1")
    proposal = look_again(register, first, TODAY, [answer])
    assert (proposal.accepted, proposal.already_there, proposal.follows) == (1, 1, first)
    second = written(register, proposal)
    assert browse_batches.batch_page(register, first).followed_by == (second,)
    assert browse_batches.original(register, second) == browse_batches.original(register, first)
    nothing = look_again(register, second, TODAY)
    assert (nothing.accepted, nothing.already_there, asked(nothing)) == (0, 2, [])


def test_that_a_batch_that_was_undone_is_not_finished(register: Register, tmp_path: Path) -> None:
    first = written(register, looked(register, sheet(tmp_path, GOOD, UNKNOWN)))
    undo_batch(register, first, who=WHO, at=NOW, today=TODAY, why="the wrong hospital")
    with pytest.raises(EntryFault, match="undone"):
        look_again(register, first, TODAY)


def test_that_all_questions_of_a_kind_are_left_out_alike(register: Register, tmp_path: Path) -> None:
    path = sheet(tmp_path, UNKNOWN, UNKNOWN.replace("Basin", "Shower"), GOOD)
    assert asked(looked(register, path)) == ["unknown-outlet", "unknown-outlet"]
    proposal = looked(register, path, Answer("unknown-outlet", Choice.LEAVE_OUT))
    assert (asked(proposal), proposal.accepted, proposal.left_out) == ([], 1, 2)


@pytest.mark.parametrize(
    ("choice", "standing"), [(Choice.CORRECT, Standing.CORRECTED), (Choice.FURTHER, Standing.RECORDED)]
)
def test_that_other_readings_of_a_day_correct_the_visit_or_are_a_further_one(
    register: Register, tmp_path: Path, choice: Choice, standing: Standing
) -> None:
    row = "MM/G/G01/WHB1,2026-02-23,60.4,13.0,41.3,41.3,0,"
    path = sheet(tmp_path, row)
    assert asked(looked(register, path)) == ["conflicts-with-register"]
    written(register, looked(register, path, Answer("conflicts-with-register", choice)))
    outlet = browse.find_outlet(register, "MM/G/G01/WHB1")
    history = browse.outlet_page(register, outlet.id, TODAY).history
    old = next(line for line in history if line.visit.readings.found_c == 41.2)
    new = next(line for line in history if line.visit.readings.found_c == 41.3)
    assert old.visit.standing is standing
    assert new.visit.corrects == (old.visit.id if choice is Choice.CORRECT else None)


def test_that_a_day_after_today_is_taken_on_the_day_that_is_answered(
    register: Register, tmp_path: Path
) -> None:
    path = sheet(tmp_path, GOOD.replace("2026-05-01", "2027-05-01"))
    (question,) = looked(register, path).questions
    assert question.code == "future-date"
    answer = Answer("future-date", Choice.VALUE, question.sheet, question.row, question.cell, "2026-05-01")
    proposal = looked(register, path, answer)
    assert [each.draft.on for each in proposal.visits] == [date(2026, 5, 1)]


def test_that_temperatures_that_cannot_stand_together_are_asked_and_can_be_taken(
    register: Register, tmp_path: Path
) -> None:
    path = sheet(tmp_path, "MM/G/G01/WHB1,2026-05-01,13,60,41,41,0,")
    (question,) = looked(register, path).questions
    assert (question.code, question.cell) == ("unlikely-reading", "C2")
    assert "swapped" in question.remedy
    proposal = looked(register, path, Answer("unlikely-reading", Choice.TAKE))
    assert proposal.accepted == 1


def test_that_a_duplicate_can_be_taken(register: Register, tmp_path: Path) -> None:
    path = sheet(tmp_path, GOOD, GOOD.replace("41,41", "42,42"))
    assert asked(looked(register, path)) == ["duplicate-row"]
    assert looked(register, path, Answer("duplicate-row", Choice.TAKE)).accepted == 2


def test_that_instruments_are_asked_about_only_where_the_register_keeps_any(
    register: Register, tmp_path: Path
) -> None:
    head = HEAD.replace("Remarks", "Instrument")
    path = sheet(tmp_path, f"{GOOD}T-9", head=head)
    assert asked(looked(register, path)) == []
    add_instrument(register, "T-101", who=WHO, at=NOW)
    (question,) = looked(register, path).questions
    assert question.code == "unknown-instrument"
    for answer, instrument in (
        (Answer("unknown-instrument", Choice.TAKE), False),
        (Answer("unknown-instrument", Choice.INSTRUMENT, value="T-101"), True),
    ):
        (visit,) = looked(register, path, answer).visits
        assert (visit.draft.instrument_id is not None) is instrument
        assert visit.draft.instrument_words == "T-9"


def test_that_no_access_is_kept_as_an_attempt_and_never_as_a_visit(
    register: Register, tmp_path: Path
) -> None:
    path = sheet(tmp_path, GOOD, "MM/1/101/BTH1,2026-05-02,No access,,,,,")
    proposal = looked(register, path)
    assert (asked(proposal), len(proposal.attempts), proposal.accepted) == (["no-access"], 1, 1)
    written(register, proposal)
    outlet = browse.find_outlet(register, "MM/1/101/BTH1")
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert [(each.on, "access" in each.why.casefold()) for each in page.attempts] == [
        (date(2026, 5, 2), True)
    ]
    assert date(2026, 5, 2) not in {line.visit.on for line in page.history}
    with register.database.reading() as session:
        assert len(attempts.attempts(session)) == 1
        assert len(visits.visits(session)) == 6
    assert looked(register, path).attempts == ()


def test_that_the_fields_of_an_asset_are_taken_one_by_one(register: Register, tmp_path: Path) -> None:
    path = tmp_path / "assets.csv"
    changed = ASSETS.replace("A15-1,TMV3,15,41", "A15-1,TMV3,15,40").replace(
        "Wash-hand basin,Patients,Make A,A15,A15-1", "Wash-hand basin,Staff,Make A,A15,A15-1"
    )
    path.write_text(changed, encoding="utf-8")
    questions = looked(register, path).questions
    assert {each.code for each in questions} == {"differs-from-register"}
    by_found = {each.cell: each for each in questions}
    assert len(by_found) == 2
    users, set_c = sorted(by_found.values(), key=lambda each: each.cell)
    answers = (
        Answer("differs-from-register", Choice.REGISTER, users.sheet, users.row, users.cell),
        Answer("differs-from-register", Choice.SHEET, set_c.sheet, set_c.row, set_c.cell),
    )
    proposal = looked(register, path, *answers)
    assert asked(proposal) == []
    assert [(each.name, each.after) for each in proposal.changes] == [("set_c", "40")]
    number = written(register, proposal)
    outlet = browse.find_outlet(register, "MM/G/G01/WHB1")
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert page.valve is not None
    assert (page.valve.set_c, page.outlet.user_group.value) == (40, "patients")
    undo_batch(register, number, who=WHO, at=NOW, today=TODAY, why="it was 41 after all")
    again = browse.outlet_page(register, outlet.id, TODAY).valve
    assert again is not None
    assert again.set_c == 41


def test_that_outlets_that_a_list_of_their_building_lacks_are_named(
    register: Register, tmp_path: Path
) -> None:
    path = tmp_path / "assets.csv"
    path.write_text("".join(ASSETS.splitlines(keepends=True)[:2]), encoding="utf-8")
    proposal = looked(register, path)
    assert {each.ref for each in proposal.missing} == {"MM/G/G02/SHR1", "MM/G/G02/SHR2", "MM/1/101/BTH1"}
    assert {each.code for each in proposal.notes} == {"not-in-sheet"}
    assert asked(proposal) == []


def test_that_a_template_of_answers_comes_back_as_what_was_filled_in(
    register: Register, tmp_path: Path
) -> None:
    questions = looked(register, sheet(tmp_path, UNKNOWN, GOOD.replace("2026", "2027"))).questions
    file = tmp_path / "answers.json"
    write_answers(questions, file)
    assert answers_from_file(file) == ()
    body = json.loads(file.read_text("utf-8"))
    assert {each["code"] for each in body["answers"]} == {"unknown-outlet", "future-date"}
    body["answers"][0] |= {"choice": "outlet", "value": "MM/1/101/BTH1"}
    file.write_text(json.dumps(body), encoding="utf-8")
    (answer,) = answers_from_file(file)
    assert (answer.choice, answer.value, answer.row) == (Choice.OUTLET, "MM/1/101/BTH1", questions[0].row)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("no json", "No JSON"),
        ("[]", "Expected"),
        ('{"answers": [3]}', "Entry 1: it is no"),
        ('{"answers": [{"code": "future-date", "choice": "fly"}]}', "does not answer future-date"),
        ('{"answers": [{"code": "never-heard", "choice": "take"}]}', "unknown code"),
        ('{"answers": [{"code": "future-date", "choice": "value", "row": 3}]}', "needs a “value”"),
        ('{"answers": [{"code": "future-date", "choice": "value", "value": "1"}]}', "needs the “row”"),
        ('{"answers": [{"code": "future-date", "choice": "leave-out", "row": -1}]}', "1 or more"),
        ('{"answers": [{"code": "future-date", "choice": "leave-out", "row": "3"}]}', "has to be a number"),
        ('{"answers": [{"code": "future-date", "choice": "leave-out", "colour": ""}]}', "unknown key colour"),
    ],
)
def test_that_a_file_of_answers_that_is_wrong_names_the_entry(text: str, said: str) -> None:
    with pytest.raises(EntryFault) as raised:
        answers_from_text(text)
    assert said in raised.value.detail


def test_that_files_that_cannot_be_read_or_written_are_told(tmp_path: Path) -> None:
    with pytest.raises(EntryFault, match="can't be read"):
        answers_from_file(tmp_path / "nowhere.json")
    with pytest.raises(ReportFault, match="can't be written"):
        write_answers((), tmp_path / "nowhere" / "answers.json")


def test_that_the_template_lists_what_can_be_answered() -> None:
    question = Question("S", 3, "A3", "unknown-outlet", None, "x", "Choose.", ("MM/1",))
    (entry,) = json.loads(answers_text([question]))["answers"]
    assert (entry["choices"], entry["suggested"]) == (["outlet", "leave-out"], ["MM/1"])


def told(proposal: Proposal) -> Sequence[tuple[str, str]]:
    return [(each.ref, each.by) for each in proposal.matched]


def test_that_looking_alike_is_enough_for_one_outlet_alone(register: Register, tmp_path: Path) -> None:
    assert told(looked(register, sheet(tmp_path, GOOD.replace("MM/G/G01/WHB1", "mm g GO1 whbl")))) == [
        ("MM/G/G01/WHB1", "look-alike")
    ]
    both = sheet(tmp_path, GOOD, GOOD.replace("G01", "GO1").replace("41,41", "42,42"))
    assert asked(looked(register, both)) == ["several-outlets"]


PLACED = (
    "Building,Level,Room,Outlet,Date,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min"
)


def test_that_rows_without_a_reference_are_matched_by_their_place(register: Register, tmp_path: Path) -> None:
    path = sheet(
        tmp_path,
        "Main Blk,Ground,G01 Bedrm,W.H.B.,2026-05-01,60,13,41,41,0",
        "Main Block,1st,101,Bath,2026-05-01,60,13,41,41,0",
        "Main Block,G,G02 Shower room,Shower,2026-05-01,60,13,41,41,0",
        "Main Block,G,G02 Shower room,Shower 2,2026-05-01,60,13,40,40,0",
        "South Block,G,G01,Basin,2026-05-01,60,13,41,41,0",
        head=PLACED,
    )
    proposal = looked(register, path)
    matched = {each.row: each.ref for each in proposal.matched}
    assert (matched[2], matched[3], matched[5]) == ("MM/G/G01/WHB1", "MM/1/101/BTH1", "MM/G/G02/SHR2")
    assert matched.get(4, "MM/G/G02/SHR1") == "MM/G/G02/SHR1"
    assert 6 not in matched
    assert all(each.by == "place" and 0 < each.confidence <= 1 for each in proposal.matched)


def test_that_a_reference_in_another_building_than_the_row_says_is_asked(
    register: Register, tmp_path: Path
) -> None:
    head = f"Asset ref,{PLACED}"
    rows = ("WE/G/G01/WHB1,Main Block,G,G01,Basin,2026-05-01,60,13,41,41,0",)
    (question,) = looked(register, sheet(tmp_path, *rows, head=head)).questions
    assert question.code == "several-outlets"
    assert set(question.suggested) == {"WE/G/G01/WHB1", "MM/G/G01/WHB1"}


def test_that_the_order_of_rows_changes_no_match(register: Register, tmp_path: Path) -> None:
    rows = VISITS.splitlines()[1:]
    moved = [row.replace("2026-0", "2026-1") for row in rows]
    head = VISITS.splitlines()[0]
    found = []
    for order in (moved, moved[::-1]):
        proposal = looked(register, sheet(tmp_path, *order, head=head))
        found.append(
            sorted((each.ref, each.draft.on, each.draft.readings.found_c or 0) for each in proposal.visits)
        )
    assert found[0] == found[1]
