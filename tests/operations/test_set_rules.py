import pytest

from estate.domain.findings import Verdict
from estate.errors import EntryFault, NotFoundFault, RuleFault
from estate.operations import browse, set_rules
from estate.operations.plan_retests import due_lines
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO


def lay(
    register: Register, key: str, value: float | str | None, place: str = "estate", why: str = "site rule"
) -> None:
    set_rules.override(register, "uk-healthcare", key, place, value, who=WHO, at=NOW, why=why)


def verdict(register: Register) -> Verdict | None:
    return due_lines(register, TODAY)[0].verdict


def test_that_a_sites_own_value_is_laid_over_and_kept_with_who_and_why(register: Register) -> None:
    lay(register, "mixed.ceiling.basin", 41.1)
    value = set_rules.rules_at(register).get("mixed.ceiling.basin")
    assert value is not None
    assert value.override is not None
    assert (value.number, value.override.who, value.override.why, value.override.at) == (
        41.1,
        WHO,
        "site rule",
        NOW,
    )
    assert "site's own value" in value.shown_source
    assert set_rules.overrides(register)[0].key == "mixed.ceiling.basin"


def test_that_last_visits_are_judged_again_under_a_new_value(register: Register) -> None:
    assert verdict(register) is Verdict.SATISFACTORY
    lay(register, "mixed.ceiling.basin", 41.1)
    assert verdict(register) is Verdict.OUT_OF_USE
    lay(register, "mixed.ceiling.basin", None, why="water safety group took it back")
    assert verdict(register) is Verdict.SATISFACTORY
    assert len(set_rules.overrides(register)) == 2


def test_that_a_value_reaches_only_its_place(register: Register) -> None:
    outlet = browse.find_outlet(register, "MM/1/101/BTH1")
    lay(register, "mixed.ceiling.basin", 41.1, f"outlet:{outlet.id}")
    assert verdict(register) is Verdict.SATISFACTORY
    own = set_rules.rules_at(register, f"outlet:{outlet.id}").number("mixed.ceiling.basin")
    assert (own, set_rules.rules_at(register).number("mixed.ceiling.basin")) == (41.1, 43.0)


def test_that_a_building_can_have_a_rule_set_of_its_own(register: Register) -> None:
    main = browse.tree(register, TODAY)[0].children[0]
    set_rules.choose(register, f"building:{main.id}", "uk-type2", who=WHO, at=NOW)
    rules = {line.ref: line.rule_set for line in due_lines(register, TODAY)}
    assert (rules["MM/G/G01/WHB1"], rules["WE/G/G01/WHB1"]) == ("uk-type2", "uk-healthcare")
    assert [each.id for each in browse.identity(register).rule_sets] == ["uk-healthcare", "uk-type2"]
    codes = {each.reason.code for each in due_lines(register, TODAY)[0].window.candidates}
    assert "longest-interval" in codes
    assert not [code for code in codes if code.startswith("stage")]


def test_that_estate_and_outlet_choose_theirs_too(register: Register) -> None:
    outlet = browse.find_outlet(register, "MM/G/G01/WHB1")
    set_rules.choose(register, f"outlet:{outlet.id}", "uk-type2", who=WHO, at=NOW)
    assert due_lines(register, TODAY)[0].rule_set == "uk-type2"
    set_rules.choose(register, "estate", "uk-type2", who=WHO, at=NOW)
    assert {line.rule_set for line in due_lines(register, TODAY)} == {"uk-type2"}


@pytest.mark.parametrize(
    ("key", "value"), [("no.such.key", 1.0), ("mixed.ceiling.basin", 430.0), ("mixed.ceiling.basin", "warm")]
)
def test_that_a_value_that_can_not_stand_is_refused(register: Register, key: str, value: float | str) -> None:
    with pytest.raises(RuleFault):
        lay(register, key, value)
    assert set_rules.overrides(register) == ()


def test_that_a_ceiling_below_its_set_temperature_is_refused(register: Register) -> None:
    with pytest.raises(RuleFault):
        lay(register, "mixed.ceiling.basin", 40.0)
    assert set_rules.overrides(register) == ()


def test_that_who_and_why_are_asked_for(register: Register) -> None:
    with pytest.raises(EntryFault):
        lay(register, "mixed.ceiling.basin", 42.0, why=" ")


def test_that_unknown_rule_sets_and_places_are_refused(register: Register) -> None:
    with pytest.raises(RuleFault):
        set_rules.choose(register, "estate", "no-such", who=WHO, at=NOW)
    with pytest.raises(RuleFault):
        set_rules.override(register, "no-such", "pipe.blended", "estate", 1.0, who=WHO, at=NOW, why="x")
    with pytest.raises(EntryFault):
        set_rules.rules_at(register, "roof")
    with pytest.raises(NotFoundFault):
        set_rules.rules_at(register, "outlet:9999")


def test_that_typed_values_become_numbers() -> None:
    assert set_rules.value_of("pipe.blended", "1,5") == 1.5
    assert set_rules.value_of("class.needed.staff", "3") == "3"
    with pytest.raises(RuleFault):
        set_rules.value_of("pipe.blended", "short")
