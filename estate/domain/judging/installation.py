"""Where and how the valve is fitted and kept: class, designation, pipe, strainers, what was seen."""

from estate.domain.dates import day_words
from estate.domain.designations import USE_LETTERS
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case, failed, met, not_tested
from estate.domain.limits import Limit, rule_limit


def check_installation(case: Case) -> list[Finding]:
    """Judge the fitting and its upkeep (D08-06, D08-10..12, D08-50, D08-72, HSE-10, TP-03, TP-06)."""
    read = case.readings
    return [
        _pipe(case),
        _class(case),
        _designation(case),
        _strainers(case),
        _seen("check-valves", "Check valves in good order", read.check_valves_good, Severity.PUT_RIGHT, case),
        _seen(
            "isolating-valves",
            "Isolating valves fully open",
            read.isolating_valves_open,
            Severity.PUT_RIGHT,
            case,
        ),
        _seen("cap", "Cap refitted over the adjuster", read.cap_refitted, Severity.PUT_RIGHT, case),
    ]


def _pipe(case: Case) -> Finding:
    code, limit = "pipe-too-long", rule_limit(case.rules, "pipe.blended")
    lengths = [each.pipe_m for each in case.outlets if each.pipe_m is not None]
    if not lengths or limit is None:
        return not_tested(code, "Length of blended pipe: the length or the limit is missing.")
    words = f"Blended pipe {max(lengths):.1f} m, limit {limit.value:g} m"
    if max(lengths) <= limit.value:
        return met(code, words, limit, max(lengths), "m")
    action = "Mount the valve closer to the outlet or have the site's risk assessment say why not."
    return failed(code, words, Severity.WATCH, limit=limit, measured=max(lengths), unit="m", action=action)


def _class(case: Case) -> Finding:
    code, needed = "class-too-low", case.rules.get(f"class.needed.{_group_key(case)}")
    kind = case.valve.scheme_class
    if kind is None or needed is None:
        return not_tested(code, "Class of valve against its users: the class or the requirement is missing.")
    words = f"Scheme class Type {kind}, users: {case.users}; Type {needed.value} wanted"
    limit = Limit(float(needed.value), needed.shown_source)
    if float(kind) >= limit.value:
        return met(code, words, limit)
    severity = Severity.PUT_RIGHT if kind == "1" else Severity.WATCH
    action = "The recorded risk assessment decides (D08-06): record it, or change the valve."
    return failed(code, words, severity, limit=limit, measured=float(kind), unit="type", action=action)


def _group_key(case: Case) -> str:
    return case.users.value.split()[0]


def _designation(case: Case) -> Finding:
    code = "designation-unfit"
    suffixes = {each.upper().partition("-")[2] for each in case.valve.designations}
    wanted = [(each.use, USE_LETTERS[each.use]) for each in case.outlets if each.use in USE_LETTERS]
    if not suffixes or not wanted:
        return not_tested(code, "Designation against the use: the designation is not recorded.")
    limit = Limit(0.0, "D08-50: the designation matches the intended application")
    unfit = [use for use, letters in wanted if not suffixes & set(letters)]
    words = f"Designated {', '.join(case.valve.designations)}"
    if not unfit:
        return met(code, words, limit)
    words += f"; used for {', '.join(unfit)}"
    action = "Change the valve or its use; a competent person decides."
    return failed(code, words, Severity.PUT_RIGHT, limit=limit, action=action)


def _strainers(case: Case) -> Finding:
    code, limit = "strainers-overdue", rule_limit(case.rules, "strainers.interval")
    if case.valve.strainers is False or case.readings.strainers_cleaned:
        return met(code, "Strainers cleaned" if case.readings.strainers_cleaned else "No strainers", limit)
    if case.strainers_due is None or limit is None:
        return not_tested(code, "Strainers: no cleaning is on record.")
    words = f"Strainers due by {day_words(case.strainers_due)}, not cleaned at this visit"
    if case.visit.on <= case.strainers_due:
        return met(code, words, limit)
    action = "Inspect, clean, descale and disinfect the strainers; isolate hot and cold first."
    return failed(code, words, Severity.WATCH, limit=limit, action=action)


def _seen(code: str, name: str, value: bool | None, severity: Severity, case: Case) -> Finding:
    if value is None:
        return not_tested(code, f"{name}: not recorded.")
    if value:
        return met(code, f"{name}: yes", None)
    limit = Limit(0.0, "D08-72, TP-06")
    action = "Put right, then test again."
    return failed(code, f"{name}: no", severity, limit=limit, action=action, retest=case.retest_for(severity))
