"""A photograph of which nobody says to have looked for people and names in it."""

from collections.abc import Iterator

from kilter.check.picturefiles import sound_picture
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.text import Figure
from kilter.read.cures import end_of, inserted

CODE = "K610"
SEVERITY = Severity.ERROR

LEAST_WORDS = 3
WHY = "a face, a name plate or a patient's label in a published picture can't be called back"
HELP = (
    "nothing here can find a face or a label: look at the whole picture, cover what you find with "
    "`:cover: x,y,width,height`, and write what you looked for, such as `:looked: no people, no names`"
)


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        info = sound_picture(context, figure)
        if info is None or not info.photograph:
            continue
        if figure.looked is None:
            yield _unsaid(figure)
        elif len(figure.looked.split()) < LEAST_WORDS:
            message = f"`:looked: {figure.looked}` says too little"
            help = f"say in {LEAST_WORDS} words or more what you looked for, such as `no people, no names`"
            yield error("not-looked", message, figure.looked_span or figure.path_span, help, why=WHY)


def _unsaid(figure: Figure) -> Diagnostic:
    """The mending leaves a blank: what a person looked for is theirs to say."""
    asked = "[fill in: what you looked for in the picture]"
    cure = inserted("leave a blank for it", end_of(figure.path_span), f"\n:looked: {asked}")
    message = f"nobody says to have looked for people and names in `{figure.path}`"
    return error("not-looked", message, figure.path_span, HELP, why=WHY, fixes=cure)
