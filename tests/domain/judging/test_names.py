from dataclasses import replace

from estate.domain.judging.judge import judge
from estate.domain.judging.names import CHECK_NAMES
from estate.domain.life.people import Person
from estate.domain.places import Use
from estate.domain.procedures import asked_steps
from estate.domain.steps import Seen, Steps
from estate.domain.visits import Readings, VisitKind
from tests.builders import GOOD, case, draft, instrument


def test_that_every_check_has_a_name() -> None:
    earlier = draft(readings=GOOD)
    cases = (
        case(draft(found_c=44.0, left_c=44.0), use=Use.BATH, previous=earlier),
        case(draft(readings=Readings()), previous=earlier, previous_instrument=instrument(id=2)),
        case(person=Person(1, "A. Thorne")),
        *(case(replace(draft(), kind=kind, steps=_all_seen(kind))) for kind in VisitKind),
    )
    codes = {check.code for each in cases for check in judge(each).checks}
    assert codes == set(CHECK_NAMES) - {"reading-unlikely"}


def _all_seen(kind: VisitKind) -> Steps:
    return Steps(tuple(Seen(step.key, True) for step in asked_steps(kind)))


def test_that_no_check_is_made_twice() -> None:
    checks = [each.code for each in judge(replace(case(), previous=draft())).checks]
    assert len(checks) == len(set(checks))
