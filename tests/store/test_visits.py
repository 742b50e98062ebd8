from dataclasses import replace
from datetime import date, timedelta

import pytest

from estate.domain.visits import Isolation, Readings, Source, Standing, VisitKind
from estate.errors import EntryFault, NotFoundFault
from estate.store import instruments, visits
from estate.store.transaction import Transaction
from tests.store.builders import DAY, EVERYTHING_MEASURED, NOW, SOURCE, Basin, add_basin, draft


@pytest.fixture
def basin(tx: Transaction) -> Basin:
    return add_basin(tx)


def test_that_a_visit_comes_back_as_it_was_added(tx: Transaction, basin: Basin) -> None:
    probe = instruments.add_instrument(tx, reference="Probe 1")
    made = replace(
        draft(basin, readings=EVERYTHING_MEASURED, source=SOURCE),
        person="B. Tester",
        instrument_id=probe,
        instrument_words="probe one",
        remarks="äöü, ≤ 41 °C",
    )
    added = visits.add_visit(tx, made)
    assert visits.visits(tx.session) == (added,)
    assert visits.visit(tx.session, added.id) == added
    assert (added.recorded_at, added.recorded_by, added.standing) == (NOW, "A. Officer", Standing.RECORDED)


def test_that_what_was_not_measured_stays_not_measured(tx: Transaction, basin: Basin) -> None:
    visits.add_visit(tx, draft(basin, readings=Readings()))
    assert visits.visits(tx.session)[0].readings == Readings()


def test_that_a_zero_is_kept_apart_from_nothing(tx: Transaction, basin: Basin) -> None:
    readings = Readings(flow_l_min=0.0, adjusted=False, cold_isolated=Isolation(residual_ml_min=0.0))
    visits.add_visit(tx, draft(basin, readings=readings))
    found = visits.visits(tx.session)[0].readings
    assert found == readings
    assert found.adjusted is False
    assert found.hot_isolated.said_to_shut is None


@pytest.mark.parametrize("cells", [(), (("Date", "1"),), (("", ""), ("", "é\n"))])
def test_that_cells_of_the_sheet_are_kept_as_they_stood(
    tx: Transaction, basin: Basin, cells: tuple[tuple[str, str], ...]
) -> None:
    source = Source("a.csv", "s", 2, cells)
    added = visits.add_visit(tx, draft(basin, source=source))
    assert visits.visit(tx.session, added.id).draft.source == source


def test_that_sources_are_left_out_when_they_are_not_asked_for(tx: Transaction, basin: Basin) -> None:
    visits.add_visit(tx, draft(basin, source=SOURCE))
    assert visits.visits(tx.session, sources=False)[0].draft == draft(basin)


def test_that_visits_come_by_valve_day_and_entry(tx: Transaction, basin: Basin) -> None:
    other = add_basin(tx, "MX-G-01-B2")
    late, early = DAY, DAY - timedelta(days=90)
    plan = [(other, late), (basin, late), (other, early), (basin, early), (basin, early)]
    ids = [visits.add_visit(tx, draft(each, on)).id for each, on in plan]
    order = [ids[place] for place in (3, 4, 1, 2, 0)]
    assert [each.id for each in visits.visits(tx.session)] == order


def test_that_visits_of_some_valves_are_those_and_no_others(tx: Transaction, basin: Basin) -> None:
    other = add_basin(tx, "MX-G-01-B2")
    visits.add_visits(tx, [draft(other), draft(basin), draft(other)], None)
    assert {each.draft.valve_id for each in visits.visits(tx.session, [basin.valve_id])} == {basin.valve_id}
    assert visits.visits(tx.session, []) == ()
    many = [*range(10_000, 12_000), other.valve_id, basin.valve_id, basin.valve_id]
    assert visits.visits(tx.session, many) == visits.visits(tx.session)


def test_that_a_batch_of_visits_comes_back_in_its_order(tx: Transaction, basin: Basin) -> None:
    drafts = [
        draft(basin, DAY - timedelta(days=day), Readings(found_c=40.0 + day / 8), source=SOURCE)
        for day in range(20)
    ]
    added = visits.add_visits(tx, drafts, None)
    assert [each.draft for each in added] == drafts
    assert visits.visits(tx.session) == tuple(reversed(added))


def test_that_a_batch_and_single_visits_share_one_row_of_numbers(tx: Transaction, basin: Basin) -> None:
    first = visits.add_visit(tx, draft(basin))
    many = visits.add_visits(tx, [draft(basin), draft(basin)], None)
    last = visits.add_visit(tx, draft(basin))
    assert [first.id, *(each.id for each in many), last.id] == [1, 2, 3, 4]


def test_that_an_empty_batch_adds_nothing(tx: Transaction, basin: Basin) -> None:
    before = tx.changes
    assert visits.add_visits(tx, [], None) == ()
    assert tx.changes == before


