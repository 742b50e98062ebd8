from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from estate.domain.findings import Verdict
from estate.domain.layouts import Layout, LayoutColumn, SheetKind
from estate.domain.places import Use, UserGroup
from estate.domain.progress import Cancelled
from estate.domain.questions import Answer, Choice
from estate.domain.valves import Valve
from estate.domain.visits import AttemptDraft, Standing, Visit
from estate.errors import EntryFault, NotFoundFault
from estate.operations import browse, set_rules
from estate.operations.bring_in import commit, look
from estate.operations.record_visit import correct_visit, void_visit
from estate.operations.register import Register
from estate.operations.undo_batch import Undone, undo_batch, what_rests_on
from estate.store import aliases, attempts, batches, fits, judgements, layouts, ledger, places, valves, visits
from estate.store.transaction import Transaction, writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring
from tests.store.builders import JUDGED

HEAD = VISITS.splitlines()[0]
MAY = f"{HEAD}\nMM/G/G01/WHB1,2026-05-01,In-service,60,13,42.1,42.1,0\n"
ASSET_BATCH, VISIT_BATCH = 1, 2
FURTHER = ASSETS.splitlines()[0] + (
    "\nMM/G/G02/WHB9,Marlpit Cross,Main Block,G,G02,Shower room,Wash-hand basin 9,Wash-hand basin,Patients,"
    "Make A,A15,A15-9,TMV3,15,41,2026-01-05,1.2"
    "\nMM/2/201/WHB1,Marlpit Cross,Main Block,2,201,Ward,Wash-hand basin 1,Wash-hand basin,Patients,"
    "Make A,A15,A15-10,TMV3,15,41,2026-01-05,1.2\n"
)


def undo(register: Register, batch_id: int, why: str = "the wrong file") -> Undone:
    return undo_batch(register, batch_id, who=WHO, at=NOW, today=TODAY, why=why)


def brought(register: Register, folder: Path, text: str, name: str = "further.csv") -> int:
    batch_id = bring(register, folder, text, name).batch_id
    assert batch_id is not None
    return batch_id


def write_batch(register: Register, write: Callable[[Transaction, int], object], **fields: Any) -> int:
    """A batch that does what a test needs."""
    with writing(register.database, WHO, "brought in made.csv", NOW) as tx:
        said: dict[str, Any] = {"file": "made.csv", "digest": "ab", "kind": SheetKind.VISITS}
        counts: dict[str, Any] = {"read": 1, "accepted": 1, "already_there": 0}
        batch_id = batches.add_batch(tx, content=b"x", questions=(), **(said | counts | fields))
        write(tx, batch_id)
    return batch_id


def history(register: Register, ref: str) -> tuple[Visit, ...]:
    page = browse.outlet_page(register, browse.find_outlet(register, ref).id, TODAY)
    return tuple(line.visit for line in page.history)


def verdict(register: Register, ref: str) -> Verdict | None:
    page = browse.outlet_page(register, browse.find_outlet(register, ref).id, TODAY)
    return page.judgement.verdict if page.judgement else None


def test_that_the_visits_of_an_undone_batch_are_void_with_the_reason(register: Register) -> None:
    done = undo(register, VISIT_BATCH, " the wrong hospital ")
    assert (done.visits, done.attempts, done.places) == (5, 0, 0)
    assert done.changes.everything
    with register.database.reading() as session:
        kept = visits.visits(session)
        undone = batches.batch(session, VISIT_BATCH).undone
    assert {each.void_reason for each in kept} == {"Batch 2 was undone: the wrong hospital"}
    assert {each.standing for each in kept} == {Standing.VOID}
    assert undone is not None
    assert (undone.who, undone.at, undone.why) == (WHO, NOW, "the wrong hospital")


def test_that_earlier_visits_are_judged_and_groups_fitted_as_if_the_batch_had_never_come(
    register: Register, tmp_path: Path
) -> None:
    before = verdict(register, "MM/G/G01/WHB1")
    with register.database.reading() as session:
        fitted = fits.fits_as_of(session, TODAY)
    batch = brought(register, tmp_path, MAY)
    assert verdict(register, "MM/G/G01/WHB1") is not before
    undo(register, batch)
    assert verdict(register, "MM/G/G01/WHB1") is before
    with register.database.reading() as session:
        assert fits.fits_as_of(session, TODAY) == fitted


