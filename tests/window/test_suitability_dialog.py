"""Holding a place and a valve against the rules, in the window."""

from dataclasses import replace

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from estate.domain.places import Use, UserGroup
from estate.domain.rules.values import RuleSet
from estate.domain.suitability.check import CAUTIONS, check_suitability
from estate.domain.suitability.given import Checked, Given
from estate.domain.suitability.survey import ModelFigures, Supply
from estate.domain.valves import SchemeClass
from estate.errors import EntryFault
from estate.window.dialogs.suitability import SuitabilityDialog
from estate.window.marks import Mark
from estate.window.widgets.conditions_panel import ConditionsPanel
from estate.window.widgets.text import Chip
from tests.domain.suitability.surveys import BARE, SOUND, cold, worked_out

TAKEN = ("supply temperatures of the visit on 23 Feb 2026",)
KNOWN = Checked(worked_out(), "MM/1", "Make A A15", TAKEN)


@pytest.fixture
def panel(qtbot: QtBot) -> ConditionsPanel:
    made = ConditionsPanel()
    qtbot.addWidget(made)
    made.resize(560, 600)
    return made


@pytest.fixture
def dialog(qtbot: QtBot) -> SuitabilityDialog:
    """Of an outlet, with what the register knows."""
    made = SuitabilityDialog("MM/1: Basin", None)
    qtbot.addWidget(made)
    made.show_modal()
    made.tell(KNOWN)
    return made


def said(panel: ConditionsPanel) -> str:
    return "\n".join(each.text() for each in panel.findChildren(QLabel))


def chips(panel: ConditionsPanel) -> list[tuple[Mark, str]]:
    return [(each.mark, each.words) for each in panel.findChildren(Chip)]


def test_that_each_end_has_its_shape_word_and_count(panel: ConditionsPanel) -> None:
    panel.tell(Checked(worked_out(pipe_m=2.6, risk_assessed=None)))
    assert chips(panel)[0] == (Mark.WEDGE, "1 fails")
    assert chips(panel)[1] == (Mark.HALF, "1 can't be told")
    assert chips(panel)[2][0] is Mark.TICK
    assert chips(panel)[2][1].endswith(" hold")


def test_that_a_condition_shows_figure_limit_margin_mending_and_source(panel: ConditionsPanel) -> None:
    panel.tell(Checked(worked_out(pipe_m=2.6, cold=cold(flow_bar=None))))
    text = said(panel)
    for words in (
        "Blended pipe from valve to outlet\n2.6 m\n≤ 2 m\n-0.6\nTo mend: Mount the valve 0.6 m closer",
        "TP-03: common practice, no source (not verified in the source)",
        "Cold flow pressure for Type 3, high pressure\nnot known\n",
        "To tell: Measure the cold pressure while the outlet runs.",
        "Checked for Type 3, high pressure; rules uk-healthcare",
    ):
        assert words in text
    assert text.index("To mend: Mount") < text.index("To tell: Measure the cold")


def test_that_what_would_fit_is_told_with_why_not(panel: ConditionsPanel) -> None:
    panel.tell(Checked(worked_out(cold=cold(flow_bar=0.8))))
    text = said(panel)
    assert "Type 3 HP-W: cold flow pressure 0.8 bar (1 to 5)" in text
    assert "(below the class its users need)" in text


def test_that_the_swings_of_a_mixer_without_thermostat_stand_in_a_table(panel: ConditionsPanel) -> None:
    panel.tell(KNOWN)
    text = said(panel)
    assert "cold supply lost\n60.0 °C\n+19.0 K" in text
    assert (Mark.WEDGE, "above the ceiling") in chips(panel)
    assert "not above the ceiling" in text
    assert "At 60 °C an adult" in text
    assert "taken as equal" not in text
    panel.tell(Checked(worked_out(cold=cold(flow_bar=None))))
    assert "taken as equal" in said(panel)


def test_that_without_temperatures_or_published_conditions_it_says_so(panel: ConditionsPanel) -> None:
    blank = RuleSet("blank", "Nothing", "1", "nowhere", ("Ask.",))
    panel.tell(Checked(check_suitability(BARE, blank)))
    assert "measure both supply temperatures" in said(panel)
    assert "The rule set publishes no conditions of use." in said(panel)
    panel.tell(Checked(check_suitability(replace(SOUND, set_c=30.0), blank)))
    assert "the rules name no ceiling" in said(panel)
    assert "skin" not in said(panel)


