from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from estate.domain.browsing import OutletPage, PlaceKind
from estate.domain.conflicts import ConflictFault
from estate.domain.editing import FROM_ABOVE, Edited, OutletChange, PlaceNames, ValveChange, Written
from estate.domain.findings import Verdict
from estate.domain.life.actions import ActionState, Step
from estate.domain.life.outlet_use import OutletUse, UseStep
from estate.domain.places import Use, UserGroup
from estate.domain.standing import OutletState
from estate.domain.valves import ModelLimits, SchemeClass
from estate.errors import EntryFault, NotFoundFault, RuleFault
from estate.operations import browse, browse_actions, set_rules
from estate.operations.amend_outlets import amend_outlets, outlets_of, outlets_seen
from estate.operations.amend_valve import amend_valve
from estate.operations.bring_in import look
from estate.operations.fit_valve import fit_valve
from estate.operations.move_places import move_places
from estate.operations.open_action import open_action
from estate.operations.register import Register
from estate.operations.remove_empty import remove_empty
from estate.operations.rename_place import rename_place, seen_of
from estate.operations.replace_valve import replace_valve
from estate.operations.take_back_edit import take_back_edit
from estate.operations.undo_batch import undo_batch, what_rests_on
from estate.operations.use_outlet import use_outlet
from estate.operations.use_outlets import use_outlets
from estate.store import ledger, places
from tests.builders import TODAY
from tests.operations.by_hand import (
    BODY,
    DRAFT,
    added,
    back,
    outlet_id,
    place,
    rows,
    sound,
    with_outlet,
)
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.test_undo_batch import write_batch

BASIN, SHOWER, BATH, STAFF = "MM/G/G01/WHB1", "MM/G/G02/SHR1", "MM/1/101/BTH1", "WE/G/G01/WHB1"
HEAD = ASSETS.splitlines()[0]
BARE = (
    "MM/G/G07/WHB1,Marlpit Cross,Main Block,G,G07,Bedroom,Wash-hand basin 1,Wash-hand basin,Patients,,,,,,,,"
)
BEDROOM = ("Marlpit Cross", "Main Block", "G", "G01")


@pytest.fixture
def kind() -> str:
    """Only a file: `test_server_editing` does the same on a server."""
    return "sqlite"


def page(register: Register, reference: str = BASIN) -> OutletPage:
    return browse.outlet_page(register, outlet_id(register, reference), TODAY)


def amend(register: Register, change: OutletChange, *references: str, why: str = "") -> Edited:
    ids = [outlet_id(register, each) for each in references or (BASIN,)]
    return amend_outlets(register, ids, change, who=WHO, at=NOW, why=why)


def use(
    register: Register, step: UseStep, *references: str, on: date = TODAY, told: str = "Sister Ash"
) -> Edited:
    ids = [outlet_id(register, each) for each in references]
    return use_outlets(register, ids, step, on=on, why="closed wing", who_told=told, who=WHO, at=NOW)


def verdict(register: Register, reference: str = BASIN) -> Verdict | None:
    judged = page(register, reference).judgement
    return judged.verdict if judged else None


def use_of(register: Register, reference: str) -> OutletUse:
    return page(register, reference).use.use


def test_that_outlets_are_changed_together_and_judged_again_by_it(register: Register) -> None:
    before, was = rows(register), verdict(register)
    edited = amend(register, OutletChange(use=Use.BIDET, user_group=UserGroup.CHILDREN), BASIN, SHOWER)
    assert edited.changes.outlets >= {outlet_id(register, BASIN), outlet_id(register, SHOWER)}
    assert not edited.changes.everything
    assert verdict(register) is not was
    back(register, edited)
    assert verdict(register) is was
    assert rows(register) == before
    assert sound(register)


def test_that_an_outlet_with_the_values_already_stays_as_it_is(register: Register) -> None:
    version = seen_of(register, "outlet", outlet_id(register, SHOWER))
    amend(register, OutletChange(use=Use.SHOWER, little_used=False), BASIN, SHOWER)
    assert seen_of(register, "outlet", outlet_id(register, SHOWER)) == version
    with pytest.raises(EntryFault, match="Nothing would change"):
        amend(register, OutletChange(use=Use.SHOWER), BASIN, SHOWER)
    with pytest.raises(EntryFault, match="Nothing would change"):
        amend(register, OutletChange())


