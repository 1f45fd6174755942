"""Rules for training modules."""
