from datetime import UTC, datetime, timedelta

import pytest

from estate.domain.rules.loading import parse
from estate.domain.rules.overlay import check_override, check_rules, lay_over
from estate.domain.rules.values import Override, RuleSet
from estate.errors import RuleFault
from tests.domain.rules.rule_text import CEILING, PIPE, WHOLE

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
PLACES = ("estate", "building:3", "outlet:12")
KEY = "mixed.ceiling.basin"


def made(
    value: float | str | None, place: str, hours: int = 0, key: str = KEY, of: str = "trial"
) -> Override:
    """An override, so many hours after noon."""
    at = NOON + timedelta(hours=hours)
    return Override(of, key, place, value, "A. Warden", at, "water safety group")


@pytest.fixture
def published() -> RuleSet:
    return parse(WHOLE + PIPE, "trial.toml")


def test_that_without_overrides_the_published_values_apply(published: RuleSet) -> None:
    assert lay_over(published, (), PLACES) == published


def test_that_an_override_replaces_the_value_and_keeps_the_published_source(published: RuleSet) -> None:
    override = made(42, "estate")
    value = lay_over(published, [override], PLACES).values[KEY]
    assert value.value == 42
    assert value.override == override
    assert value.source == published.values[KEY].source
    assert (
        value.shown_source
        == "site's own value, A. Warden, 2026-11-25: water safety group (published: D08-32)"
    )


def test_that_the_published_rule_set_itself_is_left_as_it_was(published: RuleSet) -> None:
    lay_over(published, [made(42, "estate")], PLACES)
    assert published.number(KEY) == 43


def test_that_the_narrowest_place_wins_whatever_was_made_last(published: RuleSet) -> None:
    overrides = [made(40, "outlet:12"), made(41, "building:3", 1), made(42, "estate", 2)]
    assert lay_over(published, overrides, PLACES).number(KEY) == 40
    assert lay_over(published, overrides, PLACES[:2]).number(KEY) == 41
    assert lay_over(published, overrides, PLACES[:1]).number(KEY) == 42


@pytest.mark.parametrize("order", [1, -1])
def test_that_at_one_place_the_latest_wins(published: RuleSet, order: int) -> None:
    overrides = [made(40, "estate"), made(42, "estate", 1)][::order]
    assert lay_over(published, overrides, PLACES).number(KEY) == 42


def test_that_of_two_made_at_the_same_moment_the_later_entry_wins(published: RuleSet) -> None:
    assert lay_over(published, [made(40, "estate"), made(42, "estate")], PLACES).number(KEY) == 42


def test_that_a_withdrawn_override_gives_way_to_the_wider_place(published: RuleSet) -> None:
    overrides = [made(42, "estate"), made(40, "outlet:12", 1), made(None, "outlet:12", 2)]
    assert lay_over(published, overrides, PLACES).number(KEY) == 42


def test_that_withdrawing_at_every_place_brings_the_published_value_back(published: RuleSet) -> None:
    overrides = [made(42, "estate"), made(None, "estate", 1)]
    assert lay_over(published, overrides, PLACES) == published


def test_that_a_withdrawn_override_can_be_made_again(published: RuleSet) -> None:
    overrides = [made(42, "estate"), made(None, "estate", 1), made(41, "estate", 2)]
    assert lay_over(published, overrides, PLACES).number(KEY) == 41


def test_that_withdrawing_what_was_never_made_changes_nothing(published: RuleSet) -> None:
    overrides = [made(None, "estate", key="mixed.ceiling.bath")]
    assert lay_over(published, overrides, PLACES) == published


def test_that_other_places_and_other_rule_sets_are_left_aside(published: RuleSet) -> None:
    overrides = [made(40, "building:4"), made(40, "outlet:1"), made(40, "estate", of="another")]
    assert lay_over(published, overrides, PLACES) == published


def test_that_a_blank_can_be_filled_by_the_site(published: RuleSet) -> None:
    value = lay_over(published, [made(42, "estate", key="mixed.ceiling.hair-wash")], PLACES).values[
        "mixed.ceiling.hair-wash"
    ]
    assert (value.value, value.unit, value.verified) == (42, "degC", False)
    assert value.effective == NOON.date()
    assert value.fact == "none"
    assert "site's own value, A. Warden" in value.shown_source


@pytest.mark.parametrize(
    ("key", "value", "named"),
    [
        ("mixed.ceiling.sink", 43, "mixed.ceiling.sink: key is"),
        (KEY, 60, "value is 60; expected a number of degC from 20 to 50"),
        (KEY, "43", "value is '43'"),
        ("class.needed.patients", "4", "expected one of the texts"),
        ("strainers.interval", 7.5, "a whole number of month"),
    ],
)
def test_that_an_impossible_override_is_refused_with_key_and_value(
    published: RuleSet, key: str, value: float | str, named: str
) -> None:
    with pytest.raises(RuleFault) as checked:
        check_override(key, value)
    with pytest.raises(RuleFault) as laid:
        lay_over(published, [made(value, "estate", key=key)], PLACES)
    assert named in checked.value.detail
    assert laid.value.detail == checked.value.detail
    assert checked.value.remedy


def test_that_withdrawing_an_unknown_key_is_refused() -> None:
    with pytest.raises(RuleFault, match="one of the keys"):
        check_override("mixed.ceiling.sink", None)


def test_that_a_good_override_comes_back_as_it_is_kept() -> None:
    assert check_override(KEY, 42) == 42.0
    assert isinstance(check_override(KEY, 42), float)
    assert check_override("class.needed.staff", "3") == "3"
    assert check_override(KEY, None) is None


def test_that_values_which_contradict_each_other_are_refused() -> None:
    set_c = CEILING.replace("mixed.ceiling.basin", "mixed.set.basin").replace("value = 43", "value = 41")
    published = parse(WHOLE + set_c, "trial.toml")
    check_rules(lay_over(published, [made(41, "estate")], PLACES))
    with pytest.raises(RuleFault, match=r"mixed\.set\.basin: value is 41\.0; expected at most 40"):
        check_rules(lay_over(published, [made(40, "estate")], PLACES))
