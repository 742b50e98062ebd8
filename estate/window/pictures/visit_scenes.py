"""Scenes of dialogs about visits, their signatures and papers."""

from datetime import UTC, datetime, time
from typing import Final

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from estate.domain.documents import Document, MediaType, Owner
from estate.domain.visits import VisitKind
from estate.window.dialogs.document import AddDocumentDialog, OpeningDialog, void_document_dialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.pictures.place_scenes import outlet
from estate.window.pictures.stage import Scene, Stage, opened, over, run, settle

_TYPED: Final = {
    "hot_c": "60,4",
    "cold_c": "12.8",
    "found_c": "43.6",
    "cold_isolated.shut_s": "1.8",
    "cold_isolated.residual_ml_min": "0",
    "cold_isolated.max_c": "42.9",
    "left_c": "41.2",
}

_OWNERS: Final = (Owner("outlet", 1, "the outlet"), Owner("valve", 1, "its valve"))


def _entry(stage: Stage, number: int = 0) -> None:
    outlet(stage)
    stage.window.pages.outlet.history.selectRow(number)
    settle()


def record(stage: Stage) -> QWidget:
    """A visit being typed."""
    outlet(stage)
    run(stage, "record")
    dialog = opened(stage)
    if isinstance(dialog, RecordVisitDialog):
        for path, text in _TYPED.items():
            QTest.keyClicks(dialog.form.fields[path], text)
        dialog.form.fields["found_c"].setFocus()
    return dialog


def confirm(stage: Stage) -> QWidget:
    """The step before a visit is entered."""
    dialog = record(stage)
    if isinstance(dialog, RecordVisitDialog):
        dialog.go_on.click()
    return dialog


def commissioning(stage: Stage) -> QWidget:
    """A commissioning being typed, its steps first."""
    outlet(stage)
    run(stage, "record")
    dialog = opened(stage)
    if isinstance(dialog, RecordVisitDialog):
        form = dialog.form
        form.kind.setCurrentIndex(form.kind.findData(VisitKind.COMMISSIONING))
        for answer in form.steps.answers.values():
            QTest.keyClicks(answer, "y")
        form.kind.setFocus()
    return dialog


def of_entry(entry: str) -> Scene:
    """The dialog about the newest entry of the history that an entry of the table of actions opens."""

    def scene(stage: Stage) -> QWidget:
        _entry(stage)
        run(stage, entry)
        return opened(stage)

    return scene


def of_outlet(entry: str) -> Scene:
    """The dialog about an outlet that an entry of the table of actions opens."""

    def scene(stage: Stage) -> QWidget:
        outlet(stage)
        run(stage, entry)
        return opened(stage)

    return scene


def add_document(stage: Stage) -> QWidget:
    """A photograph before it is kept."""
    outlet(stage)
    return over(AddDocumentDialog(["basin before.jpg"], _OWNERS, stage.window))


def _photograph(stage: Stage) -> Document:
    day = stage.desk.today
    at = datetime.combine(day, time(9), UTC)
    return Document(1, _OWNERS[0], "basin before.jpg", MediaType.JPEG, 184_320, "0" * 64, at, "E. Marlow", "")


def open_document(stage: Stage) -> QWidget:
    """The caution before a document is opened with another program."""
    return over(OpeningDialog(_photograph(stage), stage.window))


def void_document(stage: Stage) -> QWidget:
    """Why a document counts no more."""
    return over(void_document_dialog(_photograph(stage), stage.window))
