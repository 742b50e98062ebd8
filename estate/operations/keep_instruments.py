"""Put instruments and their calibrations into the register."""

from datetime import datetime

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.instruments import Calibration, InstrumentKind
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault, NotFoundFault
from estate.operations.register import Register
from estate.store import instruments
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def add_instrument(
    register: Register,
    reference: str,
    *,
    kind: InstrumentKind = InstrumentKind.IMMERSION_PROBE,
    specification: str = "",
    standard_uncertainty_k: float | None = None,
    calibration: Calibration | None = None,
    who: str,
    at: datetime,
) -> ChangeSet:
    """Add an instrument, with its calibration if it has one.

    Raises:
        EntryFault: the reference is empty or taken, or the calibration ends before it begins.
    """
    _check(calibration)
    if not reference_key(reference):
        raise EntryFault("No reference", "An instrument needs a reference.", "Give the mark on its case.")
    with writing(register.database, who, f"added instrument {reference}", at) as tx:
        instrument_id = instruments.add_instrument(
            tx,
            reference=reference.strip(),
            kind=kind,
            specification=specification,
            standard_uncertainty_k=standard_uncertainty_k,
        )
        if calibration is not None:
            instruments.add_calibration(tx, instrument_id, calibration)
    return tx.changes


@retried
def add_calibration(
    register: Register, reference: str, calibration: Calibration, *, who: str, at: datetime
) -> ChangeSet:
    """Add a calibration to an instrument that is in the register.

    Raises:
        NotFoundFault: there is no such instrument.
        EntryFault: the calibration ends before it begins.
    """
    _check(calibration)
    with writing(register.database, who, f"added a calibration of {reference}", at) as tx:
        known = {reference_key(each.reference): each for each in instruments.instruments(tx.session)}
        found = known.get(reference_key(reference))
        if found is None:
            raise NotFoundFault(
                "No such instrument",
                phrase('"{reference}" is not in the register.', reference=reference),
                "Add the instrument first.",
            )
        instruments.add_calibration(tx, found.id, calibration)
    return tx.changes


def _check(calibration: Calibration | None) -> None:
    if calibration is not None and calibration.due_on < calibration.on:
        detail = phrase(
            "It is dated {day} and due again on {due}.",
            day=day_words(calibration.on),
            due=day_words(calibration.due_on),
        )
        raise EntryFault("The calibration ends before it begins", detail, "Correct one of the two dates.")