def test_that_later_visits_are_judged_anew_without_those_of_the_batch(
    register: Register, tmp_path: Path
) -> None:
    batch = brought(register, tmp_path, MAY.replace("42.1", "39.9"))
    brought(register, tmp_path, MAY.replace("2026-05-01", "2026-06-01"), "june.csv")
    assert verdict(register, "MM/G/G01/WHB1") is Verdict.PUT_RIGHT
    undo(register, batch)
    assert verdict(register, "MM/G/G01/WHB1") is Verdict.WATCH


def test_that_nothing_learned_from_an_undone_batch_is_left_where_no_reading_is(register: Register) -> None:
    undo(register, VISIT_BATCH)
    with register.database.reading() as session:
        assert fits.fits_as_of(session, TODAY) == {}
        kept = [each.action for each in ledger.entries(session, "group_fit")]
    assert kept == ["added many", "added many"]


def test_that_the_same_file_can_be_brought_in_again_after_it_was_undone(
    register: Register, tmp_path: Path
) -> None:
    undo(register, VISIT_BATCH)
    again = bring(register, tmp_path, VISITS, "visits.csv")
    assert (again.accepted, again.already_there, again.questions) == (5, 0, ())
    with register.database.reading() as session:
        assert [each.undone is None for each in batches.batches(session)] == [True, False, True]
        assert sum(each.counts for each in visits.visits(session)) == 5


def test_that_a_visit_corrected_by_the_batch_counts_again(register: Register) -> None:
    first = history(register, "MM/G/G01/WHB1")[0]
    right = replace(first.draft, readings=replace(first.readings, found_c=43.9, left_c=43.9))
    before = verdict(register, "MM/G/G01/WHB1")

    def write(tx: Transaction, made: int) -> None:
        (added,) = visits.add_visits(tx, [right], made, {0: first.id})
        judgements.add_judgement(tx, added.id, JUDGED)

    batch = write_batch(register, write)
    assert verdict(register, "MM/G/G01/WHB1") is not before
    with register.database.reading() as session:
        assert visits.visit(session, first.id).standing is Standing.CORRECTED
    undo(register, batch)
    with register.database.reading() as session:
        assert visits.visit(session, first.id).counts
    assert verdict(register, "MM/G/G01/WHB1") is before


def test_that_two_rows_do_not_correct_one_visit(register: Register) -> None:
    first = history(register, "MM/G/G01/WHB1")[0]
    with pytest.raises(EntryFault, match="corrected twice"):
        write_batch(
            register,
            lambda tx, made: visits.add_visits(tx, [first.draft] * 2, made, {0: first.id, 1: first.id}),
        )


def test_that_a_later_correction_rests_on_the_batch_until_it_is_void(register: Register) -> None:
    first = history(register, "MM/G/G01/WHB1")[0]
    right = replace(first.draft, readings=replace(first.readings, found_c=41.1))
    mended = correct_visit(register, first.id, right, who=WHO, at=NOW, today=TODAY).visit
    words = "the visit of 23 Feb 2026 at MM/G/G01/WHB1, recorded later by hand, corrects one of this batch"
    assert what_rests_on(register, VISIT_BATCH) == (words,)
    with pytest.raises(EntryFault, match="Later work rests on this batch") as caught:
        undo(register, VISIT_BATCH)
    assert words in caught.value.detail
    with register.database.reading() as session:
        assert batches.batch(session, VISIT_BATCH).undone is None
    void_visit(register, mended.id, reason="mistaken", who=WHO, at=NOW)
    assert what_rests_on(register, VISIT_BATCH) == ()
    assert undo(register, VISIT_BATCH).visits == 5


def test_that_a_correction_by_a_later_batch_names_that_batch(register: Register) -> None:
    first = history(register, "MM/G/G01/WHB1")[0]
    later = write_batch(register, lambda tx, made: visits.add_visits(tx, [first.draft], made, {0: first.id}))
    (words,) = what_rests_on(register, VISIT_BATCH)
    assert f"recorded later with batch {later}, corrects" in words
    undo(register, later)
    assert what_rests_on(register, VISIT_BATCH) == ()


