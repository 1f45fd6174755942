"""Marking of papers, and what their questions are worth."""
