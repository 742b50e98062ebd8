"""What the commands of actions, outlets, people and upkeep print, for people and as JSON."""

from collections.abc import Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

from estate.cli.words import CAUTIONS, day
from estate.domain.life.actions import ActionEvent
from estate.domain.life.care import Care, CareLine, Review
from estate.domain.life.lists import ActionLine, OutletLife
from estate.domain.life.outlet_use import UseEvent
from estate.domain.life.people import Person
from estate.domain.life.policy import NO_TARGET
from estate.domain.life.supplies import SuppliesMeasured


def action_list_words(lines: Sequence[ActionLine], today: date) -> list[str]:
    """The list of actions as lines of text."""
    late = sum(each.days_late > 0 for each in lines)
    head = f"{len(lines)} actions, {late} past their target date, as at {day(today)}"
    return [head, *(_line(each) for each in lines), "", CAUTIONS]


def _line(line: ActionLine) -> str:
    action = line.action
    late = f"{line.days_late:>5} d late" if line.days_late else " " * 12
    target = f"by {day(action.target_on):>11}" if action.target_on else NO_TARGET
    owner = action.owner or "no owner"
    return (
        f"{action.id:>5}  {line.outlet.reference:<18} {action.severity.words:<15} {action.state.value:<13} "
        f"{late}  {target}  {owner}: {action.opening.words}"
    )


def action_words(line: ActionLine) -> list[str]:
    """One action with its history as lines of text."""
    action, opening = line.action, line.action.opening
    target = f"target {day(action.target_on)}" if action.target_on else NO_TARGET
    serves = f" (also serves {', '.join(line.also_serves)})" if line.also_serves else ""
    lines = [
        f"Action {action.id}, {opening.kind.value}: {opening.words}",
        f"{line.outlet.reference}: {line.outlet.path}{serves}",
        f"The outlet is {line.use.use.value}. Valve: {line.valve or 'none'}",
        f"{action.severity.words}; {action.state.value}; owner: {action.owner or 'none'}",
        f"Found on {day(opening.found_on)}, {line.age_days} days ago; {target}",
    ]
    if line.escalation is not None:
        lines.append(line.escalation.words)
    if line.next_step:
        lines.append(f"Now: {line.next_step}")
    opened = f"{day(action.opened_at.date()):>11}  opened, {action.opened_by}"
    return [*lines, "", opened, *(_event(each) for each in action.events), "", CAUTIONS]


def _event(event: ActionEvent) -> str:
    draft = event.draft
    by = "by itself" if draft.by_itself else event.who
    more = [draft.why, f"owner {draft.owner}" if draft.owner else ""]
    more.append(f"target {day(draft.target_on)}" if draft.target_on else "")
    more.append("" if event.counts else "does not count: it could not go through that")
    return f"{day(draft.on):>11}  {draft.step.value}, {by}: {'; '.join(each for each in more if each)}"


def action_shape(line: ActionLine) -> dict[str, Any]:
    """One action for ``--json``."""
    action, opening = line.action, line.action.opening
    return {
        "action": action.id,
        "ref": line.outlet.reference,
        "also_serves": list(line.also_serves),
        "valve": line.valve,
        "kind": opening.kind.value,
        "state": action.state.value,
        "severity": action.severity.words,
        "words": opening.words,
        "codes": sorted(action.codes),
        "stop_codes": sorted(action.stop_codes),
        "asks_retest": action.asks_retest,
        "found_on": opening.found_on.isoformat(),
        "target_on": _iso(action.target_on),
        "owner": action.owner,
        "age_days": line.age_days,
        "days_late": line.days_late,
        "tell": None if line.escalation is None else line.escalation.whom,
        "outlet_use": line.use.use.value,
        "next_step": line.next_step,
        "retest_visit": action.retest_id,
        "visits": sorted(action.visit_ids),
        "history": [_event_shape(each) for each in action.events],
    }


def _event_shape(event: ActionEvent) -> dict[str, Any]:
    draft = event.draft
    return {
        "on": draft.on.isoformat(),
        "step": draft.step.value,
        "who": event.who,
        "by_itself": draft.by_itself,
        "why": draft.why,
        "owner": draft.owner,
        "target_on": _iso(draft.target_on),
        "visit": draft.visit_id,
        "counts": event.counts,
    }


def outlet_words(life: OutletLife, today: date) -> list[str]:
    """How an outlet stands as lines of text."""
    since = f" since {day(life.use.since)}" if life.use.since else ""
    lines = [f"{life.outlet.reference}: {life.outlet.path}", f"It is {life.use.use.value}{since}."]
    if life.refused:
        lines.append(f"It can't be put back in use: {life.refused}")
    lines += [_use_event(each) for each in life.use.events]
    lines += ["", "Actions:" if life.actions else "No action on record."]
    lines += [_line(each) for each in life.actions]
    lines += ["", *(care_line_words(each, today) for each in life.upkeep), "", CAUTIONS]
    return lines


