from hypothesis import given
from hypothesis import strategies as st

from estate.reports.pdf.ink import BODY_HEIGHT, Block
from estate.reports.pdf.pages import lay_out

HEAD = Block(20, keeps_next=True)

_blocks = st.builds(
    Block,
    height=st.floats(min_value=1, max_value=120),
    keeps_next=st.booleans(),
    repeat=st.sampled_from([(), (HEAD,)]),
)


@given(st.lists(_blocks, max_size=60))
def test_that_every_block_is_placed_once_in_order_and_inside_the_page(blocks: list[Block]) -> None:
    pages = lay_out(blocks)
    placed = [block for page in pages for block, _ in page.blocks if block is not HEAD]
    assert [id(block) for block in placed] == [id(block) for block in blocks]
    for page in pages:
        assert all(down + block.height <= BODY_HEIGHT + 1e-6 for block, down in page.blocks)


def test_that_a_heading_goes_to_the_next_page_with_its_row() -> None:
    heading, row = Block(30, keeps_next=True), Block(40, repeat=(HEAD,))
    pages = lay_out([Block(BODY_HEIGHT - 50), heading, row])
    assert [block for block, _ in pages[1].blocks] == [heading, row]


def test_that_a_row_on_a_new_page_has_the_head_above_it() -> None:
    row = Block(40, repeat=(HEAD,))
    pages = lay_out([Block(BODY_HEIGHT - 20), row])
    assert pages[1].blocks == [(HEAD, 0.0), (row, 20.0)]


def test_that_nothing_to_say_is_still_a_page() -> None:
    assert len(lay_out([])) == 1


def test_that_blocks_too_many_to_stay_together_run_on() -> None:
    blocks = [Block(100, keeps_next=True) for _ in range(12)]
    pages = lay_out(blocks)
    assert sum(len(page.blocks) for page in pages) == 12
    assert all(page.used <= BODY_HEIGHT for page in pages)
