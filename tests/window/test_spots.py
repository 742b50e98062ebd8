"""Back, forward and what was shown of late, apart from any window."""

from dataclasses import replace

import pytest

from estate.window.spots import MOST_BACK, MOST_RECENT, Spot, Spots, found, kept

DUE, ACTIONS = Spot("due", title="Due list"), Spot("actions", title="Actions")


def outlet(number: int) -> Spot:
    return Spot("outlet", "outlet", number, title=f"MX-{number}")


def been_left(spots: Spots) -> tuple[Spot | None, Spot | None, list[Spot]]:
    """Where it is, where back leads, and what was shown of late."""
    return spots.here, spots.behind, list(spots.recent)


def been(*spots: Spot) -> Spots:
    made = Spots()
    for each in spots:
        made.arrive(each)
    return made


def test_that_back_and_forward_lead_along_the_same_way() -> None:
    spots = been(DUE, outlet(1), ACTIONS)
    assert (spots.behind, spots.ahead) == (outlet(1), None)
    assert [spots.step(-1), spots.step(-1), spots.step(-1)] == [outlet(1), DUE, None]
    assert (spots.behind, spots.ahead) == (None, outlet(1))
    assert spots.step(1) == outlet(1)


def test_that_what_lay_ahead_is_left_by_going_elsewhere() -> None:
    spots = been(DUE, outlet(1))
    spots.step(-1)
    spots.arrive(ACTIONS)
    assert (spots.ahead, spots.behind) == (None, DUE)


def test_that_the_same_page_chosen_otherwise_is_no_further_step() -> None:
    spots = been(ACTIONS, DUE, replace(DUE, words="shower"))
    assert spots.behind == ACTIONS
    assert spots.here is not None
    assert spots.here.words == "shower"


def test_that_what_was_shown_of_late_is_told_once_and_the_newest_first() -> None:
    spots = been(DUE, outlet(1), DUE)
    assert spots.recent == (DUE, outlet(1))
    spots.step(-1)
    assert spots.recent == (outlet(1), DUE)


def test_that_neither_grows_without_end() -> None:
    spots = been(*(outlet(number) for number in range(MOST_BACK + 20)))
    assert len(spots.recent) == MOST_RECENT
    steps = 0
    while spots.step(-1) is not None:
        steps += 1
    assert steps == MOST_BACK - 1


def test_that_what_is_gone_is_forgotten_and_the_place_is_kept() -> None:
    spots = been(DUE, outlet(1), ACTIONS, outlet(2), outlet(3))
    spots.step(-1)
    spots.step(-1)
    spots.keep_only(lambda spot: spot.id != 1)
    assert (spots.behind, spots.here, spots.ahead) == (DUE, ACTIONS, outlet(2))
    assert outlet(1) not in spots.recent
    spots.keep_only(lambda spot: spot.page != "actions")
    assert spots.here == DUE
    spots.keep_only(lambda spot: False)
    assert been_left(spots) == (None, None, [])


def test_that_what_is_remembered_stands_behind_what_was_shown_since() -> None:
    spots = been(DUE)
    spots.remember([outlet(1), DUE])
    assert spots.recent == (DUE, outlet(1))
    spots.forget()
    assert (spots.here, list(spots.recent)) == (None, [])


def test_that_a_spot_is_kept_with_its_choice_and_title() -> None:
    spot = Spot("due", choice="overdue", words="shower", title="Due list")
    again = found(kept(spot))
    assert (again, again and again.title) == (spot, "Due list")


@pytest.mark.parametrize("read", [None, [], "due", {}, {"page": ""}, {"page": 3}, {"id": 4}])
def test_that_a_spot_told_wrongly_is_none(read: object) -> None:
    assert found(read) is None


def test_that_one_wrong_field_takes_its_usual_value() -> None:
    assert found({"page": "due", "id": "4", "words": None, "kind": True}) == Spot("due")
