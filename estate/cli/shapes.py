"""What the reading commands give with ``--json``; keys are stable and listed in docs/."""

import math
from dataclasses import asdict
from datetime import date
from typing import Any

from estate.cli.signing_shapes import signing_shape
from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.due import DueLine
from estate.domain.findings import Finding, Judgement, Verdict
from estate.domain.instruments import Instrument
from estate.domain.learned import GroupParameters, Learned
from estate.domain.preview import Move, PolicyPreview, Workload
from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.listing import blanks, how_sure, listed, sureness
from estate.domain.rules.values import RuleSet, RuleValue
from estate.domain.steps import Seen
from estate.domain.visits import measured
from estate.domain.windows import Candidate, Reason
from estate.scheduler.backtest import BackTest, Coverage, Reliability


def due_shape(line: DueLine) -> dict[str, Any]:
    """One line of ``due``."""
    return {
        "ref": line.ref,
        "valve": line.valve,
        "site": line.path.site,
        "building": line.path.building,
        "level": line.path.level,
        "room": line.path.room_words,
        "outlet": line.path.outlet,
        "not_before": line.window.not_before.isoformat(),
        "not_after": line.window.not_after.isoformat(),
        "days_late": line.days_late,
        "reason": _reason(line.window.reason),
        "last_visit": line.last_visit.isoformat() if line.last_visit else None,
        "verdict": (line.verdict or Verdict.NOT_TESTED).value,
        "state": line.state.value,
        "also_serves": list(line.also_serves),
        "rule_set": line.rule_set,
    }


def _reason(reason: Reason) -> dict[str, str]:
    return {"code": reason.code, "words": reason.words, "source": reason.source}


def _candidate(candidate: Candidate) -> dict[str, Any]:
    return {
        "not_before": candidate.not_before.isoformat(),
        "not_after": candidate.not_after.isoformat(),
        "reason": _reason(candidate.reason),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "outcome": finding.outcome.value,
        "severity": finding.severity.words if finding.severity else None,
        "required": finding.required,
        "measured": finding.measured,
        "limit": finding.limit,
        "unit": finding.unit,
        "words": finding.words,
        "action": finding.action,
        "source": finding.source,
    }


def judgement_shape(judgement: Judgement) -> dict[str, Any]:
    """A judgement: the verdict, what was not met and what was not tested."""
    return {
        "verdict": judgement.verdict.value,
        "rule_set": judgement.rule_set,
        "rule_set_edition": judgement.rule_set_edition,
        "findings": [_finding(each) for each in judgement.findings],
        "not_tested": [_finding(each) for each in judgement.not_tested],
    }


def explain_shape(page: OutletPage) -> dict[str, Any]:
    """What ``explain`` gives for one outlet."""
    return {
        "ref": page.outlet.reference,
        "use": page.outlet.use.value,
        "user_group": page.outlet.user_group.value,
        "valve": page.valve.words if page.valve else None,
        "state": page.state.value,
        "rule_set": page.rule_set,
        "set_c": page.set_c,
        "set_source": page.set_source,
        "ceiling_c": page.ceiling_c,
        "ceiling_source": page.ceiling_source,
        "binding": _candidate(page.window.binding) if page.window else None,
        "candidates": [_candidate(each) for each in page.window.candidates] if page.window else [],
        "judgement": judgement_shape(page.judgement) if page.judgement else None,
        "would_change": list(page.would_change),
        "attempted": [
            {
                "on": each.on.isoformat(),
                "why": each.why,
                "person": each.person,
                "void_reason": each.void_reason,
            }
            for each in page.attempts
        ],
        **_learned(page.learned),
    }


def _learned(learned: Learned | None) -> dict[str, Any]:
    """What has been learned of the valve; every key is there, null where nothing can be said."""
    group = learned.group if learned else None
    drift = learned.drift if learned else None
    shut = learned.shut_off if learned else None
    regulating = learned.regulation if learned else None
    return {
        "level_c": drift.level_c if drift else None,
        "level_sd_k": drift.level_sd_k if drift else None,
        "drift_k_per_week": drift.drift_k_per_week if drift else None,
        "drift_sd": drift.drift_sd if drift else None,
        "group": _plain(asdict(group)) if group else None,
        "risk": {str(weeks): chance for weeks, chance in drift.risk} if drift else None,
        "accepted_risk": drift.accepted_risk if drift else None,
        "drift_horizon_weeks": drift.horizon_weeks if drift else None,
        "shut_off": {
            "rate_per_year": shut.rate_per_year,
            "passed_years": shut.passed_years,
            "failures": shut.failures,
            "unavailability": {str(weeks): share for weeks, share in shut.unavailability},
            "accepted_share": shut.accepted_share,
            "horizon_weeks": shut.horizon_weeks,
        }
        if shut
        else None,
        "regulation": asdict(regulating) if regulating else None,
    }


