from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.instruments import Calibration
from estate.domain.judging.judge import judge
from estate.domain.places import Use, UserGroup
from estate.domain.valves import SchemeClass
from tests.builders import GOOD, case, check, draft, instrument, outlet, valve

SEEN: tuple[Any, ...] = (False, None)


def test_that_a_long_blended_pipe_is_watched() -> None:
    found = check(judge(case(outlets=(outlet(pipe_m=2.4),))), "pipe-too-long")
    assert (found.severity, found.measured, found.limit) == (Severity.WATCH, 2.4, 2.0)
    assert check(judge(case(outlets=(outlet(pipe_m=None),))), "pipe-too-long").outcome is Outcome.NOT_TESTED


def test_that_the_class_is_held_to_its_users() -> None:
    type_2, type_1 = (valve(scheme_class=each) for each in (SchemeClass.TYPE_2, SchemeClass.TYPE_1))
    assert check(judge(case(valve=type_2)), "class-too-low").severity is Severity.WATCH
    assert check(judge(case(valve=type_1)), "class-too-low").severity is Severity.PUT_RIGHT
    assert check(judge(case(valve=type_2, users=UserGroup.STAFF)), "class-too-low").outcome is Outcome.MET
    dependent = check(judge(case(valve=type_2, users=UserGroup.DEPENDENT)), "class-too-low")
    assert dependent.outcome is Outcome.NOT_MET
    assert check(judge(case(valve=valve(scheme_class=None))), "class-too-low").outcome is Outcome.NOT_TESTED


def test_that_the_designation_has_to_match_the_use() -> None:
    basin_only = valve(designations=("HP-W",))
    found = check(judge(case(use=Use.SHOWER, valve=basin_only)), "designation-unfit")
    assert (found.severity, "shower" in found.words) == (Severity.PUT_RIGHT, True)
    assert check(judge(case(valve=basin_only)), "designation-unfit").outcome is Outcome.MET
    assert check(judge(case(use=Use.OTHER)), "designation-unfit").outcome is Outcome.NOT_TESTED


@pytest.mark.parametrize(
    ("due", "cleaned", "outcome"),
    [
        (date(2026, 11, 24), False, Outcome.NOT_MET),
        (date(2026, 11, 25), False, Outcome.MET),
        (date(2026, 11, 24), True, Outcome.MET),
        (None, False, Outcome.NOT_TESTED),
    ],
)
def test_that_strainers_are_due_by_their_day(due: date | None, cleaned: bool, outcome: Outcome) -> None:
    judgement = judge(case(draft(strainers_cleaned=cleaned), strainers_due=due))
    assert check(judgement, "strainers-overdue").outcome is outcome


def test_that_a_valve_without_strainers_needs_none_cleaned() -> None:
    visit = draft(strainers_cleaned=None)
    judgement = judge(case(visit, valve=valve(strainers=False), strainers_due=None))
    assert check(judgement, "strainers-overdue").outcome is Outcome.MET


@pytest.mark.parametrize(
    ("field", "code"),
    [
        ("check_valves_good", "check-valves"),
        ("isolating_valves_open", "isolating-valves"),
        ("cap_refitted", "cap"),
    ],
)
def test_that_what_was_seen_counts(field: str, code: str) -> None:
    no, unknown = (replace(draft(), readings=replace(GOOD, **dict.fromkeys([field], each))) for each in SEEN)
    assert check(judge(case(no)), code).severity is Severity.PUT_RIGHT
    assert check(judge(case(unknown)), code).outcome is Outcome.NOT_TESTED


def test_that_an_instrument_out_of_calibration_makes_the_test_doubtful() -> None:
    lapsed = instrument(calibrations=(Calibration(date(2025, 1, 1), date(2026, 1, 1)),))
    judgement = judge(case(instrument=lapsed))
    found = check(judgement, "instrument-out-of-calibration")
    assert judgement.verdict is Verdict.PUT_RIGHT
    assert "ran out on 1 Jan 2026" in found.words
    never = judge(case(instrument=instrument(calibrations=())))
    assert "is not on record" in check(never, found.code).words


def test_that_an_unknown_instrument_is_named_as_the_sheet_names_it() -> None:
    visit = replace(draft(), instrument_words="T-999")
    found = check(judge(case(visit, instrument=None)), "instrument-out-of-calibration")
    assert (found.outcome, "T-999" in found.words) == (Outcome.NOT_TESTED, True)


def test_that_an_instrument_of_another_kind_is_noted() -> None:
    other = instrument(id=2, reference="T-2", specification="surface probe")
    judgement = judge(case(previous_instrument=other))
    assert check(judgement, "instrument-of-other-kind").severity is Severity.NOTE
    assert judgement.verdict is Verdict.NOTE
    assert judgement.verdict.satisfactory
