"""Outlets that an asset list has in another room than the register: where to, and what hinders a move."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from estate.domain.intake import AssetRow
from estate.domain.places import Outlet, OutletPath
from estate.domain.questions import Answers, Choice, Question
from estate.domain.references import reference_key
from estate.operations.inventory import Inventory

LEVEL = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """A row whose outlet lies in another room of the register.

    Attributes:
        room: where it would lie; no outlet in it.
        said: the place as the sheet has it.
        rivals: how many rooms the sheet's words may mean; from 2 on they do not tell which.
        stands: whether outlets of the register lie in that room already.
        together: other outlets in use of the same room that the same valve serves.
    """

    row: AssetRow
    outlet: Outlet
    room: OutletPath
    said: str
    rivals: int
    stands: bool
    together: tuple[Outlet, ...]

    @property
    def before(self) -> str:
        """The place in the register in words."""
        return _words(self.outlet.path, self.room)

    @property
    def after(self) -> str:
        """The room in words."""
        return _words(self.room, self.outlet.path)

    def question(self, hindrance: str = "") -> Question:
        """What is asked.

        Args:
            hindrance: why the sheet's place can't be taken; empty where it can.
        """
        row = self.row
        remedy = f"The register differs in place: it holds {self.before}. "
        if hindrance:
            remedy += hindrance
        else:
            remedy += "Which is right?"
            if not self.stands:
                remedy += " No outlet of the register lies in that room yet, so it would be a new one."
            if self.together:
                remedy += f" One valve serves {_named(self.together)} as well: they move together or stay."
        cell = next((row.cell(name) for name, *_ in reversed(_said(row, self.outlet))), "")
        where = cell or row.cell("reference")
        return Question(
            row.source.sheet,
            row.source.row,
            where,
            "differs-from-register",
            self.outlet.reference,
            self.said,
            remedy,
        )


class Moves:
    """Which outlets of a list would move.

    Args:
        inventory: the register.
        rows: of the list; of two with one reference the first counts.
        answers: what a person answered.
    """

    def __init__(self, inventory: Inventory, rows: Iterable[AssetRow], answers: Answers) -> None:
        self._inventory = inventory
        self._to: dict[int, tuple[str, ...]] = {}
        self._elsewhere: dict[int, Elsewhere] = {}
        outlets = {reference_key(each.reference): each for each in inventory.outlets}
        met: set[str] = set()
        for row in rows:
            key = reference_key(row.reference)
            if key in outlets and key not in met and (found := self._look(row, outlets[key])):
                self._elsewhere[row.source.row, row.source.sheet] = found
                asked = found.question()
                given = answers.to(asked.code, asked.sheet, asked.row, asked.cell)
                if given is not None and given.choice is Choice.SHEET:
                    self._to[found.outlet.id] = _keys(found.room)
            met.add(key)

    def of(self, row: AssetRow) -> Elsewhere | None:
        """Where a row has its outlet; None where the register has it there or has no such outlet."""
        return self._elsewhere.get((row.source.row, row.source.sheet))

    def hindrance(self, found: Elsewhere) -> str:
        """Why an outlet can't move as the answers say; empty where it can."""
        if found.rivals > 1:
            return (
                f"{found.rivals} rooms of that level fit the sheet's words: give number and name of the room."
            )
        torn = tuple(each for each in found.together if self._to.get(each.id) != _keys(found.room))
        if torn:
            return (
                f"One valve serves {_named(torn)} as well, and the list does not move that to the same room: "
                "move all of them, or record first that each has a valve of its own."
            )
        return ""

    def _look(self, row: AssetRow, outlet: Outlet) -> Elsewhere | None:
        if not any(differs for _, differs in _said(row, outlet)):
            return None
        path = outlet.path
        site, building, level = row.site or path.site, row.building or path.building, row.level or path.level
        there = self._rooms[reference_key(site), reference_key(building), reference_key(level)]
        fitting = _fitting(row, there)
        if len(fitting) == 1:
            room = fitting[0]
        else:
            same = row.room_number and reference_key(row.room_number) == reference_key(path.room_number)
            name = row.room or (path.room if same else "")
            room = OutletPath(site, building, level, row.room_number, name, "")
        served = self._inventory.by_position.get(outlet.position_id, ())
        here = _keys(path)
        together = tuple(each for each in served if each.id != outlet.id and _keys(each.path) == here)
        said = _words(OutletPath(row.site, row.building, row.level, row.room_number, row.room, ""), path)
        return Elsewhere(row, outlet, room, said, len(fitting), len(fitting) == 1, together)

    @cached_property
    def _rooms(self) -> defaultdict[LEVEL, list[OutletPath]]:
        """Rooms in which outlets lie, by their level."""
        found: defaultdict[LEVEL, list[OutletPath]] = defaultdict(list)
        for path in dict.fromkeys(replace(each.path, outlet="") for each in self._inventory.outlets):
            site, building, level, *_ = _keys(path)
            found[site, building, level].append(path)
        return found
