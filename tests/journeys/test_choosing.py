"""Choosing, finding a fault and looking ahead by the command line."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from estate.cli.commands import Doors, main
from estate.domain.steps import Part, Steps
from estate.domain.valves import Valve
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations import browse
from estate.operations.open_register import new_register
from estate.operations.record_visit import record_visit
from estate.operations.replace_valve import replace_valve
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring

ON = ["--on", "2026-11-25"]
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register with four valves, one of them replaced and one serviced."""
    folder = tmp_path_factory.mktemp("choosing")
    register = new_register(folder / "register.db", "Marlpit Cross", at=NOW, who=WHO, identifier="mx-3")
    bring(register, folder, ASSETS, "assets.csv")
    bring(register, folder, VISITS, "visits.csv")
    place = browse.find_outlet(register, "MM/G/G01/WHB1").id
    page = browse.outlet_page(register, place, TODAY)
    assert page.valve is not None
    service = VisitDraft(page.valve.id, place, VisitKind.SERVICE, TODAY, Readings(left_c=41.0))
    service = replace(service, steps=Steps(parts=(Part("strainer", 2.0),)))
    record_visit(register, service, who=WHO, at=NOW, today=TODAY)
    shower = browse.find_outlet(register, "MM/G/G02/SHR1").id
    replace_valve(register, shower, Valve(0, "Make A", "A15", "A15-9"), on=TODAY, who=WHO, at=NOW)
    register.close()
    return folder / "register.db"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Run one command; gives exit status, stdout and stderr."""

    def run_one(*words: str) -> tuple[int, str, str]:
        doors = Doors(
            open_window=lambda register: 0,
            build_sample=lambda dest, progress: None,
            demonstrate=lambda folder: (),
            take_pictures=lambda folder, only: (),
        )
        with pytest.raises(SystemExit) as left:
            main(doors, [*words])
        out, err = capsys.readouterr()
        return int(left.value.code or 0), out, err

    return run_one


def test_that_the_example_of_the_docs_runs_without_a_register(run: Run, checkout: Path) -> None:
    text = (checkout / "docs" / "choosing.md").read_text("utf-8")
    (line,) = [line.split() for line in text.splitlines() if line.startswith("    estate suitability")]
    status, out, _ = run(*line[1:], *ON)
    assert status == 0
    assert "fails         Blended pipe from valve to outlet: 2.6 m; ≤ 2 m; margin -0.6 [TP-03" in out
    assert "to mend: Mount the valve 0.6 m closer" in out
    assert "holds: 13, fails: 2, can't be told: 1." in out
    assert "can't be told Risk assessment recorded" in out
    assert "holds         Type 2 HP-W (below the class its users need)\n" in out
    assert "cold pressure halved      44.8 °C (+3.8 K, above the ceiling)" in out
    assert "it permits nothing" in out
    told = json.loads(run(*line[1:], *ON, "--json")[1])
    assert {each["held"] for each in told["conditions"]} == {"holds", "fails", "can't be told"}
    assert told["mechanical_mixer"]["swings"][0]["mixed_c"] == pytest.approx(44.8, abs=0.05)
    assert told["survey"]["hot"]["flow_bar"] == 3.5


def test_that_an_outlet_is_checked_with_what_is_known_of_it(run: Run, kept: Path) -> None:
    status, out, _ = run("--register", str(kept), "suitability", "mm g g01 whb1", *ON, "--risk-assessed")
    assert status == 0
    assert "from the register: supply temperatures of the visit on 23 Feb 2026" in out
    assert "can't be told Hot static pressure: not known; ≤ 10 bar" in out
    assert "taken as equal" in out
    told = json.loads(run("--register", str(kept), "suitability", "mm g g01 whb1", *ON, "--json")[1])
    assert told["valve"] == "Make A A15 A15-1"
    assert told["class"] == "3"


def test_that_figures_alone_go_by_the_register_s_rules_or_those_named(run: Run, kept: Path) -> None:
    figures = ("--use", "other", "--users", "public")
    there = json.loads(run("--register", str(kept), "suitability", *figures, *ON, "--json")[1])
    assert (there["rule_set"], there["mechanical_mixer"], there["place"]) == ("uk-healthcare", None, None)
    other = run("suitability", *figures, *ON, "--rules", "uk-type2")[1]
    assert "for want of a valve in mind; rules uk-type2" in other
    assert run("suitability", *ON)[0] == 3


def test_that_a_fault_is_weighed_and_the_next_check_named(run: Run, kept: Path) -> None:
    status, out, _ = run("--register", str(kept), "diagnose", "MM/1/101/BTH1", *ON, "--hardness", "280")
    assert status == 0
    assert "Likely causes, in order:\n  1. the cold side is restricted" in out
    assert "for      The water is hard, 280 mg/l CaCO3. [PH-05" in out
    assert "Look into both strainers and clean them. If they are dirty or crusted: the cold side" in out
    assert "(tells the first causes apart)" in out
    assert "The order is not a probability." in out
    told = json.loads(run("--register", str(kept), "diagnose", "MM/1/101/BTH1", *ON, "--json")[1])
    assert told["causes"][0]["code"] == "cold-restricted"
    assert {each["bearing"] for cause in told["causes"] for each in cause["evidence"]} >= {"for", "missing"}


def test_that_nothing_amiss_says_so(run: Run, kept: Path) -> None:
    _, out, _ = run("--register", str(kept), "diagnose", "MM/G/G01/WHB1", "--on", "2026-03-01")
    assert "Nothing found at that visit asks for a diagnosis." in out


def test_that_the_year_ahead_is_told_with_what_is_too_little(run: Run, kept: Path) -> None:
    status, out, _ = run("--register", str(kept), "forecast", *ON, "--used", "seal kit=9")
    assert status == 0
    assert "the whole estate: 4 in place" in out
    assert "too few to tell: drift: at least 20 valves" in out
    assert "seal kit: 9 used in 1.0 years; expected 9.5 (2 to 19)" in out
    assert "strainer: 2 used in 0.9 years; expected" in out
    told = json.loads(run("--register", str(kept), "forecast", *ON, "--json")[1])
    assert told["as_at"] == "2026-11-25"
    assert [each["name"] for each in told["models"]] == ["Make A A15", "Make B B-15", "Make C C3"]
    assert told["models"][0]["replaced"]["count"] == 1


@pytest.mark.parametrize("used", ["seal kit", "=9", "seal kit=-1", "seal kit=many", "seal kit=inf"])
def test_that_a_part_without_a_number_is_wrong_usage(run: Run, kept: Path, used: str) -> None:
    status, _, err = run("--register", str(kept), "forecast", "--used", used)
    assert status == 2
    assert "seal kit=9" in err
