"""An invented contractor's sheet for the sample estate, with the slips that real ones have."""

from collections.abc import Sequence
from datetime import date, timedelta
from random import Random

from estate.domain.due import DueLine

HEAD = (
    "TMV round;;;;;;;;",
    "Instrument: T-101;;;;;;;;",
    "",
    "Ref;Date tested;Hot in °C;Cold in °C;Mixed found °C;Mixed left °C;Shut-off s;"
    "Residual flow ml/min;Remarks",
)


def contractors_round(lines: Sequence[DueLine], today: date, seed: int = 7) -> bytes:
    """Write the results of a round over the valves that are most overdue.

    One row in the round names an outlet that does not exist, one is dated a year ahead, one stands
    twice and one found the door locked; the register has to ask about each.

    Args:
        lines: the estate's due lines.
        today: the round was made in the fortnight before.
        seed: the same seed gives the same sheet.

    Returns:
        The sheet as semicolon-separated text (UTF-8) with decimal commas.
    """
    random = Random(seed)
    late = sorted(
        (line for line in lines if line.days_late > 0 and line.last_visit), key=lambda line: -line.days_late
    )
    rows = [_row(random, line, today) for line in late[:40]]
    if len(rows) >= 4:
        rows[1] = rows[1].replace(rows[1].split(";")[0], f"{rows[1].split(';')[0]}X9", 1)
        rows[2] = rows[2].replace(str(today.year), str(today.year + 1), 1)
        rows[3] = ";".join([*rows[3].split(";")[:2], "No access", "", "", "", "", "", "door locked"])
        rows.append(rows[0])
    return "\n".join([*HEAD, *rows, "", "Tested by: R. Velde"]).encode("utf-8")


def _row(random: Random, line: DueLine, today: date) -> str:
    on = today - timedelta(days=random.randrange(1, 14))
    usual = {"bath": 44.0, "assisted bath": 46.0, "bidet": 38.0}.get(line.use.value, 41.0)
    found = usual + random.gauss(0.3, 0.7)
    left = found if abs(found - usual) <= 1.0 else usual + random.gauss(0.0, 0.2)
    numbers = (random.gauss(60, 1.3), random.gauss(13, 2), found, left, abs(random.gauss(1.5, 0.5)))
    written = [f"{number:.1f}".replace(".", ",") for number in numbers]
    return ";".join([line.ref, on.isoformat(), *written, "0", "" if left == found else "Adjusted"])
