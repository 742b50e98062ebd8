from datetime import UTC, date, datetime

from estate.domain.findings import Judgement, Outcome, Severity
from estate.domain.judging.instrument import OUT_OF_DATE
from estate.domain.judging.judge import judge
from estate.domain.judging.justifying import Justification, justified
from estate.domain.judging.person import COMPETENCE
from estate.domain.life.people import Competence, Person
from tests.builders import case, check, instrument

YEAR = Competence("testing of valves", date(2026, 1, 1), date(2026, 12, 31), "C-1")
ENDED = Competence("testing of valves", date(2024, 1, 1), date(2025, 12, 31))
LATER = Competence("testing of valves", date(2027, 1, 1))


def judged(*competences: Competence) -> Judgement:
    return judge(case(person=Person(1, "A. Thorne", competences=competences)))


def test_that_nothing_is_judged_of_a_person_whom_nobody_knows() -> None:
    assert COMPETENCE not in {each.code for each in judge(case()).checks}


def test_that_a_competence_in_force_is_met() -> None:
    found = check(judged(ENDED, YEAR), COMPETENCE)
    assert (found.outcome, found.words) == (Outcome.MET, "A. Thorne: testing of valves until 31 Dec 2026")
    assert "not verified" in found.source
    lasting = Competence("testing of valves", date(2026, 1, 1))
    assert check(judged(lasting), COMPETENCE).words == "A. Thorne: testing of valves"


def test_that_an_expired_competence_is_a_note_and_no_more() -> None:
    judgement = judged(ENDED)
    found = check(judgement, COMPETENCE)
    assert (found.outcome, found.severity) == (Outcome.NOT_MET, Severity.NOTE)
    assert found.words == "A. Thorne: competence ended on 31 Dec 2025"
    assert judgement.verdict.satisfactory
    assert check(judged(LATER), COMPETENCE).words == "A. Thorne: competence begins later"


def test_that_a_known_person_without_any_competence_is_not_tested() -> None:
    assert check(judged(), COMPETENCE).outcome is Outcome.NOT_TESTED


def test_that_the_longest_competence_counts() -> None:
    person = Person(1, "A. Thorne", competences=(ENDED, YEAR))
    assert person.competence_on(date(2026, 5, 1)) == YEAR
    assert person.lasts_until == date(2026, 12, 31)
    assert Person(1, "A. Thorne", competences=(YEAR, LATER)).lasts_until is None
    assert Person(1, "A. Thorne").lasts_until is None


def test_that_a_justified_instrument_is_a_note_with_the_reason() -> None:
    old = judge(case(instrument=instrument(calibrations=())))
    assert not old.verdict.satisfactory
    said = Justification("B. Other", datetime(2026, 11, 25, 9, 30, tzinfo=UTC), "compared the same day")
    found = check(justified(old, said), OUT_OF_DATE)
    assert (found.severity, found.action, found.retest_weeks) == (Severity.NOTE, "", None)
    assert found.words.endswith("Counts all the same, said B. Other on 25 Nov 2026: compared the same day")
    assert justified(old, said).verdict.satisfactory
    good = judge(case())
    assert justified(good, said) == good
