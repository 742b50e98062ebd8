"""One verb a file: everything a person can ask of the register."""
