"""Training modules as they go out: what is taught is taken from the documents, never typed again."""
