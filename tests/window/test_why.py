"""Why a limit or a date is what it is: said in place, for every one that there is."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from estate.domain.field_limits import FieldLimit
from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.values import Override
from estate.window.models import explaining
from estate.window.widgets.visit_form import Background, VisitForm
from estate.window.widgets.why import Limits
from estate.window.widgets.window_band import WindowBand
from tests.builders import healthcare
from tests.window.builders import TODAY, page

CEILING = "mixed.ceiling.basin"
REASONS = ("drift", "drift-put-right", "shut-off", "stage-1", "retest-not-tested", "never-tested", "no-rule")
REASONS_TOO = ("shown-interval", "longest-interval", "strainers")


def test_that_every_limit_is_explained_in_words_of_our_own() -> None:
    value = healthcare().values[CEILING]
    assert [key for key in CATALOGUE if not explaining.of_value(replace(value, key=key)).means] == []


@pytest.mark.parametrize("code", (*REASONS, *REASONS_TOO))
def test_that_every_reason_of_a_date_is_explained(code: str) -> None:
    told = explaining.of_reason(code, "D08-80", ("Make the test.",))
    assert len(told.means) == 1
    assert told.sources == ("D08-80",)
    assert "Make the test." in told.words


def test_that_a_limit_says_where_it_comes_from_and_whether_that_was_verified() -> None:
    value = replace(healthcare().values[CEILING], verified=False)
    doubtful, sure = explaining.of_value(value), explaining.of_value(replace(value, verified=True))
    assert doubtful.sources == (value.shown_source,)
    assert "Nobody has checked this number" in doubtful.standing
    assert "Nobody" not in sure.standing
    assert "The site can use its own value" in sure.standing
    assert "scalds" in sure.caution


def test_that_a_value_of_the_sites_own_says_who_chose_it_and_why() -> None:
    value = healthcare().values[CEILING]
    at = datetime(2026, 11, 3, 9, tzinfo=UTC)
    own = Override("uk-healthcare", CEILING, "estate", 42.0, "A. Officer", at, "water safety group")
    told = explaining.of_value(replace(value, value=42.0, override=own))
    assert "A. Officer" in told.sources[0]
    assert "water safety group" in told.sources[0]
    assert "The site uses its own value" in told.standing
    assert "can use" not in told.standing


def test_that_a_blank_limit_is_explained_all_the_same() -> None:
    told = explaining.of_limit(("mixed.set",), "")
    assert told.means
    assert told.sources == ()
    assert explaining.of_field("no_such_field", ()).means == ()
    assert explaining.of_reason("unheard-of", "").words == ""


@pytest.fixture
def limits(qtbot: QtBot) -> Limits:
    made = Limits()
    qtbot.addWidget(made)
    ceiling = explaining.of_limit(("mixed.ceiling",), "D08-33")
    made.tell([("Never above", "43.0 °C", ceiling), ("Rule set", "uk-healthcare", None)])
    made.show()
    return made


def _said(limits: Limits) -> str:
    return "\n".join(each.text() for each in limits.findChildren(QLabel))


def test_that_why_is_shown_and_hidden_by_keyboard_and_stays_open_when_told_anew(limits: Limits) -> None:
    (why,) = limits.why.values()
    assert why.accessibleName() == "Why? Never above"
    assert not why.explains
    assert "scalds" not in _said(limits)
    why.setFocus()
    QTest.keyClick(why, Qt.Key.Key_Space)
    assert why.explains
    assert "scalds" in _said(limits)
    limits.tell([("Never above", "42.0 °C", explaining.of_limit(("mixed.ceiling",), "D08-33"))])
    assert limits.why["Never above"].explains
    limits.why["Never above"].click()
    assert not limits.why["Never above"].explains


def test_that_a_field_explains_its_limit_by_a_question_mark_one_at_a_time(qtbot: QtBot) -> None:
    known = {"hot_c": FieldLimit("55 to 65", ("HSE-01: a",)), "found_c": FieldLimit("≤ 43", ("D08-33: b",))}
    form = VisitForm(Background(limits=known), TODAY)
    qtbot.addWidget(form)
    form.show()
    QTest.keyClicks(form.fields["hot_c"], "60?")
    assert form.fields["hot_c"].value() == 60
    assert form.whys.buttons["hot_c"].explains
    QTest.keyClick(form.fields["found_c"], Qt.Key.Key_F1, Qt.KeyboardModifier.ShiftModifier)
    assert [name for name, each in form.whys.buttons.items() if each.explains] == ["found_c"]
    form.whys.buttons["hot_c"].click()
    assert [name for name, each in form.whys.buttons.items() if each.explains] == ["hot_c"]
    QTest.keyClicks(form.fields["hot_c"], "?")
    assert not any(each.explains for each in form.whys.buttons.values())


def test_that_the_next_date_says_what_its_reason_means_and_what_would_change_it(qtbot: QtBot) -> None:
    band = WindowBand()
    qtbot.addWidget(band)
    band.tell(page(would_change=("Making the test moves on to the next stage.",)), TODAY)
    assert "commissioned not long ago" in band.why.toolTip()
    assert "Making the test moves on" in band.why.toolTip()
    band.why.click()
    assert band.why.explains
    band.tell(page(), TODAY)
    assert not band.why.explains
    band.tell(page(window=None), TODAY)
    assert band.why.isHidden()
