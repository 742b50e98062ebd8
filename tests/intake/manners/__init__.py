"""Sheets as contractors and hospitals write them, each with the truth beside it, made from a seed."""
