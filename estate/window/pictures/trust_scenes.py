"""Scenes of dialogs about the trail, keys, backups and faults."""

from dataclasses import replace
from datetime import UTC, datetime, time
from pathlib import Path
from typing import Final

from PySide6.QtWidgets import QWidget

from estate.domain.conflicts import ConflictFault, FieldChange, Meanwhile, Seen
from estate.domain.signatures import OwnKey
from estate.errors import EntryFault
from estate.window.dialogs.backups import BackupsDialog
from estate.window.dialogs.checkpoint import KeptCheckpointDialog
from estate.window.dialogs.closing import ClosingDialog, NoBackupDialog
from estate.window.dialogs.conflict import ConflictDialog
from estate.window.dialogs.connecting import ConnectingDialog
from estate.window.dialogs.faults import DefectDialog, FaultDialog
from estate.window.dialogs.keys import KnownKeyDialog, NewKeyDialog, PublicKeyDialog
from estate.window.pictures.stage import Stage, opened, over, run, settle
from estate.window.tasks import LongTask
from estate.window.translating import tr

_FAULT: Final = EntryFault(
    "The backup can't be written",
    "The folder backups beside the register has no room left.",
    "Make room, or choose another folder under Backups.",
)
_KEY: Final = OwnKey(
    "E. Marlow",
    "3b6a27bcceb6a42d62a3a8d02a6f0d73653215771de243a63ac048a18b59da29",
    "21fe31dfa154a261626bf854046fd2271b7bed4b6abe45aa58877ef47f9721b9",
    datetime(2026, 11, 25, 9, tzinfo=UTC),
    "",
    Path(),
)
_TEXT: Final = """-----BEGIN PUBLIC KEY-----
MCowBQYDK2VwAyEAO2onvM62pC1io6jQKm8Nc2UyFXcd4kOmOsBIoYtZ2ik=
-----END PUBLIC KEY-----
"""


def backups(stage: Stage) -> QWidget:
    """The backups of the register, with one just made."""
    run(stage, "backups")
    dialog = opened(stage)
    if isinstance(dialog, BackupsDialog):
        dialog.make.click()
        settle()
        dialog.say("")
    return dialog


def restoring(stage: Stage) -> QWidget:
    """What restoring would change."""
    dialog = backups(stage)
    settle()
    if isinstance(dialog, BackupsDialog):
        dialog.restore.click()
    return opened(stage)


def kept_checkpoint(stage: Stage) -> QWidget:
    """A checkpoint that somebody kept, to be compared."""
    return over(KeptCheckpointDialog(stage.window))


def new_key(stage: Stage) -> QWidget:
    """A key to sign with, before it is made."""
    return over(NewKeyDialog(_KEY.person, stage.window))


def own_key(stage: Stage) -> QWidget:
    """The public half of a key."""
    return over(PublicKeyDialog(_KEY, _TEXT, stage.window))


def known_key(stage: Stage) -> QWidget:
    """A person's key, to be compared by phone."""
    return over(KnownKeyDialog(replace(_KEY, person="R. Thorne"), stage.window))


def closing(stage: Stage) -> QWidget:
    """The backup before the window closes."""
    dialog = ClosingDialog(stage.window)
    task = LongTask("Backing up")
    dialog.follow(task)
    over(dialog)
    task.progressed.emit(3, 8, "Comparing the backup")
    return dialog


def no_backup(stage: Stage) -> QWidget:
    """No backup could be made."""
    return over(NoBackupDialog(_FAULT, tr("Close all the same"), stage.window))


def fault(stage: Stage) -> QWidget:
    """A fault that the program knows."""
    return over(FaultDialog(_FAULT, stage.window))


def defect(stage: Stage) -> QWidget:
    """A fault of the program itself, with a report to copy."""
    try:
        raise ValueError("a made-up defect, for this picture")
    except ValueError as error:
        return over(DefectDialog(error.with_traceback(None), stage.window))


def conflict(stage: Stage) -> QWidget:
    """Somebody else changed it meanwhile."""
    at = datetime.combine(stage.desk.today, time(9), UTC)
    pipe = FieldChange("pipe_m", "2.5", "3.0")
    theirs = Meanwhile("R. Thorne", at, "changed outlet MX-G-01-B1", "survey of pipes", (pipe,))
    told = ConflictFault("Somebody else changed it", (theirs,), Seen("outlet", 1, 2))
    return over(ConflictDialog(told, {"pipe_m": "2.0"}, stage.window))


def connecting(stage: Stage) -> QWidget:
    """A register on a server, which could not be reached before."""
    said = "The server can't be reached. Check its name and your connection."
    return over(ConnectingDialog("postgresql://e.marlow@estate.example/register", said, stage.window))
