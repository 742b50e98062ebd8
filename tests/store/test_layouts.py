import json
from dataclasses import replace

import pytest

from estate.domain.layouts import DateOrder, Form, Layout, LayoutColumn, SheetKind
from estate.errors import EntryFault, NotFoundFault
from estate.store import layouts, ledger
from estate.store.transaction import Transaction

CARDS = Layout(
    "Pipework Ltd",
    SheetKind.VISITS,
    (LayoutColumn("Außentemp", "", ""), LayoutColumn("Hot", "hot_c", "fahrenheit")),
    Form.CARDS,
    DateOrder.MONTH_FIRST,
    "Pipework Ltd, J. Bloggs",
)


def test_that_layouts_come_back_as_they_were_kept(tx: Transaction) -> None:
    plain = Layout("assets", SheetKind.ASSETS, (LayoutColumn("Ref", "reference"),))
    layouts.keep_layout(tx, CARDS)
    layouts.keep_layout(tx, plain)
    assert layouts.layouts(tx.session) == (plain, CARDS)
    assert layouts.layout(tx.session, "pipework LTD") == CARDS


def test_that_a_layout_of_the_same_name_takes_the_place_of_the_first(tx: Transaction) -> None:
    layouts.keep_layout(tx, CARDS)
    newer = replace(CARDS, name="PIPEWORK LTD.", date_order=None)
    layouts.keep_layout(tx, newer)
    assert layouts.layouts(tx.session) == (newer,)
    tx.finish()
    told = [each.action for each in ledger.entries(tx.session, "layout")]
    assert told == ["added", "amended"]


def test_that_the_ledger_tells_what_a_forgotten_layout_said(tx: Transaction) -> None:
    layouts.keep_layout(tx, CARDS)
    layouts.forget_layout(tx, "Pipework Ltd")
    assert layouts.layouts(tx.session) == ()
    tx.finish()
    last = ledger.entries(tx.session, "layout")[-1]
    assert last.action == "removed"
    assert json.loads(last.before)["sender"] == "Pipework Ltd, J. Bloggs"


def test_that_an_unknown_layout_is_told_with_those_there_are(tx: Transaction) -> None:
    with pytest.raises(NotFoundFault, match="Layouts kept: none"):
        layouts.forget_layout(tx, "other")
    layouts.keep_layout(tx, CARDS)
    with pytest.raises(NotFoundFault, match="Layouts kept: Pipework Ltd"):
        layouts.layout(tx.session, "other")


@pytest.mark.parametrize("lacking", [replace(CARDS, name=" / "), replace(CARDS, columns=())])
def test_that_a_layout_needs_a_name_and_a_column(tx: Transaction, lacking: Layout) -> None:
    with pytest.raises(EntryFault, match="A layout needs"):
        layouts.keep_layout(tx, lacking)
