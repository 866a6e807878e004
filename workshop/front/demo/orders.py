"""Orders with their promises and payments, and the samples they wait for."""

from collections.abc import Iterator

from jobs import line_shares
from materials import order_lines, orders, payments, samples
from materials.models import OrderPayment, Sample
from workshop.front.demo.setting import Setting, Step, job_of, material_of, micro, minor, now, price, supplier_of


def steps(setting: Setting) -> Iterator[Step]:
    for row in setting.scenario["orders"]:
        yield from _of_order(setting, row)
    for row in setting.scenario["samples"]:
        yield Step(row["sent"], lambda row=row: _send(setting, row))
        if "answered" in row:
            yield Step(row["answered"], lambda row=row: _answer(setting, row))


def _of_order(setting: Setting, row: dict) -> Iterator[Step]:
    yield Step(row.get("made", row.get("placed")), lambda: _make(setting, row))
    if "placed" in row:
        yield Step(row["placed"], lambda: _place(setting, row))
    for told in row.get("promises", []):
        yield Step(told[0], lambda told=told: _promise(setting, row, *told[1:]))
    for paid in row.get("payments", []):
        if "paid" in paid:
            yield Step(paid["paid"], lambda paid=paid: _pay(setting, row, paid["what"]))
    if "closed" in row:
        yield Step(row["closed"], lambda: _close(setting, row))
    if "cancelled" in row:
        day, why = row["cancelled"]
        yield Step(day, lambda: orders.cancel(order=setting.orders[row["key"]], why=why, by=setting.by()))


def _make(setting: Setting, row: dict) -> None:
    supplier = supplier_of(row["supplier"])
    lines = [_line(line) for line in row["lines"]]
    count, unit = row.get("lead") or (None, "")
    order = orders.add(
        by=setting.by(),
        supplier=supplier,
        lead_count=count,
        lead_unit=unit,
        freight_minor=minor(row.get("freight", "0")),
        charges_minor=minor(row.get("charges", "0")),
        charges_what=row.get("charges_what", ""),
        **lines[0],
    )
    setting.orders[row["key"]] = order
    for line in lines[1:]:
        order_lines.add(order=order, by=setting.by(), **line)
    if "for_job" in row:
        name, quantity = row["for_job"]
        line = order.lines.select_related("material", "order").first()
        shares = {job_of(name).pk: micro(quantity, line.material.bought_unit)}
        line_shares.share_out(line=line, by=setting.by(), shares=shares, was={})
    for payment in row.get("payments", []):
        due_on, amount = setting.on(payment["due"]), minor(payment["amount"])
        payments.add(order=order, by=setting.by(), what=payment["what"], due_on=due_on, amount_minor=amount)


def _line(row: list[str]) -> dict[str, object]:
    """What is ordered, in the unit it is bought in; a price left out is what the supplier asks on the day."""
    name, quantity, *typed = row
    material = material_of(name)
    asked = price(typed[0]) if typed else None
    return {
        "material": material,
        "quantity_micro": micro(quantity, material.bought_unit),
        "price_micro": asked,
    }


def _place(setting: Setting, row: dict) -> None:
    orders.place(order=setting.orders[row["key"]], placed_on=now(), by=setting.by())


def _promise(setting: Setting, row: dict, promised: int, note: str) -> None:
    order = setting.orders[row["key"]]
    orders.promise(order=order, promised_on=setting.on(promised), told_on=now(), note=note, by=setting.by())


def _pay(setting: Setting, row: dict, what: str) -> None:
    payment = OrderPayment.objects.select_related("order").get(order=setting.orders[row["key"]], what=what)
    payments.pay(payment=payment, paid_on=now(), by=setting.by())


def _close(setting: Setting, row: dict) -> None:
    """The rest will not come, as where a supplier takes refused sheets off the bill."""
    line = setting.orders[row["key"]].lines.select_related("order", "material").first()
    kept = {"quantity_micro": line.quantity_micro, "price_micro": line.price_micro}
    order_lines.change(line=line, by=setting.by(), version=line.version, is_closed=True, **kept)


def _send(setting: Setting, row: dict) -> None:
    samples.add(
        by=setting.by(),
        material=material_of(row["material"]),
        what=row["what"],
        sent_to=row["to"],
        sent_on=now(),
        order=setting.orders.get(row.get("order", "")),
    )


def _answer(setting: Setting, row: dict) -> None:
    sample = Sample.objects.select_related("material", "order").get(what=row["what"])
    samples.answer(
        sample=sample, by=setting.by(), is_approved=row["approved"], answered_on=now(), note=row.get("note", "")
    )
