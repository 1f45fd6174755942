"""Rules about pictures."""
