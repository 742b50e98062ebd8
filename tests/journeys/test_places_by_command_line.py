"""A wing is added, filled, amended and emptied by the command line, and a change is taken back."""

import re

from tests.journeys.test_life_by_command_line import Line, line, small

__all__ = ["line", "small"]
BASIN, SHOWER = "MM/G/G01/WHB1", "MM/G/G02/SHR1"


def undo(line: Line, said: str) -> str:
    """Take back what a command says that it did."""
    (found,) = re.findall(r"`places (take-back \d+ \d+)`", said)
    return line("places", *found.split(), "--why", "mistaken")


def test_that_a_wing_is_added_and_filled(line: Line) -> None:
    assert "building:3 is added." in line("places", "add", "Annexe", "--in", "site:1", "--who", "B. Other")
    assert "level:4 is added." in line("places", "add", "1", "--in", "building:3")
    assert "room:5 is added." in line("places", "add", "Ward", "--number", "A1", "--in", "level:4")
    more = ("--use", "basin", "--users", "patients", "--words", "by the door", "--pipe", "1.2")
    assert "it has no valve yet" in line("places", "add-outlet", "MM/A/1", "--in", "room:5", *more)
    fitted = line("places", "fit-valve", "MM/A/1", "--make", "Make C", "--serial", "9", "--class", "3")
    assert "Commission it before the outlet is used." in fitted
    assert "judged again" in line("places", "amend-valve", "MM/A/1", "--designation", "HP-W", "--set", "41")
    assert "Make C 9" in line("explain", "MM/A/1")
    listed = line("places", "list")
    assert "      A1  Ward  (room:5)\n        MM/A/1  by the door  (outlet:MM/A/1)\n" in listed
    (site, _) = line.json("places", "list")
    assert [each["place"] for each in site["below"]] == ["building:3", "building:1"]
    assert site["below"][0]["below"][0]["below"][0]["outlets"] == 1
    assert "B. Other" in (line("export", str(line.register.parent / "out")) and _ledger(line))
    assert "is as the ledger tells" in line("verify")


def _ledger(line: Line) -> str:
    return (line.register.parent / "out" / "ledger_entry.csv").read_text("utf-8")


def test_that_places_are_renamed_moved_and_taken_back(line: Line) -> None:
    before = line("places", "list")
    renamed = line("places", "rename", "room:1", "Ward")
    assert "room:1 is called G01 Ward now." in renamed
    moved = line("places", "move", "room:1", "room:2", "--to", "level:2")
    outlet = line("places", "move", f"outlet:{SHOWER}", "--to", "room:1")
    assert f"outlet:{SHOWER} moved to room:1." in outlet
    for each in (outlet, moved, renamed):
        assert "taken back; what was measured stays" in undo(line, each)
    assert line("places", "list") == before
    removed = line("places", "add", "Another site")
    assert "site:3 is removed." in line("places", "remove", "site:3")
    assert "There is nothing to take back" in line(*_words(removed), leaves=3)


def _words(said: str) -> list[str]:
    (found,) = re.findall(r"`(places take-back \d+ \d+)`", said)
    return str(found).split()


def test_that_many_outlets_are_amended_retired_and_taken_out_of_use(line: Line) -> None:
    amended = line(
        "places", "amend", BASIN, SHOWER, "--users", "children", "--rules", "uk-type2", "--little-used"
    )
    assert f"{BASIN}, {SHOWER} changed" in amended
    line("places", "amend", BASIN, "--rules", "above", "--reference", "MM/G/G01/B1", "--words", "by the bed")
    assert "Later work rests on this change" in line(*_words(amended), leaves=3)
    out = line("places", "out-of-use", SHOWER, "--why", "flood", "--told", "Sister Ash", "--sign")
    assert f"{SHOWER} taken out of use." in out
    undo(line, out)
    retired = line("places", "retire", SHOWER, "MM/G/G02/SHR2", "--why", "stripped out")
    assert "It is retired" in line("outlet", SHOWER)
    undo(line, retired)
    assert "It is in use" in line("outlet", SHOWER)


def test_that_what_is_no_place_is_told(line: Line) -> None:
    assert "is no place" in line("places", "rename", "room", "Ward", leaves=2)
    assert "an outlet lies in a room" in line(
        *("places", "add-outlet", "X/1", "--in", "level:1", "--use", "basin", "--users", "staff"), leaves=2
    )
    more = ("--use", "basin", "--users", "staff")
    line("places", "add-outlet", "X/1", "--in", "room:1", *more)
    assert "None is in place at X/1" in line("places", "amend-valve", "X/1", "--make", "A", leaves=3)
