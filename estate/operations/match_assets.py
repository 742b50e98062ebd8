"""Match rows of an asset list to the register: new, already there, or a question."""

from dataclasses import dataclass

from estate.domain.intake import AssetRow
from estate.domain.places import Outlet
from estate.domain.questions import Question
from estate.domain.references import reference_key
from estate.domain.valves import Valve
from estate.operations.holdings import Holdings

ROOM = tuple[str, str, str, str]
BODY = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class NewAsset:
    """A row to be added; `group` tells rows apart that share one valve body."""

    row: AssetRow
    group: tuple[object, ...]


def room_key(row: AssetRow) -> ROOM:
    """The room of a row as rooms are compared."""
    return (
        reference_key(row.site),
        reference_key(row.building),
        reference_key(row.level),
        reference_key(row.room_number) or reference_key(row.room),
    )


def body_key(make: str, model: str, serial: str) -> BODY | None:
    """A valve body as bodies are compared; None without a serial number."""
    return (
        (reference_key(make), reference_key(model), reference_key(serial)) if reference_key(serial) else None
    )


class AssetMatcher:
    """Matches the rows of one asset list.

    Args:
        holdings: the register.
    """

    def __init__(self, holdings: Holdings) -> None:
        self._outlets = {reference_key(each.reference): each for each in holdings.outlets}
        in_place = {
            each.position_id: holdings.valves[each.valve_id]
            for each in holdings.fittings
            if not each.removed_on
        }
        self._valve_at = in_place
        self._bodies: dict[BODY, ROOM | None] = {}
        for valve in in_place.values():
            if key := body_key(valve.make, valve.model, valve.serial):
                self._bodies[key] = None
        self._seen: dict[str, int] = {}

    def match(self, row: AssetRow) -> NewAsset | Question | None:
        """Match one row; None where the register already holds it so."""
        key = reference_key(row.reference)
        if key in self._seen:
            return _ask(
                row, "duplicate-row", f"Row {self._seen[key]} has the same reference: keep one of them."
            )
        self._seen[key] = row.source.row
        if key in self._outlets:
            return self._known(row, key)
        return self._new(row)

    def _known(self, row: AssetRow, key: str) -> Question | None:
        outlet = self._outlets[key]
        valve = self._valve_at.get(outlet.position_id)
        differing = _differing(outlet, valve, row)
        if not differing:
            return None
        remedy = f"The register differs in {', '.join(differing)}: change it there if the sheet is right."
        return _ask(row, "differs-from-register", remedy, outlet.reference)

    def _new(self, row: AssetRow) -> NewAsset | Question:
        body = body_key(row.make, row.model, row.serial)
        if body is None:
            return NewAsset(row, ("row", row.source.sheet, row.source.row))
        room = room_key(row)
        if body in self._bodies and self._bodies[body] != room:
            remedy = "That body is already fitted in another room: check the serial number."
            return _ask(row, "serial-elsewhere", remedy)
        self._bodies[body] = room
        return NewAsset(row, ("body", *body))


def _differing(outlet: Outlet, valve: Valve | None, row: AssetRow) -> list[str]:
    """Names of what a sheet and the register hold differently."""
    pairs = (
        ("use", outlet.use is row.use),
        ("users", outlet.user_group is row.user_group),
        ("pipe length", outlet.pipe_m == row.pipe_m),
        ("valve", valve is not None and _same_body(valve, row)),
        ("set temperature", valve is not None and valve.set_c == row.set_c),
    )
    return [name for name, same in pairs if not same] + _said_otherwise(outlet, valve, row)


def _said_otherwise(outlet: Outlet, valve: Valve | None, row: AssetRow) -> list[str]:
    """Names of what a sheet says and the register holds otherwise; a blank says nothing."""
    pairs: list[tuple[str, object, object]] = [("little used", row.little_used, outlet.little_used)]
    if valve is not None:
        held = {each.upper() for each in valve.designations}
        pairs += [
            ("designations", set(row.designations) or None, held),
            ("EN 1111 type", row.en_type, valve.en_type),
            ("check valves", row.check_valves, valve.check_valves),
            ("strainers", row.strainers, valve.strainers),
            ("isolating valves", row.isolating_valves, valve.isolating_valves),
            ("least differential", row.min_differential_k, valve.limits.min_differential_k),
            ("greatest pressure ratio", row.max_pressure_ratio, valve.limits.max_pressure_ratio),
        ]
    return [name for name, said, known in pairs if said is not None and said != known]


def _same_body(valve: Valve, row: AssetRow) -> bool:
    ours = (reference_key(valve.make), reference_key(valve.model), reference_key(valve.serial))
    return ours == (reference_key(row.make), reference_key(row.model), reference_key(row.serial))


def _ask(row: AssetRow, code: str, remedy: str, ref: str | None = None) -> Question:
    found = " ".join(part for part in (row.reference, row.make, row.model, row.serial) if part)
    cell = row.cell("reference")
    return Question(row.source.sheet, row.source.row, cell, code, ref, found, remedy)
