"""The site: pages, index, search records, made from views and put out by a mkdocs plugin."""
