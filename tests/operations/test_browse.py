from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.standing import OutletState
from estate.domain.valves import SchemeClass, Valve
from estate.domain.visits import VisitKind
from estate.errors import EntryFault, NotFoundFault
from estate.operations import browse
from estate.operations.plan_retests import due_lines
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.replace_valve import replace_valve
from estate.store import places
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO, bring
from tests.operations.test_record_visit import typed

REF = "MM/G/G01/WHB1"


def labels(nodes: tuple[PlaceNode, ...]) -> list[str]:
    return [node.label for node in nodes]


def leaves(nodes: tuple[PlaceNode, ...]) -> list[PlaceNode]:
    return [leaf for node in nodes for leaf in (leaves(node.children) if node.children else [node])]


def retire(register: Register, ref: str) -> None:
    outlet = browse.find_outlet(register, ref)
    with writing(register.database, WHO, "retired an outlet", NOW) as tx:
        places.amend_outlet(tx, outlet.id, retired_on=date(2026, 6, 1))


def test_that_the_tree_holds_every_place_in_walking_order(register: Register) -> None:
    sites = browse.tree(register, TODAY)
    assert labels(sites) == ["Marlpit Cross", "Withy End"]
    levels = sites[0].children[0].children
    assert labels(levels) == ["Level G", "Level 1"]
    assert labels(levels[0].children) == ["G01  Bedroom", "G02  Shower room"]
    assert [leaf.kind for leaf in leaves(sites)] == [PlaceKind.OUTLET] * 5


def test_that_counts_and_the_worst_state_roll_up(register: Register) -> None:
    marlpit, withy = browse.tree(register, TODAY)
    assert (marlpit.outlets, withy.outlets) == (4, 1)
    assert marlpit.state is OutletState.OUT_OF_USE
    assert withy.state is OutletState.NEVER_TESTED
    assert marlpit.attention == sum(leaf.attention for leaf in leaves((marlpit,)))


def test_that_both_outlets_of_a_group_valve_share_its_state(register: Register) -> None:
    states = {leaf.label.split()[0]: leaf.state for leaf in leaves(browse.tree(register, TODAY))}
    assert states["MM/G/G02/SHR1"] is states["MM/G/G02/SHR2"]


def test_that_an_outlet_page_tells_limits_with_their_sources(register: Register) -> None:
    page = browse.outlet_page(register, browse.find_outlet(register, REF).id, TODAY)
    assert (page.set_c, page.ceiling_c, page.rule_set) == (41.0, 43.0, "uk-healthcare")
    assert page.ceiling_source.startswith("D08-32")
    assert page.valve is not None
    assert page.valve.words == "Make A A15 A15-1"
    assert page.window is not None


def test_that_an_unknown_outlet_is_named_with_near_ones(register: Register) -> None:
    with pytest.raises(NotFoundFault) as caught:
        browse.find_outlet(register, "MM/G/G01/WHB7")
    assert REF in caught.value.remedy
    with pytest.raises(NotFoundFault):
        browse.find_outlet(register, "///")


def test_that_people_seen_on_visits_are_known(register: Register) -> None:
    record_visit(register, typed(register), who=WHO, at=NOW, today=TODAY)
    assert browse.people(register) == ("A. Thorne",)


def test_that_a_replaced_body_keeps_its_history_and_the_new_one_is_due_at_once(register: Register) -> None:
    outlet = browse.find_outlet(register, REF)
    body = Valve(0, "Make C", "C3", "C3-9", scheme_class=SchemeClass.TYPE_3, set_c=41.0)
    replace_valve(register, outlet.id, body, on=date(2026, 9, 1), who=WHO, at=NOW)
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert [valve.serial for _, valve in page.fittings] == ["C3-9", "A15-1"]
    assert {line.valve.serial for line in page.history} == {"A15-1"}
    line = due_lines(register, TODAY)[0]
    assert (line.window.reason.code, line.window.not_after, line.verdict) == (
        "never-tested",
        date(2026, 9, 1),
        None,
    )


def test_that_a_visit_to_the_old_body_still_finds_it(register: Register, tmp_path: Path) -> None:
    outlet = browse.find_outlet(register, REF)
    body = Valve(0, "Make C", "C3", "C3-9", scheme_class=SchemeClass.TYPE_3, set_c=41.0)
    replace_valve(register, outlet.id, body, on=date(2026, 9, 1), who=WHO, at=NOW)
    head = "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min"
    rows = f"{REF},2026-08-31,In-service,60,13,41,41,0\n{REF},2026-09-01,Commissioning,60,13,,41,0"
    bring(register, tmp_path, f"{head}\n{rows}\n", "round.csv")
    history = browse.outlet_page(register, outlet.id, TODAY).history
    assert [(line.visit.draft.kind, line.valve.serial) for line in history[:2]] == [
        (VisitKind.COMMISSIONING, "C3-9"),
        (VisitKind.IN_SERVICE, "A15-1"),
    ]


def test_that_a_replacement_can_not_come_before_the_last_test(register: Register) -> None:
    outlet = browse.find_outlet(register, REF)
    with pytest.raises(EntryFault):
        replace_valve(
            register, outlet.id, Valve(0, "Make C", "C3", "C3-9"), on=date(2026, 2, 1), who=WHO, at=NOW
        )
    assert len(browse.outlet_page(register, outlet.id, TODAY).fittings) == 1


def test_that_a_retired_outlet_is_shown_and_not_planned(register: Register) -> None:
    retire(register, "WE/G/G01/WHB1")
    page = browse.outlet_page(register, browse.find_outlet(register, "WE/G/G01/WHB1").id, TODAY)
    assert page.state is OutletState.RETIRED
    assert "WE/G/G01/WHB1" not in {line.ref for line in due_lines(register, TODAY)}
    assert leaves(browse.tree(register, TODAY))[-1].state is OutletState.RETIRED


def test_that_results_for_a_retired_outlet_are_questioned(register: Register, tmp_path: Path) -> None:
    retire(register, "WE/G/G01/WHB1")
    head = "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min"
    rows = "WE/G/G01/WHB1,2026-08-31,In-service,60,13,41,41,0"
    assert [each.code for each in bring(register, tmp_path, f"{head}\n{rows}\n").questions] == [
        "retired-outlet"
    ]


def test_that_identity_names_register_and_rules(register: Register) -> None:
    told = browse.identity(register)
    assert (told.name, told.identifier) == ("Marlpit Cross", "mx-1")
    assert [each.id for each in told.rule_sets] == ["uk-healthcare"]


def test_that_due_lines_come_in_walking_order_and_name_the_most_vulnerable_users(register: Register) -> None:
    lines = due_lines(register, TODAY)
    assert [line.ref for line in lines] == [REF, "MM/G/G02/SHR1", "MM/1/101/BTH1", "WE/G/G01/WHB1"]
    assert lines[1].also_serves == ("MM/G/G02/SHR2",)
    assert replace(lines[0], today=lines[0].window.not_after).overdue is False


def test_that_planning_as_at_a_past_day_leaves_out_what_came_later(register: Register) -> None:
    day = date(2026, 2, 10)
    line = due_lines(register, day)[0]
    assert (line.last_visit, line.window.reason.code) == (date(2026, 1, 5), "stage-1")
    page = browse.outlet_page(register, browse.find_outlet(register, "MM/1/101/BTH1").id, day)
    assert page.state is not OutletState.OUT_OF_USE
    assert len(page.history) == 2
