"""Findings for people and for machines."""
