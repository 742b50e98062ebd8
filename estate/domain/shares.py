"""Shares as people read them."""


def percent(share: float, digits: int = 1) -> str:
    """A share of 1 in per cent, such as ``5.0 %``."""
    return f"{100 * share:.{digits}f} %"
