"""The trail and the backups by command: checkpoints, what was changed behind the program, restoring."""

import json
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.journeys.test_command_line import ON, SHEETS, Run, filled, run, with_history  # noqa: F401 - fixtures


def changed_behind(register: Path, sql: str) -> None:
    """Change a register past the program, as someone with the file could."""
    with closing(sqlite3.connect(register)) as connection:
        guards = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        found = connection.execute(guards).fetchall()
        for name, _ in found:
            connection.execute(f"DROP TRIGGER {name}")
        connection.execute(sql)
        for _, made in found:
            connection.execute(made)
        connection.commit()


def test_that_a_reading_changed_past_the_program_is_named(filled: Run, tmp_path: Path) -> None:
    assert filled("verify")[0] == 0
    changed_behind(tmp_path / "register.db", "UPDATE visit SET found_c = 41.0 WHERE id = 17")
    status, out, _ = filled("verify", "--json")
    told = json.loads(out)
    assert (status, told["fits"], told["more"]) == (4, False, 0)
    (misfit,) = told["misfits"]
    assert (misfit["table"], misfit["row"]) == ("visit", 17)
    assert "found_c is 41.0" in misfit["what"]
    assert "visit 17" in filled("verify")[1]


def test_that_a_kept_checkpoint_shows_an_older_register_in_its_place(filled: Run, tmp_path: Path) -> None:
    register, kept = tmp_path / "register.db", tmp_path / "checkpoint.txt"
    before = register.read_bytes()
    filled("bring-in", str(SHEETS / "round-csv.csv"), *ON)
    assert filled("checkpoint", "--to", str(kept), "--who", "E. Marlow")[0] == 0
    assert filled("verify", "--checkpoint", str(kept))[0] == 0
    register.write_bytes(before)
    assert filled("verify")[0] == 0
    status, out, _ = filled("verify", "--checkpoint", str(kept))
    assert status == 4
    assert "the ledger ends with entry" in out


@pytest.mark.parametrize("text", ["", "Digest: 12"])
def test_that_what_is_no_checkpoint_is_told(filled: Run, tmp_path: Path, text: str) -> None:
    (tmp_path / "kept.txt").write_text(text, encoding="utf-8")
    assert filled("verify", "--checkpoint", str(tmp_path / "kept.txt"))[0] == 3
    assert filled("verify", "--checkpoint", str(tmp_path / "nowhere.txt"))[0] == 3
    assert filled("checkpoint", "--to", str(tmp_path / "nowhere" / "kept.txt"))[0] == 3


def test_that_a_checkpoint_is_shown_on_the_screen(filled: Run) -> None:
    assert "Digest: " in filled("checkpoint")[1]


def test_that_a_past_moment_is_shown_as_it_was_known(
    filled: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = filled("due", "--overdue", *ON)[1].splitlines()
    with closing(sqlite3.connect(tmp_path / "register.db")) as connection:
        newest = connection.execute("SELECT at FROM ledger_entry ORDER BY id DESC LIMIT 1").fetchone()[0]
    made = datetime.fromisoformat(newest).replace(tzinfo=UTC).astimezone()
    moment = made.strftime("%Y-%m-%dT%H:%M:%S")
    later = made + timedelta(days=1)
    monkeypatch.setattr("estate.cli.sheets.now", lambda: later.astimezone(UTC))
    filled("bring-in", str(SHEETS / "round-csv.csv"), *ON)
    assert filled("due", "--overdue", *ON)[1].splitlines() != before
    status, out, _ = filled("as-known", moment, *ON)
    assert status == 0
    assert out.startswith("As known at ")
    assert out.splitlines()[1:] == before
    pdf = tmp_path / "then.pdf"
    assert filled("as-known", moment, "--to", str(pdf), *ON)[0] == 0
    assert len(PdfReader(pdf).pages) >= 1
    assert filled("as-known", "2001-01-01", *ON)[0] == 3
    assert filled("as-known", moment, "--report", "weather")[0] == 2


def test_that_a_backup_is_listed_previewed_and_restored(filled: Run, tmp_path: Path) -> None:
    folder = tmp_path / "kept"
    assert filled("backup", "--folder", str(folder))[0] == 0
    (made,) = folder.glob("*.db")
    assert str(made) in filled("backups", "--folder", str(folder))[1]
    whole = filled("due", *ON, "--json")[1]
    filled("bring-in", str(SHEETS / "round-csv.csv"), *ON)
    status, out, _ = filled("restore", str(made))
    assert (status, "would lose" in out, "Nothing was changed" in out) == (0, True, True)
    assert filled("due", *ON, "--json")[1] != whole
    status, out, _ = filled("restore", str(made), "--do-it", "--who", "E. Marlow")
    assert (status, "The file before is kept" in out) == (0, True)
    assert filled("due", *ON, "--json")[1] == whole
    assert filled("verify")[0] == 0
