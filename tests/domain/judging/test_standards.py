from dataclasses import replace

from estate.domain.findings import Severity
from estate.domain.judging.standards import standards_for
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
