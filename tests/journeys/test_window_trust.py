"""Trust at the real window: the trail, verifying, checkpoints, backups, restoring, closing, faults."""

import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from estate.domain.browsing import OutletPage
from estate.operations.checkpoints import read_checkpoint
from estate.window import pictures
from estate.window.desk import Desk
from estate.window.dialogs.backups import BackupsDialog
from estate.window.dialogs.checkpoint import CheckpointDialog, KeptCheckpointDialog
from estate.window.dialogs.closing import NoBackupDialog
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.restoring import RestoreDialog
from estate.window.dialogs.verifying import VerificationDialog
from tests.journeys.test_trust import changed_behind
from tests.journeys.test_window_officer import a_line, go_to, press
from tests.journeys.test_window_sheets import begun
from tests.window.conftest import Seat, bare, seat, small_estate  # noqa: F401 - fixtures, found by name

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
LEFT = Qt.MouseButton.LeftButton


def desk_of(at: Seat) -> Desk:
    desk = at.window.showing.desk
    assert desk is not None
    return desk


def page_of(at: Seat) -> OutletPage:
    page = at.window.showing.outlet
    assert page is not None
    return page


def backups_in(folder: Path) -> list[str]:
    """Why each backup was made, from its name."""
    return sorted(each.name.split("Z ")[1] for each in (folder / "copy backups").glob("*.db"))


def settle() -> None:
    """Let work that begins more work come to its end."""
    for _ in range(4):
        pictures.settle()


def opened_backups(at: Seat) -> BackupsDialog:
    press(at.window, Qt.Key.Key_K, CTRL)
    dialog = at.dialog()
    assert isinstance(dialog, BackupsDialog)
    return dialog


def back(at: Seat) -> None:
    """Let the window have the keys again after a dialog."""
    settle()
    at.window.activateWindow()
    settle()


def of_kind(at: Seat, kind: type[FaultDialog]) -> FaultDialog:
    settle()
    (found,) = [each for each in at.dialogs() if isinstance(each, kind)]
    return found


def reopened(at: Seat, path: Path) -> None:
    at.window.open(str(path))
    settle()


