"""What was done about an outlet is seen in tree, list and page."""

from types import MappingProxyType

from estate.domain.browsing import PlaceNode
from estate.domain.due import DueLine
from estate.domain.findings import Severity
from estate.domain.life.outlet_use import UseStep
from estate.domain.rules.values import RuleSet
from estate.domain.standing import OutletState
from estate.operations import browse
from estate.operations.browse_upkeep import intervals
from estate.operations.open_action import open_action
from estate.operations.plan_retests import due_lines
from estate.operations.register import Register
from estate.operations.use_outlet import use_outlet
from tests.builders import TODAY, healthcare
from tests.operations.conftest import NOW, WHO
from tests.operations.test_actions import mended
from tests.operations.test_browse import leaves, retire

BASIN, SHOWER, OTHER, HOME = "MM/G/G01/WHB1", "MM/G/G02/SHR1", "MM/G/G02/SHR2", "WE/G/G01/WHB1"


def take_out(register: Register, ref: str) -> None:
    outlet_id = browse.find_outlet(register, ref).id
    why, told = "the pipe is cut", "the ward sister"
    use_outlet(register, outlet_id, UseStep.TAKE_OUT, on=TODAY, why=why, who_told=told, who=WHO, at=NOW)


def node(register: Register, ref: str) -> PlaceNode:
    (found,) = [each for each in leaves(browse.tree(register, TODAY)) if each.label.startswith(ref)]
    return found


def line(register: Register, ref: str) -> DueLine:
    (found,) = [each for each in due_lines(register, TODAY) if ref in (each.ref, *each.also_serves)]
    return found


def shown(register: Register, ref: str) -> OutletState:
    return browse.outlet_page(register, browse.find_outlet(register, ref).id, TODAY).state


def test_that_an_outlet_out_of_use_is_seen_in_tree_list_and_page_and_rolls_up(register: Register) -> None:
    before = line(register, HOME).found
    take_out(register, HOME)
    assert node(register, HOME).state is OutletState.TAKEN_OUT
    assert shown(register, HOME) is OutletState.TAKEN_OUT
    found = line(register, HOME)
    assert (found.state, found.found) == (OutletState.TAKEN_OUT, before)
    withy = browse.tree(register, TODAY)[1]
    assert (withy.state, withy.attention) == (OutletState.TAKEN_OUT, 1)


def test_that_a_valve_is_out_of_use_only_when_every_outlet_on_it_is(register: Register) -> None:
    take_out(register, SHOWER)
    assert node(register, SHOWER).state is OutletState.TAKEN_OUT
    assert node(register, OTHER).state is not OutletState.TAKEN_OUT
    assert line(register, SHOWER).state is not OutletState.TAKEN_OUT
    take_out(register, OTHER)
    assert line(register, SHOWER).state is OutletState.TAKEN_OUT


def test_that_an_open_action_is_seen_where_nothing_worse_is(register: Register) -> None:
    mended(register, HOME)
    assert not shown(register, HOME).needs_attention
    outlet_id = browse.find_outlet(register, HOME).id
    open_action(register, outlet_id, words="Fit a panel.", severity=Severity.NOTE, on=TODAY, who=WHO, at=NOW)
    states = {shown(register, HOME), node(register, HOME).state, line(register, HOME).state}
    assert states == {OutletState.ACTION_OPEN}
    assert node(register, HOME).attention == 1


def test_that_a_retired_outlet_stays_retired(register: Register) -> None:
    take_out(register, HOME)
    retire(register, HOME)
    assert (node(register, HOME).state, shown(register, HOME)) == (OutletState.RETIRED,) * 2


def test_that_an_interval_which_the_rules_leave_blank_is_said_to_be_missing() -> None:
    rules = healthcare()
    blank = intervals(RuleSet(rules.id, rules.title, rules.edition, rules.scope, (), MappingProxyType({})))
    assert (blank.flushing_days, blank.shower_months, blank.review_months) == (None, None, None)
    for said in (blank.flushing_source, blank.shower_source, blank.review_source):
        assert said.startswith("no interval is set, so it is due")
    assert intervals(rules).flushing_source.startswith("HSE-08")