def test_that_reference_words_and_pipe_are_changed_and_put_back(register: Register) -> None:
    before = rows(register)
    number = outlet_id(register)
    edited = amend(register, OutletChange(reference=" MM/G/G01/B1 ", words="Basin  by the bed", pipe_m=0.0))
    (outlet,) = outlets_of(register, [number])
    assert (outlet.reference, outlet.path.outlet, outlet.pipe_m) == ("MM/G/G01/B1", "Basin by the bed", 0.0)
    assert edited.changes.everything
    amend(register, OutletChange(reference="mm-g-g01-b1"), "MM/G/G01/B1")
    with pytest.raises(EntryFault, match="Later work rests on this change") as told:
        back(register, edited)
    assert (
        "mm-g-g01-b1: reference changed on 25 Nov 2026 by A. Officer (changed an outlet)" in told.value.detail
    )
    amend(register, OutletChange(reference="MM/G/G01/B1"), "MM/G/G01/B1")
    back(register, edited)
    assert rows(register) == before


def test_that_what_an_outlet_can_not_have_is_refused(register: Register) -> None:
    before = rows(register)
    for change, references, title in (
        (OutletChange(reference=SHOWER), (BASIN,), "That reference is taken"),
        (OutletChange(reference=" - "), (BASIN,), "An outlet needs a reference"),
        (OutletChange(reference="X"), (BASIN, SHOWER), "Only one outlet takes another reference"),
        (OutletChange(words="X"), (BASIN, SHOWER), "Only one outlet takes another wording"),
        (OutletChange(words="X" * 121), (BASIN,), "That is too long"),
        (OutletChange(pipe_m=-1.0), (BASIN,), "That is not a length"),
    ):
        with pytest.raises(EntryFault, match=title):
            amend(register, change, *references)
    assert rows(register) == before


def test_that_a_rule_set_is_chosen_for_outlets_and_given_up_again(register: Register) -> None:
    edited = amend(register, OutletChange(rule_set="uk-type2"), why="a care home's wing")
    assert edited.changes.rules
    assert page(register).rule_set == "uk-type2"
    amend(register, OutletChange(rule_set=FROM_ABOVE))
    assert page(register).rule_set == "uk-healthcare"
    with pytest.raises(RuleFault, match="No such rule set"):
        amend(register, OutletChange(rule_set="none"))


def test_that_a_change_on_an_older_state_is_refused(register: Register) -> None:
    number = outlet_id(register)
    seen = seen_of(register, "outlet", number)
    amend(register, OutletChange(little_used=True))
    with pytest.raises(ConflictFault, match="Somebody else changed it"):
        amend_outlets(register, [number], OutletChange(pipe_m=2.0), who=WHO, at=NOW, seen=seen)
    with pytest.raises(NotFoundFault, match="outlet 99"):
        amend_outlets(register, [99], OutletChange(pipe_m=2.0), who=WHO, at=NOW)


def test_that_a_change_of_many_on_an_older_state_of_one_is_refused_with_what_differs(
    register: Register,
) -> None:
    ids = [outlet_id(register), outlet_id(register, SHOWER)]
    seen, change = outlets_seen(register, ids), OutletChange(user_group=UserGroup.STAFF)
    amend_outlets(register, [ids[1]], OutletChange(pipe_m=2.0), who="B. Engineer", at=NOW, why="measured")
    with pytest.raises(ConflictFault, match="Somebody else changed 1 of them") as caught:
        amend_outlets(register, ids, change, who=WHO, at=NOW, seen=seen)
    (theirs,) = caught.value.meanwhile
    assert (theirs.who, theirs.why) == ("B. Engineer", "measured")
    assert [(each.field, each.after) for each in theirs.fields] == [(f"{SHOWER}: pipe m", "2.0")]
    assert isinstance(caught.value.now, tuple)
    assert amend_outlets(register, ids, change, who=WHO, at=NOW, seen=caught.value.now).changes.outlets
    seen = outlets_seen(register, ids)
    amend_outlets(register, ids, OutletChange(little_used=True), who="B. Engineer", at=NOW)
    with pytest.raises(ConflictFault, match="Somebody else changed 2 of them") as caught:
        amend_outlets(register, ids, change, who=WHO, at=NOW, seen=seen)
    (theirs,) = caught.value.meanwhile
    assert [each.field for each in theirs.fields] == [f"{BASIN}: little used", f"{SHOWER}: little used"]


