"""Whether a valve suits its outlets: its class and designation; no reading bears on it."""

from collections.abc import Sequence

from estate.domain.designations import USE_LETTERS
from estate.domain.findings import Finding, Severity
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.limits import Limit
from estate.domain.places import Outlet, UserGroup
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Valve


def check_suitability(
    outlets: Sequence[Outlet], users: UserGroup, valve: Valve, rules: RuleSet
) -> tuple[Finding, ...]:
    """Judge the class and the designation of a valve (D08-06, D08-10..12, D08-50).

    Args:
        outlets: every outlet that the valve serves, the tested one first.
        users: the most vulnerable group among them.
        valve: the body.
        rules: the rules in force there.
    """
    return _class(users, valve, rules), _designation(outlets, valve)


def _class(users: UserGroup, valve: Valve, rules: RuleSet) -> Finding:
    code, needed = "class-too-low", rules.get(f"class.needed.{users.value.split()[0]}")
    kind = valve.scheme_class
    if kind is None or needed is None:
        return not_tested(code, "Class of valve against its users: the class or the requirement is missing.")
    words = f"Scheme class Type {kind}, users: {users}; Type {needed.value} wanted"
    limit = Limit(float(needed.value), needed.shown_source)
    if float(kind) >= limit.value:
        return met(code, words, limit)
    severity = Severity.PUT_RIGHT if kind == "1" else Severity.WATCH
    action = "The recorded risk assessment decides (D08-06): record it, or change the valve."
    return failed(code, words, severity, limit=limit, measured=float(kind), unit="type", action=action)


def _designation(outlets: Sequence[Outlet], valve: Valve) -> Finding:
    code = "designation-unfit"
    suffixes = {each.upper().partition("-")[2] for each in valve.designations}
    wanted = [(each.use, USE_LETTERS[each.use]) for each in outlets if each.use in USE_LETTERS]
    if not suffixes or not wanted:
        return not_tested(code, "Designation against the use: the designation is not recorded.")
    limit = Limit(0.0, "D08-50: the designation matches the intended application")
    unfit = [use for use, letters in wanted if not suffixes & set(letters)]
    words = f"Designated {', '.join(valve.designations)}"
    if not unfit:
        return met(code, words, limit)
    words += f"; used for {', '.join(unfit)}"
    action = "Change the valve or its use; a competent person decides."
    return failed(code, words, Severity.PUT_RIGHT, limit=limit, action=action)
