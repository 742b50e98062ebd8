"""Whether a valve would work where it is to be fitted, condition by condition, and what would mend it."""
