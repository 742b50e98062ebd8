"""From a contractor's sheet to a due date by the command line."""

import csv
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from estate.cli.commands import Doors, main

SHEETS = Path(__file__).parent.parent / "data" / "sheets"
ON = ["--on", "2026-11-25"]
Run = Callable[..., tuple[int, str, str]]


def run_on(register: Path, *words: str) -> int:
    """Run one command on a register; gives the exit status."""
    doors = Doors(
        open_window=lambda register: 0,
        build_sample=lambda dest, progress: None,
        demonstrate=lambda folder: (),
        take_pictures=lambda folder, only: (),
    )
    with pytest.raises(SystemExit) as left:
        main(doors, ["--register", str(register), *words])
    return int(left.value.code or 0)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Run one command on the register of this test; gives exit status, stdout and stderr."""

    def run_one(*words: str) -> tuple[int, str, str]:
        status = run_on(tmp_path / "register.db", *words)
        out, err = capsys.readouterr()
        return status, out, err

    return run_one


@pytest.fixture(scope="session")
def with_history(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register that holds the asset list and the history; each test works on a copy."""
    register = tmp_path_factory.mktemp("register") / "register.db"
    assert run_on(register, "new", str(register), "--name", "Marlpit and Withy End") == 0
    assert run_on(register, "bring-in", str(SHEETS / "assets.xlsx"), *ON) == 0
    assert run_on(register, "bring-in", str(SHEETS / "history.xlsx"), *ON) == 0
    return register


