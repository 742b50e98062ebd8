"""What the commands print for people."""

from collections.abc import Sequence
from datetime import date

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.dates import day_words
from estate.domain.due import DueLine
from estate.domain.findings import Finding
from estate.domain.instruments import Instrument
from estate.domain.learned import GroupParameters, Learned
from estate.domain.preview import PolicyPreview, Workload
from estate.domain.shares import percent
from estate.domain.temperature import Scale, on_scale, told_limit
from estate.domain.visits import Attempt
from estate.scheduler.backtest import BackTest, Coverage, Reliability
from estate.scheduler.simulate import Outcome

CAUTIONS = (
    "Hot water can scald. Isolate supplies before work on a valve. Local codes, the maker's instructions, "
    "the site's risk assessment and competent, licensed people come before every figure here."
)


def day(value: date | None) -> str:
    """A date as people write it, such as 25 Nov 2026."""
    return day_words(value) if value else "never"


def due_words(lines: Sequence[DueLine], total: int, today: date) -> list[str]:
    """The due list as lines of text."""
    head = f"{len(lines)} of {total} valves, as at {day(today)}"
    rows = [_due(line) for line in lines]
    return [head, *rows, "", CAUTIONS]


def _due(line: DueLine) -> str:
    reason = line.window.reason
    late = f"{line.days_late:>5} d late" if line.overdue else " " * 12
    by = f"by {day(line.window.not_after):>11}"
    return f"{line.ref:<18} {line.state.value:<16} {late}  {by}  {reason.words} [{reason.source}]"


def explain_words(page: OutletPage, scale: Scale = Scale.CELSIUS) -> list[str]:
    """Why an outlet's next date is what it is."""
    outlet = page.outlet
    lines = [
        f"{outlet.reference}: {outlet.path}",
        f"{outlet.use.value}, used by {outlet.user_group.value}; {page.state.value}; rules {page.rule_set}",
        f"Valve: {page.valve.words}" if page.valve else "Valve: none in place",
        _limit("Set temperature", page.set_c, page.set_source, scale),
        _limit("Ceiling", page.ceiling_c, page.ceiling_source, scale),
    ]
    if page.window is not None:
        lines += ["", f"Next test: {day(page.window.not_before)} to {day(page.window.not_after)}"]
        for place, each in enumerate(page.window.candidates):
            mark = "binds:" if place == 0 else "later:"
            span = f"{day(each.not_before)} to {day(each.not_after)}"
            lines.append(f"  {mark} {span}  {each.reason.words} [{each.reason.source}]")
    lines += [f"  to change it: {each}" for each in page.would_change]
    lines += _learned(page.learned)
    if page.judgement is not None:
        lines += ["", f"Last verdict: {page.judgement.verdict.value}"]
        lines += [_finding(each) for each in page.judgement.findings]
        lines += [f"  not tested: {each.words}" for each in page.judgement.not_tested]
    return [*lines, "", CAUTIONS]


def _learned(learned: Learned | None) -> list[str]:
    if learned is None:
        return []
    group, drift, shut, regulating = learned.group, learned.drift, learned.shut_off, learned.regulation
    lines = [
        "",
        f"Learned by the group {group.name} ({group.readings} readings of {group.valves} valves up to "
        f"{day(group.fitted_on)}): drift {group.mu:+.4f} ± {group.omega:.4f} K a week from valve to valve, "
        f"wander {group.sigma:.3f} K per root week, reading ± {group.s:.2f} K",
    ]
    if drift is not None:
        chances = ", ".join(f"{weeks} weeks {percent(chance, 2)}" for weeks, chance in drift.risk)
        lines += [
            f"  level {drift.level_c:.2f} ± {2 * drift.level_sd_k:.2f} °C, "
            f"drift {drift.drift_k_per_week:+.4f} ± {2 * drift.drift_sd:.4f} K a week (95 %)",
            f"  chance to reach the ceiling within: {chances or 'no ceiling is set'}",
        ]
    if shut is not None:
        shares = ", ".join(f"{weeks} weeks {percent(share, 2)}" for weeks, share in shut.unavailability)
        lines.append(f"  without a working shut-off, share of the time if tested every: {shares}")
    if regulating is not None:
        lines.append(
            f"  regulation index {regulating.index:.2f} ({regulating.low:.2f} to {regulating.high:.2f}): "
            "0 regulates, 1 only mixes"
        )
    return lines


def _limit(name: str, value: float | None, source: str, scale: Scale) -> str:
    return f"{name}: {told_limit(value, scale)} [{source}]" if value is not None else f"{name}: none set"


def _finding(finding: Finding) -> str:
    severity = finding.severity.words if finding.severity else ""
    return f"  {severity}: {finding.words} [{finding.source}] {finding.action}"


def history_words(
    lines: Sequence[HistoryLine], attempts: Sequence[Attempt], scale: Scale = Scale.CELSIUS
) -> list[str]:
    """The history of an outlet as lines of text, newest first; then the visits that were only attempted."""
    head = (
        f"{'date':>11}  {'kind':<16} {'hot':>5} {'cold':>5} {'found':>5} {'left':>5}  {'verdict':<24} signed"
    )
    head += "" if scale is Scale.CELSIUS else f" (temperatures in {scale.sign})"
    return [head, *(_visit(line, scale) for line in lines), *(_attempt(each) for each in attempts)]


