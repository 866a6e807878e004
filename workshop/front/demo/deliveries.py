"""Deliveries taken in and counted, and the bills that correct what they cost."""

from collections.abc import Iterator, Sequence

from materials import bills, deliveries
from materials.bills import BillLine
from materials.deliveries import Counted
from materials.models import OrderLine
from workshop.front.demo.picture import crushed_corner
from workshop.front.demo.setting import Setting, Step, micro, minor, now, supplier_of

COUNTS = ("good", "damaged", "refused", "short")


def steps(setting: Setting) -> Iterator[Step]:
    for row in setting.scenario["deliveries"]:
        yield Step(row["arrived"], lambda row=row: _take_in(setting, row))
        if "counted" in row:
            yield Step(row["counted"], lambda row=row: _count(setting, row))
        for bill in row.get("bills", []):
            yield Step(bill["entered"], lambda row=row, bill=bill: _bill(setting, row["slip"], bill))


def _take_in(setting: Setting, row: dict) -> None:
    setting.deliveries[row["slip"]] = deliveries.take_in(
        by=setting.by("ari"),
        supplier=supplier_of(row["supplier"]),
        slip_number=row["slip"],
        arrived_on=now(),
        bundles=row["bundles"],
        damage=row.get("damage", ""),
        pictures=[crushed_corner()] if "damage" in row else [],
    )


def _count(setting: Setting, row: dict) -> None:
    """Count what came to the lines it was ordered with; the freight is what the orders quote."""
    delivery = setting.deliveries[row["slip"]]
    lines = deliveries.expected_lines(delivery)
    rows = [_counted(setting, lines, *item) for item in row["rows"].items()]
    deliveries.count(delivery=delivery, rows=rows, by=setting.by("ari"))


def _counted(setting: Setting, lines: Sequence[OrderLine], name: str, row: dict) -> Counted:
    line = next(line for line in lines if line.material.name == name)
    counts = {f"{what}_micro": micro(row[what], line.material.bought_unit) for what in COUNTS if what in row}
    batch = {"batch_number": row["batch"], "use_by_on": setting.on(row["use_by"])} if "batch" in row else {}
    return Counted(name=f"line_{line.pk}", material=line.material, order_line=line, **counts, **batch)


def _bill(setting: Setting, slip: str, row: dict) -> None:
    """What an invoice says of the freight otherwise than the slip."""
    bills.add(
        delivery=setting.deliveries[slip],
        kind="invoice",
        number=row["number"],
        dated_on=setting.on(row["dated"]),
        lines=[BillLine("freight", minor(row["freight"]))],
        note=row["note"],
        by=setting.by(),
    )
