"""Build the sample register through the operations, the same each time."""

import tempfile
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from random import Random

from estate.domain.instruments import Calibration
from estate.domain.layouts import SheetKind
from estate.domain.progress import Progress, silent
from estate.domain.questions import Answer, Choice
from estate.domain.valves import SchemeClass, Valve
from estate.domain.visits import Visit
from estate.operations import browse, set_rules
from estate.operations.bring_in import commit, look
from estate.operations.keep_instruments import add_calibration, add_instrument
from estate.operations.open_register import new_register
from estate.operations.record_visit import correct_visit, void_visit
from estate.operations.register import Register, Stamp
from estate.operations.replace_valve import replace_valve
from estate.sample.life import Test, left_failing, life
from estate.sample.places import Place, places
from estate.sample.sheets import asset_sheet, history_sheet
from estate.sample.work import work

SAMPLE_TODAY = date(2026, 11, 25)
BEGAN = date(2022, 6, 1)
SEED = 20261125
TAKEN = (Answer("out-of-calibration", Choice.TAKE),)
"""What the officer answered: the thermometer that had lapsed was the one, and judging says so."""
STAMP = Stamp("estate-register, the sample", UTC)
"""The sample is the same wherever and with whichever version it is built."""
WHO = "E. Marlow, estates officer"


def build_sample(dest: Path, progress: Progress = silent, outlets: int | None = None) -> None:
    """Build the sample estate as a new register.

    Args:
        dest: a file that does not exist yet, or a PostgreSQL URL.
        progress: told how far the work is.
        outlets: how many outlets; None gives the sample's own, about 300.

    Raises:
        RegisterFault: `dest` exists or can't be written.
    """
    random = Random(SEED)
    at = _moment(BEGAN)
    everywhere = tuple(places(random, outlets, BEGAN))
    register = new_register(
        dest,
        "Marlpit and Withy End estate",
        at=at,
        who=WHO,
        identifier="sample-marlpit-withy",
        stamp=STAMP,
    )
    try:
        _fill(register, random, everywhere, progress)
    finally:
        register.close()


def _moment(day: date) -> datetime:
    return datetime.combine(day, time(9, 0), UTC)


def _fill(register: Register, random: Random, everywhere: Sequence[Place], progress: Progress) -> None:
    progress(0, 5, "Instruments and rules")
    _instruments(register)
    progress(1, 5, f"{len(everywhere)} outlets")
    _bring_in(register, "asset-list.csv", asset_sheet(everywhere), SheetKind.ASSETS, BEGAN)
    _choose_rules(register)
    progress(2, 5, "Four years of visits")
    first, later, replaced = _histories(random, everywhere)
    _bring_in(register, "history.csv", history_sheet(first), SheetKind.VISITS, SAMPLE_TODAY)
    progress(3, 5, "Replaced valves")
    for place, on in replaced:
        body = _new_body(random, place)
        outlet = browse.find_outlet(register, place.reference)
        replace_valve(register, outlet.id, body, on=on, who=WHO, at=_moment(on))
    _bring_in(register, "history-replaced.csv", history_sheet(later), SheetKind.VISITS, SAMPLE_TODAY)
    progress(4, 5, "A correction and a void")
    _mend(register, everywhere)
    work(register, SAMPLE_TODAY, WHO, _moment(SAMPLE_TODAY))
    progress(5, 5, "The sample estate is built")


def _instruments(register: Register) -> None:
    for reference, on, due in (
        ("T-101", date(2026, 3, 2), date(2027, 3, 1)),
        ("T-087", date(2025, 6, 10), date(2026, 6, 9)),
    ):
        earlier = tuple(
            Calibration(on.replace(year=year), due.replace(year=year + 1)) for year in range(2021, on.year)
        )
        add_instrument(
            register,
            reference,
            specification="digital thermometer, immersion probe",
            standard_uncertainty_k=0.25,
            calibration=Calibration(on, due, f"CAL-{reference}-{on.year}"),
            who=WHO,
            at=_moment(BEGAN),
        )
        _earlier_calibrations(register, reference, earlier)


