"""The windows that are open: which show one register, what one tells the others, how they are left."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from estate.domain.changes import ChangeSet
from estate.window.desk import Desk
from estate.window.notices import Notices
from estate.window.standing import AsLeft


@dataclass(frozen=True, eq=False)
class Member:
    """One window, as the others see it.

    Attributes:
        desk: the register that it shows now, or None.
        leave: lets it show none, without closing the register.
        close: closes the window.
        as_left: how it stands.
        come_back: lets it show a register, standing as it did.
    """

    notices: Notices
    desk: Callable[[], Desk | None]
    leave: Callable[[], object]
    close: Callable[[], object]
    as_left: Callable[[], AsLeft]
    come_back: Callable[[Desk, AsLeft], object]


class Company:
    """Windows that know of each other.

    Windows on one register share its desk: what one of them changes is told to the others at once, and only
    the last one that leaves the register backs it up and closes it.

    Attributes:
        leaving: whether the whole program is being left.
    """

    def __init__(self) -> None:
        self._members: list[Member] = []
        self._away: list[tuple[Member, AsLeft]] = []
        self._telling = False
        self.leaving = False

    @property
    def members(self) -> Sequence[Member]:
        """The windows, in the order in which they were opened; those on the past left out."""
        return tuple(each for each in self._members if not _past(each.desk()))

    def join(self, member: Member) -> None:
        """Let a window in."""
        self._members.append(member)
        member.notices.changed.connect(lambda changes: self._tell(member, changes))

    def part(self, member: Member) -> None:
        """Let a window go."""
        if member in self._members:
            self._members.remove(member)

    def sharing(self, me: Member, desk: Desk | None) -> Sequence[Member]:
        """The other windows that show a register."""
        if desk is None:
            return ()
        return tuple(each for each in self._members if each is not me and each.desk() is desk)

    def desk_at(self, me: Member | None, where: str) -> Desk | None:
        """A register that a window, another than `me`, shows already, by its file or address."""
        desks = (each.desk() for each in self.members if each is not me)
        return next((desk for desk in desks if desk is not None and _same(desk.where, where)), None)

    def send_away(self, me: Member, desk: Desk) -> None:
        """Let the other windows show none, for their register is closed under them."""
        for each in self.sharing(me, desk):
            self._away.append((each, each.as_left()))
            each.leave()

    def call_back(self, desk: Desk) -> None:
        """Let those sent away from a register show it again, where they show no other by now."""
        back = [(each, left) for each, left in self._away if _same(left.register, desk.where)]
        self._away = [each for each in self._away if each not in back]
        for member, left in back:
            if member in self._members and member.desk() is None:
                member.come_back(desk, left)

    def _tell(self, me: Member, changes: ChangeSet) -> None:
        if self._telling:
            return
        self._telling = True
        try:
            for each in self.sharing(me, me.desk()):
                each.notices.announce(changes)
        finally:
            self._telling = False

    def as_left(self) -> list[AsLeft]:
        """How every window stands."""
        return [each.as_left() for each in self.members]

    def close_all(self) -> None:
        """Close every window, the newest first; each may still ask."""
        self.leaving = True
        for each in reversed(tuple(self._members)):
            each.close()


def _past(desk: Desk | None) -> bool:
    return desk is not None and desk.known_at is not None


def _same(one: str, other: str) -> bool:
    if "://" in one or "://" in other:
        return one == other
    return Path(one).absolute() == Path(other).absolute()
