"""Applying fixes to texts, and showing what they change."""
