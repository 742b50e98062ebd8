"""From the rows of a sheet of results to what would be recorded of them, and what is asked."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from estate.domain.aliases import Alias
from estate.domain.intake import SheetReading
from estate.domain.progress import Progress, silent
from estate.domain.questions import Answer, Answers, Choice, Question
from estate.domain.references import reference_key
from estate.domain.visits import Attempt, VisitDraft
from estate.operations.ask_visits import Aside, Asker
from estate.operations.holdings import Holdings
from estate.operations.judge_series import Bench
from estate.operations.match_outlets import Found, OutletFinder, Row, Unfound
from estate.operations.match_visits import Matched, VisitMatcher
from estate.operations.proposals import MatchedBy, Proposal, ProposedAttempt, ProposedVisit
from estate.operations.query_reading import UnlikelyReading, unlikely_among, with_query
from estate.operations.sheet_days import SheetDays

TOLD_EVERY = 500
"""Valves after which it is told how far the judging is, and a person can stop it."""


@dataclass(frozen=True, slots=True)
class Basis:
    """What a sheet is settled against.

    Attributes:
        holdings: the register, with all visits and the fits of the day.
        identifier: of the register, as its round sheets' keys tell it.
        attempts: visits without access in the register.
        answers: what a person answered.
        state: of the register when it was read: it moves with every change.
    """

    reading: SheetReading
    content: bytes
    today: date
    holdings: Holdings
    identifier: str
    aliases: tuple[Alias, ...] = ()
    attempts: tuple[Attempt, ...] = ()
    answers: tuple[Answer, ...] = ()
    state: int = 0
    progress: Progress = silent


@dataclass(frozen=True, slots=True)
class _Asked:
    """A row with the visits of its valve before it, its own sheet's too."""

    matched: Matched
    earlier: Sequence[VisitDraft]


def settle_visits(basis: Basis) -> Proposal:
    """Match the rows of a sheet, question what is unlikely, and judge the others."""
    reading = basis.reading
    finder = OutletFinder(basis.holdings.outlets, basis.identifier, basis.aliases, basis.answers)
    found = finder.find([*reading.visits, *reading.attempts])
    asker = Asker(Answers(basis.answers))
    days = SheetDays(row.on for row in reading.visits)
    matcher = VisitMatcher(basis.holdings, basis.today, asker, days)
    outcomes = [matcher.match(row, each) for row, each in zip(reading.visits, found, strict=False)]
    visits, unlikely, left_out = _judged(
        basis, asker, [each for each in outcomes if isinstance(each, Matched)]
    )
    attempted = found[len(reading.visits) :]
    refs = {
        (row.source.sheet, row.source.row): each.outlet.reference
        for row, each in zip(reading.attempts, attempted, strict=True)
        if isinstance(each, Found)
    }
    asked = [each for each in outcomes if isinstance(each, Question)]
    return Proposal(
        reading=reading,
        content=basis.content,
        today=basis.today,
        visits=visits,
        already_there=sum(each is Aside.THERE for each in outcomes),
        questions=in_file_order(reading, [*asked, *unlikely], basis.holdings, refs),
        answers=basis.answers,
        attempts=_attempts(basis, attempted),
        notes=(*reading.notes, *_late_notes(matcher)),
        matched=_matched_by(basis, found),
        left_out=left_out + sum(each is Aside.LEFT_OUT for each in outcomes),
        learnt=_learnt(found),
        again=_again(basis.holdings, visits),
        state=basis.state,
        known=basis.holdings,
    )


def in_file_order(
    reading: SheetReading,
    further: Sequence[Question],
    holdings: Holdings,
    refs: dict[tuple[str, int], str] | None = None,
) -> tuple[Question, ...]:
    """All questions of a file, in its order.

    Args:
        further: questions that the register puts.
        refs: references of outlets found, by sheet and row.
    """
    known = (
        {reference_key(each.reference): each.reference for each in holdings.outlets}
        if reading.questions
        else {}
    )
    read = [
        replace(
            each, ref=(refs or {}).get((each.sheet, each.row)) or known.get(reference_key(each.ref or ""))
        )
        for each in reading.questions
    ]
    sheets: dict[str, int] = {}
    for question in (*read, *further):
        sheets.setdefault(question.sheet, len(sheets))
    return tuple(sorted((*read, *further), key=lambda each: (sheets[each.sheet], each.row)))


def _judged(
    basis: Basis, asker: Asker, matched: Sequence[Matched]
) -> tuple[tuple[ProposedVisit, ...], list[Question], int]:
    """The rows judged in the order of the sheet; questions about unlikely ones; rows a person left out."""
    series = _series(basis.holdings, matched)
    asked = [_Asked(each, _before(series, each)) for each in matched]
    unlikely = unlikely_among(basis.holdings, [(each.matched.draft, each.earlier) for each in asked])
    questions: list[Question] = []
    left_out = 0
    taken: list[tuple[Matched, UnlikelyReading | None]] = []
    for each, query in zip(matched, unlikely, strict=True):
        stop = None if query is None else _query(asker, each, query)
        if stop is None:
            taken.append((each, query))
        elif isinstance(stop, Question):
            questions.append(stop)
        else:
            left_out += 1
    before = [each.earlier for each in asked]
    if len(taken) < len(matched):
        series = _series(basis.holdings, [each for each, _ in taken])
        before = [_before(series, each) for each, _ in taken]
    return _proposed(basis, taken, before), questions, left_out


