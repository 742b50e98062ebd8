"""The words file, and its strict reading."""

import re
from pathlib import Path

import pytest

from estate.assets import resource
from estate.domain.places import Use
from estate.errors import IntakeFault
from estate.intake.words import fold, phrase
from estate.intake.words_file import load

TEXT = resource("intake", "words.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("[months]", "[moons]", "moons"),
        ("fillers = [", "fillers = [1, ", "fillers: must be a list of texts"),
        ("[dimensions]", "dimensions = 1\n[other]", "other"),
        ('standard = "celsius", assumed = true', 'standard = "celsius", assumed = 1', "must be of type bool"),
        ('standard = "celsius"', 'standard = "fahrenheit"', "its standard is no unit"),
        ('standard = "celsius", ', "", "missing or unknown: standard"),
        (
            'dimensions = ["pressure"]\nwritten = ["kpa"]',
            'dimensions = ["weight"]\nwritten = ["kpa"]',
            "unknown dimension weight",
        ),
        ("divide = 100.0\n\n[units.l_min]", "share = 100.0\n\n[units.l_min]", "missing or unknown: share"),
        ("[visits.person]", "[visits.purson]", "unknown field purson"),
        ('[visits.person]\nholds = "text"', '[visits.person]\nholds = "soup"', "holds must be one of"),
        (
            '[visits.person]\nholds = "text"',
            '[visits.person]\nholds = "number"',
            "if and only if it holds numbers",
        ),
        (
            '[visits.person]\nholds = "text"\nwords = [',
            '[visits.person]\nholds = "text"\nwords = ["ref", ',
            "shares the phrase “ref”",
        ),
        ('1 = ["january"', '13 = ["january"', "missing or unknown: 1, 13"),
        ('bidet = ["bidet"', 'bidet = ["shower"', "shares the word “shower”"),
        ('bidet = ["bidet"', 'beaker = ["bidet"', "missing or unknown: beaker, bidet"),
        ("[choices.use]", "[choices.uses]", "missing or unknown: use, uses"),
        ("yes = [", "yep = [", "missing or unknown: yep, yes"),
        ("[units.bar]", "[units.bar", "the file"),
    ],
)
def test_that_a_damaged_words_file_is_refused_by_key(tmp_path: Path, old: str, new: str, told: str) -> None:
    assert old in TEXT
    path = tmp_path / "words.toml"
    path.write_text(TEXT.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(IntakeFault) as fault:
        load(path)
    assert "words.toml" in fault.value.detail
    assert told in fault.value.detail


@pytest.mark.parametrize(
    ("table", "line"),
    [
        ("dimensions", "dimensions = 1"),
        ("units", "units = {bar = 1}"),
        ("choices", "choices = {use = 1, kind = 1, user_group = 1, scheme_class = 1, en_type = 1}"),
    ],
)
def test_that_what_must_be_a_table_is_one(tmp_path: Path, table: str, line: str) -> None:
    parts = re.split(r"(?m)^(?=\[)", TEXT)
    kept = [part for part in parts if not part.startswith((f"[{table}]", f"[{table}."))]
    path = tmp_path / "words.toml"
    path.write_text(line + "\n" + "".join(kept), encoding="utf-8")
    with pytest.raises(IntakeFault, match="must be a table"):
        load(path)


def test_that_a_missing_words_file_is_a_known_fault(tmp_path: Path) -> None:
    with pytest.raises(IntakeFault, match="damaged"):
        load(tmp_path / "none.toml")


def test_that_every_use_is_known_by_its_own_name() -> None:
    uses = load().choices["use"]
    assert {uses[fold(use.value)] for use in Use} == {use.value for use in Use}


def test_that_folding_drops_case_accents_and_punctuation_but_no_tick() -> None:
    assert fold("  Température  (GEPRÜFT) ") == "temperature gepruft"
    assert fold("✔\ufe0f") == "✔"
    assert fold(" - ") == "-"
    assert fold("É" * 1000) == "e" * 1000
    assert phrase("Temp. of the HOT water, in", load().fillers) == "hot"
