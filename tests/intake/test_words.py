"""The words file, and its strict reading."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from estate.assets import resource
from estate.domain.layouts import SheetKind
from estate.domain.places import Use
from estate.errors import IntakeFault
from estate.intake.headings import understand
from estate.intake.words import fold, phrase
from estate.intake.words_file import load

TEXT = resource("intake", "words.toml").read_text(encoding="utf-8")
WORDS = load()


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
        ("[weekdays]", "[workdays]", "workdays"),
        ('7 = ["sunday"', '8 = ["sunday"', "missing or unknown: 7, 8"),
        ('7 = ["sunday"', '7 = ["monday", "sunday"', "shares the word “monday”"),
        ("[not_read]", "[not_read]\nmore = []", "missing or unknown: more"),
        ("other_days = [", "any_days = [", "missing or unknown: any_days, other_days"),
        ('last = ["standort"]', 'last = ["standort", 1]', "must be a list of texts"),
        ('told = ["cold flow", ', 'told = ["hot", "cold flow", ', "shares the phrase “hot”"),
        ('last = ["standort"]', 'last = ["standort", "outlet"]', "shares the phrase “outlet (last)”"),
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


@pytest.mark.parametrize("kind", SheetKind)
def test_that_no_phrase_of_a_heading_stands_for_two_fields_of_one_dimension(kind: SheetKind) -> None:
    taken: dict[tuple[str, str], str] = {}
    for field in WORDS.fields[kind]:
        for each in field.phrases | field.weak | field.told:
            assert taken.setdefault((each, field.dimension), field.name) == field.name


@pytest.mark.parametrize(
    "pair",
    [
        *[f"yes/{other}" for other in ("no", "absent", "ditto", "no_access")],
        *[f"no/{other}" for other in ("absent", "nil", "no_access")],
        *[f"absent/{other}" for other in ("same", "ditto", "nil", "trace", "no_access")],
        *[f"dash/{other}" for other in ("same", "ditto", "nil")],
        *["so/not_so", "same/ditto", "nil/trace", "no_access/no_test"],
    ],
)
def test_that_answers_that_exclude_each_other_share_no_word(pair: str) -> None:
    first, second = (WORDS.answers[name] for name in pair.split("/"))
    assert first & second == set()


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Valve ID No.", "reference"),
        ("Equipment ref", "reference"),
        ("Mischer-Nr.", "reference"),
        ("N° mitigeur", "reference"),
        ("Codice valvola", "reference"),
        ("Register key", "key"),
        ("Inspection date", "on"),
        ("Datum der Wartung", "on"),
        ("Date d'intervention", "on"),
        ("Fecha", "on"),
        ("HWS temp. °C", "hot_c"),
        ("Hot flow temp. (°C)", "hot_c"),
        ("Zulauftemperatur warm [°C]", "hot_c"),
        ("Arrivée ECS °C", "hot_c"),
        ("Temperatura acqua fredda °C", "cold_c"),
        ("Kaltwassertemperatur °C", "cold_c"),
        ("Blend temp. before adj.", "found_c"),
        ("Mischtemperatur vorgefunden", "found_c"),
        ("Température mitigée constatée", "found_c"),
        ("Final mixed temp", "left_c"),
        ("Mischtemperatur nach Justierung", "left_c"),
        ("Mitigée laissée", "left_c"),
        ("Mezclada después", "left_c"),
        ("Peak temp. after cold isolation °C", "cold_isolated.max_c"),
        ("Residual flow after cold isolation, ml/min", "cold_isolated.residual_ml_min"),
        ("Leckmenge ml/min", "cold_isolated.residual_ml_min"),
        ("Time to shut down (s)", "cold_isolated.shut_s"),
        ("Temps de coupure s", "cold_isolated.shut_s"),
        ("Fail-safe test (P/F)", "cold_isolated.said_to_shut"),
        ("Verbrühungsschutz i.O.", "cold_isolated.said_to_shut"),
        ("Test coupure eau froide", "cold_isolated.said_to_shut"),
        ("Hot failure test OK", "hot_isolated.said_to_shut"),
        ("Strainers cleaned Y/N", "strainers_cleaned"),
        ("Schmutzfänger gereinigt", "strainers_cleaned"),
        ("Hot dynamic (bar)", "hot_flow_bar"),
        ("Hot flow (bar)", "hot_flow_bar"),
        ("Débit l/min", "flow_l_min"),
        ("Name of engineer", "person"),
        ("Durchgeführt von", "person"),
        ("Intervenant", "person"),
        ("Messgeräte-Nr.", "instrument"),
        ("Comments / actions", "remarks"),
        ("Gebäude", "building"),
        ("Étage", "level"),
        ("Zimmer-Nr.", "room_number"),
        ("Location", "room"),
        ("Standort", "room"),
        ("Type of outlet", "outlet"),
        ("Outlet", "reference"),
        ("Hot flow", None),
        ("Hot flow temp.", "hot_c"),
        ("Cold flow temperature", "cold_c"),
        ("Temp. of residual flow", "cold_isolated.residual_c"),
        ("Previous hot °C", None),
        ("Set point °C", None),
    ],
)
def test_that_headings_of_several_languages_are_known(heading: str, field: str | None) -> None:
    (column,) = understand([(0, heading)], WORDS, SheetKind.VISITS)
    assert (column.field.name if column.field else None) == field


@pytest.mark.parametrize(
    ("heading", "aside"),
    [
        ("Set temp", True),
        ("Max. allowed °C", True),
        ("Previous result", True),
        ("Grenzwert °C", True),
        ("Nächste Prüfung fällig", True),
        ("Consigne °C", True),
        ("Next due", True),
        ("Serial no.", True),
        ("H1", False),
        ("Temperature", False),
        ("", False),
    ],
)
def test_that_columns_that_hold_no_reading_of_the_visit_are_set_aside(heading: str, aside: bool) -> None:
    assert WORDS.is_set_aside(heading) is aside


def test_that_a_last_phrase_is_found_only_as_such() -> None:
    named = WORDS.named_last(SheetKind.VISITS, "outlet")
    assert named is not None
    assert named.name == "outlet"
    assert WORDS.named_last(SheetKind.VISITS, "ref") is None


def test_that_months_and_weekdays_count_from_one() -> None:
    assert [WORDS.months[fold(name)] for name in ("Januar", "août", "Dic")] == [1, 8, 12]
    assert [WORDS.weekdays[fold(name)] for name in ("Mo", "mardi", "Sun", "Sonnabend")] == [1, 2, 7, 6]


def test_that_a_text_with_a_digit_gives_an_answer_only_where_one_has_a_digit() -> None:
    assert WORDS.answered("yes", " Yes ")
    assert not WORDS.answered("yes", "yes 1")
    graded = replace(WORDS, answers={**WORDS.answers, "yes": frozenset({"grade 1"})})
    assert graded.answered("yes", "Grade 1")
    assert not graded.answered("yes", "Grade 1?")
    assert not graded.answered("no", "no 1")