def _query(asker: Asker, matched: Matched, query: UnlikelyReading) -> Question | Aside | None:
    """The question about an unlikely reading; None where a person answered to take it."""
    row = matched.row
    remedy = query.words.partition(", ")[2]
    put = asker.put(
        row, "unlikely-reading", matched.ref, row.cell("found_c"), f"{query.found_c:.1f} °C", remedy
    )
    answered = asker.unless({Choice.TAKE}, put)
    return None if isinstance(answered, Answer) else answered


def _series(holdings: Holdings, matched: Sequence[Matched]) -> dict[int, list[VisitDraft]]:
    """The visits of each valve, those of the register and those of the sheet, in order of date."""
    series: dict[int, list[VisitDraft]] = {}
    corrected = {each.corrects for each in matched if each.corrects is not None}
    for each in matched:
        valve_id = each.draft.valve_id
        if valve_id not in series:
            known = holdings.counting(valve_id)
            series[valve_id] = [visit.draft for visit in known if visit.id not in corrected]
        series[valve_id].append(each.draft)
    for drafts in series.values():
        drafts.sort(key=lambda draft: draft.on)
    return series


def _before(series: dict[int, list[VisitDraft]], matched: Matched) -> Sequence[VisitDraft]:
    drafts = series[matched.draft.valve_id]
    return drafts[: next(place for place, draft in enumerate(drafts) if draft is matched.draft)]


def _proposed(
    basis: Basis,
    taken: Sequence[tuple[Matched, UnlikelyReading | None]],
    before: Sequence[Sequence[VisitDraft]],
) -> tuple[ProposedVisit, ...]:
    """The visits that are taken, each judged against those of its valve before it."""
    bench = Bench(basis.holdings)
    proposed: list[ProposedVisit] = []
    for number, ((each, query), earlier) in enumerate(zip(taken, before, strict=True)):
        if number % TOLD_EVERY == 0:
            basis.progress(number, len(taken), "Judging the visits")
        judgement = bench.judge(each.draft, earlier)
        proposed.append(ProposedVisit(each.draft, each.ref, with_query(judgement, query), each.corrects))
    return tuple(proposed)


def _again(holdings: Holdings, proposed: Sequence[ProposedVisit]) -> tuple[tuple[int, date], ...]:
    """Valves with visits in the register on or after the first day of those proposed, with that day."""
    first: dict[int, date] = {}
    for each in proposed:
        first[each.draft.valve_id] = min(each.draft.on, first.get(each.draft.valve_id, each.draft.on))
    return tuple(
        (valve_id, day)
        for valve_id, day in first.items()
        if any(visit.counts for visit in holdings.visits.get(valve_id, ()) if visit.on >= day)
    )


def _attempts(basis: Basis, found: Sequence[Found | Unfound]) -> tuple[ProposedAttempt, ...]:
    """Visits without access that the register does not hold, each once."""
    there = {(each.outlet_id, each.on) for each in basis.attempts if not each.void_reason}
    proposed = []
    for row, each in zip(basis.reading.attempts, found, strict=True):
        if isinstance(each, Found) and row.on <= basis.today and (each.outlet.id, row.on) not in there:
            there.add((each.outlet.id, row.on))
            proposed.append(ProposedAttempt(row, each.outlet.id, each.outlet.reference))
    return tuple(proposed)


def _matched_by(basis: Basis, found: Sequence[Found | Unfound]) -> tuple[MatchedBy, ...]:
    rows: list[Row] = [*basis.reading.visits, *basis.reading.attempts]
    return tuple(
        MatchedBy(row.source.sheet, row.source.row, each.outlet.reference, each.by, each.confidence)
        for row, each in zip(rows, found, strict=True)
        if isinstance(each, Found)
    )


def _learnt(found: Sequence[Found | Unfound]) -> tuple[tuple[str, int], ...]:
    taught = {each.learnt: each.outlet.id for each in found if isinstance(each, Found) and each.learnt}
    return tuple(taught.items())


def _late_notes(matcher: VisitMatcher) -> tuple[Question, ...]:
    """One note a sheet about rows older than what the register holds."""
    sheets: dict[str, list[Question]] = {}
    for row in matcher.late:
        note = Question(row.source.sheet, row.source.row, row.cell("on"), "before-later-visit", None, "", "")
        sheets.setdefault(row.source.sheet, []).append(note)
    remedy = "They are taken; the later visits are judged again after them."
    return tuple(
        replace(
            notes[0], found=f"{len(notes)} of the rows are older than visits in the register", remedy=remedy
        )
        for notes in sheets.values()
    )
