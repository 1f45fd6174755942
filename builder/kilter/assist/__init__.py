"""Help while writing, for any editor: what can be written here, what it is, where it stands, another name for it.

Every function takes a `Workspace`, the path of a file as the workspace shows it, and a 1-based line and column in
characters, as `Span` has them. Nothing here knows an editor's protocol; nothing is printed, nothing written to disk.
A workspace is not for several threads at once: whoever calls holds its lock.
"""

from kilter.assist.complete import completions
from kilter.assist.conversions import conversions
from kilter.assist.hover import hover
from kilter.assist.memory import remember
from kilter.assist.navigate import definition, outline, references
from kilter.assist.rename import rename, renameable
from kilter.assist.values import Hover, Offer, Part, RefusedError

__all__ = [
    "Hover",
    "Offer",
    "Part",
    "RefusedError",
    "completions",
    "conversions",
    "definition",
    "hover",
    "outline",
    "references",
    "remember",
    "rename",
    "renameable",
]
