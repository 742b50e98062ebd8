"""Measuring instruments and their calibrations."""

from collections import defaultdict
from math import isfinite

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.due import natural_key
from estate.domain.instruments import Calibration, Instrument, InstrumentKind
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault
from estate.store.schema import CalibrationRow, InstrumentRow
from estate.store.transaction import Transaction


def instruments(session: Session) -> tuple[Instrument, ...]:
    """Every instrument by reference, with its calibrations, oldest first."""
    calibrations: dict[int, list[Calibration]] = defaultdict(list)
    query = select(CalibrationRow).order_by(CalibrationRow.calibrated_on, CalibrationRow.id)
    for row in session.scalars(query):
        calibrations[row.instrument_id].append(Calibration(row.calibrated_on, row.due_on, row.certificate))
    found = [
        Instrument(
            row.id,
            row.reference,
            InstrumentKind(row.kind),
            row.specification,
            row.standard_uncertainty_k,
            tuple(calibrations[row.id]),
        )
        for row in session.scalars(select(InstrumentRow))
    ]
    return tuple(sorted(found, key=lambda each: (natural_key(each.reference), each.id)))


def instrument_by_reference(session: Session, reference: str) -> Instrument | None:
    """The instrument with a reference, however it is written."""
    key = reference_key(reference)
    return next((each for each in instruments(session) if reference_key(each.reference) == key), None)


def add_instrument(
    tx: Transaction,
    *,
    reference: str,
    kind: InstrumentKind = InstrumentKind.IMMERSION_PROBE,
    specification: str = "",
    standard_uncertainty_k: float | None = None,
) -> int:
    """Add an instrument.

    Args:
        standard_uncertainty_k: standard uncertainty (k = 1), K; None if not known.

    Returns:
        Its id.

    Raises:
        EntryFault: the reference is empty or taken, or the uncertainty is not one.
    """
    key = reference_key(reference)
    if not key:
        raise EntryFault("An instrument needs a reference", f"'{reference}'.", "Give letters or figures.")
    query = select(InstrumentRow.reference).where(InstrumentRow.reference_key == key)
    taken = tx.session.execute(query).scalar_one_or_none()
    if taken is not None:
        detail = phrase("'{reference}' is the same as '{taken}'.", reference=reference, taken=taken)
        raise EntryFault("That reference is taken", detail, "Choose another one.")
    u = standard_uncertainty_k
    if u is not None and not (isfinite(u) and u >= 0):
        raise EntryFault(
            "That is not an uncertainty", f"{u} K.", "Give kelvins, 0 or more, or leave it empty."
        )
    row = InstrumentRow(
        reference=reference.strip(),
        reference_key=key,
        kind=kind.value,
        specification=specification.strip(),
        standard_uncertainty_k=u,
    )
    return tx.insert(row)


def add_calibration(tx: Transaction, instrument_id: int, calibration: Calibration) -> int:
    """Add a calibration to an instrument; returns its id.

    Raises:
        EntryFault: it is due again before its own day.
    """
    if calibration.due_on < calibration.on:
        detail = phrase(
            "calibrated {on:%d %b %Y}, due {due_on:%d %b %Y}.", on=calibration.on, due_on=calibration.due_on
        )
        raise EntryFault("Due before it was calibrated", detail, "Correct one of the two days.")
    row = CalibrationRow(
        instrument_id=instrument_id,
        calibrated_on=calibration.on,
        due_on=calibration.due_on,
        certificate=calibration.certificate,
    )
    return tx.insert(row)
