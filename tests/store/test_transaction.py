import json
import threading
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from estate.domain.changes import ChangeSet
from estate.domain.progress import Cancelled
from estate.domain.rules.values import Override
from estate.domain.visits import Readings
from estate.errors import EntryFault
from estate.store import bulk, instruments, judgements, ledger, places, rules, valves, visits
from estate.store.covering import read_cover
from estate.store.database import Database
from estate.store.ledger import LedgerEntry
from estate.store.schema import OutletRow, PositionRow, SiteRow
from estate.store.transaction import writing
from tests.store.builders import JUDGED, NOW, SOURCE, Basin, add_basin, draft


def _entries(database: Database) -> tuple[LedgerEntry, ...]:
    with database.reading() as session:
        return ledger.entries(session)


def _add_basin(database: Database) -> Basin:
    with writing(database, "A. Officer", "added a basin", NOW) as tx:
        return add_basin(tx)


def test_that_making_the_register_is_the_first_entry(database: Database) -> None:
    first = _entries(database)[0]
    assert (first.id, first.at, first.who, first.what) == (1, NOW, "A. Officer", "made the register")
    assert (first.noun, first.row_id, first.action) == ("register", 1, "added")
    assert json.loads(first.after)["identifier"] == "mx-1"


def test_that_every_row_added_leaves_an_entry(database: Database) -> None:
    before = len(_entries(database))
    basin = _add_basin(database)
    new = _entries(database)[before:]
    nouns = ["site", "building", "level", "room", "position", "outlet", "valve", "fitting"]
    assert [each.noun for each in new] == nouns
    assert {(each.who, each.what, each.at) for each in new} == {("A. Officer", "added a basin", NOW)}
    outlet = next(each for each in new if each.noun == "outlet")
    assert outlet.row_id == basin.outlet_id
    assert json.loads(outlet.after)["reference"] == "MX-G-01-B1"


def test_that_an_amendment_leaves_an_entry_with_what_was_written(database: Database) -> None:
    basin = _add_basin(database)
    with writing(database, "B. Other", "retired it", NOW) as tx:
        places.amend_outlet(tx, basin.outlet_id, retired_on=date(2026, 11, 1), pipe_m=None)
    last = _entries(database)[-1]
    assert (last.noun, last.row_id, last.action) == ("outlet", basin.outlet_id, "amended")
    assert json.loads(last.after) == {"retired_on": "2026-11-01", "pipe_m": None}
    assert json.loads(last.before) == {"retired_on": None, "pipe_m": 0.6}


def test_that_every_kind_of_write_leaves_an_entry(database: Database) -> None:
    basin = _add_basin(database)
    with writing(database, "A. Officer", "did a lot", NOW) as tx:
        entry = visits.add_visit(tx, draft(basin))
        judgements.add_judgement(tx, entry.id, JUDGED)
        visits.void_visit(tx, entry.id, "wrong")
        valves.amend_valve(tx, basin.valve_id, set_c=41.0)
        valves.remove(tx, basin.valve_id, basin.position_id, date(2026, 1, 1))
        instruments.add_instrument(tx, reference="P1")
        rules.choose_estate_rules(tx, "uk-type2")
        rules.add_override(tx, Override("r", "k", "estate", None, "A. Officer", NOW, "why"))
    told = [(each.noun, each.action) for each in _entries(database) if each.what == "did a lot"]
    assert told == [
        ("visit", "added"),
        ("judgement", "added many"),
        ("finding", "added many"),
        ("visit_void", "added"),
        ("valve", "amended"),
        ("fitting", "amended"),
        ("instrument", "added"),
        ("register", "amended"),
        ("rule_override", "added"),
    ]


def test_that_each_visit_of_a_batch_leaves_its_own_entry(database: Database) -> None:
    basin = _add_basin(database)
    with writing(database, "A. Officer", "brought in", NOW) as tx:
        added = visits.add_visits(tx, [draft(basin, source=SOURCE)] * 5, None)
    with database.reading() as session:
        assert [each.row_id for each in ledger.entries(session, "visit")] == [each.id for each in added]
        (entry,) = ledger.entries(session, "visit", added[0].id)
    written = json.loads(entry.after)
    assert (written["found_c"], written["source_row"], written["visited_on"]) == (41.2, 7, "2026-11-24")


def test_that_many_rows_at_once_leave_their_count_and_ids(database: Database) -> None:
    basin = _add_basin(database)
    with writing(database, "A. Officer", "judged", NOW) as tx:
        added = visits.add_visits(tx, [draft(basin)] * 3, None)
        judgements.add_judgements(tx, [(each.id, JUDGED) for each in added])
    with database.reading() as session:
        (entry,) = ledger.entries(session, "judgement")
    told = read_cover(entry.after)
    assert (entry.row_id, told.rows, told.first_id, told.last_id) == (None, 3, 1, 3)
    assert len(set(told.marks)) == 3


@pytest.mark.parametrize(
    "fault", [Cancelled(), EntryFault("t", "d", "r"), RuntimeError(), KeyboardInterrupt()]
)
def test_that_work_that_stops_half_way_leaves_nothing(database: Database, fault: BaseException) -> None:
    basin = _add_basin(database)
    before = _entries(database)
    with pytest.raises(type(fault)), writing(database, "A. Officer", "stopped", NOW) as tx:
        visits.add_visits(tx, [draft(basin)] * 3, None)
        places.amend_outlet(tx, basin.outlet_id, name="Other")
        raise fault
    assert _entries(database) == before
    with database.reading() as session:
        assert visits.visits(session) == ()
        assert places.outlet(session, basin.outlet_id).path.outlet == "Basin"


