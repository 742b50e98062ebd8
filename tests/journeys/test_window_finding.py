"""Finding things and going about at the window, over a copy of a sample estate, with real keys and clicks."""

from dataclasses import replace

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from estate.domain.due import DueLine
from estate.domain.things import Thing, ThingKind
from estate.window.main_window import MainWindow
from estate.window.models.due_rows import Wanted
from estate.window.pictures import settle
from estate.window.standing import find_windows
from estate.window.widgets.find_box import FindBox
from tests.window.conftest import Seat, bare, seat, small_estate  # noqa: F401 - fixtures, found by name

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier


def press(
    window: MainWindow, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
) -> None:
    QTest.keyClick(QApplication.focusWidget() or window, key, held)
    settle()


def box(window: MainWindow) -> FindBox:
    bar = window.finding.bar
    assert bar is not None
    return bar.box


def find(window: MainWindow, text: str) -> tuple[Thing, ...]:
    """What typing a text into the box finds."""
    window.activateWindow()
    press(window, Qt.Key.Key_F, CTRL | SHIFT)
    assert box(window).hasFocus()
    QTest.keyClicks(box(window), text)
    settle()
    assert box(window).found.isVisible()
    return box(window).found.rows.things


def lines(window: MainWindow) -> tuple[DueLine, ...]:
    reading = window.showing.reading
    assert reading is not None
    return reading.lines


def shown(window: MainWindow) -> str:
    here = window.finding.moving.here
    assert here is not None
    return here.title


def test_that_keys_alone_choose_leave_and_go_to_an_outlet_by_the_serial_of_its_valve(seat: Seat) -> None:
    window = seat.window
    before = shown(window)
    found = find(window, "mm/g/")
    press(window, Qt.Key.Key_Down)
    assert box(window).found.chosen == found[1]
    press(window, Qt.Key.Key_Up)
    press(window, Qt.Key.Key_Up)
    assert box(window).found.chosen == found[0]
    press(window, Qt.Key.Key_Escape)
    assert (box(window).found.isVisible(), shown(window)) == (False, before)
    assert not box(window).hasFocus()
    line = lines(window)[3]
    found = find(window, line.valve.split()[-1].lower())
    assert (found[0].kind, found[0].goes_to) == (ThingKind.VALVE, line.outlet_id)
    press(window, Qt.Key.Key_Return)
    page = window.showing.outlet
    assert page is not None
    assert page.outlet.id == line.outlet_id
    assert (box(window).found.isVisible(), box(window).text()) == (False, "")


def test_that_each_kind_of_thing_leads_to_its_page(seat: Seat) -> None:
    window, life = seat.window, seat.window.life
    reading = window.showing.reading
    assert reading is not None
    for kind, label, page in (
        (ThingKind.ACTION, f"action {reading.actions[-1].id}", life.actions),
        (ThingKind.PERSON, reading.people[0].name, life.people),
        (ThingKind.INSTRUMENT, reading.instruments[-1].reference, life.instruments),
        (ThingKind.SHEET, reading.batches[0].file, window.pages.batches),
    ):
        thing = next(each for each in find(window, label) if each.kind is kind)
        window.finding.go(thing)
        settle()
        assert window.showing.stack.currentWidget() is page
        assert page.listing.current_key() == thing.goes_to
    rooms = find(window, reading.tree[0].children[0].label)
    building = next(each for each in rooms if each.kind is ThingKind.BUILDING)
    window.finding.go(building)
    settle()
    assert shown(window) == reading.tree[0].children[0].label


def test_that_a_command_is_found_by_its_words_and_run(seat: Seat) -> None:
    found = find(seat.window, "trail of changes")
    assert (found[0].kind, found[0].goes_to) == (ThingKind.COMMAND, "trail")
    QTest.mouseClick(box(seat.window).found.list.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(40, 8))
    settle()
    assert seat.window.showing.stack.currentWidget() is seat.window.pages.trail


def test_that_without_a_register_commands_and_registers_opened_of_late_are_found(bare: Seat) -> None:
    assert {each.kind for each in find(bare.window, "e")} == {ThingKind.COMMAND}
    assert find(bare.window, "qqqq") == ()
    assert "Fewer letters" in box(bare.window).found.counted.text()
    late = bare.window.windows.late
    assert late is not None
    bare.preferences.change(registers=["/estates/a&b.db", "/estates/c.db"])
    late.aboutToShow.emit()
    assert [each.text() for each in late.actions()] == ["/estates/a&&b.db", "/estates/c.db"]
    bare.preferences.change(registers=[])
    late.aboutToShow.emit()
    assert [each.isEnabled() for each in late.actions()] == [False]


