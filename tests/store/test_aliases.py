import pytest

from estate.domain.aliases import Alias
from estate.errors import EntryFault
from estate.store import aliases
from estate.store.transaction import Transaction
from tests.store.builders import NOW, add_basin
from tests.store.test_batches import _add as add_batch


def _now(tx: Transaction) -> dict[str, int]:
    return {each.words: each.outlet_id for each in aliases.aliases(tx.session)}


def test_that_words_stand_for_an_outlet_with_who_confirmed_it(tx: Transaction) -> None:
    basin = add_basin(tx)
    aliases.add_alias(tx, " Basin by the door ", basin.outlet_id)
    assert aliases.aliases(tx.session) == (Alias("Basin by the door", basin.outlet_id, "A. Officer", NOW),)


def test_that_the_latest_saying_counts_however_it_is_written(tx: Transaction) -> None:
    one, two = add_basin(tx), add_basin(tx, "MX-2")
    aliases.add_alias(tx, "Basin 1", one.outlet_id)
    aliases.add_alias(tx, "Basin 2", one.outlet_id)
    aliases.add_alias(tx, "BASIN-1", two.outlet_id)
    assert _now(tx) == {"Basin 2": one.outlet_id, "BASIN-1": two.outlet_id}


def test_that_withdrawn_words_stand_for_nothing(tx: Transaction) -> None:
    basin = add_basin(tx)
    aliases.add_alias(tx, "Basin 1", basin.outlet_id)
    aliases.add_alias(tx, "basin 1", None)
    assert _now(tx) == {}


def test_that_words_need_a_letter_or_figure(tx: Transaction) -> None:
    with pytest.raises(EntryFault, match="no letter or figure"):
        aliases.add_alias(tx, " - ", 1)


def test_that_what_a_batch_taught_is_withdrawn_unless_told_otherwise_since(tx: Transaction) -> None:
    basin = add_basin(tx)
    batch = add_batch(tx)
    aliases.add_alias(tx, "by hand", basin.outlet_id)
    for words in ("kept later", "taught", "withdrawn already"):
        aliases.add_alias(tx, words, basin.outlet_id, batch)
    aliases.add_alias(tx, "kept later", basin.outlet_id)
    aliases.add_alias(tx, "withdrawn already", None)
    assert aliases.withdraw_of_batch(tx, batch) == 1
    assert set(_now(tx)) == {"by hand", "kept later"}
    assert aliases.withdraw_of_batch(tx, batch) == 0
