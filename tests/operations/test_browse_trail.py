"""The trail as people ask for it: by page, person, day, words, and by what an entry is about."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from sqlalchemy import insert

from estate.domain.trail import TrailLine, TrailWanted
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations.browse_trail import trail_count, trail_page, trail_people
from estate.operations.checkpoints import make_checkpoint
from estate.operations.record_visit import correct_visit, record_visit, void_visit
from estate.operations.register import Register, Stamp
from estate.operations.set_rules import override
from estate.store import trail_rows
from estate.store.ledger import LedgerEntry
from estate.store.places import outlets
from estate.store.schema import LedgerEntryRow, OutletRow
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO

DRAFT = VisitDraft(1, 1, VisitKind.IN_SERVICE, TODAY, Readings(hot_c=60.0, left_c=41.0), "A. Thorne")
LATE = datetime(2026, 11, 25, 23, 30, tzinfo=UTC)
"""The next day where the clock is an hour ahead."""


@pytest.fixture
def visit_id(register: Register) -> int:
    """A visit that was recorded by somebody else, on another day."""
    recorded = record_visit(register, DRAFT, who="B. Other", at=LATE - timedelta(days=2), today=TODAY)
    return recorded.visit.id


def lines(register: Register, **wanted: object) -> tuple[TrailLine, ...]:
    return trail_page(register, TrailWanted(**wanted)).lines  # type: ignore[arg-type]


def test_that_the_trail_is_read_a_page_at_a_time_newest_first_without_gaps(register: Register) -> None:
    every = trail_count(register, TrailWanted())
    found: list[int] = []
    below = None
    while True:
        page = trail_page(register, TrailWanted(), below, most=7)
        found += [each.id for each in page.lines]
        below = page.below
        if below is None:
            break
    assert found == list(range(every, 0, -1))


def test_that_an_entry_tells_who_when_with_what_where_and_why(register: Register, visit_id: int) -> None:
    ahead = Register(register.database, register.published)
    ahead.database.stamp = Stamp("estate-register 9", timezone(timedelta(hours=1)))
    void_visit(ahead, visit_id, reason="the basin next to it", who="C. Third", at=LATE)
    newest = lines(register)[0]
    assert (newest.who, newest.program, newest.action) == ("C. Third", "estate-register 9", "added")
    assert newest.at == LATE
    assert newest.local_at is not None
    assert newest.local_at.date() == date(2026, 11, 26)
    assert newest.why == "the basin next to it"
    assert newest.place == "void of a visit 1: MM/G/G01/WHB1, 25 Nov 2026"
    assert len(newest.digest) == 64
    told = {each.name: (each.before, each.after) for each in newest.changes}
    assert told["reason"] == (None, "the basin next to it")
    assert told["visit number"] == (None, str(visit_id))


def test_that_an_amendment_tells_values_before_and_after(register: Register) -> None:
    with writing(register.database, WHO, "renamed an outlet", NOW) as tx:
        tx.amend(OutletRow, 1, name="Basin by the window")
    amended = lines(register)[0]
    assert amended.action == "amended"
    assert amended.place == "outlet 1: MM/G/G01/WHB1"
    (change,) = amended.changes
    assert (change.name, change.after) == ("name", "Basin by the window")
    assert change.before not in (None, change.after)


def test_that_rows_added_together_are_told_as_a_range_and_found_by_each_of_them(register: Register) -> None:
    several = [each for each in lines(register) if each.action == "added many" and each.row_id is None]
    ranges = [each for each in several if " to " in each.place]
    assert ranges
    assert all(each.changes[0].name == "rows" for each in several)
    about = lines(register, about=("visit", 1))
    assert {"visit", "judgement"} <= {each.noun for each in about}


def test_that_what_happened_to_a_visit_holds_its_correction_its_void_and_nothing_else(
    register: Register, visit_id: int
) -> None:
    mended = VisitDraft(1, 1, VisitKind.IN_SERVICE, TODAY, Readings(hot_c=61.0, left_c=41.0), "A. Thorne")
    second = correct_visit(register, visit_id, mended, who=WHO, at=NOW, today=TODAY).visit.id
    void_visit(register, second, reason="not there at all", who=WHO, at=NOW)
    about = lines(register, about=("visit", visit_id))
    own = [each.row_id for each in about if each.noun == "visit"]
    assert own == [second, visit_id]
    assert [each.why for each in about if each.noun == "visit_void"] == ["not there at all"]
    others = {each.row_id for each in lines(register, about=("visit", 1)) if each.noun == "visit"}
    assert others.isdisjoint(own)


def test_that_what_happened_to_an_outlet_holds_its_valve_and_visits(register: Register) -> None:
    nouns = {each.noun for each in lines(register, about=("outlet", 1))}
    assert {"outlet", "position", "fitting", "valve", "visit", "judgement"} <= nouns
    with register.database.reading() as session:
        own = next(each.reference for each in outlets(session) if each.id == 1)
    places = {each.place for each in lines(register, about=("outlet", 1)) if each.noun == "visit"}
    assert places
    assert all(own in each for each in places if ":" in each)


def test_that_any_other_row_is_found_by_its_number(register: Register) -> None:
    (entry,) = lines(register, about=("batch", 1))
    assert (entry.noun, entry.row_id) == ("batch", 1)
    assert entry.place == "batch 1: assets.csv"


def test_that_only_what_a_person_wrote_is_shown(register: Register, visit_id: int) -> None:
    assert trail_people(register) == (WHO, "B. Other")
    found = lines(register, who="B. Other")
    assert found
    assert {each.who for each in found} == {"B. Other"}
    assert trail_count(register, TrailWanted(who="B. Other")) == len(found)


WORDS = {
    "MM/G/G01/WHB1 b. other": "visit",
    "OTHER 60.0": "visit",
    "assets.csv": "batch",
    "mm/g/g01/whb1": "valve",
}


def test_that_every_word_must_stand_in_an_entry_or_in_its_outlet(
    register: Register, visit_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    every = trail_count(register, TrailWanted())
    for text, noun in WORDS.items():
        found = lines(register, text=text)
        assert noun in {each.noun for each in found}
        assert len(found) < every
        assert lines(register, text=f"{text} nowhere") == ()
    assert lines(register, text="%") == ()
    # Words that fit many outlets would find too much: they are looked for in the entries alone.
    assert "valve" in {each.noun for each in lines(register, text="MM/")}
    monkeypatch.setattr("estate.store.trail._MOST_OUTLETS", 1)
    assert "valve" not in {each.noun for each in lines(register, text="MM/")}
    assert "outlet" in {each.noun for each in lines(register, text="MM/")}


def test_that_days_are_those_of_the_writers_clock(register: Register) -> None:
    register.database.stamp = Stamp("estate-register 9", timezone(timedelta(hours=1)))
    make_checkpoint(register, who="Night watch", at=LATE)
    night = date(2026, 11, 26)
    assert {each.who for each in lines(register, first=night)} == {"Night watch"}
    assert {each.who for each in lines(register, first=night, last=night)} == {"Night watch"}
    assert "Night watch" not in {each.who for each in lines(register, last=TODAY)}
    assert lines(register, first=date(2026, 11, 27)) == ()


def test_that_a_rule_of_the_sites_own_is_named_by_its_key(register: Register) -> None:
    key = "mixed.ceiling.basin"
    override(register, "uk-healthcare", key, "estate", 42.5, who=WHO, at=NOW, why="the water safety group")
    rule = next(each for each in lines(register) if each.noun == "rule_override")
    assert rule.place == f"site's own value 1: {key}"
    told = {each.name: each.after for each in rule.changes}
    assert told["number value"] == "42.5"


def entry(**fields: object) -> LedgerEntry:
    """An entry as somebody may have left it."""
    told: dict[str, object] = dict.fromkeys(LedgerEntry.__dataclass_fields__, "")
    told |= {"id": 1, "at": NOW, "noun": "visit", "row_id": 1, "batch_id": None, "action": "added"}
    return LedgerEntry(**(told | fields))  # type: ignore[arg-type]


@pytest.mark.parametrize("after", ["{", "[1]", '"words"'])
def test_that_an_entry_that_tells_nothing_is_shown_all_the_same(after: str) -> None:
    assert trail_rows.told_of(entry(after=after)) == ({}, {})


def test_that_a_day_that_is_none_is_shown_as_it_stands(register: Register) -> None:
    odd = entry(row_id=9999, after='{"visited_on":"some day","adjusted":true,"hot_c":60.0}')
    with register.database.reading() as session:
        assert trail_rows.Places(session, [odd]).words(odd) == "visit 9999: some day"
    before, after = trail_rows.told_of(odd)
    told = {each.name: each.after for each in trail_rows.changes_of(before, after, False)}
    assert told == {"adjusted": "yes", "hot_c": "60.0", "visited_on": "some day"}


def test_that_an_entry_put_in_past_the_program_hides_no_other(register: Register) -> None:
    """Whoever can write past the program could put anything in; verifying says so, browsing goes on."""
    told = {"id": 9999, "at": NOW, "who": "", "what": "", "noun": "visit", "row_id": None}
    with register.database.changing() as session:
        session.execute(
            insert(LedgerEntryRow).values(**told, action="added many", after="{", local_at="yesterday")
        )
    newest = lines(register)[0]
    assert (newest.id, newest.local_at, newest.place) == (9999, None, "visit")
    assert 9999 not in {each.id for each in lines(register, about=("visit", 1))}
