"""The certificate of one visit: what was seen, read and found, with what, by whom, and room to sign."""

from collections.abc import Iterator

from estate.domain.certificate import CertificateFacts
from estate.domain.collecting import Reading, collected_of
from estate.domain.dates import day_words
from estate.domain.field_limits import FieldLimit
from estate.domain.procedures import PROCEDURES, Step, not_done
from estate.domain.reading_names import readings_in_words
from estate.domain.register import AsAt
from estate.domain.visits import Standing, VisitKind
from estate.reports.document import Cell, Column, Document, Fact, Group, Kind, Row, Section, Table
from estate.reports.wording import CAUTIONS, basis, identity_facts, verdict_words

_TITLES = {
    VisitKind.COMMISSIONING: "Commissioning certificate of a thermostatic mixing valve",
    VisitKind.SERVICE: "Record of service of a thermostatic mixing valve, commissioned anew",
    VisitKind.IN_SERVICE: "Record of an in-service test of a thermostatic mixing valve",
}
_REFERENCE = (
    "These readings are the reference for later tests (D08-62): the next ones are made in the same way and"
    " with the same instrument or one of the same specification (D08-71)."
)
_NOTHING_IS_A_PASS = "What was not measured is not tested: it is never a pass."
_VESSEL = Reading()


def certificate(facts: CertificateFacts) -> Document:
    """Say what is on record of one visit.

    Args:
        facts: the visit and what stands beside it; nothing of it is judged here.
    """
    as_at = AsAt(facts.today, facts.register)
    return Document(
        title=_TITLES[facts.visit.draft.kind],
        register=facts.register.name,
        as_at=facts.today,
        basis=basis(as_at),
        facts=(*_headline(facts), *identity_facts(as_at)),
        cautions=CAUTIONS,
        sections=(
            _subject(facts),
            _readings(facts),
            *_steps(facts),
            *_parts(facts),
            _findings(facts),
            _missing(facts),
            _signatures(facts),
        ),
    )


def _headline(facts: CertificateFacts) -> Iterator[Fact]:
    visit, outlet = facts.visit, facts.outlets[0]
    yield Fact("Verdict", facts.judgement.verdict.value)
    yield Fact("Outlet", outlet.reference)
    yield Fact("Day of the visit", day_words(visit.on))
    if visit.standing is Standing.VOID:
        yield Fact("This entry is void", visit.void_reason)
    elif visit.standing is Standing.CORRECTED:
        yield Fact("This entry", "was corrected by a later one and no longer counts")


def _table(name: str, columns: tuple[Column, ...], rows: list[tuple[Cell, ...]]) -> Table:
    return Table(name, columns, (Group((), tuple(Row(cells) for cells in rows)),))


def _subject(facts: CertificateFacts) -> Section:
    outlet, valve, draft = facts.outlets[0], facts.valve, facts.visit.draft
    rows: list[tuple[Cell, ...]] = [
        ("Where", f"{outlet.path.site} · {outlet.path}"),
        ("Use and users", f"{outlet.use}, {outlet.user_group}"),
        ("Also served", ", ".join(each.reference for each in facts.outlets[1:]) or "no other outlet"),
        ("Valve", valve.words),
        ("Class and designation", _class_words(facts)),
        ("Fitted on", "not recorded" if facts.fitted_on is None else day_words(facts.fitted_on)),
        ("Set temperature", "not recorded" if valve.set_c is None else f"{valve.set_c:g} °C"),
        ("Carried out by", draft.person or "not recorded"),
        ("Measured with", _instrument_words(facts)),
        ("Remarks", draft.remarks or "none"),
        ("Entry in the register", f"number {facts.visit.id}, by {facts.visit.recorded_by}"),
    ]
    columns = (Column("What", 24), Column("On record", 76))
    return Section("Outlet, valve, person and instrument", (), _table("Subject", columns, rows))


def _class_words(facts: CertificateFacts) -> str:
    valve = facts.valve
    kind = f"Type {valve.scheme_class}" if valve.scheme_class else "class not recorded"
    return f"{kind}; {', '.join(valve.designations) or 'designation not recorded'}"


def _instrument_words(facts: CertificateFacts) -> str:
    draft, instrument = facts.visit.draft, facts.instrument
    if instrument is None:
        if not draft.instrument_words:
            return "not recorded, so its calibration is not known"
        return f"{draft.instrument_words}: not in the register, so its calibration is not known"
    valid = instrument.calibration_on(draft.on)
    if valid is None:
        return f"{instrument.reference}: no calibration in force on the day"
    number = f", certificate {valid.certificate}" if valid.certificate else ""
    return (
        f"{instrument.reference} ({instrument.kind}), calibrated {day_words(valid.on)}, due again"
        f" {day_words(valid.due_on)}{number}"
    )


