from datetime import UTC, date, datetime

import pytest

from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.listing import blank, blanks, days, how_sure, listed, sureness, told
from estate.domain.rules.loading import parse
from estate.domain.rules.overlay import lay_over
from estate.domain.rules.typed import typed_value
from estate.domain.rules.values import Override, RuleSet
from estate.domain.temperature import Scale
from tests.domain.rules.rule_text import CEILING, PIPE, RETEST, WHOLE, dated

KEY = "mixed.ceiling.basin"
FAHRENHEIT = CEILING.replace("value = 43", "value = 110").replace("degC", "degF")

_CLASS = PIPE.replace("pipe.blended", "class.needed.staff").replace('"m"', '"class"')
NEEDED = _CLASS.replace("value = 2", 'value = "2"')


def made(value: float, key: str = KEY) -> Override:
    """A value of the site's own."""
    at = datetime(2026, 11, 25, tzinfo=UTC)
    return Override("trial", key, "estate", value, "A. Warden", at, "decided")


def rules(text: str = WHOLE + PIPE + RETEST) -> RuleSet:
    """A small rule set."""
    return parse(text, "trial.toml")


def test_that_each_dated_value_is_listed_until_the_site_has_its_own() -> None:
    trial = rules(dated((44.0, "2012-07-01"), (42.0, "2026-01-01")) + PIPE)
    assert [each.value for each in listed(trial)] == [44, 42, 2]
    assert [each.value for each in listed(lay_over(trial, [made(41)], ["estate"]))] == [41, 2]


def test_that_every_key_is_either_listed_or_blank_or_left_aside() -> None:
    trial = rules('left_aside = [".type-2"]\n' + WHOLE)
    keys = [each.key for each in (*listed(trial), *blanks(trial))]
    assert set(keys) == {key for key in CATALOGUE if ".type-2" not in key}
    assert len(keys) == len(set(keys))


def test_that_a_value_says_how_sure_it_is() -> None:
    own = lay_over(rules(), [made(42)], ["estate"])
    said = {each.key: sureness(each) for each in (*listed(own), blank("mixed.set.basin"))}
    assert said == {
        KEY: "site's own",
        "pipe.blended": "common practice, no source",
        "retest.put-right.to": "this register's own default, no published source",
        "mixed.set.basin": "blank",
    }
    assert sureness(rules().values[KEY]) == "second-hand, not verified in the source"
    seen = rules(WHOLE.replace("verified = false", "verified = true"))
    assert sureness(seen.values[KEY]) == "seen in the source itself"


def test_that_values_are_counted_by_how_sure_they_are() -> None:
    sure = how_sure(rules())
    assert (sure.seen, sure.second_hand, sure.without_source) == (0, 1, 2)
    assert sure.blank == len(CATALOGUE) - 3
    assert "1 of its values are second-hand" in sure.caution
    assert how_sure(lay_over(rules(), [made(42)], ["estate"])).second_hand == 0


@pytest.mark.parametrize(
    ("text", "celsius", "fahrenheit"),
    [
        (CEILING, "43 °C", "109.4 °F"),
        (FAHRENHEIT, "110 °F (43.3333 °C)", "110 °F"),
        (PIPE, "2 m", "2 m"),
        (PIPE.replace("pipe.blended", "change.small").replace('"m"', '"K"'), "2 K", "3.6 °F"),
        (NEEDED, "Type 2", "Type 2"),
    ],
)
def test_that_a_value_is_told_with_its_unit(text: str, celsius: str, fahrenheit: str) -> None:
    (value,) = listed(rules(WHOLE.replace(CEILING, "") + text))
    assert (told(value), told(value, Scale.FAHRENHEIT)) == (celsius, fahrenheit)


def test_that_a_person_and_a_blank_are_told_in_words() -> None:
    assert told(blank(KEY)) == "blank"
    assert days(blank(KEY)) == ""
    assert blank(KEY).shown_source == "to be filled in by the site, with its source"


def test_that_the_days_of_a_value_are_told() -> None:
    text = dated((44.0, "2012-07-01")).replace(
        "effective = 2012-07-01", 'effective = 2012-07-01\nuntil = 2026-01-01\nchosen_by = "fitting"'
    )
    assert days(rules(text).values[KEY]) == "fitted from 1 Jul 2012 to 1 Jan 2026"
    assert days(rules().values[KEY]) == "from 1 Jul 2012"


def test_that_a_value_of_the_sites_own_over_one_in_fahrenheit_is_in_celsius() -> None:
    laid = lay_over(rules(WHOLE.replace(CEILING, FAHRENHEIT)), [made(43.0)], ["estate"]).values[KEY]
    assert (laid.value, laid.unit, laid.number, laid.in_catalogue_unit) == (43.0, "degC", 43.0, 43.0)


def test_that_a_published_text_is_given_as_it_is() -> None:
    text = (
        PIPE.replace("pipe.blended", "class.needed.staff")
        .replace('"m"', '"class"')
        .replace("= 2\n", '= "2"\n')
    )
    assert rules(WHOLE + text).values["class.needed.staff"].in_catalogue_unit == "2"


@pytest.mark.parametrize(
    ("key", "written", "value"),
    [
        (KEY, "43,5", 43.5),
        (KEY, "110 °F", 390 / 9),
        (KEY, "110f", 390 / 9),
        (KEY, "warm F", "warm F"),
        (KEY, "warm", "warm"),
        ("change.small", "9 °F", 5.0),
        ("pipe.blended", "2 F", "2 F"),
        ("class.needed.staff", " 3 ", "3"),
        ("mixed.ceiling.sink", "43", 43.0),
    ],
)
def test_that_a_typed_value_is_read_in_its_unit(key: str, written: str, value: float | str) -> None:
    expected = pytest.approx(value) if isinstance(value, float) else value
    assert typed_value(key, written) == expected


def test_that_the_newest_rules_apply_from_the_day_of_the_last_change() -> None:
    assert rules().newest_from == date(2012, 7, 1)
