from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from estate.domain.places import Use, UserGroup
from estate.domain.valves import Valve
from estate.domain.visits import AttemptDraft, Readings
from estate.errors import EntryFault
from estate.operations import browse, set_rules
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.replace_valve import replace_valve
from estate.operations.undo_batch import what_rests_on
from estate.store import aliases, attempts, places, valves
from estate.store.transaction import Transaction, writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO
from tests.operations.test_undo_batch import (
    ASSET_BATCH,
    FURTHER,
    HEAD,
    VISIT_BATCH,
    brought,
    change,
    held,
    history,
    undo,
    write_batch,
)


def test_that_visits_rest_on_the_outlets_a_batch_added_even_if_they_are_void(register: Register) -> None:
    words = (
        "MM/1/101/BTH1 has 1 action on record",
        "MM/1/101/BTH1 has 2 visits on record",
        "MM/G/G01/WHB1 has 2 visits on record",
        "MM/G/G02/SHR1 has 1 visit on record",
    )
    assert tuple(sorted(what_rests_on(register, ASSET_BATCH))) == words
    undo(register, VISIT_BATCH)
    assert tuple(sorted(what_rests_on(register, ASSET_BATCH))) == words


def _outlet_id(register: Register, ref: str = "MM/2/201/WHB1") -> int:
    return browse.find_outlet(register, ref).id


def _retire(register: Register) -> None:
    with writing(register.database, "B. Other", "retired an outlet", NOW) as tx:
        places.amend_outlet(tx, _outlet_id(register), retired_on=date(2026, 11, 1))


def _replace(register: Register) -> None:
    body = Valve(0, "Make C", "C3", "C-9")
    replace_valve(register, _outlet_id(register), body, on=date(2026, 11, 3), who=WHO, at=NOW)


def _teach(register: Register) -> None:
    with writing(register.database, WHO, "told", NOW) as tx:
        aliases.add_alias(tx, "ward basin", _outlet_id(register))


def _attempt(register: Register) -> None:
    with writing(register.database, WHO, "tried", NOW) as tx:
        attempts.add_attempts(tx, [AttemptDraft(_outlet_id(register), TODAY, "no access")], None)


def _share(register: Register) -> None:
    with writing(register.database, WHO, "moved", NOW) as tx:
        there = places.outlet(tx.session, _outlet_id(register)).position_id
        places.amend_outlet(tx, _outlet_id(register, "WE/G/G01/WHB1"), position_id=there)


def _refit(register: Register) -> None:
    """The body serves elsewhere now and another one here."""
    with writing(register.database, WHO, "moved", NOW) as tx:
        here = places.outlet(tx.session, _outlet_id(register)).position_id
        there = places.outlet(tx.session, _outlet_id(register, "WE/G/G01/WHB1")).position_id
        fitted = {each.position_id: each.valve_id for each in valves.fittings(tx.session)}
        valves.remove(tx, fitted[there], there, date(2026, 11, 2))
        valves.remove(tx, fitted[here], here, date(2026, 11, 2))
        valves.fit(tx, fitted[here], there, date(2026, 11, 2))


def _visit_elsewhere(register: Register) -> None:
    """The batch's body was visited at an outlet that is not the batch's."""
    _share(register)
    visit = history(register, "MM/G/G01/WHB1")[0].draft
    with register.database.reading() as session:
        here = places.outlet(session, _outlet_id(register)).position_id
        body = next(each.valve_id for each in valves.fittings(session) if each.position_id == here)
    other = replace(visit, valve_id=body, outlet_id=_outlet_id(register, "WE/G/G01/WHB1"))
    record_visit(register, replace(other, readings=Readings(found_c=41.0)), who=WHO, at=NOW, today=TODAY)


def _override(register: Register) -> None:
    place = f"outlet:{_outlet_id(register)}"
    set_rules.override(
        register,
        "uk-healthcare",
        "isolation.residual-flow",
        place,
        60.0,
        who="The group",
        at=NOW,
        why="WE-04",
    )


def _choose(register: Register) -> None:
    with register.database.reading() as session:
        building = places.building_of_outlet(session)[_outlet_id(register)]
    set_rules.choose(register, f"building:{building}", "uk-type2", who=WHO, at=NOW)


LATER_WORK: list[tuple[Callable[[Register], None], tuple[str, ...]]] = [
    (
        _retire,
        ("MM/2/201/WHB1: retired on changed on 25 Nov 2026 by B. Other (retired an outlet)",),
    ),
    (
        _replace,
        (
            "the valve of MM/2/201/WHB1 was taken out on 3 Nov 2026",
            "MM/2/201/WHB1 has 1 action on record",
        ),
    ),
    (_teach, ("MM/2/201/WHB1 has 1 confirmed alias on record",)),
    (_attempt, ("MM/2/201/WHB1 has 1 attempted visit on record",)),
    (_share, ("WE/G/G01/WHB1 was put on the valve of MM/2/201/WHB1 later",)),
    (_override, ("MM/2/201/WHB1: isolation.residual-flow was set on 25 Nov 2026",)),
    (
        _refit,
        (
            "the valve of MM/2/201/WHB1 was taken out on 2 Nov 2026",
            "the valve of MM/2/201/WHB1 was fitted at WE/G/G01/WHB1 on 2 Nov 2026",
        ),
    ),
    (
        _visit_elsewhere,
        (
            "WE/G/G01/WHB1 was put on the valve of MM/2/201/WHB1 later",
            "the valve of MM/2/201/WHB1 has 1 visit on record",
        ),
    ),
]


