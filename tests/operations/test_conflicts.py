"""A form filled from an older state: the change is refused, with what came between, and can then be kept."""

from dataclasses import replace
from pathlib import Path

import pytest

from estate.domain.conflicts import ConflictFault, FieldChange, Seen, draft_changes
from estate.domain.layouts import Layout
from estate.domain.valves import Valve
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations import keep_layouts
from estate.operations.bring_in import commit, look
from estate.operations.record_visit import correct_visit, record_visit, void_visit
from estate.operations.register import Register
from estate.operations.replace_valve import replace_valve
from estate.operations.set_rules import choose, override, rules_at
from estate.store import ledger, row_versions, valves
from estate.store.layouts import id_of
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import NOW, VISITS, WHO
from tests.operations.team import MINE, ids_at

KEY = "mixed.ceiling.basin"
OTHER = "B. Engineer"


def seen(register: Register, noun: str, row_id: int) -> Seen:
    with register.database.reading() as session:
        return row_versions.seen_of(session, noun, row_id)


def a_draft(register: Register, left_c: float = 41.0) -> VisitDraft:
    ids = ids_at(register, MINE)
    return VisitDraft(ids["valve"], ids["outlet"], VisitKind.IN_SERVICE, TODAY, Readings(left_c=left_c), WHO)


def test_that_a_value_set_by_another_meanwhile_is_not_lost(register: Register) -> None:
    rules = rules_at(register)
    was = rules.get(KEY)
    override(register, rules.id, KEY, "estate", 42.0, who=OTHER, at=NOW, why="water safety group")
    with pytest.raises(ConflictFault, match="Somebody else changed the value") as caught:
        override(register, rules.id, KEY, "estate", 41.0, who=WHO, at=NOW, why="risk", seen=was)
    (made,) = caught.value.meanwhile
    assert (made.who, made.at, made.why) == (OTHER, NOW, "water safety group")
    assert made.fields == (FieldChange("value", "43.0", "42.0"),)
    now = rules_at(register).get(KEY)
    assert caught.value.now == now
    override(register, rules.id, KEY, "estate", 41.0, who=WHO, at=NOW, why="risk", seen=now)
    kept = rules_at(register).get(KEY)
    assert kept is not None
    assert kept.value == 41.0


def test_that_a_value_of_rules_that_no_longer_apply_is_refused(register: Register) -> None:
    rules = rules_at(register)
    choose(register, "estate", "uk-type2", who=OTHER, at=NOW, why="a home")
    with pytest.raises(ConflictFault, match="Other rules apply there now") as caught:
        override(register, rules.id, KEY, "estate", 41.0, who=WHO, at=NOW, why="risk", seen=rules.get(KEY))
    assert caught.value.now is None
    assert caught.value.meanwhile[0].why == "a home"
    assert caught.value.meanwhile[0].fields == (FieldChange("rule set", rules.id, "uk-type2"),)


def test_that_a_choice_of_rules_begun_on_an_older_one_is_refused(register: Register) -> None:
    building = ids_at(register, MINE)["building"]
    before = seen(register, "building", building)
    choose(register, f"building:{building}", "uk-type2", who=OTHER, at=NOW)
    with pytest.raises(ConflictFault, match='rule set from nothing to "uk-type2"') as caught:
        choose(register, f"building:{building}", "uk-healthcare", who=WHO, at=NOW, seen=before)
    now = caught.value.now
    assert isinstance(now, Seen)
    choose(register, f"building:{building}", "uk-healthcare", who=WHO, at=NOW, seen=now)


def test_that_a_valve_replaced_by_another_meanwhile_is_not_replaced_again(register: Register) -> None:
    ids = ids_at(register, MINE)
    with register.database.reading() as session:
        fitting_id = next(
            key for key, each in valves.fittings_by_id(session).items() if each.valve_id == ids["valve"]
        )
    before = seen(register, "fitting", fitting_id)
    body = Valve(0, "Make B", "B20", "B20-1")
    replace_valve(register, ids["outlet"], body, on=TODAY, who=OTHER, at=NOW, seen=before)
    with pytest.raises(ConflictFault, match=f"changed by {OTHER}.*removed on"):
        replace_valve(register, ids["outlet"], body, on=TODAY, who=WHO, at=NOW, seen=before)


