"""Rows of an asset list: each an outlet with its valve, or questions about it."""

from collections.abc import Mapping
from typing import Any

from estate.domain.intake import AssetRow
from estate.domain.places import Use, UserGroup
from estate.domain.valves import DESIGNATIONS, EnType, SchemeClass
from estate.intake.grid import is_blank
from estate.intake.row_reader import RowReader
from estate.intake.table import Table
from estate.intake.values import Doubt

_NO_REFERENCE = Doubt("missing-reference", "Enter the outlet's reference.")
_NO_BUILDING = Doubt("missing-place", "Enter the building.")
_NO_ROOM = Doubt("missing-place", "Enter the number or the name of the room.")
_NO_USE = Doubt("unknown-use", "Enter what the outlet is for, such as basin, shower or bath.")
_NO_USERS = Doubt("unknown-user-group", "Enter who uses the outlet, such as staff, patients or residents.")
_TEXTS = (
    "reference",
    "site",
    "building",
    "level",
    "room_number",
    "room",
    "outlet",
    "make",
    "model",
    "serial",
)
_FACTS = ("check_valves", "strainers", "isolating_valves", "little_used")
_LIMITS = ("min_differential_k", "max_pressure_ratio")


class AssetReader:
    """Reads the rows of one asset list.

    Args:
        table: its columns.
        file: the file's name.
    """

    def __init__(self, table: Table, file: str) -> None:
        self._file = file
        self._facts = tuple(name for name in _FACTS if name in table.holds)
        self._limits = tuple(name for name in _LIMITS if name in table.holds)

    def read(self, reader: RowReader) -> AssetRow | None:
        """Read one row.

        Args:
            reader: the row; its doubts say why the row was not taken.

        Returns:
            The asset, or None where the reader has doubts.
        """
        texts = {name: reader.text(name) for name in _TEXTS}
        _check_told(reader, texts)
        use = _needed(reader, "use", _NO_USE)
        users = _needed(reader, "user_group", _NO_USERS)
        scheme_class = reader.choice("scheme_class", "unreadable-value")
        size_mm, set_c, pipe_m = reader.number("size_mm"), reader.number("set_c"), reader.number("pipe_m")
        fitted_on = reader.date("fitted_on")
        further = self._further(reader)
        if reader.doubted or use is None or users is None:
            return None
        places = reader.row.places()
        if not texts["outlet"]:
            texts["outlet"] = reader.text("use")
            places = tuple(each for each in places if each[0] != "outlet")
        told: dict[str, Any] = {**texts, **further}
        return AssetRow(
            source=reader.row.source(self._file),
            use=Use(use),
            user_group=UserGroup(users),
            scheme_class=SchemeClass(scheme_class) if scheme_class else None,
            size_mm=size_mm,
            set_c=set_c,
            fitted_on=fitted_on,
            pipe_m=pipe_m,
            cells=places,
            **told,
        )

    def _further(self, reader: RowReader) -> dict[str, Any]:
        """What else a row says of the valve and the outlet, by the names of the fields."""
        en_type = reader.choice("en_type", "unreadable-value")
        found: dict[str, Any] = {
            "designations": reader.codes("designations", DESIGNATIONS),
            "en_type": EnType(en_type) if en_type else None,
        }
        found |= {name: reader.fact(name) for name in self._facts}
        return found | {name: reader.number(name) for name in self._limits}


def _check_told(reader: RowReader, texts: Mapping[str, str]) -> None:
    """Ask for the reference, the building and the room."""
    for field, doubt in (("reference", _NO_REFERENCE), ("building", _NO_BUILDING)):
        if not texts[field] and is_blank(reader.cell(field)):
            reader.ask(field, doubt)
    if not (texts["room"] or texts["room_number"]) and not reader.row.filled("room", "room_number"):
        reader.ask("room" if reader.row.where("room") else "room_number", _NO_ROOM)


def _needed(reader: RowReader, field: str, doubt: Doubt) -> str | None:
    if is_blank(reader.cell(field)):
        reader.ask(field, doubt)
        return None
    return reader.choice(field, doubt.code)
