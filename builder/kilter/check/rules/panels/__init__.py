"""Rules about panels."""
