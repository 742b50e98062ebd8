from tests.benchmarks.writers import run


def test_that_eight_writers_at_once_lose_nothing() -> None:
    told = run(8, 15)
    assert told.whole, told
    assert told.done == 120
