from dataclasses import replace

import pytest

from estate.domain.findings import Finding, Judgement, Outcome, Severity, Verdict
from estate.store import judgements, visits
from estate.store.transaction import Transaction
from tests.store.builders import JUDGED, add_basin, draft


@pytest.fixture
def entries(tx: Transaction) -> list[int]:
    basin = add_basin(tx)
    return [each.id for each in visits.add_visits(tx, [draft(basin)] * 3, None)]


def test_that_failed_checks_and_required_ones_come_back_whole(tx: Transaction, entries: list[int]) -> None:
    judgements.add_judgement(tx, entries[0], JUDGED)
    found = judgements.judgement(tx.session, entries[0])
    assert found is not None
    assert found.findings == JUDGED.findings
    assert [each for each in found.not_tested if each.required] == [
        each for each in JUDGED.not_tested if each.required
    ]
    assert (found.rule_set, found.rule_set_edition) == (JUDGED.rule_set, JUDGED.rule_set_edition)


def test_that_met_checks_come_back_by_their_codes(tx: Transaction, entries: list[int]) -> None:
    judgements.add_judgement(tx, entries[0], JUDGED)
    found = judgements.judgement(tx.session, entries[0])
    assert found is not None
    assert [each.code for each in found.checks if each.outcome is Outcome.MET] == ["left-above-ceiling"]


def test_that_values_merely_not_measured_come_back_by_their_names(
    tx: Transaction, entries: list[int]
) -> None:
    missing = Finding("cap", Outcome.NOT_TESTED, "Cap refitted: not recorded.")
    judgements.add_judgement(tx, entries[0], Judgement("r", "1", (MET, missing)))
    found = judgements.judgement(tx.session, entries[0])
    assert found is not None
    (kept,) = found.not_tested
    assert (kept.code, kept.words) == ("cap", "Cap refitted over the adjuster (TP-06): not tested.")


MET = Finding("a", Outcome.MET, "met")


@pytest.mark.parametrize(
    "checks",
    [
        (),
        (MET,),
        (Finding("b", Outcome.NOT_TESTED, "not measured"),),
        (MET, Finding("b", Outcome.NOT_TESTED, "not measured")),
        (MET, Finding("b", Outcome.NOT_TESTED, "not measured", required=True)),
        *((MET, Finding("b", Outcome.NOT_MET, "no", severity)) for severity in Severity),
    ],
)
def test_that_the_verdict_kept_is_the_verdict_of_what_comes_back(
    tx: Transaction, entries: list[int], checks: tuple[Finding, ...]
) -> None:
    judged = Judgement("uk-healthcare", "1", checks)
    judgements.add_judgement(tx, entries[0], judged)
    found = judgements.judgement(tx.session, entries[0])
    assert found is not None
    assert found.verdict is judged.verdict
    assert judgements.verdicts(tx.session) == {entries[0]: judged.verdict}


def test_that_a_visit_that_was_not_judged_has_no_judgement(tx: Transaction, entries: list[int]) -> None:
    judgements.add_judgement(tx, entries[0], JUDGED)
    assert judgements.judgement(tx.session, entries[1]) is None
    assert judgements.verdicts(tx.session).keys() == {entries[0]}


def test_that_the_latest_judgement_counts_and_the_first_stays(tx: Transaction, entries: list[int]) -> None:
    better = replace(JUDGED, rule_set_edition="2", checks=(MET,))
    judgements.add_judgements(tx, [(entries[0], JUDGED), (entries[1], JUDGED)])
    judgements.add_judgement(tx, entries[0], better)
    assert judgements.verdicts(tx.session) == {
        entries[0]: Verdict.SATISFACTORY,
        entries[1]: Verdict.PUT_RIGHT,
    }
    found = judgements.judgements(tx.session, entries)
    assert {visit: each.rule_set_edition for visit, each in found.items()} == {
        entries[0]: "2",
        entries[1]: "1",
    }
    kept = tx.session.connection().exec_driver_sql("SELECT count(*) FROM judgement").scalar_one()
    assert kept == 3


def test_that_each_judgement_keeps_its_own_checks(tx: Transaction, entries: list[int]) -> None:
    pairs = [
        (visit, Judgement("r", "1", (Finding(f"code-{visit}", Outcome.NOT_MET, "no", Severity.NOTE),)))
        for visit in entries
    ]
    judgements.add_judgements(tx, pairs)
    assert judgements.judgements(tx.session, entries) == dict(pairs)
    assert judgements.judgements(tx.session, []) == {}


def test_that_judged_visits_are_announced(tx: Transaction, entries: list[int]) -> None:
    judgements.add_judgement(tx, entries[2], JUDGED)
    assert entries[2] in tx.changes.visits
