from datetime import date
from pathlib import Path

import pytest

from estate.domain.diagnosis.diagnose import Suspect
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.diagnosis.evidence import Bearing
from estate.errors import NotFoundFault
from estate.operations import browse
from estate.operations.diagnose import diagnose
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, bring

HEAD = (
    "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min,Thermometer"
)
DAY = "2026-06-02"


def diagnosed(register: Register, ref: str, on: date = TODAY, hardness: float | None = None) -> Diagnosed:
    return diagnose(register, browse.find_outlet(register, ref).id, on, hardness)


def suspect(found: Diagnosed, code: str) -> Suspect:
    (one,) = [
        each for each in (*found.diagnosis.suspects, *found.diagnosis.others) if each.cause.code == code
    ]
    return one


def words(found: Diagnosed, code: str, bearing: Bearing) -> str:
    return " ".join(each.words for each in suspect(found, code).evidence if each.bearing is bearing)


def test_that_a_bath_that_rose_and_passes_is_laid_to_its_element(only_read: Register) -> None:
    found = diagnosed(only_read, "MM/1/101/BTH1", hardness=280.0)
    assert found.valve == "Make B B-15 B-3"
    assert found.diagnosis.on == date(2026, 2, 24)
    assert found.diagnosis.symptoms
    assert {"element", "seals"} <= {each.cause.code for each in found.diagnosis.suspects}
    assert "400 ml/min still flowed" in words(found, "element", Bearing.FOR)
    assert "280" in words(found, "scale", Bearing.FOR)
    assert found.outlet.reference == "MM/1/101/BTH1"


def test_that_a_visit_in_order_names_no_cause(only_read: Register) -> None:
    assert diagnosed(only_read, "MM/G/G01/WHB1").diagnosis.suspects == ()
    assert diagnosed(only_read, "MM/G/G02/SHR1").diagnosis.suspects == ()


def test_that_a_valve_without_a_visit_or_a_place_without_a_valve_has_nothing_to_diagnose(
    only_read: Register,
) -> None:
    with pytest.raises(NotFoundFault, match="no visit on record"):
        diagnosed(only_read, "WE/G/G01/WHB1")
    with pytest.raises(NotFoundFault, match="no valve in place"):
        diagnosed(only_read, "MM/G/G01/WHB1", date(2025, 1, 1))


def test_that_valves_of_the_site_off_alike_point_to_the_thermometer(
    register: Register, tmp_path: Path
) -> None:
    """Four of the site are off alike; one fitted anew, one read later and one of another site stand aside."""
    refs = [f"MM/G/G1{place}/WHB1" for place in range(5)]
    assets = [
        f"{ref},Marlpit Cross,Main Block,G,G1{place},Bedroom,Wash-hand basin 1,Wash-hand basin,Patients,"
        f"Make A,A15,A15-9{place},TMV3,15,41,2026-01-05,1.2"
        for place, ref in enumerate(refs)
    ]
    bring(register, tmp_path, "\n".join((ASSETS.partition("\n")[0], *assets)) + "\n", "more.csv")
    rows = [f"{ref},2026-01-05,Commissioning,60.0,13.0,,41.0,0,T-9" for ref in refs[:4]]
    rows += [f"{ref},{DAY},In-service,61.5,14.5,42.5,42.5,0,T-9" for ref in refs[:4]]
    rows += [
        f"{refs[4]},{DAY},Commissioning,60.0,13.0,,41.0,0,T-9",
        f"{refs[3]},2026-09-01,In-service,60.0,13.0,41.0,41.0,0,T-8",
        f"WE/G/G01/WHB1,{DAY},Commissioning,60.0,13.0,,41.0,0,T-9",
    ]
    bring(register, tmp_path, "\n".join((HEAD, *rows)) + "\n", "day.csv")
    found = diagnosed(register, refs[0])
    assert found.diagnosis.suspects[0].cause.code == "instrument"
    assert "3 of 3 other valves" in words(found, "instrument", Bearing.FOR)
    assert "all off by about +1.5 K" in words(found, "instrument", Bearing.FOR)
