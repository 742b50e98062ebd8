"""Pages: what they say, also where there is nothing to say."""

from dataclasses import replace
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.findings import Outcome, Severity
from estate.domain.standing import OutletState
from estate.domain.valves import Fitting
from estate.window.models import limit_facts, outlet_facts
from estate.window.models.due_rows import Wanted
from estate.window.pages.due_page import DueView
from estate.window.pages.outlet_page import OutletView
from estate.window.pages.place_page import PlaceView
from estate.window.pages.rules_page import RulesView
from estate.window.pages.start_page import StartView
from estate.window.widgets.findings import FindingsList
from tests.builders import healthcare
from tests.window import builders
from tests.window.builders import TODAY, due_line, finding, judgement, met, not_tested, page, tree


def said(widget: QWidget) -> str:
    """Every word that a page shows (what is hidden says nothing)."""
    return "\n".join(each.text() for each in widget.findChildren(QLabel) if not each.isHidden())


@pytest.fixture
def outlet(qtbot: QtBot) -> OutletView:
    view = OutletView()
    qtbot.addWidget(view)
    return view


def test_that_the_outlet_page_says_where_how_and_what_next(outlet: OutletView) -> None:
    outlet.tell(page(), TODAY)
    words = said(outlet)
    assert "MM/G/G01/WHB1" in words
    assert outlet.path.accessibleName() == "Marlpit Cross · Main Block · G · G01 Bathroom · Basin 1"
    assert [each.text() for each in outlet.path.parts.values()] == [
        "Marlpit Cross",
        "Main Block",
        "Level G",
        "G01 Bathroom",
    ]
    assert "Next test: 26 Sep 2026 to 15 Nov 2026" in words
    assert "10 days late" in words
    assert "Why: First test 6 to 8 weeks after commissioning on 1 Oct 2026" in words
    assert "D08-80" in words


def test_that_an_outlet_without_a_valve_says_so_and_takes_no_visit(outlet: OutletView) -> None:
    outlet.tell(page(valve=None, window=None, judgement=None, history=(), fittings=()), TODAY)
    words = said(outlet)
    assert "No test is planned" in words
    assert "none in place" in words
    assert "nothing is known" in words
    assert not outlet.past.record_button.isEnabled()


def test_that_the_last_entry_that_counts_is_judged_until_another_is_chosen(outlet: OutletView) -> None:
    outlet.tell(page(), TODAY)
    assert "In-service test of 17 Aug 2026 by T. Tester" in said(outlet)
    outlet.history.selectRow(1)
    assert "(void, does not count)" in said(outlet)
    assert "Left at 44.6 °C, ceiling 43.0 °C." in said(outlet)


def test_that_only_an_entry_that_counts_can_be_corrected_or_voided(outlet: OutletView) -> None:
    outlet.tell(page(), TODAY)
    asked: list[int] = []
    outlet.past.correct_asked.connect(asked.append)
    outlet.past.void_asked.connect(asked.append)
    for row, allowed in ((0, True), (1, False), (2, True)):
        outlet.history.selectRow(row)
        assert outlet.past.correct_button.isEnabled() is outlet.past.void_button.isEnabled() is allowed
    outlet.past.correct_button.click()
    outlet.past.void_button.click()
    assert asked == [1, 1]


def test_that_the_facts_name_limits_with_their_sources() -> None:
    facts = {name: (value, why) for name, value, why in limit_facts.limits_of(page())}
    assert facts["Never above"][0] == "43.0 °C"
    why = facts["Never above"][1]
    assert why is not None
    assert why.sources == ("D08-32: site test procedure (not verified in the source)",)
    assert "Nobody has checked this number" in why.standing
    assert "scalds" in why.caution
    assert facts["Set at most"][0] == "41.0 °C"
    assert facts["Maker's figures"][0] == "not entered"
    none = {name: value for name, value, _ in limit_facts.limits_of(page(ceiling_c=None, set_c=None))}
    assert none["Never above"] == none["Set at most"] == "–"


def test_that_the_facts_name_the_bodies_before() -> None:
    old = replace(builders.VALVE, id=2, serial="A15-0")
    now = Fitting(1, 1, date(2024, 3, 1))
    fittings = ((now, builders.VALVE), (Fitting(2, 1, None, date(2024, 3, 1)), old))
    facts = {name: value for name, value, _ in outlet_facts.of_valve(page(fittings=fittings))}
    assert facts["Before it"] == "Make A A15 A15-0 until 1 Mar 2024"
    assert facts["Fitted"] == "1 Mar 2024"
    assert facts["Class"] == "Type 3 (UK scheme), HP-W"
    assert facts["Fittings on it"] == "strainers"


