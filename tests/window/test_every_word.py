"""Every word that the window shows can be had in another language; the rules are shown to bite."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from estate.window.catalogue import names_in, read_catalogue
from tests import fault_wording, wording

_WINDOW = wording.window_sources()
_PHRASES = wording.phrase_sources()
Rule = Callable[[Mapping[str, str]], list[str]]


@pytest.mark.parametrize(
    "rule",
    [
        wording.not_translated,
        wording.put_together_inside,
        wording.with_other_names,
        wording.left_in_pieces,
        wording.asked_too_early,
    ],
)
def test_that_every_word_shown_goes_through_tr(rule: Rule) -> None:
    assert rule(_WINDOW) == []


@pytest.mark.parametrize(
    "rule", [wording.put_together_inside, wording.with_other_names, wording.left_in_pieces]
)
def test_that_sentences_made_below_the_window_can_be_told_in_another_language(rule: Rule) -> None:
    assert rule(_PHRASES) == []


def test_that_faults_from_below_the_window_can_be_told_in_another_language() -> None:
    assert fault_wording.put_together(fault_wording.fault_sources()) == []


@pytest.mark.parametrize(
    "lines",
    [
        'def look() -> None:\n    raise EntryFault("It is late", f"{late} days late.", "Look.")',
        'def look() -> None:\n    raise EntryFault("It is late", "So.", remedy=f"Choose {one}.")',
        'def look() -> None:\n    detail = f"{late} days late."\n    raise EntryFault("A", detail, "B")',
        'def look() -> None:\n    raise _late("It is late" if late else f"{late} days late.")\n'
        "def _late(detail: str) -> EntryFault: ...",
        '_REMEDY = f"Choose one of {KINDS}."\ndef look() -> None:\n    raise IntakeFault("A", "B", _REMEDY)',
    ],
)
def test_that_words_of_a_fault_past_phrase_are_named(lines: str) -> None:
    assert len(fault_wording.put_together({"store.late": lines})) == 1


def test_that_places_and_phrases_in_faults_are_let_by_and_whole_words_are_listed() -> None:
    lines = (
        'def look() -> None:\n    detail = "It is late."\n'
        '    raise EntryFault(phrase("No such {kind}", kind=kind), f"{path}.", detail)'
    )
    assert fault_wording.put_together({"store.late": lines}) == []
    assert fault_wording.fault_texts({"store.late": lines}) == {"It is late."}


@pytest.mark.parametrize(
    ("rule", "line"),
    [
        (wording.not_translated, 'box.setText("Overdue valves")'),
        (wording.not_translated, 'box.setToolTip(f"{count} late")'),
        (wording.not_translated, 'label(name or "Nobody named", "muted")'),
        (wording.not_translated, 'self.button("Keep" if new else tr("Change"), run)'),
        (wording.not_translated, 'self.counted.setText("Late: " + said)'),
        (wording.not_translated, 'tabs.addTab(page, "Chart")'),
        (wording.not_translated, 'raise EntryFault(tr("It can\'t be read"), f"{path}.", "Choose another.")'),
        (wording.put_together_inside, 'tr(f"{count} late")'),
        (wording.put_together_inside, 'tr_count(n, "{n} day", f"{n} days")'),
        (wording.asked_too_early, 'TITLE = tr("Due list")'),
        (wording.asked_too_early, 'class View:\n    title = tr("Due list")'),
        (wording.asked_too_early, 'def show(title: str = tr("Due list")) -> None: ...'),
        (wording.left_in_pieces, 'tr("by {who} ", who=who)'),
        (wording.left_in_pieces, 'tr_count(n, ", {n:,} day", "{n:,} days")'),
        (wording.put_together_inside, 'phrase(f"{count} late")'),
        (wording.put_together_inside, 'phrase_count(n, "{n} day", f"{n} days")'),
        (wording.left_in_pieces, 'phrase(", {late:,} late", late=3)'),
        (wording.with_other_names, 'phrase("{late:,} days late", days=3)'),
        (wording.with_other_names, 'phrase_count(n, "{n:,} day", "{n:,} days, {when}", when=when)'),
        (wording.with_other_names, 'tr("{late:,} days late", days=3)'),
        (wording.with_other_names, 'tr("{late:,} of {held:,}", late=3)'),
        (wording.with_other_names, 'tr_count(n, "{n:,} day", "{n:,} days, {when}", when=when)'),
    ],
)
def test_that_words_past_tr_are_named(rule: Rule, line: str) -> None:
    assert len(rule({"window.page": line})) == 1


@pytest.mark.parametrize(
    "line",
    [
        'box.setText(tr("{late:,} days late", late=late))',
        'label(line.words, "muted")',
        'label("", "strong", wraps=True)',
        'label("ml/min", "muted")',
        'self.field.setText(f"{value:.1f} °C")',
        'raise EntryFault(tr("It can\'t be read"), f"{path}: {error}.", tr("Choose another."))',
        'tr_count(n, "{n:,} day of {held}", "{n:,} days of {held}", held=held)',
    ],
)
def test_that_data_units_and_kinds_are_let_by(line: str) -> None:
    rules = (wording.not_translated, wording.put_together_inside, wording.with_other_names)
    assert [rule({"window.page": line}) for rule in rules] == [[], [], []]


def test_that_every_text_of_the_window_can_be_looked_up_and_put_in() -> None:
    found = wording.texts(_WINDOW | _PHRASES)
    assert "Overdue" in found
    assert "are past their test window." in found
    assert "{n:,} days late" in found
    assert "satisfactory" in found
    assert "No such outlet" in found
    assert all(text.count("{") == text.count("}") for text in found)


def test_that_a_catalogue_filled_in_whole_is_taken(tmp_path: Path) -> None:
    found = wording.texts(_WINDOW | _PHRASES)
    told = {text: [f"a {text}", f"b {text}"] if "n" in names_in(text) else f"a {text}" for text in found}
    place = tmp_path / "xx.toml"
    place.write_text(wording.catalogue(found, {"words": told}), encoding="utf-8")
    read = read_catalogue(place)
    wanted = {text: forms[1] if isinstance(forms, list) else forms for text, forms in told.items()}
    assert {text: read.translate("window", text, None, 2) for text in told} == wanted


def test_that_a_catalogue_is_listed_with_what_is_translated_already() -> None:
    counted = wording.going_with_a_count({"domain.late": 'phrase_count(n, "is late.", "are late.")'})
    found = ["are late.", "Due list", "{n:,} days"]
    listed = wording.catalogue(found, {"words": {"Due list": "Fällige"}}, counted)
    assert listed == (
        'plural = "one, other"\n\n[words]\n# "are late." = []\n"Due list" = "Fällige"\n# "{n:,} days" = []\n'
    )
