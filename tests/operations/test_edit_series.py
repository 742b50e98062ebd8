"""Whatever series of changes by hand: each taken back, the last first, leaves every row as it was."""

import shutil
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, OutletChange, Place, PlaceNames, ValveChange
from estate.domain.life.outlet_use import UseStep
from estate.domain.place_names import ABOVE
from estate.domain.places import Use, UserGroup
from estate.errors import KnownFault
from estate.operations.amend_outlets import amend_outlets
from estate.operations.amend_valve import amend_valve
from estate.operations.fit_valve import fit_valve
from estate.operations.move_places import move_places
from estate.operations.open_register import open_register
from estate.operations.register import Register
from estate.operations.remove_empty import remove_empty
from estate.operations.rename_place import rename_place
from estate.operations.use_outlets import use_outlets
from tests.builders import TODAY
from tests.copies import Copies
from tests.operations.by_hand import BODY, DRAFT, Rows, added, back, rows, sound, with_outlet
from tests.operations.conftest import NOW, WHO

NAMES = ("Ward", "Store", "Bedroom", "G", "Main Block", "Withy End")
Draws = Sequence[int]


class Series:
    """Changes of one register, each by figures that say what is chosen."""

    def __init__(self, register: Register) -> None:
        self.register = register
        self.done: list[tuple[Rows, Edited]] = []

    def _one(self, kind: PlaceKind, number: int) -> Place:
        ids = sorted(rows(self.register)[kind.value])
        return kind, ids[number % len(ids)]

    def _any(self, draws: Draws) -> Place:
        return self._one(list(PlaceKind)[draws[0] % 5], draws[1])

    def add(self, draws: Draws) -> Edited:
        above = self._any(draws)
        if above[0] is PlaceKind.ROOM:
            return with_outlet(self.register, above)
        return added(
            self.register, above, NAMES[draws[2] % 6], "" if above[0] is not PlaceKind.LEVEL else "7"
        )

    def rename(self, draws: Draws) -> Edited:
        names = PlaceNames(NAMES[draws[2] % 6])
        return rename_place(self.register, self._any(draws), names, who=WHO, at=NOW)

    def move(self, draws: Draws) -> Edited:
        kind = list(PlaceKind)[1 + draws[0] % 4]
        above = ABOVE[kind]
        assert above is not None
        moving = [self._one(kind, draws[1]), self._one(kind, draws[2])]
        return move_places(self.register, moving, self._one(above, draws[2]), who=WHO, at=NOW)

    def amend(self, draws: Draws) -> Edited:
        ids = [self._one(PlaceKind.OUTLET, each)[1] for each in draws[:2]]
        change = OutletChange(
            list(Use)[draws[2] % 7], list(UserGroup)[draws[0] % 6], pipe_m=float(draws[2] % 3)
        )
        return amend_outlets(self.register, ids, change, who=WHO, at=NOW)

    def amend_valve(self, draws: Draws) -> Edited:
        valves = sorted(rows(self.register)["valve"])
        change = ValveChange(set_c=38.0 + draws[1] % 7, serial=f"S-{draws[2] % 3}")
        return amend_valve(self.register, valves[draws[0] % len(valves)], change, who=WHO, at=NOW)

    def fit(self, draws: Draws) -> Edited:
        outlet = self._one(PlaceKind.OUTLET, -1 - draws[0] % 2)[1]  # the last ones have none
        return fit_valve(self.register, outlet, BODY, on=TODAY, who=WHO, at=NOW)

    def remove(self, draws: Draws) -> Edited:
        return remove_empty(self.register, self._any(draws), who=WHO, at=NOW)

    def retire(self, draws: Draws) -> Edited:
        ids = [self._one(PlaceKind.OUTLET, each)[1] for each in draws[:2]]
        step = (UseStep.RETIRE, UseStep.TAKE_OUT)[draws[2] % 2]
        told: dict[str, Any] = {"on": TODAY, "why": "closed", "who_told": "Sister Ash", "who": WHO, "at": NOW}
        return use_outlets(self.register, ids, step, **told)

    def do(self, number: int, draws: Draws) -> None:
        """One change; what is refused leaves everything as it is."""
        ways: list[Callable[[Draws], Edited]] = [
            *(self.add, self.add, self.rename, self.move, self.amend),
            *(self.amend_valve, self.fit, self.remove, self.retire),
        ]
        before = rows(self.register)
        try:
            self.done.append((before, ways[number % len(ways)](draws)))
        except KnownFault:
            assert rows(self.register) == before

    def take_all_back(self) -> None:
        """The last one first; a body whose fitting was taken back stays, for its action names it."""
        for before, edited in reversed(self.done):
            now = rows(self.register)
            try:
                back(self.register, edited)
            except KnownFault as fault:
                # Out of use by a finding that stands, or named by an action: evidence is not taken back.
                assert "put back in use" in fault.title or "on record" in fault.detail, fault
                assert rows(self.register) == now
                return
            after = rows(self.register)
            kept = after["valve"].keys() - before["valve"].keys()
            assert all(after["valve"][each]["serial"] == BODY.serial for each in kept)
            after["valve"] = {each: row for each, row in after["valve"].items() if each not in kept}
            assert after == before


@settings(max_examples=3)
@given(
    steps=st.lists(st.tuples(st.integers(0, 8), st.tuples(*[st.integers(0, 30)] * 3)), min_size=4, max_size=8)
)
def test_that_a_series_taken_back_leaves_every_row_as_it_was(
    made_once: Copies, steps: list[tuple[int, Draws]]
) -> None:
    with TemporaryDirectory() as folder:
        path = shutil.copy(made_once.file, Path(folder) / "register.db")
        register = open_register(path)
        try:
            with_outlet(register, (PlaceKind.ROOM, 1), replace(DRAFT, reference="BARE"))
            series = Series(register)
            for number, draws in steps:
                series.do(number, draws)
            series.take_all_back()
            assert sound(register)
        finally:
            register.close()