def test_that_a_correction_begun_on_a_corrected_entry_tells_the_difference(register: Register) -> None:
    first = record_visit(register, a_draft(register), who=WHO, at=NOW, today=TODAY).visit
    mine = a_draft(register, 41.4)
    theirs = replace(a_draft(register, 42.2), remarks="read again")
    newer = correct_visit(register, first.id, theirs, who=OTHER, at=NOW, today=TODAY, why="misread").visit
    with pytest.raises(ConflictFault, match="Somebody else corrected the entry") as caught:
        correct_visit(register, first.id, mine, who=WHO, at=NOW, today=TODAY)
    (made,) = caught.value.meanwhile
    assert (made.who, made.at) == (OTHER, NOW)
    assert made.fields == (FieldChange("left_c", "41", "42.2"), FieldChange("remarks", "", "read again"))
    assert caught.value.now == Seen("visit", newer.id)
    with pytest.raises(ConflictFault):
        void_visit(register, first.id, reason="wrong outlet", who=WHO, at=NOW)
    correct_visit(register, newer.id, mine, who=WHO, at=NOW, today=TODAY)


def test_that_a_correction_of_an_entry_made_void_tells_by_whom_and_why(register: Register) -> None:
    first = record_visit(register, a_draft(register), who=WHO, at=NOW, today=TODAY).visit
    void_visit(register, first.id, reason="wrong outlet", who=OTHER, at=NOW)
    with pytest.raises(ConflictFault, match="made the entry void") as caught:
        correct_visit(register, first.id, a_draft(register, 41.4), who=WHO, at=NOW, today=TODAY)
    assert caught.value.now is None
    assert caught.value.meanwhile[0].why == "wrong outlet"


def test_that_drafts_differ_where_they_say_something_else(register: Register) -> None:
    before = replace(a_draft(register), instrument_id=3)
    after = replace(before, instrument_id=None, instrument_words="probe 7", readings=Readings(adjusted=True))
    assert draft_changes(before, after) == (
        FieldChange("instrument", "number 3", "probe 7"),
        FieldChange("left_c", "41", ""),
        FieldChange("adjusted", "", "yes"),
    )


def kept_layout(register: Register, name: str = "Fleetmoor") -> Layout:
    return next(each for each in keep_layouts.layouts(register) if each.name == name)


def test_that_a_layout_changed_by_another_meanwhile_is_not_overwritten(
    register: Register, tmp_path: Path
) -> None:
    sheet = tmp_path / "visits.csv"
    sheet.write_text(VISITS, encoding="utf-8")
    first = look(register, sheet, None, TODAY)
    commit(register, first, who=WHO, at=NOW, keep_layout="Fleetmoor")
    again = look(register, sheet, None, TODAY)
    with register.database.reading() as session:
        layout_id = id_of(session, "Fleetmoor")
    assert layout_id is not None
    before = seen(register, "layout", layout_id)
    changed = replace(kept_layout(register), sender="Fleetmoor Water")
    keep_layouts.keep_layout(register, changed, who=OTHER, at=NOW, seen=before)
    with pytest.raises(ConflictFault, match=f"changed by {OTHER}"):
        commit(register, again, who=WHO, at=NOW, keep_layout="Fleetmoor")
    with pytest.raises(ConflictFault, match="sender"):
        keep_layouts.keep_layout(register, kept_layout(register), who=WHO, at=NOW, seen=before)
    keep_layouts.forget_layout(register, "Fleetmoor", who=OTHER, at=NOW)
    with pytest.raises(ConflictFault, match="Somebody else removed it") as caught:
        keep_layouts.keep_layout(register, changed, who=WHO, at=NOW, seen=before)
    assert caught.value.now is None


def test_that_every_reason_given_is_told_by_the_ledger(register: Register) -> None:
    rules = rules_at(register)
    override(register, rules.id, KEY, "estate", 42.0, who=WHO, at=NOW, why="water safety group")
    choose(register, "estate", "uk-type2", who=WHO, at=NOW, why="a home")
    entry = record_visit(register, a_draft(register), who=WHO, at=NOW, today=TODAY).visit
    newer = correct_visit(
        register, entry.id, a_draft(register, 41.2), who=WHO, at=NOW, today=TODAY, why="misread"
    ).visit
    void_visit(register, newer.id, reason="wrong outlet", who=WHO, at=NOW)
    with register.database.reading() as session:
        told = {(each.noun, each.why) for each in ledger.entries(session) if each.why}
    assert {
        ("rule_override", "water safety group"),
        ("register", "a home"),
        ("visit", "misread"),
        ("visit_void", "wrong outlet"),
    } <= told


def test_that_a_change_of_which_the_ledger_tells_nothing_is_still_refused(register: Register) -> None:
    with (
        pytest.raises(ConflictFault, match="does not tell by whom"),
        writing(register.database, WHO, "renamed", NOW) as tx,
    ):
        row_versions.must_be_as_seen(tx, Seen("outlet", 1, 7))