def group_shape(group: GroupParameters) -> dict[str, Any]:
    """One fitted group of ``fit``."""
    return _plain(asdict(group))


def _workload(load: Workload) -> dict[str, Any]:
    return {
        "visits_a_year": load.visits_a_year,
        "weeks_above_a_year": load.weeks_above_a_year,
        "by_month": {f"{month:%Y-%m}": count for month, count in load.by_month},
    }


def _move(move: Move) -> dict[str, Any]:
    return {
        "ref": move.ref,
        "before": move.before.isoformat(),
        "after": move.after.isoformat(),
        "days": move.days,
    }


def preview_shape(found: PolicyPreview) -> dict[str, Any]:
    """What ``preview`` gives."""
    return {
        "key": found.key,
        "place": found.place,
        "before": {"value": found.before_value, **_workload(found.before)},
        "after": {"value": found.after_value, **_workload(found.after)},
        "moved": found.moved,
        "moves": [_move(each) for each in found.moves],
    }


def back_test_shape(found: BackTest) -> dict[str, Any]:
    """What ``backtest`` gives; a share of no cases is null."""
    return {
        "valves": found.valves,
        "cases": found.cases,
        "bias_k": _number(found.bias_k),
        "spread": _number(found.spread),
        "coverage": {str(round(each.level * 100)): _coverage(each) for each in found.coverage},
        "reliability": [_reliability(each) for each in found.reliability],
    }


def _coverage(each: Coverage) -> dict[str, Any]:
    return {"inside": each.inside, "cases": each.cases, "share": _number(each.share)}


def _reliability(each: Reliability) -> dict[str, Any]:
    told = {key: _number(value) for key, value in asdict(each).items()}
    return {**told, "observed": _number(each.observed)}


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _plain(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value.isoformat() if isinstance(value, date) else value for key, value in values.items()}


def history_shape(line: HistoryLine) -> dict[str, Any]:
    """One visit of ``history``; only what was measured is listed under ``readings``."""
    visit = line.visit
    source = visit.draft.source
    return {
        "visit": visit.id,
        "date": visit.on.isoformat(),
        "kind": visit.draft.kind.value,
        "valve": line.valve.words,
        "person": visit.draft.person,
        "readings": measured(visit.readings),
        "steps": {each.key: _seen_shape(each) for each in visit.draft.steps.seen},
        "parts": [{"part": each.name, "number": each.quantity} for each in visit.draft.steps.parts],
        "remarks": visit.draft.remarks,
        "standing": visit.standing.value,
        "void_reason": visit.void_reason,
        "corrects": visit.corrects,
        "verdict": line.judgement.verdict.value,
        "signed": signing_shape(line.signing),
        "source": {"file": source.file, "sheet": source.sheet, "row": source.row} if source else None,
    }


def _seen_shape(seen: Seen) -> dict[str, Any]:
    return {"said": seen.said, "number": seen.number, "unit": seen.unit, "remark": seen.remark}


def instrument_shape(instrument: Instrument) -> dict[str, Any]:
    """One instrument of ``instruments``."""
    return {
        "reference": instrument.reference,
        "kind": instrument.kind.value,
        "specification": instrument.specification,
        "standard_uncertainty_k": instrument.standard_uncertainty_k,
        "calibrations": [
            {"on": each.on.isoformat(), "due_on": each.due_on.isoformat(), "certificate": each.certificate}
            for each in instrument.calibrations
        ],
    }


def _rule(value: RuleValue) -> dict[str, Any]:
    return {
        "key": value.key,
        "value": value.value,
        "unit": value.unit,
        "source": str(value.source),
        "fact": value.fact,
        "verified": value.verified,
        "effective": value.effective.isoformat(),
        "until": value.until.isoformat() if value.until else None,
        "chosen_by": value.chosen_by.value,
        "celsius": value.number if CATALOGUE[value.key].unit == "degC" else None,
        "sureness": sureness(value),
        "note": value.note,
        "overridden": None
        if value.override is None
        else {
            "place": value.override.place,
            "who": value.override.who,
            "at": value.override.at.isoformat(),
            "why": value.override.why,
        },
    }


def rules_shape(rules: RuleSet) -> dict[str, Any]:
    """What ``rules`` gives."""
    return {
        "id": rules.id,
        "title": rules.title,
        "edition": rules.edition,
        "scope": rules.scope,
        "cautions": list(rules.cautions),
        "place": rules.place,
        "values": [_rule(each) for each in listed(rules)],
        "blank": [each.key for each in blanks(rules)],
        "disagreements": [asdict(each) for each in rules.disagreements],
        "not_judged": [{"facts": list(each.facts), "words": each.words} for each in rules.not_judged],
    }


def rule_set_shape(rules: RuleSet) -> dict[str, Any]:
    """One rule set of ``rule-sets``."""
    return {"id": rules.id, "place": rules.place, "title": rules.title, **asdict(how_sure(rules))}
