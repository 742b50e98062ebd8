"""Likely causes of what a visit found, the evidence for each, and the check that would tell them apart."""
