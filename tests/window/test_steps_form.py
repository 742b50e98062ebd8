"""What is seen and caught at a valve goes into the form and out again."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estate.domain.collecting import Reading, with_collected
from estate.domain.steps import NOTHING_SEEN, Part, Seen, Steps, parts_in, parts_words
from estate.domain.visits import VisitKind
from estate.window.dialogs.record_visit import draft_facts
from estate.window.widgets.steps_form import StepsForm
from estate.window.widgets.visit_form import Background, VisitForm
from tests.builders import TODAY, draft

STEPS = Steps((Seen("washers", True), Seen("support", False, remark="loose")), (Part("strainer", 2.0),))
COMMISSIONED = with_collected(
    replace(draft(), kind=VisitKind.COMMISSIONING, steps=STEPS), "cold", Reading().collected(30.0, 45.0)
)


@pytest.fixture
def form(qtbot: QtBot) -> VisitForm:
    form = VisitForm(Background(), TODAY)
    qtbot.addWidget(form)
    return form


@pytest.mark.parametrize(
    ("words", "parts"),
    [
        ("strainer 2, washer", (Part("strainer", 2.0), Part("washer"))),
        ("O-ring 15 mm", (Part("O-ring 15 mm"),)),
        (" , ", ()),
        ("", ()),
    ],
)
def test_that_parts_are_read_from_one_line(words: str, parts: tuple[Part, ...]) -> None:
    assert parts_in(words) == parts
    assert parts_in(parts_words(parts)) == parts


def test_that_a_commissioning_put_into_the_form_comes_out_the_same(form: VisitForm) -> None:
    form.put(COMMISSIONED)
    made = form.draft(COMMISSIONED.valve_id, COMMISSIONED.outlet_id)
    assert (made.steps, made.readings, made.kind) == (
        COMMISSIONED.steps,
        COMMISSIONED.readings,
        COMMISSIONED.kind,
    )


def test_that_only_the_steps_of_the_kind_of_visit_are_asked(qtbot: QtBot) -> None:
    steps = StepsForm()
    qtbot.addWidget(steps)
    steps.show_kind(VisitKind.COMMISSIONING)
    steps.answers["full-travel"].put(True)
    steps.answers["washers"].put(True)
    steps.show_kind(VisitKind.SERVICE)
    assert steps.steps() == Steps((Seen("full-travel", True),))
    steps.show_kind(VisitKind.IN_SERVICE)
    assert steps.steps() == NOTHING_SEEN
    assert steps.isHidden()


def test_that_a_remark_without_an_answer_is_not_an_answer(qtbot: QtBot) -> None:
    steps = StepsForm()
    qtbot.addWidget(steps)
    steps.show_kind(VisitKind.COMMISSIONING)
    steps.remarks["washers"].setText("could not see")
    assert steps.steps() == NOTHING_SEEN


def test_that_what_is_caught_becomes_the_flow(form: VisitForm) -> None:
    form.put(replace(COMMISSIONED, steps=NOTHING_SEEN))
    caught = form.caught["hot"]
    QTest.keyClicks(caught.volume_ml, "20")
    assert form.unreadable() == ["hot isolated, caught in a vessel: millilitres and seconds"]
    QTest.keyClicks(caught.seconds, "30")
    assert form.unreadable() == []
    made = form.draft(1, 1)
    assert made.readings.hot_isolated.residual_ml_min == 40.0
    assert made.steps.number("hot-collected") == 20.0
    assert "uncertainty" in caught.toolTip()


@pytest.mark.parametrize(("volume", "seconds"), [("20", "0"), ("-5", "60"), ("20", ""), ("x", "60")])
def test_that_half_a_measurement_is_none(form: VisitForm, volume: str, seconds: str) -> None:
    form.put(replace(COMMISSIONED, steps=NOTHING_SEEN))
    caught = form.caught["cold"]
    QTest.keyClicks(caught.volume_ml, volume)
    QTest.keyClicks(caught.seconds, seconds)
    assert caught.seen() == ()
    assert len(form.unreadable()) == 1


def test_that_the_step_to_confirm_tells_what_was_seen(form: VisitForm) -> None:
    told = {name: said for name, said, _ in draft_facts(COMMISSIONED, {})}
    assert told["See that valve and pipes are held firmly."] == "no loose"
    assert told["See that the unions are sealed with washers."] == "yes"
    assert told["Parts put in"] == "strainer 2"


def test_that_the_tab_key_goes_through_a_commissioning_as_the_work_is_done(
    form: VisitForm, qtbot: QtBot
) -> None:
    form.put(COMMISSIONED)
    form.show()
    qtbot.waitExposed(form)
    steps, fields, caught = form.steps, form.fields, form.caught["cold"]
    order = [form.instrument, steps.answers["designation-fits"], steps.remarks["designation-fits"]]
    order += [steps.answers["right-way-round"]]
    for before, after in pairwise(order):
        assert before.nextInFocusChain() is after
    assert steps.parts.nextInFocusChain() is fields["hot_c"]
    assert fields["cold_isolated.residual_ml_min"].nextInFocusChain() is caught.volume_ml
    assert caught.seconds.nextInFocusChain() is fields["cold_isolated.residual_c"]
