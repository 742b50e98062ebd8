"""A visit from words as a person types them on a line: ``hot_c=60,1``, ``washers=no: one missing``."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from datetime import date
from typing import Any, Final

from estate.domain.collecting import Reading, with_collected
from estate.domain.dates import day_words
from estate.domain.instruments import Instrument
from estate.domain.phrases import phrase
from estate.domain.procedures import asked_steps
from estate.domain.reading_names import ISOLATION_NAMES, PLAIN_NAMES
from estate.domain.references import reference_key
from estate.domain.steps import Part, Seen, Steps
from estate.domain.visits import Isolation, Readings, VisitDraft, VisitKind
from estate.errors import EntryFault, NotFoundFault
from estate.operations.browse import find_outlet
from estate.operations.holdings import read_holdings
from estate.operations.register import Register

_YES_NO: Final = {"yes": True, "y": True, "no": False, "n": False}
_SUPPLIES: Final = ("cold", "hot")
READING_NAMES: Final = (
    *PLAIN_NAMES,
    *(f"{supply}_isolated.{name}" for supply in _SUPPLIES for name in ISOLATION_NAMES),
)
"""The names that readings are typed under."""

_KINDS: Final = {each.name: str(each.type) for each in (*fields(Readings), *fields(Isolation))}


@dataclass(frozen=True, slots=True)
class TypedVisit:
    """A visit as typed.

    Attributes:
        readings: ``NAME=VALUE`` each; numbers with a point or a comma, else yes or no.
        seen: ``STEP=yes`` or ``STEP=no`` each, a remark after a colon.
        parts: ``PART`` or ``PART=NUMBER`` each.
        collected: ``cold=ML/SECONDS`` or ``hot=ML/SECONDS`` each.
        instrument: its reference; empty where none was named.
    """

    outlet: str
    kind: VisitKind
    on: date
    readings: Sequence[str] = ()
    seen: Sequence[str] = ()
    parts: Sequence[str] = ()
    collected: Sequence[str] = ()
    person: str = ""
    instrument: str = ""
    remarks: str = ""


def draft_of(register: Register, typed: TypedVisit) -> VisitDraft:
    """The visit that was typed; nothing is written.

    Raises:
        EntryFault: something can't be read, or the outlet had no valve on that day.
        NotFoundFault: the outlet or the instrument is not in the register.
    """
    outlet = find_outlet(register, typed.outlet)
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, (), judged=False)
    fitting = holdings.in_place(typed.on).get(outlet.position_id)
    if fitting is None:
        detail = f"{outlet.reference}, {day_words(typed.on)}."
        raise EntryFault("No valve was in place", detail, "Correct the day, or bring in the valve first.")
    instrument = _instrument(holdings.instruments.values(), typed.instrument)
    draft = VisitDraft(
        valve_id=fitting.valve_id,
        outlet_id=outlet.id,
        kind=typed.kind,
        on=typed.on,
        readings=_readings(typed.readings),
        person=typed.person,
        instrument_id=None if instrument is None else instrument.id,
        instrument_words="" if instrument is None else instrument.reference,
        remarks=typed.remarks,
        steps=Steps(_seen(typed.seen, typed.kind), tuple(_part(each) for each in typed.parts)),
    )
    for each in typed.collected:
        draft = _collected(draft, each)
    return draft


def _instrument(known: Iterable[Instrument], name: str) -> Instrument | None:
    if not name:
        return None
    for each in known:
        if reference_key(each.reference) == reference_key(name):
            return each
    remedy = phrase("Add it with `instrument`, or leave it out: the visit then says that none was named.")
    raise NotFoundFault("No such instrument", phrase('"{name}" is not in the register.', name=name), remedy)


def _pair(words: str, what: str) -> tuple[str, str]:
    name, equals, value = words.partition("=")
    if not equals or not value.strip():
        raise EntryFault(
            phrase("A {what} can't be read", what=what),
            f'"{words}".',
            phrase("Write it as {forms}.", forms=_FORMS[what]),
        )
    return name.strip(), value.strip()


_FORMS: Final = {
    "reading": phrase("hot_c=60.1 or cap_refitted=yes"),
    "step": phrase("washers=yes, or washers=no: what is wrong"),
    "part": phrase("strainer, or strainer=2"),
    "collected volume": phrase("cold=30/60: millilitres, a stroke, seconds"),
}


def _readings(words: Sequence[str]) -> Readings:
    plain: dict[str, Any] = {}
    isolated: dict[str, dict[str, Any]] = {supply: {} for supply in _SUPPLIES}
    for each in words:
        name, value = _pair(each, phrase("reading"))
        if name not in READING_NAMES:
            remedy = phrase("The names are {reading_names}.", reading_names=", ".join(READING_NAMES))
            raise EntryFault("No such reading", f'"{name}".', remedy)
        supply, _, part = name.rpartition("_isolated.")
        held = isolated[supply] if supply else plain
        if part in held:
            raise EntryFault("A reading is given twice", f'"{name}".', "Keep one of the two.")
        held[part] = _value(part, value, each)
    return Readings(
        **plain, cold_isolated=Isolation(**isolated["cold"]), hot_isolated=Isolation(**isolated["hot"])
    )


def _value(name: str, value: str, words: str) -> float | bool:
    if "bool" in _KINDS[name]:
        if value.lower() not in _YES_NO:
            raise EntryFault("A reading can't be read", f'"{words}".', "Write yes or no.")
        return _YES_NO[value.lower()]
    return _number(value, words, phrase("reading"))


def _number(value: str, words: str, what: str) -> float:
    try:
        return float(value.strip().replace(",", "."))
    except ValueError:
        raise EntryFault(
            phrase("A {what} can't be read", what=what),
            f'"{words}".',
            phrase("Write it as {forms}.", forms=_FORMS[what]),
        ) from None


def _seen(words: Sequence[str], kind: VisitKind) -> tuple[Seen, ...]:
    known = [step.key for step in asked_steps(kind)]
    found: list[Seen] = []
    for each in words:
        name, value = _pair(each, phrase("step"))
        answer, _, remark = value.partition(":")
        if name not in known:
            remedy = (
                phrase("The steps of this kind of visit are {known}.", known=", ".join(known))
                if known
                else phrase("It has none to answer.")
            )
            raise EntryFault("No such step", f'"{name}".', remedy)
        if answer.strip().lower() not in _YES_NO:
            raise EntryFault(
                "A step can't be read", f'"{each}".', phrase("Write it as {forms}.", forms=_FORMS["step"])
            )
        found.append(Seen(name, _YES_NO[answer.strip().lower()], remark=remark.strip()))
    return tuple(found)


def _part(words: str) -> Part:
    name, equals, value = words.partition("=")
    if not name.strip():
        raise EntryFault(
            "A part can't be read", f'"{words}".', phrase("Write it as {forms}.", forms=_FORMS["part"])
        )
    return Part(name.strip(), _number(value, words, phrase("part")) if equals else None)


def _collected(draft: VisitDraft, words: str) -> VisitDraft:
    what = phrase("collected volume")
    supply, value = _pair(words, what)
    volume, stroke, seconds = value.partition("/")
    if supply not in _SUPPLIES or not stroke:
        raise EntryFault(
            phrase("A {what} can't be read", what=what),
            f'"{words}".',
            phrase("Write it as {forms}.", forms=_FORMS[what]),
        )
    isolation = getattr(draft.readings, f"{supply}_isolated")
    if isolation.residual_ml_min is not None:
        detail = phrase("{supply}_isolated.residual_ml_min and {words}.", supply=supply, words=words)
        raise EntryFault("A flow is given twice", detail, "Give the flow, or the volume and its time.")
    read = Reading().collected(_number(volume, words, what), _number(seconds, words, what))
    return with_collected(draft, supply, read)
