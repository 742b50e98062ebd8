"""Rows of an asset list: each an outlet with its valve, or questions about it."""

from typing import Any

from estate.domain.intake import AssetRow
from estate.domain.places import Use, UserGroup
from estate.domain.valves import DESIGNATIONS, EnType, SchemeClass
from estate.intake.dates import DateOrder
from estate.intake.grid import is_blank
from estate.intake.row_reader import RowReader
from estate.intake.values import Doubt

_NO_REFERENCE = Doubt("missing-reference", "Enter the outlet's reference.")
_NO_BUILDING = Doubt("missing-place", "Enter the building.")
_NO_ROOM = Doubt("missing-place", "Enter the number or the name of the room.")
_NO_USE = Doubt("unknown-use", "Enter what the outlet is for, such as basin, shower or bath.")
_NO_USERS = Doubt("unknown-user-group", "Enter who uses the outlet, such as staff, patients or residents.")
_FACTS = ("check_valves", "strainers", "isolating_valves", "little_used")
_LIMITS = ("min_differential_k", "max_pressure_ratio")


def read_asset(reader: RowReader, file: str, order: DateOrder) -> AssetRow | None:
    """Read one row of an asset list.

    Args:
        reader: the row; its questions say why the row was not taken.
        file: the file's name.
        order: the order of the dates in the whole column.

    Returns:
        The asset, or None where the reader has questions.
    """
    reader.check_texts()
    for field, doubt in (("reference", _NO_REFERENCE), ("building", _NO_BUILDING)):
        if not reader.text(field):
            reader.ask(field, doubt)
    if not (reader.text("room") or reader.text("room_number")):
        reader.ask("room" if reader.row.where("room") else "room_number", _NO_ROOM)
    use = _needed(reader, "use", _NO_USE)
    users = _needed(reader, "user_group", _NO_USERS)
    scheme_class = reader.choice("scheme_class", "unreadable-value")
    size_mm, set_c, pipe_m = reader.number("size_mm"), reader.number("set_c"), reader.number("pipe_m")
    fitted_on = reader.date("fitted_on", order)
    further = _further(reader)
    if reader.questions or use is None or users is None:
        return None
    return AssetRow(
        source=reader.row.source(file),
        reference=reader.text("reference"),
        site=reader.text("site"),
        building=reader.text("building"),
        level=reader.text("level"),
        room_number=reader.text("room_number"),
        room=reader.text("room"),
        outlet=reader.text("outlet") or reader.text("use"),
        use=Use(use),
        user_group=UserGroup(users),
        make=reader.text("make"),
        model=reader.text("model"),
        serial=reader.text("serial"),
        scheme_class=SchemeClass(scheme_class) if scheme_class else None,
        size_mm=size_mm,
        set_c=set_c,
        fitted_on=fitted_on,
        pipe_m=pipe_m,
        cells=reader.row.places(),
        **further,
    )


def _further(reader: RowReader) -> dict[str, Any]:
    """What else a row says of the valve and the outlet, by the names of the fields."""
    en_type = reader.choice("en_type", "unreadable-value")
    found: dict[str, Any] = {
        "designations": reader.codes("designations", DESIGNATIONS),
        "en_type": EnType(en_type) if en_type else None,
    }
    found |= {name: reader.fact(name) for name in _FACTS}
    return found | {name: reader.number(name) for name in _LIMITS}


def _needed(reader: RowReader, field: str, doubt: Doubt) -> str | None:
    if is_blank(reader.row.cell(field)):
        reader.ask(field, doubt)
        return None
    return reader.choice(field, doubt.code)
