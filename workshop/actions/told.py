"""Actions in words: one sentence a verb, and the trace of a thing."""

from collections.abc import Callable
from dataclasses import dataclass

from django.db import models
from django.db.models import QuerySet

from workshop.actions.rows import thing_of
from workshop.models import Action, ActionAbout


@dataclass(frozen=True)
class Verb:
    sentence: str
    undoable: bool
    check_undo: Callable[[Action], None] | None


_verbs: dict[str, Verb] = {}


def say(verb: str, sentence: str, *, undo: bool = True, check_undo: Callable[[Action], None] | None = None) -> None:
    """Give a verb its sentence, and say whether there is a way back.

    Args:
        sentence: with %(name)s where the action's words go.
        undo: False where an action cannot be taken back.
        check_undo: looks at what is there once the rows are put back, and raises ValidationError where something
            done since rests on the action although no row of the action itself was changed.
    """
    _verbs[verb] = Verb(sentence, undo, check_undo)


def verb_of(action: Action) -> Verb | None:
    return _verbs.get(action.verb)


def sentence_of(action: Action) -> str:
    verb = verb_of(action)
    return str(verb.sentence) % _Missing(action.words) if verb else action.verb


class _Missing(dict):
    def __missing__(self, name: str) -> str:
        return "?"


def trace(*things: models.Model) -> QuerySet[Action]:
    """What was done to these things, newest first; to the whole shop where none is named."""
    actions = Action.objects.select_related("person")
    if things:
        named = ActionAbout.objects.filter(thing__in=[thing_of(t) for t in things]).values("action")
        actions = actions.filter(pk__in=named)
    return actions.order_by("-pk")