def test_that_back_and_forward_keep_the_filter_of_a_list(seat: Seat) -> None:
    window = seat.window
    window.showing.show_due(Wanted.ALL)
    window.pages.due.sought.setText("shower")
    window.showing.show_outlet(lines(window)[0].outlet_id)
    settle()
    window.showing.show_due(Wanted.OVERDUE)
    window.pages.due.sought.setText("")
    settle()
    press(window, Qt.Key.Key_Left, ALT)
    assert shown(window) == lines(window)[0].ref
    press(window, Qt.Key.Key_Left, ALT)
    due = window.pages.due
    assert (due.which.currentData(), due.sought.text()) == (Wanted.ALL, "shower")
    press(window, Qt.Key.Key_Right, ALT)
    assert shown(window) == lines(window)[0].ref
    QTest.mouseClick(due.listing.viewport(), Qt.MouseButton.BackButton)
    settle()
    assert window.showing.stack.currentWidget() is due


def test_that_what_was_shown_of_late_is_offered_and_kept_for_the_next_time(seat: Seat) -> None:
    window = seat.window
    line = lines(window)[2]
    window.showing.show_outlet(line.outlet_id)
    window.showing.show_due()
    settle()
    late = find(window, "")
    assert (late[0].label, late[0].state) == (line.ref, line.found)
    press(window, Qt.Key.Key_Return)
    assert shown(window) == line.ref
    bar = window.finding.bar
    assert bar is not None
    bar.fill()
    assert [each.text() for each in bar.menu.actions()][:2] == ["Due list", "Today"]
    window.seat(None)
    settle()
    (kept,) = seat.preferences.settings.spots.values()
    assert [each["title"] for each in kept][:2] == [line.ref, "Due list"]
    seat.window.actions_["sample"].trigger()
    settle()
    assert line.ref in [each.title for each in window.finding.moving.spots.recent]


def test_that_a_change_in_one_window_shows_in_the_others_at_once(seat: Seat) -> None:
    seat.window.actions_["new-window"].trigger()
    settle()
    (other,) = seat.built.further
    assert other.showing.desk is seat.window.showing.desk
    desk = other.showing.desk
    assert desk is not None
    assert shown(other) == shown(seat.window)
    before = other.showing.reading
    seat.window._notices.announce(desk.upkeep.add_person("N. Newcomer", "fitter", None, "A. Officer"))
    settle()
    reading = other.showing.reading
    assert reading is not before and reading is not None
    assert "N. Newcomer" in [each.name for each in reading.people]
    other.close()
    settle()
    assert seat.built.further == []
    assert desk.identity() == reading.identity
    assert seat.window.showing.desk is desk


def test_that_the_windows_stand_as_they_were_left(seat: Seat) -> None:
    window = seat.window
    line = lines(window)[1]
    window.showing.show_outlet(line.outlet_id)
    settle()
    window.actions_["new-window"].trigger()
    settle()
    (other,) = seat.built.further
    other.showing.show_due()
    settle()
    window.windows.quit()
    settle()
    assert not window.isVisible()
    first, second = find_windows(seat.preferences.settings.windows)
    assert first.spot is not None and second.spot is not None
    assert (first.spot.title, second.spot.title) == (line.ref, "Due list")
    assert first.unfolded
    fold = replace(first, unfolded=first.unfolded[:1])
    window.windows.take_up(fold)
    window.show()
    window.open(first.register)
    settle()
    assert shown(window) == line.ref
    assert ("site", 1) in [(kind.value, each) for kind, each in window.panel.unfolded]


def test_that_a_register_that_another_window_shows_is_shared(seat: Seat) -> None:
    seat.window.actions_["new-window"].trigger()
    settle()
    (other,) = seat.built.further
    desk = other.showing.desk
    other.seat(None)
    settle()
    assert seat.window.showing.desk is desk and desk is not None
    other.open(desk.where)
    settle()
    assert other.showing.desk is desk
    seat.window.showing.leave()
    settle()
    assert other.showing.desk is None
    desk.close()
    other.close()
    settle()
