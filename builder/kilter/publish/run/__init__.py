"""Working through a document step by step on the phone: what the page tells its script."""
