"""Documents, and what was known at a past moment, by command."""

import json
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.files import PDF
from tests.journeys.test_command_line import ON, Run, filled, run, with_history  # noqa: F401 - fixtures


def _latest(register: Path) -> tuple[str, str]:
    """The newest moment of the ledger with its offset, and an outlet's reference."""
    with closing(sqlite3.connect(register)) as connection:
        (at,) = connection.execute("SELECT max(at) FROM ledger_entry").fetchone()
        (reference,) = connection.execute("SELECT reference FROM outlet WHERE id = 1").fetchone()
    moment = datetime.fromisoformat(at).replace(tzinfo=UTC)
    return f"{moment:%Y-%m-%dT%H:%M:%S}+0000", reference


def _dated_back(register: Path) -> None:
    """Let everything so far have been entered a day earlier; the trail's digests are of no concern here."""
    with closing(sqlite3.connect(register)) as connection:
        connection.execute("DROP TRIGGER ledger_entry_no_update")
        connection.execute("UPDATE ledger_entry SET at = datetime(at, '-1 day') || '.000000'")
        connection.commit()


def test_that_a_document_is_added_listed_taken_out_and_voided(filled: Run, tmp_path: Path) -> None:
    _, ref = _latest(tmp_path / "register.db")
    paper, out = tmp_path / "certificate.pdf", tmp_path / "out.pdf"
    paper.write_bytes(PDF)
    assert filled("documents")[1] == "No document is kept.\n"
    status, said, _ = filled(
        "document", "add", str(paper), "--of", f"outlet:{ref}", "--remark", "Commissioned"
    )
    assert (status, "certificate.pdf; outlet" in said, "Commissioned" in said) == (0, True, True)
    status, said, _ = filled("document", "take-out", "1", str(out))
    assert (status, out.read_bytes()) == (0, PDF)
    assert "Open it only if you know where it comes from" in said
    assert filled("document", "take-out", "1", str(out))[0] == 3
    assert filled("document", "void", "1", "--why", "of another outlet", "--who", "E. Marlow")[0] == 0
    assert "VOID: of another outlet (E. Marlow" in filled("documents", "--of", f"outlet:{ref}")[1]
    (told,) = json.loads(filled("documents", "--json")[1])
    assert (told["document"], told["of"]["noun"], told["size_bytes"]) == (1, "outlet", len(PDF))
    assert (told["void"]["by"], told["remark"]) == ("E. Marlow", "Commissioned")
    assert filled("documents", "--of", "weather")[0] == 3
    assert filled("verify")[0] == 0


def test_that_a_program_under_the_name_of_a_paper_is_refused(filled: Run, tmp_path: Path) -> None:
    paper = tmp_path / "certificate.pdf"
    paper.write_bytes(b"MZ\x90\x00")
    status, _, err = filled("document", "add", str(paper), "--of", "register")
    assert status == 3
    assert "a program for Windows" in err
    paper.write_bytes(PDF + b" " * 1_000_000)
    status, _, err = filled("document", "add", str(paper), "--of", "register", "--largest-mb", "1")
    assert (status, "more than 1 MB" in err) == (3, True)


READING = (
    ("due",),
    ("due", "--json"),
    ("explain", "{ref}"),
    ("history", "{ref}"),
    ("rules",),
    ("instruments",),
    ("batches",),
    ("batch", "1"),
    ("layouts",),
    ("documents",),
    ("report", "overdue", "--to", "{folder}/overdue.pdf"),
    ("export", "{folder}/tables"),
)


@pytest.fixture
def later(filled: Run, tmp_path: Path) -> tuple[Run, str, str]:
    """A register to which something was added today, the moment before, and the reference of an outlet."""
    register = tmp_path / "register.db"
    _dated_back(register)
    moment, ref = _latest(register)
    paper = tmp_path / "certificate.pdf"
    paper.write_bytes(PDF)
    assert filled("document", "add", str(paper), "--of", f"outlet:{ref}")[0] == 0
    assert filled("instrument", "T-NEW")[0] == 0
    return filled, moment, ref


def test_that_every_reading_command_shows_what_was_known_at_a_moment(
    later: tuple[Run, str, str], tmp_path: Path
) -> None:
    run_one, moment, ref = later
    for words in READING:
        asked = [each.format(ref=ref, folder=tmp_path) for each in words]
        status, out, err = run_one(*asked, "--as-known-at", moment)
        assert (words, status) == (words, 0)
        aside = words[0] in ("report", "export") or "--json" in words
        assert (err if aside else out).startswith("As known at ")
        assert "T-NEW" not in out
    assert run_one("documents", "--as-known-at", moment)[1].endswith("No document is kept.\n")
    assert "certificate.pdf" in run_one("documents")[1]
    assert "T-NEW" in run_one("instruments")[1]
    assert "as known at" in (tmp_path / "tables" / "as known at.txt").read_text("utf-8")


def test_that_a_moment_to_come_or_before_the_register_is_told(later: tuple[Run, str, str]) -> None:
    run_one, moment, _ = later
    assert run_one("due", "--as-known-at", "2001-01-01")[0] == 3
    assert run_one("due", "--as-known-at", "2999-01-01", *ON)[0] == 3
    assert run_one("due", "--as-known-at", "yesterday")[0] == 2
    assert "still to come" in run_one("due", "--as-known-at", "2999-01-01")[2]
    assert moment.endswith("+0000")