@pytest.mark.parametrize(("work", "words"), LATER_WORK, ids=lambda each: getattr(each, "__name__", ""))
def test_that_later_work_on_what_an_asset_list_added_is_named(
    register: Register, tmp_path: Path, work: Callable[[Register], None], words: tuple[str, ...]
) -> None:
    batch = brought(register, tmp_path, FURTHER)
    assert what_rests_on(register, batch) == ()
    work(register)
    assert what_rests_on(register, batch) == words
    there = held(register)
    with pytest.raises(EntryFault, match="Later work rests"):
        undo(register, batch)
    assert held(register) == there


def test_that_a_change_on_top_of_a_change_rests_on_the_batch_until_it_is_taken_back(
    register: Register,
) -> None:
    batch = write_batch(register, lambda tx, made: change(tx, register))
    outlet = _outlet_id(register, "MM/G/G01/WHB1")
    later = write_batch(register, lambda tx, made: places.amend_outlet(tx, outlet, pipe_m=9.0))
    (words,) = what_rests_on(register, batch)
    assert words.startswith("MM/G/G01/WHB1: blended pipe (m) changed on 25 Nov 2026")
    undo(register, later)
    assert what_rests_on(register, batch) == ()
    undo(register, batch)


def test_that_later_work_in_a_building_that_a_batch_added_is_named(
    register: Register, tmp_path: Path
) -> None:
    batch = brought(register, tmp_path, FURTHER.replace("Main Block", "New Block"))
    _choose(register)
    assert what_rests_on(register, batch) == (
        "New Block: rule set changed on 25 Nov 2026 by A. Officer (chose uk-type2 for building:3)",
    )


def test_that_the_valve_is_named_by_its_place_where_its_outlet_moved_away(
    register: Register, tmp_path: Path
) -> None:
    batch = brought(register, tmp_path, FURTHER)
    with writing(register.database, WHO, "moved", NOW) as tx:
        there = places.outlet(tx.session, _outlet_id(register, "WE/G/G01/WHB1")).position_id
        here = places.outlet(tx.session, _outlet_id(register)).position_id
        places.amend_outlet(tx, _outlet_id(register), position_id=there)
        body = next(each.valve_id for each in valves.fittings(tx.session) if each.position_id == here)
        valves.amend_valve(tx, body, set_c=40.0)
    moved, changed = what_rests_on(register, batch)
    assert moved.startswith("MM/2/201/WHB1: valve position changed")
    assert changed.startswith(f"the valve of position {here}: set temperature (°C) changed")


def test_that_a_valve_fitted_later_where_a_batch_left_none_rests_on_it(register: Register) -> None:
    def write(tx: Transaction, made: int) -> None:
        room = places.rooms(tx.session)[0].room_id
        position = places.add_position(tx, room, "under the basin")
        places.add_outlet(
            tx,
            room_id=room,
            position_id=position,
            reference="N/1",
            name="Basin",
            use=Use.BASIN,
            user_group=UserGroup.STAFF,
            pipe_m=None,
        )

    batch = write_batch(register, write)
    with writing(register.database, WHO, "fitted", NOW) as tx:
        body = valves.add_valve(tx, Valve(0, "Make C", "C3", "C-9"))
        valves.fit(tx, body, places.outlet(tx.session, _outlet_id(register, "N/1")).position_id, None)
    assert what_rests_on(register, batch) == ("a valve was fitted at N/1",)


def test_that_a_withdrawn_rule_rests_on_nothing(register: Register, tmp_path: Path) -> None:
    batch = brought(register, tmp_path, FURTHER)
    _override(register)
    place = f"outlet:{_outlet_id(register)}"
    key = "isolation.residual-flow"
    set_rules.override(register, "uk-healthcare", key, place, None, who=WHO, at=NOW, why="withdrawn")
    assert what_rests_on(register, batch) == ()


def test_that_a_long_list_is_shortened_in_the_fault_and_whole_when_asked_for(
    register: Register, tmp_path: Path
) -> None:
    rows = "\n".join(
        f"MX/{n},Marlpit Cross,Main Block,G,G02,Shower room,Basin {n},Wash-hand basin,Patients,"
        f"Make A,A15,N-{n},TMV3,15,41,2026-01-05,1.2"
        for n in range(14)
    )
    batch = brought(register, tmp_path, f"{ASSETS.splitlines()[0]}\n{rows}\n")
    brought(
        register,
        tmp_path,
        "\n".join([HEAD, *(f"MX/{n},2026-05-01,In-service,60,13,41,41,0" for n in range(14))]),
        "visits.csv",
    )
    assert len(what_rests_on(register, batch)) == 14
    with pytest.raises(EntryFault, match="; and 2 more"):
        undo(register, batch)