def test_that_a_row_that_points_nowhere_is_refused(database: Database) -> None:
    basin = _add_basin(database)
    nowhere = Basin(basin.room_id, basin.position_id, basin.outlet_id, 999)
    with pytest.raises(DBAPIError), writing(database, "A. Officer", "tried", NOW) as tx:
        visits.add_visit(tx, draft(nowhere))
    assert "tried" not in {each.what for each in _entries(database)}


def test_that_a_transaction_that_does_nothing_leaves_no_entry(database: Database) -> None:
    before = _entries(database)
    with writing(database, "A. Officer", "looked", NOW) as tx:
        tx.amend(SiteRow, 1)
    assert _entries(database) == before
    assert tx.changes == ChangeSet()


def test_that_a_row_that_is_not_there_is_not_amended(database: Database) -> None:
    with pytest.raises(ValueError, match="no row 5 in outlet"), writing(database, "A", "tried", NOW) as tx:
        tx.amend(OutletRow, 5, name="Other")


def test_that_a_row_that_is_removed_leaves_an_entry_with_what_it_held(database: Database) -> None:
    with writing(database, "A. Officer", "added", NOW) as tx:
        room = places.ensure_room(tx, "Marlpit Cross", "Main block", "G", "01", "Bay 1")
        position = places.add_position(tx, room, "under the basin")
    with writing(database, "B. Other", "removed", NOW) as tx:
        tx.remove(PositionRow, position)
    last = _entries(database)[-1]
    assert (last.noun, last.row_id, last.action) == ("position", position, "removed")
    held = {"id": position, "room_id": room, "words": "under the basin", "row_version": 1}
    assert (json.loads(last.before), last.after) == (held, "")
    with pytest.raises(ValueError, match="no row 1 in position"), writing(database, "A", "tried", NOW) as tx:
        tx.remove(PositionRow, position)


def test_that_the_number_of_a_removed_row_is_never_given_again(database: Database) -> None:
    with writing(database, "A. Officer", "added", NOW) as tx:
        room = places.ensure_room(tx, "Marlpit Cross", "Main block", "G", "01", "Bay 1")
        numbers = [places.add_position(tx, room, words) for words in ("a", "b")]
        tx.remove(PositionRow, numbers[1])
        numbers.append(places.add_position(tx, room, "c"))
    with writing(database, "A. Officer", "removed", NOW) as tx:
        tx.remove(PositionRow, numbers[2])
    with writing(database, "A. Officer", "added", NOW) as tx:
        numbers.append(places.add_position(tx, room, "d"))
    assert numbers == [1, 2, 3, 4]


def test_that_changes_are_told_after_the_transaction(database: Database) -> None:
    basin = _add_basin(database)
    with writing(database, "A. Officer", "recorded", NOW) as tx:
        entry = visits.add_visit(tx, draft(basin))
    assert tx.changes == ChangeSet(
        outlets=frozenset({basin.outlet_id}),
        valves=frozenset({basin.valve_id}),
        visits=frozenset({entry.id}),
    )


def test_that_moments_are_kept_in_utc(database: Database) -> None:
    basin = _add_basin(database)
    summer = datetime(2026, 7, 1, 12, 30, 15, 250, tzinfo=timezone(timedelta(hours=1)))
    with writing(database, "A. Officer", "recorded", summer) as tx:
        visits.add_visit(tx, draft(basin))
    with database.reading() as session:
        moment = visits.visits(session)[0].recorded_at
    assert moment == summer
    assert moment.tzinfo is UTC
    assert _entries(database)[-1].at == summer


def test_that_a_moment_without_time_zone_is_refused(database: Database) -> None:
    with (
        pytest.raises(Exception, match="a moment needs a time zone"),
        writing(database, "A. Officer", "tried", datetime(2026, 7, 1)) as tx,
    ):
        add_basin(tx)
    with database.reading() as session:
        assert places.outlets(session) == ()


def test_that_reading_can_not_write(database: Database) -> None:
    with pytest.raises(Exception, match=r"can't be written"), database.reading() as session:
        session.execute(text("UPDATE register SET name = 'other'"))
    with database.reading() as session:
        assert session.execute(text("SELECT name FROM register")).scalar_one() == "Marlpit Cross"


def test_that_a_reader_sees_one_state_while_another_writes(database: Database) -> None:
    _add_basin(database)
    with database.reading() as session:
        before = places.outlets(session)
        with writing(database, "B. Other", "added", NOW) as tx:
            add_basin(tx, "MX-G-01-B2")
        assert places.outlets(session) == before
    with database.reading() as session:
        assert len(places.outlets(session)) == 2


def test_that_a_second_writer_waits_for_the_first(database: Database) -> None:
    started, order = threading.Event(), []

    def second() -> None:
        started.set()
        with writing(database, "B. Other", "second", NOW) as tx:
            order.append("second")
            add_basin(tx, "MX-G-01-B2")

    with writing(database, "A. Officer", "first", NOW) as tx:
        add_basin(tx)
        thread = threading.Thread(target=second)
        thread.start()
        started.wait(5)
        thread.join(0.3)
        order.append("first")
    thread.join(10)
    assert order == ["first", "second"]
    assert [each.what for each in _entries(database)][-1] == "second"


def test_that_a_column_that_is_empty_in_some_of_many_rows_is_written_in_the_others(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bulk, "AT_ONCE", 2)
    with writing(database, "A. Officer", "added a basin and its visits", NOW) as tx:
        basin = add_basin(tx)
        plain = replace(draft(basin), readings=Readings(), source=None)
        hot = replace(plain, readings=Readings(hot_c=60.0))
        drafts = [plain, plain, plain, hot, hot]
        added = visits.add_visits(tx, drafts, None)
    with database.reading() as session:
        held = {each.id: each for each in visits.visits(session)}
    assert [held[each.id].draft for each in added] == drafts
