"""What an editor asks while somebody writes: completion, hover, places, renaming. No protocol in here."""
