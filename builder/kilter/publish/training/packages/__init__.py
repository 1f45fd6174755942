"""The papers of a module for others: learning platforms, question banks, spreadsheets.

Everything is made from the same questions. XML is checked by checks of our own: the published schemas let most
broken packages pass.
"""

from kilter.publish.training.packages.write import package_files, package_names

__all__ = ["package_files", "package_names"]
