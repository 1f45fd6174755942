"""Kilter: write, check and publish illustrated repair procedures."""

__version__ = "0.1.0"
