"""Numbered item references in the margins of a picture, tied to their items by thin leaders (ISO 6433, ISO 128)."""
