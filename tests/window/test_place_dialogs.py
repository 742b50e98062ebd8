"""Forms of changes by hand: what they take, what they refuse, what they say before anything is written."""

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot

from estate.domain.browsing import PlaceKind
from estate.domain.editing import FROM_ABOVE, OutletChange, OutletDraft, PlaceNames, ValveChange
from estate.domain.places import Outlet, Use, UserGroup
from estate.domain.valves import EnType, ModelLimits, SchemeClass
from estate.window.dialogs.bulk_edit import BulkEditDialog
from estate.window.dialogs.edit_outlet import EditOutletDialog
from estate.window.dialogs.edit_valve import EditValveDialog, FitValveDialog
from estate.window.dialogs.move_to import MoveToDialog
from estate.window.dialogs.places import AddOutletDialog, PlaceNamesDialog
from estate.window.models.outlet_changes import changed_words, preview
from estate.window.models.place_choice import walk
from estate.window.models.typed_measure import parse_measure
from estate.window.widgets.choice import Choice
from tests.window.builders import TODAY, VALVE, outlet, tree

SETS = [("Care homes (homes)", "homes"), ("Hospitals (uk-healthcare)", "uk-healthcare")]


def shown(qtbot: QtBot, dialog: QDialog) -> list[tuple[Any, ...]]:
    """Show a form; what it gives is gathered."""
    qtbot.addWidget(dialog)
    dialog.show()
    given: list[tuple[Any, ...]] = []
    dialog.given.connect(lambda *told: given.append(told))  # type: ignore[attr-defined]  # every form has it
    return given


def choose(choice: Choice, value: object) -> None:
    choice.put(value)
    assert choice.value() == value


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("", "mm", None),
        ("41,5", "°C", 41.5),
        ("41.5 °C", "°C", 41.5),
        ("41 c", "°C", 41.0),
        ("22MM", "mm", 22.0),
        ("10:1", ": 1", 10.0),
        ("10 : 1", ": 1", 10.0),
    ],
)
def test_that_a_measure_is_read_with_its_own_unit_or_none(typed: str, unit: str, value: float | None) -> None:
    assert parse_measure("Size", typed, unit, 60) == value


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("106 F", "°C", "Set to: “106 F” is no number in °C"),
        ("5 cm", "m", "is no number in m"),
        ("abc", "mm", "is no number in mm"),
        ("-3", "K", "can't be true"),
        ("0", "K", "can't be true"),
        ("300", "°C", "at most 60 °C"),
    ],
)
def test_that_a_measure_in_another_unit_or_beyond_belief_is_refused(typed: str, unit: str, said: str) -> None:
    with pytest.raises(ValueError, match="Set to") as fault:
        parse_measure("Set to", typed, unit, 60)
    assert said in str(fault.value)


def test_that_a_room_needs_a_number_or_a_name_and_other_places_a_name(qtbot: QtBot) -> None:
    room = PlaceNamesDialog("Add", PlaceKind.ROOM, "Level G", PlaceNames(""), "Add a room", None)
    given = shown(qtbot, room)
    assert not room.act.isEnabled()
    QTest.keyClicks(room.number, " G12 ")
    QTest.keyClick(room.number, Qt.Key.Key_Return)
    assert given == [(PlaceNames("", "G12"),)]
    site = PlaceNamesDialog("Add", PlaceKind.SITE, "", PlaceNames("Marlpit"), "Add", None)
    shown(qtbot, site)
    site.name.setText("  ")
    assert not site.act.isEnabled()


def test_that_an_outlet_is_added_only_once_use_and_users_are_chosen(qtbot: QtBot) -> None:
    form = AddOutletDialog("G01 Bathroom", "MM/G/G01/", None)
    given = shown(qtbot, form)
    QTest.keyClicks(form.reference, "WHB2")
    choose(form.use, Use.BASIN)
    assert not form.act.isEnabled()
    choose(form.user_group, UserGroup.RESIDENTS)
    QTest.keyClicks(form.pipe.line, "2,5 m")
    assert form.act.isEnabled()
    form.act.click()
    draft = OutletDraft("MM/G/G01/WHB2", "", Use.BASIN, UserGroup.RESIDENTS, pipe_m=2.5)
    assert given == [(draft,)]
    form.pipe.line.setText("2 ft")
    assert not form.act.isEnabled()
    assert "Blended pipe" in form.wrong.text()
    assert form.pipe.line.toolTip() == form.wrong.text()


