"""Write the overdue list or the compliance summary to a file."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from estate.domain.compliance import summarise
from estate.domain.progress import Progress, silent
from estate.domain.register import AsAt
from estate.domain.rules.listing import blanks, listed
from estate.domain.rules.values import Override, RuleValue
from estate.errors import ReportFault
from estate.operations.browse import identity
from estate.operations.inventory import Inventory
from estate.operations.plan_basis import read_plan_basis
from estate.operations.plan_retests import lines_of
from estate.operations.register import Register
from estate.reports import content, pdf, xlsx
from estate.reports.document import Document
from estate.store import places

Writer = Callable[[Document, Path, Progress], Path]
_WRITERS: Mapping[str, Writer] = {".pdf": pdf.write, ".xlsx": xlsx.write}


def write_overdue(register: Register, to: Path, today: date, progress: Progress = silent) -> Path:
    """Write the overdue list as at a day.

    Args:
        register: the open register.
        to: a file that ends in ``.pdf`` or ``.xlsx``.
        today: the as-at day.
        progress: told how far the work is.

    Raises:
        ReportFault: another ending, or the file can't be written.
    """
    writer = writer_for(to)
    as_at = AsAt(today, identity(register), register.known_at)
    with register.database.reading() as session:
        lines = lines_of(read_plan_basis(session, register.published, today), today)
    return writer(content.overdue(lines, as_at), to, progress)


def write_summary(register: Register, to: Path, today: date, progress: Progress = silent) -> Path:
    """Write the compliance summary as at a day.

    Raises:
        ReportFault: another ending than ``.pdf`` or ``.xlsx``, or the file can't be written.
    """
    writer = writer_for(to)
    as_at = AsAt(today, identity(register), register.known_at)
    with register.database.reading() as session:
        basis = read_plan_basis(session, register.published, today)
        buildings = {room.building_id: room.building for room in places.rooms(session)}
    made = tuple(_with_place_named(each, basis, buildings) for each in basis.rulebook.overrides)
    compliance = summarise(lines_of(basis, today), today, _values_in_force(basis), made)
    return writer(content.summary(compliance, as_at), to, progress)


def _values_in_force(inventory: Inventory) -> tuple[RuleValue, ...]:
    sets = inventory.rulebook.in_force(inventory.outlets)
    return tuple(
        replace(value, rule_set=rules.id) for rules in sets for value in (*listed(rules), *blanks(rules))
    )


def _with_place_named(override: Override, inventory: Inventory, buildings: Mapping[int, str]) -> Override:
    """An override as a report shows it: its place in words instead of by number."""
    kind, _, number = override.place.partition(":")
    if kind == "building":
        return replace(override, place=buildings.get(int(number), override.place))
    if kind == "outlet":
        return replace(override, place=inventory.outlet_by_id[int(number)].reference)
    return override


def writer_for(to: Path) -> Writer:
    """What writes files of a name's ending.

    Raises:
        ReportFault: no report is written with that ending.
    """
    if to.suffix.lower() not in _WRITERS:
        raise ReportFault("Unknown kind of file", f"{to.name}.", "Give a name that ends in .pdf or .xlsx.")
    return _WRITERS[to.suffix.lower()]
