"""Rules about cards: what paper can't show."""
