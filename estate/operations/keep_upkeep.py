"""Record upkeep of outlets, reviews of the need for a valve, and surveys of supplies; take them back."""

from collections.abc import Callable, Sequence
from dataclasses import asdict
from datetime import date, datetime
from math import isfinite
from typing import Final

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.life.care import CareDraft, ReviewDraft
from estate.domain.life.supplies import SuppliesDraft
from estate.domain.phrases import phrase
from estate.errors import EntryFault
from estate.operations.register import Register
from estate.store import places, upkeep
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

_MOST: Final = {"bar": 25.0, "c": 100.0, "min": 200.0}
_UNITS: Final = {"bar": "bar", "c": "°C", "min": "l/min"}
_LONGEST_S: Final = 7200.0


@retried
def record_care(
    register: Register, drafts: Sequence[CareDraft], *, who: str, at: datetime, today: date
) -> ChangeSet:
    """Record upkeep: flushed, shower head cleaned ...; of several outlets in one go.

    Raises:
        EntryFault: nothing is given, a day lies ahead, or a time can't be true.
        NotFoundFault: there is no such outlet.
    """
    if not drafts:
        raise EntryFault("Nothing to record", "No outlet is named.", "Name at least one outlet.")
    for each in drafts:
        _not_ahead(each.on, today)
        if each.duration_s is not None and not 0 < each.duration_s <= _LONGEST_S:
            detail = f"{each.duration_s:g} s."
            raise EntryFault("That is no time", detail, "Give more than nothing and at most two hours.")
    with writing(register.database, who, "recorded upkeep", at) as tx:
        for each in drafts:
            places.outlet(tx.session, each.outlet_id)
        upkeep.add_care(tx, drafts)
    return tx.changes


@retried
def review_outlet(
    register: Register, draft: ReviewDraft, *, who: str, at: datetime, today: date
) -> ChangeSet:
    """Record whether an outlet's valve is still needed (HSE-09).

    Nothing is removed by it: a valve that is not needed is taken out by competent people, after the risk
    assessment says so.

    Raises:
        EntryFault: who decided or why is missing, or the day lies ahead.
        NotFoundFault: there is no such outlet.
    """
    _not_ahead(draft.on, today)
    if not draft.person.strip() or not draft.why.strip():
        remedy = phrase("Give both; nothing was recorded.")
        raise EntryFault("Who and why", "A review is kept with who decided and why.", remedy)
    with writing(register.database, who, "reviewed an outlet", at) as tx:
        places.outlet(tx.session, draft.outlet_id)
        upkeep.add_review(tx, draft)
    return tx.changes


@retried
def record_survey(
    register: Register, draft: SuppliesDraft, *, who: str, at: datetime, today: date
) -> ChangeSet:
    """Record supplies measured at an outlet.

    Raises:
        EntryFault: nothing was measured, a value can't be true, or the day lies ahead.
        NotFoundFault: there is no such outlet.
    """
    _not_ahead(draft.on, today)
    measured = {name: value for name, value in asdict(draft).items() if name.rpartition("_")[2] in _MOST}
    if all(value is None for value in measured.values()):
        raise EntryFault("Nothing was measured", "The survey has no value at all.", "Give at least one.")
    for name, value in measured.items():
        _must_be_true(name, value)
    with writing(register.database, who, "recorded a survey", at) as tx:
        places.outlet(tx.session, draft.outlet_id)
        upkeep.add_survey(tx, draft)
    return tx.changes


def _must_be_true(name: str, value: float | None) -> None:
    kind = name.rpartition("_")[2]
    if value is None or (isfinite(value) and 0 <= value <= _MOST[kind]):
        return
    said = name.removesuffix("_l_min").removesuffix(f"_{kind}").replace("_", " ")
    detail = f"{said} {value:g} {_UNITS[kind]}."
    remedy = phrase(
        "Give 0 to {most:g} {units}, or leave it out where it was not measured.",
        most=_MOST[kind],
        units=_UNITS[kind],
    )
    raise EntryFault("A value can't be true", detail, remedy)


def _not_ahead(on: date, today: date) -> None:
    if on > today:
        detail = phrase("It is dated {day}, today is {today}.", day=day_words(on), today=day_words(today))
        raise EntryFault("The day lies ahead", detail, "Correct the date; nothing was recorded.")


def take_back_care(register: Register, care_id: int, *, why: str, who: str, at: datetime) -> ChangeSet:
    """Take upkeep back that was entered wrongly; it stays on record with the reason.

    Raises:
        EntryFault: no reason is given.
        NotFoundFault: there is no such entry that counts.
    """
    return _take_back(register, "upkeep", upkeep.take_back_care, care_id, why, who, at)


def take_back_review(register: Register, review_id: int, *, why: str, who: str, at: datetime) -> ChangeSet:
    """Take a review back; as `take_back_care`."""
    return _take_back(register, "a review", upkeep.take_back_review, review_id, why, who, at)


def take_back_survey(register: Register, survey_id: int, *, why: str, who: str, at: datetime) -> ChangeSet:
    """Take a survey back; as `take_back_care`."""
    return _take_back(register, "a survey", upkeep.take_back_survey, survey_id, why, who, at)


@retried
def _take_back(
    register: Register,
    what: str,
    write: Callable[[Transaction, int, str], None],
    row_id: int,
    why: str,
    who: str,
    at: datetime,
) -> ChangeSet:
    if not why.strip():
        raise EntryFault("No reason", "An entry is taken back with a reason.", "Say why it is wrong.")
    with writing(register.database, who, f"took back {what}", at, why=why.strip()) as tx:
        write(tx, row_id, why.strip())
    return tx.changes