def _attempt(attempt: Attempt) -> str:
    void = f" (void: {attempt.void_reason})" if attempt.void_reason else ""
    return f"{day(attempt.on):>11}  attempted: {attempt.why}{void}"


def _visit(line: HistoryLine, scale: Scale) -> str:
    read = line.visit.readings
    numbers = " ".join(
        f"{on_scale(value, scale):>5.1f}" if value is not None else "    –"
        for value in (read.hot_c, read.cold_c, read.found_c, read.left_c)
    )
    standing = "" if line.visit.counts else f" ({line.visit.standing.value})"
    kind = line.visit.draft.kind.value
    verdict = f"{line.judgement.verdict.value}{standing}"
    return f"{day(line.visit.on):>11}  {kind:<16} {numbers}  {verdict:<24} {line.signing.words}"


def instrument_words(instruments: Sequence[Instrument]) -> list[str]:
    """Instruments with their last calibration."""
    lines = []
    for each in instruments:
        last = max((calibration.due_on for calibration in each.calibrations), default=None)
        u = (
            f"u = {each.standard_uncertainty_k:g} K"
            if each.standard_uncertainty_k
            else "uncertainty not known"
        )
        until = f"calibration due {day(last)}" if last else "no calibration on record"
        lines.append(
            f"{each.reference:<12} {each.kind.value}, {each.specification or 'not described'}; {u}; {until}"
        )
    return lines or ["No instrument is in the register: readings count without their uncertainty."]


def _group(group: GroupParameters) -> str:
    drift = f"drift {group.mu:+.4f} ± {group.omega:.4f} K a week, wander {group.sigma:.3f}"
    shut = f"shut-off {group.a / group.b_years:.3f} failures a year"
    data = f"{group.readings} readings of {group.valves} valves"
    return f"{group.name:<44} {drift}, reading ± {group.s:.2f} K; {shut}; {data}"


def group_words(groups: Sequence[GroupParameters]) -> list[str]:
    """Fitted groups, one line each."""
    lines = [_group(each) for each in groups]
    return lines or ["No visit is in the register yet: there is nothing to fit."]


def _weeks_above(load: Workload) -> str:
    return "not known yet" if load.weeks_above_a_year is None else f"{load.weeks_above_a_year:.2f}"


def preview_words(found: PolicyPreview) -> list[str]:
    """The estate before and after a change."""
    now = "published" if found.after_value is None else found.after_value
    rows = [
        f"{found.key} at {found.place}: {found.before_value} now, {now} tried. Nothing was written.",
        f"  visits a year: {found.before.visits_a_year:.0f} now, {found.after.visits_a_year:.0f} then",
        f"  valve-weeks a year above the ceiling: {_weeks_above(found.before)} now, "
        f"{_weeks_above(found.after)} then",
        f"  valves whose date moves: {found.moved}",
    ]
    pairs = zip(found.before.by_month, found.after.by_month, strict=True)
    rows += [f"  {month:%b %Y}: {before} now, {after} then" for (month, before), (_, after) in pairs]
    rows += [
        f"  {each.ref}: {day(each.before)} to {day(each.after)} ({each.days:+d} days)" for each in found.moves
    ]
    return rows


def _coverage(each: Coverage) -> str:
    return (
        f"  {percent(each.level, 0)} interval: {each.inside} of {each.cases} inside ({percent(each.share)})"
    )


def _reliability(each: Reliability) -> str:
    between = f"{percent(each.low, 0)} to {percent(each.high, 0)}"
    were = f"{each.above} of {each.cases} were ({percent(each.predicted)} predicted)"
    return f"  chance to be above the ceiling {between}: {were}"


def back_test_words(found: BackTest) -> list[str]:
    """How good the predictions were."""
    rows = [f"{found.cases} last readings of {found.valves} valves, hidden and predicted from those before."]
    if not found.cases:
        return [*rows, "No valve has two readings yet: there is nothing to predict."]
    rows += [_coverage(each) for each in found.coverage]
    rows.append(f"  mean error {found.bias_k:+.2f} K, spread {found.spread:.2f} of the expected (1 is right)")
    return rows + [_reliability(each) for each in found.reliability if each.cases]


def comparison_words(outcomes: Sequence[Outcome]) -> list[str]:
    """Policies side by side, truth by truth."""
    rows: list[str] = []
    truth = ""
    for each in outcomes:
        if each.truth != truth:
            truth = each.truth
            rows += ["", f"{truth}:", f"  {'policy':<56} visits a year   valve-weeks above the ceiling"]
        share = f"{percent(each.weeks_above, 3)} ± {percent(each.weeks_above_error, 3)}"
        rows.append(f"  {each.policy:<56} {each.visits_a_year:>13.2f}   {share}")
    return rows[1:]
