"""How the person in front of the page writes numbers."""

from django.utils import formats
from django.utils.translation import get_language, to_locale


def decimal_mark() -> str:
    return formats.get_format("DECIMAL_SEPARATOR")


def locale() -> str:
    """The language as Babel names it: en_US."""
    return to_locale(get_language() or "en-us")