def _earlier_calibrations(register: Register, reference: str, earlier: Sequence[Calibration]) -> None:
    for calibration in earlier:
        add_calibration(register, reference, calibration, who=WHO, at=_moment(BEGAN))


def _choose_rules(register: Register) -> None:
    """The workshops hold Type 2 valves for staff; the care home's water safety group wants less to flow."""
    buildings = {node.label: node.id for site in browse.tree(register, BEGAN) for node in site.children}
    at = _moment(BEGAN + timedelta(days=30))
    if "Marlpit Workshops" in buildings:
        set_rules.choose(register, f"building:{buildings['Marlpit Workshops']}", "uk-type2", who=WHO, at=at)
    if "Withy End Lodge" in buildings:
        set_rules.override(
            register,
            "uk-healthcare",
            "isolation.residual-flow",
            f"building:{buildings['Withy End Lodge']}",
            60.0,
            who="Water safety group, chair P. Anning",
            at=at,
            why="Residents of the Lodge can't step away from the water; risk assessment WE-04.",
        )


def _bring_in(register: Register, name: str, sheet: bytes, kind: SheetKind, today: date) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(sheet)
        proposal = look(register, path, kind, today, answers=TAKEN)
    if proposal.questions:
        raise AssertionError(f"the sample asks questions of itself: {proposal.questions[:3]}")
    commit(register, proposal, who=WHO, at=_moment(today))


def _histories(
    random: Random, everywhere: Sequence[Place]
) -> tuple[list[Test], list[Test], list[tuple[Place, date]]]:
    """Visits of the first bodies, of their successors, and where a body was replaced.

    A group valve is visited at its first outlet; a few valves were never tested and a few forgotten.
    """
    first: list[Test] = []
    later: list[Test] = []
    replaced: list[tuple[Place, date]] = []
    bodies: set[str] = set()
    for place in everywhere:
        if place.serial in bodies:
            continue
        bodies.add(place.serial)
        fate = random.random()
        if fate < 0.025:
            continue
        until = SAMPLE_TODAY - timedelta(days=random.randrange(2, 30))
        if fate < 0.07:
            until -= timedelta(days=random.randrange(90, 420))
        if 0.07 <= fate < 0.10:
            swapped = date(2024, 6, 1) + timedelta(days=random.randrange(600))
            first += life(random, place, place.fitted_on, swapped - timedelta(days=14))
            later += life(random, place, swapped, until)
            replaced.append((place, swapped))
            continue
        visits = list(life(random, place, place.fitted_on, until))
        if fate > 0.985:
            visits[-1] = left_failing(visits[-1])
        first += visits
    return first, later, replaced


def _new_body(random: Random, place: Place) -> Valve:
    return Valve(
        id=0,
        make="Make B",
        model="B-15 HC",
        serial=f"B-15HC-{random.randrange(10000, 99999)}",
        scheme_class=SchemeClass.TYPE_3,
        designations=("HP-W", "HP-S"),
        size_mm=15,
        set_c=place.set_c,
    )


def _mend(register: Register, everywhere: Sequence[Place]) -> None:
    """One swapped digit is corrected by a further entry, one visit to the wrong outlet voided."""
    visits = [_last_visit(register, place) for place in everywhere[10:40:10]]
    present = [each for each in visits if each is not None]
    if len(present) < 2:
        return
    at = _moment(SAMPLE_TODAY)
    wrong = present[0]
    readings = replace(wrong.readings, cold_c=12.9)
    draft = replace(wrong.draft, readings=readings, remarks="Cold read again from the sheet: 12.9, not 19.2")
    correct_visit(register, wrong.id, draft, who=WHO, at=at, today=SAMPLE_TODAY)
    void_visit(
        register,
        present[1].id,
        reason="Made at the basin next door; entered here by mistake.",
        who=WHO,
        at=at,
    )


def _last_visit(register: Register, place: Place) -> Visit | None:
    outlet = browse.find_outlet(register, place.reference)
    history = browse.outlet_page(register, outlet.id, SAMPLE_TODAY).history
    return history[0].visit if history else None
