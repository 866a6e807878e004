"""The shop's running numbers of orders, deliveries and lots."""

from django.db.models import Max, Model

from workshop.models import Shop


def next_number(model: type[Model]) -> int:
    """The next number of a kind; ask inside a transaction, which waits until no other is taking one."""
    Shop.get()
    Shop.objects.select_for_update().get(pk=1)
    return (model._base_manager.aggregate(last=Max("number"))["last"] or 0) + 1
