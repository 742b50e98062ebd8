from dataclasses import replace

import pytest

from estate.domain.findings import Severity
from estate.domain.judging import standards as standards_module
from estate.domain.judging.standards import Standards, standards_for
from estate.domain.places import Use, UserGroup
from tests.builders import healthcare, outlet, valve


def test_that_valves_that_serve_alike_are_held_to_the_same() -> None:
    one = standards_for([outlet()], valve(), healthcare())
    other = replace(outlet(), id=2, reference="MM/G/G02/WHB1", pipe_m=2.0)
    assert standards_for([other], replace(valve(), id=2, serial="A15-2"), healthcare()) == one


def test_that_those_who_use_an_outlet_tell_how_much_scalding_matters() -> None:
    staff, patients = (
        standards_for([outlet(Use.BATH, users)], valve(44.0), healthcare())
        for users in (UserGroup.STAFF, UserGroup.PATIENTS)
    )
    assert (staff.scald, patients.scald) == (Severity.PUT_RIGHT, Severity.OUT_OF_USE)
    assert staff.immersion_c is None
    assert patients.immersion_c is not None


def test_that_no_retest_is_asked_for_what_is_only_watched() -> None:
    standards = standards_for([outlet()], valve(), healthcare())
    assert standards.retest_for(Severity.WATCH) is None
    assert standards.retest_for(Severity.OUT_OF_USE) == (0.0, 0.0)
    assert standards.retest_for(Severity.PUT_RIGHT) == standards.retests.put_right


def test_that_a_check_is_made_once_for_all_that_read_alike_under_the_same_standards() -> None:
    standards = standards_for([outlet()], valve(), healthcare())
    asked: list[tuple[str, float | None]] = []

    def check(held: Standards, value: float | None) -> tuple[str, float | None]:
        asked.append((held.rule_set, value))
        return held.rule_set, value

    first = standards.once(check, 41.0)
    assert standards.once(check, 41.0) is first
    assert standards.once(check, None) == (standards.rule_set, None)
    assert replace(standards, rule_set="other").once(check, 41.0) == ("other", 41.0)
    assert asked == [(standards.rule_set, 41.0), (standards.rule_set, None), ("other", 41.0)]


def test_that_noughts_of_different_signs_are_told_in_their_own_words() -> None:
    standards = standards_for([outlet()], valve(), healthcare())
    told = [standards.once(_words, value) for value in (0.0, -0.0, 0.0, 1.0)]
    assert told == ["0.0 °C", "-0.0 °C", "0.0 °C", "1.0 °C"]


def _words(_: Standards, value: float) -> str:
    return f"{value:.1f} °C"


def test_that_what_is_kept_of_checks_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(standards_module, "MOST_KEPT", 2)
    standards = standards_for([outlet()], valve(), healthcare())
    values = [1.0, 2.0, 3.0, 1.0, 2.0, 3.0]
    assert [standards.once(_words, each) for each in values] == [f"{each:.1f} °C" for each in values]
