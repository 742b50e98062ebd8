"""Outlets that an asset list has in another room than the register: where to, and what hinders a move."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from estate.domain.intake import AssetRow
from estate.domain.phrases import phrase, together
from estate.domain.places import Outlet, OutletPath
from estate.domain.questions import Answers, Choice, Question
from estate.domain.references import level_key, reference_key
from estate.operations.inventory import Inventory

PLACE = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """A row whose outlet lies in another room of the register.

    Attributes:
        room: where it would lie; no outlet in it.
        said: the place as the sheet has it.
        rivals: how many rooms with outlets the sheet's words fit; from 2 on they do not tell which.
        together: other outlets in use of the same room that the same valve serves.
    """

    row: AssetRow
    outlet: Outlet
    room: OutletPath
    said: str
    rivals: int
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
        remedy = together(
            phrase("The register differs in place: it holds {before}.", before=self.before),
            *((hindrance,) if hindrance else self._beside()),
        )
        cells = (row.cell(name) for name in reversed(_differing(row, self.outlet.path)))
        where = next(filter(None, cells), row.cell("reference"))
        return Question(
            row.source.sheet,
            row.source.row,
            where,
            "differs-from-register",
            self.outlet.reference,
            self.said,
            remedy,
        )

    def _beside(self) -> Iterator[str]:
        """What is asked, and what the answer would bring with it."""
        yield phrase("Which is right?")
        if not self.rivals:
            yield phrase("No outlet of the register lies in that room yet, so it would be a new one.")
        if self.together:
            yield phrase(
                "One valve serves {outlets} as well: they move together or stay.",
                outlets=_named(self.together),
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
        self._to: dict[int, PLACE] = {}
        self._elsewhere: dict[tuple[str, int], Elsewhere] = {}
        outlets = {reference_key(each.reference): each for each in inventory.outlets}
        met: set[str] = set()
        for row in rows:
            key = reference_key(row.reference)
            if key in outlets and key not in met and (found := self._look(row, outlets[key])):
                self._elsewhere[row.source.sheet, row.source.row] = found
                asked = found.question()
                given = answers.to(asked.code, asked.sheet, asked.row, asked.cell)
                if given is not None and given.choice is Choice.SHEET:
                    self._to[found.outlet.id] = _keys(found.room)
            met.add(key)

    def of(self, row: AssetRow) -> Elsewhere | None:
        """Where a row has its outlet; None where the register has it there or has no such outlet."""
        return self._elsewhere.get((row.source.sheet, row.source.row))

    def hindrance(self, found: Elsewhere) -> str:
        """Why an outlet can't move as the answers say; empty where it can."""
        if found.rivals > 1:
            return phrase(
                "{rooms} rooms of that level fit the sheet's words: give number and name of the room.",
                rooms=found.rivals,
            )
        torn = tuple(each for each in found.together if self._to.get(each.id) != _keys(found.room))
        if torn:
            return phrase(
                "One valve serves {outlets} as well, and the list does not move that to the same room: "
                "move all of them, or record first that each has a valve of its own.",
                outlets=_named(torn),
            )
        return ""

    def _look(self, row: AssetRow, outlet: Outlet) -> Elsewhere | None:
        path = outlet.path
        if not _differing(row, path):
            return None
        there = self._rooms[_level(row, path)]
        fitting = _fitting(row, there)
        room = fitting[0] if len(fitting) == 1 else _new_room(row, path)
        served, here = self._inventory.by_position.get(outlet.position_id, ()), _keys(path)
        beside = tuple(each for each in served if each.id != outlet.id and _keys(each.path) == here)
        said = OutletPath(row.site, row.building, row.level, row.room_number, row.room, "")
        return Elsewhere(row, outlet, room, _words(said, path), len(fitting), beside)

    @cached_property
    def _rooms(self) -> defaultdict[PLACE, list[OutletPath]]:
        """Rooms in which outlets lie, by their level."""
        found: defaultdict[PLACE, list[OutletPath]] = defaultdict(list)
        for path in dict.fromkeys(replace(each.path, outlet="") for each in self._inventory.outlets):
            found[_keys(path)[:3]].append(path)
        return found


def _differing(row: AssetRow, path: OutletPath) -> list[str]:
    """The fields in which a row names another place, the widest first; a blank says nothing."""
    told = ["site", "building", "level", "room_number" if row.room_number else "room"]
    pairs = [(name, getattr(row, name), getattr(path, name)) for name in told]
    return [name for name, said, held in pairs if said and _key(name, said) != _key(name, held)]


def _key(name: str, told: str) -> str:
    return level_key(told) if name == "level" else reference_key(told)


def _level(row: AssetRow, path: OutletPath) -> PLACE:
    site, building = row.site or path.site, row.building or path.building
    return reference_key(site), reference_key(building), level_key(row.level or path.level)


def _fitting(row: AssetRow, there: Iterable[OutletPath]) -> list[OutletPath]:
    """Rooms of a level that a row may mean: by number, else by name; the name tells alike numbers apart."""
    number, name = reference_key(row.room_number), reference_key(row.room)
    if not number:
        return [each for each in there if reference_key(each.room) == name]
    numbered = [each for each in there if reference_key(each.room_number) == number]
    return [each for each in numbered if reference_key(each.room) == name] or numbered


def _new_room(row: AssetRow, path: OutletPath) -> OutletPath:
    same = reference_key(row.room_number) == reference_key(path.room_number)
    return OutletPath(
        row.site or path.site,
        row.building or path.building,
        row.level or path.level,
        row.room_number,
        row.room or (path.room if same else ""),
        "",
    )


def _keys(path: OutletPath) -> PLACE:
    above = reference_key(path.site), reference_key(path.building), level_key(path.level)
    return (*above, reference_key(path.room_number), reference_key(path.room))


def _words(path: OutletPath, beside: OutletPath) -> str:
    """A room in words, with its site where that is another one."""
    room = str(replace(path, outlet=""))
    other = path.site and reference_key(path.site) != reference_key(beside.site)
    return f"{path.site} · {room}" if other else room


def _named(outlets: Iterable[Outlet]) -> str:
    return ", ".join(each.reference for each in outlets)