def test_that_dates_that_do_not_bind_are_told_apart() -> None:
    told = outlet_facts.other_candidates(builders.window(0, 10))
    assert "do not bind" in told
    assert "Once a year at least (HSE-10)" in told


def test_that_the_due_list_says_when_it_is_empty_and_why(qtbot: QtBot) -> None:
    view = DueView()
    qtbot.addWidget(view)
    view.tell((), TODAY)
    assert "Bring in an asset list first" in said(view)
    view.tell((due_line(1, 100, 120),), TODAY)
    view.show_only(Wanted.OVERDUE)
    assert "Nothing is overdue on 25 Nov 2026." in said(view)
    view.show_only(Wanted.WITHIN)
    assert "Nothing falls due in that time." in said(view)
    view.weeks.setValue(20)
    assert "1 valve of 1" in said(view)
    view.sought.setText("no such words")
    assert "No line has these words." in said(view)


def test_that_a_line_of_the_due_list_explains_itself_and_opens(qtbot: QtBot) -> None:
    view = DueView()
    qtbot.addWidget(view)
    view.tell((due_line(4),), TODAY)
    opened: list[int] = []
    view.outlet_opened.connect(opened.append)
    view.listing.selectRow(0)
    assert "Why this date: First test 6 to 8 weeks" in said(view)
    QTest.keyClick(view.listing, Qt.Key.Key_Return)
    assert opened == [4]


def test_that_a_place_counts_its_states_in_words(qtbot: QtBot) -> None:
    view = PlaceView()
    qtbot.addWidget(view)
    view.tell(tree(4, (OutletState.OVERDUE, OutletState.IN_ORDER))[0], [due_line(1)])
    assert "4 outlets, 2 need someone to act now" in said(view)
    names = [each.accessibleName() for each in view.findChildren(QWidget)]
    assert "2 overdue" in names
    assert "2 in order" in names


def test_that_the_rules_page_counts_what_is_not_verified(qtbot: QtBot) -> None:
    view = RulesView()
    qtbot.addWidget(view)
    view.tell(healthcare())
    values = healthcare().values.values()
    doubtful = sum(not each.verified for each in values)
    assert f"{len(values)} values, {doubtful} not verified in the source, 0 replaced by the site" in said(
        view
    )
    view.sought.setText("D08-33")
    assert 0 < view.listing.ordered.rowCount() < len(values)
    asked: list[str] = []
    view.override_asked.connect(asked.append)
    view.listing.selectRow(0)
    view.override_button.click()
    assert len(asked) == 1
    assert asked[0] in healthcare().values


def test_that_an_empty_register_says_what_to_do_first(qtbot: QtBot) -> None:
    view = StartView()
    qtbot.addWidget(view)
    view.tell(None)
    assert "No register is open" in said(view)
    assert view.bring_in.isHidden()
    view.tell("Withy End")
    assert "Withy End has no outlets yet" in said(view)
    assert not view.bring_in.isHidden()


@pytest.fixture
def findings(qtbot: QtBot) -> FindingsList:
    view = FindingsList()
    qtbot.addWidget(view)
    return view


def test_that_findings_say_what_to_do_and_where_the_limit_comes_from(findings: FindingsList) -> None:
    findings.tell(judgement(met(), finding()))
    words = said(findings)
    assert "Left at 44.6 °C, ceiling 43.0 °C." in words
    assert "Somebody could be hurt." in words
    assert "Take the outlet out of use." in words
    assert "D08-33: TMV3 scheme" in words


def test_that_what_was_said_is_not_said_again(findings: FindingsList) -> None:
    findings.tell(judgement(finding(), finding("other", words="other", severity=Severity.WATCH)))
    assert said(findings).count("Take the outlet out of use.") == 1


def test_that_a_missing_value_is_never_shown_as_a_pass(findings: FindingsList) -> None:
    findings.tell(judgement(met(), not_tested()))
    words = said(findings)
    assert "Required, and not measured:" in words
    assert "Not tested is not a pass" in words
    assert "Everything required was measured" not in words
    findings.tell(judgement(met(), not_tested(required=False)))
    assert "Everything required was measured and is within its limits." in said(findings)
    findings.tell(judgement(not_tested()._replace(outcome=Outcome.NOT_TESTED)))
    assert "Everything required was measured" not in said(findings)
