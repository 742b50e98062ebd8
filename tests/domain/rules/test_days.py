from datetime import UTC, date, datetime

import pytest

from estate.domain.rules.days import as_of
from estate.domain.rules.loading import parse
from estate.domain.rules.overlay import lay_over
from estate.domain.rules.values import Override, RuleSet
from estate.errors import RuleFault
from tests.domain.rules.rule_text import PIPE, dated

KEY = "mixed.ceiling.basin"
CHANGE = date(2026, 1, 1)


def rules(*, by: str = "visit", until: str = "") -> RuleSet:
    """A basin ceiling of 44 °C, then 42 °C from the first day of 2026."""
    text = dated((44.0, "2012-07-01"), (42.0, "2026-01-01"))
    text = text.replace('note = ""', f'chosen_by = "{by}"\nnote = ""')
    if until:
        text = text.replace("effective = 2012-07-01", f"effective = 2012-07-01\nuntil = {until}")
    return parse(text + PIPE, "trial.toml")


@pytest.mark.parametrize(
    ("on", "limit_c"),
    [
        (date(2012, 6, 30), None),
        (date(2012, 7, 1), 44),
        (date(2025, 12, 31), 44),
        (CHANGE, 42),
        (date(2030, 1, 1), 42),
    ],
)
def test_that_a_visit_is_judged_by_the_rule_of_its_day(on: date, limit_c: float | None) -> None:
    assert as_of(rules(), on).number(KEY) == limit_c


def test_that_the_shown_source_says_which_value_applied() -> None:
    before, after = (as_of(rules(), on).values[KEY].shown_source for on in (date(2025, 12, 31), CHANGE))
    assert "by the day of the visit, before 1 Jan 2026" in before
    assert "by the day of the visit, from 1 Jan 2026" in after


@pytest.mark.parametrize(
    ("until", "on", "limit_c"),
    [
        ("2025-11-30", date(2025, 11, 30), 44),
        ("2025-11-30", date(2025, 12, 1), None),
        ("2026-03-01", date(2026, 2, 1), 42),
    ],
)
def test_that_a_value_ends_with_its_last_day_and_gives_way_to_a_newer_one(
    until: str, on: date, limit_c: float | None
) -> None:
    assert as_of(rules(until=until), on).number(KEY) == limit_c


def test_that_an_earlier_value_still_allowed_is_named() -> None:
    trial = rules(until="2026-03-01")
    assert "44 °C could still be used until 1 Mar 2026" in as_of(trial, CHANGE).values[KEY].shown_source
    assert "could still be used" not in as_of(trial, date(2026, 3, 2)).values[KEY].shown_source


def test_that_a_last_day_of_the_only_value_leaves_a_blank() -> None:
    text = dated((44.0, "2012-07-01")).replace(
        "effective = 2012-07-01", "effective = 2012-07-01\nuntil = 2020-01-01"
    )
    trial = parse(text, "trial.toml")
    assert trial.get(KEY) is None
    found = as_of(trial, date(2020, 1, 1)).values[KEY]
    assert (found.number, found.chosen) == (44, "")


@pytest.mark.parametrize(
    ("fitted", "limit_c", "said"),
    [
        (date(2000, 1, 1), 44, "nothing is known for earlier ones, so taken for them"),
        (date(2025, 12, 31), 44, "by the day of fitting, before 1 Jan 2026"),
        (CHANGE, 42, "by the day of fitting, from 1 Jan 2026"),
        (None, 42, "the strictest, because the day of fitting is not known"),
    ],
)
def test_that_new_work_is_judged_by_the_day_of_fitting(
    fitted: date | None, limit_c: float, said: str
) -> None:
    value = as_of(rules(by="fitting"), date(2026, 11, 25), fitted).values[KEY]
    assert value.number == limit_c
    assert said in value.shown_source


def test_that_without_a_day_the_newest_value_is_listed() -> None:
    assert rules().number(KEY) == rules(by="fitting").number(KEY) == 42


def test_that_the_sites_own_value_holds_whatever_the_day() -> None:
    own = Override("trial", KEY, "estate", 41.0, "A. Warden", datetime(2026, 11, 25, tzinfo=UTC), "decided")
    laid = lay_over(rules(by="fitting"), [own], ["estate"])
    for on in (date(2010, 1, 1), CHANGE):
        assert as_of(laid, on, on).number(KEY) == 41


def test_that_days_between_the_same_changes_give_the_same_rules() -> None:
    trial = rules()
    assert as_of(trial, date(2025, 1, 1)) is as_of(trial, date(2025, 12, 31))
    assert as_of(trial, CHANGE) is as_of(trial, date(2027, 1, 1))
    assert as_of(trial, date(2025, 1, 1)) is not as_of(trial, CHANGE)


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('chosen_by = "fitting"', 'chosen_by = "moon"', "chosen_by is 'moon'"),
        ("effective = 2026-01-01", 'effective = 2026-01-01\nuntil = "soon"', "until is 'soon'"),
    ],
)
def test_that_a_wrong_way_of_choosing_is_refused(old: str, new: str, named: str) -> None:
    text = dated((44.0, "2012-07-01"), (42.0, "2026-01-01")).replace(
        'note = ""', 'chosen_by = "fitting"\nnote = ""'
    )
    with pytest.raises(RuleFault) as fault:
        parse(text.replace(old, new), "trial.toml")
    assert named in fault.value.detail


def test_that_one_key_is_chosen_in_one_way() -> None:
    text = dated((44.0, "2012-07-01"), (42.0, "2026-01-01"))
    with pytest.raises(RuleFault, match="the same for every dated value"):
        parse(text.replace('note = ""', 'chosen_by = "fitting"\nnote = ""', 1), "trial.toml")


def test_that_only_highest_mixed_temperatures_go_by_the_day_of_fitting() -> None:
    with pytest.raises(RuleFault, match="all but the highest mixed temperatures"):
        parse(dated((44.0, "2012-07-01")) + PIPE.replace("note", 'chosen_by = "fitting"\nnote'), "trial.toml")
