"""Pictures made fit to publish."""
