"""Due lines and registers made up for the report tests."""

from collections.abc import Iterable
from datetime import date, timedelta

from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.domain.places import OutletPath, Use, UserGroup
from estate.domain.register import AsAt, RegisterIdentity, RuleSetIdentity
from estate.domain.windows import Candidate, Reason, Window

TODAY = date(2026, 11, 25)

REASON = Reason(
    "stage-1",
    "first test after commissioning on 2 Mar 2026: 6 to 8 weeks",
    "D08-80: type 3 in-service test frequency, 2017, test 1",
)


def as_at(name: str = "Marlpit Cross Community Hospital", today: date = TODAY) -> AsAt:
    rule_sets = (
        RuleSetIdentity("uk-healthcare", "Healthcare premises, Type 3", "2026-1"),
        RuleSetIdentity("uk-type2", "Other premises, Type 2", "2026-1"),
    )
    return AsAt(today, RegisterIdentity(name, "mcch-7f3a", "0001", rule_sets))


def path(
    building: str = "Main Building",
    level: str = "Ground",
    number: str = "G02",
    room: str = "Bedroom",
    outlet: str = "basin",
) -> OutletPath:
    return OutletPath("Marlpit Cross", building, level, number, room, outlet)


def line(
    ref: str = "MC/G/G02/WHB1",
    days_late: int = 10,
    *,
    where: OutletPath | None = None,
    verdict: Verdict | None = Verdict.SATISFACTORY,
    reason: Reason = REASON,
    valve: str = "Corvane TH3 S-10021",
    also_serves: tuple[str, ...] = (),
) -> DueLine:
    """A valve so many days past its window; a negative number is as many days before its end."""
    ends = TODAY - timedelta(days=days_late)
    return DueLine(
        ref=ref,
        outlet_id=1,
        valve_id=1,
        valve=valve,
        path=where or path(),
        use=Use.BASIN,
        user_group=UserGroup.PATIENTS,
        window=Window((Candidate(ends - timedelta(weeks=2), ends, reason),)),
        today=TODAY,
        rule_set="uk-healthcare",
        last_visit=None if verdict is None else ends - timedelta(weeks=8),
        verdict=verdict,
        also_serves=also_serves,
    )


_VERDICTS = (
    Verdict.SATISFACTORY,
    Verdict.PUT_RIGHT,
    Verdict.WATCH,
    None,
    Verdict.NOT_TESTED,
    Verdict.SATISFACTORY,
    Verdict.OUT_OF_USE,
)
_ROOMS = ("Bedroom", "Assisted bathroom", "Sluice", "Staff changing", "Treatment room", "Day room")


def estate(count: int, *, days_late: Iterable[int] | None = None) -> tuple[DueLine, ...]:
    """So many valves over two buildings; unless told, every one of them overdue."""
    late = list(days_late) if days_late is not None else [1 + 7 * (n % 40) for n in range(count)]
    return tuple(_numbered(n, count, late[n % len(late)]) for n in range(count))


def _numbered(n: int, count: int, days_late: int) -> DueLine:
    building = "Main Building" if n < 0.7 * count else "Withy End Wing"
    level = str(n * 10 // count)
    where = path(building, level, f"{level}.{n:04d}", _ROOMS[n % len(_ROOMS)])
    return line(f"MC/{level}/R{n:04d}/WHB1", days_late, where=where, verdict=_VERDICTS[n % len(_VERDICTS)])
