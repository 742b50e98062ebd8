"""Frozen values and pure rules of the trade; standard library only."""
