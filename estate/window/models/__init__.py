"""The window over the operations."""
