from datetime import date

import pytest

from estate.domain.rules.loading import parse, parse_every
from estate.domain.rules.values import RuleSource
from estate.errors import RuleFault
from tests.domain.rules.rule_text import CEILING, HEAD, PIPE, RETEST, WHOLE, dated


def refused(text: str) -> str:
    """What the fault says about a text that must be refused."""
    with pytest.raises(RuleFault) as fault:
        parse(text, "trial.toml")
    assert fault.value.detail.startswith("trial.toml: ")
    assert fault.value.remedy
    return fault.value.detail


def changed(old: str, new: str, text: str = WHOLE) -> str:
    """The text with one thing changed."""
    assert old in text
    return text.replace(old, new)


def test_that_a_whole_file_gives_its_head_and_values() -> None:
    rules = parse(WHOLE + PIPE + RETEST, "trial.toml")
    assert (rules.id, rules.title, rules.edition) == ("trial", "Trial rules", "1")
    assert rules.scope == "Nothing but tests."
    assert rules.cautions == ("Scald: measure first.",)
    assert set(rules.values) == {"mixed.ceiling.basin", "pipe.blended", "retest.put-right.to"}
    value = rules.values["mixed.ceiling.basin"]
    assert (value.key, value.value, value.unit) == ("mixed.ceiling.basin", 43.0, "degC")
    assert value.source == RuleSource("A book", "first", "table 2")
    assert (value.fact, value.verified, value.effective) == ("D08-32", False, date(2012, 7, 1))
    assert value.override is None


def test_that_a_text_value_stays_text() -> None:
    text = changed('"mixed.ceiling.basin"', '"class.needed.patients"')
    text = changed('unit = "degC"', 'unit = "class"', changed("value = 43", 'value = "3"', text))
    assert parse(text, "trial.toml").values["class.needed.patients"].value == "3"


def test_that_a_missing_key_is_simply_not_there() -> None:
    rules = parse(WHOLE, "trial.toml")
    assert rules.get("mixed.ceiling.bath") is None
    assert rules.number("mixed.ceiling.bath") is None


def test_that_the_values_can_not_be_changed_afterwards() -> None:
    values = parse(WHOLE, "trial.toml").values
    with pytest.raises(TypeError):
        values["mixed.ceiling.basin"] = values["mixed.ceiling.basin"]  # type: ignore[index]  # what is tested


@pytest.mark.parametrize(
    ("on", "expected"),
    [
        (date(2012, 6, 30), None),
        (date(2012, 7, 1), 43.0),
        (date(2025, 12, 31), 43.0),
        (date(2026, 1, 1), 42.0),
        (date(2027, 3, 1), 42.0),
        (None, 42.0),
    ],
)
@pytest.mark.parametrize("order", [1, -1])
def test_that_the_newest_value_in_force_on_the_day_applies(
    on: date | None, expected: float | None, order: int
) -> None:
    values = [(43.0, "2012-07-01"), (42.0, "2026-01-01")][::order]
    assert parse(dated(*values), "trial.toml", on).number("mixed.ceiling.basin") == expected


def test_that_two_values_of_the_same_day_are_refused() -> None:
    detail = refused(dated((43.0, "2012-07-01"), (42.0, "2012-07-01")))
    assert "mixed.ceiling.basin: effective is '2012-07-01 twice'" in detail


