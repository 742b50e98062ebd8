"""The page of actions and its dialogs: what is offered is what can be done, and nothing is kept unsaid."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estate.cli.work_words import action_list_words, action_words
from estate.domain.findings import Severity
from estate.domain.life.actions import (
    Action,
    ActionDraft,
    ActionEvent,
    ActionKind,
    EventDraft,
    Step,
    fold,
    opened,
)
from estate.domain.life.lists import ActionLine
from estate.domain.life.next_step import next_step, possible_steps
from estate.domain.life.outlet_use import OutletUse, UseOfOutlet, UseStep
from estate.domain.life.policy import Escalation
from estate.window.dialogs.action_step import ActionStepDialog, OpenActionDialog, OutletUseDialog
from estate.window.models.action_rows import actions_model, event_words
from estate.window.models.outlet_facts import standing_words
from estate.window.pages.actions_page import ActionsView
from tests.window.builders import NOW, TODAY, outlet, page

DRAFT = ActionDraft(
    1, ActionKind.FAULT, Severity.OUT_OF_USE, "Left at 44.6 °C. Somebody could be hurt.", TODAY, True, 1, 1,
    ("left-above-ceiling",), ("left-above-ceiling",), TODAY + timedelta(days=7),
)  # fmt: skip


def event(number: int, step: Step, **fields: Any) -> ActionEvent:
    return ActionEvent(number, EventDraft(step, TODAY, **fields), "A. Officer", NOW)


def action(number: int, *events: ActionEvent, **fields: Any) -> Action:
    return fold(opened(number, replace(DRAFT, **fields), "A. Officer", NOW), events)


def line(made: Action, use: OutletUse = OutletUse.IN_USE, late: int = 0) -> ActionLine:
    stands = UseOfOutlet(use, TODAY)
    told = Escalation("estates manager", "tell the estates manager") if late else None
    return ActionLine(
        made,
        outlet(made.id),
        (),
        "Make A",
        stands,
        3,
        late,
        told,
        next_step(made, stands),
        possible_steps(made),
    )


LINES = (
    line(action(1)),
    line(
        action(2, event(1, Step.ASSIGN, owner="M. Osei"), words="Descale.", severity=Severity.PUT_RIGHT),
        late=4,
    ),
    line(action(3, event(1, Step.CANCEL, why="twice"), words="Descale.", severity=Severity.PUT_RIGHT)),
)


def test_that_an_action_without_a_target_is_never_shown_as_in_time() -> None:
    model = actions_model()
    model.fill([line(action(1, target_on=None)), line(action(2))])
    shown = [[model.index(row, column).data() for column in (5, 6)] for row in range(2)]
    tips = [model.index(row, 6).data(Qt.ItemDataRole.ToolTipRole) for row in range(2)]
    assert shown[0][0] == "no target is set"
    assert tips == ["no target is set", "not past its target date"]


def test_that_page_and_lists_say_so_where_an_action_has_no_target() -> None:
    bare = line(action(1, target_on=None))
    shown = page(actions=(bare.action,))
    assert "To be done (open, no target is set): " in standing_words(shown, TODAY)
    assert any("no target is set" in each for each in action_words(bare))
    assert "no target is set" in action_list_words([bare], TODAY)[1]


@pytest.fixture
def view(qtbot: QtBot) -> ActionsView:
    view = ActionsView()
    qtbot.addWidget(view)
    view.tell(LINES)
    return view


@pytest.mark.parametrize(("wanted", "shown"), [(0, [1, 2]), (1, [2]), (2, [1]), (3, [1, 2, 3])])
def test_that_the_list_holds_what_is_wanted(view: ActionsView, wanted: int, shown: list[int]) -> None:
    view.wanted.setCurrentIndex(wanted)
    assert sorted(row.action.id for row in view.listing.ordered.shown()) == shown
    assert view.counted.text().startswith(f"{len(shown)} shown; 2 to be done, 1 past their target date")


def test_that_words_narrow_the_list(view: ActionsView) -> None:
    QTest.keyClicks(view.words, "osei descale")
    assert [row.action.id for row in view.listing.ordered.shown()] == [2]
    view.words.setText("nothing like it")
    assert view.chosen is None
    assert view.next.text() == "No action is chosen."


def test_that_only_what_can_be_done_is_offered(view: ActionsView) -> None:
    view.show()
    view.wanted.setCurrentIndex(3)
    for each in LINES:
        assert view.listing.choose(each.action.id)
        offered = {step for step, button in view.steps.items() if button.isVisible()}
        assert offered == set(each.possible)
    view.tell(())
    assert not any(button.isVisible() for button in view.steps.values())
    assert "does not mean that every valve works" in view.next.text()


def test_that_steps_outlet_and_use_are_asked_for(view: ActionsView, qtbot: QtBot) -> None:
    view.listing.choose(1)
    with qtbot.waitSignal(view.step_asked) as asked:
        view.steps[Step.ASSIGN].click()
    assert asked.args == [LINES[0], Step.ASSIGN]
    with qtbot.waitSignal(view.use_asked) as used:
        view.use.click()
    assert used.args == [LINES[0].outlet, UseStep.TAKE_OUT]
    with qtbot.waitSignal(view.outlet_opened) as opened_outlet:
        view.open_outlet.click()
    assert opened_outlet.args == [1]
    view.tell([line(action(1), OutletUse.OUT_OF_USE)])
    assert view.use.text() == "Put back in use…"


def test_that_an_event_says_who_did_what_when_and_why() -> None:
    assert (
        event_words(event(1, Step.ASSIGN, owner="M. Osei"))
        == "25 Nov 2026  assigned to M. Osei  – A. Officer"
    )
    own = event_words(event(1, Step.RETEST, by_itself=True))
    assert own == "25 Nov 2026  retest passed  – the register"
    moved = event_words(event(1, Step.RETARGET, target_on=date(2026, 12, 1), why="parts late"))
    assert moved == "25 Nov 2026  new target date 1 Dec 2026: parts late  – A. Officer"
    assert "does not count" in event_words(replace(event(1, Step.CLOSE), counts=False))


@pytest.mark.parametrize("step", [step for step in Step if step not in (Step.FOUND_AGAIN, Step.CORRECT)])
def test_that_a_step_is_kept_only_with_what_it_needs(qtbot: QtBot, step: Step) -> None:
    dialog = ActionStepDialog(LINES[0], step, TODAY, ("M. Osei",), None)
    qtbot.addWidget(dialog)
    assert dialog.act.isEnabled() is (step is Step.CLOSE)
    dialog.owner.setCurrentText("M. Osei")
    dialog.why.setPlainText("because")
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    target = DRAFT.target_on if step is Step.RETARGET else None
    assert given.args == [TODAY, "because", "M. Osei" if step is Step.ASSIGN else "", target]


@pytest.mark.parametrize("step", UseStep)
def test_that_a_change_of_use_is_kept_only_with_what_it_needs(qtbot: QtBot, step: UseStep) -> None:
    dialog = OutletUseDialog("MM/1", step, TODAY, "", ("M. Osei",), None)
    qtbot.addWidget(dialog)
    dialog.why.setPlainText("because")
    assert dialog.act.isEnabled() is (step is not UseStep.TAKE_OUT)
    dialog.who_told.setCurrentText("Sister Ames")
    dialog.sign.put(True)
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    told = ("Sister Ames", True) if step is UseStep.TAKE_OUT else ("", None)
    assert given.args == [TODAY, "because", *told]


def test_that_an_outlet_that_can_not_go_back_says_why(qtbot: QtBot) -> None:
    dialog = OutletUseDialog("MM/1", UseStep.PUT_BACK, TODAY, "Action 1 asks for a retest.", (), None)
    qtbot.addWidget(dialog)
    dialog.why.setPlainText("because")
    assert not dialog.act.isEnabled()
    assert dialog.refused.text() == "Action 1 asks for a retest."


def test_that_an_action_by_hand_needs_words(qtbot: QtBot) -> None:
    dialog = OpenActionDialog("MM/1", TODAY, (), None)
    qtbot.addWidget(dialog)
    assert not dialog.act.isEnabled()
    dialog.what.setPlainText("Clear the access.")
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == ["Clear the access.", Severity.PUT_RIGHT, False, "", TODAY]
