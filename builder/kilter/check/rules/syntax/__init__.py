"""Rules about syntax."""
