"""Sheets sorted by tone and set aside, sheets that go back, and what rooms were given."""

from collections.abc import Iterator

from jobs import giving
from materials import returns, sorting, veneer
from materials.models import Lot, Sheet, SheetReturn, ToneGroup
from workshop.calculations import units
from workshop.front.demo.setting import Setting, Step, material_of, micro, now, room_of


def steps(setting: Setting) -> Iterator[Step]:
    scenario = setting.scenario
    yield Step(scenario["sorting"]["day"], lambda: _veneer(setting))
    yield Step(scenario["sorting"]["day"], lambda: _sort(setting))
    for row in scenario["returns"]:
        yield Step(row["asked"], lambda row=row: _ask(setting, row))
        if "collected" in row:
            yield Step(row["collected"], lambda row=row: _collect(setting, row))
    for day, room, group, count in scenario["given"]:
        yield Step(day, lambda given=(room, group, count): _give(setting, *given))
    for day, room, material, quantity in scenario["shares"]:
        yield Step(day, lambda share=(room, material, quantity): _share(setting, *share))


def _lot(setting: Setting) -> Lot:
    """The lot of sheets the demo sorts: the first of its material."""
    lots = Lot.objects.select_related("material", "delivery_line__delivery__supplier")
    return lots.filter(material__name=setting.scenario["sorting"]["material"]).earliest("number")


def _veneer(setting: Setting) -> None:
    row = setting.scenario["sorting"]["veneer"]
    veneer.describe_run(
        lot=_lot(setting),
        numbers=range(row["first"], row["last"] + 1),
        flitch=row["flitch"],
        set_name=row["set"],
        first_number=1,
        goes_down=False,
        is_top_marked=True,
        by=setting.by("ari"),
    )


def _sort(setting: Setting) -> None:
    row, lot = setting.scenario["sorting"], _lot(setting)
    groups = list(lot.material.tone_groups.all())
    sheets = Sheet.objects.filter(lot=lot).select_related("lot__material").order_by("number")
    for sheet, tone in zip(sheets, row["tones"], strict=False):
        if tone == "-":
            sorting.set_aside(sheet=sheet, why=row["set_aside_why"], by=setting.by("ari"))
        else:
            sorting.sort(sheet=sheet, group=groups[int(tone) - 1], by=setting.by("ari"))


def _ask(setting: Setting, row: dict) -> None:
    returns.ask(lot=_lot(setting), numbers=row["sheets"], why=row["why"], asked_on=now(), by=setting.by())


def _collect(setting: Setting, row: dict) -> None:
    rows = SheetReturn.objects.filter(sheet__lot=_lot(setting), sheet__number__in=row["sheets"])
    returns.collect(rows=list(rows), collected_on=now(), by=setting.by("ari"))


def _give(setting: Setting, room: str, group: str, count: str) -> None:
    material = material_of(setting.scenario["sorting"]["material"])
    giving.give(
        room=room_of(room),
        material=material,
        group=ToneGroup.objects.select_related("material").get(material=material, name=group),
        halves=int(units.read_quantity(count, "sheet") * 2),
        by=setting.by(),
    )


def _share(setting: Setting, room: str, material: str, quantity: str) -> None:
    lot = Lot.objects.select_related("material").filter(material__name=material).earliest("number")
    share = micro(quantity, lot.material.unit)
    giving.give_quantity(room=room_of(room), lot=lot, quantity_micro=share, by=setting.by("ari"))
