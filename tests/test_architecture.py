"""Imports run one way only, each library has one home, the habits of the house hold: no exceptions."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests import architecture, habits
from tests.architecture import OTHERS, Sources

PROJECT = Path(__file__).resolve().parent.parent
ESTATE = architecture.sources_in(PROJECT / "estate")
TESTS = architecture.sources_in(PROJECT / "tests")
MIGRATIONS = architecture.sources_in(PROJECT / "migrations")
DEV = {"dev": (PROJECT / "dev.py").read_text("utf-8")}

FLOORS = [
    ["errors"],
    ["assets", "settings", "domain"],
    ["scheduler"],
    ["intake", "store", "reports"],
    ["operations"],
    ["window", "cli", "sample"],
    ["app"],
    ["__main__"],
]
WINDOW_FLOORS = [
    ["translating"],
    [
        "trust",
        "documents",
        "signatures",
        "work",
        "upkeep",
        "choosing",
        "editing",
        "sizes",
        "announcing",
        "spoken",
        "spots",
    ],
    ["roles", "notices", "catalogue", "words", "shades", "desk", "preferences", "standing"],
    ["schemes", "style", "marks", "register_trust", "register_signatures", "register_documents"],
    ["register_work", "register_upkeep", "register_choosing", "register_editing"],
    ["register_desk"],
    ["look", "tasks", "models", "doors"],
    ["widgets"],
    ["commands"],
    ["pages", "dialogs"],
    ["list_opening", "undoing"],
    ["ways_back"],
    ["ways_back_in_work"],
    ["company"],
    ["form_keeping", "backing_up", "paper_doings"],
    ["rule_doings"],
    [
        "doings",
        "sheet_doings",
        "showing",
        "trust_doings",
        "signing_doings",
        "backup_doings",
        "watching",
        "document_doings",
        "past_doings",
        "work_doings",
        "upkeep_doings",
        "choosing_doings",
        "list_doings",
        "editing_doings",
    ],
    ["outlet_doings"],
    [
        "look_flow",
        "list_flow",
        "trust_flow",
        "life_flow",
        "entry_flow",
        "sheet_flow",
        "editing_flow",
        "rule_flow",
    ],
    ["moving"],
    ["today_flow", "outlet_flow", "finding_flow", "windows_flow"],
    ["opening_flow"],
    ["main_window"],
    ["past_window"],
    ["pictures"],
]
STORE_FLOORS = [
    ["columns", "faults", "location", "addresses", "row_policies", "parting"],
    ["bulk", "standing", "canonical", "misfits", "keys"],
    ["schema", "covering", "key_files"],
    ["visit_schema", "batch_schema", "trust_schema", "document_schema", "life_schema", "chain"],
    ["records", "batch_records", "database", "ledger", "backup", "raw_rows"],
    ["visit_records", "beginning", "listening", "trail_rows"],
    ["transaction", "replay"],
    ["statements", "documents", "visit_steps"],
    [OTHERS],
    ["upgrade", "overtaken", "signature_misfits", "new_places", "edits", "outlet_changes"],
    ["restoring"],
]

WORKSHOPS = [f"estate.{room}{inside}" for room in ("store", "intake", "reports") for inside in ("", ".*")]
PAGES = ["estate.window.pages", "estate.window.pages.*"]

HOMES = {
    "sqlalchemy": ["estate.store.*"],
    "alembic": ["estate.store.*"],
    "psycopg": ["estate.store.*"],
    "openpyxl": ["estate.intake.workbook", "estate.reports.xlsx*"],
    "python_calamine": ["estate.intake.workbook"],
    "reportlab": ["estate.reports.pdf*"],
    "dateutil": ["estate.scheduler.*"],
    "typing_extensions": ["estate.window.*", "estate.app*"],
    "numpy": ["estate.scheduler.*"],
    "scipy": ["estate.scheduler.*", "estate.intake.likeness"],
    "rapidfuzz": ["estate.intake.likeness"],
    "PySide6": ["estate.window.*", "estate.app*"],
    "typer": ["estate.cli*"],
    "platformdirs": ["estate.settings"],
    "cryptography": ["estate.store.keys"],
    "pypdfium2": ["estate.window.models.paper"],
}
CLOCKLESS = ["domain", "scheduler", "intake", "reports", "operations", "sample", "window"]


def _of(*rooms: str) -> dict[str, str]:
    return {module: text for module, text in ESTATE.items() if architecture.room(module, "estate") in rooms}


def test_that_the_whole_house_is_read() -> None:
    rooms = {architecture.room(module, "estate") for module in ESTATE}
    assert rooms == {"__init__", *(name for floor in FLOORS for name in floor)}
    assert len(architecture.arrows(ESTATE)) > len(ESTATE)
    assert any(name.startswith("migrations.versions.0001") for name in MIGRATIONS)
    assert {"tests.conftest", "tests.test_architecture"} <= set(TESTS)


def test_that_imports_point_strictly_down() -> None:
    assert architecture.without_a_floor(ESTATE, "estate", FLOORS) == []
    assert architecture.pointing_up(ESTATE, "estate", FLOORS) == []


def test_that_inside_the_window_imports_point_strictly_down() -> None:
    assert architecture.without_a_floor(ESTATE, "estate.window", WINDOW_FLOORS) == []
    assert architecture.pointing_up(ESTATE, "estate.window", WINDOW_FLOORS) == []


def test_that_inside_the_store_imports_point_strictly_down() -> None:
    assert architecture.pointing_up(ESTATE, "estate.store", STORE_FLOORS) == []


def test_that_no_modules_import_each_other_in_a_circle() -> None:
    assert architecture.in_circles(ESTATE) == []


@pytest.mark.parametrize("way_in", ["window", "cli", "sample"])
def test_that_the_ways_in_never_see_store_intake_or_reports(way_in: str) -> None:
    assert architecture.seeing(ESTATE, f"estate.{way_in}*", WORKSHOPS) == []


def test_that_pages_do_not_import_pages() -> None:
    assert architecture.seeing(ESTATE, "estate.window.pages.*", PAGES) == []


def test_that_each_library_has_one_home() -> None:
    assert architecture.away_from_home(ESTATE, HOMES) == []


def test_that_the_domain_is_standard_library_only() -> None:
    assert architecture.away_from_home(_of("domain", "errors", "assets"), {}) == []
    assert (
        architecture.seeing(ESTATE, "estate.domain.*", ["sqlite3", "time", "threading", "subprocess"]) == []
    )


def test_that_nothing_that_judges_plans_or_shows_reads_the_clock() -> None:
    assert architecture.reading_the_clock(_of(*CLOCKLESS)) == []


def test_that_no_import_is_hidden() -> None:
    assert architecture.hiding_imports(ESTATE) == []


def test_that_migrations_never_import_the_program() -> None:
    homes = {"alembic": ["migrations.*"], "sqlalchemy": ["migrations.*"]}
    assert architecture.seeing(MIGRATIONS, "migrations.*", ["estate", "estate.*"]) == []
    assert architecture.away_from_home(MIGRATIONS, homes) == []


def test_that_the_set_up_needs_nothing_but_python() -> None:
    assert architecture.seeing(DEV, "dev", ["estate", "estate.*"]) == []
    assert architecture.away_from_home(DEV, {}) == []


def test_that_every_module_is_named_for_what_it_holds() -> None:
    assert habits.named_for_nothing(ESTATE | TESTS) == []


def test_that_nothing_swallows_a_defect() -> None:
    assert habits.swallowing_defects(ESTATE | TESTS | MIGRATIONS | DEV) == []


def test_that_nothing_is_left_unfinished() -> None:
    assert habits.left_unfinished(ESTATE | TESTS | MIGRATIONS | DEV) == []


def test_that_no_test_can_let_itself_off() -> None:
    assert habits.skipping(TESTS) == []


def test_that_every_test_is_a_sentence() -> None:
    assert habits.not_a_sentence(TESTS) == []


@pytest.mark.parametrize("sources", [ESTATE, TESTS], ids=["estate", "tests"])
def test_that_nine_in_ten_files_and_functions_are_short(sources: Sources) -> None:
    assert habits.share_of_short_files(sources, below=300) >= 0.9
    assert habits.share_of_short_functions(sources, below=25) >= 0.9


def _rule_floors(sources: Sources) -> list[str]:
    return architecture.pointing_up(sources, "estate", FLOORS)


def _rule_store(sources: Sources) -> list[str]:
    return architecture.pointing_up(sources, "estate.store", STORE_FLOORS)


def _rule_window(sources: Sources) -> list[str]:
    return architecture.pointing_up(sources, "estate.window", WINDOW_FLOORS)


def _rule_placed(sources: Sources) -> list[str]:
    return architecture.without_a_floor(sources, "estate", FLOORS)


def _rule_seeing(sources: Sources) -> list[str]:
    return architecture.seeing(sources, "estate.window*", WORKSHOPS)


def _rule_homes(sources: Sources) -> list[str]:
    return architecture.away_from_home(sources, HOMES)


PLACES, DUE, APP = "estate.domain.places", "estate.domain.due", "estate.app"
BAD_MODULES: list[tuple[Callable[[Sources], list[str]], str, str]] = [
    (_rule_floors, PLACES, "from estate.store.valves import valves"),
    (_rule_floors, PLACES, "from estate.scheduler import stages"),
    (_rule_floors, PLACES, "from ..operations import browse"),
    (_rule_floors, PLACES, "def late():\n    import estate.operations.browse"),
    (_rule_floors, "estate.intake.reading", "from estate.store.database import Database"),
    (_rule_floors, "estate.reports.pdf", "import estate.intake.reading as reading"),
    (_rule_floors, "estate.cli", "from estate.window import tasks"),
    (_rule_floors, "estate.errors", "from estate.domain.places import Outlet"),
    (_rule_floors, "estate.__init__", "from estate.errors import KnownFault"),
    (_rule_store, "estate.store.valves", "from estate.store.upgrade import create"),
    (_rule_store, "estate.store.database", "from estate.store.valves import valves"),
    (_rule_window, "estate.window.models.due", "from estate.window.pages.due import DuePage"),
    (_rule_window, "estate.window.pages.due", "from estate.window.dialogs.record import Record"),
    (_rule_placed, "estate.attic.trunk", ""),
    (_rule_seeing, "estate.window.tasks", "from estate.store.database import Database"),
    (_rule_homes, "estate.operations.browse", "from sqlalchemy.orm import Session"),
    (_rule_homes, "estate.reports.content", "import openpyxl"),
    (_rule_homes, "estate.cli", "import requests"),
    (architecture.in_circles, PLACES, "from estate.domain import places_two"),
    (architecture.hiding_imports, PLACES, "from typing import TYPE_CHECKING"),
    (architecture.hiding_imports, PLACES, "import typing\nif typing.TYPE_CHECKING:\n    import x"),
    (architecture.hiding_imports, PLACES, "import importlib\nimportlib.import_module('x')"),
    (architecture.hiding_imports, PLACES, "__import__('x')"),
    (architecture.reading_the_clock, DUE, "from datetime import date\nn = date.today()"),
    (architecture.reading_the_clock, DUE, "import datetime as dt\nn = dt.datetime.now(dt.UTC)"),
    (architecture.reading_the_clock, DUE, "from datetime import date\nclock = date.today"),
    (architecture.reading_the_clock, DUE, "from time import monotonic"),
    (architecture.reading_the_clock, DUE, "from PySide6.QtCore import QDate\nn = QDate.currentDate()"),
    (habits.named_for_nothing, "estate.store.helpers", ""),
    (habits.swallowing_defects, APP, "try:\n    x = 1\nexcept Exception:\n    pass"),
    (habits.swallowing_defects, APP, "try:\n    x = 1\nexcept:\n    x = 2"),
    (habits.swallowing_defects, APP, "try:\n    x = 1\nexcept (OSError, BaseException):\n    x = 2"),
    (habits.swallowing_defects, APP, "try:\n    x = 1\nexcept Exception as e:\n    raise Known() from e"),
    (habits.left_unfinished, APP, "# " + "TO" + "DO later"),
    (habits.skipping, "tests.x", "import pytest\n@pytest.mark.skip\ndef test_that_x(): ..."),
    (habits.skipping, "tests.x", "import pytest\npytest.importorskip('x')"),
    (habits.not_a_sentence, "tests.x", "def test_x(): ..."),
]


@pytest.mark.parametrize(("rule", "module", "text"), BAD_MODULES)
def test_that_each_rule_finds_a_bad_module(
    rule: Callable[[Sources], list[str]], module: str, text: str
) -> None:
    house = {PLACES: "", "estate.domain.places_two": "import estate.domain.places"}
    assert rule(house) == []
    assert len(rule({**house, module: text})) == 1


def test_that_a_good_module_is_left_alone() -> None:
    house = {
        PLACES: "from datetime import date\nfrom estate.errors import EntryFault\nDAY = date(2026, 11, 25)"
    }
    assert _rule_floors(house) + _rule_homes(house) + architecture.reading_the_clock(house) == []


def test_that_long_files_and_functions_are_counted() -> None:
    long = "def short() -> None: ...\n\n\ndef long() -> None:\n" + "    x = 1\n" * 30
    assert habits.share_of_short_functions({"m": long}, below=25) == 0.5
    assert habits.share_of_short_files({"m": long, "n": ""}, below=30) == 0.5
