"""The command line, over the same operations as the window."""
