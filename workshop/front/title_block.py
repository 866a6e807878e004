from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from workshop.pages import Block


def title_block(request: HttpRequest) -> dict[str, object]:
    """What every page shows in its title block where the view says nothing else."""
    return {"block": SimpleLazyObject(lambda: Block(request, page=""))}
