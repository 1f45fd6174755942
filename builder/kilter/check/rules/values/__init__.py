"""Rules about values."""
