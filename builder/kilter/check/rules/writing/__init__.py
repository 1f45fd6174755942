"""Rules about writing."""
