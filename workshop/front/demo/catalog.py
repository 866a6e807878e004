"""The shop, its people, its suppliers, and the materials with what each supplier asks for them."""

from collections.abc import Iterator

from materials import catalog, suppliers, tones
from materials.models import Material
from workshop import people, shop
from workshop.actions import Hand
from workshop.calculations import lengths, money
from workshop.front.demo.setting import Setting, Step, material_of, micro, price, supplier_of
from workshop.models import Shop

FIRST_DAY = -120
SIZES = ("thickness", "real_thickness", "width", "length")


def steps(setting: Setting) -> Iterator[Step]:
    scenario = setting.scenario
    yield Step(FIRST_DAY, lambda: _shop_and_people(setting))
    for row in scenario["suppliers"]:
        yield Step(FIRST_DAY, lambda row=row: _supplier(setting, row))
    for row in scenario["materials"]:
        yield Step(FIRST_DAY, lambda row=row: _material(setting, row))
    for row in scenario["prices"]:
        yield Step(FIRST_DAY, lambda row=row: _price(setting, row))


def _shop_and_people(setting: Setting) -> None:
    first, *others = setting.scenario["people"]
    owner = people.make_owner(
        by=Hand(person=None), username=first["username"], name=first["name"], password=setting.password
    )
    setting.people[owner.username] = owner
    for row in others:
        setting.people[row["username"]] = people.add(by=setting.by(), password=setting.password, **row)
    settled = dict(setting.scenario["shop"])
    settled["hour_price_micro"] = price(settled.pop("hour_price"))
    for name in ("overhead", "profit", "tax"):
        settled[f"{name}_ppm"] = money.read_percent(settled.pop(name))
    row = Shop.get()
    shop.change(shop=row, by=setting.by(), version=row.version, **settled)


def _supplier(setting: Setting, row: dict) -> None:
    fields = dict(row)
    count, unit = fields.pop("lead")
    suppliers.add(by=setting.by(), lead_count=count, lead_unit=unit, **fields)


def _material(setting: Setting, row: dict) -> None:
    fields = dict(row)
    ladder = fields.pop("ladder", [])
    fields |= {f"{name}_nm": lengths.read_length(fields.pop(name)) for name in SIZES if name in fields}
    if "holds" in fields:
        fields["buy_contains_micro"] = micro(fields.pop("holds"), fields["unit"])
    usual = supplier_of(fields.pop("supplier"))
    material = catalog.add(by=setting.by(), usual_supplier=usual, **fields)
    _ladder(setting, material, ladder)


def _ladder(setting: Setting, material: Material, ladder: list[list[str]]) -> None:
    """Rename the groups a new sheet material comes with, and add what is missing."""
    groups = list(material.tone_groups.all())
    for place, (name, color) in enumerate(ladder, 1):
        if place > len(groups):
            tones.add(material=material, by=setting.by(), name=name, color=color)
        elif (groups[place - 1].name, groups[place - 1].color) != (name, color):
            group = groups[place - 1]
            tones.change(group=group, by=setting.by(), version=group.version, name=name, color=color, place=place)


def _price(setting: Setting, row: dict) -> None:
    material = material_of(row["material"])
    sold = {f"{name}_micro": micro(row[name], material.bought_unit) for name in ("minimum", "pack") if name in row}
    catalog.add_price(
        material=material,
        supplier=supplier_of(row["supplier"]),
        by=setting.by(),
        price_micro=price(row["price"]),
        from_on=setting.on(row["from"]),
        **sold,
    )
