"""The rules page: blanks to fill in, another rule set, temperatures in °F."""

from PySide6.QtTest import QTest

from estate.domain.temperature import Scale
from estate.window.dialogs.choose_rules import ChooseRulesDialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.models import limit_facts
from estate.window.pages.rules_page import RulesView
from estate.window.pictures import settle
from tests.window.conftest import Seat


def shown(rules: RulesView, place: int, row: int = 0) -> str:
    """The text of a cell of the rules page."""
    return str(rules.listing.ordered.index(row, place).data())


def choose(seat: Seat, rule_set: str) -> RulesView:
    """The rules page under another rule set, chosen by hand."""
    seat.window.actions_["rules"].trigger()
    settle()
    rules = seat.window.pages.rules
    rules.choose_button.click()
    dialog = seat.dialog()
    assert isinstance(dialog, ChooseRulesDialog)
    assert "authority having jurisdiction" in dialog.caution.text()
    assert not dialog.act.isEnabled()
    assert dialog.where.itemText(0) == "The whole estate"
    assert str(dialog.where.itemData(1)).startswith("building:")
    (place,) = [each.number for each in dialog.listing.table.rows if each.rules.id == rule_set]
    dialog.listing.selectRow(place)
    assert "are blank and not judged" in dialog.caution.text()
    dialog.act.click()
    settle()
    return rules


def test_that_another_rule_set_is_chosen_with_its_blanks_and_cautions(seat: Seat) -> None:
    rules = choose(seat, "ie-healthcare")
    assert rules.rules is not None
    assert rules.rules.id == "ie-healthcare"
    rules.sought.setText("mixed.ceiling.basin")
    assert [shown(rules, place) for place in (1, 3, 4)] == ["blank", "to be filled in", "–"]
    rules.listing.selectRow(0)
    rules.override_button.click()
    dialog = seat.dialog()
    assert isinstance(dialog, OverrideDialog)
    QTest.keyClicks(dialog.value, "110 F")
    QTest.keyClicks(dialog.why, "the group's guideline")
    dialog.act.click()
    settle()
    value = rules.rules.get("mixed.ceiling.basin")
    assert value is not None
    assert round(value.number, 3) == 43.333


def test_that_what_was_published_in_fahrenheit_stays_so_and_all_else_is_converted(seat: Seat) -> None:
    rules = choose(seat, "us-ny-nursing")
    rules.sought.setText("mixed.ceiling.basin")
    assert [shown(rules, place) for place in (1, 2)] == ["110", "°F"]
    rules.listing.selectRow(0)
    assert "Sources disagree" in rules._detail.text()
    assert "Not judged here" in rules._detail.text()
    rules.sought.setText("mixed.set-tolerance")
    assert [shown(rules, place) for place in (1, 2)] == ["2", "K"]
    seat.window.actions_["scale-F"].trigger()
    assert [shown(rules, place) for place in (1, 2)] == ["3.6", "°F"]
    assert seat.kept[-1].temperatures == "F"


def test_that_history_and_limits_are_read_in_fahrenheit_on_demand(seat: Seat) -> None:
    reading, outlet = seat.window.showing.reading, seat.window.pages.outlet
    assert reading is not None
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    hot = outlet.history.table.index(0, 3)
    celsius = float(hot.data())
    seat.window.actions_["scale-F"].trigger()
    assert outlet.history.table.columns[3].title == "Hot\n°F"
    assert abs(float(outlet.history.table.index(0, 3).data()) - (celsius * 1.8 + 32)) < 0.1
    assert outlet.page is not None
    assert outlet.page.ceiling_c is not None
    limits = {name: value for name, value, _ in limit_facts.limits_of(outlet.page, Scale.FAHRENHEIT)}
    assert limits["Never above"] == f"{outlet.page.ceiling_c * 1.8 + 32:.1f} °F"
    seat.window.actions_["scale-C"].trigger()
    assert float(outlet.history.table.index(0, 3).data()) == celsius
