"""The price of an hour of each operation: what holds today, what is to come, and setting it from a day on."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from zlib import crc32

from django.core.exceptions import ValidationError
from django.db.models import Min
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from estimates.models import OperationRate
from jobs import stages
from jobs.models import Stage
from workshop import actions, clock
from workshop.actions import Hand, Stale, recorded
from workshop.models import Shop

Prices = Mapping[tuple[str, str], int | None]


@dataclass
class Operation:
    """A stage of the work by lane and name, with the rate that holds today and those to come."""

    lane: str
    name: str
    rate: OperationRate | None = None
    coming: list[OperationRate] = field(default_factory=list)

    @property
    def key(self) -> tuple[str, str]:
        return self.lane, self.name

    @property
    def number(self) -> int:
        """A number that stays the operation's own whatever jobs there are, for the names of fields."""
        return crc32(f"{self.lane}:{self.name}".encode())

    @property
    def full_name(self) -> str:
        return Stage(lane=self.lane, name=self.name).full_name

    @property
    def price_micro(self) -> int | None:
        return self.rate.price_micro if self.rate else None


def operations() -> list[Operation]:
    """The operations the shop's jobs use, in the order of the work; those of the trade where there is no job yet."""
    used = Stage.objects.order_by().values_list("lane", "name").annotate(at=Min("place"))
    found = [(lane, name) for lane, name, _at in sorted(used, key=lambda row: (row[2], row[1]))]
    found = found or [(lane, str(name)) for lane, names in stages.OF_THE_TRADE.items() for name in names]
    day = clock.today()
    rates: dict[tuple[str, str], list[OperationRate]] = defaultdict(list)
    for row in OperationRate.objects.order_by("from_on"):
        rates[row.lane, row.name].append(row)
    return [_operation(lane, name, rates[lane, name], day) for lane, name in found]


def _operation(lane: str, name: str, rates: list[OperationRate], day: date) -> Operation:
    past = [row for row in rates if row.from_on <= day]
    return Operation(lane, name, past[-1] if past else None, [row for row in rates if row.from_on > day])


def change(*, by: Hand, from_on: date, prices: Prices, was: Prices) -> None:
    """Set the price of an hour of operations from a day on; None gives one back to the shop's price.

    Args:
        from_on: the first day they hold.
        prices: what was typed, by lane and name.
        was: what held when the person began; an operation left as it was is not touched.

    Raises:
        Stale: somebody set one of them otherwise meanwhile.
        ValidationError: an operation has a rate of a later day already.
    """
    with recorded(by, "operation_rate.change", about=[Shop.get()]) as record:
        record.answer = reverse("estimates:rates")
        Shop.objects.select_for_update().get(pk=1)
        changed = []
        for operation in operations():
            key = operation.key
            if key not in prices or prices[key] == was[key]:
                continue
            if operation.price_micro != was[key]:
                raise Stale(operation.rate or OperationRate(lane=operation.lane, name=operation.name))
            _check_day(operation, from_on)
            changed.append(operation.full_name)
            row = OperationRate.objects.filter(lane=operation.lane, name=operation.name, from_on=from_on).first()
            if row is None:
                record.add(OperationRate(lane=key[0], name=key[1], from_on=from_on, price_micro=prices[key]))
            else:
                record.save(row, price_micro=prices[key])
        record.words["what"] = ", ".join(changed)


def _check_day(operation: Operation, from_on: date) -> None:
    if operation.rate and from_on < operation.rate.from_on:
        message = _("%(name)s has a rate from %(day)s already. Type that day or a later one.")
        words = {"name": operation.full_name, "day": clock.day_text(operation.rate.from_on)}
        would_do = [operation.rate.from_on.isoformat(), clock.today().isoformat()]
        raise ValidationError({"from_on": ValidationError(message, params=words | {"would_do": would_do})})


actions.say("operation_rate.change", gettext_lazy("Rates of operations: %(what)s"))
