"""Scenes of dialogs about rules, suitability and instruments."""

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from estate.window.dialogs.override import OverrideDialog
from estate.window.pictures.place_scenes import outlet, rules
from estate.window.pictures.stage import Stage, opened, run


def override(stage: Stage) -> QWidget:
    """A rule value of the site's own, being typed."""
    rules(stage)
    shown = stage.window.pages.rules
    shown.sought.setText("policy.risk.patients")
    shown.listing.selectRow(0)
    shown.override_button.click()
    shown.sought.clear()
    return opened(stage)


def tried(stage: Stage) -> QWidget:
    """A rule value tried on the whole estate before it is adopted."""
    dialog = override(stage)
    if isinstance(dialog, OverrideDialog):
        QTest.keyClicks(dialog.value, "0.02")
        dialog.try_first.click()
    return dialog


def choose_rules(stage: Stage) -> QWidget:
    """Another rule set for a place."""
    rules(stage)
    stage.window.pages.rules.choose_button.click()
    return opened(stage)


def suitability(stage: Stage) -> QWidget:
    """An outlet held against the rules."""
    outlet(stage)
    run(stage, "suitable")
    return opened(stage)


def add_instrument(stage: Stage) -> QWidget:
    """Another instrument."""
    run(stage, "instruments")
    stage.window.life.instruments.add.click()
    return opened(stage)


def calibrate(stage: Stage) -> QWidget:
    """Another calibration of an instrument."""
    run(stage, "instruments")
    stage.window.life.instruments.listing.selectRow(0)
    stage.window.life.instruments.calibrate.click()
    return opened(stage)