def test_that_a_visit_voided_by_hand_before_keeps_its_own_reason(register: Register) -> None:
    first = history(register, "MM/G/G01/WHB1")[0]
    void_visit(register, first.id, reason="broken probe", who=WHO, at=NOW)
    assert undo(register, VISIT_BATCH).visits == 4
    with register.database.reading() as session:
        assert visits.visit(session, first.id).void_reason == "broken probe"


def test_that_a_follow_up_rests_on_its_batch_until_it_is_undone(register: Register) -> None:
    given = (Answer("future-date", Choice.LEAVE_OUT),)
    follow = write_batch(register, lambda tx, made: None, follows=VISIT_BATCH, answers=given)
    assert what_rests_on(register, VISIT_BATCH) == (
        f"follow-up batch {follow} of 25 Nov 2026 took further rows of the file",
    )
    undo(register, follow)
    assert what_rests_on(register, VISIT_BATCH) == ()


def test_that_attempts_are_void_and_words_it_taught_withdrawn_but_layouts_stay(register: Register) -> None:
    outlet = browse.find_outlet(register, "MM/G/G01/WHB1").id

    def write(tx: Transaction, made: int) -> None:
        attempts.add_attempts(tx, [AttemptDraft(outlet, TODAY, "no access")], made)
        aliases.add_alias(tx, "basin by the door", outlet, made)
        layouts.keep_layout(tx, Layout("Pipework", SheetKind.VISITS, (LayoutColumn("Ref", "reference"),)))

    done = undo(register, write_batch(register, write))
    assert (done.visits, done.attempts, done.places) == (0, 1, 0)
    with register.database.reading() as session:
        assert attempts.attempts(session)[0].void_reason == "Batch 3 was undone: the wrong file"
        assert aliases.aliases(session) == ()
        assert len(layouts.layouts(session)) == 1


def held(register: Register) -> tuple[object, ...]:
    with register.database.reading() as session:
        found = (
            places.outlets(session),
            valves.valves(session),
            valves.fittings(session),
            places.rooms(session),
        )
    return found


def test_that_outlets_valves_and_rooms_that_a_batch_added_are_gone_again(
    register: Register, tmp_path: Path
) -> None:
    before = held(register)
    batch = brought(register, tmp_path, FURTHER)
    assert held(register) != before
    assert undo(register, batch).places == 4
    assert held(register) == before
    with register.database.reading() as session:
        removed = [each for each in ledger.entries(session, "outlet") if each.action == "removed"]
    assert [("MM/2/201/WHB1" in each.before, each.who) for each in removed] == [(True, WHO), (False, WHO)]


def test_that_an_asset_list_can_be_brought_in_again_after_it_was_undone(
    register: Register, tmp_path: Path
) -> None:
    undo(register, brought(register, tmp_path, FURTHER))
    again = bring(register, tmp_path, FURTHER, "further.csv")
    assert (again.accepted, again.already_there) == (2, 0)
    assert browse.find_outlet(register, "MM/2/201/WHB1").path.level == "2"


def test_that_a_whole_estate_can_be_taken_back_to_an_empty_register(empty: Register, tmp_path: Path) -> None:
    before = held(empty)
    assert undo(empty, brought(empty, tmp_path, ASSETS)).places == 9
    assert held(empty) == before


def test_that_a_room_in_which_others_lie_stays(empty: Register, tmp_path: Path) -> None:
    first = ASSETS.splitlines()
    batch = brought(empty, tmp_path, "\n".join(first[:3]), "first.csv")
    brought(empty, tmp_path, FURTHER)
    undo(empty, batch)
    with empty.database.reading() as session:
        assert [each.reference for each in places.outlets(session)] == ["MM/G/G02/WHB9", "MM/2/201/WHB1"]
        assert [each.room_number for each in places.rooms(session)] == ["G02", "201"]
    undo(empty, 2)
    with empty.database.reading() as session:
        assert places.rooms(session) == ()
        tables = ("site", "building", "level", "room", "position", "valve", "fitting", "outlet")
        connection = session.connection()
        left = [connection.exec_driver_sql(f"SELECT count(*) FROM {each}").scalar_one() for each in tables]
    assert left == [0] * 8


