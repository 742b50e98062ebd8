"""A valve's life on the command line: commissioned, tested, serviced, and each time a certificate."""

import json
from pathlib import Path

from pypdf import PdfReader

from tests.journeys.test_command_line import ON, Run, filled, run, with_history

__all__ = ["filled", "run", "with_history"]

OUTLET = "MM/G/G03/WHB1"
PROOF = (
    *("--reading", "hot_c=60,1", "--reading", "cold_c=12,0", "--reading", "cold_isolated.max_c=42.0"),
    *("--reading", "cold_isolated.shut_s=2", "--collected", "cold=20/60", "--reading", "cap_refitted=yes"),
)


def test_that_the_steps_of_a_procedure_are_listed_in_order_with_their_cautions(run: Run) -> None:
    status, out, _ = run("procedure", "commissioning")
    assert status == 0
    assert (
        out.index("--seen right-way-round=")
        < out.index("--reading left_c=")
        < out.index("cold_isolated.max_c=")
    )
    assert "Scald risk" in out
    steps = json.loads(run("procedure", "in-service test", "--json")[1])
    assert next(each["step"] for each in steps if each["if_needed"]) == "strainers-clean"


def test_that_a_valve_is_commissioned_tested_and_serviced(filled: Run, tmp_path: Path) -> None:
    made = json.loads(
        filled(
            *("record", OUTLET, "--kind", "commissioning", "--day", "2026-11-23", *ON, "--json"),
            *("--reading", "left_c=41.0", *PROOF, "--seen", "washers=yes", "--seen", "support=no: loose"),
        )[1]
    )
    assert made["verdict"] == "put right"
    assert made["findings"][0]["code"] == "step-support"
    status, out, _ = filled(
        *(
            "record",
            OUTLET,
            "--kind",
            "service",
            "--day",
            "2026-11-24",
            *ON,
            "--reading",
            "left_c=41.0",
            *PROOF,
        ),
        *(
            "--seen",
            "descaled=yes",
            "--reading",
            "strainers_cleaned=yes",
            "--part",
            "strainer=2",
            "--person",
            "M. Osei",
        ),
    )
    assert status == 0
    assert "Verdict: satisfactory" in out
    assert "Hot water can scald" in out
    status, out, _ = filled("record", OUTLET, *ON, "--reading", "found_c=43.5", *PROOF, "--check-only")
    assert "Nothing was written. Verdict: put right." in out
    history = json.loads(filled("history", OUTLET, *ON, "--json")[1])
    assert [each["kind"] for each in history[:2]] == ["service", "commissioning"]
    assert history[0]["parts"] == [{"part": "strainer", "number": 2.0}]
    assert history[1]["steps"]["support"]["remark"] == "loose"
    paper = tmp_path / "certificate.pdf"
    assert filled("certificate", str(history[1]["visit"]), "--to", str(paper), *ON)[0] == 0
    assert "Valve or pipes are loose" in " ".join(page.extract_text() for page in PdfReader(paper).pages)


def test_that_a_typed_visit_is_corrected_by_a_further_entry(filled: Run) -> None:
    first = json.loads(filled("record", OUTLET, *ON, "--reading", "found_c=14", *PROOF, "--json")[1])["visit"]
    words = ("--reading", "found_c=41", "--corrects", str(first))
    second = json.loads(filled("record", OUTLET, *ON, *words, *PROOF, "--json")[1])["visit"]
    history = {each["visit"]: each for each in json.loads(filled("history", OUTLET, *ON, "--json")[1])}
    assert history[first]["standing"] == "corrected by a later entry"
    assert history[second]["corrects"] == first


def test_that_a_reading_that_can_not_be_read_writes_nothing(filled: Run) -> None:
    status, _, err = filled("record", OUTLET, *ON, "--reading", "hot=60")
    assert status == 3
    assert "hot_c" in err