def test_that_an_older_dated_value_is_checked_too() -> None:
    assert "430" in refused(dated((430.0, "2012-07-01"), (42.0, "2026-01-01")))


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('"mixed.ceiling.basin"', '"mixed.ceiling.sink"', "mixed.ceiling.sink: key is"),
        (
            "value = 43",
            "value = 430",
            "mixed.ceiling.basin: value is 430; expected a number of degC from 20 to 50",
        ),
        ("value = 43", 'value = "43"', "value is '43'"),
        ("value = 43", "value = true", "value is True"),
        ("value = 43", "value = nan", "value is nan"),
        ("value = 43\n", "", "value is missing"),
        ('unit = "degC"', 'unit = "K"', "unit is 'K'; expected \"degC\""),
        ('fact = "D08-32"', 'fact = "somewhere"', "fact is 'somewhere'"),
        ('fact = "D08-32"', "fact = 32", "fact is 32"),
        ('fact = "D08-32"', 'fact = "OWN"', "source.document is 'A book'"),
        ('fact = "D08-32"', 'fact = "TP-01"', "source.document is 'A book'"),
        ('"A book"', '"common practice, no source"', "fact is 'D08-32'"),
        ('"A book"', '""', "source.document is ''"),
        ('"A book"', "7", "source.document is 7"),
        ('edition = "first"', "edition = 1", "source.edition is 1"),
        (', clause = "table 2"', "", "source.clause is missing"),
        ('clause = "table 2"', 'clause = "table 2", page = 3', "source.page is 3"),
        ('{ document = "A book", edition = "first", clause = "table 2" }', '"A book"', "source is 'A book'"),
        ("verified = false", 'verified = "no"', "verified is 'no'"),
        ("verified = false\n", "", "verified is missing"),
        ("effective = 2012-07-01", 'effective = "2012-07-01"', "effective is '2012-07-01'; expected a date"),
        ("effective = 2012-07-01", "effective = 2012-07-01T09:00:00", "effective is datetime"),
        ('note = ""', "note = 0", "note is 0"),
        ('note = ""', 'note = ""\ncolour = "red"', "colour is 'red'"),
    ],
)
def test_that_a_wrong_value_is_refused_with_its_key_and_what_is_expected(
    old: str, new: str, named: str
) -> None:
    detail = refused(changed(old, new))
    assert named in detail
    assert "; expected " in detail
    assert "mixed.ceiling." in detail


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('id = "trial"', 'id = "another"', "id is 'another'"),
        ('title = "Trial rules"\n', "", "title is missing"),
        ('title = "Trial rules"', 'title = " "', "title is ' '"),
        ('edition = "1"', "edition = 1", "edition is 1"),
        ('edition = "1"', 'edition = "1"\nauthor = "me"', "author is 'me'"),
        ('cautions = ["Scald: measure first."]', "cautions = []", "cautions is []"),
        ('cautions = ["Scald: measure first."]', 'cautions = "Scald"', "cautions is 'Scald'"),
        ('cautions = ["Scald: measure first."]', 'cautions = [""]', "cautions is ''"),
    ],
)
def test_that_a_wrong_head_is_refused(old: str, new: str, named: str) -> None:
    detail = refused(changed(old, new))
    assert named in detail
    assert "the file's head" in detail


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ("values = 3\n", "values is 3"),
        ("[values]\n", "values is {}"),
        ("", "values is missing"),
        ('[values]\n"pipe.blended" = []\n', "values is []"),
        ('[values]\n"pipe.blended" = 2\n', "the entry is 2"),
        ("[values.pipe]\nblended = 2\n", "pipe: key is 'pipe'"),
    ],
)
def test_that_values_in_another_shape_are_refused(values: str, named: str) -> None:
    assert named in refused(HEAD + values)


@pytest.mark.parametrize("entry", [PIPE, RETEST])
def test_that_nothing_without_a_published_source_can_be_called_verified(entry: str) -> None:
    assert "verified is True" in refused(HEAD + changed("verified = false", "verified = true", entry))


def test_that_a_key_written_twice_is_refused_with_its_place() -> None:
    detail = refused(WHOLE + CEILING)
    assert "not valid TOML" in detail
    assert "line" in detail


def test_that_a_set_temperature_above_its_ceiling_is_refused() -> None:
    set_c = CEILING.replace("mixed.ceiling.basin", "mixed.set.basin").replace("value = 43", "value = 44")
    assert "mixed.set.basin: value is 44.0; expected at most 43.0 degC" in refused(WHOLE + set_c)


def test_that_several_files_are_loaded_by_id() -> None:
    other = changed('id = "trial"', 'id = "other"')
    rules = parse_every({"trial.toml": WHOLE, "other.toml": other}, date(2026, 11, 25))
    assert list(rules) == ["other", "trial"]
    assert rules["other"].number("mixed.ceiling.basin") == 43


def test_that_two_files_with_the_same_id_are_refused() -> None:
    with pytest.raises(RuleFault) as fault:
        parse_every({"a/trial.toml": WHOLE, "b/trial.toml": WHOLE})
    assert "b/trial.toml: id is 'trial', which another file holds already" in fault.value.detail