def bulk(qtbot: QtBot, *outlets: Outlet, left_out: int = 0) -> tuple[BulkEditDialog, list[tuple[Any, ...]]]:
    form = BulkEditDialog(outlets, "G01, G02", SETS, 2, left_out, None)
    return form, shown(qtbot, form)


def test_that_many_outlets_show_where_they_differ_and_stay_as_they_are(qtbot: QtBot) -> None:
    form, given = bulk(qtbot, outlet(1), outlet(2, user_group=UserGroup.STAFF), outlet(3, rule_set="homes"))
    assert form.user_group.currentText() == "As they are: 2 patients, 1 staff"
    assert form.rule_set.currentText() == "As they are: 2 from the building or the estate, 1 homes"
    assert form.little_used.currentText() == "As they are: not little used"
    assert form.preview.text() == "Nothing changes yet."
    assert not form.act.isEnabled()
    choose(form.use, Use.BASIN)
    assert form.preview.text() == "Nothing changes yet."
    assert given == []


def test_that_what_many_outlets_become_is_said_before(qtbot: QtBot) -> None:
    form, given = bulk(qtbot, outlet(1), outlet(2, user_group=UserGroup.STAFF), left_out=1)
    choose(form.user_group, UserGroup.RESIDENTS)
    choose(form.little_used, True)
    said = "2 outlets: user group becomes residents; becomes little used; 2 last visits are judged again."
    assert form.preview.text() == said
    assert not form.caution.isVisible()
    form.act.click()
    assert given == [(OutletChange(user_group=UserGroup.RESIDENTS, little_used=True), "")]


@pytest.mark.parametrize(
    ("field", "value", "caution"),
    [
        ("user_group", UserGroup.STAFF, "risk assessment"),
        ("rule_set", "homes", "maker's instructions"),
        ("use", Use.SHOWER, "scalds"),
        ("little_used", False, "legionella"),
    ],
)
def test_that_what_may_weaken_a_limit_is_weighed_and_reasoned(
    qtbot: QtBot, field: str, value: Any, caution: str
) -> None:
    form, given = bulk(qtbot, outlet(1, little_used=True))
    choose(getattr(form, field), value)
    assert caution in form.caution.text()
    assert form.caution.isVisible()
    assert form.preview.text().endswith("Say why first.")
    assert not form.act.isEnabled()
    QTest.keyClicks(form.why, "ward became offices")
    form.act.click()
    assert given == [(OutletChange(**{field: value}), "ward became offices")]


def test_that_every_field_of_a_change_has_its_words() -> None:
    change = OutletChange(Use.BATH, UserGroup.STAFF, False, FROM_ABOVE, "MM/1", "bath", 3.5)
    assert len(changed_words(change)) == 7
    assert "rule set comes from the building or the estate" in changed_words(change)
    assert preview(1, replace(change, rule_set="homes"), 0).endswith("none was visited yet.")
    assert preview(3, OutletChange(little_used=True), 3) == "3 outlets: becomes little used."


def test_that_one_outlet_gives_only_what_was_changed(qtbot: QtBot) -> None:
    form = EditOutletDialog(outlet(1, pipe_m=2.0), SETS, True, None)
    given = shown(qtbot, form)
    assert not form.act.isEnabled()
    form.words.setText("Basin by the door")
    form.little_used.setChecked(True)
    form.act.click()
    assert given == [(OutletChange(words="Basin by the door", little_used=True), "")]
    choose(form.rule_set, "homes")
    assert not form.act.isEnabled()
    assert "competent people" in form.caution.text()
    assert form.mine["rule set"] == "Care homes (homes)"
    for field, text, said in (
        (form.reference, "", "Reference"),
        (form.pipe.line, "", "can't be emptied"),
        (form.pipe.line, "900", "can't be true"),
    ):
        field.setText(text)
        assert said in form.wrong.text()
        form.reference.setText("MM/G/G01/WHB1")
        form.pipe.line.setText("2")
    form.use.put(Use.BIDET)
    assert form.mine["use"] == "Bidet"
    assert form.mine["little used"] == "yes"


