"""Site and cards from checked documents."""
