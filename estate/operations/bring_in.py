"""Bring in a sheet: look first, write only what was confirmed, as one batch."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

from estate.domain.changes import ChangeSet
from estate.domain.findings import Judgement
from estate.domain.intake import SheetReading
from estate.domain.layouts import SheetKind
from estate.domain.progress import Progress, silent
from estate.domain.questions import Question
from estate.domain.references import reference_key
from estate.domain.valves import ModelLimits, Valve
from estate.domain.visits import VisitDraft
from estate.intake.reading import read
from estate.operations.fit_groups import fit_within
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.judge_series import bench_for
from estate.operations.match_assets import AssetMatcher, NewAsset
from estate.operations.match_visits import Matched, VisitMatcher
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.store import batches, judgements, places, valves, visits
from estate.store.transaction import Transaction, writing


@dataclass(frozen=True, slots=True)
class ProposedVisit:
    """A visit that would be recorded, with its judgement."""

    draft: VisitDraft
    ref: str
    judgement: Judgement


@dataclass(frozen=True, slots=True)
class Proposal:
    """What bringing in a sheet would do; nothing is written yet.

    Attributes:
        reading: the file as read.
        content: the file's bytes, to be kept as proof.
        today: the day on which it was looked at.
        already_there: rows that the register already holds.
        questions: rows left out, in the order of the file.
    """

    reading: SheetReading
    content: bytes
    today: date
    visits: tuple[ProposedVisit, ...]
    assets: tuple[NewAsset, ...]
    already_there: int
    questions: tuple[Question, ...]

    @property
    def accepted(self) -> int:
        """Rows that would be written."""
        return len(self.visits) + len(self.assets)


@dataclass(frozen=True, slots=True)
class Brought:
    """What was written.

    Attributes:
        batch_id: None where there was nothing new to write.
    """

    batch_id: int | None
    accepted: int
    already_there: int
    questions: tuple[Question, ...]
    changes: ChangeSet


def look(
    register: Register, path: Path, kind: SheetKind | None, today: date, progress: Progress = silent
) -> Proposal:
    """Read a sheet, match it to the register and judge its visits; nothing is written.

    Args:
        register: the open register.
        path: the sheet.
        kind: what it holds; None finds out.
        today: rows dated later are questioned.
        progress: told how far the work is.

    Raises:
        IntakeFault: the file can't be read at all.
    """
    progress(0, 3, f"Reading {path.name}")
    reading = read(path, kind)
    content = path.read_bytes()
    progress(1, 3, "Matching rows to the register")
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published)
    settle = _settle_assets if reading.kind is SheetKind.ASSETS else _settle_visits
    proposal = settle(reading, content, holdings, today)
    progress(3, 3, f"{proposal.accepted} rows to take, {len(proposal.questions)} questioned")
    return proposal


def _in_file_order(
    reading: SheetReading, further: Sequence[Question], holdings: Holdings
) -> tuple[Question, ...]:
    """All questions of a file; those of the reading with the register's own reference, if it is known."""
    known = {reference_key(each.reference): each.reference for each in holdings.outlets}
    read = [replace(each, ref=known.get(reference_key(each.ref or ""))) for each in reading.questions]
    sheets: dict[str, int] = {}
    for question in (*read, *further):
        sheets.setdefault(question.sheet, len(sheets))
    return tuple(sorted((*read, *further), key=lambda each: (sheets[each.sheet], each.row)))


def _settle_assets(reading: SheetReading, content: bytes, holdings: Holdings, today: date) -> Proposal:
    matcher = AssetMatcher(holdings)
    outcomes = [matcher.match(row) for row in reading.assets]
    new = tuple(each for each in outcomes if isinstance(each, NewAsset))
    asked = [each for each in outcomes if isinstance(each, Question)]
    known = sum(each is None for each in outcomes)
    return Proposal(reading, content, today, (), new, known, _in_file_order(reading, asked, holdings))


