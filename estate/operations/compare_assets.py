"""In which fields a row of an asset list and the register differ."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum

from estate.domain.intake import AssetRow
from estate.domain.places import Outlet
from estate.domain.references import reference_key
from estate.domain.valves import Valve


@dataclass(frozen=True, slots=True)
class Difference:
    """One field: its name, the same in words, what the register holds and what the sheet says.

    Attributes:
        of_valve: whether the field is the valve's, not the outlet's.
        value: as the sheet has it.
    """

    name: str
    field: str
    of_valve: bool
    before: str
    after: str
    value: object


_OUTLET: tuple[tuple[str, str, Callable[[Outlet], object]], ...] = (
    ("outlet", "name of the outlet", lambda outlet: outlet.path.outlet),
    ("use", "use", lambda outlet: outlet.use),
    ("user_group", "users", lambda outlet: outlet.user_group),
    ("pipe_m", "pipe length", lambda outlet: outlet.pipe_m),
    ("little_used", "little used", lambda outlet: outlet.little_used),
)
_VALVE: tuple[tuple[str, str, Callable[[Valve], object]], ...] = (
    ("make", "make of the valve", lambda valve: valve.make),
    ("model", "model of the valve", lambda valve: valve.model),
    ("serial", "serial number of the valve", lambda valve: valve.serial),
    ("scheme_class", "class", lambda valve: valve.scheme_class),
    ("size_mm", "size", lambda valve: valve.size_mm),
    ("set_c", "set temperature", lambda valve: valve.set_c),
    ("designations", "designations", lambda valve: valve.designations),
    ("en_type", "EN 1111 type", lambda valve: valve.en_type),
    ("check_valves", "check valves", lambda valve: valve.check_valves),
    ("strainers", "strainers", lambda valve: valve.strainers),
    ("isolating_valves", "isolating valves", lambda valve: valve.isolating_valves),
    ("min_differential_k", "least differential", lambda valve: valve.limits.min_differential_k),
    ("max_pressure_ratio", "greatest pressure ratio", lambda valve: valve.limits.max_pressure_ratio),
)
BODY = frozenset({"make", "model", "serial"})
"""Fields that tell another body from a misprint."""


def differences(row: AssetRow, outlet: Outlet, valve: Valve | None) -> Iterator[Difference]:
    """Each field in which a row says otherwise than the register; a blank says nothing."""
    for name, words, held in _OUTLET:
        if name == "outlet" and not row.cell(name):
            continue  # named by its use, for want of words of its own
        yield from _difference(row, name, words, False, held(outlet))
    if valve is not None:
        for name, words, of_valve in _VALVE:
            yield from _difference(row, name, words, True, of_valve(valve))


def contradictions(row: AssetRow, first: AssetRow) -> Iterator[Difference]:
    """Each field of the valve in which a row says otherwise than an earlier row of the same body."""
    for name, words, _ in _VALVE:
        if getattr(first, name) not in (None, "", ()):
            yield from _difference(row, name, words, True, getattr(first, name))


def _difference(row: AssetRow, name: str, words: str, of_valve: bool, held: object) -> Iterator[Difference]:
    said = getattr(row, name)
    if said is None or said in ("", ()) or _compared(said) == _compared(held):
        return
    yield Difference(name, words, of_valve, _shown(held), _shown(said), said)


def _compared(value: object) -> object:
    """A value as values are compared: words without case and punctuation, codes in any order."""
    if isinstance(value, tuple):
        return frozenset(str(each).upper() for each in value)
    return reference_key(value) if isinstance(value, str) and not isinstance(value, Enum) else value


def _shown(value: object) -> str:
    if value is None or value in ("", ()):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return " ".join(map(str, value))
    if isinstance(value, float):
        return f"{value:g}"
    return str(value.value) if isinstance(value, Enum) else str(value)
