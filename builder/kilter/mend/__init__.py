"""Fixes put into texts: which of them fit together, the difference, and writing it to the disk whole or not at all."""
