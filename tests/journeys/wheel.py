"""The main job from the built wheel, in a clean environment, away from the checkout.

Run by `python3 dev.py wheel`. The program under test sits in its own environment; this script reads what
it wrote with libraries of the development environment.
"""

import csv
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from zipfile import ZipFile

from openpyxl import load_workbook
from pypdf import PdfReader

PROJECT = Path(__file__).resolve().parents[2]
SHEETS = PROJECT / "tests" / "data" / "sheets"
TRUTH = json.loads((SHEETS / "truth.json").read_text("utf-8"))
TODAY = ("--on", "2026-11-25")
DONE, KNOWN_FAULT, ROWS_QUESTIONED = 0, 3, 4
VISIT_COLUMNS = (
    "ref",
    "date",
    "kind",
    "hot_c",
    "cold_c",
    "found_c",
    "left_c",
    "max_c",
    "residual_ml_min",
    "shut_s",
)
OF_THE_CHECKOUT = ("PYTHONPATH", "VIRTUAL_ENV", "ESTATE_REGISTER")


class Broken(Exception):
    """The journey did not go as it must."""


def must(holds: bool, words: str) -> None:
    """Say what was looked at and stop the journey if it does not hold."""
    if not holds:
        raise Broken(words)
    print(f"  holds: {words}", flush=True)


def call(command: Sequence[str | Path], cwd: Path, status: int = DONE) -> str:
    """Run a program away from the checkout; what it prints."""
    line = [str(part) for part in command]
    apart = {name: value for name, value in os.environ.items() if name not in OF_THE_CHECKOUT}
    done = subprocess.run(line, cwd=cwd, env=apart, capture_output=True, text=True, check=False)
    if done.returncode != status:
        raise Broken(f"{line} ended with {done.returncode}, not {status}\n{done.stdout}\n{done.stderr}")
    return done.stdout


class Installed:
    """The program as a person gets it: from the wheel alone."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._scripts = folder / "environment" / ("Scripts" if os.name == "nt" else "bin")
        wheel = self._built()
        call([sys.executable, "-m", "venv", folder / "environment"], folder)
        pip: list[str | Path] = [
            self._scripts / "python",
            "-m",
            "pip",
            "install",
            "--quiet",
            "--disable-pip-version-check",
        ]
        call([*pip, "-c", PROJECT / "constraints.txt", wheel], folder)

    def _built(self) -> Path:
        build: list[str | Path] = [
            sys.executable,
            "-m",
            "build",
            "--wheel",
            "--no-isolation",
            "--outdir",
            self._folder,
        ]
        call([*build, PROJECT], self._folder)
        (wheel,) = self._folder.glob("*.whl")
        names = ZipFile(wheel).namelist()
        must("estate/_migrations/env.py" in names, "the wheel carries the migrations")
        must(
            any(name.startswith("estate/_resources/rules/") for name in names), "the wheel carries rule sets"
        )
        must(not any("tests/" in name for name in names), "the wheel carries no tests")
        return wheel

    def estate(self, *arguments: str | Path, status: int = DONE) -> str:
        """Run `estate ARGUMENTS`; what it prints."""
        print(f"$ estate {' '.join(str(argument) for argument in arguments)}", flush=True)
        return call([self._scripts / "estate", *arguments], self._folder, status)

    def answer(self, register: str, *arguments: str | Path, status: int = DONE) -> Any:
        """The JSON that a command gives on a register."""
        return json.loads(self.estate("--register", register, *arguments, "--json", status=status))


def open_the_sample(program: Installed) -> None:
    """The sample estate comes out of the wheel and has something to say."""
    program.estate("sample", "sample.db")
    lines = program.answer("sample.db", "due", *TODAY)
    must(len(lines) > 200, f"the sample plans {len(lines)} valves")
    overdue = program.answer("sample.db", "due", "--overdue", *TODAY)
    must(0 < len(overdue) < len(lines), f"{len(overdue)} of them are overdue")
    must(all(line["days_late"] > 0 for line in overdue), "every overdue line is late")


def bring_in(program: Installed, sheet: str, accepted: int, status: int = DONE) -> None:
    """A sheet goes in once, wholly, and a second time adds nothing."""
    first = program.answer("own.db", "bring-in", SHEETS / sheet, *TODAY, status=status)
    must(first["accepted"] == accepted, f"{sheet}: {accepted} rows accepted (got {first['accepted']})")
    again = program.answer("own.db", "bring-in", SHEETS / sheet, *TODAY, status=status)
    must(again["accepted"] == 0, f"{sheet}: nothing added the second time")


def do_the_main_job(program: Installed) -> None:
    """Assets, history and contractors' rounds go in; windows and reasons come out."""
    program.estate("new", "own.db")
    bring_in(program, "assets.xlsx", TRUTH["outlets"])
    bring_in(program, "history.xlsx", TRUTH["history"])
    for sheet, status in (
        ("round-titled.xlsx", DONE),
        ("round-csv.csv", DONE),
        ("round-messy.xlsx", ROWS_QUESTIONED),
    ):
        bring_in(program, sheet, len(TRUTH["rounds"][sheet]["visits"]), status)
    lines = program.answer("own.db", "due", *TODAY)
    must(bool(lines), f"{len(lines)} valves planned")
    must(all(line["reason"]["words"] and line["reason"]["source"] for line in lines), "each window says why")
    program.estate("--register", "own.db", "explain", lines[0]["ref"], *TODAY)
    program.estate("--register", "missing.db", "due", status=KNOWN_FAULT)