def test_that_the_trail_of_an_entry_shows_how_it_was_corrected_and_voided(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    first = next(each for each in page_of(seat).history if each.visit.counts)
    desk_of(seat).void(first.visit.id, "tested the basin next to it", "B. Other")
    press(seat.window, Qt.Key.Key_F5)
    outlet = seat.window.pages.outlet
    assert outlet.history.choose(first.visit.id)
    assert outlet.cards.mended.text() == "Void: tested the basin next to it"
    QTest.mouseClick(outlet.past.trail_button, LEFT)
    settle()
    trail = seat.window.pages.trail
    assert seat.window.showing.stack.currentWidget() is trail
    shown = trail.listing.table.rows
    assert shown[0].noun == "visit_void"
    assert {each.noun for each in shown} >= {"visit", "judgement"}
    assert "B. Other" in trail.said.text()
    assert "Why: tested the basin next to it" in trail.said.text()
    QTest.mouseClick(trail.everything, LEFT)
    settle()
    assert len(trail.listing.table.rows) > len(shown)


def test_that_the_trail_is_narrowed_by_person_words_and_days_and_read_on_by_scrolling(seat: Seat) -> None:
    press(seat.window, Qt.Key.Key_J, CTRL)
    trail = seat.window.pages.trail
    every = desk_of(seat).trust.trail_count(trail.wanted)
    assert len(trail.listing.table.rows) == 200 < every
    trail.listing.setFocus()
    press(trail.listing, Qt.Key.Key_End, CTRL)
    assert len(trail.listing.table.rows) == min(400, every)
    trail.sought.setFocus()
    QTest.keyClicks(trail.sought, "nothing is so")
    settle()
    assert not trail.listing.isVisible()
    trail.sought.clear()
    trail.who.setCurrentIndex(1)
    settle()
    assert {each.who for each in trail.listing.table.rows} == {trail.who.currentText()}
    trail.days.which.setCurrentText("Today")
    settle()
    assert trail.listing.table.rows


def test_that_a_register_changed_past_the_program_is_shown_with_the_first_place_named(
    seat: Seat, tmp_path: Path
) -> None:
    seat.window.seat(None)
    settle()
    changed_behind(
        tmp_path / "copy.db", "UPDATE ledger_entry SET what = 'nothing' WHERE id > 5 AND id % 9 = 0"
    )
    reopened(seat, tmp_path / "copy.db")
    reading = seat.window.showing.reading
    assert reading is not None
    assert reading.lines
    banner = seat.window.trust.banner
    assert banner.isVisible()
    assert "its digest does not fit" in banner.said.text()
    QTest.mouseClick(banner.buttons()["See all…"], LEFT)
    seen = seat.dialog()
    assert isinstance(seen, VerificationDialog)
    assert len(seen.listing.table.rows) > 1
    seen.accept()
    QTest.mouseClick(banner.buttons()["Verify everything"], LEFT)
    whole = seat.dialog()
    assert isinstance(whole, VerificationDialog)
    assert "do not fit" in whole.windowTitle()
    whole.accept()
    QTest.mouseClick(banner.buttons()["Put away"], LEFT)
    assert not banner.isVisible()


def test_that_a_row_changed_past_the_program_is_found_by_verifying_everything(
    seat: Seat, tmp_path: Path
) -> None:
    assert not seat.window.trust.banner.isVisible()
    changed_behind(tmp_path / "copy.db", "UPDATE visit SET found_c = 39.0 WHERE id = 17")
    press(seat.window, Qt.Key.Key_J, CTRL)
    QTest.mouseClick(seat.window.pages.trail.verify, LEFT)
    dialog = seat.dialog()
    assert isinstance(dialog, VerificationDialog)
    assert dialog.windowTitle() == "1 place does not fit the trail"
    assert "visit 17" in seat.window.trust.banner.said.text()


def test_that_an_older_copy_is_told_by_what_this_machine_has_seen(seat: Seat, tmp_path: Path) -> None:
    older = (tmp_path / "copy.db").read_bytes()
    go_to(seat, a_line(seat).ref)
    counted = next(each for each in page_of(seat).history if each.visit.counts)
    desk_of(seat).void(counted.visit.id, "for the test", "A. Officer")
    seat.window.seat(None)
    settle()
    for end in ("-wal", "-shm"):
        (tmp_path / f"copy.db{end}").unlink(missing_ok=True)
    (tmp_path / "copy.db").write_bytes(older)
    reopened(seat, tmp_path / "copy.db")
    assert seat.window.showing.reading is not None
    assert "this machine has entry" in seat.window.trust.banner.said.text()
    assert "older copy" in seat.window.trust.banner.said.text()


def test_that_a_checkpoint_is_copied_saved_and_printed(seat: Seat, tmp_path: Path) -> None:
    press(seat.window, Qt.Key.Key_J, CTRL)
    QTest.mouseClick(seat.window.pages.trail.checkpoint, LEFT)
    dialog = seat.dialog()
    assert isinstance(dialog, CheckpointDialog)
    text = dialog.text.toPlainText()
    taken = read_checkpoint(text)
    assert taken.who == "A. Officer"
    QTest.mouseClick(dialog.copy, LEFT)
    assert QGuiApplication.clipboard().text() == text
    seat.answers.to_write = tmp_path / "checkpoint.txt"
    QTest.mouseClick(dialog.save, LEFT)
    settle()
    assert (tmp_path / "checkpoint.txt").read_text("utf-8") == text
    seat.answers.to_write = tmp_path / "checkpoint.pdf"
    QTest.mouseClick(dialog.print, LEFT)
    assert taken.digest[:8] in PdfReader(tmp_path / "checkpoint.pdf").pages[0].extract_text()
    seat.answers.to_write = tmp_path / "nowhere" / "checkpoint.txt"
    QTest.mouseClick(dialog.save, LEFT)
    assert of_kind(seat, FaultDialog).windowTitle() == "The checkpoint can't be written"
    assert seat.window.pages.trail.listing.table.rows[0].noun == "checkpoint"


def test_that_a_kept_checkpoint_is_compared_with(seat: Seat, tmp_path: Path) -> None:
    text = desk_of(seat).trust.checkpoint("A. Officer")
    (tmp_path / "kept.txt").write_text(text, encoding="utf-8")
    seat.answers.to_open = tmp_path / "kept.txt"
    for kept, title in (
        (text, "Everything fits the trail"),
        (_other(text), "1 place does not fit the trail"),
    ):
        seat.window.actions_["verify"].trigger()
        settle()
        verified = seat.dialog()
        assert isinstance(verified, VerificationDialog)
        QTest.mouseClick(verified.compare, LEFT)
        asked = seat.dialog()
        assert isinstance(asked, KeptCheckpointDialog)
        QTest.mouseClick(asked.file, LEFT)
        settle()
        assert asked.text.toPlainText() == text
        asked.text.setPlainText(kept)
        QTest.mouseClick(asked.act, LEFT)
        settle()
        assert seat.dialog().windowTitle() == title
        seat.dialog().close()
    assert "the checkpoint of 2026-11-25" in seat.window.trust.banner.said.text()


def _other(text: str) -> str:
    """The same checkpoint with another digest."""
    start = text.index("Digest: ") + len("Digest: ")
    return text[:start] + ("1" if text[start] == "0" else "0") + text[start + 1 :]


def test_that_a_backup_is_made_listed_and_restored_after_showing_what_would_change(
    seat: Seat, tmp_path: Path
) -> None:
    dialog = opened_backups(seat)
    assert not dialog.restore.isEnabled()
    QTest.mouseClick(dialog.make, LEFT)
    settle()
    assert backups_in(tmp_path) == ["by hand.db"]
    assert dialog.chosen() is not None
    assert "Backed up to" in dialog.said.text()
    QTest.mouseClick(dialog.make, LEFT)
    settle()
    assert "Nothing changed" in dialog.said.text()
    dialog.accept()
    back(seat)
    go_to(seat, a_line(seat).ref)
    counted = next(each for each in page_of(seat).history if each.visit.counts)
    desk_of(seat).void(counted.visit.id, "for the test", "A. Officer")
    dialog = opened_backups(seat)
    QTest.mouseClick(dialog.restore, LEFT)
    settle()
    (asking,) = [each for each in seat.dialogs() if isinstance(each, RestoreDialog)]
    QTest.mouseClick(asking.act, LEFT)
    settle()
    assert seat.dialogs() == []
    assert backups_in(tmp_path) == ["before restoring.db", "by hand.db"]
    back(seat)
    go_to(seat, a_line(seat).ref)
    again = {each.visit.id: each.visit.counts for each in page_of(seat).history}
    assert again[counted.visit.id]
    assert not seat.window.trust.banner.isVisible()


def test_that_after_restoring_the_other_windows_show_the_register_as_they_stood(seat: Seat) -> None:
    line = a_line(seat)
    seat.window.actions_["new-window"].trigger()
    settle()
    (other,) = seat.built.further
    other.showing.show_outlet(line.outlet_id)
    seat.window.actions_["backups"].trigger()
    dialog = seat.dialog()
    assert isinstance(dialog, BackupsDialog)
    dialog.make.click()
    settle()
    dialog.restore.click()
    settle()
    (asking,) = [each for each in seat.dialogs() if isinstance(each, RestoreDialog)]
    asking.act.click()
    settle()
    settle()
    assert other.showing.desk is seat.window.showing.desk is not None
    assert other.showing.outlet is not None
    assert other.showing.outlet.outlet.id == line.outlet_id
    other.close()
    settle()


def test_that_where_the_second_folder_is_away_the_work_goes_on_and_it_stays_in_sight(
    seat: Seat, tmp_path: Path
) -> None:
    dialog = opened_backups(seat)
    seat.answers.to_use = tmp_path / "stick"
    choose = dialog.choices.folders["second_backup_folder"]
    choose.setFocus()
    QTest.keyClicks(choose, str(tmp_path / "stick"))
    press(choose, Qt.Key.Key_Tab)
    dialog.choices.kept["backup_all_days"].setValue(3)
    dialog.choices.when["backup_before_batches"].setChecked(True)
    kept = seat.kept[-1]
    assert kept.second_backup_folder == str(tmp_path / "stick")
    assert (kept.backup_all_days, kept.backup_before_batches) == (3, True)
    dialog.accept()
    back(seat)
    bringing = begun(seat, tmp_path)
    QTest.mouseClick(bringing.take, LEFT)
    settle()
    assert "rows taken as one batch" in bringing.done_words.text()
    assert backups_in(tmp_path) == ["before a batch.db"]
    assert seat.window.trust.banner.chip.words == "The second backup folder is not there"


def test_that_without_a_backup_rows_are_taken_only_if_the_person_says_so(seat: Seat, tmp_path: Path) -> None:
    (tmp_path / "copy backups").write_text("a file in the way", encoding="utf-8")
    seat.preferences.change(backup_before_batches=True)
    dialog = begun(seat, tmp_path)
    before = len(desk_of(seat).batches())
    QTest.mouseClick(dialog.take, LEFT)
    asked = of_kind(seat, NoBackupDialog)
    assert asked.windowTitle() == "The backup folder can't be used"
    QTest.mouseClick(asked.leave, LEFT)
    settle()
    assert len(desk_of(seat).batches()) == before
    QTest.mouseClick(dialog.take, LEFT)
    asked = of_kind(seat, NoBackupDialog)
    assert isinstance(asked, NoBackupDialog)
    QTest.mouseClick(asked.go_on, LEFT)
    settle()
    assert len(desk_of(seat).batches()) == before + 1


def test_that_closing_backs_up_first(seat: Seat, tmp_path: Path) -> None:
    seat.preferences.change(backup_on_closing=True)
    seat.window.close()
    settle()
    assert not seat.window.isVisible()
    assert seat.window.showing.desk is None
    assert backups_in(tmp_path) == ["on closing.db"]


def test_that_a_failing_backup_is_told_and_the_window_can_still_be_closed(seat: Seat, tmp_path: Path) -> None:
    (tmp_path / "copy backups").write_text("a file in the way", encoding="utf-8")
    seat.preferences.change(backup_on_closing=True)
    seat.window.close()
    asked = of_kind(seat, NoBackupDialog)
    assert seat.window.isVisible()
    QTest.mouseClick(asked.leave, LEFT)
    settle()
    assert desk_of(seat).tree()
    seat.window.close()
    asked = of_kind(seat, NoBackupDialog)
    assert isinstance(asked, NoBackupDialog)
    QTest.mouseClick(asked.go_on, LEFT)
    settle()
    assert not seat.window.isVisible()


def test_that_a_register_left_for_another_is_backed_up(
    seat: Seat, tmp_path: Path, small_estate: Path
) -> None:
    seat.preferences.change(backup_on_closing=True)
    shutil.copyfile(small_estate, tmp_path / "other.db")
    reopened(seat, tmp_path / "other.db")
    assert desk_of(seat).where.endswith("other.db")
    assert backups_in(tmp_path) == ["on closing.db"]


def newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()


def damaged(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[100:8192] = bytes(8092)
    path.write_bytes(content)


def another_file(path: Path) -> None:
    path.write_text("a letter", encoding="utf-8")


@pytest.mark.parametrize(
    ("spoil", "title", "remedy"),
    [
        (newer, "The register is newer than this program", "newest version"),
        (damaged, "The register is damaged", "backup"),
        (another_file, "That is not a register", "Choose"),
    ],
)
def test_that_a_register_that_does_not_open_is_told_with_a_remedy_and_its_backups(
    seat: Seat, tmp_path: Path, spoil: object, title: str, remedy: str
) -> None:
    dialog = opened_backups(seat)
    QTest.mouseClick(dialog.make, LEFT)
    settle()
    dialog.accept()
    seat.window.seat(None)
    settle()
    assert callable(spoil)
    spoil(tmp_path / "copy.db")
    reopened(seat, tmp_path / "copy.db")
    fault = of_kind(seat, FaultDialog)
    assert fault.windowTitle() == title
    said = " ".join(each.text() for each in fault.findChildren(QLabel))
    assert remedy in said
    fault.offered["Its backups…"].click()
    backups = seat.dialog()
    assert isinstance(backups, BackupsDialog)
    assert not backups.make.isEnabled()
    QTest.mouseClick(backups.restore, LEFT)
    settle()
    (asking,) = [each for each in seat.dialogs() if isinstance(each, RestoreDialog)]
    if not asking.act.isEnabled():
        asking.sure.click()
    asking.act.click()
    settle()
    assert seat.window.showing.reading is not None
    assert seat.window.showing.reading.lines


def test_that_a_register_in_use_is_told_and_opens_once_it_is_free(
    seat: Seat, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("estate.store.database.BUSY_SECONDS", 0)
    seat.window.seat(None)
    settle()
    with closing(sqlite3.connect(tmp_path / "copy.db", isolation_level=None)) as other:
        other.execute("PRAGMA journal_mode = DELETE")
        other.execute("BEGIN EXCLUSIVE")
        reopened(seat, tmp_path / "copy.db")
        fault = of_kind(seat, FaultDialog)
        assert fault.windowTitle() == "The register is in use"
        fault.accept()
    reopened(seat, tmp_path / "copy.db")
    assert seat.dialogs() == []
    assert desk_of(seat).tree()


OPENED_BY_NOBODY = """
import os, sys
from pathlib import Path
from PySide6.QtWidgets import QApplication, QLabel
from estate.app.exhibits import staged
from estate.window.dialogs.faults import FaultDialog
from estate.window.pictures import settle
from estate.window.tasks import Straight
from tests.operations.happening import as_nobody

with Straight() as executor:
    window = staged(QApplication(["estate"]), executor, Path(sys.argv[1]), "light", 1280, 800).window
    settle()
    as_nobody()
    window.open(sys.argv[2])
    settle()
    (dialog,) = window.findChildren(FaultDialog)
    print(dialog.windowTitle(), *(each.text() for each in dialog.findChildren(QLabel)), flush=True)
    os._exit(0)
"""


def test_that_a_register_one_may_not_write_is_told_with_what_to_ask_for(
    small_estate: Path, tmp_path: Path
) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copyfile(small_estate, folder / "estate.db")
        (folder / "estate.db").chmod(0o444)
        folder.chmod(0o555)
        shutil.copyfile(small_estate, tmp_path / "own.db")
        asked = [sys.executable, "-c", OPENED_BY_NOBODY, str(tmp_path / "own.db"), str(folder / "estate.db")]
        ended = subprocess.run(asked, capture_output=True, text=True, timeout=60, check=False)
        folder.chmod(0o755)
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.startswith("The register can't be written")
    assert "Ask for the right to write to the file and to its folder." in ended.stdout
