"""The procedures keep their order, name what is missing, and never take silence for yes."""

from dataclasses import fields, replace

import pytest

from estate.domain.findings import Outcome, Severity
from estate.domain.judging.judge import judge
from estate.domain.places import UserGroup
from estate.domain.procedures import (
    CHECKS_BEFORE_SETTING,
    COMMISSIONING,
    IN_SERVICE,
    PROCEDURES,
    SERVICE,
    Step,
    asked_steps,
    not_done,
    wrong,
)
from estate.domain.steps import NOTHING_SEEN, Seen, Steps
from estate.domain.visits import Isolation, Readings, VisitKind
from tests.builders import GOOD, case, check, draft

ALL_WELL = Steps(tuple(Seen(step.key, True) for step in asked_steps(VisitKind.COMMISSIONING)))


def _keys(steps: tuple[Step, ...]) -> list[str]:
    return [step.key for step in steps]


def test_that_a_valve_is_looked_at_then_set_then_proved() -> None:
    keys = _keys(COMMISSIONING)
    order = ["right-way-round", "supply-pressures", "full-travel", "supply-temperatures", "set"]
    order += ["smaller-draw", "cold-isolated", "hot-isolated", "cap"]
    assert [key for key in keys if key in order] == order


def test_that_what_may_have_changed_a_valve_is_looked_at_before_it_is_set_again() -> None:
    keys = _keys(IN_SERVICE)
    checks = ["strainers-clean", "check-valves-good", "isolating-valves-open"]
    assert _keys(CHECKS_BEFORE_SETTING) == checks
    assert keys.index("as-found") < keys.index(checks[0]) < keys.index(checks[2]) < keys.index("set-again")


def test_that_a_serviced_valve_is_set_and_proved_as_a_new_one() -> None:
    new = _keys(COMMISSIONING)
    assert _keys(SERVICE)[-len(new[new.index("full-travel") :]) :] == new[new.index("full-travel") :]


def test_that_every_step_records_something_that_is_kept_and_names_its_source() -> None:
    kept = {each.name for each in fields(Readings)}
    kept |= {
        f"{part}.{each.name}" for part in ("cold_isolated", "hot_isolated") for each in fields(Isolation)
    }
    for steps in PROCEDURES.values():
        assert len({step.key for step in steps}) == len(steps)
        for step in steps:
            assert step.source
            assert bool(step.readings) is not step.asked
            assert set(step.readings) <= kept


def test_that_isolating_and_hot_water_come_with_a_caution() -> None:
    for steps in PROCEDURES.values():
        risky = [step for step in steps if {"hot_c", "cold_isolated.max_c"} & set(step.readings)]
        assert len(risky) == 2
        assert all("Scald" in step.caution for step in risky)


@pytest.mark.parametrize("kind", VisitKind)
def test_that_nothing_said_is_nothing_done(kind: VisitKind) -> None:
    needed = [step for step in PROCEDURES[kind] if not step.if_needed]
    assert list(not_done(kind, Readings(), NOTHING_SEEN)) == needed
    said_nothing = Steps(tuple(Seen(step.key) for step in PROCEDURES[kind]))
    assert list(not_done(kind, Readings(), said_nothing)) == needed


def test_that_a_no_is_an_answer_but_not_a_good_one() -> None:
    steps = Steps((Seen("washers", False, remark="one missing"), Seen("access", True)))
    missing = _keys(tuple(not_done(VisitKind.COMMISSIONING, GOOD, steps)))
    assert "washers" not in missing
    assert "access" not in missing
    assert [(step.key, remark) for step, remark in wrong(VisitKind.COMMISSIONING, steps)] == [
        ("washers", "one missing")
    ]


def test_that_a_step_said_twice_counts_as_said_last() -> None:
    assert Steps((Seen("washers", False), Seen("washers", True))).said("washers") is True
    assert Steps((Seen("cold-collected", number=12.0, unit="ml"),)).number("cold-collected") == 12.0
    assert (NOTHING_SEEN.said("washers"), NOTHING_SEEN.number("washers")) == (None, None)


def test_that_steps_in_order_are_met_and_silence_is_not_judged() -> None:
    made = replace(draft(), kind=VisitKind.COMMISSIONING)
    good = judge(case(replace(made, steps=ALL_WELL)))
    assert check(good, "step-washers").outcome is Outcome.MET
    silent = judge(case(replace(made, steps=Steps((Seen("access", True),)))))
    assert "step-washers" not in {each.code for each in silent.checks}
    assert not any(each.code.startswith("step-") for each in judge(case(made)).checks)


def test_that_what_is_seen_to_be_wrong_must_be_put_right() -> None:
    made = replace(draft(), kind=VisitKind.COMMISSIONING)
    steps = Steps((Seen("washers", False, remark="hot side"), Seen("right-way-round", False)))
    for users, reversed_severity in (
        (UserGroup.PATIENTS, Severity.OUT_OF_USE),
        (UserGroup.STAFF, Severity.PUT_RIGHT),
    ):
        judgement = judge(case(replace(made, steps=steps), users=users))
        washers = check(judgement, "step-washers")
        assert (washers.severity, washers.words) == (Severity.PUT_RIGHT, "Washers are missing. hot side")
        assert "TP-07" in washers.source
        assert check(judgement, "step-right-way-round").severity is reversed_severity


def test_that_a_no_that_is_nothing_to_put_right_is_no_finding() -> None:
    made = replace(draft(), kind=VisitKind.SERVICE, steps=Steps((Seen("descaled", False),)))
    assert "step-descaled" not in {each.code for each in judge(case(made)).checks}
