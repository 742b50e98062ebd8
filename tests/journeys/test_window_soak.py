"""A short soak; `tests/benchmarks/soak.py` goes on for as long as one likes."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import qWarning
from PySide6.QtWidgets import QApplication, QPushButton

from tests.benchmarks.soak import soak
from tests.soak import Trouble
from tests.window.conftest import small_estate

__all__ = ["small_estate"]


def test_that_whatever_somebody_does_nothing_breaks_off_and_qt_warns_of_nothing(
    qapp: QApplication, small_estate: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    register = Path(shutil.copy(small_estate, tmp_path / "estate.db"))
    trouble, grown, doing = soak(140, 11, register, 70)
    assert trouble.told == []
    assert len(doing.done) == 140
    assert [each.actions for each in grown] == [70, 140]


def test_that_an_exception_in_a_slot_and_a_warning_of_qt_would_be_seen(qapp: QApplication) -> None:
    def break_off() -> None:
        raise ValueError("broken off")

    trouble, button = Trouble(), QPushButton()
    button.clicked.connect(break_off)
    with trouble.watched():
        button.click()
        qWarning("warned")
    assert trouble.told == ["ValueError: broken off", "QtWarningMsg: warned"]
