"""One checked document as data, so that other programs need not read Markdown."""
