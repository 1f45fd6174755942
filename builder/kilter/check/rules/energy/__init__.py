"""Rules about energy."""
