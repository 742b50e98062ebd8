import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from random import Random

import pytest

from estate.cli.shapes import explain_shape
from estate.domain.learned import Learned
from estate.operations import browse, set_rules
from estate.operations.fit_groups import fit_groups
from estate.operations.learn import learned_lines
from estate.operations.plan_retests import due_lines
from estate.operations.query_reading import UNLIKELY, unlikely_reading
from estate.operations.record_visit import judge_draft, record_visit, void_visit
from estate.operations.register import Register
from estate.store import fits
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO, bring

HEAD = (
    "Asset ref,Site,Building,Level,Room no,Room,Outlet,Use,Used by,Make,Model,Serial no,Class,Set °C,Fitted"
)
TESTED = (
    "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,"
    "Residual flow ml/min,Strainers cleaned"
)
BEGAN = date(2024, 1, 8)
VALVES, DRIFTING = 30, 7


@pytest.fixture
def learned(empty: Register, tmp_path: Path) -> Register:
    """Thirty valves of one model, six tests each; the eighth drifts by 0.06 K a week, untouched."""
    random = Random(4)
    assets, tests = [HEAD], [TESTED]
    for number in range(VALVES):
        ref = f"MM/G/G{number:02d}/WHB1"
        assets.append(
            f"{ref},Marlpit Cross,Main Block,G,G{number:02d},Bedroom,Basin 1,Wash-hand basin,Patients,"
            f"Make A,A15,A15-{number},TMV3,41,{BEGAN}"
        )
        slope = 0.03 if number == DRIFTING else random.gauss(0.0, 0.005)
        tests.append(f"{ref},{BEGAN},Commissioning,60,13,,41.0,0,Y")
        for week in (7, 13, 26, 39, 52):
            found = 41.0 + slope * week + random.gauss(0.0, 0.15)
            tests.append(
                f"{ref},{BEGAN + timedelta(weeks=week)},In-service,60,13,{found:.1f},{found:.1f},0,Y"
            )
    bring(empty, tmp_path, "\n".join(assets), "assets.csv")
    bring(empty, tmp_path, "\n".join(tests), "tests.csv")
    return empty


def known(register: Register, number: int) -> Learned:
    outlet = browse.find_outlet(register, f"MM/G/G{number:02d}/WHB1")
    found = browse.outlet_page(register, outlet.id, TODAY).learned
    assert found is not None
    return found


def test_that_bringing_in_tests_fits_the_groups(learned: Register) -> None:
    with learned.database.reading() as session:
        kept = fits.fits_as_of(session, TODAY)
    assert list(kept)[-1] == "the whole estate"
    assert kept["the whole estate"].valves == VALVES
    assert {each.fitted_on for each in kept.values()} == {TODAY}


def test_that_a_drifting_valve_is_found_and_its_date_comes_sooner(learned: Register) -> None:
    drifting, steady = known(learned, DRIFTING), known(learned, 1)
    assert drifting.drift is not None
    assert steady.drift is not None
    assert drifting.drift.drift_k_per_week > 2 * drifting.drift.drift_sd
    assert dict(drifting.drift.risk)[26] > 5 * dict(steady.drift.risk)[26]
    lines = {line.ref: line.window for line in due_lines(learned, TODAY)}
    assert lines["MM/G/G07/WHB1"].reason.code.startswith("drift")
    assert lines["MM/G/G07/WHB1"].not_after < lines["MM/G/G01/WHB1"].not_after


def test_that_every_valve_is_listed_with_what_was_learned(learned: Register) -> None:
    lines = learned_lines(learned, TODAY)
    assert len(lines) == VALVES
    assert lines[DRIFTING].learned == known(learned, DRIFTING)
    assert lines[0].ceiling_c == 43.0
    worst = max(lines, key=lambda line: line.learned.drift.drift_k_per_week if line.learned.drift else 0.0)
    assert worst.ref == "MM/G/G07/WHB1"


def test_that_a_past_day_is_explained_by_the_parameters_of_that_day(learned: Register) -> None:
    before = known(learned, DRIFTING)
    _, changes = fit_groups(learned, TODAY + timedelta(days=30), who=WHO, at=NOW)
    assert changes.everything
    assert known(learned, DRIFTING) == before


def test_that_before_the_first_fit_nothing_is_learned_and_dates_still_come(learned: Register) -> None:
    day = TODAY - timedelta(days=1)
    assert learned_lines(learned, day) == ()
    assert {line.window.reason.code for line in due_lines(learned, day)} == {"shown-interval"}


def test_that_an_empty_register_has_nothing_to_fit(empty: Register) -> None:
    found, changes = fit_groups(empty, TODAY, who=WHO, at=NOW)
    assert found == ()
    assert not changes.everything


def test_that_what_was_learned_can_be_told_as_json(learned: Register) -> None:
    outlet = browse.find_outlet(learned, "MM/G/G07/WHB1")
    told = json.loads(json.dumps(explain_shape(browse.outlet_page(learned, outlet.id, TODAY))))
    assert told["group"]["name"]
    assert {"mu", "omega", "sigma", "s"} <= told["group"].keys()
    assert set(told["risk"]) == {"4", "8", "13", "26", "52"}
    assert told["drift_k_per_week"] > 0


def test_that_a_reading_unlikely_for_its_valve_is_asked_about(learned: Register) -> None:
    outlet = browse.find_outlet(learned, "MM/G/G01/WHB1")
    page = browse.outlet_page(learned, outlet.id, TODAY)
    assert page.valve is not None
    last = page.history[0].visit.draft
    swapped = replace(last, on=TODAY, readings=replace(last.readings, found_c=14.2, left_c=14.2))
    asked = unlikely_reading(learned, swapped)
    assert asked is not None
    assert asked.low_c < 41.0 < asked.high_c
    assert "14.2" in asked.words
    assert [each.code for each in judge_draft(learned, swapped).findings if each.code == UNLIKELY] == [
        UNLIKELY
    ]
    recorded = record_visit(learned, swapped, who=WHO, at=NOW, today=TODAY)
    set_rules.override(
        learned, "uk-healthcare", "pipe.blended", "estate", 1.0, who=WHO, at=NOW, why="site rule"
    )
    kept = browse.outlet_page(learned, outlet.id, TODAY).judgement
    assert kept is not None
    assert UNLIKELY in {each.code for each in kept.findings}
    void_visit(learned, recorded.visit.id, reason="a digit was swapped", who=WHO, at=NOW)
    usual = replace(swapped, readings=replace(last.readings, found_c=41.2, left_c=41.2))
    assert unlikely_reading(learned, usual) is None
    assert unlikely_reading(learned, replace(swapped, readings=replace(last.readings, found_c=None))) is None
    early = replace(swapped, on=BEGAN + timedelta(days=1))
    assert unlikely_reading(learned, early) is None


def test_that_a_valve_never_read_is_not_said_to_drift(learned: Register, tmp_path: Path) -> None:
    asset = (
        "MM/G/G99/WHB1,Marlpit Cross,Main Block,G,G99,Bedroom,Basin 1,Wash-hand basin,Patients,"
        f"Make A,A15,A15-99,TMV3,41,{BEGAN}"
    )
    bring(learned, tmp_path, f"{HEAD}\n{asset}", "more.csv")
    bring(learned, tmp_path, f"{TESTED}\nMM/G/G99/WHB1,2026-11-01,In-service,60,13,,,0,Y", "flow.csv")
    assert known(learned, 99).drift is None
    assert known(learned, 99).shut_off is not None
