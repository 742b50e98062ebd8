"""Places, outlets and valves changed by hand at the window, with real keys, and undone with words."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from estate.domain.browsing import OutletPage, PlaceKind, PlaceNode
from estate.domain.editing import Place
from estate.domain.places import UserGroup
from estate.window.dialogs.bulk_edit import BulkEditDialog
from estate.window.dialogs.edit_valve import FitValveDialog
from estate.window.dialogs.places import AddOutletDialog, PlaceNamesDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.models.place_choice import place_of, short_name, walk
from estate.window.pictures import settle
from tests.window.conftest import Seat, bare, seat, small_estate  # noqa: F401 - fixtures, found by name

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
PLAIN = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton


def press(widget: QWidget, key: Qt.Key, held: Qt.KeyboardModifier = PLAIN) -> None:
    widget.window().activateWindow()
    settle()
    QTest.keyClick(widget, key, held)
    settle()


def nodes(at: Seat, kind: PlaceKind) -> list[PlaceNode]:
    reading = at.window.showing.reading
    assert reading is not None
    return [each for each in walk(reading.tree) if each.kind is kind]


def node(at: Seat, kind: PlaceKind, name: str) -> PlaceNode:
    (found,) = [each for each in nodes(at, kind) if short_name(each) == name]
    return found


def click(at: Seat, place: Place, held: Qt.KeyboardModifier = PLAIN) -> None:
    """Click a place of the tree."""
    tree = at.window.panel.tree
    index = at.window.panel.model.index_of(place)
    above = index.parent()
    while above.isValid():
        tree.setExpanded(above, True)
        above = above.parent()
    settle()
    tree.scrollTo(index)
    QTest.mouseClick(tree.viewport(), LEFT, held, tree.visualRect(index).center())
    settle()


def words(at: Seat, act: str) -> str:
    return at.window.actions_[act].text().replace("&", "")


def page(at: Seat) -> OutletPage:
    found = at.window.showing.outlet
    assert found is not None
    return found


def undo(at: Seat) -> str:
    """Undo by key; what the status line says of it."""
    press(at.window, Qt.Key.Key_Z, CTRL)
    return at.window.statusBar().currentMessage()


def redo(at: Seat) -> str:
    press(at.window, Qt.Key.Key_Z, CTRL | SHIFT)
    return at.window.statusBar().currentMessage()


def typed(field: QWidget, text: str) -> None:
    field.setFocus()
    QTest.keyClicks(field, text)


def add_outlet(at: Seat, reference: str) -> None:
    press(at.window, Qt.Key.Key_N, CTRL | SHIFT)
    form = at.dialog()
    assert isinstance(form, AddOutletDialog)
    form.reference.clear()
    typed(form.reference, reference)
    typed(form.words, "basin by the door")
    assert not form.act.isEnabled()
    typed(form.use, "B")
    typed(form.user_group, "P")
    QTest.mouseClick(form.act, LEFT)
    settle()


def fit_valve(at: Seat) -> None:
    at.window.actions_["fit-valve"].trigger()
    form = at.dialog()
    assert isinstance(form, FitValveDialog)
    for field, text in (
        (form.fields.make, "Make A"),
        (form.fields.model, "A15"),
        (form.fields.serial, "A15-9001"),
        (form.fields.size_mm.line, "15"),
        (form.fields.set_c.line, "106 F"),
    ):
        typed(field, text)
    assert not form.act.isEnabled()
    assert "To be set to" in form.wrong.text()
    form.fields.set_c.line.clear()
    typed(form.fields.set_c.line, "41,0 °C")
    QTest.mouseClick(form.act, LEFT)
    settle()


def record(at: Seat) -> None:
    press(at.window, Qt.Key.Key_R, CTRL)
    form = at.dialog()
    assert isinstance(form, RecordVisitDialog)
    for name, text in (("hot_c", "60.2"), ("cold_c", "12.5"), ("left_c", "41.2")):
        typed(form.form.fields[name], text)
    press(form, Qt.Key.Key_Return, CTRL)
    press(form, Qt.Key.Key_Return)


def there(at: Seat, kind: PlaceKind, name: str) -> bool:
    return any(short_name(each) == name for each in nodes(at, kind))


def test_that_a_room_is_added_furnished_and_tested_and_each_step_is_undone_and_done_again(seat: Seat) -> None:
    level = nodes(seat, PlaceKind.LEVEL)[0]
    click(seat, place_of(level))
    assert words(seat, "add-below") == f"Add a room to {short_name(level)}…"
    press(seat.window, Qt.Key.Key_N, CTRL | SHIFT)
    form = seat.dialog()
    assert isinstance(form, PlaceNamesDialog)
    typed(form.number, "X99")
    typed(form.name, "Sluice")
    QTest.mouseClick(form.act, LEFT)
    settle()
    current = seat.window.panel.current
    assert current is not None
    assert short_name(current) == "X99 Sluice"
    add_outlet(seat, "XX/X99/WHB1")
    assert page(seat).outlet.reference == "XX/X99/WHB1"
    for what in ("add outlet XX/X99/WHB1", "add room X99 Sluice"):
        assert words(seat, "undo") == f"Undo {what}"
        assert undo(seat) == f"Undone: {what}."
    assert not there(seat, PlaceKind.ROOM, "X99 Sluice")
    for what in ("add room X99 Sluice", "add outlet XX/X99/WHB1"):
        assert words(seat, "redo") == f"Redo {what}"
        assert redo(seat) == f"Done again: {what}."
    click(seat, place_of(node(seat, PlaceKind.OUTLET, "XX/X99/WHB1")))
    assert page(seat).valve is None
    fit_valve(seat)
    valve = page(seat).valve
    assert valve is not None
    assert (valve.serial, valve.set_c, valve.size_mm) == ("A15-9001", 41.0, 15.0)
    assert undo(seat) == "Undone: fit valve at XX/X99/WHB1."
    assert page(seat).valve is None
    assert redo(seat) == "Done again: fit valve at XX/X99/WHB1."
    record(seat)
    assert words(seat, "undo") == "Undo record visit XX/X99/WHB1"
    assert undo(seat) == "Undone: record visit XX/X99/WHB1. The entry stays on record as void."
    assert [each.visit.counts for each in page(seat).history] == [False]
    assert page(seat).history[0].visit.void_reason == "undone by A. Officer"
    assert words(seat, "redo") == "Redo record visit XX/X99/WHB1"
    assert "new entry" in redo(seat)
    assert [each.visit.counts for each in page(seat).history] == [True, False]


def drag(at: Seat, what: Place, to: Place) -> str:
    """Drag a place over another and let it go there; what was said while it hung over it."""
    tree, model = at.window.panel.tree, at.window.panel.model
    click(at, what)
    tree.scrollTo(model.index_of(to))
    carried = model.mimeData([model.index_of(what)])
    spot = tree.visualRect(model.index_of(to)).center()
    told = (Qt.DropAction.MoveAction, carried, LEFT, PLAIN)
    over = tree.viewport()
    QApplication.sendEvent(over, QDragEnterEvent(spot, *told))
    QApplication.sendEvent(over, QDragMoveEvent(spot, *told))
    said = at.window.panel.found.text()
    QApplication.sendEvent(over, QDropEvent(QPointF(spot), *told))
    settle()
    return said


def page_of(at: Seat, outlet_id: int) -> OutletPage:
    desk = at.window.showing.desk
    assert desk is not None
    return desk.outlet_page(outlet_id)


def test_that_outlets_are_dragged_changed_at_once_and_brought_back_by_undo(seat: Seat) -> None:
    room, other = nodes(seat, PlaceKind.ROOM)[:2]
    outlet = room.children[0]
    name = short_name(outlet)
    before = page_of(seat, outlet.id)
    assert drag(seat, place_of(outlet), place_of(other)) == f"{name} → {short_name(other)}"
    assert seat.window.statusBar().currentMessage().startswith(f"Moved: {name} → {short_name(other)}.")
    assert outlet.id in {each.id for each in node(seat, PlaceKind.ROOM, short_name(other)).children}
    assert words(seat, "undo") == f"Undo move {name} to {short_name(other)}"
    assert undo(seat) == f"Undone: move {name} to {short_name(other)}."
    assert page_of(seat, outlet.id).outlet == before.outlet
    assert "not to there" in drag(seat, place_of(outlet), place_of(nodes(seat, PlaceKind.SITE)[0]))
    assert page_of(seat, outlet.id).outlet == before.outlet
    change_five(seat)


def change_five(seat: Seat) -> None:
    """Change five outlets at once, rename a building, and take both back."""
    reading = seat.window.showing.reading
    assert reading is not None
    at_risk = {each.outlet_id for each in reading.lines if each.user_group.at_risk}
    live = [each for each in nodes(seat, PlaceKind.OUTLET) if each.id in at_risk][:5]
    click(seat, place_of(live[0]))
    for each in live[1:]:
        click(seat, place_of(each), CTRL)
    assert seat.window.panel.found.text() == "5 outlets chosen"
    assert words(seat, "change-outlets") == "Change 5 outlets…"
    press(seat.window, Qt.Key.Key_E, CTRL | SHIFT)
    form = seat.dialog()
    assert isinstance(form, BulkEditDialog)
    typed(form.user_group, "Sta")
    assert "risk assessment" in form.caution.text()
    assert not form.act.isEnabled()
    typed(form.why, "staff rooms since the move")
    assert form.preview.text().startswith("5 outlets: user group becomes staff; ")
    QTest.mouseClick(form.act, LEFT)
    settle()
    assert {page_of(seat, each.id).outlet.user_group for each in live} == {UserGroup.STAFF}
    assert [each.id for each in seat.window.panel.picked_nodes] == [each.id for each in live]
    assert undo(seat) == "Undone: change 5 outlets."
    assert UserGroup.STAFF not in {page_of(seat, each.id).outlet.user_group for each in live[:1]}
    building = nodes(seat, PlaceKind.BUILDING)[0]
    click(seat, place_of(building))
    press(seat.window, Qt.Key.Key_F2)
    names = seat.dialog()
    assert isinstance(names, PlaceNamesDialog)
    names.name.selectAll()
    typed(names.name, "North wing")
    QTest.mouseClick(names.act, LEFT)
    settle()
    assert [short_name(each) for each in seat.window.panel.picked_nodes] == ["North wing"]
    assert undo(seat) == f"Undone: rename {short_name(building)}."
