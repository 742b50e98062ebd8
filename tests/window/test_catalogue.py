"""Catalogues of words: found by the person's locale, checked whole, counted as the language counts."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QApplication

from estate.domain.phrases import phrase, phrase_count, together
from estate.errors import KnownFault
from estate.window.catalogue import PLURALS, Catalogue, read_catalogue, speak, unspoken
from estate.window.translating import tr, tr_count

_GERMAN = """
plural = "one, other"

[words]
"Due list" = "Fällige"
"{late:,} of {held:,} late" = "von {held} sind {late} zu spät"
"{n:,} outlets" = ["ein Auslass", "{n} Auslässe"]
"are late." = ["ist zu spät.", "sind zu spät."]
"{stage} by {day}." = "{stage} bis {day}."
"first test" = "erste Prüfung"
"""


@pytest.fixture
def german(qapp: QApplication, tmp_path: Path) -> Iterator[Catalogue]:
    """The application, speaking German as far as it knows it."""
    (tmp_path / "de.toml").write_text(_GERMAN, encoding="utf-8")
    catalogue = speak(qapp, tmp_path, "de_AT")
    assert catalogue is not None
    yield catalogue
    qapp.removeTranslator(catalogue)


def test_that_the_window_speaks_the_language_of_the_person(german: Catalogue) -> None:
    assert tr("Due list") == "Fällige"
    assert tr("{late:,} of {held:,} late", late=2, held=9) == "von 9 sind 2 zu spät"


def test_that_what_a_catalogue_lacks_stays_english(german: Catalogue) -> None:
    assert tr("Rules in force") == "Rules in force"
    assert tr("") == ""
    assert tr_count(1, "{n:,} valve", "{n:,} valves") == "1 valve"


def test_that_counts_take_the_form_of_the_language(german: Catalogue) -> None:
    assert tr_count(1, "{n:,} outlet", "{n:,} outlets") == "ein Auslass"
    assert tr_count(1204, "{n:,} outlet", "{n:,} outlets") == "1204 Auslässe"


def test_that_sentences_of_the_domain_are_told_in_the_language_of_the_person(german: Catalogue) -> None:
    due = phrase("{stage} by {day}.", stage=phrase("first test"), day="25 Nov 2026")
    assert (due, tr(due)) == ("first test by 25 Nov 2026.", "erste Prüfung bis 25 Nov 2026.")
    assert tr("{why} Source: {source}", why=due, source="X") == "erste Prüfung bis 25 Nov 2026. Source: X"
    late = [phrase_count(n, "is late.", "are late.") for n in (1, 2)]
    assert [tr(each) for each in late] == ["ist zu spät.", "sind zu spät."]
    assert tr(together(due, "As typed.")) == "erste Prüfung bis 25 Nov 2026. As typed."
    assert tr_count(2, "{n:,} outlet", "{n:,} outlets: {why}", why=due) == (
        "2 outlets: erste Prüfung bis 25 Nov 2026."
    )


def test_that_english_is_spoken_where_there_is_no_catalogue(qapp: QApplication, tmp_path: Path) -> None:
    assert speak(qapp, tmp_path, "cy_GB") is None
    assert tr("Due list") == "Due list"


def test_that_a_language_of_a_country_comes_before_the_language(tmp_path: Path, qapp: QApplication) -> None:
    (tmp_path / "de.toml").write_text(_GERMAN, encoding="utf-8")
    (tmp_path / "de_AT.toml").write_text('[words]\n"Due list" = "Offene"\n', encoding="utf-8")
    catalogue = speak(qapp, tmp_path, "de_AT")
    assert catalogue is not None
    assert tr("Due list") == "Offene"
    qapp.removeTranslator(catalogue)


@pytest.mark.parametrize(
    ("written", "named"),
    [
        ("words = ", "de.toml"),
        ('plural = "as it likes"\n[words]', "as it likes"),
        ('plural = "one, other"', "[words]"),
        ('[words]\n"Due list" = ""', "translated by nothing"),
        ('[words]\n"Due list" = 3', "translated by nothing"),
        ('[words]\n"{late} late" = "spät"', "in braces"),
        ('[words]\n"Late" = "{late} spät"', "in braces"),
        ('[words]\n"{late} late" = "{late spät"', "{late} late"),
        ('[words]\n"{n} days" = ["Tage"]', "has 1 forms"),
        ('[words]\n"Late" = ["spät", "später", "am spätesten"]', "has 3 forms"),
    ],
)
def test_that_a_catalogue_that_does_not_fit_is_refused_whole(
    tmp_path: Path, written: str, named: str
) -> None:
    place = tmp_path / "de.toml"
    place.write_text(written, encoding="utf-8")
    with pytest.raises(KnownFault) as fault:
        read_catalogue(place)
    assert named in fault.value.detail


def test_that_a_faulty_catalogue_of_the_systems_language_is_told_and_english_spoken(
    qapp: QApplication, tmp_path: Path
) -> None:
    assert unspoken(qapp, tmp_path) is None
    place = tmp_path / f"{QLocale.system().name()}.toml"
    place.write_text("words = ", encoding="utf-8")
    fault = unspoken(qapp, tmp_path)
    assert fault is not None
    assert str(place) in fault.detail
    assert tr("Due list") == "Due list"


@pytest.mark.parametrize(
    ("way", "counts"),
    [
        ("never changes", {0: 0, 1: 0, 5: 0}),
        ("one, other", {0: 1, 1: 0, 2: 1}),
        ("none and one, other", {0: 0, 1: 0, 2: 1}),
        ("one, few, other", {1: 0, 2: 1, 4: 1, 5: 2, 22: 2}),
        ("one, few, many", {1: 0, 3: 1, 5: 2, 13: 2, 21: 2, 22: 1}),
        ("ending in one, few, many", {1: 0, 11: 2, 21: 0, 24: 1, 112: 2}),
        ("none, one, two, three, six, other", {0: 0, 1: 1, 2: 2, 3: 3, 6: 4, 4: 5}),
    ],
)
def test_that_languages_count_in_their_own_way(way: str, counts: dict[int, int]) -> None:
    forms, form = PLURALS[way]
    assert {n: form(n) for n in counts} == counts
    assert all(form(n) < forms for n in range(200))