def _use_event(event: UseEvent) -> str:
    draft = event.draft
    told = f"; {draft.who_told} told" if draft.who_told else ""
    sign = {True: "; sign put up", False: "; no sign", None: ""}[draft.sign_placed]
    return f"{day(draft.on):>11}  {draft.step.value}, {event.who}: {draft.why}{told}{sign}"


def outlet_shape(life: OutletLife, today: date) -> dict[str, Any]:
    """How an outlet stands for ``--json``."""
    return {
        "ref": life.outlet.reference,
        "use": life.use.use.value,
        "since": _iso(life.use.since),
        "may": [each.value for each in life.may],
        "refused": life.refused or None,
        "events": [
            {
                "on": each.draft.on.isoformat(),
                "step": each.draft.step.value,
                "who": each.who,
                "why": each.draft.why,
                "who_told": each.draft.who_told,
                "sign_placed": each.draft.sign_placed,
                "action": each.draft.action_id,
                "visit": each.draft.visit_id,
            }
            for each in life.use.events
        ],
        "actions": [action_shape(each) for each in life.actions],
        "upkeep": [care_line_shape(each, today) for each in life.upkeep],
    }


def care_line_words(line: CareLine, today: date) -> str:
    """One line of the list of upkeep."""
    done = f"last {day(line.last)}" if line.last else "never on record"
    due = "due now" if line.due(today) else f"due {day(line.due_on)}"
    late = f", {line.days_late(today)} days late" if line.days_late(today) else ""
    words = f" {line.words}" if line.words else ""
    return f"{line.outlet.reference:<18} {line.asked.value:<36} {done:<20} {due}{late} [{line.source}]{words}"


def care_line_shape(line: CareLine, today: date) -> dict[str, Any]:
    """One line of the list of upkeep for ``--json``."""
    return {
        "ref": line.outlet.reference,
        "asked": line.asked.value,
        "last": _iso(line.last),
        "due_on": _iso(line.due_on),
        "due": line.due(today),
        "days_late": line.days_late(today),
        "source": line.source,
        "words": line.words,
    }


def people_words(known: Sequence[Person], unknown: Sequence[str], today: date) -> list[str]:
    """Everybody known as lines of text, and who stands on visits unknown."""
    lines = [_person(each, today) for each in known] or ["Nobody is in the register of people."]
    if unknown:
        lines += ["", f"On visits, and not in the register of people (not judged): {', '.join(unknown)}"]
    return lines


def _person(person: Person, today: date) -> str:
    held = person.competence_on(today)
    state = "no competence on record" if not person.competences else "no competence in force"
    if held is not None:
        until = f" until {day(held.until_on)}" if held.until_on else ""
        state = f"{held.subject}{until} {held.certificate}".rstrip()
    left = f", left {day(person.left_on)}" if person.left_on else ""
    return f"{person.name:<24} {person.position:<20} {state}{left}"


def person_shape(person: Person, today: date) -> dict[str, Any]:
    """One person for ``--json``."""
    return {
        "name": person.name,
        "position": person.position,
        "left_on": _iso(person.left_on),
        "competent": person.competence_on(today) is not None,
        "competences": [
            {
                "id": each.id,
                "subject": each.subject,
                "certificate": each.certificate,
                "from": each.from_on.isoformat(),
                "until": _iso(each.until_on),
            }
            for each in person.competences
        ],
    }


def _iso(value: date | None) -> str | None:
    return None if value is None else value.isoformat()


def kept_shape(
    cares: Sequence[Care], reviews: Sequence[Review], surveys: Sequence[SuppliesMeasured]
) -> list[dict[str, Any]]:
    """Upkeep, reviews and surveys of one outlet for ``--json``, newest first."""
    entries: list[tuple[str, Care | Review | SuppliesMeasured]] = [
        *(("care", each) for each in cares),
        *(("review", each) for each in reviews),
        *(("survey", each) for each in surveys),
    ]
    entries.sort(key=lambda each: (each[1].draft.on, each[1].id), reverse=True)
    return [_kept(what, entry) for what, entry in entries]


def _kept(what: str, entry: Care | Review | SuppliesMeasured) -> dict[str, Any]:
    said = {
        name: value.isoformat() if isinstance(value, date) else value
        for name, value in asdict(entry.draft).items()
        if name != "outlet_id" and value not in (None, "")
    }
    return {"what": what, "number": entry.id, **said, "taken_back": entry.withdrawn or None}


def kept_words(kept: Sequence[dict[str, Any]]) -> list[str]:
    """Upkeep, reviews and surveys of one outlet as lines of text."""
    return [_kept_line(each) for each in kept] or ["Nothing on record."]


def _kept_line(entry: dict[str, Any]) -> str:
    left_out = ("what", "number", "on", "taken_back")
    said = ", ".join(
        f"{name.replace('_', ' ')} {value}" for name, value in entry.items() if name not in left_out
    )
    back = f" (taken back: {entry['taken_back']})" if entry["taken_back"] else ""
    return f"{entry['on']}  {entry['what']} {entry['number']}: {said}{back}"
