"""Rules about structure."""
