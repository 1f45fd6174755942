"""Writing in the browser: the editor, and forms for new documents and profiles."""