@pytest.fixture
def filled(run: Run, with_history: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """A register of this test's own that holds the asset list and the history."""
    shutil.copy(with_history, tmp_path / "register.db")
    capsys.readouterr()
    return run


@pytest.fixture(scope="session")
def truth() -> Any:
    return json.loads((SHEETS / "truth.json").read_text("utf-8"))


def exported(run: Run, folder: Path) -> list[dict[str, str]]:
    assert run("export", str(folder))[0] == 0
    with (folder / "visits.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def number(text: str) -> float | None:
    return float(text) if text else None


def test_that_assets_and_history_come_in_whole(filled: Run, truth: Any, tmp_path: Path) -> None:
    due = json.loads(filled("due", *ON, "--json")[1])
    visits = exported(filled, tmp_path / "out")
    assert (len(due), len(visits)) == (truth["outlets"], truth["history"])


@pytest.mark.parametrize("name", ["round-titled.xlsx", "round-csv.csv", "round-messy.xlsx"])
def test_that_a_round_comes_in_value_for_value(filled: Run, truth: Any, tmp_path: Path, name: str) -> None:
    expected = truth["rounds"][name]
    before = {tuple(row.values()) for row in exported(filled, tmp_path / "before")}
    status, out, _ = filled("bring-in", str(SHEETS / name), *ON, "--json")
    told = json.loads(out)
    assert status == (4 if expected["problems"] else 0)
    assert told["accepted"] == len(expected["visits"])
    assert [(each["row"], each["code"]) for each in told["questioned"]] == [
        (each["row"], each["why"]) for each in expected["problems"]
    ]
    assert all(
        each["sheet"] and each["cell"] and each["found"] and each["remedy"] for each in told["questioned"]
    )
    new = [row for row in exported(filled, tmp_path / "after") if tuple(row.values()) not in before]
    has_time = name == "round-titled.xlsx"
    got = [
        {
            "ref": row["ref"],
            "date": row["date"],
            "hot": number(row["hot_c"]),
            "cold": number(row["cold_c"]),
            "found": number(row["found_c"]),
            "left": number(row["left_c"]),
            "flow": number(row["residual_ml_min"]),
            "shut": number(row["shut_s"]),
        }
        for row in new
    ]
    wanted = [{**each, "shut": each["shut"] if has_time else None} for each in expected["visits"]]

    def order(each: dict[str, Any]) -> tuple[str, str]:
        return each["ref"], each["date"]

    assert sorted(got, key=order) == sorted(wanted, key=order)


def test_that_a_questioned_row_has_the_reference_that_was_found(filled: Run, truth: Any) -> None:
    told = json.loads(filled("bring-in", str(SHEETS / "round-messy.xlsx"), *ON, "--check-only", "--json")[1])
    by_row = {each["row"]: each["ref"] for each in truth["rounds"]["round-messy.xlsx"]["problems"]}
    for each in told["questioned"]:
        assert each["ref"] == by_row[each["row"]]
    assert told["batch"] is None


@pytest.mark.parametrize("name", ["assets.xlsx", "history.xlsx", "round-messy.xlsx"])
def test_that_the_same_file_twice_adds_nothing(filled: Run, tmp_path: Path, name: str) -> None:
    filled("bring-in", str(SHEETS / name), *ON)
    before = exported(filled, tmp_path / "before")
    told = json.loads(filled("bring-in", str(SHEETS / name), *ON, "--json")[1])
    assert (told["accepted"], told["batch"]) == (0, None)
    assert told["already_there"] + len(told["questioned"]) == told["read"]
    assert exported(filled, tmp_path / "after") == before


def test_that_checking_writes_nothing(filled: Run, tmp_path: Path) -> None:
    before = exported(filled, tmp_path / "before")
    assert filled("bring-in", str(SHEETS / "round-csv.csv"), *ON, "--check-only")[0] == 0
    assert exported(filled, tmp_path / "after") == before


def test_that_the_due_list_has_its_stable_keys(filled: Run) -> None:
    overdue = json.loads(filled("due", *ON, "--overdue", "--json")[1])
    assert overdue
    for line in overdue:
        assert {
            "ref", "valve", "site", "building", "level", "room", "outlet", "not_before", "not_after",
            "days_late", "reason", "last_visit", "verdict",
        } <= line.keys()  # fmt: skip
        assert line["days_late"] > 0
        assert line["not_after"] < "2026-11-25"
        assert {"code", "words", "source"} == line["reason"].keys()


def test_that_due_within_some_weeks_includes_what_is_overdue(filled: Run) -> None:
    filled("bring-in", str(SHEETS / "round-titled.xlsx"), *ON)
    every, soon, late = (
        json.loads(filled("due", *ON, *more, "--json")[1])
        for more in ([], ["--within-weeks", "4"], ["--overdue"])
    )
    assert len(every) > len(soon) > len(late)
    assert {line["ref"] for line in late} <= {line["ref"] for line in soon}
    assert all(line["not_after"] <= "2026-12-23" for line in soon)


def test_that_a_round_moves_the_due_dates(filled: Run, truth: Any) -> None:
    def stage_of(ref: str) -> Any:
        return next(line for line in json.loads(filled("due", *ON, "--json")[1]) if line["ref"] == ref)

    ref = truth["rounds"]["round-titled.xlsx"]["visits"][0]["ref"]
    before = stage_of(ref)
    filled("bring-in", str(SHEETS / "round-titled.xlsx"), *ON)
    after = stage_of(ref)
    assert before["last_visit"] < after["last_visit"] == "2026-10-12"
    assert before["not_after"] <= after["not_after"]


def test_that_an_outlet_is_explained(filled: Run) -> None:
    told = json.loads(filled("explain", "mm g g04 bth2", *ON, "--json")[1])
    dates = [each["not_after"] for each in told["candidates"]]
    assert (told["set_c"], told["ceiling_c"]) == (44.0, 46.0)
    assert told["ceiling_source"].startswith("D08-33")
    assert dates == sorted(dates)
    assert told["binding"] == told["candidates"][0]
    assert any(told["candidates"][1]["reason"]["words"] in each for each in told["would_change"])
    words = filled("explain", "MM/G/G04/BTH2", *ON)[1]
    assert "binds:" in words
    assert "scald" in words


def test_that_a_history_is_listed_newest_first(filled: Run) -> None:
    told = json.loads(filled("history", "MM/G/G01/WHB1", "--json")[1])
    dates = [each["date"] for each in told]
    assert dates == sorted(dates, reverse=True)
    assert told[-1]["kind"] == "commissioning"
    assert told[-1]["source"] == {"file": "history.xlsx", "sheet": "History", "row": 2}
    assert "commissioning" in filled("history", "MM/G/G01/WHB1")[1]


@pytest.mark.parametrize("what", ["overdue", "summary"])
@pytest.mark.parametrize("suffix", [".pdf", ".xlsx"])
def test_that_reports_are_written(filled: Run, tmp_path: Path, what: str, suffix: str) -> None:
    to = tmp_path / f"{what}{suffix}"
    status, out, _ = filled("report", what, "--to", str(to), *ON)
    assert (status, out.strip()) == (0, str(to))
    assert to.stat().st_size > 2000


def test_that_the_overdue_list_on_paper_is_the_one_on_the_screen(filled: Run, tmp_path: Path) -> None:
    filled("report", "overdue", "--to", str(tmp_path / "overdue.pdf"), *ON)
    text = "\n".join(page.extract_text() for page in PdfReader(tmp_path / "overdue.pdf").pages)
    for line in json.loads(filled("due", *ON, "--overdue", "--json")[1]):
        assert line["ref"] in text


def test_that_rules_are_listed_and_overridden(filled: Run) -> None:
    why = "Water safety group, minutes of 3 November"
    assert filled("override", "isolation.residual-flow", "60", "--why", why, "--who", "P. Anning")[0] == 0
    values = json.loads(filled("rules", "--json")[1])["values"]
    (value,) = [each for each in values if each["key"] == "isolation.residual-flow"]
    assert (value["value"], value["overridden"]["who"], value["overridden"]["why"]) == (
        60.0,
        "P. Anning",
        why,
    )
    assert filled("override", "isolation.residual-flow", "published", "--why", why)[0] == 0
    assert "120" in next(
        line for line in filled("rules")[1].splitlines() if line.startswith("isolation.residual-flow")
    )


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["due", "--no-such-option"], 2),
        (["report", "poem", "--to", "x.pdf"], 2),
        (["report", "overdue", "--to", "x.doc"], 3),
        (["explain", "XX/9"], 3),
        (["bring-in", "nowhere.xlsx"], 3),
        (["override", "no.such", "1", "--why", "x"], 3),
    ],
)
def test_that_the_exit_status_tells_usage_from_known_faults(
    filled: Run, words: list[str], status: int
) -> None:
    got, _, err = filled(*words)
    assert got == status
    assert err
    assert "Traceback" not in err