def _readings(facts: CertificateFacts) -> Section:
    rows: list[tuple[Cell, ...]] = []
    for field, name, value in readings_in_words(facts.visit.readings):
        limit = facts.limits.get(field)
        rows.append((_capital(name), _said(value), *_limit_words(limit)))
    words = [_NOTHING_IS_A_PASS, *_collected_words(facts)]
    if facts.visit.draft.kind.sets_reference:
        words.insert(0, _REFERENCE)
    columns = (
        Column("Reading", 24),
        Column("Measured", 8),
        Column("Held against", 10),
        Column("Where the limit comes from", 58),
    )
    return Section("Readings", tuple(words), _table("Readings", columns, rows) if rows else None)


def _said(value: float | bool) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:.1f}" if value < 100 else f"{value:.0f}"


def _limit_words(limit: FieldLimit | None) -> tuple[Cell, Cell]:
    return (None, None) if limit is None else (limit.words, "; ".join(limit.sources))


def _collected_words(facts: CertificateFacts) -> Iterator[str]:
    for supply in ("cold", "hot"):
        found = collected_of(facts.visit.draft.steps, supply, _VESSEL)
        if found is not None:
            yield (
                f"With the {supply} isolated {found.volume_ml:g} ml were collected in {found.seconds:g} s:"
                f" {found.flow_ml_min:.0f} ml/min, standard uncertainty {found.u_flow_ml_min:.0f} ml/min"
                f" (a vessel read to {_VESSEL.graduation_ml:g} ml and a stop-watch by hand are supposed)."
            )


def _steps(facts: CertificateFacts) -> Iterator[Section]:
    draft = facts.visit.draft
    rows: list[tuple[Cell, ...]] = [
        (step.words, _step_said(facts, step), draft.steps.by_key[step.key].remark or None, step.source)
        for step in PROCEDURES[draft.kind]
        if draft.steps.said(step.key) is not None
    ]
    if rows:
        columns = (Column("Step", 46), Column("Seen", 8), Column("Remark", 22), Column("Source", 24))
        yield Section("What was seen, step by step", (), _table("Steps", columns, rows))


def _step_said(facts: CertificateFacts, step: Step) -> str:
    return "yes" if facts.visit.draft.steps.said(step.key) else "no"


def _parts(facts: CertificateFacts) -> Iterator[Section]:
    parts = facts.visit.draft.steps.parts
    if parts:
        rows: list[tuple[Cell, ...]] = [(each.name, each.quantity, each.remark or None) for each in parts]
        columns = (Column("Part", 50), Column("Number", 12, Kind.NUMBER), Column("Remark", 38))
        yield Section("Parts put in", (), _table("Parts", columns, rows))


def _findings(facts: CertificateFacts) -> Section:
    found = facts.judgement.findings
    verdict = verdict_words(facts.judgement.verdict)
    if not found:
        return Section(
            f"Findings: none; verdict: {verdict}", ("Nothing that was measured or seen was amiss.",)
        )
    rows: list[tuple[Cell, ...]] = [
        (each.severity.words if each.severity else None, each.words, each.action or None, each.source or None)
        for each in found
    ]
    columns = (Column("Severity", 14), Column("Found", 36), Column("What to do", 28), Column("Source", 22))
    return Section(f"Findings; verdict: {verdict}", (), _table("Findings", columns, rows))


def _missing(facts: CertificateFacts) -> Section:
    draft = facts.visit.draft
    steps = [f"{step.words} ({step.source})" for step in not_done(draft.kind, draft.readings, draft.steps)]
    checks = [each.words for each in facts.judgement.not_tested if each.required]
    words = (*checks, *steps) or ("Every step of the procedure is on record.",)
    return Section("Not on record, and so not tested", words)


def _signatures(facts: CertificateFacts) -> Section:
    words = (f"{facts.signed} Signing vouches for what was done and read; it permits nothing.",)
    rows: list[tuple[Cell, ...]] = [
        ("Carried out by", facts.visit.draft.person or None, None, None),
        ("Received by", None, None, None),
    ]
    columns = (Column("", 20), Column("Name", 28), Column("Signature", 34), Column("Day", 18))
    return Section("Signatures", words, _table("Signatures", columns, rows))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
