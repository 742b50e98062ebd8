"""The chain as docs/trust.md describes it, worked out a second way."""

import json
from datetime import date, timedelta, timezone
from hashlib import sha256
from typing import Any

import pytest
from sqlalchemy import text

from estate.domain.layouts import SheetKind
from estate.store import batches, judgements, ledger, places, rules, visits
from estate.store.canonical import plain
from estate.store.chain import Stamp, head
from estate.store.covering import read_cover
from estate.store.database import Database
from estate.store.ledger import LedgerEntry
from estate.store.schema import PositionRow
from estate.store.transaction import writing
from tests.store.builders import EVERYTHING_MEASURED, JUDGED, NOW, SOURCE, add_basin, draft


def _entries(database: Database) -> tuple[LedgerEntry, ...]:
    with database.reading() as session:
        return ledger.entries(session)


def _second_way(entry: LedgerEntry) -> str:
    """The digest by the words of the page alone."""
    told: dict[str, Any] = {name: getattr(entry, name) for name in LedgerEntry.__slots__}
    del told["digest"]
    told["at"] = entry.at.isoformat()
    for name in ("before", "after"):
        told[name] = json.loads(told[name]) if told[name] else ""
    written = json.dumps(told, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return sha256(written.encode("utf-8")).hexdigest()


def test_that_each_digest_covers_its_entry_and_the_one_before(database: Database) -> None:
    with writing(database, 'A. "Officer" Ångström', "did a lot\n", NOW, why="because") as tx:
        basin = add_basin(tx)
        batch_id = batches.add_batch(
            tx,
            file="f.csv",
            digest="ab",
            kind=SheetKind.VISITS,
            content=b"x",
            read=1,
            accepted=1,
            already_there=0,
            questions=[],
        )
        added = visits.add_visits(tx, [draft(basin, readings=EVERYTHING_MEASURED, source=SOURCE)], batch_id)
        judgements.add_judgements(tx, [(added[0].id, JUDGED)])
        places.amend_outlet(tx, basin.outlet_id, retired_on=date(2026, 11, 1))
        spare = places.add_position(tx, basin.room_id, "spare")
        tx.remove(PositionRow, spare)
    found = _entries(database)
    assert {each.action for each in found} == {"added", "added many", "amended", "removed"}
    assert [each.id for each in found] == list(range(1, len(found) + 1))
    assert [each.digest for each in found] == [_second_way(each) for each in found]
    assert [each.previous for each in found] == ["", *(each.digest for each in found[:-1])]
    assert {each.why for each in found[1:]} == {"because"}
    assert {each.batch_id for each in found if each.noun == "visit"} == {batch_id}
    batch = next(each for each in found if each.noun == "batch")
    assert json.loads(batch.after)["content"] == f"sha256:{sha256(b'x').hexdigest()}"
    with database.reading() as session:
        assert head(session).digest == found[-1].digest


def test_that_rows_added_together_are_covered_line_by_line(database: Database) -> None:
    with writing(database, "A. Officer", "added", NOW) as tx:
        basin = add_basin(tx)
        added = visits.add_visits(tx, [draft(basin)] * 2, None)
        judgements.add_judgements(tx, [(each.id, JUDGED) for each in added])
    with database.reading() as session:
        (entry,) = ledger.entries(session, "judgement")
        columns = sorted(json.loads(entry.after)["columns"])
        rows = session.execute(text(f"SELECT {', '.join(columns)} FROM judgement ORDER BY id")).all()
    told = read_cover(entry.after)
    assert told.columns == tuple(columns)
    place = columns.index("judged_at")
    lines = []
    for row in rows:
        values = list(row)
        values[place] = NOW.isoformat()
        lines.append(json.dumps(values, separators=(",", ":"), ensure_ascii=False).encode() + b"\n")
    assert told.digest == sha256(b"".join(lines)).hexdigest()


def test_that_an_entry_tells_the_moment_by_the_clock_on_the_wall_and_the_program(database: Database) -> None:
    database.stamp = Stamp("estate-register 9", timezone(timedelta(hours=1)))
    with writing(database, "A. Officer", "chose", NOW) as tx:
        rules.choose_estate_rules(tx, "uk-type2")
    last = _entries(database)[-1]
    assert (last.at, last.local_at) == (NOW, "2026-11-25T10:30:00+01:00")
    assert last.program == "estate-register 9"
    assert json.loads(last.before) == {"rule_set": "uk-healthcare"}


def test_that_a_row_that_is_amended_is_of_a_later_version(database: Database) -> None:
    with writing(database, "A. Officer", "chose", NOW) as tx:
        for chosen in ("uk-type2", "uk-healthcare"):
            rules.choose_estate_rules(tx, chosen)
    with database.reading() as session:
        assert session.execute(text("SELECT row_version FROM register")).scalar_one() == 3


def test_that_only_values_that_a_register_keeps_have_a_canonical_form() -> None:
    with pytest.raises(TypeError, match="no JSON for set"):
        plain({1})


@pytest.mark.parametrize("after", ["{}", "[]", "3", '{"marks":"?","rows":1,"first_id":1,"last_id":1}', "x"])
def test_that_text_that_covers_nothing_is_told(after: str) -> None:
    with pytest.raises(ValueError):
        read_cover(after)
