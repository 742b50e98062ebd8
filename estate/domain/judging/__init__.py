"""Judging one visit: pure checks, each with its limit, source and what to do."""
