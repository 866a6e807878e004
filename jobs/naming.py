"""Several rooms in a sentence: the first by name, the rest counted."""

from collections.abc import Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

MOST_NAMED = 3


def named(names: Sequence[str]) -> str:
    """Up to four rooms by name; of more the first three, and how many more: "Lobby, Hall, Studio and 4 more rooms"."""
    if len(names) <= MOST_NAMED + 1:
        return ", ".join(names)
    more = len(names) - MOST_NAMED
    rest = ngettext("%(count)s more room", "%(count)s more rooms", more) % {"count": more}
    return _("%(rooms)s and %(rest)s") % {"rooms": ", ".join(names[:MOST_NAMED]), "rest": rest}