def test_that_a_change_of_many_of_which_one_was_removed_is_refused(register: Register) -> None:
    added_id = with_outlet(register, place(register, *BEDROOM)).added_id or 0
    ids = [outlet_id(register), added_id]
    seen, change = outlets_seen(register, ids), OutletChange(little_used=True)
    remove_empty(register, (PlaceKind.OUTLET, added_id), who="B. Engineer", at=NOW)
    before = rows(register)
    with pytest.raises(ConflictFault, match="Somebody else removed one of them") as caught:
        amend_outlets(register, ids, change, who=WHO, at=NOW, seen=seen)
    assert caught.value.now is None
    assert [each.who for each in caught.value.meanwhile] == ["B. Engineer"]
    assert rows(register) == before
    with pytest.raises(NotFoundFault):
        amend_outlets(register, ids, change, who=WHO, at=NOW, seen=())


def test_that_a_move_under_other_rules_is_judged_by_them_and_back(register: Register) -> None:
    house = place(register, "Withy End", "Withy End House")
    set_rules.choose(register, f"building:{house[1]}", "uk-type2", who=WHO, at=NOW)
    with register.database.reading() as session:
        judged = len(ledger.entries(session, "judgement"))
    level = place(register, "Marlpit Cross", "Main Block", "1")
    edited = move_places(register, [level], house, who=WHO, at=NOW)
    assert page(register, BATH).judgement is not None
    assert page(register, BATH).rule_set == "uk-type2"
    with register.database.reading() as session:
        assert len(ledger.entries(session, "judgement")) > judged
    back(register, edited)
    told = page(register, BATH).judgement
    assert told is not None
    assert told.rule_set == "uk-healthcare"
    assert sound(register)


def test_that_recorded_facts_of_a_body_are_changed_and_judged_again(register: Register) -> None:
    before = rows(register)
    valve = page(register).valve
    assert valve is not None
    seen = seen_of(register, "valve", valve.id)
    change = ValveChange(
        serial=" A15-1 B ", scheme_class=SchemeClass.TYPE_2, set_c=38.0, min_differential_k=10.0
    )
    edited = amend_valve(register, valve.id, change, who=WHO, at=NOW, seen=seen)
    assert edited.changes.outlets == {outlet_id(register)}
    changed = page(register).valve
    assert changed == replace(
        valve, serial="A15-1 B", scheme_class=SchemeClass.TYPE_2, set_c=38.0, limits=ModelLimits(10.0, None)
    )
    with pytest.raises(ConflictFault):
        amend_valve(register, valve.id, ValveChange(set_c=41.0), who=WHO, at=NOW, seen=seen)
    with pytest.raises(EntryFault, match="Nothing would change"):
        amend_valve(register, valve.id, ValveChange(set_c=38.0), who=WHO, at=NOW)
    back(register, edited)
    assert rows(register) == before


def test_that_figures_that_no_valve_has_are_refused(register: Register) -> None:
    for change, words in (
        (ValveChange(set_c=410.0), "set temperature 410 °C: 20 to 70 °C is possible"),
        (ValveChange(size_mm=float("nan")), "size nan mm: 1 to 200 mm is possible"),
        (ValveChange(designations=("HP-X",)), "HP-X is no designation"),
    ):
        with pytest.raises(EntryFault, match="can't be true of a valve") as told:
            amend_valve(register, 1, change, who=WHO, at=NOW)
        assert told.value.detail == f"{words}."
    with pytest.raises(EntryFault, match="too long"):
        amend_valve(register, 1, ValveChange(make="A" * 121), who=WHO, at=NOW)
    with pytest.raises(NotFoundFault, match="valve 99"):
        amend_valve(register, 99, ValveChange(make="A"), who=WHO, at=NOW)


