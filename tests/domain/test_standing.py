import pytest

from estate.domain.standing import OutletState, shown_state


@pytest.mark.parametrize("found", OutletState)
def test_that_an_outlet_out_of_use_is_shown_so_whatever_was_found(found: OutletState) -> None:
    for to_do in (True, False):
        assert shown_state(found, out_of_use=True, to_do=to_do) is OutletState.TAKEN_OUT


@pytest.mark.parametrize("found", OutletState)
def test_that_an_open_action_shows_where_nothing_worse_does(found: OutletState) -> None:
    shown = shown_state(found, out_of_use=False, to_do=True)
    assert shown is (found if found.needs_attention else OutletState.ACTION_OPEN)
    assert shown.needs_attention
    assert shown_state(found, out_of_use=False, to_do=False) is found


def test_that_an_outlet_still_to_be_taken_out_of_use_is_worse_than_one_that_is() -> None:
    asked, done = OutletState.OUT_OF_USE, OutletState.TAKEN_OUT
    assert asked.rank < OutletState.PUT_RIGHT.rank < done.rank < OutletState.OVERDUE.rank
    assert done.needs_attention
    assert asked.value != done.value
