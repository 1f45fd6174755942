"""Printable cards: fixed typst templates fed with JSON."""
