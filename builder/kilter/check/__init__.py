"""Is it safe, whole and right? Rules over the model; nothing here changes a document."""
