"""Bring in a sheet: look first, write only what was confirmed, as one batch."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from estate.domain.changes import ChangeSet
from estate.domain.intake import SheetReading
from estate.domain.layouts import Layout, SheetKind
from estate.domain.phrases import phrase
from estate.domain.progress import Progress, silent
from estate.domain.questions import Answer, Answers
from estate.errors import EntryFault
from estate.intake.opening import content_of
from estate.intake.reading import read_content
from estate.intake.remembered import layout_of
from estate.operations.fit_groups import fit_within
from estate.operations.holdings import read_holdings
from estate.operations.proposals import Brought, Proposal, ProposedVisit
from estate.operations.register import Register
from estate.operations.settle_assets import settle_assets
from estate.operations.settle_visits import Basis, settle_visits
from estate.operations.write_batch import (
    retire,
    write_assets,
    write_attempts,
    write_changes,
    write_visits,
)
from estate.store import aliases, attempts, batches, fits, identity, layouts, ledger, row_versions
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing
from estate.store.visit_records import uncollected

__all__ = ["Brought", "Proposal", "ProposedVisit", "commit", "look", "look_again"]

STEPS = 4


def look(
    register: Register,
    path: Path,
    kind: SheetKind | None,
    today: date,
    progress: Progress = silent,
    *,
    layout: str | Layout | None = None,
    answers: Sequence[Answer] = (),
) -> Proposal:
    """Read a sheet, match it to the register and judge its visits; nothing is written.

    Args:
        register: the open register.
        path: the sheet.
        kind: what it holds; None finds out.
        today: rows dated later are questioned.
        progress: told how far the work is; it may raise to stop it.
        layout: a layout, or the name of a remembered one, by which the sheet is read; None finds out.
        answers: what a person answers to the questions of an earlier look.

    Raises:
        IntakeFault: the file can't be read at all.
        NotFoundFault: there is no layout of that name.
    """
    progress(0, STEPS, f"Reading {path.name}")
    return _looked(register, content_of(path), path.name, kind, today, progress, layout, tuple(answers))


def look_again(
    register: Register,
    batch_id: int,
    today: date,
    answers: Sequence[Answer] = (),
    progress: Progress = silent,
    *,
    layout: str | Layout | None = None,
) -> Proposal:
    """Look again at the file of a batch, with its answers and further ones; nothing is written.

    Rows taken already are there already; what is committed of the others is a batch that follows the first.

    Args:
        register: the open register.
        batch_id: the batch, or one that follows it.
        today: rows dated later are questioned.
        answers: of two to one question the later counts, and these come after those of the batch.
        progress: told how far the work is; it may raise to stop it.
        layout: as in `look`; None reads the file as before.

    Raises:
        NotFoundFault: there is no such batch, or no layout of that name.
        EntryFault: the batch was undone.
    """
    with register.database.reading() as session:
        asked = batches.batch(session, batch_id)
        first = asked if asked.follows is None else batches.batch(session, asked.follows)
        if first.undone is not None:
            detail = phrase("batch {id}, {file}: {why}.", id=first.id, file=first.file, why=first.undone.why)
            raise EntryFault("That batch was undone", detail, "Bring the file in again.")
        content = batches.content(session, first.id)
        family = [each.id for each in batches.batches(session) if first.id in (each.id, each.follows)]
        given = [answer for each in family for answer in batches.answers(session, each)]
        known = {each.name for each in layouts.layouts(session)}
    progress(0, STEPS, f"Reading {first.file}")
    if layout is None and first.layout in known:
        layout = first.layout
    every = (*given, *answers)
    proposal = _looked(register, content, first.file, first.kind, today, progress, layout, every)
    return replace(proposal, follows=first.id)


def _looked(
    register: Register,
    content: bytes,
    file: str,
    kind: SheetKind | None,
    today: date,
    progress: Progress,
    layout: str | Layout | None,
    answers: tuple[Answer, ...],
) -> Proposal:
    with register.database.reading() as session:
        forced = layouts.layout(session, layout) if isinstance(layout, str) else layout
        known = () if forced else layouts.layouts(session)
    with uncollected():
        reading = read_content(content, file, kind, layouts=known, layout=forced, answers=Answers(answers))
        progress(1, STEPS, "Matching rows to the register")
        with register.database.reading() as session:
            basis = _basis(session, register, reading, content, today, answers, progress)
        proposal = _settled(basis)
    progress(STEPS, STEPS, f"{proposal.accepted} rows to take, {len(proposal.questions)} questioned")
    return proposal


def _basis(
    session: Session,
    register: Register,
    reading: SheetReading,
    content: bytes,
    today: date,
    answers: tuple[Answer, ...],
    progress: Progress = silent,
) -> Basis:
    holdings = read_holdings(session, register.published, judged=False)
    return Basis(
        reading=reading,
        content=content,
        today=today,
        holdings=replace(holdings, fits=fits.fits_as_of(session, today)),
        identifier=identity.identifier(session),
        aliases=aliases.aliases(session),
        attempts=attempts.attempts(session) if reading.attempts else (),
        answers=answers,
        state=ledger.newest(session),
        progress=progress,
    )


def _settled(basis: Basis) -> Proposal:
    return (settle_assets if basis.reading.kind is SheetKind.ASSETS else settle_visits)(basis)


@retried
def commit(
    register: Register,
    proposal: Proposal,
    *,
    who: str,
    at: datetime,
    progress: Progress = silent,
    keep_layout: str = "",
    sender: str = "",
) -> Brought:
    """Write a proposal as one batch in one transaction.

    Rows already in the register are not written again; with nothing new there is no batch.

    Args:
        register: the open register.
        proposal: from `look`.
        who: who brings it in.
        at: now, UTC.
        progress: told how far the work is; it may raise to stop it: nothing is written then.
        keep_layout: a name under which the way the sheet was read is remembered; empty remembers nothing.
        sender: who sends such sheets, in words.

    Raises:
        EntryFault: the register was changed since the look, and bears on the sheet's rows.
        ConflictFault: somebody else changed the layout of that name since the look.
    """
    layout = layout_of(proposal.reading, keep_layout, sender, {}) if keep_layout else None
    if not proposal.has_news and layout is None:
        return _brought(proposal, None, "", ChangeSet())
    progress(0, STEPS, f"Writing {proposal.accepted} rows")
    what = f"brought in {proposal.reading.file}"
    with uncollected(), writing(register.database, who, what, at) as tx:
        if layout is not None:
            _layout_must_stand(tx, layout.name, proposal.state)
            layouts.keep_layout(tx, layout)
        batch_id = None
        if proposal.has_news:
            batch_id = _write(tx, register, _up_to_date(tx, register, proposal), progress)
        progress(STEPS - 1, STEPS, "Keeping it")
    progress(STEPS, STEPS, f"{proposal.accepted} rows brought in")
    return _brought(proposal, batch_id, keep_layout or proposal.reading.layout, tx.changes)


def _layout_must_stand(tx: Transaction, name: str, state: int) -> None:
    there = layouts.id_of(tx.session, name)
    if there is not None:
        row_versions.must_stand_since(tx, "layout", there, state)


def _up_to_date(tx: Transaction, register: Register, proposal: Proposal) -> Proposal:
    """The proposal as the register stands now; usually nobody wrote in between.

    Raises:
        EntryFault: what would be written differs from what was looked at.
    """
    if ledger.newest(tx.session) == proposal.state:
        return proposal
    basis = _basis(tx.session, register, proposal.reading, proposal.content, proposal.today, proposal.answers)
    again = replace(_settled(basis), follows=proposal.follows)
    if replace(again, state=proposal.state) != proposal:
        raise EntryFault(
            "The register has changed",
            phrase(
                "Since {file} was looked at, something was entered that bears on its rows.",
                file=proposal.reading.file,
            ),
            "Look at the sheet again; nothing was written.",
        )
    return again


def _write(tx: Transaction, register: Register, proposal: Proposal, progress: Progress) -> int:
    reading = proposal.reading
    batch_id = batches.add_batch(
        tx,
        file=reading.file,
        digest=reading.digest,
        kind=reading.kind,
        content=proposal.content,
        read=reading.read,
        accepted=proposal.accepted,
        already_there=proposal.already_there,
        questions=proposal.questions,
        layout=reading.layout,
        forms=", ".join(dict.fromkeys(reading.forms)),
        date_order=reading.date_order,
        answers=proposal.answers,
        follows=proposal.follows,
    )
    write_assets(tx, proposal.assets)
    write_changes(tx, register, proposal.changes)
    retire(tx, proposal.retired, proposal.today)
    added = write_visits(tx, register, proposal, batch_id)
    write_attempts(tx, proposal.attempts, batch_id)
    for words, outlet_id in proposal.learnt:
        aliases.add_alias(tx, words, outlet_id, batch_id)
    progress(1, STEPS, "Learning from the readings")
    if proposal.visits:
        fit_within(tx, register, proposal.today, proposal.known, added)
    tx.touch(everything=True)
    return batch_id


def _brought(proposal: Proposal, batch_id: int | None, layout: str, changes: ChangeSet) -> Brought:
    reading = proposal.reading
    return Brought(
        batch_id=batch_id,
        accepted=proposal.accepted,
        already_there=proposal.already_there,
        questions=proposal.questions,
        changes=changes,
        attempts=len(proposal.attempts),
        retired=len(proposal.retired),
        notes=proposal.notes,
        answers=proposal.answers,
        layout=layout or reading.layout,
        forms=tuple(reading.forms),
        date_order=reading.date_order,
        digest=reading.digest,
        learnt=len(proposal.learnt),
        follows=proposal.follows,
    )