def change(tx: Transaction, register: Register) -> None:
    outlet = next(each for each in places.outlets(tx.session) if each.reference == "MM/G/G01/WHB1")
    fitting = next(each for each in valves.fittings(tx.session) if each.position_id == outlet.position_id)
    places.amend_outlet(tx, outlet.id, pipe_m=2.5, user_group=UserGroup.STAFF, retired_on=date(2026, 11, 1))
    valves.amend_valve(tx, fitting.valve_id, set_c=43.0, serial="A15-1B")
    places.amend_outlet(tx, outlet.id, pipe_m=3.5)


def test_that_fields_that_a_batch_changed_are_put_back(register: Register) -> None:
    before = held(register)
    batch = write_batch(register, lambda tx, made: change(tx, register))
    assert held(register) != before
    assert undo(register, batch).places == 2
    assert held(register) == before


def test_that_a_visit_judged_by_changed_fields_is_judged_as_before(register: Register) -> None:
    before = verdict(register, "MM/G/G01/WHB1")

    def write(tx: Transaction, made: int) -> None:
        outlet = next(each for each in places.outlets(tx.session) if each.reference == "MM/G/G01/WHB1")
        places.amend_outlet(tx, outlet.id, use=Use.BIDET)

    batch = write_batch(register, write)
    set_rules.choose(register, "estate", "uk-healthcare", who=WHO, at=NOW)
    changed = verdict(register, "MM/G/G01/WHB1")
    assert changed is not before
    undo(register, batch)
    assert verdict(register, "MM/G/G01/WHB1") is before


def test_that_a_valve_that_a_batch_replaced_is_in_place_again(register: Register) -> None:
    before = held(register)

    def write(tx: Transaction, made: int) -> None:
        outlet = next(each for each in places.outlets(tx.session) if each.reference == "MM/G/G01/WHB1")
        fitting = next(each for each in valves.fittings(tx.session) if each.position_id == outlet.position_id)
        valves.remove(tx, fitting.valve_id, outlet.position_id, TODAY)
        valves.fit(tx, valves.add_valve(tx, Valve(0, "Make C", "C3", "C-9")), outlet.position_id, TODAY)

    undo(register, write_batch(register, write))
    assert held(register) == before


def test_that_nothing_rests_on_a_batch_that_is_undone_and_it_is_not_undone_twice(register: Register) -> None:
    undo(register, VISIT_BATCH)
    assert what_rests_on(register, VISIT_BATCH) == ()
    with pytest.raises(EntryFault, match="undone already"):
        undo(register, VISIT_BATCH)


def test_that_a_batch_is_undone_with_a_reason_only(register: Register) -> None:
    with pytest.raises(EntryFault, match="A reason is needed"):
        undo(register, VISIT_BATCH, " ")


def test_that_an_unknown_batch_is_told(register: Register) -> None:
    with pytest.raises(NotFoundFault, match="batch 99"):
        what_rests_on(register, 99)
    with pytest.raises(NotFoundFault, match="batch 99"):
        undo(register, 99)


def test_that_undoing_can_be_cancelled_and_leaves_all_as_it_was(register: Register) -> None:
    def stop(done: int, of: int, words: str) -> None:
        if done == 2:
            raise Cancelled

    with pytest.raises(Cancelled):
        undo_batch(register, VISIT_BATCH, who=WHO, at=NOW, today=TODAY, why="wrong", progress=stop)
    with register.database.reading() as session:
        assert batches.batch(session, VISIT_BATCH).undone is None
        assert all(each.counts for each in visits.visits(session))


def test_that_looking_at_a_file_with_a_cancelled_batch_finds_its_rows_there(
    register: Register, tmp_path: Path
) -> None:
    path = tmp_path / "visits.csv"
    path.write_text(VISITS, encoding="utf-8")
    undo(register, VISIT_BATCH)
    commit(register, look(register, path, None, TODAY), who=WHO, at=NOW)
    assert look(register, path, None, TODAY).already_there == 5
