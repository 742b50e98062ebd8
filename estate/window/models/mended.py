"""Why an entry does not count, or which one it corrects: original and correction side by side."""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any, Final

from estate.domain.browsing import HistoryLine
from estate.domain.visits import Standing, VisitDraft, measured
from estate.window import words
from estate.window.translating import said, tr

_NOT_TOLD: Final = frozenset({"readings", "source", "valve_id", "outlet_id"})
_NAMES: Final = {
    "hot_c": said("hot °C"),
    "cold_c": said("cold °C"),
    "found_c": said("found °C"),
    "left_c": said("left °C"),
    "on": said("day"),
    "person": said("person"),
    "kind": said("kind"),
    "instrument_id": said("instrument"),
}


def mended_words(line: HistoryLine, history: Sequence[HistoryLine]) -> str:
    """What is said of an entry that is void, corrected, or corrects another; empty of any other.

    Args:
        line: the entry.
        history: all entries of the outlet.
    """
    visit = line.visit
    said = []
    if visit.standing is Standing.VOID:
        said.append(tr("Void: {void_reason}", void_reason=visit.void_reason))
    later = next((each for each in history if each.visit.corrects == visit.id), None)
    if later is not None:
        by = f"{later.visit.recorded_by}, {words.moment(later.visit.recorded_at)}"
        said.append(tr("Corrected by {by}: {changed}.", by=by, changed=changed_words(line, later)))
    earlier = next((each for each in history if each.visit.id == visit.corrects), None)
    if earlier is not None:
        by = f"{earlier.visit.recorded_by}, {words.moment(earlier.visit.recorded_at)}"
        said.append(tr("Corrects the entry by {by}: {changed}.", by=by, changed=changed_words(earlier, line)))
    return "\n".join(said)


def changed_words(earlier: HistoryLine, later: HistoryLine) -> str:
    """What a correction changed: each value before and after."""
    before, after = _values(earlier.visit.draft), _values(later.visit.draft)
    names = [*after, *(each for each in before if each not in after)]
    told = [
        f"{_name(each)} {_shown(before.get(each))} → {_shown(after.get(each))}"
        for each in names
        if before.get(each) != after.get(each)
    ]
    return words.listed(told) or tr("nothing measured was changed")


def _values(draft: VisitDraft) -> Mapping[str, Any]:
    read = measured(draft.readings)
    own = {each.name: getattr(draft, each.name) for each in fields(draft) if each.name not in _NOT_TOLD}
    return read | own


def _name(name: str) -> str:
    return tr(_NAMES.get(name, name.replace(".", " ").replace("_", " ")))


def _shown(value: Any) -> str:
    if value is None or value == "":
        return tr("nothing")
    if isinstance(value, bool):
        return words.yes_no(value)
    if isinstance(value, float):
        return words.number(value)
    return words.day(value) if hasattr(value, "year") else str(value)
