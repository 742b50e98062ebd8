"""A valve's whole life beyond its tests: actions, outlets in and out of use, people, upkeep, surveys."""
