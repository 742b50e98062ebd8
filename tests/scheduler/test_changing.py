from datetime import date, timedelta

import pytest

from estate.domain.visits import VisitKind
from estate.domain.windows import Candidate, Reason, Window
from estate.scheduler.changing import what_would_change
from estate.scheduler.interval import plan
from estate.scheduler.life import ValveLife
from tests.builders import TODAY, draft, healthcare

BEGAN = date(2024, 1, 8)
REFERENCE = draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)
TESTS = tuple(draft(BEGAN + timedelta(weeks=week), found_c=41.2, left_c=41.2) for week in (7, 13, 26))
LIFE = ValveLife(BEGAN, (REFERENCE, *TESTS))
_WORDS = "At most 12 months after the visit of 5 Dec 2025."


def window(*codes: str) -> Window:
    days = [TODAY + timedelta(days=10 * place) for place in range(len(codes))]
    return Window(
        tuple(Candidate(day, day, Reason(code, _WORDS, "")) for day, code in zip(days, codes, strict=True))
    )


@pytest.mark.parametrize(
    "code",
    [
        "never-tested", "stage-1", "stage-3", "retest-cold-isolated-flow", "strainers", "longest-interval",
        "drift", "drift-put-right", "shut-off", "shown-interval", "no-rule",
    ],
)  # fmt: skip
def test_that_every_reason_says_what_would_change_it(code: str) -> None:
    (act, *_) = what_would_change(window(code), LIFE, healthcare())
    assert act.endswith(".")


def test_that_the_reason_that_would_bind_instead_is_named_with_its_date() -> None:
    told = what_would_change(window("drift", "strainers"), LIFE, healthcare())
    assert f"Without this reason the last day would be 5 Dec 2026, by the next one: {_WORDS}" in told
    assert not any("strainers" in words for words in told)
    assert any("preview" in words for words in told)


def test_that_the_growth_a_policy_would_allow_is_worked_out() -> None:
    told = what_would_change(plan(LIFE, healthcare(), TODAY), LIFE, healthcare())
    grown = TESTS[-1].on + timedelta(days=int(26 * 7 * 1.25))
    assert any(f"{grown.day} " in words and "1.25" in words for words in told)


def test_that_nothing_shown_promises_no_growth() -> None:
    told = what_would_change(window("shown-interval"), ValveLife(BEGAN, (REFERENCE,)), healthcare())
    assert len(told) == 1