def test_that_the_register_s_figures_stand_in_the_fields_with_their_day(dialog: SuitabilityDialog) -> None:
    form = dialog.form
    assert form.numbers["hot.temperature_c"].text() == "60"
    assert form.numbers["model.max_hot_c"].text() == "85"
    assert form.designations.text() == "HP-W"
    assert TAKEN[0] in form.taken_from.text()
    assert "valve in place: Make A A15" in dialog.where.text()
    given = form.given()
    assert (given.use, given.users) == (Use.BASIN, UserGroup.PATIENTS)
    assert (given.hot, given.cold, given.model) == (SOUND.hot, SOUND.cold, SOUND.model)
    assert (given.set_c, given.wanted_l_min, given.pipe_m) == (41.0, 6.0, 1.2)
    assert (given.scheme_class, given.designations) == (SchemeClass.TYPE_3, ("HP-W",))
    assert (given.risk_assessed, given.alone) == (True, True)


def test_that_what_is_blanked_is_not_known_and_asked_at_once(dialog: SuitabilityDialog, qtbot: QtBot) -> None:
    field = dialog.form.numbers["cold.flow_bar"]
    field.setFocus()
    field.selectAll()
    with qtbot.waitSignal(dialog.asked) as asked:
        QTest.keyClicks(field, "\b")
    assert asked.args is not None
    assert asked.args[0].cold == Supply(12.0, 3.0, None)


def test_that_while_a_figure_is_no_number_nothing_worked_out_stays_in_sight(
    dialog: SuitabilityDialog, qtbot: QtBot
) -> None:
    with qtbot.assertNotEmitted(dialog.asked):
        QTest.keyClicks(dialog.form.numbers["pipe_m"], "x")
    assert "Blended pipe, m" in said(dialog.panel)
    dialog.tell(KNOWN)
    assert chips(dialog.panel) == []


def test_that_a_figure_that_can_t_be_true_is_refused_in_words(dialog: SuitabilityDialog) -> None:
    dialog.refuse(EntryFault("A figure can't be true", "Hot supply 400 °C.", "Give 0 to 100 °C."))
    assert said(dialog.panel) == "A figure can't be true: Hot supply 400 °C. Give 0 to 100 °C."


def test_that_it_says_that_it_permits_nothing(dialog: SuitabilityDialog) -> None:
    shown = [each for each in dialog.findChildren(QLabel) if each.text() == CAUTIONS[0]]
    assert [each.isVisible() for each in shown] == [True]
    assert dialog.minimumSizeHint().width() <= 958


def test_that_a_survey_that_knows_little_leaves_fields_blank(qtbot: QtBot) -> None:
    dialog = SuitabilityDialog("MM/1: Basin", None)
    qtbot.addWidget(dialog)
    assert not dialog.form.isEnabled()
    assert "Reading what the register knows" in said(dialog.panel)
    dialog.tell(Checked(worked_out(BARE), "MM/1"))
    assert dialog.form.isEnabled()
    assert dialog.form.given() == Given(use=Use.BASIN, users=UserGroup.PATIENTS, alone=True)
    assert dialog.form.given().model == ModelFigures()
    assert "no valve in place" in dialog.where.text()
    assert "no visit or survey on record" in dialog.form.taken_from.text()


def test_that_figures_alone_need_use_and_users_first(qtbot: QtBot) -> None:
    dialog = SuitabilityDialog("", None)
    qtbot.addWidget(dialog)
    asked: list[Given] = []
    dialog.asked.connect(asked.append)
    dialog.form.use.setCurrentIndex(1)
    assert asked == []
    assert "Choose use and users first" in said(dialog.panel)
    dialog.form.users.setCurrentIndex(3)
    assert [(each.use, each.users) for each in asked] == [(Use.BASIN, UserGroup.PATIENTS)]
    dialog.tell(Checked(worked_out(BARE)))
    assert dialog.form.taken_from.isHidden()
    assert chips(dialog.panel)
