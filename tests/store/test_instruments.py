from datetime import date

import pytest

from estate.domain.instruments import Calibration, Instrument, InstrumentKind
from estate.errors import EntryFault
from estate.store import instruments
from estate.store.transaction import Transaction

FIRST = Calibration(date(2025, 3, 1), date(2026, 3, 1), "C-1")
SECOND = Calibration(date(2026, 3, 2), date(2027, 3, 2))


def test_that_an_instrument_comes_back_with_its_calibrations_oldest_first(tx: Transaction) -> None:
    made = instruments.add_instrument(
        tx,
        reference="Probe 10",
        kind=InstrumentKind.SURFACE_PROBE,
        specification="type K",
        standard_uncertainty_k=0.25,
    )
    instruments.add_calibration(tx, made, SECOND)
    instruments.add_calibration(tx, made, FIRST)
    expected = Instrument(made, "Probe 10", InstrumentKind.SURFACE_PROBE, "type K", 0.25, (FIRST, SECOND))
    assert instruments.instruments(tx.session) == (expected,)


def test_that_instruments_come_by_reference(tx: Transaction) -> None:
    for reference in ("Probe 10", "Probe 9"):
        instruments.add_instrument(tx, reference=reference)
    assert [each.reference for each in instruments.instruments(tx.session)] == ["Probe 9", "Probe 10"]


def test_that_an_instrument_is_found_however_it_is_written(tx: Transaction) -> None:
    made = instruments.add_instrument(tx, reference="Probe 10")
    found = instruments.instrument_by_reference(tx.session, "PROBE-10")
    assert found is not None
    assert found.id == made
    assert instruments.instrument_by_reference(tx.session, "Probe 1") is None


@pytest.mark.parametrize("reference", ["probe-10", "", "--"])
def test_that_an_instrument_needs_a_reference_of_its_own(tx: Transaction, reference: str) -> None:
    instruments.add_instrument(tx, reference="Probe 10")
    with pytest.raises(EntryFault):
        instruments.add_instrument(tx, reference=reference)
    assert len(instruments.instruments(tx.session)) == 1


@pytest.mark.parametrize("uncertainty_k", [-0.1, float("nan")])
def test_that_an_uncertainty_is_not_negative(tx: Transaction, uncertainty_k: float) -> None:
    with pytest.raises(EntryFault, match="not an uncertainty"):
        instruments.add_instrument(tx, reference="Probe 10", standard_uncertainty_k=uncertainty_k)


def test_that_a_calibration_is_not_due_before_its_own_day(tx: Transaction) -> None:
    made = instruments.add_instrument(tx, reference="Probe 10")
    with pytest.raises(EntryFault, match="Due before it was calibrated"):
        instruments.add_calibration(tx, made, Calibration(date(2026, 1, 2), date(2026, 1, 1)))