def test_that_a_first_valve_is_fitted_and_its_commissioning_asked_for(register: Register) -> None:
    number = with_outlet(register, place(register, *BEDROOM)).added_id or 0
    before = rows(register)
    fitted = fit_valve(register, number, BODY, on=TODAY, who=WHO, at=NOW)
    shown = browse.outlet_page(register, number, TODAY)
    assert shown.valve == replace(BODY, id=fitted.added_id or 0)
    assert [each.opening.words for each in shown.actions] == [
        "Commission the new valve before the outlet is used (D08-50..64)."
    ]
    with pytest.raises(EntryFault, match="There is a valve already"):
        fit_valve(register, number, BODY, on=TODAY, who=WHO, at=NOW)
    back(register, fitted, "the wrong outlet")
    after = rows(register)
    assert {each: after[each] for each in after if each != "valve"} == {
        each: before[each] for each in before if each != "valve"
    }
    (action,) = browse_actions.action_lines(register, TODAY, live_only=False, outlet_id=number)
    assert action.action.state is ActionState.CANCELLED
    assert action.action.events[-1].draft.why == "The fitting of the body was taken back: the wrong outlet"
    assert browse.outlet_page(register, number, TODAY).state is OutletState.NO_VALVE
    again = fit_valve(register, number, BODY, on=None, who=WHO, at=NOW)
    assert again.added_id == fitted.added_id
    back(register, again)
    assert sound(register)


def test_that_a_valve_is_not_fitted_ahead_of_time_or_at_a_retired_outlet(register: Register) -> None:
    number = with_outlet(register, place(register, *BEDROOM)).added_id or 0
    with pytest.raises(EntryFault, match="The work lies ahead"):
        fit_valve(register, number, BODY, on=TODAY + timedelta(days=1), who=WHO, at=NOW)
    use(register, UseStep.RETIRE, DRAFT.reference)
    with pytest.raises(EntryFault, match="The outlet is retired"):
        fit_valve(register, number, BODY, on=TODAY, who=WHO, at=NOW)


def test_that_later_work_on_what_was_added_is_named(register: Register) -> None:
    room = added(register, place(register, *BEDROOM[:3]), "Store", "G09")
    at = (PlaceKind.ROOM, room.added_id or 0)
    outlet = with_outlet(register, at)
    with pytest.raises(EntryFault, match="Later work rests on this change") as told:
        back(register, room)
    assert told.value.detail == "added a room: MM/G/G01/WHB2 lies in Main Block · Level G · G09 Store now."
    fitted = fit_valve(register, outlet.added_id or 0, BODY, on=TODAY, who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="Later work") as told:
        back(register, outlet)
    assert "a valve was fitted at MM/G/G01/WHB2 on 25 Nov 2026" in told.value.detail
    assert "MM/G/G01/WHB2 has 1 action on record" in told.value.detail
    back(register, fitted)
    with pytest.raises(EntryFault, match="has 1 action on record"):
        back(register, outlet)


def test_that_outlets_are_retired_together_and_taken_up_again(register: Register) -> None:
    before = rows(register)
    edited = use(register, UseStep.RETIRE, BASIN, STAFF)
    assert [use_of(register, each) for each in (BASIN, STAFF)] == [OutletUse.RETIRED] * 2
    back(register, edited, "the wrong wing")
    assert rows(register) == before
    assert [use_of(register, each) for each in (BASIN, STAFF)] == [OutletUse.IN_USE] * 2
    events = page(register).use.events
    assert [(each.draft.step, each.draft.why) for each in events[1:]] == [
        (UseStep.TAKE_UP, "Taken back: the wrong wing"),
        (UseStep.PUT_BACK, "Taken back: the wrong wing"),
    ]
    with pytest.raises(EntryFault, match="Later work rests on this change") as told:
        back(register, edited)
    assert told.value.detail == "MM/G/G01/WHB1 was put back in use on 25 Nov 2026 by A. Officer."
    assert sound(register)


def test_that_an_outlet_retired_earlier_is_out_of_use_when_that_is_taken_back(register: Register) -> None:
    edited = use(register, UseStep.RETIRE, BASIN)
    take_back_edit(register, edited.written, who=WHO, at=NOW + timedelta(days=1))
    assert use_of(register, BASIN) is OutletUse.OUT_OF_USE


