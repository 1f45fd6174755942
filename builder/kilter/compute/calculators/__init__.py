"""One calculator a module."""