@pytest.mark.parametrize(
    "readings",
    [
        Readings(found_c=float("nan")),
        Readings(cold_isolated=Isolation(shut_s=float("inf"))),
    ],
)
def test_that_a_measured_value_is_a_figure(tx: Transaction, basin: Basin, readings: Readings) -> None:
    with pytest.raises(EntryFault, match="not a figure"):
        visits.add_visits(tx, [draft(basin), draft(basin, readings=readings)], None)
    assert visits.visits(tx.session) == ()


def test_that_a_corrected_entry_stays_and_no_longer_counts(tx: Transaction, basin: Basin) -> None:
    wrong = visits.add_visit(tx, draft(basin, readings=Readings(found_c=14.2)))
    right = visits.add_visit(tx, draft(basin, readings=Readings(found_c=41.2)), corrects=wrong.id)
    found = {each.id: each for each in visits.visits(tx.session)}
    assert found[wrong.id].standing is Standing.CORRECTED
    assert not found[wrong.id].counts
    assert found[wrong.id].readings == Readings(found_c=14.2)
    assert found[right.id] == right
    assert right.corrects == wrong.id


def test_that_a_correction_announces_both_valves(tx: Transaction, basin: Basin) -> None:
    other = add_basin(tx, "MX-G-01-B2")
    wrong = visits.add_visit(tx, draft(other))
    right = visits.add_visit(tx, draft(basin), corrects=wrong.id)
    assert {wrong.id, right.id} <= tx.changes.visits
    assert {basin.valve_id, other.valve_id} <= tx.changes.valves
    assert {basin.outlet_id, other.outlet_id} <= tx.changes.outlets


def test_that_a_voided_entry_stays_with_its_reason_and_no_longer_counts(
    tx: Transaction, basin: Basin
) -> None:
    entry = visits.add_visit(tx, draft(basin))
    visits.void_visit(tx, entry.id, " wrong outlet ")
    found = visits.visit(tx.session, entry.id)
    assert (found.standing, found.void_reason, found.draft) == (Standing.VOID, "wrong outlet", entry.draft)
    assert not found.counts


def test_that_a_void_correction_lets_the_entry_before_it_count_again(tx: Transaction, basin: Basin) -> None:
    first = visits.add_visit(tx, draft(basin))
    second = visits.add_visit(tx, draft(basin), corrects=first.id)
    visits.void_visit(tx, second.id, "the first was right")
    found = [each.standing for each in visits.visits(tx.session)]
    assert found == [Standing.RECORDED, Standing.VOID]
    third = visits.add_visit(tx, draft(basin), corrects=first.id)
    found = [each.standing for each in visits.visits(tx.session)]
    assert found == [Standing.CORRECTED, Standing.VOID, third.standing]


def test_that_in_a_chain_of_corrections_only_the_last_counts(tx: Transaction, basin: Basin) -> None:
    first = visits.add_visit(tx, draft(basin))
    second = visits.add_visit(tx, draft(basin), corrects=first.id)
    third = visits.add_visit(tx, draft(basin), corrects=second.id)
    assert [each.id for each in visits.visits(tx.session) if each.counts] == [third.id]
    visits.void_visit(tx, third.id, "typed twice")
    assert [each.id for each in visits.visits(tx.session) if each.counts] == [second.id]


def test_that_an_entry_is_corrected_or_voided_once(tx: Transaction, basin: Basin) -> None:
    void = visits.add_visit(tx, draft(basin))
    visits.void_visit(tx, void.id, "wrong outlet")
    corrected = visits.add_visit(tx, draft(basin))
    visits.add_visit(tx, draft(basin), corrects=corrected.id)
    for entry, said in ((void, "void already"), (corrected, "corrected already")):
        with pytest.raises(EntryFault, match=said):
            visits.void_visit(tx, entry.id, "again")
        with pytest.raises(EntryFault, match=said):
            visits.add_visit(tx, draft(basin), corrects=entry.id)
    assert len(visits.visits(tx.session)) == 3


@pytest.mark.parametrize("reason", ["", "  "])
def test_that_voiding_needs_a_reason(tx: Transaction, basin: Basin, reason: str) -> None:
    entry = visits.add_visit(tx, draft(basin))
    with pytest.raises(EntryFault, match="A reason is needed"):
        visits.void_visit(tx, entry.id, reason)
    assert visits.visit(tx.session, entry.id).counts


def test_that_an_unknown_entry_is_not_voided_or_corrected(tx: Transaction, basin: Basin) -> None:
    with pytest.raises(NotFoundFault, match="visit 77"):
        visits.void_visit(tx, 77, "wrong")
    with pytest.raises(NotFoundFault, match="visit 77"):
        visits.add_visit(tx, draft(basin), corrects=77)


@pytest.mark.parametrize("kind", VisitKind)
def test_that_every_kind_of_visit_is_kept(tx: Transaction, basin: Basin, kind: VisitKind) -> None:
    made = replace(draft(basin), kind=kind, on=date(2000, 2, 29))
    assert visits.visit(tx.session, visits.add_visit(tx, made).id).draft == made
