"""Rules about cards; raised when a card is laid out, because only then its room is known."""
