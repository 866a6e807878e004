"""The yardstick: for each list a plain Django view that shows the same rows and columns to who is signed in.

Function views over querysets with select_related and a paginator, tables in a template each, Django's own filters:
what one writes first, without a title block, marks, drawings, search box or trace. Sums that would be worked out for
every row of a table are asked for the rows of the page alone. What follows from a calculation (what is late, which
group a room would get) is asked of the calculation, since a plain view would have to do that work too.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from django import forms
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.template import engines

HEAD = "<!doctype html><html lang='en'><head><title>{{ title }}</title></head><body><h1>{{ title }}</h1>"
FOOT = "{% if page.has_next %}<a href='?page={{ page.next_page_number }}'>Next</a>{% endif %}</body></html>"
FORM = "<form method='post'>{% csrf_token %}{{ form.as_p }}<button>Save</button></form>"

Rows = Callable[[int], Iterable[object]]


@dataclass(frozen=True)
class Plain:
    """A plain list: what it shows, the rows of its page, the cells of a row, and short lists that stand before it.

    `more` looks up what only the rows of one page need.
    """

    title: str
    rows: Rows
    cells: str
    before: Mapping[str, tuple[Rows, str]] = field(default_factory=dict)
    more: Callable[[Sequence[object]], None] | None = None
    form: Callable[[int], forms.ModelForm] | None = None
    a_page: int = 50

    def view(self) -> Callable[..., HttpResponse]:
        html = HEAD + "".join(_table(f"before.{name}", cells) for name, (_rows, cells) in self.before.items())
        html += FORM if self.form else ""
        template = engines["django"].from_string(html + _table("page", self.cells) + FOOT)

        def view(request: HttpRequest, pk: int = 0) -> HttpResponse:
            page = Paginator(self.rows(pk), self.a_page).get_page(request.GET.get("page"))
            if self.more:
                page.object_list = list(page.object_list)
                self.more(page.object_list)
            context = {
                "title": self.title,
                "page": page,
                "before": {name: rows(pk) for name, (rows, _cells) in self.before.items()},
                "form": self.form(pk) if self.form else None,
            }
            return HttpResponse(template.render(context, request))

        return view


def _table(rows: str, cells: str) -> str:
    row = "".join(f"<td>{cell.strip()}</td>" for cell in cells.strip().splitlines())
    return f"<table>{{% for row in {rows} %}}<tr>{row}</tr>{{% endfor %}}</table>"