def test_that_an_outlet_with_a_finding_that_stands_stays_out_of_use_when_it_is_taken_up(
    register: Register,
) -> None:
    back(register, use(register, UseStep.RETIRE, BATH, STAFF))
    assert [use_of(register, each) for each in (BATH, STAFF)] == [OutletUse.OUT_OF_USE, OutletUse.IN_USE]


def test_that_what_stopped_an_outlet_twice_is_taken_back_step_by_step(register: Register) -> None:
    taken = use(register, UseStep.TAKE_OUT, STAFF)
    retired = use(register, UseStep.RETIRE, STAFF)
    with pytest.raises(EntryFault, match="WE/G/G01/WHB1 was retired on 25 Nov 2026"):
        back(register, taken)
    back(register, retired)
    assert use_of(register, STAFF) is OutletUse.OUT_OF_USE
    back(register, taken)
    assert use_of(register, STAFF) is OutletUse.IN_USE
    use(register, UseStep.TAKE_OUT, STAFF)
    with pytest.raises(EntryFault, match="Later work rests on this change"):
        back(register, taken)


def test_that_all_outlets_are_taken_out_of_use_or_none_and_each_hindrance_is_named(
    register: Register,
) -> None:
    use(register, UseStep.TAKE_OUT, STAFF)
    use(register, UseStep.RETIRE, SHOWER)
    before = rows(register)
    with pytest.raises(EntryFault, match="Not every outlet can be taken out of use") as told:
        use(register, UseStep.TAKE_OUT, BASIN, STAFF, SHOWER)
    assert told.value.detail == (
        "WE/G/G01/WHB1 can't be taken out of use: The outlet is out of use: it can't be taken out of use; "
        "MM/G/G02/SHR1 can't be taken out of use: The outlet is retired: it can't be taken out of use."
    )
    with pytest.raises(EntryFault, match="MM/G/G01/WHB1 can't be taken out of use"):
        use(register, UseStep.TAKE_OUT, BASIN, told="")
    with pytest.raises(EntryFault, match="Nothing would change"):
        use(register, UseStep.RETIRE)
    assert rows(register) == before
    assert use_of(register, BASIN) is OutletUse.IN_USE


def test_that_taking_out_is_taken_back_only_where_the_rules_let_it(register: Register) -> None:
    taken = use(register, UseStep.TAKE_OUT, BASIN, STAFF)
    back(register, taken)
    assert [use_of(register, each) for each in (BASIN, STAFF)] == [OutletUse.IN_USE] * 2
    unsafe = use(register, UseStep.TAKE_OUT, BATH)
    assert [each.state for each in page(register, BATH).actions] == [ActionState.MADE_SAFE]
    with pytest.raises(EntryFault, match="MM/1/101/BTH1 can't be put back in use"):
        back(register, unsafe)
    assert use_of(register, BATH) is OutletUse.OUT_OF_USE
    put = use_outlet(
        register, outlet_id(register, STAFF), UseStep.RETIRE, on=TODAY, why="gone", who=WHO, at=NOW
    )
    assert put.outlets == {outlet_id(register, STAFF)}


def test_that_outlets_on_one_valve_make_its_action_safe_once(register: Register) -> None:
    showers = (SHOWER, "MM/G/G02/SHR2")
    number = outlet_id(register, SHOWER)
    open_action(register, number, words="The handle is loose.", on=TODAY, who=WHO, at=NOW)
    edited = use(register, UseStep.TAKE_OUT, *showers)
    (action,) = page(register, SHOWER).actions
    assert [each.draft.step for each in action.events] == [Step.MAKE_SAFE]
    assert [page(register, each).use.action_id for each in showers] == [action.id] * 2
    back(register, edited)
    assert [use_of(register, each) for each in showers] == [OutletUse.IN_USE] * 2


def _bare(register: Register) -> int:
    return with_outlet(register, place(register, *BEDROOM)).added_id or 0


