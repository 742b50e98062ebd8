"""The pages and dialogs of people and upkeep."""

from datetime import date, timedelta

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estate.domain.life.care import CareAsked, CareDraft, CareKind, CareLine, ReviewDraft
from estate.domain.life.people import Competence, Person
from estate.window.dialogs.people import AddPersonDialog, AmendPersonDialog, CompetenceDialog
from estate.window.dialogs.upkeep import CareDialog, ReviewDialog
from estate.window.pages.people_page import PeopleView
from estate.window.pages.upkeep_page import UpkeepView
from tests.window.builders import TODAY, outlet

A_YEAR = timedelta(days=365)
TESTS = Competence("testing valves", TODAY - A_YEAR, TODAY + A_YEAR, "C-1", 1)
PEOPLE = (
    Person(1, "M. Osei", "engineer", competences=(TESTS,)),
    Person(
        2,
        "A. Thorne",
        "contractor",
        competences=(Competence("testing", TODAY - A_YEAR, TODAY - timedelta(1)),),
    ),
    Person(3, "R. Velde", "engineer", TODAY - timedelta(days=30)),
    Person(4, "E. Marlow", "officer"),
    Person(
        5, "J. Ross", "engineer", competences=(Competence("testing", TODAY - A_YEAR, TODAY + timedelta(9)),)
    ),
)
LINES = (
    CareLine(
        outlet(1), CareAsked.FLUSHING, TODAY - timedelta(days=9), TODAY - timedelta(days=2), "HSE-08: weekly"
    ),
    CareLine(outlet(2), CareAsked.SHOWER_HEAD, None, None, "HSE-07: quarterly"),
    CareLine(outlet(3), CareAsked.REVIEW, TODAY - A_YEAR, TODAY, "HSE-09: yearly", "yes: children"),
    CareLine(outlet(4), CareAsked.FLUSHING, TODAY, TODAY + timedelta(days=7), "HSE-08: weekly"),
)


@pytest.fixture
def people(qtbot: QtBot) -> PeopleView:
    view = PeopleView(lambda: TODAY)
    qtbot.addWidget(view)
    view.tell(PEOPLE)
    return view


@pytest.fixture
def upkeep(qtbot: QtBot) -> UpkeepView:
    view = UpkeepView(lambda: TODAY)
    qtbot.addWidget(view)
    view.tell(enumerate(LINES))
    return view


def shown(view: PeopleView, column: int) -> list[str]:
    model = view.listing.model()
    return [str(model.index(row, column).data()) for row in range(model.rowCount())]


def test_that_competence_stands_out_by_word(people: PeopleView) -> None:
    assert dict(zip(shown(people, 0), shown(people, 2), strict=True)) == {
        "M. Osei": "holds",
        "A. Thorne": "ended 24 Nov 2026",
        "E. Marlow": "none on record",
        "J. Ross": "ends soon",
    }


@pytest.mark.parametrize(("wanted", "names"), [(0, 4), (1, 2), (2, 5)])
def test_that_people_are_chosen(people: PeopleView, wanted: int, names: int) -> None:
    people.wanted.setCurrentIndex(wanted)
    assert len(shown(people, 0)) == names


def test_that_a_person_is_told_with_competences_and_unknown_names(people: PeopleView) -> None:
    people.listing.choose(1)
    people.tell_unknown(("S. Body",))
    assert "testing valves (C-1), from 25 Nov 2025 until 25 Nov 2027" in people.detail.text()
    assert "S. Body" in people.detail.text()
    people.listing.choose(4)
    assert "no competence on record" in people.detail.text()


def test_that_buttons_about_a_person_need_one(people: PeopleView, qtbot: QtBot) -> None:
    people.listing.choose(1)
    with qtbot.waitSignal(people.competence_asked) as asked:
        people.competent.click()
    assert asked.args == [PEOPLE[0]]
    with qtbot.waitSignal(people.add_asked):
        people.add.click()
    QTest.keyClicks(people.words, "nobody")
    assert not people.change.isEnabled()
    assert people.add.isEnabled()
    people.tell(())
    assert "nothing is judged" in people.counted.text()


@pytest.mark.parametrize(("wanted", "lines"), [(0, 3), (1, 2), (2, 1), (3, 1), (4, 4)])
def test_that_upkeep_is_chosen(upkeep: UpkeepView, wanted: int, lines: int) -> None:
    upkeep.wanted.setCurrentIndex(wanted)
    assert upkeep.listing.model().rowCount() == lines


def test_that_upkeep_says_how_often_and_what_was_said(upkeep: UpkeepView, qtbot: QtBot) -> None:
    upkeep.listing.choose(2)
    assert "HSE-09: yearly" in upkeep.detail.text()
    assert "yes: children" in upkeep.detail.text()
    with qtbot.waitSignal(upkeep.done_asked) as asked:
        upkeep.done_button.click()
    assert asked.args == [LINES[2]]
    with qtbot.waitSignal(upkeep.outlet_opened) as opened:
        upkeep.show_outlet.click()
    assert opened.args == [3]
    with qtbot.waitSignal(upkeep.outlet_opened):
        upkeep.listing.opened.emit(2)


def test_that_a_person_is_added_with_a_competence(qtbot: QtBot) -> None:
    dialog = AddPersonDialog(TODAY, None)
    qtbot.addWidget(dialog)
    assert not dialog.act.isEnabled()
    QTest.keyClicks(dialog.name, "N. Ewe")
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == ["N. Ewe", "", None]
    QTest.keyClicks(dialog.subject, "testing")
    dialog.ends.setChecked(False)
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == ["N. Ewe", "", Competence("testing", TODAY)]


def test_that_a_competence_needs_a_subject(qtbot: QtBot) -> None:
    dialog = CompetenceDialog(PEOPLE[0], TODAY, None)
    qtbot.addWidget(dialog)
    assert not dialog.act.isEnabled()
    QTest.keyClicks(dialog.subject, "service")
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == [Competence("service", TODAY, TODAY + A_YEAR)]


@pytest.mark.parametrize(("left", "day"), [(True, TODAY), (False, None)])
def test_that_a_person_leaves(qtbot: QtBot, left: bool, day: date | None) -> None:
    dialog = AmendPersonDialog(PEOPLE[0], TODAY, None)
    qtbot.addWidget(dialog)
    dialog.left_here.setChecked(left)
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == ["engineer", day]


def test_that_flushing_is_recorded_with_its_time(qtbot: QtBot) -> None:
    dialog = CareDialog(LINES[0], TODAY, "E. Marlow", (), None)
    qtbot.addWidget(dialog)
    QTest.keyClicks(dialog.minutes, "x")
    assert not dialog.act.isEnabled()
    dialog.minutes.clear()
    QTest.keyClicks(dialog.minutes, "2,5")
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == [CareDraft(1, CareKind.FLUSHED, TODAY, "E. Marlow", 150.0)]


def test_that_a_shower_head_is_not_timed(qtbot: QtBot) -> None:
    dialog = CareDialog(LINES[1], TODAY, "E. Marlow", (), None)
    qtbot.addWidget(dialog)
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == [CareDraft(2, CareKind.SHOWER_HEAD, TODAY, "E. Marlow")]


def test_that_a_review_needs_answer_and_reason(qtbot: QtBot) -> None:
    dialog = ReviewDialog(LINES[2], TODAY, "E. Marlow", (), None)
    qtbot.addWidget(dialog)
    dialog.why.setPlainText("children use it")
    assert not dialog.act.isEnabled()
    dialog.needed.put(False)
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == [ReviewDraft(3, TODAY, "E. Marlow", False, "children use it")]
