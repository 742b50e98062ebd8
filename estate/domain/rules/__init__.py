"""Rule sets: published limits with their sources, and the overrides a site makes."""