def test_that_a_known_fault_is_told_in_title_detail_and_remedy(run: Run) -> None:
    status, _, err = run("due", *ON)
    assert status == 3
    assert len(err.strip().splitlines()) == 3


def test_that_a_register_already_there_is_not_made_again(filled: Run, tmp_path: Path) -> None:
    assert filled("new", str(tmp_path / "register.db"))[0] == 3


def test_that_no_register_named_is_a_usage_fault(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    doors = Doors(
        lambda register: 7, lambda dest, progress: None, lambda folder: ("done",), lambda folder, names: ()
    )
    for words, status in ((["due"], 2), (["window"], 7), (["demo", "x"], 0), (["sample", "x"], 0)):
        with pytest.raises(SystemExit) as left:
            main(doors, words)
        assert left.value.code == status
    assert "--register" in capsys.readouterr().err


def test_that_an_instrument_is_kept_with_its_calibrations(filled: Run) -> None:
    first = ["--uncertainty", "0.25", "--calibrated", "2026-03-14", "--due", "2027-03-14"]
    assert filled("instrument", "T-014", *first)[0] == 0
    assert filled("instrument", "t014", "--calibrated", "2025-03-14", "--due", "2026-03-14")[0] == 0
    (kept,) = json.loads(filled("instruments", "--json")[1])
    assert (kept["reference"], kept["standard_uncertainty_k"], len(kept["calibrations"])) == (
        "T-014",
        0.25,
        2,
    )
    assert "calibration due 14 Mar 2027" in filled("instruments")[1]
    assert filled("instrument", "T-9", "--calibrated", "2026-01-01")[0] == 2


def test_that_a_round_measured_with_a_known_instrument_is_judged_with_its_uncertainty(filled: Run) -> None:
    filled(
        "instrument", "T-014", "--uncertainty", "0.25", "--calibrated", "2026-03-14", "--due", "2027-03-14"
    )
    filled("bring-in", str(SHEETS / "round-titled.xlsx"), *ON)
    told = json.loads(filled("explain", "MD/G/G09/WHB1", *ON, "--json")[1])
    words = " ".join(each["words"] for each in told["judgement"]["findings"])
    assert "measurement uncertainty" in words


def test_that_an_outlet_moves_where_an_asset_list_has_it_and_comes_back(run: Run, tmp_path: Path) -> None:
    small = SHEETS.parent / "small" / "assets.csv"
    moved, answers = tmp_path / "moved.csv", tmp_path / "answers.json"
    moved.write_text(small.read_text("utf-8").replace(",G01,Bedroom,", ",G05,Sluice,"), "utf-8")
    answers.write_text(json.dumps({"answers": [{"code": "differs-from-register", "choice": "sheet"}]}))
    assert run("new", str(tmp_path / "register.db"))[0] == 0
    assert run("bring-in", str(small), *ON)[0] == 0
    status, told, _ = run("bring-in", str(moved), *ON)
    assert (status, "answers: sheet (take the sheet's), register" in told) == (4, True)
    told = run("bring-in", str(moved), *ON, "--answers", str(answers))[1]
    assert "place from 'Main Block · G · G01 Bedroom' to 'Main Block · G · G05 Sluice'" in told
    assert run("bring-in", str(moved), *ON)[0] == 0
    assert run("undo-batch", "2", "--why", "wrong list")[0] == 0
    assert run("bring-in", str(small), *ON)[0] == 0


def test_that_a_replaced_valve_and_a_void_visit_stay_on_record(filled: Run) -> None:
    ref = "MM/G/G01/WHB1"
    told = json.loads(filled("history", ref, "--json")[1])
    assert filled("void", str(told[0]["visit"]), "--reason", "wrong outlet")[0] == 0
    assert filled("replace-valve", ref, "--serial", "N-1", "--class", "3", "--set", "41", *ON)[0] == 0
    after = json.loads(filled("history", ref, "--json")[1])
    assert (after[0]["standing"], after[0]["void_reason"]) == ("void", "wrong outlet")
    assert len(after) == len(told)
    assert json.loads(filled("explain", ref, *ON, "--json")[1])["binding"]["reason"]["code"] == "never-tested"


def test_that_rules_are_chosen_by_place(filled: Run) -> None:
    assert filled("choose-rules", "uk-type2", "--place", "estate")[0] == 0
    assert json.loads(filled("rules", "--json")[1])["id"] == "uk-type2"
    assert filled("choose-rules", "no-such")[0] == 3


def test_that_who_chooses_rules_is_told_how_sure_they_are(filled: Run) -> None:
    told = filled("choose-rules", "us-ny-nursing")[1]
    assert "5 of its values are second-hand and not verified" in told
    assert "authority having jurisdiction" in told
    assert "110.0 °F" in filled("explain", "MM/G/G01/WHB1", *ON, "--unit", "F")[1]
    assert "43.33 °C" in filled("explain", "MM/G/G01/WHB1", *ON)[1]
    celsius, fahrenheit = (filled("history", "MM/G/G01/WHB1", "--unit", unit)[1] for unit in "CF")
    assert "temperatures in °F" in fahrenheit
    assert celsius.splitlines()[1] != fahrenheit.splitlines()[1]
    assert filled("history", "MM/G/G01/WHB1", "--unit", "K")[0] == 2


def test_that_rule_sets_are_listed_with_what_is_sure_and_what_is_blank(run: Run) -> None:
    listed = {each["id"]: each for each in json.loads(run("rule-sets", "--json")[1])}
    assert listed["au-nsw-health"]["seen"] == 1
    assert listed["ie-healthcare"]["second_hand"] == 0
    assert "be filled in by the site" in run("rule-sets")[1]
    told = json.loads(run("rules", "--of", "nz-other", "--json")[1])
    dated = [each for each in told["values"] if each["key"] == "mixed.ceiling.basin"]
    assert [(each["value"], each["until"], each["chosen_by"]) for each in dated] == [
        (55.0, "2024-11-01", "fitting"),
        (50.0, None, "fitting"),
    ]
    assert "mixed.ceiling.hair-wash" in told["blank"]
    assert told["disagreements"][0]["facts"] == ["NZ-01"]
    words = run("rules", "--of", "us-ipc", "--unit", "F")[1]
    assert "Blank, to be filled in by the site, with its source:" in words
    assert "Where sources disagree:" in words
    assert run("rules", "--of", "no-such")[0] == 3


def test_that_the_page_of_rule_sets_is_written(run: Run, tmp_path: Path) -> None:
    assert run("rules-page", str(tmp_path / "rules.md"))[0] == 0
    assert (tmp_path / "rules.md").read_text("utf-8").startswith("# Rule sets")
    assert run("rules-page", str(tmp_path / "nowhere" / "rules.md"))[0] == 3


def test_that_a_policy_is_tried_before_it_is_adopted(filled: Run, tmp_path: Path) -> None:
    before = json.loads(filled("due", *ON, "--json")[1])
    told = json.loads(filled("preview", "policy.risk.patients", "0.001", *ON, "--json")[1])
    assert told["before"]["value"] == 0.05
    assert told["after"]["visits_a_year"] > told["before"]["visits_a_year"]
    assert told["after"]["weeks_above_a_year"] < told["before"]["weeks_above_a_year"]
    assert told["moved"] == len(told["moves"]) or told["moved"] > 20
    assert all(move["days"] < 0 for move in told["moves"])
    assert len(told["before"]["by_month"]) == 12
    assert json.loads(filled("due", *ON, "--json")[1]) == before
    assert "Nothing was written" in filled("preview", "policy.growth", "1.25", *ON)[1]
    assert filled("preview", "policy.risk.patients", "published", *ON)[0] == 0
    assert filled("preview", "policy.risk.patients", "9", *ON)[0] == 3


def test_that_an_adopted_policy_moves_the_dates_that_the_preview_told(filled: Run) -> None:
    told = json.loads(filled("preview", "policy.risk.patients", "0.001", *ON, "--json")[1])
    filled("override", "policy.risk.patients", "0.001", "--why", "water safety group, minutes of May")
    after = {line["ref"]: line["not_after"] for line in json.loads(filled("due", *ON, "--json")[1])}
    assert all(after[move["ref"]] == move["after"] for move in told["moves"])


def test_that_groups_are_fitted_and_listed(filled: Run) -> None:
    groups = json.loads(filled("fit", *ON, "--json")[1])
    assert groups[-1]["name"] == "the whole estate"
    assert groups[-1]["valves"] == 109
    assert groups[-1]["sigma"] > 0
    assert "the whole estate" in filled("fit", *ON)[1]


def test_that_what_was_learned_is_explained(filled: Run) -> None:
    told = json.loads(filled("explain", "MM/G/G04/WHB1", *ON, "--json")[1])
    assert 36 < told["level_c"] < 48
    assert {"name", "mu", "omega", "sigma", "s"} <= told["group"].keys()
    assert list(told["risk"]) == ["4", "8", "13", "26", "52"]
    chances = list(told["risk"].values())
    assert chances == sorted(chances)
    assert told["shut_off"]["rate_per_year"] > 0
    assert "Learned by the group" in filled("explain", "MM/G/G04/WHB1", *ON)[1]


def test_that_the_registers_predictions_are_tested_on_its_own_history(filled: Run) -> None:
    told = json.loads(filled("backtest", *ON, "--json")[1])
    assert told["cases"] == told["valves"] == 109
    assert list(told["coverage"]) == ["50", "80", "95"]
    inside = [each["inside"] for each in told["coverage"].values()]
    assert inside == sorted(inside)
    assert told["coverage"]["95"]["share"] > 0.85
    assert sum(each["cases"] for each in told["reliability"]) == 109
    assert "95 % interval" in filled("backtest", *ON)[1]


def test_that_an_empty_register_has_nothing_to_predict(run: Run, tmp_path: Path) -> None:
    run("new", str(tmp_path / "register.db"))
    told = json.loads(run("backtest", *ON, "--json")[1])
    assert (told["cases"], told["bias_k"], told["coverage"]["50"]["share"]) == (0, None, None)
    assert "nothing to predict" in run("backtest", *ON)[1]


def test_that_policies_are_compared_on_the_same_simulated_estates(run: Run) -> None:
    small = ["--valves", "40", "--years", "2"]
    told = json.loads(run("compare-policies", *small, "--json")[1])
    by_policy = {each["policy"]: each for each in told if each["truth"] == told[0]["truth"]}
    assert by_policy["every 13 weeks"]["visits_a_year"] == pytest.approx(4.0, abs=0.1)
    assert by_policy["every 52 weeks"]["weeks_above"] > by_policy["every 13 weeks"]["weeks_above"]
    assert len({each["truth"] for each in told}) >= 4
    assert "visits a year" in run("compare-policies", *small)[1]