def test_that_a_valve_gives_only_what_was_changed_with_the_reason(qtbot: QtBot) -> None:
    body = replace(VALVE, size_mm=15.0, limits=ModelLimits(10.0))
    form = EditValveDialog("MM/G/G01/WHB1", body, None)
    given = shown(qtbot, form)
    form.fields.serial.setText("A15-9")
    form.fields.ratio.line.setText("10:1")
    choose(form.fields.en_type, EnType.PRE_SET)
    choose(form.fields.check_valves, True)
    assert not form.act.isEnabled()
    form.why.setText("read off the body")
    form.act.click()
    change = ValveChange(serial="A15-9", max_pressure_ratio=10.0, en_type=EnType.PRE_SET, check_valves=True)
    assert given == [(change, "read off the body")]
    assert form.mine["serial"] == "A15-9"


def test_that_a_valve_refuses_what_cant_be_and_what_was_emptied(qtbot: QtBot) -> None:
    form = EditValveDialog("MM/G/G01/WHB1", replace(VALVE, size_mm=15.0), None)
    shown(qtbot, form)
    form.why.setText("read off the body")
    form.fields.designations.setText("HP-W XX-Q")
    assert form.wrong.text().startswith("Designations: XX-Q is none.")
    form.fields.designations.setText("hp-w, lp-w")
    assert form.act.isEnabled()
    form.fields.size_mm.line.clear()
    assert "size mm" in form.wrong.text()
    form.fields.size_mm.line.setText("15 in")
    assert "Nominal size" in form.wrong.text()
    assert not form.act.isEnabled()


def test_that_a_first_valve_needs_its_name_and_may_have_no_day(qtbot: QtBot) -> None:
    form = FitValveDialog("MM/G/G01/WHB1", TODAY, None)
    given = shown(qtbot, form)
    for field, text in ((form.fields.make, "Make A"), (form.fields.model, "A15")):
        field.setText(text)
    assert not form.act.isEnabled()
    form.fields.serial.setText("A15-77")
    choose(form.fields.scheme_class, SchemeClass.TYPE_3)
    form.act.click()
    form.unknown.setChecked(True)
    assert not form.on.isEnabled()
    form.act.click()
    (body, on), (_, unknown) = given
    assert (body.serial, body.scheme_class, body.set_c) == ("A15-77", SchemeClass.TYPE_3, None)
    assert (on, unknown) == (TODAY, None)
    form.fields.set_c.line.setText("99")
    assert not form.act.isEnabled()


def test_that_places_are_moved_only_where_they_may_go(qtbot: QtBot) -> None:
    nodes = list(walk(tree(3)))
    rooms = [each for each in nodes if each.kind is PlaceKind.ROOM]
    outlets = [each for each in nodes if each.kind is PlaceKind.OUTLET]
    form = MoveToDialog(outlets[:1], PlaceKind.ROOM, tree(3), None)
    given = shown(qtbot, form)
    assert not form.act.isEnabled()
    form.panel.opened.emit(rooms[1])
    assert (given, form.chosen_words) == ([], "")
    QTest.keyClicks(form.panel.search, "g01")
    QTest.keyClick(form.panel.search, Qt.Key.Key_Return)
    assert form.said.text() == "MM/G/G01/WHB1: in G01 Bathroom already"
    assert not form.act.isEnabled()
    form.panel.search.setText("g02")
    QTest.keyClick(form.panel.search, Qt.Key.Key_Return)
    assert form.said.text() == "MM/G/G01/WHB1 → G02 Bathroom"
    assert form.chosen_words == "G02 Bathroom"
    form.act.click()
    assert given == [((PlaceKind.ROOM, 2),)]