def write_the_lists(program: Installed, folder: Path) -> None:
    """The overdue list says the same on paper, in a workbook and on the command line."""
    overdue = program.answer("own.db", "due", "--overdue", *TODAY)
    for name in ("overdue.pdf", "overdue.xlsx"):
        program.estate("--register", "own.db", "report", "overdue", "--to", name, *TODAY)
    paper = "".join(page.extract_text() for page in PdfReader(folder / "overdue.pdf").pages)
    sheets = load_workbook(folder / "overdue.xlsx").worksheets
    cells = {str(cell) for sheet in sheets for row in sheet.iter_rows(values_only=True) for cell in row}
    references = {line["ref"] for line in overdue}
    must(references <= cells, f"the workbook names all {len(references)} overdue outlets")
    must("".join(paper.split()).count("25Nov2026") > 0, "the paper says as at which day")
    must(
        all(reference in "".join(paper.split()) for reference in references),
        "so does the paper name them all",
    )


def take_the_tables(program: Installed, folder: Path) -> None:
    """Every visit that went in comes out again as CSV."""
    program.estate("--register", "own.db", "export", "tables")
    with (folder / "tables" / "visits.csv").open(encoding="utf-8-sig", newline="") as file:
        visits = list(csv.DictReader(file))
    told = sum(len(sheet["visits"]) for sheet in TRUTH["rounds"].values())
    dated = {(visit["ref"], visit["date"]) for sheet in TRUTH["rounds"].values() for visit in sheet["visits"]}
    must({*VISIT_COLUMNS, "verdict"} <= set(visits[0]), f"visits.csv has {', '.join(VISIT_COLUMNS)}")
    must(
        dated <= {(visit["ref"], visit["date"]) for visit in visits},
        f"it holds all {told} visits of the rounds",
    )
    must(all(visit["verdict"] for visit in visits), "each of them has a verdict")


def show_it_without_a_screen(program: Installed, folder: Path) -> None:
    """The demonstration works from the wheel too, picture of the window and all."""
    program.estate("demo", "shown")
    made = {file.suffix for file in (folder / "shown").iterdir() if file.stat().st_size > 1000}
    must({".pdf", ".xlsx", ".png"} <= made, "lists and a picture of the window are written")


def main() -> int:
    """Make the whole journey in a folder that is gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="estate-wheel-", ignore_cleanup_errors=True) as name:
        folder = Path(name).resolve()
        try:
            program = Installed(folder)
            open_the_sample(program)
            do_the_main_job(program)
            write_the_lists(program, folder)
            take_the_tables(program, folder)
            show_it_without_a_screen(program, folder)
        except Broken as fault:
            print(f"The journey from the wheel is broken: {fault}", file=sys.stderr)
            return 1
    print("The journey from the wheel holds.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
