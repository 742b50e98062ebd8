"""From a hot basin to an outlet back in use by the command line."""

import json
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.test_command_line import run_on

SMALL = Path(__file__).parent.parent / "data" / "small"
OLD = Path(__file__).parent.parent / "data" / "registers" / "0004.sql"
ON = ["--on", "2026-11-25"]
BATH, SHOWER = "MM/1/101/BTH1", "MM/G/G02/SHR1"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small register; each test works on a copy."""
    register = tmp_path_factory.mktemp("small") / "register.db"
    assert run_on(register, "new", str(register), "--name", "Marlpit Cross") == 0
    assert run_on(register, "bring-in", str(SMALL / "assets.csv"), *ON) == 0
    assert run_on(register, "bring-in", str(SMALL / "visits.csv"), *ON) == 0
    return register


class Line:
    """Runs commands on a register of a test's own."""

    def __init__(self, register: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.register = register
        self._capsys = capsys

    def __call__(self, *words: str, leaves: int = 0) -> str:
        self._capsys.readouterr()
        status = run_on(self.register, *words)
        out, err = self._capsys.readouterr()
        assert (status, out + err) == (leaves, out + err)
        return out + err

    def json(self, *words: str) -> Any:
        return json.loads(self(*words, "--json"))


@pytest.fixture
def line(small: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Line:
    shutil.copy(small, tmp_path / "register.db")
    return Line(tmp_path / "register.db", capsys)


def test_that_a_fault_goes_the_whole_way_by_the_command_line(line: Line) -> None:
    (found,) = line.json("actions", *ON)
    assert (found["ref"], found["state"], found["severity"]) == (BATH, "open", "take out of use")
    number = str(found["action"])
    assert "1 actions, 1 past their target date" in line("actions", "--past-target", *ON)
    assert "it is out of use" not in line("outlet", BATH, *ON).casefold()
    out = line("outlet", BATH, "out-of-use", "--why", "too hot", "--told", "the ward sister", "--sign", *ON)
    assert "It is out of use since 25 Nov 2026." in out
    assert "It can't be put back in use: A finding that asks for it to be out of use stands" in out
    line("action", number, "assign", "--owner", "E. Fitter", *ON)
    line("action", number, "target", "--target", "2026-12-01", "--why", "parts ordered", *ON)
    assert "Test again" in line("action", number, "put-right", "--why", "thermostat replaced", *ON)
    assert "asks for a retest" in line("action", number, "close", *ON, leaves=3)
    assert "Test again first" in line("outlet", BATH, "back-in-use", "--why", "mended", *ON, leaves=3)
    retest = line.register.with_name("retest.csv")
    head = (SMALL / "visits.csv").read_text("utf-8").splitlines()[0]
    retest.write_text(f"{head}\n{BATH},2026-11-24,Service,59.8,12.9,,44.0,0\n", encoding="utf-8")
    line("bring-in", str(retest), *ON)
    assert "The retest passed" in line("action", number, *ON)
    assert "Flush the outlet before it is used" in line("outlet", BATH, "back-in-use", "--why", "mended", *ON)
    closed = json.loads(line("action", number, "close", "--json", *ON))
    assert (closed["state"], closed["outlet_use"], closed["owner"]) == ("closed", "in use", "E. Fitter")
    assert [each["step"] for each in closed["history"]] == [
        *("made safe", "assigned", "new target date", "put right", "retest passed", "closed")
    ]
    assert line.json("actions", *ON) == []
    assert line.json("outlet", BATH, *ON)["may"] == ["taken out of use", "retired"]
    passed = line.json("history", BATH, *ON)[0]["visit"]
    line("void", str(passed), "--reason", "it was the bath next to it")
    (again,) = line.json("actions", *ON)
    assert (again["action"], again["state"]) == (int(number), "open")


def test_that_actions_are_opened_by_hand_and_listed_by_owner(line: Line) -> None:
    out = line("open-action", SHOWER, "--what", "Clear the access.", "--owner", "E. Fitter", *ON)
    assert "also serves MM/G/G02/SHR2" in out
    line("open-action", SHOWER, "--what", "Look again.", "--severity", "note", "--target", "2026-12-01", *ON)
    assert [each["ref"] for each in line.json("actions", "--owner", "e. fitter", *ON)] == [SHOWER]
    assert len(line.json("actions", "--outlet", SHOWER, *ON)) == 2
    assert "Nobody was named" in line("action", "2", "assign", *ON, leaves=3)
    line("action", "2", "cancel", "--why", "done already", *ON)
    assert len(line.json("actions", *ON)) == 2
    assert len(line.json("actions", "--all", *ON)) == 3
    assert str(line.register.with_name("a.pdf")) in line(
        "report", "actions", "--to", str(line.register.with_name("a.pdf")), *ON
    )


def test_that_people_and_their_competence_are_kept(line: Line) -> None:
    held = ["--competent-in", "testing of valves", "--certificate", "C-1"]
    line(
        "person",
        "A. Thorne",
        "--position",
        "engineer",
        *held,
        "--from",
        "2026-01-01",
        "--until",
        "2026-12-31",
    )
    line("person", "A. Thorne", *held, "--from", "2027-01-01")
    line("person", "A. Thorne", "--left", "2028-01-01", "--position", "chief engineer")
    line("person", "B. Other")
    found = line.json("people", *ON)
    assert [(each["name"], each["competent"]) for each in found["known"]] == [
        ("A. Thorne", True),
        ("B. Other", False),
    ]
    first = found["known"][0]["competences"][0]["id"]
    line("withdraw-competence", str(first), "--why", "another person's")
    words = line("people", *ON)
    assert "chief engineer       no competence in force, left 1 Jan 2028" in words
    assert "no competence on record" in words
    line("person", "C. Third", "--from", "2026-01-01", leaves=2)


def test_that_upkeep_reviews_and_surveys_are_kept_and_taken_back(line: Line) -> None:
    assert "never on record" in line("care", "--due", *ON)
    line("cared", SHOWER, "MM/G/G02/SHR2", "--kind", "shower-head", "--seconds", "300", *ON)
    assert line.json("care", "--due", *ON) == []
    assert {each["last"] for each in line.json("care", *ON)} == {"2026-11-25"}
    line("review", BATH, "--not-needed", "--why", "staff only", "--person", "the water safety group", *ON)
    assert "Not needed, said the water safety group: staff only" in line("reviews", *ON)
    line("survey", BATH, "--hot-static", "3.1", "--cold-static", "3.0", "--hot", "60", *ON)
    kept = line.json("upkeep", BATH)
    assert {each["what"] for each in kept} == {"survey", "review"}
    for what in ("review", "survey"):
        line("take-back", what, "1", "--why", "another outlet")
    line("take-back", "care", "1", "--why", "another outlet")
    line("take-back", "nothing", "1", "--why", "x", leaves=2)
    assert line("upkeep", BATH).count("taken back: another outlet") == 2
    assert "Nothing on record." in line("upkeep", "MM/G/G01/WHB1")


def test_that_a_register_from_before_there_were_actions_opens_them_when_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(sqlite3.connect(tmp_path / "old.db")) as connection:
        connection.executescript(OLD.read_text("utf-8"))
    line = Line(tmp_path / "old.db", capsys)
    assert line.json("actions", *ON) == []
    assert "1 actions opened." in line("find-actions")
    assert "0 actions opened." in line("find-actions")
    (found,) = line.json("actions", *ON)
    assert (found["ref"], found["codes"], len(found["visits"])) == ("MX-G-02-B1", ["shut-off-residual"], 1)
    said = line("verify", leaves=4)
    assert said.count("signature") > 0
    assert "action" not in said  # the kept file's signature is made up of noughts; all else fits


def test_that_a_visit_in_doubt_is_justified_by_the_command_line(line: Line) -> None:
    line("instrument", "T-9", "--calibrated", "2024-01-01", "--due", "2024-12-31")
    readings = {
        **{"hot_c": 60.0, "cold_c": 13.1, "found_c": 41.1, "left_c": 41.1},
        "cold_isolated.residual_ml_min": 0,
    }
    told = [word for name, value in readings.items() for word in ("--reading", f"{name}={value}")]
    line("record", SHOWER, *told, "--instrument", "T-9", "--day", "2026-11-24", *ON)
    (found,) = line.json("actions", "--outlet", SHOWER, *ON)
    assert found["codes"] == ["instrument-out-of-calibration"]
    number = str(found["visits"][0])
    assert "counts" in line("justify", number, "--why", "compared the same day")
    assert line.json("actions", "--outlet", SHOWER, *ON) == []
    assert "in doubt again" in line("justify", number, "--why", "the other one too", "--take-back")
    assert len(line.json("actions", "--outlet", SHOWER, *ON)) == 1
