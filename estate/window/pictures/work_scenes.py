"""Scenes of dialogs about actions, people and upkeep."""

from PySide6.QtWidgets import QWidget

from estate.domain.life.actions import Step
from estate.domain.life.care import CareAsked
from estate.window.pictures.stage import Stage, opened, run


def action_step(stage: Stage) -> QWidget:
    """An action being taken a step on."""
    run(stage, "actions")
    page = stage.window.life.actions
    page.listing.selectRow(0)
    page.steps[Step.ASSIGN].click()
    return opened(stage)


def add_person(stage: Stage) -> QWidget:
    """Another person."""
    run(stage, "people")
    stage.window.life.people.add.click()
    return opened(stage)


def amend_person(stage: Stage) -> QWidget:
    """A person's particulars."""
    run(stage, "people")
    stage.window.life.people.listing.selectRow(0)
    stage.window.life.people.change.click()
    return opened(stage)


def competence(stage: Stage) -> QWidget:
    """What a person is competent in."""
    run(stage, "people")
    stage.window.life.people.listing.selectRow(0)
    stage.window.life.people.competent.click()
    return opened(stage)


def _upkeep(stage: Stage, review: bool) -> None:
    run(stage, "upkeep")
    page = stage.window.life.upkeep
    lines = page.listing.ordered.shown()
    wanted = [(line.asked is CareAsked.REVIEW) == review for _, line in lines]
    page.listing.selectRow(wanted.index(True) if True in wanted else 0)


def care(stage: Stage) -> QWidget:
    """What was flushed or cleaned."""
    _upkeep(stage, review=False)
    stage.window.life.upkeep.done_button.click()
    return opened(stage)


def review(stage: Stage) -> QWidget:
    """Whether a valve is still needed."""
    _upkeep(stage, review=True)
    stage.window.life.upkeep.done_button.click()
    return opened(stage)