def _settle_visits(reading: SheetReading, content: bytes, holdings: Holdings, today: date) -> Proposal:
    matcher = VisitMatcher(holdings, today)
    outcomes = [matcher.match(row) for row in reading.visits]
    matched = [each for each in outcomes if isinstance(each, Matched)]
    asked = [each for each in outcomes if isinstance(each, Question)]
    known = sum(each is None for each in outcomes)
    proposed = _judged(matched, holdings)
    return Proposal(reading, content, today, proposed, (), known, _in_file_order(reading, asked, holdings))


def _judged(matched: Sequence[Matched], holdings: Holdings) -> tuple[ProposedVisit, ...]:
    """Judge each draft against the register's visits and the sheet's own earlier ones of the same valve."""
    by_valve: dict[int, list[Matched]] = {}
    for each in matched:
        by_valve.setdefault(each.draft.valve_id, []).append(each)
    judged: dict[int, Judgement] = {}
    for valve_id, group in by_valve.items():
        series = [visit.draft for visit in holdings.counting(valve_id)] + [each.draft for each in group]
        series.sort(key=lambda draft: draft.on)
        new = {id(each.draft) for each in group}
        for place, draft in enumerate(series):
            if id(draft) in new:
                judged[id(draft)] = bench_for(holdings, draft).judge(draft, series[:place])
    return tuple(ProposedVisit(each.draft, each.ref, judged[id(each.draft)]) for each in matched)


def commit(
    register: Register, proposal: Proposal, *, who: str, at: datetime, progress: Progress = silent
) -> Brought:
    """Write a proposal as one batch in one transaction.

    Rows already in the register are not written again; with nothing new there is no batch.
    """
    if proposal.accepted == 0:
        return Brought(None, 0, proposal.already_there, proposal.questions, ChangeSet())
    reading = proposal.reading
    progress(0, 2, f"Writing {proposal.accepted} rows")
    with writing(register.database, who, f"brought in {reading.file}", at) as tx:
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
        )
        _write_assets(tx, proposal.assets)
        _write_visits(tx, register, proposal.visits, batch_id)
        if proposal.visits:
            fit_within(tx, register, proposal.today)
        tx.touch(everything=True)
        progress(1, 2, "Keeping it")
    progress(2, 2, f"{proposal.accepted} rows brought in")
    return Brought(batch_id, proposal.accepted, proposal.already_there, proposal.questions, tx.changes)


def _write_visits(
    tx: Transaction, register: Register, proposed: Sequence[ProposedVisit], batch_id: int
) -> None:
    if not proposed:
        return
    added = visits.add_visits(tx, [each.draft for each in proposed], batch_id)
    pairs = [(visit.id, each.judgement) for visit, each in zip(added, proposed, strict=True)]
    judgements.add_judgements(tx, pairs)
    since: dict[int, date] = {}
    for each in proposed:
        since[each.draft.valve_id] = min(each.draft.on, since.get(each.draft.valve_id, each.draft.on))
    judge_again(tx, register, since, {visit.id for visit in added})


def _write_assets(tx: Transaction, assets: Sequence[NewAsset]) -> None:
    positions: dict[tuple[object, ...], int] = {}
    for asset in assets:
        row = asset.row
        room_id = places.ensure_room(tx, row.site, row.building, row.level, row.room_number, row.room)
        if asset.group not in positions:
            positions[asset.group] = places.add_position(tx, room_id, row.outlet)
            valve_id = valves.add_valve(tx, _valve(asset))
            valves.fit(tx, valve_id, positions[asset.group], row.fitted_on)
        places.add_outlet(
            tx,
            room_id=room_id,
            position_id=positions[asset.group],
            reference=row.reference.strip(),
            name=row.outlet,
            use=row.use,
            user_group=row.user_group,
            pipe_m=row.pipe_m,
            little_used=bool(row.little_used),
        )


def _valve(asset: NewAsset) -> Valve:
    row = asset.row
    return Valve(
        id=0,
        make=row.make,
        model=row.model,
        serial=row.serial,
        scheme_class=row.scheme_class,
        en_type=row.en_type,
        designations=row.designations,
        size_mm=row.size_mm,
        set_c=row.set_c,
        check_valves=row.check_valves,
        strainers=row.strainers,
        isolating_valves=row.isolating_valves,
        limits=ModelLimits(row.min_differential_k, row.max_pressure_ratio),
    )
