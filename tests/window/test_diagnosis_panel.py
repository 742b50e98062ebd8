"""What may be wrong at an outlet, on the outlet's page."""

from dataclasses import replace

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from estate.domain.diagnosis.diagnose import ORDERING, Diagnosis
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.errors import NotFoundFault
from estate.window.marks import Mark
from estate.window.pictures import settle
from estate.window.widgets.diagnosis_panel import DiagnosisPanel
from estate.window.widgets.text import Chip
from tests.domain.diagnosis.courses import found
from tests.window.builders import TODAY, outlet


@pytest.fixture
def panel(qtbot: QtBot) -> DiagnosisPanel:
    made = DiagnosisPanel()
    qtbot.addWidget(made)
    made.resize(922, 480)
    return made


def shown(panel: DiagnosisPanel, diagnosis: Diagnosis) -> str:
    """What the panel says of a diagnosis, as a person reads it."""
    panel.turn_to(1)
    panel.tell(Diagnosed(outlet(1), "Make A A15", diagnosis))
    return said(panel)


def said(panel: DiagnosisPanel) -> str:
    return "\n".join(each.text() for each in panel.findChildren(QLabel) if not each.isHidden())


def test_that_causes_stand_in_order_with_what_bears_on_them_and_its_source(panel: DiagnosisPanel) -> None:
    made = found(flow_l_min=4.0, cold_flow_bar=1.2, check_valves_good=False)
    text = shown(panel, made)
    names = [f"{place}.  {each.cause.name[:1].upper()}" for place, each in enumerate(made.suspects, 1)]
    assert all(name in text for name in names)
    assert [text.index(name) for name in names] == sorted(text.index(name) for name in names)
    for suspect in made.suspects:
        for each in suspect.evidence:
            assert each.words.casefold() in text.casefold()
            assert each.source in text
    assert ORDERING in text
    assert "The order is no probability." in text
    assert all(caution in text for caution in made.cautions)


def test_that_bearings_are_told_by_shape_and_word(panel: DiagnosisPanel) -> None:
    shown(panel, found(check_valves_good=False))
    marks = {each.words: each.mark for each in panel.findChildren(Chip)}
    assert {"seen", "for", "against", "missing"} <= set(marks)
    assert len({marks[each] for each in ("seen", "for", "against", "missing")}) == 4


def test_that_the_check_that_tells_the_first_two_apart_is_marked_once(panel: DiagnosisPanel) -> None:
    made = found(flow_l_min=4.0, cold_flow_bar=1.2)
    text = shown(panel, made)
    marked = [each for each in panel.findChildren(Chip) if each.words == "tells the first causes apart"]
    assert [each.mark for each in marked] == [Mark.TARGET]
    places = [text.index(f"{place}.  {check.words}") for place, check in enumerate(made.checks, 1)]
    assert places == sorted(places)
    assert "Not measured, and would help" in text


def test_that_a_single_cause_is_said_to_be_the_only_one(panel: DiagnosisPanel) -> None:
    made = found(flow_l_min=4.0, cold_flow_bar=1.2)
    alone = replace(made, suspects=made.suspects[:1], others=(), wanted=())
    shown(panel, alone)
    assert [each.words for each in panel.findChildren(Chip) if each.mark is Mark.TARGET] == [
        "points to the only cause"
    ]


def test_that_symptoms_without_a_cause_or_a_check_say_so(panel: DiagnosisPanel) -> None:
    text = shown(panel, Diagnosis(TODAY, ("Left 41.0 °C",)))
    assert "None: nothing that was measured speaks for one." in text
    assert "No check is known that would tell more." in text


def test_that_nothing_amiss_and_nothing_to_weigh_say_why(panel: DiagnosisPanel) -> None:
    assert "Nothing found at that visit asks for a diagnosis." in shown(panel, Diagnosis(TODAY, ()))
    panel.tell_why_not(NotFoundFault("There is nothing to diagnose", "No valve.", "Test it first."))
    assert "asks for a diagnosis" not in said(panel)
    assert "There is nothing to diagnose\n" in said(panel)
    assert "No valve.\nTest it first." in said(panel)


def test_that_it_asks_only_while_it_is_in_sight(panel: DiagnosisPanel) -> None:
    asked: list[tuple[int, float | None]] = []
    panel.asked.connect(lambda outlet_id, hardness: asked.append((outlet_id, hardness)))
    panel.show()
    settle()
    assert asked == []
    panel.hide()
    panel.turn_to(1)
    assert asked == []
    panel.show()
    assert asked == [(1, None)]
    panel.hide()
    panel.show()
    assert asked == [(1, None)]
    panel.turn_to(2)
    assert asked == [(1, None), (2, None)]
    panel.turn_to(None)
    assert len(asked) == 2


def test_that_what_comes_late_for_another_outlet_is_not_shown(panel: DiagnosisPanel) -> None:
    panel.turn_to(2)
    panel.tell(Diagnosed(outlet(1), "Make A A15", found()))
    assert panel.about_visit.text() == ""


def test_that_hardness_is_weighed_while_it_is_typed_and_forgotten_at_the_next_outlet(
    panel: DiagnosisPanel,
) -> None:
    panel.turn_to(1)
    panel.show()
    asked: list[float | None] = []
    panel.asked.connect(lambda outlet_id, hardness: asked.append(hardness))
    QTest.keyClicks(panel.hardness, "28")
    assert asked == [2.0, 28.0]
    assert panel.wrong.isHidden()
    panel.turn_to(1)
    assert panel.hardness.text() == "28"
    panel.turn_to(2)
    assert panel.hardness.text() == ""


@pytest.mark.parametrize("typed", ["x", "-5"])
def test_that_what_is_no_hardness_is_left_out_and_said(panel: DiagnosisPanel, typed: str) -> None:
    panel.turn_to(1)
    panel.show()
    asked: list[float | None] = []
    panel.asked.connect(lambda outlet_id, hardness: asked.append(hardness))
    QTest.keyClicks(panel.hardness, typed)
    assert asked[-1] is None
    assert not panel.wrong.isHidden()


def test_that_it_fits_the_room_of_the_page(panel: DiagnosisPanel) -> None:
    shown(panel, found(flow_l_min=4.0, cold_flow_bar=1.2, check_valves_good=False))
    panel.show()
    settle()
    assert panel.minimumSizeHint().width() <= 922
    assert panel._held.width() <= 922
