"""Write the certificate of one visit to a file."""

from datetime import date
from pathlib import Path

from estate.domain.certificate import CertificateFacts
from estate.domain.field_limits import field_limits
from estate.domain.progress import Progress, silent
from estate.domain.signatures import SignedNoun
from estate.operations.browse import identity
from estate.operations.holdings import read_holdings
from estate.operations.judge_series import Bench
from estate.operations.register import Register
from estate.operations.write_report import writer_for
from estate.reports import content
from estate.store import judgements, visits
from estate.store.signing import signings


def certificate_facts(register: Register, visit_id: int, today: date) -> CertificateFacts:
    """All that the certificate of a visit speaks of.

    Raises:
        NotFoundFault: there is no such visit.
    """
    told = identity(register)
    with register.database.reading() as session:
        visit = visits.visit(session, visit_id)
        holdings = read_holdings(session, register.published, {visit.draft.valve_id}, on=visit.on)
        kept = judgements.judgements(session, [visit_id])[visit_id]
        signing = signings(session, SignedNoun.VISIT, [visit_id])[visit_id]
    draft = visit.draft
    outlets, fitted_on = Bench(holdings).served(draft)
    valve = holdings.valves[draft.valve_id]
    return CertificateFacts(
        today=today,
        register=told,
        visit=visit,
        outlets=outlets,
        valve=valve,
        fitted_on=fitted_on,
        judgement=kept,
        instrument=holdings.instruments.get(draft.instrument_id or 0),
        signed=f"In the register this entry is {signing.words}.",
        limits=field_limits(outlets, valve, holdings.rules_at(outlets[0], draft.on)),
    )


def write_certificate(
    register: Register, visit_id: int, to: Path, today: date, progress: Progress = silent
) -> Path:
    """Write the certificate of a visit.

    Args:
        register: the open register.
        visit_id: the entry; a void or corrected one is marked as such.
        to: a file that ends in ``.pdf`` or ``.xlsx``.
        today: the day of writing.
        progress: told how far the work is.

    Raises:
        NotFoundFault: there is no such visit.
        ReportFault: another ending, or the file can't be written.
    """
    writer = writer_for(to)
    return writer(content.certificate(certificate_facts(register, visit_id, today)), to, progress)