def test_that_only_a_change_by_hand_is_taken_back(register: Register) -> None:
    with register.database.reading() as session:
        newest = ledger.newest(session)
    for written, fault, words in (
        (Written(newest + 1, newest + 2), NotFoundFault, "are not there"),
        (Written(newest, newest), EntryFault, "brought in visits.csv"),
        (Written(1, newest), EntryFault, "made the register"),
    ):
        with pytest.raises(fault) as told:
            take_back_edit(register, written, who=WHO, at=NOW)
        assert words in str(told.value.detail)
    replace_valve(register, outlet_id(register), BODY, on=TODAY, who=WHO, at=NOW)
    with register.database.reading() as session:
        last = ledger.newest(session)
    with pytest.raises(EntryFault, match="That is not one change by hand"):
        take_back_edit(register, Written(newest + 1, last), who=WHO, at=NOW)
    fitted = fit_valve(register, _bare(register), BODY, on=TODAY, who=WHO, at=NOW)
    back(register, fitted)
    with register.database.reading() as session:
        number = ledger.newest(session)
    with pytest.raises(EntryFault, match="That is not one change by hand"):
        take_back_edit(register, Written(number, number), who=WHO, at=NOW)
    put = use(register, UseStep.TAKE_OUT, STAFF)
    back(register, put)
    with register.database.reading() as session:
        number = ledger.newest(session)
    with pytest.raises(EntryFault, match="That is not taken back"):
        take_back_edit(register, Written(number, number), who=WHO, at=NOW)


def test_that_a_name_given_to_another_meanwhile_is_told(register: Register) -> None:
    edited = amend(register, OutletChange(reference="MM/G/G01/B1"))
    with_outlet(register, place(register, *BEDROOM), replace(DRAFT, reference=BASIN))
    with pytest.raises(EntryFault, match="Its name was given to another") as told:
        back(register, edited)
    assert f'is called "{BASIN}" now' in told.value.detail


def test_that_a_room_that_is_gone_takes_nothing_back(register: Register, tmp_path: Path) -> None:
    batch = bring(register, tmp_path, f"{HEAD}\n{BARE}\n", "new.csv").batch_id
    room = place(register, *BEDROOM[:3], "G07")
    with_outlet(register, room)
    edited = move_places(
        register, [place(register, DRAFT.reference)], place(register, *BEDROOM), who=WHO, at=NOW
    )
    assert batch is not None
    undo_batch(register, batch, who=WHO, at=NOW, today=TODAY, why="wrong")
    with pytest.raises(EntryFault, match="It can't be put back") as told:
        back(register, edited)
    assert f"its room {room[1]} was removed since" in told.value.detail


def test_that_a_batch_is_undone_though_an_outlet_that_it_changed_was_removed_by_hand(
    register: Register,
) -> None:
    before = rows(register)
    number = with_outlet(register, place(register, *BEDROOM)).added_id or 0
    batch = write_batch(register, lambda tx, made: places.amend_outlet(tx, number, pipe_m=2.0))
    remove_empty(register, (PlaceKind.OUTLET, number), who=WHO, at=NOW)
    assert what_rests_on(register, batch) == ()
    undo_batch(register, batch, who=WHO, at=NOW, today=TODAY, why="wrong")
    assert rows(register) == before
    assert sound(register)


def test_that_a_room_of_a_batch_that_was_renamed_rests_on_it(register: Register, tmp_path: Path) -> None:
    batch = bring(register, tmp_path, f"{HEAD}\n{BARE}\n", "new.csv").batch_id
    assert batch is not None
    at = place(register, *BEDROOM[:3], "G07")
    edited = rename_place(register, at, PlaceNames("Ward", "G07"), who=WHO, at=NOW)
    where = "Main Block · Level G · G07 Ward"
    said = f"{where}: name changed on 25 Nov 2026 by A. Officer (renamed a room)"
    assert what_rests_on(register, batch) == (said,)
    back(register, edited)
    assert what_rests_on(register, batch) == ()


def test_that_the_next_sheet_asks_after_the_new_name_of_a_room(register: Register, tmp_path: Path) -> None:
    rename_place(register, place(register, *BEDROOM), PlaceNames("Ward", "G11"), who=WHO, at=NOW)
    path = tmp_path / "again.csv"
    path.write_text(ASSETS, encoding="utf-8")
    (asked,) = look(register, path, None, TODAY).questions
    assert (asked.code, asked.ref) == ("differs-from-register", BASIN)
    assert "it holds Main Block · G · G11 Ward" in asked.remedy
